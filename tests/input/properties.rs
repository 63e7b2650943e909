//! What holds of any text.

use coldsill::diag::{Location, Position, Span};
use coldsill::input::{Key, Kind, Node, table, text, yaml};
use proptest::prelude::*;

/// The rest of the file from a place on, found by counting lines and characters afresh.
fn from_place<'t>(text: &'t str, place: &Location) -> &'t str {
    let Position::Line(Span { line, start: column, .. }) = place.position else {
        panic!("{place} is no line")
    };
    let mut rest = text;
    for _ in 1..line {
        let end = rest.find(['\n', '\r']).expect("the line exists");
        rest = &rest[end..];
        rest = rest.strip_prefix("\r\n").unwrap_or_else(|| &rest[1..]);
    }
    let skip = usize::try_from(column - 1).expect("fits");
    let at = rest.char_indices().map(|(at, _)| at).chain([rest.len()]).nth(skip).expect("the column exists");
    &rest[at..]
}

/// The first line of a text before any folding.
fn first_word(text: &str) -> &str {
    text.split([' ', '\t', '\n', '\r']).next().unwrap_or("")
}

/// Holds every text of a tree against what stands in the file at its place.
fn check_places(file: &str, node: &Node) -> Result<(), TestCaseError> {
    match &node.kind {
        Kind::Null => {}
        Kind::Scalar { text, plain: true } => {
            prop_assert!(
                from_place(file, &node.location).starts_with(first_word(text)),
                "{text:?} at {}",
                node.location
            );
        }
        Kind::Scalar { text, plain: false } => {
            let rest = from_place(file, &node.location);
            let quoted = rest.starts_with(['"', '\'']);
            // A block text starts at its first line; one of blank lines alone has no line to start at.
            let block = rest.starts_with(first_word(text)) || text.trim().is_empty();
            prop_assert!(quoted || block, "{text:?} at {}", node.location);
        }
        Kind::List(entries) => {
            for entry in entries {
                check_places(file, entry)?;
            }
        }
        Kind::Map(entries) => {
            for (key, value) in entries {
                let rest = from_place(file, &key.location);
                let found =
                    rest.starts_with(['"', '\'', '|', '>']) || rest.starts_with(first_word(&key.text));
                prop_assert!(found, "key {:?} at {}", key.text, key.location);
                check_places(file, value)?;
            }
        }
    }
    Ok(())
}

/// Texts as they may stand in a schedule, with how they are written and whether that is plain.
fn written() -> impl Strategy<Value = (String, String, bool)> {
    prop_oneof![
        "-?[A-Za-z0-9°é./][A-Za-z0-9°é\"'./-]{0,6}( [0-9a-z°é\"']{1,4})?x".prop_map(|t| (t.clone(), t, true)),
        "[ -~°é]{0,12}".prop_map(|t| (t.clone(), format!("'{}'", t.replace('\'', "''")), false)),
        "[ -~°é\n]{0,12}".prop_map(|t| {
            let inner = t.replace('\\', "\\\\").replace('"', "\\\"").replace('\n', "\\n");
            (t, format!("\"{inner}\""), false)
        }),
    ]
}

fn mapping() -> impl Strategy<Value = Vec<Vec<(String, String, bool)>>> {
    prop::collection::vec(prop::collection::vec(written(), 1..4), 1..6)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_make_the_readers_panic(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        if let Ok(text) = text::decode("a", &bytes) {
            let _ = yaml::parse("a", text);
            let _ = table::parse("a", text);
        }
    }

    #[test]
    fn any_text_is_read_with_right_places_or_refused_on_one_line(
        text in prop_oneof!["\\PC{0,60}", "[a-c:,\\[\\]{}#&*!|>'\"%@~<?\\\\ \n\r\t°é1-9.-]{0,60}", "([ab°]?[:,-]? ?[\n \\[\\]{}'\"a]?){0,20}"]
    ) {
        match yaml::parse("a", &text) {
            Ok(node) => check_places(&text, &node)?,
            Err(problem) => prop_assert!(!problem.to_string().contains(['\n', '\r'])),
        }
    }

    #[test]
    fn a_written_mapping_is_read_back_with_its_locations(rows in mapping()) {
        let mut text = String::new();
        let mut wanted = Vec::new();
        let file = "a".into();
        for (i, row) in rows.iter().enumerate() {
            let line = u32::try_from(i + 1).expect("small");
            let key = format!("é{i}");
            let mut cells = Vec::new();
            text += &format!("{key}: [");
            for (j, (content, form, plain)) in row.iter().enumerate() {
                let start = text.rsplit('\n').next().map_or(0, |line| line.chars().count());
                let column = u32::try_from(start + 1).expect("small");
                let kind = Kind::Scalar { text: content.clone(), plain: *plain };
                let quoted = !*plain;
                let length = u32::try_from(form.chars().count()).expect("small");
                let span = Span { line, start: column, end: column + length };
                cells.push(Node { location: Location::span(&file, span), quoted, kind });
                text += form;
                if j + 1 < row.len() {
                    text += ", ";
                }
            }
            text += "]\n";
            let column = u32::try_from(key.chars().count() + 3).expect("small");
            let list = Node { location: Location::line(&file, line, column), quoted: false, kind: Kind::List(cells) };
            let span = Span { line, start: 1, end: column - 2 };
            wanted.push((Key { text: key, location: Location::span(&file, span) }, list));
        }
        let node = yaml::parse("a", &text).map_err(|p| TestCaseError::fail(format!("{p} in {text}")))?;
        prop_assert_eq!(node.kind, Kind::Map(wanted), "{}", text);
    }

    /// Rows written by the rules of RFC 4180 are read back, and numbered by a count of what was written.
    #[test]
    fn a_written_table_is_read_back_with_its_row_numbers(
        rows in prop::collection::vec((prop::collection::vec("[ -~°é\n]{0,8}", 1..4), 0_u32..3), 1..8),
        crlf in any::<bool>(),
    ) {
        let end = if crlf { "\r\n" } else { "\n" };
        let mut text = format!("a,b{end}");
        let mut wanted = vec![(1, vec!["a".to_owned(), "b".to_owned()])];
        let mut number = 1;
        for (cells, blank_lines) in rows {
            let quoted: Vec<String> = cells.iter().map(|cell| format!("\"{}\"", cell.replace('"', "\"\""))).collect();
            for _ in 0..blank_lines {
                text += end;
            }
            text += &format!("{}{end}", quoted.join(","));
            number += blank_lines + 1;
            if cells.iter().any(|cell| !cell.trim().is_empty()) {
                wanted.push((number, cells));
            }
        }
        let table = table::parse("a", &text).map_err(|p| TestCaseError::fail(format!("{p} in {text}")))?;
        let read: Vec<_> = table.rows.into_iter().map(|row| (row.number, row.cells.to_vec())).collect();
        prop_assert_eq!(read, wanted, "{}", text);
    }
}

//! What is read, where it stands, and what is refused in which words.

use super::*;

/// Every value and key of a tree on one line each: the place, the kind and the text.
fn shown(node: &Node) -> Vec<String> {
    fn at(place: &Place) -> String {
        place.to_string().replace("a.yaml, line ", "").replace(", column ", ":")
    }
    fn walk(node: &Node, out: &mut Vec<String>) {
        let place = at(&node.place);
        match &node.kind {
            Kind::Null => out.push(format!("{place} null")),
            Kind::Scalar { text, plain: true } => out.push(format!("{place} {text}")),
            Kind::Scalar { text, plain: false } => out.push(format!("{place} {text:?}")),
            Kind::List(entries) => {
                out.push(format!("{place} list"));
                entries.iter().for_each(|entry| walk(entry, out));
            }
            Kind::Map(entries) => {
                out.push(format!("{place} map"));
                for (key, value) in entries {
                    out.push(format!("{} key {}", at(&key.place), key.text));
                    walk(value, out);
                }
            }
        }
    }
    let mut out = Vec::new();
    walk(node, &mut out);
    out
}

fn read(text: &str) -> Vec<String> {
    shown(&parse("a.yaml", text).unwrap())
}

fn refusal(text: &str) -> String {
    parse("a.yaml", text).unwrap_err().to_string()
}

#[test]
fn a_plain_text_is_kept_as_it_stands() {
    for text in [
        "3.50",
        "0x10",
        "0o17",
        "1:30",
        "yes",
        "No",
        "on",
        "true",
        "1e3",
        ".5",
        "+4",
        "-20 °C",
        "0 °F",
        "8\"",
        "1 1/2\"",
        "1'-2\"",
        "3/4\" frostproof wall hydrant, 10\"",
        "R-20",
        "2026-01-02",
        "1_000",
        ".inf",
        ".nan",
        "none",
        "Null-flush",
        "nULL",
        "#1 of 2",
    ] {
        let (text, written) =
            if text.starts_with('#') { (text, format!("'{text}'")) } else { (text, text.into()) };
        let node = parse("a.yaml", &format!("a: {written}\n")).unwrap();
        let Kind::Map(entries) = node.kind else { panic!("no mapping") };
        let plain = !written.starts_with('\'');
        assert_eq!(entries[0].1.kind, Kind::Scalar { text: text.to_owned(), plain });
    }
}

#[test]
fn quoted_and_block_texts_give_their_contents() {
    assert_eq!(
        read(
            "a: '8\"'\nb: \"it\\u00B0s \\\"x\\\"\"\nc: 'it''s'\nd: |\n  one\n    two\ne: >-\n  one\n  two\nf: one\n  two\n"
        ),
        [
            "1:1 map",
            "1:1 key a",
            "1:4 \"8\\\"\"",
            "2:1 key b",
            "2:4 \"it°s \\\"x\\\"\"",
            "3:1 key c",
            "3:4 \"it's\"",
            "4:1 key d",
            "5:3 \"one\\n  two\\n\"",
            "7:1 key e",
            "8:3 \"one two\"",
            "10:1 key f",
            "10:4 one two",
        ]
    );
}

#[test]
fn places_count_characters_and_not_bytes() {
    assert_eq!(
        read("é°: [°F, \"é\", x]\n\"é\": {°: 1}\n"),
        [
            "1:1 map",
            "1:1 key é°",
            "1:5 list",
            "1:6 °F",
            "1:10 \"é\"",
            "1:15 x",
            "2:1 key é",
            "2:6 map",
            "2:7 key °",
            "2:10 1",
        ]
    );
}

#[test]
fn line_ends_and_a_byte_order_mark_do_not_move_places() {
    let wanted = ["1:1 map", "1:1 key a", "1:4 1", "2:1 key b", "2:4 2", "3:1 key c", "3:4 3"];
    assert_eq!(read("a: 1\nb: 2\nc: 3\n"), wanted);
    assert_eq!(read("a: 1\r\nb: 2\r\nc: 3\r\n"), wanted);
    assert_eq!(read("a: 1\rb: 2\rc: 3\r"), wanted);
    assert_eq!(read("\u{FEFF}a: 1\nb: 2\nc: 3\n"), wanted);
}

#[test]
fn a_value_left_blank_stands_at_its_key() {
    assert_eq!(
        read("a:\n\n# nothing\nb: ~\nc: null\nd: ''\ne: {f, g: }\n"),
        [
            "1:1 map",
            "1:1 key a",
            "1:1 null",
            "4:1 key b",
            "4:4 null",
            "5:1 key c",
            "5:4 null",
            "6:1 key d",
            "6:4 \"\"",
            "7:1 key e",
            "7:4 map",
            "7:5 key f",
            "7:5 null",
            "7:8 key g",
            "7:8 null",
        ]
    );
}

#[test]
fn an_alias_stands_for_the_value_and_keeps_its_place() {
    assert_eq!(
        read("a: &w {b: 1}\nc: *w\nd: [&x 2, *x]\n"),
        [
            "1:1 map",
            "1:1 key a",
            "1:7 map",
            "1:8 key b",
            "1:11 1",
            "2:1 key c",
            "1:7 map",
            "1:8 key b",
            "1:11 1",
            "3:1 key d",
            "3:4 list",
            "3:8 2",
            "3:8 2",
        ]
    );
}

#[test]
fn what_is_no_yaml_is_refused_at_its_place_in_plain_words() {
    for (text, message) in [
        (
            "a: 1\nb: 2\na: 3\n",
            "3, column 1: \"a\" stands here for the second time in one mapping; expected each key once",
        ),
        (
            "a: {b: 1, 'b': 2}",
            "1, column 11: \"b\" stands here for the second time in one mapping; expected each key once",
        ),
        ("a: 1\n---\nb: 2\n", "2, column 1: a second document starts here; expected one document in a file"),
        ("a:\n\t- b\n", "2, column 2: a tab is used for indentation; expected spaces"),
        ("a: \"open\n", "1, column 4: a quote that was opened is never closed"),
        ("a: [1, 2\n", "1, column 4: a bracket \"[\" is not closed; expected \"]\""),
        (
            "a: 1]\nb: ]\n",
            "2, column 4: a closing bracket stands here without an opening one; expected quotes around a text with brackets",
        ),
        (
            "a: \"8\" barrel\"\n",
            "1, column 8: a text goes on after its closing quote; expected the whole text in quotes; an inch mark is safe in single quotes: '8\"'",
        ),
        (
            "a: see: below\n",
            "1, column 7: a colon cannot stand here; expected quotes around a text that holds a colon and a space, and each key on its own line, indented as its neighbours",
        ),
        (
            "a: - b\n",
            "1, column 4: a list cannot start here; expected \"- \" on a line of its own, or quotes around a text",
        ),
        (
            "a: \"C:\\dir\"\n",
            "1, column 4: a backslash in this quoted text starts no known escape; expected single quotes around the text, or \\\\ for a backslash",
        ),
        ("a: @x\n", "1, column 4: \"@\" cannot start a value; expected the whole text in quotes"),
        ("a: \u{7}\n", "1, column 4: the control character U+0007 stands here"),
        (
            "a: {b: 1 c: 2}\n",
            "1, column 11: the keys of a mapping are not separated; expected \",\" or \"}\"",
        ),
        (
            "- a\nb: c\n",
            "2, column 1: this fits no list above it; expected \"- \", indented as its neighbours",
        ),
        (
            "a:\n  b: 1\n c: 2\n",
            "3, column 2: this fits no key above it; expected a key, indented as its neighbours",
        ),
        ("a: *nope\n", "1, column 4: an alias stands here for an anchor not defined before it"),
        ("a: &x [*x]\n", "1, column 8: an alias stands inside the very value it is an alias of"),
        (
            "a: !!str 3\n",
            "1, column 4: \"!!str\" is a tag, and tags are not read; expected the value alone, in quotes where it is to be a text",
        ),
        (
            "a:\n  <<: 1\n",
            "2, column 3: \"<<\" is a merge key, and merge keys are not read; expected the keys written out",
        ),
        (
            "? [a]\n: b\n",
            "1, column 3: a list, mapping or alias stands here as a key; expected a text as the key",
        ),
        (
            "a: &k 1\n*k : 2\n",
            "2, column 1: a list, mapping or alias stands here as a key; expected a text as the key",
        ),
        ("&k a: 1\n", "1, column 4: a key carries an anchor; expected the key alone"),
        (": v\n", "1, column 1: a value stands here without a key; expected a key before the colon"),
    ] {
        assert_eq!(refusal(text), format!("a.yaml, line {message}"), "{text:?}");
    }
    assert_eq!(refusal("# only a comment\n"), "a.yaml: the file holds no values");
}

#[test]
fn nesting_is_read_to_its_limit_whether_in_brackets_indents_or_aliases() {
    let over = "is over the limit of 64 levels of nesting in a YAML file";
    let brackets = |n: usize| format!("{}{}", "[".repeat(n), "]".repeat(n));
    assert!(parse("a.yaml", &brackets(64)).is_ok());
    assert_eq!(refusal(&brackets(65)), format!("a.yaml, line 1, column 65: {over}"));
    assert!(parse("a.yaml", &"- ".repeat(64)).is_ok());
    assert_eq!(refusal(&"- ".repeat(65)), format!("a.yaml, line 1, column 129: {over}"));
    let by_alias = |n: usize| format!("- &a {}\n- {}*a{}\n", brackets(40), "[".repeat(n), "]".repeat(n));
    assert!(parse("a.yaml", &by_alias(23)).is_ok());
    assert_eq!(refusal(&by_alias(24)), format!("a.yaml, line 2, column 27: {over}"));
}

//! What is read, where it stands, and what is refused in which words.

use super::*;

/// Every value and key of a tree on one line each: the place, the kind and the text.
fn shown(node: &Node) -> Vec<String> {
    fn at(location: &Location) -> String {
        location.to_string().replace("a.yaml, line ", "").replace(", column ", ":")
    }
    fn walk(node: &Node, out: &mut Vec<String>) {
        let location = at(&node.location);
        match &node.kind {
            Kind::Null => out.push(format!("{location} null")),
            Kind::Scalar { text, plain: true } => out.push(format!("{location} {text}")),
            Kind::Scalar { text, plain: false } => out.push(format!("{location} {text:?}")),
            Kind::List(entries) => {
                out.push(format!("{location} list"));
                entries.iter().for_each(|entry| walk(entry, out));
            }
            Kind::Map(entries) => {
                out.push(format!("{location} map"));
                for (key, value) in entries {
                    out.push(format!("{} key {}", at(&key.location), key.text));
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
            "3, column 1: \"a\" is given twice; the first is on line 1; expected each key once",
        ),
        (
            "a: {b: 1, 'b': 2}",
            "1, column 11: \"b\" is given twice; the first is on line 1; expected each key once",
        ),
        (
            "a: 1\n---\nb: 2\n",
            "2, column 1: a line of dashes starts a second document in this file; expected one job or one set of rules in a file",
        ),
        (
            "a:\n\t- b\n",
            "2, column 1: the line is indented with a tab; expected spaces: tabs are not allowed in indentation",
        ),
        (
            "a: \"open\n",
            "1, column 4: the quote that opens here is never closed; expected the same quote after the text",
        ),
        (
            "a: \"open\nb: \"c\"\n",
            "1, column 4: a quote is not closed on this line and continues to line 2; expected the same quote after the text",
        ),
        ("a: [1, 2\n", "1, column 4: the bracket \"[\" that opens here is not closed; expected \"]\""),
        (
            "a: 1]\nb: ]\n",
            "2, column 4: this closing bracket has no opening bracket; expected quotes around a text with brackets",
        ),
        (
            "a: \"8\" barrel\"\n",
            "1, column 8: the text continues after its closing quote; expected the whole text in quotes; inch marks are safe in single quotes: '8\" barrel'",
        ),
        (
            "a: {b} below\n",
            "1, column 8: the text continues after its closing bracket; expected quotes around the whole text, '{b} below'",
        ),
        (
            "a: see: below\n",
            "1, column 7: the text after \"a:\" has a second colon; expected quotes around the text, 'see: below', or a line for each key",
        ),
        ("a:1\nb: 2\n", "1, column 1: \"a:1\" has no space after its colon; expected \"a: 1\""),
        (
            "a: 1\n  b: 2\n",
            "2, column 3: the line is indented by 2 spaces as a part of line 1, which already has a value; expected 0 spaces, as line 1",
        ),
        (
            "a: - b\n",
            "1, column 4: a list cannot start here; expected each \"- \" on a line of its own, or quotes around a text",
        ),
        (
            "a: \"C:\\dir\"\n",
            "1, column 4: a backslash has a meaning of its own in double quotes; expected single quotes around the text, or two backslashes for one",
        ),
        ("a: @x\n", "1, column 4: \"@x\" starts with \"@\", which only quoted text may; expected '@x'"),
        ("a: \u{7}\n", "1, column 4: an invisible character (U+0007) is here; expected the line typed again"),
        (
            "a: {b: 1 c: 2}\n",
            "1, column 11: a comma, or quotes around the text, is missing before this; expected { key: value, key: value }, with quotes around a text that holds a comma, a bracket or a colon",
        ),
        (
            "- a\nb: c\n",
            "2, column 1: the lines above it are a list, and this one has no dash; expected \"- \" before it, or the spaces of another line",
        ),
        (
            "a:\n  b: 1\n c: 2\n",
            "3, column 2: the line is indented by 1 space, which matches no line above it; expected 0 spaces as line 1, or 2 spaces as line 2",
        ),
        (
            "a: *nope\n",
            "1, column 4: \"*nope\" starts with \"*\", which only quoted text may; expected '*nope'",
        ),
        (
            "a: &x [*x]\n",
            "1, column 8: a copy (\"*\") is inside the value it copies; expected the value written out",
        ),
        (
            "a: !!str 3\n",
            "1, column 4: \"!!str\" starts with \"!\", which only quoted text may; expected the value alone, or quotes around the whole text",
        ),
        (
            "a:\n  <<: 1\n",
            "2, column 3: \"<<\" is not supported: keys cannot be copied from elsewhere; expected the keys written out",
        ),
        (
            "? [a]\n: b\n",
            "1, column 3: a list or a bracket is in the place of a key; expected \"key: value\", with quotes around a text that starts with a bracket",
        ),
        (
            "a: &k 1\n*k : 2\n",
            "2, column 1: a list or a bracket is in the place of a key; expected \"key: value\", with quotes around a text that starts with a bracket",
        ),
        ("&k a: 1\n", "1, column 4: a key has an \"&\" before it; expected the key alone"),
        (": v\n", "1, column 1: this colon has no key before it; expected \"key: value\""),
    ] {
        assert_eq!(refusal(text), format!("a.yaml, line {message}"), "{text:?}");
    }
    assert_eq!(refusal("# only a comment\n"), "a.yaml: the file has only blank lines and comments");
}

#[test]
fn nesting_is_read_up_to_its_limit_in_every_style() {
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

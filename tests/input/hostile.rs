//! Files that are empty, binary, cut short, over the limits or made to take the machine's memory.

use coldsill::diag::Diagnostic;
use coldsill::input::{Limit, table, text, yaml};

#[track_caller]
fn refused<T>(message: &str, read: impl FnOnce() -> Result<T, Diagnostic>) {
    let Err(problem) = read() else { panic!("was read; wanted: {message}") };
    assert_eq!(problem.to_string(), message);
    assert!(!message.contains('\n'));
}

fn csv(bytes: &[u8]) -> Result<coldsill::input::Table, Diagnostic> {
    table::parse("a.csv", text::decode("a.csv", bytes)?)
}

fn utf_16(text: &str) -> Vec<u8> {
    text.encode_utf16().flat_map(u16::to_le_bytes).collect()
}

#[test]
fn an_empty_file_is_refused() {
    refused("a.csv: the file is empty", || csv(b""));
    refused("a.csv: the table has no rows", || csv(b"\n\r\n , ,\n"));
    refused("a.yaml: the file has only blank lines and comments", || {
        yaml::parse("a.yaml", "\n# a comment\n")
    });
}

#[test]
fn files_that_are_not_utf_8_are_errors_by_kind() {
    let save = "expected UTF-8 text (in a spreadsheet, save it as \"CSV UTF-8\")";
    let message = |what: &str| format!("a.csv: is {what}; {save}");
    refused(&message("UTF-16 text"), || csv(&utf_16("\u{FEFF}Mark,Depth\n")));
    refused(&message("UTF-16 text"), || csv(&utf_16("Mark,Depth\n")));
    refused(&message("UTF-32 text"), || csv(b"\xFF\xFE\0\0M\0\0\0"));
    refused(&message("a workbook or another zipped file, not text"), || csv(b"PK\x03\x04\x14\0\x06\0"));
    refused(&message("a workbook or document in the older binary format, not text"), || {
        csv(b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1\0\0")
    });
    refused(&message("a PDF, not text"), || csv(b"%PDF-1.7\n\xE2\xE3\n"));
    refused(
        &format!("a.csv, line 2, column 3: there is a NUL byte here; the file is binary, not text; {save}"),
        || csv(b"Mark\nHB\0\x01\x02\n"),
    );
    refused(
        &format!(
            "a.csv, line 2, column 7: byte B0 is not UTF-8; the file looks like Windows-1252 text; {save}"
        ),
        || csv(b"Mark,Low\r\nHB-1,0\xB0F\r\n"),
    );
}

#[test]
fn a_file_cut_short_is_refused_where_it_ends() {
    refused(
        "a.csv, line 2, column 7: the file ends in the middle of a character; it looks cut short",
        || csv(b"Mark,Low\nHB-1,0\xC2"),
    );
    refused(
        "a.csv, row 2: \"\"wall hydr\" opens a quote that is never closed; expected a closing quote at the end of the \
         cell, and \"\" for an inch mark within it",
        || csv(b"Mark,Kind\nHB-1,\"wall hydr"),
    );
    refused(
        "a.yaml, line 1, column 14: the bracket \"[\" that opens here is not closed; expected \"]\"",
        || yaml::parse("a.yaml", "walls: {rim: [0.12, 0.1"),
    );
}

#[test]
fn a_file_or_line_over_the_limit_is_refused_without_reading_on() {
    let line = vec![b'a'; 200_000_000];
    refused("a.csv: is over the limit of 64,000,000 bytes in a file", || csv(&line));
    let mut long = b"Mark\nHB-1\n".to_vec();
    long.extend_from_slice(&line[..=Limit::LineBytes.most()]);
    refused("a.csv, line 3, column 1: is over the limit of 1,000,000 bytes in a line", || csv(&long));
    refused("a.yaml: is over the limit of 4,000,000 bytes in a YAML file", || {
        yaml::parse("a.yaml", &"a\n".repeat(2_000_001))
    });
}

#[test]
fn a_text_is_not_copied_to_be_decoded() {
    let bytes = b"\xEF\xBB\xBFMark\n";
    let text = text::decode("a.csv", bytes).unwrap();
    assert!(std::ptr::eq(text.as_bytes(), &raw const bytes[3..]));
}

#[test]
fn a_table_over_the_limits_is_refused_at_its_row() {
    let columns = format!("Mark\n{}\n", ",".repeat(1_000));
    refused("a.csv, row 2: is over the limit of 1,000 columns in a row", || csv(columns.as_bytes()));
    let cell = format!("Mark,Depth\n\nHB-1,{}\n", "°".repeat(32_768));
    refused(
        &format!("a.csv, row 3: \"{}…\" is over the limit of 32,767 characters in a cell", "°".repeat(60)),
        || csv(cell.as_bytes()),
    );
    assert!(csv(format!("Mark,Depth\nHB-1,{}\n", "°".repeat(32_767)).as_bytes()).is_ok());
    refused("a.csv, row 200001: is over the limit of 200,000 rows in a table", || {
        csv("a\n".repeat(200_001).as_bytes())
    });
}

#[test]
fn a_hundred_thousand_brackets_neither_overflow_nor_linger() {
    let over = "is over the limit of 64 levels of nesting in a YAML file";
    refused(&format!("a.yaml, line 1, column 65: {over}"), || yaml::parse("a.yaml", &"[".repeat(100_000)));
    refused(&format!("a.yaml, line 1, column 257: {over}"), || {
        yaml::parse("a.yaml", &"{a: ".repeat(100_000))
    });
    refused(&format!("a.yaml, line 1, column 129: {over}"), || yaml::parse("a.yaml", &"- ".repeat(100_000)));
    // The explicit mark of a key: the first key within a key is already one too many.
    refused(
        "a.yaml, line 1, column 3: a list or a bracket is in the place of a key; expected \"key: value\", with quotes around a text that starts with a bracket",
        || yaml::parse("a.yaml", &"? ".repeat(100_000)),
    );
}

/// Ten anchors, each a list of nine aliases of the one before: a billion values written in 400 bytes.
fn bomb(first: &str) -> String {
    let mut text = format!("a0: &a0 {first}\n");
    for i in 1..10 {
        let alias = format!("*a{}", i - 1);
        text += &format!("a{i}: &a{i} [{}]\n", [alias.as_str(); 9].join(", "));
    }
    text
}

#[test]
fn aliases_that_multiply_are_stopped_at_the_limits() {
    // A level of n values makes one of 9n + 1, paid twice over with the copy its anchor keeps: 149,471 values are paid
    // on line 6 before its list, and each alias in it is 66,430 more.
    refused(
        "a.yaml, line 6, column 10: is over the limit of 200,000 values in a YAML file, its aliases filled in",
        || yaml::parse("a.yaml", &bomb("[x, x, x, x, x, x, x, x, x]")),
    );
    // 0.5 MB and its copy, 4.5 MB and its copy, then aliases of 4.5 MB each: the second is over.
    let long = "x".repeat(500_000);
    refused(
        "a.yaml, line 3, column 15: is over the limit of 16,000,000 bytes of text in a YAML file, its aliases filled in",
        || yaml::parse("a.yaml", &bomb(&long)),
    );
    // Each line nests the one before: no line is deep, the tree they make is.
    let mut deeper = "- &a0 [x]\n".to_owned();
    for i in 1..100_000 {
        deeper += &format!("- &a{i} [*a{}]\n", i - 1);
    }
    refused("a.yaml, line 64, column 9: is over the limit of 64 levels of nesting in a YAML file", || {
        yaml::parse("a.yaml", &deeper)
    });
}

#[test]
fn too_many_values_are_refused_where_the_limit_is_passed() {
    refused(
        "a.yaml, line 200000, column 3: is over the limit of 200,000 values in a YAML file, its aliases filled in",
        || yaml::parse("a.yaml", &"- x\n".repeat(300_000)),
    );
}

#[test]
fn half_a_megabyte_of_one_mark_neither_panics_nor_hangs() {
    for mark in [
        "\"", "'", "&a ", "*a ", "!", "!a ", ": ", "a: ", "-", "- ", "? ", "|", ">", "#", "%", "{", "}", "[",
        "]", ",", "[,", "{,", "a\n", "\n", " ", "\t", "\r", "---\n", "...\n", "\\", "\"\\", "- - a\n",
        "a: a\n", "{a},", "[a]: ", "°", " #\n", "a #\n", "- #\n", "&a a: ", "|\n", "- |\n", "''", "\"\" ",
    ] {
        let text = mark.repeat(500_000 / mark.len());
        for text in [text.clone(), format!("a: {text}"), format!("[{text}"), format!("a: |\n  {text}")] {
            let _ = yaml::parse("a.yaml", &text);
        }
    }
}

#[test]
fn a_key_twice_is_refused_at_the_second() {
    refused(
        "a.yaml, line 4, column 5: \"depth\" is given twice; the first is on line 2; expected each key once",
        || yaml::parse("a.yaml", "outlets:\n  - depth: 8 in\n    mark: HB-1\n    depth: 10 in\n"),
    );
}

#[test]
fn byte_order_mark_line_ends_and_non_ascii_headings_are_read() {
    let table = csv("\u{FEFF}Mark,Tiefe (mm),Größe “é”\r\nHB-1,203,¾\"\r\n".as_bytes()).unwrap();
    assert_eq!(*table.rows[0].cells, ["Mark", "Tiefe (mm)", "Größe “é”"]);
    assert_eq!((table.rows[1].number, table.rows[1].cell(2)), (2, "¾\""));
}

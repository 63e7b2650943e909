//! Text tables in the encodings and dialects that spreadsheets save, and lists in YAML and JSON.

use super::common::{data, notes, opened, problems, read, refusal, said, unused};
use coldsill::input::Memory;

#[test]
fn utf_16_is_read_either_way_round_and_windows_1252_is_told() {
    for name in ["utf-16-le.csv", "utf-16-be.csv", "windows-1252.csv"] {
        let schedule = read(name, &data(name));
        assert_eq!(said(&schedule, 2), ["HB-1", "Café wall", "8"], "{name}");
        let told = notes(&schedule);
        if name.starts_with("windows") {
            assert_eq!(
                told,
                [
                    "windows-1252.csv: the file is not UTF-8 text; it was read as Windows-1252, which older spreadsheets save"
                ]
            );
        } else {
            assert_eq!(told, [""; 0], "{name}");
        }
    }
}

#[test]
fn text_that_is_partly_utf_8_is_not_called_windows_1252() {
    let told = refusal("s.csv", b"Mark,Location\nHB-1,caf\xC3\xA9\nHB-2,caf\xE9\n");
    assert!(told.starts_with("s.csv, line 3, column 9: byte E9 is not UTF-8"), "{told}");
}

#[test]
fn an_ambiguous_decimal_comma_is_an_error() {
    // 8,5 in shows that the file has decimal commas; 1,500 may be one and a half or fifteen hundred.
    let schedule = read("comma.csv", &data("comma.csv"));
    assert_eq!(said(&schedule, 2), ["HB-1", "North", "8.5", "?"]);
    assert_eq!(
        problems(&schedule),
        [
            "comma.csv, row 2, column \"Supply run (in)\": \"1,500\" has a comma that may be a decimal comma or a \
          thousands separator; expected a point, such as 0.75, or no comma"
        ]
    );
    let schedule = read("s.csv", b"Mark,Nominal length\nHB-1,\"8,5 in\"\n");
    assert_eq!(said(&schedule, 2), ["HB-1", "?"]);
}

#[test]
fn every_separator_is_read_and_one_declared_is_no_row() {
    for mark in [",", ";", "\t", "|"] {
        let text =
            ["Outlets, level 1", "", "Mark~Length~Barrel", "HB-1~8\"~brass", "HB-2~10\"~copper"].join("\n");
        let schedule = read("s.csv", text.replace('~', mark).as_bytes());
        assert_eq!(said(&schedule, 4), ["HB-1", "8", "brass"], "{mark:?}");
    }
    assert_eq!(said(&read("s.csv", b"sep=;\r\nMark;Length\r\nHB-1;8 in\r\n"), 2), ["HB-1", "8"]);
}

#[test]
fn a_list_states_facts_by_headings_or_names_in_yaml_and_json() {
    let yaml = b"outlets:\n  - { Mark: HB-1, outlet.barrel: brass, nominal_length: 8 in, Colour: red }\n  - Mark: HB-2\n    Bareel: brass\n";
    let schedule = read("s.yaml", yaml);
    assert_eq!(said(&schedule, 2), ["HB-1", "8", "brass"]);
    assert_eq!(
        unused(&schedule),
        [
            "s.yaml, line 2, column 63: Colour: unknown heading",
            "s.yaml, line 4, column 5: Bareel: unknown heading",
        ]
    );
    assert_eq!(
        problems(&schedule),
        ["s.yaml, line 4, column 5: \"Bareel\" is not a known heading; did you mean \"Barrel\"?"]
    );
    // By its contents, whatever it is called.
    let json = br#"{"outlets": [{"Mark": "HB-1", "Qty": 2, "Barrel": null}]}"#;
    assert_eq!(said(&read("export.txt", json), 1), ["HB-1", "2"]);
}

#[test]
fn a_list_of_the_wrong_shape_is_told_where_it_stands() {
    assert_eq!(
        refusal("s.yaml", b"outlets: HB-1\nclimate: duluth-mn\n"),
        "s.yaml, line 1, column 10: the list of outlets should be a list, not a text; expected [HB-1]\ns.yaml, line 2, column 1: \
         \"climate\" is not a key of the schedule; expected outlets"
    );
    let schedule = read("s.yaml", b"outlets:\n  - HB-1\n  - { Mark: HB-2, Kind: [a] }\n");
    assert_eq!(
        problems(&schedule),
        [
            "s.yaml, line 2, column 5: the outlet should be keys with values, not a text; expected \"key: value\" lines, or { key: value }",
            "s.yaml, line 3, column 25: the value should be a text, not a list; expected one value, without brackets or dashes",
        ]
    );
}

#[test]
fn a_job_names_a_list_or_a_sheet_of_a_workbook() {
    let job = |schedule: &str| format!("climate: minneapolis-mn\nschedule: {schedule}\n");
    let files = Memory::new()
        .with("a.yaml", job("same.yaml"))
        .with("b.yaml", job("{ file: awkward.xlsx, sheet: old }"))
        .with("c.yaml", job("{ file: awkward.xlsx, sheet: new }"))
        .with("same.yaml", data("same.yaml"))
        .with("awkward.xlsx", data("awkward.xlsx"));
    let rows = |source| opened(&files, source, None, None).map(|it| it.job().schedule.rows.len());
    assert_eq!(rows("a.yaml"), Ok(5));
    assert_eq!(rows("b.yaml"), Ok(1));
    assert_eq!(
        rows("c.yaml"),
        Err(vec![
            "c.yaml, line 2, column 40: \"new\" is not a sheet of the workbook with anything in it; expected Cover, \
             Plumbing, Key, Old"
                .to_owned()
        ])
    );
}

//! What stands around the rows: footnotes, addenda, general notes, text above the headings, cells without a heading, a
//! second table. None of it passes in silence.

use super::common::{aside, held, problems, read, said, unused};

const HEADINGS: &str = "Mark,Kind,Length,Barrel,Backflow device,Notes";
const ROW: &str = "HB-1,Wall hydrant,12 in,Stainless,ASSE 1019-B,";

fn with(lines: &str) -> coldsill::schedule::Schedule {
    read("s.csv", format!("{HEADINGS}\n{lines}\n").as_bytes())
}

#[test]
fn a_part_that_is_deleted_leaves_its_row_and_is_held_against_it() {
    for text in [
        "VB - deleted",
        "Screws - void",
        "Box - void",
        "ASSE 1019-B - deleted",
        "Handle (deleted)",
        "Vacuum breaker cancelled",
    ] {
        let schedule = with(&format!("{ROW}{text}"));
        let told = held(&schedule, 2);
        assert!(told.ends_with(&format!("\"{text}\" under Notes")), "{told}");
        assert_eq!(told.matches(text).count(), 1, "said once: {told}");
    }
    let schedule = read("s.csv", b"Mark,Kind,Location\nHB-1,sillcock,Void\nHB-2,sillcock,North\n");
    assert_eq!(held(&schedule, 2), "Remark: \"Void\" under Location");
    assert_eq!(held(&schedule, 3), "");
}

#[test]
fn a_statement_about_the_whole_row_deletes_it() {
    for text in ["DELETED", "HB-1 deleted", "HB-1 - deleted", "DELETED PER ADDENDUM 2", "void"] {
        let mark = if text == "HB-1 deleted" { text } else { "HB-1" };
        let schedule = with(&format!("HB-2,sillcock,,,,\n{mark},Wall hydrant,12 in,,,{text}"));
        assert_eq!(schedule.rows.len(), 1, "{text}");
        assert!(unused(&schedule)[0].contains("the row is marked as deleted"), "{text}");
    }
}

#[test]
fn a_footnote_is_read_for_the_rows_that_cite_its_sign() {
    let schedule =
        with("HB-1,Wall hydrant*,12 in,,,\nHB-2,Wall hydrant,12 in,,,\n* Frostproof with stainless barrel.");
    assert!(said(&schedule, 2).contains(&"stainless".to_owned()), "{:?}", said(&schedule, 2));
    assert!(!said(&schedule, 3).contains(&"stainless".to_owned()));
    assert_eq!(aside(&schedule), ["s.csv, row 4: * Frostproof with stainless barrel.: note"]);
}

#[test]
fn a_footnote_that_takes_back_what_cites_it_is_held_against_the_row() {
    for (row, line, sign) in [
        (ROW.replace("hydrant", "hydrant*"), "* Not freeze-resistant; standard bibb at garages.", "*"),
        (ROW.replace("Stainless", "Stainless**"), "** Brass where exposed.", "**"),
        (ROW.replace("1019-B", "1019-B†"), "† Deleted by addendum 2.", "†"),
        (ROW.replace("1019-B", "1019-B‡"), "‡ Cancelled 2/27.", "‡"),
        (ROW.replace("1019-B", "1019-B§"), "§ Unused", "§"),
    ] {
        let schedule = with(&format!("{row}\n{line}"));
        let words = line.trim_start_matches(sign).trim();
        let told = held(&schedule, 2);
        assert!(told.contains(&format!("Footnote {sign}: \"{words}\" in s.csv, row 3")), "{told}");
    }
}

#[test]
fn the_sign_of_a_footnote_that_is_missing_is_told() {
    let schedule = with(&ROW.replace("Stainless", "Stainless*"));
    assert_eq!(
        unused(&schedule),
        [
            "s.csv, row 2, column \"Barrel\": Stainless*: has the mark of a footnote, and there is no such footnote"
        ]
    );
}

#[test]
fn a_line_that_names_a_mark_is_held_against_its_row() {
    for line in [
        "ADDENDUM 1: HB-1 change length to 6 in.",
        "HB-1 - DELETED PER ADDENDUM 2",
        "HB-1 - DELETED",
        "NOTES: 2. HB-1 thru HB-3 on hold",
    ] {
        let schedule = with(&format!("{ROW}\nHB-4,sillcock,,,,\n{line}"));
        assert_eq!(held(&schedule, 2), format!("Note: \"{line}\" in s.csv, row 4"));
        assert_eq!(held(&schedule, 3), "", "{line}");
    }
}

#[test]
fn titles_totals_and_news_are_held_against_no_row() {
    for line in ["EXTERIOR HOSE BIBBS:", "Total HB-1: 12", "Revision 1: added HB-1"] {
        assert_eq!(held(&with(&format!("{ROW}\n{line}")), 2), "", "{line}");
    }
}

#[test]
fn a_general_note_about_what_rows_order_is_listed_with_its_place() {
    let note = "2. Contractor shall verify lengths before ordering.";
    let schedule = with(&format!("{ROW}\nNOTES:\n{note}"));
    assert_eq!(
        unused(&schedule),
        [format!("s.csv, row 4: {note}: no row cites this; it is not applied to any row")]
    );
    assert_eq!(held(&schedule, 2), "", "{note}");
}

#[test]
fn a_line_below_the_rows_is_held_against_those_it_contradicts() {
    let barrel = "Barrel: \"Stainless\" under Barrel, \"1. Barrels are brass.\" in s.csv, row 4";
    assert_eq!(held(&with(&format!("{ROW}\nNOTES:\n1. Barrels are brass.")), 2), barrel);
    assert_eq!(
        held(&with(&format!("{ROW}\nInstall all outlets level.")), 2),
        "Slope: \"Install all outlets level.\" in s.csv, row 3"
    );
    assert_eq!(held(&with(&format!("{ROW}\nVOID")), 2), "Note: \"VOID\" in s.csv, row 3");
}

#[test]
fn a_general_note_that_takes_back_what_rows_order_is_held_against_each_outlet() {
    for note in ["2. Vacuum breakers to be removed at final.", "All wall hydrants: lengths are preliminary."]
    {
        let schedule = with(&format!("{ROW}\nLAV-1,Lavatory,,,,\nNOTES:\n{note}"));
        assert_eq!(held(&schedule, 2), format!("Note: \"{note}\" in s.csv, row 5"));
        assert_eq!(unused(&schedule), [""; 0], "nothing of the lavatory");
    }
}

#[test]
fn a_note_that_a_row_cites_is_not_listed() {
    let schedule = with(&format!("{ROW}1\nNOTES:\n1. Barrels are stainless.\n2. See plans for locations."));
    assert_eq!(
        unused(&schedule),
        ["s.csv, row 5: 2. See plans for locations.: belongs to no row; nothing is read from it"]
    );
}

#[test]
fn lines_above_the_headings_are_set_aside_and_a_doubtful_one_is_listed() {
    let text = format!(
        "Oak Street School,,\nPRELIMINARY - ALL LENGTHS TO BE VERIFIED,,\nNOT FOR CONSTRUCTION,,\n{HEADINGS}\n{ROW}\n"
    );
    let schedule = read("s.csv", text.as_bytes());
    assert_eq!(aside(&schedule)[0], "s.csv, row 1: Oak Street School: title");
    assert_eq!(
        unused(&schedule),
        ["s.csv, row 3: NOT FOR CONSTRUCTION: no row cites this; it is not applied to any row"]
    );
    assert_eq!(held(&schedule, 5), "Note: \"PRELIMINARY - ALL LENGTHS TO BE VERIFIED\" in s.csv, row 2");
    let text = format!("HB-1 IS VOID,,\n{HEADINGS}\n{ROW}\n");
    assert_eq!(held(&read("s.csv", text.as_bytes()), 3), "Note: \"HB-1 IS VOID\" in s.csv, row 1");
}

#[test]
fn cells_without_a_heading_are_listed_once_for_each_column() {
    let schedule =
        read("s.csv", b"Mark,Kind,,\nHB-1,sillcock,Delete VB,-\nHB-2,sillcock,more,\nHB-3,sillcock,,,TBD\n");
    assert_eq!(
        unused(&schedule),
        [
            "s.csv, row 2, column \"C\": Delete VB: is in a column without a heading, which is not read",
            "s.csv, row 4, column \"E\": TBD: is in a column without a heading, which is not read",
        ]
    );
    let numbered = read("s.csv", b",Mark,Kind\n1,HB-1,sillcock\n2,HB-2,sillcock\n");
    assert_eq!(unused(&numbered), [""; 0], "a count of the rows is no fact");
}

#[test]
fn a_second_table_is_not_read_under_the_first_headings() {
    let schedule = with(&format!(
        "{ROW}\nHB-2,sillcock,,,,\nREVISED SCHEDULE\nMark,Barrel,Length,Kind\nHB-1,brass,6 in,Hose bibb"
    ));
    let numbers: Vec<u32> = schedule.rows.iter().map(|it| it.number).collect();
    assert_eq!(numbers, [2, 3]);
    assert_eq!(
        problems(&schedule),
        [
            "s.csv, row 5: \"Mark Barrel Length Kind\" is a row of headings with other columns; it and the rows below it are \
             not read; expected the second table in a file or on a sheet of its own"
        ]
    );
    assert_eq!(held(&schedule, 2), "Note: \"HB-1 brass 6 in Hose bibb\" in s.csv, row 6");
    assert_eq!(held(&schedule, 3), "");
}

#[test]
fn a_list_of_abbreviations_below_the_rows_is_held_against_none() {
    for line in
        ["(E) = EXISTING", "NIC - NOT IN CONTRACT", "VIF VERIFY IN FIELD", "TBD - TO BE DETERMINED", "N.T.S."]
    {
        assert_eq!(held(&with(&format!("{ROW}\n{line}")), 2), "", "{line}");
    }
}

/// A note over every row is work for each of them: past a limit it is listed, and never lost.
#[test]
fn notes_over_a_long_schedule_are_held_up_to_a_limit_and_listed_past_it() {
    let rows: String =
        (0..1000).map(|at| format!("HB-{at},Wall hydrant,12 in,Stainless,ASSE 1019-B,\n")).collect();
    let notes: String = (0..120).map(|at| format!("{at:03}. Barrels are brass.\n")).collect();
    let schedule = with(&format!("{rows}NOTES:\n{notes}"));
    let last = held(&schedule, 1001);
    let told = unused(&schedule);
    for at in 0..120 {
        let note = format!("{at:03}. Barrels are brass.");
        assert_ne!(last.contains(&note), told.iter().any(|it| it.contains(&note)), "{note}");
    }
    assert_eq!(told.len(), 20);
}

#[test]
fn a_row_that_comes_twice_is_held_against_itself_and_a_list_of_single_faucets_is_not() {
    let table = |rows: &str| read("s.csv", format!("Mark,Qty,Kind,Length,Location\n{rows}\n").as_bytes());
    let twice = table("HB-1,12,Wall hydrant,12 in,North\nHB-1,12,Wall hydrant,12 in,North");
    assert_eq!(held(&twice, 2), "");
    assert_eq!(held(&twice, 3), "The same in row 2: \"12\" under Qty");
    let corrected = table("HB-1,12,Wall hydrant,12 in,North\nHB-1,6,Wall hydrant,12 in,North");
    assert_eq!(held(&corrected, 3), "The same in row 2: \"12\" under Qty");
    let nowhere = table("HB-1,12,Wall hydrant,12 in,\nHB-1,12,Wall hydrant,12 in,");
    assert_eq!(held(&nowhere, 3), "The same in row 2: \"12\" under Qty");
    for rows in [
        "HB-1,1,Wall hydrant,12 in,North\nHB-1,1,Wall hydrant,12 in,North",
        "HB-1,12,Wall hydrant,12 in,North\nHB-1,12,Wall hydrant,12 in,South",
    ] {
        assert_eq!(held(&table(rows), 3), "", "{rows}");
    }
}

#[test]
fn a_count_of_none_is_held_against_its_row() {
    let schedule = read("s.csv", b"Mark,Qty,Kind\nHB-1,0,sillcock\nHB-2,0 EA,sillcock\nHB-3,10,sillcock\n");
    assert_eq!(held(&schedule, 2), "Quantity: \"0\" under Qty");
    assert_eq!(held(&schedule, 3), "Quantity: \"0 EA\" under Qty");
    assert_eq!(held(&schedule, 4), "");
}

#[test]
fn a_note_in_the_cell_beside_its_number_is_read_for_the_rows_that_cite_it() {
    let schedule = with("HB-1,Wall hydrant,12 in,,ASSE 1019-B,1\nNOTES:\n1,Barrels are stainless.");
    assert!(said(&schedule, 2).contains(&"stainless".to_owned()), "{:?}", said(&schedule, 2));
    assert_eq!(
        aside(&schedule),
        ["s.csv, row 3: NOTES:: title", "s.csv, row 4: Barrels are stainless.: note"]
    );
}

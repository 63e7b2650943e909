//! What the rows of a schedule say besides facts: dittos, references, rows taken out, totals.

use super::common::{aside, notes, problems, read, said, unused};

#[test]
fn a_ditto_takes_the_cell_above_and_says_so() {
    let schedule = read(
        "s.csv",
        b"Mark,Kind,Barrel,Length\nHB-1,sillcock,brass,8 in\nHB-2,\"\"\"\",ditto,10 in\nHB-3,do,\"''\",12 in\n",
    );
    assert_eq!(said(&schedule, 3), ["HB-2", "sillcock", "10", "brass"]);
    assert_eq!(said(&schedule, 4), ["HB-3", "sillcock", "12", "brass"]);
    assert_eq!(
        notes(&schedule),
        [
            "s.csv, row 3: HB-2 repeats from the row above by ditto: Kind (sillcock), Barrel (brass)",
            "s.csv, row 4: HB-3 repeats from the row above by ditto: Kind (sillcock), Barrel (brass)",
        ]
    );
}

#[test]
fn a_ditto_with_more_words_takes_the_cell_above_and_adds_them() {
    let schedule = read(
        "s.csv",
        b"Mark,Kind,Description\nHB-1,sillcock,Brass barrel\nHB-2,sillcock,\"DITTO, SS SCREWS\"\n",
    );
    let all = said(&schedule, 3);
    assert!(all.contains(&"brass".to_owned()) && all.contains(&"stainless".to_owned()), "{all:?}");
    assert_eq!(
        notes(&schedule),
        ["s.csv, row 3: HB-2 repeats from the row above by ditto: Description (Brass barrel)"]
    );
}

#[test]
fn a_ditto_with_more_words_in_a_column_of_one_fact_is_not_known() {
    let schedule =
        read("s.csv", b"Mark,Kind,Length\nHB-1,sillcock,8 in\nHB-2,sillcock,\"Same, 14 in long\"\n");
    assert_eq!(said(&schedule, 3), ["HB-2", "sillcock", "?"]);
    assert_eq!(problems(&schedule).len(), 1);
}

#[test]
fn a_ditto_under_a_blank_is_not_known() {
    let schedule = read("s.csv", b"Mark,Kind,Barrel\nHB-1,sillcock,\nHB-2,sillcock,ditto\n");
    assert_eq!(said(&schedule, 3), ["HB-2", "sillcock"]);
    assert_eq!(
        problems(&schedule),
        [
            "s.csv, row 3, column \"Barrel\": \"ditto\" repeats the cell above, and there is none; it counts as unknown"
        ]
    );
}

#[test]
fn a_ditto_under_a_reference_is_not_guessed() {
    let schedule =
        read("s.csv", b"Mark,Kind,Barrel\nHB-1,sillcock,brass\nHB-2,same as HB-1,\nHB-3,ditto,copper\n");
    assert_eq!(said(&schedule, 4), ["HB-3", "copper"]);
    assert_eq!(
        problems(&schedule),
        [
            "s.csv, row 4, column \"Kind\": \"ditto\" repeats \"same as HB-1\", which refers to another row; it counts as unknown; \
          expected the fact written out"
        ]
    );
}

#[test]
fn a_row_the_same_as_another_takes_its_facts_with_their_places() {
    let schedule = read(
        "s.csv",
        b"Mark,Qty,Kind,Barrel,Location\nHB-2,3,Same as HB-1,,South\nHB-1,2,sillcock,brass,North\nHB-3,1,same as HB-2.,,\n",
    );
    for (row, count) in [(2, "3"), (4, "1")] {
        let all = said(&schedule, row);
        assert!(
            all[1] == count && all.contains(&"brass".to_owned()) && all.contains(&"sillcock".to_owned()),
            "{all:?}"
        );
        assert!(!all.contains(&"North".to_owned()), "{all:?}");
    }
    let barrel = schedule.rows[0].cells.iter().find(|it| &*it.text == "brass").expect("is copied");
    assert_eq!(barrel.location.to_string(), "s.csv, row 3, column \"Barrel\"");
    assert!(notes(&schedule)[0].ends_with("HB-2 takes its facts from HB-1 by the words \"Same as HB-1\""));
}

#[test]
fn a_reference_that_leads_nowhere_or_says_two_things_is_told() {
    let schedule = read(
        "s.csv",
        b"Mark,Kind,Barrel\nHB-1,sillcock,brass\nHB-2,same as HB-9,\nHB-3,same as HB-1,copper\nHB-4,same as HB-5,\n\
          HB-5,same as HB-4,\nHB-6,sillcock,brass\nHB-6,sillcock,copper\nHB-7,same as HB-6,\n",
    );
    let told = problems(&schedule);
    let parts = [
        "row 3, column \"Kind\": \"same as HB-9\" refers to HB-9, but no row has that mark; did you mean \"HB-1\"?",
        "row 4, column \"Kind\": \"same as HB-1\" refers to HB-1, but the row has facts of its own",
        "row 5, column \"Kind\": \"same as HB-5\" refers from row to row",
        "row 6, column \"Kind\": \"same as HB-4\" refers from row to row",
        "row 9, column \"Kind\": \"same as HB-6\" refers to HB-6, but the rows with that mark differ",
    ];
    assert_eq!(told.len(), parts.len(), "{told:?}");
    for (told, part) in told.iter().zip(parts) {
        assert!(told.contains(part), "{told}");
    }
    assert_eq!(said(&schedule, 4), ["HB-3", "copper"]);
}

#[test]
fn deleted_rows_totals_and_repeated_headings_are_skipped() {
    let schedule = read(
        "s.csv",
        b"Mark,Qty,Kind,Gasket,Status\nHB-1,2,sillcock,,\nHB-2 (VOID),2,sillcock,,\nHB-3,2,sillcock,,N.I.C.\nHB-4,2,not used,,\n\
          Mark,Qty,Kind,Gasket,Status\nBUILDING B,,,,\n,,,,see sheet P-2\nHB-5,2,sillcock,omitted,\n,9,Total outlets,,\n",
    );
    let numbers: Vec<u32> = schedule.rows.iter().map(|it| it.number).collect();
    assert_eq!(numbers, [2, 9], "a gasket left out does not take the row out");
    let left = unused(&schedule);
    assert_eq!(left.len(), 7, "{left:?}");
    assert_eq!(aside(&schedule), ["s.csv, row 7: BUILDING B: title"]);
    for (row, why) in [
        (3, "marked as deleted"),
        (4, "marked as deleted"),
        (5, "marked as deleted"),
        (6, "repeats the headings"),
        (8, "the row has nothing in a column with a known heading"),
        (10, "a total"),
    ] {
        assert!(
            left.iter().any(|it| it.contains(&format!("row {row}: ")) && it.contains(why)),
            "{row} {why}: {left:?}"
        );
    }
}

#[test]
fn a_word_that_deletes_counts_with_asterisks_around_it() {
    let schedule =
        read("s.csv", b"Mark,Kind,Status\nHB-1,sillcock,\nHB-2,sillcock,*** NOT IN CONTRACT. ***\n");
    let numbers: Vec<u32> = schedule.rows.iter().map(|it| it.number).collect();
    assert_eq!(numbers, [2]);
}

#[test]
fn unknown_keys_are_reported_and_the_first_100_get_a_suggestion() {
    let keys: String = (0..150).map(|at| format!("    Nominal lengthx{at:03}: 8 in\n")).collect();
    let schedule = read("s.yaml", format!("outlets:\n  - Mark: HB-1\n    Kind: sillcock\n{keys}").as_bytes());
    assert_eq!(unused(&schedule).len(), 150);
    let told = problems(&schedule);
    assert_eq!(told.iter().filter(|it| it.contains("did you mean")).count(), 100, "{told:?}");
}

#[test]
fn a_row_with_several_marks_is_that_many_outlets() {
    let counts = |rows: &str| {
        let schedule = read("s.csv", format!("Mark,Qty,Kind\n{rows}").as_bytes());
        (said(&schedule, 2)[1].clone(), problems(&schedule).join("\n"), notes(&schedule).join("\n"))
    };
    for (mark, count) in [("\"HB-1,2,3\"", "3"), ("HB-1 thru HB-4", "4"), ("HB-1 & HB-7", "2")] {
        let (read, told, noted) = counts(&format!("{mark},,sillcock\n"));
        assert_eq!((read.as_str(), told.as_str()), (count, ""), "{mark}");
        assert!(noted.ends_with(&format!("counts as {count} faucets, one for each mark")), "{noted}");
    }
    assert_eq!(counts("\"HB-1,2,3\",3,sillcock\n").0, "3");
    let (read, told, _) = counts("\"HB-1,2,3\",2,sillcock\n");
    assert_eq!(read, "?");
    assert_eq!(
        told,
        "s.csv, row 2, column \"Qty\": \"2\" is not the number of marks in \"HB-1,2,3\", 3; the count of this row is unknown; \
         expected the number of faucets in the row, or a row for each mark"
    );
}

/// What is by owner is the handle, and not the barrel of the item below.
#[test]
fn an_item_with_a_star_below_a_row_is_no_part_of_the_words_above_it() {
    let schedule = read(
        "s.csv",
        b"Mark,Description\nHB-1,\"Wall hydrant, handle by owner\"\n,* stainless barrel\nHB-2,sillcock\n",
    );
    assert!(said(&schedule, 2).contains(&"stainless".to_owned()), "{:?}", said(&schedule, 2));
}

#[test]
fn unknown_words_leave_open_where_an_outlet_closes_only_if_its_plain_kind_alone_would_say_it() {
    for (kind, is_open) in
        [("Hose bibb", true), ("Sillcock", true), ("Frostproof sillcock", false), ("Wall hydrant", false)]
    {
        let schedule = read("s.csv", format!("Mark,Kind,Description\nA,{kind},xyzzy plugh\n").as_bytes());
        assert_eq!(said(&schedule, 2).contains(&"?".to_owned()), is_open, "{kind}");
    }
}

/// Problems of rows of a mark and a count.
fn counted(rows: &str) -> Vec<String> {
    problems(&read("s.csv", format!("Mark,Qty,Kind\n{rows}").as_bytes()))
}

#[test]
fn a_total_that_is_not_the_sum_of_the_rows_above_it_is_told() {
    let wrong = |row: u32, total: u32, sum: u32| {
        format!(
            "s.csv, row {row}, column \"Qty\": \"{total}\" is not the sum of the rows above it, {sum}; a row is missing, or \
             a count is wrong"
        )
    };
    assert_eq!(counted("HB-1,4,sillcock\nTOTAL,9,\n"), [wrong(3, 9, 4)]);
    assert_eq!(counted("HB-1,4,sillcock\nHB-2,3 ea,sillcock\nTotal:,8,\n"), [wrong(4, 8, 7)]);
    assert_eq!(
        counted("HB-1,4,sillcock\nSubtotal,4,\nHB-2,3,sillcock\nSubtotal,2,\nTOTAL,7,\n"),
        [wrong(5, 2, 7)]
    );
}

#[test]
fn a_total_of_any_of_the_rows_above_it_says_nothing() {
    for rows in [
        "HB-1,4,sillcock\nTOTAL,4,\n",
        "HB-1,4,sillcock\nSubtotal,4,\nHB-2,3,sillcock\nSubtotal,3,\nTOTAL,7,\n",
        "HB-1,4,sillcock\nWC-1,6,water closet\nTOTAL,10,\n",
        "HB-1,4,sillcock\nWC-1,6,water closet\nTotal,4,\n",
        "HB-1,4,sillcock\nHB-2,1,DELETED\nTotal,5,\n",
        "HB-1,4,sillcock\nHB-2,1,DELETED\nTotal,4,\n",
        // A count that is not stated has a message of its own.
        "HB-1,4,sillcock\nHB-2,,sillcock\nTotal,9,\n",
    ] {
        assert_eq!(counted(rows), [""; 0], "{rows}");
    }
}

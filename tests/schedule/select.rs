//! The outdoor outlets among the rows of a fixture schedule, and what is read of them.

use super::common::{aside, data, notes, of, opened, problems, read, unused};
use coldsill::facts::VOCABULARY;
use coldsill::input::Memory;
use coldsill::schedule::{CellValue, Schedule};

/// What a row states, by fact; `?` where it is open.
fn stated(schedule: &Schedule, row: u32, fact: &str) -> Option<String> {
    let row = schedule.rows.iter().find(|it| it.number == row).unwrap_or_else(|| panic!("no row {row}"));
    let cell = row.cells.iter().find(|cell| VOCABULARY.0[cell.term].fact == format!("outlet.{fact}"))?;
    Some(match &cell.value {
        None => "?".into(),
        Some(CellValue::Text(text)) => text.to_string(),
        Some(CellValue::YesNo(yes)) => yes.to_string(),
        Some(CellValue::Quantity(it)) => format!("{}", (it.is / 0.0254 * 1e6).round() / 1e6),
    })
}

fn rows(schedule: &Schedule) -> Vec<u32> {
    schedule.rows.iter().map(|it| it.number).collect()
}

fn with_job(lines: &str) -> Schedule {
    let job = format!("climate: miami-fl\nschedule: school.csv\n{lines}\n");
    let files = Memory::new().with("job.yaml", job).with("school.csv", data("school.csv"));
    of(&opened(&files, "job.yaml", None, None).unwrap_or_else(|problems| panic!("{problems:?}")))
}

#[test]
fn outlets_are_found_among_fixtures_and_the_rest_is_listed() {
    let schedule = read("school.csv", &data("school.csv"));
    assert_eq!(rows(&schedule), [10, 12, 13, 14]);
    let reasons: Vec<String> = schedule
        .rows_set_aside
        .iter()
        .map(|it| format!("{} {}", it.location.line_or_row().unwrap_or(0), it.reason.words()[0]))
        .collect();
    assert_eq!(
        reasons,
        [
            "1 title",
            "2 title",
            "5 title",
            "6 fixture",
            "7 fixture",
            "8 fixture",
            "9 title",
            "11 indoor faucet",
            "15 accessory",
            "17 title",
            "18 drain",
            "19 row of unknown kind",
            "21 title",
            "22 note",
            "23 note",
        ]
    );
    let told = problems(&schedule).join("\n");
    assert!(told.contains("row 13: \"P-7: HOSE BIBB\" may be indoors in an unheated space"), "{told}");
    let told = unused(&schedule).join("\n");
    assert!(told.contains("HW, WASTE: not about an outdoor faucet; not used"), "{told}");
    assert!(
        told.contains("row 16: P-10: Freezeless, 10\" long - DELETED: the row is marked as deleted"),
        "{told}"
    );
}

/// Read by eye from the file.
#[test]
fn words_columns_and_cited_notes_state_the_facts_of_a_row() {
    let schedule = read("school.csv", &data("school.csv"));
    for (row, fact, value) in [
        (10, "kind", Some("wall hydrant")),
        (10, "closes", Some("inside")),
        (10, "supply_size", Some("0.75")),
        (10, "inlet", Some("threaded")),
        (10, "barrel", Some("bronze")),
        (10, "nominal_length", Some("12")),
        (10, "backflow_device", Some("hose connection vacuum breaker")),
        (10, "fasteners", Some("stainless")),
        (10, "wall", Some("?")),
        (12, "nominal_length", Some("14")),
        (12, "barrel", Some("bronze")),
        (12, "fasteners", None),
        (13, "backflow_device", None),
        (13, "barrel", None),
        (14, "kind", Some("roof hydrant")),
        (14, "barrel", Some("galvanized steel")),
    ] {
        assert_eq!(stated(&schedule, row, fact).as_deref(), value, "row {row}: {fact}");
    }
    // 1/4 in per foot is 1 in 48; in inches of 0.0254 m.
    assert_eq!(
        stated(&schedule, 10, "slope"),
        Some(format!("{}", (1.0_f64 / 48.0 / 0.0254 * 1e6).round() / 1e6))
    );
    assert!(
        notes(&schedule).iter().any(|it| it.contains("P-6 takes its facts from P-4")),
        "{:?}",
        notes(&schedule)
    );
}

#[test]
fn a_job_includes_rows_and_sets_others_aside() {
    let schedule = with_job("include: [P-5, row 19]\nset_aside: P-7");
    assert_eq!(rows(&schedule), [10, 11, 12, 14, 19]);
    assert!(aside(&schedule).iter().any(|it| it.contains("row 13: P-7: HOSE BIBB: set aside by the job")));
    let schedule = with_job("include: P-99");
    assert!(
        problems(&schedule).iter().any(|it| it.contains("\"P-99\" is not a mark or row of the schedule"))
    );
}

#[test]
fn columns_aligned_by_spaces_are_read_with_lines_that_go_on() {
    let text = "            PLUMBING SCHEDULE\n\n\
        TAG     ITEM           DESCRIPTION                            CW     HW     REMARKS\n\
        ------------------------------------------------------------------------------------\n\
        F-1     WATER CLOSET   TANK TYPE, ELONGATED                   1/2\"   -\n\
        F-2     SILLCOCK       FROST-PROOF, BRASS, 10\" LONG,          3/4\"   -      NORTH SIDE\n\
        \x20                      INTEGRAL VACUUM BREAKER, SS SCREWS\n\
        F-3     FLOOR DRAIN    3\" CAST IRON                           -      -      AT HOSE BIBB\n";
    let schedule = read("s.txt", text.as_bytes());
    assert_eq!(rows(&schedule), [6]);
    for (fact, value) in [
        ("closes", "inside"),
        ("nominal_length", "10"),
        ("supply_size", "0.75"),
        ("backflow_device", "integral vacuum breaker"),
        ("fasteners", "stainless"),
    ] {
        assert_eq!(stated(&schedule, 6, fact).as_deref(), Some(value), "{fact}");
    }
}

#[test]
fn a_schedule_in_french_is_read() {
    let text = "REPÈRE;QTÉ;APPAREIL;DESCRIPTION;EF (mm);EMPLACEMENT\n\
        LV-1;4;Lavabo;Robinet monotrou;13;Salles de bain\n\
        RA-1;2;Robinet d'arrosage;Antigel, laiton, longueur 300 mm, brise-vide intégré, vis en acier inoxydable;19;Façade nord\n\
        RA-2;1;Robinet d'arrosage;Ordinaire, laiton;13;Salle mécanique\n";
    let schedule = read("s.csv", text.as_bytes());
    assert_eq!(rows(&schedule), [3]);
    for (fact, value) in [
        ("kind", "hose bibb"),
        ("closes", "inside"),
        ("barrel", "brass"),
        ("backflow_device", "integral vacuum breaker"),
        ("fasteners", "stainless"),
    ] {
        assert_eq!(stated(&schedule, 3, fact).as_deref(), Some(value), "{fact}");
    }
}

#[test]
fn words_that_contradict_a_safe_outlet_are_told() {
    let disagreement = |remark: &str| {
        let text = format!("Mark,Kind,Space behind,Location,Remarks\nA,sillcock,heated room,Rear,{remark}\n");
        stated(&read("s.csv", text.as_bytes()), 2, "description_disagrees")
    };
    for remark in ["pitch back toward house", "hose to remain connected", "in garage"] {
        assert!(disagreement(remark).is_some(), "{remark}");
    }
    assert_eq!(disagreement("hose to be disconnected"), None);
    let stop = read("s.csv", b"Mark,Kind,Remarks\nA,sillcock,no shutoff inside\n");
    assert_eq!(stated(&stop, 2, "inside_stop").as_deref(), Some("false"));
}

/// A hose bibb indoors is set aside, unless it is frostproof: then it passes through a wall. A denied word does not count.
#[test]
fn a_frostproof_hose_bibb_is_outdoors_wherever_it_is_placed() {
    let text = "Mark,Description,Location\nA,\"Hose bibb, frostproof\",Mechanical room\n\
                B,\"Hose bibb, not frostproof\",Mechanical room\nC,\"Hose bibb, frostproof\",Garage\n\
                D,\"Hose bibb, not frostproof\",Garage\nE,Hose bibb,Mechanical room\n";
    let schedule = read("s.csv", text.as_bytes());
    assert_eq!(rows(&schedule), [2, 4, 5]);
    let told = problems(&schedule).join("\n");
    let may_be = told.matches("may be indoors in an unheated space").count();
    assert!(may_be == 1 && told.contains("\"D: Hose bibb, not frostproof\" may be indoors"), "{told}");
}

/// A height above grade speaks against a room: nothing is decided by itself.
#[test]
fn a_height_above_grade_leaves_an_indoor_outlet_open() {
    let schedule = read(
        "s.csv",
        b"Mark,Description\nA,Hose bibb in mechanical room\n\
        B,\"Hose bibb in mechanical room, 24 in above grade\"\n",
    );
    assert_eq!(rows(&schedule), [3]);
    assert!(problems(&schedule).join("\n").contains("mentions both indoor and outdoor locations"));
}

#[test]
fn the_column_of_places_decides_over_the_description() {
    let schedule = read(
        "s.csv",
        b"Mark,Description,Location\nA,\"Hose bibb, serves mechanical room\",North elevation\nB,Sillcock,Rear\n",
    );
    assert_eq!(rows(&schedule), [2, 3]);
    assert_eq!(problems(&schedule), [""; 0]);
}

/// "Column line C 120" is a place on the grid of a plan, "Mech 120" a room.
#[test]
fn a_single_letter_with_a_number_is_not_a_room() {
    let schedule = read(
        "s.csv",
        b"Mark,Description,Location\nA,Hose bibb,Column line C 120\nB,Hose bibb,Mech 120\nC,Sillcock,Rear\n",
    );
    assert_eq!(rows(&schedule), [2, 4]);
}

/// Nothing else in the row says what it is.
#[test]
fn a_mark_of_an_outlet_makes_a_row_without_words_an_outlet() {
    let schedule = read("s.csv", b"Mark,Description,Location\nF-1,Water closet,\nHB-1,,Rear\nX-1,,Rear\n");
    assert_eq!(rows(&schedule), [3]);
}

/// What the row refers to may be an outlet, so it is reviewed and listed.
#[test]
fn a_row_that_refers_elsewhere_without_a_kind_is_reviewed() {
    let schedule =
        read("s.csv", b"Mark,Description,Location\nF-1,Water closet,\nX-9,same as specification,Rear\n");
    assert_eq!(rows(&schedule), [3]);
    let told = problems(&schedule).join("\n");
    assert!(told.contains("\"X-9: same as specification\" refers to another row or note"), "{told}");
}

#[test]
fn words_under_an_unknown_heading_say_where_an_outlet_is() {
    let schedule = read("s.csv", b"Mark,Description,Zqx\nA,Hose bibb,Mechanical room\nB,Sillcock,TBD\n");
    assert_eq!(aside(&schedule), ["s.csv, row 2: A: Hose bibb: indoor faucet"]);
}

#[test]
fn of_two_files_of_answers_the_newer_wins() {
    let answers = |value: &str| format!("Fact,Marks,Response\noutlet.barrel,A,{value}\n");
    let job = "climate: miami-fl\nschedule: s.csv\nanswers: [first.csv, second.csv]\n";
    let files = Memory::new()
        .with("job.yaml", job)
        .with("s.csv", "Mark,Kind\nA,sillcock\n")
        .with("first.csv", answers("brass"))
        .with("second.csv", answers("copper"));
    let world = opened(&files, "job.yaml", None, None).unwrap_or_else(|problems| panic!("{problems:?}"));
    let schedule = of(&world);
    assert_eq!(stated(&schedule, 2, "barrel").as_deref(), Some("copper"));
    let told = problems(&schedule).join("\n");
    assert!(
        told.contains(
            "first.csv, row 2, column \"Response\": \"brass\" contradicts \"copper\" in second.csv"
        ),
        "{told}"
    );
}

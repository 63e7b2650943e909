//! Tables with breakpoints. How they are looked up stands as cases in `data/table.yaml`; here, that those hold, what a
//! report shows, and what is refused when they are loaded.

use crate::cli::common::{Folder, Ran, comment, outlet, unwrapped};

const TABLE: &str = include_str!("data/table.yaml");
const SPECIFIC: &str = include_str!("data/specific.yaml");

fn with(rules: &str) -> Ran {
    Folder::new().with("house.yaml", rules).run("rules --rules house.yaml")
}

#[track_caller]
fn spoiled(from: &str, to: &str) -> Ran {
    assert!(TABLE.contains(from), "{from}");
    with(&TABLE.replacen(from, to, 1))
}

#[test]
fn every_way_to_look_a_table_up_comes_out_as_its_case_says() {
    let ran = Folder::new().with("house.yaml", TABLE).run("rules try house.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.out);
}

#[test]
fn of_rows_that_fit_the_one_that_names_most_words_holds() {
    let ran = Folder::new().with("house.yaml", SPECIFIC).run("rules try house.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.out);
}

#[test]
fn two_rows_that_fit_equally_well_are_refused() {
    let from = "{ outlet.kind: other, outlet.closes: other, down to: -20 °F";
    let to = "{ outlet.kind: other, outlet.closes: inside, down to: -20 °F";
    assert!(SPECIFIC.contains(from));
    let ran = with(&SPECIFIC.replacen(from, to, 1));
    let wanted = "house.yaml, line 10, column 9: the row of the table and that of line 8 fit wall hydrant, inside equally \
                  well; expected a row of its own for wall hydrant, inside";
    assert!(ran.code == 2 && ran.err.contains(wanted), "{}", ran.err);
}

#[test]
fn two_rows_that_fit_equally_well_may_stand_beside_one_that_fits_better() {
    let from = "      - { outlet.kind: other, outlet.closes: other, down to: -20 °F, other: 4 in }\n";
    let own = "      - { outlet.kind: wall hydrant, outlet.closes: inside, down to: 0 °F, other: 14 in }\n";
    let rival = from.replace("closes: other", "closes: inside");
    let ran = with(&SPECIFIC.replacen(from, &format!("{from}{rival}{own}"), 1));
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.err);
}

#[test]
fn a_column_that_stands_twice_in_other_letters() {
    spoiled("stainless: 5 in", "stainless: 5 in, Stainless: 9 in").is_refused(&[
        "house.yaml, line 11, column 43: \"Stainless\" is twice in the row of the table; expected each word once, \
         in any case",
    ]);
}

#[test]
fn a_row_of_a_text_that_stands_twice_in_other_letters() {
    let own = "rows: [{ outlet.wall: A-1, yes: 1 °F, no: 1 °F }, { outlet.wall: a-1, yes: 2 °F, no: 2 °F }]";
    let rules = TABLE.replacen("by: [outlet.cover]", "by: [outlet.wall, outlet.cover]", 1);
    let rules = rules.replacen("rows:\n      - { yes: 2 °F, no: 0 °F }", own, 1);
    let ran = with(&rules);
    assert!(ran.err.contains("line 23, column 55: the row is in the table twice"), "{}", ran.err);
}

#[test]
fn rows_left_empty_are_told_where_they_stand() {
    let ran = spoiled("rows:\n      - { yes: 2 °F, no: 0 °F }", "rows: []");
    let first = "house.yaml, line 23, column 11: the table house/warm_side has 0 rows; expected 1 to 1000";
    assert_eq!((ran.code, ran.err.lines().next()), (2, Some(first)));
}

#[test]
fn the_fact_of_the_columns_named_in_a_row() {
    spoiled("{ down to: 20 °F, other: 4 in }", "{ down to: 20 °F, outlet.barrel: brass, other: 4 in }").is_refused(&[
        "house.yaml, line 10, column 27: \"outlet.barrel\" is the fact whose values are the columns of the table; \
         expected its values as keys, each with an entry, such as copper: 4 in",
    ]);
}

#[test]
fn three_texts_not_given_are_all_waited_for_within_the_cap() {
    let rows: String = (0..300)
        .map(|it| {
            format!(
                "      - {{ outlet.notes: C{it}, outlet.location: L{it}, M{it}: {it} in, other: 1 in }}\n"
            )
        })
        .collect();
    let (head, _) = SPECIFIC.split_once("    by: ").unwrap();
    let (_, rule) = SPECIFIC.split_once("rules:\n").unwrap();
    let (rule, _) = rule.split_once("      - { name").unwrap();
    let rules = format!(
        "{head}    by: [outlet.notes, outlet.location, outlet.model]\n    rows:\n{rows}      \
         - {{ outlet.notes: other, outlet.location: other, other: 0 in }}\nrules:\n{rule}      \
         - {{ name: nothing given, given: {{ outlet.seat_depth: 1 in }}, gives: clarify }}\n      \
         - {{ name: none named, given: {{ outlet.notes: x, outlet.location: x, outlet.model: x, outlet.seat_depth: 1 in }}, gives: no comment }}\n      \
         - {{ name: named, given: {{ outlet.notes: c7, outlet.location: L7, outlet.model: m7, outlet.seat_depth: 1 in }}, gives: revise }}\n"
    );
    // Without the cap on combinations this takes hours.
    let ran = Folder::new().with("house.yaml", rules).run("rules try house.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.out);
}

#[test]
fn a_comment_shows_the_value_found_and_the_facts_it_goes_by() {
    let schedule = "Mark,Closes,Seat depth,Barrel,Wall,Supply\nHB-1,inside,5 in,brass,2x6,copper\n";
    let folder = Folder::of(schedule).with("house.yaml", TABLE).with(
        "job.yaml",
        "climate: { name: our own post, design_low: -5 °F }\nschedule: s.csv\nrules: house.yaml\n",
    );
    let review = folder.run("review job.yaml --format json").json();
    let it = comment(outlet(&review, 2), "house/short");
    assert_eq!((&it["outcome"], &it["text"]), (&"revise".into(), &"5 in against 12 in.".into()));
    let value = &it["values"]["house/least"];
    assert_eq!(value["from"], "computed");
    assert_eq!(value["used"], serde_json::json!(["outlet.barrel", "site.design_low"]));
}

#[test]
fn a_table_that_ends_says_where() {
    let schedule = "Mark,Closes,Seat depth,Barrel,Wall,Supply\nHB-1,inside,5 in,brass,2x6,copper\n";
    let folder = Folder::of(schedule).with("house.yaml", TABLE).with(
        "job.yaml",
        "climate: { name: our own post, design_low: -35 °F }\nschedule: s.csv\nrules: house.yaml\n",
    );
    let sheet = unwrapped(&folder.run("review --detail job.yaml").out);
    assert!(
        sheet.contains("Unknown: least seat depth by design low and barrel (the table ends at -20 °F)."),
        "{sheet}"
    );
}

#[test]
fn where_a_table_ends_is_told_in_the_readers_units() {
    let schedule = "Mark,Closes,Seat depth,Barrel,Wall,Supply\nHB-1,inside,5 in,brass,2x6,copper\n";
    let folder = Folder::of(schedule).with("house.yaml", TABLE).with(
        "job.yaml",
        "climate: { name: our own post, design_low: -35 °F }\nschedule: s.csv\nrules: house.yaml\n",
    );
    let sheet = unwrapped(&folder.run("review --detail job.yaml --units si").out);
    // -20 °F is (-20 - 32) / 1.8 = -28.9 °C.
    assert!(sheet.contains("the table ends at -28.9 °C"), "{sheet}");
}

#[test]
fn a_rule_shows_the_table_it_uses() {
    let ran = Folder::new().with("house.yaml", TABLE).run("rules House 1 --rules house.yaml");
    assert!(
        unwrapped(&ran.out)
            .contains("house/least, least seat depth by design low and barrel (house.yaml line"),
        "{}",
        ran.out
    );
}

#[test]
fn breakpoints_out_of_order() {
    spoiled("down to: 0 °F", "down to: 30 °F").is_refused(&[
        "house.yaml, line 11, column 9: \"30 °F\" is not below the row before it; expected less than 20 °F",
    ]);
}

#[test]
fn a_table_that_turns_round() {
    spoiled("down to: 0 °F", "up to: 0 °F").is_refused(&[
        "house.yaml, line 11, column 11: \"up to\" mixes `down to` and `up to` in one table; expected down to in every row, or up to in \
         every row",
    ]);
}

#[test]
fn a_value_of_another_dimension() {
    let ran = spoiled("stainless: 5 in", "stainless: 5 °F");
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.starts_with("house.yaml, line 11, column 37: \"5 °F\" is a temperature, not a length"),
        "{}",
        ran.err
    );
}

#[test]
fn a_word_that_the_fact_does_not_have() {
    let ran = spoiled("stainless: 5 in", "stainles: 5 in");
    ran.is_refused(&[
        "house.yaml, line 11, column 26: \"stainles\" is not a value of outlet.barrel; did you mean \"stainless\"?",
    ]);
}

#[test]
fn words_left_out() {
    spoiled("{ yes: 2 °F, no: 0 °F }", "{ yes: 2 °F }").is_refused(&[
        "house.yaml, line 24, column 9: the table has no value for outlet.cover no; expected a value for each, or other:",
    ]);
}

#[test]
fn a_fact_that_there_is_not() {
    let ran = spoiled("by: [site.design_low, outlet.barrel]", "by: [site.design_low, outlet.barel]");
    let first = "house.yaml, line 8, column 27: \"outlet.barel\" is not a known name; did you mean \"outlet.barrel\"?";
    assert_eq!((ran.code, ran.err.lines().next()), (2, Some(first)));
}

/// The rules with an amendment of the table.
fn amended(tables: &str) -> Ran {
    Folder::new()
        .with("set.yaml", TABLE)
        .with("a.yaml", format!("amendment: County\nlevel: region\ntables:\n{tables}"))
        .run("rules House 3 --rules set.yaml --rules a.yaml")
}

#[test]
fn an_amendment_replaces_a_table_and_is_named() {
    let ran = amended("  house/warm_side: { rows: [{ yes: 3 °F, no: 1 °F }] }\n");
    assert!(unwrapped(&ran.out).contains("(County, a.yaml line 4)"), "{}{}", ran.out, ran.err);
    assert!(unwrapped(&ran.out).contains("yes no ----- ----- 3 °F 1 °F"), "{}", ran.out);
}

#[test]
fn a_table_is_replaced_by_one_of_the_same_facts_and_dimension() {
    amended("  house/warm_side: { by: [outlet.gasket], rows: [{ yes: 3 °F, no: 1 °F }] }\n").is_refused(&[
        "a.yaml, line 4, column 3: \"house/warm_side\" has other facts than the table it replaces; expected by: \
         [outlet.cover]",
    ]);
    amended("  house/warm_side: { rows: [{ yes: 3 in, no: 1 in }] }\n").is_refused(&[
        "a.yaml, line 4, column 3: \"house/warm_side\" gives a length, but the table it replaces gives a temperature \
         difference",
    ]);
}

#[test]
fn a_table_that_there_is_not_names_the_nearest() {
    amended("  house/warm_sid: { rows: [{ yes: 3 °F, no: 1 °F }] }\n").is_refused(&[
        "a.yaml, line 4, column 3: there is no table \"house/warm_sid\"; did you mean \"house/warm_side\"?",
    ]);
}

#[test]
fn a_company_that_replaces_a_regions_table_is_told() {
    let folder = Folder::new()
        .with("set.yaml", TABLE)
        .with("a.yaml", "amendment: County\nlevel: region\ntables:\n  house/warm_side: { rows: [{ yes: 3 °F, no: 1 °F }] }\n")
        .with("b.yaml", "amendment: Firm\ntables:\n  house/warm_side: { rows: [{ yes: 9 °F, no: 9 °F }] }\n");
    let ran = folder.run("rules --rules set.yaml --rules b.yaml --rules a.yaml");
    assert!(
        unwrapped(&ran.out).contains("Note Firm replaces house/warm_side of County (region, a.yaml line 4)"),
        "{}{}",
        ran.out,
        ran.err
    );
}

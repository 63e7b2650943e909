//! Tables with breakpoints. How they are looked up stands as cases in `data/table.yaml`; here, that those hold, what a
//! report shows, and what is refused when they are loaded.

use crate::common::{Folder, Ran, comment, outlet, unwrapped};

const TABLE: &str = include_str!("data/table.yaml");

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
    let sheet = unwrapped(&folder.run("review job.yaml").out);
    assert!(
        sheet.contains("Not known: least seat depth by design low and barrel (the table ends at -20 °F)."),
        "{sheet}"
    );
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
        "house.yaml, line 11, column 9: \"30 °F\" does not come below the row before it; expected less than 20 °F",
    ]);
}

#[test]
fn a_table_that_turns_round() {
    spoiled("down to: 0 °F", "up to: 0 °F").is_refused(&[
        "house.yaml, line 11, column 11: \"up to\" turns the table round; expected down to in every row, or up to in \
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
        "house.yaml, line 11, column 26: \"stainles\" is not a word of outlet.barrel; did you mean \"stainless\"?",
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
    let first =
        "house.yaml, line 8, column 27: \"outlet.barel\" is not a fact; did you mean \"outlet.barrel\"?";
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
        "a.yaml, line 4, column 3: \"house/warm_side\" goes by other facts than the table it replaces; expected by: \
         [outlet.cover]",
    ]);
    amended("  house/warm_side: { rows: [{ yes: 3 in, no: 1 in }] }\n").is_refused(&[
        "a.yaml, line 4, column 3: \"house/warm_side\" gives a length where the table it replaces gives a temperature \
         difference",
    ]);
}

#[test]
fn a_table_that_there_is_not_names_the_nearest() {
    amended("  house/warm_sid: { rows: [{ yes: 3 °F, no: 1 °F }] }\n").is_refused(&[
        "a.yaml, line 4, column 3: \"house/warm_sid\" is no table there is; did you mean \"house/warm_side\"?",
    ]);
}

#[test]
fn a_company_that_replaces_a_regions_table_is_told() {
    let folder = Folder::new()
        .with("set.yaml", TABLE)
        .with("a.yaml", "amendment: County\nlevel: region\ntables:\n  house/warm_side: { rows: [{ yes: 3 °F, no: 1 °F }] }\n")
        .with("b.yaml", "amendment: House\ntables:\n  house/warm_side: { rows: [{ yes: 9 °F, no: 9 °F }] }\n");
    let ran = folder.run("rules --rules set.yaml --rules b.yaml --rules a.yaml");
    assert!(
        unwrapped(&ran.out).contains("Note House replaces house/warm_side of County (region, a.yaml line 4)"),
        "{}{}",
        ran.out,
        ran.err
    );
}

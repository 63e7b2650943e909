//! Rule files that are wrong: exit 2 with a located problem, whatever the schedule.

use crate::cli::common::{Folder, NOTHING_TO_ASK, Ran, unwrapped};

const RULE: &str = include_str!("data/rule.yaml");

/// A review with a rule file.
fn with(rules: &str) -> Ran {
    Folder::of(NOTHING_TO_ASK)
        .with("house.yaml", rules)
        .run("review s.csv --climate honolulu-hi --rules house.yaml")
}

/// A review with a rule that has one thing replaced.
fn spoiled(from: &str, to: &str) -> Ran {
    assert!(RULE.contains(from));
    with(&RULE.replace(from, to))
}

fn amendment(text: &str) -> Ran {
    with(&format!("amendment: house\n{text}"))
}

#[test]
fn the_rule_that_the_others_are_spoiled_from_is_in_order() {
    assert_eq!(with(RULE).err, "");
}

#[test]
fn a_unit_that_is_not_known() {
    spoiled("8 in", "8 inchs").is_refused(&[
        "house.yaml, line 8, column 35: \"inchs\" is not a known unit; did you mean \"inches\"?",
    ]);
}

#[test]
fn a_fact_that_there_is_not_names_the_nearest() {
    spoiled("needs: outlet.seat_depth", "needs: outlet.seat_dept").is_refused(&[
        "house.yaml, line 8, column 12: \"outlet.seat_dept\" is not a known name; did you mean \"outlet.seat_depth\"?",
    ]);
}

#[test]
fn a_fact_that_there_is_not_in_a_wording() {
    spoiled("{outlet.seat_depth}", "{outlet.seat_dpth}").is_refused(&[
        "house.yaml, line 10, column 28: \"outlet.seat_dpth\" is not a known name; did you mean \"outlet.seat_depth\"?",
    ]);
}

#[test]
fn a_figure_in_a_wording_that_cannot_be_read() {
    spoiled("{outlet.seat_depth}", "{= 8 inchs}")
        .is_refused(&["house.yaml, line 10, column 30: \"8 inchs\" is not a figure with a known unit; expected {= 1/8 in} or {= 32 °F}"]);
}

#[test]
fn two_temperatures_added() {
    spoiled("outlet.seat_depth >= 8 in", "site.design_low + site.design_low > 8 °F").is_refused(&[
        "house.yaml, line 8, column 12: \"site.design_low + site.design_low\" cannot be computed: two temperatures \
         cannot be added; expected a difference, written 4 Δ°F or 4 K",
    ]);
}

#[test]
fn a_length_compared_with_a_temperature() {
    let ran = spoiled("8 in", "8 °F");
    assert_eq!((ran.code, ran.problems().len()), (2, 1), "{}", ran.err);
    assert!(ran.err.contains("a length") && ran.err.contains("a temperature"), "{}", ran.err);
}

#[test]
fn a_rule_without_a_case_for_its_outcome() {
    spoiled("        gives: revise", "        gives: no comment")
        .is_refused(&["house.yaml, line 4, column 5: the rule has no case that gives \"revise\"; expected one below `cases:`, so \
             that the rule is tested",
        ]);
}

#[test]
fn a_band_of_a_case_from_high_to_low() {
    let ran = spoiled("outlet.seat_depth: 9 in", "outlet.seat_depth: 10 in to 9 in");
    let wanted = "\"10 in to 9 in\" is a range with the larger value first";
    assert!(ran.code == 2 && ran.err.contains(wanted), "{}", ran.err);
}

#[test]
fn a_rule_file_that_is_not_there() {
    Folder::of(NOTHING_TO_ASK)
        .run("review s.csv --climate honolulu-hi --rules house.yaml")
        .is_refused(&["house.yaml: there is no such file"]);
}

#[test]
fn an_amendment_of_a_rule_that_there_is_not_names_the_nearest() {
    amendment("drop:\n  freezing/seat-reaches-freezing: too strict\n").is_refused(&[
        "house.yaml, line 3, column 3: there is no rule \"freezing/seat-reaches-freezing\"; did you mean \
         \"freezing/seat-reaches-freezing-at-design-low\"?",
    ]);
}

#[test]
fn a_setting_that_there_is_not_names_the_nearest() {
    amendment("settings:\n  freezing/margn: 6 °F\n").is_refused(&[
        "house.yaml, line 3, column 3: there is no setting \"freezing/margn\"; did you mean \"freezing/margin\"?",
    ]);
}

#[test]
fn a_setting_outside_its_bounds() {
    amendment("settings:\n  freezing/margin: 40 °F\n").is_refused(&[
        "house.yaml, line 3, column 20: \"40 °F\" is outside the bounds of the setting freezing/margin; expected 0 °F to 20 °F",
    ]);
}

#[test]
fn a_setting_of_another_kind() {
    amendment("settings:\n  freezing/margin: 4 in\n").is_refused(&[
        "house.yaml, line 3, column 20: \"4 in\" is a length, not a temperature difference; expected a temperature \
         difference such as 4 °F",
    ]);
}

#[test]
fn a_rule_dropped_without_a_reason() {
    let ran = amendment("drop:\n  detail/installation-note-missing:\n");
    ran.is_refused(&["house.yaml, line 3, column 3: the reason is left blank; expected a text"]);
}

#[test]
fn an_outcome_that_there_is_not() {
    amendment("change:\n  detail/installation-note-missing: { outcome: reject }\n").is_refused(&[
        "house.yaml, line 3, column 48: \"reject\" is not an outcome; expected revise, clarify or advise",
    ]);
}

#[test]
fn the_list_of_rules_is_refused_as_the_review_is() {
    Folder::new()
        .with("house.yaml", "amendment: house\nsettings:\n  freezing/margn: 6 °F\n")
        .run("rules --rules house.yaml")
        .is_refused(&[
            "house.yaml, line 3, column 3: there is no setting \"freezing/margn\"; did you mean \"freezing/margin\"?",
        ]);
}

#[test]
fn the_cases_of_the_rules_shipped_all_hold() {
    let ran = Folder::new().run("rules try");
    let count = ran.out.trim_end().strip_suffix(" cases run, all passed.").unwrap();
    assert_eq!(ran.code, 0);
    assert!(count.parse::<u32>().unwrap() > 200, "{count}");
}

#[test]
fn a_case_that_does_not_hold_is_shown_and_exits_with_1() {
    let rules = RULE.replace("outlet.seat_depth: 9 in", "outlet.seat_depth: 7 in");
    let ran = Folder::new().with("house.yaml", rules).run("rules try house.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    assert!(
        crate::cli::common::unwrapped(&ran.out)
            .contains("house/seat-shallow deep no comment revise house.yaml,"),
        "{}",
        ran.out
    );
}

/// The deep seat of the case is made a shallow one. The job's own figures do not decide a case, and a rule that an amendment
/// has changed is not what its cases test.
#[test]
fn a_rule_whose_own_case_fails_is_told_in_the_review() {
    let broken = RULE.replace("outlet.seat_depth: 9 in", "outlet.seat_depth: 7 in");
    let ran = with(&broken);
    let told = "house.yaml, line 12, column 9: \"deep\" is a case of house/seat-shallow that gives \"revise\"; expected \
                \"no comment\": `coldsill rules try` shows all cases";
    assert_eq!(ran.code, 1, "{}", ran.out);
    assert!(unwrapped(&ran.out).contains(told), "{}", ran.out);
    assert!(!with(RULE).out.contains("is a case of"));
    let changed = "amendment: ours\nchange: { House 1: { outcome: advise } }\n";
    let ran = Folder::of(NOTHING_TO_ASK)
        .with("house.yaml", RULE)
        .with("ours.yaml", changed)
        .run("review s.csv --climate honolulu-hi --rules house.yaml --rules ours.yaml");
    assert!(ran.err.is_empty() && !ran.out.contains("is a case of"), "{}{}", ran.err, ran.out);
}

/// Without a frost depth the case is open, and stays so where the job states one.
#[test]
fn a_case_is_tried_without_what_the_job_states() {
    let rule = RULE.replace("outlet.seat_depth >= 8 in", "outlet.seat_depth >= site.frost_depth");
    let cases = "        given: { outlet.seat_depth: 9 in, site.frost_depth: 8 in }";
    let rule = rule.replace("        given: { outlet.seat_depth: 9 in }", cases);
    let rule = rule.replace(
        "        given: { outlet.seat_depth: 7 in }",
        "        given: { outlet.seat_depth: 7 in, site.frost_depth: 8 in }",
    );
    let open = "      - name: open\n        given: { outlet.seat_depth: 9 in }\n        gives: clarify\n";
    let job = "climate: honolulu-hi\nschedule: s.csv\nrules: house.yaml\nauthority: { frost_depth: 4 in }\n";
    let ran = Folder::of(NOTHING_TO_ASK)
        .with("house.yaml", format!("{rule}{open}"))
        .with("job.yaml", job)
        .run("review job.yaml");
    assert!(ran.err.is_empty() && !ran.out.contains("is a case of"), "{}{}", ran.err, ran.out);
}

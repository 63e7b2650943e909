//! Levels of amendments: what comes after what, what may not be loosened, and what has to be told.

use crate::cli::common::{Folder, Ran, unwrapped};
use serde_json::Value;

const SCHEDULE: &str = "Mark,Kind,Closes,Seat depth,Barrel,Wall,Inside stop,Supply,Supply insulation\n\
    HB-1,Wall hydrant,Inside,7 in,Brass,rim joist batt,No,Copper,none\n\
    HB-2,Hose bibb,Face,,Brass,rim joist batt,No,Copper,none\n";
const COUNTY: &str = "amendment: North County\nlevel: region\n";
const AT_FACE: &str = "freezing/closes-at-face-without-inside-stop";

/// The rules with amendments in the order given.
fn rules(amendments: &[&str]) -> Ran {
    listed("", amendments)
}

fn listed(which: &str, amendments: &[&str]) -> Ran {
    let names: Vec<String> = (1..=amendments.len()).map(|number| format!("{number}.yaml")).collect();
    let folder =
        names.iter().zip(amendments).fold(Folder::new(), |folder, (name, text)| folder.with(name, text));
    let options: String = names.iter().map(|name| format!(" --rules {name}")).collect();
    folder.run(&format!("rules {which}{options}"))
}

#[track_caller]
fn says(ran: &Ran, wanted: &str) {
    assert_eq!(ran.err, "");
    assert!(unwrapped(&ran.out).contains(wanted), "{wanted:?} is not in:\n{}", ran.out);
}

#[test]
fn a_rule_may_be_put_on_another_basis_and_the_code_still_governs() {
    let region = format!(
        "{COUNTY}change: {{ freezing/seat-short-of-insulation: {{ basis: adopted code, outcome: revise }} }}\n"
    );
    let company = format!("amendment: House\nchange: {{ {AT_FACE}: {{ basis: company }} }}\n");
    let ran = rules(&[&region, &company]);
    says(&ran, "Freezing 2 basis adopted code, was company: North County, 1.yaml line 3");
    says(&ran, "Freezing 3 basis company, was adopted code: House, 2.yaml line 2");
    says(&ran, "House takes Freezing 3 off the adopted code, and the code still governs (2.yaml line 2)");
}

#[test]
fn a_region_comes_before_a_company_whatever_the_order_given() {
    let company = "amendment: House\nlevel: company\nsettings: { freezing/margin: 10 °F }\n";
    let region = format!("{COUNTY}settings: {{ freezing/margin: 7 °F }}\n");
    let ran = rules(&[company, &region]);
    says(&ran, "Amended North County (region) and House (company)");
    says(&ran, "freezing/margin 7 °F, was 0 °F: North County, 2.yaml line 3");
    says(&ran, "freezing/margin 10 °F, was 7 °F: House, 1.yaml line 3");
}

#[test]
fn within_a_level_the_later_one_has_the_last_word() {
    let one = "amendment: One\nsettings: { freezing/margin: 10 °F }\n";
    let two = "amendment: Two\nsettings: { freezing/margin: 7 °F }\n";
    says(&rules(&[one, two]), "freezing/margin 7 °F, was 10 °F: Two, 2.yaml line 2");
    says(&rules(&[two, one]), "freezing/margin 10 °F, was 7 °F: One, 2.yaml line 2");
}

#[test]
fn bounds_that_a_region_has_narrowed_hold_below_it() {
    let region = format!("{COUNTY}settings:\n  freezing/margin: {{ is: 6 °F, between: [6 °F, 20 °F] }}\n");
    rules(&["amendment: House\nsettings: { freezing/margin: 5 °F }\n", &region]).is_refused(&[
        "1.yaml, line 2, column 30: \"5 °F\" is outside the bounds of the setting freezing/margin; expected 6 °F to \
         20 °F, the bounds set by North County (2.yaml, line 4, column 41)",
    ]);
}

#[test]
fn bounds_only_get_narrower() {
    rules(&["amendment: House\nsettings:\n  freezing/margin: { between: [0 °F, 30 °F] }\n"]).is_refused(&[
        "1.yaml, line 3, column 31: the bounds of the setting freezing/margin may only get narrower; expected 0 °F to \
         20 °F",
    ]);
}

#[test]
fn bounds_may_be_narrowed_without_a_value_if_it_lies_within() {
    let ran = rules(&["amendment: House\nsettings:\n  freezing/margin: { between: [0 °F, 10 °F] }\n"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
}

#[test]
fn bounds_that_leave_the_value_outside_ask_for_one() {
    let ran = rules(&["amendment: House\nsettings:\n  freezing/margin: { between: [6 °F, 20 °F] }\n"]);
    ran.is_refused(&[
        "1.yaml, line 3, column 20: leaves the setting freezing/margin, 0 °F, out of bounds; expected `is:` with a \
         value within them",
    ]);
}

#[test]
fn a_company_that_changes_what_a_region_changed_is_told() {
    let region = format!("{COUNTY}change:\n  freezing/seat-short-of-insulation: {{ outcome: revise }}\n");
    let house = "amendment: House\nchange:\n  freezing/seat-short-of-insulation: { outcome: advise }\n";
    says(
        &rules(&[house, &region]),
        "Note House changes Freezing 2 after North County (region, 2.yaml line 4) (1.yaml line 3)",
    );
}

#[test]
fn a_region_that_changes_the_base_is_not_noted() {
    let region = format!("{COUNTY}change:\n  freezing/seat-short-of-insulation: {{ outcome: revise }}\n");
    let ran = rules(&[&region]);
    says(&ran, "Changed Freezing 2 outcome revise, was advise: North County, 1.yaml line 4");
    assert!(!ran.out.contains("Note "), "{}", ran.out);
}

#[test]
fn a_company_that_drops_what_a_region_changed_is_told() {
    let region = format!("{COUNTY}change:\n  freezing/seat-short-of-insulation: {{ outcome: revise }}\n");
    let house = "amendment: House\ndrop:\n  freezing/seat-short-of-insulation: not ours\n";
    says(
        &rules(&[house, &region]),
        "Note House drops Freezing 2, which is by North County (region, 2.yaml line 4)",
    );
}

#[test]
fn the_code_still_governs_where_a_company_drops_or_lowers_it() {
    let drops = format!("amendment: House\ndrop:\n  {AT_FACE}: our detail covers it\n");
    says(
        &rules(&[&drops]),
        "House drops Freezing 3, which is based on the adopted code: the code still governs",
    );
    let lowers = format!("amendment: House\nchange:\n  {AT_FACE}: {{ outcome: advise }}\n");
    says(
        &rules(&[&lowers]),
        "House lowers Freezing 3 from revise to advise; it is based on the adopted code, and the code still governs",
    );
}

#[test]
fn a_region_may_change_the_code_it_adopts_and_that_is_told() {
    let lowers = format!("{COUNTY}change:\n  {AT_FACE}: {{ outcome: advise }}\n");
    let ran = rules(&[&lowers]);
    says(
        &ran,
        "North County lowers Freezing 3 from revise to advise; it is based on the adopted code, as the region has amended it",
    );
    assert!(!ran.out.contains("still governs"));
    let drops = format!("{COUNTY}drop:\n  {AT_FACE}: not adopted here\n");
    says(
        &rules(&[&drops]),
        "North County drops Freezing 3, which is based on the adopted code as the region has amended it",
    );
}

#[test]
fn an_amendment_written_in_a_job_speaks_for_no_region() {
    let job = format!(
        "climate: dallas-tx\nschedule: s.csv\nrules:\n  level: region\n  drop:\n    {AT_FACE}: not ours\n"
    );
    Folder::of(SCHEDULE).with("job.yaml", job).run("review --detail job.yaml").is_refused(&[
        "job.yaml, line 4, column 10: \"region\" cannot be the level of an amendment in a job; expected job, or an \
         amendment in a file of its own",
    ]);
}

const NO_BASIS: &str = "revise_on has no basis; expected at least one of adopted code, listing, instructions, \
                        company, calculation";

#[test]
fn an_amendment_that_leaves_nothing_to_revise_on() {
    rules(&["amendment: House\nrevise_on: []\n"])
        .is_refused(&[&format!("1.yaml, line 2, column 12: {NO_BASIS}")]);
}

#[test]
fn a_job_that_leaves_nothing_to_revise_on() {
    let job = "climate: dallas-tx\nschedule: s.csv\nrevise_on: []\n";
    Folder::of(SCHEDULE)
        .with("job.yaml", job)
        .run("review --detail job.yaml")
        .is_refused(&[&format!("job.yaml, line 3, column 12: {NO_BASIS}")]);
}

#[test]
fn an_amendment_with_the_name_of_a_set() {
    let ran = rules(&["amendment: Freezing\nsettings: { freezing/margin: 6 °F }\n"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.starts_with("1.yaml, line 1, column 12: \"Freezing\" is the name of a set of rules ("),
        "{}",
        ran.err
    );
}

#[test]
fn a_set_with_the_name_of_another() {
    let ran = rules(&["set: Freezing\nabout: Ours.\nrules: []\n"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.starts_with("1.yaml, line 1, column 6: \"Freezing\" is the name of another set of rules ("),
        "{}",
        ran.err
    );
}

#[test]
fn a_setting_is_suggested_without_its_set() {
    rules(&["amendment: House\nsettings: { margin: 6 °F }\n"]).is_refused(&[
        "1.yaml, line 2, column 13: there is no setting \"margin\"; did you mean \"freezing/margin\"?",
    ]);
}

#[test]
fn what_a_rule_checks_cannot_be_changed() {
    let text = format!("amendment: House\nchange:\n  {AT_FACE}: {{ needs: outlet.inside_stop }}\n");
    let ran = rules(&[&text]);
    ran.is_refused(&[
        "1.yaml, line 3, column 50: \"needs\" cannot be changed: a rule that checks something else is another rule; \
         expected the rule under `drop:` with a reason, and one of your own under `add:`",
    ]);
}

#[test]
fn every_part_that_is_changed_keeps_its_own_origin() {
    let region = format!("{COUNTY}change:\n  {AT_FACE}:\n    outcome: advise\n    title: No stop inside\n");
    let house = format!(
        "amendment: House\nchange:\n  {AT_FACE}:\n    remedy: Our detail.\n    once: yes\n    see: [A-501]\n    why: Ours.\n    says: No stop.\n"
    );
    let ran = listed("Freezing 3", &[&region, &house]);
    for wanted in [
        "Freezing 3: No stop inside",
        "Changed Freezing 3 outcome advise, was revise: North County, 1.yaml line 5",
        "Changed Freezing 3 title: North County, 1.yaml line 6",
        "Changed Freezing 3 remedy: House, 2.yaml line 4",
        "Changed Freezing 3 once yes, was no: House, 2.yaml line 5",
        "Reference A-501",
        "Why Ours.",
        "Says No stop.",
    ] {
        says(&ran, wanted);
    }
}

#[test]
fn a_rule_is_suggested_without_its_set() {
    for asked in ["closes-at-face-without-inside-stop", "closes-at-face-without-inside-stp"] {
        let ran = rules(&[&format!("amendment: House\ndrop:\n  {asked}: no\n")]);
        ran.is_refused(&[&format!(
            "1.yaml, line 3, column 3: there is no rule \"{asked}\"; did you mean \"{AT_FACE}\"?"
        )]);
    }
}

#[test]
fn a_rule_that_another_amendment_has_dropped_says_so() {
    let one = format!("amendment: One\ndrop:\n  {AT_FACE}: no\n");
    let two = format!("amendment: Two\nchange:\n  {AT_FACE}: {{ outcome: advise }}\n");
    rules(&[&one, &two]).is_refused(&[&format!(
        "2.yaml, line 3, column 3: \"{AT_FACE}\" was already dropped by One (1.yaml, line 3, column 3)"
    )]);
}

#[test]
fn an_amendment_that_changes_nothing_says_so() {
    says(&rules(&["amendment: House\n"]), "Note House changes nothing (1.yaml line 1)");
}

#[test]
fn two_amendments_of_one_name_are_told() {
    rules(&["amendment: House\n", "amendment: house\n"]).is_refused(&[
        "2.yaml, line 1, column 12: \"house\" is the name of another amendment (1.yaml, line 1, column 12); expected a \
         name of its own, so that reports distinguish the two",
    ]);
}

#[test]
fn a_file_given_twice_is_told() {
    let folder = Folder::new().with("a.yaml", "amendment: House\n");
    folder.run("rules --rules a.yaml --rules ./a.yaml").is_refused(&[
        "./a.yaml: is given twice as a rule file; expected each file once: in the job or on the command line",
    ]);
}

#[test]
fn a_level_that_there_is_not() {
    rules(&["amendment: House\nlevel: state\n"])
        .is_refused(&["1.yaml, line 2, column 8: \"state\" is not a level; expected region, company or job"]);
}

fn review(job: &str) -> Value {
    Folder::of(SCHEDULE).with("job.yaml", job).run("review job.yaml --format json").json()
}

#[test]
fn an_amendment_written_in_a_job_is_the_jobs() {
    let review =
        review("climate: dallas-tx\nschedule: s.csv\nrules:\n  settings: { freezing/margin: 9 °F }\n");
    assert_eq!(review["amendments"], serde_json::json!(["this job"]));
    let setting = &review["amended"]["settings"][0];
    assert_eq!((&setting["is"], &setting["by"]["level"]), (&"9 °F".into(), &"job".into()));
    assert_eq!(setting["by"]["at"]["line"], 4);
}

#[test]
fn a_file_that_a_job_names_comes_after_one_of_the_command_line() {
    let folder = Folder::of(SCHEDULE)
        .with("own.yaml", "amendment: Own\nsettings: { freezing/margin: 9 °F }\n")
        .with("house.yaml", "amendment: House\nsettings: { freezing/margin: 6 °F }\n")
        .with("job.yaml", "climate: dallas-tx\nschedule: s.csv\nrules: own.yaml\n");
    let review = folder.run("review job.yaml --rules house.yaml --format json").json();
    assert_eq!(review["amendments"], serde_json::json!(["House", "Own"]));
    assert_eq!(review["amended"]["amendments"][1]["level"], "job");
}

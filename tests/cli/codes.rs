//! The adopted code: which file a name selects, whose sections comments show, and what each code asks that others do not.

use crate::cli::common::{Folder, comment, outlet, unwrapped};
use coldsill::shipped;
use serde_json::Value;
use std::collections::BTreeSet;

const CODES: [&str; 5] = ["IRC", "IPC", "UPC", "NSPC", "NPC"];
/// A plain hose bibb with a stop inside; one frost-proof outlet to each kind of device; a yard hydrant 6 in below frost.
const SCHEDULE: &str = "Mark,Kind,Closes,Seat depth,Barrel,Wall,Space behind,Inside stop,Supply,Supply insulation,\
    Backflow device,Backflow standard,Self-draining,Bury depth,Serves\n\
    HB-1,Hose bibb,Face,,Brass,rim joist batt,basement,Yes,Copper,none,hose connection vacuum breaker,ASSE 1011,,,hose\n\
    WH-1,Wall hydrant,Inside,14 in,Stainless,rim joist batt,basement,,Copper,none,,ASSE 1019 type B,Yes,,hose\n\
    WH-2,Wall hydrant,Inside,14 in,Stainless,rim joist batt,basement,,Copper,none,hose connection vacuum breaker,,,,hose\n\
    YH-1,Yard hydrant,,,,,,,,,none,,,48 in,hose\n\
    IR-1,Wall hydrant,Inside,14 in,Stainless,rim joist batt,basement,,Copper,none,,ASSE 1019 type B,Yes,,irrigation\n";
const AT_FACE: &str = "freezing/closes-at-face-without-inside-stop";
const BURY: &str = "hydrants/valve-above-frost-line";

fn folder(code: &str) -> Folder {
    let job = format!("climate: duluth-mn\nschedule: s.csv\nauthority: {{ frost_depth: 42 in }}\n{code}");
    Folder::of(SCHEDULE).with("job.yaml", job)
}

fn review(code: &str) -> Value {
    folder(&format!("code: {code}\n")).run("review job.yaml --format json").json()
}

fn outcome<'r>(review: &'r Value, row: u64, rule: &str) -> &'r str {
    comment(outlet(review, row), rule)["outcome"].as_str().expect("an outcome")
}

/// The references of every comment of a review, with their rules.
fn references(review: &Value) -> Vec<(String, String)> {
    let outlets = review["outlets"].as_array().expect("outlets");
    let comments = outlets.iter().flat_map(|it| it["comments"].as_array().expect("comments"));
    let of_rule = |comment: &Value| {
        let rule = comment["rule"].as_str().expect("a rule").to_owned();
        let references = comment["see"].as_array().expect("references").clone();
        references.into_iter().map(move |it| (rule.clone(), it.as_str().expect("a text").to_owned()))
    };
    comments.flat_map(of_rule).collect()
}

#[test]
fn a_code_is_found_by_its_usual_names_and_not_in_doubt() {
    let codes = shipped::codes().expect("the shipped codes are right");
    let mut rows = csv::Reader::from_reader(include_bytes!("data/code-names.csv").as_slice());
    for row in rows.records().map(|row| row.expect("a row")) {
        let (stated, file) = (&row[0], &row[1]);
        let folder = Folder::of("Mark,Kind\nYH-1,Yard hydrant\n");
        let review = folder.run_with(&[
            "review",
            "s.csv",
            "--climate",
            "duluth-mn",
            "--code",
            stated,
            "--format",
            "json",
        ]);
        // A code in doubt is no code.
        if review.code == 2 {
            assert!(file.is_empty() && review.err.contains("expected one code"), "{stated}: {}", review.err);
            continue;
        }
        let review = review.json();
        assert_eq!(review["code"]["file"].as_str().unwrap_or_default(), file, "{stated}");
        assert!(file.is_empty() || codes.iter().any(|code| &*code.file == file));
    }
}

#[test]
fn the_cases_of_every_code_pass() {
    for code in CODES {
        let ran = Folder::new().run(&format!("rules try --code {code}"));
        assert_eq!(ran.code, 0, "{code}: {}", ran.out);
    }
}

#[test]
fn comments_show_sections_of_the_adopted_code_only() {
    let families: [(&str, &[&str]); 5] = [
        ("IRC", &["IRC"]),
        ("IPC", &["IPC", "IBC", "IECC"]),
        ("UPC", &["UPC"]),
        ("NSPC", &[]),
        ("NPC", &["NPC"]),
    ];
    for (code, own) in families {
        for (rule, see) in references(&review(code)) {
            let words: Vec<&str> = see.split(|c: char| !c.is_alphanumeric()).collect();
            for other in ["IRC", "IPC", "IBC", "IECC", "UPC", "NSPC", "NPC"] {
                assert!(own.contains(&other) || !words.contains(&other), "{code}, {rule}: {see}");
            }
        }
    }
}

#[test]
fn a_section_follows_the_edition() {
    let irrigation = |code: &str| {
        let all = references(&review(code)).into_iter();
        let own: BTreeSet<String> = all
            .filter(|(rule, _)| rule == "backflow/irrigation-without-own-device")
            .map(|(_, see)| see)
            .collect();
        own.into_iter().collect::<Vec<_>>()
    };
    assert_eq!(irrigation("IPC 2015"), ["IPC 608.16.5, lawn irrigation †"]);
    assert_eq!(irrigation("{ name: IPC, edition: 2021 }"), ["IPC 608.17.5, lawn irrigation †"]);
    assert_eq!(irrigation("IPC"), ["IPC 608.17.5, lawn irrigation †"]);
    assert_eq!(irrigation("NSPC"), ["Adopted code: lawn irrigation"]);
}

/// A year of no edition matches no sections in silence; a year within the words of an edition is found.
#[test]
fn an_edition_is_a_year_that_codes_have_editions_of() {
    for (edition, stands) in [("1821", "1821"), ("2099", "2099"), ("twenty", "twenty")] {
        folder(&format!("code: {{ name: IPC, edition: {edition} }}\n")).run("review job.yaml").is_refused(&[&format!(
            "job.yaml, line 4, column 29: \"{stands}\" has no year that a code has an edition of; expected a year from 1980 \
             to 2040, or no edition"
        )]);
    }
    let sees = |code: &str, see: &str| references(&review(code)).iter().any(|(_, it)| it == see);
    assert!(sees("IPC 2099", "Adopted code: lawn irrigation"));
    assert!(sees("{ name: IPC, edition: 1st printing of 2015 }", "IPC 608.16.5, lawn irrigation †"));
}

#[test]
fn each_code_asks_what_it_alone_has() {
    let [irc, ipc, upc, npc] = ["IRC", "IPC", "UPC", "NPC"].map(review);
    // IRC P2903.10 takes a stop inside for a plain hose bibb; UPC 603.5.7 takes none.
    assert_eq!(outcome(&irc, 2, AT_FACE), "no comment");
    assert_eq!(outcome(&upc, 2, "UPC/no-self-draining-frost-proof-outlet"), "revise");
    assert_eq!(outcome(&upc, 3, "UPC/no-self-draining-frost-proof-outlet"), "no comment");
    assert_eq!(outcome(&upc, 4, "UPC/no-self-draining-frost-proof-outlet"), "revise");
    // NPC 2.6.1.4 takes either a frost-proof hydrant or a stop-and-waste cock.
    assert_eq!(outcome(&npc, 2, "NPC/no-frost-proof-hydrant-or-stop"), "no comment");
    assert_eq!(outcome(&npc, 3, "NPC/no-frost-proof-hydrant-or-stop"), "no comment");
    // IPC 606.2: a shutoff for each sillcock; a stop inside is one.
    assert_eq!(outcome(&ipc, 2, "IPC/no-shutoff-for-sillcock"), "no comment");
    assert_eq!(outcome(&ipc, 3, "IPC/no-shutoff-for-sillcock"), "clarify");
    // 48 in at 42 in of frost: 6 in below it is enough by the IPC and the IRC, not by the UPC, which asks for 12 in.
    assert_eq!(outcome(&ipc, 5, BURY), "no comment");
    assert_eq!(outcome(&irc, 5, BURY), "no comment");
    assert_eq!(outcome(&upc, 5, BURY), "revise");
}

#[test]
fn the_page_says_where_the_sections_come_from() {
    let page = |code: &str, options: &[&str]| {
        unwrapped(&folder(code).run_with(&[&["review", "job.yaml", "--detail"], options].concat()).out)
    };
    let upc = "UPC 2021; sections as in rules/codes/upc.yaml";
    assert!(page("code: { name: UPC, edition: 2021 }\n", &[]).contains(upc));
    assert!(page("code: IRC 2015\n", &["--code", "UPC 2021"]).contains(upc));
    let no_sections =
        "NSPC 2021; its sections are not known here. General rules: sections are not matched to it.";
    assert!(page("code: NSPC 2021\n", &[]).contains(no_sections));
    let none =
        "not stated; the locally adopted code governs. General rules: sections are not matched to a code.";
    assert!(page("", &[]).contains(none));
    let unknown =
        "Illinois Plumbing Code; this code has no file here. General rules: sections are not matched to it.";
    assert!(page("code: Illinois Plumbing Code\n", &[]).contains(unknown));
}

#[test]
fn a_code_is_no_amendment_and_still_governs_one() {
    let company =
        "amendment: house\nchange: { UPC/no-self-draining-frost-proof-outlet: { outcome: advise } }\n";
    let folder = folder("code: UPC\nrules: house.yaml\n").with("house.yaml", company);
    let review = folder.run("review job.yaml --format json").json();
    assert_eq!(review["amendments"], serde_json::json!(["house"]));
    let notes = review["amended"]["notes"].to_string();
    assert!(notes.contains("lowers UPC 1 from revise to advise; it is based on the adopted code"), "{notes}");
    assert_eq!(review["amended"]["rules"].as_array().expect("changes").len(), 1);
    assert_eq!(review["amended"]["settings"], serde_json::json!([]));
}

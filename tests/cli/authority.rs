//! What an amendment states of the authority and the code, rules named by number, and tables by county.

use crate::cli::common::{Folder, comment, outlet, unwrapped};
use serde_json::Value;

const YARD: &str = "Mark,Kind,Bury depth,Backflow standard\nYH-1,Yard hydrant,48 in,ASSE 1057 type 2\n";
const COUNTY: &str =
    "amendment: North County\nlevel: region\nauthority: { frost_depth: 42 in, winter_temperature: -5 °F }\n";

fn review(job: &str) -> Value {
    Folder::of(YARD)
        .with("county.yaml", COUNTY)
        .with("job.yaml", job)
        .run("review job.yaml --format json")
        .json()
}

#[test]
fn an_amendment_may_state_the_authoritys_figures() {
    let review = review("climate: kansas-city-mo\nschedule: s.csv\nrules: county.yaml\n");
    let frost = &outlet(&review, 2)["facts"]["site.frost_depth"];
    assert_eq!(frost["text"], "42 in");
    assert_eq!(review["amended"]["stated"][0]["figure"], "frost depth");
    assert_eq!(review["amended"]["stated"][0]["by"]["name"], "North County");
}

#[test]
fn the_jobs_own_figure_comes_before_that_of_an_amendment() {
    let job =
        "climate: kansas-city-mo\nschedule: s.csv\nrules: county.yaml\nauthority: { frost_depth: 36 in }\n";
    let review = review(job);
    let facts = &outlet(&review, 2)["facts"];
    assert_eq!(facts["site.frost_depth"]["text"], "36 in");
    assert_eq!(facts["site.winter_temperature"]["text"], "-5 °F");
}

#[test]
fn an_amendment_may_state_the_code() {
    let ran =
        Folder::new().with("city.yaml", "amendment: City\ncode: UPC 2021\n").run("rules --rules city.yaml");
    let out = unwrapped(&ran.out);
    assert!(out.contains("Authority code UPC 2021: City, city.yaml line 2"), "{out}");
    assert!(out.contains("rules/codes/upc.yaml"), "{out}");
}

#[test]
fn a_figure_that_cannot_be_read_is_told_where_it_stands() {
    Folder::new()
        .with("city.yaml", "amendment: City\nauthority: { frost_depth: deep }\n")
        .run("rules --rules city.yaml")
        .is_refused(&[
            "city.yaml, line 2, column 27: \"deep\" does not start with a number; expected a length such as 8 in, 1 1/2\" or 203 mm",
        ]);
}

#[test]
fn a_rule_may_be_named_by_its_number() {
    let text = "amendment: House\nchange: { Freezing 3: { outcome: advise } }\ndrop: { Draining 2: ours }\n";
    let ran = Folder::new().with("house.yaml", text).run("rules --rules house.yaml");
    let out = unwrapped(&ran.out);
    assert!(out.contains("Freezing 3 outcome advise, was revise: House, house.yaml line 2"), "{out}");
    assert!(out.contains("Draining 2 by House: ours"), "{out}");
}

#[test]
fn a_table_that_no_rule_reads_is_told() {
    let text = "amendment: House\ntables:\n  lengths:\n    about: least length\n    by: [outlet.barrel]\n    rows: [{ other: 8 in }]\n";
    let ran = Folder::new().with("house.yaml", text).run("rules --rules house.yaml");
    assert!(unwrapped(&ran.out).contains("no rule reads house/lengths of House"), "{}", ran.out);
}

#[test]
fn a_table_may_go_by_county_state_zone_and_elevation() {
    let amendment = "amendment: State\nlevel: region\ntables:\n  depth:\n    about: least bury depth\n    by: [site.elevation, site.state, site.county]\n    rows:\n      - { up to: 3000 ft, site.state: MO, Clay: 50 in, other: 40 in }\n      - { up to: 3000 ft, site.state: other, other: 30 in }\n\
        add:\n  - id: bury-by-county\n    title: Not buried as deep as the county wants\n    basis: adopted code\n    why: Invented.\n    applies: stated(outlet.bury_depth)\n    needs: outlet.bury_depth >= state/depth\n    outcome: revise\n    says: \"The county wants {state/depth}.\"\n    cases:\n      - { name: deep, given: { outlet.bury_depth: 60 in, site.elevation: 900 ft, site.state: MO, site.county: Clay }, gives: no comment }\n      - { name: open, given: { outlet.bury_depth: 45 in, site.elevation: 900 ft, site.state: MO }, gives: clarify }\n      - { name: shallow, given: { outlet.bury_depth: 45 in, site.elevation: 900 ft, site.state: MO, site.county: Clay }, gives: revise }\n";
    let text = |job: &str| {
        let review = Folder::of(YARD)
            .with("state.yaml", amendment)
            .with("job.yaml", job)
            .run("review job.yaml --format json")
            .json();
        comment(outlet(&review, 2), "State/bury-by-county")["outcome"].clone()
    };
    let job = "climate: kansas-city-mo\nschedule: s.csv\nrules: state.yaml\n";
    assert_eq!(text(&format!("{job}county: Clay\n")), "revise");
    assert_eq!(text(&format!("{job}county: Platte\n")), "no comment");
    assert_eq!(text(job), "clarify");
}

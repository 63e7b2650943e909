//! Freezing in time through reviews: who is told, who is not, and what is too close to call.

use crate::review::shared::{comment, review, world};
use coldsill::expr::{Names, Value};
use coldsill::facts::Facts;
use coldsill::input::Memory;
use coldsill::review::{self, Review};
use coldsill::ruleset::Outcome;

const SHUT: &str = "freezing/bore-blocked-in-cold-spell";
const COVER: &str = "freezing/cover-alone-not-enough";
const HOSE: &str = "freezing/hose-left-on-freezes-barrel";
const HEADINGS: &str = "Mark,Kind,Closes,Wall,Nominal length,Barrel,Supply,Supply insulation,Space behind";

fn one(headings: &str, cells: &str, climate: &str) -> Review {
    review(&format!("{HEADINGS},{headings}\nHB-1,{cells}\n"), climate)
}

const BIBB: &str = "hose bibb,face,2x4,,brass,PEX,none,heated room";

#[test]
fn face_closing_bibb_is_reported_unless_a_stop_drains_it() {
    let outcome = |stop: &str| {
        let review = one("Inside stop", &format!("{BIBB},{stop}"), "dallas-tx");
        comment(&review.outlets[0], SHUT).outcome
    };
    // Another rule asks for the stop, and for the revision.
    assert_eq!(outcome("no"), Outcome::Advise);
    assert_eq!(outcome("yes"), Outcome::NoComment);
    assert_eq!(outcome(""), Outcome::Advise);
}

#[test]
fn a_bibb_where_it_never_freezes_is_not_told() {
    let review = one("Inside stop", &format!("{BIBB},no"), "honolulu-hi");
    assert_eq!(comment(&review.outlets[0], SHUT).outcome, Outcome::DoesNotApply);
    assert_eq!(review.solves.courses, 0);
}

#[test]
fn what_no_outdoor_low_can_freeze_is_not_followed() {
    // Face at 68 °F behind and a stainless barrel 13 in deep: only the hose is looked at.
    let clear = "sillcock,inside,2x6,14 in,stainless,copper,none,heated room";
    let without = Memory::new()
        .with("s.csv", format!("{HEADINGS}\nHB-1,{clear}\n"))
        .with("quiet.yaml", "amendment: Quiet\nabout: Without hose.\ndrop:\n  freezing/hose-left-on-freezes-barrel: not here\n  bursting/ice-shuts-water-in: not here\n  backflow/device-holds-water-in-barrel: not here\n")
        .with("job.yaml", "schedule: s.csv\nclimate: kansas-city-mo\nrules: [quiet.yaml]\n");
    let review = review::run(&world(&without, "job.yaml", None));
    assert_eq!(review.solves.courses, 0);
}

#[test]
fn a_cover_gains_time_but_no_winter() {
    let review = one("Cover,Inside stop", &format!("{BIBB},yes,no"), "kansas-city-mo");
    let outlet = &review.outlets[0];
    assert_eq!(comment(outlet, COVER).outcome, Outcome::Revise);
    assert_eq!(comment(outlet, SHUT).outcome, Outcome::DoesNotApply, "one rule speaks of it, not two");
    let said = format!("{:?}", comment(outlet, COVER).says);
    assert!(said.contains("already at the mean of the coldest month") && !said.contains(" 0 h"), "{said}");
}

#[test]
fn hours_have_a_band_and_a_cover_makes_them_later() {
    let house = "amendment: house\nabout: Shows the hours.\nadd:\n  - id: hours\n    title: Hours\n    \
                 basis: company\n    why: To see them.\n    needs: not ice.blocked\n    outcome: advise\n    says: \
                 \"{ice.first_after} {ice.blocked_after} {ice.uncovered_blocked_after}\"\n    cases:\n      - { \
                 name: open, given: { ice.blocked: no }, gives: no comment }\n      - { name: shut, given: { \
                 ice.blocked: yes }, gives: advise }\n";
    let files = Memory::new()
        .with("s.csv", format!("{HEADINGS},Cover\nHB-1,{BIBB},yes\n"))
        .with("house.yaml", house)
        .with("job.yaml", "schedule: s.csv\nclimate: dallas-tx\nrules: [house.yaml]\n");
    let review = review::run(&world(&files, "job.yaml", None));
    let values = &comment(&review.outlets[0], "house/hours").values;
    let hours = |fact: &str| match values.iter().find(|it| &*it.name == fact).map(|it| &it.value) {
        Some(Ok(Value::Quantity(it))) => *it,
        other => panic!("{fact}: {other:?}"),
    };
    let [first, with, without] =
        ["ice.first_after", "ice.blocked_after", "ice.uncovered_blocked_after"].map(hours);
    assert!(with.is >= without.is, "{with:?} {without:?}");
    assert!(first.is <= with.is && first.low <= with.low, "{first:?} {with:?}");
    // Colder outdoors freezes sooner, milder later.
    for it in [with, without] {
        assert!(it.low < it.is && it.is < it.high, "{it:?}");
    }
}

#[test]
fn a_hose_left_on_is_one_note_for_the_job() {
    let row = "sillcock,inside,2x6,10 in,brass,copper,none,heated room";
    let review = review(
        &format!("{HEADINGS}\nHB-1,{row}\nHB-2,{}\n", row.replace("brass", "stainless")),
        "kansas-city-mo",
    );
    for outlet in &review.outlets {
        let note = comment(outlet, HOSE);
        assert_eq!(note.outcome, Outcome::Advise);
        assert!(note.rule.once);
    }
    let said: Vec<_> = review.outlets.iter().map(|it| format!("{:?}", comment(it, HOSE).says)).collect();
    assert_eq!(said[0], said[1], "what is said alike is printed once");
}

#[test]
fn how_long_heat_may_be_out_is_a_setting() {
    let outcome = |hours: &str| {
        let row = "sillcock,inside,2x6,12 in,brass,copper,none,heated room";
        let files = Memory::new()
            .with("s.csv", format!("{HEADINGS}\nHB-1,{row}\n"))
            .with(
                "ours.yaml",
                format!("amendment: Ours\nabout: Our own.\nsettings: {{ freezing/power_cut: {hours} }}\n"),
            )
            .with("job.yaml", "schedule: s.csv\nclimate: kansas-city-mo\nrules: [ours.yaml]\n");
        let world = world(&files, "job.yaml", None);
        let (slot, _) = Facts.find("ice.power_cut_blocked").expect("a fact");
        world.outlet(&world.job().schedule.rows[0]).fact(slot).value
    };
    // A room that cools with 24 h is still warm after one hour, and near outdoors after ten days.
    assert_eq!(outcome("1 h"), Ok(Value::YesNo(false)));
    assert_eq!(outcome("240 h"), Ok(Value::YesNo(true)));
}

//! Reviews of schedules held in memory, and the library's own promises about sharing.

use coldsill::facts::{Presets, Sources, World, open};
use coldsill::input::Memory;
use coldsill::report;
use coldsill::review::{self, Comment, Extent, OutletReview, Review};
use coldsill::shipped;
use coldsill::units::System;

/// A world of files held in memory.
pub fn world(files: &Memory, source: &str, climate: Option<&str>) -> World {
    let climates = shipped::climates().expect("the shipped climates are right");
    let base_rules = shipped::rules();
    let options = Sources {
        files,
        source,
        sheet: None,
        climate,
        design_low: None,
        answers: &[],
        rules: &[],
        base_rules: &base_rules,
        presets: Presets {
            all: &shipped::presets(),
            codes: &shipped::codes().expect("the shipped codes are right"),
            ..Presets::default()
        },
        climates,
    };
    open(&options).unwrap_or_else(|problems| {
        panic!("{}", problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
    })
}

/// A review of a schedule's text.
pub fn review(schedule: &str, climate: &str) -> Review {
    let files = Memory::new().with("schedule.csv", schedule);
    review::run(&world(&files, "schedule.csv", Some(climate)))
}

/// The comment of a rule on an outlet.
pub fn comment<'r>(outlet: &'r OutletReview, rule: &str) -> &'r Comment {
    let found = outlet.findings.comments.iter().find(|it| &*it.rule.id == rule);
    found.unwrap_or_else(|| panic!("no rule {rule}"))
}

pub const SEAT: &str = "freezing/seat-reaches-freezing-at-design-low";

#[test]
fn a_review_for_the_summary_gives_the_same_summary() {
    let schedule = "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation\n\
         A,1,sillcock,inside,8 in,brass,rim-joist-batt,PEX,none\n\
         B,2,sillcock,inside,12 in,brass,rim-joist-batt,PEX,1/2 in\n\
         C,1,sillcock,face,,brass,2x6,copper,none\n\
         D,1,sillcock,inside,10 in,,2x6,copper,none\n";
    let files = Memory::new().with("schedule.csv", schedule);
    let world = world(&files, "schedule.csv", Some("minneapolis-mn"));
    let [whole, short] = [Extent::Whole, Extent::Summary { groups: report::MOST_TYPES }]
        .map(|extent| report::summary(&review::run_with(&world, extent, &|_, _| ()), System::Us));
    assert_eq!(whole, short);
}

#[test]
fn outlets_alike_share_their_findings_and_a_section_is_solved_once() {
    let review = review(
        "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation,Notes\n\
         A,1,sillcock,inside,14 in,stainless,2x6,copper,none,first\n\
         B,2,sillcock,inside,14 in,stainless,2x6,copper,none,second\n\
         C,3,sillcock,inside,12 in,stainless,2x6,copper,none,third\n",
        "kansas-city-mo",
    );
    let [a, b, c] = review.outlets.as_slice() else { panic!("three outlets") };
    assert!(std::sync::Arc::ptr_eq(&a.findings, &b.findings));
    assert!(!std::sync::Arc::ptr_eq(&a.findings, &c.findings));
    // Each as it stands, and with its barrel full as a hose left on keeps it.
    assert_eq!(review.solves.sections, 4);
}

#[test]
fn the_words_of_a_kind_tell_outlets_apart_although_the_kind_is_the_same() {
    let review = review("Mark,Kind,Wall\nA,Sillcock,2x6\nB,Frostproof sillcock,2x6\n", "kansas-city-mo");
    let closes = |outlet: &OutletReview| {
        let fact = outlet.findings.facts.iter().find(|it| &*it.name == "outlet.closes");
        fact.map(|it| format!("{:?}", it.value)).unwrap_or_default()
    };
    assert!(closes(&review.outlets[0]).contains("face"));
    assert!(closes(&review.outlets[1]).contains("inside"));
}

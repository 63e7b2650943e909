//! Two standards and two reviews compared, each read back from its JSON.

use crate::review::shared::{review as reviewed, world};
use crate::standard::common::{BUILDER, builder, computed};
use coldsill::input::Memory;
use coldsill::report;
use coldsill::review::{self, Previous, Review};
use coldsill::standard::{self, PreviousStandard, Standard};
use coldsill::units::System;

fn standard_of(found: &Standard, system: System) -> PreviousStandard {
    let mut bytes = Vec::new();
    report::standard_json(found, system, &mut bytes).expect("memory can be written to");
    assert!(standard::is_standard(&bytes));
    standard::read_previous_standard("standard.json", &bytes).unwrap_or_else(|problem| panic!("{problem}"))
}

fn review_of(found: &Review, system: System) -> Previous {
    let mut bytes = Vec::new();
    report::json(found, system, &mut bytes).expect("memory can be written to");
    assert!(!standard::is_standard(&bytes));
    review::read_previous("review.json", &bytes).unwrap_or_else(|problem| panic!("{problem}"))
}

#[test]
fn a_standard_is_the_same_as_itself_in_other_units() {
    let found =
        standard::compare_standards(&standard_of(&BUILDER, System::Us), &standard_of(&BUILDER, System::Si));
    assert!(found.cells.is_empty(), "{:?}", found.cells);
    assert_eq!(found.unchanged, 48);
}

#[test]
fn a_colder_design_low_changes_lengths_with_the_reason() {
    let path = format!("{}/examples/builder/standard.yaml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the example is there");
    let colder = format!("{}design_low: 50-year low\n", text.replace("2026-11-02", "2027-03-01"));
    let colder = computed(&builder().with("colder.yaml", colder), "colder.yaml");
    let found =
        standard::compare_standards(&standard_of(&BUILDER, System::Us), &standard_of(&colder, System::Us));
    let differing =
        BUILDER.all().zip(colder.all()).filter(|((.., old), (.., new))| old.order != new.order).count();
    assert!(differing > 0);
    assert_eq!((found.cells.len(), found.unchanged), (differing, 48 - differing));
    assert!(found.inputs.iter().any(|input| &*input.what == "Date"), "{:?}", found.inputs);
    for cell in &found.cells {
        assert!(cell.why.iter().any(|why| &*why.what == "design low"), "{cell:?}");
    }
}

const SCHEDULE: &str = "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation\n\
     A,1,sillcock,inside,8 in,brass,rim-joist-batt,PEX,none\n\
     B,1,sillcock,inside,8 in,brass,2x6-siding,copper,none\n\
     C,1,sillcock,inside,12 in,stainless,2x6-siding,copper,none\n";

#[test]
fn reviews_alike_differ_in_nothing() {
    let [us, metric] =
        [System::Us, System::Si].map(|system| review_of(&reviewed(SCHEDULE, "chicago-il"), system));
    for (old, new) in [(&us, &us), (&us, &metric)] {
        let found = review::compare(old, new);
        assert!(found.is_empty(), "{found:?}");
        assert_eq!(found.unchanged, 3);
    }
}

#[test]
fn a_revised_schedule_shows_new_gone_and_changed_rows() {
    let revised =
        SCHEDULE.replace("A,1,sillcock,inside,8 in", "A,1,sillcock,inside,14 in").replace("\nC,", "\nD,");
    let [old, new] = [SCHEDULE, &revised].map(|text| review_of(&reviewed(text, "chicago-il"), System::Us));
    let found = review::compare(&old, &new);
    assert_eq!((found.inputs.len(), found.unchanged), (0, 1), "{:?}", found.inputs);
    let of = |mark: &str| {
        let found = found.outlets.iter().find(|(marks, _)| marks.iter().any(|own| **own == *mark));
        &found.unwrap_or_else(|| panic!("{mark} does not differ")).1
    };
    assert!(of("D").outcome[0].is_none() && of("D").outcome[1].is_some());
    assert!(of("C").outcome[0].is_some() && of("C").outcome[1].is_none());
    let length =
        of("A").facts.iter().find(|fact| &*fact.what == "outlet.nominal_length").expect("it changed");
    assert_eq!((length.was.as_deref(), length.is.as_deref()), (Some("8 in"), Some("14 in")));
    assert!(!of("A").comments.is_empty());
}

/// A seat 1 in deeper still freezes in Minneapolis, at another temperature.
#[test]
fn a_comment_to_revise_with_other_figures_is_a_change() {
    let [old, new] = ["4 in", "5 in"].map(|length| {
        let schedule = format!(
            "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation\n\
             A,1,wall hydrant,inside,{length},brass,2x6-siding,heated room,copper,none\n"
        );
        review_of(&reviewed(&schedule, "minneapolis-mn"), System::Us)
    });
    let found = review::compare(&old, &new);
    let comments = &found.outlets[0].1.comments;
    let freezes = comments.iter().find(|it| &*it.what == "Freezing 1").expect("it is listed");
    assert_eq!(
        (freezes.was.as_deref(), freezes.is.as_deref()),
        (Some("revise"), Some("revise, other figures"))
    );
}

/// A 4 in frost-proof sillcock freezes in Duluth; through a wall that nobody names it is a question.
#[test]
fn a_comment_of_another_outcome_is_told_with_both() {
    let [old, new] = ["2x6-siding", ""].map(|wall| {
        let schedule = format!(
            "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation\n\
             A,1,sillcock,inside,4 in,copper,{wall},heated room,copper,none\n"
        );
        review_of(&reviewed(&schedule, "duluth-mn"), System::Us)
    });
    let found = review::compare(&old, &new);
    let comments = &found.outlets[0].1.comments;
    let seat = comments.iter().find(|it| &*it.what == "Freezing 1").expect("it is listed");
    assert_eq!((seat.was.as_deref(), seat.is.as_deref()), (Some("revise"), Some("clarify")));
}

#[test]
fn amendments_of_one_review_alone_are_an_input_that_differs() {
    const AMENDMENT: &str = "amendment: North County\nlevel: region\nabout: Its own margin.\nsettings: { freezing/margin: 6 °F }\n";
    let [old, new] = ["", "rules: [amendment.yaml]\n"].map(|rules| {
        let files = Memory::new()
            .with("job.yaml", format!("climate: duluth-mn\nschedule: schedule.csv\n{rules}"))
            .with("schedule.csv", SCHEDULE)
            .with("amendment.yaml", AMENDMENT);
        review_of(&review::run(&world(&files, "job.yaml", None)), System::Us)
    });
    let found = review::compare(&old, &new);
    let changed = found.inputs.iter().find(|it| &*it.what == "Amendments").expect("they differ");
    assert_eq!((changed.was.as_deref(), changed.is.as_deref()), (None, Some("North County")));
    assert!(review::compare(&new, &new).is_empty());
}

#[test]
fn another_climate_is_an_input_that_differs() {
    let [old, new] =
        ["chicago-il", "duluth-mn"].map(|place| review_of(&reviewed(SCHEDULE, place), System::Us));
    let found = review::compare(&old, &new);
    for what in ["Climate", "Design low"] {
        assert!(found.inputs.iter().any(|input| &*input.what == what), "{what}: {:?}", found.inputs);
    }
    // The schedule is the same, so no fact of an outlet differs but those of its place.
    assert!(
        found
            .outlets
            .iter()
            .all(|(_, outlet)| outlet.facts.iter().all(|fact| !fact.what.starts_with("outlet.")))
    );
}

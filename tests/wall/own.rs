//! A job's own walls: what stands under the flange, framing, and a name that a built-in wall has as well.

use coldsill::facts::{Origin, Sources, World, open};
use coldsill::input::Memory;
use coldsill::{job, review, shipped};

const LAYERS: &str = "layers: [ 5/16 in fiber cement, 7/16 in osb, R-19 batt in 2x6, 1/2 in gypsum board ]";

fn world(job: &str, schedule: &str) -> World {
    let files = Memory::new().with("job.yaml", job).with("s.csv", schedule);
    let climates = shipped::climates().expect("the shipped climates are right");
    let base_rules = shipped::rules();
    let sources = Sources {
        files: &files,
        source: "job.yaml",
        climate: None,
        rules: &[],
        presets: Default::default(),
        design_low: None,
        answers: &[],
        sheet: None,
        base_rules: &base_rules,
        climates,
    };
    open(&sources).unwrap_or_else(|problems| panic!("{}", problems[0]))
}

fn job(walls: &str) -> String {
    format!("climate: minneapolis-mn\nschedule: s.csv\nwalls:\n{walls}")
}

fn refused(walls: &str) -> Vec<String> {
    let files = Memory::new().with("job.yaml", job(walls));
    let problems = job::walls(&files, "job.yaml").expect_err("it is refused");
    problems.iter().map(ToString::to_string).collect()
}

const OUTLET: &str = "Mark,Kind,Closes,Seat depth,Barrel,Wall,Supply,Supply insulation\n\
                      HB-1,Frostproof sillcock,inside,11 in,brass,ours,copper,none\n";

/// A schedule that says `W 9` may mean either.
#[test]
fn two_walls_whose_names_differ_by_a_hyphen_are_refused() {
    let told = refused(&format!("  W9: {{ {LAYERS} }}\n  W-9: {{ {LAYERS} }}\n"));
    assert_eq!(
        told,
        ["job.yaml, line 5, column 3: \"W-9\" is a second wall of that name; expected a name for each wall"]
    );
}

#[test]
fn what_stands_under_the_flange_of_a_wall_comes_off_the_depth_of_its_seats() {
    let text = job(&format!("  ours: {{ under the flange: 1-1/2 in block, {LAYERS} }}\n"));
    let review = review::run(&world(&text, OUTLET));
    let facts = &review.outlets[0].findings.facts;
    let block = facts.iter().find(|it| &*it.name == "outlet.block_thickness").expect("it is read");
    assert!(
        matches!(&block.origin, Origin::Job(_, text) if &**text == "1-1/2 in block"),
        "{:?}",
        block.origin
    );
    // 11 in less 1 1/2 in.
    let depth = facts.iter().find(|it| &*it.name == "detail.seat_from_wall_face").expect("it is read");
    let coldsill::expr::Value::Quantity(depth) = depth.value.clone().expect("it is known") else {
        panic!("a length")
    };
    assert!((depth.is - 9.5 * 0.0254).abs() < 1e-9, "{}", depth.is);
}

#[test]
fn a_row_that_states_its_block_is_not_overridden_by_the_wall() {
    let text = job(&format!("  ours: {{ under the flange: 1-1/2 in block, {LAYERS} }}\n"));
    let schedule =
        OUTLET.replace("insulation\n", "insulation,Under the flange\n").replace("none\n", "none,none\n");
    let review = review::run(&world(&text, &schedule));
    let facts = &review.outlets[0].findings.facts;
    let block = facts.iter().find(|it| &*it.name == "outlet.block_thickness").expect("it is read");
    assert!(matches!(&block.origin, Origin::Stated(..)), "{:?}", block.origin);
}

#[test]
fn a_wall_that_takes_a_built_in_walls_name_is_told() {
    let text = job(&format!("  2x6: {{ {LAYERS} }}\n"));
    let review = review::run(&world(&text, &OUTLET.replace("ours", "2x6")));
    let told: Vec<String> =
        review.unused.iter().map(|it| format!("{}: {} {}", it.location, it.text, it.why)).collect();
    assert_eq!(
        told,
        [
            "job.yaml, line 4, column 3: 2x6 the built-in wall of that name is not used: the job describes its own"
        ]
    );
    let text = job(&format!("  ours: {{ {LAYERS} }}\n"));
    assert!(review::run(&world(&text, OUTLET)).unused.is_empty());
}

#[test]
fn framing_and_a_block_that_cannot_be_read_are_located_problems() {
    let told = refused(&format!("  ours: {{ framing: 23 %, {LAYERS} }}\n"));
    assert!(told.len() == 1 && told[0].contains("line 4") && told[0].contains("between studs"), "{told:?}");
    let thickness = "is not a thickness under the flange";
    for (block, wanted) in [
        ("thick block", thickness),
        ("40 in block", "is out of range; expected 0 to 12 in"),
        ("3/4 block", thickness),
    ] {
        let told = refused(&format!("  ours: {{ under the flange: {block}, {LAYERS} }}\n"));
        let located = format!("job.yaml, line 4, column 29: \"{block}\" {wanted}");
        assert!(told.len() == 1 && told[0].starts_with(&located), "{told:?}");
    }
}

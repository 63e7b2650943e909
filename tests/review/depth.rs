//! The least seat depth against a scan of every millimeter, and the listed lengths against reviews.

use crate::review::shared::world;
use coldsill::expr::{Value, Values};
use coldsill::facts::{World, edit, slot_named};
use coldsill::input::Memory;
use coldsill::review::{self, Comment, Depth, DepthRow};
use coldsill::ruleset::Outcome;
use coldsill::units::{Dim, Quantity};
use std::fmt::Write as _;

/// 32 °F, K.
const FREEZING: f64 = 273.15;

/// Numbers in order by a linear congruence (Numerical Recipes), so that every run has the same walls.
struct Random(u32);

impl Random {
    fn below(&mut self, most: u32) -> u32 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 16) % most
    }

    fn one_of<'a>(&mut self, words: &[&'a str]) -> &'a str {
        words[self.below(u32::try_from(words.len()).expect("few words")) as usize]
    }
}

/// A wall with an outlet and its climate: a job in which both are described.
struct Site {
    job: String,
    barrel: &'static str,
    supply: &'static str,
    space: &'static str,
}

impl Site {
    fn random(random: &mut Random) -> Self {
        let mut job = String::new();
        let low = 25 - i64::from(random.below(55));
        let _ = writeln!(job, "climate: {{ name: Somewhere, design_low: {low} °F }}");
        let _ = writeln!(job, "schedule: schedule.csv\nwalls:\n  w:\n    layers:");
        let layer = |name: &str, sixteenths: u32| {
            format!("      - {{ material: {name}, thickness: {sixteenths}/16 in }}\n")
        };
        job.push_str(&layer(
            random.one_of(&["wood-siding", "face-brick", "fiber-cement"]),
            6 + random.below(50),
        ));
        job.push_str(&layer(random.one_of(&["osb", "plywood"]), 7 + random.below(5)));
        job.push_str(&layer("fiberglass-batt", 24 + random.below(72)));
        job.push_str(&layer("gypsum-board", 8 + random.below(3)));
        Self {
            job,
            barrel: random.one_of(&["copper", "brass", "bronze", "stainless"]),
            supply: random.one_of(&["copper", "PEX", "CPVC"]),
            space: random.one_of(&["heated room", "basement"]),
        }
    }

    fn facts(&self) -> [(&'static str, &'static str); 10] {
        [
            ("outlet.kind", "wall hydrant"),
            ("outlet.closes", "inside"),
            ("outlet.wall", "w"),
            ("outlet.barrel", self.barrel),
            ("outlet.supply", self.supply),
            ("outlet.supply_insulation", "none"),
            ("outlet.space_behind", self.space),
            ("outlet.inside_stop", "no"),
            ("outlet.backflow_device", "integral vacuum breaker"),
            ("outlet.backflow_standard", "ASSE 1019 type A"),
        ]
    }

    fn world(&self, schedule: &str) -> World {
        let files = Memory::new().with("job.yaml", self.job.clone()).with("schedule.csv", schedule);
        world(&files, "job.yaml", None)
    }

    fn depth(&self, world: &World) -> Depth {
        let at = coldsill::diag::Location::whole("test");
        let edits = self.facts().map(|(fact, text)| edit(fact, text, &at).expect("a value of the fact"));
        review::depth(world, &edits)
    }

    /// The first millimeter from the face at which the cold end of the seat is above freezing and the seat is past the
    /// insulation, as the code's exception has it: both by hand, one section for each millimeter.
    fn scanned(&self, world: &World) -> Option<u32> {
        let at = coldsill::diag::Location::whole("test");
        let slot = |name: &str| slot_named(name).expect("a fact");
        (0..=609).find(|step| {
            let given = self.facts().map(|(fact, text)| edit(fact, text, &at).expect("a value"));
            let mut given: Vec<_> =
                given.into_iter().filter_map(|(slot, value)| Some((slot, value?))).collect();
            let depth = Quantity::of(f64::from(*step) * 0.001, Dim::LENGTH);
            given.push((slot("outlet.seat_depth"), Value::Quantity(depth)));
            let outlet = world.outlet_of(&given);
            let low = |name: &str| match outlet.get(slot(name)) {
                Ok(Value::Quantity(quantity)) => quantity.low,
                _ => f64::NEG_INFINITY,
            };
            low("heat.seat_temperature") >= FREEZING
                && low("detail.seat_from_wall_face") >= low("wall.inside_face_of_insulation")
        })
    }
}

/// Whether a rule that may require a revision has something to say.
fn is_enough(comments: &[Comment], by_depth: &[&str]) -> bool {
    !comments
        .iter()
        .any(|comment| by_depth.contains(&&*comment.rule.number) && comment.outcome < Outcome::NoComment)
}

fn check(count: usize) {
    let mut random = Random(7);
    let mut with_depth = 0;
    for number in 0..count {
        let site = Site::random(&mut random);
        let what = format!("{number}: {} {} {}\n{}", site.barrel, site.supply, site.space, site.job);
        let world = site.world("Mark,Kind\nA,wall hydrant\n");
        let depth = site.depth(&world);
        let found = depth.least.as_ref().ok().map(|least| (least.depth.is * 1000.0).round());
        assert_eq!(found, site.scanned(&world).map(f64::from), "{what}");
        // The first length that is enough is, in a review, and one length shorter is not.
        let enough = |row: &DepthRow| row.asks.is_empty() && row.misfit.is_none();
        let Some(first) = depth.rows.iter().position(enough) else { continue };
        with_depth += 1;
        let mut schedule = String::from(
            "Mark,Kind,Closes,Wall,Barrel,Supply,Supply insulation,Space behind,Inside stop,Backflow standard,\
             Nominal length\n",
        );
        for length in [4, 6, 8, 10, 12, 14] {
            let _ = writeln!(
                schedule,
                "L{length},wall hydrant,inside,w,{},{},none,{},no,ASSE 1019 type A,{length} in",
                site.barrel, site.supply, site.space
            );
        }
        let review = review::run(&site.world(&schedule));
        let by_depth = ["Freezing 1", "Freezing 4"];
        let reviewed: Vec<bool> =
            review.outlets.iter().map(|outlet| is_enough(&outlet.findings.comments, &by_depth)).collect();
        assert!(reviewed[first], "{what}");
        assert!(first == 0 || !reviewed[first - 1], "{what}");
        assert!(
            review.outlets[first].findings.comments.iter().all(|it| it.outcome != Outcome::Revise),
            "{what}"
        );
    }
    // Some of the random walls are too cold or too thick for any listed length, but not most of them.
    assert!(with_depth * 4 > count, "{with_depth} of {count} have a length");
}

#[test]
fn the_least_depth_is_the_first_millimeter_of_a_scan() {
    check(4);
}

/// Some minutes: `cargo test --test library two_hundred -- --ignored`.
#[test]
#[ignore = "takes minutes"]
fn the_least_depth_is_that_of_a_scan_on_two_hundred_walls() {
    check(200);
}

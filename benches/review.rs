//! A long schedule: 10,000 rows with 40 distinct sections, reviewed from bytes to findings.

use coldsill::facts::{Sources, World, open};
use coldsill::input::Memory;
use coldsill::{report, review, shipped};
use criterion::{Criterion, criterion_group, criterion_main};
use std::fmt::Write;
use std::hint::black_box;

const ROWS: usize = 10_000;

/// Five lengths, four barrels and two walls: 40 sections, everything that decides stated.
fn schedule() -> String {
    let (lengths, barrels, walls) =
        ([6, 8, 10, 12, 14], ["copper", "brass", "bronze", "stainless"], ["2x6", "rim joist batt"]);
    let mut text = "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation,Backflow,Fasteners,Flange,Slope\n".to_owned();
    for row in 0..ROWS {
        let (length, barrel, wall) = (lengths[row % 5], barrels[row / 5 % 4], walls[row / 20 % 2]);
        let _ = writeln!(
            text,
            "HB-{row},{},sillcock,inside,{length} in,{barrel},{wall},copper,none,integral,stainless,brass,1/4 in/ft",
            row % 7 + 1
        );
    }
    text
}

fn world(files: &Memory) -> World {
    let climates = shipped::climates().expect("the climates built in can be read");
    let options = Sources {
        files,
        source: "schedule.csv",
        sheet: None,
        climate: Some("kansas-city-mo"),
        design_low: None,
        answers: &[],
        rules: &[],
        base_rules: &shipped::rules(),
        presets: Default::default(),
        climates,
    };
    match open(&options) {
        Ok(world) => world,
        Err(problems) => panic!("the bench's own schedule is refused: {problems:?}"),
    }
}

fn long_schedule(criterion: &mut Criterion) {
    let files = Memory::new().with("schedule.csv", schedule());
    let world_once = world(&files);
    let solves = review::run(&world_once).solves;
    assert_eq!(solves.sections, 80, "40 distinct sections, each drained and full");
    let mut group = criterion.benchmark_group("10,000 rows, 40 sections");
    group.sample_size(10);
    group.bench_function("schedule to findings, everything solved anew", |bencher| {
        bencher.iter(|| black_box(review::run(&world(&files))));
    });
    group.bench_function("schedule to JSON, everything solved anew", |bencher| {
        bencher.iter(|| {
            let review = review::run(&world(&files));
            black_box(report::json(&review, coldsill::units::System::Us, &mut std::io::sink()))
        });
    });
    group.finish();
}

criterion_group!(benches, long_schedule);
criterion_main!(benches);

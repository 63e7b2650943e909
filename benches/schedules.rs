//! Long schedules for benches, made by arithmetic: the same arguments give the same bytes.

use std::fmt::Write;

const LENGTHS: [&str; 9] = ["6 in", "7 in", "8 in", "9 in", "10 in", "11 in", "12 in", "13 in", "14 in"];
const BARRELS: [&str; 4] = ["copper", "brass", "bronze", "stainless"];
const WALLS: [&str; 4] = ["2x6", "rim joist batt", "2x4", "CMU insulated"];
const SUPPLIES: [&str; 3] = ["copper", "PEX", "CPVC"];
const INSULATION: [&str; 3] = ["none", "1/2 in", "3/4 in"];
const RUNS: [&str; 5] = ["12 in", "24 in", "36 in", "48 in", "60 in"];
const SIDES: [&str; 4] = ["North side", "Rear", "Kitchen side", "Garage side"];

/// Most outlets that [`mixed`] can tell apart.
pub const MOST_DISTINCT: usize =
    LENGTHS.len() * BARRELS.len() * WALLS.len() * SUPPLIES.len() * INSULATION.len();

/// A schedule as CSV with `rows` rows and `distinct` different outlets, repeated in turn. Every fact that decides a rule is
/// stated. Marks, quantities and locations differ from row to row.
///
/// # Panics
/// If `distinct` is 0 or above [`MOST_DISTINCT`].
pub fn mixed(rows: usize, distinct: usize) -> String {
    assert!((1..=MOST_DISTINCT).contains(&distinct), "1 to {MOST_DISTINCT} distinct outlets");
    let mut text = "Mark,Qty,Location,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply run,\
        Supply insulation,Backflow,Fasteners,Flange,Slope\n"
        .to_owned();
    for row in 0..rows {
        let mut index = row % distinct;
        let run = RUNS[index % RUNS.len()];
        let mut next = |choices: &[&'static str]| {
            let choice = choices[index % choices.len()];
            index /= choices.len();
            choice
        };
        let (length, barrel, wall) = (next(&LENGTHS), next(&BARRELS), next(&WALLS));
        let (supply, insulation) = (next(&SUPPLIES), next(&INSULATION));
        let (quantity, side, lot) = (row % 7 + 1, SIDES[row / 10 % SIDES.len()], row / 40 + 1);
        let _ = writeln!(
            text,
            "HB-{row},{quantity},\"{side}, lot {lot}\",sillcock,inside,{length},{barrel},{wall},Basement,{supply},{run},\
             {insulation},integral,stainless,brass,1/4 in/ft"
        );
    }
    text
}

//! Twenty-four sections with every input in SI, for an independent model, and the seat temperatures this one gives:
//! `cargo test -p coldsill-heat --test heat section::sections -- --nocapture` prints the table that `data/sections.csv` keeps.

use crate::section::common::*;
use coldsill_heat::section::{Fitting, Micro, Ranged, Spec, WASHER_LENGTH};
use std::fmt::Write;

const TABLE: &str = include_str!("data/sections.csv");
/// What the table prints of a seat, K.
const PRINTED: f64 = 0.001;

fn sections() -> Vec<(&'static str, Spec)> {
    let mut all = Vec::new();
    for wall in ["2x6-siding", "rim-joist-batt"] {
        for (_, metal) in METALS {
            for (_, pipe) in supplies() {
                for (seat, fitting) in [(7.25, 1.5), (11.25, 0.7)] {
                    let mut spec = outlet(built_in(wall), metal, pipe, seat);
                    spec.barrel.diameter = Ranged::exact(0.875 * INCH);
                    spec.barrel.thickness = Ranged::exact(0.05 * INCH);
                    spec.stem.diameter = Ranged::exact(0.28125 * INCH);
                    spec.stem.conductivity = Ranged::exact(BRASS);
                    spec.fitting =
                        Fitting { length: Ranged::exact(fitting * INCH), conductivity: Ranged::exact(BRASS) };
                    spec.outdoor_resistance = Ranged::exact(1.0 / 22.7);
                    all.push((wall, spec));
                }
            }
        }
    }
    all
}

/// One line a section: wall, its layers as thickness:conductivity from outside, sizes in m, conductivities in W/mK,
/// emissivities, resistance of the exterior film in m²K/W, outdoors and room in K, and the seat temperature in K.
fn line(wall: &str, it: &Spec) -> (String, f64) {
    let at = state(0.0, 68.0);
    let layers: Vec<String> =
        it.wall.iter().map(|it| format!("{}:{}", it.thickness.si(), it.conductivity.si())).collect();
    let figures = [
        it.seat_depth.si(),
        it.barrel.diameter.si(),
        it.barrel.thickness.si(),
        it.barrel.conductivity.si(),
        it.barrel.emissivity.si(),
        it.stem.diameter.si(),
        it.stem.conductivity.si(),
        WASHER_LENGTH,
        it.fitting.length.si(),
        it.fitting.conductivity.si(),
        it.supply.diameter.si(),
        it.supply.thickness.si(),
        it.supply.conductivity.si(),
        it.supply.emissivity.si(),
        it.supply.run.si(),
        it.outdoor_resistance.si(),
        it.behind.pressure.si(),
        Micro::of(at.outdoors).si(),
        Micro::of(at.room).si(),
    ];
    let mut line = format!("{wall},{}", layers.join(" "));
    for figure in figures {
        let _ = write!(line, ",{figure}");
    }
    (line, solved(it).seat.temperature(&at))
}

#[test]
fn the_table_for_an_independent_model_has_these_sections() {
    let rows: Vec<(String, f64)> = sections().iter().map(|(wall, spec)| line(wall, spec)).collect();
    rows.iter().for_each(|(line, seat)| println!("{line},{seat:.3}"));
    let kept: Vec<&str> = TABLE.lines().filter(|it| !it.starts_with('#')).skip(1).collect();
    assert_eq!(kept.len(), rows.len());
    for (row, (line, seat)) in kept.into_iter().zip(rows) {
        let (inputs, kept) = row.rsplit_once(',').expect("the last column is the seat");
        let kept: f64 = kept.parse().expect("a number");
        assert_eq!(inputs, line);
        assert!((kept - seat).abs() < PRINTED, "{line}: {kept} {seat}");
    }
}

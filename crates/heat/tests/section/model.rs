//! One section as an independent model has it.

use crate::section::common::*;
use coldsill_heat::section::{Micro, Ranged, Supply, WASHER_LENGTH};

/// Seat temperatures at 0 °F outdoors and 68 °F indoors, printed as ranges over interior films of 7.5 to 10.5 W/m²K:
/// supply, barrel and stem, least and greatest, °F. An independent model: 1 in sheathing and cladding at 0.12 W/mK,
/// 1.5 in rim at 0.115, 5.5 in batt at 0.043; barrel 0.84 by 0.06 in, stem 1/4 in; washer zone of 12 mm at 0.25 W/mK
/// that begins 8 in from the face; solid fitting 0.7 in long; 1/2 in supply 3 ft long; exterior film 34 W/m²K.
const PRINTED: [(&str, [[f64; 2]; 3]); 2] = [
    ("copper", [[35.0, 38.0], [46.0, 48.0], [61.0, 62.0]]),
    ("PEX", [[17.0, 20.0], [28.0, 31.0], [54.0, 56.0]]),
];

/// Half of the last printed digit.
const PRINT: f64 = 0.5;
/// Emissivities at which bare metal at 40 to 60 °F in a room at 68 has the printed films: natural convection of 3.5 to 4.5
/// W/m²K (Churchill and Chu) and 5.4 W/m²K times the emissivity are 7.5 to 9.5.
const EMISSIVITIES: [f64; 2] = [0.65, 0.9];

fn rim_joist(metal: f64, mut supply: Supply, emissivity: f64) -> coldsill_heat::section::Spec {
    if supply.conductivity == copper_pipe().conductivity {
        supply.emissivity = Ranged::exact(emissivity);
    }
    let wall = vec![layer(1.0, 0.12), layer(1.5, 0.115), layer(5.5, 0.043)];
    let mut spec = outlet(wall, metal, supply, 8.0);
    spec.barrel.emissivity = Ranged::exact(emissivity);
    spec
}

#[test]
fn six_seats_fall_into_the_ranges_of_an_independent_model() {
    // That model's washer begins at 8 in and it reads the water 12 mm further in; here the washer ends at the seat,
    // as the valve closes from outboard. The same section therefore has its seat 12 mm deeper.
    let mut wrong = Vec::new();
    for emissivity in EMISSIVITIES {
        for ((supply, ranges), (name, pipe)) in PRINTED.iter().zip(supplies()) {
            assert_eq!(*supply, name);
            for ((metal, conductivity), [least, greatest]) in METALS.iter().zip(ranges) {
                let spec = rim_joist(*conductivity, pipe, emissivity);
                let spec = spec.with_seat_at(8.0 * INCH + WASHER_LENGTH);
                let got = seat(&spec, &state(0.0, 68.0));
                println!(
                    "{metal}, {supply} supply, emissivity {emissivity}: {got:.1} °F ({least} to {greatest})"
                );
                if !(least - PRINT..=greatest + PRINT).contains(&got) {
                    wrong.push(format!(
                        "{metal}, {supply}, {emissivity}: {got:.2}, printed {least} to {greatest}"
                    ));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn handbook_conductivities_move_the_seat_by_less_than_the_band_that_is_carried() {
    // A handbook's table at 32 °F, Btu/(h·ft·°F): copper 224, brass 56, stainless 8 (common practice, no source).
    const BTU_FOOT: f64 = 1.730_735;
    let at = state(0.0, 68.0);
    for ((metal, used), printed) in METALS.iter().zip([224.0, 56.0, 8.0]) {
        let spec = |conductivity| {
            let mut spec = outlet(built_in("rim-joist-batt"), conductivity, copper_pipe(), 8.0);
            spec.supply.conductivity = Ranged::exact(COPPER);
            spec
        };
        let (ours, theirs) = (seat(&spec(*used), &at), seat(&spec(printed * BTU_FOOT), &at));
        let [low, _, high] =
            with_band(&uncertain(spec(*used), metal, "copper")).seat_temperature(&at).map(fahrenheit);
        println!(
            "{metal}: seat {ours:.1} °F at {used} W/mK, {theirs:.1} at {:.1}; band {low:.1} to {high:.1}",
            printed * BTU_FOOT
        );
        assert!((low..=high).contains(&theirs), "{metal}");
        assert!((theirs - ours).abs() < 3.0, "{metal}: a person would see {ours} and {theirs}");
    }
}

#[test]
fn a_longer_run_of_copper_warms_the_seat_less_and_less() {
    // A fin's heat goes with tanh(m L) (Incropera, fins with an adiabatic tip). Bare 1/2 in type L full of water at
    // 8 W/m²K has m = sqrt(h P / (k A)) of 5.0 1/m, so that 12, 24, 48 in are m L of 1.5, 3.0 and 6.1.
    let at = state(0.0, 68.0);
    let run = |inches: f64| {
        let mut pipe = copper_pipe();
        pipe.run = Micro::of(inches * INCH);
        seat(&outlet(built_in("2x6-siding"), BRASS, pipe, 8.0), &at)
    };
    let [short, usual, long, longest] = [12.0, 24.0, 48.0, 96.0].map(run);
    println!("supply run 12, 24, 48, 96 in: {short:.1}, {usual:.1}, {long:.1}, {longest:.1} °F");
    assert!(short < usual && usual < long);
    // The supply as a whole gives this seat about 20 °F over PEX; 1 - tanh 1.5 is 10 % of that, 1 - tanh 3 half a percent.
    assert!((0.2..2.0).contains(&(usual - short)), "{short} {usual}");
    assert!(longest - usual < 0.1, "{usual} {longest}");
}

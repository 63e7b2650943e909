//! Insulation that is held back from the inlet: the outlet stands in the air of the space, or in a pocket of still air.

use crate::section::common::*;
use coldsill_heat::section::{BareSurface, Boundary, Layer, Micro, Ranged, Spec};

/// W/m²K⁴ (CODATA).
const STEFAN_BOLTZMANN: f64 = 5.670_374e-8;
const EMISSIVITY: f64 = 0.4;

/// Copper through 3/8 in of siding and a rim joist of 1 1/2 in, with 5 1/2 in of batt behind them, seat 7 1/2 in deep. Its
/// stem carries next to nothing, so that the barrel alone is the fin.
fn outlet_with_batt(held_back: bool) -> Spec {
    let wall = vec![layer(0.375, 0.12), layer(1.5, 0.12), layer(5.5, 0.043)];
    let mut spec = outlet(wall, COPPER, copper_pipe(), 7.5);
    spec.stem.conductivity = Ranged::exact(0.03);
    spec.held_back = held_back.then_some(2);
    spec
}

#[test]
fn a_barrel_in_the_air_of_the_space_is_the_fin_of_the_handbook() {
    // Incropera, table of fins, ends at two temperatures (from memory): the lead over the air is
    // [θ₁ sinh m(L-x) + θ₂ sinh mx]/sinh mL, m² = hP/kA. By hand: a tube of 0.84 in by 0.060 in has A = π (0.84 - 0.06) 0.06
    // in² = 94.9 mm² and P = 67.0 mm; h is what the model holds for convection, and ε σ (T² + T₀²)(T + T₀) of radiation.
    let at = state(0.0, 68.0);
    let it = solved(&outlet_with_batt(true));
    let between = |depth: f64| depth > 2.0 * INCH && depth < 6.75 * INCH;
    let line: Vec<(f64, f64)> = it
        .stations
        .iter()
        .filter(|it| between(it.depth))
        .map(|it| (it.depth, at.room - it.share.temperature(&at)))
        .collect();
    let critical = it.good_to(at.room).expect("it freezes")[1];
    let film = |bare: &BareSurface| {
        // Films are held at the state with the seat at the ice point.
        let own = bare.share.temperature(&Boundary { outdoors: critical, ..at });
        let (warm, cold) = (at.room, own);
        bare.convection + EMISSIVITY * STEFAN_BOLTZMANN * (warm * warm + cold * cold) * (warm + cold)
    };
    let on_barrel = it.bare.iter().filter(|it| between(it.along[0]) && between(it.along[1]));
    let (films, areas) = on_barrel
        .fold((0.0, 0.0), |(films, areas), bare| (films + bare.area * film(bare), areas + bare.area));
    let (h, a, p) = (films / areas, 94.9e-6, 67.0e-3);
    let m = f64::sqrt(h * p / (COPPER * a));
    let (&(from, first), &(to, last)) = (line.first().expect("stations"), line.last().expect("stations"));
    let length = to - from;
    let sinh = |x: f64| 0.5 * (libm::exp(x) - libm::exp(-x));
    let fin = |x: f64| (first * sinh(m * (length - x)) + last * sinh(m * x)) / sinh(m * length);
    let straight = |x: f64| first + (last - first) * x / length;
    println!("film {h:.2} W/m²K, m {m:.2} 1/m over {:.1} in, {} stations", length / INCH, line.len());
    assert!(line.len() > 5, "{line:?}");
    for &(depth, lead) in &line[1..line.len() - 1] {
        let x = depth - from;
        let (sag, by_hand) = (straight(x) - lead, straight(x) - fin(x));
        println!("{:.2} in: {:.2} K below the straight line, by hand {:.2}", depth / INCH, sag, by_hand);
        // The film varies by a fifth along the barrel, and the sag with it; near the ends it is read between two cells.
        assert!((sag - by_hand).abs() < 0.1 * by_hand + 0.05, "{depth}: {sag} {by_hand}");
    }
}

#[test]
fn held_back_insulation_keeps_a_seat_inside_the_wall_warmer() {
    // Air of the room reaches the barrel; a batt packed around it keeps its warmth away.
    let at = state(-10.0, 68.0);
    let [packed, back] = [false, true].map(|held| seat(&outlet_with_batt(held), &at));
    assert!(back > packed, "{back} {packed}");
}

#[test]
fn a_pocket_behind_a_skin_is_an_unventilated_air_layer() {
    // ISO 6946, table of unventilated air layers: 0.18 m²K/W for horizontal flow from 25 to 300 mm. 5 1/2 in: 0.1397/0.18.
    let batt = Layer { thickness: Micro::of(0.1397), conductivity: Micro::of(0.043) };
    assert!((batt.as_air() - 0.776).abs() < 0.001, "{}", batt.as_air());
    // Closed in by gypsum board, the pocket keeps the room's air away: without the board the seat is warmer.
    let wall = vec![layer(0.4375, 0.1), layer(5.5, 0.043), layer(0.5, 0.16)];
    let closed = Spec { held_back: Some(1), ..outlet(wall.clone(), BRASS, copper_pipe(), 5.0) };
    let open = Spec { wall: wall[..2].to_vec(), ..closed.clone() };
    let at = state(-10.0, 68.0);
    let [closed, open] = [closed, open].map(|it| seat(&it, &at));
    println!("seat 5 in deep: in a closed pocket {closed:.1} °F, in the air of the room {open:.1} °F");
    assert!(closed < open, "{closed} {open}");
}

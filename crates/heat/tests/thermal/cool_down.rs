//! Water in an insulated pipe cooling to the freezing point, without latent heat: the handbook's formula and table, and
//! what each thing it leaves out does.

use crate::thermal::march::{Body, Matter, none, passes};
use coldsill_heat::thermal::{Axis, Control, Film, Grid, NetworkError, Solver};

const SOURCE: &str = "ASHRAE Handbook Fundamentals 2009-2021, ch. 23, eq. 1 and Table 2, from memory; grid regenerated from \
                      eq. 1 with schedule 40 steel pipe";
const INCH: f64 = 0.0254;
const HOUR: f64 = 3600.0;
/// 62.4 lb/ft³ and 1 Btu/lb°F, kg/m³ and J/kgK.
const WATER: f64 = 62.4 * 0.453_592_37 / (0.3048 * 0.3048 * 0.3048) * 4186.8;
/// Btu·in/(h·ft²·°F) is 1055.06 · 0.0254 / (3600 · 0.3048² · 5/9) W/mK; here with the same Btu as the heat capacity.
const INSULATION: f64 =
    0.30 * (4186.8 * 0.453_592_37 * 5.0 / 9.0) * INCH / (HOUR * 0.3048 * 0.3048 * 5.0 / 9.0);

/// °F as °C.
fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

/// What is taken into account besides water and the resistance of insulation.
#[derive(Clone, Copy, Default)]
struct Besides {
    /// W/m²K, nothing for a surface at the temperature of the air.
    film: Option<f64>,
    /// Of insulation and of pipe, J/m³K.
    insulation: f64,
    wall: f64,
}

/// Capacities are positive; these are next to nothing beside 4.2e6.
const NEXT_TO_NOTHING: f64 = 1.0;
/// A conductivity without any resistance beside 0.04 W/mK: water and pipe are each at one temperature.
const LUMPED: f64 = 1e5;

/// Hours until the water, in a pipe `inside` and `outside` wide with insulation `thick`, all inches, comes from 42 °F
/// to 32 °F in air at a temperature, °F.
fn hours(inside: f64, outside: f64, thick: f64, air: f64, besides: Besides) -> Result<f64, NetworkError> {
    let [inner, outer] = [inside, outside].map(|it| 0.5 * it * INCH);
    let rings = 20;
    let ring = |i: u32| outer + thick * INCH * f64::from(i) / f64::from(rings);
    let edges = [0.0, inner, outer].into_iter().chain((1..=rings).map(ring)).collect();
    let positive = |it: f64| if it > 0.0 { it } else { NEXT_TO_NOTHING };
    let matter = |at: [f64; 3]| match at[0] {
        r if r < inner => Matter::Dry(LUMPED, WATER),
        r if r < outer => Matter::Dry(LUMPED, positive(besides.wall)),
        _ => Matter::Dry(INSULATION, positive(besides.insulation)),
    };
    let grid = Grid::cylindrical(edges, vec![0.0, 1.0])?;
    let film = besides.film.map_or(0.0, |h| 1.0 / h);
    let body = Body::made(grid, 1, matter, |at| (at.face.axis == Axis::First).then(|| Film::new(0, film)))?;
    let solver = Solver::analyse(&body.network)?;
    // From a hundredth of a second, which insulation without capacity takes to settle, to seconds.
    let control = Control { kelvin: 0.002, phase: 1.0, first: 0.01, longest: 10.0 };
    let mut march = body.march(&solver, none(), celsius(42.0), control)?;
    let time = passes(&mut march, &|_| vec![celsius(air)], celsius(32.0), |it| {
        [it.temperatures_before()[0], it.temperatures()[0]]
    })?;
    Ok(time / HOUR)
}

/// Inside and outside diameter of schedule 40 steel pipe, in (ASME B36.10M), by nominal size, and hours by thickness.
const PIPES: [(&str, f64, f64, [f64; 6]); 6] = [
    ("1/2", 0.622, 0.840, [0.120, 0.186, 0.232, 0.268, 0.321, 0.360]),
    ("3/4", 0.824, 1.050, [0.179, 0.286, 0.362, 0.421, 0.511, 0.578]),
    ("1", 1.049, 1.315, [0.246, 0.402, 0.517, 0.607, 0.746, 0.851]),
    ("1 1/2", 1.610, 1.900, [0.433, 0.736, 0.970, 1.160, 1.459, 1.690]),
    ("2", 2.067, 2.375, [0.593, 1.031, 1.378, 1.666, 2.127, 2.488]),
    ("3", 3.068, 3.500, [0.934, 1.681, 2.302, 2.834, 3.713, 4.423]),
];
const THICK: [f64; 6] = [0.5, 1.0, 1.5, 2.0, 3.0, 4.0];

#[test]
fn water_in_an_insulated_pipe_reaches_freezing_when_the_handbook_has_it() -> Result<(), NetworkError> {
    /// h: half the last digit of a table to 0.001 h, and as much for steps of up to 10 s.
    const PRINT: f64 = 0.001;
    for (name, inside, outside, row) in PIPES {
        for (thick, expect) in THICK.into_iter().zip(row) {
            let got = hours(inside, outside, thick, -18.0, Besides::default())?;
            assert!((got - expect).abs() < PRINT, "NPS {name}, {thick} in: {got} h, {SOURCE}: {expect}");
        }
    }
    Ok(())
}

#[test]
fn the_two_printed_entries_for_two_inch_pipe_are_met() -> Result<(), NetworkError> {
    /// h: printed to a tenth.
    const PRINT: f64 = 0.05;
    for (air, expect) in [(-18.0, 1.4), (20.0, 4.6)] {
        let got = hours(2.067, 2.375, 1.5, air, Besides::default())?;
        assert!(
            (got - expect).abs() < PRINT,
            "NPS 2, 1.5 in, air at {air} °F: {got} h, {expect} in the handbook as quoted by Warren Forensics, 2014-03-18"
        );
    }
    Ok(())
}

#[test]
#[allow(clippy::print_stdout, reason = "the figures are for whoever weighs the handbook's assumptions")]
fn everything_the_handbook_leaves_out_lengthens_the_time() -> Result<(), NetworkError> {
    let of = |besides| hours(2.067, 2.375, 1.5, -18.0, besides);
    let none = Besides::default();
    let plain = of(none)?;
    println!("NPS 2, 1.5 in, air at -18 °F: {plain:.3} h to 32 °F");
    let kinds = [
        // Mineral wool of 50 kg/m³ and 840 J/kgK; steel of 7850 kg/m³ and 460 J/kgK; a calm outdoor film.
        ("the insulation's own heat", Besides { insulation: 42e3, ..none }),
        ("the pipe's heat", Besides { wall: 3.6e6, ..none }),
        ("a film of 10 W/m²K", Besides { film: Some(10.0), ..none }),
        ("a film of 34 W/m²K", Besides { film: Some(34.0), ..none }),
    ];
    for (name, besides) in kinds {
        let time = of(besides)?;
        println!("with {name}: {time:.3} h, {:+.1} %", 100.0 * (time / plain - 1.0));
        assert!(time > plain, "{name}: {time} h against {plain} h");
    }
    Ok(())
}

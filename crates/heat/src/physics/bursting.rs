//! What trapped water does on freezing: the pressure at which ice and water stand together, and the tubes that do
//! not hold it.
//!
//! Ice alone does not split a tube: bursts follow a complete plug, and the pressure rises in the water shut in between
//! the plug and whatever closes the other end, often away from the ice (Gordon, research report 96-1, University of
//! Illinois, 1996; from memory; no pressures are quoted there). With the supply open, the ice pushes water back to the
//! main and the pressure stays the main's. So every temperature given here is [`BOUND`].

mod strength;

pub use strength::{STRENGTHS, Strength};

use super::tubes::{Kind, Size, Tube};
use super::{OutOfRange, Standing, check_range};

/// What a temperature from this file is, and is not.
pub const BOUND: &str = "upper bound only: ice and water trapped in a rigid volume; any give, air or open way keeps \
                         it whole longer";

/// Triple point of ice Ih, liquid and vapor, K.
const TRIPLE_POINT: f64 = 273.16;
/// Triple point of ice Ih, ice III and liquid, K: below it another ice forms, which shrinks.
const TRIPLE_POINT_III: f64 = 251.165;
/// Pressure at [`TRIPLE_POINT`], Pa.
const TRIPLE_PRESSURE: f64 = 611.657;
/// Pressure at [`TRIPLE_POINT_III`], Pa, rounded down from 208.5666 MPa so that its temperature is in range.
const GREATEST_PRESSURE: f64 = 208.566e6;
const PSI: f64 = 6894.757;

/// Pressure (Pa) at which ice Ih melts at a temperature (K): ice and water shut in together stand at it.
///
/// # Valid for
/// 251.165 to 273.16 K; refused outside. Uncertain by about 2 % (the release's own figure, from memory).
/// # Source
/// IAPWS R14-08(2011), equation for ice Ih (coefficients from memory; they return both published check values).
/// # Example
/// 260 K: 138.268 MPa, the release's check value: matches.
/// ```
/// let p = coldsill_heat::physics::bursting::melting_pressure(260.0).unwrap();
/// assert!((p - 138.268e6).abs() < 1e3);
/// ```
pub fn melting_pressure(temperature: f64) -> Result<f64, OutOfRange> {
    let t = check_range("ice temperature", temperature, [TRIPLE_POINT_III, TRIPLE_POINT], "K")?;
    Ok(melting(t))
}

fn melting(temperature: f64) -> f64 {
    const TERMS: [[f64; 2]; 3] =
        [[0.119_539_337e7, 3.0], [0.808_183_159e5, 25.75], [0.333_826_860e4, 103.75]];
    let theta = temperature / TRIPLE_POINT;
    let sum: f64 = TERMS.iter().map(|[a, b]| a * (1.0 - libm::pow(theta, *b))).sum();
    TRIPLE_PRESSURE * (1.0 + sum)
}

/// Temperature (K) at which ice and water shut in together stand at a pressure (Pa); the reverse of
/// [`melting_pressure`].
///
/// # Valid for
/// 611.657 Pa to 208.566 MPa; refused outside.
/// # Source
/// As [`melting_pressure`], by halving.
/// # Example
/// 110.0 MPa is reached at −10 °C: recomputed.
/// ```
/// let t = coldsill_heat::physics::bursting::melting_temperature(110.0e6).unwrap();
/// assert!((t - 263.15).abs() < 0.01);
/// ```
pub fn melting_temperature(pressure: f64) -> Result<f64, OutOfRange> {
    let wanted = check_range("pressure", pressure, [TRIPLE_PRESSURE, GREATEST_PRESSURE], "Pa")?;
    let (mut cold, mut warm) = (TRIPLE_POINT_III, TRIPLE_POINT);
    // 22 K halved 60 times is below the last digit of a temperature
    for _ in 0..60 {
        let middle = 0.5 * (cold + warm);
        if melting(middle) > wanted { cold = middle } else { warm = middle }
    }
    Ok(0.5 * (cold + warm))
}

/// Temper of a copper tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Temper {
    /// Hard, in straight lengths.
    Drawn,
    /// Soft, in coils, or softened by brazing.
    Annealed,
}

/// Where a burst pressure comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Tubes burst in a test at room temperature.
    Tested,
    /// Crude estimate, 2 t S / D: the tube away from threads, seams, joints and corrosion.
    Barlow,
}

/// Pressure that bursts a tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Burst {
    /// Internal pressure, Pa.
    pub pressure: f64,
    /// Test or estimate.
    pub basis: Basis,
    /// Where the pressure, or the strength behind it, is published.
    pub source: &'static str,
    /// How it came to be here.
    pub standing: Standing,
}

/// Why there is no burst pressure. Not a pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoBurst {
    /// Nothing is published for it; the words say what is known instead.
    NoFigure(&'static str),
    /// An argument is out of range.
    Refused(OutOfRange),
}

impl From<OutOfRange> for NoBurst {
    fn from(error: OutOfRange) -> Self {
        Self::Refused(error)
    }
}

const COPPER: &str = "Copper Tube Handbook, actual burst pressures at room temperature";

/// Actual burst pressures in psi, 1/2, 3/4 and 1 in. Type M is not made annealed.
const COPPER_TABLE: [(Kind, Temper, [f64; 3]); 5] = [
    (Kind::CopperK, Temper::Drawn, [9840.0, 9300.0, 7200.0]),
    (Kind::CopperL, Temper::Drawn, [7765.0, 5900.0, 5115.0]),
    (Kind::CopperM, Temper::Drawn, [6135.0, 4715.0, 3865.0]),
    (Kind::CopperK, Temper::Annealed, [4535.0, 4200.0, 3415.0]),
    (Kind::CopperL, Temper::Annealed, [3885.0, 2935.0, 2650.0]),
];

/// Pressure that bursts a supply tube; the temper matters for copper only.
///
/// # Valid for
/// [`super::tubes`], at room temperature. Copper as tested, others by [`barlow`]; plastics have no figure.
/// # Source
/// Copper Tube Handbook (from memory); [`STRENGTHS`].
/// # Example
/// 1/2 in type L, drawn: 7765 psi: from memory.
/// ```
/// use coldsill_heat::physics::{bursting::*, tubes::*};
/// let it = burst_pressure(&tube(Kind::CopperL, Size::Half), Temper::Drawn).unwrap();
/// assert!((it.pressure - 53.54e6).abs() < 0.01e6);
/// assert!(burst_pressure(&tube(Kind::Pex, Size::Half), Temper::Drawn).is_err());
/// ```
pub fn burst_pressure(tube: &Tube, temper: Temper) -> Result<Burst, NoBurst> {
    if matches!(tube.kind, Kind::CopperK | Kind::CopperL | Kind::CopperM) {
        let column = match tube.size {
            Size::Half => 0,
            Size::ThreeQuarter => 1,
            Size::One => 2,
        };
        let row = COPPER_TABLE.iter().find(|(kind, it, _)| *kind == tube.kind && *it == temper);
        let (_, _, psi) = row.ok_or(NoBurst::NoFigure("copper type M is not made annealed"))?;
        let pressure = psi[column] * PSI;
        return Ok(Burst { pressure, basis: Basis::Tested, source: COPPER, standing: Standing::FromMemory });
    }
    barrel_burst(tube.kind.material(), tube.outside_diameter, tube.wall)
}

/// Pressure that bursts a barrel or other tube of a material's key, by [`barlow`]; diameters in m.
///
/// # Valid for
/// As [`barlow`]; keys of [`STRENGTHS`]. Crude: tabled copper tubes burst at 0.9 (annealed) to 2.1 times (drawn) this.
/// # Source
/// [`STRENGTHS`].
/// # Example
/// A 7/8 in brass barrel of 0.065 in with 47 ksi: 6983 psi: closed form.
/// ```
/// let it = coldsill_heat::physics::bursting::barrel_burst("brass", 0.022225, 0.001651).unwrap();
/// assert!((it.pressure / 6894.757 - 6983.0).abs() < 1.0);
/// ```
pub fn barrel_burst(material: &str, outside_diameter: f64, wall: f64) -> Result<Burst, NoBurst> {
    let row = STRENGTHS.iter().find(|it| it.material == material);
    let row = row.ok_or(NoBurst::NoFigure("no strength at hand for this material"))?;
    let strength = row.strength.map_err(NoBurst::NoFigure)?;
    let pressure = barlow(strength, wall, outside_diameter)?;
    Ok(Burst { pressure, basis: Basis::Barlow, source: row.source, standing: row.standing })
}

/// Pressure (Pa) that bursts a thin tube, 2 t S / D: strength in Pa, wall and outside diameter in m.
///
/// # Valid for
/// Strengths of 10 MPa to 1.5 GPa, diameters of 5 mm to 0.2 m, walls of 1 to 15 % of the diameter; refused outside. A
/// crude estimate: no yielding, thinning, thread, seam or joint.
/// # Source
/// Barlow's formula, as tube makers print it for burst (seen) and ASME B31 for working pressure.
/// # Example
/// 32 ksi copper, 1/2 in type L: 4096 psi: closed form (the test of annealed tube gives 3885).
/// ```
/// let ksi = 6.894757e6;
/// let p = coldsill_heat::physics::bursting::barlow(32.0 * ksi, 0.040 * 0.0254, 0.625 * 0.0254).unwrap();
/// assert!((p / ksi - 4.096).abs() < 1e-9);
/// ```
pub fn barlow(strength: f64, wall: f64, outside_diameter: f64) -> Result<f64, OutOfRange> {
    let strength = check_range("strength", strength, [10e6, 1.5e9], "Pa")?;
    let diameter = check_range("outside diameter", outside_diameter, [0.005, 0.2], "m")?;
    let wall = check_range("wall", wall, [0.01 * diameter, 0.15 * diameter], "m")?;
    Ok(2.0 * wall * strength / diameter)
}

/// Temperature (K) below which trapped ice and water reach a tube's burst pressure: [`BOUND`].
///
/// # Valid for
/// As [`burst_pressure`]; burst pressures up to 208 MPa.
/// # Source
/// [`melting_temperature`] of [`burst_pressure`].
/// # Example
/// 1/2 in type L: −4.4 °C drawn, −2.1 °C annealed: recomputed.
/// ```
/// use coldsill_heat::physics::{bursting::*, tubes::*};
/// let it = tube(Kind::CopperL, Size::Half);
/// assert!((yields_at(&it, Temper::Drawn).unwrap() - 268.75).abs() < 0.05);
/// assert!((yields_at(&it, Temper::Annealed).unwrap() - 271.05).abs() < 0.05);
/// ```
pub fn yields_at(tube: &Tube, temper: Temper) -> Result<f64, NoBurst> {
    Ok(melting_temperature(burst_pressure(tube, temper)?.pressure)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::tubes::tube;

    #[test]
    fn the_melting_curve_returns_the_published_check_values() {
        // IAPWS R14-08(2011): 138.268 MPa at 260 K, 208.566 MPa at the triple point Ih-III, 611.657 Pa at 273.16 K.
        assert!((melting_pressure(260.0).unwrap() - 138.268e6).abs() < 1e3);
        assert!((melting_pressure(251.165).unwrap() - 208.566e6).abs() < 1e3);
        assert!((melting_pressure(273.16).unwrap() - 611.657).abs() < 1e-3);
    }

    #[test]
    fn near_the_ice_point_the_curve_has_clapeyrons_slope() {
        // dp/dT = L ρw ρi / (T (ρw − ρi)): 333.43 kJ/kg, 999.84 and 916.72 kg/m³, 273.15 K give 13.46 MPa/K. Over the
        // first 0.1 K the slope changes by 0.3 %, and the densities are known to 1e-4.
        let clapeyron = 333.43e3 * 999.84 * 916.72 / (273.15 * (999.84 - 916.72));
        let slope = (melting_pressure(273.05).unwrap() - melting_pressure(273.15).unwrap()) / 0.1;
        assert!((slope / clapeyron - 1.0).abs() < 0.01, "{slope} {clapeyron}");
    }

    #[test]
    fn pressure_and_temperature_are_each_others_reverse() {
        for tenth in 2512..=2731 {
            let t = f64::from(tenth) / 10.0;
            let back = melting_temperature(melting_pressure(t).unwrap()).unwrap();
            assert!((back - t).abs() < 1e-6, "{t} {back}");
        }
    }

    #[test]
    fn outside_the_curve_is_refused() {
        assert!(melting_pressure(251.1).is_err() && melting_pressure(273.2).is_err());
        assert!(melting_pressure(-10.0).is_err()); // degrees Celsius by mistake
        assert!(melting_temperature(500.0).is_err() && melting_temperature(209e6).is_err());
        assert!(melting_temperature(f64::NAN).is_err());
        assert!(barlow(32.0, 0.001, 0.016).is_err()); // ksi by mistake
        assert!(barlow(2e8, 0.001, 0.004).is_err() && barlow(2e8, 0.004, 0.016).is_err());
    }

    #[test]
    fn copper_yields_where_a_root_finder_puts_it() {
        // scipy 1.17.1, brentq on the IAPWS equation, °C, printed to 0.01.
        for (kind, temper, want) in [
            (Kind::CopperK, Temper::Drawn, [-5.74, -5.39, -4.06]),
            (Kind::CopperL, Temper::Drawn, [-4.41, -3.27, -2.80]),
            (Kind::CopperM, Temper::Drawn, [-3.41, -2.57, -2.08]),
            (Kind::CopperK, Temper::Annealed, [-2.46, -2.27, -1.83]),
            (Kind::CopperL, Temper::Annealed, [-2.09, -1.56, -1.40]),
        ] {
            for (size, want) in Size::ALL.into_iter().zip(want) {
                let got = yields_at(&tube(kind, size), temper).unwrap() - 273.15;
                assert!((got - want).abs() < 0.006, "{kind:?} {size:?} {temper:?}: {got} {want}");
            }
        }
    }

    #[test]
    fn annealed_copper_bursts_near_its_strength_and_drawn_well_above() {
        // Hoop stress on the nominal wall, P D / 2t. Annealed copper tube has 30 to 36 ksi (ASTM B88: at least 30); a
        // burst on the nominal wall lies up to 10 % lower, the wall being thinner in places. Drawn tube has 36 ksi at
        // least and 55 as made (C12200, hard); the table implies more, up to 69 ksi: recorded, not explained.
        for (kind, temper, psi) in COPPER_TABLE {
            let plausible = if temper == Temper::Annealed { 27.0..36.0 } else { 45.0..69.0 };
            for (size, psi) in Size::ALL.into_iter().zip(psi) {
                let it = tube(kind, size);
                let ksi = psi * it.outside_diameter / (2.0 * it.wall) / 1000.0;
                assert!(plausible.contains(&ksi), "{kind:?} {size:?}: {ksi}");
            }
        }
    }

    #[test]
    fn bursting_is_far_above_the_rated_working_pressure() {
        // Type M at 100 °F, copper.org table 3c (seen): drawn 850, 701, 580 psi. Makers keep a factor above four.
        for (size, rated) in Size::ALL.into_iter().zip([850.0, 701.0, 580.0]) {
            let burst = burst_pressure(&tube(Kind::CopperM, size), Temper::Drawn).unwrap().pressure / PSI;
            assert!((4.0..10.0).contains(&(burst / rated)), "{size:?}: {burst}");
        }
    }

    #[test]
    fn what_has_no_figure_says_why() {
        for kind in [Kind::Pex, Kind::Cpvc, Kind::Pvc, Kind::Polyethylene] {
            let none = yields_at(&tube(kind, Size::Half), Temper::Drawn);
            assert!(matches!(none, Err(NoBurst::NoFigure(why)) if why.len() > 20), "{kind:?}: {none:?}");
        }
        let none = yields_at(&tube(Kind::CopperM, Size::Half), Temper::Annealed);
        assert!(matches!(none, Err(NoBurst::NoFigure(_))));
        assert!(barrel_burst("stucco", 0.02, 0.001).is_err());
        assert!(matches!(barrel_burst("brass", 0.02, 0.009), Err(NoBurst::Refused(_))));
    }
}

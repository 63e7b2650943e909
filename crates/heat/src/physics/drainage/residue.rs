//! What keeps a bore full against gravity, and when a residue has room to freeze.

use super::{Barrel, FREEZING_GROWTH, Holding, check_range, edge_depth, segment::mean_segment, water_kept};
use crate::physics::{OutOfRange, water};

/// Share of a rigid space that water may fill and still have room as ice, 1/1.0907 or 91.7 %.
///
/// A residue below it, with its surface free along the whole barrel, swells into the air above it and bursts nothing.
/// Above it, or where it fills the bore anywhere, a cap of ice can shut water in.
pub const FREE_SURFACE_LIMIT: f64 = 1.0 / (1.0 + FREEZING_GROWTH);

/// Share of a space filled once frozen, from the share filled with water; above 1 there is no room.
///
/// # Valid for
/// Shares of 0 to 1, refused outside; water and ice near 0 °C.
/// # Source
/// [`FREEZING_GROWTH`].
/// # Example
/// Half full freezes to 54.5 %; full would need 109 %: closed form.
/// ```
/// use coldsill_heat::physics::drainage::share_when_frozen;
/// assert!((share_when_frozen(0.5).unwrap() - 0.545).abs() < 0.0005);
/// assert!((share_when_frozen(1.0).unwrap() - 1.0907).abs() < 0.0001);
/// ```
pub fn share_when_frozen(share: f64) -> Result<f64, OutOfRange> {
    Ok(check_range("share filled", share, [0.0, 1.0], "")? * (1.0 + FREEZING_GROWTH))
}

/// Whether what a barrel keeps can swell freely on freezing: air gets in, and at its deepest the residue, once frozen,
/// still leaves air between bore and stem.
///
/// # Valid for
/// As [`water_kept`]. Says nothing of water behind the seat, which always fills its pipe.
/// # Source
/// Geometry and [`FREE_SURFACE_LIMIT`]; no test of partly filled barrels was found.
/// # Example
/// A level barrel's puddle is free; one that falls inwards 1 in in 8 fills the bore at the seat and is not.
/// ```
/// use coldsill_heat::physics::drainage::*;
/// let level = Barrel { bore: 0.0183, stem: 0.00635, length: 0.2032, slope: 0.0, vent: Vent::Open };
/// assert_eq!(free_to_swell(&level, CONTACT_ANGLE), Ok(true));
/// assert_eq!(free_to_swell(&Barrel { slope: -0.125, ..level }, CONTACT_ANGLE), Ok(false));
/// ```
pub fn free_to_swell(barrel: &Barrel, contact_angle: f64) -> Result<bool, OutOfRange> {
    let kept = water_kept(barrel, contact_angle)?;
    if kept.holding != Holding::Gravity {
        return Ok(false);
    }
    let (bore, stem) = (barrel.bore, barrel.stem);
    let stem_depth = kept.deepest - super::gap(bore, stem);
    let wet = mean_segment(bore, kept.deepest, kept.deepest) - mean_segment(stem, stem_depth, stem_depth);
    let space = std::f64::consts::FRAC_PI_4 * (bore * bore - stem * stem);
    Ok(wet < FREE_SURFACE_LIMIT * space)
}

/// Surface tension (N/m) of water at a temperature (K).
///
/// # Valid for
/// 273.15 to 313.15 K, clean water; refused outside. Uncertain by 0.5 %.
/// # Source
/// IAPWS R1-76(2014).
/// # Example
/// 20 °C: 72.74 mN/m, the release's table (from memory): matches.
/// ```
/// let it = coldsill_heat::physics::drainage::surface_tension(293.15).unwrap();
/// assert!((it - 72.74e-3).abs() < 0.01e-3);
/// ```
pub fn surface_tension(temperature: f64) -> Result<f64, OutOfRange> {
    let t = check_range("water temperature", temperature, [water::ICE_POINT, 313.15], "K")?;
    let tau = 1.0 - t / 647.096;
    Ok(0.2358 * libm::pow(tau, 1.256) * (1.0 - 0.625 * tau))
}

/// Length (m) of barrel that a puddle still covers when it falls outwards at a slope (m/m): the edge's depth over it.
///
/// # Valid for
/// Slopes above 0 to 1; refused outside. No limit on it is published: no slope below which a given bore does not drain
/// was found, in code, listing or paper.
/// # Source
/// [`edge_depth`]; geometry.
/// # Example
/// At 1/4 in per ft 133 mm stay wet, at 5° 32 mm: closed form (capillary length 2.78 mm).
/// ```
/// use coldsill_heat::physics::drainage::*;
/// assert!((wet_length(slope_from_inches_per_foot(0.25), CONTACT_ANGLE).unwrap() - 0.133).abs() < 0.001);
/// assert!((wet_length(slope_from_degrees(5.0), CONTACT_ANGLE).unwrap() - 0.0318).abs() < 0.0002);
/// ```
pub fn wet_length(slope: f64, contact_angle: f64) -> Result<f64, OutOfRange> {
    Ok(edge_depth(contact_angle)? / check_range("outward slope", slope, [1e-6, 1.0], "m/m")?)
}

#[cfg(test)]
mod tests {
    use super::super::{CAPILLARY_BORE, CONTACT_ANGLE, Vent, slope_from_degrees, slope_from_inches_per_foot};
    use super::*;

    fn barrel(slope: f64) -> Barrel {
        Barrel { bore: 0.0183, stem: 0.00635, length: 0.2032, slope, vent: Vent::Open }
    }

    #[test]
    fn the_capillary_bore_is_brethertons() {
        // Radius 2.50 mm at 20 °C, printed to 0.01 mm: ρ g R²/σ = 0.842 with 998.2 kg/m³.
        let radius = (0.842 * surface_tension(293.15).unwrap() / (998.2 * 9.806_65)).sqrt();
        assert!((0.5 * CAPILLARY_BORE - radius).abs() < 0.006e-3, "{radius}");
    }

    #[test]
    fn surface_tension_matches_the_published_table() {
        // IAPWS R1-76(2014), table 1, mN/m (from memory): 0.01 °C 75.65, 10 °C 74.22, 20 °C 72.74, 40 °C 69.60.
        for (celsius, printed) in [(0.01, 75.65), (10.0, 74.22), (20.0, 72.74), (40.0, 69.60)] {
            let got = 1e3 * surface_tension(celsius + 273.15).unwrap();
            assert!((got - printed).abs() < 0.006, "{celsius}: {got}");
        }
    }

    #[test]
    fn volumes_match_a_stack_of_horizontal_layers() {
        // Layers of water at each height above the lip's floor: as wide as the chord less the stem's, as long as the
        // barrel lies under the surface there. The midpoint rule errs by about 1e-4 at the floor, where chords start
        // like a square root.
        let layers = 3e-4;
        let edge = edge_depth(CONTACT_ANGLE).unwrap();
        for slope in [slope_from_degrees(5.0), slope_from_inches_per_foot(0.25), 0.0, -0.0208, -0.09] {
            let it = barrel(slope);
            let n = 20_000;
            let mut want = 0.0;
            for i in 0..n {
                let y = (f64::from(i) + 0.5) / f64::from(n) * it.bore;
                let above = y - 0.5 * it.bore;
                let chord =
                    |diameter: f64| 2.0 * (0.25 * diameter * diameter - above * above).max(0.0).sqrt();
                // under the surface where edge − slope·x > y
                let long = if slope > 0.0 {
                    ((edge - y) / slope).clamp(0.0, it.length)
                } else if slope < 0.0 {
                    it.length - ((edge - y) / slope).clamp(0.0, it.length)
                } else if y < edge {
                    it.length
                } else {
                    0.0
                };
                want += (chord(it.bore) - chord(it.stem)) * long * it.bore / f64::from(n);
            }
            let got = water_kept(&it, CONTACT_ANGLE).unwrap().volume;
            assert!((got / want - 1.0).abs() < layers, "{slope}: {got} {want}");
        }
    }

    #[test]
    fn a_wedge_is_free_until_ice_would_reach_the_crown_at_the_seat() {
        // 12 mm in 18.3 with a 6.35 mm stem: circle segment 69.5 % less the stem's 98.1 %, so 65.6 % of the space, free;
        // 17 mm: 96.9 % less all of the stem, 96.4 %, not free: segments of a circle by hand.
        let edge = edge_depth(CONTACT_ANGLE).unwrap();
        for (deep, free) in [(0.012, true), (0.017, false)] {
            let it = barrel((edge - deep) / 0.2032);
            assert!((water_kept(&it, CONTACT_ANGLE).unwrap().deepest - deep).abs() < 1e-9);
            assert_eq!(free_to_swell(&it, CONTACT_ANGLE), Ok(free), "{deep}");
        }
        // full for want of air, or of a bore wide enough
        assert_eq!(free_to_swell(&Barrel { vent: Vent::Shut, ..barrel(0.1) }, CONTACT_ANGLE), Ok(false));
        let fine = Barrel { bore: 0.004, stem: 0.0, ..barrel(0.1) };
        assert_eq!(free_to_swell(&fine, CONTACT_ANGLE), Ok(false));
        assert!(free_to_swell(&Barrel { bore: -1.0, ..barrel(0.0) }, CONTACT_ANGLE).is_err());
    }

    #[test]
    fn room_to_freeze_ends_at_ninety_two_percent() {
        // 916.72 / 999.84 kg/m³, ice and water at 0 °C.
        assert!((FREE_SURFACE_LIMIT - 916.72 / 999.84).abs() < 1e-5);
        assert!(share_when_frozen(0.916).unwrap() < 1.0 && share_when_frozen(0.918).unwrap() > 1.0);
        assert!(share_when_frozen(1.1).is_err() && share_when_frozen(f64::NAN).is_err());
    }

    #[test]
    fn a_quarter_inch_per_foot_and_five_degrees_are_two_slopes() {
        // 1.19° and 1.05 in/ft.
        let (quarter, five) = (slope_from_inches_per_foot(0.25), slope_from_degrees(5.0));
        assert!((five / quarter - 4.2).abs() < 0.01);
        assert!((super::super::slope_to_degrees(quarter) - 1.19).abs() < 0.005);
        assert!((12.0 * five - 1.05).abs() < 0.001);
    }

    #[test]
    fn nonsense_is_refused() {
        assert!(wet_length(0.0, CONTACT_ANGLE).is_err() && wet_length(-0.1, CONTACT_ANGLE).is_err());
        assert!(surface_tension(20.0).is_err());
    }
}

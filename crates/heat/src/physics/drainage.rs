//! Water kept in the barrel after the valve is shut.
//!
//! No published limit ties the slope of a barrel to its bore; this is geometry and surface tension, and says how much
//! stays, not how much may. Code and listing slopes (1/4 in per ft, 2 %) are for drains and process piping.
//!
//! The model, with the free surface level and x measured inwards from the face: the lip of the open end holds water
//! to an edge depth e above its invert, so the depth at x is e − slope·x, between nothing and the bore. A barrel that
//! falls outwards keeps a short wedge at the lip; a level one a puddle of depth e throughout; one that falls inwards
//! the same puddle and a wedge that deepens to the seat. Kept water therefore never grows with slope, and is
//! continuous through level. Films and drops on the wall are left out.
//!
//! Criteria for upright tubes whose top is shut (Extrand, Langmuir 33 (2017) 12903: openings of 10 to 15 mm) do not govern
//! a barrel: it lies nearly level, and air enters along the crown where the Eötvös number ρ g D²/σ is well above one; it
//! is 20 for a bore of 1/2 in.

mod residue;
mod segment;

pub use residue::{FREE_SURFACE_LIMIT, free_to_swell, share_when_frozen, surface_tension, wet_length};

use segment::mean_segment;

use super::{OutOfRange, check_range, water::FREEZING_GROWTH};

/// Contact angle taken where none is stated, rad: 60°. Clean metal wets almost wholly, oxidised or scaled brass and
/// copper lie between; a larger angle keeps more water. An assumption, not a measurement.
pub const CONTACT_ANGLE: f64 = std::f64::consts::FRAC_PI_3;
/// Surface tension of water at 0 °C, N/m (IAPWS R1-76: 75.65 mN/m).
const SURFACE_TENSION: f64 = 0.075_65;
/// Weight of water at 0 °C, N/m³: 999.84 × 9.80665.
const WEIGHT: f64 = 999.84 * 9.806_65;
/// Bore below which a closed vertical tube does not drain past a bubble, m: twice 2.50 mm at 20 °C, from
/// ρ g R²/σ < 0.842 (Bretherton, J. Fluid Mech. 10 (1961) 166; from memory). A horizontal bore holds at least as well.
pub const CAPILLARY_BORE: f64 = 0.0050;

/// Whether air can enter the barrel behind the water.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Vent {
    /// The face end is open, or a vacuum breaker admits air.
    Open,
    /// A hose left on, or a stuck breaker, keeps air out.
    Shut,
}

/// A barrel from face to seat with its valve shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Barrel {
    /// Bore, m.
    pub bore: f64,
    /// Diameter of the stem in the middle of the bore, m; 0 for none.
    pub stem: f64,
    /// Face to seat, m.
    pub length: f64,
    /// Rise over run; positive falls outwards to the face.
    pub slope: f64,
    /// Whether air gets in.
    pub vent: Vent,
}

/// Why water stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holding {
    /// Only what the lip and an inward fall keep.
    Gravity,
    /// The bore is so small that surface tension holds it full.
    CapillaryBore,
    /// No air can replace the water: taken as full, an upper bound (Extrand, Langmuir 33 (2017) 12903, finds openings
    /// up to 10 to 15 mm holding a full tube against gravity).
    AirShutOut,
}

/// Water kept in a barrel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kept {
    /// Volume of water, m³.
    pub volume: f64,
    /// Greatest depth above the invert, m.
    pub deepest: f64,
    /// Share of the space between bore and stem, 0 to 1.
    pub share: f64,
    /// The same share once frozen (9.07 % more), at most 1.
    pub share_frozen: f64,
    /// What keeps it there.
    pub holding: Holding,
}

/// Capillary length of water at 0 °C, m: √(σ/ρg).
///
/// # Valid for
/// Clean water near 0 °C; 2 % less at 20 °C.
/// # Source
/// de Gennes, Brochard-Wyart, Quéré, Capillarity and Wetting Phenomena, ch. 2.
/// # Example
/// 2.78 mm: recomputed.
/// ```
/// assert!((coldsill_heat::physics::drainage::capillary_length() - 2.78e-3).abs() < 0.005e-3);
/// ```
#[must_use]
pub fn capillary_length() -> f64 {
    (SURFACE_TENSION / WEIGHT).sqrt()
}

/// Depth (m) to which the edge of a puddle stands before it runs: e = 2 l_c sin(θ/2), θ the contact angle (rad).
///
/// # Valid for
/// 0 to π; a wide puddle on a flat floor, which a bore several capillary lengths across approaches.
/// # Source
/// de Gennes, Brochard-Wyart, Quéré, ch. 2.
/// # Example
/// At 60° the edge stands one capillary length high; at 180° two (mercury-like, 5.6 mm): closed form.
/// ```
/// use coldsill_heat::physics::drainage::*;
/// assert!((edge_depth(CONTACT_ANGLE).unwrap() / capillary_length() - 1.0).abs() < 1e-12);
/// ```
pub fn edge_depth(contact_angle: f64) -> Result<f64, OutOfRange> {
    let theta = check_range("contact angle", contact_angle, [0.0, std::f64::consts::PI], "rad")?;
    Ok(2.0 * capillary_length() * libm::sin(0.5 * theta))
}

/// Water kept in a barrel whose valve is shut, for a contact angle (rad), by the model at the head of this file.
///
/// # Valid for
/// Bores of 1 to 100 mm, lengths of 1 mm to 2 m, slopes of −1 to 1, a stem thinner than the bore; refused outside.
/// Bores below [`CAPILLARY_BORE`] and barrels without air are taken as full.
/// # Source
/// The circular segment and its integral, the cylindrical hoof (Archimedes, Method, prop. 11); [`edge_depth`].
/// # Example
/// A hoof from an empty lip to half the bore at the seat holds 2/3 R² L: matches (contact angle 0, no stem).
/// ```
/// use coldsill_heat::physics::drainage::*;
/// let barrel = Barrel { bore: 0.018, stem: 0.0, length: 0.2, slope: -0.045, vent: Vent::Open };
/// let kept = water_kept(&barrel, 0.0).unwrap();
/// assert!((kept.volume - 2.0 / 3.0 * 0.009_f64.powi(2) * 0.2).abs() < 1e-12);
/// ```
pub fn water_kept(barrel: &Barrel, contact_angle: f64) -> Result<Kept, OutOfRange> {
    let bore = check_range("bore", barrel.bore, [0.001, 0.1], "m")?;
    let stem = check_range("stem diameter", barrel.stem, [0.0, 0.999 * bore], "m")?;
    let length = check_range("length", barrel.length, [0.001, 2.0], "m")?;
    let slope = check_range("slope", barrel.slope, [-1.0, 1.0], "m/m")?;
    let edge = edge_depth(contact_angle)?.min(bore);

    let space = std::f64::consts::FRAC_PI_4 * (bore * bore - stem * stem) * length;
    let full = |holding| Kept { volume: space, deepest: bore, share: 1.0, share_frozen: 1.0, holding };
    if barrel.vent == Vent::Shut {
        return Ok(full(Holding::AirShutOut));
    }
    if bore < CAPILLARY_BORE {
        return Ok(full(Holding::CapillaryBore));
    }
    let seat = edge - slope * length;
    let volume = length
        * (mean_segment(bore, edge, seat)
            - mean_segment(stem, edge - gap(bore, stem), seat - gap(bore, stem)));
    let share = (volume / space).clamp(0.0, 1.0);
    Ok(Kept {
        volume,
        deepest: edge.max(seat).min(bore),
        share,
        share_frozen: (share * (1.0 + FREEZING_GROWTH)).min(1.0),
        holding: Holding::Gravity,
    })
}

/// Height of a centered stem's underside above the invert.
fn gap(bore: f64, stem: f64) -> f64 {
    0.5 * (bore - stem)
}

/// Slope (m/m) from degrees below the horizontal.
///
/// # Valid for
/// Any angle short of ±90°.
/// # Source
/// Definition.
/// # Example
/// 5° is 1.05 in per ft, more than four times 1/4 in per ft (1.19°), although the two are often printed as one: closed
/// form.
/// ```
/// use coldsill_heat::physics::drainage::*;
/// assert!((12.0 * slope_from_degrees(5.0) - 1.05).abs() < 0.001);
/// assert!((slope_to_degrees(slope_from_inches_per_foot(0.25)) - 1.19).abs() < 0.005);
/// ```
#[must_use]
pub fn slope_from_degrees(degrees: f64) -> f64 {
    libm::tan(degrees.to_radians())
}

/// Degrees from a slope (m/m); the reverse of [`slope_from_degrees`].
#[must_use]
pub fn slope_to_degrees(slope: f64) -> f64 {
    libm::atan(slope).to_degrees()
}

/// Slope (m/m) from inches of fall per foot of run: one twelfth of it.
#[must_use]
pub fn slope_from_inches_per_foot(inches: f64) -> f64 {
    inches / 12.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A 3/4 in barrel, 8 in to the seat, with a 1/4 in stem.
    fn barrel(slope: f64) -> Barrel {
        Barrel { bore: 0.0183, stem: 0.00635, length: 0.2032, slope, vent: Vent::Open }
    }

    /// The contact angle at which the edge stands at a given depth.
    fn angle_of(edge: f64) -> f64 {
        2.0 * libm::asin(edge / (2.0 * capillary_length()))
    }

    #[test]
    fn volumes_match_adaptive_quadrature_of_chords() {
        // scipy 1.17.1, tests/reference/physics.py: chord lengths integrated over depth and length, no segment formula.
        // Its absolute tolerance is 1e-14 m³; the values are printed to seven figures.
        let printed = 1e-6;
        for (bore, stem, length, slope, edge, want) in [
            (0.0183, 0.00635, 0.2032, -0.0208, 0.0, 3.822075e-06),
            (0.0183, 0.00635, 0.2032, -0.2, 0.0, 3.642649e-05),
            (0.0183, 0.00635, 0.2032, 0.0208, 0.0027, 1.271489e-06),
            (0.0139, 0.0, 0.3, -0.01, 0.0027, 1.169913e-05),
            (0.0183, 0.00635, 0.2032, 0.0, 0.0027, 4.908052e-06),
        ] {
            let it = Barrel { bore, stem, length, slope, vent: Vent::Open };
            let got = water_kept(&it, angle_of(edge)).unwrap().volume;
            assert!((got / want - 1.0).abs() < printed, "{slope}: {got} {want}");
        }
    }

    #[test]
    fn volumes_match_a_sum_of_upright_columns() {
        // Upright columns of water over a grid of the plan, from the bore's floor to the level surface or the bore's
        // roof, less the stem's part. The midpoint rule errs by about 1e-4 where columns vanish at the bore's sides.
        let columns = 5e-4;
        let edge = edge_depth(CONTACT_ANGLE).unwrap();
        for slope in [-0.3, -0.05, -0.0104, 0.0, 0.0104] {
            let it = barrel(slope);
            let n = 1000;
            let mut area = 0.0;
            for i in 0..n {
                // water level above the axis, at x
                let level = edge - slope * (f64::from(i) + 0.5) * it.length / f64::from(n) - 0.5 * it.bore;
                for j in 0..n {
                    let side = ((f64::from(j) + 0.5) / f64::from(n) - 0.5) * it.bore;
                    let wet = |diameter: f64| {
                        let half = (0.25 * diameter * diameter - side * side).max(0.0).sqrt();
                        level.clamp(-half, half) + half
                    };
                    area += wet(it.bore) - wet(it.stem);
                }
            }
            let want = area * it.bore * it.length / (f64::from(n) * f64::from(n));
            let got = water_kept(&it, CONTACT_ANGLE).unwrap().volume;
            assert!((got / want - 1.0).abs() < columns, "{slope}: {got} {want}");
        }
    }

    #[test]
    fn a_wedge_to_the_crown_at_the_seat_fills_half_the_bore() {
        // Symmetry: a plane through the invert at one end and the crown at the other halves the cylinder.
        let it = Barrel { slope: -0.0183 / 0.2032, ..barrel(0.0) };
        let kept = water_kept(&it, 0.0).unwrap();
        assert!((kept.share - 0.5).abs() < 1e-12, "{}", kept.share);
        assert!((kept.deepest - it.bore).abs() < 1e-12);
        assert!((kept.share_frozen - 0.545).abs() < 0.0005);
    }

    #[test]
    fn more_outward_slope_never_keeps_more_and_level_is_no_jump() {
        let slopes: Vec<f64> = (-400..=400).map(|i| f64::from(i) * 1e-3).collect();
        let kept: Vec<Kept> =
            slopes.iter().map(|&it| water_kept(&barrel(it), CONTACT_ANGLE).unwrap()).collect();
        for (pair, slope) in kept.windows(2).zip(&slopes) {
            assert!(pair[1].volume <= pair[0].volume, "{slope}");
            assert!(pair[1].deepest <= pair[0].deepest, "{slope}");
            assert!(pair[0].share >= pair[1].share && pair[0].share <= pair[0].share_frozen);
        }
        let level = water_kept(&barrel(0.0), CONTACT_ANGLE).unwrap().volume;
        for tiny in [-1e-7, -1e-9, 1e-9, 1e-7] {
            let near = water_kept(&barrel(tiny), CONTACT_ANGLE).unwrap().volume;
            assert!((near / level - 1.0).abs() < 1e-4, "{tiny}: {near} {level}");
        }
    }

    #[test]
    fn a_quarter_inch_per_foot_keeps_a_drop_where_level_keeps_a_puddle() {
        // 1/4 in per ft clears all but 2.78/0.0208 = 133 mm of the bottom; 5° all but 32 mm.
        let level = water_kept(&barrel(0.0), CONTACT_ANGLE).unwrap().volume;
        let quarter = water_kept(&barrel(slope_from_inches_per_foot(0.25)), CONTACT_ANGLE).unwrap().volume;
        let five = water_kept(&barrel(slope_from_degrees(5.0)), CONTACT_ANGLE).unwrap().volume;
        assert!(quarter < 0.3 * level && five < 0.3 * quarter, "{level} {quarter} {five}");
        assert!(five > 0.0);
    }

    #[test]
    fn a_larger_contact_angle_keeps_more() {
        let kept = |degrees: f64| water_kept(&barrel(0.01), degrees.to_radians()).unwrap().volume;
        assert!(kept(30.0) < kept(60.0) && kept(60.0) < kept(90.0));
        assert!(kept(0.0).abs() < 1e-15);
    }

    #[test]
    fn a_fine_bore_and_one_without_air_stay_full() {
        let fine = Barrel { bore: 0.0049, stem: 0.0, ..barrel(0.1) };
        assert_eq!(water_kept(&fine, CONTACT_ANGLE).unwrap().holding, Holding::CapillaryBore);
        let hose_on = Barrel { vent: Vent::Shut, ..barrel(0.1) };
        let kept = water_kept(&hose_on, CONTACT_ANGLE).unwrap();
        assert_eq!(kept.holding, Holding::AirShutOut);
        assert!((kept.volume - 4.7007e-5).abs() < 0.001e-5, "{}", kept.volume); // π/4 (18.3² − 6.35²) × 203.2 mm³
        assert!((kept.share_frozen - 1.0).abs() < 1e-15);
    }

    #[test]
    fn bretherton_puts_the_capillary_bore_at_five_millimetres() {
        // ρ g R²/σ = 0.842 at 20 °C: ρ 998.2, σ 72.75 mN/m.
        let r = (0.842_f64 * 0.072_75 / (998.2 * 9.806_65)).sqrt();
        assert!((2.0 * r - CAPILLARY_BORE).abs() < 0.05e-3, "{r}");
    }

    #[test]
    fn nonsense_is_refused() {
        for it in [
            Barrel { bore: -0.01, ..barrel(0.0) },
            Barrel { stem: 0.02, ..barrel(0.0) },
            Barrel { stem: -0.001, ..barrel(0.0) },
            Barrel { length: 0.0, ..barrel(0.0) },
            barrel(f64::NAN),
            barrel(5.0), // degrees by mistake
        ] {
            assert!(water_kept(&it, CONTACT_ANGLE).is_err(), "{it:?}");
        }
        assert!(water_kept(&barrel(0.0), 60.0).is_err()); // degrees by mistake
    }
}

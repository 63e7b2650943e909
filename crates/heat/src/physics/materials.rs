//! Conductivity and heat capacity of what barrels, supplies and walls are made of: one table, split by trade into files.
//!
//! Each row carries the least and greatest value published for the same thing, so that a result can carry a band.
//! Values are for dry material near 0 to 24 °C. Air is not a row: an air layer goes by resistance,
//! and stores [`super::air_film::STILL_AIR_CAPACITY`].

mod building;
mod insulation;
mod metal;
mod pipe;
mod storage;

pub use pipe::RUBBER;
pub use storage::{Storage, lightest_of_conductivity};

use super::{OutOfRange, Spread, Standing, check_range, interpolate, plain_name};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// What a material is, for its plausible range of conductivity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Class {
    /// Barrels, stems, flanges, metal supplies and metal siding.
    Metal,
    /// Plastic supply pipe.
    SupplyPipe,
    /// Batts, boards, foams, loose fill, pipe insulation.
    Insulation,
    /// Exterior finishes other than metal, brick, stucco and stone.
    Cladding,
    /// Structural sheathing.
    Sheathing,
    /// Solid wood.
    Wood,
    /// Concrete, block, brick, stucco, natural stone.
    Masonry,
    /// Interior board.
    Board,
    /// Washers and gaskets.
    Elastomer,
}

impl Class {
    /// Least and greatest conductivity a member can have, W/(m·K): outside it a value is a slip of the unit or the
    /// decimal point, not a spread.
    #[must_use]
    pub fn plausible(self) -> (f64, f64) {
        match self {
            Self::Metal => (10.0, 430.0),
            Self::SupplyPipe => (0.1, 0.6),
            Self::Insulation => (0.018, 0.06),
            Self::Cladding => (0.05, 0.5),
            Self::Sheathing => (0.04, 0.2),
            Self::Wood => (0.08, 0.25),
            Self::Masonry => (0.3, 11.0),
            Self::Board => (0.1, 0.6),
            Self::Elastomer => (0.1, 0.5),
        }
    }
}

/// One row of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material {
    /// Lower-case words joined by hyphens.
    pub key: &'static str,
    /// Printed name.
    pub name: &'static str,
    /// Other words for it, lower case.
    pub aliases: &'static [&'static str],
    /// What it is.
    pub class: Class,
    /// Thermal conductivity, W/(m·K), with the published spread.
    pub conductivity: Spread,
    /// Total emissivity of its surface, bright to weathered; for metals and pipes, which stand free in air.
    pub emissivity: Option<Spread>,
    /// Where the value used, and the ends of the spread, are published.
    pub source: &'static str,
    /// How the value used came to be here.
    pub standing: Standing,
    /// Density and specific heat, with a source of their own.
    pub storage: Storage,
}

/// Every row, in the order of the files.
pub fn all() -> impl Iterator<Item = &'static Material> {
    [metal::ROWS, pipe::ROWS, insulation::ROWS, building::ROWS].into_iter().flatten()
}

/// The material of a key or alias; case, hyphens and underscores are ignored.
///
/// # Valid for
/// Keys and aliases of [`all`].
/// # Source
/// The row's own.
/// # Example
/// ```
/// use coldsill_heat::physics::materials::find;
/// assert_eq!(find("Face Brick").map(|it| it.conductivity.used), Some(1.33));
/// assert_eq!(find("304").map(|it| it.key), Some("stainless"));
/// assert!(find("kryptonite").is_none());
/// ```
#[must_use]
pub fn find(word: &str) -> Option<&'static Material> {
    /// By plain name; the first of two rows with one name counts.
    static BY_NAME: LazyLock<BTreeMap<String, &Material>> = LazyLock::new(|| {
        let names = |row: &'static Material| std::iter::once(row.key).chain(row.aliases.iter().copied());
        let mut by_name = BTreeMap::new();
        for (name, row) in all().flat_map(|row| names(row).map(move |name| (name, row))) {
            by_name.entry(plain_name(name)).or_insert(row);
        }
        by_name
    });
    BY_NAME.get(&plain_name(word)).copied()
}

/// ISO 6946, unventilated air layer, horizontal flow: thickness in m, resistance in m²·K/W.
const AIR_LAYER: [[f64; 2]; 7] =
    [[0.0, 0.0], [0.005, 0.11], [0.007, 0.13], [0.010, 0.15], [0.015, 0.17], [0.025, 0.18], [0.300, 0.18]];

/// Thermal resistance (m²·K/W) of an unventilated air layer of a thickness (m) in a wall, faces of emissivity 0.9;
/// straight lines between the rows of the standard.
///
/// # Valid for
/// 0 to 300 mm with horizontal heat flow; refused outside. A vented rain screen has less, a foil-faced layer about
/// twice.
/// # Source
/// ISO 6946, table on air layers (from memory). ASHRAE prints 0.15 to 0.18 for 13 to 90 mm.
/// # Example
/// 5 mm 0.11, 25 mm and more 0.18: from memory.
/// ```
/// use coldsill_heat::physics::materials::air_layer_resistance;
/// assert_eq!(air_layer_resistance(0.025), Ok(0.18));
/// assert!(air_layer_resistance(-0.01).is_err());
/// ```
pub fn air_layer_resistance(thickness: f64) -> Result<f64, OutOfRange> {
    Ok(interpolate(&AIR_LAYER, check_range("air layer", thickness, [0.0, 0.3], "m")?, 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 Btu/(h·ft·°F) and 1 Btu·in/(h·ft²·°F) in W/(m·K).
    const BTU_FOOT: f64 = 1.730_735;
    const BTU_INCH: f64 = BTU_FOOT / 12.0;

    fn used(key: &str) -> f64 {
        find(key).unwrap().conductivity.used
    }

    #[test]
    fn every_row_lies_within_its_spread_and_its_class() {
        for it in all() {
            let (least, greatest) = it.class.plausible();
            let Spread { low, used, high } = it.conductivity;
            assert!(least <= low && low <= used && used <= high && high <= greatest, "{}", it.key);
            assert!(!it.source.is_empty() && !it.name.is_empty(), "{}", it.key);
            let free_standing = matches!(it.class, Class::Metal | Class::SupplyPipe);
            assert_eq!(it.emissivity.is_some(), free_standing, "{}", it.key);
            if let Some(Spread { low, used, high }) = it.emissivity {
                assert!(0.0 < low && low <= used && used <= high && high < 1.0, "{}", it.key);
            }
        }
    }

    #[test]
    fn a_slip_of_the_decimal_point_would_be_caught_in_every_class() {
        // Published slips this guards against: a cork tile at 65 for 0.065, hardboard at 0.82 for 0.82 Btu·in (0.118),
        // plasterboard at 0.58. A tenfold error of the value used leaves the class's range, bar metals and stone.
        for it in all().filter(|it| !matches!(it.class, Class::Metal | Class::Masonry)) {
            let (least, greatest) = it.class.plausible();
            let k = it.conductivity.used;
            assert!(k * 10.0 > greatest && k / 10.0 < least, "{}", it.key);
        }
        assert!(find("gypsum-board").unwrap().conductivity.high < 0.58);
    }

    #[test]
    fn keys_are_kebab_case_and_no_word_names_two_rows() {
        let mut words = Vec::new();
        for it in all() {
            let plain = |word: &str| word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit());
            assert!(it.key.split('-').all(|word| !word.is_empty() && plain(word)), "{}", it.key);
            for alias in it.aliases {
                assert_eq!(*alias, alias.to_lowercase(), "{}", it.key);
                words.push(alias.replace('-', " "));
            }
            words.push(it.key.replace('-', " "));
        }
        words.sort();
        for pair in words.windows(2) {
            assert_ne!(pair[0], pair[1]);
        }
    }

    #[test]
    fn every_key_and_alias_finds_its_own_row() {
        for it in all() {
            for word in it.aliases.iter().chain([&it.key]) {
                assert_eq!(find(&word.to_uppercase()).map(|found| found.key), Some(it.key), "{word}");
            }
        }
        assert_eq!(find("  stainless_steel "), find("stainless"));
        assert_eq!(find(""), None);
    }

    #[test]
    fn metals_match_the_copper_associations_sheets_in_their_own_unit() {
        // Btu/(h·ft·°F) at 68 °F, Copper Development Association: from memory bar the castings, which were seen.
        let rounding = 0.6; // half a printed unit and a little for the sheets' own conversion
        for (key, btu) in [("copper", 196.0), ("brass", 67.0), ("red-brass", 92.0), ("cast-red-brass", 41.9)]
        {
            assert!((used(key) / BTU_FOOT - btu).abs() < rounding, "{key}: {}", used(key));
        }
    }

    #[test]
    fn a_table_in_common_use_at_32_f_disagrees_and_we_say_where() {
        // "Copper 224, brass 56, stainless 8 Btu/(h·ft·°F) at 32 °F": pure copper, 70/30 cartridge brass, a rounded
        // austenitic steel. Barrels are of C12200 copper and of free-cutting or forging brass at 60/40.
        let [copper, brass, stainless] = [224.0, 56.0, 8.0].map(|btu| btu * BTU_FOOT);
        let spread = |key| find(key).unwrap().conductivity;
        // 388: within the spread carried, 14 % above the value used
        assert!(copper < spread("copper").high && copper > 1.1 * spread("copper").used);
        // 97: below the whole spread of leaded brass; taking it would make a drained seat seem warmer than it is
        assert!(brass < spread("brass").low);
        // 13.8: within the spread
        assert!(stainless > spread("stainless").low && stainless < spread("stainless").used);
    }

    #[test]
    fn phosphorus_deoxidised_copper_carries_the_whole_disagreement() {
        // CRC Handbook at 273 K 220; ISO 10456 380; a vendor's 380 beside its own 85 % IACS; NIST OFHC 394 is another
        // metal. By Wiedemann and Franz, 85 % IACS (49.3 MS/m) at 293 K carries 2.44e-8 × 49.3e6 × 293 = 353 W/(m·K).
        let Spread { low, used, high } = find("copper").unwrap().conductivity;
        let wiedemann_franz = 2.44e-8 * 0.85 * 58.0e6 * 293.0;
        assert!((used / wiedemann_franz - 1.0).abs() < 0.05, "{wiedemann_franz}");
        assert!(low <= 220.0 && (380.0..394.0).contains(&high));
    }

    #[test]
    fn stainless_at_the_ice_point_matches_the_cryogenic_fit() {
        // NIST fit for 304: 14.1, 14.6, 15.1 at −20, 0, 20 °C. ISO 10456 designs with 17; Incropera's 316 has 13.4.
        let it = find("stainless").unwrap().conductivity;
        assert!((it.used - 14.6).abs() < 0.05 && it.low <= 13.4 && it.high >= 17.0);
    }

    #[test]
    fn batts_match_the_labelled_resistance_of_their_nominal_thickness() {
        // R in h·ft²·°F/Btu over inches: R-11 and R-13 at 3.5 in bracket the ordinary batt, R-15 at 3.5 in and R-21 at
        // 5.5 in are the dense one (ASHRAE Fundamentals 2005, ch. 25, seen in a public data set).
        let k = |inches: f64, r: f64| inches / r * BTU_INCH;
        let batt = find("fiberglass-batt").unwrap().conductivity;
        assert!(k(3.5, 13.0) < batt.used && batt.used < k(3.5, 11.0));
        assert!(batt.low <= k(3.5, 13.0) && batt.high >= k(6.25, 19.0));
        let dense = find("fiberglass-batt-high-density").unwrap().conductivity;
        assert!((dense.used - k(3.5, 15.0)).abs() < 0.003 && (dense.used - k(5.5, 21.0)).abs() < 0.003);
    }

    #[test]
    fn imperial_tables_give_the_same_numbers() {
        // Btu·in/(h·ft²·°F): ASHRAE 1989 stucco 4.8 and face brick 9.24 (0.40 and 0.77 per foot), wood 0.84; makers'
        // CPVC 0.95 by ASTM C177; extruded polystyrene 0.20; plywood 0.80.
        for (key, btu) in [
            ("stucco", 0.40 * 12.0),
            ("face-brick", 0.77 * 12.0),
            ("wood-siding", 0.07 * 12.0),
            ("cpvc", 0.95),
            ("xps", 0.20),
            ("plywood", 0.80),
        ] {
            assert!(
                (used(key) / (btu * BTU_INCH) - 1.0).abs() < 0.03,
                "{key}: {} {}",
                used(key),
                btu * BTU_INCH
            );
        }
    }

    #[test]
    fn a_hollow_block_stands_for_its_measured_resistance() {
        // 8 in sand-and-gravel block, two or three cores, empty: R 0.97 to 1.11 h·ft²·°F/Btu (ASHRAE, from memory).
        let it = find("concrete-block-hollow").unwrap().conductivity;
        let r_imperial = 0.2032 / it.used / 0.176_11;
        assert!((0.97..=1.11).contains(&r_imperial), "{r_imperial}");
        // the web alone is denser and conducts more; taken for the block it would be the wrong row
        assert!(it.used < used("concrete"));
    }

    #[test]
    fn air_layers_follow_the_standard_and_never_lose_by_thickness() {
        for (mm, want) in
            [(0.0, 0.0), (5.0, 0.11), (7.0, 0.13), (10.0, 0.15), (15.0, 0.17), (25.0, 0.18), (100.0, 0.18)]
        {
            assert!((air_layer_resistance(mm / 1000.0).unwrap() - want).abs() < 1e-12, "{mm}");
        }
        assert!((air_layer_resistance(0.020).unwrap() - 0.175).abs() < 1e-12);
        let mut last = 0.0;
        for mm in 0..=300 {
            let r = air_layer_resistance(f64::from(mm) / 1000.0).unwrap();
            assert!(r >= last);
            last = r;
        }
        assert!(air_layer_resistance(0.31).is_err() && air_layer_resistance(f64::NAN).is_err());
        // A second derivation for 25 mm: ISO 6946 annex, ha 1.25 and hr 5.1 × E with E = 1/(2/0.9 − 1) at 10 °C.
        let derived = 1.0_f64 / (1.25 + 5.14 / (2.0 / 0.9 - 1.0));
        assert!((derived - 0.18).abs() < 0.005, "{derived}");
    }
}

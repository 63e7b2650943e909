//! What a material stores: density and specific heat, for freezing in time.
//!
//! Where tables disagree, by up to a quarter in density times specific heat, the row says what the others print; the
//! spread is not carried. Where nothing is stated the lightest plausible solid is taken: the wall then cools
//! sooner, and the water in it freezes sooner, than in fact.

use super::{Class, Material, Standing};

/// Density and specific heat of a dry material near 0 to 24 °C, and where they are published. Air in the pores of a
/// light insulation adds about 1300 J/(m³·K), which no table counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Storage {
    /// Density in bulk, kg/m³.
    pub density: f64,
    /// Specific heat at constant pressure, J/(kg·K).
    pub specific_heat: f64,
    /// Where the two are published, and what other tables print.
    pub source: &'static str,
    /// How the two came to be here.
    pub standing: Standing,
}

impl Storage {
    /// Density in kg/m³ and specific heat in J/(kg·K), with their source.
    #[must_use]
    pub const fn new(density: f64, specific_heat: f64, source: &'static str, standing: Standing) -> Self {
        Self { density, specific_heat, source, standing }
    }
}

impl Material {
    /// Heat capacity by volume, J/(m³·K): density times specific heat.
    #[must_use]
    pub fn heat_capacity(&self) -> f64 {
        self.storage.density * self.storage.specific_heat
    }
}

impl Class {
    /// Every class.
    pub const ALL: [Self; 9] = [
        Self::Metal,
        Self::SupplyPipe,
        Self::Insulation,
        Self::Cladding,
        Self::Sheathing,
        Self::Wood,
        Self::Masonry,
        Self::Board,
        Self::Elastomer,
    ];

    /// Its name in a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Metal => "metal",
            Self::SupplyPipe => "plastic pipe",
            Self::Insulation => "insulation",
            Self::Cladding => "cladding",
            Self::Sheathing => "sheathing",
            Self::Wood => "wood",
            Self::Masonry => "masonry",
            Self::Board => "board",
            Self::Elastomer => "rubber",
        }
    }

    /// Least and greatest heat capacity by volume a member can have, J/(m³·K), as [`Class::plausible`] for
    /// conductivity.
    #[must_use]
    pub fn plausible_capacity(self) -> (f64, f64) {
        match self {
            // Dulong and Petit: 24.9 J/(mol·K) over the molar volumes of aluminum (10 cm³) and iron or nickel (6.6)
            Self::Metal => (2.3e6, 4.1e6),
            Self::SupplyPipe => (1.1e6, 2.4e6),
            // an R-11 batt of 7 kg/m³ to a rigid mineral-wool board of 150
            Self::Insulation => (5.5e3, 1.6e5),
            Self::Cladding => (0.5e6, 2.0e6),
            Self::Sheathing => (0.25e6, 1.5e6),
            Self::Wood => (0.45e6, 1.6e6),
            // a lightweight hollow block in bulk to dense stone
            Self::Masonry => (0.4e6, 3.0e6),
            Self::Board => (0.6e6, 1.4e6),
            Self::Elastomer => (0.9e6, 2.8e6),
        }
    }
}

/// The least heat capacity (J/(m³·K)) of a solid of which only the conductivity (W/(m·K)) is known, and the class it is
/// from: of the classes whose plausible conductivities reach there, the one with the least plausible capacity. Below
/// them all, which is vacuum panels and aerogel, insulation.
///
/// # Valid for
/// Conductivities of solids, 0.004 to 430 W/(m·K). An adverse end, not an estimate: with it a wall cools sooner than
/// the real one.
/// # Source
/// [`Class::plausible`] and [`Class::plausible_capacity`].
/// # Example
/// A batt's 0.043 W/(m·K) may also be a fiberboard's, which stores fifty times as much: the batt is taken.
/// ```
/// use coldsill_heat::physics::materials::{Class, lightest_of_conductivity};
/// assert_eq!(lightest_of_conductivity(0.043), (Class::Insulation, 5.5e3));
/// assert_eq!(lightest_of_conductivity(50.0).0, Class::Metal);
/// ```
#[must_use]
pub fn lightest_of_conductivity(conductivity: f64) -> (Class, f64) {
    let reaches = |class: &Class| {
        let (least, greatest) = class.plausible();
        least <= conductivity && conductivity <= greatest
    };
    let class = Class::ALL
        .into_iter()
        .filter(reaches)
        .min_by(|a, b| a.plausible_capacity().0.total_cmp(&b.plausible_capacity().0))
        .unwrap_or(Class::Insulation);
    (class, class.plausible_capacity().0)
}

#[cfg(test)]
mod tests {
    use super::super::{all, find};
    use super::*;

    /// 1 lb/ft³, 1 lb/in³ and 1 Btu/(lb·°F) in SI.
    const PCF: f64 = 16.018_46;
    const LB_IN3: f64 = 27_679.9;
    const BTU_LB: f64 = 4186.8;

    fn capacity(key: &str) -> f64 {
        find(key).unwrap().heat_capacity()
    }

    fn near(key: &str, want: f64, share: f64) {
        let ours = capacity(key);
        assert!((ours / want - 1.0).abs() <= share, "{key}: {ours} against {want}");
    }

    #[test]
    fn every_row_stores_what_its_class_can_store() {
        for it in all() {
            let (least, greatest) = it.class.plausible_capacity();
            let ours = it.heat_capacity();
            assert!(least <= ours && ours <= greatest, "{}: {ours}", it.key);
            assert!(!it.storage.source.is_empty(), "{}", it.key);
        }
    }

    #[test]
    fn a_tenfold_slip_of_a_capacity_would_be_caught() {
        // Insulation is left out: a batt and a rigid board of one fiber differ in density by twenty.
        for it in all().filter(|it| it.class != Class::Insulation) {
            let (least, greatest) = it.class.plausible_capacity();
            let ours = it.heat_capacity();
            assert!(ours * 10.0 > greatest && ours / 10.0 < least, "{}", it.key);
        }
    }

    #[test]
    fn alloys_store_what_their_elements_store_by_neumann_and_kopp() {
        // J/(kg·K) of the elements at 25 °C, CRC Handbook (from memory); shares by mass of each alloy's main parts.
        const CU: f64 = 385.0;
        const ZN: f64 = 388.0;
        const PB: f64 = 129.0;
        const SN: f64 = 227.0;
        const SI: f64 = 712.0;
        const AL: f64 = 897.0;
        const FE: f64 = 449.0;
        const CR: f64 = 449.0;
        const NI: f64 = 444.0;
        // Sheets print 0.09 Btu/(lb·°F) for every copper alloy: half of that digit is 5.6 %.
        let rounding = 0.005 / 0.09;
        for (key, kopp) in [
            ("copper", CU),
            ("brass", 0.615 * CU + 0.354 * ZN + 0.031 * PB),
            ("red-brass", 0.85 * CU + 0.15 * ZN),
            ("cast-red-brass", 0.81 * CU + 0.09 * ZN + 0.07 * PB + 0.03 * SN),
            ("silicon-brass", 0.75 * CU + 0.22 * ZN + 0.03 * SI),
            ("zinc-die-cast", 0.96 * ZN + 0.04 * AL),
            ("carbon-steel", FE),
            ("stainless", 0.72 * FE + 0.18 * CR + 0.10 * NI),
            ("aluminum", AL),
        ] {
            let ours = find(key).unwrap().storage.specific_heat;
            assert!((ours / kopp - 1.0).abs() < rounding, "{key}: {ours} {kopp}");
        }
    }

    #[test]
    fn stainless_matches_the_cryogenic_fit_and_not_the_sheets_500() {
        // NIST fit for the specific heat of 304, log10 in log10 T, 4 to 300 K, uncertain by 5 %: 468 at 273.15 K.
        let fit = [22.0061, -127.5528, 303.647, -381.0098, 274.0328, -112.9212, 24.7593, -2.239_153];
        let x = libm::log10(273.15);
        let nist = libm::pow(10.0, fit.iter().rev().fold(0.0, |sum, it| sum * x + it));
        let ours = find("stainless").unwrap().storage.specific_heat;
        assert!((ours / nist - 1.0).abs() < 0.05, "{nist}");
        assert!(500.0 / nist > 1.05);
    }

    #[test]
    fn metals_and_plastics_match_a_second_table() {
        // CIBSE Guide A, table 3.36 (a public copy was seen): kg/m³ and J/(kg·K). It rounds to 100 and 10, and its
        // copper is 4 % lighter than the pure metal, its PVC's specific heat 11 % above EN 12524's.
        for (key, density, specific_heat, share) in [
            ("copper", 8600.0, 390.0, 0.05),
            ("brass", 8500.0, 390.0, 0.05),
            ("stainless", 8000.0, 480.0, 0.06),
            ("carbon-steel", 7800.0, 480.0, 0.07),
            ("aluminum", 2700.0, 880.0, 0.05),
            ("pvc", 1380.0, 1000.0, 0.12),
        ] {
            near(key, density * specific_heat, share);
        }
        // C36000 and C23000 by mill sheets, lb/in³ and Btu/(lb·°F) with one figure: half of its last digit is 6 %.
        near("brass", 0.307 * LB_IN3 * 0.09 * BTU_LB, 0.06);
        near("red-brass", 0.316 * LB_IN3 * 0.09 * BTU_LB, 0.06);
        // North American table of plastic pipe, specific gravity and Btu/(lb·°F) with two figures.
        near("pex", 940.0 * 0.55 * BTU_LB, 0.02);
        near("cpvc", 1540.0 * 0.20 * BTU_LB, 0.09);
    }

    #[test]
    fn walls_match_a_second_table() {
        // Masonry engineers' tables by inch: 11.3 lb/ft² and 2.48 Btu/(ft²·°F) for the densest concrete (seen).
        near("concrete", 2.48 * 12.0 * BTU_LB * PCF, 0.02);
        // ASHRAE 1997 by 1/2 in of gypsum board, plywood and fiberboard sheathing, Btu/(ft²·°F) with two figures.
        near("gypsum-board", 0.54 * 24.0 * BTU_LB * PCF, 0.02);
        near("plywood", 0.41 * 24.0 * BTU_LB * PCF, 0.02);
        near("fiberboard-sheathing", 0.23 * 24.0 * BTU_LB * PCF, 0.03);
        // Swiss practice after EN ISO 10456 (a public copy was seen): each country has its own usual densities, which
        // for brick, board and foam differ by 15 to 20 %.
        for (key, density, specific_heat, share) in [
            ("face-brick", 1800.0, 880.0, 0.20),
            ("concrete", 2300.0, 880.0, 0.05),
            ("softwood", 450.0, 1700.0, 0.06),
            ("gypsum-board", 900.0, 1050.0, 0.10),
            ("eps", 20.0, 1500.0, 0.10),
            ("xps", 35.0, 1450.0, 0.25),
            ("polyiso", 35.0, 1400.0, 0.15),
            ("mineral-wool", 30.0, 1030.0, 0.20),
        ] {
            near(key, density * specific_heat, share);
        }
    }

    #[test]
    fn wood_does_not_store_what_one_old_table_says() {
        // ASHRAE 1989 prints wood of 37 lb/ft³ with 0.6 Btu/(lb·°F), 2512 J/(kg·K). Dry wood has 1110 + 4.2 t J/(kg·K)
        // (USDA Wood Handbook: 0.25 + 0.0006 °F, from memory); with 12 % water by weight about 1600 to 1700.
        let dry = (0.25 + 0.0006 * 32.0) * BTU_LB;
        for key in ["softwood", "log", "hardwood", "wood-siding", "plywood"] {
            let ours = find(key).unwrap().storage.specific_heat;
            assert!(dry <= ours && ours <= (dry + 0.12 * 4217.0) / 1.12 * 1.15, "{key}: {ours}");
        }
        assert!(0.6 * BTU_LB > 2.0 * dry);
    }

    #[test]
    fn a_hollow_block_weighs_what_its_units_weigh() {
        // 8 in units of normal weight, 33 to 36 lb by ASHRAE's own rows, in a body of 7 5/8 × 7 5/8 × 15 5/8 in.
        let body = 7.625 * 7.625 * 15.625 * 0.0254 * 0.0254 * 0.0254;
        let density = find("concrete-block-hollow").unwrap().storage.density;
        let [light, heavy] = [33.0, 36.0].map(|pounds| pounds * 0.453_592_37 / body);
        assert!(light <= density && density <= heavy, "{light} {heavy}");
    }

    #[test]
    fn the_lightest_of_a_conductivity_is_no_heavier_than_any_row_that_has_it() {
        for it in all() {
            let (_, least) = lightest_of_conductivity(it.conductivity.used);
            assert!(least <= it.heat_capacity(), "{}", it.key);
        }
        // Below every class: a vacuum panel.
        assert_eq!(lightest_of_conductivity(0.007).0, Class::Insulation);
        assert_eq!(lightest_of_conductivity(1.3).0, Class::Masonry);
        assert_eq!(lightest_of_conductivity(0.15).0, Class::Sheathing);
    }
}

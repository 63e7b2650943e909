//! Outside diameter and wall of supply tubing by nominal size.

use super::Standing;

/// Nominal size of an outlet's inlet or its supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Size {
    /// 1/2 in.
    Half,
    /// 3/4 in.
    ThreeQuarter,
    /// 1 in.
    One,
}

impl Size {
    /// All sizes, ascending.
    pub const ALL: [Self; 3] = [Self::Half, Self::ThreeQuarter, Self::One];

    /// Nominal size in inches. A name, not a dimension: a 1/2 in copper tube is 5/8 in across.
    #[must_use]
    pub fn inches(self) -> f64 {
        match self {
            Self::Half => 0.5,
            Self::ThreeQuarter => 0.75,
            Self::One => 1.0,
        }
    }
}

/// A kind of tube: material and dimension series.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Copper water tube type K, the heaviest.
    CopperK,
    /// Copper water tube type L, the usual one for supply.
    CopperL,
    /// Copper water tube type M, the lightest.
    CopperM,
    /// Cross-linked polyethylene, copper tube size, SDR 9.
    Pex,
    /// Chlorinated PVC, copper tube size, SDR 11.
    Cpvc,
    /// PVC pipe, schedule 40.
    Pvc,
    /// Steel pipe, schedule 40, galvanized.
    GalvanizedSteel,
    /// Stainless steel pipe, schedule 40S.
    Stainless,
    /// Red brass pipe, regular weight.
    RedBrass,
    /// Polyethylene pipe, iron pipe size, DR 11.
    Polyethylene,
}

impl Kind {
    /// All kinds.
    pub const ALL: [Self; 10] = [
        Self::CopperK,
        Self::CopperL,
        Self::CopperM,
        Self::Pex,
        Self::Cpvc,
        Self::Pvc,
        Self::GalvanizedSteel,
        Self::Stainless,
        Self::RedBrass,
        Self::Polyethylene,
    ];

    /// Key of the material in [`super::materials`].
    #[must_use]
    pub fn material(self) -> &'static str {
        match self {
            Self::CopperK | Self::CopperL | Self::CopperM => "copper",
            Self::Pex => "pex",
            Self::Cpvc => "cpvc",
            Self::Pvc => "pvc",
            Self::GalvanizedSteel => "galvanized-steel",
            Self::Stainless => "stainless",
            Self::RedBrass => "red-brass",
            Self::Polyethylene => "polyethylene",
        }
    }
}

/// The usual kind of tube for a supply material's key; none where the material is not piped. Copper is taken as
/// type L, brass as red brass pipe.
///
/// # Valid for
/// Keys of [`super::materials`].
/// # Source
/// Trade practice in North America.
/// # Example
/// ```
/// use coldsill_heat::physics::tubes::*;
/// assert_eq!(usual_kind("copper"), Some(Kind::CopperL));
/// assert_eq!(usual_kind("stucco"), None);
/// ```
#[must_use]
pub fn usual_kind(material: &str) -> Option<Kind> {
    match material {
        "copper" => Some(Kind::CopperL),
        "brass" => Some(Kind::RedBrass),
        "carbon-steel" => Some(Kind::GalvanizedSteel),
        other => Kind::ALL.into_iter().find(|it| it.material() == other),
    }
}

/// Dimensions of one tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Kind of tube.
    pub kind: Kind,
    /// Nominal size.
    pub size: Size,
    /// Outside diameter, m.
    pub outside_diameter: f64,
    /// Wall thickness, m: nominal for copper, brass and steel, the specified minimum for plastics.
    pub wall: f64,
    /// Standard that fixes both.
    pub standard: &'static str,
    /// How the dimensions came to be here.
    pub standing: Standing,
}

impl Tube {
    /// Bore, m: outside diameter less two walls.
    #[must_use]
    pub fn bore(&self) -> f64 {
        self.outside_diameter - 2.0 * self.wall
    }
}

const INCH: f64 = 0.0254;
/// Outside diameters in inches: copper tube size (nominal + 1/8) and iron pipe size.
const CTS: [f64; 3] = [0.625, 0.875, 1.125];
const IPS: [f64; 3] = [0.840, 1.050, 1.315];

/// The tube of a kind and size. Walls as the standards print them, in inches, for 1/2, 3/4 and 1 in.
///
/// # Valid for
/// 1/2, 3/4 and 1 in; every kind has all three.
/// # Source
/// Named in [`Tube::standard`].
/// # Example
/// ASTM B88 type L, 3/4 in: 0.875 in outside, 0.785 in bore (Copper Tube Handbook, table 2b; from memory): matches.
/// ```
/// use coldsill_heat::physics::tubes::*;
/// let it = tube(Kind::CopperL, Size::ThreeQuarter);
/// assert!((it.bore() / 0.0254 - 0.785).abs() < 1e-9);
/// ```
#[must_use]
pub fn tube(kind: Kind, size: Size) -> Tube {
    let (outside, walls, standard, standing) = match kind {
        Kind::CopperK => (CTS, [0.049, 0.065, 0.065], "ASTM B88, type K", Standing::Seen),
        Kind::CopperL => (CTS, [0.040, 0.045, 0.050], "ASTM B88, type L", Standing::Seen),
        Kind::CopperM => (CTS, [0.028, 0.032, 0.035], "ASTM B88, type M", Standing::Seen),
        Kind::Pex => (CTS, [0.070, 0.097, 0.125], "ASTM F876, SDR 9", Standing::Seen),
        Kind::Cpvc => (CTS, [0.068, 0.080, 0.102], "ASTM D2846, SDR 11", Standing::Seen),
        Kind::Pvc => (IPS, [0.109, 0.113, 0.133], "ASTM D1785, schedule 40", Standing::FromMemory),
        Kind::GalvanizedSteel => {
            (IPS, [0.109, 0.113, 0.133], "ASME B36.10, schedule 40", Standing::FromMemory)
        }
        Kind::Stainless => (IPS, [0.109, 0.113, 0.133], "ASME B36.19, schedule 40S", Standing::FromMemory),
        Kind::RedBrass => (IPS, [0.107, 0.114, 0.126], "ASTM B43, regular", Standing::FromMemory),
        Kind::Polyethylene => {
            (IPS, [0.076, 0.095, 0.120], "ASTM D3035, DR 11 (OD / 11)", Standing::Recomputed)
        }
    };
    let row = match size {
        Size::Half => 0,
        Size::ThreeQuarter => 1,
        Size::One => 2,
    };
    Tube { kind, size, outside_diameter: outside[row] * INCH, wall: walls[row] * INCH, standard, standing }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::materials;

    #[test]
    fn bores_are_the_inside_diameters_that_handbooks_print() {
        // Inches. Copper: Copper Tube Handbook, table 2 (from memory). PEX and CPVC: makers' tables under ASTM F876
        // and D2846 (seen). Schedule 40: ASME B36.10 (from memory). Printed to 0.001 in, PEX from a rounded wall.
        let printed = 0.0015;
        for (kind, bores) in [
            (Kind::CopperK, [0.527, 0.745, 0.995]),
            (Kind::CopperL, [0.545, 0.785, 1.025]),
            (Kind::CopperM, [0.569, 0.811, 1.055]),
            (Kind::Pex, [0.485, 0.681, 0.875]),
            (Kind::Cpvc, [0.489, 0.715, 0.921]),
            (Kind::GalvanizedSteel, [0.622, 0.824, 1.049]),
        ] {
            for (size, want) in Size::ALL.into_iter().zip(bores) {
                let got = tube(kind, size).bore() / INCH;
                assert!((got - want).abs() < printed, "{kind:?} {size:?}: {got} {want}");
            }
        }
    }

    #[test]
    fn dimension_ratios_hold_where_the_standard_is_a_ratio() {
        // Walls are rounded to 0.001 in; 1/2 in PEX and CPVC are thicker by a minimum-wall rule.
        for (kind, ratio, sizes) in [
            (Kind::Pex, 9.0, &Size::ALL[1..]),
            (Kind::Cpvc, 11.0, &Size::ALL[1..]),
            (Kind::Polyethylene, 11.0, &Size::ALL[..]),
        ] {
            for &size in sizes {
                let it = tube(kind, size);
                assert!((it.outside_diameter / it.wall / ratio - 1.0).abs() < 0.01, "{kind:?} {size:?}");
            }
        }
    }

    #[test]
    fn every_tube_is_plausible_grows_with_size_and_has_a_material() {
        for kind in Kind::ALL {
            assert!(materials::find(kind.material()).is_some(), "{kind:?}");
            for size in Size::ALL {
                let it = tube(kind, size);
                // a wall of 3 to 12 % of the diameter, and within a fifth of an inch over nominal, halves excepted
                assert!((0.025..0.14).contains(&(it.wall / it.outside_diameter)), "{kind:?} {size:?}");
                assert!(it.outside_diameter / INCH > size.inches(), "{kind:?} {size:?}");
                assert!(it.outside_diameter / INCH < size.inches() + 0.35, "{kind:?} {size:?}");
            }
            for pair in Size::ALL.windows(2) {
                assert!(tube(kind, pair[0]).bore() < tube(kind, pair[1]).bore(), "{kind:?}");
            }
        }
    }

    #[test]
    fn type_k_is_the_heaviest_copper_and_m_the_lightest() {
        for size in Size::ALL {
            let wall = |kind| tube(kind, size).wall;
            assert!(wall(Kind::CopperK) > wall(Kind::CopperL) && wall(Kind::CopperL) > wall(Kind::CopperM));
        }
    }

    #[test]
    fn each_piped_material_has_a_usual_tube() {
        for key in ["copper", "pex", "cpvc", "pvc", "galvanized-steel", "stainless", "brass", "polyethylene"]
        {
            assert!(usual_kind(key).is_some(), "{key}");
        }
        assert_eq!(usual_kind("gypsum-board"), None);
    }
}

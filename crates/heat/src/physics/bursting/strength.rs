//! Tensile strength of barrel and supply materials, for a crude burst estimate.

use super::Standing;

/// Tensile strength of a tube's material, or why none is given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    /// Key of the material in [`crate::physics::materials`].
    pub material: &'static str,
    /// Ultimate tensile strength at room temperature, Pa; metals lose none in the cold.
    pub strength: Result<f64, &'static str>,
    /// Where it is published.
    pub source: &'static str,
    /// How it came to be here.
    pub standing: Standing,
}

const KSI: f64 = 6.894_757e6;

const fn metal(material: &'static str, ksi: f64, source: &'static str, standing: Standing) -> Strength {
    Strength { material, strength: Ok(ksi * KSI), source, standing }
}

const fn none(
    material: &'static str,
    why: &'static str,
    source: &'static str,
    standing: Standing,
) -> Strength {
    Strength { material, strength: Err(why), source, standing }
}

/// Every material a tube can be of. Where a standard gives a least strength, it is taken: a tube is seldom weaker.
pub const STRENGTHS: &[Strength] = &[
    metal("copper", 32.0, "tube makers' burst rule 2tS/D, 32 ksi for copper", Standing::Seen),
    metal("brass", 47.0, "tube makers' burst rule 2tS/D, 47 ksi for brass", Standing::Seen),
    metal("red-brass", 40.0, "ASTM B43, C23000 pipe, least tensile strength", Standing::FromMemory),
    metal("cast-red-brass", 29.0, "ASTM B584, C84400, least tensile strength", Standing::FromMemory),
    metal("stainless", 75.0, "ASTM A312, TP304, least tensile strength", Standing::FromMemory),
    metal(
        "galvanized-steel",
        48.0,
        "ASTM A53 grade A, least tensile strength; a cut thread takes about half the wall",
        Standing::FromMemory,
    ),
    none(
        "silicon-brass",
        "no strength at hand: cast and wrought silicon brass differ widely",
        "none found",
        Standing::FromMemory,
    ),
    none(
        "pex",
        "PEX swells as the water freezes and usually returns when it thaws; fittings, kinks and repeated freezing can \
         still break it; no burst pressure in ice is published",
        "Plastics Pipe Institute TR-52, introduction",
        Standing::Seen,
    ),
    none(
        "cpvc",
        "CPVC is stiff and grows brittle in the cold: it cracks rather than swells; no burst pressure near freezing was \
         found, and the standard's burst test is at {= 23 °C}",
        "ASTM D2846",
        Standing::FromMemory,
    ),
    none(
        "pvc",
        "PVC is stiff and grows brittle in the cold: it cracks rather than swells; no burst pressure near freezing was \
         found, and the standard's burst test is at {= 23 °C}",
        "ASTM D1785",
        Standing::FromMemory,
    ),
    none(
        "polyethylene",
        "polyethylene swells like PEX but is not cross-linked, so that it need not return; no burst pressure in ice was \
         found",
        "none found",
        Standing::FromMemory,
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::{materials, tubes};

    #[test]
    fn every_strength_is_of_a_known_material_and_plausible_for_its_kind() {
        for it in STRENGTHS {
            assert!(materials::find(it.material).is_some(), "{}", it.material);
            assert!(!it.source.is_empty());
            // MPa. Copper and its alloys: 200 (soft, cast) to 450; structural steel 310 to 550; austenitic stainless
            // 485 to 760 (general data books).
            let range = match it.material {
                "stainless" => 485.0..760.0,
                "galvanized-steel" => 310.0..550.0,
                _ => 199.0..450.0,
            };
            assert!(it.strength.is_err() || it.strength.is_ok_and(|pa| range.contains(&(pa / 1e6))));
        }
    }

    #[test]
    fn every_kind_of_tube_has_a_row_and_no_row_is_double() {
        for kind in tubes::Kind::ALL {
            let rows = STRENGTHS.iter().filter(|it| it.material == kind.material()).count();
            assert_eq!(rows, 1, "{kind:?}");
        }
        for (i, it) in STRENGTHS.iter().enumerate() {
            assert!(STRENGTHS[..i].iter().all(|other| other.material != it.material), "{}", it.material);
        }
    }

    #[test]
    fn plastics_have_no_strength_but_a_reason() {
        for it in STRENGTHS.iter().filter(|it| ["pex", "cpvc", "pvc", "polyethylene"].contains(&it.material))
        {
            assert!(it.strength.is_err_and(|why| why.len() > 40), "{}", it.material);
        }
    }
}

//! A flange on metal cladding, and a barrel on its supply, by the anodic index.

use super::{Exposure, Form, Pair, Standing, find as find_form, pair};
use crate::physics::find_row;

/// A metal cladding and what it shows to a flange.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cladding {
    /// Lower-case words joined by hyphens.
    pub key: &'static str,
    /// Other words for it, lower case.
    pub aliases: &'static [&'static str],
    /// Key of the form that meets the flange: the coating if there is one, as long as it lasts.
    pub form: &'static str,
    /// Why it is taken as that form.
    pub why: &'static str,
    /// How that came to be here.
    pub standing: Standing,
}

/// Every metal cladding.
pub const CLADDINGS: &[Cladding] = &[
    Cladding {
        key: "aluminum-siding",
        aliases: &["aluminum", "aluminium siding", "aluminum cladding"],
        form: "aluminum",
        why: "3000-series sheet; paint insulates until it is scratched, as under a flange",
        standing: Standing::FromMemory,
    },
    Cladding {
        key: "galvanized-steel",
        aliases: &["galvanised steel", "galvanized siding", "corrugated galvanized"],
        form: "galvanized-steel",
        why: "zinc outside",
        standing: Standing::FromMemory,
    },
    Cladding {
        key: "steel-siding",
        aliases: &["steel siding", "metal siding", "prefinished steel"],
        form: "galvanized-steel",
        why: "prefinished sheet is zinc coated (ASTM A653) under its paint, bare where cut for the outlet",
        standing: Standing::FromMemory,
    },
];

/// The cladding of a key or alias, case ignored.
///
/// # Valid for
/// Keys and aliases of [`CLADDINGS`].
/// # Source
/// [`CLADDINGS`].
/// # Example
/// ```
/// use coldsill_heat::physics::metals::find_cladding;
/// assert_eq!(find_cladding("metal siding").map(|it| it.form), Some("galvanized-steel"));
/// assert!(find_cladding("brick").is_none());
/// ```
#[must_use]
pub fn find_cladding(word: &str) -> Option<&'static Cladding> {
    find_row(CLADDINGS.iter(), word, |it| (it.key, it.aliases))
}

/// What becomes of a flange on a metal cladding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CladdingRisk {
    /// The gap is within the limit.
    WithinLimit(Pair),
    /// Over the limit, and the cladding gives. It is the large part, but only what a film of rain wets takes part, so
    /// that it pits around the flange, and run-off from copper alloys does the same below it: a gasket and sealant
    /// keep the two apart.
    CladdingIsAnode(Pair),
    /// Over the limit, and the flange, the small part, gives.
    FlangeIsAnode(Pair),
    /// The index has no row for this form.
    NotListed(&'static Form),
}

/// What becomes of a flange on a metal cladding at an exposure.
///
/// # Valid for
/// [`super::FORMS`] and [`CLADDINGS`]; bare metal on metal. Paint, a gasket or sealant between them is not in it.
/// # Source
/// As [`pair`].
/// # Example
/// A brass flange on aluminum siding: 0.50 V, over 0.15, the siding being the anode: recomputed from the index.
/// ```
/// use coldsill_heat::physics::metals::*;
/// let (flange, siding) = (find("brass").unwrap(), find_cladding("aluminum siding").unwrap());
/// let risk = flange_on_cladding(flange, siding, Exposure::Exterior);
/// assert!(matches!(risk, Some(CladdingRisk::CladdingIsAnode(Pair { gap: 500, .. }))));
/// ```
#[must_use]
pub fn flange_on_cladding(
    flange: &'static Form,
    cladding: &'static Cladding,
    exposure: Exposure,
) -> Option<CladdingRisk> {
    let sheet = find_form(cladding.form)?;
    let Some(it) = pair(flange, sheet) else {
        return Some(CladdingRisk::NotListed(if flange.index.is_none() { flange } else { sheet }));
    };
    Some(if it.accepted(exposure) {
        CladdingRisk::WithinLimit(it)
    } else if it.anode == Some(flange) {
        CladdingRisk::FlangeIsAnode(it)
    } else {
        CladdingRisk::CladdingIsAnode(it)
    })
}

/// What a joint of barrel and metal supply asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    /// The gap is within the limit.
    WithinLimit(Pair),
    /// Over the limit, but one of the two is a copper alloy other than copper, which the codes accept as the fitting
    /// between copper and galvanized steel. The index still has the steel give, slowly, being the large part.
    CopperAlloy(Pair),
    /// Over the limit: a dielectric union, or a brass fitting between them.
    NeedsFitting(Pair),
    /// The index has no row for this form.
    NotListed(&'static Form),
}

/// Forms that the codes take as copper-alloy fittings.
const COPPER_ALLOYS: [&str; 5] = ["brass", "red-brass", "high-brass", "bronze", "silicon-bronze"];

/// What a joint of a barrel with a metal supply asks for. The inside is always wet, so the limit is the outdoor one.
///
/// # Valid for
/// [`super::FORMS`]; a plastic supply has no form and asks for nothing.
/// # Source
/// As [`pair`]; IPC 605.24.1 and IRC P2906.17.1, copper to galvanized steel by a copper-alloy or dielectric fitting
/// (sections from memory; check the adopted edition).
/// # Example
/// A copper barrel on galvanized steel: 0.85 V, needs a fitting: recomputed from the index.
/// ```
/// use coldsill_heat::physics::metals::*;
/// let (supply, barrel) = (find("galvanized-steel").unwrap(), find("copper").unwrap());
/// assert!(matches!(supply_to_barrel(supply, barrel), Joint::NeedsFitting(Pair { gap: 850, .. })));
/// ```
#[must_use]
pub fn supply_to_barrel(supply: &'static Form, barrel: &'static Form) -> Joint {
    let Some(it) = pair(supply, barrel) else {
        return Joint::NotListed(if supply.index.is_none() { supply } else { barrel });
    };
    if it.accepted(Exposure::Exterior) {
        Joint::WithinLimit(it)
    } else if [supply, barrel].iter().any(|form| COPPER_ALLOYS.contains(&form.key)) {
        Joint::CopperAlloy(it)
    } else {
        Joint::NeedsFitting(it)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form(word: &str) -> &'static Form {
        find_form(word).unwrap()
    }

    #[test]
    fn every_cladding_is_a_form_of_the_index() {
        for it in CLADDINGS {
            assert!(form(it.form).index.is_some_and(|index| (850..=1250).contains(&index)), "{}", it.key);
        }
    }

    #[test]
    fn no_copper_alloy_flange_is_within_the_limit_on_any_metal_cladding() {
        // Index as published: copper alloys 350 to 450, wrought aluminum 900, zinc 1200 mV; outdoors 150.
        for flange in ["brass", "red-brass", "bronze", "chrome-plate", "stainless"] {
            for sheet in CLADDINGS {
                for exposure in [Exposure::Exterior, Exposure::Coastal] {
                    let risk = flange_on_cladding(form(flange), sheet, exposure);
                    assert!(matches!(risk, Some(CladdingRisk::CladdingIsAnode(_))), "{flange} {}", sheet.key);
                }
            }
        }
    }

    #[test]
    fn a_zinc_flange_is_within_on_zinc_and_gives_way_to_aluminum() {
        let risk =
            |sheet| flange_on_cladding(form("zamak"), find_cladding(sheet).unwrap(), Exposure::Exterior);
        assert!(matches!(risk("steel siding"), Some(CladdingRisk::WithinLimit(Pair { gap: 50, .. }))));
        assert!(matches!(risk("aluminum siding"), Some(CladdingRisk::FlangeIsAnode(Pair { gap: 350, .. }))));
        let active = flange_on_cladding(form("stainless-active"), &CLADDINGS[0], Exposure::Exterior);
        assert_eq!(active, Some(CladdingRisk::NotListed(form("stainless-active"))));
    }

    #[test]
    fn only_copper_or_stainless_on_steel_asks_for_a_fitting() {
        for (supply, barrel) in [("copper", "brass"), ("copper", "stainless"), ("brass", "stainless")] {
            let it = supply_to_barrel(form(supply), form(barrel));
            assert!(matches!(it, Joint::WithinLimit(_)), "{supply} {barrel}: {it:?}");
        }
        for barrel in ["copper", "stainless"] {
            let it = supply_to_barrel(form("galvanized-steel"), form(barrel));
            assert!(matches!(it, Joint::NeedsFitting(_)), "{barrel}: {it:?}");
        }
        let it = supply_to_barrel(form("galvanized-steel"), form("brass"));
        assert!(matches!(it, Joint::CopperAlloy(Pair { gap: 800, .. })), "{it:?}");
        let it = supply_to_barrel(form("copper"), form("stainless-active"));
        assert_eq!(it, Joint::NotListed(form("stainless-active")));
    }
}

//! Dissimilar metals by the anodic index.
//!
//! The index and its limits of 0.15, 0.25 and 0.50 V belong together. Potentials measured in sea water give other
//! gaps, and for passive stainless steel even another sign; they are never mixed in here: [`sea_water`] has types of
//! its own. Another metal is not a fault by itself: a small anode on a large cathode is.

mod contacts;
mod forms;
pub mod sea_water;
pub mod treated_wood;

pub use contacts::{
    CLADDINGS, Cladding, CladdingRisk, Joint, find_cladding, flange_on_cladding, supply_to_barrel,
};
pub use forms::FORMS;

use super::{Standing, find_row};

/// A metal in the form in which it meets another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Form {
    /// Lower-case words joined by hyphens.
    pub key: &'static str,
    /// Printed name.
    pub name: &'static str,
    /// Other words for it, lower case.
    pub aliases: &'static [&'static str],
    /// Anodic index in millivolts below gold; none where the index has no row for this form.
    pub index: Option<u16>,
    /// Where the index is published.
    pub source: &'static str,
    /// How it came to be here.
    pub standing: Standing,
}

/// The form of a key or alias, case ignored.
///
/// # Valid for
/// Keys and aliases of [`FORMS`].
/// # Source
/// [`FORMS`].
/// # Example
/// ```
/// use coldsill_heat::physics::metals::find;
/// assert_eq!(find("HDG").map(|it| it.index), Some(Some(1200)));
/// assert!(find("unobtainium").is_none());
/// ```
#[must_use]
pub fn find(word: &str) -> Option<&'static Form> {
    find_row(FORMS.iter(), word, |it| (it.key, it.aliases))
}

/// Where the two metals meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exposure {
    /// Outdoors near salt water or road salt.
    Coastal,
    /// Outdoors.
    Exterior,
    /// Indoors, humidity not controlled.
    Interior,
    /// Indoors, temperature and humidity controlled.
    Controlled,
}

impl Exposure {
    /// Greatest index gap taken as harmless, mV.
    ///
    /// # Valid for
    /// The anodic index only.
    /// # Source
    /// Trade convention that goes with the index (seen in public copies, from memory otherwise); the military
    /// specification itself groups metals within 50 mV.
    #[must_use]
    pub fn limit(self) -> u16 {
        match self {
            Self::Coastal | Self::Exterior => 150,
            Self::Interior => 250,
            Self::Controlled => 500,
        }
    }
}

/// Two metals in contact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pair {
    /// Difference of the anodic indices, mV.
    pub gap: u16,
    /// The one that corrodes, with the larger index; none where both are alike.
    pub anode: Option<&'static Form>,
}

impl Pair {
    /// Whether the gap is within the limit of an exposure.
    #[must_use]
    pub fn accepted(&self, exposure: Exposure) -> bool {
        self.gap <= exposure.limit()
    }
}

/// Gap and anode of two metals; none where the index has no row for one of them, which is not a pass.
///
/// # Valid for
/// [`FORMS`]; wet contact in fresh water or weather. Not for sea water.
/// # Source
/// Anodic index after MIL-F-14072 (later MIL-DTL-14072), table VI.
/// # Example
/// Copper and galvanized steel: 0.85 V, the steel's zinc being the anode: matches.
/// ```
/// use coldsill_heat::physics::metals::*;
/// let (copper, steel) = (find("copper").unwrap(), find("galvanized-steel").unwrap());
/// let it = pair(copper, steel).unwrap();
/// assert_eq!((it.gap, it.anode), (850, Some(steel)));
/// ```
#[must_use]
pub fn pair(a: &'static Form, b: &'static Form) -> Option<Pair> {
    let (x, y) = (a.index?, b.index?);
    let anode = match x.cmp(&y) {
        std::cmp::Ordering::Less => Some(b),
        std::cmp::Ordering::Equal => None,
        std::cmp::Ordering::Greater => Some(a),
    };
    Some(Pair { gap: x.abs_diff(y), anode })
}

/// What becomes of a fastener in a flange.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FastenerRisk {
    /// The gap is within the limit.
    WithinLimit(Pair),
    /// Over the limit, but the flange is the anode, and large beside the screw: no fault by itself.
    FlangeIsAnode(Pair),
    /// Over the limit and the screw is the anode: a small anode on a large cathode, and it wastes away.
    FastenerIsAnode(Pair),
    /// The index has no row for this form.
    NotListed(&'static Form),
}

/// Whether a fastener is at risk in a flange: gap over the limit and the fastener, the small part, the anode.
///
/// # Valid for
/// [`FORMS`]; a fastener small beside its flange. A zinc coating counts as long as it lasts.
/// # Source
/// As [`pair`]; MIL-DTL-14072, 3.13: make the small part the cathode. MIL-STD-1250A: the effect goes inversely with
/// the ratio of anode to cathode area.
/// # Example
/// Zinc-plated screws in a brass flange outdoors: at risk; stainless ones: not. Recomputed from the index.
/// ```
/// use coldsill_heat::physics::metals::*;
/// let [zinc, stainless, brass] = ["zinc plated", "18-8", "brass"].map(|it| find(it).unwrap());
/// assert!(matches!(fastener_at_risk(zinc, brass, Exposure::Exterior), FastenerRisk::FastenerIsAnode(_)));
/// assert!(matches!(fastener_at_risk(stainless, brass, Exposure::Exterior), FastenerRisk::WithinLimit(_)));
/// ```
#[must_use]
pub fn fastener_at_risk(fastener: &'static Form, flange: &'static Form, exposure: Exposure) -> FastenerRisk {
    let Some(it) = pair(fastener, flange) else {
        return FastenerRisk::NotListed(if fastener.index.is_none() { fastener } else { flange });
    };
    if it.accepted(exposure) {
        FastenerRisk::WithinLimit(it)
    } else if it.anode == Some(fastener) {
        FastenerRisk::FastenerIsAnode(it)
    } else {
        FastenerRisk::FlangeIsAnode(it)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(a: &str, b: &str) -> Pair {
        pair(find(a).unwrap(), find(b).unwrap()).unwrap()
    }

    #[test]
    fn the_published_pairs_come_out_as_published() {
        // Gaps in mV from the index as published, and whether 0.15 V outdoors admits them.
        for (a, b, gap, outdoors) in [
            ("brass", "copper", 50, true),
            ("brass", "304", 100, true),
            ("copper", "stainless", 150, true), // exactly at the limit
            ("copper", "steel", 500, false),
            ("copper", "galvanized-steel", 850, false),
            ("copper", "zinc-die-cast", 900, false),
            ("brass", "aluminum", 500, false),
        ] {
            let it = of(a, b);
            assert_eq!((it.gap, it.accepted(Exposure::Exterior)), (gap, outdoors), "{a} {b}");
            assert_eq!(of(b, a), it, "{a} {b}: the order must not matter");
        }
        assert!(of("copper", "steel").accepted(Exposure::Controlled));
        assert!(!of("copper", "steel").accepted(Exposure::Interior));
    }

    #[test]
    fn only_a_small_anode_is_a_fault() {
        let risk = |screw: &str, flange: &str, exposure| {
            fastener_at_risk(find(screw).unwrap(), find(flange).unwrap(), exposure)
        };
        for screw in ["stainless", "brass", "copper", "silicon-bronze"] {
            let it = risk(screw, "brass", Exposure::Coastal);
            assert!(matches!(it, FastenerRisk::WithinLimit(_)), "{screw}: {it:?}");
        }
        for screw in ["zinc-plated-steel", "galvanized-steel", "steel", "aluminum"] {
            let it = risk(screw, "brass", Exposure::Exterior);
            assert!(matches!(it, FastenerRisk::FastenerIsAnode(_)), "{screw}: {it:?}");
        }
        // a stainless screw in a zinc die-cast flange: the flange gives, and it is the large part
        let it = risk("stainless", "zinc-die-cast", Exposure::Exterior);
        assert!(matches!(it, FastenerRisk::FlangeIsAnode(_)), "{it:?}");
    }

    #[test]
    fn active_stainless_is_not_passed_in_silence() {
        let active = find("stainless-active").unwrap();
        assert_eq!(pair(active, find("brass").unwrap()), None);
        for (a, b) in [("stainless-active", "brass"), ("brass", "stainless-active")] {
            let it = fastener_at_risk(find(a).unwrap(), find(b).unwrap(), Exposure::Controlled);
            assert_eq!(it, FastenerRisk::NotListed(active));
        }
    }

    #[test]
    fn the_index_is_no_sea_water_series() {
        // In sea water passive 304 stands 0.28 V on the noble side of copper (NRL table: -0.08 and -0.36 V); in the
        // index 0.15 V on the other side. Were sea-water potentials mixed in, the anode would change.
        assert_eq!(of("copper", "stainless").anode.map(|it| it.key), Some("stainless"));
    }

    #[test]
    fn keys_and_aliases_are_unique_and_indices_plausible() {
        let mut words: Vec<&str> =
            FORMS.iter().flat_map(|it| it.aliases.iter().copied().chain([it.key])).collect();
        words.sort_unstable();
        for pair in words.windows(2) {
            assert_ne!(pair[0], pair[1]);
        }
        for it in FORMS {
            assert!(
                it.key.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'),
                "{}",
                it.key
            );
            let family = match it.key {
                key if key.contains("zinc") || key.contains("galvanized") => 1100..=1300,
                key if key.contains("aluminum") => 700..=1000,
                "steel" => 800..=900,
                key if key.contains("stainless") || key.contains("chrome") => 450..=650,
                _ => 300..=450,
            };
            assert!(it.index.is_none_or(|index| family.contains(&index) && index % 50 == 0), "{}", it.key);
        }
    }
}

//! Potentials of metals in flowing sea water: an order, and nothing more.
//!
//! These are not the anodic index and go with none of its limits. For passive stainless steel they even give the other
//! sign against copper. Their types are their own, so that the two cannot be compared:
//!
//! ```compile_fail,E0308
//! use coldsill_heat::physics::metals::{pair, find, sea_water};
//! pair(find("copper").unwrap(), sea_water::find("copper").unwrap());
//! ```
//!
//! In fresh water and weather the gaps are smaller; a wall is not a hull.

use crate::physics::{Standing, find_row};

/// Potential in sea water against a saturated calomel electrode. Has no limit and no conversion to the index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Potential(i16);

impl Potential {
    /// The potential, V; the electrode is inferred, the copy of the table names none: zinc at −1.03 V fits calomel.
    #[must_use]
    pub fn volts(self) -> f64 {
        f64::from(self.0) / 1000.0
    }
}

/// A metal in sea water.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Metal {
    /// Lower-case words joined by hyphens.
    pub key: &'static str,
    /// Other words for it, lower case.
    pub aliases: &'static [&'static str],
    /// Its potential.
    pub potential: Potential,
    /// Where it is published.
    pub source: &'static str,
    /// How it came to be here.
    pub standing: Standing,
}

const fn metal(key: &'static str, aliases: &'static [&'static str], millivolts: i16) -> Metal {
    Metal {
        key,
        aliases,
        potential: Potential(millivolts),
        source: "Naval Research Laboratory, galvanic table for sea water",
        standing: Standing::Seen,
    }
}

/// The metals of outlets and of what they touch, the most active first. Stainless steel has two rows each: passive
/// in aerated water, active in crevices and where its film is broken.
pub const METALS: &[Metal] = &[
    metal("magnesium", &[], -1640),
    metal("zinc", &["galvanized steel", "zinc plated"], -1030),
    metal("aluminum-3003", &["aluminum", "aluminium"], -790),
    metal("aluminum-6061", &[], -760),
    metal("carbon-steel", &["steel", "plain steel"], -610),
    metal("cast-iron", &["iron"], -610),
    metal("stainless-430-active", &[], -570),
    metal("stainless-304-active", &["stainless active", "active stainless"], -530),
    metal("stainless-410-active", &[], -520),
    metal("naval-brass", &["c46400"], -400),
    metal("copper", &["cu"], -360),
    metal("red-brass", &["c23000"], -360),
    metal("tin", &[], -325),
    metal("bronze-g", &["c90300", "tin bronze"], -310),
    metal("tin-lead-solder", &["50/50 solder"], -309),
    metal("silicon-bronze", &["c65500"], -270),
    metal("bronze-m", &["c92200"], -230),
    metal("lead", &[], -220),
    metal("stainless-430-passive", &[], -220),
    metal("nickel", &["nickel 200"], -150),
    metal("stainless-304-passive", &["stainless passive", "stainless", "304", "18-8"], -80),
    metal("nickel-copper", &["alloy 400"], -80),
    metal("stainless-316-passive", &["316"], -50),
];

/// The metal of a key or alias, case ignored.
///
/// # Valid for
/// Keys and aliases of [`METALS`]. Yellow brass is not in the table.
/// # Source
/// [`METALS`].
/// # Example
/// Passive and active 304 stand 0.45 V apart: seen.
/// ```
/// use coldsill_heat::physics::metals::sea_water::find;
/// let [passive, active] = ["304", "active stainless"].map(|it| find(it).unwrap().potential.volts());
/// assert!((passive - active - 0.45).abs() < 1e-9);
/// assert!(find("yellow brass").is_none());
/// ```
#[must_use]
pub fn find(word: &str) -> Option<&'static Metal> {
    find_row(METALS.iter(), word, |it| (it.key, it.aliases))
}

/// Which of two metals corrodes in sea water, and by how far the two stand apart (V). `None` if they are level.
///
/// # Valid for
/// Flowing sea water near 25 °C. For the sign only: currents depend on area, film and flow.
/// # Source
/// [`METALS`].
/// # Example
/// Copper against passive 304 in sea water: the copper corrodes, 0.28 V; by the anodic index it would be the steel.
/// ```
/// use coldsill_heat::physics::metals::sea_water::*;
/// let (copper, steel) = (find("copper").unwrap(), find("stainless-304-passive").unwrap());
/// let (anode, gap) = anode(copper, steel).unwrap();
/// assert_eq!(anode.key, "copper");
/// assert!((gap - 0.28).abs() < 1e-9);
/// ```
#[must_use]
pub fn anode(a: &'static Metal, b: &'static Metal) -> Option<(&'static Metal, f64)> {
    let gap = (a.potential.volts() - b.potential.volts()).abs();
    match a.potential.cmp(&b.potential) {
        std::cmp::Ordering::Less => Some((a, gap)),
        std::cmp::Ordering::Equal => None,
        std::cmp::Ordering::Greater => Some((b, gap)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_is_the_tables_own() {
        for two in METALS.windows(2) {
            assert!(two[0].potential <= two[1].potential, "{} {}", two[0].key, two[1].key);
        }
        // Each more active than the next, as the laboratory's table lists them.
        let order = [
            "magnesium",
            "zinc",
            "aluminum",
            "steel",
            "active stainless",
            "naval-brass",
            "copper",
            "tin bronze",
            "silicon-bronze",
            "lead",
            "nickel",
            "304",
            "316",
        ];
        for two in order.windows(2) {
            let [a, b] = [two[0], two[1]].map(|it| find(it).unwrap());
            assert_eq!(anode(a, b).map(|(it, _)| it.key), Some(a.key), "{two:?}");
            assert_eq!(anode(b, a).map(|(it, _)| it.key), Some(a.key), "{two:?}");
        }
        assert_eq!(anode(find("copper").unwrap(), find("red-brass").unwrap()), None);
    }

    #[test]
    fn potentials_lie_in_the_ranges_of_another_series() {
        // ASTM G82, after LaQue: flowing sea water, V against calomel (from memory).
        for (key, low, high) in [
            ("zinc", -1.03, -0.98),
            ("aluminum-3003", -1.00, -0.76),
            ("aluminum-6061", -1.00, -0.76),
            ("carbon-steel", -0.71, -0.60),
            ("stainless-304-active", -0.58, -0.46),
            ("stainless-304-passive", -0.10, -0.05),
            ("stainless-316-passive", -0.10, 0.00),
            ("naval-brass", -0.40, -0.30),
            ("red-brass", -0.40, -0.30),
            ("copper", -0.37, -0.30),
            ("bronze-g", -0.31, -0.24),
        ] {
            let volts = find(key).unwrap().potential.volts();
            assert!((low..=high).contains(&volts), "{key}: {volts}");
        }
    }

    #[test]
    fn keys_and_aliases_are_unique() {
        let mut words: Vec<&str> =
            METALS.iter().flat_map(|it| it.aliases.iter().copied().chain([it.key])).collect();
        words.sort_unstable();
        assert!(words.windows(2).all(|two| two[0] != two[1]));
    }
}

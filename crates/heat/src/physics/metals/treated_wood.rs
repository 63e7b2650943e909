//! Fasteners in preservative-treated wood, as the model codes list them.
//!
//! IRC R317.3.1 and IBC 2304.9.5 (later 2304.10.6) name what is accepted; what they do not name is not accepted by
//! their letter, whatever its merits, and the authority may judge otherwise. An outlet's flange is held by wood screws.

use super::{Form, Standing, find as find_form};
use crate::physics::find_row;

/// What the code says of a fastener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Acceptance {
    /// Named as accepted.
    Accepted,
    /// Accepted on a condition.
    OnlyIf(&'static str),
    /// Excluded, or a coating short of the one that is named.
    Refused(&'static str),
    /// Not named.
    NotListed,
}

/// One kind of fastener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Row {
    /// Key of the form in the table of metals, or its own where that has none.
    pub key: &'static str,
    /// Other words for it, lower case.
    pub aliases: &'static [&'static str],
    /// Nails, wood screws, lag screws, timber rivets.
    pub screw: Acceptance,
    /// Other fasteners, such as bolts, with their nuts and washers.
    pub bolt: Acceptance,
    /// Where it is published.
    pub source: &'static str,
    /// How it came to be here.
    pub standing: Standing,
}

const CODE: &str = "IRC R317.3.1 (2009 to 2021), IBC 2304.9.5 (2012), 2304.10.6 (2021), seen in excerpts";
const SHORT: Acceptance =
    Acceptance::Refused("a zinc coating has to be hot-dip (ASTM A153), not electroplated");

const fn row(key: &'static str, screw: Acceptance, bolt: Acceptance) -> Row {
    Row { key, aliases: &[], screw, bolt, source: CODE, standing: Standing::Seen }
}

const fn both(key: &'static str, it: Acceptance) -> Row {
    row(key, it, it)
}

/// Every row.
pub const ROWS: &[Row] = &[
    both("galvanized-steel", Acceptance::Accepted),
    both("stainless", Acceptance::Accepted),
    both(
        "stainless-12-chromium",
        Acceptance::OnlyIf("the code says stainless steel and no type; wood trades ask for 304 or 316"),
    ),
    both("silicon-bronze", Acceptance::Accepted),
    both("copper", Acceptance::Accepted),
    Row {
        aliases: &["mechanically galvanized", "astm b695"],
        ..row(
            "mechanically-galvanized-steel",
            Acceptance::Refused(
                "mechanical zinc is not for nails, wood screws, lag screws and timber rivets",
            ),
            Acceptance::OnlyIf("ASTM B695, class 55 at least"),
        )
    },
    both("zinc-plated-steel", SHORT),
    row(
        "steel",
        Acceptance::OnlyIf("borate-treated wood, indoors and dry"),
        Acceptance::OnlyIf("1/2 in and thicker (IRC), or borate-treated wood, indoors and dry"),
    ),
    both("brass", Acceptance::NotListed),
    both("red-brass", Acceptance::NotListed),
    both("high-brass", Acceptance::NotListed),
    both("bronze", Acceptance::NotListed),
    both("chrome-plate", Acceptance::NotListed),
    both("nickel-plate", Acceptance::NotListed),
    both("aluminum", Acceptance::NotListed),
];

/// The row of a fastener's word; none where neither this table nor the table of metals has it, which is no pass.
///
/// # Valid for
/// Keys and aliases of [`ROWS`] and of [`super::FORMS`].
/// # Source
/// [`ROWS`].
/// # Example
/// Zinc-plated screws are refused, hot-dip ones accepted: seen.
/// ```
/// use coldsill_heat::physics::metals::treated_wood::*;
/// assert_eq!(find("hdg").unwrap().screw, Acceptance::Accepted);
/// assert!(matches!(find("zinc plated").unwrap().screw, Acceptance::Refused(_)));
/// ```
#[must_use]
pub fn find(word: &str) -> Option<&'static Row> {
    find_row(ROWS.iter(), word, |it| (it.key, it.aliases)).or_else(|| of(find_form(word)?))
}

/// The row of a form of metal.
///
/// # Valid for
/// [`super::FORMS`]; none for those that are no fastener.
/// # Source
/// [`ROWS`].
/// # Example
/// ```
/// use coldsill_heat::physics::metals::{find, treated_wood::{Acceptance, of}};
/// assert_eq!(of(find("brass").unwrap()).unwrap().screw, Acceptance::NotListed);
/// ```
#[must_use]
pub fn of(fastener: &Form) -> Option<&'static Row> {
    ROWS.iter().find(|it| it.key == fastener.key)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_four_that_the_code_names_are_accepted_and_no_other() {
        // "hot-dipped zinc-coated galvanized steel, stainless steel, silicon bronze or copper" (IRC R317.3.1).
        let mut named: Vec<&str> =
            ROWS.iter().filter(|it| it.screw == Acceptance::Accepted).map(|it| it.key).collect();
        named.sort_unstable();
        assert_eq!(named, ["copper", "galvanized-steel", "silicon-bronze", "stainless"]);
    }

    #[test]
    fn every_row_is_a_known_metal_once() {
        for (i, it) in ROWS.iter().enumerate() {
            let own = it.key == "mechanically-galvanized-steel";
            assert_eq!(find_form(it.key).is_some_and(|form| form.key == it.key), !own, "{}", it.key);
            assert!(ROWS[..i].iter().all(|other| other.key != it.key), "{}", it.key);
        }
    }

    #[test]
    fn screws_and_bolts_differ_where_the_code_tells_them_apart() {
        let mechanical = find("mechanically galvanized").unwrap();
        assert!(matches!(mechanical.screw, Acceptance::Refused(_)));
        assert!(matches!(mechanical.bolt, Acceptance::OnlyIf(why) if why.contains("B695")));
        let plain = find("plain steel").unwrap();
        assert!(matches!(plain.screw, Acceptance::OnlyIf(why) if why.contains("dry")));
        assert!(matches!(plain.bolt, Acceptance::OnlyIf(why) if why.contains("1/2 in")));
        assert!(find("unobtainium").is_none());
        assert!(find("zamak").is_none());
    }
}

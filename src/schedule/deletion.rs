//! Whether words delete their whole row, or only a part of what it orders: `HB-2 - deleted`, `VB - deleted`.

use super::lexicon::{Sense, items};
use super::phrases;
use super::text::{Plain, plain};
use super::unused::Aside;
use super::vocabulary::Subject;

/// What a text deletes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Deletes {
    Row,
    /// A part, or something that is not plainly the row: what the row orders is then in doubt.
    Part,
}

/// What a text under a heading deletes in the row of a mark; `None` if nothing.
pub(super) fn deletes(text: &str, subject: Option<Subject>, mark: Option<&str>) -> Option<Deletes> {
    if phrases::deletes(text) || phrases::starts_with_deletion(text) {
        return Some(match subject {
            // A finish without a faucet is no statement about the faucet; a void is also a place.
            Some(Subject::Finish | Subject::Handle) => Deletes::Part,
            Some(Subject::Location) if plain(text) == "void" => Deletes::Part,
            _ => Deletes::Row,
        });
    }
    let before = phrases::deleted_before(text).map(str::to_owned).or_else(|| phrases::taken_out(text))?;
    Some(of_what(&before, subject, mark))
}

/// What the words before a deletion are: the last phrase of them.
fn of_what(before: &str, subject: Option<Subject>, mark: Option<&str>) -> Deletes {
    const ROWS: [&str; 8] = ["line", "item", "row", "entry", "faucet", "outlet", "fixture", "unit"];
    let before = Plain::of(before).text;
    let last = before.rsplit([',', ';', '\n']).next().unwrap_or_default().trim();
    let is_row = |text: &str| {
        items(text).iter().any(|it| match it.sense {
            Sense::OfKind(_) | Sense::KindClosing(..) | Sense::MayBeKind(_) => true,
            Sense::Other(what) => what != Aside::Accessory,
            _ => false,
        })
    };
    let is_place = || items(last).iter().any(|it| matches!(it.sense, Sense::Place(_)));
    let is_mark = || mark.is_some_and(|mark| plain(mark) == plain(last));
    // "HB-1" is a mark before it is a hose bibb.
    let is_other_mark = mark.is_some() && !is_mark() && {
        let letters = last.trim_end_matches(|c: char| c.is_ascii_digit());
        letters.len() < last.len()
            && letters.trim_end_matches(['-', ' ', '.', '#']).chars().all(char::is_alphabetic)
    };
    if is_other_mark {
        return Deletes::Part;
    }
    let says_row = || last.to_lowercase().split_whitespace().any(|word| ROWS.contains(&word));
    if plain(last).is_empty() || is_row(last) || is_place() || is_mark() || says_row() {
        return Deletes::Row;
    }
    let is_standard = ["asse", "csa"].iter().any(|it| last.to_lowercase().starts_with(it));
    let is_part = is_standard
        || items(last).iter().any(|it| {
            matches!(
                it.sense,
                Sense::Device(_)
                    | Sense::Part(_)
                    | Sense::Thing
                    | Sense::Yes(_)
                    | Sense::Word(..)
                    | Sense::Joint(_)
                    | Sense::Closing(_)
                    | Sense::Boxed
                    | Sense::Other(_)
            )
        });
    // In a description, what is no part is of the whole row: `Freezeless, 10" long - DELETED`.
    let is_of_row = matches!(subject, Some(Subject::Location | Subject::Description));
    match !is_part && (is_row(&before) || is_of_row) {
        true => Deletes::Row,
        false => Deletes::Part,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_statement_about_the_row_deletes_it() {
        let notes = Some(Subject::Notes);
        for text in [
            "DELETED",
            "void",
            "N.I.C.",
            "DELETED - see HB-1",
            "deleted per addendum 2",
            "VOID (ASI 4)",
            "Omit, by landscape",
            "HB-2 - deleted",
            "Sillcock, brass (void)",
            "WALL HYDRANT, NORTH WALL - OMITTED PER OWNER 2/27",
            "SILLCOCK 6IN *** LINE CANCELLED BY CUSTOMER 10/03 ***",
            "Robinet antigel, inox - ANNUL\u{c9}, ADDENDA 1",
            "Line item - deleted",
        ] {
            assert_eq!(deletes(text, notes, Some("HB-2")), Some(Deletes::Row), "{text}");
        }
        for text in [
            "VB - deleted",
            "Vacuum breaker (deleted)",
            "Screws - void",
            "Box - void",
            "Handle - deleted",
            "ASSE 1019-B - deleted",
            "FROSTPROOF SILLCOCK, 12 IN, STAINLESS, ASSE 1019-B - deleted",
            "WALL HYDRANT, ASSE 1019-B - DELETED PER ADDENDUM 2",
            "12\" - DELETED",
            "HB-1 - deleted",
        ] {
            assert_eq!(deletes(text, notes, Some("HB-2")), Some(Deletes::Part), "{text}");
        }
        for text in ["omit handle", "Void form behind", "brass, handle omitted", "not deleted", "HB-2"] {
            assert_eq!(deletes(text, notes, Some("HB-2")), None, "{text}");
        }
    }

    #[test]
    fn a_description_that_ends_deleted_after_no_part_is_of_the_whole_row() {
        let of = |text| deletes(text, Some(Subject::Description), None);
        assert_eq!(of("Freezeless, 10\" long - DELETED"), Some(Deletes::Row));
        assert_eq!(of("Freezeless, 10\" long, vacuum breaker - DELETED"), Some(Deletes::Part));
    }

    #[test]
    fn a_void_in_the_column_of_places_or_finishes_deletes_no_row() {
        assert_eq!(deletes("Void", Some(Subject::Location), None), Some(Deletes::Part));
        assert_eq!(deletes("void", Some(Subject::Finish), None), Some(Deletes::Part));
        assert_eq!(deletes("Deleted", Some(Subject::Location), None), Some(Deletes::Row));
        assert_eq!(deletes("North wall - deleted", Some(Subject::Location), None), Some(Deletes::Row));
    }
}

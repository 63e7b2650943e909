//! Types and places: a schedule says what outlets are, a list of places where each of them goes and how many. An outlet of
//! the review is then a place, with the facts of its type and its own.
//!
//! A place of a plan option counts once for every home built to it: options are not added up home by home.

use super::{Cell, Read, Row, Schedule, Term, Unused, plain};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::units::{Dim, Quantity};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The terms that tie places to types, by index, and the facts a place may state.
#[derive(Clone, Copy, Debug)]
pub struct PlaceTerms<'t> {
    /// What is read.
    pub vocabulary: &'t [Term],
    /// The mark.
    pub mark: usize,
    /// How many.
    pub quantity: usize,
    /// Where.
    pub location: usize,
    /// The plan option.
    pub option: usize,
    /// Facts of where an outlet is put; what else a place says of it belongs to its type.
    pub of_place: &'t [&'t str],
}

/// How many homes are built to a plan option.
#[derive(Clone, Debug, PartialEq)]
pub struct Homes {
    /// The option as it is called.
    pub option: Arc<str>,
    /// A whole number.
    pub count: u32,
    /// Where it is stated.
    pub place: Location,
}

/// Whether two cells of one term say the same.
pub type Alike<'a> = &'a dyn Fn(&Cell, &Cell) -> bool;

/// Puts every place of a mark in the place of the mark's row. What does not fit is told in the schedule's problems and
/// what is not used among its unused; a mark without places stays as the schedule has it.
pub fn put_places(
    schedule: &mut Schedule,
    places: Schedule,
    homes: &[Homes],
    terms: &PlaceTerms<'_>,
    alike: Alike<'_>,
) {
    let mut told = Told { problems: places.problems, unused: places.unused, strangers: 0 };
    let mut at: Vec<Vec<Row>> = schedule.rows.iter().map(|_| Vec::new()).collect();
    let mut doubtful = vec![false; schedule.rows.len()];
    let mut unknown_options = BTreeSet::new();
    let marks = rows_by_mark(schedule, terms);
    let mut options = BTreeSet::new();
    let mut listed = Listed::new();
    for place in places.rows {
        let Some(index) = type_of(schedule, &marks, &place, &places.file, terms, &mut doubtful, &mut told)
        else {
            continue;
        };
        let stands = place.at.unwrap_or_else(|| Location::cell(&places.file, place.number, None));
        let mut own = own_cells(place.cells, terms, &mut told);
        if is_listed_again(index, &stands, &own, terms, &mut listed, &mut told) {
            continue;
        }
        count_homes(&mut own, homes, terms, &mut unknown_options, &mut told);
        let of_type = &schedule.rows[index];
        contradicted(of_type, &own, terms, alike, &mut told);
        let is_own = |term: usize| own.iter().any(|cell| cell.term == term);
        let apart = [terms.quantity, terms.location, terms.option];
        let kept = of_type.cells.iter().filter(|it| !apart.contains(&it.term) && !is_own(it.term));
        let mut cells: Vec<Cell> = kept.cloned().chain(own.iter().cloned()).collect();
        cells.sort_by_key(|cell| cell.term);
        options.extend(cells.iter().filter(|cell| cell.term == terms.option).map(|cell| plain(&cell.text)));
        at[index].push(Row { number: place.number, cells, at: Some(stands) });
    }
    for it in homes {
        if !options.contains(&plain(&it.option)) {
            told.problems.push(
                Diagnostic::new(it.place.clone(), "is a plan option that no place has").text(&*it.option),
            );
        }
    }
    let rows = std::mem::take(&mut schedule.rows);
    for ((row, places_of), doubtful) in rows.into_iter().zip(at).zip(doubtful) {
        if places_of.is_empty() {
            if !doubtful {
                let mark = row.cells.iter().find(|cell| cell.term == terms.mark);
                let stands = mark.map_or_else(|| row.place(&schedule.file), |cell| cell.place.clone());
                let what = format!("has no place in {}; it is reviewed as the schedule has it", places.file);
                let problem = Diagnostic::new(stands, what);
                told.problems.push(match mark {
                    Some(cell) => problem.text(&*cell.text),
                    None => problem,
                });
            }
            schedule.rows.push(row);
        } else {
            compare_counts(&row, &places_of, terms, &mut told);
            schedule.rows.extend(places_of);
        }
    }
    schedule.notes.extend(places.notes);
    schedule.problems.extend(told.problems);
    schedule.unused.extend(told.unused);
}

/// Where each place of a type was first listed, by its location and plan option, with what was said of it.
type Listed = BTreeMap<(usize, String, String), (Location, Vec<(usize, String)>)>;

/// Tells a place of a type that is listed again. Where the row says nothing else it is one place written twice, and counts
/// once; where it does, two outlets may be there, and both count.
fn is_listed_again(
    index: usize,
    stands: &Location,
    own: &[Cell],
    terms: &PlaceTerms<'_>,
    listed: &mut Listed,
    told: &mut Told,
) -> bool {
    let of = |term: usize| own.iter().find(|cell| cell.term == term);
    let text = |term: usize| of(term).map(|cell| plain(&cell.text)).unwrap_or_default();
    let Some(location) = of(terms.location) else { return false };
    let says: Vec<(usize, String)> = own.iter().map(|cell| (cell.term, plain(&cell.text))).collect();
    let key = (index, text(terms.location), text(terms.option));
    let Some((first, said)) = listed.get(&key) else {
        listed.insert(key, (stands.clone(), says));
        return false;
    };
    let is_same = *said == says;
    let mark = of(terms.mark).map_or("its mark", |cell| &*cell.text);
    let then = if is_same {
        "it is counted once"
    } else {
        "the two say different things of it, and both are counted"
    };
    let what = format!("is a place of {mark} that is listed before, in {first}; {then}");
    let problem = Diagnostic::new(location.place.clone(), what).text(&*location.text);
    told.problems.push(problem.expected("one row for a place, with how many outlets of the mark are there"));
    is_same
}

/// How many unknown marks get a suggestion.
const SUGGESTED: usize = 100;

struct Told {
    problems: Diagnostics,
    unused: Vec<Unused>,
    /// Marks so far that the schedule does not have.
    strangers: usize,
}

/// The rows of each mark, by index. Written the plain way once: a list of places asks for them thousands of times.
fn rows_by_mark(schedule: &Schedule, terms: &PlaceTerms<'_>) -> BTreeMap<String, Vec<usize>> {
    let mut marks: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (at, row) in schedule.rows.iter().enumerate() {
        if let Some(mark) = row.cells.iter().find(|cell| cell.term == terms.mark) {
            marks.entry(plain(&mark.text)).or_default().push(at);
        }
    }
    marks
}

/// The row of the schedule that is a place's type. Where several have its mark, the one with its location.
fn type_of(
    schedule: &Schedule,
    marks: &BTreeMap<String, Vec<usize>>,
    place: &Row,
    file: &Arc<str>,
    terms: &PlaceTerms<'_>,
    doubtful: &mut [bool],
    told: &mut Told,
) -> Option<usize> {
    let of = |row: &Row, term: usize| {
        row.cells.iter().find(|cell| cell.term == term).map(|cell| plain(&cell.text))
    };
    let Some(mark) = place.cells.iter().find(|cell| cell.term == terms.mark) else {
        told.problems.push(Diagnostic::new(place.place(file), "the place names no mark; it is not reviewed"));
        return None;
    };
    let all: &[usize] = marks.get(&plain(&mark.text)).map_or(&[], Vec::as_slice);
    let location = of(place, terms.location);
    let there: Vec<usize> = all
        .iter()
        .copied()
        .filter(|at| location.is_some() && of(&schedule.rows[*at], terms.location) == location)
        .collect();
    match (all, there.as_slice()) {
        ([only], _) | (_, [only]) => Some(*only),
        ([], _) => {
            let marks =
                schedule.rows.iter().flat_map(|row| &row.cells).filter(|cell| cell.term == terms.mark);
            let what = format!("is not a mark of {}; the place is not reviewed", schedule.file);
            let problem = Diagnostic::new(mark.place.clone(), what).text(&*mark.text);
            // Each is compared with every mark there is: past the first ones the list is of another schedule.
            told.strangers += 1;
            let problem = if told.strangers <= SUGGESTED {
                problem.nearest(&mark.text, marks.map(|cell| &*cell.text))
            } else {
                problem
            };
            told.problems.push(problem);
            None
        }
        (several, _) => {
            let rows: Vec<String> = several.iter().map(|at| schedule.rows[*at].number.to_string()).collect();
            for at in several {
                doubtful[*at] = true;
            }
            let what = format!(
                "is the mark of rows {} of {}, and which of them goes here is not said; the place is not reviewed",
                rows.join(", "),
                schedule.file
            );
            let problem = Diagnostic::new(mark.place.clone(), what).text(&*mark.text);
            told.problems.push(problem.expected("one row a mark, or the location as the row has it"));
            None
        }
    }
}

/// What a place may say of an outlet.
fn own_cells(cells: Vec<Cell>, terms: &PlaceTerms<'_>, told: &mut Told) -> Vec<Cell> {
    let apart = [terms.mark, terms.quantity, terms.location, terms.option];
    let (own, others): (Vec<Cell>, Vec<Cell>) = cells.into_iter().partition(|cell| {
        apart.contains(&cell.term) || terms.of_place.contains(&terms.vocabulary[cell.term].fact)
    });
    for cell in others {
        let why = "a list of places says where an outlet goes, not what it is: that is the schedule's";
        told.unused.push(Unused { place: cell.place, text: cell.text, why });
    }
    own
}

/// The name of a plan option without the word for what it is: `A` of `Plan A`.
fn bare(option: &str) -> String {
    let name = option.trim().to_lowercase();
    let words = ["plan", "option", "type", "unit", "model"];
    let rest =
        words.iter().find_map(|it| name.strip_prefix(it).filter(|rest| rest.starts_with([' ', '-', '_'])));
    plain(rest.unwrap_or(&name))
}

/// The count of a plan option's place, for all homes built to the option. Where nobody says how many, it is not known.
fn count_homes(
    cells: &mut [Cell],
    homes: &[Homes],
    terms: &PlaceTerms<'_>,
    unknown: &mut BTreeSet<String>,
    told: &mut Told,
) {
    let Some(option) = cells.iter().find(|cell| cell.term == terms.option).cloned() else { return };
    let found = homes.iter().find(|it| plain(&it.option) == plain(&option.text));
    let Some(count) = cells.iter_mut().find(|cell| cell.term == terms.quantity) else { return };
    match (found, &count.value) {
        (Some(found), Some(Read::Quantity(each))) => {
            let all = each.is * f64::from(found.count);
            count.text = format!("{} in each of {} homes", count.text, found.count).into();
            count.value = Some(Read::Quantity(Quantity::of(all, Dim::NONE)));
        }
        (Some(_), _) => {}
        (None, _) => {
            count.value = None;
            let key = plain(&option.text);
            if unknown.insert(key) {
                let what = "is a plan option, and how many homes are built to it is not said; its outlets are not counted";
                let problem = Diagnostic::new(option.place.clone(), what).text(&*option.text);
                let mut problem = problem.nearest(&option.text, homes.iter().map(|it| &*it.option));
                if let Some(same) = homes.iter().find(|it| bare(&it.option) == bare(&option.text)) {
                    problem.nearest = Some(same.option.to_string());
                }
                told.problems
                    .push(problem.expected(format!("`homes: {{ {}: 12 }}` in the job", option.text)));
            }
        }
    }
}

/// What a type's row says of a place and the place says otherwise.
fn contradicted(of_type: &Row, own: &[Cell], terms: &PlaceTerms<'_>, alike: Alike<'_>, told: &mut Told) {
    for cell in own.iter().filter(|cell| terms.of_place.contains(&terms.vocabulary[cell.term].fact)) {
        let Some(other) = of_type.cells.iter().find(|it| it.term == cell.term) else { continue };
        if cell.value.is_some() && other.value.is_some() && !alike(cell, other) {
            let what = format!(
                "is not what the schedule says, \"{}\" ({}); the place's is used",
                other.text, other.place
            );
            told.problems.push(Diagnostic::new(cell.place.clone(), what).text(&*cell.text));
        }
    }
}

/// The schedule's quantity against the sum of its places, where all of them are stated.
fn compare_counts(of_type: &Row, places: &[Row], terms: &PlaceTerms<'_>, told: &mut Told) {
    let count = |row: &Row| {
        let cell = row.cells.iter().find(|cell| cell.term == terms.quantity)?;
        match &cell.value {
            Some(Read::Quantity(quantity)) => Some(quantity.is),
            _ => None,
        }
    };
    let sum: Option<f64> = places.iter().map(count).sum();
    let stated = of_type.cells.iter().find(|cell| cell.term == terms.quantity);
    if let (Some(said), Some(sum), Some(cell)) = (count(of_type), sum, stated)
        && (said - sum).abs() > 0.5
    {
        let what = format!(
            "is not the count of its places, {sum}, from {} on; the places' counts are used",
            places.first().and_then(|it| it.at.as_ref()).map_or_else(String::new, ToString::to_string)
        );
        told.problems.push(Diagnostic::new(cell.place.clone(), what).text(&*cell.text));
    }
}

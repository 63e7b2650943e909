//! Types and places: a schedule says what outlets are, a list of places where each of them goes and how many. An outlet
//! of the review is then a place, with the facts of its type and its own.
//!
//! A place of a plan option counts once for every home built to it: options are not added up home by home.

use super::errors::ScheduleError;
use super::from_words::disagree;
use super::text::plain;
use super::types::{Cell, Row, Schedule, Unused};
use super::unused::Why;
use super::vocabulary::{CellValue, Subject, Term, term_of};
use super::weighed::Weighed;
use super::word_source::{Words, own_words};
use super::{hazards, remarks};
use crate::diag::{Diagnostics, Location};
use crate::units::{Dim, Quantity};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The terms that connect places with types, by index, and the facts a place may state.
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
    /// Facts of where an outlet goes; anything else a place says belongs to its type.
    pub of_place: &'t [&'t str],
}

/// How many homes are built to a plan option.
#[derive(Clone, Debug, PartialEq)]
pub struct Homes {
    /// The name of the option.
    pub option: Arc<str>,
    /// A whole number.
    pub count: u32,
    /// Where it is stated.
    pub location: Location,
}

/// Whether two cells of one term say the same.
type Alike<'a> = &'a dyn Fn(&Cell, &Cell) -> bool;

/// Puts the places of every mark in place of the row of that mark. Errors and unused cells go to those of the schedule;
/// a mark without places stays as the schedule has it.
pub fn put_places(
    schedule: &mut Schedule,
    places: Schedule,
    homes: &[Homes],
    terms: &PlaceTerms<'_>,
    alike: Alike<'_>,
) {
    let mut placing = Placing {
        errors: places.problems,
        unused: places.unused,
        at: schedule.rows.iter().map(|_| Vec::new()).collect(),
        ambiguous: BTreeSet::new(),
        listed: BTreeMap::new(),
        unknown_marks: 0,
        unknown_options: BTreeSet::new(),
        marks: rows_by_mark(schedule, terms.mark),
        schedule,
        file: places.file,
        homes,
        terms,
        alike,
    };
    let options: BTreeSet<String> =
        places.rows.into_iter().filter_map(|place| placing.put(place)).flatten().collect();
    for home in homes.iter().filter(|home| !options.contains(&plain(&home.option))) {
        placing.errors.push(ScheduleError::UnusedOption.at(home.location.clone()).text(&*home.option));
    }
    let Placing { mut errors, unused, at, ambiguous, file, .. } = placing;
    let rows = std::mem::take(&mut schedule.rows);
    for (index, (row, mut places)) in rows.into_iter().zip(at).enumerate() {
        if !places.is_empty() {
            // All of them go to the only place, unless it says how many.
            if let ([only], Some(count)) = (places.as_mut_slice(), cell_of(&row.cells, terms.quantity))
                && cell_of(&only.cells, terms.quantity).is_none()
            {
                only.cells.push(count.clone());
                only.cells.sort_by_key(|cell| cell.term);
            }
            compare_counts(&row, &places, terms, &mut errors);
            schedule.rows.extend(places);
            continue;
        }
        if !ambiguous.contains(&index) {
            let mark = cell_of(&row.cells, terms.mark);
            let location = mark.map_or_else(|| row.location(&schedule.file), |cell| cell.location.clone());
            let error = ScheduleError::MarkWithoutPlace { file: file.clone() }.at(location);
            errors.push(match mark {
                Some(cell) => error.text(&*cell.text),
                None => error,
            });
        }
        schedule.rows.push(row);
    }
    schedule.notes.extend(places.notes);
    schedule.problems.append(&mut errors);
    schedule.unused.extend(unused);
}

/// What the words at some locations, those of a place, contradict of the row they went to, for people.
fn conflicts_of_place(row: &Row, said: &BTreeSet<Location>, vocabulary: &[Term]) -> Vec<String> {
    let own = own_words(row, &[], vocabulary).into_iter().filter(|it| said.contains(it.location));
    let (notes, places): (Vec<Words<'_>>, Vec<Words<'_>>) = own.partition(|it| it.subject == Subject::Notes);
    let weighed = notes.iter().map(|it| Weighed::of(it.text, it.location, vocabulary));
    let mut found: Vec<String> = weighed.flat_map(|it| it.in_row(row, vocabulary)).collect();
    found.extend(hazards::of_row(row, &places, vocabulary));
    found.extend([notes, places].iter().flat_map(|words| remarks::of_row(words)));
    found
}

fn cell_of(cells: &[Cell], term: usize) -> Option<&Cell> {
    cells.iter().find(|cell| cell.term == term)
}

/// The rows of each mark, by index: a list of places looks them up thousands of times.
fn rows_by_mark(schedule: &Schedule, mark: usize) -> BTreeMap<String, Vec<usize>> {
    let mut marks: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (at, row) in schedule.rows.iter().enumerate() {
        if let Some(mark) = cell_of(&row.cells, mark) {
            marks.entry(plain(&mark.text)).or_default().push(at);
        }
    }
    marks
}

/// Places so far: the row of the type with the plain texts of location and plan option, to the first place and its cells.
type Listed = BTreeMap<(usize, String, String), (Location, Vec<(usize, String)>)>;

struct Placing<'p> {
    schedule: &'p Schedule,
    /// The file of the places.
    file: Arc<str>,
    homes: &'p [Homes],
    terms: &'p PlaceTerms<'p>,
    alike: Alike<'p>,
    marks: BTreeMap<String, Vec<usize>>,
    errors: Diagnostics,
    unused: Vec<Unused>,
    /// The places of each row of the schedule.
    at: Vec<Vec<Row>>,
    /// Rows of a mark that does not say which of them goes to a place.
    ambiguous: BTreeSet<usize>,
    listed: Listed,
    unknown_marks: usize,
    unknown_options: BTreeSet<String>,
}

impl Placing<'_> {
    /// Puts one place. Returns the plan options it has, or `None` if it is skipped.
    fn put(&mut self, place: Row) -> Option<Vec<String>> {
        let terms = self.terms;
        let index = self.type_of(&place)?;
        let location = place.location(&self.file);
        let disagreement = term_of(Subject::Disagreement, terms.vocabulary);
        let of_place =
            disagreement.and_then(|term| cell_of(&place.cells, term)).map(|cell| cell.text.clone());
        let mut own = self.own_cells(place.cells);
        let said: BTreeSet<Location> = own.iter().map(|cell| cell.location.clone()).collect();
        if self.is_listed_again(index, &location, &own) {
            return None;
        }
        self.count_homes(&mut own);
        let of_type = &self.schedule.rows[index].cells;
        self.compare(of_type, &own);
        let apart = [terms.quantity, terms.location, terms.option];
        let is_inherited = |cell: &&Cell| !apart.contains(&cell.term) && cell_of(&own, cell.term).is_none();
        let mut cells: Vec<Cell> = of_type.iter().filter(is_inherited).cloned().collect();
        cells.extend(own);
        cells.sort_by_key(|cell| cell.term);
        let options = cells.iter().filter(|cell| cell.term == terms.option);
        let options = options.map(|cell| plain(&cell.text)).collect();
        let mut row = Row { number: place.number, cells, at: Some(location.clone()) };
        let mut conflicts = conflicts_of_place(&row, &said, terms.vocabulary);
        // What stands over the list leaves its places in doubt.
        let known = conflicts.join("; ");
        let others = of_place.iter().flat_map(|text| text.split("; ")).filter(|it| !known.contains(it));
        conflicts.extend(others.map(str::to_owned));
        disagree(&mut row, conflicts, &location, terms.vocabulary);
        self.at[index].push(row);
        Some(options)
    }

    /// The row of the schedule that is a place's type. Of several with its mark, the one with its location.
    fn type_of(&mut self, place: &Row) -> Option<usize> {
        /// How many unknown marks get a suggestion; more come from another schedule.
        const MOST_SUGGESTED: usize = 100;
        let location_of = |row: &Row| cell_of(&row.cells, self.terms.location).map(|cell| plain(&cell.text));
        let Some(mark) = cell_of(&place.cells, self.terms.mark) else {
            self.errors.push(ScheduleError::PlaceWithoutMark.at(place.location(&self.file)));
            return None;
        };
        let rows = &self.schedule.rows;
        let of_mark = self.marks.get(&plain(&mark.text)).map_or(&[][..], Vec::as_slice);
        let location = location_of(place);
        let is_there = |at: &&usize| location.is_some() && location_of(&rows[**at]) == location;
        let there: Vec<usize> = of_mark.iter().filter(is_there).copied().collect();
        let file = self.schedule.file.clone();
        let error = match (of_mark, there.as_slice()) {
            ([only], _) | (_, [only]) => return Some(*only),
            ([], _) => {
                self.unknown_marks += 1;
                let marks = rows.iter().filter_map(|row| cell_of(&row.cells, self.terms.mark));
                let marks = marks.map(|cell| &*cell.text).filter(|_| self.unknown_marks <= MOST_SUGGESTED);
                ScheduleError::UnknownMark { file }.at(mark.location.clone()).nearest(&mark.text, marks)
            }
            (several, _) => {
                self.ambiguous.extend(several);
                let numbers: Vec<String> = several.iter().map(|at| rows[*at].number.to_string()).collect();
                ScheduleError::AmbiguousMark { rows: numbers.join(", "), file }.at(mark.location.clone())
            }
        };
        self.errors.push(error.text(&*mark.text));
        None
    }

    /// What a place may say of an outlet; the rest is not used.
    fn own_cells(&mut self, cells: Vec<Cell>) -> Vec<Cell> {
        let terms = self.terms;
        let apart = [terms.mark, terms.quantity, terms.location, terms.option];
        // Its words are weighed against the row they go to.
        let is_said = |cell: &Cell| terms.vocabulary[cell.term].subject != Some(Subject::Disagreement);
        let cells = cells.into_iter().filter(is_said);
        let (own, others): (Vec<Cell>, Vec<Cell>) = cells.partition(|cell| {
            apart.contains(&cell.term) || terms.of_place.contains(&terms.vocabulary[cell.term].fact)
        });
        self.unused.extend(others.into_iter().map(|cell| Why::OfTheType.of(cell.location, cell.text)));
        own
    }

    /// Whether a place with a location is listed twice with the same words. If the words differ, more outlets of the
    /// mark may be there, and both count.
    fn is_listed_again(&mut self, index: usize, stands: &Location, own: &[Cell]) -> bool {
        let text = |term: usize| cell_of(own, term).map(|cell| plain(&cell.text)).unwrap_or_default();
        let Some(location) = cell_of(own, self.terms.location) else { return false };
        let says: Vec<(usize, String)> = own.iter().map(|cell| (cell.term, plain(&cell.text))).collect();
        let key = (index, text(self.terms.location), text(self.terms.option));
        let Some((first, first_says)) = self.listed.get(&key) else {
            self.listed.insert(key, (stands.clone(), says));
            return false;
        };
        let is_same = *first_says == says;
        let mark = cell_of(own, self.terms.mark).map_or_else(|| "its mark".into(), |cell| cell.text.clone());
        let error = ScheduleError::PlaceListedTwice { mark, first: first.clone(), is_same };
        self.errors.push(error.at(location.location.clone()).text(&*location.text));
        is_same
    }

    /// Multiplies the count of a plan option's place by the homes built to it. Without a number of homes it is unknown.
    fn count_homes(&mut self, cells: &mut [Cell]) {
        let Some(option) = cell_of(cells, self.terms.option).cloned() else { return };
        let key = plain(&option.text);
        let homes = self.homes.iter().find(|homes| plain(&homes.option) == key);
        let Some(count) = cells.iter_mut().find(|cell| cell.term == self.terms.quantity) else { return };
        if let Some(homes) = homes {
            if let Some(CellValue::Quantity(each)) = &count.value {
                let all = each.is * f64::from(homes.count);
                count.text = format!("{} in each of {} homes", count.text, homes.count).into();
                count.value = Some(CellValue::Quantity(Quantity::of(all, Dim::NONE)));
            }
            return;
        }
        count.value = None;
        if self.unknown_options.insert(key) {
            let error =
                ScheduleError::UnknownOption { option: option.text.clone() }.at(option.location.clone());
            let names = self.homes.iter().map(|homes| &*homes.option);
            let mut error = error.text(&*option.text).nearest(&option.text, names.clone());
            if let Some(same) = names.into_iter().find(|name| bare_option(name) == bare_option(&option.text))
            {
                error.nearest = Some(same.into());
            }
            self.errors.push(error);
        }
    }

    /// Reports what a place says differently from its type.
    fn compare(&mut self, of_type: &[Cell], own: &[Cell]) {
        let PlaceTerms { vocabulary, of_place, .. } = self.terms;
        for cell in own.iter().filter(|cell| of_place.contains(&vocabulary[cell.term].fact)) {
            let Some(other) = cell_of(of_type, cell.term) else { continue };
            if cell.value.is_some() && other.value.is_some() && !(self.alike)(cell, other) {
                let (text, location) = (other.text.clone(), other.location.clone());
                let error = ScheduleError::PlaceContradicts { text, location };
                self.errors.push(error.at(cell.location.clone()).text(&*cell.text));
            }
        }
    }
}

/// The name of a plan option without the word for what it is: `A` of `Plan A`.
fn bare_option(option: &str) -> String {
    const WORDS: [&str; 5] = ["plan", "option", "type", "unit", "model"];
    let name = option.trim().to_lowercase();
    let bare = |word: &&str| name.strip_prefix(word).filter(|rest| rest.starts_with([' ', '-', '_']));
    plain(WORDS.iter().find_map(bare).unwrap_or(&name))
}

/// Compares the quantity of the schedule with the sum of its places, if all of them have one.
fn compare_counts(of_type: &Row, places: &[Row], terms: &PlaceTerms<'_>, errors: &mut Diagnostics) {
    let count = |row: &Row| match &cell_of(&row.cells, terms.quantity)?.value {
        Some(CellValue::Quantity(quantity)) => Some(quantity.is),
        _ => None,
    };
    let sum: Option<f64> = places.iter().map(count).sum();
    if let (Some(stated), Some(sum), Some(cell)) =
        (count(of_type), sum, cell_of(&of_type.cells, terms.quantity))
        && (stated - sum).abs() > 0.5
    {
        let first = places.first().and_then(|row| row.at.as_ref());
        let from = first.map_or_else(String::new, ToString::to_string);
        let error = ScheduleError::CountsDiffer { sum, from };
        errors.push(error.at(cell.location.clone()).text(&*cell.text));
    }
}

//! Finds the headings of a table, in one row or two, with a row of units below them; and what each column is.

use super::columns::Meant;
use super::columns_by_cells;
use super::errors::ScheduleError;
use super::text::{is_blank, plain};
use super::tokens::without_accent;
use super::types::ReadOptions;
use super::vocabulary::{CellType, Subject, Term, headings, term_named, term_of};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Row, Table};
use crate::units::{Unit, find_unit};
use std::collections::{BTreeSet, HashMap};
use std::sync::{Arc, LazyLock};

/// What a column is: a term, and the unit its heading gives to bare numbers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    pub term: usize,
    pub unit: Option<&'static Unit>,
}

/// The meaning of a column.
#[derive(Clone, Copy, Debug)]
pub(super) enum Known {
    Column(Column),
    /// The job ignores it.
    Ignored,
    /// It says nothing of an outdoor outlet: waste, vent, hot water, price.
    OfOthers,
    /// A row with an entry in it is taken out: the phase in which a thing is demolished.
    Removed,
    /// A second column of a fact of which only one is read.
    Second,
    /// Its heading is unknown.
    Not,
}

/// The headings of a table.
#[derive(Debug)]
pub(super) struct Headings {
    /// Their row; the first of two.
    pub row: u32,
    /// The last row that belongs to them, units included.
    pub last: u32,
    /// Each column's heading, on one line.
    pub names: Vec<Arc<str>>,
    pub columns: Vec<Known>,
    /// Units below a heading that do not measure what the column states.
    pub problems: Diagnostics,
}

impl Headings {
    /// How likely they are the headings: known terms first, then headings of other trades.
    fn score(&self) -> usize {
        let others = self.columns.iter().filter(|it| matches!(it, Known::OfOthers)).count();
        match self.known_terms() {
            0 => 0,
            known => 2 * known + others,
        }
    }

    /// Whether a column states more than what a thing is called. A list of abbreviations has no such column.
    pub(super) fn state_facts(&self, options: &ReadOptions<'_>) -> bool {
        let names = [Subject::Kind, Subject::Description, Subject::Notes];
        let is_fact = |column: &Column| {
            let subject = options.vocabulary[column.term].subject;
            column.term != options.mark && !subject.is_some_and(|it| names.contains(&it))
        };
        self.columns.iter().any(|it| matches!(it, Known::Column(column) if is_fact(column)))
    }

    /// How many different terms they have.
    pub(super) fn known_terms(&self) -> usize {
        let terms = self.columns.iter().filter_map(|column| match column {
            Known::Column(column) => Some(column.term),
            Known::Ignored | Known::OfOthers | Known::Removed | Known::Second | Known::Not => None,
        });
        terms.collect::<BTreeSet<_>>().len()
    }
}

/// The most rows above the headings.
const MOST_ABOVE: usize = 40;
/// Words above a group of headings that do not change their meaning.
const GROUPS: [&str; 8] =
    ["outlet", "outlets", "fixture", "hydrant", "hose bibb", "general", "identification", "schedule"];

/// The meanings of headings that were looked up. Looking one up takes long, and a schedule repeats its cells.
struct Meanings<'o> {
    options: &'o ReadOptions<'o>,
    known: HashMap<Arc<str>, Known>,
}

impl<'o> Meanings<'o> {
    fn new(options: &'o ReadOptions<'o>) -> Self {
        Self { options, known: HashMap::new() }
    }

    fn of(&mut self, text: &str) -> Known {
        if let Some(known) = self.known.get(text) {
            return *known;
        }
        let known = known(text, self.options);
        self.known.insert(text.into(), known);
        known
    }
}

/// Finds the headings: of the first rows, one line or two, those with the most that is known.
pub(super) fn find(table: &Table, options: &ReadOptions<'_>) -> Result<Headings, Diagnostic> {
    let mut meanings = Meanings::new(options);
    let mut best: Option<Headings> = None;
    for (at, row) in table.rows.iter().take(MOST_ABOVE).enumerate() {
        let mut found = one_line(row, &mut meanings);
        if let Some(next) = table.rows.get(at + 1) {
            let both = two_lines(table, row, next, &mut meanings);
            // Both only if neither row has as many by itself.
            if both.score() > found.score().max(one_line(next, &mut meanings).score()) {
                found = both;
            }
        }
        // A row below may repeat the headings, or be of outlets whose kinds are headings too.
        if found.score() > best.as_ref().map_or(0, Headings::score) {
            best = Some(found);
        }
    }
    let mut found = best.ok_or_else(|| {
        let known: Vec<&str> =
            options.vocabulary.iter().filter_map(|term| term.aliases.first().copied()).take(8).collect();
        ScheduleError::NoHeadings { known: known.join(", ") }.at(Location::whole(&table.file))
    })?;
    add_units_below(table, &mut found, options.vocabulary);
    skip_numbers_below(table, &mut found);
    if options.select.is_some() {
        columns_by_cells::assign(table, &mut found, options);
    }
    Ok(found)
}

fn one_line(row: &Row, meanings: &mut Meanings<'_>) -> Headings {
    let names: Vec<Arc<str>> = row.cells.iter().map(|text| on_one_line(text)).collect();
    let columns = names.iter().map(|name| meanings.of(name)).collect();
    Headings { row: row.number, last: row.number, names, columns, problems: Diagnostics::new() }
}

/// Two rows as one: a cell merged across the upper row is above each column of the lower.
fn two_lines(table: &Table, upper: &Row, lower: &Row, meanings: &mut Meanings<'_>) -> Headings {
    let width = upper.cells.len().max(lower.cells.len());
    let (mut names, mut columns) = (Vec::new(), Vec::new());
    let merges: Vec<_> = table.about.merges.iter().filter(|it| it.rows[0] == upper.number).collect();
    for column in 0..width {
        let merged = merges.iter().find(|it| it.holds(upper.number, column));
        let above = upper.cell(merged.map_or(column, |it| it.columns[0])).trim();
        let below = lower.cell(column).trim();
        let mut name = on_one_line(&format!("{above} {below}"));
        // A heading merged over both lines is one heading.
        if plain(above) == plain(below)
            || GROUPS.contains(&above.to_lowercase().as_str()) && !below.is_empty()
        {
            name = on_one_line(below);
        }
        // "ROUGH-IN" over "CW".
        if matches!(meanings.of(&name), Known::Not) && !matches!(meanings.of(below), Known::Not) {
            name = on_one_line(below);
        }
        columns.push(meanings.of(&name));
        names.push(name);
    }
    Headings { row: upper.number, last: lower.number, names, columns, problems: Diagnostics::new() }
}

fn on_one_line(text: &str) -> Arc<str> {
    text.split_whitespace().collect::<Vec<_>>().join(" ").into()
}

/// The first row below the headings that is headings of other columns. One that repeats the first is none.
pub(super) fn second(table: &Table, first: &Headings, options: &ReadOptions<'_>) -> Option<u32> {
    let mut meanings = Meanings::new(options);
    let mut heading_term = |text: &str| {
        // Few headings have digits, and many texts that differ from row to row do.
        if text.bytes().any(|byte| byte.is_ascii_digit()) {
            return None;
        }
        match meanings.of(text) {
            Known::Column(column) => Some(column.term),
            _ => None,
        }
    };
    let below = table.rows.iter().filter(|row| row.number > first.last);
    let mut found = below.filter(|row| {
        let cells: Vec<(usize, &str)> = row
            .cells
            .iter()
            .enumerate()
            .map(|(at, text)| (at, &**text))
            .filter(|(_, text)| !is_blank(text))
            .collect();
        // Once a third of them is none, it is no row of headings.
        let (mut terms, mut is_moved, mut others) = (BTreeSet::new(), false, 0);
        for (column, text) in &cells {
            let Some(term) = heading_term(text) else {
                others += 1;
                if others * 3 > cells.len() {
                    return false;
                }
                continue;
            };
            terms.insert(term);
            is_moved |= first.names.get(*column).is_none_or(|name| plain(name) != plain(text));
        }
        // Two cells may be words of outlets that are headings too.
        let least = if terms.contains(&options.mark) { 2 } else { 3 };
        terms.len() >= least && terms.len() * 3 >= cells.len() * 2 && is_moved
    });
    found.next().map(|row| row.number)
}

/// Gives the units of a row of nothing but units to the columns that have none.
fn add_units_below(table: &Table, headings: &mut Headings, vocabulary: &[Term]) {
    /// What a column of counts may have in such a row.
    const COUNTED_IN: [&str; 4] = ["ea", "each", "pc", "pcs"];
    let Some(row) = table.rows.iter().find(|row| row.number > headings.last) else { return };
    let units: Vec<Option<&'static Unit>> = row.cells.iter().map(|text| bare_unit(text)).collect();
    let is_count = |index: usize, text: &str| {
        let is_count = |column: &Column| matches!(vocabulary[column.term].reads, CellType::Count);
        matches!(headings.columns.get(index), Some(Known::Column(column)) if is_count(column))
            && COUNTED_IN.contains(&plain(text).as_str())
    };
    let is_unit =
        |(index, text): (usize, &String)| units[index].is_some() || is_blank(text) || is_count(index, text);
    if units.iter().all(Option::is_none) || !row.cells.iter().enumerate().all(is_unit) {
        return;
    }
    headings.last = row.number;
    for (index, unit) in units.into_iter().enumerate() {
        let (Some(unit), Some(Known::Column(column))) = (unit, headings.columns.get_mut(index)) else {
            continue;
        };
        if column.unit.is_some() {
            continue;
        }
        if measures(vocabulary, column.term, unit) {
            column.unit = Some(unit);
        } else {
            let location = Location::cell(&table.file, row.number, headings.names.get(index));
            headings.problems.push(ScheduleError::WrongUnit.at(location).text(row.cell(index).trim()));
        }
    }
}

/// A row below the headings that numbers the columns belongs to them: `(1) (2) (3)`.
fn skip_numbers_below(table: &Table, headings: &mut Headings) {
    let Some(row) = table.rows.iter().find(|row| row.number > headings.last) else { return };
    let cells = row.cells.iter().filter(|text| !is_blank(text));
    let cells: Vec<String> = cells.map(|text| without_brackets(text).to_lowercase()).collect();
    let is_number = |(at, text): (u32, &String)| text.parse() == Ok(at);
    let is_letter = |(letter, text): (char, &String)| text.chars().eq([letter]);
    let are_all =
        (1..).zip(&cells).all(is_number) || ('a'..='z').zip(&cells).all(is_letter) && cells.len() <= 26;
    if cells.len() > 2 && are_all {
        headings.last = row.number;
    }
}

fn bare_unit(text: &str) -> Option<&'static Unit> {
    find_unit(without_brackets(text).trim_end_matches('.').trim())
}

fn without_brackets(text: &str) -> &str {
    text.trim().trim_matches(['(', ')', '[', ']']).trim()
}

/// Whether a unit measures what a column states.
fn measures(vocabulary: &[Term], term: usize, unit: &Unit) -> bool {
    matches!(vocabulary[term].reads, CellType::Quantity { measure, .. } if unit.to_si(1.0, measure).is_some())
}

/// Reports an unknown heading with the nearest known one, if any.
pub(super) fn unknown_heading(text: &str, location: Location, vocabulary: &[Term]) -> Option<Diagnostic> {
    let error = ScheduleError::UnknownHeading.at(location).text(text).nearest(text, headings(vocabulary));
    error.nearest.is_some().then_some(error)
}

/// The meaning of a heading.
pub(super) fn known(text: &str, options: &ReadOptions<'_>) -> Known {
    match options.columns.of(text) {
        Some(Meant::Ignored) => Known::Ignored,
        Some(Meant::Term(term)) => Known::Column(Column { term, unit: with_unit(text, options, Some(term)) }),
        None => column(text, options).map_or_else(|| by_words(text, options), Known::Column),
    }
}

/// Words of headings over texts that no alias has: "Accessories and remarks", "Fixture and trim".
const OVER_TEXTS: [(Subject, &[&str]); 2] = [
    (Subject::Location, &["location", "localisation", "emplacement"]),
    (
        Subject::Description,
        &[
            "description",
            "descriptions",
            "specification",
            "specifications",
            "remarks",
            "comments",
            "accessories",
            "trim",
            "features",
            "caracteristiques",
            "particulars",
        ],
    ),
];
/// Headings of columns that say which rows are taken out.
const REMOVED: [&str; 5] = ["phasedemolished", "demolished", "removed", "deleted", "phasedemolie"];

/// The meaning of a heading that is no alias.
fn by_words(text: &str, options: &ReadOptions<'_>) -> Known {
    let known = of_others(text);
    if !matches!(known, Known::Not) || options.select.is_none() {
        return known;
    }
    let lower = without_accents(&text.to_lowercase());
    if REMOVED.contains(&plain(&lower).as_str()) {
        return Known::Removed;
    }
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    let found = OVER_TEXTS.iter().find(|(_, over)| over.iter().any(|it| words.contains(it)));
    let term = found.and_then(|(subject, _)| term_of(*subject, options.vocabulary));
    term.filter(|_| words.len() > 1).map_or(known, |term| Known::Column(Column { term, unit: None }))
}

/// Headings of what says nothing of an outdoor outlet, in the form of [`plain`].
const OF_OTHERS: &str = "hw dhw hot hotwater hotwatersize hwr hwc hwconn hwconnection hwsize waste wastesize wasteconn wasteconnection \
    san sanitary sanwaste soil soilwaste w v s vent ventsize ventconn ventconnection vtr trap trapsize gpm gpf lpf lpm flow flowrate wsfu dfu fu \
    fixtureunits manufacturer basisofdesign manuf mfr mfgr mfg make brand vendor supplier color colour price unitprice listprice \
    extended extension extprice amount cost uom unit units unitofmeasure um level floor date electrical elec volts \
    voltage mbh kw hp line lineno lineitem roughin csi csisection specsection carrier support ada gas ng weight wt phase leadtime sku upc \
    approved approvedby fabricant ec eauchaude evac evacuation event drain drainsize overflow storm drawing dwg detail sheet \
    submittal trim mountingtype faucettrim flushvalve";

fn of_others(text: &str) -> Known {
    static NAMES: LazyLock<BTreeSet<&str>> = LazyLock::new(|| OF_OTHERS.split_whitespace().collect());
    let is_one = |text: &str| NAMES.contains(without_accents(&plain(text)).as_str());
    let without_unit = split_unit(text).map(|(words, _)| words);
    if is_one(text) || without_unit.is_some_and(is_one) { Known::OfOthers } else { Known::Not }
}

fn without_accents(text: &str) -> String {
    text.chars().map(without_accent).collect()
}

/// The unit at the end of a heading of the term.
fn with_unit(text: &str, options: &ReadOptions<'_>, term: Option<usize>) -> Option<&'static Unit> {
    let (_, unit) = split_unit(text)?;
    term.filter(|term| measures(options.vocabulary, *term, unit)).map(|_| unit)
}

/// A unit in the heading: `Seat depth (in)`, `Seat depth, mm`.
fn split_unit(text: &str) -> Option<(&str, &'static Unit)> {
    let (words, unit) = text.trim().trim_end_matches([')', ']']).rsplit_once(['(', '[', ',', ' '])?;
    Some((words, find_unit(unit.trim())?))
}

/// What may stand in parentheses beside a heading and changes nothing, in the form of [`plain`].
const IDLE_BESIDE: [&str; 12] =
    ["ea", "each", "no", "total", "asse", "nom", "nominal", "ext", "exterior", "type", "note1", "seenotes"];

fn column(text: &str, options: &ReadOptions<'_>) -> Option<Column> {
    let matches = |words: &str| match options.columns.of(words) {
        Some(Meant::Term(term)) => Some(term),
        Some(Meant::Ignored) => None,
        None => term_named(words, options.vocabulary),
    };
    let text = if text.trim() == "#" { "No" } else { text };
    if let Some(term) = matches(text) {
        return Some(Column { term, unit: None });
    }
    // "Qty (ea)", "Wall (ext.)", "Flange mat'l".
    if let Some((words, beside)) = text.trim().trim_end_matches([')', ']']).split_once(['(', '['])
        && IDLE_BESIDE.contains(&plain(beside).as_str())
        && let Some(term) = matches(words)
    {
        return Some(Column { term, unit: None });
    }
    let lower = text.to_lowercase();
    if let Some(term) =
        lower.contains("mat'l").then(|| matches(&lower.replace("mat'l", "material"))).flatten()
    {
        return Some(Column { term, unit: None });
    }
    let (words, unit) = split_unit(text)?;
    // "Nominal length in inches" as well as "Nominal length (in)".
    let term = matches(words).or_else(|| matches(plain(words).strip_suffix("in")?))?;
    measures(options.vocabulary, term, unit).then_some(Column { term, unit: Some(unit) })
}

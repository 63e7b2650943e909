//! Lines around the rows that belong to no row: those that name the mark of one, and those that speak of what rows order.

use super::doubt::doubts;
use super::entries::Entry;
use super::held::Held;
use super::lexicon::{Sense, items};
use super::over;
use super::phrases;
use super::place::Place;
use super::remarks;
use super::text::{Plain, has_any_word, plain};
use super::types::{ReadOptions, Row, Schedule};
use super::unused::Why;
use super::weighed::Weighed;
use super::word_source::quoted;
use crate::diag::Location;
use regex::Regex;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::{Arc, LazyLock};

/// The rows of each mark with letters and a number, in the form of [`plain`].
#[derive(Default)]
pub(super) struct Marks(BTreeMap<String, Vec<u32>>);

impl Marks {
    pub(super) fn of(entries: &[Entry], options: &ReadOptions<'_>) -> Self {
        let mut rows: BTreeMap<String, Vec<u32>> = BTreeMap::new();
        // A row with nothing but its mark states nothing.
        for entry in entries.iter().filter(|entry| entry.cells.len() > 1) {
            let Some(mark) = entry.cell(options.mark) else { continue };
            let several = phrases::marks(&mark.text);
            for mark in if several.is_empty() { vec![mark.text.to_string()] } else { several } {
                rows.entry(plain(&mark)).or_default().push(entry.number);
            }
        }
        Self(rows)
    }

    /// The rows of a schedule that was read.
    pub(super) fn of_rows(schedule: &Schedule, mark: usize) -> Self {
        let mut rows: BTreeMap<String, Vec<u32>> = BTreeMap::new();
        for row in &schedule.rows {
            let Some(mark) = row.cell(mark) else { continue };
            rows.entry(plain(&mark.text)).or_default().push(row.number);
        }
        Self(rows)
    }

    /// The rows whose marks a line names, ranges and lists of marks included.
    pub(super) fn named_in(&self, line: &str) -> BTreeSet<u32> {
        #[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
        static PATTERNS: LazyLock<[Regex; 2]> = LazyLock::new(|| {
            [
                r"(?i-u)\b([a-z]{1,6})[ \-.#]{0,2}([0-9]{1,4}[a-z]?)\b",
                r"(?i-u)^ *(thru|through|to|-|,|&|and|/) *(?:([a-z]{1,6})[ \-.#]{0,2})?([0-9]{1,4})\b",
            ]
            .map(|words| Regex::new(words).expect("a pattern of the source"))
        });
        let line = Plain::of(line).text.to_lowercase();
        let [one, next] = &*PATTERNS;
        let mut names: Vec<String> = Vec::new();
        for found in one.captures_iter(&line) {
            let (letters, mut first) = (&found[1], found[2].to_owned());
            names.push(format!("{letters}{first}"));
            let mut rest = &line[found.get(0).map_or(0, |it| it.end())..];
            while let Some(more) = next.captures(rest) {
                let (joins, last) = (&more[1], more[3].to_owned());
                let is_again = more.get(2).is_some_and(|it| it.as_str() == letters);
                // "HB-1 to 6 in" is no range of marks.
                if !is_again && (more.get(2).is_some() || ["to", "-"].contains(&joins)) {
                    break;
                }
                if ["thru", "through", "to", "-"].contains(&joins)
                    && let (Ok(first), Ok(last)) = (first.parse::<u32>(), last.parse::<u32>())
                {
                    const LONGEST: u32 = 500;
                    names.extend((first..=last.min(first + LONGEST)).map(|it| format!("{letters}{it}")));
                }
                names.push(format!("{letters}{last}"));
                first = last;
                rest = &rest[more.get(0).map_or(rest.len(), |it| it.end())..];
            }
        }
        names.iter().filter_map(|name| self.0.get(name)).flatten().copied().collect()
    }
}

/// A line that belongs to no row.
#[derive(Debug)]
pub(super) struct Line {
    /// The number or sign by which rows cite it.
    key: Option<String>,
    location: Location,
    text: Arc<str>,
    place: Place,
    /// The rows whose marks it names.
    rows: BTreeSet<u32>,
}

impl Line {
    pub(super) fn of(
        key: Option<String>,
        text: &Arc<str>,
        location: &Location,
        place: Place,
        marks: &Marks,
    ) -> Self {
        let rows = if place.is_about_a_row(text) { marks.named_in(text) } else { BTreeSet::new() };
        Self { key, location: location.clone(), text: text.clone(), place, rows }
    }

    fn is_cited(&self, cited: &BTreeSet<(String, u32)>) -> bool {
        let by = |key: &String| cited.range((key.clone(), 0)..=(key.clone(), u32::MAX)).next();
        self.key.as_ref().and_then(by).is_some()
    }
}

/// Notes that are weighed against rows; a schedule has fewer, and further ones are listed.
const MOST_LINES: usize = 1000;
/// Rows that notes are weighed against, all together: two notes over a schedule of 50,000 rows.
const MOST_WEIGHED: usize = 100_000;

/// Holds each line against the rows it names, or against those of which it takes something back: the rows under a title, and
/// all outlets for another line. Lists it otherwise, unless a row cites it or it is a title over rows.
pub(super) fn settle(
    lines: Vec<Line>,
    cited: &BTreeSet<(String, u32)>,
    titles: &BTreeMap<u32, Arc<str>>,
    options: &ReadOptions<'_>,
    held: &mut Held,
    schedule: &mut Schedule,
) {
    let mut under: HashMap<&str, Vec<usize>> = HashMap::new();
    for (index, row) in schedule.rows.iter().enumerate() {
        if let Some(title) = titles.get(&row.number) {
            under.entry(title).or_default().push(index);
        }
    }
    let all: Vec<usize> = (0..schedule.rows.len()).collect();
    let (mut lines_left, mut rows_left) = (MOST_LINES, MOST_WEIGHED);
    for line in lines {
        let is_cited_by = |row: u32| line.key.as_ref().is_some_and(|key| cited.contains(&(key.clone(), row)));
        for row in line.rows.iter().copied().filter(|row| !is_cited_by(*row)) {
            held.add(row, line.place.label(), &line.text, &line.location);
        }
        if !line.rows.is_empty()
            || line.is_cited(cited)
            || line.place == Place::OtherTable
            || phrases::is_total(&line.text)
        {
            continue;
        }
        // A title that comes again is about all rows under it.
        let own = if line.place == Place::Title { under.remove(&*line.text) } else { None };
        let rows = match line.place {
            Place::Title => own.as_deref().unwrap_or_default(),
            _ => &all,
        };
        // Each row is under one title.
        let is_title = line.place == Place::Title;
        let may_weigh = is_title || lines_left > 0 && rows.len() <= rows_left;
        lines_left = lines_left.saturating_sub(usize::from(!is_title));
        let mut is_held = false;
        if let Some(says) = may_weigh.then(|| Says::of(&line, options)).flatten() {
            rows_left -= if is_title { 0 } else { rows.len() };
            for row in rows.iter().map(|row| &schedule.rows[*row]) {
                for statement in says.in_row(&line, row, options) {
                    is_held = true;
                    held.add_statement(row.number, &line.text, &line.location, statement);
                }
            }
        }
        let why = match line.place {
            _ if is_held => continue,
            Place::Drawn => continue,
            place if place.speaks(&line.text) => Why::GeneralNote,
            Place::Margin => Why::Margin,
            Place::Tab if over::is_open_tab(&line.text) => Why::GeneralNote,
            Place::Note if !line.text.trim_end().ends_with(':') => Why::Around,
            _ => continue,
        };
        schedule.unused.push(why.of(line.location, line.text));
    }
}

/// What a line says of rows it does not name.
enum Says<'t> {
    /// It takes back what they order.
    TakesBack,
    /// What it may contradict.
    Weighed(Box<Weighed<'t>>),
}

impl<'t> Says<'t> {
    fn of(line: &'t Line, options: &ReadOptions<'_>) -> Option<Self> {
        let is_doubt = match line.place {
            Place::Above => false,
            Place::Tab => over::is_open_tab(&line.text),
            Place::Title | Place::Margin | Place::Note | Place::OtherTable | Place::Drawn => {
                remarks::is_doubt(line.text.trim_end_matches(':'))
            }
        };
        if is_doubt || line.place.speaks(&line.text) && takes_back(&line.text) {
            return Some(Self::TakesBack);
        }
        // "Contractor shall verify lengths" says every set of drawings.
        if asks_to_verify(&line.text) {
            return None;
        }
        let weighed = Weighed::of(&line.text, &line.location, options.vocabulary);
        weighed.says_anything().then(|| Self::Weighed(Box::new(weighed)))
    }

    fn in_row(&self, line: &Line, row: &Row, options: &ReadOptions<'_>) -> Vec<String> {
        match self {
            Self::TakesBack => {
                vec![format!("{}: {}", line.place.label(), quoted(&line.text, &line.location))]
            }
            Self::Weighed(weighed) => weighed.in_row(row, options.vocabulary),
        }
    }
}

/// Whether a line asks somebody to look, and says nothing itself.
fn asks_to_verify(line: &str) -> bool {
    let lower = line.to_lowercase();
    ["verify", "confirm", "coordinate"].iter().any(|it| lower.contains(it))
}

/// Words that take back what a schedule says.
const TAKES_BACK: [&str; 15] = [
    "void",
    "voided",
    "preliminary",
    "draft",
    "pending",
    "hold",
    "superseded",
    "delete",
    "deleted",
    "remove",
    "removed",
    "change",
    "changed",
    "tbd",
    "unverified",
];
/// Words that ask somebody to look at it.
const VERIFY: [&str; 4] = ["verify", "verified", "confirm", "confirmed"];
/// The most words of a title.
const LONGEST_TITLE: usize = 5;

pub(super) fn is_short(line: &str) -> bool {
    line.split_whitespace().count() <= LONGEST_TITLE
}

/// Whether a line says that what the schedule says may not stand.
pub(super) fn has_standing(line: &str) -> bool {
    has_any_word(line, &TAKES_BACK)
        || has_any_word(line, &VERIFY)
        || line.to_lowercase().contains("not for construction")
}

/// The same, or leaves open what it speaks of.
pub(super) fn is_open(line: &str) -> bool {
    has_standing(line) || !doubts(&Plain::of(line).text).is_empty()
}

/// Whether a line takes back, or leaves open, what rows order: "All lengths to be verified", not "Contractor shall verify
/// lengths", which every set of drawings says.
fn takes_back(line: &str) -> bool {
    const OPEN: [&str; 6] = [
        "to be verified",
        "to be confirmed",
        "to be determined",
        "not verified",
        "not confirmed",
        "not final",
    ];
    let lower = line.to_lowercase();
    let is_open = has_any_word(line, &TAKES_BACK) || OPEN.iter().any(|it| lower.contains(it));
    is_open && (speaks_of_rows(line) || line.contains(['"', '\u{201d}']))
}

/// Whether a line speaks of what rows order: devices, metals, lengths, where they close.
pub(super) fn speaks_of_rows(line: &str) -> bool {
    let is_of_rows = |sense| {
        matches!(
            sense,
            Sense::Device(_)
                | Sense::Metal(_)
                | Sense::Closing(_)
                | Sense::ClosingBeside(_)
                | Sense::KindClosing(..)
                | Sense::Measure(_)
                | Sense::Part(_)
                | Sense::Plastic
                | Sense::Pipe(_)
                | Sense::Joint(_)
                | Sense::Yes(_)
                | Sense::No(_)
                | Sense::Word(..)
                | Sense::Space(_)
        )
    };
    const MEASURES: [&str; 8] =
        ["length", "lengths", "depth", "depths", "barrel", "barrels", "breaker", "breakers"];
    has_any_word(line, &MEASURES) || items(&Plain::of(line).text).iter().any(|it| is_of_rows(it.sense))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(line: &str) -> Vec<u32> {
        let rows = [("hb1", 1), ("hb2", 2), ("hb3", 3), ("hb4", 4), ("wh1a", 5)];
        let marks = Marks(rows.into_iter().map(|(mark, row)| (mark.to_owned(), vec![row])).collect());
        marks.named_in(line).into_iter().collect()
    }

    #[test]
    fn a_line_names_marks_alone_in_lists_and_in_ranges() {
        assert_eq!(named("ADDENDUM 1: HB-1 change length to 6 in."), [1]);
        assert_eq!(named("HB 2 - DELETED PER ADDENDUM 2"), [2]);
        assert_eq!(named("hb-1, 3 and 4: void"), [1, 3, 4]);
        assert_eq!(named("HB-2 thru HB-4 on hold"), [2, 3, 4]);
        assert_eq!(named("HB-1 through 3 on hold"), [1, 2, 3]);
        assert_eq!(named("HB-1 to 3 in."), [1]);
        assert_eq!(named("WH-1A is brass; HB-12 is not"), [5]);
        assert_eq!(named("All hose bibbs: verify"), [0; 0]);
    }

    #[test]
    fn a_title_says_nothing_of_what_rows_order() {
        for line in ["EXTERIOR HOSE BIBBS", "BACKFLOW PREVENTERS", "WALL HYDRANTS, FREEZELESS"] {
            assert!(!Place::Title.speaks(line), "{line}");
        }
        assert!(!Place::Note.speaks("2. See plans for locations of fixtures."));
        assert!(!Place::Above.speaks("SMITH PIPE & SUPPLY QUOTATION 88213 BY ROOM"));
        for line in ["PRELIMINARY - ALL LENGTHS TO BE VERIFIED", "NOT FOR CONSTRUCTION", "VOID"] {
            assert!(Place::Above.speaks(line), "{line}");
        }
        assert!(Place::Title.speaks("All wall hydrants: lengths are preliminary."));
        for line in [
            "2. Vacuum breakers to be removed at final.",
            "All lengths to be verified.",
            "1. Barrels are brass.",
        ] {
            assert!(Place::Note.speaks(line), "{line}");
        }
    }

    #[test]
    fn news_totals_and_titles_are_not_about_a_row() {
        for line in ["Rev 1: added HB-4", "Total HB-1: 12", "HB-1: North side"] {
            assert!(!Place::Note.is_about_a_row(line), "{line}");
        }
        for line in ["HB-1 - DELETED PER ADDENDUM 2", "HB-1: 6 in", "ADDENDUM 1: HB-1 change length to 6 in."]
        {
            assert!(Place::Title.is_about_a_row(line), "{line}");
        }
    }
}

//! Errors and warnings in a schedule: the cases, and the text of each.

use crate::diag::{Diagnostic, Location};
use std::sync::Arc;

/// What is wrong in a schedule.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum ScheduleError {
    NoHeadings { known: String },
    UnknownHeading,
    HeadingTwice,
    WrongUnit,
    NotAWorkbook { of: &'static str },
    NoSuchSheet { sheets: String },
    NoTable,
    DittoOfPointer { to: Arc<str> },
    DittoOfNothing,
    PointerBesideFacts { to: String },
    UnknownPointer { to: String },
    AmbiguousPointer { to: String },
    CircularPointer,
    ColumnsContradict { text: Arc<str>, heading: Option<Arc<str>> },
    MergedCount,
    MarksDiffer { marks: usize, text: Arc<str> },
    TotalDiffers { sum: f64 },
    AmbiguousComma,
    UnitOfHeading { unit: &'static str },
    StatedUnknown,
    SecondTable,
    NoSuchRow,
    MayBeOutlet { why: &'static str },
    PlaceListedTwice { mark: Arc<str>, first: Location, is_same: bool },
    PlaceWithoutMark,
    UnknownMark { file: Arc<str> },
    AmbiguousMark { rows: String, file: Arc<str> },
    UnknownOption { option: Arc<str> },
    UnusedOption,
    MarkWithoutPlace { file: Arc<str> },
    PlaceContradicts { text: Arc<str>, location: Location },
    CountsDiffer { sum: f64, from: String },
}

use ScheduleError::*;

impl ScheduleError {
    /// What is wrong; completes the sentence that starts with the text.
    fn message(&self) -> String {
        let text = match self {
            NoHeadings { .. } => "no row with known headings was found",
            UnknownHeading => "is not a known heading",
            HeadingTwice => "is the heading of two columns that differ, of which one is read",
            WrongUnit => "is not a unit for this column",
            NoTable => "there is no table",
            DittoOfNothing => "repeats the cell above, and there is none; it counts as unknown",
            CircularPointer => "refers from row to row and never to one with facts",
            MergedCount => "is one count merged over several rows; the count of this row is unknown",
            AmbiguousComma => "has a comma that may be a decimal comma or a thousands separator",
            StatedUnknown => "says that it is not known; no default takes its place",
            SecondTable => "is a row of headings with other columns; it and the rows below it are not read",
            NoSuchRow => "is not a mark or row of the schedule",
            PlaceWithoutMark => "the place has no mark and is skipped",
            UnknownOption { .. } => "is a plan option without a number of homes; its faucets are not counted",
            UnusedOption => "is a plan option without places",
            MayBeOutlet { why } => return format!("{why}; it is reviewed as an outdoor faucet"),
            UnitOfHeading { unit } => return format!("is not in {unit}, which its heading says"),
            NotAWorkbook { of } => return format!("names a sheet, but {of} is not a workbook"),
            NoSuchSheet { .. } => "is not a sheet of the workbook with anything in it",
            DittoOfPointer { to } => {
                return format!("repeats \"{to}\", which refers to another row; it counts as unknown");
            }
            PointerBesideFacts { to } => {
                return format!(
                    "refers to {to}, but the row has facts of its own; it is unclear which apply"
                );
            }
            UnknownPointer { to } => return format!("refers to {to}, but no row has that mark"),
            AmbiguousPointer { to } => {
                return format!("refers to {to}, but the rows with that mark differ");
            }
            ColumnsContradict { text, heading } => {
                let under = heading.as_ref().map(|heading| format!(" under \"{heading}\""));
                return format!("contradicts \"{text}\"{}; neither is used", under.unwrap_or_default());
            }
            MarksDiffer { marks, text } => {
                return format!(
                    "is not the number of marks in \"{text}\", {marks}; the count of this row is unknown"
                );
            }
            TotalDiffers { sum } => {
                return format!(
                    "is not the sum of the rows above it, {sum}; a row is missing, or a count is wrong"
                );
            }
            PlaceListedTwice { mark, first, is_same } => {
                let effect =
                    if *is_same { "it is counted once" } else { "the two differ, and both are counted" };
                return format!("is a place of {mark} listed before, in {first}; {effect}");
            }
            UnknownMark { file } => return format!("is not a mark of {file}; the place is skipped"),
            AmbiguousMark { rows, file } => {
                return format!(
                    "is the mark of rows {rows} of {file}; it is unclear which goes here, and the place is skipped"
                );
            }
            MarkWithoutPlace { file } => {
                return format!("has no place in {file}; it is reviewed as listed in the schedule");
            }
            PlaceContradicts { text, location } => {
                return format!(
                    "differs from the schedule, \"{text}\" ({location}); the place's value is used"
                );
            }
            CountsDiffer { sum, from } => {
                return format!(
                    "differs from the count of its places, {sum}, from {from} on; the places' counts are used"
                );
            }
        };
        text.into()
    }

    fn expected(&self) -> Option<String> {
        let text = match self {
            NoHeadings { known } => return Some(format!("headings such as {known}")),
            NoSuchSheet { sheets } => return Some(sheets.clone()),
            UnknownOption { option } => return Some(format!("`homes: {{ {option}: 12 }}` in the job")),
            DittoOfPointer { .. } => "the fact written out",
            PointerBesideFacts { .. } => "the facts written out, or no other facts in the row",
            AmbiguousPointer { .. } => "the facts written out",
            ColumnsContradict { .. } => "the same in both columns",
            MergedCount => "a count in each row",
            HeadingTwice => "each heading once, and tables below each other or on sheets of their own",
            MarksDiffer { .. } => "the number of faucets in the row, or a row for each mark",
            UnitOfHeading { .. } => "a number alone, or a heading without a unit",
            AmbiguousComma => "a point, such as 0.75, or no comma",
            SecondTable => "the second table in a file or on a sheet of its own",
            NoSuchRow => "a mark, or `row 12`",
            StatedUnknown => "the value, or an empty cell",
            MayBeOutlet { .. } => {
                "an answer on the sheet of questions; or `include:` or `set_aside:` in the job, with its mark or row"
            }
            PlaceListedTwice { .. } => "one row per place, with how many faucets of the mark are there",
            AmbiguousMark { .. } => "one row per mark, or the location as the schedule has it",
            _ => return None,
        };
        Some(text.into())
    }

    /// The diagnostic at a location.
    pub(super) fn at(&self, location: Location) -> Diagnostic {
        Diagnostic { expected: self.expected(), ..Diagnostic::new(location, self.message()) }
    }
}

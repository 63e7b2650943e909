//! The places of a job: a file that is read as a schedule is, a workbook too, or a list in the job itself, and how many
//! homes are built to each plan option.

use super::files::{Brought, beside, bring};
use super::headings::read_file;
use super::{Job, Scope, Vocabulary};
use crate::diag::{Diagnostic, Diagnostics};
use crate::input::{Files, Key, Kind, Node, tables};
use crate::schedule::{
    self, Cell, CellValue, Columns, Homes, NamedSheet, PlaceTerms, ReadOptions, Row, Schedule, plain,
};

/// Most homes to one plan option.
const MOST_HOMES: u32 = 100_000;
/// Reads what `places:` in a job names or lists.
pub(super) fn read(
    node: &Node,
    job_file: &str,
    files: &dyn Files,
    vocabulary: &Vocabulary,
    problems: &mut Diagnostics,
) -> Option<Schedule> {
    if let Kind::List(_) = node.kind {
        return of_list(node, vocabulary, problems);
    }
    let said = read_file(node, "places", problems)?;
    let path = beside(job_file, &said.file);
    let sheet =
        said.sheet.as_ref().map(|(name, location)| NamedSheet { name, location, of: "the list of places" });
    let own = vocabulary.facts_in(Scope::is_kept_by_copies);
    let options = ReadOptions {
        vocabulary,
        mark: vocabulary.mark,
        columns: &Columns::default(),
        own: &own,
        is_mixed: false,
        select: None,
    };
    let read = match bring(files, &path) {
        Ok(Brought::Values(node)) => {
            if let Some(sheet) = sheet {
                problems.push(sheet.of_no_workbook());
                return None;
            }
            return of_list(&node, vocabulary, problems);
        }
        Ok(Brought::Tables(bytes)) => {
            tables(&path, &bytes).and_then(|it| Ok(schedule::choose(&it, sheet, &options)?.schedule))
        }
        Err(problem) => Err(problem),
    };
    read.map_err(|problem| problems.push(problem)).ok()
}

fn of_list(node: &Node, vocabulary: &Vocabulary, problems: &mut Diagnostics) -> Option<Schedule> {
    let mut places = Schedule { file: node.location.file.clone(), ..Schedule::default() };
    for (number, entry) in (1..).zip(node.list("places", problems)?) {
        let mut cells: Vec<Cell> = Vec::new();
        for (heading, value) in entry.map("place", problems)? {
            let what = "is not a heading a place can have";
            let Some(term) = vocabulary.heading(heading, what, &mut places.problems) else { continue };
            if value.is_null() {
                continue;
            }
            let new = vocabulary.cells(term, value, &mut places.problems);
            if !vocabulary.put(new, &mut cells) {
                let error = Diagnostic::new(heading.location.clone(), "is given twice for one place");
                let error = error.text(&heading.text).expected("one of the two, which mean the same");
                places.problems.push(error);
            }
        }
        cells.sort_by_key(|cell| cell.term);
        places.rows.push(Row { number, cells, at: Some(entry.location.clone()) });
    }
    schedule::read_words(&mut places, vocabulary);
    Some(places)
}

/// `homes: { Plan A: 12, Plan B: 8 }`.
pub(super) fn read_homes(entries: &[(Key, Node)], errors: &mut Diagnostics) -> Vec<Homes> {
    let mut homes: Vec<Homes> = Vec::new();
    for (key, node) in entries {
        if homes.iter().any(|known| plain(&known.option) == plain(&key.text)) {
            let error = Diagnostic::new(key.location.clone(), "is a plan option given twice");
            errors.push(error.text(&key.text).expected("one number of homes for it"));
            continue;
        }
        let Some(text) = node.text("number of homes", errors) else { continue };
        match text.trim().parse::<u32>() {
            Ok(count) if (1..=MOST_HOMES).contains(&count) => {
                homes.push(Homes { option: key.text.as_str().into(), count, location: key.location.clone() });
            }
            _ => errors.push(
                node.problem("is not the number of homes of a plan option")
                    .expected("a whole number such as 12"),
            ),
        }
    }
    homes
}

/// Puts the places of a job in its schedule.
pub(super) fn put(job: &mut Job, places: Schedule, homes: &[Homes], vocabulary: &Vocabulary) {
    let terms = PlaceTerms {
        vocabulary,
        mark: vocabulary.mark,
        quantity: vocabulary.quantity,
        location: vocabulary.location,
        option: vocabulary.option,
        of_place: &vocabulary.facts_in(Scope::is_in_places),
    };
    let mut schedule = std::mem::take(&mut job.schedule);
    schedule::put_places(&mut schedule, places, homes, &terms, &|a, b| {
        let [one, other] = [a, b].map(|cell| job.wall(&cell.text).map(|wall| &wall.key));
        match (&a.value, &b.value) {
            _ if a.term == vocabulary.wall && one.is_some() => one == other,
            (Some(CellValue::Text(a)), Some(CellValue::Text(b))) => plain(a) == plain(b),
            (a, b) => a == b,
        }
    });
    job.schedule = schedule;
}

//! The places of a job: a file that is read as a schedule is, a workbook too, or a list in the job itself, and how many
//! homes are built to each plan option.

use super::headings::read_schedule;
use super::load::{Brought, OWN, beside, bring};
use super::{Job, OF_THE_PLACE};
use crate::diag::{Diagnostic, Diagnostics};
use crate::input::{Files, Kind, Node, tables};
use crate::schedule::{
    self, Cell, Columns, Homes, NamedSheet, PlaceTerms, Read, Reading, Row, Schedule, Term, is_blank, plain,
    read_cell,
};

/// Most homes to one plan option.
const MOST_HOMES: u32 = 100_000;
/// Facts of where an outlet is put, besides those product data must not state.
const MORE: [&str; 9] = [
    "outlet.slope",
    "outlet.height",
    "outlet.clearance",
    "outlet.block_thickness",
    "outlet.fire_rated",
    "outlet.firestop",
    "outlet.sleeve",
    "outlet.stop_access",
    "outlet.notes",
];

/// Reads what `places:` in a job names or lists.
pub(super) fn read(
    node: &Node,
    job_file: &str,
    files: &dyn Files,
    vocabulary: &[Term],
    mark: usize,
    problems: &mut Diagnostics,
) -> Option<Schedule> {
    if let Kind::List(_) = node.kind {
        return of_list(node, vocabulary, problems);
    }
    let said = read_schedule(node, "places", problems)?;
    let path = beside(job_file, &said.file);
    let sheet = said.sheet.as_ref().map(|(name, place)| NamedSheet { name, place, of: "the list of places" });
    let reading = Reading { vocabulary, mark, columns: &Columns::default(), own: &OWN };
    let read = match bring(files, &path) {
        Ok(Brought::Values(node)) => {
            if let Some(sheet) = sheet {
                problems.push(sheet.of_no_workbook());
                return None;
            }
            return of_list(&node, vocabulary, problems);
        }
        Ok(Brought::Tables(bytes)) => {
            tables(&path, &bytes).and_then(|it| schedule::choose(&it, sheet, &reading))
        }
        Err(problem) => Err(problem),
    };
    read.map_err(|problem| problems.push(problem)).ok()
}

fn of_list(node: &Node, vocabulary: &[Term], problems: &mut Diagnostics) -> Option<Schedule> {
    let mut places = Schedule { file: node.place.file.clone(), ..Schedule::default() };
    for (number, entry) in (1..).zip(node.list("places", problems)?) {
        let mut cells: Vec<Cell> = Vec::new();
        for (heading, value) in entry.map("place", problems)? {
            let wanted = plain(&heading.text);
            let is_meant = |term: &Term| term.aliases.iter().any(|alias| plain(alias) == wanted);
            let Some(term) = vocabulary.iter().position(is_meant) else {
                let aliases = vocabulary.iter().flat_map(|term| term.aliases.iter().copied());
                let problem = Diagnostic::new(heading.place.clone(), "is not a heading a place can have");
                places.problems.push(problem.text(&heading.text).nearest(&heading.text, aliases));
                continue;
            };
            if value.is_null() {
                continue;
            }
            let Some(text) = value.text("value", &mut places.problems) else { continue };
            if is_blank(text) {
                continue;
            }
            let read = read_cell(&vocabulary[term].reads, text, None);
            let value_read = read.map_err(|it| places.problems.push(it.at(value.place.clone(), text))).ok();
            cells.push(Cell { term, place: value.place.clone(), text: text.into(), value: value_read });
        }
        cells.sort_by_key(|cell| cell.term);
        places.rows.push(Row { number, cells, at: Some(entry.place.clone()) });
    }
    Some(places)
}

/// `homes: { Plan A: 12, Plan B: 8 }`.
pub(super) fn read_homes(node: &Node, problems: &mut Diagnostics) -> Vec<Homes> {
    let mut homes = Vec::new();
    for (key, node) in node.map("homes", problems).unwrap_or_default() {
        let Some(text) = node.text("number of homes", problems) else { continue };
        match text.trim().parse::<u32>() {
            Ok(count) if (1..=MOST_HOMES).contains(&count) => {
                homes.push(Homes { option: key.text.as_str().into(), count, place: key.place.clone() });
            }
            _ => {
                let problem = node.problem("is not how many homes are built to a plan option");
                problems.push(problem.expected("a whole number such as 12"));
            }
        }
    }
    homes
}

/// Puts the places of a job in its schedule.
pub(super) fn put(job: &mut Job, places: Schedule, homes: &[Homes], vocabulary: &[Term], mark: usize) {
    let term = |fact: &str| vocabulary.iter().position(|term| term.fact == fact).unwrap_or(usize::MAX);
    let of_place: Vec<&str> = OF_THE_PLACE.iter().chain(&MORE).copied().collect();
    let wall = term("outlet.wall");
    let terms = PlaceTerms {
        vocabulary,
        mark,
        quantity: term("outlet.quantity"),
        location: term("outlet.location"),
        option: term("outlet.option"),
        of_place: &of_place,
    };
    let mut schedule = std::mem::take(&mut job.schedule);
    schedule::put_places(&mut schedule, places, homes, &terms, &|a, b| {
        let [one, other] = [a, b].map(|cell| job.wall(&cell.text).map(|it| &it.key));
        match (&a.value, &b.value) {
            _ if a.term == wall && one.is_some() => one == other,
            (Some(Read::Text(a)), Some(Read::Text(b))) => plain(a) == plain(b),
            (a, b) => a == b,
        }
    });
    job.schedule = schedule;
}

//! What stands over a whole sheet or over some of its columns: the name of the sheet, its header and footer, a heading in
//! doubt or over other headings, a line through a heading. None of it is read; what leaves rows in doubt is held against them.

use super::doubt::{About, doubts};
use super::general::has_standing;
use super::headings::Headings;
use super::place::Place;
use super::remarks;
use super::text::{Plain, has_any_word, is_blank, plain};
use super::word_source::quoted;
use crate::diag::Location;
use crate::input::{Flaw, Row, Table};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A doubt about a whole row.
#[derive(Clone, Debug)]
pub(super) struct Doubt {
    pub location: Location,
    pub text: Arc<str>,
    /// What is said of it.
    pub statement: Arc<str>,
}

/// Words over rows or columns that say that what is under them is not, or not yet, what is to be built.
const NOT_THESE: [&str; 35] = [
    "archive",
    "archived",
    "alternate",
    "backup",
    "demo",
    "demolished",
    "demolition",
    "disapproved",
    "exist",
    "existing",
    "former",
    "formerly",
    "future",
    "guess",
    "nic",
    "not",
    "obsolete",
    "old",
    "optional",
    "original",
    "outdated",
    "prelim",
    "previous",
    "previously",
    "prior",
    "rejected",
    "replaced",
    "scratch",
    "superceded",
    "template",
    "tentative",
    "unapproved",
    "unconfirmed",
    "was",
    "wip",
];
/// Phrases that do.
const CONDITIONS: [&str; 7] =
    ["if approved", "subject to", "in question", "by owner", "by others", "for info", "wrong"];
/// Words beside these in the name of a sheet that is of nothing else; "Existing bldg" and "Old Main" name a building.
const BESIDE: [&str; 12] = [
    "conditions",
    "schedule",
    "sheet",
    "rev",
    "revision",
    "do",
    "use",
    "set",
    "plan",
    "plans",
    "copy",
    "list",
];

/// Whether words over rows or columns deny them or leave them in doubt.
pub(super) fn is_open(text: &str) -> bool {
    let words = Plain::of(text).text;
    // "Schedule by floor" says nothing of who provides it; `remarks` knows those who do.
    let leaves_open = |(range, about): &(std::ops::Range<usize>, About)| {
        *about == About::Phrase && !words[range.clone()].to_lowercase().starts_with("by ")
    };
    remarks::is_doubt(text.trim_end_matches(':'))
        || has_standing(text)
        || has_any_word(text, &NOT_THESE)
        || CONDITIONS.iter().any(|it| words.to_lowercase().contains(it))
        || doubts(&words).iter().any(leaves_open)
}

/// Whether a heading over headings says who provides what is under it: "BY G.C.", "Furnished by PC".
fn says_who_provides(text: &str) -> bool {
    /// By what people sort.
    const SORTED_BY: [&str; 9] =
        ["area", "building", "floor", "level", "room", "system", "type", "unit", "zone"];
    /// "Prepared by", "checked by" and their like say who wrote the sheet.
    const PROVIDED: [&str; 5] = ["furnished", "installed", "provided", "purchased", "supplied"];
    let lower = text.to_lowercase();
    let mut words = lower.split_whitespace().skip_while(|word| PROVIDED.contains(word));
    words.next() == Some("by")
        && words.next().is_some_and(|word| !SORTED_BY.contains(&word.trim_end_matches('s')))
}

/// The same of a heading, which may also leave its own figures in doubt.
pub(super) fn is_open_heading(text: &str) -> bool {
    is_open(text) || text.contains("+/-") || text.contains('\u{b1}')
}

/// The same of the name of a sheet: what else it says names a building.
pub(super) fn is_open_tab(name: &str) -> bool {
    let lower = name.to_lowercase();
    let mut words = lower.split(|c: char| !c.is_alphabetic()).filter(|word| word.len() > 1);
    let is_of_standing =
        |word: &str| NOT_THESE.contains(&word) || BESIDE.contains(&word) || has_standing(word);
    is_open(name) && (has_standing(name) || remarks::is_doubt(name) || words.all(is_of_standing))
}

/// The name of the sheet, what is printed above and below it, and what is drawn over it.
pub(super) fn whole_sheet(table: &Table) -> impl Iterator<Item = (Location, Arc<str>, Place)> {
    let name = table.about.sheet.as_ref().map(|it| (table.location(None), it.name.clone(), Place::Tab));
    let margins = table.about.margins.iter();
    let margins = margins.map(|it| (table.location(None), it.as_str().into(), Place::Margin));
    let drawn = table.about.drawn.iter();
    let drawn = drawn.map(|(row, text)| (table.location(*row), text.as_str().into(), Place::Drawn));
    name.into_iter().chain(margins).chain(drawn)
}

/// What stands above the columns of a table besides their headings.
pub(super) struct Above {
    /// Columns with a line through their headings.
    struck: BTreeSet<usize>,
    groups: Vec<Group>,
    /// What a line drawn across a row is called.
    crossing: [Arc<str>; 2],
}

/// A heading over headings that leaves what is under it in doubt; its columns are within the bounds.
struct Group {
    columns: [usize; 2],
    doubt: Doubt,
}

impl Above {
    pub(super) fn of(table: &Table, headings: &Headings) -> Self {
        let about = &table.about;
        let own = table.rows.iter().filter(|row| (headings.row..=headings.last).contains(&row.number));
        let mut struck = BTreeSet::new();
        for row in own {
            let is_struck = |column: usize| {
                let flaw = about.flaws.get(&(row.number, column));
                about.struck.contains(&row.number) || matches!(flaw, Some(Flaw::Struck | Flaw::Crossed))
            };
            struck.extend((0..row.cells.len()).filter(|it| !is_blank(row.cell(*it)) && is_struck(*it)));
        }
        let above = table.rows.iter().filter(|row| row.number <= headings.row).rev().take(2);
        let near = above.filter(|row| row.number + 1 >= headings.row);
        let groups = near.flat_map(|row| groups(table, row, headings)).collect();
        Self { struck, groups, crossing: ["a line".into(), "Drawn over the row: a line".into()] }
    }

    /// Why no cell of a column is known.
    pub(super) fn flaw(&self, column: usize) -> Option<Flaw> {
        self.struck.contains(&column).then_some(Flaw::UnderStruck)
    }

    /// What leaves a row in doubt.
    pub(super) fn doubts(&self, table: &Table, row: &Row) -> Vec<Doubt> {
        let is_under = |group: &&Group| {
            let [first, last] = group.columns;
            row.cells.iter().take(last.saturating_add(1)).skip(first).any(|text| !is_blank(text))
        };
        let mut found: Vec<Doubt> =
            self.groups.iter().filter(is_under).map(|group| group.doubt.clone()).collect();
        if table.about.crossed.contains(&row.number) {
            let [text, statement] = self.crossing.clone();
            found.push(Doubt { location: Location::cell(&table.file, row.number, None), text, statement });
        }
        found
    }
}

/// The doubtful ones among the headings over headings in a row.
fn groups(table: &Table, row: &Row, headings: &Headings) -> Vec<Group> {
    let cells: Vec<(usize, &str)> =
        row.cells.iter().map(|it| it.trim()).enumerate().filter(|(_, it)| !is_blank(it)).collect();
    let named = |column: &usize| !headings.names[*column].is_empty();
    let width = headings.names.len();
    let first = (0..width).find(named).unwrap_or(0);
    let last = (0..width).rfind(named).unwrap_or(0);
    let merges: Vec<_> = table.about.merges.iter().filter(|it| it.rows[0] == row.number).collect();
    let mut found = Vec::new();
    for (at, (column, text)) in cells.iter().enumerate() {
        let merge = merges.iter().find(|it| it.holds(row.number, *column));
        let next = cells.get(at + 1).map_or(usize::MAX, |(next, _)| next.saturating_sub(1));
        let columns = [*column, merge.map_or(next, |it| it.columns[1])];
        // A title over the whole table, and a heading of one line itself.
        let is_title = cells.len() == 1 && *column <= first && (merge.is_none() || columns[1] >= last);
        let is_heading = headings.names.get(*column).is_some_and(|name| plain(name) == plain(text));
        if is_title || is_heading || *column > last || !(is_open(text) || says_who_provides(text)) {
            continue;
        }
        let over = |column: usize| headings.names[column.clamp(first, last)].clone();
        let under = match (over(columns[0]), over(columns[1])) {
            (one, other) if one == other => one.to_string(),
            (one, other) => format!("{one} to {other}"),
        };
        let (location, text) = (Location::cell(&table.file, row.number, None), Arc::<str>::from(*text));
        let statement = format!("Over {under}: {}", quoted(&text, &location)).into();
        found.push(Group { columns, doubt: Doubt { location, text, statement } });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_over_a_sheet_leave_it_open_and_plain_names_do_not() {
        for text in [
            "VOID",
            "Superseded - do not use",
            "Existing",
            "Draft",
            "Not in contract",
            "N.I.C.",
            "By others",
            "Old",
        ] {
            assert!(is_open(text), "{text}");
        }
        for name in ["Old", "Existing conditions", "Old schedule", "Draft", "VOID", "Superceded", "Archive"] {
            assert!(is_open_tab(name), "{name}");
        }
        for name in ["Existing bldg", "Old Main", "New & existing", "Old Town Hall", "Building A"] {
            assert!(!is_open_tab(name), "{name}");
        }
        for text in [
            "Schedule",
            "Sheet1",
            "Building A",
            "Schedule by floor",
            "Hose bibbs",
            "Plumbing fixtures",
            "Rough-in",
            "Connections",
            "P-601",
            "Rev 2",
        ] {
            assert!(!is_open(text), "{text}");
        }
    }
}

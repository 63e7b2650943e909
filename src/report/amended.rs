//! What presets and amendments have done, in words: the head of the comment sheet, the list of rules, the JSON.

use super::words::listed;
use crate::diag::{Location, Position};
use crate::ruleset::{AmendedBy, AmendmentEffects, Basis, Changed, Level, Note, Noted, Part};
use std::sync::Arc;

/// Lines of a page's head, each with its label.
pub fn head(effects: &AmendmentEffects) -> Vec<(&'static str, String)> {
    let mut lines: Vec<(&'static str, String)> = Vec::new();
    lines.extend(effects.preset.iter().map(|it| ("Preset", it.to_string())));
    if !effects.amendments.is_empty() {
        let named =
            effects.amendments.iter().map(|it| Arc::from(format!("{} ({})", it.name, it.level.word())));
        lines.push(("Amended", listed(&named.collect::<Vec<_>>(), usize::MAX)));
    }
    for figure in &effects.stated {
        lines.push(("Authority", format!("{} {}: {}", figure.what, figure.is, by_whom(&figure.by))));
    }
    lines.extend(effects.settings.iter().map(|it| ("Setting", change(it))));
    for (name, about, by) in &effects.tables {
        lines.push(("Table", format!("{name}, {about}: {}", by_whom(by))));
    }
    lines.extend(effects.rules.iter().map(|it| ("Changed", change(it))));
    for (number, title, by) in &effects.added {
        lines.push(("Added", format!("{number}, {title}: {}", location_text(&by.location))));
    }
    for it in &effects.dropped {
        lines.push((
            "Dropped",
            format!("{} by {}: {} ({})", it.number, it.by.name, it.reason, location_text(&it.by.location)),
        ));
    }
    lines.extend(
        effects.notes.iter().map(|it| ("Note", format!("{} ({})", note(it), location_text(&it.by.location)))),
    );
    lines
}

/// Who added a rule and who changed it, behind its basis: "; added by North County; as amended by house".
pub fn of_rule(added_by: Option<&str>, changed_by: &[Arc<str>]) -> String {
    let added = added_by.map_or_else(String::new, |by| format!("; added by {by}"));
    if changed_by.is_empty() {
        added
    } else {
        format!("{added}; as amended by {}", listed(changed_by, usize::MAX))
    }
}

/// Which bases may ask for a revision, and who sets them; `None` if no one does.
pub fn revise_on(bases: &[Basis], by: Option<&Arc<str>>) -> Option<String> {
    by.map(|by| format!("{}: {by}", named(bases)))
}

/// Why a comment that would be a revision is none.
pub(super) fn advises_only(bases: &[Basis]) -> String {
    format!("advisory only: this job requires revision on {}", named(bases))
}

fn named(bases: &[Basis]) -> String {
    let words: Vec<Arc<str>> = bases.iter().map(|it| it.word().into()).collect();
    if words.is_empty() { "nothing".into() } else { listed(&words, usize::MAX) }
}

/// "freezing/margin 8 °F, was 4 °F: North County, county.yaml line 4". A wording is named, not repeated.
pub fn change(it: &Changed) -> String {
    let by = by_whom(&it.by);
    let was = if it.was.is_empty() { "nothing" } else { &it.was };
    match it.part {
        None => format!("{} {}, was {was}: {by}", it.what, it.is),
        Some(part @ (Part::Outcome | Part::Basis | Part::Once)) => {
            format!("{} {} {}, was {was}: {by}", it.what, part.word(), it.is)
        }
        Some(part) => format!("{} {}: {by}", it.what, part.word()),
    }
}

/// "North County, county.yaml line 4".
pub fn by_whom(by: &AmendedBy) -> String {
    match by.level {
        Level::Preset => format!("preset {}", by.name),
        _ => format!("{}, {}", by.name, location_text(&by.location)),
    }
}

/// "county.yaml line 4".
pub fn location_text(location: &Location) -> String {
    match location.position {
        Position::Line(span) => format!("{} line {}", location.file, span.line),
        Position::Row(row, _) => format!("{} row {row}", location.file),
        Position::Whole => location.file.to_string(),
    }
}

/// A note in words.
pub fn note(note: &Note) -> String {
    let (by, is_region) = (&note.by.name, note.by.level == Level::Region);
    let who = |it: &AmendedBy| format!("{} ({}, {})", it.name, it.level.word(), location_text(&it.location));
    match &note.what {
        Noted::Nothing => format!("{by} changes nothing"),
        Noted::ChangesAfter { number, above } => format!("{by} changes {number} after {}", who(above)),
        Noted::DropsAfter { number, above } => format!("{by} drops {number}, which is by {}", who(above)),
        Noted::ReplacesAfter { table, above } => format!("{by} replaces {table} of {}", who(above)),
        Noted::RevisesOnAfter { above } => {
            format!("{by} changes which bases can require revision, after {}", who(above))
        }
        Noted::DropsCode { number } if is_region => {
            format!("{by} drops {number}, which is based on the adopted code as the region has amended it")
        }
        Noted::DropsCode { number } => {
            format!("{by} drops {number}, which is based on the adopted code: the code still governs")
        }
        Noted::LowersCode { number, from, to } => format!(
            "{by} lowers {number} from {} to {}; it is based on the adopted code, {}",
            from.word(),
            to.word(),
            if is_region { "as the region has amended it" } else { "and the code still governs" }
        ),
        Noted::LeavesCode { number } => format!(
            "{by} takes {number} off the adopted code, {}",
            if is_region { "as the region has amended it" } else { "and the code still governs" }
        ),
        Noted::UnusedTable { table } => format!("no rule reads {table} of {by}"),
        Noted::MayNotRevise { number, basis } => format!(
            "{by} requires revision in {number}, but its basis, {}, cannot require it here: advisory only",
            basis.word()
        ),
    }
}

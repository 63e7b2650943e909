//! XLSX: the sheets of a workbook by ECMA-376, part 1, clause 18. Results that formulas were saved with are read;
//! nothing is computed, followed or run.

use std::collections::BTreeMap;
use std::sync::Arc;

use quick_xml::events::{BytesStart, Event};

use super::format::Format;
use super::grid::{Grid, Shown, Used};
use super::package::{Package, Part};
use super::styles::{self, Style};
use super::xml::{add_text, attribute, attribute_named, flag, is_off, name};
use super::{beside, drawing};
use crate::diag::{Diagnostic, Location};
use crate::input::{Flaw, Limit, Merge, Table};

/// What the sheets of a workbook share.
#[derive(Default)]
struct Shared {
    strings: Vec<Rich>,
    styles: Vec<Style>,
    from_1904: bool,
}

/// The tables of all sheets with content, in the order of the workbook.
pub(super) fn read(package: &mut Package<'_>) -> Result<Vec<Table>, Diagnostic> {
    let file = package.file.clone();
    let main = relations(package, "_rels/.rels", "")?
        .into_values()
        .find(|it| it.kind == "officeDocument")
        .map_or_else(|| "xl/workbook.xml".to_owned(), |it| it.target);
    let mut shared = Shared::default();
    let listed = sheets(package.need(&main)?, &file, &mut shared.from_1904)?;
    let (folder, own) = main.rsplit_once('/').unwrap_or(("", &main));
    let related = relations(package, &format!("{folder}/_rels/{own}.rels"), folder)?;
    let of_kind = |kind: &str| related.values().find(|it| it.kind == kind).map(|it| it.target.as_str());
    let mut used = Used::default();
    if let Some(target) = of_kind("sharedStrings")
        && let Some(part) = package.part(target)?
    {
        shared.strings = strings(part, &file)?;
    }
    if let Some(target) = of_kind("styles")
        && let Some(part) = package.part(target)?
    {
        shared.styles = styles::read(part, &file)?;
    }
    let mut tables = Vec::new();
    for listed in listed {
        let Some(target) = related.get(&listed.relation).filter(|it| it.kind == "worksheet") else {
            continue;
        };
        let mut grid = Grid::new(&file, &listed.name, listed.hidden, &mut used);
        sheet(package.need(&target.target)?, &file, &shared, &mut grid)?;
        let (folder, own) = target.target.rsplit_once('/').unwrap_or(("", &target.target));
        let beside = relations(package, &format!("{folder}/_rels/{own}.rels"), folder)?;
        for Relation { kind, target } in beside.into_values() {
            match kind.as_str() {
                "comments" | "threadedComment" => {
                    if let Some(part) = package.part(&target)? {
                        beside::comments(part, &mut grid)?;
                    }
                }
                "drawing" => {
                    if let Some(part) = package.part(&target)? {
                        drawing::read(part, &mut grid)?;
                    }
                }
                _ => {}
            }
        }
        tables.extend(grid.finish()?);
    }
    used.tell(&mut tables);
    Ok(tables)
}

struct Relation {
    /// The last word of its type: strict and usual workbooks differ before it.
    kind: String,
    target: String,
}

fn relations(
    package: &mut Package<'_>,
    name_of: &str,
    folder: &str,
) -> Result<BTreeMap<String, Relation>, Diagnostic> {
    let file = package.file.clone();
    let mut found = BTreeMap::new();
    let Some(mut part) = package.part(name_of.trim_start_matches('/'))? else { return Ok(found) };
    loop {
        match part.next()? {
            Event::Start(start) if name(&start) == "Relationship" => {
                let of = |key| attribute(&start, key).unwrap_or_default();
                let kind = of("Type").rsplit('/').next().unwrap_or_default().to_owned();
                found.insert(of("Id"), Relation { kind, target: resolved(folder, &of("Target")) });
                Limit::Parts.check(found.len(), || Location::whole(&file))?;
            }
            Event::Eof => return Ok(found),
            _ => {}
        }
    }
}

/// A target as a name in the package: from the root with a slash, else from the folder.
fn resolved(folder: &str, target: &str) -> String {
    let whole = match target.strip_prefix('/') {
        Some(rooted) => rooted.to_owned(),
        None => format!("{folder}/{target}"),
    };
    let mut parts: Vec<&str> = Vec::new();
    for part in whole.split('/') {
        match part {
            "" | "." => {}
            ".." => drop(parts.pop()),
            part => parts.push(part),
        }
    }
    parts.join("/")
}

struct Listed {
    name: String,
    relation: String,
    hidden: bool,
}

fn sheets(mut part: Part<'_, '_>, file: &str, from_1904: &mut bool) -> Result<Vec<Listed>, Diagnostic> {
    let mut listed = Vec::new();
    loop {
        match part.next()? {
            Event::Start(start) if name(&start) == "sheet" => {
                listed.push(Listed {
                    name: attribute(&start, "name").unwrap_or_default(),
                    relation: attribute_named(&start, "id").unwrap_or_default(),
                    hidden: attribute(&start, "state").is_some_and(|it| it != "visible"),
                });
                Limit::Sheets.check(listed.len(), || Location::whole(file))?;
            }
            Event::Start(start) if name(&start) == "workbookPr" => *from_1904 = flag(&start, "date1904"),
            Event::Eof => return Ok(listed),
            _ => {}
        }
    }
}

fn strings(mut part: Part<'_, '_>, file: &str) -> Result<Vec<Rich>, Diagnostic> {
    let mut all: Vec<Rich> = Vec::new();
    let mut bytes = 0;
    loop {
        let event = part.next()?;
        match event {
            Event::Start(start) if name(&start) == "si" => {
                let text = rich_text(&mut part)?;
                bytes += text.text.len();
                all.push(text);
                Limit::Cells.check(all.len(), || Location::whole(file))?;
                Limit::TableText.check(bytes, || Location::whole(file))?;
            }
            Event::Eof => return Ok(all),
            _ => {}
        }
    }
}

/// A text, and whether a part of it or all of it is struck through.
#[derive(Clone, Debug, Default)]
struct Rich {
    text: String,
    is_partly_struck: bool,
    is_all_struck: bool,
}

/// The text of the element just started, its runs joined, without the reading aids of phonetic scripts.
fn rich_text(part: &mut Part<'_, '_>) -> Result<Rich, Diagnostic> {
    let outside = part.depth() - 1;
    let (mut text, mut within, mut is_run_struck) = (String::new(), false, false);
    let (mut any_struck, mut any_plain) = (false, false);
    while part.depth() > outside {
        let mut aside = false;
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "t" => within = true,
                "r" => is_run_struck = false,
                "strike" | "dstrike" => is_run_struck |= !is_off(&start),
                "rPh" => aside = true,
                _ => {}
            },
            Event::End(_) => within = false,
            Event::Eof => break,
            event if within => {
                let start = text.len();
                add_text(&mut text, &event);
                let is_blank = text[start..].trim().is_empty();
                any_struck |= is_run_struck && !is_blank;
                any_plain |= !is_run_struck && !is_blank;
            }
            _ => {}
        }
        if aside {
            part.skip()?;
        }
    }
    let (is_partly_struck, is_all_struck) = (any_struck && any_plain, any_struck && !any_plain);
    Ok(Rich { text: unescaped(text), is_partly_struck, is_all_struck })
}

/// `_x000D_` and its like stand for characters XML cannot hold (22.9.2.19).
fn unescaped(text: String) -> String {
    if !text.contains("_x") {
        return text;
    }
    let mut out = String::new();
    let mut rest = text.as_str();
    while let Some(at) = rest.find("_x") {
        out.push_str(&rest[..at]);
        let code = rest.get(at + 2..at + 6).filter(|_| rest.as_bytes().get(at + 6) == Some(&b'_'));
        match code.and_then(|it| u32::from_str_radix(it, 16).ok()).and_then(char::from_u32) {
            Some(character) => {
                out.push(character);
                rest = &rest[at + 7..];
            }
            None => {
                out.push_str("_x");
                rest = &rest[at + 2..];
            }
        }
    }
    out + rest
}

/// A cell as it stands in the file.
#[derive(Default)]
struct Raw {
    kind: String,
    style: usize,
    value: Option<String>,
    formula: Option<String>,
    /// The text in the cell itself.
    inline: Option<Rich>,
}

fn sheet(
    mut part: Part<'_, '_>,
    file: &Arc<str>,
    shared: &Shared,
    grid: &mut Grid<'_>,
) -> Result<(), Diagnostic> {
    let (mut row, mut column) = (0_u32, 0_usize);
    loop {
        let event = part.next()?;
        match event {
            Event::Start(start) => match name(&start) {
                "row" => {
                    row = attribute(&start, "r")
                        .and_then(|it| it.parse().ok())
                        .unwrap_or(row.saturating_add(1));
                    column = 0;
                    grid.set_height(Some(row), attribute(&start, "ht"));
                    if flag(&start, "hidden") {
                        grid.hide_row(row);
                    }
                }
                "c" => {
                    let at = attribute(&start, "r").and_then(|it| reference(&it));
                    (column, row) = at.unwrap_or((column, row));
                    let raw = raw(&start);
                    let raw = cell(&mut part, raw)?;
                    let shown = shown(raw, shared);
                    grid.put(row, column, &shown).map_err(|it| Diagnostic { text: None, ..it })?;
                    column += 1;
                }
                "col" if flag(&start, "hidden") => {
                    let of = |key| attribute(&start, key).and_then(|it| it.parse::<usize>().ok());
                    if let (Some(first @ 1..), Some(last)) = (of("min"), of("max")) {
                        grid.hide_columns([first - 1, last.saturating_sub(1)]);
                    }
                }
                "mergeCell" => {
                    let range = attribute(&start, "ref").unwrap_or_default();
                    let bounds =
                        range.split_once(':').and_then(|(a, b)| Some((reference(a)?, reference(b)?)));
                    if let Some(((left, top), (right, bottom))) = bounds {
                        grid.merge(Merge { rows: [top, bottom], columns: [left, right] })?;
                    }
                }
                "sheetFormatPr" => grid.set_height(None, attribute(&start, "defaultRowHeight")),
                "headerFooter" => beside::margins(&mut part, grid)?,
                _ => {}
            },
            Event::Eof => return Ok(()),
            _ => {}
        }
        if row == 0 && column > 0 {
            return Err(super::package::damaged(file, "a cell stands in no row"));
        }
    }
}

/// The column from 0 and the row number of a reference such as `AB12`.
pub(super) fn reference(text: &str) -> Option<(usize, u32)> {
    let letters = text.bytes().take_while(u8::is_ascii_alphabetic).count();
    let mut column = 0_usize;
    for letter in text.bytes().take(letters) {
        column = column.checked_mul(26)?.checked_add(usize::from(letter.to_ascii_uppercase() - b'A') + 1)?;
    }
    let row = text.get(letters..)?.parse().ok().filter(|row| *row > 0)?;
    Some((column.checked_sub(1)?, row))
}

fn raw(start: &BytesStart<'_>) -> Raw {
    let style = attribute(start, "s").and_then(|it| it.parse().ok()).unwrap_or(0);
    Raw { kind: attribute(start, "t").unwrap_or_default(), style, ..Raw::default() }
}

fn cell(part: &mut Part<'_, '_>, mut raw: Raw) -> Result<Raw, Diagnostic> {
    let outside = part.depth() - 1;
    let mut within = None;
    while part.depth() > outside {
        let mut is_inline = false;
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "v" => within = Some(raw.value.get_or_insert_default()),
                "f" => within = Some(raw.formula.get_or_insert_default()),
                "is" => is_inline = true,
                _ => {}
            },
            Event::End(_) => within = None,
            Event::Eof => break,
            event => {
                if let Some(text) = &mut within {
                    add_text(text, &event);
                }
            }
        }
        if is_inline {
            within = None;
            let rich = rich_text(part)?;
            raw.value = Some(rich.text.clone());
            raw.inline = Some(rich);
        }
    }
    Ok(raw)
}

fn shown(raw: Raw, shared: &Shared) -> Shown {
    let style = shared.styles.get(raw.style);
    let struck = style.is_some_and(|it| it.struck);
    let is_white = style.is_some_and(|it| it.is_white);
    let is_crossed = style.is_some_and(|it| it.is_crossed);
    let styled = || Shown { is_white, is_crossed, ..Shown::default() };
    let Some(value) = raw.value.filter(|it| !it.is_empty()) else {
        // A formula with an empty text as its result has the type `str`.
        let Some(formula) = raw.formula.filter(|_| raw.kind != "str") else { return Shown::default() };
        return Shown { text: format!("={formula}"), flaw: Some(Flaw::NoResult), struck, ..styled() };
    };
    let text = |text: String, flaw| Shown { text, flaw, struck, ..styled() };
    // A text that is struck in part leaves open what applies.
    let rich = |rich: &Rich| Shown {
        text: rich.text.clone(),
        flaw: rich.is_partly_struck.then_some(Flaw::Struck),
        struck: struck || rich.is_all_struck,
        ..styled()
    };
    match raw.kind.as_str() {
        // Shared-string index out of range.
        "s" => match value.trim().parse::<usize>().ok().and_then(|it| shared.strings.get(it)) {
            Some(string) => rich(string),
            None => text("a text that the workbook has lost".into(), Some(Flaw::Error)),
        },
        "str" => text(unescaped(value), None),
        "inlineStr" => raw.inline.as_ref().map_or_else(|| text(value, None), rich),
        "b" => text(if value.trim() == "0" { "FALSE".into() } else { "TRUE".into() }, None),
        "e" => text(value, Some(Flaw::Error)),
        "d" => text(value, Some(Flaw::Date)),
        _ => match value.trim().parse::<f64>().ok().filter(|it| it.is_finite()) {
            Some(number) => {
                let format = style.map_or(&Format::General, |it| &it.format);
                Shown { struck, is_white, is_crossed, ..format.show(number, shared.from_1904) }
            }
            None => text(value, Some(Flaw::Error)),
        },
    }
}

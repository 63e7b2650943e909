//! Gathers the cells of a sheet into a table, within the limits on a file.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::crossed::{self, Line};
use super::white;
use crate::diag::{Diagnostic, Location};
use crate::input::{About, Flaw, Limit, Merge, Remark, Row, Sheet, Table};

/// What all sheets of a file have used of its limits.
#[derive(Default)]
pub(super) struct Used {
    cells: usize,
    text: usize,
    /// What is drawn over sheets without cells.
    drawn: Vec<String>,
}

impl Used {
    /// Tells what is drawn over sheets without cells beside the first sheet that has some.
    pub(super) fn tell(self, tables: &mut [Table]) {
        let Some(first) = tables.first_mut() else { return };
        for text in self.drawn {
            first.about.drawn.push((None, text.clone()));
            let what = "is drawn over a sheet without cells; it is not read";
            first.about.left_out.push(Remark::new(None, text, what));
        }
    }

    pub(super) fn cells(&mut self, count: usize, file: &str) -> Result<(), Diagnostic> {
        self.cells += count;
        Limit::Cells.check(self.cells, || Location::whole(file))
    }

    pub(super) fn text(&mut self, count: usize, file: &str) -> Result<(), Diagnostic> {
        self.text += count;
        Limit::TableText.check(self.text, || Location::whole(file))
    }
}

/// A cell as it is read.
#[derive(Clone, Debug, Default)]
pub(super) struct Shown {
    pub text: String,
    pub flaw: Option<Flaw>,
    pub struck: bool,
    /// The shown text, if it is rounded.
    pub rounded: Option<String>,
    /// The text that the workbook holds for it, if it is another.
    pub stored: Option<String>,
    /// Whether paper does not show it.
    pub is_white: bool,
    /// Whether a line goes through it from corner to corner.
    pub is_crossed: bool,
}

/// A sheet as it is gathered.
pub(super) struct Grid<'u> {
    file: Arc<str>,
    used: &'u mut Used,
    rows: BTreeMap<u32, Vec<String>>,
    about: About,
    hidden_rows: BTreeSet<u32>,
    hidden_columns: Vec<[usize; 2]>,
    /// Cells struck through, by row.
    struck: BTreeMap<u32, BTreeSet<usize>>,
    /// White cells, by row.
    white: BTreeMap<u32, BTreeSet<usize>>,
    /// Cells with a line from corner to corner, by row.
    crossed: BTreeMap<u32, BTreeSet<usize>>,
    lines: Vec<Line>,
    /// How many pictures and objects without words there are.
    pictures: usize,
    /// The heights of rows that state one, and of the others, in points.
    heights: BTreeMap<u32, f64>,
    usual_height: f64,
    /// How many cells are beyond the columns that are read, and the first of them.
    beyond: Option<(u32, usize, String)>,
}

impl<'u> Grid<'u> {
    pub(super) fn new(file: &Arc<str>, name: &str, hidden: bool, used: &'u mut Used) -> Self {
        let about = About { sheet: Some(Sheet { name: name.into(), hidden }), ..About::default() };
        Self {
            file: file.clone(),
            used,
            rows: BTreeMap::new(),
            about,
            hidden_rows: BTreeSet::new(),
            hidden_columns: Vec::new(),
            struck: BTreeMap::new(),
            white: BTreeMap::new(),
            crossed: BTreeMap::new(),
            lines: Vec::new(),
            pictures: 0,
            heights: BTreeMap::new(),
            usual_height: 15.0,
            beyond: None,
        }
    }

    /// Adds a cell unless it is blank.
    pub(super) fn put(&mut self, row: u32, column: usize, cell: &Shown) -> Result<(), Diagnostic> {
        if cell.text.trim().is_empty() {
            return Ok(());
        }
        let here = || Location::cell(&self.file, row, None);
        if column >= Limit::Columns.most() {
            match &mut self.beyond {
                Some((_, count, _)) => *count += 1,
                none => *none = Some((row, 1, cell.text.chars().take(60).collect())),
            }
            return Ok(());
        }
        if cell.text.len() > Limit::CellCharacters.most() {
            Limit::CellCharacters.check(cell.text.chars().count(), here)?;
        }
        self.used.text(cell.text.len(), &self.file)?;
        if !self.rows.contains_key(&row) {
            Limit::Rows.check(self.rows.len() + 1, here)?;
        }
        let cells = self.rows.entry(row).or_default();
        if cells.len() <= column {
            self.used.cells(column + 1 - cells.len(), &self.file)?;
            cells.resize(column + 1, String::new());
        }
        cells[column].clone_from(&cell.text);
        if let Some(flaw) = cell.flaw {
            self.about.flaws.insert((row, column), flaw);
        }
        if cell.struck {
            self.struck.entry(row).or_default().insert(column);
        }
        if cell.is_white {
            self.white.entry(row).or_default().insert(column);
        }
        if cell.is_crossed {
            self.crossed.entry(row).or_default().insert(column);
        }
        if let Some(stored) = &cell.stored {
            self.beside(row, stored)?;
            let what = "is what the workbook holds for a cell that shows another text; it is not read";
            self.about.left_out.push(Remark::new(Some(row), stored.clone(), what));
        }
        if let Some(shown) = &cell.rounded {
            let what = "is rounded by the cell format; the full value is read";
            self.about.notes.push(Remark::new(Some(row), shown.clone(), what));
        }
        Ok(())
    }

    /// Adds the comment on a cell; of several, their texts.
    pub(super) fn comment(&mut self, row: u32, column: usize, text: &str) -> Result<(), Diagnostic> {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if text.is_empty() || column >= Limit::Columns.most() {
            return Ok(());
        }
        self.beside(row, &text)?;
        let known = self.about.comments.entry((row, column)).or_default();
        if !known.is_empty() {
            known.push_str("; ");
        }
        known.push_str(&text);
        Ok(())
    }

    /// Adds what is drawn over the sheet: its text, and the words that stand for it where it is not seen. A picture or an
    /// object without either is counted.
    pub(super) fn drawn(
        &mut self,
        row: Option<u32>,
        [text, instead]: [&str; 2],
        has_picture: bool,
    ) -> Result<(), Diagnostic> {
        self.leave_out(row, text, "is a text box drawn over the sheet; it is not read")?;
        self.leave_out(row, instead, "describes a picture or shape drawn over the sheet; it is not read")?;
        let has_words = [text, instead].iter().any(|it| !it.trim().is_empty());
        self.pictures += usize::from(has_picture && !has_words);
        Ok(())
    }

    /// Adds a line of which nobody can say what it crosses.
    pub(super) fn line_somewhere(&mut self) -> Result<(), Diagnostic> {
        self.leave_out(None, "a line", "is drawn over the sheet; rows that it crosses may be struck out")
    }

    fn leave_out(&mut self, row: Option<u32>, text: &str, what: &'static str) -> Result<(), Diagnostic> {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if text.is_empty() {
            return Ok(());
        }
        self.beside(row.unwrap_or(0), &text)?;
        self.about.drawn.push((row, text.clone()));
        self.about.left_out.push(Remark::new(row, text, what));
        Ok(())
    }

    /// Adds a line drawn over the sheet.
    pub(super) fn line(&mut self, line: Line) -> Result<(), Diagnostic> {
        self.used.cells(1, &self.file)?;
        self.lines.push(line);
        Ok(())
    }

    /// Adds a text printed above or below the sheet.
    pub(super) fn margin(&mut self, text: &str) -> Result<(), Diagnostic> {
        self.beside(0, text)?;
        self.about.margins.insert(text.to_owned());
        Ok(())
    }

    /// Counts a text beside the cells like a cell.
    fn beside(&mut self, row: u32, text: &str) -> Result<(), Diagnostic> {
        let here = || Location::cell(&self.file, row, None);
        Limit::CellCharacters.check(text.chars().count(), here)?;
        self.used.text(text.len(), &self.file)?;
        self.used.cells(1, &self.file)
    }

    /// Notes how high a row is in points, or the rows that do not say.
    pub(super) fn set_height(&mut self, row: Option<u32>, stated: Option<String>) {
        let points = stated.and_then(|it| it.trim().parse::<f64>().ok());
        match (row, points.filter(|it| it.is_finite() && *it >= 0.0)) {
            (Some(row), Some(points)) if self.heights.len() < Limit::Rows.most() => {
                self.heights.insert(row, points);
            }
            (None, Some(points)) => self.usual_height = points,
            _ => {}
        }
    }

    /// How high a row is in points, and whether it says so itself.
    pub(super) fn height(&self, row: u32) -> (f64, bool) {
        self.heights.get(&row).map_or((self.usual_height, false), |it| (*it, true))
    }

    pub(super) fn hide_row(&mut self, row: u32) {
        // Empty rows are not reported; the limit keeps a file of many hidden rows small.
        if self.hidden_rows.len() < Limit::Rows.most() {
            self.hidden_rows.insert(row);
        }
    }

    pub(super) fn hide_columns(&mut self, columns: [usize; 2]) {
        if self.hidden_columns.len() < Limit::Columns.most() {
            self.hidden_columns.push(columns);
        }
    }

    pub(super) fn merge(&mut self, merge: Merge) -> Result<(), Diagnostic> {
        if merge.rows[0] == merge.rows[1] && merge.columns[0] == merge.columns[1] {
            return Ok(());
        }
        Limit::Merges.check(self.about.merges.len() + 1, || Location::whole(&self.file))?;
        self.about.merges.push(merge);
        Ok(())
    }

    /// The table; `None` if the sheet is empty.
    pub(super) fn finish(mut self) -> Result<Option<Table>, Diagnostic> {
        self.fill_down()?;
        match self.pictures {
            0 => {}
            1 => {
                let what = "is drawn over the sheet; nothing is read from it";
                self.about.left_out.push(Remark::new(None, "a picture", what));
            }
            count => {
                let what = "are drawn over the sheet; nothing is read from them";
                self.about.left_out.push(Remark::new(None, format!("{count} pictures"), what));
            }
        }
        let Self { file, rows, mut about, hidden_rows, hidden_columns, beyond, .. } = self;
        let Self { struck, white, crossed, lines, .. } = self;
        if rows.is_empty() {
            self.used.drawn.extend(about.left_out.into_iter().map(|it| it.text));
            return Ok(None);
        }
        for (row, columns) in struck {
            let Some(cells) = rows.get(&row) else { continue };
            let stands = |(column, text): (usize, &String)| !text.is_empty() && !columns.contains(&column);
            if cells.iter().enumerate().any(stands) {
                for column in columns {
                    about.flaws.entry((row, column)).or_insert(Flaw::Struck);
                }
            } else {
                about.struck.insert(row);
            }
        }
        crossed::apply_borders(crossed, &rows, &mut about);
        crossed::apply(lines, &rows, &mut about);
        white::apply(&white, &rows, &mut about);
        for row in hidden_rows {
            if let Some(cells) = rows.get(&row) {
                let text = cells.iter().find(|it| !it.is_empty()).cloned().unwrap_or_default();
                let what = "is in a hidden row, which is read like the others";
                about.notes.push(Remark::new(Some(row), text, what));
            }
        }
        let width = rows.values().map(Vec::len).max().unwrap_or(0);
        for [first, last] in hidden_columns {
            for column in first..=last.min(width.saturating_sub(1)) {
                let Some((row, text)) = rows
                    .iter()
                    .find_map(|(row, cells)| Some((*row, cells.get(column).filter(|it| !it.is_empty())?)))
                else {
                    continue;
                };
                let what = "starts a hidden column, which is read like the others";
                about.notes.push(Remark::new(Some(row), text.clone(), what));
            }
        }
        if let Some((row, count, text)) = beyond {
            let what = if count == 1 {
                "is beyond the 1,000 columns that are read"
            } else {
                "and more cells are beyond the 1,000 columns that are read"
            };
            about.left_out.push(Remark::new(Some(row), text, what));
        }
        let rows = rows.into_iter().map(|(number, cells)| Row { number, cells: cells.into() }).collect();
        Ok(Some(Table { file, rows, about }))
    }

    /// Repeats a cell merged over several rows in each row with content; a title merged across columns stays one cell.
    fn fill_down(&mut self) -> Result<(), Diagnostic> {
        let merges = std::mem::take(&mut self.about.merges);
        for merge in merges.iter().filter(|it| it.rows[0] < it.rows[1]) {
            let [first, last] = merge.rows;
            let column = merge.columns[0];
            let Some(text) = self.rows.get(&first).and_then(|it| it.get(column)).filter(|it| !it.is_empty())
            else {
                continue;
            };
            let flaw = self.about.flaws.get(&(first, column)).copied();
            let struck = self.struck.get(&first).is_some_and(|it| it.contains(&column));
            let is_crossed = self.crossed.get(&first).is_some_and(|it| it.contains(&column));
            let cell = Shown { text: text.clone(), flaw, struck, is_crossed, ..Shown::default() };
            let below: Vec<u32> = self.rows.range(first + 1..=last).map(|(row, _)| *row).collect();
            // Merges over the same rows count like cells.
            self.used.cells(below.len(), &self.file)?;
            for row in below {
                if self.rows.get(&row).and_then(|it| it.get(column)).is_none_or(String::is_empty) {
                    self.put(row, column, &cell)?;
                }
            }
        }
        self.about.merges = merges;
        Ok(())
    }
}

//! Where a line stands that belongs to no row, and what that makes of it.

use super::general::{has_standing, is_open, is_short, speaks_of_rows};
use super::phrases;
use super::unused::Aside;

/// Where a line is that belongs to no row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// Above the headings: the name of a job and its like, unless it says that the schedule does not stand.
    Above,
    /// A title over rows.
    Title,
    /// A note.
    Note,
    /// A row of another table below the first.
    OtherTable,
    /// The header or the footer of the printed sheet.
    Margin,
    /// The name of the sheet.
    Tab,
    /// A text drawn over the sheet, or words for a picture; the reader lists it.
    Drawn,
}

impl Place {
    /// Whether a line that no row cites speaks of what rows order.
    pub(super) fn speaks(self, line: &str) -> bool {
        match self {
            Self::Above => has_standing(line),
            Self::Title | Self::Tab => has_standing(line) || !is_short(line) && speaks_of_rows(line),
            Self::Note | Self::Margin | Self::Drawn => has_standing(line) || speaks_of_rows(line),
            Self::OtherTable => false,
        }
    }

    /// Whether a line that names a mark says something about its row. A title, a total and the news that a row was
    /// added do not.
    pub(super) fn is_about_a_row(self, line: &str) -> bool {
        const ADDED: [&str; 4] = ["added", "add", "new", "issued"];
        let lower = line.to_lowercase();
        let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
        let has_figure = lower.contains(['"', '\u{201d}']) || words.contains(&"in") && words.len() > 2;
        let says = is_open(line) || has_figure || speaks_of_rows(line);
        let is_news = words.iter().any(|it| ADDED.contains(it)) && !says;
        match self {
            Self::Above => has_standing(line),
            Self::OtherTable => true,
            Self::Title | Self::Note | Self::Margin | Self::Tab | Self::Drawn => {
                !phrases::is_total(line) && !is_news && (says || !is_short(line))
            }
        }
    }

    /// What people call a line there.
    pub(super) fn label(self) -> &'static str {
        match self {
            Self::Title => "Title",
            Self::Above | Self::Note | Self::OtherTable => "Note",
            Self::Margin => "Header or footer",
            Self::Tab => "Name of the sheet",
            Self::Drawn => "Drawn over the sheet",
        }
    }

    /// Why a row of it is no outlet; `None` if it is in no row.
    pub(super) fn aside(self) -> Option<Aside> {
        match self {
            Self::Margin | Self::Tab | Self::Drawn => None,
            Self::Above => Some(Aside::Title),
            Self::Title | Self::Note | Self::OtherTable => Some(Aside::Unknown),
        }
    }
}

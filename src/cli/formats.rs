//! Forms of what is printed.

use clap::ValueEnum;
use coldsill::report;
use coldsill::review::Extent;

/// Form of a page.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Format {
    /// A page to read
    Text,
    /// All data, for other programs
    Json,
}

/// What a schema is of.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum SchemaOf {
    /// The JSON of a review
    Review,
    /// The JSON of a cold spell
    ColdSpell,
    /// The JSON of climates
    Climates,
    /// The JSON of a standard
    Standard,
    /// The JSON of `coldsill read`
    Read,
    /// Rule files: sets and amendments
    Rules,
    /// Job files
    Job,
}

/// Form of a review.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ReviewFormat {
    /// A page to read
    Text,
    /// Comments to send: what to revise and to clarify, numbered
    Letter,
    /// A web page with drawings, in one file
    Html,
    /// The letter with drawings and calculation sheets, as a PDF
    Pdf,
    /// The page in Markdown, for an e-mail
    Markdown,
    /// A line per row, for a spreadsheet
    Csv,
    /// A workbook: the schedule with its results, questions, order list, facts, assumptions
    Xlsx,
    /// Comments by row and column for tools that read SARIF 2.1.0
    Sarif,
    /// All data, for other programs
    Json,
}

impl ReviewFormat {
    /// Endings of the names of its files; none if any name does.
    pub fn endings(self) -> &'static [&'static str] {
        match self {
            Self::Html => &[".html", ".htm"],
            Self::Pdf => &[".pdf"],
            Self::Csv => &[".csv"],
            Self::Xlsx => &[".xlsx"],
            Self::Text | Self::Letter | Self::Markdown | Self::Sarif | Self::Json => &[],
        }
    }

    /// How much of a review it prints.
    pub fn extent(self) -> Extent {
        match self {
            Self::Text => Extent::Summary { groups: report::MOST_TYPES },
            Self::Markdown | Self::Csv => Extent::Summary { groups: usize::MAX },
            _ => Extent::Whole,
        }
    }

    /// The format that the name of a file says; text if none.
    pub fn of_name(path: Option<&str>) -> Self {
        let name = path.unwrap_or_default().to_lowercase();
        let ends = |endings: &[&str]| endings.iter().any(|ending| name.ends_with(ending));
        let named = [
            (Self::Html, Self::Html.endings()),
            (Self::Pdf, Self::Pdf.endings()),
            (Self::Csv, Self::Csv.endings()),
            (Self::Xlsx, Self::Xlsx.endings()),
            (Self::Markdown, &[".md"][..]),
            (Self::Sarif, &[".sarif"][..]),
            (Self::Json, &[".json"][..]),
        ];
        named.into_iter().find(|(_, endings)| ends(endings)).map_or(Self::Text, |(format, _)| format)
    }
}

/// Form of a cold spell's report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SpellFormat {
    /// A page to read
    Text,
    /// A web page, in one file: the crew list, or the faucet of --mark with its chart
    Html,
    /// All data, for other programs
    Json,
    /// The hours of a faucet, or the table of all
    Csv,
}

impl SpellFormat {
    /// The format that the name of a file says; text if none.
    pub fn of_name(path: Option<&str>) -> Self {
        match ReviewFormat::of_name(path) {
            ReviewFormat::Html => Self::Html,
            ReviewFormat::Csv => Self::Csv,
            ReviewFormat::Json => Self::Json,
            ReviewFormat::Text
            | ReviewFormat::Letter
            | ReviewFormat::Pdf
            | ReviewFormat::Markdown
            | ReviewFormat::Xlsx
            | ReviewFormat::Sarif => Self::Text,
        }
    }

    /// Endings of the names of its files; none if any name does.
    pub fn endings(self) -> &'static [&'static str] {
        match self {
            Self::Html => ReviewFormat::Html.endings(),
            Self::Csv => ReviewFormat::Csv.endings(),
            Self::Text | Self::Json => &[],
        }
    }
}

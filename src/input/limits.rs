//! Limits on input files. They are far above any real schedule or rule file and keep a hostile or broken one from using
//! up memory or time.

use crate::diag::{Diagnostic, Location};

/// A limit on what is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// Bytes of any file.
    FileBytes,
    /// Bytes between two line breaks of a text file.
    LineBytes,
    /// Bytes of a YAML file.
    YamlBytes,
    /// Lists and mappings within one another.
    YamlNesting,
    /// Values, keys, lists and mappings; a copy made by an alias counts in full.
    YamlNodes,
    /// Bytes of all texts and keys; a copy made by an alias counts in full.
    YamlText,
    /// Rows of a table with content.
    Rows,
    /// Columns of a table.
    Columns,
    /// Characters of one cell: as many as a spreadsheet's cell can hold.
    CellCharacters,
    /// Cells of all tables in a file, up to the last one with content in each row.
    Cells,
    /// Bytes of text in those cells; a shared text counts each time it is shown.
    TableText,
    /// Bytes of an unpacked workbook, regardless of the declared size.
    Unpacked,
    /// How many times its packed size a workbook may unpack to, beyond the 16 MB that are always unpacked.
    Expansion,
    /// Files packed into a workbook.
    Parts,
    /// Elements within one another in a workbook.
    XmlNesting,
    /// Bytes of a workbook's markup without an end.
    XmlRun,
    /// Sheets of a workbook.
    Sheets,
    /// Merged cells of a sheet.
    Merges,
    /// Models of product data.
    Models,
    /// YAML files in a user's folder.
    FolderFiles,
}

/// The limits in their order, with what is counted.
const TABLE: [(Limit, usize, &str); 20] = [
    (Limit::FileBytes, 64_000_000, "bytes in a file"),
    (Limit::LineBytes, 1_000_000, "bytes in a line"),
    (Limit::YamlBytes, 4_000_000, "bytes in a YAML file"),
    (Limit::YamlNesting, 64, "levels of nesting in a YAML file"),
    (Limit::YamlNodes, 200_000, "values in a YAML file, its aliases filled in"),
    (Limit::YamlText, 16_000_000, "bytes of text in a YAML file, its aliases filled in"),
    (Limit::Rows, 200_000, "rows in a table"),
    (Limit::Columns, 1_000, "columns in a row"),
    (Limit::CellCharacters, 32_767, "characters in a cell"),
    (Limit::Cells, 4_000_000, "cells in a file"),
    (Limit::TableText, 64_000_000, "bytes of text in the cells of a file"),
    (Limit::Unpacked, 128_000_000, "bytes in a workbook once unpacked"),
    (
        Limit::Expansion,
        100,
        "times the packed size in a workbook of more than 16,000,000 bytes once unpacked",
    ),
    (Limit::Parts, 10_000, "parts in a workbook"),
    (Limit::XmlNesting, 100, "levels of nesting in a workbook"),
    (Limit::XmlRun, 1_000_000, "bytes in one stretch of a workbook's markup"),
    (Limit::Sheets, 1_000, "sheets in a workbook"),
    (Limit::Merges, 100_000, "merged cells in a sheet"),
    (Limit::Models, 10_000, "models in a file of product data"),
    (Limit::FolderFiles, 1_000, "YAML files in a folder"),
];

/// Bytes of a workbook that are unpacked however small it is packed: a short file of equal rows packs well.
pub(super) const ALWAYS_UNPACKED: usize = 16_000_000;

impl Limit {
    /// All limits, in the order of their table.
    pub fn all() -> impl Iterator<Item = Self> {
        TABLE.iter().map(|(limit, _, _)| *limit)
    }

    /// The limit.
    pub const fn most(self) -> usize {
        TABLE[self as usize].1
    }

    /// What is counted, in words.
    pub const fn name(self) -> &'static str {
        TABLE[self as usize].2
    }

    /// The limit in words: `1,000 columns in a row`.
    pub fn words(self) -> String {
        format!("{} {}", grouped(self.most()), self.name())
    }

    /// The error for exceeding this limit.
    pub fn exceeded(self, location: Location) -> Diagnostic {
        Diagnostic::new(location, format!("is over the limit of {}", self.words()))
    }

    /// Checks a count against this limit; `location` is computed only for an error.
    pub fn check(self, count: usize, location: impl FnOnce() -> Location) -> Result<(), Diagnostic> {
        if count > self.most() {
            return Err(self.exceeded(location()));
        }
        Ok(())
    }
}

fn grouped(number: usize) -> String {
    let digits = number.to_string();
    let mut out = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_count_at_the_limit_passes_and_one_more_is_a_named_problem() {
        let location = || Location::whole("schedule.csv");
        assert_eq!(Limit::Columns.check(1_000, location), Ok(()));
        assert_eq!(
            Limit::Columns.check(1_001, location).unwrap_err().to_string(),
            "schedule.csv: is over the limit of 1,000 columns in a row"
        );
        assert_eq!(
            Limit::FileBytes.exceeded(location()).to_string(),
            "schedule.csv: is over the limit of 64,000,000 bytes in a file"
        );
    }

    #[test]
    fn every_limit_has_a_name_of_its_own() {
        for (i, (limit, most, name)) in TABLE.iter().enumerate() {
            assert_eq!((*limit as usize, limit.most(), limit.name()), (i, *most, *name));
            assert!(*most > 0 && TABLE[..i].iter().all(|(_, _, other)| other != name));
        }
    }

    #[test]
    fn figures_are_grouped_by_threes() {
        let said = [
            (0, "0"),
            (64, "64"),
            (999, "999"),
            (1_000, "1,000"),
            (32_767, "32,767"),
            (1_234_567, "1,234,567"),
        ];
        for (number, text) in said {
            assert_eq!(grouped(number), text);
        }
    }
}

//! Errors in the file of a standard, with all their texts.

use crate::diag::{Diagnostic, Location};

/// An error in the file of a standard.
#[derive(Clone, Copy, Debug)]
pub(super) enum StandardError {
    NotAStandard,
    NotAName,
    NotADate,
    NotHomes,
    JobAndProducts,
    PlaceTwice,
    NoKeyOfPlaces,
    KeysOfPlaces,
    WallTwice,
    SupplyTwice,
    BarrelTwice,
    BarrelNeeded,
    NoSuchBarrel,
    NoProduct,
    TooMany(usize),
    NotADesignLow,
}

/// Most cells of a standard.
pub(super) const MOST_CELLS: usize = 200_000;

impl StandardError {
    /// At a location.
    pub fn at(self, location: &Location) -> Diagnostic {
        let (message, expected) = self.texts();
        let diagnostic = Diagnostic::new(location.clone(), message);
        if expected.is_empty() { diagnostic } else { diagnostic.expected(expected) }
    }

    fn texts(self) -> (String, &'static str) {
        let (message, expected) = match self {
            Self::NotAStandard => {
                ("is not the file of a standard", "`standard:` with a name, `date:`, `places:` and `walls:`")
            }
            Self::NotAName => {
                ("is not a name of a standard", "a name that starts with a letter and has no slash")
            }
            Self::NotHomes => ("is not a number of homes", "a whole number from 1 to 10 million, such as 12"),
            Self::NotADate => ("is not a date", "year, month and day, such as 2026-11-29"),
            Self::JobAndProducts => {
                ("is stated beside `job:`, which has products of its own", "`products:` in the job")
            }
            Self::PlaceTwice => ("is listed twice", "each place once"),
            Self::NoKeyOfPlaces => {
                ("does not say which places", "one of `place:`, `state:`, `zone:` and `near:`")
            }
            Self::KeysOfPlaces => {
                ("says in more than one way which places", "one of `place:`, `state:`, `zone:` and `near:`")
            }
            Self::WallTwice => ("is listed twice with the same space", "each wall once for a space"),
            Self::SupplyTwice => ("is listed twice", "each supply once"),
            Self::BarrelTwice => ("is listed twice", "each barrel once"),
            Self::BarrelNeeded => {
                ("has neither barrels nor products", "`barrels:` such as [brass, stainless], or `products:`")
            }
            Self::NoSuchBarrel => {
                ("is the barrel of no product that closes inside", "a barrel of the products")
            }
            Self::NoProduct => ("has no product that closes inside", "models with `Closes` inside"),
            Self::TooMany(cells) => {
                let message = format!("has {cells} cells; at most {MOST_CELLS} are computed");
                return (message, "fewer places, walls, supplies or barrels");
            }
            Self::NotADesignLow => {
                const CHOICES: &str = "a low by years such as 20-year low, 99.6 %, 99 %, coldest recorded, or a temperature such as -20 °F";
                ("is not a design low", CHOICES)
            }
        };
        (message.to_owned(), expected)
    }
}

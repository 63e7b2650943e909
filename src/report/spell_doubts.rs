//! What is doubtful about the file of a cold spell, or about the rows followed through it, in sentences.

use super::climates::low_text;
use super::words::{hours, row_numbers};
use crate::review::{ColdSpell, InSpell};
use crate::spell::SpellDoubt;
use crate::units::System;

/// What is doubtful about a file, each in a sentence.
pub(super) fn doubts(spell: &ColdSpell, system: System) -> Vec<String> {
    let low = |kelvin: f64| low_text(kelvin, system);
    let place = spell.climate.name_and_state();
    let sentence = |doubt: &SpellDoubt| match doubt {
        SpellDoubt::BelowRecord { coldest, record } => format!(
            "the file's {} is colder than the lowest figure for {place}, {}: check the unit (°C under a °F heading?).",
            low(*coldest),
            low(*record)
        ),
        SpellDoubt::AllBelowUsualLow { warmest, usual } => format!(
            "all of the file is colder than the usual yearly low of {place} (warmest {}, usual low {}): check the unit \
             (°C under a °F heading?).",
            low(*warmest),
            low(*usual)
        ),
        SpellDoubt::AboveColdestMonth { coldest, mean } => format!(
            "the file's coldest, {}, is well above the mean of the coldest month of {place}, {}: check the unit (°F \
             under a °C heading?).",
            low(*coldest),
            low(*mean)
        ),
        SpellDoubt::NeverFreezes { coldest } => {
            format!("the spell does not go below freezing (coldest {}): check the unit.", low(*coldest))
        }
        SpellDoubt::CoarseSteps(step) => format!(
            "the file's rows are up to {} apart: a colder hour between them is not seen. Use hourly rows if there are any.",
            hours(*step)
        ),
    };
    spell.spell.doubts(&spell.climate).iter().map(sentence).collect()
}

/// Rows in doubt, each in a sentence.
pub(super) fn rows_in_doubt(spell: &ColdSpell) -> Vec<String> {
    /// The most that are listed; the review has all.
    const MOST: usize = 8;
    let all: Vec<String> = spell.outlets.iter().filter_map(row_in_doubt).collect();
    let more = all.len().saturating_sub(MOST);
    let rest = (more > 0).then(|| format!("{more} more faucets are in doubt: see the review."));
    all.into_iter().take(MOST).chain(rest).collect()
}

/// What leaves the row of an outlet in doubt.
pub(super) fn row_in_doubt(outlet: &InSpell) -> Option<String> {
    let said = outlet.doubt()?;
    let rows = row_numbers(&outlet.rows);
    let which = if *outlet.mark == *rows { rows } else { format!("{} ({rows})", outlet.mark) };
    Some(format!("{which} is in doubt, and may freeze sooner than computed. {said}."))
}

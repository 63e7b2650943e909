//! What is doubtful about the file of a cold spell, in sentences.

use super::climates::low_text;
use super::words::hours;
use crate::review::ColdSpell;
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
        SpellDoubt::CoarseSteps(step) => format!(
            "the file's rows are up to {} apart: a colder hour between them is not seen. Use hourly rows if there are any.",
            hours(*step)
        ),
    };
    spell.spell.doubts(&spell.climate).iter().map(sentence).collect()
}

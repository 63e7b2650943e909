//! The climate of a job in a few lines: the design low, what it is, and the figures beside it.

use super::climates::low_text;
use super::words::listed;
use crate::climate::{Climate, DesignBy, FEW_WINTERS, LOOKED_AT, Whose};
use crate::review::{Authority, Design};
use crate::units::{Dim, Quantity, Rounding, Show, System};
use std::fmt::Write as _;
use std::sync::Arc;

/// Figures that stand beside a design low.
const BESIDE: [DesignBy; 4] =
    [DesignBy::Heating996, DesignBy::Heating99, DesignBy::Years(20.0), DesignBy::ColdestRecorded];

/// "Minneapolis-St Paul, MN: design low -32 °F (20-year low); ...".
pub(super) fn in_words(
    climate: &Climate,
    design: &Design,
    authority: &Authority,
    in_place_of: Option<&Arc<str>>,
    system: System,
) -> String {
    let temperature = |kelvin: f64| low_text(kelvin, system);
    let mut text = climate.name_and_state();
    let Some(low) = design.low else { return text };
    let _ = write!(
        text,
        ": design low {} ({}{})",
        temperature(low),
        design_is(design, climate),
        of_few(climate, design.by)
    );
    let others = BESIDE.into_iter().filter(|by| *by != design.by);
    let beside = others.filter_map(|by| {
        let name = by.words();
        Some(format!("{} {}", name.trim_end_matches(" value"), temperature(climate.low_by(by)?)).into())
    });
    let beside: Vec<Arc<str>> = beside.collect();
    if !beside.is_empty() {
        let _ = write!(text, "; {}", listed(&beside, usize::MAX));
    }
    if design.by != DesignBy::Authority {
        match &authority.winter_temperature {
            Some(it) => {
                let _ = write!(text, "; local winter design temperature {}", temperature(it.value));
            }
            None => {
                text.push_str("; the local winter design temperature (building department) is not stated")
            }
        }
    }
    text.push('.');
    text.push_str(&chance(climate, design, low, system));
    for note in super::borrowed::notes(climate, system) {
        text.push(' ');
        text.push_str(&note);
    }
    if climate.whose == Whose::InPlaceOfBuiltIn {
        text.push_str(" Your own, in place of the built-in one.");
    }
    if let Some(instead) = in_place_of {
        let _ = write!(text, " Named on the command line in place of the job's, {instead}.");
    }
    text
}

/// What the design low is, with where it is stated.
pub(super) fn design_is(design: &Design, climate: &Climate) -> String {
    if design.stated.is_none() { super::climates::figure(design.by, climate) } else { design.words() }
}

/// " of 4 winters only" where a low by years is drawn from so few that it is little more than a guess.
fn of_few(climate: &Climate, by: DesignBy) -> String {
    let winters = climate.annual_low.and_then(|it| it.winters);
    match (by, winters) {
        (DesignBy::Years(_), Some(winters)) if winters < FEW_WINTERS => {
            format!(" from only {winters:.0} winters")
        }
        _ => String::new(),
    }
}

/// What living with the design low means: how likely it comes, and how far it lies below the value designers size
/// heating by.
fn chance(climate: &Climate, design: &Design, low: f64, system: System) -> String {
    let it = climate.low(design.by, low);
    let Some(chance) = it.chance else { return String::new() };
    let mut text = format!(
        " Chance of a winter that cold within {LOOKED_AT:.0} years: {}",
        super::climates::chance(chance)
    );
    if let (DesignBy::Years(_), Some(heating)) = (design.by, climate.heating_996) {
        let below = Quantity::of(heating - low, Dim::DIFFERENCE);
        let show = Show::new(("°F", 0), ("K", 0), Rounding::Nearest);
        let _ = write!(text, "; {} below the 99.6 % value", show.value(&below, system));
    }
    text.push('.');
    text
}

/// "Minneapolis-St Paul, MN: design low -32 °F (20-year low); local winter design temperature -11 °F; heating design (99.6 %) -14 °F."
pub(super) fn in_short(climate: &Climate, design: &Design, authority: &Authority, system: System) -> String {
    let temperature = |kelvin: f64| low_text(kelvin, system);
    let mut text = climate.name_and_state();
    if let Some(low) = design.low {
        let _ = write!(text, ": design low {} ({})", temperature(low), design_is(design, climate));
    }
    if let Some(stated) = &authority.winter_temperature {
        let _ = write!(text, "; local winter design temperature {}", temperature(stated.value));
    }
    if let Some(heating) = climate.heating_996 {
        let _ = write!(text, "; heating design (99.6 %) {}", temperature(heating));
    }
    text.push('.');
    text
}

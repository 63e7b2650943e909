//! The command `climates`: those there are.

use crate::disk::Disk;
use crate::lists::page;
use crate::options::Climates;
use crate::output;
use coldsill::climate::Library;
use coldsill::diag::Problem;
use coldsill::shipped;
use coldsill::units::{Quantity, Show, System};

/// Looks them up and writes the page.
pub fn run(options: &Climates, disk: &Disk) -> Result<(), Vec<Problem>> {
    let text = list(&shipped::climates()?);
    output::write(options.output.as_deref(), &text, disk).map_err(|problem| vec![problem])
}

fn list(library: &Library) -> String {
    let mut climates: Vec<_> = library.iter().collect();
    climates.sort_by_key(|it| it.id.clone());
    let rows = climates.iter().map(|it| {
        let zone = it.zone.as_ref().map_or("-", |zone| zone);
        vec![
            it.id.to_string(),
            it.name.to_string(),
            zone.into(),
            fahrenheit(it.design_low()),
            fahrenheit(it.heating_996),
        ]
    });
    page(&["Climate", "Place", "Zone", "20-year low", "99.6 %"], rows.collect())
}

fn fahrenheit(kelvin: Option<f64>) -> String {
    let show = Show::new(("°F", 0), ("°C", 0), coldsill::units::Rounding::Nearest);
    kelvin.map_or_else(|| "-".into(), |it| show.value(&Quantity::temperature(it), System::Us))
}

//! What is built in, as tables.

use coldsill::climate::Library;
use coldsill::facts::World;
use coldsill::physics::backflow::{DEVICES, Drains, Pressure, Removal};
use coldsill::physics::materials;
use coldsill::physics::metals::treated_wood::{self, Acceptance};
use coldsill::physics::metals::{Exposure, FORMS, sea_water};
use coldsill::report::{WIDTH, table, wrapped};
use coldsill::review::CaseResult;
use coldsill::units::{Dim, Measure, Quantity, Show, System};
use coldsill::wall::BUILT_IN;

fn fahrenheit(kelvin: Option<f64>) -> String {
    let show = Show::new(("°F", 0), ("°C", 0), coldsill::units::Rounding::Nearest);
    kelvin.map_or_else(|| "-".into(), |it| show.value(&Quantity::temperature(it), System::Us))
}

fn page(headings: &[&str], rows: Vec<Vec<String>>) -> String {
    format!("{}\n", table(headings, rows, WIDTH))
}

pub fn climates(library: &Library) -> String {
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

pub fn walls() -> String {
    let length =
        |si: f64| Show::usual(Measure::Of(Dim::LENGTH)).value(&Quantity::of(si, Dim::LENGTH), System::Us);
    let resistance = |si: f64| {
        let quantity = Quantity::of(si, Dim::RESISTANCE);
        Show::new(("R", 1), ("m²K/W", 2), coldsill::units::Rounding::Nearest).value(&quantity, System::Us)
    };
    let rows = BUILT_IN.iter().map(|wall| {
        let inside = wall.inside_face_of_insulation().map_or_else(|| "none".into(), length);
        vec![
            wall.key.to_string(),
            wall.name.to_string(),
            length(wall.thickness()),
            inside,
            resistance(wall.resistance()),
        ]
    });
    page(&["Wall", "Which is", "Thickness", "Inside face of insulation", "Resistance"], rows.collect())
}

pub fn materials() -> String {
    let rows = materials::all().map(|it| {
        let spread = it.conductivity;
        vec![
            it.key.to_string(),
            format!("{} W/mK", spread.used),
            format!("{} to {}", spread.low, spread.high),
            format!("{} ({})", it.source, it.standing.words()),
        ]
    });
    let conduction = page(&["Material", "Conductivity", "Published", "Source"], rows.collect());
    let stored = materials::all().map(|it| {
        let of = it.storage;
        vec![
            it.key.to_string(),
            of.density.to_string(),
            of.specific_heat.to_string(),
            format!("{} ({})", of.source, of.standing.words()),
        ]
    });
    let storage =
        page(&["Material", "kg/m³", "J/kgK", "Source of density and specific heat"], stored.collect());
    format!("{conduction}\n{storage}")
}

/// The anodic index, potentials in sea water, and what is accepted in treated wood: three tables that are not mixed.
pub fn metals() -> String {
    let volts = |millivolts: u16| format!("{:.2} V", f64::from(millivolts) / 1000.0);
    let index = FORMS.iter().map(|it| {
        let index = it.index.map_or_else(|| "no row".into(), volts);
        vec![it.key.to_string(), index, format!("{} ({})", it.source, it.standing.words())]
    });
    let limits = format!(
        "Anodic index, below gold. Two metals that touch may differ by {} outdoors, {} indoors, {} in controlled air: \
         limits of this index and of nothing else.",
        volts(Exposure::Exterior.limit()),
        volts(Exposure::Interior.limit()),
        volts(Exposure::Controlled.limit())
    );
    let sea =
        sea_water::METALS.iter().map(|it| vec![it.key.to_string(), format!("{:.2} V", it.potential.volts())]);
    let source = sea_water::METALS.first().map_or("", |it| it.source);
    let apart = format!(
        "Potentials in flowing sea water, the most active first ({source}): an order and nothing more. They have no \
         limits, give other gaps than the index, and for passive stainless even another sign."
    );
    let accepted = |it: Acceptance| match it {
        Acceptance::Accepted => "accepted".into(),
        Acceptance::OnlyIf(what) => format!("only if: {what}"),
        Acceptance::Refused(why) => format!("no: {why}"),
        Acceptance::NotListed => "not listed".into(),
    };
    let wood = treated_wood::ROWS
        .iter()
        .map(|it| vec![it.key.to_string(), accepted(it.screw), accepted(it.bolt), it.source.to_string()]);
    [
        wrapped(&limits, WIDTH, ""),
        page(&["Metal", "Index", "Source"], index.collect()),
        wrapped(&apart, WIDTH, ""),
        page(&["Metal", "Potential"], sea.collect()),
        wrapped("Fasteners in preservative-treated wood, as the model codes list them.", WIDTH, ""),
        page(&["Fastener", "Screws, nails", "Bolts", "Source"], wood.collect()),
    ]
    .join("\n")
}

/// Backflow devices by standard.
pub fn devices() -> String {
    let rows = DEVICES.iter().map(|it| {
        let drains = match it.drains {
            Drains::HoseOnOrOff => "hose on or off",
            Drains::HoseOff => "hose off",
            Drains::DeviceOff => "device off",
            Drains::ByHand => "by hand",
            Drains::CanHold => "can hold water",
            Drains::NotAtTheBarrel => "not at the barrel",
        };
        let removal = match it.removal {
            Removal::Integral => "integral",
            Removal::ByBreakOffScrew => "break-off screw",
            Removal::ByHand => "by hand",
            Removal::Piped => "piped",
        };
        let pressure = match it.pressure {
            Pressure::AtMost(seconds) => format!("{:.0} h at most", seconds / 3600.0),
            Pressure::Continuous => "continuous".into(),
            Pressure::NotSeen => "not known".into(),
        };
        let raised = it.raised_hose.map_or_else(|| "not known".into(), |it| format!("{:.0} ft", it / 0.3048));
        let name = format!("{} ({})", it.name, it.standing.words());
        vec![it.standard.to_string(), name, removal.into(), drains.into(), pressure, raised]
    });
    page(
        &["Standard", "Device", "Comes off", "Barrel drains", "Under pressure", "Hose raised"],
        rows.collect(),
    )
}

pub fn rules(world: &World) -> String {
    let rules = &world.job().rules;
    let mut text = String::new();
    for it in &rules.rules {
        let once = if it.once { ", once for the job" } else { "" };
        let by = it.changed_by.as_ref().map_or_else(String::new, |by| format!("; as amended by {by}"));
        text.push_str(&wrapped(&format!("{}: {}", it.number, it.title), WIDTH, ""));
        let says = format!("{}{once}; basis: {}{by}", it.outcome.word(), it.basis.word());
        text.push_str(&wrapped(&says, WIDTH, "    "));
        text.push_str(&wrapped(&it.id, WIDTH, "    "));
    }
    for it in &rules.dropped {
        text.push_str(&wrapped(&format!("Dropped by {}: {}: {}", it.by, it.rule, it.reason), WIDTH, ""));
    }
    let rows = rules.settings.iter().map(|it| {
        let by = it.changed_by.as_ref().map_or_else(String::new, |by| format!(" (set by {by})"));
        vec![it.name.to_string(), format!("{}{by}", it.text), it.about.to_string()]
    });
    text.push('\n');
    text.push_str(&page(&["Setting", "Is", "Which is"], rows.collect()));
    text
}

/// The cases as a table, and whether all of them hold.
pub fn cases(results: &[CaseResult]) -> (String, bool) {
    let failed: Vec<&CaseResult> = results.iter().filter(|it| it.found != it.wanted).collect();
    let rows = failed.iter().map(|it| {
        vec![
            it.rule.to_string(),
            it.case.to_string(),
            it.wanted.word().into(),
            it.found.word().into(),
            it.place.to_string(),
        ]
    });
    let count = format!("{} cases tried, {} as wanted.\n", results.len(), results.len() - failed.len());
    if failed.is_empty() {
        return (count, true);
    }
    (format!("{}\n{count}", page(&["Rule", "Case", "Wanted", "Found", "Where"], rows.collect())), false)
}

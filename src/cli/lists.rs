//! Tables of what is built in.

use coldsill::physics::backflow::{DEVICES, Drains, Pressure, Removal};
use coldsill::physics::materials;
use coldsill::physics::metals::treated_wood::{self, Acceptance};
use coldsill::physics::metals::{Exposure, FORMS, sea_water};
use coldsill::report::{WIDTH, table, wrapped};

pub fn page(headings: &[&str], rows: Vec<Vec<String>>) -> String {
    format!("{}\n", table(headings, rows, WIDTH))
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

/// The anodic index, potentials in sea water, and fasteners accepted in treated wood, as three separate tables.
pub fn metals() -> String {
    let volts = |millivolts: u16| format!("{:.2} V", f64::from(millivolts) / 1000.0);
    let index = FORMS.iter().map(|it| {
        let index = it.index.map_or_else(|| "not listed".into(), volts);
        vec![it.key.to_string(), index, format!("{} ({})", it.source, it.standing.words())]
    });
    let limits = format!(
        "Anodic index, below gold. Two metals in contact may differ by {} outdoors, {} indoors, {} in controlled air. \
         These limits are for this index only.",
        volts(Exposure::Exterior.limit()),
        volts(Exposure::Interior.limit()),
        volts(Exposure::Controlled.limit())
    );
    let sea =
        sea_water::METALS.iter().map(|it| vec![it.key.to_string(), format!("{:.2} V", it.potential.volts())]);
    let source = sea_water::METALS.first().map_or("", |it| it.source);
    let apart = format!(
        "Potentials in flowing sea water, most active first ({source}): an order only. They have no limits, differ from \
         the index in size, and for passive stainless even in sign."
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
        wrapped("Fasteners in preservative-treated wood, as listed by the model codes.", WIDTH, ""),
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
            Pressure::AtMost(seconds) => format!("at most {:.0} h", seconds / 3600.0),
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

//! Backflow devices: what the standard of each requires, and what is stated of the hose it serves.

use super::assumed::kind_of;
use super::columns::{BACKFLOW_DEVICE, BACKFLOW_STANDARD, CLOSES_AT};
use super::def::{
    FOOT, FactType, LENGTH, TIME, computed, computed_quantity, computed_yes_no, facts, stated, stated_length,
    stated_word, stated_yes_no,
};
use super::outlet::Outlet;
use super::words::SERVES;
use crate::expr::{Gap, Value, ValueOrGap};
use crate::job::Scope;
use crate::physics::backflow::{Device, Drains, Fits, Hazard, Pressure, Removal, agreed, find};
use crate::schedule::CellType;
use crate::units::{Dim, Quantity, Rounding};

facts! {
    USE = stated_word("outlet.serves", "what it serves", SERVES)
        .headings(&["Serves", "Use", "Used for", "Service"])
        .question("What does it serve?")
        .scope(Scope::Use);
    HOSE_RISE = stated(
        "outlet.hose_rise",
        "greatest height above the faucet of the hose end",
        CellType::Quantity { measure: LENGTH, least: 0.0, most: 100.0 * FOOT, none: false },
    )
        .headings(&["Hose rise", "Hose height", "Height of hose", "Highest hose end"])
        .question_such_as("How far above the faucet can the hose end be carried?", "6 ft")
        .scope(Scope::Use)
        .range(super::def::RangeEnd::High("calculations use the higher end"))
        .show(("ft", 1), ("m", 1), Rounding::Nearest);
    HOSE_LEFT_ON = stated_yes_no("outlet.hose_left_on", "whether a hose stays on it through the winter")
        .headings(&["Hose left on", "Hose in winter", "Winter hose"])
        .question("Does a hose stay on it through the winter?")
        .scope(Scope::Use);
    ABOVE_HEADS = stated_length(
        "outlet.device_height",
        "height of the irrigation branch's vacuum breaker above its highest head",
        [0.0, 600.0],
    )
        .headings(&["Device height", "Height above heads", "VB height", "Height above highest head"])
        .question_such_as("How far above the highest head is the vacuum breaker of the irrigation branch?", "12 in")
        .scope(Scope::Use)
        .range(super::def::RangeEnd::Low("calculations use the lower end"));
    VALVES_DOWNSTREAM = stated_yes_no(
        "outlet.valves_downstream",
        "whether the irrigation branch has valves downstream of its backflow device",
    )
        .headings(&["Valves downstream", "Zone valves downstream", "Downstream valves"])
        .question("Does the irrigation branch have valves downstream of its backflow device?")
        .scope(Scope::Use);
    DEVICE_STANDARD = computed(
        "backflow.standard",
        "standard of its device, as stated or as the words of its device name it",
        FactType::Text,
        |outlet| of_device(outlet, |device| device.standard).map(|standard| Value::Text(standard.into())),
    );
    STANDARD_AGREES = computed_yes_no(
        "backflow.standard_agrees",
        "whether the stated standard is one of the stated kind of device",
        |outlet| {
            let kind = kind_of(&outlet.word(BACKFLOW_STANDARD)?);
            Ok(Value::YesNo(kind.as_deref() == Some(&*outlet.word(BACKFLOW_DEVICE)?)))
        },
    );
    FITS_OUTLET = computed_yes_no(
        "backflow.fits_outlet",
        "whether its standard is for a faucet that closes where this one does",
        fits_outlet,
    );
    LETS_BARREL_DRAIN = computed_yes_no(
        "backflow.lets_barrel_drain",
        "whether a barrel that closes inside empties with the device on and the hose off, by its standard",
        |outlet| {
            drains(outlet, true, |it| {
                matches!(it, Drains::HoseOnOrOff | Drains::HoseOff | Drains::NotAtTheBarrel)
            })
        },
    );
    DRAINS_WITH_HOSE = computed_yes_no(
        "backflow.drains_with_hose",
        "whether a barrel that closes inside empties with a hose left on, by the standard of its device",
        |outlet| drains(outlet, false, |it| it == Drains::HoseOnOrOff),
    );
    INTEGRAL = computed_yes_no(
        "backflow.integral",
        "whether its device is part of a freeze-resistant faucet, by its standard",
        |outlet| of_device(outlet, |device| device.removal == Removal::Integral).map(Value::YesNo),
    );
    REMOVABLE = computed_yes_no(
        "backflow.removable",
        "whether its standard has the device removed by hand",
        |outlet| of_device(outlet, |device| device.removal == Removal::ByHand).map(Value::YesNo),
    );
    CONTINUOUS_PRESSURE = computed_yes_no(
        "backflow.continuous_pressure",
        "whether its standard permits continuous pressure",
        |outlet| match of_device(outlet, |device| device.pressure)? {
            Pressure::Continuous => Ok(Value::YesNo(true)),
            Pressure::AtMost(_) => Ok(Value::YesNo(false)),
            Pressure::NotSeen => Err(outlet.absent(NO_HOURS)),
        },
    );
    PRESSURE_HOURS = computed_quantity(
        "backflow.pressure_hours",
        "longest time under pressure without a break that its standard permits",
        TIME,
        |outlet| match of_device(outlet, |device| device.pressure)? {
            Pressure::AtMost(seconds) => Ok(Value::Quantity(Quantity::of(seconds, Dim::TIME))),
            Pressure::Continuous => Err(outlet.absent("its standard permits continuous pressure")),
            Pressure::NotSeen => Err(outlet.absent(NO_HOURS)),
        },
    )
        .show(("h", 0), ("h", 0), Rounding::Down);
    RAISED_HOSE_LIMIT = computed_quantity(
        "backflow.raised_hose_limit",
        "greatest height of the hose end above it, by its standard; none if it permits no back pressure",
        LENGTH,
        |outlet| {
            let limit = of_device(outlet, |device| device.raised_hose)?;
            let limit = limit.ok_or_else(|| outlet.absent("the height in its standard is not known here"))?;
            Ok(Value::Quantity(Quantity::of(limit, Dim::LENGTH)))
        },
    )
        .show(("ft", 1), ("m", 1), Rounding::Down);
    HIGH_HAZARD = computed_yes_no(
        "backflow.high_hazard",
        "whether it is accepted for high hazard (IPC table, from memory); the adopted code decides",
        |outlet| match of_device(outlet, |device| device.hazard)? {
            Hazard::HighOrLow => Ok(Value::YesNo(true)),
            Hazard::Low => Ok(Value::YesNo(false)),
            Hazard::NotSeen => Err(outlet.absent("the hazard class of its standard is not known here")),
        },
    );
}

const NO_HOURS: &str = "the hours in its standard are not known here";

/// Every row of the table that its device can be, and whether a standard is stated: by the standard, otherwise by the
/// kind of device.
fn devices(outlet: &Outlet<'_>) -> Result<(Vec<&'static Device>, bool), Gap> {
    if let Ok(standard) = outlet.word(BACKFLOW_STANDARD) {
        return Ok((find(&standard), true));
    }
    Ok((find(&outlet.word(BACKFLOW_DEVICE)?), false))
}

/// What all devices that it can be have in common; if they differ, the standard is missing.
fn of_device<T: PartialEq>(outlet: &Outlet<'_>, get: impl Fn(&Device) -> T) -> Result<T, Gap> {
    let (devices, _) = devices(outlet)?;
    if devices.is_empty() {
        return Err(outlet.absent("there is no device"));
    }
    agreed(&devices, get).ok_or_else(|| outlet.missing(BACKFLOW_STANDARD))
}

/// `without` is the answer if there is no device.
fn drains(outlet: &Outlet<'_>, without: bool, does: fn(Drains) -> bool) -> ValueOrGap {
    if outlet.word(BACKFLOW_STANDARD).is_err() && &*outlet.word(BACKFLOW_DEVICE)? == "none" {
        return Ok(Value::YesNo(without));
    }
    of_device(outlet, |device| does(device.drains)).map(Value::YesNo)
}

/// Whether the device is for such an outlet. A kind alone says only that a device is built in, not for which hydrant.
fn fits_outlet(outlet: &Outlet<'_>) -> ValueOrGap {
    let (rows, named) = devices(outlet)?;
    let anywhere = |it: &Device| matches!(it.fits, Fits::HoseThread | Fits::Pipe | Fits::PipeUnpressured);
    if !rows.is_empty() && rows.iter().all(|it| anywhere(it) || (!named && it.fits == Fits::WallHydrant)) {
        return Ok(Value::YesNo(true));
    }
    let closes = if rows.iter().any(|it| matches!(it.fits, Fits::WallHydrant | Fits::YardHydrant)) {
        outlet.word(CLOSES_AT)?
    } else {
        "".into()
    };
    let fits = of_device(outlet, |device| match device.fits {
        Fits::WallHydrant => &*closes == "inside",
        Fits::YardHydrant => &*closes == "below grade",
        Fits::LaboratoryFaucet => false,
        Fits::HoseThread | Fits::Pipe | Fits::PipeUnpressured => true,
    });
    fits.map(Value::YesNo)
}

//! Backflow devices: what the standard of each says, and what is stated of the hose it serves.

use super::outlet::stated;
use super::reading::Outlet;
use super::words::{DEVICES, SERVES, STANDARDS};
use super::{Answers, Assumed, Blank, Def, Kind, computed, quantity, slot, toward};
use crate::expr::{Gap, Reading, Slot, Value};
use crate::physics::backflow::{Device, Drains, Fits, Hazard, Pressure, Removal, agreed, find};
use crate::schedule::{Read, Reads, read_cell};
use crate::units::{Dim, Measure, Quantity, Rounding};

const LENGTH: Measure = Measure::Of(Dim::LENGTH);
const FOOT: f64 = 0.3048;
const DEVICE: &str = "outlet.backflow_device";
const STANDARD: &str = "outlet.backflow_standard";
const NO_DEVICE: &str = "there is no device";

pub(super) static DEFS: &[Def] = &[
    stated(
        STANDARD,
        "the standard its backflow device is listed to",
        &[
            "Backflow standard",
            "Device standard",
            "ASSE",
            "ASSE standard",
            "CSA",
            "CSA standard",
            "VB standard",
        ],
        Reads::Words(STANDARDS),
        Blank::Unknown,
        Answers::Open,
    ),
    stated(
        "outlet.serves",
        "what it serves",
        &["Serves", "Use", "Used for", "Service"],
        Reads::Words(SERVES),
        Blank::Unknown,
        Answers::All,
    ),
    Def {
        show: toward(("ft", 1), ("m", 1), Rounding::Nearest),
        ..stated(
            "outlet.hose_rise",
            "how far above the outlet the hose's end is carried",
            &["Hose rise", "Hose height", "Height of hose", "Highest hose end"],
            quantity(LENGTH, 0.0, 100.0 * FOOT),
            Blank::Unknown,
            Answers::Open,
        )
    },
    computed(
        "backflow.standard",
        "the standard of its device, as stated or as the device's own words name it",
        Kind::Text,
        |outlet, own| of(outlet, own, |it| it.standard).map(|it| Value::Text(it.into())),
    ),
    computed(
        "backflow.standard_agrees",
        "whether the stated standard is one of the stated kind of device",
        Kind::YesNo,
        |outlet, _| {
            let kind = kind_of(&outlet.word(STANDARD)?);
            Ok(Value::YesNo(kind.as_deref() == Some(&*outlet.word(DEVICE)?)))
        },
    ),
    computed(
        "backflow.fits_outlet",
        "whether its standard is for an outlet that closes where this one does",
        Kind::YesNo,
        fits_outlet,
    ),
    computed(
        "backflow.lets_barrel_drain",
        "whether a barrel that closes inside empties with the device in place and the hose off, by its standard",
        Kind::YesNo,
        |outlet, own| {
            drains(outlet, own, true, |it| {
                matches!(it, Drains::HoseOnOrOff | Drains::HoseOff | Drains::NotAtTheBarrel)
            })
        },
    ),
    computed(
        "backflow.drains_with_hose",
        "whether a barrel that closes inside empties with a hose left on, by its device's standard",
        Kind::YesNo,
        |outlet, own| drains(outlet, own, false, |it| it == Drains::HoseOnOrOff),
    ),
    computed(
        "backflow.removable",
        "whether its standard has the device taken off by hand",
        Kind::YesNo,
        |outlet, own| of(outlet, own, |it| it.removal == Removal::ByHand).map(Value::YesNo),
    ),
    computed(
        "backflow.code_asks_for_fixed",
        "whether the job's code is one known here to ask for a device that cannot be taken off (UPC 603.5.7, from \
         memory); no where no code is named",
        Kind::YesNo,
        |outlet, _| {
            let code = outlet.world().job().code.as_ref();
            let name = code.map(|it| it.name.to_lowercase()).unwrap_or_default();
            let words = name.split(|c: char| !c.is_alphanumeric());
            Ok(Value::YesNo(words.into_iter().any(|it| it == "upc") || name.contains("uniform plumbing")))
        },
    ),
    computed(
        "backflow.continuous_pressure",
        "whether its standard lets pressure stay on for good",
        Kind::YesNo,
        |outlet, own| {
            let may = of(outlet, own, |it| match it.pressure {
                Pressure::Continuous => Some(true),
                Pressure::AtMost(_) => Some(false),
                Pressure::NotSeen => None,
            })?;
            may.map(Value::YesNo).ok_or_else(|| Gap::absent(own, "its standard's hours were not seen"))
        },
    ),
    Def {
        show: toward(("h", 0), ("h", 0), Rounding::Down),
        ..computed(
            "backflow.pressure_hours",
            "longest time that pressure may stay on without a break, by its standard",
            Kind::Quantity(Measure::Of(Dim::TIME)),
            |outlet, own| match of(outlet, own, |it| it.pressure)? {
                Pressure::AtMost(seconds) => Ok(Value::Quantity(Quantity::of(seconds, Dim::TIME))),
                Pressure::Continuous => Err(Gap::absent(own, "pressure may stay on")),
                Pressure::NotSeen => Err(Gap::absent(own, "its standard's hours were not seen")),
            },
        )
    },
    Def {
        show: toward(("ft", 1), ("m", 1), Rounding::Down),
        ..computed(
            "backflow.raised_hose_limit",
            "greatest height of the hose's end above it, by its standard; none where it stands no back pressure",
            Kind::Quantity(LENGTH),
            |outlet, own| {
                let limit = of(outlet, own, |it| it.raised_hose)?;
                let limit = limit.ok_or_else(|| Gap::absent(own, "its standard's height was not seen"))?;
                Ok(Value::Quantity(Quantity::of(limit, Dim::LENGTH)))
            },
        )
    },
    computed(
        "backflow.high_hazard",
        "whether it is accepted for high hazard (IPC's table, from memory); the adopted code decides",
        Kind::YesNo,
        |outlet, own| match of(outlet, own, |it| it.hazard)? {
            Hazard::HighOrLow => Ok(Value::YesNo(true)),
            Hazard::NotSeen => Err(Gap::absent(own, "no class of hazard was seen for its standard")),
        },
    ),
];

/// The kind of device that a stated standard is for.
pub(super) fn kind_of_standard(outlet: &Outlet<'_>) -> Assumed {
    let kind = outlet.word(STANDARD).ok().and_then(|it| kind_of(&it));
    Ok(kind.map(|kind| (Value::Text(kind), "its stated standard is for such a device")))
}

fn kind_of(standard: &str) -> Option<std::sync::Arc<str>> {
    match read_cell(&Reads::Words(DEVICES), standard, None) {
        Ok(Read::Text(kind)) => Some(kind),
        _ => None,
    }
}

/// Every row its device can mean, by the narrowest that is said: a standard, else one that the device's own cell
/// names, else the kind. Whether a standard is named comes with them.
fn devices(outlet: &Outlet<'_>) -> Result<(Vec<&'static Device>, bool), Gap> {
    if let Ok(standard) = outlet.word(STANDARD) {
        return Ok((find(&standard), true));
    }
    let kind = outlet.word(DEVICE)?;
    let origin = outlet.fact(slot(DEVICE)).origin;
    let named = origin.written().and_then(|text| match read_cell(&Reads::Words(STANDARDS), text, None) {
        Ok(Read::Text(standard)) => Some(standard),
        _ => None,
    });
    Ok(named.map_or_else(|| (find(&kind), false), |standard| (find(&standard), true)))
}

/// What all rows its device can mean have alike; where they differ, the standard is what is missing.
fn of<T: PartialEq>(outlet: &Outlet<'_>, own: Slot, of: impl Fn(&Device) -> T) -> Result<T, Gap> {
    let (devices, _) = devices(outlet)?;
    if devices.is_empty() {
        return Err(Gap::absent(own, NO_DEVICE));
    }
    agreed(&devices, of).ok_or_else(|| Gap::missing(slot(STANDARD)))
}

/// `without` is the answer where there is no device.
fn drains(outlet: &Outlet<'_>, own: Slot, without: bool, does: fn(Drains) -> bool) -> Reading {
    if outlet.word(STANDARD).is_err() && &*outlet.word(DEVICE)? == "none" {
        return Ok(Value::YesNo(without));
    }
    of(outlet, own, |it| does(it.drains)).map(Value::YesNo)
}

/// A kind alone says only that a device is built in, not for what hydrant.
fn fits_outlet(outlet: &Outlet<'_>, own: Slot) -> Reading {
    let (rows, named) = devices(outlet)?;
    let anywhere = |it: &Device| matches!(it.fits, Fits::HoseThread | Fits::Pipe | Fits::PipeUnpressured);
    if !rows.is_empty() && rows.iter().all(|it| anywhere(it) || (!named && it.fits == Fits::WallHydrant)) {
        return Ok(Value::YesNo(true));
    }
    let closes = if rows.iter().any(|it| matches!(it.fits, Fits::WallHydrant | Fits::YardHydrant)) {
        outlet.word("outlet.closes")?
    } else {
        "".into()
    };
    of(outlet, own, |it| match it.fits {
        Fits::WallHydrant => &*closes == "inside",
        Fits::YardHydrant => &*closes == "below grade",
        Fits::LaboratoryFaucet => false,
        Fits::HoseThread | Fits::Pipe | Fits::PipeUnpressured => true,
    })
    .map(Value::YesNo)
}

//! Metals in contact, by the anodic index alone.

use super::reading::{OrGap, Outlet};
use super::{Answers, Def, Kind, Source, slot, toward};
use crate::expr::{Gap, Value};
use crate::physics::metals::{Exposure, FastenerRisk, Form, fastener_at_risk, find, pair};
use crate::units::{Dim, Measure, Quantity, Rounding};

const VOLTAGE: Kind = Kind::Quantity(Measure::Of(Dim::VOLTAGE));

pub(super) static DEFS: &[Def] = &[
    Def {
        name: "metals.fastener_gap",
        about: "difference of the anodic index between fasteners and flange",
        source: Source::Computed(VOLTAGE, |outlet, own| {
            let (fasteners, flange) = forms(outlet)?;
            let pair = pair(fasteners, flange)
                .ok_or_else(|| Gap::absent(own, "the index does not list one of the two metals"))?;
            Ok(volts(pair.gap))
        }),
        answers: Answers::Open,
        show: toward(("V", 2), ("V", 2), Rounding::Up),
    },
    Def {
        name: "metals.gap_limit",
        about: "the largest gap taken as harmless at this exposure (trade convention, from memory)",
        source: Source::Computed(VOLTAGE, |outlet, _| Ok(volts(exposure(outlet)?.limit()))),
        answers: Answers::Open,
        show: toward(("V", 2), ("V", 2), Rounding::Nearest),
    },
    Def {
        name: "metals.fasteners_waste",
        about: "whether the fasteners are the small anode: gap over the limit, and they are the less noble of the two",
        source: Source::Computed(Kind::YesNo, |outlet, own| {
            let (fasteners, flange) = forms(outlet)?;
            match fastener_at_risk(fasteners, flange, exposure(outlet)?) {
                FastenerRisk::FastenerIsAnode(_) => Ok(Value::YesNo(true)),
                FastenerRisk::WithinLimit(_) | FastenerRisk::FlangeIsAnode(_) => Ok(Value::YesNo(false)),
                FastenerRisk::NotListed(form) => {
                    Err(Gap::absent(own, format!("the index does not list {}", form.name)))
                }
            }
        }),
        answers: Answers::Open,
        show: None,
    },
];

fn volts(millivolts: u16) -> Value {
    Value::Quantity(Quantity::of(f64::from(millivolts) / 1000.0, Dim::VOLTAGE))
}

fn forms(outlet: &Outlet<'_>) -> Result<(&'static Form, &'static Form), Gap> {
    let mut gaps = Gap::default();
    let fasteners = form(outlet, "outlet.fasteners").or_gap(&mut gaps);
    let flange = form(outlet, "outlet.flange").or_gap(&mut gaps);
    fasteners.zip(flange).ok_or(gaps)
}

fn form(outlet: &Outlet<'_>, fact: &str) -> Result<&'static Form, Gap> {
    find(&outlet.word(fact)?).ok_or_else(|| Gap::absent(slot(fact), "the index does not list it"))
}

fn exposure(outlet: &Outlet<'_>) -> Result<Exposure, Gap> {
    Ok(if &*outlet.word("site.exposure")? == "coastal" { Exposure::Coastal } else { Exposure::Exterior })
}

//! Metals in contact, by the anodic index alone.

use super::outlet::stated;
use super::reading::{OrGap, Outlet};
use super::space::wall;
use super::words::{BLOCKING, CLADDINGS};
use super::{Answers, Blank, Def, Kind, Source, slot, toward};
use crate::expr::{Gap, Reading, Slot, Value};
use crate::physics::materials;
use crate::physics::metals::treated_wood::{self, Acceptance};
use crate::physics::metals::{
    CladdingRisk, Exposure, FastenerRisk, Form, Joint, fastener_at_risk, find, find_cladding,
    flange_on_cladding, pair, supply_to_barrel,
};
use crate::schedule::Reads;
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
                FastenerRisk::NotListed(form) => Err(not_listed(own, form)),
            }
        }),
        answers: Answers::Open,
        show: None,
    },
    stated(
        "outlet.cladding",
        "what the flange bears on",
        &["Cladding", "Siding", "Exterior finish"],
        Reads::Words(CLADDINGS),
        Blank::Unknown,
        Answers::All,
    ),
    stated(
        "outlet.blocking",
        "what the flange is fastened to",
        &["Blocking", "Treated wood", "Fastened to", "Backing"],
        Reads::Words(BLOCKING),
        Blank::Unknown,
        Answers::All,
    ),
    Def {
        name: "metals.cladding",
        about: "the metal the flange bears on: as stated, else the wall's outermost layer",
        source: Source::Computed(
            Kind::OneOf(&["aluminum siding", "steel siding", "galvanized steel", NOT_METAL]),
            cladding,
        ),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "metals.cladding_gap",
        about: "difference of the anodic index between flange and metal cladding",
        source: Source::Computed(VOLTAGE, |outlet, own| match on_cladding(outlet, own)? {
            CladdingRisk::WithinLimit(it)
            | CladdingRisk::CladdingIsAnode(it)
            | CladdingRisk::FlangeIsAnode(it) => Ok(volts(it.gap)),
            CladdingRisk::NotListed(form) => Err(not_listed(own, form)),
        }),
        answers: Answers::Open,
        show: toward(("V", 2), ("V", 2), Rounding::Up),
    },
    Def {
        name: "metals.cladding_wastes",
        about: "which of flange and metal cladding corrodes bare against the other: gap over the limit, the less noble",
        source: Source::Computed(Kind::OneOf(&["neither", "cladding", "flange"]), |outlet, own| {
            Ok(Value::Text(match on_cladding(outlet, own)? {
                CladdingRisk::WithinLimit(_) => "neither".into(),
                CladdingRisk::CladdingIsAnode(_) => "cladding".into(),
                CladdingRisk::FlangeIsAnode(_) => "flange".into(),
                CladdingRisk::NotListed(form) => return Err(not_listed(own, form)),
            }))
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "metals.fasteners_accepted_in_treated_wood",
        about: "whether the code names the fasteners for preservative-treated wood outdoors",
        source: Source::Computed(Kind::YesNo, |outlet, own| {
            let word = outlet.word("outlet.fasteners")?;
            let row = treated_wood::find(&word)
                .ok_or_else(|| Gap::absent(own, "the table of fasteners in treated wood does not list it"))?;
            // Where it is accepted on a condition, that is dryness indoors; a flange is outdoors.
            Ok(Value::YesNo(row.screw == Acceptance::Accepted))
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "metals.supply_gap",
        about: "difference of the anodic index between barrel and a metal supply",
        source: Source::Computed(VOLTAGE, |outlet, own| match supply_joint(outlet, own)? {
            Joint::WithinLimit(it) | Joint::CopperAlloy(it) | Joint::NeedsFitting(it) => Ok(volts(it.gap)),
            Joint::NotListed(form) => Err(not_listed(own, form)),
        }),
        answers: Answers::Open,
        show: toward(("V", 2), ("V", 2), Rounding::Up),
    },
    Def {
        name: "metals.supply_needs_fitting",
        about: "whether barrel and supply want a dielectric or copper-alloy fitting between them",
        source: Source::Computed(Kind::YesNo, |outlet, own| match supply_joint(outlet, own)? {
            Joint::WithinLimit(_) | Joint::CopperAlloy(_) => Ok(Value::YesNo(false)),
            Joint::NeedsFitting(_) => Ok(Value::YesNo(true)),
            Joint::NotListed(form) => Err(not_listed(own, form)),
        }),
        answers: Answers::Open,
        show: None,
    },
];

const NOT_METAL: &str = "not metal";
/// Between 1.5 W/mK for the densest masonry and 14 for stainless steel.
const METAL_CONDUCTS: f64 = 10.0;

fn cladding(outlet: &Outlet<'_>, own: Slot) -> Reading {
    if let Ok(stated) = outlet.value("outlet.cladding") {
        return Ok(stated);
    }
    let wall = wall(outlet)?;
    let outer = wall.layers.first().ok_or_else(|| Gap::absent(own, "the wall has no layers"))?;
    if outer.conductivity < METAL_CONDUCTS {
        return Ok(Value::Text(NOT_METAL.into()));
    }
    let material = materials::all().find(|it| *outer.name == *it.name).map(|it| it.key);
    let found = find_cladding(&outer.name).or_else(|| find_cladding(material?));
    let word = found.and_then(|it| CLADDINGS.iter().find(|(word, _)| find_cladding(word) == Some(it)));
    let (word, _) =
        word.ok_or_else(|| Gap::absent(own, format!("the table of claddings does not list {}", outer.name)))?;
    Ok(Value::Text((*word).into()))
}

fn on_cladding(outlet: &Outlet<'_>, own: Slot) -> Result<CladdingRisk, Gap> {
    let mut gaps = Gap::default();
    let flange = form(outlet, "outlet.flange").or_gap(&mut gaps);
    let sheet = outlet.word("metals.cladding").or_gap(&mut gaps);
    let exposure = exposure(outlet).or_gap(&mut gaps);
    let (Some(flange), Some(sheet), Some(exposure)) = (flange, sheet, exposure) else { return Err(gaps) };
    let risk = find_cladding(&sheet).and_then(|sheet| flange_on_cladding(flange, sheet, exposure));
    risk.ok_or_else(|| Gap::absent(own, "the cladding is not metal"))
}

fn supply_joint(outlet: &Outlet<'_>, own: Slot) -> Result<Joint, Gap> {
    let mut gaps = Gap::default();
    let supply = outlet.word("outlet.supply").or_gap(&mut gaps);
    let barrel = outlet.word("outlet.barrel").or_gap(&mut gaps);
    let (supply, barrel) = supply.zip(barrel).ok_or(gaps)?;
    let supply = find(&supply).ok_or_else(|| Gap::absent(own, "the supply is not metal"))?;
    let barrel =
        find(&barrel).ok_or_else(|| Gap::absent(own, "the index does not list the barrel's metal"))?;
    Ok(supply_to_barrel(supply, barrel))
}

fn not_listed(own: Slot, form: &Form) -> Gap {
    Gap::absent(own, format!("the index does not list {}", form.name))
}

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

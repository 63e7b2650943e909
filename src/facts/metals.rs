//! Metals in contact, by the anodic index alone.

use super::columns::{BARREL, FASTENERS, FLANGE, SUPPLY};
use super::def::{Def, FactType, VOLTAGE, computed, computed_quantity, computed_yes_no, facts, stated_word};
use super::outlet::{All, Outlet};
use super::site::EXPOSURE;
use super::space::wall;
use super::words::{BLOCKING, CLADDINGS};
use crate::expr::{Gap, Value, ValueOrGap};
use crate::job::Scope;
use crate::physics::materials;
use crate::physics::metals::treated_wood::{self, Acceptance};
use crate::physics::metals::{
    CladdingRisk, Exposure, FastenerRisk, Form, Joint, fastener_at_risk, find, find_cladding,
    flange_on_cladding, pair, supply_to_barrel,
};
use crate::units::{Dim, Quantity, Rounding};

facts! {
    FASTENER_GAP = computed_quantity(
        "metals.fastener_gap",
        "difference of the anodic index between fasteners and flange",
        VOLTAGE,
        |outlet| {
            let (fasteners, flange) = forms(outlet)?;
            let pair = pair(fasteners, flange);
            pair.map(|it| volts(it.gap)).ok_or_else(|| outlet.absent("the index does not list one of the two metals"))
        },
    )
        .show(("V", 2), ("V", 2), Rounding::Up);
    GAP_LIMIT = computed_quantity(
        "metals.gap_limit",
        "largest difference considered harmless at this exposure (trade convention, from memory)",
        VOLTAGE,
        |outlet| Ok(volts(exposure(outlet)?.limit())),
    )
        .show(("V", 2), ("V", 2), Rounding::Nearest);
    FASTENERS_CORRODE = computed_yes_no(
        "metals.fasteners_waste",
        "whether the fasteners are the small anode: difference over the limit, and they are the less noble of the two",
        |outlet| {
            let (fasteners, flange) = forms(outlet)?;
            match fastener_at_risk(fasteners, flange, exposure(outlet)?) {
                FastenerRisk::FastenerIsAnode(_) => Ok(Value::YesNo(true)),
                FastenerRisk::WithinLimit(_) | FastenerRisk::FlangeIsAnode(_) => Ok(Value::YesNo(false)),
                FastenerRisk::NotListed(form) => Err(not_listed(outlet, form)),
            }
        },
    )
        .label("fasteners corrode");
    CLADDING = stated_word("outlet.cladding", "material under the flange", CLADDINGS)
        .headings(&["Cladding", "Siding", "Exterior finish"])
        .question("What material is the flange on?")
        .scope(Scope::Use);
    FASTENED_TO = stated_word("outlet.blocking", "what the flange is fastened to", BLOCKING)
        .headings(&["Blocking", "Treated wood", "Fastened to", "Backing"])
        .question("What is the flange fastened to?")
        .scope(Scope::Use);
    CLADDING_METAL = computed(
        "metals.cladding",
        "metal under the flange: as stated, otherwise the wall's outermost layer",
        FactType::OneOf(&["aluminum siding", "steel siding", "galvanized steel", NOT_METAL]),
        cladding,
    );
    CLADDING_GAP = computed_quantity(
        "metals.cladding_gap",
        "difference of the anodic index between flange and metal cladding",
        VOLTAGE,
        |outlet| match on_cladding(outlet)? {
            CladdingRisk::WithinLimit(it)
            | CladdingRisk::CladdingIsAnode(it)
            | CladdingRisk::FlangeIsAnode(it) => Ok(volts(it.gap)),
            CladdingRisk::NotListed(form) => Err(not_listed(outlet, form)),
        },
    )
        .show(("V", 2), ("V", 2), Rounding::Up);
    CLADDING_CORRODES = computed(
        "metals.cladding_wastes",
        "which of flange and metal cladding corrodes bare against the other: the less noble, if the difference is over the limit",
        FactType::OneOf(&["neither", "cladding", "flange"]),
        |outlet| {
            Ok(Value::Text(match on_cladding(outlet)? {
                CladdingRisk::WithinLimit(_) => "neither".into(),
                CladdingRisk::CladdingIsAnode(_) => "cladding".into(),
                CladdingRisk::FlangeIsAnode(_) => "flange".into(),
                CladdingRisk::NotListed(form) => return Err(not_listed(outlet, form)),
            }))
        },
    )
        .label("corroding part of flange and cladding");
    FASTENERS_ACCEPTED = computed_yes_no(
        "metals.fasteners_accepted_in_treated_wood",
        "whether the code names the fasteners for preservative-treated wood outdoors",
        |outlet| {
            let word = outlet.word(FASTENERS)?;
            let row = treated_wood::find(&word);
            // The code lists hot-dip galvanized steel; "galvanized" alone may be a thin electroplate.
            let written = outlet.get_fact(FASTENERS).origin.written().map(|text| text.to_lowercase());
            let is_hot_dip = |text: String| ["hot", "dip", "hdg"].iter().any(|word| text.contains(word));
            if &*word == "galvanized steel" && !written.is_none_or(is_hot_dip) {
                return Err(outlet.absent("galvanized: hot-dip or electroplated is not stated"));
            }
            let row = row.ok_or_else(|| outlet.absent("the table of fasteners in treated wood does not list it"))?;
            // A condition for acceptance is dryness indoors; a flange is outdoors.
            Ok(Value::YesNo(row.screw == Acceptance::Accepted))
        },
    );
    UNSUITED_TO_SALT = computed(
        "metals.unsuited_to_salt",
        "stated parts of a metal that does not last in salt air: stainless other than 316, yellow brass, zinc die cast, bare \
         aluminum, plated or plain steel",
        FactType::Text,
        unsuited_to_salt,
    );
    SUPPLY_GAP = computed_quantity(
        "metals.supply_gap",
        "difference of the anodic index between barrel and a metal supply",
        VOLTAGE,
        |outlet| match supply_joint(outlet)? {
            Joint::WithinLimit(it) | Joint::CopperAlloy(it) | Joint::NeedsFitting(it) => Ok(volts(it.gap)),
            Joint::NotListed(form) => Err(not_listed(outlet, form)),
        },
    )
        .show(("V", 2), ("V", 2), Rounding::Up);
    SUPPLY_NEEDS_FITTING = computed_yes_no(
        "metals.supply_needs_fitting",
        "whether barrel and supply need a dielectric or copper-alloy fitting between them",
        |outlet| match supply_joint(outlet)? {
            Joint::WithinLimit(_) | Joint::CopperAlloy(_) => Ok(Value::YesNo(false)),
            Joint::NeedsFitting(_) => Ok(Value::YesNo(true)),
            Joint::NotListed(form) => Err(not_listed(outlet, form)),
        },
    );
}

/// Metals that salt air corrodes: yellow brass loses its zinc, zinc and bare aluminum pit, and a thin coat of zinc is soon
/// gone (common practice of corrosion engineers, no source).
const SALT_CORRODES: [&str; 5] = ["brass", "zinc die cast", "aluminum", "zinc-plated steel", "steel"];

/// The parts by name, or none. A stainless barrel stands in the wall, out of the salt.
fn unsuited_to_salt(outlet: &Outlet<'_>) -> ValueOrGap {
    let parts = [("fasteners", FASTENERS), ("flange", FLANGE), ("barrel", BARREL)];
    let mut stated =
        parts.iter().filter_map(|(part, def)| Some((*part, *def, outlet.word(def).ok()?))).peekable();
    if stated.peek().is_none() {
        return Err(outlet.absent("no metal of fasteners, flange or barrel is stated"));
    }
    let unsuited = stated.filter_map(|(part, def, metal)| {
        let written =
            outlet.get_fact(def).origin.written().map(|text| text.to_lowercase()).unwrap_or_default();
        let grade =
            if written.contains("304") || written.contains("18-8") { "304" } else { "grade not stated" };
        match &*metal {
            "stainless" if part != "barrel" && !written.contains("316") => {
                Some(format!("{part} of stainless ({grade})"))
            }
            metal if SALT_CORRODES.contains(&metal) => Some(format!("{part} of {metal}")),
            _ => None,
        }
    });
    let unsuited: Vec<String> = unsuited.collect();
    Ok(Value::Text(if unsuited.is_empty() { "none".into() } else { unsuited.join(", ").into() }))
}

const NOT_METAL: &str = "not metal";
/// Between 1.5 W/mK for the densest masonry and 14 for stainless steel.
const METAL_CONDUCTS: f64 = 10.0;

fn cladding(outlet: &Outlet<'_>) -> ValueOrGap {
    if let Ok(stated) = outlet.value(CLADDING) {
        return Ok(stated);
    }
    let wall = wall(outlet)?;
    let outer = wall.layers.first().ok_or_else(|| outlet.absent("the wall has no layers"))?;
    if outer.conductivity < METAL_CONDUCTS {
        return Ok(Value::Text(NOT_METAL.into()));
    }
    let material = materials::all().find(|material| *outer.name == *material.name).map(|it| it.key);
    let found = find_cladding(&outer.name).or_else(|| find_cladding(material?));
    let word = found.and_then(|found| CLADDINGS.iter().find(|(word, _)| find_cladding(word) == Some(found)));
    let (word, _) =
        word.ok_or_else(|| outlet.absent(format!("the table of claddings does not list {}", outer.name)))?;
    Ok(Value::Text((*word).into()))
}

fn on_cladding(outlet: &Outlet<'_>) -> Result<CladdingRisk, Gap> {
    let (flange, sheet, exposure) =
        (form(outlet, FLANGE), outlet.word(CLADDING_METAL), exposure(outlet)).all()?;
    let risk = find_cladding(&sheet).and_then(|sheet| flange_on_cladding(flange, sheet, exposure));
    risk.ok_or_else(|| outlet.absent("the cladding is not metal"))
}

fn supply_joint(outlet: &Outlet<'_>) -> Result<Joint, Gap> {
    let (supply, barrel) = (outlet.word(SUPPLY), outlet.word(BARREL)).all()?;
    let supply = find(&supply).ok_or_else(|| outlet.absent("the supply is not metal"))?;
    let barrel = find(&barrel).ok_or_else(|| outlet.absent("the index does not list the barrel's metal"))?;
    Ok(supply_to_barrel(supply, barrel))
}

fn not_listed(outlet: &Outlet<'_>, form: &Form) -> Gap {
    outlet.absent(format!("the index does not list {}", form.name))
}

fn volts(millivolts: u16) -> Value {
    Value::Quantity(Quantity::of(f64::from(millivolts) / 1000.0, Dim::VOLTAGE))
}

fn forms(outlet: &Outlet<'_>) -> Result<(&'static Form, &'static Form), Gap> {
    (form(outlet, FASTENERS), form(outlet, FLANGE)).all()
}

fn form(outlet: &Outlet<'_>, def: &Def) -> Result<&'static Form, Gap> {
    find(&outlet.word(def)?).ok_or_else(|| Gap::absent(outlet.slot(def), "the index does not list it"))
}

fn exposure(outlet: &Outlet<'_>) -> Result<Exposure, Gap> {
    Ok(if &*outlet.word(EXPOSURE)? == "coastal" { Exposure::Coastal } else { Exposure::Exterior })
}

//! The anodic index, a row for each form of metal.

use super::{Form, Standing};

const TABLE: &str = "anodic index after MIL-F-14072 table VI";

const fn form(
    key: &'static str,
    name: &'static str,
    aliases: &'static [&'static str],
    index: u16,
    standing: Standing,
) -> Form {
    Form { key, name, aliases, index: Some(index), source: TABLE, standing }
}

/// Every form. "Seen" means seen in a public copy of the table, not in the specification.
pub const FORMS: &[Form] = &[
    form("nickel-plate", "nickel plate", &["nickel plated"], 300, Standing::Seen),
    form("copper", "copper", &["cu", "dhp copper"], 350, Standing::Seen),
    form("red-brass", "red brass (low brass)", &["low brass"], 350, Standing::Seen),
    form("silicon-bronze", "silicon bronze (low bronze)", &[], 350, Standing::FromMemory),
    form("brass", "brass (yellow)", &["yellow brass"], 400, Standing::Seen),
    form("bronze", "bronze", &["cast bronze", "cast red brass", "cast-red-brass"], 400, Standing::Seen),
    form("high-brass", "high brass (Muntz, naval)", &["muntz", "naval brass"], 450, Standing::Seen),
    form(
        "stainless",
        "stainless steel, 18 % chromium, passive",
        &["ss", "18-8", "304", "316", "stainless steel", "stainless 18-8"],
        500,
        Standing::Seen,
    ),
    Form {
        key: "stainless-active",
        name: "stainless steel, 18 % chromium, active (crevice, pickled, starved of air)",
        aliases: &["active stainless"],
        index: None,
        source: "the index publishes no value; sea-water potentials do, but may not be mixed with it",
        standing: Standing::FromMemory,
    },
    form(
        "stainless-12-chromium",
        "stainless steel, 12 % chromium",
        &["410", "12 cr stainless"],
        600,
        Standing::Seen,
    ),
    form(
        "chrome-plate",
        "chromium plate",
        &["chrome", "chrome plated", "chromium plate"],
        600,
        Standing::Seen,
    ),
    form("aluminum-2000", "aluminum, 2000 series", &[], 750, Standing::Seen),
    form(
        "steel",
        "steel or iron, plain",
        &["plain steel", "carbon steel", "carbon-steel", "iron"],
        850,
        Standing::Seen,
    ),
    form("aluminum", "aluminum, wrought", &["aluminium"], 900, Standing::FromMemory),
    form("cast-aluminum", "aluminum, cast", &["cast aluminium"], 950, Standing::FromMemory),
    form(
        "galvanized-steel",
        "steel, hot-dip galvanized",
        &["hot-dip galvanized steel", "galvanised steel", "hdg", "galvanized"],
        1200,
        Standing::FromMemory,
    ),
    form(
        "zinc-plated-steel",
        "steel, zinc plated",
        &["zinc plated", "electro-galvanized steel", "electro-zinc"],
        1250,
        Standing::FromMemory,
    ),
    form(
        "zinc-die-cast",
        "zinc die casting",
        &["zamak", "pot metal", "die cast zinc"],
        1250,
        Standing::FromMemory,
    ),
];

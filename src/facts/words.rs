//! The words of a schedule, each with other ways to say it.

use crate::schedule::Subject;

/// What descriptions in a schedule can be about, by fact.
pub(super) fn subject(fact: &str) -> Option<Subject> {
    const SUBJECTS: &[(&str, Subject)] = &[
        ("outlet.kind", Subject::Kind),
        ("outlet.closes", Subject::Closes),
        ("outlet.quantity", Subject::Quantity),
        ("outlet.nominal_length", Subject::NominalLength),
        ("outlet.seat_depth", Subject::SeatDepth),
        ("outlet.supply", Subject::Supply),
        ("outlet.supply_size", Subject::SupplySize),
        ("outlet.supply_insulation", Subject::SupplyInsulation),
        ("outlet.inlet", Subject::Inlet),
        ("outlet.barrel", Subject::Barrel),
        ("outlet.stem", Subject::Stem),
        ("outlet.fasteners", Subject::Fasteners),
        ("outlet.flange", Subject::Flange),
        ("outlet.backflow_device", Subject::BackflowDevice),
        ("outlet.backflow_standard", Subject::BackflowStandard),
        ("outlet.finish", Subject::Finish),
        ("outlet.handle", Subject::Handle),
        ("outlet.space_behind", Subject::SpaceBehind),
        ("outlet.height", Subject::Height),
        ("outlet.block_thickness", Subject::BlockThickness),
        ("outlet.bury_depth", Subject::BuryDepth),
        ("outlet.slope", Subject::Slope),
        ("outlet.self_draining", Subject::SelfDraining),
        ("outlet.inside_stop", Subject::InsideStop),
        ("outlet.cover", Subject::Cover),
        ("outlet.gasket", Subject::Gasket),
        ("outlet.heat_cable", Subject::HeatCable),
        ("outlet.sleeve", Subject::Sleeve),
        ("outlet.check_valve", Subject::CheckValve),
        ("outlet.serves", Subject::Serves),
        ("outlet.drains_to_soil", Subject::DrainsToSoil),
        ("outlet.upstream_device", Subject::UpstreamDevice),
        ("outlet.firestop", Subject::Firestop),
        ("outlet.fire_rated", Subject::FireRated),
        ("outlet.stop_access", Subject::StopAccess),
        ("outlet.blocking", Subject::Blocking),
        ("outlet.cladding", Subject::Cladding),
        ("outlet.location", Subject::Location),
        ("outlet.wall", Subject::Wall),
        ("outlet.description", Subject::Description),
        ("outlet.notes", Subject::Notes),
        ("outlet.description_disagrees", Subject::Disagreement),
    ];
    SUBJECTS.iter().find(|(name, _)| *name == fact).map(|(_, subject)| *subject)
}

/// A word, and other ways to say it.
type Words = &'static [(&'static str, &'static [&'static str])];

/// Kinds of outlets; the lexicon of the schedule has their other names.
pub(super) const KINDS: Words = &[
    ("hose bibb", &[]),
    ("sillcock", &[]),
    ("wall hydrant", &[]),
    ("box hydrant", &[]),
    ("yard hydrant", &[]),
    ("roof hydrant", &[]),
    ("ground hydrant", &[]),
    ("hose reel", &[]),
    ("irrigation connection", &[]),
];
pub(super) const CLOSES: Words = &[
    ("inside", &["inside wall", "interior", "in heated space", "at inlet"]),
    ("face", &["at face", "at the face", "outside", "exterior"]),
    ("below grade", &["below frost", "buried"]),
];
/// Barrels and stems; each word is a material of the table of metals.
pub(super) const METALS: Words = &[
    ("copper", &["cu", "copper tube"]),
    ("brass", &["yellow brass", "forged brass"]),
    ("red brass", &["wrought red brass"]),
    ("bronze", &["cast bronze", "cast red brass"]),
    ("silicon brass", &["lead-free silicon brass"]),
    ("stainless", &["ss", "stainless steel", "304", "316", "304 ss", "316 ss"]),
    ("galvanized steel", &["galv", "galvanised steel", "galvanized"]),
];
/// How the wall's insulation meets the inlet.
pub(super) const PACKINGS: Words = &[
    ("packed around", &["packed", "packed tight", "tight", "continuous", "around", "sprayed around"]),
    ("held back", &["cut back", "pulled back", "open", "kept clear"]),
    ("none", &["no insulation", "uninsulated"]),
];
pub(super) const SPACES: Words = &[
    ("heated room", &["heated", "room", "conditioned", "conditioned space", "interior"]),
    ("basement", &["bsmt", "heated basement", "conditioned basement"]),
    ("unheated basement", &["cold basement", "unconditioned basement", "cellar"]),
    ("wall cavity", &["cavity", "stud cavity", "wall", "in wall", "exterior wall"]),
    ("crawlspace", &["crawl space", "crawl", "vented crawlspace", "unheated crawlspace"]),
    ("garage", &["unheated garage"]),
    ("attic", &["unheated attic"]),
];
pub(super) const SUPPLIES: Words = &[
    ("copper", &["cu", "copper type l", "copper type m", "copper tube", "type l copper"]),
    ("PEX", &["pex-a", "pex-b", "pe-x", "cross-linked polyethylene"]),
    ("CPVC", &[]),
    ("PVC", &[]),
    ("galvanized steel", &["galv", "galvanised steel", "galvanized", "steel"]),
    ("stainless", &["ss", "stainless steel"]),
    ("polyethylene", &["pe", "hdpe"]),
];
/// Kinds of backflow device; the lexicon of the schedule has their other names. Each takes in the standards of [`STANDARDS`] that count as it, so that a device's cell may
/// name its standard instead.
pub(super) const DEVICES: Words = &[
    ("none", &["no", "without"]),
    ("hose connection vacuum breaker", &["asse 1011", "csa b64.2", "csa b64.2.1", "csa b64.2.2"]),
    (
        "integral vacuum breaker",
        &[
            "integral",
            "built-in",
            "yes integral",
            "asse 1019",
            "asse 1019 a",
            "asse 1019 b",
            "asse 1019 c",
            "asse 1019 type a",
            "asse 1019 type b",
            "asse 1019 type c",
        ],
    ),
    (
        "dual check",
        &[
            "hose connection backflow preventer",
            "asse 1052",
            "asse 1053",
            "asse 1053 a",
            "asse 1053 b",
            "asse 1053 type a",
            "asse 1053 type b",
            "csa b64.2.1.1",
        ],
    ),
    ("atmospheric vacuum breaker", &["asse 1001", "csa b64.1.1"]),
    ("pressure vacuum breaker", &["asse 1020", "asse 1056", "csa b64.1.2", "csa b64.1.3"]),
    ("double check assembly", &["dca", "asse 1015", "csa b64.5"]),
    ("residential dual check", &["duc", "asse 1024", "csa b64.6"]),
    ("reduced pressure principle assembly", &["rp", "asse 1013", "csa b64.4"]),
    (
        "sanitary yard hydrant",
        &[
            "asse 1057",
            "asse 1057 1",
            "asse 1057 type 1",
            "asse 1057 2",
            "asse 1057 type 2",
            "asse 1057 3",
            "asse 1057 type 3",
            "asse 1057 4",
            "asse 1057 type 4",
            "asse 1057 5",
            "asse 1057 type 5",
        ],
    ),
    ("laboratory faucet backflow preventer", &["lfvb", "asse 1035", "csa b64.7"]),
];
/// Standards of backflow devices, with and without a type; each word finds its rows in the table of devices.
pub(super) const STANDARDS: Words = &[
    ("ASSE 1001", &["1001"]),
    ("ASSE 1011", &["1011"]),
    ("ASSE 1013", &["1013"]),
    ("ASSE 1015", &["1015"]),
    ("ASSE 1019", &["1019"]),
    ("ASSE 1019 type A", &["asse 1019 a", "1019 a", "1019 type a"]),
    ("ASSE 1019 type B", &["asse 1019 b", "1019 b", "1019 type b"]),
    ("ASSE 1019 type C", &["asse 1019 c", "1019 c", "1019 type c"]),
    ("ASSE 1020", &["1020"]),
    ("ASSE 1024", &["1024"]),
    ("ASSE 1035", &["1035"]),
    ("ASSE 1052", &["1052"]),
    ("ASSE 1053", &["1053"]),
    ("ASSE 1053 type A", &["asse 1053 a", "1053 a", "1053 type a"]),
    ("ASSE 1053 type B", &["asse 1053 b", "1053 b", "1053 type b"]),
    ("ASSE 1056", &["1056"]),
    ("ASSE 1057", &["1057"]),
    ("ASSE 1057 type 1", &["asse 1057 1", "1057 1", "1057 type 1"]),
    ("ASSE 1057 type 2", &["asse 1057 2", "1057 2", "1057 type 2"]),
    ("ASSE 1057 type 3", &["asse 1057 3", "1057 3", "1057 type 3"]),
    ("ASSE 1057 type 4", &["asse 1057 4", "1057 4", "1057 type 4"]),
    ("ASSE 1057 type 5", &["asse 1057 5", "1057 5", "1057 type 5"]),
    ("CSA B64.1.1", &["b64.1.1"]),
    ("CSA B64.1.2", &["b64.1.2"]),
    ("CSA B64.1.3", &["b64.1.3"]),
    ("CSA B64.2", &["b64.2"]),
    ("CSA B64.2.1", &["b64.2.1"]),
    ("CSA B64.2.1.1", &["b64.2.1.1"]),
    ("CSA B64.2.2", &["b64.2.2"]),
    ("CSA B64.4", &["b64.4"]),
    ("CSA B64.5", &["b64.5"]),
    ("CSA B64.6", &["b64.6"]),
    ("CSA B64.7", &["b64.7"]),
];
/// What the outlet serves.
pub(super) const SERVES: Words = &[
    ("hose", &["general", "general use", "garden hose", "washdown", "wash down", "car wash", "pool fill"]),
    ("hose timer", &["timer", "hose-end timer", "watering timer", "faucet timer"]),
    (
        "irrigation",
        &[
            "irrigation branch",
            "lawn irrigation",
            "lawn sprinklers",
            "sprinkler system",
            "drip irrigation",
            "drip",
        ],
    ),
    (
        "chemicals",
        &[
            "chemical",
            "chemical injection",
            "chemical feeder",
            "fertilizer injection",
            "fertilizer injector",
            "fertigation",
            "soap injection",
        ],
    ),
    ("lawn chemicals", &["fertilizer", "pesticide", "pesticides", "herbicide", "weed killer"]),
    ("hose-end sprayer", &["sprayer", "hose sprayer"]),
];
/// What a flange bears on; each metal is a cladding of the table of metals.
pub(super) const CLADDINGS: Words = &[
    ("aluminum siding", &["aluminum", "aluminium", "aluminium siding", "aluminum panel"]),
    ("steel siding", &["steel", "metal siding", "metal panel", "prefinished steel", "steel panel"]),
    ("galvanized steel", &["galvanised steel", "galvanized siding", "corrugated galvanized"]),
    (
        "not metal",
        &[
            "brick",
            "brick veneer",
            "stone",
            "stucco",
            "block",
            "cmu",
            "concrete",
            "fiber cement",
            "fibre cement",
            "wood",
            "cedar",
            "log",
            "vinyl",
            "vinyl siding",
            "eifs",
        ],
    ),
];
/// What a flange is fastened to.
pub(super) const BLOCKING: Words = &[
    (
        "treated wood",
        &[
            "yes",
            "treated",
            "pt",
            "pt wood",
            "pressure-treated",
            "pressure treated wood",
            "preservative-treated",
            "acq",
            "ca",
        ],
    ),
    (
        "not treated",
        &[
            "no",
            "none",
            "untreated",
            "untreated wood",
            "wood",
            "lumber",
            "plywood",
            "osb",
            "masonry",
            "concrete",
            "steel",
        ],
    ),
];
/// Fasteners and flanges; each word is a form of the anodic index.
pub(super) const FORMS: Words = &[
    ("stainless", &["ss", "stainless steel", "304", "316", "18-8", "ss screws", "stainless screws"]),
    // Its film gone: in a crevice, pickled, or starved of air. The index has no value for it.
    ("active stainless", &["stainless active", "active stainless steel"]),
    ("brass", &["brass screws", "yellow brass"]),
    ("red brass", &[]),
    ("bronze", &["cast bronze"]),
    ("silicon bronze", &[]),
    ("copper", &["cu"]),
    ("chrome plate", &["chrome", "chrome plated", "chrome-plated brass", "cp brass"]),
    ("nickel plate", &["nickel plated", "satin nickel", "rough nickel"]),
    (
        "zinc-plated steel",
        &["zinc plated", "zinc", "electro-zinc", "zinc screws", "zinc-plated", "zinc plated screws"],
    ),
    ("galvanized steel", &["hot-dip galvanized", "hdg", "galvanised steel", "galvanized"]),
    ("steel", &["plain steel", "carbon steel", "drywall screws"]),
    ("aluminum", &["aluminium"]),
    ("zinc die cast", &["die-cast zinc", "zamak"]),
];
pub(super) const INLETS: Words = &[
    ("threaded", &["mip", "mpt", "fip", "fpt", "npt", "male thread", "female thread", "ips"]),
    ("combination", &["mip/sweat", "mpt x sweat", "thread or sweat", "combo", "1/2 fip x 3/4 mip sweat"]),
    ("sweat", &["solder", "copper sweat", "c"]),
    ("press", &["pressed"]),
    ("push-fit", &["push", "push fit", "push to connect"]),
    ("crimp", &["pex", "pex crimp", "f1807", "f1960", "expansion"]),
];
pub(super) const JOINTS: Words = &[
    ("threaded", &["thread", "screwed", "npt"]),
    ("soldered", &["sweat", "sweated", "solder", "brazed"]),
    ("pressed", &["press"]),
    ("push-fit", &["push", "push fit", "push to connect"]),
    ("crimped", &["crimp", "clamped", "expansion", "pex crimp"]),
];
pub(super) const STOP_ACCESS: Words = &[
    ("open", &["exposed", "accessible", "in the open", "yes"]),
    ("access panel", &["panel", "access door"]),
    ("concealed", &["no access", "inaccessible", "not accessible", "behind drywall", "no", "none"]),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::{backflow, materials, metals, tubes};
    use crate::schedule::{CellType, CellValue, read_cell};

    #[test]
    fn barrels_and_supplies_are_materials_and_supplies_tubes() {
        for (word, _) in METALS.iter().chain(SUPPLIES) {
            assert!(materials::find(word).is_some(), "{word}");
        }
        for (word, _) in SUPPLIES {
            let material = materials::find(word).unwrap();
            assert!(tubes::usual_kind(material.key).is_some(), "{word}");
        }
    }

    #[test]
    fn every_fastener_and_flange_is_a_form_of_the_anodic_index() {
        for (word, _) in FORMS {
            assert!(metals::find(word).is_some(), "{word}");
        }
    }

    #[test]
    fn standards_match_devices_and_rows_of_the_table() {
        for (word, others) in STANDARDS {
            assert!(!backflow::find(word).is_empty(), "{word}");
            assert!(read_cell(&CellType::Words(DEVICES), word, None).is_ok(), "{word}");
            for other in *others {
                let read = read_cell(&CellType::Words(STANDARDS), other, None);
                assert_eq!(read, Ok(CellValue::Text((*word).into())));
            }
        }
        for it in backflow::DEVICES {
            let read = read_cell(&CellType::Words(STANDARDS), it.standard, None);
            assert_eq!(read, Ok(CellValue::Text(it.standard.into())));
        }
    }

    #[test]
    fn kinds_of_devices_have_only_standards_of_their_rows() {
        for (kind, others) in DEVICES.iter().filter(|(kind, _)| *kind != "none") {
            let rows = backflow::find(kind);
            assert!(!rows.is_empty(), "{kind}");
            for standard in others.iter().filter(|it| it.starts_with("asse") || it.starts_with("csa")) {
                let of = backflow::find(standard);
                assert!(!of.is_empty(), "{standard}");
                // A breaker with a drain is a hose connection vacuum breaker with a longer name.
                let named = |it: &&backflow::Device| rows.contains(it) || it.name.starts_with(kind);
                assert!(of.iter().all(named), "{kind}: {standard}");
            }
        }
    }

    #[test]
    fn every_metal_cladding_is_one_of_the_table() {
        for (word, _) in CLADDINGS {
            assert_eq!(metals::find_cladding(word).is_none(), *word == "not metal", "{word}");
        }
    }

    #[test]
    fn every_space_behind_is_one_a_job_can_describe() {
        let words: Vec<&str> = SPACES.iter().map(|(word, _)| *word).collect();
        assert_eq!(words, crate::wall::SPACES);
    }
}

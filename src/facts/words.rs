//! The words of a schedule, each with other ways to say it.

/// A word, and other ways to say it.
type Words = &'static [(&'static str, &'static [&'static str])];

pub(super) const KINDS: Words = &[
    (
        "hose bibb",
        &[
            "hb",
            "bibb",
            "hose bib",
            "frostproof hose bibb",
            "frost-proof hose bibb",
            "freeze-resistant hose bibb",
            "hose faucet",
        ],
    ),
    (
        "sillcock",
        &[
            "frostproof sillcock",
            "frost-proof sillcock",
            "frost-free sillcock",
            "freeze-resistant sillcock",
            "freezeless sillcock",
        ],
    ),
    (
        "wall hydrant",
        &[
            "wh",
            "frostproof wall hydrant",
            "frost-proof wall hydrant",
            "freeze-resistant wall hydrant",
            "freezeless wall hydrant",
            "mild climate wall hydrant",
            "moderate climate wall hydrant",
        ],
    ),
    (
        "box hydrant",
        &["recessed wall hydrant", "boxed wall hydrant", "freezeless box hydrant", "frostproof box hydrant"],
    ),
    ("yard hydrant", &["post hydrant", "freezeless yard hydrant", "frostproof yard hydrant"]),
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
pub(super) const SPACES: Words = &[
    ("heated room", &["heated", "room", "conditioned", "conditioned space", "interior", "mechanical room"]),
    ("basement", &["heated basement", "conditioned basement"]),
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
pub(super) const DEVICES: Words = &[
    ("none", &["no", "without"]),
    (
        "hose connection vacuum breaker",
        &["hcvb", "asse 1011", "hose vb", "hose connection vb", "screw-on vacuum breaker", "csa b64.2"],
    ),
    (
        "integral vacuum breaker",
        &[
            "integral",
            "integral vb",
            "integral vac bkr",
            "asse 1019",
            "asse 1019-a",
            "asse 1019-b",
            "asse 1019 a",
            "asse 1019 b",
            "built-in",
            "yes integral",
        ],
    ),
    (
        "dual check",
        &["asse 1052", "asse 1053", "hose connection backflow preventer", "dual check backflow preventer"],
    ),
    ("atmospheric vacuum breaker", &["avb", "asse 1001"]),
    ("pressure vacuum breaker", &["pvb", "asse 1020", "svb", "asse 1056"]),
];
/// Fasteners and flanges; each word is a form of the anodic index.
pub(super) const FORMS: Words = &[
    ("stainless", &["ss", "stainless steel", "304", "316", "18-8", "ss screws", "stainless screws"]),
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
    use crate::physics::{materials, metals, tubes};

    #[test]
    fn every_barrel_and_supply_is_a_material_and_every_supply_a_tube() {
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
    fn every_space_behind_is_one_a_job_can_describe() {
        let words: Vec<&str> = SPACES.iter().map(|(word, _)| *word).collect();
        assert_eq!(words, crate::wall::SPACES);
    }
}

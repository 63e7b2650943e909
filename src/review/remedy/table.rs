//! The kinds of change that can settle a comment: the values each sets, whether it can be made in a finished wall, its
//! words. Reviewing the outlet again shows which of them do.

use super::change::Finished::{AtThePipe, No};
use super::change::Put::{Blank, Inches, Of, PerFoot, Word, YesNo};
use super::change::{ChangeKind, Put, USUAL};

const CLOSES: &str = "outlet.closes";
const DEVICE: &str = "outlet.backflow_device";
const STANDARD: &str = "outlet.backflow_standard";
const SPACE: &str = "outlet.space_behind";
const STOP: &str = "outlet.inside_stop";
const SHUTOFF: &str = "outlet.shutoff";
const ACCESS: &str = "outlet.stop_access";
const INSIDE: &[(&str, &[&str])] = &[(CLOSES, &["inside"])];
const AT_FACE: &[(&str, &[&str])] = &[(CLOSES, &["face"])];
const YARD: &[(&str, &[&str])] = &[("outlet.kind", &["yard hydrant"])];
const COLD: &[&str] = &["crawlspace", "garage", "attic", "unheated basement"];

/// A longer outlet of the same kind, in a stock length.
pub(super) const LONGER: ChangeKind = ChangeKind {
    name: "length",
    says: "order {outlet.nominal_length}",
    finished: AtThePipe,
    is_order: true,
    only: INSIDE,
    ..USUAL
};

/// A model of the job's product data.
pub(super) const MODEL: ChangeKind =
    ChangeKind { name: "model", says: "order {outlet.model}", finished: AtThePipe, is_order: true, ..USUAL };

/// The changes, the usual ones first.
pub(super) const CHANGES: &[ChangeKind] = &[
    ChangeKind {
        name: "hose off",
        says: "have the hose taken off before winter",
        tries: &[&[("outlet.hose_left_on", YesNo(false))]],
        ..USUAL
    },
    ChangeKind {
        name: "stainless barrel",
        says: "order a stainless barrel",
        finished: AtThePipe,
        is_order: true,
        is_of_model: true,
        warms: true,
        only: INSIDE,
        tries: &[&[("outlet.barrel", Word("stainless")), ("outlet.barrel_thickness", Blank)]],
        ..USUAL
    },
    ChangeKind {
        name: "frostproof outlet",
        says: "order a frostproof faucet with a built-in vacuum breaker (ASSE 1019)",
        finished: AtThePipe,
        is_order: true,
        is_other_product: true,
        is_of_model: true,
        warms: true,
        only: AT_FACE,
        tries: &[
            &FROSTPROOF,
            &[FROSTPROOF[0], FROSTPROOF[1], FROSTPROOF[2], ("outlet.barrel", Word("stainless"))],
        ],
        ..USUAL
    },
    ChangeKind {
        name: "insulation off inlet",
        says: "keep the wall's insulation off the inlet",
        finished: AtThePipe,
        warms: true,
        only: INSIDE,
        tries: &[&[("outlet.inlet_insulation", Word("held back"))]],
        ..USUAL
    },
    ChangeKind {
        name: "copper tail",
        says: "run the last {outlet.supply_run} of the supply in bare copper",
        finished: AtThePipe,
        warms: true,
        only: &[(CLOSES, &["inside"]), ("outlet.supply", &["PEX", "CPVC", "PVC", "polyethylene"])],
        tries: &[&[("outlet.supply", Word("copper")), ("outlet.supply_insulation", Inches(0.0))]],
        sizes: Some(("outlet.supply_run", &[12.0, 18.0, 24.0, 36.0])),
        ..USUAL
    },
    ChangeKind {
        name: "bare supply",
        says: "leave the first {outlet.supply_run} of supply bare",
        finished: AtThePipe,
        warms: true,
        only: &[(CLOSES, &["inside"]), (SPACE, &["heated room", "basement"])],
        tries: &[&[("outlet.supply_insulation", Inches(0.0))]],
        ..USUAL
    },
    ChangeKind {
        name: "heated space",
        says: "move it to the heated house, same wall type",
        finished: No,
        is_of_designer: true,
        warms: true,
        only: &[(SPACE, &["crawlspace", "garage", "attic", "unheated basement", "wall cavity"])],
        tries: &[&[(SPACE, Word("heated room"))]],
        ..USUAL
    },
    ChangeKind {
        name: "inside stop",
        says: "add an inside stop-and-waste valve within reach",
        finished: AtThePipe,
        tries: &[&[(STOP, YesNo(true))]],
        ..USUAL
    },
    ChangeKind {
        name: "shutoff",
        says: "show a shutoff valve on its branch",
        finished: AtThePipe,
        tries: &[&[(SHUTOFF, YesNo(true))]],
        ..USUAL
    },
    ChangeKind {
        name: "pipe insulation",
        says: "insulate the supply, {outlet.supply_insulation}",
        finished: AtThePipe,
        only: &[(SPACE, COLD)],
        tries: &[&[]],
        sizes: Some(("outlet.supply_insulation", &[0.5, 1.0, 2.0])),
        ..USUAL
    },
    ChangeKind {
        name: "heat cable",
        says: "add a heat cable on the supply",
        finished: AtThePipe,
        only: &[(SPACE, COLD)],
        tries: &[&[("outlet.heat_cable", YesNo(true))]],
        ..USUAL
    },
    ChangeKind {
        name: "vacuum breaker",
        says: "add a hose connection vacuum breaker with a break-off screw (ASSE 1011)",
        only: AT_FACE,
        tries: &[&[(DEVICE, Word("hose connection vacuum breaker")), (STANDARD, Word("ASSE 1011"))]],
        ..USUAL
    },
    ChangeKind {
        name: "built-in vacuum breaker",
        says: "order a built-in vacuum breaker ({outlet.backflow_standard})",
        finished: AtThePipe,
        is_order: true,
        is_of_model: true,
        only: INSIDE,
        tries: &[
            &[(DEVICE, Word("integral vacuum breaker")), (STANDARD, Word("ASSE 1019 type A"))],
            &[(DEVICE, Word("integral vacuum breaker")), (STANDARD, Word("ASSE 1019 type B"))],
            &[(DEVICE, Word("dual check")), (STANDARD, Word("ASSE 1053 type B"))],
        ],
        ..USUAL
    },
    ChangeKind {
        name: "pressure vacuum breaker",
        says: "feed it through a pressure vacuum breaker (ASSE 1020) with {outlet.device_height} above the highest head",
        finished: AtThePipe,
        is_of_designer: true,
        only: &[("outlet.serves", &["irrigation"])],
        tries: &[&[
            (DEVICE, Word("pressure vacuum breaker")),
            (STANDARD, Word("ASSE 1020")),
            ("outlet.device_height", Inches(12.0)),
        ]],
        ..USUAL
    },
    ChangeKind {
        name: "timer vacuum breaker",
        says: "feed the timer through a spill-resistant vacuum breaker (ASSE 1056)",
        finished: AtThePipe,
        is_of_designer: true,
        only: &[("outlet.serves", &["hose timer"])],
        tries: &[&[(DEVICE, Word("pressure vacuum breaker")), (STANDARD, Word("ASSE 1056"))]],
        ..USUAL
    },
    ChangeKind {
        name: "reduced-pressure assembly",
        says: "feed it through a reduced-pressure assembly (ASSE 1013)",
        finished: AtThePipe,
        is_of_designer: true,
        only: &[("outlet.serves", &["irrigation", "chemicals"])],
        tries: &[&[(DEVICE, Word("reduced pressure principle assembly")), (STANDARD, Word("ASSE 1013"))]],
        ..USUAL
    },
    ChangeKind {
        name: "self-draining outlet",
        says: "order a self-draining faucet",
        finished: AtThePipe,
        is_order: true,
        is_of_model: true,
        only: INSIDE,
        tries: &[&[("outlet.self_draining", YesNo(true))]],
        ..USUAL
    },
    ChangeKind {
        name: "screws",
        says: "use {outlet.fasteners} screws",
        tries: &[
            &[("outlet.fasteners", Word("stainless"))],
            &[("outlet.fasteners", Of("outlet.flange"))],
            &[("outlet.fasteners", Word("silicon bronze"))],
        ],
        ..USUAL
    },
    ChangeKind {
        name: "joint",
        says: "join the supply as the inlet is made: {outlet.joint}",
        finished: AtThePipe,
        tries: &[
            &[("outlet.joint", Word("threaded"))],
            &[("outlet.joint", Word("soldered"))],
            &[("outlet.joint", Word("pressed"))],
            &[("outlet.joint", Word("push-fit"))],
            &[("outlet.joint", Word("crimped"))],
        ],
        ..USUAL
    },
    ChangeKind {
        name: "combination inlet",
        says: "order a combination inlet",
        finished: AtThePipe,
        is_order: true,
        is_of_model: true,
        tries: &[&[("outlet.inlet", Word("combination"))]],
        ..USUAL
    },
    ChangeKind {
        name: "slope",
        says: "slope the barrel {outlet.slope} down to the outside",
        finished: No,
        only: INSIDE,
        tries: &[
            &[("outlet.slope", Of("outlet.required_slope"))],
            &[("outlet.slope", PerFoot(0.25))],
            &[("outlet.slope", PerFoot(0.5))],
            &[("outlet.slope", PerFoot(1.0))],
        ],
        ..USUAL
    },
    ChangeKind {
        name: "sealed flange",
        says: "flash the flange and seal the hole against air",
        tries: &[
            &[("outlet.flashing", YesNo(true))],
            &[("outlet.air_sealed", YesNo(true))],
            &[("outlet.flashing", YesNo(true)), ("outlet.air_sealed", YesNo(true))],
        ],
        ..USUAL
    },
    ChangeKind {
        name: "sleeve",
        says: "set it in a sleeve or clearance hole",
        finished: No,
        tries: &[&[("outlet.sleeve", YesNo(true))]],
        ..USUAL
    },
    ChangeKind {
        name: "firestop",
        says: "show a listed firestop by its system number",
        finished: AtThePipe,
        tries: &[&[("outlet.firestop", YesNo(true))]],
        ..USUAL
    },
    ChangeKind {
        name: "access panel",
        says: "show an access panel at the inside stop",
        finished: AtThePipe,
        tries: &[&[(ACCESS, Word("access panel"))]],
        ..USUAL
    },
    ChangeKind {
        name: "height",
        says: "raise it to {outlet.height} above grade",
        finished: No,
        tries: &[&[("outlet.height", Of("site.outlet_height"))]],
        ..USUAL
    },
    ChangeKind {
        name: "clearance",
        says: "keep {outlet.clearance} clear in front of it",
        only: INSIDE,
        tries: &[&[]],
        sizes: Some(("outlet.clearance", &[8.0, 12.0, 16.0, 24.0])),
        ..USUAL
    },
    ChangeKind {
        name: "bury depth",
        says: "order {outlet.bury_depth} of bury",
        finished: No,
        is_order: true,
        only: YARD,
        tries: &[&[]],
        sizes: Some((
            "outlet.bury_depth",
            &[12.0, 18.0, 24.0, 30.0, 36.0, 42.0, 48.0, 60.0, 72.0, 84.0, 96.0, 120.0],
        )),
        ..USUAL
    },
    ChangeKind {
        name: "sanitary hydrant",
        says: "order a sanitary yard hydrant ({outlet.backflow_standard}): its water stays in a closed chamber, none drains \
               into the ground",
        finished: No,
        is_order: true,
        is_other_product: true,
        only: YARD,
        tries: &[
            &SANITARY("ASSE 1057"),
            &SANITARY("ASSE 1057 type 1"),
            &SANITARY("ASSE 1057 type 2"),
            &SANITARY("ASSE 1057 type 3"),
            &SANITARY("ASSE 1057 type 4"),
            &SANITARY("ASSE 1057 type 5"),
        ],
        ..USUAL
    },
    ChangeKind {
        name: "upstream backflow preventer",
        says: "show a backflow preventer upstream, and mark it non-potable",
        finished: AtThePipe,
        is_of_designer: true,
        only: YARD,
        tries: &[&[("outlet.upstream_device", YesNo(true)), ("outlet.nonpotable_sign", YesNo(true))]],
        ..USUAL
    },
    ChangeKind {
        name: "drainage bed",
        says: "show a gravel bed at the drain",
        finished: No,
        only: YARD,
        tries: &[&[("outlet.drainage_bed", YesNo(true))]],
        ..USUAL
    },
];

#[allow(non_snake_case, reason = "reads as an entry of the table")]
const fn SANITARY(standard: &'static str) -> [(&'static str, Put); 3] {
    [
        (DEVICE, Word("sanitary yard hydrant")),
        (STANDARD, Word(standard)),
        ("outlet.drains_to_soil", YesNo(false)),
    ]
}

const FROSTPROOF: [(&str, Put); 3] = [
    (CLOSES, Word("inside")),
    (DEVICE, Word("integral vacuum breaker")),
    (STANDARD, Word("ASSE 1019 type A")),
];

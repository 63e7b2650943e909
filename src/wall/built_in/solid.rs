//! Walls of block, concrete, panels, logs and earth.

use super::*;

const CONCRETE_8: Row = ("concrete", 8.0, false);
const XPS_2: Row = ("xps", 2.0, true);
/// Behind gypsum board, closed.
const FURRING: Row = ("air", 0.75, false);

pub(super) const ENTRIES: &[Entry] = &[
    entry(
        "block-8-bare",
        "8 in hollow block, no insulation",
        &["8 in block", "8\" cmu", "cmu", "block"],
        HEATED,
        &[BLOCK],
    ),
    entry(
        "block-8-furred",
        "8 in hollow block, stucco, furred gypsum board, no insulation",
        &["furred block", "cmu furred", "furred cmu"],
        HEATED,
        &[STUCCO, BLOCK, FURRING, GYPSUM],
    ),
    entry(
        "block-8-filled",
        "8 in block, cores filled with loose insulation",
        &["filled block", "cmu filled", "cmu insulated cores", "filled cmu"],
        HEATED,
        &[("concrete-block-filled-cores", 7.625, false)],
    ),
    entry(
        "block-8-insulated",
        "8 in hollow block, 2 in extruded polystyrene inside",
        &["insulated block", "cmu insulated", "insulated cmu"],
        HEATED,
        &[("stucco", 0.75, false), BLOCK, XPS_2, GYPSUM],
    ),
    entry(
        "block-8-exterior-insulation",
        "8 in hollow block, brick veneer, 2 in extruded polystyrene between",
        &["cmu ci", "block brick cavity", "cmu brick", "cavity wall"],
        HEATED,
        &[BRICK, AIR_GAP, XPS_2, BLOCK, FURRING, GYPSUM],
    ),
    entry(
        "block-8-eifs",
        "8 in hollow block, exterior insulation and finish system on 2 in expanded polystyrene",
        &["cmu eifs", "eifs on block"],
        HEATED,
        &[LAMINA, ("eps", 2.0, true), BLOCK],
    ),
    entry(
        "basement-concrete",
        "8 in concrete basement wall, 2 in expanded polystyrene inside",
        &["concrete basement", "basement wall", "foundation wall"],
        BASEMENT,
        &[CONCRETE_8, ("eps", 2.0, true), GYPSUM],
    ),
    entry(
        "basement-concrete-bare",
        "8 in concrete basement wall, no insulation",
        &["bare basement wall", "bare foundation wall", "concrete basement bare"],
        BASEMENT,
        &[CONCRETE_8],
    ),
    entry(
        "basement-concrete-framed",
        "8 in concrete basement wall, 2x4 studs with batts inside",
        &["finished basement wall", "framed basement wall"],
        BASEMENT,
        &[CONCRETE_8, BATT_2X4, GYPSUM],
    ),
    entry(
        "crawlspace-block",
        "8 in hollow block crawlspace wall, no insulation",
        &["crawlspace wall", "crawl space wall", "stem wall"],
        CRAWLSPACE,
        &[BLOCK],
    ),
    entry(
        "crawlspace-insulated",
        "8 in hollow block crawlspace wall, 2 in extruded polystyrene inside",
        &["insulated crawlspace", "insulated crawlspace wall"],
        CRAWLSPACE,
        &[BLOCK, XPS_2],
    ),
    entry(
        "tilt-up-7",
        "7 1/4 in concrete tilt-up panel, 2 in polyisocyanurate and gypsum board inside",
        &["tilt-up", "concrete tilt-up", "tilt up panel"],
        HEATED,
        &[("concrete", 7.25, false), ("polyiso", 2.0, true), ("gypsum-board", 0.625, false)],
    ),
    entry(
        "tilt-up-sandwich",
        "concrete sandwich panel, 3 in, 2 in extruded polystyrene, 6 in",
        &["concrete sandwich panel", "sandwich tilt-up", "precast sandwich"],
        HEATED,
        &[("concrete", 3.0, false), XPS_2, ("concrete", 6.0, false)],
    ),
    entry(
        "icf-6",
        "insulating concrete forms, 6 in core, 2 1/2 in expanded polystyrene each side",
        &["icf", "insulated concrete form", "insulating concrete form"],
        HEATED,
        &[SIDING, ("eps", 2.5, true), ("concrete", 6.0, false), ("eps", 2.5, true), GYPSUM],
    ),
    entry(
        "sip-4",
        "structural insulated panel, 4 1/2 in, fiber-cement siding",
        &["sip", "4 in sip", "4-1/2 sip"],
        HEATED,
        &[SIDING, OSB, ("eps", 3.625, true), OSB, GYPSUM],
    ),
    entry(
        "sip-6",
        "structural insulated panel, 6 1/2 in, fiber-cement siding",
        &["6 in sip", "6-1/2 sip"],
        HEATED,
        &[SIDING, OSB, ("eps", 5.625, true), OSB, GYPSUM],
    ),
    entry("log-6", "6 in log", &["6 in log wall"], HEATED, &[("log", 6.0, true)]),
    entry("log-8", "8 in log", &["log", "log wall", "8 in log"], HEATED, &[("log", 8.0, true)]),
    entry(
        "metal-panel-4",
        "insulated metal panel, 4 in",
        &["insulated metal panel", "imp", "sandwich panel"],
        HEATED,
        &[("steel-siding", 0.03, false), ("polyiso", 3.94, true), ("steel-siding", 0.03, false)],
    ),
    entry(
        "adobe-14",
        "14 in adobe, stucco and plaster, no insulation",
        &["adobe", "adobe wall"],
        HEATED,
        &[STUCCO, ("adobe", 14.0, false), ("stucco", 0.75, false)],
    ),
];

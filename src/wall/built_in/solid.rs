//! Walls of block, concrete, panels, logs and earth.

use super::*;

const CONCRETE_8: Row = layer("concrete", 8.0);
const XPS_2: Row = insulation("xps", 2.0);
/// Behind gypsum board, closed.
const FURRING: Row = layer("air", 0.75);

pub(super) const ENTRIES: &[Entry] = &[
    Entry {
        key: "block-8-bare",
        name: "8 in hollow block, no insulation",
        aliases: &["bare block", "cmu bare", "bare cmu"],
        space: HEATED,
        layers: &[BLOCK],
    },
    Entry {
        key: "block-8-furred",
        name: "8 in hollow block, stucco, furred gypsum board, no insulation",
        aliases: &["furred block", "cmu furred", "furred cmu"],
        space: HEATED,
        layers: &[STUCCO, BLOCK, FURRING, GYPSUM],
    },
    Entry {
        key: "block-8-filled",
        name: "8 in block, cores filled with loose insulation",
        aliases: &["filled block", "cmu filled", "cmu insulated cores", "filled cmu"],
        space: HEATED,
        layers: &[layer("concrete-block-filled-cores", 7.625)],
    },
    Entry {
        key: "block-8-insulated",
        name: "8 in hollow block, 2 in extruded polystyrene inside",
        aliases: &["insulated block", "cmu insulated", "insulated cmu"],
        space: HEATED,
        layers: &[layer("stucco", 0.75), BLOCK, XPS_2, GYPSUM],
    },
    Entry {
        key: "block-8-exterior-insulation",
        name: "8 in hollow block, brick veneer, 2 in extruded polystyrene between",
        aliases: &["cmu ci", "block brick cavity", "cmu brick", "cavity wall"],
        space: HEATED,
        layers: &[BRICK, AIR_GAP, XPS_2, BLOCK, FURRING, GYPSUM],
    },
    Entry {
        key: "block-8-eifs",
        name: "8 in hollow block, exterior insulation and finish system on 2 in expanded polystyrene",
        aliases: &["cmu eifs", "eifs on block"],
        space: HEATED,
        layers: &[LAMINA, insulation("eps", 2.0), BLOCK],
    },
    Entry {
        key: "basement-concrete",
        name: "8 in concrete basement wall, 2 in expanded polystyrene inside",
        aliases: &["concrete basement"],
        space: BASEMENT,
        layers: &[CONCRETE_8, insulation("eps", 2.0), GYPSUM],
    },
    Entry {
        key: "basement-concrete-bare",
        name: "8 in concrete basement wall, no insulation",
        aliases: &["bare basement wall", "bare foundation wall", "concrete basement bare"],
        space: BASEMENT,
        layers: &[CONCRETE_8],
    },
    Entry {
        key: "basement-concrete-framed",
        name: "8 in concrete basement wall, 2x4 studs with batts inside",
        aliases: &["finished basement wall", "framed basement wall"],
        space: BASEMENT,
        layers: &[CONCRETE_8, BATT_2X4, GYPSUM],
    },
    Entry {
        key: "crawlspace-block",
        name: "8 in hollow block crawlspace wall, no insulation",
        aliases: &["block crawlspace"],
        space: CRAWLSPACE,
        layers: &[BLOCK],
    },
    Entry {
        key: "crawlspace-insulated",
        name: "8 in hollow block crawlspace wall, 2 in extruded polystyrene inside",
        aliases: &["insulated crawlspace", "insulated crawlspace wall"],
        space: CRAWLSPACE,
        layers: &[BLOCK, XPS_2],
    },
    Entry {
        key: "tilt-up-7",
        name: "7 1/4 in concrete tilt-up panel, 2 in polyisocyanurate and gypsum board inside",
        aliases: &["tilt-up", "concrete tilt-up", "tilt up panel"],
        space: HEATED,
        layers: &[layer("concrete", 7.25), insulation("polyiso", 2.0), layer("gypsum-board", 0.625)],
    },
    Entry {
        key: "tilt-up-sandwich",
        name: "concrete sandwich panel, 3 in, 2 in extruded polystyrene, 6 in",
        aliases: &["concrete sandwich panel", "sandwich tilt-up", "precast sandwich"],
        space: HEATED,
        layers: &[layer("concrete", 3.0), XPS_2, layer("concrete", 6.0)],
    },
    Entry {
        key: "icf-6",
        name: "insulating concrete forms, 6 in core, 2 1/2 in expanded polystyrene each side",
        aliases: &["icf", "insulated concrete form", "insulating concrete form"],
        space: HEATED,
        layers: &[SIDING, insulation("eps", 2.5), layer("concrete", 6.0), insulation("eps", 2.5), GYPSUM],
    },
    Entry {
        key: "sip-4",
        name: "structural insulated panel, 4 1/2 in, fiber-cement siding",
        aliases: &["4 in sip", "4-1/2 sip"],
        space: HEATED,
        layers: &[SIDING, OSB, insulation("eps", 3.625), OSB, GYPSUM],
    },
    Entry {
        key: "sip-6",
        name: "structural insulated panel, 6 1/2 in, fiber-cement siding",
        aliases: &["6 in sip", "6-1/2 sip"],
        space: HEATED,
        layers: &[SIDING, OSB, insulation("eps", 5.625), OSB, GYPSUM],
    },
    Entry {
        key: "log-6",
        name: "6 in log",
        aliases: &["6 in log wall"],
        space: HEATED,
        layers: &[insulation("log", 6.0)],
    },
    Entry {
        key: "log-8",
        name: "8 in log",
        aliases: &["8 in log", "8 in log wall"],
        space: HEATED,
        layers: &[insulation("log", 8.0)],
    },
    Entry {
        key: "metal-panel-4",
        name: "insulated metal panel, 4 in",
        aliases: &["insulated metal panel", "imp", "sandwich panel"],
        space: HEATED,
        layers: &[layer("steel-siding", 0.03), insulation("polyiso", 3.94), layer("steel-siding", 0.03)],
    },
    Entry {
        key: "adobe-14",
        name: "14 in adobe, stucco and plaster, no insulation",
        aliases: &["adobe", "adobe wall"],
        space: HEATED,
        layers: &[STUCCO, layer("adobe", 14.0), layer("stucco", 0.75)],
    },
];

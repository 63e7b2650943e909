//! Walls with studs and rim joists: a section between studs, the cavity as filled.

use super::*;

const WOOL_2X6: Row = ("mineral-wool", 5.5, true);
const XPS_1: Row = ("xps", 1.0, true);
const XPS_2: Row = ("xps", 2.0, true);
const EPS_2: Row = ("eps", 2.0, true);
/// Behind siding, open to outdoors at its laps and ends.
const FURRING: Row = (VENTED_AIR, 0.75, false);

pub(super) const ENTRIES: &[Entry] = &[
    entry(
        "slab-2x4-brick",
        "2x4 on a slab, brick veneer",
        &["slab 2x4 brick", "brick veneer 2x4", "2x4 brick", "slab brick"],
        CAVITY,
        &[BRICK, AIR_GAP, OSB, BATT_2X4, GYPSUM],
    ),
    entry(
        "slab-2x4-stucco",
        "2x4 on a slab, stucco",
        &["slab stucco", "slab 2x4 stucco"],
        CAVITY,
        &[STUCCO, OSB, BATT_2X4, GYPSUM],
    ),
    entry(
        "2x4-siding",
        "2x4, fiber-cement siding",
        &["2x4", "2x4 siding", "2x4 wood frame", "2x4 fiber cement", "2x4 fibre cement"],
        HEATED,
        &[SIDING, OSB, BATT_2X4, GYPSUM],
    ),
    entry(
        "2x4-wood-siding",
        "2x4, wood siding",
        &["2x4 lap siding", "2x4 clapboard", "2x4 cedar"],
        HEATED,
        &[WOOD_SIDING, OSB, BATT_2X4, GYPSUM],
    ),
    entry("2x4-stucco", "2x4, stucco", &["stucco 2x4", "stucco"], HEATED, &[STUCCO, OSB, BATT_2X4, GYPSUM]),
    entry(
        "2x4-eifs",
        "2x4, exterior insulation and finish system on 2 in expanded polystyrene",
        &["eifs", "2x4 eifs", "synthetic stucco"],
        HEATED,
        &[LAMINA, EPS_2, OSB, BATT_2X4, GYPSUM],
    ),
    entry(
        "2x4-exterior-foam-1",
        "2x4, 1 in exterior extruded polystyrene, furred siding",
        &["2x4 exterior foam", "2x4 1 in foam", "2x4 ci"],
        HEATED,
        &[SIDING, FURRING, XPS_1, OSB, BATT_2X4, GYPSUM],
    ),
    entry(
        "2x4-uninsulated",
        "2x4, nothing between the studs, wood siding",
        &["uninsulated 2x4", "2x4 bare", "uninsulated wood frame"],
        HEATED,
        &[WOOD_SIDING, OSB, ("air", 3.5, false), GYPSUM],
    ),
    entry(
        "manufactured-2x4",
        "manufactured home, 2x4, panel siding",
        &["manufactured home", "mobile home", "hud home", "trailer"],
        HEATED,
        &[("plywood", 0.375, false), BATT_2X4, ("gypsum-board", 0.3125, false)],
    ),
    entry(
        "2x6-siding",
        "2x6, fiber-cement siding",
        &["2x6", "2x6 siding", "2x6 wood frame", "2x6 fiber cement", "2x6 fibre cement"],
        HEATED,
        &[SIDING, OSB, BATT_2X6, GYPSUM],
    ),
    entry(
        "2x6-wood-siding",
        "2x6, wood siding",
        &["2x6 lap siding", "2x6 clapboard", "2x6 cedar"],
        HEATED,
        &[WOOD_SIDING, OSB, BATT_2X6, GYPSUM],
    ),
    entry("2x6-stucco", "2x6, stucco", &["stucco 2x6"], HEATED, &[STUCCO, OSB, BATT_2X6, GYPSUM]),
    entry(
        "2x6-brick",
        "2x6, brick veneer",
        &["2x6 brick", "brick veneer 2x6"],
        HEATED,
        &[BRICK, AIR_GAP, OSB, BATT_2X6, GYPSUM],
    ),
    entry(
        "2x6-stone",
        "2x6, stone veneer",
        &["2x6 stone", "stone veneer 2x6"],
        HEATED,
        &[("stone", 3.625, false), AIR_GAP, OSB, BATT_2X6, GYPSUM],
    ),
    entry(
        "2x6-exterior-foam-1",
        "2x6, 1 in exterior extruded polystyrene, furred siding",
        &["2x6 exterior foam", "2x6 1 in foam"],
        HEATED,
        &[SIDING, FURRING, XPS_1, OSB, BATT_2X6, GYPSUM],
    ),
    entry(
        "2x6-exterior-insulation",
        "2x6, 2 in exterior extruded polystyrene, furred siding",
        &["2x6 ci", "2x6 exterior insulation", "2x6 outboard insulation", "2x6 2 in foam"],
        HEATED,
        &[SIDING, FURRING, XPS_2, OSB, BATT_2X6, GYPSUM],
    ),
    entry(
        "2x6-eifs",
        "2x6, exterior insulation and finish system on 2 in expanded polystyrene",
        &["2x6 synthetic stucco"],
        HEATED,
        &[LAMINA, EPS_2, OSB, BATT_2X6, GYPSUM],
    ),
    entry(
        "double-stud-12",
        "two rows of 2x4 studs, 12 in of dense-packed cellulose, fiber-cement siding",
        &["double stud", "double-stud", "double stud wall"],
        HEATED,
        &[SIDING, OSB, ("cellulose", 12.0, true), GYPSUM],
    ),
    entry(
        "steel-stud-6-ci",
        "6 in steel studs, 2 in exterior polyisocyanurate, metal panel",
        &["steel stud", "steel stud ci", "metal stud ci", "metal stud"],
        HEATED,
        &[
            ("steel-siding", 0.03, false),
            AIR_GAP,
            ("polyiso", 2.0, true),
            SHEATHING_GYPSUM,
            ("mineral-wool", 6.0, true),
            GYPSUM,
        ],
    ),
    entry(
        "steel-stud-4-ci-brick",
        "3 5/8 in steel studs, 2 in exterior extruded polystyrene, brick veneer",
        &["steel stud brick", "metal stud brick"],
        HEATED,
        &[BRICK, AIR_GAP, XPS_2, SHEATHING_GYPSUM, ("fiberglass-batt", 3.625, true), GYPSUM],
    ),
    entry(
        "garage-2x4",
        "2x4 garage wall, batts, fiber-cement siding",
        &["garage wall", "garage insulated"],
        GARAGE,
        &[SIDING, OSB, BATT_2X4, GYPSUM],
    ),
    entry(
        "garage-2x4-bare",
        "2x4 garage wall, nothing between the studs",
        &["garage bare", "uninsulated garage", "garage wall uninsulated"],
        GARAGE,
        &[SIDING, OSB, ("air", 3.5, false), GYPSUM],
    ),
    entry(
        "rim-joist-bare",
        "rim joist over a basement, no insulation",
        &["bare rim joist", "rim joist bare", "uninsulated rim joist", "bare rim"],
        BASEMENT,
        &[SIDING, OSB, RIM_BOARD],
    ),
    entry(
        "rim-joist-batt",
        "rim joist over a basement, 5 1/2 in batt",
        &["rim joist", "rim-joist", "band joist", "rim joist batt"],
        BASEMENT,
        &[SIDING, OSB, RIM_BOARD, BATT_2X6],
    ),
    entry(
        "rim-joist-foam",
        "rim joist over a basement, 3 in closed-cell foam",
        &["rim joist foam", "rim joist spray foam", "foamed rim joist"],
        BASEMENT,
        &[SIDING, OSB, RIM_BOARD, ("spray-foam-closed-cell", 3.0, true)],
    ),
    entry(
        "rim-joist-board",
        "rim joist over a basement, 2 in extruded polystyrene board",
        &["rim joist foam board", "rim joist xps", "rim joist board"],
        BASEMENT,
        &[SIDING, OSB, RIM_BOARD, XPS_2],
    ),
    entry(
        "rim-joist-brick",
        "rim joist over a basement, brick veneer, 5 1/2 in mineral wool",
        &["brick rim joist", "rim joist brick veneer"],
        BASEMENT,
        &[BRICK, AIR_GAP, OSB, RIM_BOARD, WOOL_2X6],
    ),
    entry(
        "rim-joist-crawlspace",
        "rim joist over a crawlspace, 5 1/2 in batt",
        &["crawlspace rim joist", "rim joist over crawlspace", "rim joist crawl"],
        CRAWLSPACE,
        &[SIDING, OSB, RIM_BOARD, BATT_2X6],
    ),
];

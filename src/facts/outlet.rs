//! What a schedule can say of an outlet; what is assumed where it is silent stands in `outlet/taken.rs`.

mod taken;

use taken::{SEAT_OFFSET, closes, inch, length, seat_depth, space_behind};
pub(super) use taken::{seat_by_offset, seat_offset};

use super::heat::NOMINAL_LENGTHS;
use super::words::{CLOSES, DEVICES, FORMS, INLETS, JOINTS, KINDS, METALS, SPACES, SUPPLIES};
use super::{Answers, Blank, Def, Source, quantity, toward};
use crate::expr::Value;
use crate::job::OFFSET;
use crate::schedule::Reads;
use crate::units::{Dim, Measure, Quantity, Rounding};

const LENGTH: Measure = Measure::Of(Dim::LENGTH);
pub(super) const INCH: f64 = 0.0254;
pub(super) const fn stated(
    name: &'static str,
    about: &'static str,
    headings: &'static [&'static str],
    reads: Reads,
    blank: Blank,
    answers: Answers,
) -> Def {
    Def { name, about, source: Source::Stated { headings, reads, blank }, answers, show: None }
}

pub(super) const fn inches(def: Def) -> Def {
    Def { show: toward(("in", 3), ("mm", 1), Rounding::Nearest), ..def }
}

pub(super) static DEFS: &[Def] = &[
    stated(
        "outlet.mark",
        "the outlet's mark on the plan",
        &["Mark", "Tag", "Item", "ID", "Fixture", "Fixture mark", "Symbol", "No"],
        Reads::Text,
        Blank::Unknown,
        Answers::Open,
    ),
    Def {
        show: toward(("", 0), ("", 0), Rounding::Nearest),
        ..stated(
            "outlet.quantity",
            "how many",
            &["Quantity", "Qty", "Qnty", "Quan", "Count", "Number of", "No. req'd"],
            Reads::Count,
            Blank::Unknown,
            Answers::Open,
        )
    },
    stated(
        "outlet.location",
        "where it is",
        &["Location", "Where", "Room", "Elevation", "Plan location"],
        Reads::Text,
        Blank::Unknown,
        Answers::Open,
    ),
    stated(
        "outlet.kind",
        "what it is",
        &["Kind", "Type", "Fixture type", "Outlet"],
        Reads::Words(KINDS),
        Blank::Unknown,
        Answers::All,
    ),
    stated(
        "outlet.closes",
        "where the valve closes",
        &["Closes", "Shutoff", "Closes at", "Valve closes"],
        Reads::Words(CLOSES),
        Blank::Assume(closes),
        Answers::All,
    ),
    inches(stated(
        "outlet.nominal_length",
        "the length it is ordered by",
        &["Nominal length", "Length", "Barrel length", "Nominal", "Nominal size length"],
        quantity(LENGTH, INCH, 48.0 * INCH),
        Blank::Unknown,
        Answers::Open,
    )),
    inches(stated(
        "outlet.seat_depth",
        "exterior finished face to the seat",
        &["Seat depth", "Shutoff depth", "Depth to seat", "Seat"],
        quantity(LENGTH, 0.0, 48.0 * INCH),
        Blank::Assume(seat_depth),
        Answers::Common(|| NOMINAL_LENGTHS.map(|it| length(it * INCH - SEAT_OFFSET)).to_vec()),
    )),
    stated(
        "outlet.barrel",
        "metal of the barrel",
        &["Barrel", "Barrel material", "Material", "Matl", "Body"],
        Reads::Words(METALS),
        Blank::Unknown,
        Answers::AllOrBracket(&["copper", "stainless"]),
    ),
    inches(stated(
        "outlet.barrel_diameter",
        "outside diameter of the barrel's tube",
        &["Barrel diameter", "Tube diameter", "Barrel OD"],
        quantity(LENGTH, 0.4 * INCH, 1.75 * INCH),
        Blank::Assume(|_| inch(0.875, "{= 7/8 in} tube is usual for outlets of nominal 1/2 and 3/4")),
        Answers::Open,
    )),
    inches(stated(
        "outlet.barrel_thickness",
        "thickness of the barrel's tube",
        &["Barrel thickness", "Tube thickness", "Barrel wall"],
        quantity(LENGTH, 0.01 * INCH, 0.25 * INCH),
        Blank::Assume(|_| {
            inch(0.065, "the heavy end of usual tube, {= 0.035 in} to {= 0.065 in}, which conducts most")
        }),
        Answers::Open,
    )),
    stated(
        "outlet.stem",
        "metal of the stem",
        &["Stem", "Stem material", "Operating rod"],
        Reads::Words(METALS),
        Blank::Assume(|_| Ok(Some((Value::Text("brass".into()), "brass conducts most of the usual stems")))),
        Answers::All,
    ),
    inches(stated(
        "outlet.stem_diameter",
        "diameter of the stem",
        &["Stem diameter", "Rod diameter"],
        quantity(LENGTH, 0.1 * INCH, 0.6 * INCH),
        Blank::Assume(|_| inch(0.3125, "the heavy end of usual stems, {= 1/4 in} to {= 5/16 in}")),
        Answers::Open,
    )),
    stated(
        "outlet.wall",
        "the wall it goes through, by key",
        &["Wall", "Wall type", "Wall assembly"],
        Reads::Text,
        Blank::Unknown,
        Answers::Open,
    ),
    stated(
        "outlet.space_behind",
        "the space around its inlet",
        &["Space behind", "Behind", "Interior space", "Inlet space"],
        Reads::Words(SPACES),
        Blank::Assume(space_behind),
        Answers::All,
    ),
    stated(
        "outlet.supply",
        "material of the supply pipe",
        &["Supply", "Supply material", "Supply pipe", "Piping"],
        Reads::Words(SUPPLIES),
        Blank::Unknown,
        Answers::Bracket(|| ["copper", "PEX", "CPVC"].map(|it| Value::Text(it.into())).to_vec()),
    ),
    inches(stated(
        "outlet.supply_size",
        "nominal size of the supply",
        &["Supply size", "Inlet size", "Pipe size", "Size"],
        quantity(LENGTH, 0.5 * INCH, INCH),
        Blank::Assume(|_| inch(0.5, "the smaller of the usual sizes gathers less heat")),
        Answers::Open,
    )),
    inches(stated(
        "outlet.supply_run",
        "length of supply in the space behind",
        &["Supply run", "Run", "Exposed supply"],
        quantity(LENGTH, 2.0 * INCH, 240.0 * INCH),
        Blank::Assume(|_| inch(24.0, "{= 24 in} of pipe before the first tee or hanger")),
        Answers::Open,
    )),
    inches(stated(
        "outlet.supply_insulation",
        "thickness of insulation on the supply; none is zero",
        &["Supply insulation", "Pipe insulation", "Insulation"],
        Reads::Quantity { measure: LENGTH, least: 0.0, most: 2.0 * INCH, none: true },
        Blank::Unknown,
        // An inch is more than is put on the branch of a hose outlet.
        Answers::Bracket(|| [0.0, 1.0].map(|it| length(it * INCH)).to_vec()),
    )),
    stated(
        "outlet.backflow_device",
        "the backflow device at the hose thread",
        &["Backflow device", "Backflow", "Vacuum breaker", "VB", "Backflow preventer"],
        Reads::Words(DEVICES),
        Blank::Assume(super::backflow::kind_of_standard),
        Answers::All,
    ),
    stated(
        "outlet.self_draining",
        "whether it drains by itself when it closes",
        &["Self-draining", "Self draining", "Drains", "Automatic draining"],
        Reads::YesNo,
        Blank::Unknown,
        Answers::All,
    ),
    Def {
        show: toward(("in/ft", 3), ("%", 1), Rounding::Nearest),
        ..stated(
            "outlet.slope",
            "fall of the barrel, positive towards outdoors",
            &["Slope", "Pitch", "Fall"],
            quantity(Measure::Of(Dim::NONE), -0.5, 0.5),
            Blank::Assume(|_| {
                Ok(Some((
                    Value::Quantity(Quantity::of(0.0, Dim::NONE)),
                    "run level where no slope is stated",
                )))
            }),
            Answers::Open,
        )
    },
    stated(
        "outlet.fasteners",
        "metal of the fasteners through the flange",
        &["Fasteners", "Screws", "Fastener"],
        Reads::Words(FORMS),
        Blank::Unknown,
        Answers::All,
    ),
    stated(
        "outlet.flange",
        "metal of the flange",
        &["Flange", "Flange material", "Faceplate"],
        Reads::Words(FORMS),
        Blank::Unknown,
        Answers::All,
    ),
    stated(
        "outlet.cover",
        "whether an insulating cover goes over it in winter",
        &["Cover", "Winter cover", "Faucet cover", "Frost cover"],
        Reads::YesNo,
        Blank::Assume(|_| Ok(Some((Value::YesNo(false), "a cover that nobody mentions is not counted on")))),
        Answers::All,
    ),
    stated(
        "outlet.gasket",
        "whether a gasket seals the flange",
        &["Gasket", "Flange gasket", "Seal"],
        Reads::YesNo,
        Blank::Assume(|_| {
            Ok(Some((
                Value::YesNo(true),
                "a gasket draws the seat out by {= 1/8 in}; that there is none is not counted on",
            )))
        }),
        Answers::All,
    ),
    stated(
        "outlet.inlet",
        "kind of inlet",
        &["Inlet", "Inlet connection", "Connection"],
        Reads::Words(INLETS),
        Blank::Unknown,
        Answers::All,
    ),
    stated(
        "outlet.joint",
        "how the supply is joined to the inlet",
        &["Joint", "Joining", "Inlet joint"],
        Reads::Words(JOINTS),
        Blank::Unknown,
        Answers::All,
    ),
    stated(
        "outlet.inside_stop",
        "whether a stop-and-waste valve inside can be reached",
        &["Inside stop", "Stop", "Stop and waste", "Interior shutoff"],
        Reads::YesNo,
        Blank::Unknown,
        Answers::All,
    ),
    stated(
        "outlet.description",
        "the schedule's own words",
        &["Description", "Desc", "Descr", "Remarks description", "Item description", "Fixture description"],
        Reads::Text,
        Blank::Unknown,
        Answers::Open,
    ),
    // A reader of the row's words fills it in; no heading states it.
    stated(
        "outlet.description_disagrees",
        "where the row's words contradict its columns or one another",
        &[],
        Reads::Text,
        Blank::Unknown,
        Answers::Open,
    ),
    stated(
        "outlet.notes",
        "notes",
        &["Notes", "Remarks", "Comments"],
        Reads::Text,
        Blank::Unknown,
        Answers::Open,
    ),
    stated(
        "outlet.option",
        "the plan option it is in, of which several homes may be built",
        &["Option", "Plan", "Plan option", "Unit type", "House plan"],
        Reads::Text,
        Blank::Unknown,
        Answers::Open,
    ),
    stated(
        "outlet.model",
        "the model by which product data knows it",
        &[
            "Model",
            "Model no",
            "Model number",
            "Catalog no",
            "Catalog number",
            "Catalogue no",
            "Part no",
            "Part number",
        ],
        Reads::Text,
        Blank::Unknown,
        Answers::Open,
    ),
    inches(stated(
        OFFSET,
        "how much the seat lies short of the nominal length",
        &["Seat offset", "Offset to seat"],
        quantity(LENGTH, 0.0, 6.0 * INCH),
        Blank::Unknown,
        Answers::Open,
    )),
];

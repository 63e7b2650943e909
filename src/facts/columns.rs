//! Facts that a schedule states of an outlet. What is assumed if it is silent is in `assumed.rs`.

use super::assumed::{
    NOMINAL_LENGTHS, USUAL_OFFSET, closes, device_of_standard, inches, inches_within, inlet_metal, length,
    no, seat_depth, shutoff, space_behind, word,
};
use super::def::PlausibleValues::{AllOrExtremes, Common, Extremes};
use super::def::RangeEnd::{High, Low};
use super::def::{INCH, RATIO, facts, stated, stated_length, stated_thickness, stated_word, stated_yes_no};
use super::words::{
    CLOSES, DEVICES, FORMS, INLETS, JOINTS, KINDS, METALS, PACKINGS, SPACES, STANDARDS, SUPPLIES,
};
use crate::expr::Value;
use crate::job::Scope;
use crate::schedule::CellType;
use crate::units::{Dim, Quantity, Rounding};

facts! {
    MARK = stated("outlet.mark", "mark on the plan", CellType::Text)
        .headings(&["Mark", "Tag", "Item", "ID", "Fixture", "Fixture mark", "Symbol", "No", "Type mark", "Designation", "Plan mark", "Plan symbol", "Callout", "Mk", "Item no", "Tag no", "Fixture no", "Fixt no", "Fix no", "Equip no", "Mark no", "Tag number", "Item number", "Mark number", "Plan tag", "P no", "Ident", "Unit no", "Code", "Key", "Ln", "Mark/tag", "Tag/mark", "Repère no", "Paragraph", "Para", "Repère", "Symbole"])
        .question_such_as("What is its mark on the plan?", "HB-1")
        .scope(Scope::Row);
    QUANTITY = stated("outlet.quantity", "number of faucets", CellType::Count)
        .headings(&["Quantity", "Qty", "Qnty", "Quan", "Count", "Number of", "No. req'd", "No. required", "How many", "Number", "Total", "Total qty", "Qty per unit", "Qty/unit", "Qté", "Quantité", "Nombre", "Nbre", "Nb", "Ord", "Ordered", "Qty ordered", "Project total"])
        .question_such_as("How many are there?", "12")
        .scope(Scope::Row)
        .show(("", 0), ("", 0), Rounding::Nearest);
    LOCATION = stated("outlet.location", "where it is", CellType::Text)
        .headings(&["Location", "Where", "Room", "Elevation", "Plan location", "Location / remarks", "Room / area", "Area", "Emplacement", "Local", "Area served", "Location/use", "Location and use", "Building area", "Placement", "Room name", "Space", "Spot", "Localisation"])
        .question_such_as("Where is it?", "North side")
        .scope(Scope::Row);
    KIND = stated_word("outlet.kind", "kind of faucet", KINDS)
        .headings(&["Kind", "Type", "Fixture type", "Outlet"])
        .question("What kind of faucet is it?");
    CLOSES_AT = stated_word("outlet.closes", "where the valve closes", CLOSES)
        .headings(&["Closes", "Closes at", "Valve closes", "Frost protection", "Freeze protection", "Frostproof", "Freezeproof", "Freeze-resistant", "Frost-free", "Freezeless", "Non-freeze"])
        .question("Is it frostproof, closing inside, or a standard bibb that closes at the face?")
        .assume(closes);
    NOMINAL_LENGTH = stated_length("outlet.nominal_length", "length it is ordered by", [1.0, 48.0])
        .headings(&["Nominal length", "Length", "Barrel length", "Nominal", "Nominal size length", "Lgth", "Lg", "Nom length", "Longueur"])
        .question_such_as("What is its nominal length?", "8 in, 10 in or 12 in")
        .plausible(Common(|| NOMINAL_LENGTHS.map(|it| length(it * INCH)).to_vec()))
        .range(Low("calculations use the shorter end"));
    SEAT_DEPTH = stated_length("outlet.seat_depth", "exterior finished face to the valve seat", [0.0, 48.0])
        .headings(&["Seat depth", "Shutoff depth", "Depth to seat", "Seat"])
        .question_such_as("How deep is the valve seat, from the exterior finished face?", "9 in")
        .assume(seat_depth)
        .plausible(Common(|| NOMINAL_LENGTHS.map(|it| length(it * INCH - USUAL_OFFSET.used)).to_vec()))
        .range(Low("calculations use the shallower end"));
    BARREL = stated_word("outlet.barrel", "metal of the barrel", METALS)
        .headings(&["Barrel", "Barrel material", "Material", "Matl", "Body"])
        .question("What metal is the barrel?")
        .plausible(AllOrExtremes(&["copper", "stainless"]));
    BARREL_DIAMETER = stated_length("outlet.barrel_diameter", "outside diameter of the barrel tube", [0.4, 1.75])
        .headings(&["Barrel diameter", "Tube diameter", "Barrel OD"])
        .question_such_as("What is the outside diameter of the barrel tube?", "7/8 in")
        .assume(|_| {
            inches_within(0.875, [0.75, 1.0], "{= 7/8 in} tube is usual for faucets of nominal 1/2 and 3/4")
        })
        .range(High("calculations use the wider end, which conducts most"));
    BARREL_THICKNESS = stated_length("outlet.barrel_thickness", "wall thickness of the barrel tube", [0.01, 0.25])
        .headings(&["Barrel thickness", "Tube thickness", "Barrel wall"])
        .question_such_as("How thick is the barrel tube?", "0.049 in")
        .assume(|_| {
            inches_within(
                0.045,
                [0.032, 0.065],
                "as {= 3/4 in} water tube, {= 7/8 in} across: type L; M {= 0.032 in}, K {= 0.065 in} (ASTM B88)",
            )
        })
        .range(High("calculations use the thicker end, which conducts most"));
    STEM = stated_word("outlet.stem", "metal of the stem", METALS)
        .headings(&["Stem", "Stem material", "Operating rod"])
        .question("What metal is the stem?")
        .assume(|_| word("brass", "most stems are brass; the range covers stainless"));
    STEM_DIAMETER = stated_length("outlet.stem_diameter", "diameter of the stem", [0.1, 0.6])
        .headings(&["Stem diameter", "Rod diameter"])
        .question_such_as("What is the diameter of the stem?", "5/16 in")
        .assume(|_| inches_within(0.28125, [0.25, 0.3125], "the middle of usual stems, {= 1/4 in} to {= 5/16 in}"))
        .range(High("calculations use the thicker end, which conducts most"));
    WALL = stated("outlet.wall", "wall it goes through, by key", CellType::Text)
        .headings(&["Wall", "Wall type", "Wall assembly", "Host", "Wall construction", "Siding / wall", "Wall / siding", "Mur"])
        .question_such_as("Which wall does it go through?", "2x6-siding (`coldsill walls` lists them)")
        .scope(Scope::Site);
    SPACE_BEHIND = stated_word("outlet.space_behind", "space around its inlet", SPACES)
        .headings(&["Space behind", "Behind", "Interior space", "Inlet space"])
        .question("What space is around its inlet?")
        .scope(Scope::Site)
        .assume(space_behind);
    SUPPLY = stated("outlet.supply", "material of the supply pipe", CellType::Words(SUPPLIES))
        .headings(&["Supply", "Supply material", "Supply pipe", "Piping"])
        .question("What is the supply pipe made of?")
        .scope(Scope::Site)
        .job_keys(&["supply", "supply: material"])
        .plausible(Extremes(|| ["copper", "PEX", "CPVC"].map(|it| Value::Text(it.into())).to_vec()));
    SUPPLY_SIZE = stated_length("outlet.supply_size", "nominal size of the supply pipe", [0.5, 1.0])
        .headings(&["Supply size", "Inlet size", "Pipe size", "Size", "CW", "DCW", "Cold water", "Cold", "CW size", "CW connection", "Conn", "Conn size", "Connection size", "Rough", "Rough-in CW", "CW conn", "Cold water size", "Cold water connection", "Domestic CW", "Domestic cold water", "CW supply", "Water size", "Water conn", "Supply conn", "Water", "EF", "Eau froide"])
        .question_such_as("What nominal size is the supply pipe?", "1/2 in or 3/4 in")
        .scope(Scope::Site)
        .job_keys(&["supply: size"])
        .assume(|_| inches(0.5, "the smaller of the usual sizes gathers less heat"))
        .range(Low("calculations use the smaller end, which gathers less heat"));
    SUPPLY_RUN = stated_length("outlet.supply_run", "length of supply pipe in the space at the inlet", [2.0, 240.0])
        .headings(&["Supply run", "Run", "Exposed supply"])
        .question_such_as("How long is the supply pipe in the space at the inlet?", "24 in")
        .scope(Scope::Site)
        .job_keys(&["supply: run"])
        .assume(|_| inches(24.0, "{= 24 in} of pipe before the first tee or hanger"));
    SUPPLY_INSULATION = stated_thickness(
        "outlet.supply_insulation",
        "thickness of insulation on the supply pipe; none is zero",
        2.0,
    )
        .headings(&["Supply insulation", "Pipe insulation", "Insulation"])
        .question("How thick is the insulation on the supply pipe, if any?")
        .scope(Scope::Site)
        .job_keys(&["supply: insulation"])
        // An inch is more than is put on the branch of a hose outlet.
        .plausible(Extremes(|| [0.0, 1.0].map(|it| length(it * INCH)).to_vec()));
    BACKFLOW_DEVICE = stated_word("outlet.backflow_device", "backflow device at the hose thread", DEVICES)
        .headings(&["Backflow device", "Backflow", "Vacuum breaker", "VB", "Backflow preventer", "Device"])
        .question("What backflow device is at the hose thread?")
        .assume(device_of_standard);
    SELF_DRAINING = stated_yes_no("outlet.self_draining", "whether it drains by itself when it closes")
        .headings(&["Self-draining", "Self draining", "Drains", "Automatic draining"])
        .question("Does it drain by itself when it closes?");
    SLOPE = stated(
        "outlet.slope",
        "fall of the barrel, positive toward outdoors",
        CellType::Quantity { measure: RATIO, least: -0.2, most: 0.2, none: false },
    )
        .headings(&["Slope", "Pitch", "Fall"])
        .question_such_as("What is the slope of the barrel? Positive falls toward outdoors.", "1/4 in/ft")
        .scope(Scope::Mounting)
        .assume(|_| Ok(Some((Value::Quantity(Quantity::of(0.0, Dim::NONE)), "installed level if no slope is stated"))))
        .range(Low("calculations use the flatter end"))
        .show(("in/ft", 3), ("%", 1), Rounding::Nearest);
    REQUIRED_SLOPE = stated(
        "outlet.required_slope",
        "least fall of the barrel that its manufacturer requires",
        CellType::Quantity { measure: RATIO, least: 0.0, most: 0.2, none: false },
    )
        .headings(&["Required slope", "Manufacturer's slope", "Minimum slope"])
        .question_such_as("What slope does its manufacturer require?", "1/4 in/ft")
        .range(High("calculations use the steeper end"))
        .show(("in/ft", 3), ("%", 1), Rounding::Nearest);
    PLASTIC_SEAT = stated_yes_no("outlet.plastic_seat", "whether its seat or check is of plastic or rubber that solder heat ruins")
        .headings(&["Plastic seat", "Plastic check", "Non-metallic seat"])
        .question("Is its seat or check of plastic or rubber that cannot be removed for soldering?");
    FASTENERS = stated_word("outlet.fasteners", "metal of the fasteners through the flange", FORMS)
        .headings(&["Fasteners", "Screws", "Fastener"])
        .question("What metal are the fasteners through the flange?");
    FLANGE = stated_word("outlet.flange", "metal of the flange", FORMS)
        .headings(&["Flange", "Flange material", "Faceplate"])
        .question("What metal is the flange?");
    COVER = stated_yes_no("outlet.cover", "whether an insulating cover goes over it in winter")
        .headings(&["Cover", "Winter cover", "Faucet cover", "Frost cover"])
        .question("Does an insulating cover go over it in winter?")
        .scope(Scope::Use)
        .assume(|_| no("a cover counts only if it is stated"));
    GASKET = stated_yes_no("outlet.gasket", "whether a gasket seals the flange")
        .headings(&["Gasket", "Flange gasket", "Seal"])
        .question("Does a gasket seal the flange?");
    INLET = stated_word("outlet.inlet", "kind of inlet", INLETS)
        .headings(&["Inlet", "Inlet connection", "Connection"])
        .question("What kind of inlet does it have?");
    INLET_INSULATION = stated_word("outlet.inlet_insulation", "how the wall's insulation meets the inlet", PACKINGS)
        .headings(&["Inlet insulation", "Insulation at inlet", "Insulation around inlet"])
        .question("How does the wall's insulation meet the inlet?")
        .scope(Scope::Site)
        .assume(|_| word("packed around", "insulation around the inlet keeps room heat from it, the colder case"));
    INLET_METAL = stated_word("outlet.inlet_metal", "metal of the inlet fitting", METALS)
        .headings(&["Inlet metal", "Inlet material"])
        .question("What metal is its inlet?")
        .assume(inlet_metal);
    INLET_LENGTH = stated_length(
        "outlet.inlet_length",
        "length of metal from the seat to the supply pipe: the inlet with its adapters",
        [0.3, 12.0],
    )
        .headings(&["Inlet length", "Inlet fitting length"])
        .question_such_as("How long is the metal between the seat and the supply pipe, adapters included?", "1 1/2 in")
        .assume(|_| inches_within(1.5, [0.7, 2.5], "the middle of usual inlets with adapters, {= 0.7 in} to {= 2 1/2 in}"));
    JOINT = stated_word("outlet.joint", "how the supply is joined to the inlet", JOINTS)
        .headings(&["Joint", "Joining", "Inlet joint"])
        .question("How is the supply joined to its inlet?")
        .scope(Scope::Use);
    INSIDE_STOP = stated_yes_no("outlet.inside_stop", "whether a stop-and-waste valve inside can be reached")
        .headings(&["Inside stop", "Stop", "Stop and waste", "Interior shutoff", "Shutoff inside", "Inside shutoff"])
        .question("Is there a stop-and-waste valve inside that can be reached?")
        .scope(Scope::Site);
    SHUTOFF = stated_yes_no("outlet.shutoff", "whether a shutoff valve is on the pipe to it")
        .headings(&["Shutoff valve", "Branch shutoff", "Isolation valve", "Shut-off valve", "Shutoff", "Shut-off"])
        .question("Is there a shutoff valve on the pipe to it?")
        .scope(Scope::Site)
        .assume(shutoff);
    DESCRIPTION = stated("outlet.description", "the schedule's own words", CellType::Text)
        .headings(&["Description", "Desc", "Descr", "Remarks description", "Item description", "Fixture description", "Specification", "Specifications", "Spec", "Specs", "Family", "Text", "Product", "Product description", "What's there", "What is there", "Appareil", "Descriptif", "Equipment", "Fixture and description", "Fixture/trim", "Features", "Fixture specification", "Materials and features", "Désignation", "Item and description", "Family and type", "Type comments", "Fixture designation"])
        .question("What does the schedule call it?")
        .scope(Scope::Label);
    // Words of the row state it; it has no heading.
    DESCRIPTION_DISAGREES = stated(
        "outlet.description_disagrees",
        "where the row's description and columns, or parts of the description, disagree",
        CellType::Text,
    );
    NOTES = stated("outlet.notes", "notes", CellType::Text)
        .headings(&["Notes", "Remarks", "Comments", "Key notes", "Keynotes", "Note", "Remark", "Notes / remarks", "Remarques", "Commentaires", "Observations", "Notes and remarks", "Schedule notes", "Note no", "Notes no", "Key note", "Keynote"])
        .question("What notes does it have?")
        .scope(Scope::Notes);
    OPTION = stated("outlet.option", "plan option it is in, of which several homes may be built", CellType::Text)
        .headings(&["Option", "Plan", "Plan option", "Unit type", "House plan"])
        .scope(Scope::Label);
    MODEL = stated("outlet.model", "model by which product data knows it", CellType::Text)
        .headings(&[
            "Model", "Model no", "Model number", "Catalog no", "Catalog number", "Catalogue no", "Part no", "Part number", "Modèle",
        ])
        .question("Which model is it?");
    FINISH = stated("outlet.finish", "finish, repeated in an order", CellType::Text)
        .headings(&["Finish", "Finish color", "Finish / color", "Fini"])
        .question_such_as("What finish does it have?", "rough brass or polished chrome")
        .scope(Scope::Use);
    HANDLE = stated("outlet.handle", "handle or key, repeated in an order", CellType::Text)
        .headings(&["Handle", "Operator", "Handle / key", "Key or handle", "Operation"])
        .question_such_as("What handle or key does it have?", "wheel handle or loose key")
        .scope(Scope::Use);
    PRICE = stated(
        "outlet.price",
        "price of one, in dollars",
        CellType::Quantity { measure: RATIO, least: 0.0, most: 1e6, none: false },
    )
        .headings(&["Price each", "Cost each", "Net price"])
        .question_such_as("What does one cost?", "48.50")
        .show(("", 2), ("", 2), Rounding::Nearest);
    SEAT_OFFSET = stated_length("outlet.seat_offset", "nominal length less the seat depth", [0.0, 6.0])
        .headings(&["Seat offset", "Offset to seat"])
        .question_such_as("How much shorter than the nominal length is the seat depth?", "3/4 in")
        .range(High("calculations use the longer end, which leaves the shallower seat"));
    BACKFLOW_STANDARD = stated(
        "outlet.backflow_standard",
        "standard its backflow device is listed to",
        CellType::Words(STANDARDS),
    )
        .headings(&["Backflow standard", "Device standard", "ASSE", "ASSE standard", "CSA", "CSA standard", "VB standard"])
        .question("To which standard is its backflow device listed?");
}

//! The wordings of descriptions: what each states. Tried in order; words that one has taken are not there for the next.
//!
//! A space stands for spaces, dots or hyphens, or none; `{in}` for a figure in inches or millimetres with its mark, `{ft}` for one
//! in any unit of length, `{frac}` for a pipe size, `{long}` for 4 in or more, `{q}` for an inch mark that may be left out, `{metal}` for
//! a metal and `{slope}` for a slope.

/// A wording.
#[derive(Clone, Copy, Debug)]
pub struct Pattern {
    /// A regular expression with the shorthands above; whole words, case does not count.
    pub words: &'static str,
    /// Facts and their values, each read as a cell of that fact; `$1` is what stood in the first bracket. No fact at all: the
    /// words are understood, and no fact is in them. An empty value: they speak of the fact and do not say enough.
    pub states: &'static [(&'static str, &'static str)],
    /// What "no" before it states, of its first fact; nothing where that only leaves it unknown.
    pub denied: &'static str,
}

const fn states(words: &'static str, states: &'static [(&'static str, &'static str)]) -> Pattern {
    Pattern { words, states, denied: "" }
}

/// Words that are understood and state nothing.
const fn idle(words: &'static str) -> Pattern {
    states(words, &[])
}

/// Yes, or no where it is denied.
const fn yes(words: &'static str, of: &'static [(&'static str, &'static str)]) -> Pattern {
    Pattern { words, states: of, denied: "no" }
}

/// A device, or none at all where it is denied.
const fn device(words: &'static str, of: &'static [(&'static str, &'static str)]) -> Pattern {
    Pattern { words, states: of, denied: "none" }
}

const CLOSES: &str = "outlet.closes";
const KIND: &str = "outlet.kind";
const LENGTH: &str = "outlet.nominal_length";
const SIZE: &str = "outlet.supply_size";
const SUPPLY: &str = "outlet.supply";
const BARREL: &str = "outlet.barrel";
const STEM: &str = "outlet.stem";
const FASTENERS: &str = "outlet.fasteners";
const FLANGE: &str = "outlet.flange";
const DEVICE: &str = "outlet.backflow_device";
const STANDARD: &str = "outlet.backflow_standard";
const INLET: &str = "outlet.inlet";
const INSULATION: &str = "outlet.supply_insulation";
const BEHIND: &str = "outlet.space_behind";

/// Every wording, in the order in which they are tried.
pub const PATTERNS: &[Pattern] = &[
    // What looks like a kind and is none.
    idle(r"or (?:approved )?(?:equal|equiv(?:alent)?|eq|app(?:rove)?d eq(?:ual)?)"),
    idle(
        r"(?:see|per|ref(?:er)?(?: to)?) (?:plumbing |arch(?:itectural)? |struct(?:ural)? )?(?:detail|details|dtl|det|sheet|sht|dwgs?|drawings?|spec(?:ification)?s?|notes?|plans?|elevations?|schedule|section)(?: no)?(?: #?\d*/?[a-z]{0,3}-?\d[\w.\-]*(?:/[a-z]{0,3}-?\d[\w.\-]*)?)?",
    ),
    idle(r"(?:detail|dtl|det) \d+(?:/[\w.\-]+)?"),
    idle(r"(?:hb|wh|fphb|fpwh|yh)-?\d{1,3}[a-z]?"),
    idle(r"(?:no|low) lead|lead free"),
    idle(r"(?:fire|roof|ground|flush) hyd(?:rant)?"),
    idle(r"water heater"),
    // Where it is put. A figure before pipe insulation may be its thickness or the pipe's size, unless it says thick.
    states(
        r"({in}) thick (?:foam |rubber |elastomeric )?(?:pipe|piping|supply|tubing) insul(?:ation)?|(?:pipe|piping|supply|tubing) insul(?:ation)?,? ({in}) thick",
        &[(INSULATION, "$1$2")],
    ),
    states(
        r"{in} (?:foam |rubber |elastomeric )?(?:pipe|piping|supply|tubing) insul(?:ation)?|(?:pipe|piping|supply|tubing) insul(?:ation)?,? {in}(?: long)?",
        &[(INSULATION, "")],
    ),
    states(
        r"(?:in|at|on) (?:the )?(garage|basement|crawl ?space) (?:ext(?:erior)? )?wall",
        &[(BEHIND, "$1")],
    ),
    // What it is, and where it closes.
    states(
        r"(?:non freez(?:e|ing)|freeze ?less|frost (?:proof|free|less)|freeze (?:proof|resistant)|sanitary) (?:yard|post) hyd(?:rant)?s?",
        &[(KIND, "yard hydrant")],
    ),
    states(r"(?:yard|post) hyd(?:rant)?s?", &[(KIND, "yard hydrant")]),
    states(r"(?:n|f) ?(?:p|f) ?h ?b(?:'?s)?", &[(KIND, "hose bibb"), (CLOSES, "inside")]),
    states(r"(?:n|f) ?(?:p|f) ?w ?h(?:'?s)?", &[(KIND, "wall hydrant"), (CLOSES, "inside")]),
    states(
        r"(?:f p|n f|f f) (sill ?cock|hose ?bib{1,2}|wall hyd(?:rant)?)s?",
        &[(KIND, "$1"), (CLOSES, "inside")],
    ),
    states(
        r"(sill ?cock|hose ?bib{1,2}|wall hyd(?:rant)?)s?,? (?:f p|n f|f f)",
        &[(KIND, "$1"), (CLOSES, "inside")],
    ),
    states(r"(?:frost|freeze) ?(?:proof|free|less|resistant|resisting)", &[(CLOSES, "inside")]),
    states(r"(?:non|anti) freez(?:e|ing)", &[(CLOSES, "inside")]),
    states(r"(?:mild|moderate|warm) climate", &[(CLOSES, "face")]),
    states(
        r"(?:(?:recessed|encased|flush) )?(?:box(?:ed)?|recessed|encased) (?:type )?(?:wall )?hyd(?:rant)?s?",
        &[(KIND, "box hydrant")],
    ),
    states(
        r"(?:wall )?hyd(?:rant)?s?,? (?:(?:recessed |encased )?box(?:ed)?(?: type)?|recessed|encased)",
        &[(KIND, "box hydrant")],
    ),
    states(r"w(?:all)? hyd(?:rant)?s?\.?", &[(KIND, "wall hydrant")]),
    states(r"sill ?cocks?|silcocks?", &[(KIND, "sillcock")]),
    states(r"hose ?bib{1,2}s?|hose faucets?|hose cocks?|bibbs?|h b'?s?\.?", &[(KIND, "hose bibb")]),
    // What looks like a length or a size and is none.
    idle(
        r"{in} x {in} (?:reducer|reducing \w+|bushing|bell|coupling|adapter|adaptor|nipple|escutcheon|plate|panel|access panel|access door|box|tee|ell|elbow)",
    ),
    idle(
        r"{frac}{q} x {frac}{q} (?:reducer|reducing \w+|bushing|bell|coupling|adapter|adaptor|nipple|tee|ell|elbow)",
    ),
    idle(r"{ft} (?:o c|oc|on cent(?:er|re)s?|c c)"),
    idle(
        r"(?:(?:mount(?:ed|ing)?|set|install(?:ed)?|locate(?:d)?) (?:at |height |ht |@ )?)?(?:@ ?)?{ft}(?: min)? (?:a f f|aff|above (?:finished? )?(?:floor|slab)|a f s)",
    ),
    states(
        r"(?:(?:mount(?:ed|ing)?|set|install(?:ed)?|locate(?:d)?) (?:at |height |ht |@ )?)?(?:@ ?)?({ft}) (?:a f g|afg|above (?:finished? )?grade)",
        &[("outlet.height", "$1")],
    ),
    idle(r"(?:mount(?:ed|ing)?|mtg) (?:at|ht|height) ?:? ?{ft}"),
    idle(
        r"2 ?x ?(?:4|6|8|10)(?: (?:wood |stud |framed? |ext(?:erior)? )?(?:stud|wall|framing|frame|studs|plate)s?)?",
    ),
    // An opening in masonry, or a block under the flange.
    states(r"{in} (?:thick )?block ?outs?", &[("outlet.block_thickness", "")]),
    idle(
        r"(?:for )?{ft} (?:thick |cmu |block |brick |masonry |concrete |conc |stud |ext(?:erior)? )*(?:wall|thick|wide|width|high|tall|dia|diameter|conduit|trench|clear|block|brick|cmu|veneer|insul(?:ation)?|rigid|slab|cover|door|square|sq)s?",
    ),
    states(r"seat (?:depth )?(?:at |= ?|: ?)?({in})(?: (?:deep|from face))?", &[("outlet.seat_depth", "$1")]),
    idle(r"(?:within|every|at) {ft}(?: (?:of|from|to|below|above) [a-z]+)?"),
    // "8 in OFCI" is no distance of a "ci".
    idle(r"{ft} (?:from|below|of|off|away)\s+[a-z]+"),
    idle(r"{num} (?:ft|feet|foot|') (?:long )?hose(?: reel)?"),
    idle(r"{ft} (?:stem|rod|spindle|overall|o a)(?: length)?"),
    // How many.
    states(r"(?:qty|quantity) ?[:=]? ?\(?(\d{1,4})\)?", &[("outlet.quantity", "$1")]),
    states(r"(\d{1,4}) (?:ea|each|pcs|total|req'?d)", &[("outlet.quantity", "$1")]),
    states(r"typ(?:ical)? (?:of|for) \(?(\d{1,3})\)?", &[("outlet.quantity", "$1")]),
    states(r"^\((\d{1,3})\)", &[("outlet.quantity", "$1")]),
    // Backflow devices.
    states(
        r"(?:asse|a s s e)(?: (?:std|standard|no|listed))?[ #]*(1001|1011|1013|1019|1020|1035|1052|1053|1056|1057)(?: ?(?:,? ?type ?|- ?|\()?([a-c1-5])\)?)?",
        &[(STANDARD, "asse $1 $2")],
    ),
    states(r"(?:csa )?(b64 ?\.? ?(?:1 ?\. ?1|2(?:\.(?:1\.1|1|2))?|4|7))", &[(STANDARD, "$1")]),
    states(
        r"(?:integral|integrated|built in|int)(?: non removable)? (?:{vb}|anti siphon(?: {vb})?|b ?f ?p|backflow (?:preventer|device|protection))",
        &[(DEVICE, "integral vacuum breaker")],
    ),
    states(r"{vb} (?:is )?(?:integral|built in)", &[(DEVICE, "integral vacuum breaker")]),
    states(
        r"(?:non removable )?(?:screw(?:ed)? on|hose (?:connection|conn|thread|bibb?|end)|hose) {vb}|h c v b|h b v b",
        &[(DEVICE, "hose connection vacuum breaker")],
    ),
    states(
        r"spill (?:resistant|proof) (?:pressure )?{vb}|s v b|pressure (?:type )?{vb}|p v b",
        &[(DEVICE, "pressure vacuum breaker")],
    ),
    states(r"atmospheric {vb}|a v b", &[(DEVICE, "atmospheric vacuum breaker")]),
    states(
        r"(?:hose connection )?(?:dual|double) check(?: (?:backflow preventer|bfp|valve|device))?",
        &[(DEVICE, "dual check")],
    ),
    states(
        r"reduced pressure(?: (?:zone|principle))?(?: (?:assembly|backflow preventer|device|bfp))?|r p z|r p b a",
        &[(DEVICE, "reduced pressure principle assembly")],
    ),
    device(
        r"(?:non removable |removable )?(?:{vb}|anti siphon(?: {vb})?|b ?f ?p|backflow (?:preventer|prevention|device|protection))",
        &[(DEVICE, "")],
    ),
    idle(
        r"{frac}{q} (?:male )?(?:hose (?:thread|thd|connection|conn|outlet|end|thr)|g h t|ght|m h t|mht)(?:s)?(?: outlet| nozzle)?",
    ),
    idle(r"(?:hose (?:thread|thd)|ght|mht)(?: outlet| nozzle)? {frac}{q}"),
    idle(r"(?:male )?hose (?:thread|thd|threads|connection|conn|end)(?: outlet| nozzle)?"),
    // Length and size; a range first, so that one of its ends is not taken for a figure.
    states(r"({num} ?{q} ?(?:to|thru|-) ?{long})(?: (?:long|length|lg|barrel))?", &[(LENGTH, "$1")]),
    states(r"({frac}) ?{q} x ({long})", &[(SIZE, "$1 in"), (LENGTH, "$2")]),
    states(r"({long}) x ({frac}) ?{q}", &[(LENGTH, "$1"), (SIZE, "$2 in")]),
    states(r"({in}) (?:depth of )?bury|({ft}) (?:depth of )?bury", &[("outlet.bury_depth", "$1$2")]),
    states(
        r"bury (?:depth )?(?:of |= ?|: ?)?({ft})|(?:depth of bury|bury depth) ?:? ?({ft})",
        &[("outlet.bury_depth", "$1$2")],
    ),
    states(
        r"({in}) (?:nom(?:inal)? )?(?:long|length|lg|barrel(?: length)?|nom(?:inal)?(?: length)?)",
        &[(LENGTH, "$1")],
    ),
    states(r"(?:(?:nom(?:inal)? )?length|barrel length|barrel|lg|l) ?[:=]? ?({long})", &[(LENGTH, "$1")]),
    // Inlets, supplies.
    states(
        r"(?:({frac}) ?{q} ?)?(?:mpt|mip|fip|fpt|thread(?:ed)?) ?(?:x|/|or|and|&) ?(?:({frac}) ?{q} ?)?(?:sweat|sweats|solder|cup)(?: inlet)?|combo(?:ination)? inlet|combination inlet",
        &[(INLET, "combination")],
    ),
    states(
        r"({frac}) ?{q} (?:pex|f1807|f1960) (?:crimp|expansion|inlet|conn(?:ection)?|barb)",
        &[(SIZE, "$1 in"), (INLET, "crimp")],
    ),
    states(
        r"(?:pex )?(?:f1807|f1960|crimp|expansion)(?: (?:inlet|conn(?:ection)?|end))?|pex (?:inlet|conn(?:ection)?|barb)",
        &[(INLET, "crimp")],
    ),
    states(
        r"({frac}) ?{q} (?:copper |cu )?(?:sweat|solder)(?: (?:inlet|conn(?:ection)?))?",
        &[(SIZE, "$1 in"), (INLET, "sweat")],
    ),
    states(r"(?:copper |cu )?(?:sweat|solder)(?: (?:inlet|conn(?:ection)?|end))?", &[(INLET, "sweat")]),
    states(
        r"({frac}) ?{q} (?:male |female )?(?:mpt|mip|fip|fpt|npt|ips|thread(?:ed)?)(?: (?:inlet|conn(?:ection)?))?",
        &[(SIZE, "$1 in"), (INLET, "threaded")],
    ),
    states(
        r"(?:male |female )?(?:mpt|mip|fip|fpt|npt|ips)(?: (?:inlet|conn(?:ection)?))?|threaded (?:inlet|conn(?:ection)?)",
        &[(INLET, "threaded")],
    ),
    states(r"press (?:inlet|conn(?:ection)?|fit)", &[(INLET, "press")]),
    states(r"push (?:fit|to connect|on)(?: (?:inlet|conn(?:ection)?))?", &[(INLET, "push-fit")]),
    states(
        r"({frac}) ?{q} (?:type [lmk] )?(copper|cu|pex(?: ?[ab])?|cpvc)(?: type [lmk])?(?: (?:supply|pipe|piping|tubing|tube|branch|line|cw))?",
        &[(SIZE, "$1 in"), (SUPPLY, "$2")],
    ),
    states(
        r"(copper|cu|pex(?: ?[ab])?|cpvc),? (?:type [lmk],? )?({frac}) ?{q}(?: (?:supply|pipe|piping|tubing|branch|line))?",
        &[(SUPPLY, "$1"), (SIZE, "$2 in")],
    ),
    states(
        r"(?:type [lmk] )?(copper|cu|pex(?: ?[ab])?|cpvc|galv(?:anized)?|pvc) (?:supply|piping|tubing|branch|line|feed)",
        &[(SUPPLY, "$1")],
    ),
    states(
        r"(?:supply|piping|branch|feed|fed (?:by|from|with|in)|supplied (?:by|in|with)) ?:? ?(?:({frac}) ?{q} ?)?(?:type [lmk] )?(copper|cu|pex(?: ?[ab])?|cpvc)",
        &[(SUPPLY, "$2")],
    ),
    states(
        r"({frac}) ?{q} (?:inlet|conn(?:ection)?|supply|c w|cold water|pipe size|i p s)",
        &[(SIZE, "$1 in")],
    ),
    states(r"(?:inlet|size|supply|conn(?:ection)?) ?:? ?({frac}) ?{q}", &[(SIZE, "$1 in")]),
    // Metals.
    states(
        r"({metal}) (?:mounting |mtg |wood |machine |tamper proof |flange )?(?:screws?|fasteners?|bolts?|anchors?|hardware|hdwe)",
        &[(FASTENERS, "$1")],
    ),
    states(
        r"({plated}) (?:mounting |mtg |wood )?(?:screws?|fasteners?|bolts?|anchors?|hardware|hdwe)",
        &[(FASTENERS, "$1")],
    ),
    idle(r"{in} (?:screws?|fasteners?|bolts?|anchors?)"),
    // What a part or a finish is made of, the barrel need not be.
    states(
        r"(?:(?:{plated}|polished|rough|satin) )?{metal} (?:finish(?:ed|es)?|look|plated|colou?r(?:ed)?|(?:valve )?seats?|trims?)(?: plastic)?",
        &[(BARREL, "")],
    ),
    states(
        r"(?:plastic|pvc|nylon|abs|polymer|composite) (?:barrel|body|casing)|(?:barrel|body) ?:? ?(?:of )?(?:plastic|pvc|nylon|abs|polymer|composite)",
        &[(BARREL, "")],
    ),
    states(r"({metal}) (?:wall )?(?:flange|face ?plate)", &[(FLANGE, "$1")]),
    states(r"({plated}) (?:{metal} )?(?:wall )?(?:flange|face ?plate)", &[(FLANGE, "$1")]),
    states(r"({metal}) (?:stem|operating rod|rod|spindle)s?", &[(STEM, "$1")]),
    idle(
        r"(?:{metal}|{plated}|metal|cast iron|cast|nylon|plastic)? ?(?:wheel|tee|t|lever|oval|round|loose key|key|metal)? ?(?:handles?|handwheels?|hand wheel|wheels?|box(?:es)?|doors?|lids?|caps?|chains?|trims?|nozzles?|escutcheons?|seats?|supports?|lock|cylinder lock|locks)",
    ),
    idle(
        r"(?:with |w/ )?(?:loose|removable|lockshield|lock shield|vandal (?:proof|resistant))? ?(?:tee |t )?(?:key|keys)(?: operat(?:ed|ion)| lock)?",
    ),
    states(
        r"({metal})(?: (?:tube|tubing|casing))? (?:barrel|body|bodied|construction|casing|tube)",
        &[(BARREL, "$1")],
    ),
    states(
        r"(?:barrel|body|construction|mat'?l|material|casing) ?[:=]? ?(?:of )?({metal})",
        &[(BARREL, "$1")],
    ),
    states(r"(?:{plated}|polished|rough|satin) (brass|bronze)", &[(BARREL, "$1")]),
    idle(
        r"{plated}|polished|satin|rough|(?:oil rubbed|oiled|antique) bronze|finish(?:ed|es)?|painted|powder coated|white|black|standard",
    ),
    states(
        r"(?:all |lead free |low lead |no lead |cast |forged |solid )*({red}|brass|bronze|stainless(?: steel)?|s ?s|(?:type )?(?:304|316)(?: (?:s ?s|stainless(?: steel)?))?)",
        &[(BARREL, "$1")],
    ),
    // The rest.
    yes(
        r"(?:self|auto(?:matic(?:ally)?)?) drain(?:ing|s|age)?|drains (?:itself|automatically|by itself)",
        &[("outlet.self_draining", "yes")],
    ),
    states(
        r"(?:(?:barrel |tube )?(?:slop|pitch|fall)(?:e|es|ed|ing|s)? ?(?:at |of |@ ?|: ?)?{slope}(?:,? (?:down )?(?:back )?(?:to|toward|towards|away from|in|out)(?:wards?)?(?: (?:the )?[a-z]+)?)?)",
        &[("outlet.slope", "$0")],
    ),
    states(
        r"{slope} (?:slope|pitch|fall)(?:,? (?:down )?(?:back )?(?:to|toward|towards|away from)(?: the)? [a-z]+| (?:in|out)wards?)?",
        &[("outlet.slope", "$0")],
    ),
    idle(
        r"(?:barrel |tube )?(?:slope|pitch)(?:ed|d)? (?:down )?(?:to|toward|towards) (?:the )?(?:drain|exterior|outside|face)",
    ),
    yes(
        r"(?:inside|interior|indoor) (?:stop|shut ?off|isolation|ball)(?: (?:and|&) (?:waste|drain))?(?: valve)?|stop (?:and|&) (?:waste|drain)(?: valve)?",
        &[("outlet.inside_stop", "yes")],
    ),
    yes(r"(?:winter|frost|insulat(?:ed|ing)|foam|faucet) cover", &[("outlet.cover", "yes")]),
    yes(r"(?:(?:neoprene|epdm|rubber|foam|flange|wall) )*gasket(?:ed|s)?", &[("outlet.gasket", "yes")]),
    yes(r"heat (?:cable|trac(?:e|ed|ing)|tape)", &[("outlet.heat_cable", "yes")]),
    yes(r"(?:(?:{in} )?(?:pvc|steel|pipe|wall|sch(?:edule)? 40)? ?)?sleeved?", &[("outlet.sleeve", "yes")]),
    yes(r"check valve", &[("outlet.check_valve", "yes")]),
    states(r"(?:for|serves|serving) (?:lawn |drip )?irrigation", &[("outlet.serves", "irrigation")]),
    // A figure that stands alone.
    states(r"({long})", &[(LENGTH, "$1")]),
    states(r"({frac}) ?(?:{mark}|in\b)", &[(SIZE, "$1 in")]),
];

/// The shorthands of the table.
pub(super) const SHORT: &[(&str, &str)] = &[
    ("{vb}", r"(?:vac(?:uum)?[\s.\-]*(?:bkr|brkr|breaker|brk)s?|v[\s./]*b)"),
    (
        "{plated}",
        r"(?:(?:rough |polished |satin )?(?:chrome|nickel|chromium)(?:[\s\-]*plated?)?|c\.?p\.?|zinc(?:[\s\-]*plated)?|hdg|hot[\s\-]*dip(?:ped)?[\s\-]*galv(?:anized)?|galv(?:anized)?(?: steel)?)",
    ),
    (
        "{metal}",
        r"(?:red brass|silicon bronze|brass|bronze|copper|stainless(?: steel)?|s\.?s\.?|18-8(?: s\.?s\.?| stainless)?|(?:304|316)(?: s\.?s\.?| stainless(?: steel)?)?|alum(?:inum|inium))",
    ),
    ("{red}", r"(?:wrought )?red brass"),
    (
        "{slope}",
        r"(?:\d{1,2}/\d{1,2} ?(?:in|in\.|inch|{mark})? ?(?:/|per|:|in) ?(?:1'(?:-0{mark})?|12 ?{mark}?|ft|foot|'|lin ft)|\d{1,2}(?:\.\d+)? ?(?:%|°|percent|deg(?:rees?)?)|1:\d{2,3})",
    ),
    ("{ft}", r"(?:{num}[ \-]*(?:ft|feet|foot|')\.?(?:[ \-]*{num} ?(?:{mark}|inch(?:es)?\b|in\b))?|{in})"),
    (
        "{long}",
        r"(?:(?:[4-9]|[123]\d)(?:[ \-]\d{1,2}/\d{1,2}|\.\d+)?[ \-]*(?:{mark}|inch(?:es)?\b|in\b|in\.)|(?:[1-9]\d{2}) ?mm\b)",
    ),
    ("{in}", r"(?:{num}[ \-]*(?:{mark}|inch(?:es)?\b|in\b|mm\b|cm\b)\.?)"),
    ("{num}", r"(?:\d{1,3}(?:[ \-]\d{1,2}/\d{1,2}|\.\d+|/\d{1,2})?)"),
    ("{frac}", r"(?:1/2|3/4|5/8|1)"),
    ("{q}", r"(?:{mark}|in\b|in\.)?"),
    ("{mark}", r#"(?:"|'')"#),
];

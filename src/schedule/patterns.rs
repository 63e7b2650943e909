//! The patterns of descriptions and what each states. Tried in order; a later pattern cannot match words an earlier one
//! has matched. Names of kinds and devices are in the lexicon, in braces here: `{hose-bibb}`.
//!
//! A space stands for spaces, dots or hyphens, or none; `{in}` for a number of inches or millimeters with its mark,
//! `{ft}` for a length in any unit, `{frac}` for a pipe size, `{long}` for 4 in or more, `{q}` for an optional inch
//! mark, `{metal}` for a metal and `{slope}` for a slope.

use super::vocabulary::Subject::{self, *};
use Says::{Groups, Inches, Unclear, Word, YesNo};

/// A pattern.
#[derive(Clone, Copy, Debug)]
pub struct Pattern {
    /// A regular expression with the shorthands above; whole words, case is ignored.
    pub words: &'static str,
    /// What the words state, by subject. Nothing: the words are known and state nothing.
    pub states: &'static [(Subject, Says)],
    /// What "no" before the words states about the first subject; `None` if that leaves it unknown.
    pub denied: Option<Says>,
}

/// What a pattern says about a subject.
#[derive(Clone, Copy, Debug)]
pub enum Says {
    /// A word of the vocabulary.
    Word(&'static str),
    /// Yes or no.
    YesNo(bool),
    /// The words of these groups, read as a cell.
    Groups(&'static [usize]),
    /// The number of a group, in inches if it has no unit.
    Inches(usize),
    /// Too little to have a value.
    Unclear,
}

const fn states(words: &'static str, states: &'static [(Subject, Says)]) -> Pattern {
    Pattern { words, states, denied: None }
}

/// Words that are known and state nothing.
const fn idle(words: &'static str) -> Pattern {
    states(words, &[])
}

/// Yes; no if it is denied.
const fn yes(words: &'static str, states: &'static [(Subject, Says)]) -> Pattern {
    Pattern { words, states, denied: Some(YesNo(false)) }
}

/// Every pattern, in the order in which they are tried.
pub const PATTERNS: &[Pattern] = &[
    // Looks like a kind.
    idle(r"or (?:approved )?(?:equal|equiv(?:alent)?|eq|app(?:rove)?d eq(?:ual)?)"),
    idle(
        r"(?:see|per|ref(?:er)?(?: to)?) (?:plumbing |arch(?:itectural)? |struct(?:ural)? )?(?:detail|details|dtl|det|sheet|sht|dwgs?|drawings?|spec(?:ification)?s?|notes?|plans?|elevations?|schedule|section)(?: no)?(?: #?\d*/?[a-z]{0,3}-?\d[\w.\-]*(?:/[a-z]{0,3}-?\d[\w.\-]*)?)?",
    ),
    idle(r"(?:detail|dtl|det) \d+(?:/[\w.\-]+)?"),
    idle(r"(?:hb|wh|fphb|fpwh|yh)-?\d{1,3}[a-z]?"),
    idle(r"(?:no|low) lead|lead free"),
    idle(r"(?:fire|roof|ground|flush) hyd(?:rant)?"),
    idle(r"water heater"),
    // Where it is. A number before pipe insulation may be its thickness or the size of the pipe, unless it says thick.
    states(
        r"({in}) thick (?:foam |rubber |elastomeric )?(?:pipe|piping|supply|tubing) insul(?:ation)?|(?:pipe|piping|supply|tubing) insul(?:ation)?,? ({in}) thick",
        &[(SupplyInsulation, Groups(&[1, 2]))],
    ),
    states(
        r"{in} (?:foam |rubber |elastomeric )?(?:pipe|piping|supply|tubing) insul(?:ation)?|(?:pipe|piping|supply|tubing) insul(?:ation)?,? {in}(?: long)?",
        &[(SupplyInsulation, Unclear)],
    ),
    states(
        r"(?:in|at|on) (?:the )?(garage|basement|crawl ?space) (?:ext(?:erior)? )?wall",
        &[(SpaceBehind, Groups(&[1]))],
    ),
    // Kinds, and where they close.
    states("(?:{frost-proof}|sanitary) {yard-hydrant}", &[(Kind, Word("yard hydrant"))]),
    states("{yard-hydrant}", &[(Kind, Word("yard hydrant"))]),
    states("{fp} ?h ?b(?:'?s)?", &[(Kind, Word("hose bibb")), (Closes, Word("inside"))]),
    states("{fp} ?{wh}(?:'?s)?", &[(Kind, Word("wall hydrant")), (Closes, Word("inside"))]),
    states(
        r"{fp} (sill ?cock|hose ?bib{1,2}|wall hyd(?:rant)?)s?|(sill ?cock|hose ?bib{1,2}|wall hyd(?:rant)?)s?,? {fp}",
        &[(Kind, Groups(&[1, 2])), (Closes, Word("inside"))],
    ),
    states("{frost-proof}", &[(Closes, Word("inside"))]),
    states("{mild-climate}", &[(Closes, Word("face"))]),
    states("{box-hydrant}", &[(Kind, Word("box hydrant"))]),
    states("{wall-hydrant}", &[(Kind, Word("wall hydrant"))]),
    states("{sillcock}", &[(Kind, Word("sillcock"))]),
    states("{hose-bibb}", &[(Kind, Word("hose bibb"))]),
    // Looks like a length or a size.
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
        &[(Height, Groups(&[1]))],
    ),
    idle(r"(?:mount(?:ed|ing)?|mtg) (?:at|ht|height) ?:? ?{ft}"),
    idle(
        r"2 ?x ?(?:4|6|8|10)(?: (?:wood |stud |framed? |ext(?:erior)? )?(?:stud|wall|framing|frame|studs|plate)s?)?",
    ),
    // An opening in masonry, or a block under the flange.
    states(r"{in} (?:thick )?block ?outs?", &[(BlockThickness, Unclear)]),
    idle(
        r"(?:for )?{ft} (?:thick |cmu |block |brick |masonry |concrete |conc |stud |ext(?:erior)? )*(?:wall|thick|wide|width|high|tall|dia|diameter|conduit|trench|clear|block|brick|cmu|veneer|insul(?:ation)?|rigid|slab|cover|door|square|sq)s?",
    ),
    states(r"seat (?:depth )?(?:at |= ?|: ?)?({in})(?: (?:deep|from face))?", &[(SeatDepth, Groups(&[1]))]),
    idle(r"(?:within|every|at) {ft}(?: (?:of|from|to|below|above) [a-z]+)?"),
    // The space keeps "8 in OFCI" from being a distance.
    idle(r"{ft} (?:from|below|of|off|away)\s+[a-z]+"),
    idle(r"{num} (?:ft|feet|foot|') (?:long )?hose(?: reel)?"),
    idle(r"{ft} (?:stem|rod|spindle|overall|o a)(?: length)?"),
    // Quantity.
    states(r"(?:qty|quantity) ?[:=]? ?\(?(\d{1,4})\)?", &[(Quantity, Groups(&[1]))]),
    states(r"(\d{1,4}) (?:ea|each|pcs|total|req'?d)", &[(Quantity, Groups(&[1]))]),
    states(r"typ(?:ical)? (?:of|for) \(?(\d{1,3})\)?", &[(Quantity, Groups(&[1]))]),
    states(r"^\((\d{1,3})\)", &[(Quantity, Groups(&[1]))]),
    // Backflow devices.
    states(
        r"(?:asse|a s s e)(?: (?:std|standard|no|listed))?[ #]*(1001|1011|1013|1015|1019|1020|1024|1035|1052|1053|1056|1057)(?: ?(?:,? ?type ?|- ?|\()?([a-c1-5])\)?)?",
        &[(BackflowStandard, Groups(&[1, 2]))],
    ),
    states(
        r"(?:csa )?(b64 ?\.? ?(?:1 ?\. ?[123]|2(?:\.(?:1\.1|1|2))?|[4-7]))",
        &[(BackflowStandard, Groups(&[1]))],
    ),
    states("{integral-breaker}", &[(BackflowDevice, Word("integral vacuum breaker"))]),
    states("{hose-breaker}", &[(BackflowDevice, Word("hose connection vacuum breaker"))]),
    states("{pressure-breaker}", &[(BackflowDevice, Word("pressure vacuum breaker"))]),
    states("{atmospheric-breaker}", &[(BackflowDevice, Word("atmospheric vacuum breaker"))]),
    states("{dual-check}", &[(BackflowDevice, Word("dual check"))]),
    states("{double-check}", &[(BackflowDevice, Word("double check assembly"))]),
    states("{reduced-pressure}", &[(BackflowDevice, Word("reduced pressure principle assembly"))]),
    Pattern {
        words: r"(?:non removable |removable )?(?:{vb}|anti siphon(?: {vb})?|b ?f ?p|backflow (?:preventer|prevention|device|protection))",
        states: &[(BackflowDevice, Unclear)],
        denied: Some(Word("none")),
    },
    idle(
        r"{frac}{q} (?:male )?(?:hose (?:thread|thd|connection|conn|outlet|end|thr)|g h t|ght|m h t|mht)(?:s)?(?: outlet| nozzle)?",
    ),
    idle(r"(?:hose (?:thread|thd)|ght|mht)(?: outlet| nozzle)? {frac}{q}"),
    idle(r"(?:male )?hose (?:thread|thd|threads|connection|conn|end)(?: outlet| nozzle)?"),
    // Length and size; a range first, so that its ends are not matched as values.
    states(
        r"({num} ?{q} ?(?:to|thru|-) ?{long})(?: (?:long|length|lg|barrel))?",
        &[(NominalLength, Groups(&[1]))],
    ),
    states(r"({frac}) ?{q} x ({long})", &[(SupplySize, Inches(1)), (NominalLength, Groups(&[2]))]),
    states(r"({long}) x ({frac}) ?{q}", &[(NominalLength, Groups(&[1])), (SupplySize, Inches(2))]),
    states(r"({in}) (?:depth of )?bury|({ft}) (?:depth of )?bury", &[(BuryDepth, Groups(&[1, 2]))]),
    states(
        r"bury (?:depth )?(?:of |= ?|: ?)?({ft})|(?:depth of bury|bury depth) ?:? ?({ft})",
        &[(BuryDepth, Groups(&[1, 2]))],
    ),
    states(
        r"({in}) (?:nom(?:inal)? )?(?:long|length|lg|barrel(?: length)?|nom(?:inal)?(?: length)?)",
        &[(NominalLength, Groups(&[1]))],
    ),
    states(
        r"(?:(?:nom(?:inal)? )?length|barrel length|barrel|lg|l) ?[:=]? ?({long})",
        &[(NominalLength, Groups(&[1]))],
    ),
    // Inlets and supplies.
    states(
        r"(?:({frac}) ?{q} ?)?(?:mpt|mip|fip|fpt|thread(?:ed)?) ?(?:x|/|or|and|&) ?(?:({frac}) ?{q} ?)?(?:sweat|sweats|solder|cup)(?: inlet)?|combo(?:ination)? inlet|combination inlet",
        &[(Inlet, Word("combination"))],
    ),
    states(
        r"({frac}) ?{q} (?:pex|f1807|f1960) (?:crimp|expansion|inlet|conn(?:ection)?|barb)",
        &[(SupplySize, Inches(1)), (Inlet, Word("crimp"))],
    ),
    states(
        r"(?:pex )?(?:f1807|f1960|crimp|expansion)(?: (?:inlet|conn(?:ection)?|end))?|pex (?:inlet|conn(?:ection)?|barb)",
        &[(Inlet, Word("crimp"))],
    ),
    states(
        r"({frac}) ?{q} (?:copper |cu )?(?:sweat|solder)(?: (?:inlet|conn(?:ection)?))?",
        &[(SupplySize, Inches(1)), (Inlet, Word("sweat"))],
    ),
    states(r"(?:copper |cu )?(?:sweat|solder)(?: (?:inlet|conn(?:ection)?|end))?", &[(Inlet, Word("sweat"))]),
    states(
        r"({frac}) ?{q} (?:male |female )?(?:mpt|mip|fip|fpt|npt|ips|thread(?:ed)?)(?: (?:inlet|conn(?:ection)?))?",
        &[(SupplySize, Inches(1)), (Inlet, Word("threaded"))],
    ),
    states(
        r"(?:male |female )?(?:mpt|mip|fip|fpt|npt|ips)(?: (?:inlet|conn(?:ection)?))?|threaded (?:inlet|conn(?:ection)?)",
        &[(Inlet, Word("threaded"))],
    ),
    states(r"press (?:inlet|conn(?:ection)?|fit)", &[(Inlet, Word("press"))]),
    states(r"push (?:fit|to connect|on)(?: (?:inlet|conn(?:ection)?))?", &[(Inlet, Word("push-fit"))]),
    states(
        r"({frac}) ?{q} (?:type [lmk] )?(copper|cu|pex(?: ?[ab])?|cpvc)(?: type [lmk])?(?: (?:supply|pipe|piping|tubing|tube|branch|line|cw))?",
        &[(SupplySize, Inches(1)), (Supply, Groups(&[2]))],
    ),
    states(
        r"(copper|cu|pex(?: ?[ab])?|cpvc),? (?:type [lmk],? )?({frac}) ?{q}(?: (?:supply|pipe|piping|tubing|branch|line))?",
        &[(Supply, Groups(&[1])), (SupplySize, Inches(2))],
    ),
    states(
        r"(?:type [lmk] )?(copper|cu|pex(?: ?[ab])?|cpvc|galv(?:anized)?|pvc) (?:supply|piping|tubing|branch|line|feed)",
        &[(Supply, Groups(&[1]))],
    ),
    states(
        r"(?:supply|piping|branch|feed|fed (?:by|from|with|in)|supplied (?:by|in|with)) ?:? ?(?:({frac}) ?{q} ?)?(?:type [lmk] )?(copper|cu|pex(?: ?[ab])?|cpvc)",
        &[(Supply, Groups(&[2]))],
    ),
    states(
        r"({frac}) ?{q} (?:inlet|conn(?:ection)?|supply|c w|cold water|pipe size|i p s)",
        &[(SupplySize, Inches(1))],
    ),
    states(r"(?:inlet|size|supply|conn(?:ection)?) ?:? ?({frac}) ?{q}", &[(SupplySize, Inches(1))]),
    // Metals.
    states(
        r"({metal}) (?:mounting |mtg |wood |machine |tamper proof |flange )?(?:screws?|fasteners?|bolts?|anchors?|hardware|hdwe)",
        &[(Fasteners, Groups(&[1]))],
    ),
    states(
        r"({plated}) (?:mounting |mtg |wood )?(?:screws?|fasteners?|bolts?|anchors?|hardware|hdwe)",
        &[(Fasteners, Groups(&[1]))],
    ),
    idle(r"{in} (?:screws?|fasteners?|bolts?|anchors?)"),
    // The material of a part or a finish says nothing about the barrel.
    states(
        r"(?:(?:{plated}|polished|rough|satin) )?{metal} (?:finish(?:ed|es)?|look|plated|colou?r(?:ed)?|(?:valve )?seats?|trims?)(?: plastic)?",
        &[(Barrel, Unclear)],
    ),
    states(
        r"(?:plastic|pvc|nylon|abs|polymer|composite) (?:barrel|body|casing)|(?:barrel|body) ?:? ?(?:of )?(?:plastic|pvc|nylon|abs|polymer|composite)",
        &[(Barrel, Unclear)],
    ),
    states(r"({metal}) (?:wall )?(?:flange|face ?plate)", &[(Flange, Groups(&[1]))]),
    states(r"({plated}) (?:{metal} )?(?:wall )?(?:flange|face ?plate)", &[(Flange, Groups(&[1]))]),
    states(r"({metal}) (?:stem|operating rod|rod|spindle)s?", &[(Stem, Groups(&[1]))]),
    idle(
        r"(?:{metal}|{plated}|metal|cast iron|cast|nylon|plastic)? ?(?:wheel|tee|t|lever|oval|round|loose key|key|metal)? ?(?:handles?|handwheels?|hand wheel|wheels?|box(?:es)?|doors?|lids?|caps?|chains?|trims?|nozzles?|escutcheons?|seats?|supports?|lock|cylinder lock|locks)",
    ),
    idle(
        r"(?:with |w/ )?(?:loose|removable|lockshield|lock shield|vandal (?:proof|resistant))? ?(?:tee |t )?(?:key|keys)(?: operat(?:ed|ion)| lock)?",
    ),
    states(
        r"({metal})(?: (?:tube|tubing|casing))? (?:barrel|body|bodied|construction|casing|tube)",
        &[(Barrel, Groups(&[1]))],
    ),
    states(
        r"(?:barrel|body|construction|mat'?l|material|casing) ?[:=]? ?(?:of )?({metal})",
        &[(Barrel, Groups(&[1]))],
    ),
    states(r"(?:{plated}|polished|rough|satin) (brass|bronze)", &[(Barrel, Groups(&[1]))]),
    idle(
        r"{plated}|polished|satin|rough|(?:oil rubbed|oiled|antique) bronze|finish(?:ed|es)?|painted|powder coated|white|black|standard",
    ),
    states(
        r"(?:all |lead free |low lead |no lead |cast |forged |solid )*({red}|brass|bronze|stainless(?: steel)?|s ?s|(?:type )?(?:304|316)(?: (?:s ?s|stainless(?: steel)?))?)",
        &[(Barrel, Groups(&[1]))],
    ),
    // The rest.
    yes(
        r"(?:self|auto(?:matic(?:ally)?)?) drain(?:ing|s|age)?|drains (?:itself|automatically|by itself)",
        &[(SelfDraining, YesNo(true))],
    ),
    states(
        r"(?:(?:barrel |tube )?(?:slop|pitch|fall)(?:e|es|ed|ing|s)? ?(?:at |of |@ ?|: ?)?{slope}(?:,? (?:down )?(?:back )?(?:to|toward|towards|away from|in|out)(?:wards?)?(?: (?:the )?[a-z]+)?)?)",
        &[(Slope, Groups(&[0]))],
    ),
    states(
        r"{slope} (?:slope|pitch|fall)(?:,? (?:down )?(?:back )?(?:to|toward|towards|away from)(?: the)? [a-z]+| (?:in|out)wards?)?",
        &[(Slope, Groups(&[0]))],
    ),
    idle(
        r"(?:barrel |tube )?(?:slope|pitch)(?:ed|d)? (?:down )?(?:to|toward|towards) (?:the )?(?:drain|exterior|outside|face)",
    ),
    yes(
        r"(?:inside|interior|indoor) (?:stop|shut ?off|isolation|ball)(?: (?:and|&) (?:waste|drain))?(?: valve)?|stop (?:and|&) (?:waste|drain)(?: valve)?",
        &[(InsideStop, YesNo(true))],
    ),
    yes(r"(?:winter|frost|insulat(?:ed|ing)|foam|faucet) cover", &[(Cover, YesNo(true))]),
    yes(r"(?:(?:neoprene|epdm|rubber|foam|flange|wall) )*gasket(?:ed|s)?", &[(Gasket, YesNo(true))]),
    yes(r"heat (?:cable|trac(?:e|ed|ing)|tape)", &[(HeatCable, YesNo(true))]),
    yes(r"(?:(?:{in} )?(?:pvc|steel|pipe|wall|sch(?:edule)? 40)? ?)?sleeved?", &[(Sleeve, YesNo(true))]),
    yes(r"check valve", &[(CheckValve, YesNo(true))]),
    states(r"(?:for|serves|serving) (?:lawn |drip )?irrigation", &[(Serves, Word("irrigation"))]),
    // A number alone.
    states(r"({long})", &[(NominalLength, Groups(&[1]))]),
    states(r"({frac}) ?(?:{mark}|in\b)", &[(SupplySize, Inches(1))]),
];

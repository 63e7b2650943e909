//! Other things on a schedule: fixtures, drains, equipment, accessories; parts; and words that say nothing.

use super::super::unused::Aside::*;
use super::Row;
use super::Sense::*;

pub(super) const ROWS: &[Row] = &[
    (
        Other(Fixture),
        "water closet|cabinet d aisances|w c|w closet|commode|squat toilet|composting toilet|bed pan washer|stool|{wall hung |}toilet|wc|urinal|{wall hung |}{lavatory|lav|lavabo}|{kitchen|bar|hand|mop|service|laundry|utility|exam|classroom|science|scrub|floor|slop|janitor|prep|pot|clinic|clinical|vanity|farmhouse|shampoo} sink|sink|{mop|service} basin|basin|{drinking|water} fountain|{electric |}water cooler|ewc|bottle {filler|filling station}|bubbler|bathtub|bath tub|tub|tub shower|bath|{hand|outdoor|outside|emergency|roll in|foot|dog|pet} {shower|wash}|shower {valve|head|receptor|pan|stall|}|eyewash|eye wash|drench shower|bidet|{washer|laundry|washing machine} {box|valve|outlet box|outlet|hookup}|washer|{ice maker|icemaker|refrigerator|supply|outlet} box|pot filler|dishwasher|disposal|disposer|garbage disposal|{kitchen|sink|lavatory|lav|bath|sensor|metering|utility|laundry|pantry|wall mount kitchen} faucet|faucet|baptistry {fill|filler|}|baptismal font|filler spout|foot wash|{bed pan|bedpan} washer|wash fountain|{jug|bottle} filler|glass filler|clinical sink|flushing rim sink|toilette|cuvette|urinoir|evier|cuve {de lavage|}|baignoire|douche|fontaine a boire {exterieure|}|bac a {laver|douche}|laveuse|lave vaisselle|abreuvoir de bureau|lave {mains|yeux}|salad sink|three compartment sink|3 compartment sink|2 compartment sink|hand washing station|wash station|washfountain|janitors sink|plaster sink|surgeons sink|{fish|fillet} {cleaning station|station}|shower column|ablution tap|steam generator|jacuzzi|hot tub|whirlpool|spa|swimming pool|coffee station|water dispenser|{refrigerator|fridge|icemaker|ice maker|coffee} {connection|supply|line}|pet {bowl|fountain}|splash pad|spray {head|feature}|misting {head|post}",
    ),
    (
        Other(Drain),
        "{exterior |}trench|{floor|roof|area|areaway|trench|deck|shower|planter|overflow|hub|funnel|indirect|balcony|parking|promenade|patio|yard|channel} drain|drain {floor|roof|area|trench|deck}|floor sink|catch basin|{down spout|downspout} {nozzle|boot}|{clean out|cleanout}|{floor|wall|grade|yard|exterior} {clean out|cleanout}|fco|wco|gco|scupper|{sand|oil|grease|lint|solids|oil water} {interceptor|trap|separator}|grease trap|trap primer|sewage {ejector|pump}|standpipe drain|avaloir {de sol|de toit|}|drain {de plancher|de toit}|siphon de sol|bassin {de captation|collecteur}|regard de nettoyage|interceptor|vent through roof|backwater valve|sump|sump pit|sump pump",
    ),
    (
        Other(Equipment),
        "{domestic |electric |gas |tankless |instantaneous |}{hot |}water heater|dwh|ewh|gwh|hwh|boiler|{wall|unit|space|duct|cabinet|baseboard} heater|heater|{expansion|storage|pressure|thermal|hot water} tank|{circulating|circulation|recirculating|recirculation|booster|fire|jockey|well|condensate|inline} pump|pump|{pressure |water pressure |}{reducing|regulating} valve|prv|{thermostatic |master |}mixing valve|tmv|{water |sub |}meter|water softener {loop|}|softener|{water |} filter|water treatment|{fire|fdc} {hydrant|hose valve|hose cabinet|department connection|department valve|extinguisher|sprinkler}|fire hose {valve|cabinet|rack}|fdc|siamese connection|{livestock|stock|cattle|horse|automatic} {waterer|drinker|fountain|watering bowl}|waterer|{quick|snap} coupler|quick coupling valve|{irrigation|lawn|sprinkler|drip} {point of connection|poc|p o c|stub|stub out|stubout|connection|hookup|hook up|controller|valve|system|supply|backflow preventer|tap|feed|}|sprinkler|hose reel|reel|{medical |}{air|gas|vacuum} outlet|air compressor|backflow {assembly|enclosure}|{water hammer|hammer|shock} {arrestor|arrester|absorber}|{emergency|gas} {fixture|valve}|chauffe eau|chaudiere|pompe|reservoir|borne fontaine|borne d incendie|borne incendie|devidoir|adoucisseur|compteur|{hose|fuel} dispenser|ice machine|coffee maker|humidifier|air handler|cooling tower|solenoid valve|{supply|main} {riser|header}|manifold|pool {filler|fill line}|autofill|trap seal primer|backflow preventer assembly|{rpz|rpba|double check} {assembly|valve assembly}|dcva|pressure gauge|{natural |}gas {meter|regulator|range}|generator|chiller|water {feature|treatment unit}|{hose|air hose} {reel cabinet}|emergency generator|{utility|service} {station|bollard}|hydropneumatic tank|storage tank|{vehicle|truck} wash {system|equipment}|pressure washer|fire riser|wall {fan|louver}|exhaust fan",
    ),
    (
        Other(Accessory),
        "key {hyd|hydrant}|{tee|t|loose|loose tee|operating|spare|extra|hydrant|wall hydrant} key|key {loose|tee|loose tee}|{repair|rebuild|service|seat} kit|{stem|replacement} {kit|assembly}|{add on|field installed} {vb|vacuum breaker}|{foam|winter|faucet|insulated} cover|cover {foam|faucet|winter}|boiler drain|{hose end |}drain valve|{ball|gate|globe|angle|stop|balancing|check|butterfly} valve|{garden |rubber |}hose rack|hose {hanger|bracket|bib lock}|{pipe|tube|tubing|coil} {hanger|insulation|clamp}|pex a coil|coil|{escutcheon|access panel|nipple|reducer|coupling|fitting|adapter|bushing|union}|solder|flux|caulk|sealant|freight|labor|delivery|shipping|surcharge|tax|allowance|trip charge|spare parts|{hose bibb|hose bib|sillcock|hydrant|wall hydrant} {key|cover|stem|insulation|extension|bracket|guard|repair kit|washer|cap|box cover|parts|sock|blanket|shield}|sillcock key|gasket kit|robinet d arret|trousse de reparation|cle",
    ),
    // Parts and other things, whose figures and metals are their own.
    (
        Thing,
        "{wheel|tee|t|lever|oval|round|loose key|key|metal|cast iron|iron|cast|plastic|loose|removable|lockshield|lock shield|vandal proof|vandal resistant|four arm|cross} {handle|handwheel|hand wheel|key|lock}|handle|hand wheel|handwheel|wheel|lever|key|{t|tee} handle key|box|door|lid|cap|chain|trim|nozzle|escutcheon|{valve |}seat disc|support|lock|cylinder lock|face|head|top|grate|grille|strainer|dome|guard|hinge|cover plate|plate|panel|access panel|washer set|packing|disc|bonnet|plunger|cartridge|spout|ring|trim ring|spindle cap|valve seat|hinged cover|under deck flange|porte|couvercle|tete|poignee|volant",
    ),
    (
        Construction,
        "brick {veneer|cavity|}|{sip|sips} {wall|panel|}|gypsum board|shaft wall|glazing|storefront|{stone|masonry|manufactured stone} veneer|stone|masonry|cmu|{concrete|cinder|masonry} block|block wall|concrete|conc|precast|stucco|eifs|{metal|steel|wood} stud|tilt up {concrete|}|sandwich panel|concrete sandwich panel|insulated {metal |}panel|rim joist|{vinyl|wood|fiber cement|metal|cedar|steel|lap} siding|siding|polyiso|rigid {insul|insulation}|icf|clt|log wall|mur de {brique|beton|bloc}|brique|blocs de beton|curtain wall|{wood|metal} frame",
    ),
    (
        Thing,
        "{clear|crushed|washed|drain} stone|stone sump|wall|corner|window|stud|block|veneer|slab|rigid|opening|hole|conduit|trench|clear|clearance|dia|diameter|thick|wide|width|high|tall|deep box|square|sq|nipple|bushing|reducer|reducing {tee|coupling|bushing}|coupling|adapter|adaptor|tee|ell|elbow|bell|main|hose|hose reel|drain|pipe sleeve|furring|insul|insulation|foam|gypsum|gyp bd|sheathing|deep|projection|offset|od|id|cylinder|gravel|guard post|bollard|mur|cloison",
    ),
    (
        Elsewhere,
        "{male |}{hose thread|hose thd|hose connection|hose conn|hose outlet|hose end|hose thr|hose nozzle}|ght|mht|hose threads|garden hose thread|psi|gpm|gpf|lpf|gal|gallon|mbh|deg f|kw|volt|hz|o c|ga|gauge|sf|lf|camlock|cu ft|cu yd|cubic {foot|feet|yard}|turn",
    ),
    (
        Pointer,
        "{see|per|ref|refer to|see also} {plumbing |arch |architectural |struct |structural |}{detail|dtl|det|sheet|sht|dwg|drawing|spec|specification|note|plan|elevation|schedule|section}|detail|dtl|voir {detail|plan|note}|{see |}key note",
    ),
    (
        Idle,
        "or {approved |}{equal|equiv|equivalent|eq|approved equal|apprd equal}|ou {l |}equivalent|{no|low} lead|lead free|nsf|ada",
    ),
    (
        Idle,
        "a|an|and|the|of|for|with|w|to|in|on|at|be|is|are|as|by|per|all|provide|provided|furnish|furnished|install|installed|supply and install|include|includes|including|complete|c w|new|type|style|model|each|unit|listed|fed|typ|typical|x|exterior|outdoor|outside|from|this|shall|must|meets|compliant|conforming|conform|heavy|duty|valve|faucet body|hydrant|device|assembly|size of|lead|free|standard|std|exposed|d|de|du|des|la|le|les|l|un|une|et|avec|en|au|aux|pour|sur|dans|loose|lockable|locking|lockshield|vandal|resistant|vandal resistant|vandal proof|tamper proof|operated|oper|operation|key operated|keyed|{1 4|quarter|qt|qtr|1 4 turn|quarter turn} {turn|}|no kink|hot and cold|hot cold|single|double|bent nose|straight|angle|angled|renewable|removable|replaceable|automatic|auto|self closing|polished chrome|cast|forged|solid|wrought|multi turn|compression|series|class|rated|certified|approved|csa|ansi|asme|upc|commercial|residential|grade|quality|replaces|gets|every|fall|ok|cold only|freestanding|sanitary|economy|deluxe|dry|wet|assembly complete|ordinaire|neuf|type de|inlet size|pattern|threads|ends|end|hinged|flush|surface|mounted|mount|existing condition|secure|securely|side|prevoir|poser|port|clamp|wall clamp|use|used|plan|plans|flow|cold|hot|water|and waste|w waste|wall type hydrant type|freestanding post|adjustable|concealed|semi|fully|heads|operating|lock operated|key lock|bib|threaded outlet|outlet|outlets|spout type|wash|washdown|wash down|hose use|pool fill|general use|maintenance|irrigation use|hand|right|left|every floor|floor mounted|floor|bottom|top outlet|clean|bright|mill|natural|dull|matte|brushed|bury type|affiche|eau non potable|labeled|labelled|sign|non potable|marked|wall mtd|fasten|fastened|anchor to|set|located|locate|location|wall mounted|wall mount",
    ),
];

//! Outlets, and what is said of them.

use super::super::vocabulary::Subject::*;
use super::Row;
use super::Sense::*;

pub(super) const ROWS: &[Row] = &[
    // Kinds. A longer name wins: "fire hydrant" is no hydrant of these.
    (
        OfKind("hose bibb"),
        "hose {bib|bibb} key {operated|oper}|hose {bib|bibb|faucet|cock|tap|spigot}|hosecock|bibb|bib|hb|spigot|water tap|{outside|outdoor|exterior|garden|lawn|wall|yard} {faucet|tap|spigot|bibb|bib|hose bibb|hose bib}|wash down bibb|{faucet|tap|spigot} {outside|outdoor|exterior|garden|lawn|yard}|hose {outlet|outlets} {outside|exterior}|robinet {d arrosage|exterieur|de jardin|a boyau|a boyau exterieur|d arrosage exterieur}",
    ),
    (
        KindClosing("hose bibb", "inside"),
        "{fp|nf|ff} {hb|hose bibb|hose bib}|robinet {d arrosage |exterieur |}antigel",
    ),
    (OfKind("sillcock"), "sill {cock|faucet}|silcock"),
    (
        OfKind("wall hydrant"),
        "{wall|w|dock|mural} {hydrant|hyd|hydt}|wall {hydrant|hyd} key {operated|oper}|{hydrant|hyd} {wall|mural}|wall type hydrant|hydrant mural|borne murale",
    ),
    (KindClosing("wall hydrant", "inside"), "{fp|nf|ff} {wh|wall hydrant|wall hyd}"),
    (MayBeKind("wall hydrant"), "wh"),
    (
        OfKind("box hydrant"),
        "{recessed |encased |flush |}{box|boxed|recessed|encased} {type |}{wall |}{hydrant|hyd}|{hydrant|hyd} {recessed |encased |}{box|boxed} {type|}|box type wall hydrant",
    ),
    (
        OfKind("yard hydrant"),
        "{sanitary |}{yard|post|lawn|garden|field} {hydrant|hyd}|{hydrant|hyd} {yard|post}|borne {de jardin|d arrosage}|hydrant de {cour|jardin|terrain}",
    ),
    (OfKind("roof hydrant"), "roof {top |}{hydrant|hyd}|{hydrant|hyd} roof|borne de toit|hydrant de toit"),
    (OfKind("ground hydrant"), "{ground|flush ground|in ground} {box |}{hydrant|hyd}|{hydrant|hyd} ground"),
    // Where it closes.
    (
        Closing("inside"),
        "{frost|freeze} {proof|prf|free|fr|less|resistant|resisting|resist|res|protected}|frostless|incongelable|{non|anti} {freeze|freezing|frz}|frost pf|frzls|antigel|hors gel|a l epreuve du gel",
    ),
    (UnclearClosing, "no {frost|freeze} protection|{semi|un} {frost|freeze}{ |}{proof|free|less|resistant}"),
    (ClosingBeside("inside"), "fp|nf|ff"),
    (Closing("face"), "{mild|moderate|warm} climate"),
    (Boxed, "encased|recessed|box type|boxed|in {wall |}box|encastre"),
    // Devices.
    (
        Device(Some("integral vacuum breaker")),
        "{integral|integrated|built in|int|fixed integral} {non removable |nonremovable |anti siphon |}{vb|vac bkr|vac brkr|vac breaker|vac brk|vacuum bkr|vacuum breaker|anti siphon|antisiphon|bfp|backflow preventer|backflow device|backflow protection}|{vb|vac bkr|vacuum breaker} {is |}{integral|built in|int}|ivb|brise vide {integre|incorpore}|casse vide {integre|incorpore}",
    ),
    (
        Device(Some("hose connection vacuum breaker")),
        "{non removable |nonremovable |}{screw on|screwed on|hose connection|hose conn|hose thread|hose bibb|hose bib|hose end|hose|thread on} {vb|vac bkr|vac brkr|vac breaker|vac brk|vacuum bkr|vacuum breaker}|hcvb|hbvb|hvb|{brise|casse} vide pour raccord de boyau",
    ),
    (
        Device(Some("pressure vacuum breaker")),
        "spill {resistant|proof} {pressure |}{vb|vac bkr|vacuum breaker}|svb|pressure {type |}{vb|vac bkr|vacuum breaker}|pvb",
    ),
    (
        Device(Some("atmospheric vacuum breaker")),
        "atmospheric {vb|vac bkr|vacuum breaker}|avb|{brise|casse} vide atmospherique",
    ),
    (
        Device(Some("dual check")),
        "{hose connection |}dual {check|chk} {backflow preventer|bfp|valve|device|}|double clapet",
    ),
    (
        Device(Some("double check assembly")),
        "double {check|chk} {backflow preventer|bfp|valve|device|assembly|valve assembly|}|dcva",
    ),
    (
        Device(Some("reduced pressure principle assembly")),
        "reduced pressure {zone |principle |}{assembly|backflow preventer|device|bfp|}|rpz|rpba|rp assembly",
    ),
    (
        Device(None),
        "{non removable |nonremovable |removable |fixed |hose |}{vb|vac bkr|vac brkr|vac breaker|vac brk|vacuum bkr|vacuum breaker|vacuum brkr}|v bkr|anti siphon|antisiphon|anti siphon {vb|vacuum breaker}|bfp|backflow {preventer|prevention|device|protection}|brise vide|casse vide|antirefoulement|dispositif antirefoulement",
    ),
    // Metals. "Rough brass" is brass; the words before it are finishes.
    (Metal("red brass"), "{wrought |cast |}red brass|laiton rouge"),
    (Metal("silicon brass"), "silicon brass"),
    (Metal("silicon bronze"), "silicon bronze"),
    (Metal("brass"), "brass|brs|yellow brass|{lf|lead free|low lead} brass|laiton"),
    (Metal("bronze"), "bronze|brz|bronz"),
    (Metal("copper"), "copper|cu|cuivre|type {l|k|m} {copper|cu|}|{copper|cu} type {l|k|m}"),
    (
        Metal("stainless"),
        "stainless|stainless steel|ss|{304|316|18 8|type 304|type 316} {ss|stainless|stainless steel|}|inox|acier inox|acier inoxydable|s steel|sst|st stl|stn stl|stainless stl",
    ),
    (Metal("aluminum"), "aluminum|aluminium|alum"),
    (
        Plating("galvanized steel"),
        "galv|galvanized|galvanised|{galv|galvanized|galvanised} steel|hdg|hot dip {galv|galvanized}|hot dipped {galv|galvanized}|acier galvanise|galvanise",
    ),
    (Plating("chrome plate"), "{rough |polished |satin |}{chrome|chromium} {plated|plate|pltd|}|cp|chrome"),
    (Plating("nickel plate"), "{rough |polished |satin |}nickel {plated|plate|}"),
    (Plating("zinc-plated steel"), "zinc {plated|}|zinc plated steel"),
    (Look, "nickel {bronze|brz|brass}|ni {brz|bronze}|{oil rubbed|oiled|antique} bronze|orb"),
    (
        Look,
        "polished|satin|rough|rgh|finish|finished|finishes|look|plated|painted|powder coated|white|black|color|colour|coated",
    ),
    (Plastic, "plastic|nylon|abs|polymer|composite"),
    (Pipe("PEX"), "pex|pex {a|b}|pe x"),
    (Pipe("CPVC"), "cpvc"),
    (Pipe("PVC"), "pvc"),
    (Pipe("polyethylene"), "hdpe|polyethylene|poly|pe pipe"),
    // Parts whose metal is a fact.
    (
        Part(Barrel),
        "barrel|body|bodied|construction|casing|csg|casing pipe|riser|corps|tuyau|matl|material|standpipe|tube|boitier",
    ),
    (
        Part(Fasteners),
        "screw|fastener|bolt|anchor|hardware|hdwe|{mounting|mtg|wood|machine|flange|tamper proof} {screw|fastener|bolt}|vis",
    ),
    (Part(Flange), "{wall |}{flange|face plate|faceplate}"),
    (Part(Stem), "stem|operating rod|rod|spindle|tige"),
    // What figures measure.
    (
        Measure(NominalLength),
        "long|length|lg|lgth|lng|de long|barrel length|nom length|nominal length|nominal|overall length|longueur|de longueur",
    ),
    (Measure(SeatDepth), "seat|seat depth|seat at|from {exterior |outside |}face"),
    (
        Measure(BuryDepth),
        "bury|depth of bury|deep bury|depth bury|bury depth|burial|burial depth|buried depth|profondeur d enfouissement|enfoui a|enfouissement",
    ),
    (
        Measure(SupplySize),
        "inlet|inlet size|conn|connection|supply|supply size|cw|dcw|cold water|pipe size|ips|nps|size|inlet connection|entree|alimentation|feed",
    ),
    (
        Measure(Height),
        "afg|{above|abv} {finish |finished |fin |}{grade|gr|grd}|above {paving|sidewalk|pavement|walk}|au dessus du {niveau du |}sol {fini|}",
    ),
    (
        Elsewhere,
        "aff|{above|abv} {finish |finished |fin |}{floor|slab|flr|fl|roof|roofing|deck|ceiling|clg|sink|counter}|afs|below {grade|slab|floor}|oc|on {center|centre|centers|centres}|c c|au dessus du plancher|mounting height|mtg ht|mounting ht|mtd",
    ),
    (
        Measure(SupplyInsulation),
        "{foam |rubber |elastomeric |}{pipe|piping|supply|tubing} {insulation|insul}",
    ),
    (Measure(BlockThickness), "block out|blockout"),
    // Inlets.
    (
        Joint("threaded"),
        "mpt|mip|mips|fip|fips|fpt|npt|fnpt|mnpt|{male|female} {npt|ips|thread|threaded}|{male|female|threaded} inlet|threaded|thrd|thd|filete",
    ),
    (Joint("sweat"), "{copper |cu |}{sweat|solder|swt}|soude|a souder"),
    (
        Joint("crimp"),
        "{pex |pex a |pex b |}{crimp|expansion|exp|barb|f1807|f1960}|pex {inlet|conn|connection}|{raccord |}{pex |}a sertir",
    ),
    (Joint("press"), "press {inlet|conn|connection|fit|}|pressed"),
    (Joint("push-fit"), "push {fit|to connect|on}"),
    (
        Joint("combination"),
        "combo inlet|combination inlet|{mpt|mip|fip|fpt|npt|threaded|thread} {x|or|and} {sweat|solder|cup|swt}|{mip|mpt} sweat",
    ),
    // Yes and no.
    (
        Yes(SelfDraining),
        "{self|auto|automatic|automatically} {drain|draining|drainage|drains}|drains {itself|automatically|by itself}|vidange automatique",
    ),
    (
        Yes(InsideStop),
        "{isolation|shutoff|shut off|stop} valve {on|at} {the |}{indoor|inside|interior|warm|heated} side {of wall|of the wall|}|robinet d arret {et de purge |et purge |}a l interieur|{inside|interior|indoor} {stop|shutoff|shut off|isolation|ball|sov} {valve|}|sov inside|{inside|interior} {stop|shutoff|shut off} and {waste|drain} {valve|}|{stop|shutoff|shut off} {valve |}{inside|indoors}|stop {and |}{waste|drain} {valve|}|stop {and |}{waste|drain} {valve |}inside|s w valve",
    ),
    (Yes(Cover), "{winter|frost|insulated|insulating|foam|faucet} cover"),
    (Yes(Gasket), "{neoprene |epdm |rubber |foam |flange |wall |}{gasket|gasketed}"),
    (
        Yes(HeatCable),
        "cable heat|{heat|heated} tape|self regulating heat trace|heat {cable|trace|traced|tracing|tape}|cable chauffant",
    ),
    (Yes(Sleeve), "{pvc |steel |pipe |wall |}{sleeve|sleeved}"),
    (Yes(CheckValve), "check valve"),
    (
        Yes(DrainsToSoil),
        "{drain|drains|drain hole|weep hole|weeps|weep|auto drain|draining|self draining|purge|drains through weep} {piped |at base |at bottom |}{to|into|in} {a |the |1 cu ft |1 cu ft of |2 cu ft |2 cu ft of |}{clear |crushed |washed |pea |drain |}{gravel|rock|stone|soil|ground|earth} {bed|pocket|pit|sump|}|{vidange|purge|drain|drainage} {dans|vers} {un |une |le |}{lit|puits|fosse} de {gravier|pierre}|gravel at {the |}weep {hole|}|{weeps|weep} {in|into} {the |}{ground|soil}",
    ),
    (
        No(DrainsToSoil),
        "{drain hole|weep hole|weep} {plugged|plug|tapped and plugged}|no weep {hole|into soil|}|no weep hole|non weeping|without weep hole",
    ),
    (
        Yes(UpstreamDevice),
        "{rpz|rp|rpba|reduced pressure zone|reduced pressure backflow preventer|bfp|backflow preventer} upstream|{protected by|protect with|protected with|downstream of} {a |an |the |}{rpz|rp|rpba|bfp|reduced pressure backflow preventer|backflow preventer|reduced pressure assembly|reduced pressure zone assembly}|{dispositif |}antirefoulement en amont|en aval d un {dispositif |}antirefoulement {a pression reduite|}",
    ),
    (Yes(Firestop), "{listed |}{firestop|fire stop|firestopping}"),
    (Yes(FireRated), "{1|2|3|4} {hr|hour} {rated |fire rated |}{exterior |}wall|fire rated wall"),
    (Word(StopAccess, "access panel"), "{with |}access {panel|door}|trappe d acces"),
    (
        Word(Blocking, "treated wood"),
        "{pt|treated|pressure treated|p t} {wood |}{blocking|block|lumber}|pressure treated",
    ),
    (Word(Serves, "irrigation"), "{for|serves|serving} {lawn |drip |}irrigation"),
    (Word(Cladding, "aluminum siding"), "{aluminum|alum|aluminium} siding|revetement d aluminium"),
];

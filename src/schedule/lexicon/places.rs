//! Where outlets are: words for rooms, for outdoors and for what is neither.

use super::Row;
use super::Sense::*;
use super::Where::*;

pub(super) const ROWS: &[Row] = &[
    (Space("garage"), "garage"),
    (Space("basement"), "basement|bsmt"),
    (Space("crawlspace"), "crawl space|crawl"),
    (
        Place(Indoors),
        "interior|indoor|indoors|inside|{boiler|mechanical|mech|equipment|equip|trash|refuse|laundry|utility|pump|fire pump|electrical|elec|janitor|jan|wash|locker|shower|toilet|rest|bath|powder|mop|service|storage|mud|prep|locker|treatment|lab|custodial|custodian|hose|chemical|filter|battery|linen|soiled|machine|vacuum pump|control|generator|valve|compressor|meter|riser|fan} {room|rooms|rm|rms|clo|closet|closets|area inside}|{jan|janitor|janitors|custodian|mech} {closet|clo}|boiler rm|laundry|kitchen|scullery|restroom|restrooms|bathroom|toilets|gang toilets|corridor|natatorium|arena|rink|gymnasium|locker rooms|penthouse|machine penthouse|room|rooms|rm|rms|closet|clo|wash bay|service bay|repair bay|apparatus bay|wash rack interior|mezzanine|{still|power|head|wash|boiler|filter|bath} house|bottling|packaging|canning|dish area|prep area|production floor|cold room|walk in cooler|elevator|stair|stairwell|nursery|gallery|sanctuary|nave|sacristy|stage|backstage|locker|back of house|boh|dining|bar|cafeteria|bakery|scrub area|sterile processing|autopsy|morgue|animal holding|vault|elevator pit|kennel|kennels|cage wash|brew house|brewhouse|cellar room|cold storage|cooler|freezer|gym|studio|classroom|lab|laboratory|dish room|dishwashing|dairy plant|barn interior|pool equipment room|hall|lounge|workshop|maintenance shop|shop|surgery|ward|clean room|dishpit|commissary|shop floor|tunnel|chase|pipe chase|plant|refrigeration plant|warehouse interior|milking pit|milking parlor|parlor pit|battery wash|process|production|showroom|lobby|vestibule|atrium|conservatory|greenhouse|change rooms|salle {mecanique|de bain|de lavage|d eau|electrique|de mecanique}|buanderie|cuisine|chaufferie|local {technique|d entretien|mecanique|a dechets}|sous sol|conciergerie|interieur|a l interieur|vestiaire|piscine interieure|{below|beneath|under} {lav|lavs|lavatory|lavatories|basins|sink|sinks|counter}|w r|keg cooler|washer|stacks|storeroom|{wet|wash} area|{truck|vehicle|apparatus} {bay|bays}|salles {a dechets|mecaniques|de bain}",
    ),
    (
        Place(Outdoors),
        "exterior|outdoor|outdoors|outside|ext|exter|site|yard|courtyard|patio|terrace|deck|pool deck|balcony|porch|facade|lawn|garden|roof|rooftop|parking|parking lot|loading dock|loading area|truck dock|docks|plaza|playground|entry walk|front|rear|north|south|east|west|north side|south side|east side|west side|landscape|driveway|street|alley|cemetery|beach|park|trailer lot|bus loop|dog run|dog park|pier|dock|dumpster|dumpster enclosure|trash enclosure|pavilion|gazebo|picnic|picnic area|ball field|ballfield|field|pasture|paddock|trail|marina|green roof|roof terrace|canopy|drive thru|drive through|sidewalk|walkway|court|tennis court|amphitheater|elevation|n elev|s elev|e elev|w elev|north elevation|south elevation|east elevation|west elevation|ne corner|nw corner|se corner|sw corner|n side|s side|e side|w side|northeast|northwest|southeast|southwest|front yard|rear yard|back yard|backyard|side yard|loading area exterior|truck court|ambulance bay|loading bay|areaway|light well|veranda|lanai|stoop|outdoor kitchen|pool area|pool equipment pad|equipment pad|equip pad|facade {nord|sud|est|ouest}|cour {arriere|avant|}|exterieur|jardin|toit|stationnement|terrasse|balcon|entree {principale|}|quai {de livraison|}|potager|{cote|murs} exterieur",
    ),
    (
        Place(Between),
        "parking garage|carport|carriage house|breezeway|barn|stable|hangar|shed|pump house|well house|unheated {storage|building|space|area}|stationnement interieur",
    ),
];

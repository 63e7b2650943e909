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
        "interior|indoor|indoors|inside|interior wall|{boiler|mechanical|mech|equipment|equip|trash|refuse|laundry|utility|pump|fire pump|electrical|elec|janitor|jan|wash|locker|shower|toilet|rest|bath|powder|mop|service|storage|mud|prep|locker|treatment|lab|custodial|custodian|hose|chemical|filter|battery|linen|soiled|machine|vacuum pump|control|generator|valve|compressor|meter|riser|fan} {room|rooms|rm|rms|clo|closet|closets|area inside}|{jan|janitor|janitors|custodian|mech} {closet|clo}|boiler rm|laundry|kitchen|scullery|restroom|restrooms|bathroom|toilets|gang toilets|corridor|natatorium|arena|rink|gymnasium|locker rooms|penthouse|machine penthouse|commissary|shop floor|tunnel|chase|pipe chase|plant|refrigeration plant|warehouse interior|milking pit|milking parlor|parlor pit|battery wash|process|production|showroom|lobby|vestibule|atrium|conservatory|greenhouse|change rooms|salle {mecanique|de bain|de lavage|d eau|electrique|de mecanique}|buanderie|cuisine|chaufferie|local {technique|d entretien|mecanique|a dechets}|sous sol|conciergerie|interieur|a l interieur|vestiaire|piscine interieure|below lavs|washer",
    ),
    (
        Place(Outdoors),
        "exterior|outdoor|outdoors|outside|ext|exter|exterior {wall|walls|face}|site|yard|courtyard|patio|terrace|deck|pool deck|balcony|porch|facade|lawn|garden|roof|rooftop|parking|parking lot|loading dock|loading area|truck dock|docks|plaza|playground|entry walk|carport|front|rear|north|south|east|west|north side|south side|east side|west side|landscape|driveway|street|alley|cemetery|beach|park|trailer lot|bus loop|bay|dog run|dog park|facade {nord|sud|est|ouest}|cour {arriere|avant|}|exterieur|jardin|toit|stationnement|terrasse|balcon|entree",
    ),
    (Place(Between), "parking garage|carriage house|breezeway"),
];

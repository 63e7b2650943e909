//! Rows that say two things, or more than is understood: nothing is assumed over them, and nothing of them is lost.

use crate::words::rows::{fact, opened, opened_from, review, word, world};
use coldsill::diag::Position;
use coldsill::expr::Value;
use coldsill::facts::Origin;
use coldsill::input;
use coldsill::review::Review;

/// A row with a wall whose usual space behind is a heated room.
fn placed(location: &str, remarks: &str) -> String {
    format!(
        "Mark,Location,Kind,Closes,Nominal length,Wall,Remarks\nA,{location},Frostproof sillcock,inside,12 in,2x6 siding,{remarks}\n"
    )
}

fn unused(review: &Review) -> Vec<(String, &'static str)> {
    review.unused.iter().map(|it| (it.text.to_string(), it.why)).collect()
}

fn comments(review: &Review, rule: &str) -> usize {
    let all = review.outlets.iter().flat_map(|it| &it.findings.comments);
    all.filter(|it| &*it.rule.id == rule && it.outcome == coldsill::ruleset::Outcome::Clarify).count()
}

#[test]
fn a_heated_room_is_not_assumed_if_words_name_another_place() {
    for (location, remarks, column) in [
        ("Garage", "", "Location"),
        ("Rear", "unheated garage", "Remarks"),
        ("Over crawlspace", "", "Location"),
        ("Rear", "in crawl space", "Remarks"),
        ("Detached pump house (unheated)", "", "Location"),
        ("Two-car GARAGES", "", "Location"),
        ("Rear", "cantilever floor over", "Remarks"),
        ("Screened porch", "", "Location"),
        ("Breezeway", "", "Location"),
        ("Cold storage", "", "Location"),
        ("Loading docks", "", "Location"),
        ("Soffit", "", "Location"),
        ("Free-standing pedestal", "", "Location"),
        ("Boat house", "", "Location"),
        ("Greenhouse", "", "Location"),
        ("Restroom building", "", "Location"),
        ("Seasonal cabin", "", "Location"),
        ("Ranger station (closed in winter)", "", "Location"),
        ("Rear", "winterized", "Remarks"),
    ] {
        let world = world(&placed(location, remarks));
        let (value, origin) = fact(&world, 0, "outlet.space_behind");
        assert_eq!(value, None, "{location} {remarks}");
        let Origin::Unreadable(place, text) = origin else { panic!("{location} {remarks}: {origin:?}") };
        assert_eq!(place.position, Position::Row(2, Some(column.into())));
        assert_eq!(&*text, if column == "Location" { location } else { remarks });
    }
}

#[test]
fn a_place_in_the_house_is_behind_a_heated_room_as_before() {
    for (location, remarks) in [
        ("Rear", ""),
        ("Barnes residence", ""),
        ("Shedd Street side", "overhang above"),
        ("Rear", "coordinate with roof leader"),
    ] {
        let world = world(&placed(location, remarks));
        let (value, origin) = fact(&world, 0, "outlet.space_behind");
        assert_eq!(value, word("heated room"), "{location}");
        assert!(matches!(origin, Origin::Assumed(_)), "{location}");
    }
}

#[test]
fn a_stated_space_wins_and_one_the_words_agree_with_is_assumed() {
    let stated = world("Mark,Location,Wall,Space behind\nA,Garage,2x6 siding,heated room\n");
    assert_eq!(fact(&stated, 0, "outlet.space_behind").0, word("heated room"));
    // The usual space behind a rim joist is a basement.
    let agrees =
        world("Mark,Location,Wall\nA,Basement stair,rim joist batt\nB,Unheated basement,rim joist batt\n");
    assert_eq!(fact(&agrees, 0, "outlet.space_behind").0, word("basement"));
    assert_eq!(fact(&agrees, 1, "outlet.space_behind").0, None);
}

#[test]
fn rows_with_different_words_for_their_place_differ() {
    let rows = "A,Garage,12 in,2x6 siding\nB,Barn,12 in,2x6 siding\nC,Rear,12 in,2x6 siding\n";
    let review = review(&format!("Mark,Location,Nominal length,Wall\n{rows}"));
    let [a, b, c] = [0, 1, 2].map(|at| &review.outlets[at].findings);
    assert!(![(a, b), (a, c), (b, c)].iter().any(|(one, other)| std::sync::Arc::ptr_eq(one, other)));
}

#[test]
fn figures_of_a_note_are_listed_as_not_used() {
    for (remark, words) in [
        ("seat 4 in from face", "seat 4 in from face"),
        ("1-1/2 in block-out behind flange", "1-1/2 in block-out"),
        ("12 in barrel", "12 in barrel"),
    ] {
        let told = unused(&review(&placed("Rear", remark)));
        assert!(told.iter().any(|(text, _)| text.contains(words)), "{remark}: {told:?}");
    }
    assert_eq!(unused(&review(&placed("Rear", "Front"))), []);
    let told = unused(&review(&placed("Rear", "see the owner's letter")));
    assert_eq!(told, [("see the owner's letter".into(), "is a remark; nothing is read from it")]);
}

#[test]
fn a_frostproof_kind_that_closes_at_the_face_is_a_comment() {
    let schedule = "Mark,Kind,Closes\nA,Frostproof sillcock,face\n";
    let told = fact(&world(schedule), 0, "outlet.description_disagrees").0;
    assert_eq!(told, word("Closes: \"face\" under Closes, \"Frostproof\" under Kind"));
    assert_eq!(comments(&review(schedule), "document/words-against-columns"), 1);
    for row in ["Frostproof sillcock,inside", "Sillcock,face", "Sillcock,inside", "Yard hydrant,below grade"]
    {
        let world = world(&format!("Mark,Kind,Closes\nA,{row}\n"));
        assert_eq!(fact(&world, 0, "outlet.description_disagrees").0, None, "{row}");
    }
}

#[test]
fn a_remark_that_denies_the_row_is_a_comment() {
    let with_column = world(&placed("Rear", "NOT FROSTPROOF"));
    let told = fact(&with_column, 0, "outlet.description_disagrees").0;
    assert_eq!(told, word("Closes: \"inside\" under Closes, \"NOT FROSTPROOF\" under Remarks"));
    let by_name = "Mark,Kind,Remarks\nA,Frostproof sillcock,NOT FROSTPROOF\n";
    assert_eq!(fact(&world(by_name), 0, "outlet.closes").0, None);
    assert_eq!(comments(&review(by_name), "document/words-against-columns"), 1);
    let barrel = world("Mark,Kind,Barrel,Remarks\nA,Wall hydrant,Stainless,not stainless\n");
    let told = fact(&barrel, 0, "outlet.description_disagrees").0;
    assert_eq!(told, word("Barrel: \"Stainless\" under Barrel, \"not stainless\" under Remarks"));
}

#[test]
fn a_plain_kind_with_unknown_words_has_no_assumed_closing() {
    let closes =
        |text: &str| fact(&world(&format!("Mark,Description\nA,\"{text}\"\n")), 0, "outlet.closes").0;
    assert_eq!(closes("heated hose bibb"), None);
    assert_eq!(closes("Gizmo sillcock, brass"), None);
    assert_eq!(closes("hose bibb, brass"), word("face"));
    for text in ["Sillcock fp 8\"\" brass", "FF sillcock", "Sillcock F.P."] {
        assert_eq!(closes(text), word("inside"), "{text}");
    }
}

#[test]
fn a_deleted_row_is_listed_with_its_reason() {
    let schedule = "Mark,Qty,Description,Remarks\n\
        D-1,1,\"frostproof sillcock, 12\"\"\",\n\
        D-2,1,\"frostproof sillcock, 12\"\"\",DELETED - see HB-1\n\
        D-3,1,\"frostproof sillcock, 12\"\"\",deleted per addendum 2\n\
        D-4,1,\"frostproof sillcock, 12\"\" - DELETED\",\n";
    let review = review(schedule);
    let marks: Vec<&str> = review.outlets.iter().map(|it| &*it.mark).collect();
    assert_eq!(marks, ["D-1"]);
    let texts: Vec<String> = unused(&review).into_iter().map(|(text, _)| text).collect();
    let wanted = [
        "D-2: DELETED - see HB-1",
        "D-3: deleted per addendum 2",
        "D-4: frostproof sillcock, 12\" - DELETED",
    ];
    assert_eq!(texts, wanted);
}

#[test]
fn what_is_taken_of_words_left_open_is_told() {
    let told = unused(&review("Mark,Description\nA,\"Gizmo sillcock 8\"\" brass\"\n"));
    let why = |text: &str| told.iter().find(|(it, _)| it == text).map_or("", |(_, why)| *why);
    assert!(why("Gizmo sillcock 8\" brass").starts_with("only the kind of faucet is read from it"));
    assert_eq!(why("Gizmo"), "unknown words");
    let told = unused(&review("Mark,Description\nA,\"Wall hydrant, brass by others\"\n"));
    assert!(told.iter().any(|(text, why)| text == "brass by others" && *why == "is not a value"));
}

#[test]
fn the_metal_of_a_riser_is_no_barrel_but_in_the_ground() {
    let barrel =
        |text: &str| fact(&world(&format!("Mark,Description\nA,\"{text}\"\n")), 0, "outlet.barrel").0;
    assert_eq!(barrel("Frostproof sillcock, copper riser"), None);
    assert_eq!(barrel("Yard hydrant, galvanized riser"), word("galvanized steel"));
}

#[test]
fn a_workbook_that_is_none_is_told_as_one() {
    for (name, bytes) in [("s.xlsx", &b"x"[..]), ("s.xlsx", b""), ("S.ODS", b"\x00\x01\x02\xff\xfe\x00")] {
        let problem = input::tables(name, bytes).unwrap_err();
        assert!(problem.to_string().contains("is not a workbook, or is damaged"), "{problem}");
    }
    // A table of text under a workbook's name is read.
    assert!(input::tables("s.xlsx", b"Mark,Kind\nA,Sillcock\n").is_ok());
}

#[test]
fn a_row_of_units_may_have_each_and_a_total_under_the_quantity() {
    let world = world("Mark,Qty,Kind,Nominal length\n,ea,,in\nA,2,Wall hydrant,10\n,TOTAL,,\n");
    assert_eq!(world.job().schedule.rows.len(), 1);
    let Some(Value::Quantity(length)) = fact(&world, 0, "outlet.nominal_length").0 else { panic!() };
    assert!((length.is - 10.0 * 0.0254).abs() < 1e-12);
    assert_eq!(*world.job().schedule.problems, []);
}

#[test]
fn an_answer_fills_a_space_that_words_leave_open() {
    let schedule = placed("Garage", "");
    let answers = "Fact,Marks,Response\noutlet.space_behind,A,heated room\n";
    let files = input::Memory::new().with("s.csv", schedule).with("a.csv", answers);
    let world = opened(files, &["a.csv".into()], "miami-fl");
    assert_eq!(fact(&world, 0, "outlet.space_behind").0, word("heated room"));
}

#[test]
fn a_wall_in_a_description_comes_before_the_default_wall() {
    let job = "climate: miami-fl\nschedule: s.csv\ndefaults: { wall: 2x6 siding }\n";
    let wall = |words: &str| {
        let schedule = format!("Mark,Description\nA,\"Frostproof sillcock, 12 in, brass, {words}\"\n");
        let files = input::Memory::new().with("job.yaml", job).with("s.csv", schedule);
        let world = opened_from("job.yaml", files, &[], "miami-fl");
        fact(&world, 0, "outlet.wall").0
    };
    for words in ["2x4 wall", "2x4 stud wall", "wall type W4"] {
        assert_eq!(wall(words), None, "{words}");
    }
    // The default wall has these studs.
    for words in ["2x6 wall", "2x6 exterior wall", "polished chrome"] {
        assert_eq!(wall(words), word("2x6 siding"), "{words}");
    }
}

#[test]
fn a_galvanized_and_a_second_metal_are_two_in_either_order() {
    for metals in ["Galv/SS", "SS/galv", "Galvanized & stainless", "Brass/Galv", "Copper/SS", "Galv/brass"] {
        for (column, name) in
            [("Barrel", "outlet.barrel"), ("Flange", "outlet.flange"), ("Fasteners", "outlet.fasteners")]
        {
            let world = world(&format!("Mark,Kind,{column}\nA,Frostproof wall hydrant,{metals}\n"));
            assert_eq!(fact(&world, 0, name).0, None, "{column} {metals}");
        }
    }
    let plated = world("Mark,Kind,Fasteners\nA,Frostproof wall hydrant,Galvanized steel\n");
    assert_eq!(fact(&plated, 0, "outlet.fasteners").0, word("galvanized steel"));
}

#[test]
fn a_yes_or_no_under_frostproof_is_where_it_closes() {
    let closes = |heading: &str, kind: &str, answer: &str| {
        fact(&world(&format!("Mark,Kind,{heading}\nA,{kind},{answer}\n")), 0, "outlet.closes").0
    };
    for heading in ["Frostproof", "Freezeproof", "Freeze-resistant"] {
        assert_eq!(closes(heading, "Hose bibb", "Yes"), word("inside"), "{heading}");
        assert_eq!(closes(heading, "Hose bibb", "N"), word("face"), "{heading}");
        assert_eq!(closes(heading, "Hose bibb", "TBD"), None, "{heading}");
        assert_eq!(closes(heading, "Yard hydrant", "Yes"), word("below grade"), "{heading}");
    }
    // Under these headings a yes may be of heat cable.
    assert_eq!(closes("Freeze protection", "Hose bibb", "Yes"), None);
    let schedule = "Mark,Kind,Frostproof\nA,Freeze-resistant wall hydrant,No\nB,Wall hydrant,Yes\n";
    assert_eq!(
        fact(&world(schedule), 0, "outlet.description_disagrees").0,
        word("Closes: \"No\" under Frostproof, \"Freeze-resistant\" under Kind")
    );
    assert_eq!(comments(&review(schedule), "document/words-against-columns"), 1);
}

//! Cells that cannot be read or cannot be right: no usual value stands in for them.

use crate::review::shared::{comment, review, world};
use coldsill::expr::Value;
use coldsill::input::Memory;
use coldsill::review::{self, OutletReview, Review};
use coldsill::ruleset::Outcome;

const NOT_KNOWN: &str = "document/seat-depth-not-known";

fn seat(outlet: &OutletReview) -> Option<f64> {
    let fact = outlet.findings.facts.iter().find(|it| &*it.name == "outlet.seat_depth")?;
    match &fact.value {
        Ok(Value::Quantity(quantity)) => Some(quantity.is / 0.0254),
        _ => None,
    }
}

fn with_products(products: &str, schedule: &str) -> Review {
    let job = "climate: minneapolis-mn\nschedule: s.csv\nproducts: outlets.csv\n";
    let files = Memory::new().with("job.yaml", job).with("outlets.csv", products).with("s.csv", schedule);
    review::run(&world(&files, "job.yaml", None))
}

#[test]
fn a_seat_offset_that_cannot_be_read_leaves_the_seat_unknown() {
    // 30 in is beyond what the heading takes.
    for offset in ["abc", "30 in"] {
        let row = review(
            &format!(
                "Mark,Kind,Closes,Wall,Nominal length,Seat offset\nA,sillcock,inside,2x6,10 in,{offset}\n"
            ),
            "minneapolis-mn",
        );
        let model = with_products(
            &format!("Model,Kind,Closes,Nominal length,Seat offset\nM-1,sillcock,inside,10 in,{offset}\n"),
            "Mark,Model,Wall\nA,M-1,2x6\n",
        );
        for review in [row, model] {
            let outlet = &review.outlets[0];
            assert_eq!(review.problems.len(), 1, "{offset}: {:?}", review.problems);
            assert_eq!(seat(outlet), None, "{offset}");
            assert_eq!(comment(outlet, NOT_KNOWN).outcome, Outcome::Clarify, "{offset}");
        }
    }
}

#[test]
fn a_seat_offset_beyond_the_nominal_length_gives_no_seat() {
    let row = review(
        "Mark,Kind,Closes,Wall,Nominal length,Seat offset\nA,sillcock,inside,2x6,4 in,5 in\n",
        "minneapolis-mn",
    );
    assert_eq!(seat(&row.outlets[0]), None);
    assert_eq!(comment(&row.outlets[0], NOT_KNOWN).outcome, Outcome::Clarify);
    let model = with_products(
        "Model,Kind,Closes,Nominal length,Seat offset\nM-1,sillcock,inside,4 in,5 in\n",
        "Mark,Model,Wall\nA,M-1,2x6\n",
    );
    let told: Vec<String> = model.problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        ["outlets.csv, row 2, column \"Seat offset\": \"5 in\" is longer than the nominal length"]
    );
    assert_eq!(seat(&model.outlets[0]), None);
}

#[test]
fn a_block_thicker_than_the_seat_is_deep_puts_the_seat_nowhere_in_the_wall() {
    let row = |closes: &str, seat: &str| {
        let schedule =
            format!("Mark,Kind,Closes,Wall,Seat depth,Block\nA,sillcock,{closes},2x6-siding,{seat},2 in\n");
        let review = review(&schedule, "minneapolis-mn");
        let facts = &review.outlets[0].findings.facts;
        let fact = facts.iter().find(|it| &*it.name == "detail.seat_from_wall_face");
        fact.map(|it| it.value.clone()).expect("the seat's place is read")
    };
    let Err(absence) = row("inside", "1 in") else {
        panic!("a seat before the wall's face has no place in it")
    };
    assert!(format!("{absence:?}").contains("the block is thicker than the seat is deep"), "{absence:?}");
    assert!(row("inside", "3 in").is_ok());
}

#[test]
fn a_models_seat_depth_is_not_that_of_another_length() {
    let products = "Model,Kind,Closes,Nominal length,Seat depth,Seat offset\n\
                    PLAIN,sillcock,inside,10 in,9.5 in,\nWITH,sillcock,inside,10 in,9.5 in,1/2 in\n";
    let schedule = "Mark,Model,Wall,Nominal length\nA,PLAIN,2x6,6 in\nB,WITH,2x6,6 in\nC,PLAIN,2x6,10 in\n\
                    D,PLAIN,2x6,six\n";
    let review = with_products(products, schedule);
    let seats: Vec<_> = review.outlets.iter().map(|it| seat(it).map(|it| (it * 100.0).round())).collect();
    // 6 in less the usual 3/4 in; 6 in less the model's own 1/2 in; the model's; a length that cannot be read.
    assert_eq!(seats, [Some(525.0), Some(550.0), Some(950.0), None]);
    let told: Vec<String> = review.problems.iter().map(ToString::to_string).collect();
    let dropped = told.iter().filter(|it| it.ends_with("and the model's seat depth is not")).count();
    assert_eq!(dropped, 2, "{told:?}");
}

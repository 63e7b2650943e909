//! Product data: what a model brings to a row, and what is told where the two disagree.

use crate::review::shared::{SEAT, comment, world};
use coldsill::expr::Value;
use coldsill::facts::Origin;
use coldsill::input::Memory;
use coldsill::review::{self, OutletReview, Review, Shown};
use coldsill::ruleset::Outcome;

const OUTLETS: &str = "Model,Kind,Nominal length,Seat offset,Barrel,Barrel thickness,Backflow device,Self-draining\n\
                       GEN-10-SS,Frostproof wall hydrant,10 in,3/4 in,Stainless,0.049 in,ASSE 1019-A,yes\n\
                       GEN-12-BR,Frostproof sillcock,12 in,1 in,Brass,,ASSE 1019-A,yes\n";

fn files(more: &str, outlets: &str, schedule: &str) -> Memory {
    let job = format!("climate: chicago-il\nschedule: s.csv\nproducts: outlets.csv\n{more}");
    Memory::new().with("job.yaml", job).with("outlets.csv", outlets).with("s.csv", schedule)
}

fn reviewed(more: &str, outlets: &str, schedule: &str) -> Review {
    review::run(&world(&files(more, outlets, schedule), "job.yaml", None))
}

fn fact<'r>(outlet: &'r OutletReview, name: &str) -> &'r Shown {
    outlet.findings.facts.iter().find(|it| &*it.name == name).unwrap_or_else(|| panic!("{name} was not read"))
}

fn inches(shown: &Shown) -> f64 {
    match &shown.value {
        Ok(Value::Quantity(quantity)) => quantity.is / 0.0254,
        other => panic!("{other:?}"),
    }
}

fn word(shown: &Shown) -> &str {
    match &shown.value {
        Ok(Value::Text(text)) => text,
        other => panic!("{other:?}"),
    }
}

fn problems(review: &Review) -> Vec<String> {
    review.problems.iter().map(ToString::to_string).collect()
}

#[test]
fn row_with_only_a_model_is_reviewed_like_a_full_row() {
    let by_model = reviewed(
        "",
        OUTLETS,
        "Mark,Model,Wall,Supply,Supply insulation\nA,gen 10 ss,rim joist batt,copper,none\n",
    );
    let said = reviewed(
        "",
        OUTLETS,
        "Mark,Kind,Seat depth,Nominal length,Barrel,Barrel thickness,Backflow device,Self-draining,Wall,Supply,Supply insulation\n\
         A,Frostproof wall hydrant,9.25 in,10 in,Stainless,0.049 in,ASSE 1019-A,yes,rim joist batt,copper,none\n",
    );
    assert_eq!(problems(&by_model), [""; 0]);
    let outcomes = |review: &Review| -> Vec<_> {
        let comments = review.outlets[0].findings.comments.iter().map(|it| (it.rule.id.clone(), it.outcome));
        comments.filter(|it| !matches!(it.1, Outcome::NoComment | Outcome::DoesNotApply)).collect()
    };
    assert!(!outcomes(&said).is_empty());
    assert_eq!(outcomes(&by_model), outcomes(&said));
    let temperature = |review: &Review| fact(&review.outlets[0], "heat.seat_temperature").value.clone();
    assert_eq!(temperature(&by_model), temperature(&said));
}

#[test]
fn what_comes_from_product_data_says_where_it_stands() {
    let review = reviewed("", OUTLETS, "Mark,Model,Wall\nA,GEN-12-BR,2x6\n");
    let barrel = fact(&review.outlets[0], "outlet.barrel");
    let Origin::Product(location, text) = &barrel.origin else { panic!("{:?}", barrel.origin) };
    assert_eq!((location.to_string().as_str(), &**text), ("outlets.csv, row 3, column \"Barrel\"", "Brass"));
    // Its words tell where it closes, as a schedule's would.
    assert_eq!(word(fact(&review.outlets[0], "outlet.closes")), "inside");
    // What the model does not say stays assumed.
    assert!(matches!(fact(&review.outlets[0], "outlet.barrel_thickness").origin, Origin::Assumed(_)));
}

#[test]
fn seat_depth_is_nominal_length_less_the_models_offset() {
    let review = reviewed("", OUTLETS, "Mark,Model,Wall\nA,GEN-10-SS,2x6\n");
    let seat = fact(&review.outlets[0], "outlet.seat_depth");
    assert!((inches(seat) - 9.25).abs() < 1e-9);
    assert!(matches!(seat.origin, Origin::Computed(_)), "{:?}", seat.origin);
    assert!(review.assumed.iter().all(|it| &*it.fact.name != "outlet.seat_depth"));
}

#[test]
fn the_row_comes_before_the_model_and_the_model_before_the_job() {
    let review = reviewed(
        "defaults: { Barrel: copper, Supply: PEX }\n",
        OUTLETS,
        "Mark,Model,Wall,Self-draining\nA,GEN-12-BR,2x6,yes\nB,,2x6,\n",
    );
    assert_eq!(problems(&review), [""; 0]);
    let world = world(
        &files(
            "defaults: { Barrel: copper }\n",
            OUTLETS,
            "Mark,Model,Wall,Barrel\nA,GEN-12-BR,2x6,stainless\nB,GEN-12-BR,2x6,\nC,,2x6,\n",
        ),
        "job.yaml",
        None,
    );
    let barrels: Vec<String> = world
        .job()
        .schedule
        .rows
        .iter()
        .map(|row| {
            let slot =
                coldsill::facts::CATALOGUE.iter().position(|it| it.def.name == "outlet.barrel").unwrap();
            match &world.given_facts(row)[slot].as_ref().unwrap().value {
                Ok(Value::Text(word)) => word.to_string(),
                other => panic!("{other:?}"),
            }
        })
        .collect();
    assert_eq!(barrels, ["stainless", "brass", "copper"]);
}

#[test]
fn a_cell_that_contradicts_its_model_is_told_and_stands() {
    let review = reviewed(
        "",
        OUTLETS,
        "Mark,Model,Wall,Nominal length,Barrel\nA,GEN-10-SS,2x6,8 in,ss\nB,GEN-10-SS,2x6,254 mm,copper\n",
    );
    assert_eq!(
        problems(&review),
        [
            "s.csv, row 2, column \"Nominal length\": \"8 in\" contradicts the product data of GEN-10-SS, \"10 in\" \
             (outlets.csv, row 2, column \"Nominal length\"); the schedule's is used",
            "s.csv, row 3, column \"Barrel\": \"copper\" contradicts the product data of GEN-10-SS, \"Stainless\" \
             (outlets.csv, row 2, column \"Barrel\"); the schedule's is used",
        ]
    );
    assert!((inches(fact(&review.outlets[0], "outlet.seat_depth")) - 7.25).abs() < 1e-9);
    assert_eq!(word(fact(&review.outlets[1], "outlet.barrel")), "copper");
}

#[test]
fn a_seat_depth_that_the_models_offset_does_not_give_is_told() {
    let review =
        reviewed("", OUTLETS, "Mark,Model,Wall,Seat depth\nA,GEN-10-SS,2x6,7 in\nB,GEN-10-SS,2x6,9 1/4 in\n");
    assert_eq!(
        problems(&review),
        [
            "s.csv, row 2, column \"Seat depth\": \"7 in\" contradicts the product data of GEN-10-SS, \"nominal length less \
          3/4 in\" (outlets.csv, row 2, column \"Seat offset\"); the schedule's is used"
        ]
    );
}

#[test]
fn a_cell_that_cannot_be_read_is_not_filled_from_the_model() {
    let review = reviewed("", OUTLETS, "Mark,Model,Wall,Barrel\nA,GEN-10-SS,2x6,stanless\n");
    let barrel = fact(&review.outlets[0], "outlet.barrel");
    assert!(barrel.value.is_err() && matches!(barrel.origin, Origin::Unreadable(..)), "{barrel:?}");
}

#[test]
fn unknown_model_suggests_the_nearest() {
    let review = reviewed("", OUTLETS, "Mark,Model,Kind,Closes,Wall\nA,GEN-10-SX,wall hydrant,inside,2x6\n");
    assert_eq!(
        problems(&review),
        [
            "s.csv, row 2, column \"Model\": \"GEN-10-SX\" is not a model of outlets.csv; did you mean \"GEN-10-SS\"?"
        ]
    );
    assert_eq!(comment(&review.outlets[0], SEAT).outcome, Outcome::Clarify);
}

#[test]
fn unused_model_and_model_without_data_are_accepted() {
    let review = reviewed("", OUTLETS, "Mark,Kind,Wall\nA,sillcock,2x6\n");
    assert_eq!((problems(&review).len(), review.unused.len()), (0, 0));
    let files = Memory::new().with("s.csv", "Mark,Model,Kind\nA,GEN-10-SX,sillcock\n");
    assert_eq!(problems(&review::run(&world(&files, "s.csv", Some("miami-fl")))), [""; 0]);
}

#[test]
fn the_job_may_name_the_model_of_rows_that_name_none() {
    let review = reviewed("defaults: { Model: GEN-10-SS }\n", OUTLETS, "Mark,Wall\nA,2x6\n");
    assert_eq!(word(fact(&review.outlets[0], "outlet.barrel")), "stainless");
}

#[test]
fn second_description_of_a_model_is_reported() {
    let outlets = "Model,Barrel,Wall\nGEN-1,brass,2x6\ngen 1,copper,\n";
    let review = reviewed("", outlets, "Mark,Model,Kind\nA,GEN-1,sillcock\n");
    assert_eq!(
        problems(&review),
        [
            "outlets.csv, row 3, column \"Model\": \"gen 1\" is a model described twice; nothing in which the two \
          differ is used"
        ]
    );
    assert!(fact(&review.outlets[0], "outlet.barrel").value.is_err());
    let unused: Vec<_> = review.unused.iter().map(|it| (it.location.to_string(), it.why)).collect();
    assert_eq!(
        unused,
        [(
            "outlets.csv, row 2, column \"Wall\"".to_owned(),
            "product data says what a faucet is, not where it goes"
        )]
    );
}

#[test]
fn of_two_descriptions_of_a_model_only_what_both_say_is_used() {
    let outlets = "Model,Nominal length,Barrel,Backflow device,Self-draining\n\
                   GEN-1,10 in,brass,ASSE 1019-A,yes\nGEN-1,10 in,brass,none,\nGEN-1,12 in,brass,none,yes\n";
    let review = reviewed("", outlets, "Mark,Model,Nominal length\nA,GEN-1,10 in\nB,GEN-1,12 in\n");
    let of = |row: usize, name| &fact(&review.outlets[row], name).value;
    assert_eq!(word(fact(&review.outlets[0], "outlet.barrel")), "brass");
    assert!(of(0, "outlet.backflow_device").is_err() && of(0, "outlet.self_draining").is_err());
    // The other length is described once.
    assert_eq!(word(fact(&review.outlets[1], "outlet.backflow_device")), "none");
}

#[test]
fn a_model_in_doubt_is_not_looked_up() {
    for model in ["GEN-12-BR?", "GEN-12-BR*", "~GEN-12-BR"] {
        let review = reviewed("", OUTLETS, &format!("Mark,Model,Wall\nA,{model},2x6\n"));
        assert!(fact(&review.outlets[0], "outlet.barrel").value.is_err(), "{model}");
        assert_eq!(
            problems(&review),
            [format!(
                "s.csv, row 2, column \"Model\": \"{model}\" is doubtful, not final; nothing of the product data is \
                 used; did you mean \"GEN-12-BR\"?"
            )]
        );
    }
}

#[test]
fn product_data_may_be_written_as_yaml_or_into_the_job() {
    let models = "GEN-10-SS: { Kind: Frostproof wall hydrant, Nominal length: 10 in, Seat offset: 3/4 in, Barrel: ss }\n";
    let schedule = "Mark,Model,Wall\nA,GEN-10-SS,2x6\n";
    let job = "climate: chicago-il\nschedule: s.csv\nproducts: ";
    let file = Memory::new()
        .with("job.yaml", format!("{job}outlets.yaml\n"))
        .with("outlets.yaml", models)
        .with("s.csv", schedule);
    let within = Memory::new().with("job.yaml", format!("{job}\n  {models}")).with("s.csv", schedule);
    for (files, from) in [(file, "outlets.yaml, line 1"), (within, "job.yaml, line 4")] {
        let review = review::run(&world(&files, "job.yaml", None));
        assert_eq!(problems(&review), [""; 0]);
        assert!((inches(fact(&review.outlets[0], "outlet.seat_depth")) - 9.25).abs() < 1e-9);
        let Origin::Product(location, _) = &fact(&review.outlets[0], "outlet.barrel").origin else {
            panic!()
        };
        assert!(location.to_string().starts_with(from), "{location}");
    }
}

#[test]
fn product_data_example_has_its_two_errors() {
    let read = |name: &str| {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/product-data");
        std::fs::read_to_string(folder.join(name)).unwrap()
    };
    let files = ["job.yaml", "outlets.csv", "schedule.csv"]
        .into_iter()
        .fold(Memory::new(), |files, name| files.with(name, read(name)));
    let told = problems(&review::run(&world(&files, "job.yaml", None)));
    let [length, model] = told.as_slice() else { panic!("{told:?}") };
    assert!(length.contains("\"10 in\" contradicts the product data of GEN-12-BR"), "{length}");
    assert!(model.contains("did you mean \"GEN-12-BR\"?"), "{model}");
}

/// A model with a line for each length takes the seat depth of the length that a row orders; a row that orders none takes
/// only what all lengths have in common.
#[test]
fn a_model_has_a_seat_depth_for_each_length() {
    let files = Memory::new()
        .with(
            "p.csv",
            "Model,Closes,Nominal length,Seat depth,Barrel\nGEN,Inside,8 in,7 1/4 in,Brass\nGEN,Inside,12 in,11 in,\n",
        )
        .with("job.yaml", "climate: kansas-city-mo\nproducts: p.csv\nschedule: s.csv\n")
        .with("s.csv", "Mark,Model,Nominal length,Kind\nA,GEN,12 in,sillcock\nB,GEN,8 in,sillcock\nC,GEN,,sillcock\n");
    let world = world(&files, "job.yaml", None);
    let seat = coldsill::facts::slot_named("outlet.seat_depth").expect("a fact");
    let barrel = coldsill::facts::slot_named("outlet.barrel").expect("a fact");
    let rows = &world.job().schedule.rows;
    let stated =
        |row: usize, slot: coldsill::expr::Slot| world.given_facts(&rows[row])[usize::from(slot.0)].clone();
    let inches = |row| match stated(row, seat).map(|fact| fact.value) {
        Some(Ok(Value::Quantity(quantity))) => Some(quantity.is / 0.0254),
        _ => None,
    };
    assert!((inches(0).expect("a depth") - 11.0).abs() < 1e-9);
    assert!((inches(1).expect("a depth") - 7.25).abs() < 1e-9);
    assert_eq!(inches(2), None);
    // What one length leaves blank is not what all of them are.
    assert_eq!([0, 1, 2].map(|row| stated(row, barrel).is_some()), [false, true, false]);
}

/// In a file of models as keys, too.
#[test]
fn words_of_product_data_are_weighed_against_its_facts() {
    for (words, told) in [
        ("Finish: not frostproof", Some("Closes: \"inside\"")),
        ("Notes: discontinued", Some("Remark: \"discontinued\"")),
        ("Description: hose bibb, no vacuum breaker", Some("Backflow device: \"ASSE 1019-A\"")),
        ("Finish: chrome", None),
    ] {
        let model = format!(
            "GEN-1:\n  Kind: wall hydrant\n  Closes: inside\n  Backflow device: ASSE 1019-A\n  {words}\n"
        );
        let files = Memory::new()
            .with("job.yaml", "climate: chicago-il\nschedule: s.csv\nproducts: models.yaml\n")
            .with("models.yaml", model)
            .with("s.csv", "Mark,Model\nA,GEN-1\n");
        let review = review::run(&world(&files, "job.yaml", None));
        let said = review.outlets[0].fact("outlet.description_disagrees").map(|it| it.value);
        match (told, said) {
            (None, None | Some(Err(_))) => {}
            (Some(told), Some(Ok(Value::Text(text)))) => assert!(text.contains(told), "{words}: {text}"),
            (told, said) => panic!("{words}: {told:?}, {said:?}"),
        }
    }
}

#[test]
fn lines_above_a_list_of_models_that_say_it_does_not_stand_are_listed() {
    let review = reviewed(
        "",
        "PRELIMINARY - DO NOT USE\nModel,Kind,Barrel\nGEN-1,wall hydrant,Brass\n",
        "Mark,Model\nA,GEN-1\n",
    );
    let told: Vec<String> = review.unused.iter().map(|it| format!("{}: {}", it.location, it.text)).collect();
    assert_eq!(told, ["outlets.csv, row 1: PRELIMINARY - DO NOT USE"]);
}

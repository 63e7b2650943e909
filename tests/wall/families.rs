//! Words that many walls go by: the wall is asked for, with those that it may be.

use crate::schedule::common::world;
use coldsill::expr::Value;
use coldsill::review::{self, Review};

fn reviewed(walls: &[&str]) -> Review {
    let mut schedule = "Mark,Kind,Closes,Nominal length,Barrel,Supply,Wall\n".to_owned();
    for wall in walls {
        let quoted = wall.replace('"', "\"\"");
        schedule.push_str(&format!("A,sillcock,inside,8 in,copper,copper,\"{quoted}\"\n"));
    }
    review::run(&world("s.csv", schedule.as_bytes(), None).unwrap_or_else(|problems| panic!("{problems:?}")))
}

#[test]
fn a_word_that_many_walls_go_by_asks_which() {
    for (word, one) in [
        ("rim joist", "rim-joist-foam"),
        ("Rim-joist above basement", "rim-joist-bare"),
        ("block", "block-8-filled"),
        ("8\" CMU", "block-8-bare"),
        ("8\" CMU w/ 2\" rigid insulation", "block-8-exterior-insulation"),
        ("metal stud", "steel-stud-4-ci-brick"),
        ("stucco", "2x6-stucco"),
        ("garage wall", "garage-2x4-bare"),
    ] {
        let review = reviewed(&[word]);
        assert!(review.outlets[0].fact("outlet.wall").is_none_or(|wall| wall.value.is_err()), "{word}");
        let question = review.questions.iter().find(|question| &*question.fact == "outlet.wall");
        let choices = question.map(|question| question.choices.as_slice()).unwrap_or_default();
        assert!(choices.len() > 1 && choices.contains(&Value::Text(one.into())), "{word}: {choices:?}");
        let problems: Vec<String> = review.problems.iter().map(ToString::to_string).collect();
        assert!(problems.len() == 1 && problems[0].contains("how the wall is built"), "{problems:?}");
    }
}

#[test]
fn studs_alone_stand_for_their_usual_wall_and_are_noted_once() {
    let review = reviewed(&["2x6", "2x6", "2x6 siding"]);
    let notes: Vec<String> = review.notes.iter().map(|note| format!("{} {}", note.text, note.what)).collect();
    assert_eq!(notes, ["2x6 names only studs; 2x6-siding is assumed in 2 rows"]);
}

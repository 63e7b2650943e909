//! What is decided where the limit lies within the uncertainty of the calculation, and what ice is said to do.

use crate::review::shared::{SEAT, comment, review};
use coldsill::ruleset::Outcome;
use std::path::Path;

/// A brass outlet in a rim joist on copper, of some lengths, in Minneapolis (design low -32 °F).
fn in_rim(more: &str, rows: &[&str]) -> coldsill::review::Review {
    let mut schedule = format!("Mark,Kind,Wall,Barrel,Supply,Supply insulation,{more}\n");
    for row in rows {
        schedule.push_str(&format!("A,frostproof sillcock,rim-joist-batt,brass,copper,none,{row}\n"));
    }
    review(&schedule, "minneapolis-mn")
}

#[test]
fn a_best_estimate_below_freezing_is_revised_a_cold_end_above_is_silent() {
    // Seats of the calculation sheet: 8 in 30 °F (22 to 33), 10 in 39 (31 to 41), 12 in 44 (37 to 47).
    let review = in_rim("Nominal length", &["8 in", "10 in", "12 in"]);
    let outcomes: Vec<Outcome> = review.outlets.iter().map(|it| comment(it, SEAT).outcome).collect();
    assert_eq!(outcomes, [Outcome::Revise, Outcome::Clarify, Outcome::NoComment]);
}

#[test]
fn between_them_only_facts_that_can_decide_are_asked_for_three_at_most() {
    let review = in_rim("Nominal length", &["10 in"]);
    let open = comment(&review.outlets[0], SEAT).open.clone().expect("it is close");
    assert!(!open.missing.is_empty() && open.missing.len() <= 3);
    for (_, settled) in &open.decided_by {
        assert!(settled.iter().any(|it| it.outcome != Outcome::Advise), "{settled:?}");
    }
}

#[test]
fn with_everything_stated_a_close_call_is_advised() {
    let everything = "Seat depth,Inlet insulation,Barrel thickness,Barrel diameter,Stem,Stem diameter,Inlet length,Inlet \
                      metal,Air sealed,Gasket";
    let stated = "8 in,packed around,0.045 in,7/8 in,brass,9/32 in,1 1/2 in,brass,yes,no";
    let review = in_rim(everything, &[stated]);
    let comment = comment(&review.outlets[0], SEAT);
    assert_eq!(comment.outcome, Outcome::Advise, "{:?}", comment.values);
    assert!(comment.open.as_ref().is_some_and(|it| it.missing.is_empty() && !it.close.is_empty()));
}

/// A rule may say that a tube splits or bursts only where it says what shuts the water in.
#[test]
fn no_rule_text_claims_damage_from_ice_alone() {
    const DAMAGE: [&str; 5] = ["split", "burst", "damage", "crack", "ruptur"];
    const SHUT_IN: [&str; 7] = [
        "shut in",
        "shuts water in",
        "trapped",
        "closed",
        "no burst pressure",
        "bursts nothing",
        "burst pressure is known",
    ];
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
    let mut read = 0;
    for file in std::fs::read_dir(folder).expect("the rules are there").flatten() {
        if file.path().extension().is_none_or(|it| it != "yaml") {
            continue;
        }
        let text = std::fs::read_to_string(file.path()).expect("a rule file");
        for line in text.lines().map(str::trim) {
            let is_text =
                ["title:", "why:", "says:", "remedy:", "- \""].iter().any(|it| line.starts_with(it));
            if is_text && DAMAGE.iter().any(|it| line.contains(it)) {
                read += 1;
                assert!(
                    SHUT_IN.iter().any(|it| line.to_lowercase().contains(it)),
                    "{}: {line}",
                    file.path().display()
                );
            }
        }
    }
    assert!(read > 3, "{read}");
}

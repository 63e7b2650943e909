//! What a job states of the spaces behind its outlets: it decides results, so every page says it.

use crate::expr::Value;
use crate::facts::Origin;
use crate::review::Review;
use std::collections::BTreeSet;
use std::sync::Arc;

/// "heated room 66 °F, crawlspace 20 %", of the spaces that rows use; none if all of it is assumed.
pub(super) fn stated(review: &Review) -> Option<Vec<Arc<str>>> {
    let mut figures: Vec<Arc<str>> = Vec::new();
    for outlet in &review.outlets {
        let Some(Ok(Value::Text(space))) = outlet.fact("outlet.space_behind").map(|it| it.value) else {
            continue;
        };
        let [room, share] = ["space.room_temperature", "space.share"].map(|name| outlet.fact(name));
        // A space without heat of its own follows the heated room.
        let follows = share.as_ref().is_some_and(|it| !matches!(it.origin, Origin::Computed(_)));
        let room_named = if follows { "heated room" } else { &*space };
        for (name, fact) in [(room_named, room), (&*space, share)] {
            if let Some(Origin::Job(_, text)) = fact.map(|it| it.origin) {
                figures.push(format!("{name} {text}").into());
            }
        }
    }
    let mut seen = BTreeSet::new();
    figures.retain(|figure| seen.insert(figure.clone()));
    (!figures.is_empty()).then_some(figures)
}

/// The same as an entry behind what is assumed.
pub(super) fn entry(review: &Review) -> Option<(Arc<str>, Vec<Arc<str>>)> {
    Some(("The job states".into(), stated(review)?))
}

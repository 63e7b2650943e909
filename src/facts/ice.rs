//! Freezing in time: when ice forms in a cold spell, when it shuts the bore, and when it is gone.

use super::reading::Outlet;
use super::spell::{self, Case, State};
use super::{Answers, Def, Kind, Source, toward};
use crate::expr::{Gap, Reading, Slot, Value};
use crate::section::{Course, Goal};
use crate::units::{Dim, Measure, Quantity, Rounding};

const HOUR: f64 = 3600.0;
const TIME: Kind = Kind::Quantity(Measure::Of(Dim::TIME));
const LENGTH: Kind = Kind::Quantity(Measure::Of(Dim::LENGTH));
const RATIO: Kind = Kind::Quantity(Measure::Of(Dim::NONE));
const NO_ICE: &str = "no ice forms in the cold spell";
const OPEN: &str = "the bore is not blocked in the cold spell";
/// The setting that says how long heat may be out.
pub(super) const POWER_CUT: &str = "freezing/power_cut";

pub(super) static DEFS: &[Def] = &[
    yes_no(
        "ice.blocked",
        "whether ice shuts the bore somewhere in the design cold spell, as the outlet stands",
        |outlet, own| blocked(outlet, own, State::AsItStands),
    ),
    hours(
        "ice.first_after",
        "time from the start of the cold spell until some water begins to freeze",
        |outlet, own| first(outlet, own, State::AsItStands),
    ),
    hours(
        "ice.blocked_after",
        "time from the start of the cold spell until ice shuts the bore somewhere",
        |outlet, own| blocked_after(outlet, own, State::AsItStands),
    ),
    length(
        "ice.plug_length",
        "the longest stretch of bore that ice shuts in the cold spell",
        |outlet, own| plug(outlet, own, State::AsItStands),
    ),
    share(
        "ice.share_frozen",
        "the most of the outlet's water that is ice at once: of the water between the face and the inside of the wall",
        |outlet, own| most_frozen(outlet, own, State::AsItStands),
    ),
    later(
        "ice.clears_after",
        "time from the start of the cold spell until all ice is gone again",
        |outlet, own| clears(outlet, own, State::AsItStands),
    ),
    Def {
        name: "ice.in_words",
        about: "what the cold spell does, in a sentence",
        source: Source::Computed(Kind::Text, |outlet, own| in_words(outlet, own, State::AsItStands)),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "ice.hose_on_in_words",
        about: "what the cold spell does with a hose left on, in a sentence",
        source: Source::Computed(Kind::Text, |outlet, own| in_words(outlet, own, State::HoseOn)),
        answers: Answers::Open,
        show: None,
    },
    yes_no(
        "ice.hose_on_blocked",
        "whether ice shuts the bore in the design cold spell with a hose left on, so that the barrel stays full",
        |outlet, own| blocked(outlet, own, State::HoseOn),
    ),
    hours(
        "ice.hose_on_first_after",
        "time until some water begins to freeze with a hose left on",
        |outlet, own| first(outlet, own, State::HoseOn),
    ),
    hours(
        "ice.hose_on_blocked_after",
        "time until ice shuts the bore somewhere with a hose left on",
        |outlet, own| blocked_after(outlet, own, State::HoseOn),
    ),
    length(
        "ice.hose_on_plug_length",
        "the longest stretch of bore that ice shuts with a hose left on",
        |outlet, own| plug(outlet, own, State::HoseOn),
    ),
    share(
        "ice.hose_on_share_frozen",
        "the most of the outlet's water that is ice at once with a hose left on",
        |outlet, own| most_frozen(outlet, own, State::HoseOn),
    ),
    later(
        "ice.hose_on_clears_after",
        "time until all ice is gone again with a hose left on",
        |outlet, own| clears(outlet, own, State::HoseOn),
    ),
    yes_no(
        "ice.uncovered_blocked",
        "whether ice shuts the bore in the design cold spell without its cover",
        |outlet, own| blocked(outlet, own, State::Uncovered),
    ),
    hours(
        "ice.uncovered_blocked_after",
        "time until ice shuts the bore somewhere without its cover",
        |outlet, own| blocked_after(outlet, own, State::Uncovered),
    ),
    yes_no(
        "ice.power_cut_blocked",
        "whether ice shuts the bore while heat is out for as long as the rules ask, in the design cold spell",
        |outlet, own| blocked(outlet, own, State::PowerCut),
    ),
    hours(
        "ice.power_cut_blocked_after",
        "time from the loss of heat, as the cold has arrived, until ice shuts the bore somewhere",
        |outlet, own| {
            let Value::Quantity(time) = blocked_after(outlet, own, State::PowerCut)? else {
                return Err(Gap::missing(own));
            };
            let from_cut = (time.is - spell::CUT_AT).max(0.0);
            Ok(Value::Quantity(Quantity::of(from_cut, Dim::TIME)))
        },
    ),
];

type Compute = fn(&Outlet<'_>, Slot) -> Reading;

const fn computed(name: &'static str, about: &'static str, kind: Kind, compute: Compute) -> Def {
    Def { name, about, source: Source::Computed(kind, compute), answers: Answers::Open, show: None }
}

const fn yes_no(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed(name, about, Kind::YesNo, compute)
}

/// Sooner is the safe side.
const fn hours(name: &'static str, about: &'static str, compute: Compute) -> Def {
    Def { show: toward(("h", 1), ("h", 1), Rounding::Down), ..computed(name, about, TIME, compute) }
}

const fn later(name: &'static str, about: &'static str, compute: Compute) -> Def {
    Def { show: toward(("h", 0), ("h", 0), Rounding::Up), ..computed(name, about, TIME, compute) }
}

const fn length(name: &'static str, about: &'static str, compute: Compute) -> Def {
    Def { show: toward(("in", 1), ("mm", 0), Rounding::Up), ..computed(name, about, LENGTH, compute) }
}

const fn share(name: &'static str, about: &'static str, compute: Compute) -> Def {
    Def { show: toward(("%", 0), ("%", 0), Rounding::Up), ..computed(name, about, RATIO, compute) }
}

/// Whether the bore is blocked at both ends of the band. Colder outdoors never lets a bore block later, so that what
/// holds at the far end holds within: mostly one end tells.
fn blocked(outlet: &Outlet<'_>, own: Slot, state: State) -> Reading {
    let case = Case::of(outlet, own, state)?;
    let [cold, _, warm] = case.shifts();
    if case.blocks(warm, own)? {
        return Ok(Value::YesNo(true));
    }
    if !case.blocks(cold, own)? {
        return Ok(Value::YesNo(false));
    }
    let why =
        "too close to call: ice shuts the bore at the cold end of what is uncertain, but not at the warm end";
    Err(Gap::absent(own, why))
}

fn first(outlet: &Outlet<'_>, own: Slot, state: State) -> Reading {
    time(own, NO_ICE, course(outlet, own, state, Goal::Blocked)?.and_then(|it| it.first_ice))
}

fn blocked_after(outlet: &Outlet<'_>, own: Slot, state: State) -> Reading {
    time(own, OPEN, course(outlet, own, state, Goal::Blocked)?.and_then(|it| it.blocked).map(|it| it.0))
}

fn clears(outlet: &Outlet<'_>, own: Slot, state: State) -> Reading {
    let Some(course) = course(outlet, own, state, Goal::Cleared)? else { return time(own, NO_ICE, None) };
    let why =
        if course.first_ice.is_none() { NO_ICE } else { "there is still ice days after the cold spell" };
    time(own, why, course.clear)
}

fn plug(outlet: &Outlet<'_>, own: Slot, state: State) -> Reading {
    let longest = course(outlet, own, state, Goal::Cleared)?.map_or(0.0, |it| it.longest_plug);
    Ok(Value::Quantity(Quantity::of(longest, Dim::LENGTH)))
}

fn most_frozen(outlet: &Outlet<'_>, own: Slot, state: State) -> Reading {
    let most = course(outlet, own, state, Goal::Cleared)?.map_or(0.0, |it| it.most_frozen);
    Ok(Value::Quantity(Quantity::of(most, Dim::NONE)))
}

fn time(own: Slot, why: &str, seconds: Option<f64>) -> Reading {
    let seconds = seconds.ok_or_else(|| Gap::absent(own, why))?;
    Ok(Value::Quantity(Quantity::of(seconds, Dim::TIME)))
}

/// The course at the values used; nothing where no water can freeze.
fn course(
    outlet: &Outlet<'_>,
    own: Slot,
    state: State,
    goal: Goal,
) -> Result<Option<std::sync::Arc<Course>>, Gap> {
    Case::of(outlet, own, state)?.course(0.0, goal, own)
}

fn in_words(outlet: &Outlet<'_>, own: Slot, state: State) -> Reading {
    let days = outlet.number("site.spell_days")? / (24.0 * HOUR);
    let course = course(outlet, own, state, Goal::Blocked)?;
    let hours = |seconds: f64| format!("about {:.0} h", (seconds / HOUR).floor());
    let what = match course.map(|it| (it.first_ice, it.blocked)) {
        Some((Some(0.0), Some(_))) => {
            return Ok(Value::Text("Ice forms in it in an ordinary winter, before any cold spell".into()));
        }
        Some((Some(first), Some((shut, _)))) => {
            format!("ice begins to form after {} and shuts the bore after {}", hours(first), hours(shut))
        }
        Some((Some(first), None)) => {
            format!("ice begins to form after {}, but leaves the bore open", hours(first))
        }
        Some((None, _)) | None => "no ice forms".into(),
    };
    Ok(Value::Text(format!("In a cold spell of {days:.0} days with such lows {what}").into()))
}

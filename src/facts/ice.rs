//! Freezing in time: when ice forms in a cold spell, when it shuts the bore, and when it is gone.

use super::reading::Outlet;
use super::spell::{self, Case, State};
use super::{Answers, Compute, Def, Kind, Source, computed, toward};
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
    Def {
        name: "ice.uncovered_in_words",
        about: "what the cold spell does without its cover, in a sentence",
        source: Source::Computed(Kind::Text, |outlet, own| in_words(outlet, own, State::Uncovered)),
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
            let [low, is, high] = [time.low, time.is, time.high].map(|it| (it - spell::CUT_AT).max(0.0));
            Ok(Value::Quantity(Quantity::of(is, Dim::TIME).within(low, high)))
        },
    ),
];

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
    hours_of(outlet, own, state, NO_ICE, |it| it.first_ice)
}

fn blocked_after(outlet: &Outlet<'_>, own: Slot, state: State) -> Reading {
    hours_of(outlet, own, state, OPEN, shut)
}

fn shut(course: &Course) -> Option<f64> {
    course.blocked.map(|it| it.0)
}

/// A moment of the course at the values used, from its cold end to its warm end. Where the warm end never comes to it,
/// it may be as late as the end of what is followed.
fn hours_of(
    outlet: &Outlet<'_>,
    own: Slot,
    state: State,
    why: &str,
    moment: fn(&Course) -> Option<f64>,
) -> Reading {
    let case = Case::of(outlet, own, state)?;
    let at = |shift| Ok(case.course(shift, Goal::Blocked, own)?.and_then(|it| moment(&it)));
    let [cold, is, warm] = case.shifts();
    let (sooner, Some(used)) = (at(cold)?, at(is)?) else {
        return time(own, why, None);
    };
    let later = at(warm)?.unwrap_or_else(|| case.weather(warm, Goal::Blocked).over);
    Ok(Value::Quantity(Quantity::of(used, Dim::TIME).within(sooner.unwrap_or(used), later)))
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
    let case = Case::of(outlet, own, state)?;
    let moments = |shift| -> Result<(Option<f64>, Option<f64>), Gap> {
        let course = case.course(shift, Goal::Blocked, own)?;
        Ok(course.map_or((None, None), |it| (it.first_ice, shut(&it))))
    };
    let [cold, is, _] = case.shifts();
    let used = moments(is)?;
    if used.1 == Some(0.0) {
        return Ok(Value::Text("Ice shuts the bore in an ordinary winter, before any cold spell".into()));
    }
    let what = told(used, moments(cold)?);
    Ok(Value::Text(format!("In a cold spell of {days:.0} days with such lows {what}").into()))
}

/// When ice first forms and when it shuts the bore (s), at the values used and at the cold end of the band.
fn told(used: (Option<f64>, Option<f64>), cold: (Option<f64>, Option<f64>)) -> String {
    const END: &str = "at the cold end of what is uncertain";
    let when = |is: f64, cold: Option<f64>| {
        let cold = cold.map(short).filter(|it| *it != short(is));
        let cold = cold.map_or_else(String::new, |it| format!(" (as early as {it})"));
        if is <= 0.0 {
            "before the spell, in an ordinary winter,".to_owned()
        } else {
            format!("after about {}{cold}", short(is))
        }
    };
    let cold_shuts = || cold.1.map_or_else(String::new, |it| format!(" ({END} ice shuts it: {})", short(it)));
    match used {
        (Some(first), Some(shut)) => {
            format!("ice begins to form {} and shuts the bore {}", when(first, cold.0), when(shut, cold.1))
        }
        (None, Some(shut)) => format!("ice shuts the bore {}", when(shut, cold.1)),
        (Some(first), None) => {
            format!("ice begins to form {} but leaves the bore open{}", when(first, cold.0), cold_shuts())
        }
        (None, None) if cold.1.is_some() => format!("no ice forms at the values used{}", cold_shuts()),
        (None, None) => match cold.0 {
            Some(it) => format!("no ice forms at the values used ({END} some forms: {})", short(it)),
            None => "no ice forms".into(),
        },
    }
}

/// Whole hours, rounded down: sooner is the safe side.
fn short(seconds: f64) -> String {
    if seconds <= 0.0 {
        "before the spell".into()
    } else if seconds < HOUR {
        "less than 1 h".into()
    } else {
        format!("{:.0} h", (seconds / HOUR).floor())
    }
}

#[cfg(test)]
mod tests {
    use super::told;

    #[test]
    fn each_course_has_words_of_its_own_and_none_says_nought_hours() {
        let hours = |it: f64| Some(it * 3600.0);
        let says =
            |used: [Option<f64>; 2], cold: [Option<f64>; 2]| told((used[0], used[1]), (cold[0], cold[1]));
        let winter = says([hours(0.0), None], [hours(0.0), None]);
        assert_eq!(
            winter,
            "ice begins to form before the spell, in an ordinary winter, but leaves the bore open"
        );
        let later = says([hours(0.0), hours(15.5)], [hours(0.0), hours(7.5)]);
        assert_eq!(
            later,
            "ice begins to form before the spell, in an ordinary winter, and shuts the bore after about 15 h (as \
             early as 7 h)"
        );
        let open = says([hours(9.0), None], [hours(2.0), hours(12.0)]);
        assert_eq!(
            open,
            "ice begins to form after about 9 h (as early as 2 h) but leaves the bore open (at \
             the cold end of what is uncertain ice shuts it: 12 h)"
        );
        assert_eq!(says([None, None], [None, None]), "no ice forms");
        for it in [winter, later, open] {
            assert!(!it.contains(" 0 h"), "{it}");
        }
    }
}

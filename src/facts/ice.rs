//! Freezing in time: when ice forms in a cold spell, when it blocks the tube, and when it is gone.

use super::def::{
    Compute, Def, FactType, HOUR, LENGTH, RATIO, TIME, computed, computed_quantity, computed_yes_no, facts,
};
use super::outlet::Outlet;
use super::site::SPELL_DAYS;
use super::spell::{self, Case, State};
use crate::expr::{Gap, Slot, Value, ValueOrGap};
use crate::section::{Course, Goal};
use crate::units::{Dim, Quantity, Rounding};

const NO_ICE: &str = "no ice forms in the cold spell";
const OPEN: &str = "the tube is not blocked in the cold spell";

facts! {
    BLOCKED = computed_yes_no(
        "ice.blocked",
        "whether ice blocks the tube somewhere in the design cold spell, as stated",
        |outlet| blocked(outlet, outlet.current(), State::AsItStands),
    );
    FIRST_AFTER = hours(
        "ice.first_after",
        "time from the start of the cold spell until some water begins to freeze",
        |outlet| first(outlet, outlet.current(), State::AsItStands),
    );
    BLOCKED_AFTER = hours(
        "ice.blocked_after",
        "time from the start of the cold spell until ice blocks the tube somewhere",
        |outlet| blocked_after(outlet, outlet.current(), State::AsItStands),
    );
    PLUG_LENGTH = plug_length(
        "ice.plug_length",
        "longest stretch of tube that ice blocks in the cold spell",
        |outlet| plug(outlet, outlet.current(), State::AsItStands),
    );
    SHARE_FROZEN = share(
        "ice.share_frozen",
        "largest share of the faucet's water that is ice at one time: of the water between the face and the inside of the wall",
        |outlet| most_frozen(outlet, outlet.current(), State::AsItStands),
    );
    CLEARS_AFTER = later(
        "ice.clears_after",
        "time from the start of the cold spell until all ice is gone",
        |outlet| clears(outlet, outlet.current(), State::AsItStands),
    );
    IN_WORDS = computed(
        "ice.in_words",
        "what the cold spell does, in a sentence",
        FactType::Text,
        |outlet| in_words(outlet, outlet.current(), State::AsItStands),
    )
        .label("course of the cold spell");
    HOSE_ON_IN_WORDS = computed(
        "ice.hose_on_in_words",
        "what the cold spell does with a hose left on, in a sentence",
        FactType::Text,
        |outlet| in_words(outlet, outlet.current(), State::HoseOn),
    )
        .label("course of the cold spell, hose on");
    UNCOVERED_IN_WORDS = computed(
        "ice.uncovered_in_words",
        "what the cold spell does without its cover, in a sentence",
        FactType::Text,
        |outlet| in_words(outlet, outlet.current(), State::Uncovered),
    )
        .label("course of the cold spell, uncovered");
    HOSE_ON_BLOCKED = computed_yes_no(
        "ice.hose_on_blocked",
        "whether ice blocks the tube in the design cold spell with a hose left on, so that the barrel stays full",
        |outlet| blocked(outlet, outlet.current(), State::HoseOn),
    );
    HOSE_ON_FIRST_AFTER = hours(
        "ice.hose_on_first_after",
        "time until some water begins to freeze with a hose left on",
        |outlet| first(outlet, outlet.current(), State::HoseOn),
    );
    HOSE_ON_BLOCKED_AFTER = hours(
        "ice.hose_on_blocked_after",
        "time until ice blocks the tube somewhere with a hose left on",
        |outlet| blocked_after(outlet, outlet.current(), State::HoseOn),
    );
    HOSE_ON_PLUG_LENGTH = plug_length(
        "ice.hose_on_plug_length",
        "longest stretch of tube that ice blocks with a hose left on",
        |outlet| plug(outlet, outlet.current(), State::HoseOn),
    );
    HOSE_ON_SHARE_FROZEN = share(
        "ice.hose_on_share_frozen",
        "largest share of the faucet's water that is ice at one time with a hose left on",
        |outlet| most_frozen(outlet, outlet.current(), State::HoseOn),
    );
    HOSE_ON_CLEARS_AFTER = later(
        "ice.hose_on_clears_after",
        "time until all ice is gone with a hose left on",
        |outlet| clears(outlet, outlet.current(), State::HoseOn),
    );
    UNCOVERED_BLOCKED = computed_yes_no(
        "ice.uncovered_blocked",
        "whether ice blocks the tube in the design cold spell without its cover",
        |outlet| blocked(outlet, outlet.current(), State::Uncovered),
    );
    UNCOVERED_BLOCKED_AFTER = hours(
        "ice.uncovered_blocked_after",
        "time until ice blocks the tube somewhere without its cover",
        |outlet| blocked_after(outlet, outlet.current(), State::Uncovered),
    );
    OUTAGE_BLOCKED = computed_yes_no(
        "ice.power_cut_blocked",
        "whether ice blocks the tube in the design cold spell during a power outage as long as the rules set",
        |outlet| blocked(outlet, outlet.current(), State::PowerCut),
    )
        .label("power outage blocked");
    OUTAGE_BLOCKED_AFTER = hours(
        "ice.power_cut_blocked_after",
        "time from the loss of heat, as the cold has arrived, until ice blocks the tube somewhere",
        outage_blocked_after,
    )
        .label("power outage blocked after");
}

/// Sooner is the safe side.
const fn hours(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed_quantity(name, about, TIME, compute).show(("h", 1), ("h", 1), Rounding::Down)
}

const fn later(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed_quantity(name, about, TIME, compute).show(("h", 0), ("h", 0), Rounding::Up)
}

const fn plug_length(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed_quantity(name, about, LENGTH, compute).show(("in", 1), ("mm", 0), Rounding::Up)
}

const fn share(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed_quantity(name, about, RATIO, compute).show(("%", 0), ("%", 0), Rounding::Up)
}

fn outage_blocked_after(outlet: &Outlet<'_>) -> ValueOrGap {
    let Value::Quantity(time) = blocked_after(outlet, outlet.current(), State::PowerCut)? else {
        return Err(Gap::missing(outlet.current()));
    };
    let [low, is, high] = [time.low, time.is, time.high].map(|time| (time - spell::CUT_AT).max(0.0));
    Ok(Value::Quantity(Quantity::of(is, Dim::TIME).within(low, high)))
}

/// Whether the tube is blocked at both ends of the band.
fn blocked(outlet: &Outlet<'_>, own: Slot, state: State) -> ValueOrGap {
    if let Some(blocks) = Case::of(outlet, own, state)?.blocks_over_band(own)? {
        return Ok(Value::YesNo(blocks));
    }
    let why = "too close to call: within the uncertainty, ice may or may not block the tube";
    Err(Gap::absent(own, why))
}

fn first(outlet: &Outlet<'_>, own: Slot, state: State) -> ValueOrGap {
    hours_of(outlet, own, state, NO_ICE, |it| it.first_ice)
}

fn blocked_after(outlet: &Outlet<'_>, own: Slot, state: State) -> ValueOrGap {
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
) -> ValueOrGap {
    let case = Case::of(outlet, own, state)?;
    let at = |shift| Ok(case.course(shift, Goal::Blocked, own)?.and_then(|it| moment(&it)));
    let [cold, is, warm] = case.shifts(own)?;
    let (sooner, Some(used)) = (at(cold)?, at(is)?) else {
        return time(own, why, None);
    };
    let later = at(warm)?.unwrap_or_else(|| case.weather(warm, Goal::Blocked).over);
    Ok(Value::Quantity(Quantity::of(used, Dim::TIME).within(sooner.unwrap_or(used), later)))
}

fn clears(outlet: &Outlet<'_>, own: Slot, state: State) -> ValueOrGap {
    let Some(course) = course(outlet, own, state, Goal::Cleared)? else { return time(own, NO_ICE, None) };
    let why =
        if course.first_ice.is_none() { NO_ICE } else { "there is still ice days after the cold spell" };
    time(own, why, course.clear)
}

fn plug(outlet: &Outlet<'_>, own: Slot, state: State) -> ValueOrGap {
    let longest = course(outlet, own, state, Goal::Cleared)?.map_or(0.0, |it| it.longest_plug);
    Ok(Value::Quantity(Quantity::of(longest, Dim::LENGTH)))
}

fn most_frozen(outlet: &Outlet<'_>, own: Slot, state: State) -> ValueOrGap {
    let most = course(outlet, own, state, Goal::Cleared)?.map_or(0.0, |it| it.most_frozen);
    Ok(Value::Quantity(Quantity::of(most, Dim::NONE)))
}

fn time(own: Slot, why: &str, seconds: Option<f64>) -> ValueOrGap {
    let seconds = seconds.ok_or_else(|| Gap::absent(own, why))?;
    Ok(Value::Quantity(Quantity::of(seconds, Dim::TIME)))
}

/// The course at the values used; `None` if no water can freeze.
fn course(
    outlet: &Outlet<'_>,
    own: Slot,
    state: State,
    goal: Goal,
) -> Result<Option<std::sync::Arc<Course>>, Gap> {
    Case::of(outlet, own, state)?.course(0.0, goal, own)
}

fn in_words(outlet: &Outlet<'_>, own: Slot, state: State) -> ValueOrGap {
    let days = outlet.number(SPELL_DAYS)? / (24.0 * HOUR);
    let case = Case::of(outlet, own, state)?;
    let moments = |shift| -> Result<(Option<f64>, Option<f64>), Gap> {
        let course = case.course(shift, Goal::Blocked, own)?;
        Ok(course.map_or((None, None), |it| (it.first_ice, shut(&it))))
    };
    let [cold, is, _] = case.shifts(own)?;
    let used = moments(is)?;
    if used.1 == Some(0.0) {
        let alone = match case.kept_clear_by() {
            _ if case.closes_at_face() => String::new(),
            Some(factor) => {
                format!("; at the better end of one input alone, {}, it would not", factor.name())
            }
            None => "; no single input within its usual range would prevent that".into(),
        };
        let text = format!(
            "If nobody draws water, it freezes solid already at the mean of the coldest month{alone}"
        );
        return Ok(Value::Text(text.into()));
    }
    let what = told(used, moments(cold)?);
    Ok(Value::Text(format!("In a cold spell of {days:.0} days with such lows {what}").into()))
}

/// When ice first forms and when it blocks the tube (s), at the best estimates and in the worst case.
fn told(used: (Option<f64>, Option<f64>), cold: (Option<f64>, Option<f64>)) -> String {
    let when = |is: f64, cold: Option<f64>| {
        let cold = cold.map(short).filter(|it| *it != short(is));
        let cold = cold.map_or_else(String::new, |it| format!(" (as early as {it})"));
        if is <= 0.0 {
            "at the start of the spell".to_owned()
        } else {
            format!("after about {}{cold}", short(is))
        }
    };
    let cold_shuts =
        || cold.1.map_or_else(String::new, |time| format!(" (in the worst case blocked {})", after(time)));
    match used {
        (Some(first), Some(shut)) => {
            format!("ice begins to form {} and blocks the tube {}", when(first, cold.0), when(shut, cold.1))
        }
        (None, Some(shut)) => format!("ice blocks the tube {}", when(shut, cold.1)),
        (Some(first), None) => {
            format!("ice begins to form {} but leaves the tube open{}", when(first, cold.0), cold_shuts())
        }
        (None, None) if cold.1.is_some() => format!("no ice is expected{}", cold_shuts()),
        (None, None) => match cold.0 {
            Some(time) => format!("no ice is expected (in the worst case some forms {})", after(time)),
            None => "no ice forms".into(),
        },
    }
}

/// "after 12 h" or "at the start".
fn after(seconds: f64) -> String {
    let text = short(seconds);
    if seconds <= 0.0 { text } else { format!("after {text}") }
}

/// Whole hours, rounded down: sooner is the safe side.
fn short(seconds: f64) -> String {
    if seconds <= 0.0 {
        "at the start".into()
    } else if seconds < HOUR {
        "less than 1 h".into()
    } else {
        format!("{:.0} h", (seconds / HOUR).floor())
    }
}

#[cfg(test)]
mod tests {
    use super::{HOUR, after, told};

    #[test]
    fn what_is_there_at_once_is_at_the_start_and_not_after_it() {
        assert_eq!(
            [after(0.0), after(60.0), after(1.5 * HOUR)],
            ["at the start", "after less than 1 h", "after 1 h"]
        );
    }

    #[test]
    fn each_course_has_words_of_its_own_and_none_says_nought_hours() {
        let hours = |it: f64| Some(it * 3600.0);
        let says =
            |used: [Option<f64>; 2], cold: [Option<f64>; 2]| told((used[0], used[1]), (cold[0], cold[1]));
        let winter = says([hours(0.0), None], [hours(0.0), None]);
        assert_eq!(winter, "ice begins to form at the start of the spell but leaves the tube open");
        let later = says([hours(0.0), hours(15.5)], [hours(0.0), hours(7.5)]);
        assert_eq!(
            later,
            "ice begins to form at the start of the spell and blocks the tube after about 15 h (as \
             early as 7 h)"
        );
        let open = says([hours(9.0), None], [hours(2.0), hours(12.0)]);
        assert_eq!(
            open,
            "ice begins to form after about 9 h (as early as 2 h) but leaves the tube open (in \
             the worst case blocked after 12 h)"
        );
        assert_eq!(says([None, None], [None, None]), "no ice forms");
        for it in [winter, later, open] {
            assert!(!it.contains(" 0 h"), "{it}");
        }
    }
}

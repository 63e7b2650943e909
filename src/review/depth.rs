//! The least seat depth of an outlet that is not on any schedule yet, under every rule in force, and how each listed
//! length does.

use super::judge::{card, decide, makes_comment};
use super::shown::shown;
use super::{RuleCard, Shown};
use crate::expr::{Gap, Value, Values};
use crate::facts::columns::{CLOSES_AT, NOMINAL_LENGTH, SEAT_DEPTH, SPACE_BEHIND};
use crate::facts::heat::SEAT_TEMPERATURE;
use crate::facts::{self, Edit, Interval, Origin, Outlet, World, length, slot, slot_named};
use crate::ruleset::{Outcome, Rule};
use crate::schedule::Row;
use crate::units::{Dim, Quantity};
use std::collections::BTreeSet;
use std::sync::Arc;

/// The deepest seat that is looked for, m (24 in), and the step.
const DEEPEST: u32 = 609;
const STEP: f64 = 0.001;

/// What depth an outlet needs.
#[derive(Clone, Debug)]
pub struct Depth {
    /// The wall, the design low and whatever else it depends on, as stated.
    pub stated: Vec<Shown>,
    /// Exterior face to the inside face of the insulation; `None` in a wall without.
    pub inside_face: Option<Quantity>,
    /// The least depth, or why there is none.
    pub least: Result<Least, NoLeast>,
    /// Rules that make a comment at any depth.
    pub at_any_depth: Vec<Arc<RuleCard>>,
    /// The listed lengths, or the models of the product data.
    pub rows: Vec<DepthRow>,
}

/// The least seat depth.
#[derive(Clone, Debug)]
pub struct Least {
    /// From the exterior face, rounded up to 1 mm.
    pub depth: Quantity,
    /// From the inside face of the insulation, negative where short of it.
    pub past_insulation: Option<Quantity>,
    /// Rules that a seat 1 mm shallower breaks.
    pub governed_by: Vec<Arc<RuleCard>>,
}

/// Why there is no least depth.
#[derive(Clone, Debug, PartialEq)]
pub enum NoLeast {
    /// No depth is enough: why.
    NotEnough(Arc<str>),
    /// Headings of what is not stated.
    Missing(Vec<Arc<str>>),
}

/// One length.
#[derive(Clone, Debug)]
pub struct DepthRow {
    /// Its model, if product data names it.
    pub model: Option<Arc<str>>,
    /// Its length, seat depth, seat temperature, what it is good to and how often lows are colder.
    pub facts: Vec<Shown>,
    /// Rules that its depth is not enough for, each with what it says: one that only advises, or asks, is too close to call.
    pub asks: Vec<(Arc<RuleCard>, Outcome)>,
    /// What is assumed of it, with the reason.
    pub assumed: Vec<(Shown, Arc<str>)>,
    /// How far it reaches past the interior surface; negative if it ends in the wall.
    pub past_wall: Option<Quantity>,
    /// Clear space outdoors that pulling its stem takes.
    pub stem: Option<Quantity>,
    /// Why it does not fit, if it does not.
    pub misfit: Option<Arc<str>>,
    /// Headings of what is not stated, so that nothing is known of it.
    pub missing: Vec<Arc<str>>,
}

/// Facts of a row of the table, in its order.
const ROW_FACTS: [&str; 7] = [
    "outlet.nominal_length",
    "outlet.barrel",
    "outlet.seat_depth",
    "heat.seat_temperature",
    "heat.holds_to",
    "heat.how_often",
    "heat.years_between",
];
/// What the answer depends on.
const STATED: [&str; 9] = [
    "outlet.wall",
    "outlet.barrel",
    "outlet.space_behind",
    "outlet.supply",
    "outlet.supply_insulation",
    "outlet.inside_stop",
    "site.design_low",
    "space.room_temperature",
    "wall.thickness",
];

/// The least seat depth of an outlet with some facts, and what each listed length or model does.
pub fn depth(world: &World, edits: &[Edit]) -> Depth {
    let search = Search::of(world, edits);
    let outlet = search.at(f64::from(DEEPEST) * STEP);
    let deepest = search.deepest();
    let always = search.always(&[], deepest);
    let shown_of = |outlet: &Outlet<'_>, name: &str| {
        let slot = slot_named(name)?;
        Some(shown(slot, &outlet.fact(slot), &world.job().rules))
    };
    let inside_face = quantity(&outlet, "wall.inside_face_of_insulation");
    let least = search.least(deepest, &always).map(|(step, before)| {
        let depth = Quantity::of(f64::from(step) * STEP, Dim::LENGTH);
        let from_face = quantity(&search.at(depth.is), "detail.seat_from_wall_face");
        let past =
            inside_face.zip(from_face).map(|(face, seat)| Quantity::of(seat.is - face.is, Dim::LENGTH));
        let governed_by = before.iter().map(|at| card(&search.rules()[*at])).collect();
        Least { depth, past_insulation: past, governed_by }
    });
    Depth {
        stated: STATED.iter().filter_map(|name| shown_of(&outlet, name)).collect(),
        inside_face,
        at_any_depth: always.iter().map(|at| card(&search.rules()[*at])).collect(),
        least,
        rows: search.table(deepest, &always),
    }
}

pub(super) struct Search<'w> {
    pub world: &'w World,
    row: Row,
}

impl<'w> Search<'w> {
    pub(super) fn of(world: &'w World, edits: &[Edit]) -> Self {
        Self { world, row: world.edited(&Row { number: 1, cells: Vec::new(), at: None }, edits) }
    }

    pub(super) fn rules(&self) -> &'w [Rule] {
        &self.world.job().rules.rules
    }

    pub(super) fn with(&self, edits: &[Edit]) -> Outlet<'w> {
        self.world.outlet(&self.world.edited(&self.row, edits))
    }

    /// With its seat at a depth, m.
    fn at(&self, depth: f64) -> Outlet<'w> {
        self.with(&[(slot(SEAT_DEPTH), Some(length(depth)))])
    }

    /// The rules that can require a revision and make a comment, apart from some.
    fn asking(&self, outlet: &Outlet<'_>, but: &BTreeSet<usize>) -> BTreeSet<usize> {
        self.revising().filter(|at| !but.contains(at) && self.makes_comment(*at, outlet)).collect()
    }

    /// Whether a rule makes a comment on an outlet.
    pub(super) fn makes_comment(&self, at: usize, outlet: &Outlet<'_>) -> bool {
        makes_comment(&self.rules()[at], outlet)
    }

    /// The rules that can require a revision.
    pub(super) fn revising(&self) -> impl Iterator<Item = usize> {
        let revise_on = &self.world.job().revise_on;
        let may_revise =
            move |rule: &Rule| rule.outcome == Outcome::Revise && revise_on.contains(&rule.basis);
        self.rules().iter().enumerate().filter(move |(_, rule)| may_revise(rule)).map(|(at, _)| at)
    }

    /// Whether a rule goes by the temperature of the seat.
    pub(super) fn is_heat(&self, at: usize) -> bool {
        self.rules()[at].needs.slots().contains(&slot(SEAT_TEMPERATURE))
    }

    /// Whether the inlet lies within the wall, where a longer outlet need not be warmer.
    pub(super) fn is_in_wall(&self, outlet: &Outlet<'_>) -> bool {
        outlet.get(slot(SPACE_BEHIND)) == Ok(&Value::Text("wall cavity".into()))
    }

    /// The deepest step at which the section can be computed.
    pub(super) fn deepest(&self) -> u32 {
        let can_be = |step: &u32| {
            let outlet = self.at(f64::from(*step) * STEP);
            outlet.with_interval(Interval::LeftOut).get(slot(SEAT_TEMPERATURE)).is_ok()
        };
        let outlet = self.at(0.0);
        // Only a wall around the inlet leaves no room.
        if !self.is_in_wall(&outlet) || can_be(&DEEPEST) {
            return DEEPEST;
        }
        let wall = quantity(&outlet, "wall.thickness").map_or(f64::INFINITY, |it| it.is);
        (1..DEEPEST).rev().filter(|step| f64::from(*step) * STEP < wall).find(can_be).unwrap_or(DEEPEST)
    }

    /// The first step from the face that no rule objects to, apart from those that object at any depth, and the rules that
    /// object to the step before it.
    fn least(&self, deepest: u32, always: &BTreeSet<usize>) -> Result<(u32, BTreeSet<usize>), NoLeast> {
        let outlet = self.at(f64::from(deepest) * STEP);
        let heat = outlet.fact(slot(SEAT_TEMPERATURE));
        if let Err(gap) = heat.value {
            return Err(NoLeast::of(&gap));
        }
        let freezes = |at| self.is_heat(at) && self.makes_comment(at, &outlet);
        if self.revising().any(freezes) {
            let least = slot_named("heat.least_seat_depth").map(|slot| outlet.fact(slot).value);
            return Err(match least {
                Some(Err(gap)) => NoLeast::of(&gap),
                _ => NoLeast::NotEnough("none, as no seat depth is enough".into()),
            });
        }
        let objections = |step: u32| self.asking(&self.at(f64::from(step) * STEP), always);
        let (mut low, mut high) = (0, deepest);
        if objections(low).is_empty() {
            return Ok((low, BTreeSet::new()));
        }
        // Within a wall the seat need not warm with depth: the first depth from the face counts.
        if quantity(&outlet, "wall.thickness").is_some() && self.is_in_wall(&outlet) {
            let first = (1..=deepest).find(|step| objections(*step).is_empty()).unwrap_or(deepest);
            return Ok((first, objections(first - 1)));
        }
        while high - low > 1 {
            let middle = low.midpoint(high);
            *(if objections(middle).is_empty() { &mut high } else { &mut low }) = middle;
        }
        Ok((high, objections(low)))
    }

    /// The listed lengths, or the models that close inside.
    fn table(&self, deepest: u32, always: &BTreeSet<usize>) -> Vec<DepthRow> {
        let row = |(model, edits): (Option<Arc<str>>, Vec<Edit>)| match model {
            None => self.table_row(None, &edits, always),
            // What a model has of its own asks for something at any depth, or not.
            Some(model) => self.table_row(Some(model), &edits, &self.always(&edits, deepest)),
        };
        self.candidates().into_iter().map(row).collect()
    }

    /// The listed lengths, or the models that close inside, as edits.
    pub(super) fn candidates(&self) -> Vec<(Option<Arc<str>>, Vec<Edit>)> {
        let models = self.world.models();
        if models.is_empty() {
            let of_length = |nominal| (None, vec![(slot(NOMINAL_LENGTH), Some(length(nominal)))]);
            return facts::nominal_lengths().map(of_length).collect();
        }
        let inside = Value::Text("inside".into());
        let closes =
            |edits: &[Edit]| self.with(edits).get(slot(CLOSES_AT)).is_ok_and(|value| *value == inside);
        models
            .into_iter()
            .filter(|(_, edits)| closes(edits))
            .map(|(name, edits)| (Some(name), edits))
            .collect()
    }

    /// The rules that ask for something of an outlet with some facts at any depth, apart from those that go by the
    /// temperature of the seat: a length that they ask about is not enough.
    pub(super) fn always(&self, edits: &[Edit], deepest: u32) -> BTreeSet<usize> {
        let depth = (slot(SEAT_DEPTH), Some(length(f64::from(deepest) * STEP)));
        let others = edits.iter().filter(|(fact, _)| *fact != slot(SEAT_DEPTH));
        let edits: Vec<Edit> = others.cloned().chain([depth]).collect();
        let by_heat = self.revising().filter(|at| self.is_heat(*at)).collect();
        self.asking(&self.with(&edits), &by_heat)
    }

    fn table_row(&self, model: Option<Arc<str>>, edits: &[Edit], always: &BTreeSet<usize>) -> DepthRow {
        let outlet = self.with(edits);
        let rules = &self.world.job().rules;
        let facts = ROW_FACTS.iter().filter_map(|name| {
            let slot = slot_named(name)?;
            Some(shown(slot, &outlet.fact(slot), rules))
        });
        let facts: Vec<Shown> = facts.collect();
        let asking = self.revising().filter(|at| !always.contains(at)).map(|at| {
            let rule = &rules.rules[at];
            (card(rule), decide(rule, &outlet, &self.world.job().revise_on).outcome)
        });
        let asks = asking.filter(|(_, outcome)| outcome.is_comment()).collect();
        let known = outlet.known_so_far();
        let assumed = known.iter().filter_map(|(slot, fact)| match &fact.origin {
            Origin::Assumed(why) => Some((shown(*slot, fact, rules), why.clone())),
            _ => None,
        });
        let assumed = assumed.collect();
        let nominal = quantity(&outlet, "outlet.nominal_length");
        let thickness = quantity(&outlet, "wall.thickness");
        let past_wall =
            nominal.zip(thickness).map(|(nominal, wall)| Quantity::of(nominal.is - wall.is, Dim::LENGTH));
        let stem = quantity(&outlet, "outlet.seat_depth").zip(past_seat(self.world));
        let (misfit, missing) = match outlet.get(slot(SEAT_TEMPERATURE)).map_err(|gap| NoLeast::of(&gap)) {
            Ok(_) => (None, Vec::new()),
            Err(NoLeast::NotEnough(why)) => (Some(why), Vec::new()),
            Err(NoLeast::Missing(headings)) => (None, headings),
        };
        DepthRow {
            model,
            facts,
            asks,
            assumed,
            past_wall,
            stem: stem.map(|(seat, past)| Quantity::of(seat.high + past, Dim::LENGTH)),
            misfit,
            missing,
        }
    }
}

impl NoLeast {
    fn of(gap: &Gap) -> Self {
        match gap.absent.values().next() {
            Some(why) => Self::NotEnough(why.clone()),
            None => Self::Missing(gap.missing.iter().map(|slot| facts::heading(*slot)).collect()),
        }
    }
}

/// How much longer a stem is than its seat is deep, as the rules set it.
fn past_seat(world: &World) -> Option<f64> {
    match &world.job().rules.setting_named("detail/past_seat")?.value {
        Value::Quantity(quantity) => Some(quantity.is),
        _ => None,
    }
}

fn quantity(outlet: &Outlet<'_>, name: &str) -> Option<Quantity> {
    outlet.known_quantity(slot_named(name)?)
}

//! The cells of a standard: for a wall, supply and barrel the product that each place needs.

use super::{Cell, Place, Setting};
use crate::climate::DesignBy;
use crate::facts::{Edit, Outlet, World, slot_named};
use crate::physics::water::ICE_POINT;
use crate::review::{Candidate, Fitting, Limit, Shown};
use crate::units::Quantity;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A setting, and what it states of the outlet.
pub(super) struct Line {
    pub setting: Setting,
    pub edits: Vec<Edit>,
}

/// What is varied to see whether a length changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Variant {
    /// Another design low.
    DesignLow(DesignBy),
    /// A margin above freezing, K, in place of the standard's.
    Margin(f64),
    /// Best estimates in place of the cold end of the range.
    BestEstimates,
}

/// What is varied, in the order of a page.
pub const VARIANTS: [Variant; 6] = [
    Variant::DesignLow(DesignBy::Heating996),
    Variant::DesignLow(DesignBy::Years(10.0)),
    Variant::DesignLow(DesignBy::Years(50.0)),
    Variant::DesignLow(DesignBy::ColdestRecorded),
    Variant::Margin(4.0 / 1.8),
    Variant::BestEstimates,
];

/// How a length changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// It stays.
    Same,
    /// A longer one is needed, or none is enough.
    Longer,
    /// A shorter one is enough.
    Shorter,
}

/// How much shallower a seat is tried where no shorter product bounds the slack, m (1/2 in).
const TRIED: f64 = super::THIN;

/// What is printed of a cell, in its order.
const FACTS: [&str; 4] = ["heat.seat_temperature", "heat.holds_to", "heat.how_often", "heat.years_between"];

/// The cells of a setting, one for each place.
pub(super) fn column(line: &Line, products: &[Candidate], worlds: &[(Place, World)]) -> Vec<Cell> {
    let own: Vec<usize> = (0..products.len())
        .filter(|at| products[*at].barrel.as_ref().is_none_or(|barrel| *barrel == line.setting.barrel))
        .collect();
    let mut fittings: Vec<Fitting<'_, '_>> = Vec::with_capacity(worlds.len());
    for (_, world) in worlds {
        fittings.push(match fittings.first() {
            Some(first) => first.elsewhere(world, &line.edits),
            None => Fitting::new(world, &line.edits, products),
        });
    }
    let mut order: Vec<usize> = (0..worlds.len()).collect();
    order.sort_by(|a, b| worlds[*b].0.design_low.total_cmp(&worlds[*a].0.design_low));
    // From the mildest place to the coldest; the answer is near the one before.
    let mut needed: Vec<Option<usize>> = vec![None; worlds.len()];
    let mut near = 0;
    for place in &order {
        needed[*place] = first_enough(&fittings[*place], &own, near);
        near = needed[*place].unwrap_or(own.len().saturating_sub(1));
    }
    let orders = raised(&order, &needed, worlds);
    let cells = fittings.iter().zip(worlds).zip(needed).zip(orders);
    cells
        .map(|(((fitting, (place, _)), needed), (order, raised_by))| {
            let bench = Bench { fitting, own: &own };
            bench.cell(place, needed, order, raised_by)
        })
        .collect()
}

/// The first product that is enough, looked for from one that may be.
fn first_enough(fitting: &Fitting<'_, '_>, own: &[usize], near: usize) -> Option<usize> {
    let is_enough = |at: usize| fitting.is_enough(own[at]);
    if fitting.is_in_wall() {
        return (0..own.len()).find(|at| is_enough(*at));
    }
    if own.is_empty() {
        return None;
    }
    if !is_enough(near) {
        return (near + 1..own.len()).find(|at| is_enough(*at));
    }
    let shorter = (0..near).rev().take_while(|at| is_enough(*at)).last();
    Some(shorter.unwrap_or(near))
}

/// Lows in one step of a table are one low, K (0.01 °F).
fn step(low: f64) -> i64 {
    #[allow(clippy::cast_possible_truncation, reason = "temperatures of outdoor air")]
    let step = (super::fahrenheit(low) * 100.0).floor() as i64;
    step
}

/// The product of the standard at each place: the longest that any place of the same or a milder design low needs, so
/// that a table by design low holds for all of them; and the place that needs it, where that is another.
fn raised(
    order: &[usize],
    needed: &[Option<usize>],
    worlds: &[(Place, World)],
) -> Vec<(Option<usize>, Option<usize>)> {
    let low = |place: usize| step(worlds[place].0.design_low);
    let mut out = vec![(None, None); needed.len()];
    let mut most: Option<usize> = None;
    let mut at = 0;
    while at < order.len() {
        let same = order[at..].iter().take_while(|place| low(**place) == low(order[at])).count();
        for place in &order[at..at + same] {
            if needed[*place]
                .is_some_and(|own| most.is_none_or(|most| needed[most].is_some_and(|it| own > it)))
            {
                most = Some(*place);
            }
        }
        for place in &order[at..at + same] {
            let longest = most.and_then(|place| needed[place]);
            let by = most.filter(|_| needed[*place].is_some() && longest > needed[*place]);
            out[*place] = (needed[*place].and(longest), by);
        }
        at += same;
    }
    out
}

/// What is assumed of the outlets of all cells.
pub(super) fn assumed(lines: &[Line], products: &[Candidate], world: &World) -> Vec<(Shown, Arc<str>)> {
    let mut all: BTreeMap<(Arc<str>, Arc<str>, String), Shown> = BTreeMap::new();
    for line in lines {
        let fitting = Fitting::new(world, &line.edits, products);
        let is_own = |it: &Candidate| it.barrel.as_ref().is_none_or(|barrel| *barrel == line.setting.barrel);
        let Some(product) = products.iter().rposition(is_own) else { continue };
        for (shown, why) in fitting.assumed(product) {
            let key = (shown.heading.clone(), why.clone(), format!("{:?}", shown.value));
            all.entry(key).or_insert(shown);
        }
    }
    all.into_iter().map(|((_, why, _), shown)| (shown, why)).collect()
}

/// A place and a setting with its products.
struct Bench<'b, 'w, 'p> {
    fitting: &'b Fitting<'w, 'p>,
    own: &'b [usize],
}

/// What the seat's temperature depends on.
struct Seat {
    temperature: Quantity,
    needed: f64,
    outdoors: f64,
    room: f64,
}

impl Seat {
    /// Its temperature at another outdoor temperature, K: a weighted mean of both.
    fn at(&self, outdoors: f64, value: f64) -> f64 {
        outdoors + (value - self.outdoors) / (self.room - self.outdoors) * (self.room - outdoors)
    }
}

impl Bench<'_, '_, '_> {
    fn cell(
        &self,
        place: &Place,
        needed: Option<usize>,
        order: Option<usize>,
        raised_by: Option<usize>,
    ) -> Cell {
        let product = |at: usize| self.own[at];
        let Some(number) = needed else {
            let longest = self.own.len().checked_sub(1);
            return Cell {
                needed: None,
                order: None,
                raised_by: None,
                limits: longest.map(|at| self.fitting.limits(product(at))).unwrap_or_default(),
                slack: None,
                at_least: false,
                facts: Vec::new(),
                survives_50_years: None,
                changes: vec![None; VARIANTS.len()],
                at_any_depth: longest.map(|at| self.fitting.at_any_depth(product(at))).unwrap_or_default(),
            };
        };
        let chosen = product(number);
        let shorter = number.checked_sub(1).map(product);
        let limits = shorter.map(|shorter| self.fitting.limits(shorter)).unwrap_or_default();
        let (slack, at_least) = self.slack(chosen, shorter, &limits);
        let of_order = self.fitting.with(order.map_or(chosen, product));
        let seat = |outlet: &Outlet<'_>| {
            let of = |name: &str| outlet.known_quantity(slot_named(name)?);
            Some(Seat {
                temperature: of("heat.seat_temperature")?,
                needed: of("heat.seat_needed")?.is,
                outdoors: of("site.design_low")?.is,
                room: of("space.room_temperature")?.is,
            })
        };
        let survives = place.climate.low_by(DesignBy::Years(50.0)).and_then(|low| {
            let seat = seat(of_order)?;
            Some(seat.at(low, seat.temperature.low) >= seat.needed)
        });
        let own = seat(self.fitting.with(chosen));
        let of_shorter = shorter.and_then(|shorter| seat(self.fitting.with(shorter)));
        let only_heat = limits == [Limit::Heat];
        let changes = VARIANTS.map(|variant| {
            let holds = |seat: &Seat| varied(variant, seat, place);
            Some(match (holds(own.as_ref()?)?, of_shorter.as_ref().filter(|_| only_heat)) {
                (false, _) => Change::Longer,
                (true, Some(shorter)) if holds(shorter)? => Change::Shorter,
                (true, _) => Change::Same,
            })
        });
        Cell {
            needed: Some(self.own[number]),
            order: order.map(|at| self.own[at]),
            raised_by,
            limits,
            slack,
            at_least,
            facts: FACTS.iter().filter_map(|name| self.fitting.shown(of_order, name)).collect(),
            survives_50_years: survives,
            changes: changes.to_vec(),
            at_any_depth: self.fitting.at_any_depth(chosen),
        }
    }

    /// How much shallower the seat could be, m, and whether that is only a lower bound. Between two seats the temperature
    /// lies above the straight line, as it nears that of the space: the line is on the safe side.
    fn slack(&self, chosen: usize, shorter: Option<usize>, limits: &[Limit]) -> (Option<f64>, bool) {
        let own = self.fitting.with(chosen);
        let of = |outlet: &Outlet<'_>, name: &str| outlet.known_quantity(slot_named(name)?);
        let Some(seat) = of(own, "outlet.seat_depth") else { return (None, false) };
        let shallower = match shorter {
            Some(_) => None,
            None => self.fitting.with_shallower(chosen, TRIED),
        };
        let other = shorter.map(|shorter| self.fitting.with(shorter)).or(shallower.as_ref());
        let Some(other) = other else { return (Some(seat.is), true) };
        let heat = || {
            let (here, there) = (of(own, "heat.seat_temperature")?, of(other, "heat.seat_temperature")?);
            let needed = of(own, "heat.seat_needed")?.is;
            let apart = seat.is - of(other, "outlet.seat_depth")?.is;
            Some(if there.low >= needed {
                apart
            } else {
                apart * (here.low - needed) / (here.low - there.low)
            })
        };
        let face = || {
            let (here, face) =
                (of(own, "detail.seat_from_wall_face")?, of(own, "wall.inside_face_of_insulation")?);
            Some(here.low - face.is)
        };
        let apart = of(other, "outlet.seat_depth").map(|it| seat.is - it.is);
        let by_face = limits.iter().any(|limit| *limit != Limit::Heat).then(face).flatten();
        let slack = heat().or(apart).map(|slack| by_face.map_or(slack, |face| slack.min(face.max(0.0))));
        let is_bounded = apart.zip(slack).is_some_and(|(apart, slack)| slack < apart);
        (slack, !is_bounded)
    }
}

/// Whether a seat is warm enough with something varied; `None` if the climate has no such figure.
fn varied(variant: Variant, seat: &Seat, place: &Place) -> Option<bool> {
    Some(match variant {
        Variant::DesignLow(by) => seat.at(place.climate.low_by(by)?, seat.temperature.low) >= seat.needed,
        Variant::Margin(margin) => seat.temperature.low >= ICE_POINT + margin,
        Variant::BestEstimates => seat.temperature.is >= seat.needed,
    })
}

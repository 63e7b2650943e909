//! Which of some products is enough for an outlet that is on no schedule yet, and by how much: the same rules as
//! `depth`, without its search for a depth.

use super::depth::Search;
use super::judge::card;
use super::shown::shown;
use super::{RuleCard, Shown};
use crate::expr::{Value, Values};
use crate::facts::columns::{BARREL, NOMINAL_LENGTH, PRICE, SEAT_DEPTH};
use crate::facts::heat::SEAT_TEMPERATURE;
use crate::facts::{Edit, Origin, Outlet, World, slot, slot_named};
use crate::ruleset::{Basis, Rule};
use crate::units::{Dim, Quantity};
use std::cell::OnceCell;
use std::collections::BTreeSet;
use std::rc::Rc;
use std::sync::Arc;

/// A product that can be ordered: a listed length, or a model in one of its lengths.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// Its model, if product data names it.
    pub model: Option<Arc<str>>,
    /// Nominal length, m.
    pub length: f64,
    /// Metal of its barrel; `None` for a listed length.
    pub barrel: Option<Arc<str>>,
    /// Price of one, dollars.
    pub price: Option<f64>,
    edits: Vec<Edit>,
}

/// What a product is too short for, or what it lacks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limit {
    /// The seat freezes, or its temperature is too close to call.
    Heat,
    /// The adopted code.
    Code,
    /// A rule on the insulation of the wall that is not of the code.
    Insulation,
    /// Another rule.
    Other,
}

impl Limit {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Heat => "heat",
            Self::Code => "code",
            Self::Insulation => "insulation",
            Self::Other => "other rules",
        }
    }

    fn of(rule: &Rule) -> Self {
        let reads = |name: &str| slot_named(name).is_some_and(|slot| rule.needs.slots().contains(&slot));
        if reads("heat.seat_temperature") {
            Self::Heat
        } else if rule.basis == Basis::AdoptedCode {
            Self::Code
        } else if reads("wall.inside_face_of_insulation") {
            Self::Insulation
        } else {
            Self::Other
        }
    }
}

/// An outlet in one place, wall and supply, for which products are tried. Products are named by their number.
pub struct Fitting<'w, 'p> {
    search: Search<'w>,
    products: &'p [Candidate],
    /// The outlet with each product, once it is tried; what is computed of it is kept.
    tried: Vec<OnceCell<Outlet<'w>>>,
    /// Rules that can require a revision, the quick ones first: the seat's temperature takes a solve, and another rule may
    /// take more.
    rules: Vec<usize>,
    /// Rules that make a comment at any depth, for a listed length.
    always: OnceCell<BTreeSet<usize>>,
    /// The deepest step of a seat; it is a matter of the wall, the same in every place.
    deepest: Rc<OnceCell<u32>>,
}

impl<'w, 'p> Fitting<'w, 'p> {
    /// An outlet with some facts, and the products to try.
    pub fn new(world: &'w World, edits: &[Edit], products: &'p [Candidate]) -> Self {
        let search = Search::of(world, edits);
        let mut rules: Vec<usize> = search.revising().collect();
        rules.sort_by_key(|at| match Limit::of(&search.rules()[*at]) {
            Limit::Code | Limit::Insulation => 0,
            Limit::Heat => 1,
            Limit::Other => 2,
        });
        let tried = products.iter().map(|_| OnceCell::new()).collect();
        Self { search, products, tried, rules, always: OnceCell::new(), deepest: Rc::default() }
    }

    /// The same outlet in another place.
    pub fn elsewhere(&self, world: &'w World, edits: &[Edit]) -> Self {
        Self { deepest: self.deepest.clone(), ..Self::new(world, edits, self.products) }
    }

    /// The products there are: the listed lengths, or the models that close inside; the shortest first, then the cheapest.
    pub fn candidates(&self) -> Vec<Candidate> {
        let of = |(model, edits): (Option<Arc<str>>, Vec<Edit>)| {
            let outlet = self.search.with(&edits);
            let barrel = match outlet.get(slot(BARREL)) {
                Ok(Value::Text(word)) if model.is_some() => Some(word.clone()),
                _ => None,
            };
            let length = outlet.known_quantity(slot(NOMINAL_LENGTH))?.is;
            let price = outlet.known_quantity(slot(PRICE)).map(|price| price.is);
            Some(Candidate { model, length, barrel, price, edits })
        };
        let mut all: Vec<Candidate> = self.search.candidates().into_iter().filter_map(of).collect();
        let price = |candidate: &Candidate| candidate.price.unwrap_or(f64::INFINITY);
        all.sort_by(|a, b| a.length.total_cmp(&b.length).then(price(a).total_cmp(&price(b))));
        all
    }

    /// The outlet with a product.
    pub fn with(&self, product: usize) -> &Outlet<'w> {
        self.tried[product].get_or_init(|| self.search.with(&self.products[product].edits))
    }

    /// The outlet with a product whose seat is shallower than its own, m; `None` if its seat is not known or not as deep.
    pub fn with_shallower(&self, product: usize, by: f64) -> Option<Outlet<'w>> {
        let candidate = &self.products[product];
        let seat = self.with(product).known_quantity(slot(SEAT_DEPTH))?;
        let depth = Quantity::of(seat.is - by, Dim::LENGTH).within(seat.low - by, seat.high - by);
        let seat = (slot(SEAT_DEPTH), Some(Value::Quantity(depth)));
        let others = candidate.edits.iter().filter(|(fact, _)| *fact != slot(SEAT_DEPTH));
        let edits: Vec<Edit> = others.cloned().chain([seat]).collect();
        (depth.low > 0.0).then(|| self.search.with(&edits))
    }

    /// Whether no rule in force asks for a longer one, or for anything of this product alone.
    pub fn is_enough(&self, product: usize) -> bool {
        let outlet = self.with(product);
        self.rules.iter().all(|at| !self.makes_comment(*at, outlet) || self.always(product).contains(at))
            && outlet.get(slot(SEAT_TEMPERATURE)).is_ok()
    }

    /// What a product is too short for.
    pub fn limits(&self, product: usize) -> Vec<Limit> {
        let outlet = self.with(product);
        let rules = self.search.rules();
        let asking = self
            .rules
            .iter()
            .filter(|at| self.makes_comment(**at, outlet) && !self.always(product).contains(at));
        let limits: BTreeSet<Limit> = asking.map(|at| Limit::of(&rules[*at])).collect();
        limits.into_iter().collect()
    }

    /// Rules that ask for something whatever the length.
    pub fn at_any_depth(&self, product: usize) -> Vec<Arc<RuleCard>> {
        let outlet = self.with(product);
        let asking = self
            .rules
            .iter()
            .filter(|at| self.makes_comment(**at, outlet) && self.always(product).contains(at));
        asking.map(|at| card(&self.search.rules()[*at])).collect()
    }

    /// A word of the outlet without a product.
    pub fn word(&self, name: &str) -> Option<Arc<str>> {
        match self.search.with(&[]).get(slot_named(name)?) {
            Ok(Value::Text(word)) => Some(word.clone()),
            _ => None,
        }
    }

    /// A fact of the outlet with a product, for printing.
    pub fn shown(&self, outlet: &Outlet<'w>, name: &str) -> Option<Shown> {
        let slot = slot_named(name)?;
        Some(shown(slot, &outlet.fact(slot), &self.search.world.job().rules))
    }

    /// What is assumed of the outlet with a product, with the reasons.
    pub fn assumed(&self, product: usize) -> Vec<(Shown, Arc<str>)> {
        let rules = &self.search.world.job().rules;
        let outlet = self.with(product);
        // What the seat's temperature takes is computed with it.
        let _ = outlet.get(slot(SEAT_TEMPERATURE)).is_ok();
        let known = outlet.known_so_far();
        let assumed = known.iter().filter_map(|(slot, fact)| match &fact.origin {
            Origin::Assumed(why) => Some((shown(*slot, fact, rules), why.clone())),
            _ => None,
        });
        assumed.collect()
    }

    /// Whether the inlet lies within the wall, where a longer outlet need not be warmer.
    pub fn is_in_wall(&self) -> bool {
        self.search.is_in_wall(&self.search.with(&[]))
    }

    fn makes_comment(&self, at: usize, outlet: &Outlet<'w>) -> bool {
        self.search.makes_comment(at, outlet)
    }

    fn always(&self, product: usize) -> BTreeSet<usize> {
        let candidate = &self.products[product];
        let deepest = *self.deepest.get_or_init(|| self.search.deepest());
        let of = |edits: &[Edit]| self.search.always(edits, deepest);
        match candidate.model {
            Some(_) => of(&candidate.edits),
            None => self.always.get_or_init(|| of(&[])).clone(),
        }
    }
}

//! What judging a rule costs once its facts are worked out: the shipped rule on the seat at the design low, on an outlet of
//! a schedule and on a plain array of values; and the same predicates in `evalexpr`, precompiled, which knows neither
//! units nor bands nor what is missing.

#![allow(missing_docs, reason = "the functions criterion makes cannot carry any")]
#![allow(clippy::unwrap_used, reason = "a bench that cannot judge has nothing to measure")]
#![allow(clippy::print_stdout, reason = "the figures are for people to see")]

use coldsill::diag::Location;
use coldsill::expr::{Condition, Gap, Names, Slot, Type, Value, Values};
use coldsill::facts::{Sources, World, open};
use coldsill::input::Memory;
use coldsill::shipped;
use coldsill::truth::Truth;
use coldsill::units::{Dim, Measure, Quantity};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use evalexpr::{ContextWithMutableVariables, HashMapContext, Node, Value as Number, build_operator_tree};
use std::hint::black_box;
use std::time::{Duration, Instant};

const RULE: &str = "freezing/seat-reaches-freezing-at-design-low";
const MILLION: u32 = 1_000_000;

/// A barrel long enough, so that both what applies and what is needed are looked at to the end.
const SCHEDULE: &str = "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation\n\
                        HB-1,1,sillcock,inside,14 in,stainless,2x6,copper,none\n";

fn world() -> World {
    let files = Memory::new().with("schedule.csv", SCHEDULE.to_owned());
    let climates = shipped::climates().expect("the climates built in can be read");
    let options = Sources {
        files: &files,
        source: "schedule.csv",
        climate: Some("kansas-city-mo"),
        rules: &[],
        presets: Default::default(),
        design_low: None,
        answers: &[],
        sheet: None,
        base_rules: &shipped::rules(),
        climates,
    };
    open(&options).unwrap()
}

/// The names of the rule and their values in a plain array.
struct Plain(Vec<(&'static str, Type, Value)>);

fn plain() -> Plain {
    let temperature =
        |kelvin| (Type::Quantity(Measure::Temperature), Value::Quantity(Quantity::temperature(kelvin)));
    let difference = Measure::Of(Dim::DIFFERENCE);
    let (low, seat) = (temperature(255.0), temperature(280.0));
    Plain(vec![
        ("outlet.closes", Type::OneOf(&["face", "inside", "below grade"]), Value::Text("inside".into())),
        ("site.design_low", low.0, low.1),
        ("heat.seat_temperature", seat.0, seat.1),
        ("freezing/margin", Type::Quantity(difference), Value::Quantity(Quantity::exact(2.2, difference))),
    ])
}

impl Names for Plain {
    fn find(&self, name: &str) -> Option<(Slot, Type)> {
        let at = self.0.iter().position(|it| it.0 == name)?;
        Some((Slot(u16::try_from(at).ok()?), self.0[at].1.clone()))
    }

    fn all(&self) -> Vec<String> {
        self.0.iter().map(|it| it.0.to_owned()).collect()
    }
}

impl Values for Plain {
    fn get(&self, slot: Slot) -> Result<&Value, Gap> {
        self.0.get(usize::from(slot.0)).map(|it| &it.2).ok_or_else(|| Gap::missing(slot))
    }

    fn is_stated(&self, _: Slot) -> bool {
        true
    }
}

/// The rule's two predicates over SI numbers, and their context.
fn evalexpr_rule() -> ([Node; 2], HashMapContext) {
    let applies = build_operator_tree("closes == \"inside\" && design_low < 273.15").unwrap();
    let needs = build_operator_tree("seat_temperature >= 273.15 + margin").unwrap();
    let mut context = HashMapContext::new();
    for (name, value) in [
        ("closes", Number::String("inside".into())),
        ("design_low", Number::Float(255.0)),
        ("seat_temperature", Number::Float(280.0)),
        ("margin", Number::Float(2.2)),
    ] {
        context.set_value(name.into(), value).unwrap();
    }
    ([applies, needs], context)
}

/// How long a million judgements take, the best of three.
fn a_million(mut judge: impl FnMut() -> bool) -> Duration {
    let once = |judge: &mut dyn FnMut() -> bool| {
        let start = Instant::now();
        for _ in 0..MILLION {
            assert!(black_box(judge()));
        }
        start.elapsed()
    };
    (0..3).map(|_| once(&mut judge)).min().unwrap()
}

fn rules(criterion: &mut Criterion) {
    let world = world();
    let row = &world.job().schedule.rows[0];
    let outlet = world.outlet(row);
    let rule = world.job().rules.rule(RULE).unwrap();
    let (applies, needs) = (rule.applies.as_ref().unwrap(), &rule.needs);
    let holds = |from: &dyn Values| applies.truth(from) == Truth::True && needs.truth(from) == Truth::True;
    let plain = plain();
    let place = Location::whole("bench");
    let [plain_applies, plain_needs] =
        [applies, needs].map(|it| Condition::check(it.text(), &place, &plain).unwrap());
    let on_array = || plain_applies.truth(&plain) == Truth::True && plain_needs.truth(&plain) == Truth::True;
    let ([other_applies, other_needs], context) = evalexpr_rule();
    let other = || {
        other_applies.eval_boolean_with_context(&context) == Ok(true)
            && other_needs.eval_boolean_with_context(&context) == Ok(true)
    };

    let of_outlet = a_million(|| holds(&outlet));
    let of_array = a_million(on_array);
    let of_other = a_million(other);
    let line = |what: &str, took: Duration| {
        let each = took.as_secs_f64();
        println!(
            "{what}: {:.0} rules a second, {:.2} of evalexpr's time",
            f64::from(MILLION) / each,
            each / of_other.as_secs_f64()
        );
    };
    line("outlet of a schedule, facts worked out", of_outlet);
    line("plain array", of_array);
    line("evalexpr, plain numbers", of_other);
    // Nothing is said of a program that is not optimised.
    if cfg!(debug_assertions) {
        return;
    }
    assert!(of_outlet < Duration::from_secs(1), "a million judgements took {of_outlet:?}");
    assert!(of_outlet.max(of_array) <= of_other, "slower than evalexpr");

    let mut group = criterion.benchmark_group("a rule's applies and needs");
    group.throughput(Throughput::Elements(1));
    group
        .bench_function("outlet of a schedule, facts worked out", |it| it.iter(|| holds(black_box(&outlet))));
    group.bench_function("plain array", |it| it.iter(on_array));
    group.bench_function("evalexpr, plain numbers", |it| it.iter(other));
    group.finish();
}

criterion_group!(benches, rules);
criterion_main!(benches);

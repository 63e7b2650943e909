//! Which few products serve a region: the fewest that cover every place, wall and supply, and what stocking one, two or
//! three costs.

use super::{Cell, Place, Setting};
use crate::review::Candidate;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Sets of products that are tried one by one; beyond, the set is built greedily.
const MOST_SETS: usize = 60_000;
/// Most products to stock that are costed.
const MOST_STOCKED: usize = 3;

/// A product with its barrel.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Item {
    /// Its number among the products.
    pub product: usize,
    /// Its barrel.
    pub barrel: Arc<str>,
}

/// Products to stock, and what they serve.
#[derive(Clone, Debug)]
pub struct Stock {
    /// The products.
    pub items: Vec<Item>,
    /// Places, walls and supplies that none of them is enough for, of those that some product is enough for.
    pub unserved: usize,
    /// Cost of one outlet for each home, wall and supply served, dollars; `None` unless homes and prices are all stated.
    pub cost: Option<f64>,
    /// Whether every set of as many products was tried. Otherwise it was built one product after the other, and at most
    /// 1 + ln(n) times as many as needed are in it, n being the places, walls and supplies.
    pub is_exact: bool,
}

/// Which products to stock.
#[derive(Clone, Debug)]
pub struct Groups {
    /// Places, walls and supplies with a product that is enough.
    pub needs: usize,
    /// Those without any.
    pub without: usize,
    /// The fewest products that serve all; `None` if there is nothing to serve.
    pub fewest: Option<Stock>,
    /// The best one, two and three products.
    pub best: Vec<Stock>,
}

/// The shortest product of each barrel that is enough.
type Shortest = BTreeMap<Arc<str>, usize>;
/// Needs unserved, total length, and the cost.
type Worth = (usize, f64, Option<f64>);

/// A place, wall and supply: the shortest product of each barrel that is enough, and its homes.
struct Need {
    shortest: Shortest,
    homes: Option<f64>,
    count: usize,
}

impl Groups {
    pub(super) fn of(
        places: &[Place],
        settings: &[Setting],
        products: &[Candidate],
        cells: &[Vec<Cell>],
    ) -> Self {
        let mut all: BTreeMap<(usize, [&str; 3]), Shortest> = BTreeMap::new();
        for (place, cells) in cells.iter().enumerate() {
            for (setting, cell) in settings.iter().zip(cells) {
                let key = (place, [&*setting.wall, &*setting.space, &*setting.supply]);
                let shortest = all.entry(key).or_default();
                shortest.extend(cell.needed.map(|needed| (setting.barrel.clone(), needed)));
            }
        }
        let without = all.values().filter(|shortest| shortest.is_empty()).count();
        // Needs alike count together.
        let mut alike: BTreeMap<Vec<(Arc<str>, usize)>, Need> = BTreeMap::new();
        for ((place, _), shortest) in all.iter().filter(|(_, shortest)| !shortest.is_empty()) {
            let key = shortest.iter().map(|(barrel, needed)| (barrel.clone(), *needed)).collect();
            let homes = places[*place].homes;
            alike
                .entry(key)
                .and_modify(|need| {
                    need.homes = need.homes.zip(homes).map(|(a, b)| a + b);
                    need.count += 1;
                })
                .or_insert_with(|| Need { shortest: shortest.clone(), homes, count: 1 });
        }
        let chooser = Chooser::new(alike.into_values().collect(), products);
        let best: Vec<Stock> = (1..=MOST_STOCKED).filter_map(|count| chooser.best(count)).collect();
        Self {
            needs: chooser.needs.iter().map(|need| need.count).sum(),
            without,
            fewest: chooser.fewest(),
            best,
        }
    }
}

struct Chooser<'p> {
    needs: Vec<Need>,
    items: Vec<Item>,
    products: &'p [Candidate],
}

impl<'p> Chooser<'p> {
    fn new(needs: Vec<Need>, products: &'p [Candidate]) -> Self {
        let items: BTreeSet<Item> = needs
            .iter()
            .flat_map(|need| &need.shortest)
            .map(|(barrel, product)| Item { product: *product, barrel: barrel.clone() })
            .collect();
        Self { needs, items: items.into_iter().collect(), products }
    }

    /// What a set serves: needs unserved, then cost or, without, the total length.
    fn worth(&self, set: &[usize]) -> Worth {
        let (mut unserved, mut length, mut cost) = (0, 0.0, Some(0.0));
        for need in &self.needs {
            let serves = set.iter().map(|at| &self.items[*at]).filter(|item| {
                need.shortest.get(&item.barrel).is_some_and(|shortest| item.product >= *shortest)
            });
            let price = |item: &&Item| self.products[item.product].price.unwrap_or(f64::INFINITY);
            let by_price =
                |a: &&Item, b: &&Item| price(a).total_cmp(&price(b)).then(a.product.cmp(&b.product));
            match serves.min_by(by_price) {
                None => unserved += need.count,
                Some(item) => {
                    #[allow(clippy::cast_precision_loss, reason = "places by walls")]
                    let count = need.count as f64;
                    length += self.products[item.product].length * count;
                    let own = self.products[item.product].price.zip(need.homes);
                    cost = cost.zip(own).map(|(sum, (price, homes))| sum + price * homes);
                }
            }
        }
        (unserved, length, cost)
    }

    /// The best set of as many products: the fewest unserved, then the least cost, then the least length.
    fn best(&self, count: usize) -> Option<Stock> {
        if count > self.items.len() {
            return None;
        }
        let is_exact = sets(self.items.len(), count) <= MOST_SETS;
        let mut best: Option<(Vec<usize>, Worth)> = None;
        let better = |new: &Worth, old: &Worth| {
            let cost = |it: &Worth| it.2.unwrap_or(0.0);
            (new.0.cmp(&old.0)).then(cost(new).total_cmp(&cost(old))).then(new.1.total_cmp(&old.1)).is_lt()
        };
        if is_exact {
            let mut set: Vec<usize> = (0..count).collect();
            loop {
                let worth = self.worth(&set);
                if best.as_ref().is_none_or(|(_, old)| better(&worth, old)) {
                    best = Some((set.clone(), worth));
                }
                // The next set in order.
                let Some(at) = (0..count).rev().find(|at| set[*at] < self.items.len() - count + at) else {
                    break;
                };
                set[at] += 1;
                for next in at + 1..count {
                    set[next] = set[next - 1] + 1;
                }
            }
        } else {
            let mut set: Vec<usize> = Vec::new();
            for _ in 0..count {
                let others = (0..self.items.len()).filter(|item| !set.contains(item));
                let with = others.map(|item| [set.as_slice(), &[item]].concat()).map(|set| {
                    let worth = self.worth(&set);
                    (set, worth)
                });
                let next = with.reduce(|old, new| if better(&new.1, &old.1) { new } else { old })?;
                set.clone_from(&next.0);
                best = Some(next);
            }
        }
        let (set, (unserved, _, cost)) = best?;
        let mut items: Vec<Item> = set.into_iter().map(|at| self.items[at].clone()).collect();
        items.sort();
        Some(Stock { items, unserved, cost, is_exact })
    }

    /// The fewest products that serve every need.
    fn fewest(&self) -> Option<Stock> {
        let mut is_exact = true;
        (1..=self.items.len()).find_map(|count| {
            let stock = self.best(count)?;
            is_exact &= stock.is_exact;
            (stock.unserved == 0).then_some(Stock { is_exact, ..stock })
        })
    }
}

/// Sets of so many out of so many, or more than are tried.
fn sets(all: usize, count: usize) -> usize {
    (0..count).fold(1, |sets: usize, at| (sets * (all - at) / (at + 1)).min(MOST_SETS + 1))
}

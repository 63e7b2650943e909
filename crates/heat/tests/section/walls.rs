//! Layers of some walls, from outside to inside.

use coldsill_heat::section::{Layer, Micro};

/// A layer and its heat capacity by volume, J/m³K.
pub struct WallLayer {
    pub layer: Layer,
    pub heat_capacity: f64,
}

/// The layers of a wall of `data/walls.csv`.
pub fn wall(key: &str) -> Vec<WallLayer> {
    let rows = include_str!("data/walls.csv").lines().filter(|line| !line.starts_with('#')).skip(1);
    let layers: Vec<WallLayer> = rows
        .filter_map(|row| row.strip_prefix(key)?.strip_prefix(','))
        .map(|figures| {
            let figure: Vec<f64> = figures.split(',').map(|text| text.parse().expect("a number")).collect();
            let [thickness, conductivity, heat_capacity] = figure[..] else { panic!("{key}: {figures}") };
            let layer = Layer { thickness: Micro::of(thickness), conductivity: Micro::of(conductivity) };
            WallLayer { layer, heat_capacity }
        })
        .collect();
    assert!(!layers.is_empty(), "no wall {key}");
    layers
}

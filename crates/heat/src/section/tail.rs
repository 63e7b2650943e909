//! The supply that turns down inside the wall: a chain of cells hung on the inlet fitting. Its surroundings are the
//! wall at that depth, a mix of outdoors and indoors, so that each cell meets both boundaries in parallel.

use super::faces::{Tag, WALL_FILM_INSIDE};
use super::paint::{Part, Shape, water};
use super::solve::{OUTDOORS, SPACE_BEHIND, SectionError};
use super::spec::Spec;
use crate::thermal::{Axis, Face, Grid, Line, Link, Network, Side, Surface, graded};
use std::f64::consts::PI;

/// Hangs the supply on the fitting and gives its cells, each with its ends along the pipe from the fitting, m.
pub(super) fn hang(
    network: &mut Network,
    grid: &Grid,
    shape: &Shape,
    spec: &Spec,
) -> Result<Vec<(usize, [f64; 2])>, SectionError> {
    let ends = fitting_ends(network, grid, shape);
    let area: f64 = ends.iter().map(|(_, _, area)| area).sum();
    let edges = graded(&[Line::new(0.0, 0.005), Line::new(spec.supply.run.si(), 0.08)], 1.6, 0.08)?;
    let around = Surroundings::of(shape, spec)?;
    let conductivity = lumped(spec);
    let section = PI * shape.supply * shape.supply;
    let mut cells: Vec<(usize, [f64; 2])> = Vec::new();
    for pair in edges.windows(2) {
        let length = pair[1] - pair[0];
        let cell = network.add_cell(conductivity)?;
        let half = 0.5 * length / section;
        match cells.last() {
            Some(&(before, [from, to])) => {
                let width_before = to - from;
                let halves = [0.5 * width_before / section, half];
                network.link(Link { cells: [before, cell], half: halves, extra: 0.0 })?;
            }
            None => {
                for &(end, end_half, end_area) in &ends {
                    let halves = [end_half, half * area / end_area];
                    network.link(Link { cells: [end, cell], half: halves, extra: 0.0 })?;
                }
            }
        }
        for (boundary, share) in [(OUTDOORS, around.outdoors), (SPACE_BEHIND, 1.0 - around.outdoors)] {
            let surface = Surface { cell, boundary, half: 0.0, area: 1.0, tag: Tag::Tail as u32 };
            network.meet(surface, around.resistance / (length * share))?;
        }
        cells.push((cell, [pair[0], pair[1]]));
    }
    Ok(cells)
}

/// Conductivity of pipe and water taken together over the pipe's whole section, W/mK.
pub(super) fn lumped(spec: &Spec) -> f64 {
    let bore = water_share(spec);
    spec.supply.conductivity.si() * (1.0 - bore) + water(spec) * bore
}

/// The bore's part of the whole section of the supply.
pub(super) fn water_share(spec: &Spec) -> f64 {
    let outer = spec.supply.diameter.si() / 2.0;
    let inner = outer - spec.supply.thickness.si();
    inner * inner / (outer * outer)
}

/// Cells at the inner end of the fitting: number, half toward the end, area of the end.
fn fitting_ends(network: &Network, grid: &Grid, shape: &Shape) -> Vec<(usize, f64, f64)> {
    let face = Face::new(Axis::Second, Side::High);
    let mut ends = Vec::new();
    for number in 0..grid.cells() {
        let at = grid.position(number);
        let [r, z, _] = grid.center(at);
        let last = (grid.coordinate(at, face) - shape.fitting_end).abs() < 1e-4;
        let inside = matches!(shape.part(r, z), Some(Part::Fitting | Part::Water)) && r < shape.fitting;
        if last
            && inside
            && let Some(cell) = network.cell_at(number)
        {
            ends.push((cell, grid.half(at, face), grid.area(at, face)));
        }
    }
    ends
}

/// What the wall is to a pipe within it.
struct Surroundings {
    /// Share of outdoors in the wall's own temperature at that depth.
    outdoors: f64,
    /// Between the pipe and that temperature, for a meter of pipe, mK/W.
    resistance: f64,
}

impl Surroundings {
    /// A cylinder between two isothermal planes, R' = ln(2W/(πr)·sin(πz/W)) / 2πk by images of a line source
    /// (Carslaw and Jaeger; at mid-depth the handbook's shape factor 2π/ln(8z/πD)). The layered wall is taken as a
    /// slab of the pipe's own layer that has the wall's resistance on either side. Insulation around the pipe comes
    /// on top, and the cylinder is then its outside.
    fn of(shape: &Shape, spec: &Spec) -> Result<Self, SectionError> {
        let depth = shape.fitting_end + shape.supply;
        let Some(own) = shape.layers.iter().position(|[outer, inner]| depth >= *outer && depth < *inner)
        else {
            return Err(SectionError::DoesNotFit(
                "the supply does not lie within the wall at the depth of the inlet",
            ));
        };
        let resistance = |number: usize, thickness: f64| thickness / spec.wall[number].conductivity.si();
        let outer: f64 = (0..own).map(|n| resistance(n, shape.layers[n][1] - shape.layers[n][0])).sum();
        let all: f64 =
            (0..shape.layers.len()).map(|n| resistance(n, shape.layers[n][1] - shape.layers[n][0])).sum();
        let outwards = spec.outdoor_resistance.si() + outer + resistance(own, depth - shape.layers[own][0]);
        let total = spec.outdoor_resistance.si() + all + WALL_FILM_INSIDE;
        let k = spec.wall[own].conductivity.si();
        let (depth, width) = (outwards * k, total * k);
        let radius = shape.sleeve.unwrap_or(shape.supply);
        let ratio = 2.0 * width / (PI * radius) * libm::sin(PI * depth / width);
        /// Nearer than this to a face the pipe is no longer a thin line within the slab.
        const LEAST_RATIO: f64 = 1.5;
        let insulation =
            spec.supply.sleeve.map_or(0.0, |it| libm::log(radius / shape.supply) / it.conductivity.si());
        let resistance = (libm::log(ratio.max(LEAST_RATIO)) / k + insulation) / (2.0 * PI);
        Ok(Self { outdoors: 1.0 - outwards / total, resistance })
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::spec::{
        Barrel, Behind, Bore, Fitting, Inlet, Layer, Micro, Ranged, Sleeve, Stem, Supply,
    };
    use super::*;
    use crate::thermal::{Film, Solver};

    /// So large a film that the exterior face is at the boundary's temperature.
    const NO_FILM: f64 = 1e6;
    /// m
    const FITTING_LENGTH: f64 = 0.018;

    /// A pipe turned down in a wall of layers (m, W/mK), its axis at a depth, m.
    pub(in crate::section) fn spec(wall: &[[f64; 2]], axis: f64, radius: f64, film: f64) -> Spec {
        let metal = Ranged::exact(100.0);
        Spec {
            wall: wall
                .iter()
                .map(|&[thickness, conductivity]| Layer {
                    thickness: Micro::of(thickness),
                    conductivity: Micro::of(conductivity),
                })
                .collect(),
            seat_depth: Ranged::exact(axis - radius - FITTING_LENGTH),
            barrel: Barrel {
                diameter: Ranged::exact(0.02),
                thickness: Ranged::exact(0.0015),
                conductivity: metal,
                emissivity: Ranged::exact(0.4),
            },
            stem: Stem { diameter: Ranged::exact(0.006), conductivity: metal },
            fitting: Fitting { length: Ranged::exact(FITTING_LENGTH), conductivity: metal },
            bore: Bore::Drained,
            supply: Supply {
                diameter: Micro::of(2.0 * radius),
                thickness: Micro::of(0.001),
                conductivity: metal,
                exchange: Ranged::exact(1.0),
                run: Micro::of(0.6),
                emissivity: Ranged::exact(0.4),
                sleeve: None,
            },
            inlet: Inlet::InWall,
            behind: Behind {
                room: Micro::of(293.0),
                share: Micro::of(1.0),
                leak: Ranged::exact(0.0),
                pressure: Ranged::exact(101_325.0),
                convection: Ranged::exact(1.0),
            },
            held_back: None,
            outdoor_resistance: Ranged::exact(1.0 / film),
            gasket: Micro::default(),
            cover: Micro::default(),
        }
    }

    fn around(spec: &Spec) -> Surroundings {
        Surroundings::of(&Shape::of(spec), spec).unwrap()
    }

    /// Conductances from a meter of the pipe's surface to outdoors and to indoors, W/mK, from a plane finite-volume
    /// solve of half the wall, mirrored at the pipe's axis: the pipe is left empty and its staircase held at a
    /// third temperature. Also the radius of the circle with the staircase's area, m.
    fn plane(wall: &[[f64; 2]], axis: f64, radius: f64, film: f64) -> ([f64; 2], f64) {
        let fine = radius / 24.0;
        let width: f64 = wall.iter().map(|it| it[0]).sum();
        let mut lines = vec![Line::new(0.0, 0.004)];
        let mut faces = Vec::new();
        for [thickness, _] in wall {
            faces.push(faces.last().copied().unwrap_or(0.0) + thickness);
        }
        lines.extend(faces.iter().map(|&at| Line::new(at, 0.004)));
        lines.extend([-radius, 0.0, radius].map(|from| Line::new(axis + from, fine)));
        lines.sort_by(|a, b| a.at.total_cmp(&b.at));
        let across = graded(&lines, 1.2, 0.02).unwrap();
        // Even over the pipe itself, so that the staircase is one of squares.
        let even = |edges: Vec<f64>| -> Vec<f64> {
            let mut all: Vec<f64> =
                edges.into_iter().filter(|it| (it - axis).abs() > 1.001 * radius).collect();
            all.extend((-24..=24).map(|i| axis + radius * f64::from(i) / 24.0));
            all.sort_by(f64::total_cmp);
            all
        };
        let up: Vec<f64> = (0..24).map(|i| radius * f64::from(i) / 24.0).collect();
        let beyond = graded(&[Line::new(radius, fine), Line::new(8.0 * width, 0.1)], 1.2, 0.1).unwrap();
        let grid = Grid::plane(even(across), [up, beyond].concat()).unwrap();
        let mut area = 0.0;
        let inside = |x: f64, y: f64| (x - axis) * (x - axis) + y * y < radius * radius;
        let beside = |x: f64, y: f64| inside(axis + (x - axis) / 1.5, y / 1.5);
        let network = Network::over(
            &grid,
            3,
            |at, [x, y, _]| {
                if inside(x, y) {
                    area += grid.volume(at);
                    return None;
                }
                faces.iter().position(|face| x < *face).map(|layer| wall[layer][1])
            },
            |exposed| {
                let [x, y, _] = exposed.center;
                let end = |boundary, resistance| Some(Film { boundary, resistance, tag: 0 });
                match (exposed.face.axis, x) {
                    (Axis::First, x) if x < 1e-9 => end(OUTDOORS, 1.0 / film),
                    (Axis::First, x) if x > width - 1e-9 => end(SPACE_BEHIND, WALL_FILM_INSIDE),
                    (Axis::First | Axis::Second, x) if y > 1e-9 && beside(x, y) => end(2, 0.0),
                    _ => None,
                }
            },
        )
        .unwrap();
        let weights = Solver::analyse(&network).unwrap().solve(&network).unwrap();
        let both = [OUTDOORS, SPACE_BEHIND].map(|boundary| 2.0 * weights.coupling(boundary, 2));
        (both, (2.0 * area / PI).sqrt())
    }

    #[test]
    fn at_mid_depth_the_resistance_is_that_of_the_handbooks_shape_factor() {
        // Incropera, table of shape factors: a cylinder of diameter D midway between isothermal planes 2 z apart, in
        // a medium of k, length L, z > D/2: S = 2 π L / ln(8 z / (π D)). The interior film stands for k times its
        // resistance of the medium.
        for (radius, k) in [(0.008, 0.04), (0.0111, 0.12), (0.0143, 0.043)] {
            let wall: f64 = 0.2;
            let width = wall + WALL_FILM_INSIDE * k;
            let got = around(&spec(&[[wall, k]], width / 2.0, radius, NO_FILM));
            let shape_factor = 2.0 * PI / libm::log(8.0 * (width / 2.0) / (PI * 2.0 * radius));
            // Depths are held to a millionth of a meter.
            assert!((got.resistance * k * shape_factor - 1.0).abs() < 1e-4, "{radius} {k}");
            assert!((got.outdoors - 0.5).abs() < 1e-4, "{}", got.outdoors);
        }
    }

    #[test]
    fn off_center_in_one_layer_it_agrees_with_a_plane_solve_of_the_cylinder() {
        // A line source leaves out the dipole of a cylinder's image, (r/2z)² or 0.6 % at 50 mm; the staircase, 24
        // squares to the radius and judged by its area, less.
        for axis in [0.05, 0.08, 0.14] {
            let (wall, radius, film) = ([[0.19, 0.05]], 0.008, 34.0);
            let ([out, inside], round) = plane(&wall, axis, radius, film);
            let got = around(&spec(&wall, axis, round, film));
            let [ours_out, ours_in] = [got.outdoors, 1.0 - got.outdoors].map(|it| it / got.resistance);
            let near = |ours: f64, plane: f64| (ours / plane - 1.0).abs() < 0.01;
            assert!(
                near(ours_out, out) && near(ours_in, inside),
                "{axis}: {ours_out} {out}, {ours_in} {inside}"
            );
        }
    }

    #[test]
    fn in_a_layered_wall_it_is_near_a_plane_solve_of_the_cylinder() {
        // 3 5/8 in brick, 1 in air, 7/16 in sheathing, 3 1/2 in batt, 1/2 in gypsum board, the other layers as a slab
        // of batt of the same resistance. A neighboring layer conducts along itself as that slab does not, which
        // counts where the pipe is within its own diameter of it.
        let wall = [[0.0921, 1.33], [0.0254, 0.141], [0.0111, 0.1], [0.0889, 0.043], [0.0127, 0.16]];
        let (radius, film) = (0.008, 34.0);
        for (axis, part, share) in
            [(0.145, 0.1, 0.02), (0.165, 0.03, 0.01), (0.173, 0.03, 0.01), (0.205, 0.1, 0.02)]
        {
            let ([out, inside], round) = plane(&wall, axis, radius, film);
            let got = around(&spec(&wall, axis, round, film));
            let (whole, outdoors) = ((out + inside) * got.resistance, out / (out + inside));
            assert!((whole - 1.0).abs() < part, "{axis}: {whole}");
            assert!((outdoors - got.outdoors).abs() < share, "{axis}: {outdoors} {}", got.outdoors);
        }
    }

    #[test]
    fn insulation_around_the_pipe_adds_the_resistance_of_its_ring() {
        // In insulation of the wall's own conductivity a ring changes nothing but where the cylinder ends.
        let bare = spec(&[[0.2, 0.04]], 0.1, 0.008, 34.0);
        let mut ring = bare.clone();
        ring.supply.sleeve = Some(Sleeve { thickness: Micro::of(0.012), conductivity: Micro::of(0.04) });
        assert!((around(&ring).resistance / around(&bare).resistance - 1.0).abs() < 1e-9);
        ring.supply.sleeve = Some(Sleeve { thickness: Micro::of(0.012), conductivity: Micro::of(0.02) });
        let more = libm::log(0.020 / 0.008) / (2.0 * PI) * (1.0 / 0.02 - 1.0 / 0.04);
        assert!((around(&ring).resistance - around(&bare).resistance - more).abs() < 1e-9);
    }

    #[test]
    fn insulation_that_reaches_out_of_the_wall_is_no_worse_than_its_own_ring() {
        // Where the ring is wider than the pipe is deep, the slab around it adds nothing more, and takes nothing off.
        for thickness in [0.03, 0.05, 0.08] {
            let mut wide = spec(&[[0.2, 0.04]], 0.03, 0.008, NO_FILM);
            wide.supply.sleeve =
                Some(Sleeve { thickness: Micro::of(thickness), conductivity: Micro::of(0.04) });
            let ring = libm::log((0.008 + thickness) / 0.008) / (2.0 * PI * 0.04);
            assert!(around(&wide).resistance >= ring, "{thickness}");
        }
    }
}

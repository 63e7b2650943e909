//! What is uncertain about a section, and what each of it does by itself.

use super::faces::Tag;
use super::paint::{self, Part, Shape};
use super::solve::{INDOORS, PASSES, Section, SectionError};
use super::solved::{Boundary, Share};
use super::spec::{Micro, Ranged, Spec};
use super::tail;
use crate::thermal::{Solution, Weights};

/// What is uncertain about a section. Factors are independent of each other; what is correlated is one factor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Factor {
    /// Depth of the seat: offset from the nominal length, gasket under the flange.
    SeatDepth,
    /// Conductivity of the barrel's metal.
    BarrelMetal,
    /// Thickness of the barrel's tube.
    BarrelThickness,
    /// Diameter of the barrel's tube.
    BarrelDiameter,
    /// Metal of the stem.
    StemMetal,
    /// Diameter of the stem.
    StemDiameter,
    /// Length of the inlet fitting.
    FittingLength,
    /// Metal of the inlet fitting.
    FittingMetal,
    /// Conductivity of the supply pipe.
    SupplyPipe,
    /// Buoyant exchange in the water of the supply.
    WaterExchange,
    /// Emissivity of bare metal and pipe indoors, alike for both.
    Emissivity,
    /// Natural convection indoors: the scatter of its correlation.
    Convection,
    /// Pressure of the air, by an elevation that is not known.
    AirPressure,
    /// Outdoor air that leaks in at the inlet.
    AirLeakage,
    /// Exterior film.
    OutdoorFilm,
}

impl Factor {
    /// All of them.
    pub const ALL: [Self; 15] = [
        Self::SeatDepth,
        Self::BarrelMetal,
        Self::BarrelThickness,
        Self::BarrelDiameter,
        Self::StemMetal,
        Self::StemDiameter,
        Self::FittingLength,
        Self::FittingMetal,
        Self::SupplyPipe,
        Self::WaterExchange,
        Self::Emissivity,
        Self::Convection,
        Self::AirPressure,
        Self::AirLeakage,
        Self::OutdoorFilm,
    ];

    /// In words.
    pub fn name(self) -> &'static str {
        match self {
            Self::SeatDepth => "seat depth",
            Self::BarrelMetal => "barrel alloy",
            Self::BarrelThickness => "barrel thickness",
            Self::BarrelDiameter => "barrel diameter",
            Self::StemMetal => "stem metal",
            Self::StemDiameter => "stem diameter",
            Self::FittingLength => "inlet fitting length",
            Self::FittingMetal => "inlet fitting metal",
            Self::SupplyPipe => "supply pipe material",
            Self::WaterExchange => "circulation of water in the supply",
            Self::Emissivity => "bright or dull metal indoors",
            Self::Convection => "indoor air film",
            Self::AirPressure => "elevation",
            Self::AirLeakage => "air leakage at the inlet",
            Self::OutdoorFilm => "wind outdoors",
        }
    }

    /// Its quantity in a specification, and one that goes with it.
    pub fn of(self, spec: &mut Spec) -> (&mut Ranged, Option<&mut Ranged>) {
        let Spec { barrel, stem, fitting, supply, behind, .. } = spec;
        let one = match self {
            Self::SeatDepth => &mut spec.seat_depth,
            Self::BarrelMetal => &mut barrel.conductivity,
            Self::BarrelThickness => &mut barrel.thickness,
            Self::BarrelDiameter => &mut barrel.diameter,
            Self::StemMetal => &mut stem.conductivity,
            Self::StemDiameter => &mut stem.diameter,
            Self::FittingLength => &mut fitting.length,
            Self::FittingMetal => &mut fitting.conductivity,
            Self::SupplyPipe => &mut supply.conductivity,
            Self::WaterExchange => &mut supply.exchange,
            Self::Emissivity => return (&mut barrel.emissivity, Some(&mut supply.emissivity)),
            Self::Convection => &mut behind.convection,
            Self::AirPressure => &mut behind.pressure,
            Self::AirLeakage => &mut behind.leak,
            Self::OutdoorFilm => &mut spec.outdoor_resistance,
        };
        (one, None)
    }

    /// The specification with this factor known exactly, at what `pick` takes of its range.
    #[must_use]
    pub fn fixed(self, spec: &Spec, pick: impl Fn(Ranged) -> Micro) -> Spec {
        let mut spec = spec.clone();
        let (one, other) = self.of(&mut spec);
        for range in std::iter::once(one).chain(other) {
            *range = range.at(pick(*range));
        }
        spec
    }

    /// The chance of a value below the best estimate; nothing if it is known exactly.
    fn below(self, spec: &Spec) -> Option<f64> {
        let mut spec = spec.clone();
        let (one, other) = self.of(&mut spec);
        one.below().or_else(|| other.and_then(|range| range.below()))
    }
}

/// What one uncertain factor does by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Varied {
    /// The factor.
    pub factor: Factor,
    /// The chance that it is below its best estimate.
    pub below: f64,
    /// At the seat, at the factor's low and high bound.
    pub seat: [Share; 2],
    /// In the coldest water, likewise.
    pub coldest: [Share; 2],
}

/// Of the share: 0.01 °F between a room and the coldest outdoors.
const WITHIN: f64 = 1e-4;
/// Films of a section with a mesh of its own are found when a pass moves the seat by no more than this, as a share: films
/// follow a surface's lead over the room with its fourth root, so that the next pass moves it by a tenth of that.
const SETTLED: f64 = 5e-3;

/// A section as solved at the best estimates: the weight of the space behind in each cell and bare surface, and the state
/// that its films are held at.
struct Held {
    bare: Vec<f64>,
    at: Boundary,
    solution: Solution,
}

impl Section<'_> {
    /// Seat and coldest water with each factor at either bound, everything else at its best estimate.
    pub(super) fn vary(&mut self, used: &Weights) -> Result<Vec<Varied>, SectionError> {
        let weights = used.of_boundary(INDOORS).to_vec();
        let best = self.both(&weights);
        let coldest: Vec<_> = self.coldest_water(&weights).into_iter().map(|cell| (cell, 1.0)).collect();
        let readings = [&self.reading[..], &coldest];
        let held = Held {
            bare: self.bare_weights(&weights),
            at: self.critical(best[0]),
            solution: self.solver.solution(
                &self.network,
                std::mem::take(&mut self.factors),
                INDOORS,
                weights,
                &readings,
            )?,
        };
        let mut varied = Vec::new();
        for factor in Factor::ALL {
            let Some(below) = factor.below(self.spec) else { continue };
            let mut ends = [best; 2];
            for (end, share) in ends.iter_mut().enumerate() {
                let pick = |range: Ranged| if end == 0 { range.low } else { range.high };
                let spec = factor.fixed(self.spec, pick);
                if spec != factor.fixed(self.spec, |range| range.used) {
                    *share = self.at(&spec, factor, best, &held)?;
                }
            }
            if ends != [best; 2] {
                let [seat, coldest] = [0, 1].map(|which| ends.map(|end| end[which]));
                varied.push(Varied { factor, below, seat, coldest });
            }
        }
        self.factors = held.solution.into_factors();
        Ok(varied)
    }

    /// Seat and coldest water, by the weight of the space behind in each cell.
    pub(super) fn both(&self, weights: &[f64]) -> [Share; 2] {
        let coldest = self.coldest_water(weights).map_or(1.0, |cell| weights[cell]);
        [self.seat(weights), Share(coldest * self.spec.behind.weight())]
    }

    /// Seat and coldest water of a specification that differs in one factor from what gives the best estimates.
    fn at(
        &mut self,
        spec: &Spec,
        factor: Factor,
        best: [Share; 2],
        held: &Held,
    ) -> Result<[Share; 2], SectionError> {
        match factor {
            Factor::AirLeakage => {
                let ratio = spec.behind.weight() / self.spec.behind.weight();
                Ok(best.map(|share| Share(share.0 * ratio)))
            }
            // These move surfaces.
            Factor::SeatDepth | Factor::FittingLength | Factor::BarrelDiameter => {
                match self.stretched(spec) {
                    // Where a wall leaves no room for that, it is not so.
                    Err(SectionError::DoesNotFit(_)) => Ok(best),
                    Err(other) => Err(other),
                    Ok(Some(section)) => self.at_resized(section, factor, best, held),
                    Ok(None) => self.at_other_mesh(spec, factor, held),
                }
            }
            // Films on bare surfaces are held for the temperatures of the best estimate.
            _ => {
                let bare = self.bare.clone();
                self.repaint(spec)?;
                if matches!(factor, Factor::Emissivity | Factor::Convection | Factor::AirPressure) {
                    self.set_bare_films(&held.bare, &held.at, spec)?;
                }
                let shares = if factor == Factor::StemDiameter {
                    // Air becomes metal, or metal air: that is not near.
                    let weights = self.weight_of_space()?;
                    self.both(&weights)
                } else {
                    let read = self.solver.read_near(&held.solution, &self.network, WITHIN)?;
                    self.solves += 1;
                    let share =
                        |which: usize| read.get(which).map(|it| Share(it * self.spec.behind.weight()));
                    [0, 1].map(|which| share(which).unwrap_or(best[which]))
                };
                self.network.restore(held.solution.values());
                self.bare = bare;
                Ok(shares)
            }
        }
    }

    /// Seat and coldest water of this section at other sizes, on the same mesh.
    fn at_resized(
        &mut self,
        mut section: Section<'_>,
        factor: Factor,
        best: [Share; 2],
        held: &Held,
    ) -> Result<[Share; 2], SectionError> {
        let mut weights = held.solution.weights().to_vec();
        let (mut bare, mut at) = (held.bare.clone(), held.at);
        let mut shares = best;
        for _ in 0..PASSES {
            section.set_bare_films(&bare, &at, section.spec)?;
            let network = &section.network;
            let read = self.solver.read_resized(&held.solution, network, &mut weights, WITHIN)?;
            self.solves += 1;
            let before = shares[0];
            for (share, read) in shares.iter_mut().zip(read) {
                *share = Share(read * section.spec.behind.weight());
            }
            if factor == Factor::BarrelDiameter || (shares[0].0 - before.0).abs() <= SETTLED {
                break;
            }
            bare = section.bare_weights(&weights);
            at = section.critical(shares[0]);
        }
        Ok(shares)
    }

    /// The same on a mesh of its own.
    fn at_other_mesh(
        &mut self,
        spec: &Spec,
        factor: Factor,
        held: &Held,
    ) -> Result<[Share; 2], SectionError> {
        let mut section = Section::build(spec, self.fineness)?;
        section.set_bare_films(&self.bare_weights_in(&section, &held.bare), &held.at, spec)?;
        let weights = match factor {
            Factor::BarrelDiameter => section.weight_of_space()?,
            _ => section.settle_films(None, SETTLED)?,
        };
        self.solves += section.solves;
        Ok(section.both(&weights))
    }

    /// Puts in the conductivities and exterior films of a specification, within the mesh of the section's own. The tube
    /// keeps its ring of cells: conductivity stands for its section of metal.
    fn repaint(&mut self, spec: &Spec) -> Result<(), SectionError> {
        let (own, other) = (&self.shape, Shape::of(spec));
        let ring = |outer: f64, inner: f64| outer * outer - inner * inner;
        let metal = ring(other.barrel, other.barrel_bore) / ring(own.barrel, own.barrel_bore);
        for (cell, part) in self.parts.iter().enumerate() {
            let tube = if *part == Part::Barrel { metal } else { 1.0 };
            self.network.set_conductivity(cell, paint::conductivity(*part, spec) * tube)?;
        }
        for &(cell, r) in &self.bore {
            let part = own.bore_at(r, other.stem);
            self.network.set_conductivity(cell, paint::conductivity(part, spec))?;
        }
        for &(cell, _) in &self.tail {
            self.network.set_conductivity(cell, tail::lumped(spec))?;
        }
        let outward = spec.outdoor_resistance.si();
        for surface in 0..self.network.surfaces().len() {
            let tag = self.network.surfaces()[surface].tag;
            if tag == Tag::Outdoors as u32 {
                self.network.set_film(surface, outward)?;
            } else if tag == Tag::UnderCover as u32 {
                self.network.set_film(surface, outward + spec.cover.si())?;
            }
        }
        Ok(())
    }
}

//! What is uncertain about a section, and the effect of each uncertain input by itself.

use super::faces::Tag;
use super::paint::{self, Part, Shape};
use super::solve::{PASSES, SPACE_BEHIND, Section, SectionError};
use super::solved::{Boundary, Share};
use super::spec::{Micro, Ranged, Spec};
use super::tail;
use crate::thermal::{Solution, Weights};

/// An uncertain input of a section. Inputs are independent of each other; what is correlated is one input.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum UncertainInput {
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
    /// Emissivity of bare metal and pipe indoors, both at the same bound together.
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

impl UncertainInput {
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

    /// The specification with this input known exactly, at what `pick` takes of its range.
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

/// The effect of one uncertain input by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Varied {
    /// The input.
    pub input: UncertainInput,
    /// The chance that it is below its best estimate.
    pub below: f64,
    /// At the seat, at the input's low and high bound.
    pub seat: [Share; 2],
    /// In the coldest water, likewise.
    pub coldest: [Share; 2],
}

/// Readings are accurate to this share: 0.01 °F where room and outdoors differ by 100 °F.
const WITHIN: f64 = 1e-4;
/// Where a surface moves, films are repeated until a pass moves the seat's share by no more than this. A film varies with
/// about the fourth root of the difference between surface and air, so each pass moves the seat about a tenth as far as the
/// one before.
const SETTLED: f64 = 5e-3;

/// A section as solved at the best estimates: the weight of the space behind in each cell and bare surface, and the state
/// that its films are held at.
struct Held {
    bare: Vec<f64>,
    state: Boundary,
    solution: Solution,
}

impl Section<'_> {
    /// Seat and coldest water with each input at either bound, everything else at its best estimate.
    pub(super) fn vary(&mut self, solved: &Weights) -> Result<Vec<Varied>, SectionError> {
        let weights = solved.of_boundary(SPACE_BEHIND).to_vec();
        let best = self.both(&weights);
        let coldest: Vec<_> = self.coldest_water(&weights).into_iter().map(|cell| (cell, 1.0)).collect();
        let readings = [&self.reading[..], &coldest];
        let held = Held {
            bare: self.bare_weights(&weights),
            state: self.critical(best[0]),
            solution: self.solver.solution(
                &self.network,
                std::mem::take(&mut self.factors),
                SPACE_BEHIND,
                weights,
                &readings,
            )?,
        };
        let mut varied = Vec::new();
        for input in UncertainInput::ALL {
            let Some(below) = input.below(self.spec) else { continue };
            let mut ends = [best; 2];
            for (end, share) in ends.iter_mut().enumerate() {
                let pick = |range: Ranged| if end == 0 { range.low } else { range.high };
                let spec = input.fixed(self.spec, pick);
                if spec != input.fixed(self.spec, |range| range.used) {
                    *share = self.shares_at_bound(&spec, input, best, &held)?;
                }
            }
            if ends != [best; 2] {
                let [seat, coldest] = [0, 1].map(|which| ends.map(|end| end[which]));
                varied.push(Varied { input, below, seat, coldest });
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

    /// Seat and coldest water of a specification that differs in one input from what gives the best estimates.
    fn shares_at_bound(
        &mut self,
        spec: &Spec,
        input: UncertainInput,
        best: [Share; 2],
        held: &Held,
    ) -> Result<[Share; 2], SectionError> {
        match input {
            UncertainInput::AirLeakage => {
                let ratio = spec.behind.weight() / self.spec.behind.weight();
                Ok(best.map(|share| Share(share.0 * ratio)))
            }
            // These move surfaces.
            UncertainInput::SeatDepth | UncertainInput::FittingLength | UncertainInput::BarrelDiameter => {
                match self.stretched(spec) {
                    // The wall has no room for this bound, so the input cannot have it: the best estimate stands.
                    Err(SectionError::DoesNotFit(_)) => Ok(best),
                    Err(other) => Err(other),
                    Ok(Some(section)) => self.shares_resized(section, input, best, held),
                    Ok(None) => self.shares_on_own_mesh(spec, input, held),
                }
            }
            // Films on bare surfaces are held for the temperatures of the best estimate.
            _ => {
                let bare = self.bare.clone();
                self.repaint(spec)?;
                if matches!(
                    input,
                    UncertainInput::Emissivity | UncertainInput::Convection | UncertainInput::AirPressure
                ) {
                    self.set_bare_films(&held.bare, &held.state, spec)?;
                }
                let shares = if input == UncertainInput::StemDiameter {
                    // Air becomes metal, or metal air: too large a change for `read_near`.
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

    /// Seat and coldest water of `resized`: this section at another size, its mesh stretched, read by this one's factors.
    /// Another diameter keeps the films of the best estimate, as inputs that move no surface do.
    fn shares_resized(
        &mut self,
        mut resized: Section<'_>,
        input: UncertainInput,
        best: [Share; 2],
        held: &Held,
    ) -> Result<[Share; 2], SectionError> {
        let mut weights = held.solution.weights().to_vec();
        let (mut bare, mut state) = (held.bare.clone(), held.state);
        let mut shares = best;
        for _ in 0..PASSES {
            resized.set_bare_films(&bare, &state, resized.spec)?;
            let network = &resized.network;
            let read = self.solver.read_resized(&held.solution, network, &mut weights, WITHIN)?;
            self.solves += 1;
            let before = shares[0];
            for (share, read) in shares.iter_mut().zip(read) {
                *share = Share(read * resized.spec.behind.weight());
            }
            if input == UncertainInput::BarrelDiameter || (shares[0].0 - before.0).abs() <= SETTLED {
                break;
            }
            bare = resized.bare_weights(&weights);
            state = resized.critical(shares[0]);
        }
        Ok(shares)
    }

    /// Seat and coldest water of a specification that differs in a size, on a mesh of its own; films as in
    /// [`Self::shares_resized`].
    fn shares_on_own_mesh(
        &mut self,
        spec: &Spec,
        input: UncertainInput,
        held: &Held,
    ) -> Result<[Share; 2], SectionError> {
        let mut section = Section::build(spec, self.fineness)?;
        section.set_bare_films(&self.bare_weights_in(&section, &held.bare), &held.state, spec)?;
        let weights = match input {
            UncertainInput::BarrelDiameter => section.weight_of_space()?,
            _ => section.settle_films(None, SETTLED)?,
        };
        self.solves += section.solves;
        Ok(section.both(&weights))
    }

    /// Sets the conductivities and exterior films of `spec` on this section's mesh. The tube keeps its cells; a change of its
    /// cross-section is put into its conductivity. The caller restores the network.
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

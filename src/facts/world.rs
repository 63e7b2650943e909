//! What the outlets of a review share: the job, and sections, depths and courses, each solved once.

use super::memo::Memo;
use crate::job::Job;
use crate::section::{
    self, Boundary, Capacities, Course, Damp, Depth, Micro, NoDepth, SectionError, Solved, Spec, Sweat,
    Uncertainty, Weather,
};
use crate::spell::Year;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, OnceLock};

/// Counts of sections solved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Solves {
    /// Distinct sections of outlets.
    pub sections: usize,
    /// Distinct sections solved in search of a least depth.
    pub depths: usize,
    /// Distinct courses computed: of a section, its state and a cold spell.
    pub courses: usize,
}

type DepthKey = (Spec, [Micro; 3]);
type Sections = Memo<(Spec, Uncertainty), Result<Arc<Solved>, SectionError>>;
type CourseKey = (Spec, Capacities, Vec<Micro>);

/// A job, with everything solved for it so far.
#[derive(Debug)]
pub struct World {
    job: Job,
    sections: Arc<Sections>,
    depths: Memo<DepthKey, Result<Depth, NoDepth>>,
    courses: Memo<CourseKey, Result<Arc<Course>, SectionError>>,
    blocks: Memo<CourseKey, Result<bool, SectionError>>,
    sweats: Memo<(Spec, [Micro; 4]), Result<Arc<Sweat>, SectionError>>,
    year: OnceLock<Option<Year>>,
    sections_solved: Arc<AtomicUsize>,
    depths_solved: AtomicUsize,
    courses_followed: AtomicUsize,
}

impl World {
    /// A world in which nothing is solved yet.
    pub fn new(job: Job) -> Self {
        Self {
            job,
            sections: Arc::default(),
            depths: Memo::default(),
            courses: Memo::default(),
            blocks: Memo::default(),
            sweats: Memo::default(),
            year: OnceLock::new(),
            sections_solved: Arc::default(),
            depths_solved: AtomicUsize::new(0),
            courses_followed: AtomicUsize::new(0),
        }
    }

    /// A world of the job in another climate, which shares all solved sections.
    pub fn elsewhere(&self, job: Job) -> Self {
        let (sections, sections_solved) = (self.sections.clone(), self.sections_solved.clone());
        Self { sections, sections_solved, ..Self::new(job) }
    }

    /// The job.
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// A section, solved once.
    pub fn section(&self, spec: &Spec, uncertainty: Uncertainty) -> Result<Arc<Solved>, SectionError> {
        self.solve(spec, uncertainty, &self.sections_solved)
    }

    /// The least seat depth of a section at a state, found once.
    pub fn depth(&self, spec: &Spec, at: &Boundary, target: f64) -> Result<Depth, NoDepth> {
        let key = (spec.with_seat_at(0.0), [at.outdoors, at.room, target].map(Micro::of));
        self.depths.get(key, || {
            section::least_depth(spec, at, target, |spec, uncertainty| {
                self.solve(spec, uncertainty, &self.depths_solved)
            })
        })
    }

    /// A section's course through a spell, computed once.
    pub fn course(
        &self,
        spec: &Spec,
        capacities: &Capacities,
        weather: &Weather,
    ) -> Result<Arc<Course>, SectionError> {
        let key = (spec.clone(), capacities.clone(), weather.key());
        self.courses.get(key, || {
            self.courses_followed.fetch_add(1, Ordering::Relaxed);
            section::follow(spec, capacities, weather).map(Arc::new)
        })
    }

    /// Whether ice blocks a section's bore in a spell, found once.
    pub fn blocks(
        &self,
        spec: &Spec,
        capacities: &Capacities,
        weather: &Weather,
    ) -> Result<bool, SectionError> {
        let key = (spec.clone(), capacities.clone(), weather.key());
        self.blocks.get(key, || {
            self.courses_followed.fetch_add(1, Ordering::Relaxed);
            section::blocks(spec, capacities, weather)
        })
    }

    /// A section that sweats at a state, solved once.
    pub fn sweat(&self, spec: &Spec, at: &Boundary, air: &Damp) -> Result<Arc<Sweat>, SectionError> {
        let key = [at.outdoors, at.room, air.temperature, air.vapor_pressure].map(Micro::of);
        self.sweats.get((spec.clone(), key), || section::sweat(spec, at, air).map(Arc::new))
    }

    /// The model year of the job's climate, if its figures allow one.
    pub fn year(&self) -> Option<&Year> {
        self.year.get_or_init(|| Year::of(&self.job.climate)).as_ref()
    }

    /// Counts of sections solved so far.
    pub fn solves(&self) -> Solves {
        let counts = [&*self.sections_solved, &self.depths_solved, &self.courses_followed];
        let [sections, depths, courses] = counts.map(|it| it.load(Ordering::Relaxed));
        Solves { sections, depths, courses }
    }

    fn solve(
        &self,
        spec: &Spec,
        uncertainty: Uncertainty,
        count: &AtomicUsize,
    ) -> Result<Arc<Solved>, SectionError> {
        self.sections.get((spec.clone(), uncertainty), || {
            count.fetch_add(1, Ordering::Relaxed);
            section::solve(spec, uncertainty).map(Arc::new)
        })
    }
}

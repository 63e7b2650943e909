//! Facts of an outlet: what a schedule or job can state, what is assumed if they are silent, and what is computed. One
//! declaration per fact, in a file per topic.
//!
//! From the bottom up: `def` (declarations) and `outlet` (one outlet, computed on first use), `world` (the job and what
//! is solved for it), the topics, `catalogue` (all topics), `rows` (what a row states), `open` and `reads`.

mod assumed;
pub(crate) mod backflow;
mod burst;
mod catalogue;
pub(crate) mod columns;
mod cooling;
mod def;
pub(crate) mod detail;
mod doubtful_space;
mod drain;
mod edits;
mod energy;
pub(crate) mod heat;
mod hydrant;
pub(crate) mod ice;
mod memo;
mod metals;
mod moves;
mod open;
mod outlet;
mod piping;
mod reads;
mod rows;
mod section;
mod sheet;
mod site;
mod space;
mod spell;
mod summer;
mod sweat;
mod words;
mod world;

pub use crate::job::{IS_OUTLET, IS_OUTLET_ANSWERS, Presets, SHEET_HEADINGS, Sources};
pub use crate::section::Goal;
pub use assumed::{SEAT_AT_FACE, SEAT_BY_OFFSET, SEAT_BY_USUAL_OFFSET, USUAL_SEAT, nominal_lengths};
pub(crate) use catalogue::slot;
pub use catalogue::{
    Asked, CATALOGUE, Facts, VOCABULARY, asked, bracket, can_be_asked, covers, entry, entry_named, every,
    heading, identity, is_identity, name, of_the_place, plausible, range_note, show_of, slot_named,
};
pub use def::{Assumed, Blank, Catalogue, Compute, Def, Entry, FactType, PlausibleValues, RangeEnd, Source};
pub use edits::{Edit, as_written, edit, length};
pub use moves::{Move, moves, narrowing};
pub use open::{open, open_rules, open_rules_with, open_to_read};
pub use outlet::{Fact, Interval, Origin, Outlet};
pub use reads::FactDependencies;
pub use rows::choices;
pub use section::OUTDOOR_FILM;
pub(crate) use sheet::ON_SHEET;
pub use sheet::{Drawn, SectionSheet, drawn, section_sheet};
pub use space::candidate_walls;
pub use spell::{Case, Followed, HeatOut, State, design_spell, spell_start};
pub use world::{Solves, World};

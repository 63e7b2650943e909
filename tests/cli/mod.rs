//! The program as people run it: exit status, both streams, files left behind. Texts that people read are kept as
//! snapshots in `snapshots/`; where `CI` is set none is rewritten, and a difference fails.

mod amendments;
mod authority;
mod cells;
mod climates;
mod codes;
mod cold_spell;
mod cold_spell_refused;
mod common;
mod crew;
mod examples;
mod exits;
mod facts;
mod files;
mod formats;
mod from_hourly;
mod generated;
mod html;
mod inert;
mod interrupted;
mod layers;
mod orders;
mod pages;
mod pdf;
mod presets;
mod previous;
mod questions;
mod read;
mod refusals;
mod round_trip;
mod rule_files;
mod rules_readme;
mod security;
mod standard;
mod tables;
mod walls;

//! How the figures of a calculation sheet are computed, with the constants that were used.

use super::super::blocks::Blocks;
use super::super::footnotes::Footnotes;
use super::{difference, length};
use crate::facts::{OUTDOOR_FILM, SectionSheet};
use crate::physics::air_film::{ASHRAE_WIND_SUMMER, ISO_INTERIOR};
use crate::section::{
    FLANGE_RADIUS, FLANGE_THICKNESS, HEAD_LENGTH, HEAD_RADIUS, RIM, SEAT_READING, WALL_FILM_INSIDE,
    WASHER_CONDUCTIVITY, WASHER_LENGTH,
};
use crate::units::{Dim, Measure, Quantity, Show, System};

/// Grams per day in a kg/s.
const GRAMS_PER_DAY: f64 = 86.4e6;

pub(super) fn lines<'s>(out: &mut Blocks, section: &SectionSheet, system: System, notes: &mut Footnotes<'s>) {
    out.heading("Method");
    let solved = &section.solved;
    let mut line = |label: &str, text: &str| out.labelled(label, text);
    line("Model", &model(section, system));
    line(
        "Left out",
        "Time: a cold spell is computed separately, on the same cells. Radiation to a clear night sky, which would cool \
         the seat. Framing beside the faucet. Air leaks other than at the inlet, and wind in the wall.",
    );
    line(
        "Interval",
        "95 %, first-order propagation (JCGM 100) carried to the third moment: each input has a triangular distribution \
         between its bounds with its best estimate as the mode, is moved to either bound by itself, and the moments of \
         what that does add up in the logarithm of the ratio of the two weights. Inputs are independent; emissivities of \
         metal and pipe move together.",
    );
    line(
        "Weights",
        "Weighting factors of outdoors and room after ISO 10211; one solution serves every outdoor temperature.",
    );
    let outdoors = format!(
        "Outdoors {} ({} to {}): {} {}. On the wall indoors {} {}.",
        film(OUTDOOR_FILM.used),
        OUTDOOR_FILM.low,
        OUTDOOR_FILM.high,
        ASHRAE_WIND_SUMMER.name,
        notes.cite_as(ASHRAE_WIND_SUMMER.source, ASHRAE_WIND_SUMMER.standing),
        film(1.0 / WALL_FILM_INSIDE),
        notes.cite_as(ISO_INTERIOR.source, ISO_INTERIOR.standing)
    );
    line("Films", &outdoors);
    if let Some([least, most]) = solved.indoor_films {
        let text = format!(
            "On bare metal and pipe indoors {} to {}: natural convection {} and radiation, for the seat at freezing.",
            film(least),
            film(most),
            notes.cite("Churchill and Chu 1975")
        );
        line("", &text);
    }
    if let Some(error) = section.films_held {
        let text = format!(
            "With the films at the design low, the seat would move by {}.",
            difference(error, system)
        );
        line("", &text);
    }
    if let Some(sweat) = &section.sweat
        && sweat.in_dry_air.rate > 0.0
    {
        let text = format!(
            "Lewis relation with the convective part of the films of the room's air, at sea level. The latent heat \
             warms the \
             metal: {:.2} g per day instead of {:.2}, and the seat {} warmer than in dry air; the heat balance \
             closes to \
             {:.0e}. The moisture neither runs off nor insulates.",
            sweat.gathered.rate * GRAMS_PER_DAY,
            sweat.in_dry_air.rate * GRAMS_PER_DAY,
            difference(sweat.seat[1] - sweat.seat[0], system),
            sweat.imbalance.abs()
        );
        line("Sweating", &text);
    }
    let mesh = format!(
        "{} cells, {} solutions; numerical heat loss at most {:.0e} of the flow.",
        solved.cells, solved.solves, solved.imbalance
    );
    line("Mesh", &mesh);
}

fn model(section: &SectionSheet, system: System) -> String {
    let length = |meters: f64| length(meters, system);
    format!(
        "Axisymmetric finite volumes through wall, barrel, seat, inlet fitting and supply; adiabatic {} from the \
         axis. Washer \
         zone {} long at {WASHER_CONDUCTIVITY} W/mK on the cold side of the seat; solid inlet fitting {} long; head {} by {} and flange {} by {} outdoors. Seat temperature is the mean of the water in the first \
         {} on the \
         warm side of the washer.",
        length(RIM),
        length(WASHER_LENGTH),
        length(section.fitting),
        length(2.0 * HEAD_RADIUS),
        length(HEAD_LENGTH),
        length(2.0 * FLANGE_RADIUS),
        length(FLANGE_THICKNESS),
        length(SEAT_READING)
    )
}

fn film(coefficient: f64) -> String {
    let quantity = Quantity::of(coefficient, Dim::FILM);
    Show::usual(Measure::Of(Dim::FILM)).value(&quantity, System::Si)
}

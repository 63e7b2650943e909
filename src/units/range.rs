//! The ends of a range that a figure must be in: whether it is, and how a message shows them. An end typed as it is shown
//! is accepted.

use super::dim::{Dim, Measure};
use super::print::{Rounding, Show, System};
use super::quantity::Quantity;

/// Whether a number is within a range, SI, apart from rounding of units: 104 °F is 40 °C.
pub fn contains([least, most]: [f64; 2], si: f64) -> bool {
    const NOISE: f64 = 1e-9;
    (least - NOISE * least.abs()..=most + NOISE * most.abs()).contains(&si)
}

impl Quantity {
    /// Whether its whole band is within a range, SI.
    pub fn is_within(&self, range: [f64; 2]) -> bool {
        contains(range, self.low) && contains(range, self.high)
    }
}

/// The ends of a range, SI, as a message shows them: `0 °F to 20 °F`. They are rounded inwards.
pub fn limits([least, most]: [f64; 2], measure: Measure) -> String {
    /// m; longer lengths are not shown in inches.
    const LONG: f64 = 10.0;
    let us = match measure {
        // What may be more than all of something is a number of things.
        Measure::Of(Dim::NONE) if most > 1.0 => Show::new(("", 0), ("", 0), Rounding::Nearest),
        Measure::Of(Dim::NONE) => Show::new(("%", 0), ("%", 0), Rounding::Nearest),
        // As layers are labeled.
        Measure::Of(Dim::RESISTANCE) => Show::new(("R", 0), ("m²K/W", 1), Rounding::Nearest),
        Measure::Of(Dim::LENGTH) if most > LONG => Show::new(("ft", 0), ("m", 0), Rounding::Nearest),
        Measure::Of(Dim::LENGTH) => Show::new(("in", 3), ("mm", 1), Rounding::Nearest),
        _ => Show::usual(measure),
    };
    // Properties of materials are written in SI units in jobs.
    let system = match measure {
        Measure::Of(Dim::CONDUCTIVITY | Dim::DENSITY | Dim::SPECIFIC_HEAT) => System::Si,
        _ => System::Us,
    };
    let show = |si, toward| us.toward(toward).value(&Quantity::exact(si, measure), system);
    let (low, high) = (show(least, Rounding::Up), show(most, Rounding::Down));
    let nothing = show(0.0, Rounding::Nearest);
    let is_above_nothing =
        measure != Measure::Temperature && least > 0.0 && show(least, Rounding::Nearest) == nothing;
    if is_above_nothing { format!("more than {nothing}, at most {high}") } else { format!("{low} to {high}") }
}

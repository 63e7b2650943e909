//! Batts, and their resistance when compressed into studs.

/// A batt.
pub(super) struct Batt {
    /// Labeled resistance, h·ft²·°F/Btu
    pub(super) label: f64,
    /// Thickness as made, in
    pub(super) made: f64,
    /// Depths it is compressed into, in, with its resistance there, h·ft²·°F/Btu
    pub(super) compressed: &'static [(f64, f64)],
}

/// Glass fiber. Compression charts of two manufacturers, one seen in a trade journal's reprint, one from memory; the lesser
/// where they differ or where a label is made in two thicknesses.
pub(super) const GLASS: &[Batt] = &[
    Batt { label: 11.0, made: 3.5, compressed: &[(3.5, 11.0)] },
    Batt { label: 13.0, made: 3.5, compressed: &[(3.5, 13.0)] },
    Batt { label: 15.0, made: 3.5, compressed: &[(3.5, 15.0)] },
    Batt { label: 19.0, made: 6.25, compressed: &[(3.5, 13.0), (5.5, 18.0)] },
    Batt { label: 20.0, made: 5.5, compressed: &[(5.5, 20.0)] },
    Batt { label: 21.0, made: 5.5, compressed: &[(3.5, 14.0), (5.5, 21.0)] },
    Batt { label: 22.0, made: 6.75, compressed: &[(3.5, 14.0), (5.5, 19.0)] },
    Batt { label: 25.0, made: 8.0, compressed: &[(5.5, 20.0), (7.25, 24.0)] },
    Batt { label: 30.0, made: 10.0, compressed: &[(5.5, 21.0), (7.25, 26.0), (9.25, 29.0)] },
    Batt { label: 38.0, made: 12.0, compressed: &[(7.25, 28.0), (9.25, 33.0), (11.25, 37.0)] },
];
/// Mineral wool, which is not compressed (manufacturers; from memory).
pub(super) const WOOL: &[Batt] = &[
    Batt { label: 15.0, made: 3.5, compressed: &[(3.5, 15.0)] },
    Batt { label: 23.0, made: 5.5, compressed: &[(5.5, 23.0)] },
    Batt { label: 30.0, made: 7.25, compressed: &[(7.25, 30.0)] },
];

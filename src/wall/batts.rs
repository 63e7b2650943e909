//! Batts there are, and what each comes to in studs it is pressed into.

/// A batt: label, thickness it is made in \[in\], and what it comes to in a depth \[in\] it is pressed into.
pub(super) struct Batt {
    /// h·ft²·°F/Btu
    pub(super) label: f64,
    /// in
    pub(super) made: f64,
    /// Depth in, h·ft²·°F/Btu
    pub(super) pressed: &'static [(f64, f64)],
}

const fn batt(label: f64, made: f64, pressed: &'static [(f64, f64)]) -> Batt {
    Batt { label, made, pressed }
}

/// Glass fiber. Compression charts of two makers' batts, one seen in a trade journal's reprint, one from memory; the lesser
/// where they differ or where a label is made in two thicknesses.
pub(super) const GLASS: &[Batt] = &[
    batt(11.0, 3.5, &[(3.5, 11.0)]),
    batt(13.0, 3.5, &[(3.5, 13.0)]),
    batt(15.0, 3.5, &[(3.5, 15.0)]),
    batt(19.0, 6.25, &[(3.5, 13.0), (5.5, 18.0)]),
    batt(20.0, 5.5, &[(5.5, 20.0)]),
    batt(21.0, 5.5, &[(3.5, 14.0), (5.5, 21.0)]),
    batt(22.0, 6.75, &[(3.5, 14.0), (5.5, 19.0)]),
    batt(25.0, 8.0, &[(5.5, 20.0), (7.25, 24.0)]),
    batt(30.0, 10.0, &[(5.5, 21.0), (7.25, 26.0), (9.25, 29.0)]),
    batt(38.0, 12.0, &[(7.25, 28.0), (9.25, 33.0), (11.25, 37.0)]),
];
/// Mineral wool, which is not pressed (makers; from memory).
pub(super) const WOOL: &[Batt] =
    &[batt(15.0, 3.5, &[(3.5, 15.0)]), batt(23.0, 5.5, &[(5.5, 23.0)]), batt(30.0, 7.25, &[(7.25, 30.0)])];

//! A quantity with a band: its value, and how low and how high it may be.

use super::dim::{Dim, Measure};

/// A quantity in SI with its band; `low <= is <= high`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The value used.
    pub is: f64,
    /// Its lower bound.
    pub low: f64,
    /// Its upper bound.
    pub high: f64,
    /// What it measures.
    pub measure: Measure,
}

/// A comparison of two quantities.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ordering {
    /// `<`
    Below,
    /// `<=`
    AtMost,
    /// `>`
    Above,
    /// `>=`
    AtLeast,
    /// `=`
    Equal,
    /// `!=`
    Differs,
}

/// The result of an [`Ordering`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Compared {
    /// Holds over the whole of both bands.
    Holds,
    /// Fails over the whole of both bands.
    Fails,
    /// The bands overlap: undecided.
    TooClose,
}

impl Quantity {
    /// An exact quantity.
    pub fn exact(is: f64, measure: Measure) -> Self {
        Self { is, low: is, high: is, measure }
    }

    /// An exact amount of a dimension.
    pub fn of(is: f64, dim: Dim) -> Self {
        Self::exact(is, Measure::Of(dim))
    }

    /// An exact temperature in K.
    pub fn temperature(kelvin: f64) -> Self {
        Self::exact(kelvin, Measure::Temperature)
    }

    /// With a band; the ends are widened to take in the value itself.
    #[must_use]
    pub fn within(self, low: f64, high: f64) -> Self {
        Self { low: low.min(self.is), high: high.max(self.is), ..self }
    }

    /// Whether two quantities are one value rounded in two units: 0.035 in is 0.889 mm, written 0.9.
    pub fn is_near(&self, other: &Self) -> bool {
        /// Largest relative difference.
        const ROUNDING: f64 = 0.02;
        (self.is - other.is).abs() <= ROUNDING * self.is.abs().max(other.is.abs())
    }

    /// Whether a length is another one rounded to whole millimeters: 12 in is 304.8 mm, written 305.
    pub fn is_in_millimeters(&self, of: &Self) -> bool {
        const MM: f64 = 0.001;
        let is_length = [self, of].iter().all(|it| it.measure == Measure::Of(Dim::LENGTH) && !it.is_banded());
        let (own, of) = (self.is / MM, of.is / MM);
        is_length && (own - own.round()).abs() < 1e-6 && (own - of).abs() <= 0.5 + 1e-6
    }

    /// Whether the band has a width.
    pub fn is_banded(&self) -> bool {
        self.low < self.high
    }

    /// Sum. `None` for two temperatures, or for different dimensions.
    pub fn plus(self, other: Self) -> Option<Self> {
        use Measure::{Of, Temperature};
        let measure = match (self.measure, other.measure) {
            (Temperature, Of(Dim::DIFFERENCE)) | (Of(Dim::DIFFERENCE), Temperature) => Temperature,
            (Of(a), Of(b)) if a == b => Of(a),
            _ => return None,
        };
        Some(Self {
            is: self.is + other.is,
            low: self.low + other.low,
            high: self.high + other.high,
            measure,
        })
    }

    /// Difference. Two temperatures give a temperature difference.
    pub fn minus(self, other: Self) -> Option<Self> {
        use Measure::{Of, Temperature};
        let measure = match (self.measure, other.measure) {
            (Temperature, Temperature) => Of(Dim::DIFFERENCE),
            (Temperature, Of(Dim::DIFFERENCE)) => Temperature,
            (Of(a), Of(b)) if a == b => Of(a),
            _ => return None,
        };
        Some(Self {
            is: self.is - other.is,
            low: self.low - other.high,
            high: self.high - other.low,
            measure,
        })
    }

    /// Product of two amounts; a temperature cannot be multiplied.
    pub fn times(self, other: Self) -> Option<Self> {
        let (Measure::Of(a), Measure::Of(b)) = (self.measure, other.measure) else {
            return None;
        };
        Some(spanned(self.is * other.is, corners(self, other, |x, y| x * y), a * b))
    }

    /// Quotient of two amounts. `None` also where the divisor's band takes in zero.
    pub fn over(self, other: Self) -> Option<Self> {
        let (Measure::Of(a), Measure::Of(b)) = (self.measure, other.measure) else {
            return None;
        };
        if other.low <= 0.0 && other.high >= 0.0 {
            return None;
        }
        Some(spanned(self.is / other.is, corners(self, other, |x, y| x / y), a / b))
    }

    /// Compares two quantities of one measure. A limit inside a band is too close to call; two exact values that differ
    /// only by rounding noise are equal.
    pub fn compare(self, order: Ordering, other: Self) -> Compared {
        let size = self.is.abs().max(other.is.abs());
        let noise = if size.is_finite() { 1e-9 * size } else { 0.0 };
        let (gap_low, gap_high) = (self.low - other.high, self.high - other.low);
        let (never_below, never_above) = (gap_low >= -noise, gap_high <= noise);
        let (always_above, always_below) = (gap_low > noise, gap_high < -noise);
        let decide = |holds, fails| match (holds, fails) {
            (true, _) => Compared::Holds,
            (_, true) => Compared::Fails,
            _ => Compared::TooClose,
        };
        match order {
            Ordering::AtLeast => decide(never_below, always_below),
            Ordering::Above => decide(always_above, never_above),
            Ordering::AtMost => decide(never_above, always_above),
            Ordering::Below => decide(always_below, never_below),
            Ordering::Equal => decide(never_below && never_above, always_above || always_below),
            Ordering::Differs => decide(always_above || always_below, never_below && never_above),
        }
    }
}

fn corners(a: Quantity, b: Quantity, f: impl Fn(f64, f64) -> f64) -> [f64; 4] {
    [f(a.low, b.low), f(a.low, b.high), f(a.high, b.low), f(a.high, b.high)]
}

fn spanned(is: f64, ends: [f64; 4], dim: Dim) -> Quantity {
    Quantity::of(is, dim).within(ends.into_iter().fold(is, f64::min), ends.into_iter().fold(is, f64::max))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_temperatures_have_a_difference_but_no_sum() {
        let (a, b) = (Quantity::temperature(280.0), Quantity::temperature(270.0));
        assert_eq!(a.plus(b), None);
        assert_eq!(a.minus(b).unwrap().measure, Measure::Of(Dim::DIFFERENCE));
        assert_eq!(b.plus(a.minus(b).unwrap()).unwrap().is, 280.0);
    }

    #[test]
    fn a_limit_inside_the_band_is_neither_met_nor_missed() {
        let seat = Quantity::temperature(273.0).within(271.0, 275.0);
        let limit = Quantity::temperature(273.15);
        for order in [Ordering::AtLeast, Ordering::Above, Ordering::AtMost, Ordering::Below, Ordering::Equal]
        {
            assert_eq!(seat.compare(order, limit), Compared::TooClose, "{order:?}");
        }
        assert_eq!(seat.compare(Ordering::AtLeast, Quantity::temperature(271.0)), Compared::Holds);
        assert_eq!(seat.compare(Ordering::AtLeast, Quantity::temperature(275.1)), Compared::Fails);
    }

    #[test]
    fn rounding_noise_does_not_part_equal_lengths() {
        let inches = Quantity::of(0.0254 * 8.0, Dim::LENGTH);
        let meters = Quantity::of(0.1 + 0.1032, Dim::LENGTH);
        assert_eq!(inches.compare(Ordering::AtLeast, meters), Compared::Holds);
        assert_eq!(inches.compare(Ordering::Above, meters), Compared::Fails);
        assert_eq!(inches.compare(Ordering::Equal, meters), Compared::Holds);
    }

    #[test]
    fn nothing_is_neither_below_nor_above_nothing() {
        let zero = Quantity::of(0.0, Dim::LENGTH);
        assert_eq!(zero.compare(Ordering::Below, zero), Compared::Fails);
        assert_eq!(zero.compare(Ordering::Above, zero), Compared::Fails);
        assert_eq!(zero.compare(Ordering::Equal, zero), Compared::Holds);
    }

    #[test]
    fn a_product_spans_every_corner_of_its_bands() {
        let a = Quantity::of(0.0, Dim::LENGTH).within(-1.0, 2.0);
        let b = Quantity::of(3.0, Dim::LENGTH).within(2.0, 4.0);
        let area = a.times(b).unwrap();
        assert_eq!((area.low, area.is, area.high), (-4.0, 0.0, 8.0));
        assert_eq!(a.over(a), None);
    }
}

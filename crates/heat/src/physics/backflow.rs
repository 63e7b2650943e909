//! Backflow devices at the hose thread and in its pipe, by the standard each is made to.
//!
//! What a standard's scope says is a row; what a listing or maker adds is product data. A trade name often covers
//! several standards ("integral vacuum breaker" says nothing of draining with the hose on), so [`find`] gives every
//! row a word can mean, and [`agreed`] answers only where they agree.

mod table;

pub use table::DEVICES;

use super::{OutOfRange, Standing, check_range};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

/// Where a device goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fits {
    /// Screwed on a hose thread.
    HoseThread,
    /// Part of a freeze-resistant wall hydrant.
    WallHydrant,
    /// Part of a freeze-resistant yard hydrant.
    YardHydrant,
    /// In the pipe, downstream of the last valve, above the highest use.
    PipeUnpressured,
    /// In the pipe, valves downstream allowed.
    Pipe,
    /// On or in a laboratory faucet's outlet.
    LaboratoryFaucet,
}

/// Whether it comes off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Removal {
    /// Part of the outlet.
    Integral,
    /// Screwed on; a set screw whose head breaks off makes it permanent, as codes ask of a hose outlet.
    ByBreakOffScrew,
    /// Screwed on and meant to be taken off before frost.
    ByHand,
    /// Piped in.
    Piped,
}

/// What becomes of the water in a freeze-resistant barrel behind the device once the valve is shut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drains {
    /// It runs out, hose on (nozzle shut) or off.
    HoseOnOrOff,
    /// It runs out once the hose is off.
    HoseOff,
    /// It runs out once the hose and the device are off.
    DeviceOff,
    /// Only when the drain on the device is worked by hand.
    ByHand,
    /// The device's closed check can hold water back in the barrel, and nothing in its standard drains it.
    CanHold,
    /// No business of the device: it is not at the barrel's mouth.
    NotAtTheBarrel,
}

/// Whether pressure may stay on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pressure {
    /// At most this many seconds without a break.
    AtMost(f64),
    /// For good.
    Continuous,
    /// Not known here.
    NotSeen,
}

/// What it stops.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stops {
    /// Back-siphonage only; there must be no back pressure.
    BackSiphonage,
    /// Back-siphonage, and the back pressure of a raised hose.
    LowHeadBackPressure,
    /// Back-siphonage, and back pressure up to what it is rated for.
    BackPressure,
}

/// Degree of hazard it is accepted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hazard {
    /// High and low.
    HighOrLow,
    /// Low only.
    Low,
    /// Not known here.
    NotSeen,
}

/// One standard, or one type of a standard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Device {
    /// Standard and type, as printed.
    pub standard: &'static str,
    /// Trade name.
    pub name: &'static str,
    /// Other words for it, lower case; several rows may share one.
    pub aliases: &'static [&'static str],
    /// Where it goes.
    pub fits: Fits,
    /// Whether it comes off.
    pub removal: Removal,
    /// What becomes of the water in the barrel.
    pub drains: Drains,
    /// Whether pressure may stay on.
    pub pressure: Pressure,
    /// Greatest height a hose's end may be raised above it, m; zero where there must be no back pressure, none where
    /// it was not seen.
    pub raised_hose: Option<f64>,
    /// What it stops.
    pub stops: Stops,
    /// Degree of hazard, by the application table of the IPC (from memory; ASSE 1052 and 1053 say high in their scope,
    /// ASSE 1056 in its announcement); the adopted code decides.
    pub hazard: Hazard,
    /// Where the row is published.
    pub source: &'static str,
    /// How it came to be here, the hazard apart.
    pub standing: Standing,
}

/// Every device that a standard's number or a trade name can mean; none for a word that is not here, "none" included,
/// which is no pass.
///
/// # Valid for
/// Standards, names and aliases of [`DEVICES`]; case, hyphens and runs of blanks are ignored.
/// # Source
/// The rows' own.
/// # Example
/// ```
/// use coldsill_heat::physics::backflow::*;
/// assert_eq!(find("ASSE 1019-B").first().map(|it| it.drains), Some(Drains::HoseOnOrOff));
/// assert_eq!(find("integral vacuum breaker").len(), 3);
/// assert!(find("none").is_empty());
/// ```
#[must_use]
pub fn find(word: &str) -> Vec<&'static Device> {
    /// Devices by each of their plain names.
    static BY_NAME: LazyLock<BTreeMap<String, Vec<&Device>>> = LazyLock::new(|| {
        let mut by_name: BTreeMap<String, Vec<&Device>> = BTreeMap::new();
        for device in DEVICES {
            let names = [device.standard, device.name].into_iter().chain(device.aliases.iter().copied());
            for name in names.map(plain).collect::<BTreeSet<_>>() {
                by_name.entry(name).or_default().push(device);
            }
        }
        by_name
    });
    fn plain(name: &str) -> String {
        let name = name.to_lowercase();
        let words = name.split(|c: char| c.is_whitespace() || matches!(c, '-' | '_' | ','));
        words.filter(|word| !word.is_empty() && *word != "type").collect::<Vec<_>>().join(" ")
    }
    BY_NAME.get(&plain(word)).cloned().unwrap_or_default()
}

/// What every device of a list has alike; none where they differ or there is none.
///
/// # Valid for
/// Lists from [`find`].
/// # Source
/// Logic.
/// # Example
/// ```
/// use coldsill_heat::physics::backflow::*;
/// let integral = find("integral vacuum breaker");
/// assert_eq!(agreed(&integral, |it| it.fits), Some(Fits::WallHydrant));
/// assert_eq!(agreed(&integral, |it| it.drains), None); // type B differs from A and C
/// ```
#[must_use]
pub fn agreed<T: PartialEq>(devices: &[&'static Device], of: impl Fn(&Device) -> T) -> Option<T> {
    let mut each = devices.iter().map(|it| of(it));
    let first = each.next()?;
    each.all(|it| it == first).then_some(first)
}

/// Pressure (Pa) of a head of water of a height (m).
///
/// # Valid for
/// 0 to 100 m, cold water (999.97 kg/m³, its greatest density: at most 0.5 % high up to 30 °C); refused outside.
/// # Source
/// Hydrostatics.
/// # Example
/// A hose raised 10 ft: 4.33 psi (0.433 psi a foot, as the trade prints it): matches.
/// ```
/// let it = coldsill_heat::physics::backflow::head_pressure(3.048).unwrap();
/// assert!((it / 6894.757 - 4.33).abs() < 0.01);
/// ```
pub fn head_pressure(height: f64) -> Result<f64, OutOfRange> {
    Ok(999.97 * 9.806_65 * check_range("height of water", height, [0.0, 100.0], "m")?)
}

/// Whether a hose raised to a height (m) above the device stays within its standard; none where the limit was not
/// seen.
///
/// # Valid for
/// 0 to 100 m; refused outside.
/// # Source
/// [`Device::raised_hose`].
/// # Example
/// A second-floor deck 14 ft up is beyond ASSE 1011's 10 ft: recomputed.
/// ```
/// use coldsill_heat::physics::backflow::*;
/// let it = find("asse 1011")[0];
/// assert_eq!(hose_within(it, 14.0 * 0.3048), Ok(Some(false)));
/// assert_eq!(hose_within(it, 10.0 * 0.3048), Ok(Some(true)));
/// ```
pub fn hose_within(device: &Device, height: f64) -> Result<Option<bool>, OutOfRange> {
    let height = check_range("height of hose", height, [0.0, 100.0], "m")?;
    Ok(device.raised_hose.map(|limit| height <= limit))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one(word: &str) -> &'static Device {
        let found = find(word);
        assert_eq!(found.len(), 1, "{word}");
        found[0]
    }

    #[test]
    fn every_row_is_plausible_for_its_class() {
        for it in DEVICES {
            assert_eq!(one(it.standard).standard, it.standard);
            assert!(it.aliases.iter().all(|word| *word == word.to_lowercase()), "{}", it.standard);
            assert!(!it.source.is_empty());
            let integral = matches!(it.fits, Fits::WallHydrant | Fits::YardHydrant);
            let piped = matches!(it.fits, Fits::Pipe | Fits::PipeUnpressured);
            assert_eq!(piped, it.drains == Drains::NotAtTheBarrel && it.fits != Fits::LaboratoryFaucet);
            assert_eq!(piped, it.removal == Removal::Piped, "{}", it.standard);
            // whatever is part of a freeze-resistant hydrant drains somehow, or it would not be one
            if integral {
                assert!(!matches!(it.drains, Drains::CanHold | Drains::NotAtTheBarrel), "{}", it.standard);
            }
            // no standard allows more than 10 ft of raised hose, and none at all where back pressure is excluded
            match it.stops {
                Stops::BackSiphonage => assert_eq!(it.raised_hose, Some(0.0), "{}", it.standard),
                Stops::LowHeadBackPressure => {
                    assert!(it.raised_hose.is_none_or(|m| (m - 3.048).abs() < 1e-9), "{}", it.standard);
                }
                // 2.31 ft to the psi, to three figures
                Stops::BackPressure => {
                    let feet = it.raised_hose.unwrap() / 0.3048;
                    assert!((feet / (150.0 * 2.31) - 1.0).abs() < 0.005, "{}: {feet}", it.standard);
                }
            }
            // either 12 h, or made for standing pressure and then piped
            match it.pressure {
                Pressure::AtMost(s) => assert!((s / 3600.0 - 12.0).abs() < 1e-9, "{}", it.standard),
                Pressure::Continuous => assert_eq!(it.fits, Fits::Pipe, "{}", it.standard),
                Pressure::NotSeen => {}
            }
        }
    }

    #[test]
    fn only_type_b_and_its_yard_counterparts_drain_with_the_hose_on() {
        // Scopes as the standards' sellers print them: 1019 and 1053 type B, 1057 types 1 and 3.
        let on: Vec<&str> =
            DEVICES.iter().filter(|it| it.drains == Drains::HoseOnOrOff).map(|it| it.standard).collect();
        assert_eq!(on, ["ASSE 1019 type B", "ASSE 1053 type B", "ASSE 1057 type 1", "ASSE 1057 type 3"]);
        // an automatic drain on a screwed-on breaker is not said to work with the hose on
        assert_eq!(one("CSA B64.2.2").drains, Drains::HoseOff);
    }

    #[test]
    fn the_words_of_a_schedule_lead_to_devices() {
        for (word, standards) in [
            ("hose connection vacuum breaker", &["ASSE 1011", "CSA B64.2"][..]),
            ("HCVB", &["ASSE 1011", "CSA B64.2"]),
            ("ASSE 1011", &["ASSE 1011"]),
            ("csa b64.2", &["CSA B64.2"]),
            ("integral vacuum breaker", &["ASSE 1019 type A", "ASSE 1019 type B", "ASSE 1019 type C"]),
            ("asse 1019", &["ASSE 1019 type A", "ASSE 1019 type B", "ASSE 1019 type C"]),
            ("asse 1019-b", &["ASSE 1019 type B"]),
            ("asse 1019 a", &["ASSE 1019 type A"]),
            ("double check", &["ASSE 1015", "CSA B64.5"]),
            ("asse 1024", &["ASSE 1024"]),
            ("dual check", &["ASSE 1052", "ASSE 1053 type A", "ASSE 1053 type B", "CSA B64.2.1.1"]),
            ("asse 1053", &["ASSE 1053 type A", "ASSE 1053 type B"]),
            ("atmospheric vacuum breaker", &["ASSE 1001", "CSA B64.1.1"]),
            ("AVB", &["ASSE 1001", "CSA B64.1.1"]),
            ("pressure vacuum breaker", &["ASSE 1020", "ASSE 1056", "CSA B64.1.2", "CSA B64.1.3"]),
            ("SRPVB", &["ASSE 1056", "CSA B64.1.3"]),
            ("asse 1056", &["ASSE 1056"]),
            ("RPZ", &["ASSE 1013", "CSA B64.4"]),
            ("Reduced Pressure", &["ASSE 1013", "CSA B64.4"]),
            ("csa b64.4", &["CSA B64.4"]),
        ] {
            let found: Vec<&str> = find(word).iter().map(|it| it.standard).collect();
            assert_eq!(found, standards, "{word}");
        }
        for word in ["none", "", "unobtainium"] {
            assert!(find(word).is_empty(), "{word}");
        }
    }

    #[test]
    fn a_word_that_covers_several_answers_only_where_they_agree() {
        let dual = find("dual check");
        assert_eq!(agreed(&dual, |it| it.stops), Some(Stops::LowHeadBackPressure));
        assert_eq!(agreed(&dual, |it| it.fits), None);
        assert_eq!(agreed(&find("none"), |it| it.fits), None);
    }

    #[test]
    fn a_head_of_water_is_2_31_feet_to_the_psi() {
        // 2.31 ft of water to 1 psi, the trade's figure, rounded to three.
        let feet = 6894.757 / head_pressure(0.3048).unwrap();
        assert!((feet - 2.31).abs() < 0.005, "{feet}");
        assert!(head_pressure(-1.0).is_err() && head_pressure(f64::NAN).is_err());
        assert!(hose_within(one("asse 1011"), -1.0).is_err());
        assert_eq!(hose_within(one("asse 1001"), 1.0), Ok(Some(false)));
        assert_eq!(hose_within(one("asse 1053 type b"), 1.0), Ok(None));
    }
}

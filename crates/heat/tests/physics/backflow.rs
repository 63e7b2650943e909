//! The devices against what the standards' scopes say, in public summaries of them.

use coldsill_heat::physics::Standing;
use coldsill_heat::physics::backflow::{DEVICES, Device, Drains, Fits, Hazard, Pressure, Removal, find};

/// 12 hours, s; 10 ft, m.
const TWELVE_HOURS: f64 = 12.0 * 3600.0;
const TEN_FEET: f64 = 3.048;

fn device(standard: &str) -> &'static Device {
    DEVICES.iter().find(|it| it.standard == standard).unwrap_or_else(|| panic!("no row {standard}"))
}

#[test]
fn hose_end_devices_stand_twelve_hours_of_pressure_and_ten_feet_of_raised_hose() {
    // ASSE 1011-2007 and 1019-2004/2011/2023, as sellers of standards print their scopes: continuous pressure of at
    // most 12 h, back pressure of an elevated hose of at most 10 ft. 1052 and the CSA family: from memory.
    for standard in [
        "ASSE 1011",
        "ASSE 1019 type A",
        "ASSE 1019 type B",
        "ASSE 1019 type C",
        "ASSE 1052",
        "CSA B64.2",
        "CSA B64.2.1",
        "CSA B64.2.1.1",
        "CSA B64.2.2",
    ] {
        let it = device(standard);
        assert_eq!(it.pressure, Pressure::AtMost(TWELVE_HOURS), "{standard}");
        assert_eq!(it.raised_hose, Some(TEN_FEET), "{standard}");
        assert_eq!(it.hazard, Hazard::HighOrLow, "{standard}");
    }
}

#[test]
fn type_b_hydrants_drain_with_the_hose_on_and_types_a_and_c_once_it_is_off() {
    // ASSE 1019 and 1053, types A, B and C, in public summaries.
    for (standard, drains) in [
        ("ASSE 1019 type A", Drains::HoseOff),
        ("ASSE 1019 type B", Drains::HoseOnOrOff),
        ("ASSE 1019 type C", Drains::HoseOff),
        ("ASSE 1053 type A", Drains::HoseOff),
        ("ASSE 1053 type B", Drains::HoseOnOrOff),
    ] {
        let it = device(standard);
        assert_eq!(
            (it.drains, it.fits, it.removal),
            (drains, Fits::WallHydrant, Removal::Integral),
            "{standard}"
        );
    }
}

#[test]
fn what_screws_on_a_hose_thread_stays_by_a_break_off_screw_and_drains_only_where_its_standard_says() {
    // IRC P2902.4.3 asks for a permanently attached one; CSA B64.2.1 names a manual and B64.2.2 an automatic drain.
    for (standard, drains) in [
        ("ASSE 1011", Drains::CanHold),
        ("ASSE 1052", Drains::CanHold),
        ("CSA B64.2", Drains::CanHold),
        ("CSA B64.2.1", Drains::ByHand),
        ("CSA B64.2.1.1", Drains::CanHold),
        ("CSA B64.2.2", Drains::HoseOff),
    ] {
        let it = device(standard);
        let is = (it.drains, it.fits, it.removal);
        assert_eq!(is, (drains, Fits::HoseThread, Removal::ByBreakOffScrew), "{standard}");
    }
}

#[test]
fn piped_breakers_bear_no_back_pressure_and_say_nothing_of_the_barrel() {
    // ASSE 1001 has no valve downstream and at most 12 h; 1020 and 1056 stand under pressure for good (from memory).
    for (standard, fits, pressure) in [
        ("ASSE 1001", Fits::PipeUnpressured, Pressure::AtMost(TWELVE_HOURS)),
        ("CSA B64.1.1", Fits::PipeUnpressured, Pressure::AtMost(TWELVE_HOURS)),
        ("ASSE 1020", Fits::Pipe, Pressure::Continuous),
        ("ASSE 1056", Fits::Pipe, Pressure::Continuous),
    ] {
        let it = device(standard);
        assert_eq!((it.fits, it.pressure, it.raised_hose), (fits, pressure, Some(0.0)), "{standard}");
        assert_eq!((it.drains, it.removal), (Drains::NotAtTheBarrel, Removal::Piped), "{standard}");
    }
}

#[test]
fn what_was_not_seen_of_yard_hydrants_and_laboratory_devices_is_not_known() {
    for it in DEVICES.iter().filter(|it| it.standard.contains("1057")) {
        let is = (it.fits, it.pressure, it.raised_hose, it.hazard);
        assert_eq!(is, (Fits::YardHydrant, Pressure::NotSeen, None, Hazard::NotSeen), "{}", it.standard);
    }
    for standard in ["ASSE 1035", "CSA B64.7"] {
        let it = device(standard);
        let is = (it.fits, it.pressure, it.raised_hose, it.drains);
        assert_eq!(
            is,
            (Fits::LaboratoryFaucet, Pressure::NotSeen, None, Drains::NotAtTheBarrel),
            "{standard}"
        );
    }
}

#[test]
fn trade_names_mean_the_standards_that_bear_them() {
    let standards = |word: &str| find(word).iter().map(|it| it.standard).collect::<Vec<_>>();
    assert_eq!(standards("laboratory faucet vacuum breaker"), ["ASSE 1035", "CSA B64.7"]);
    assert_eq!(standards("sanitary yard hydrant").len(), 5);
    assert_eq!(standards("integral").len(), 3);
    assert!(standards("hose connection vacuum breaker").contains(&"ASSE 1011"));
    assert!(standards("dual check").iter().any(|it| it.starts_with("ASSE 1053")));
}

#[test]
fn only_what_was_read_in_a_copy_is_marked_as_seen() {
    // Not at hand, like the texts of CSA.
    const FROM_MEMORY: [&str; 5] = ["ASSE 1013", "ASSE 1015", "ASSE 1020", "ASSE 1024", "ASSE 1035"];
    for it in DEVICES {
        let recalled = it.standard.starts_with("CSA") || FROM_MEMORY.contains(&it.standard);
        let standing = if recalled { Standing::FromMemory } else { Standing::Seen };
        assert_eq!(it.standing, standing, "{}", it.standard);
    }
}

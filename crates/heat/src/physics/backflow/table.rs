//! The devices, a row for each standard or type.

use super::{Device, Drains, Fits, Hazard, Pressure, Removal, Standing, Stops};

const TEN_FEET: Option<f64> = Some(3.048);
const TWELVE_HOURS: Pressure = Pressure::AtMost(12.0 * 3600.0);

/// What a screwed-on breaker and an integral one share unless their row says otherwise.
const HOSE: Device = Device {
    standard: "",
    name: "",
    aliases: &[],
    fits: Fits::HoseThread,
    removal: Removal::ByBreakOffScrew,
    drains: Drains::CanHold,
    pressure: TWELVE_HOURS,
    raised_hose: TEN_FEET,
    stops: Stops::LowHeadBackPressure,
    hazard: Hazard::HighOrLow,
    source: "",
    standing: Standing::Seen,
};
const HYDRANT: Device =
    Device { fits: Fits::WallHydrant, removal: Removal::Integral, drains: Drains::HoseOff, ..HOSE };
const YARD: Device = Device {
    name: "freeze-resistant sanitary yard hydrant with backflow protection",
    aliases: &["asse 1057", "sanitary yard hydrant"],
    fits: Fits::YardHydrant,
    pressure: Pressure::NotSeen,
    raised_hose: None,
    hazard: Hazard::NotSeen,
    source: "ASSE 1057-2012, scope as a seller of standards prints it",
    ..HYDRANT
};
const PIPED: Device = Device {
    fits: Fits::PipeUnpressured,
    removal: Removal::Piped,
    drains: Drains::NotAtTheBarrel,
    raised_hose: Some(0.0),
    stops: Stops::BackSiphonage,
    ..HOSE
};
/// From memory: rated for 150 psi and more, for continuous pressure, against back-siphonage and back pressure, at high
/// hazard; its relief port drains only itself. The height is that pressure as a head.
const REDUCED_PRESSURE: Device = Device {
    name: "reduced pressure principle assembly",
    aliases: &["rpz", "rp", "rpba", "reduced pressure", "reduced pressure zone", "reduced pressure assembly"],
    fits: Fits::Pipe,
    pressure: Pressure::Continuous,
    raised_hose: Some(150.0 * 6894.757 / (999.97 * 9.806_65)),
    stops: Stops::BackPressure,
    standing: Standing::FromMemory,
    ..PIPED
};
/// Two checks in the pipe and no air inlet: nothing vents, so that a fouled check passes back-siphonage. Low hazard only.
const DOUBLE_CHECK: Device = Device {
    name: "double check assembly",
    aliases: &["double check", "double check valve", "double check valve assembly", "dcva", "dca"],
    hazard: Hazard::Low,
    ..REDUCED_PRESSURE
};
const RESIDENTIAL_DUAL_CHECK: Device =
    Device { name: "residential dual check", aliases: &["dual check valve", "duc"], ..DOUBLE_CHECK };
const LABORATORY: Device = Device {
    name: "laboratory faucet backflow preventer",
    aliases: &["laboratory faucet vacuum breaker", "lfvb"],
    fits: Fits::LaboratoryFaucet,
    removal: Removal::Integral,
    drains: Drains::NotAtTheBarrel,
    pressure: Pressure::NotSeen,
    raised_hose: None,
    standing: Standing::FromMemory,
    ..HOSE
};

const INTEGRAL: &[&str] = &[
    "asse 1019",
    "integral",
    "integral vb",
    "integral vac bkr",
    "built-in",
    "yes integral",
    "vacuum breaker wall hydrant",
];
const SCOPE_1019: &str = "ASSE 1019-2004 and 2023, scope as sellers of standards print it";
const SCOPE_1053: &str = "ASSE 1053-2019, abstract in the ANSI store; hours and height not seen";
const CSA: &str = "title in CSA B64 Series; no text of it seen: hours, height and draining as its ASSE counterpart, \
                   from memory; classes of CSA B64.10 not recalled";

/// Every device, ASSE before CSA, by number.
pub const DEVICES: &[Device] = &[
    Device {
        standard: "ASSE 1001",
        name: "atmospheric vacuum breaker",
        aliases: &["avb", "pipe-applied atmospheric vacuum breaker"],
        source: "ASSE 1001-2008, scope as a seller of standards prints it: last valve upstream, 6 in above the rim",
        ..PIPED
    },
    Device {
        standard: "ASSE 1011",
        name: "hose connection vacuum breaker",
        aliases: &["hcvb", "hose vb", "hose connection vb", "screw-on vacuum breaker"],
        source: "ASSE 1011-2007, scope as a seller of standards prints it; break-off screw and held water from memory; \
                 some have a hand drain, which is product data",
        ..HOSE
    },
    Device { standard: "ASSE 1013", source: "ASSE 1013, scope (from memory)", ..REDUCED_PRESSURE },
    Device { standard: "ASSE 1015", source: "ASSE 1015, scope (from memory)", ..DOUBLE_CHECK },
    Device {
        standard: "ASSE 1019 type A",
        name: "integral vacuum breaker",
        aliases: INTEGRAL,
        source: SCOPE_1019,
        ..HYDRANT
    },
    Device {
        standard: "ASSE 1019 type B",
        name: "integral vacuum breaker",
        aliases: INTEGRAL,
        drains: Drains::HoseOnOrOff,
        source: SCOPE_1019,
        ..HYDRANT
    },
    Device {
        standard: "ASSE 1019 type C",
        name: "integral vacuum breaker",
        aliases: INTEGRAL,
        source: SCOPE_1019,
        ..HYDRANT
    },
    Device {
        standard: "ASSE 1020",
        name: "pressure vacuum breaker",
        aliases: &["pvb"],
        fits: Fits::Pipe,
        pressure: Pressure::Continuous,
        source: "ASSE 1020, scope",
        standing: Standing::FromMemory,
        ..PIPED
    },
    Device {
        standard: "ASSE 1024",
        source: "ASSE 1024, scope (from memory): at the water meter of a dwelling",
        ..RESIDENTIAL_DUAL_CHECK
    },
    Device { standard: "ASSE 1035", source: "ASSE 1035, scope; hours and height not recalled", ..LABORATORY },
    Device {
        standard: "ASSE 1052",
        name: "hose connection backflow preventer",
        aliases: &["dual check", "dual check backflow preventer"],
        source: "ASSE 1052-2004 and 2023, scope as sellers of standards print it; break-off screw and held water from \
                 memory",
        ..HOSE
    },
    Device {
        standard: "ASSE 1053 type A",
        name: "dual check backflow preventer wall hydrant",
        aliases: &["asse 1053", "dual check", "dual check backflow preventer"],
        pressure: Pressure::NotSeen,
        raised_hose: None,
        source: SCOPE_1053,
        ..HYDRANT
    },
    Device {
        standard: "ASSE 1053 type B",
        name: "dual check backflow preventer wall hydrant",
        aliases: &["asse 1053", "dual check", "dual check backflow preventer"],
        drains: Drains::HoseOnOrOff,
        pressure: Pressure::NotSeen,
        raised_hose: None,
        source: SCOPE_1053,
        ..HYDRANT
    },
    Device {
        standard: "ASSE 1056",
        name: "spill-resistant vacuum breaker",
        aliases: &[
            "svb",
            "srpvb",
            "spill-resistant pressure vacuum breaker",
            "pressure vacuum breaker",
            "pvb",
        ],
        fits: Fits::Pipe,
        pressure: Pressure::Continuous,
        source: "ASSE 1056-2001 and 2013, scope as sellers of standards print it: 12 in above the rim",
        ..PIPED
    },
    Device { standard: "ASSE 1057 type 1", drains: Drains::HoseOnOrOff, ..YARD },
    Device { standard: "ASSE 1057 type 2", ..YARD },
    Device { standard: "ASSE 1057 type 3", drains: Drains::HoseOnOrOff, ..YARD },
    Device { standard: "ASSE 1057 type 4", ..YARD },
    Device { standard: "ASSE 1057 type 5", removal: Removal::ByHand, drains: Drains::DeviceOff, ..YARD },
    Device {
        standard: "CSA B64.1.1",
        name: "atmospheric vacuum breaker",
        aliases: &["avb"],
        source: CSA,
        standing: Standing::FromMemory,
        ..PIPED
    },
    Device {
        standard: "CSA B64.1.2",
        name: "pressure vacuum breaker",
        aliases: &["pvb"],
        fits: Fits::Pipe,
        pressure: Pressure::Continuous,
        source: CSA,
        standing: Standing::FromMemory,
        ..PIPED
    },
    Device {
        standard: "CSA B64.1.3",
        name: "spill-resistant vacuum breaker",
        aliases: &[
            "svb",
            "srpvb",
            "spill-resistant pressure vacuum breaker",
            "pressure vacuum breaker",
            "pvb",
        ],
        fits: Fits::Pipe,
        pressure: Pressure::Continuous,
        source: CSA,
        standing: Standing::FromMemory,
        ..PIPED
    },
    Device {
        standard: "CSA B64.2",
        name: "hose connection vacuum breaker",
        aliases: &["hcvb", "hose vb", "hose connection vb", "screw-on vacuum breaker"],
        source: CSA,
        standing: Standing::FromMemory,
        ..HOSE
    },
    Device {
        standard: "CSA B64.2.1",
        name: "hose connection vacuum breaker with manual draining feature",
        aliases: &["manual-drain hose connection vacuum breaker"],
        drains: Drains::ByHand,
        source: CSA,
        standing: Standing::FromMemory,
        ..HOSE
    },
    Device {
        standard: "CSA B64.2.1.1",
        name: "hose connection dual check vacuum breaker",
        aliases: &["hcdvb", "dual check", "dual check backflow preventer"],
        source: CSA,
        standing: Standing::FromMemory,
        ..HOSE
    },
    Device {
        standard: "CSA B64.2.2",
        name: "hose connection vacuum breaker with automatic draining feature",
        aliases: &["automatic-drain hose connection vacuum breaker"],
        drains: Drains::HoseOff,
        source: CSA,
        standing: Standing::FromMemory,
        ..HOSE
    },
    Device { standard: "CSA B64.4", source: CSA, ..REDUCED_PRESSURE },
    Device { standard: "CSA B64.5", source: CSA, ..DOUBLE_CHECK },
    Device { standard: "CSA B64.6", source: CSA, ..RESIDENTIAL_DUAL_CHECK },
    Device { standard: "CSA B64.7", source: CSA, ..LABORATORY },
];

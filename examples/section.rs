//! One outlet in one wall, without a schedule: the temperature at its valve seat on a cold night, and how cold it may get.
//! `cargo run --example section`

#![allow(clippy::print_stdout, reason = "an example shows its result")]

use coldsill::physics::materials;
use coldsill::section::{
    Barrel, Behind, Bore, Boundary, Fitting, Inlet, Layer, Micro, Ranged, Spec, Stem, Supply, Uncertainty,
    solve,
};

const INCH: f64 = 0.0254;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let conductivity =
        |key: &str| materials::find(key).map(|it| Ranged::from(it.conductivity)).ok_or("no material");
    let inches = |inches: f64| Ranged::exact(inches * INCH);
    let layer = |inches: f64, conductivity: f64| Layer {
        thickness: Micro::of(inches * INCH),
        conductivity: Micro::of(conductivity),
    };
    let brass = conductivity("brass")?;
    let spec = Spec {
        // Sheathing, a filled 2x6 cavity, gypsum board; W/mK.
        wall: vec![layer(0.5, 0.12), layer(5.5, 0.04), layer(0.5, 0.17)],
        seat_depth: Ranged::new(6.5 * INCH, 7.0 * INCH, 7.25 * INCH),
        barrel: Barrel {
            diameter: inches(0.84),
            thickness: inches(0.06),
            conductivity: brass,
            emissivity: Ranged::new(0.05, 0.4, 0.6),
        },
        stem: Stem { diameter: inches(0.25), conductivity: brass },
        fitting: Fitting { length: inches(0.7), conductivity: brass },
        bore: Bore::Drained,
        supply: Supply {
            diameter: Micro::of(0.625 * INCH),
            thickness: Micro::of(0.04 * INCH),
            conductivity: conductivity("copper")?,
            exchange: Ranged::new(1.0, 1.0, 3.0),
            run: Micro::of(36.0 * INCH),
            emissivity: Ranged::exact(0.4),
            sleeve: None,
        },
        inlet: Inlet::InSpace,
        behind: Behind {
            room: Micro::of(293.15),
            share: Micro::of(1.0),
            leak: Ranged::exact(0.0),
            pressure: Ranged::exact(101_325.0),
            convection: Ranged::exact(1.0),
        },
        held_back: None,
        outdoor_resistance: Ranged::new(10.0, 34.0, 60.0).reciprocal(),
        gasket: Micro::default(),
        cover: Micro::default(),
    };
    let solved = solve(&spec, Uncertainty::Carried)?;
    let celsius = |kelvin: f64| kelvin - 273.15;
    let [cold, is, warm] = solved.seat_temperature(&Boundary { outdoors: 243.15, room: 293.15 }).map(celsius);
    println!("Seat at -30 °C outdoors: {is:.1} °C (95 % interval {cold:.1} to {warm:.1} °C)");
    match solved.good_to(293.15) {
        Some([_, is, safe]) => {
            println!("Steady ice point at {:.0} °C outdoors, at worst {:.0} °C", celsius(is), celsius(safe))
        }
        None => println!("No outdoor temperature brings the seat to the ice point"),
    }
    println!("Screening only: the locally adopted code and the authority having jurisdiction govern.");
    Ok(())
}

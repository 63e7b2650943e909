//! The outlet section against things outside the project.
mod common;
use coldsill::section::*;
use common::*;
#[test]
fn show() {
    for e in [0.4, 0.9] {
        for (pname, mut pipe) in [("copper", copper_pipe()), ("PEX", pex_pipe())] {
            for (name, k) in [("copper", COPPER), ("brass", BRASS), ("stainless", STAINLESS)] {
                if pname == "copper" {
                    pipe.emissivity = Ranged::exact(e);
                }
                let mut spec = outlet(rim_joist(), k, pipe, 8.0 + 0.4724);
                spec.barrel.emissivity = Ranged::exact(e);
                let s = solved(&spec);
                let h = solve_at(&spec, Uncertainty::LeftOut, Fineness::Halved).unwrap();
                let b = Boundary { outdoors: kelvin(0.), room: kelvin(68.) };
                println!(
                    "{e} {pname} {name}: {:.2} halved {:.2}  films {:?} cells {} {}",
                    seat(&spec, 0.0, 68.0),
                    fahrenheit(h.seat.temperature(&b)),
                    s.indoor_films,
                    s.cells,
                    h.cells
                );
            }
        }
    }
}

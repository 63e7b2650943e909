use crate::common::*;
use coldsill::section::*;
use std::time::Instant;

pub fn caps(spec: &Spec, plastic: bool) -> Capacities {
    let c = |x: f64| Micro::of(x);
    let _ = spec;
    Capacities { layers: [1.4e6, 1.1e6, 1.2e4, 0.9e6].map(c).to_vec(), barrel: c(3.23e6), stem: c(3.23e6), supply: c(if plastic {2.16e6} else {3.45e6}), sleeve: c(3e4) }
}

fn spell(start: f64, low: f64, hours: f64, back: f64) -> Weather {
    let k = kelvin;
    Weather { outdoors: vec![[0.0, k(start)], [1.0, k(low)], [hours*3600.0, k(low)], [(hours+1.0)*3600.0, k(back)]], room: vec![[0.0, k(68.0)]], over: hours*3600.0, end: (hours+96.0)*3600.0 }
}
fn swing(start: f64, low: f64, s: f64) -> Weather {
    let mut w = spell(start, low, 96.0, start);
    w.outdoors = (0..=120).map(|h| { let t = f64::from(h); let m = if t < 24.0 { start + (low + s/2.0 - start)*t/24.0 } else if t > 96.0 { low + s/2.0 + (start - low - s/2.0)*(t-96.0)/24.0 } else { low + s/2.0 };
        let f = (t/24.0).min(1.0).min((120.0-t)/24.0); [t*3600.0, kelvin(m - f*s/2.0*((t-6.0)/24.0*6.2831853).cos())] }).collect();
    w
}
#[test]
fn look() {
    let wall = || built_in("2x6-siding");
    for (name, spec, w) in [
        ("brass 4 copper -20", outlet(wall(), BRASS, copper_pipe(), 4.0), spell(32.0, -20.0, 96.0, 45.0)),
        ("brass 4 pex 0", outlet(wall(), BRASS, pex_pipe(), 4.0), spell(32.0, 0.0, 96.0, 45.0)),
        ("brass 4 pex swing 0", outlet(wall(), BRASS, pex_pipe(), 4.0), swing(40.0, 0.0, 10.0)),
        ("face brass copper 18", outlet(wall(), BRASS, copper_pipe(), 0.0), spell(40.0, 18.0, 96.0, 45.0)),
        ("face brass pex 18", outlet(wall(), BRASS, pex_pipe(), 0.0), spell(40.0, 18.0, 96.0, 45.0)),
        ("face brass pex swing 15", outlet(wall(), BRASS, pex_pipe(), 0.0), swing(40.0, 15.0, 10.0)),
        ("no freeze", outlet(wall(), BRASS, copper_pipe(), 10.0), swing(40.0, 15.0, 10.0)),
    ] {
        let s = solved(&spec);
        let b = state(-20.0, 68.0);
        let pex = name.contains("pex");
        let c = caps(&spec, pex);
        for e in [0.1, 1.0, 2.0] {
            let t = Instant::now();
            let r = follow_at(&spec, &c, &w, Closely { fineness: Fineness::Usual, error: Some(e) }).unwrap();
            let ms = t.elapsed().as_secs_f64() * 1e3;
            let h = |x: Option<f64>| x.map(|x| (x / 36.0).round() / 100.0);
            eprintln!("{name:24} e {e} holds {:.1} first {:?} blocked {:?} at {:?} seatplug {:?} clear {:?} plug {:.3} most {:.2} coldest {:.1} {:?} imb {:.0e} {:?} cells {} {ms:.0} ms", s.holds_to(b.room).map_or(f64::NAN, |x| fahrenheit(x[1])),
              h(r.first_ice), h(r.blocked.map(|b| b.0)), r.blocked.map(|b| (b.1 / INCH * 10.0).round() / 10.0), h(r.plug_at_seat), h(r.clear), r.longest_plug / INCH, r.most_frozen, fahrenheit(r.coldest_seat), r.ended, r.imbalance, r.effort, r.cells);
        }
    }
}

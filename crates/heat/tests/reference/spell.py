"""Makes tests/section/data/spell.csv: outlets through a cold spell, by a derivation of its own.

python 3.11, numpy 2.4.6, scipy 1.17.1, CoolProp 8.0.0. `cargo test` does not need this script: its table is committed.
The section itself is in outlet.py; of the solvers in src/thermal and src/section nothing is used.

    python tests/reference/spell.py > tests/section/data/spell.csv    (half an hour on one core)
    python tests/reference/spell.py drained-copper                    (the rows of one case)

In time: Alexander's two-stage, second-order, L-stable Runge-Kutta (SIAM J. Numer. Anal. 14 (1977) 1006), each stage by
Newton's method with a sparse factorization; checked against scipy's variable-order BDF on the same equations.
"""

import sys
from types import SimpleNamespace

import numpy as np
from outlet import COPPER_L, FUSION, PEX_TUBE, SLICES, Outlet
from scipy.integrate import BDF
from scipy.sparse.linalg import splu

HOUR = 3600.0


def stage(outlet, start, guess, span, outdoors, room, kept):
    """Solves h = start + span x flow(h) by Newton's method; `kept` carries a factorization on while it serves."""
    h, scale = guess.copy(), outlet.dry + outlet.wet * 2e6
    for _ in range(60):
        flow, data, slope = outlet.flow(h, outdoors, room)
        miss = h - start - span * flow
        phase = slope == 0.0
        if kept.get("span") != span or not np.array_equal(kept["phase"], phase) or kept["used"] > 30:
            jacobian = span * data * slope[outlet.columns] + outlet.diagonal
            kept.update(lu=splu(outlet.matrix(jacobian), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                                options={"SymmetricMode": True}), span=span, phase=phase, used=0)
        kept["used"] += 1
        step = kept["lu"].solve(miss)
        h -= step
        if np.max(np.abs(step) / scale) < 1e-7:
            return h
    return None


def step(outlet, t, dt, h, kept):
    gamma = 1 - np.sqrt(0.5)
    room = outlet.case.room
    first = stage(outlet, h, h, gamma * dt, outlet.case.outdoors(t + gamma * dt), room, kept)
    if first is None:
        return None
    slope = (first - h) / (gamma * dt)
    base = h + (1 - gamma) * dt * slope
    return stage(outlet, base, first, gamma * dt, outlet.case.outdoors(t + dt), room, kept)


def ramp(*points):
    """Outdoors, degC, on straight lines between points (hour, degC); of seconds."""
    hours, values = zip(*points)
    return lambda t: float(np.interp(t / HOUR, hours, values))


def with_day(base, until, swing, warmest):
    """A daily cosine on a spell until an hour, nothing after."""
    return lambda t: base(t) + (swing * np.cos(2 * np.pi * (t / HOUR - warmest) / 24) if t <= until * HOUR else 0.0)


def case(seat, supply, start, cold, outdoors=None, breaks=(0.0, 96.0, 97.0)):
    outdoors = outdoors or ramp((0.0, cold), (96.0, cold), (97.0, 5.0))
    return SimpleNamespace(seat=seat, stem=0.3125, run=24.0, room=20.0, supply=supply, start=start, cold=cold,
                           outdoors=outdoors, breaks=breaks, end=193.0)


SLOW = 0.0, 24.0, 96.0, 97.0
FALL_A = ramp((0.0, 0.0), (24.0, -30.0), (96.0, -30.0), (97.0, 5.0))
FALL_B = ramp((0.0, 5.0), (24.0, -15.0), (96.0, -15.0), (97.0, 5.0))
DAY = with_day(ramp((0.0, 0.0), (12.0, -12.0), (96.0, -12.0), (97.0, 5.0)), 96.0, 6.0, 18.0)
CASES = {
    "drained-copper": case(4.0, COPPER_L, 0.0, -30.0),
    "drained-copper-slow": case(4.0, COPPER_L, 0.0, -30.0, FALL_A, SLOW),
    "face-copper": case(0.0, COPPER_L, 5.0, -8.0),
    "face-copper-slow": case(0.0, COPPER_L, 5.0, -15.0, FALL_B, SLOW),
    "drained-pex-day": case(4.0, PEX_TUBE, 0.0, -12.0, DAY, (0.0, 12.0, 96.0, 97.0)),
}


class Watch:
    """What is looked for while time goes on; a time within a step goes by the rate of the step before."""

    def __init__(self, it):
        self.it, self.seats, self.found, self.before = it, [], {}, []
        self.room = it.wet[it.by_plane] * FUSION
        self.near = [it.depths < it.seat + depth + 1e-9 for depth in SLICES.values()]

    def look(self, t, h):
        it, hours = self.it, t / HOUR
        temperature, _, liquid = it.state(h)
        self.seats.append((hours, it.seat_temperature(temperature)))
        # liquid left in each plane's last corner, as a share; below 0 once it is all ice and colder
        level = h[it.by_plane] / self.room
        planes = np.maximum.reduceat(level, it.first_in_plane)
        ice = it.fitting @ (1 - liquid) / it.fitting.sum()
        marks = {"first ice": level.min() - 1, "blocked": planes.min(), "half of the fitting's water frozen": 0.5 - ice,
                 "thawed": 1 - level.min() if hours > 96 else 1.0}
        marks |= {f"plug of {name} at the seat": planes[near].max() for name, near in zip(SLICES, self.near)}
        for name, mark in marks.items():
            if name in self.found or len(self.before) < 2 or mark > 0 or (mark == 0 and name != "thawed"):
                continue
            (older, was), (then, last) = self.before
            rate = max((was[name] - last[name]) / (then - older), 0.0)
            self.found[name] = then + min(hours - then, last[name] / rate if rate else hours)
            if name == "blocked":
                self.found["depth of the first block from the seat"] = 1e3 * (it.depths[np.argmin(planes)] - it.seat)
        self.before = [*self.before[-1:], (hours, marks)]
        if abs(hours - 96.0) < 1e-9:
            self.found["plug length at the end of the cold"] = 1e3 * self.plug(temperature[it.axis], liquid[it.axis])
            self.found["share of the fitting's water frozen"] = ice
        return "thawed" in self.found

    def plug(self, temperature, liquid):
        """Length of ice on the axis from the seat: to the ice point between two corners."""
        last = int(np.argmax(liquid > 0)) - 1
        if last < 0:
            return 0.0
        (a, b), (cold, warm) = self.it.depths[last:last + 2], temperature[last:last + 2]
        return a + (b - a) * (cold / (cold - warm)) - self.it.seat


def begin(name, fine):
    outlet = Outlet(CASES[name], fine)
    critical, films = outlet.find_films(CASES[name].room)
    ends = CASES[name].start, CASES[name].cold
    seats = [outlet.seat_temperature(outlet.steady(it, CASES[name].room)) for it in ends]
    figures = {"outdoors with the seat at the ice point": critical, "least film in the room": films.min(),
               "greatest film in the room": films.max(), "steady seat before": seats[0],
               "steady seat at the cold end without ice": seats[1]}
    return outlet, figures, outlet.enthalpy(outlet.steady(CASES[name].start, CASES[name].room, True))


def by_steps(name, fine, pace):
    """Steps of about 1 % of the time since the outdoors last broke, 0.25 to 120 s (300 s once settled), x `pace`."""
    outlet, figures, h = begin(name, fine)
    breaks, end = [it * HOUR for it in CASES[name].breaks], CASES[name].end * HOUR
    watch, t, kept, cut = Watch(outlet), 0.0, {}, 1.0
    watch.look(t, h)
    marks = sorted({*breaks, end})
    while t < end:
        since = t - max(it for it in breaks if it <= t)
        cap = 300.0 if 36.0 * HOUR < t < 96.0 * HOUR else 120.0
        dt = pace * cut * cap * 2.0 ** np.floor(np.log2(min(1.0, max(0.25, 0.01 * since) / cap)))
        mark = min(it for it in marks if it > t)
        dt = min(dt, mark - t)
        after = step(outlet, t, dt, h, kept)
        if after is None:
            cut, kept = cut / 2, {}
            if cut < 1e-3:
                raise RuntimeError(f"{name}: no step at {t / HOUR} h")
            continue
        t, h, cut = (mark if mark - t - dt < 1e-6 else t + dt), after, min(1.0, 2 * cut)
        if watch.look(t, h):
            break
    return figures | watch.found, watch


def by_bdf(name, fine, tolerance):
    """The same equations by scipy's variable-order BDF; the state is enthalpy over sensible capacity, so in kelvins."""
    outlet, figures, h = begin(name, fine)
    scale, room, outdoors = outlet.dry + outlet.wet * 4e6, CASES[name].room, CASES[name].outdoors
    watch = Watch(outlet)

    def rate(t, y):
        return outlet.flow(y * scale, outdoors(t), room)[0] / scale

    def jacobian(t, y):
        _, data, slope = outlet.flow(y * scale, outdoors(t), room)
        return outlet.matrix(-data * slope[outlet.columns] * scale[outlet.columns] / scale[outlet.rows])

    y, marks = h / scale, [it * HOUR for it in CASES[name].breaks] + [CASES[name].end * HOUR]
    for start, end in zip(marks, marks[1:]):
        solver = BDF(rate, start, y, end, rtol=tolerance, atol=10 * tolerance, jac=jacobian, first_step=0.1,
                     max_step=600.0)
        while solver.status == "running":
            watch.look(solver.t, solver.y * scale)
            if "thawed" in watch.found:
                return figures | watch.found, watch
            assert solver.step() is None, f"{name}: BDF stops at {solver.t / HOUR} h"
        y = solver.y
        watch.look(end, y * scale)
    return figures | watch.found, watch


HEAD_OF_TABLE = """\
# Outlets through a cold spell, by tests/reference/spell.py: python 3.11, numpy 2.4.6, scipy 1.17.1, CoolProp 8.0.0.
# Conductivities in W/mK, then heat capacities in J/m3K. Wall 2x6-siding: fiber cement 0.3125 in 0.30, 1.4e6; OSB
#   0.4375 in 0.10, 1.1e6; batt 5.5 in 0.043, 1.2e4; gypsum 0.5 in 0.16, 0.9e6. Barrel 0.84 x 0.06 in, stem 0.3125 in,
#   head and fitting brass 115, 3.23e6. Washer 0.25, 2.3e6. Air in the drained barrel 0.024, 1300.
#   Supply 0.625 in: copper 0.040 in 339, 3.45e6, emissivity 0.4; PEX 0.070 in 0.38, 2.16e6, emissivity 0.9; run 24 in
#   from the wall's inner face. Room 20 degC; films 34 W/m2K out, Rsi 0.13; no gasket, cover or sleeve.
# Films on the pipe are found, with water at 0.568 W/mK, where the seat is at the ice point, and held.
# Steady figures have water at 0.568 W/mK; the start and the spell have water and ice by temperature.
# Seat at 4 in (drained) or 0 (face). Outdoors, degC, straight lines between; the start is in balance with the first:
#   drained-copper       0, stepping to -30 at 0 h; -30 until 96 h, 5 from 97 h
#   drained-copper-slow  0 at 0 h, -30 from 24 to 96 h, 5 from 97 h
#   face-copper          5, stepping to -8 at 0 h; -8 until 96 h, 5 from 97 h
#   face-copper-slow     5 at 0 h, -15 from 24 to 96 h, 5 from 97 h
#   drained-pex-day      0 at 0 h, -12 from 12 to 96 h, 5 from 97 h; until 96 h 6 cos(2 pi (h - 18)/24) is added
# blocked: the first plane of corners all ice. It thins with the mesh to a film on the washer: a model of cells is to be
#   held to the plug of its cell's thickness, and best to 3 mm.
# value: three meshes carried to zero spacing on a straight line. uncertainty: its distance from the finest mesh, and
#   what doubled steps or scipy's BDF (rtol 1e-5, atol 1e-4 K) change on the coarsest.
case,figure,unit,value,uncertainty,mesh 0.7,mesh 1,mesh 1.4"""
MESHES = 0.7, 1.0, 1.4


def unit(figure):
    words = {"film": "W/m2K", "share": "1", "length": "mm", "depth": "mm", "outdoors": "degC", "seat ": "degC"}
    return "h" if figure.startswith("plug of") else next((it for word, it in words.items() if word in figure), "h")


def flat(run):
    figures, watch = run
    hours, seats = np.array(watch.seats).T
    hourly = {f"seat at {it} h": np.interp(it, hours, seats) for it in range(49)}
    return {**figures, **hourly}


def rows(name):
    meshes = [flat(by_steps(name, fine, 1.0)) for fine in MESHES]
    others = [flat(by_steps(name, MESHES[0], 2.0)), flat(by_bdf(name, MESHES[0], 1e-5))]
    for figure in meshes[0]:
        values = [it[figure] for it in meshes]
        limit = np.polyfit(1 / np.array(MESHES), values, 1)[1]
        doubt = abs(limit - values[-1]) + max(abs(it[figure] - values[0]) for it in others)
        line = [name, figure, unit(figure), *(f"{it:.4f}" for it in (limit, doubt, *values))]
        print(",".join(line), flush=True)


if __name__ == "__main__":
    asked = sys.argv[1:]
    if not asked:
        print(HEAD_OF_TABLE)
    for each in asked or CASES:
        rows(each)

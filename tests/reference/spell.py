"""Makes tests/section/data/spell.csv: outlets through a cold spell, by a derivation of its own.

python 3.11, numpy 2.4.6, scipy 1.17.1, CoolProp 8.0.0 (IAPWS-95 and IAPWS R15-11 for water; Lemmon et al. 2000 and
Lemmon and Jacobsen 2004 for air). `cargo test` does not need this script: its table is committed.

    python tests/reference/spell.py > tests/section/data/spell.csv    (a quarter of an hour)
    python tests/reference/spell.py drained-copper                    (the rows of one case)

Box scheme on the corners of a graded (r, z) mesh: temperatures live at the corners, conductivities in the rectangles,
heat in each corner's share of the rectangles around it: the linear finite element on right triangles, mass lumped. The
state is the enthalpy of each share; its temperature follows by inverting the sum of metal, ice, heat of fusion and
liquid, and the ice point is not smoothed. In time: Alexander's two-stage, second-order, L-stable Runge-Kutta (SIAM J.
Numer. Anal. 14 (1977) 1006), each stage by Newton's method; checked against scipy's variable-order BDF.
"""

import sys
from functools import cache
from types import SimpleNamespace

import numpy as np
from CoolProp.CoolProp import PropsSI
from scipy.integrate import BDF
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

INCH, HOUR, ICE_POINT = 0.0254, 3600.0, 273.15
RIM, HEAD, FLANGE, FLANGE_THICKNESS, HEAD_LENGTH = 0.150, 0.014, 0.032, 0.003, 0.050
WASHER, FITTING, READ = 0.012, 0.01778, 0.003
SLICES = {"1 mm": 0.001, "2 mm": 0.002, "3 mm": READ}  # ice right across the bore this far from the washer
OUTDOOR_FILM, INDOOR_WALL_FILM = 34.0, 1 / 0.13
FUSION = 916.722 * 333426.5  # J/m3
COLUMN = 0.568  # W/mK, the water's conductivity where the films are found and in the two steady checks

# Conductivity W/mK, volumetric heat capacity J/m3K
FIBER_CEMENT, OSB = (0.30, 1.4e6), (0.10, 1.1e6)
BATT, GYPSUM = (0.043, 1.2e4), (0.16, 0.9e6)
BRASS, COPPER, PEX = (115.0, 3.23e6), (339.0, 3.45e6), (0.38, 2.16e6)
RUBBER, AIR = (0.25, 2.3e6), (0.024, 1300.0)
WALL_2X6 = [(0.3125, FIBER_CEMENT), (0.4375, OSB), (5.5, BATT), (0.5, GYPSUM)]
COPPER_L = SimpleNamespace(metal=COPPER, wall=0.040, emissivity=0.4)
PEX_TUBE = SimpleNamespace(metal=PEX, wall=0.070, emissivity=0.9)
BRASS_EMISSIVITY = 0.4  # no brass shows in the room in these cases

# Water, degC: rho c_p of the liquid (IAPWS-95) and k (IAPWS R15-11); of ice, rho c_p on a straight line and k
ROWS = np.arange(0.0, 45.0, 5.0)
LIQUID = [(max(t + ICE_POINT, 273.1525), 101325.0) for t in ROWS]
LIQUID_HEAT = [PropsSI("D", "T", t, "P", p, "Water") * PropsSI("C", "T", t, "P", p, "Water") for t, p in LIQUID]
LIQUID_K = [PropsSI("L", "T", t, "P", p, "Water") for t, p in LIQUID]
ICE_ROWS, ICE_HEAT = [-40.0, 0.0], [922.0 * 1805.0, 916.7 * 2097.0]
ICE_K_ROWS, ICE_K = [-40.0, -20.0, -10.0, 0.0], [2.632, 2.385, 2.292, 2.22]


def water_table():
    """Knots of water's enthalpy, J/m3 from ice at the ice point, every kelvin; 0 degC is there twice."""
    cold, warm = np.arange(-60.0, 0.5), np.arange(0.0, 40.5)
    ice, liquid = np.interp(cold, ICE_ROWS, ICE_HEAT), np.interp(warm, ROWS, LIQUID_HEAT)
    solid = np.cumsum(np.r_[0.0, (ice[1:] + ice[:-1]) / 2])
    fluid = np.cumsum(np.r_[0.0, (liquid[1:] + liquid[:-1]) / 2])
    return np.r_[cold, warm], np.r_[solid - solid[-1], FUSION + fluid]


KNOTS, HEATS = water_table()


@cache
def air_at(film):
    """k, nu, Pr of dry air at a film temperature, K."""
    k, mu, c, rho = (PropsSI(it, "T", film, "P", 101325.0, "Air") for it in "LVCD")
    return k, mu / rho, mu * c / k


def indoor_film(diameter, emissivity, surface, room):
    """Churchill and Chu (1975) on a horizontal cylinder, plus radiation; kelvins."""
    k, nu, pr = air_at(round((surface + room) / 2, 3))
    ra = 9.80665 * 2 / (surface + room) * abs(surface - room) * diameter**3 / nu**2 * pr
    root = 0.60 + 0.387 * ra ** (1 / 6) / (1 + (0.559 / pr) ** (9 / 16)) ** (8 / 27)
    radiation = emissivity * 5.670374419e-8 * (surface**2 + room**2) * (surface + room)
    return root**2 * k / diameter + radiation


def graded(breaks, hot, cap, fine):
    """Points that take in every break; spacing cap, or start + growth x distance from a hot point if less, over fine."""
    points = [np.array(breaks[:1])]
    for a, b in zip(breaks, breaks[1:]):
        x = np.linspace(a, b, 2001)
        size = np.min([np.full_like(x, cap)] + [start + grow * abs(x - at) for at, start, grow in hot], axis=0) / fine
        density = np.r_[0.0, np.cumsum((1 / size[1:] + 1 / size[:-1]) / 2 * np.diff(x))]
        points.append(np.interp(np.arange(1, np.ceil(density[-1]) + 1) * density[-1] / np.ceil(density[-1]), density, x))
    return np.concatenate(points)


class Outlet:
    """Mesh, conductances and heat capacities of one outlet."""

    def __init__(self, case, fine):
        self.case = case
        pipe, seat = case.supply, case.seat * INCH
        edges = np.cumsum([0.0] + [t * INCH for t, _ in WALL_2X6])
        self.seat, self.fitting_end, self.wall = seat, seat + FITTING, edges[-1]
        barrel, stem, supply = 0.84 / 2 * INCH, case.stem / 2 * INCH, 0.625 / 2 * INCH
        barrel_bore, self.bore = barrel - 0.06 * INCH, supply - pipe.wall * INCH
        end = self.wall + case.run * INCH
        assert self.fitting_end < self.wall and supply < barrel, "no brass in the room, so no film for it here"
        front = -FLANGE_THICKNESS - HEAD_LENGTH
        mm = 1e-3
        rs = sorted({0.0, stem, self.bore, supply, barrel_bore, barrel, HEAD, FLANGE, RIM})
        zs = sorted({front, -FLANGE_THICKNESS, 0.0, seat - WASHER, seat, *(seat + it for it in SLICES.values()), self.fitting_end, end, *edges})
        hot = [(0.0, 0.7 * mm, 0.2), (self.bore, 0.5 * mm, 0.2), (barrel, 0.7 * mm, 0.3), (HEAD, 0.7 * mm, 0.3),
               (FLANGE, 0.5 * mm, 0.3)]
        r = graded(rs, hot, 12 * mm, fine)
        hot = [(seat, 0.7 * mm, 0.1), (self.fitting_end, 1.0 * mm, 0.1), (0.0, 1.0 * mm, 0.3),
               (-FLANGE_THICKNESS, 1.0 * mm, 0.3), (self.wall, 1.5 * mm, 0.12)]
        z = graded(zs, hot, 15 * mm, fine)
        self.r, self.z = r, z

        def material(radius, depth):
            if depth < 0.0:
                if depth < -FLANGE_THICKNESS and radius > HEAD or radius > FLANGE:
                    return None
                return RUBBER if radius < barrel_bore and seat - WASHER < depth < seat else BRASS
            if depth < seat and radius < barrel:
                if radius > barrel_bore:
                    return BRASS
                return RUBBER if depth > seat - WASHER else BRASS if radius < stem else AIR
            if seat < depth < self.fitting_end and radius < barrel:
                return "water" if radius < self.bore else BRASS
            if depth > self.fitting_end and radius < supply:
                return "water" if radius < self.bore else pipe.metal
            if depth > self.wall:
                return None
            return WALL_2X6[np.searchsorted(edges, depth) - 1][1]

        self.build(r, z, material, 2 * supply, pipe.emissivity)

    def build(self, r, z, material, diameter, emissivity):
        mid_r, mid_z, nr = (r[1:] + r[:-1]) / 2, (z[1:] + z[:-1]) / 2, len(r)
        kinds = [[material(x, y) for x in mid_r] for y in mid_z]
        node = -np.ones((len(z), nr), int)
        for j, row in enumerate(kinds):
            for i, kind in enumerate(row):
                if kind is not None:
                    node[j:j + 2, i:i + 2] = 0
        node[node == 0] = np.arange((node == 0).sum())
        n = self.n = node.max() + 1
        self.dry, self.wet, self.fitting, self.read = (np.zeros(n) for _ in range(4))
        a, b, shape, fixed, cell, corners = [], [], [], [], [], []
        out_area, wall_area, pipe_faces, skin = np.zeros(n), np.zeros(n), [], []

        def kind_at(j, i):
            return kinds[j][i] if 0 <= j < len(mid_z) and 0 <= i < len(mid_r) else "edge"

        for j, row in enumerate(kinds):
            dz = z[j + 1] - z[j]
            for i, kind in enumerate(row):
                if kind is None:
                    continue
                inner, outer, dr = mid_r[i]**2 - r[i]**2, r[i + 1]**2 - mid_r[i]**2, r[i + 1] - r[i]
                four = node[j, i], node[j, i + 1], node[j + 1, i], node[j + 1, i + 1]
                wet = kind == "water"
                for corner, ring in zip(four, (inner, outer, inner, outer)):
                    volume = np.pi * ring * dz / 2
                    (self.wet if wet else self.dry)[corner] += volume * (1 if wet else kind[1])
                    if wet and mid_z[j] < self.fitting_end:
                        self.fitting[corner] += volume
                    if wet and mid_z[j] < self.seat + READ:
                        self.read[corner] += volume
                # two radial edges, then two axial ones
                a += [four[0], four[2], four[0], four[1]]
                b += [four[1], four[3], four[2], four[3]]
                shape += 2 * [np.pi * mid_r[i] * dz / dr] + [np.pi * inner / dz, np.pi * outer / dz]
                fixed += 4 * [0.0 if wet else kind[0]]
                cell += 4 * [len(corners) if wet else -1]
                if wet:
                    corners.append(four)
                # faces to the air
                half = np.pi * r[i + 1] * dz
                if kind_at(j, i + 1) is None:
                    if mid_z[j] < 0.0:
                        out_area[[four[1], four[3]]] += half
                    else:
                        pipe_faces.append((four[1], four[3], half))
                for other, pair in ((j - 1, four[:2]), (j + 1, four[2:])):
                    beyond = kind_at(other, i)
                    outdoors = other < 0 or beyond is None and mid_z[max(other, 0)] < 0.0
                    if outdoors or beyond is None:
                        (out_area if outdoors else wall_area)[list(pair)] += np.pi * np.array([inner, outer])
        self.a, self.b, self.shape, self.fixed, self.cell = (np.array(it) for it in (a, b, shape, fixed, cell))
        self.in_water, self.corners = self.cell >= 0, np.array(corners)
        self.out, self.wall_in = OUTDOOR_FILM * out_area, INDOOR_WALL_FILM * wall_area
        self.faces = np.array([it[:2] for it in pipe_faces]), np.array([it[2] for it in pipe_faces])
        self.diameter, self.emissivity = diameter, emissivity
        self.pattern()
        # water's corners, plane by plane, for ice across the bore; their enthalpies at the knots
        self.water = np.flatnonzero(self.wet)
        self.knots = self.dry[self.water, None] * KNOTS + self.wet[self.water, None] * HEATS
        planes = [(depth, node[j][node[j] >= 0]) for j, depth in enumerate(z)]
        self.planes = [(depth, line[self.wet[line] > 0]) for depth, line in planes if (self.wet[line] > 0).any()]
        self.axis = np.array([line[0] for _, line in self.planes])
        self.depths = np.array([depth for depth, _ in self.planes])
        self.first_in_plane = np.cumsum([0] + [len(line) for _, line in self.planes[:-1]])
        self.by_plane = np.concatenate([line for _, line in self.planes])

    def pattern(self):
        """Where each edge's and each corner's conductance goes in the compressed columns."""
        n, diagonal = self.n, np.arange(self.n)
        rows = np.r_[self.a, self.b, self.a, self.b, diagonal]
        columns = np.r_[self.b, self.a, self.a, self.b, diagonal]
        keys, self.place = np.unique(columns * n + rows, return_inverse=True)
        self.rows, self.columns = keys % n, keys // n
        self.starts = np.searchsorted(self.columns, np.arange(n + 1))
        self.diagonal = self.rows == self.columns

    def matrix(self, data):
        return csc_matrix((data, self.rows, self.starts), shape=(self.n, self.n))

    def hold(self, films):
        """Holds the pipe's films: its faces' share of the conductance to the room."""
        ends, area = self.faces
        self.room = self.wall_in + np.bincount(np.r_[ends[:, 0], ends[:, 1]], np.tile(films * area, 2), self.n)

    def stiffness(self, water_k):
        """Data of the conductance matrix with the water's conductivity given by element (or for all)."""
        k = self.fixed.copy()
        k[self.in_water] = water_k if np.isscalar(water_k) else water_k[self.cell[self.in_water]]
        g = k * self.shape
        return np.bincount(self.place, np.r_[-g, -g, g, g, self.out + self.room], len(self.rows))

    def water_k(self, temperature, liquid):
        t, f = temperature[self.corners].mean(axis=1), liquid[self.corners].mean(axis=1)
        return f * np.interp(t, ROWS, LIQUID_K) + (1 - f) * np.interp(t, ICE_K_ROWS, ICE_K)

    def steady(self, outdoors, room, varying=False):
        t = np.zeros(self.n)
        for _ in range(8 if varying else 1):
            k = self.water_k(t, np.ones(self.n)) if varying else COLUMN
            t = splu(self.matrix(self.stiffness(k))).solve(self.out * outdoors + self.room * room)
        return t

    def seat_temperature(self, t):
        return self.read @ t / self.read.sum()

    def find_films(self, room):
        """Films at the steady state with the seat's water at the ice point; gives the outdoors of that state."""
        ends, _ = self.faces
        surface, outdoors = np.full(len(ends), 5.0), None
        for _ in range(12):
            films = np.array([indoor_film(self.diameter, self.emissivity, s + ICE_POINT, room + ICE_POINT) for s in surface])
            self.hold(films)
            cold, warm = self.steady(1.0, 0.0), self.steady(0.0, 1.0)
            outdoors = -self.seat_temperature(warm) * room / self.seat_temperature(cold)
            t = cold * outdoors + warm * room
            surface = t[ends].mean(axis=1)
        return outdoors, films

    def enthalpy(self, t):
        """Of temperatures with every drop of water liquid."""
        h = self.dry * t
        liquid = np.interp(t, KNOTS[61:], HEATS[61:])
        return h + self.wet * liquid

    def state(self, h):
        """Temperature, its slope in enthalpy, and the liquid's share, of each corner."""
        slope = 1 / np.where(self.dry > 0, self.dry, 1.0)
        t = h * slope
        mine, w = h[self.water], self.water
        at = np.clip((mine[:, None] >= self.knots).sum(axis=1) - 1, 0, len(KNOTS) - 2)
        low, high = self.knots[np.arange(len(w)), at], self.knots[np.arange(len(w)), at + 1]
        slope[w] = (KNOTS[at + 1] - KNOTS[at]) / (high - low)
        t[w] = KNOTS[at] + (mine - low) * slope[w]
        liquid = np.ones(self.n)
        liquid[w] = np.clip(mine / (self.wet[w] * FUSION), 0.0, 1.0)
        return t, slope, liquid

    def flow(self, h, outdoors, room):
        """Heat into each corner's share, W; the matrix's data and the slope with it."""
        t, slope, liquid = self.state(h)
        data = self.stiffness(self.water_k(t, liquid))
        into = self.out * outdoors + self.room * room
        return into - np.bincount(self.rows, data * t[self.columns], self.n), data, slope

    def stage(self, start, guess, span, outdoors, room, kept):
        """Solves h = start + span x flow(h) by Newton's method; `kept` carries a factorisation on while it serves."""
        h, scale = guess.copy(), self.dry + self.wet * 2e6
        for _ in range(60):
            flow, data, slope = self.flow(h, outdoors, room)
            miss = h - start - span * flow
            phase = slope == 0.0
            if kept.get("span") != span or not np.array_equal(kept["phase"], phase) or kept["used"] > 30:
                jacobian = span * data * slope[self.columns] + self.diagonal
                kept.update(lu=splu(self.matrix(jacobian), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                                    options={"SymmetricMode": True}), span=span, phase=phase, used=0)
            kept["used"] += 1
            step = kept["lu"].solve(miss)
            h -= step
            if np.max(np.abs(step) / scale) < 1e-7:
                return h
        return None

    def step(self, t, dt, h, kept):
        gamma = 1 - np.sqrt(0.5)
        room = self.case.room
        first = self.stage(h, h, gamma * dt, self.case.outdoors(t + gamma * dt), room, kept)
        if first is None:
            return None
        slope = (first - h) / (gamma * dt)
        base = h + (1 - gamma) * dt * slope
        return self.stage(base, first, gamma * dt, self.case.outdoors(t + dt), room, kept)


def ramp(*points):
    """Outdoors on straight lines between (hour, degC); with a swing of (amplitude, hour of the highest) on top."""
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
DAY = with_day(ramp((0.0, 0.0), (12.0, -12.0), (96.0, -12.0), (97.0, 5.0)), 96.0, 6.0, 18.0)
CASES = {
    "drained-copper": case(4.0, COPPER_L, 0.0, -30.0),
    "drained-copper-slow": case(4.0, COPPER_L, 0.0, -30.0, ramp((0.0, 0.0), (24.0, -30.0), (96.0, -30.0), (97.0, 5.0)), SLOW),
    "face-copper": case(0.0, COPPER_L, 5.0, -8.0),
    "face-copper-slow": case(0.0, COPPER_L, 5.0, -15.0, ramp((0.0, 5.0), (24.0, -15.0), (96.0, -15.0), (97.0, 5.0)), SLOW),
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
    seats = [outlet.seat_temperature(outlet.steady(it, CASES[name].room)) for it in (CASES[name].start, CASES[name].cold)]
    figures = {"outdoors with the seat at the ice point": critical, "least film in the room": films.min(), "greatest film in the room": films.max(),
               "seat before, steady": seats[0], "seat at the cold end, steady, no ice": seats[1]}
    return outlet, figures, outlet.enthalpy(outlet.steady(CASES[name].start, CASES[name].room, True))


def by_steps(name, fine, pace):
    """A step is about 1 % of the time since the outdoors last broke, 0.25 to 120 s (300 s once settled), x `pace`."""
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
        after = outlet.step(t, dt, h, kept)
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
        solver = BDF(rate, start, y, end, rtol=tolerance, atol=10 * tolerance, jac=jacobian, first_step=0.1, max_step=600.0)
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
# Wall 2x6-siding: fiber cement 0.3125 in 0.30 W/mK 1.4e6 J/m3K, OSB 0.4375 in 0.10 1.1e6, batt 5.5 in 0.043 1.2e4,
#   gypsum 0.5 in 0.16 0.9e6. Barrel 0.84 x 0.06 in, stem 0.3125 in, head and fitting brass 115, 3.23e6. Washer 0.25, 2.3e6.
#   Air in the drained barrel 0.024, 1300. Supply 0.625 in: copper 0.040 in 339, 3.45e6, emissivity 0.4; PEX 0.070 in 0.38,
#   2.16e6, 0.9; run 24 in from the wall's inner face. Room 20 degC, films 34 out, Rsi 0.13; no gasket, cover or sleeve.
# Films on the pipe are found, with water at 0.568 W/mK, where the seat is at the ice point, and held.
# Steady figures have water at 0.568 W/mK; the start and the spell have k and rho c of water and ice by temperature.
# Seat 4 in (drained) or 0 (face). Outdoors, degC at h, straight lines between; the start is in balance with the first:
#   drained-copper 0, steps at 0 h to -30 until 96 h, 5 from 97 h; drained-copper-slow 0 at 0 h, -30 from 24 to 96 h, 5 from
#   97 h; face-copper 5, steps to -8 until 96 h, 5 from 97 h; face-copper-slow 5 at 0 h, -15 from 24 to 96 h, 5 from 97 h;
#   drained-pex-day 0 at 0 h, -12 from 12 to 96 h, 5 from 97 h, and 6 cos(2 pi (h - 18)/24) added until 96 h.
# "blocked" is the first plane of corners all frozen: it thins with the mesh, so hold a cell to the plug of its thickness.
# value: three meshes carried to zero spacing by a straight line in spacing. uncertainty: what that adds to the finest mesh,
#   and what doubled steps and scipy's BDF (rtol 1e-5) change on the coarsest.
case,figure,unit,value,uncertainty,mesh 0.7,mesh 1,mesh 1.4"""
MESHES = 0.7, 1.0, 1.4


def unit(figure):
    for word, it in (("film", "W/m2K"), ("share", "1"), ("plug length", "mm"), ("depth", "mm"), ("outdoors", "degC")):
        if figure.startswith(word) or word in figure and word == "film":
            return it
    return "degC" if figure.startswith("seat") else "h"


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
        print(f"{name},{figure},{unit(figure)},{limit:.4f},{doubt:.4f}," + ",".join(f"{it:.4f}" for it in values), flush=True)


if __name__ == "__main__":
    asked = sys.argv[1:]
    if not asked:
        print(HEAD_OF_TABLE)
    for each in asked or CASES:
        rows(each)

"""One outlet in one wall, for spell.py: its mesh, its conductances, its heat, the films in its room.

python 3.11, numpy 2.4.6, scipy 1.17.1, CoolProp 8.0.0 (IAPWS-95 and IAPWS R15-11 for water; Lemmon et al. 2000 and
Lemmon and Jacobsen 2004 for air).

Box scheme on the corners of a graded (r, z) mesh: temperatures live at the corners, conductivities in the rectangles,
heat in each corner's share of the rectangles around it: the linear finite element on right triangles, mass lumped. The
state is the enthalpy of each share; its temperature follows by inverting the sum of metal, ice, heat of fusion and
liquid, and the ice point is not smoothed.
"""

from functools import cache
from types import SimpleNamespace

import numpy as np
from CoolProp.CoolProp import PropsSI
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

INCH, ICE_POINT = 0.0254, 273.15
RIM, HEAD, FLANGE, FLANGE_THICKNESS, HEAD_LENGTH = 0.150, 0.014, 0.032, 0.003, 0.050
WASHER, FITTING, READ = 0.012, 0.01778, 0.003
# Ice right across the bore this far from the washer is looked for
SLICES = {"1 mm": 0.001, "2 mm": 0.002, "3 mm": READ}
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
    """Points that take in every break; cap apart or less: start + growth x distance from a hot point; over fine."""
    points = [np.array(breaks[:1])]
    for a, b in zip(breaks, breaks[1:]):
        x = np.linspace(a, b, 2001)
        sizes = [np.full_like(x, cap)] + [start + grow * abs(x - at) for at, start, grow in hot]
        size = np.min(sizes, axis=0) / fine
        density = np.r_[0.0, np.cumsum((1 / size[1:] + 1 / size[:-1]) / 2 * np.diff(x))]
        count = np.ceil(density[-1])
        points.append(np.interp(np.arange(1, count + 1) * density[-1] / count, density, x))
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
        slices = [seat + it for it in SLICES.values()]
        zs = sorted({front, -FLANGE_THICKNESS, 0.0, seat - WASHER, seat, *slices, self.fitting_end, end, *edges})
        hot = [(0.0, 0.7 * mm, 0.2), (self.bore, 0.5 * mm, 0.2), (barrel, 0.7 * mm, 0.3), (HEAD, 0.7 * mm, 0.3),
               (FLANGE, 0.5 * mm, 0.3)]
        r = graded(rs, hot, 12 * mm, fine)
        hot = [(seat, 0.7 * mm, 0.1), (self.fitting_end, 1.0 * mm, 0.1), (0.0, 1.0 * mm, 0.3),
               (-FLANGE_THICKNESS, 1.0 * mm, 0.3), (self.wall, 1.5 * mm, 0.12)]
        z = graded(zs, hot, 15 * mm, fine)

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
        mid_r, mid_z = (r[1:] + r[:-1]) / 2, (z[1:] + z[:-1]) / 2
        kinds = [[material(x, y) for x in mid_r] for y in mid_z]
        node = -np.ones((len(z), len(r)), int)
        for j, row in enumerate(kinds):
            for i, kind in enumerate(row):
                if kind is not None:
                    node[j:j + 2, i:i + 2] = 0
        node[node == 0] = np.arange((node == 0).sum())
        n = self.n = node.max() + 1
        self.dry, self.wet, self.fitting, self.read = (np.zeros(n) for _ in range(4))
        a, b, shape, fixed, cell, corners = [], [], [], [], [], []
        out_area, wall_area, pipe_faces = np.zeros(n), np.zeros(n), []

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
            kelvins = surface + ICE_POINT
            films = np.array([indoor_film(self.diameter, self.emissivity, it, room + ICE_POINT) for it in kelvins])
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

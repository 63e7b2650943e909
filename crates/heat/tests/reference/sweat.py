"""Makes tests/section/data/sweat.csv: dew on a pipe behind its wall, by a derivation of its own.

python 3.11, numpy 2.4.6, scipy 1.17.1, CoolProp 8.0.0. `cargo test` does not need this script: its table is committed.
The section is in outlet.py; of src/thermal, src/section and src/physics nothing is used.

    python tests/reference/sweat.py > tests/section/data/sweat.csv

Lewis relation h_m = h_c/(rho c_p Le^(2/3)) with air by CoolProp, diffusivity by Sherwood and Pigford (1952) as the ASHRAE
handbook prints it, saturation by IAPWS-95 and over ice by IAPWS R14-08(2011), heat of dew by IAPWS-95, of frost that and
the heat of fusion. The latent heat is a source at the pipe's corners, not a film; vapor by humidity ratio over ideal
gas at the film temperature. Point transmittance: heat to outdoors per kelvin less that of the plain wall.
"""

from types import SimpleNamespace

import numpy as np
from CoolProp.CoolProp import PropsSI
from outlet import (BRASS, COPPER_L, ICE_POINT, INCH, INDOOR_WALL_FILM, OUTDOOR_FILM, PEX_TUBE, RIM, WALL_2X6, Outlet,
                    air_at, indoor_film)
from scipy.sparse.linalg import splu

CASES = {
    "copper-cold": dict(supply=COPPER_L, outdoors=-25.0, room=20.0, humidity=0.40),
    "copper-humid": dict(supply=COPPER_L, outdoors=0.0, room=20.0, humidity=0.67),
    "copper-coldest": dict(supply=COPPER_L, outdoors=-30.0, room=20.0, humidity=0.80),
    "pex-dry": dict(supply=PEX_TUBE, outdoors=-25.0, room=20.0, humidity=0.40),
}
MESHES = 0.7, 1.0, 1.4


def saturation(celsius):
    t = celsius + ICE_POINT
    if t >= 273.16:
        return PropsSI("P", "T", t, "Q", 1, "Water")
    x = t / 273.16
    terms = [(-21.2144006, 0.00333333333), (27.3203819, 1.20666667), (-6.10598130, 1.70333333)]
    return 611.657 * np.exp(sum(a * x**b for a, b in terms) / x)


def dew_point(vapor):
    low, high = -40.0, 40.0
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (middle, high) if saturation(middle) < vapor else (low, middle)
    return low


def arrives(celsius, room, vapor, diameter):
    """kg/(m2 s) and W/m2 onto a face."""
    saturated = saturation(celsius)
    if saturated >= vapor:
        return 0.0, 0.0
    film = (celsius + room) / 2 + ICE_POINT
    k, _, _ = air_at(round(film, 3))
    rho, c = (PropsSI(it, "T", film, "P", 101325.0, "Air") for it in "DC")
    lewis = k / (rho * c) / (0.926e-6 / 101.325 * film**2.5 / (film + 245.0))
    convection = indoor_film(diameter, 0.0, celsius + ICE_POINT, room + ICE_POINT)
    rate = convection / (rho * c * lewis ** (2 / 3)) * (vapor - saturated) / (461.524 * film)
    t = max(celsius + ICE_POINT, 273.1601)
    heat = PropsSI("H", "T", t, "Q", 1, "Water") - PropsSI("H", "T", t, "Q", 0, "Water")
    return rate, rate * (heat + (333426.5 if celsius < 0.01 else 0.0))


def length(faces, surface, along, limit):
    """Of the pipe below a temperature: to where a straight line between two faces crosses it."""
    order = np.argsort(along)
    z, t = along[order], surface[order]
    cold = int((t < limit).sum())
    if cold == 0:
        return 0.0
    end = z[cold - 1] + (z[cold] - z[cold - 1]) * (limit - t[cold - 1]) / (t[cold] - t[cold - 1])
    return 1e3 * (end - faces)


def figures(name, fine):
    case = CASES[name]
    outlet = Outlet(SimpleNamespace(seat=4.0, stem=0.25, run=36.0, room=case["room"], supply=case["supply"]), fine)
    ends, area = outlet.faces
    room, outdoors = case["room"], case["outdoors"]
    vapor = case["humidity"] * saturation(room)
    # corners of the pipe's side are met in order of depth
    widths = area / (np.pi * outlet.diameter / 2)
    along = outlet.wall + np.cumsum(widths) - widths / 2

    source, films, found = np.zeros(len(area)), np.full(len(area), 8.0), {}
    for stage in ("dry", "wet"):
        for turn in range(80):
            outlet.hold(films)
            load = outlet.out * outdoors + outlet.room * room
            load += np.bincount(np.r_[ends[:, 0], ends[:, 1]], np.tile(source * area, 2), outlet.n)
            t = splu(outlet.matrix(outlet.stiffness(0.568))).solve(load)
            surface = t[ends].mean(axis=1)
            films = np.array([indoor_film(outlet.diameter, outlet.emissivity, it + ICE_POINT, room + ICE_POINT)
                              for it in surface])
            rate, heat = np.array([arrives(it, room, vapor, outlet.diameter) for it in surface]).T
            moved = np.max(np.abs(heat - source)) if stage == "wet" else 0.0
            if stage == "wet":
                source = source + 0.5 * (heat - source)
            if turn > 12 and moved < 1e-3:
                break
        else:
            raise RuntimeError(f"{name}: {stage} does not settle")
        # a face's area is listed by the half that each of its two corners has
        found[f"{stage}: rate"] = 2 * (rate * area).sum() * 86.4e6
        found[f"{stage}: seat"] = outlet.seat_temperature(t)
        found[f"{stage}: length wet"] = length(outlet.wall, surface, along, dew_point(vapor))
        if stage == "dry":
            layers = sum(it * INCH / k for it, (k, _) in WALL_2X6)
            wall = np.pi * RIM**2 / (1 / OUTDOOR_FILM + layers + 1 / INDOOR_WALL_FILM)
            found["point transmittance"] = (outlet.out * (t - outdoors)).sum() / (room - outdoors) - wall
    return found


UNITS = {"rate": "g/day", "seat": "degC", "length wet": "mm", "point transmittance": "W/K"}
print(f"""\
# Dew behind a wall, by tests/reference/sweat.py: python 3.11, numpy 2.4.6, scipy 1.17.1, CoolProp 8.0.0.
# Wall 2x6-siding: fiber cement 0.3125 in 0.30 W/mK, OSB 0.4375 in 0.10, batt 5.5 in 0.043, gypsum 0.5 in 0.16. Barrel
#   0.84 x 0.06 in, drained, stem 0.25 in, head and fitting brass {BRASS[0]}; seat 4 in. Supply 0.625 in: copper 0.040 in
#   339, emissivity 0.4; PEX 0.070 in 0.38, emissivity 0.9; run 36 in from the wall's inner face. Films 34 W/m2K out, Rsi 0.13.
#   Films on the pipe found at each state. dry: no latent heat; wet: the latent heat given back.
# Outdoors, room, degC, and humidity: {'; '.join(f'{n} {c["outdoors"]:g}, {c["room"]:g}, {c["humidity"]:g}' for n, c in CASES.items())}.
# value: three meshes carried to zero spacing on a straight line; uncertainty: its distance from the finest mesh.
case,figure,unit,value,uncertainty,mesh 0.7,mesh 1,mesh 1.4""")
for name in CASES:
    meshes = [figures(name, fine) for fine in MESHES]
    for figure in meshes[0]:
        if meshes[0]["dry: rate"] == 0.0 and figure.endswith(("rate", "wet", "wet: seat")):
            continue
        values = [it[figure] for it in meshes]
        limit = np.polyfit(1 / np.array(MESHES), values, 1)[1]
        line = [name, figure, UNITS[figure.split(": ")[-1]], *(f"{it:.5f}" for it in (limit, abs(limit - values[-1]), *values))]
        print(",".join(line), flush=True)

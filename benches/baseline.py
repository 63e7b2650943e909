"""One outlet section in numpy and scipy, timed beside the program's own: the yardstick of `benches/section.rs`.

    cargo run --release -p coldsill-benches --bin section_time      (the program's time for a section, and its cells)
    python benches/baseline.py                                      (runs that, then this, and prints the ratio)

Written with python 3.11, numpy 2.4.6 and scipy 1.17.1. The same section, films found in as many passes, on a tensor grid
with at least as many cells; assembly is vectorized, every pass is one sparse matrix and one `spsolve` for one boundary.
"""

import json
import subprocess
import sys
import time

import numpy as np
import scipy
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

INCH = 0.0254
RIM, HEAD, FLANGE, HEAD_LENGTH, FLANGE_THICKNESS = 0.150, 0.014, 0.032, 0.050, 0.003
WASHER, FITTING = 0.012, 0.01778
# The wall of benches/section.rs: fiber cement, sheathing, batt, gypsum (in, W/mK).
LAYERS = [(5 / 16, 0.30), (7 / 16, 0.10), (5.5, 0.043), (0.5, 0.16)]
BARREL, BARREL_WALL, STEM, BRASS = 0.42 * INCH, 0.06 * INCH, 0.125 * INCH, 115.0
SUPPLY, SUPPLY_WALL, COPPER = 0.3125 * INCH, 0.040 * INCH, 339.0
SEAT, RUN, WATER, AIR, RUBBER = 8 * INCH, 24 * INCH, 0.568, 0.024, 0.25
OUTDOORS, WALL_INSIDE, ROOM = 34.0, 1 / 0.13, 293.15


def lines(marks, fine, growth=1.7, coarse=0.06):
    """Edges through all marks, fine beside each and growing away from it."""
    marks = sorted(set(marks))
    edges = [marks[0]]
    for low, high in zip(marks, marks[1:]):
        half, step = [], fine
        while sum(half) + step < (high - low) / 2:
            half.append(step)
            step = min(step * growth, coarse)
        parts = np.array(half + [(high - low) - 2 * sum(half)] + half[::-1])
        edges.extend(low + np.cumsum(parts * (high - low) / parts.sum()))
    return np.array(edges)


def section(scale):
    """Geometry and conductivities; NaN where there is air."""
    wall = np.cumsum([0.0] + [inches * INCH for inches, _ in LAYERS])
    end = SEAT + FITTING + RUN
    bore = SUPPLY - SUPPLY_WALL
    r = lines([0, STEM, bore, SUPPLY, BARREL - BARREL_WALL, BARREL, HEAD, FLANGE, RIM], 0.003 * scale)
    marks = [-FLANGE_THICKNESS - HEAD_LENGTH, -FLANGE_THICKNESS, 0.0, *wall[1:], SEAT - WASHER, SEAT, SEAT + FITTING, end]
    z = lines(marks, 0.004 * scale, coarse=0.08)
    rc, zc = np.meshgrid(np.sqrt((r[1:] ** 2 + r[:-1] ** 2) / 2), (z[1:] + z[:-1]) / 2)
    k = np.full(rc.shape, np.nan)
    for (low, high), (_, value) in zip(zip(wall, wall[1:]), LAYERS):
        k[(zc >= low) & (zc < high)] = value
    k[(zc < 0) & (((zc >= -FLANGE_THICKNESS) & (rc < FLANGE)) | ((zc < -FLANGE_THICKNESS) & (rc < HEAD)))] = BRASS
    inside = (zc >= 0) & (zc < SEAT)
    k[inside & (rc < BARREL)] = BRASS
    hollow = inside & (rc < BARREL - BARREL_WALL)
    k[hollow] = np.where(rc[hollow] < STEM, BRASS, AIR)
    k[hollow & (zc >= SEAT - WASHER)] = RUBBER
    fitting = (zc >= SEAT) & (zc < SEAT + FITTING) & (rc < BARREL)
    k[fitting] = np.where(rc[fitting] < bore, WATER, BRASS)
    pipe = (zc >= SEAT + FITTING) & (rc < SUPPLY)
    k[pipe] = np.where(rc[pipe] < bore, WATER, COPPER)
    return r, z, k, wall[-1]


def solve(scale):
    """The room's weight at the seat and the number of cells."""
    r, z, k, face = section(scale)
    rows, columns = k.shape
    present = ~np.isnan(k)
    number = np.full(k.shape, -1)
    number[present] = np.arange(present.sum())
    node = np.sqrt((r[1:] ** 2 + r[:-1] ** 2) / 2)
    dr, dz = np.diff(r), np.diff(z)
    with np.errstate(divide="ignore"):
        outward = np.abs(np.log(r[1:] / node))[None, :] / (2 * np.pi * dz[:, None])
        inward = np.abs(np.log(r[:-1] / node))[None, :] / (2 * np.pi * dz[:, None])
    outward[:, 0] = 1 / (8 * np.pi * dz)
    area = (np.pi * (r[1:] ** 2 - r[:-1] ** 2))[None, :] * np.ones((rows, 1))
    along = 0.5 * dz[:, None] / area
    rim = 2 * np.pi * r[None, 1:] * dz[:, None]
    across = 1 / (outward[:, :-1] / k[:, :-1] + inward[:, 1:] / k[:, 1:])
    down = 1 / (along[:-1] / k[:-1] + along[1:] / k[1:])
    a = np.concatenate([number[:, :-1][~np.isnan(across)], number[:-1][~np.isnan(down)]])
    b = np.concatenate([number[:, 1:][~np.isnan(across)], number[1:][~np.isnan(down)]])
    g = np.concatenate([across[~np.isnan(across)], down[~np.isnan(down)]])
    zc = (z[1:] + z[:-1]) / 2
    outdoors = np.broadcast_to((zc < face / 2)[:, None], k.shape)
    padded = np.pad(present, 1)
    sides = [
        (present & ~padded[1:-1, 2:] & (np.arange(columns) < columns - 1), rim, outward),
        (present & ~padded[2:, 1:-1] & (np.arange(rows)[:, None] < rows - 1), area, along),
        (present & ~padded[:-2, 1:-1], area, along),
    ]
    cells = np.concatenate([number[side] for side, _, _ in sides])
    surfaces = np.concatenate([surface[side] for side, surface, _ in sides])
    halves = np.concatenate([(half / k)[side] for side, _, half in sides])
    out = np.concatenate([outdoors[side] for side, _, _ in sides])
    radius = np.concatenate([np.broadcast_to(r[None, 1:], k.shape)[side] for side, _, _ in sides])
    flat = np.concatenate([side[side] & False if i == 0 else (np.broadcast_to(zc[:, None], k.shape) < face)[side] for i, (side, _, _) in enumerate(sides)])
    film = np.where(out, OUTDOORS, np.where(flat, WALL_INSIDE, 8.0))
    bare = ~out & ~flat
    count = int(present.sum())
    seat = number[np.searchsorted(z, SEAT + 1e-6) - 1, 0]
    weight = 0.0
    for _ in range(4):
        surface = 1 / (halves + 1 / (film * surfaces))
        diagonal = np.bincount(np.concatenate([a, b, cells]), np.concatenate([g, g, surface]), count)
        every = np.arange(count)
        entries = (np.concatenate([-g, -g, diagonal]), (np.concatenate([a, b, every]), np.concatenate([b, a, every])))
        matrix = coo_matrix(entries, shape=(count, count)).tocsc()
        temperature = spsolve(matrix, np.bincount(cells[~out], surface[~out], count))
        weight = temperature[seat]
        cold = (273.15 - weight * ROOM) / (1 - weight)
        own = cold + temperature[cells[bare]] * (ROOM - cold)
        excess = np.abs(ROOM - own) + 1e-9
        mean = (ROOM + own) / 2
        # Churchill and Chu for a horizontal cylinder, and radiation at an emissivity of 0.4.
        rayleigh = 9.81 / mean * excess * (2 * radius[bare]) ** 3 / (1.5e-5 * 2.1e-5)
        nusselt = (0.6 + 0.387 * rayleigh ** (1 / 6) / 1.196) ** 2
        film[bare] = nusselt * 0.026 / (2 * radius[bare]) + 0.4 * 5.67e-8 * (ROOM**2 + own**2) * (ROOM + own)
    return weight, count


def main():
    command = ["cargo", "run", "--release", "--quiet", "-p", "coldsill-benches", "--bin", "section_time"]
    ours = json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
    scale = 1.0
    while solve(scale)[1] < ours["cells"]:
        scale *= 0.97
    times = []
    for _ in range(30):
        start = time.perf_counter()
        weight, cells = solve(scale)
        times.append(time.perf_counter() - start)
    median = sorted(times)[len(times) // 2]
    print(f"python {sys.version.split()[0]}, numpy {np.__version__}, scipy {scipy.__version__}")
    print(f"scipy     {cells} cells  {median * 1e3:8.3f} ms a section  (weight of the room at the seat {weight:.3f})")
    print(f"coldsill  {ours['cells']} cells  {ours['seconds'] * 1e3:8.3f} ms a section  (weight {ours['seat_weight']:.3f})")
    print(f"ratio     {median / ours['seconds']:.0f}")


if __name__ == "__main__":
    main()

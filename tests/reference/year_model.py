"""What the model of a year is fitted to, and depths of frost by it, both by a derivation of its own.

python 3.11 alone. `cargo test` does not need this script.

    python tests/reference/year_model.py fit     (the annual mean by coldest month and latitude)
    python tests/reference/year_model.py frost   (the depths that tests/review/wall_detail.rs expects)

The normals (1981 to 2010, means and heating degree days) in tests/climate/data/normals.csv are from memory.
"""

import csv
import math
import re
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
DAY = 86400.0


def climates():
    found, place = {}, None
    for file in sorted((ROOT / "climates").glob("*.yaml")):
        for line in open(file):
            if match := re.match(r"  ([a-z-]+):$", line):
                place = found.setdefault(match[1], {})
            elif place is not None and (match := re.match(r"    ([\w.]+): (-?[\d.]+)", line)):
                place[match[1]] = float(match[2])
    for place in found.values():
        # Means of typical years take 2 °F; a normal, in °F, goes before them.
        place["coldest_month_mean"] += 2.0 / 1.8
        if "coldest_month_normal" in place:
            place["coldest_month_mean"] = (place["coldest_month_normal"] - 32) / 1.8
    return found


def least_squares(rows, values):
    """By Gauss on the normal equations."""
    n = len(rows[0])
    a = [[sum(r[i] * r[j] for r in rows) for j in range(n)] + [sum(r[i] * v for r, v in zip(rows, values))]
         for i in range(n)]
    for i in range(n):
        for j in range(n):
            if j != i:
                a[j] = [x - a[j][i] / a[i][i] * y for x, y in zip(a[j], a[i])]
    return [a[i][n] / a[i][i] for i in range(n)]


def fit():
    known = climates()
    places = [it for it in csv.DictReader(open(ROOT / "tests/climate/data/normals.csv")) if it["place"] in known]
    rows = [[1.0, known[it["place"]]["coldest_month_mean"], known[it["place"]]["latitude"]] for it in places]
    values = [(float(it["mean_f"]) - 32) / 1.8 for it in places]

    def rms(errors):
        return math.sqrt(sum(it * it for it in errors) / len(errors))

    for name, columns in (("month and latitude", 3), ("month alone", 2)):
        cut = [row[:columns] for row in rows]
        found = least_squares(cut, values)
        left_out = []
        for one in range(len(cut)):
            others = least_squares(cut[:one] + cut[one + 1 :], values[:one] + values[one + 1 :])
            left_out.append(values[one] - sum(map(float.__mul__, others, cut[one])))
        errors = [value - sum(map(float.__mul__, found, row)) for row, value in zip(cut, values)]
        print(f"{len(cut)} places, {name}:", *(f"{it:.3f}" for it in found),
              f"scatter {rms(errors):.2f} K, left out {rms(left_out):.2f} K, worst {max(map(abs, errors)):.1f} K")


def index_and_season(month, latitude, percentile, colder):
    """Freezing index, K s, and season, s, of a model year, degC: by sums over hours and days, sampled normals."""
    mean = 26.5 + 0.40 * month - 0.36 * latitude
    steps = 720
    angles = [2 * math.pi * (it + 0.5) / steps for it in range(steps)]
    trough = [math.cos(it) for it in angles if math.cos(it) > math.cos(math.pi / 12)]
    seasonal = (mean - month) / (sum(trough) / len(trough))
    swing = min(8.0, month - percentile)

    def spread(coldest, angle):
        return min(2.5, coldest) + max(coldest - 2.5, 0.0) * (1 + math.cos(angle)) / 2

    def colder_part(coldest):
        total = 0.0
        for angle in angles[::5]:
            for hour in angles[::30]:
                it = mean - seasonal * math.cos(angle) - swing / 2 * math.cos(hour)
                total += 0.5 * math.erfc((it - percentile) / spread(coldest, angle) / math.sqrt(2))
        return total / len(angles[::5]) / len(angles[::30])

    low, high = 0.5, 25.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if colder_part(middle) < 0.01 else (low, middle)
    index = season = 0.0
    for angle in angles:
        day = mean - colder - seasonal * math.cos(angle)
        half = 0.5 * spread(low, angle)
        for it in range(-400, 400):
            z = (it + 0.5) / 80
            weight = math.exp(-z * z / 2) / math.sqrt(2 * math.pi) / 80
            index += max(0.0, -(day + half * z)) * weight * 365.25 * DAY / steps
        season += (day < 0) * 365.25 * DAY / steps
    return index, season, mean


def berggren(index, season, mean, pounds, percent, frozen, unfrozen):
    """Modified Berggren on mean properties, m, under bare soil (n = 0.7); Btu, in, h, ft2, degF for the conductivities."""
    k = (frozen + unfrozen) / 2 * 0.1442279
    density, water = pounds * 16.018463, percent / 100
    c = density * (0.17 + 0.75 * water) * 4186.8
    latent = density * water * 333.6e3
    below, above = 0.7 * index / season, max(mean, 0.0)

    def surplus(g):
        return (math.exp(-g * g) / math.erf(g) - above / below * math.exp(-g * g) / math.erfc(g)
                - g * latent * math.sqrt(math.pi) / (c * below))

    low, high = 1e-6, 2.5
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if surplus(middle) > 0 else (low, middle)
    return 2 * low * math.sqrt(k / c * season)


def frost():
    # Kersten (1949), granular: gravel of 130 lb/ft3 and 5 %.
    pounds, percent = 130.0, 5.0
    frozen = 0.076 * 10 ** (0.013 * pounds) + 0.032 * 10 ** (0.0146 * pounds) * percent
    unfrozen = (0.7 * math.log10(percent) + 0.4) * 10 ** (0.01 * pounds)
    for place in ("chicago-il", "duluth-mn"):
        it = climates()[place]
        figures = it["coldest_month_mean"], it["latitude"], it["heating_99"]
        for what, colder, stated in (("average", 0.0, None), ("a winter in ten", 2.5, None), ("1700 °F·days", 0.0, 1700)):
            index, season, mean = index_and_season(*figures, colder)
            index = index if stated is None else stated / 1.8 * DAY
            depth = berggren(index, max(season, 30 * DAY), mean, pounds, percent, frozen, unfrozen)
            print(f"{place}, {what}: {index / DAY * 1.8:.0f} °F·days in {season / DAY:.1f} days, "
                  f"mean {mean:.2f} °C, frost {depth / 0.0254:.2f} in")


{"fit": fit, "frost": frost}[sys.argv[1]]()

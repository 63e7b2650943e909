"""Cuts the excerpts in this folder from hourly weather files in Python packages, and counts the whole files.

    python3 -m venv v
    v/bin/pip install --no-deps pvlib==0.16.1 diyepw==1.3.1 opendsm==1.2.7 vega_datasets==0.9.0
    v/bin/python make.py

Standard library only: the packages are not imported, their files are read. All arithmetic is in fractions; the same
bytes come out each time. What the columns mean stands in README.md.
"""

import csv
import datetime as dt
import gzip
import hashlib
import io
import math
import pathlib
import sys
from fractions import Fraction as F
from importlib.metadata import distribution

HERE = pathlib.Path(__file__).resolve().parent
PACKAGES = {"pvlib": "0.16.1", "diyepw": "1.3.1", "opendsm": "1.2.7", "vega_datasets": "0.9.0"}
HOUR, DAY = dt.timedelta(hours=1), dt.timedelta(days=1)
EPW, ISD = "diyepw/data/tmy_epw_files/", "diyepw/data/noaa_isd_lite_files/"

# id, package, form, files (several are one after the other), what it is
SERIES = [
    ("epw-northway", "diyepw", "epw", [EPW + "USA_AK_Northway.AP.702910_TMY3.epw"], "typical year"),
    ("epw-mount-shasta", "diyepw", "epw", [EPW + "USA_CA_Mount.Shasta.725957_TMYx.epw"], "typical year"),
    ("epw-chicago", "diyepw", "epw", [EPW + "USA_IL_Chicago.OHare.Intl.AP.725300_TMY3.epw"], "typical year"),
    *[
        (f"isd-{name}-{year}", "diyepw", "isd", [f"{ISD}{station}-{year}.gz"], "UTC")
        for station, name, years in [
            ("702910", "northway", (2018, 2019)),
            ("725300", "chicago", (2015, 2016, 2017)),
            ("725957", "mount-shasta", (2015, 2016, 2017)),
        ]
        for year in years
    ],
    ("isd-northway-2018-2019", "diyepw", "isd", [f"{ISD}702910-{year}.gz" for year in (2018, 2019)], "UTC"),
    ("isd-chicago-2015-2017", "diyepw", "isd", [f"{ISD}725300-{year}.gz" for year in (2015, 2016, 2017)], "UTC"),
    ("isd-mount-shasta-2015-2017", "diyepw", "isd", [f"{ISD}725957-{year}.gz" for year in (2015, 2016, 2017)], "UTC"),
    ("tmy3-sand-point", "pvlib", "tmy3", ["pvlib/data/703165TY.csv"], "typical year"),
    ("tmy3-greensboro", "pvlib", "tmy3", ["pvlib/data/723170TYA.CSV"], "typical year"),
    ("springfield-2015-2018", "opendsm", "offsets", ["opendsm/eemeter/samples/il-tempF.csv.gz"], "UTC-6 all year"),
    ("seattle-normals-2010", "vega_datasets", "normals", ["vega_datasets/_data/seattle-temps.csv"], "smoothed normals"),
]

# What the packages' files must be, so that a changed one is noticed before its figures are.
SHA256 = HERE / "sources.sha256"


def file(package, path):
    """The bytes of a file of a package, unpacked."""
    found = distribution(package)
    if found.version != PACKAGES[package]:
        sys.exit(f"{package} is {found.version}, not {PACKAGES[package]}")
    data = pathlib.Path(found.locate_file(path)).read_bytes()
    SEEN[path] = hashlib.sha256(data).hexdigest()
    return gzip.decompress(data) if path.endswith(".gz") else data


SEEN = {}


class Series:
    """Hours one after the other. `at`: the label of each, naive; `native`: the value in the file's own unit or None."""

    def __init__(self, id, form, rows, kind):
        self.id, self.form, self.kind = id, form, kind
        self.fahrenheit = form in ("offsets", "normals")
        self.typical = form in ("epw", "tmy3")
        self.at = [at for at, _ in rows]
        self.native = [value for _, value in rows]
        self.celsius = [None if it is None else self.to_celsius(it) for it in self.native]
        self.filled = fill(self.celsius)
        # The calendar day an hour belongs to: hours 1 to 24 of typical years end at their label.
        self.day = [(at - HOUR if self.typical else at).date() for at in self.at]
        self.valid = [it for it in self.celsius if it is not None]

    def part(self, id, first, hours):
        """So many hours from a label on."""
        n = self.at.index(first)
        rows = zip(self.at[n : n + hours], self.native[n : n + hours])
        return Series(id, self.form, list(rows), f"excerpt; {self.kind}")

    def to_celsius(self, value):
        return (value - 32) / F(9, 5) if self.fahrenheit else value

    def label(self, n):
        """As the file itself writes it, near enough to find it there."""
        return text_of_hour(self.day[n], self.at[n], self.typical)


def text_of_hour(day, at, ending):
    if ending:
        return f"{day} {at.hour or 24:02d}:00"
    return f"{at:%Y-%m-%d %H:%M}"


def rows_of(form, texts):
    """Rows of files one after the other; hours that years have and their files lack come in as missing."""
    rows = [row for text in texts for row in READERS[form](text)]
    if form in ("epw", "tmy3"):
        return rows
    have = dict(rows)
    assert len(have) == len(rows)
    first, last = min(have), max(have)
    if form == "isd":  # whole years, whether or not their first and last hours are there
        first, last = dt.datetime(first.year, 1, 1), dt.datetime(last.year, 12, 31, 23)
    hours = range(int((last - first) / HOUR) + 1)
    return [(first + n * HOUR, have.get(first + n * HOUR)) for n in hours]


def read_epw(data):
    for row in csv.reader(io.StringIO(data.decode("latin-1"), newline="")):
        if row and row[0].isdigit():
            at = dt.datetime(int(row[0]), int(row[1]), int(row[2])) + int(row[3]) * HOUR
            value = F(row[6])
            yield at, None if value == F("99.9") else value


def read_tmy3(data):
    lines = csv.reader(io.StringIO(data.decode("ascii")))
    next(lines)
    heads = next(lines)
    column = heads.index("Dry-bulb (C)")
    for row in lines:
        month, day, year = map(int, row[0].split("/"))
        at = dt.datetime(year, month, day) + int(row[1][:2]) * HOUR
        value = F(row[column])
        yield at, None if value == -9900 else value


def read_isd(data):
    for line in data.decode("ascii").splitlines():
        year, month, day, hour, tenths = map(int, line.split()[:5])
        yield dt.datetime(year, month, day, hour), None if tenths == -9999 else F(tenths, 10)


def read_offsets(data):
    for row in csv.DictReader(io.StringIO(data.decode("ascii"))):
        at = dt.datetime.fromisoformat(row["dt"]).astimezone(dt.timezone(-6 * HOUR))
        yield at.replace(tzinfo=None), F(row["tempF"]) if row["tempF"] else None


def read_normals(data):
    for row in csv.DictReader(io.StringIO(data.decode("ascii"))):
        yield dt.datetime.strptime(row["date"], "%Y/%m/%d %H:%M"), F(row["temp"])


READERS = {"epw": read_epw, "tmy3": read_tmy3, "isd": read_isd, "offsets": read_offsets, "normals": read_normals}


def fill(values, most=6):
    """Up to `most` missing hours between two that are there become a straight line."""
    out, n = list(values), 0
    while n < len(out):
        if out[n] is not None:
            n += 1
            continue
        end = n
        while end < len(out) and out[end] is None:
            end += 1
        if 0 < n and end < len(out) and end - n <= most:
            before, after = out[n - 1], out[end]
            for k in range(n, end):
                out[k] = before + (after - before) * F(k - n + 1, end - n + 1)
        n = end
    return out


def longest(values, limit):
    """Hours and first index of the longest run below `limit`, °C; the first of equals. A missing hour ends a run."""
    best, length = (0, None), 0
    for n, value in enumerate(values):
        length = length + 1 if value is not None and value < limit else 0
        if length > best[0]:
            best = (length, n - length + 1)
    return best


def coldest_window(values, hours):
    """Mean and first index of the coldest `hours` hours one after the other, none missing; the first of equals."""
    best, total, missing = None, F(0), 0
    for n, value in enumerate(values):
        total, missing = (total, missing + 1) if value is None else (total + value, missing)
        if n >= hours:
            old = values[n - hours]
            total, missing = (total, missing - 1) if old is None else (total - old, missing)
        if n >= hours - 1 and missing == 0 and (best is None or total < best[0]):
            best = (total, n - hours + 1)
    return None if best is None else (best[0] / hours, best[1])


def daily_means(series):
    """Mean of each calendar day all of whose 24 hours are there, in the order of the file."""
    days = {}
    for day, value in zip(series.day, series.filled):
        days.setdefault(day, []).append(value)
    return {day: sum(v) / 24 for day, v in days.items() if len(v) == 24 and None not in v}


def winters(series):
    """Each July to June: label, number of its days (365 or 366), its days with a mean, its hours."""
    if series.typical:
        yield "typical", 365, list(daily_means(series).values()), range(len(series.at))
        return
    means = daily_means(series)
    first, last = series.day[0].year - 1, series.day[-1].year
    for year in range(first, last + 1):
        begin, end = dt.date(year, 7, 1), dt.date(year + 1, 7, 1)
        hours = [n for n, day in enumerate(series.day) if begin <= day < end]
        if hours:
            some = [mean for day, mean in means.items() if begin <= day < end]
            yield f"{year}-{year + 1}", (end - begin).days, some, hours


def freezing_index(means):
    return sum((-mean for mean in means if mean < 0), F(0))


def months(series):
    """Mean of each calendar month over the valid hours, all years together."""
    found = {}
    for day, value in zip(series.day, series.celsius):
        if value is not None:
            found.setdefault(day.month, []).append(value)
    return {month: sum(v) / len(v) for month, v in found.items()}


def percentile(series, share):
    """The valid value of rank ceil(share·n), counted from the coldest: at least that share is as cold or colder."""
    ordered = sorted(series.valid)
    return ordered[math.ceil(share * len(ordered)) - 1]


def fixed(value, digits):
    """Rounded half to even, which a fraction does exactly."""
    scaled = round(value * 10**digits)
    sign, scaled = ("-" if scaled < 0 else ""), abs(scaled)
    whole, rest = divmod(scaled, 10**digits)
    return f"{sign}{whole}.{rest:0{digits}d}" if digits else f"{sign}{whole}"


LIMITS = [(32, F(0)), (20, F(-20, 3)), (0, F(-160, 9))]


def counts(series):
    row = {"series": series.id, "kind": series.kind, "hours": len(series.at), "valid": len(series.valid)}
    row["missing"] = len(series.at) - len(series.valid)
    row["filled"] = sum(it is not None for it in series.filled) - len(series.valid)
    low, high = min(series.valid), max(series.valid)
    row["min_C"], row["min_at"] = fixed(low, 2), series.label(series.celsius.index(low))
    row["max_C"] = fixed(high, 2)
    for name, values in [("", series.celsius), ("_filled", series.filled)]:
        for fahrenheit, limit in LIMITS:
            hours, start = longest(values, limit)
            row[f"longest_below_{fahrenheit}F_h{name}"] = hours
            if name:
                row[f"longest_below_{fahrenheit}F_from"] = "" if start is None else series.label(start)
    for fahrenheit, limit in LIMITS[:2]:
        below = sum(it < limit for it in series.valid)
        row[f"hours_below_{fahrenheit}F"] = below
        row[f"share_below_{fahrenheit}F"] = fixed(F(below, len(series.valid)), 4)
    for days in (1, 3, 7):
        mean, start = coldest_window(series.filled, 24 * days)
        row[f"coldest_{days}d_mean_C"], row[f"coldest_{days}d_from"] = fixed(mean, 3), series.label(start)
    row["value_99.6_C"], row["value_99_C"] = (fixed(percentile(series, F(it, 1000)), 2) for it in (4, 10))
    month, mean = min(months(series).items(), key=lambda it: it[1])
    row["coldest_month"], row["coldest_month_mean_C"] = month, fixed(mean, 3)
    return row


def bins(series):
    found = {}
    for value in series.valid:
        below = 2 * math.floor(value / 2)
        found[below] = found.get(below, 0) + 1
    return [{"series": series.id, "from_C": k, "hours": found[k]} for k in sorted(found)]


def years(series):
    if series.typical:
        return
    for year in sorted({day.year for day in series.day}):
        own = [n for n, day in enumerate(series.day) if day.year == year and series.celsius[n] is not None]
        low = min(own, key=lambda n: (series.celsius[n], n))
        yield {
            "series": series.id,
            "year": year,
            "valid": len(own),
            "min_C": fixed(series.celsius[low], 2),
            "min_at": series.label(low),
        }


def winter_rows(series):
    for label, days, means, hours in winters(series):
        own = [n for n in hours if series.celsius[n] is not None]
        low = min(own, key=lambda n: (series.celsius[n], n))
        cold = [n for n in hours if series.day[n].month in (12, 1, 2)]
        whole = len(means) == days
        yield {
            "series": series.id,
            "winter": label,
            "hours": len(hours),
            "valid": len(own),
            "dec_to_feb_hours": len(cold),
            "dec_to_feb_valid": sum(series.celsius[n] is not None for n in cold),
            "min_C": fixed(series.celsius[low], 2),
            "min_at": series.label(low),
            "days": days,
            "days_with_a_mean": len(means),
            "freezing_index_Kd": fixed(freezing_index(means), 3) if whole else "",
        }


def write_table(name, rows):
    rows = list(rows)
    with open(HERE / name, "w", encoding="utf-8", newline="") as out:
        table = csv.DictWriter(out, rows[0].keys(), lineterminator="\n")
        table.writeheader()
        table.writerows(rows)


def lines_of(data, keep):
    """Lines with their own ends, those that `keep` (number from 0, text) keeps."""
    return b"".join(line for n, line in enumerate(data.splitlines(keepends=True)) if keep(n, line.decode("latin-1")))


def plain_table(name, series, skip_missing=False):
    """Two columns; a missing value is blank, or its row is left out."""
    unit, digits = ("F", 2) if series.fahrenheit else ("C", 1)
    out = [f"Time,Outdoors (°{unit})\n"]
    for at, value in zip(series.at, series.native):
        if value is not None or not skip_missing:
            out.append(f"{at:%Y-%m-%d %H:%M},{'' if value is None else fixed(value, digits)}\n")
    text = "".join(out).encode()
    if name.endswith(".gz"):
        text = gzip.compress(text, 9, mtime=0)
    (HERE / name).write_bytes(text)


def excerpts(found):
    """Writes the excerpts and gives back what is in them, to be counted as the whole files are."""
    chicago = file("diyepw", EPW + "USA_IL_Chicago.OHare.Intl.AP.725300_TMY3.epw")
    january = lines_of(chicago, lambda n, line: n < 8 or line.split(",")[1] == "1")
    whole, cut = b"Sunday, 1/ 1,12/31", b"Sunday, 1/ 1, 1/31"
    assert january.count(whole) == 1
    january = january.replace(whole, cut)
    (HERE / "chicago-january.epw").write_bytes(january)
    yield Series("chicago-january.epw", "epw", list(read_epw(january)), "excerpt; typical year")

    greensboro = file("pvlib", "pvlib/data/723170TYA.CSV")
    fortnight = [f"01/{day:02d}/1988" for day in range(1, 15)]
    kept = lines_of(greensboro, lambda n, line: n < 2 or line[:10] in fortnight)
    name = "greensboro-fortnight-tmy3.csv"
    (HERE / name).write_bytes(kept)
    yield Series(name, "tmy3", list(read_tmy3(kept)), "excerpt; typical year")

    for name, id, first in [
        ("northway-fortnight.csv", "isd-northway-2018", dt.datetime(2018, 1, 28)),
        ("springfield-fortnight.csv", "springfield-2015-2018", dt.datetime(2016, 12, 10)),
    ]:
        part = found[id].part(name, first, 14 * 24)
        plain_table(name, part)
        yield part
    plain_table("chicago-2015.csv.gz", found["isd-chicago-2015"], skip_missing=True)


def main():
    found = {}
    for id, package, form, paths, kind in SERIES:
        found[id] = Series(id, form, rows_of(form, [file(package, path) for path in paths]), kind)
    sums = "".join(f"{sha}  {path}\n" for path, sha in sorted(SEEN.items()))
    if SHA256.exists() and SHA256.read_text() != sums:
        sys.exit("the packages' files are not those the figures were drawn from: see sources.sha256")
    SHA256.write_text(sums)
    every = [*found.values(), *excerpts(found)]
    write_table("counts.csv", (counts(it) for it in every))
    write_table("bins.csv", (row for it in every for row in bins(it)))
    write_table("years.csv", (row for it in every for row in years(it)))
    write_table("winters.csv", (row for it in every for row in winter_rows(it)))


main()

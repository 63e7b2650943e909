"""Makes the tables of tests/physics/moist_air.rs and tests/physics/sweating.rs.

python 3.11, PsychroLib 2.5.0 (Hyland and Wexler 1983 as the ASHRAE handbook prints it), CoolProp 8.0.0 (IAPWS-95,
Herrmann et al. 2009 for moist air), scipy 1.17.1; the sublimation curve of IAPWS R14-08(2011) is written out. `cargo test` does not need this script: its
output is committed in the tests named. PsychroLib stops its iteration at 0.001 K; the roots printed here are found
again, by Brent's method on its saturation pressure, to 1e-10 K.
"""

from math import exp, log

import psychrolib as psy
from CoolProp.CoolProp import HAPropsSI, PropsSI
from scipy.optimize import brentq

psy.SetUnitSystem(psy.SI)
P = 101325.0
ZERO = 273.15


def celsius(fahrenheit):
    return (fahrenheit - 32) / 1.8


def fahrenheit(kelvin):
    return (kelvin - ZERO) * 1.8 + 32


def root(pressure):
    return brentq(lambda t: psy.GetSatVapPres(t) - pressure, -100, 200, xtol=1e-11)


print("dew points: degF, RH, PsychroLib degF, CoolProp degF")
for f, rh in [(67, .67), (70, .51), (72, .35), (68, .40), (72, .50), (70, .15), (70, .10), (70, .05), (80, .90), (60, .30),
              (40, .40), (90, .75)]:
    t = celsius(f)
    psychro = root(rh * psy.GetSatVapPres(t)) * 1.8 + 32
    print(f"({f}.0, {rh:.2f}, {psychro:.6f}, {fahrenheit(HAPropsSI('D', 'T', t + ZERO, 'R', rh, 'P', P)):.6f}),")

print("saturation: degC, PsychroLib Pa")
for t in [-99, -60, -40, -30, -20, -10, -5, -1, 0, 0.02, 1, 5, 10, 20, 25, 50, 100, 200]:
    print(f"({t:.2f}, {psy.GetSatVapPres(t):.7g}),")

print("sublimation curve: degC, IAPWS R14-08 Pa")
for t in [-5, -10, -20, -30, -40]:
    x = (t + ZERO) / 273.16
    terms = [(-21.2144006, 0.00333333333), (27.3203819, 1.20666667), (-6.10598130, 1.70333333)]
    print(f"({t}.0, {611.657 * exp(sum(a * x**b for a, b in terms) / x):.6g}),")

print("density: degC, RH, Pa, PsychroLib kg/m3 and humidity ratio, CoolProp kg/m3 and humidity ratio")
for t, rh, p in [(-20, .8, P), (0, .9, P), (21, .4, P), (21, .5, 83436.0), (35, .9, P)]:
    w = psy.GetHumRatioFromRelHum(t, rh, p)
    rho = psy.GetMoistAirDensity(t, w, p)
    real = HAPropsSI("W", "T", t + ZERO, "R", rh, "P", p)
    print(f"({t}.0, {rh}, {p}, {rho:.6f}, {w:.8f}, {(1 + real) / HAPropsSI('Vda', 'T', t + ZERO, 'R', rh, 'P', p):.6f}, "
          f"{real:.8f}),")

print("wet bulb: degC dry, degC wet, Pa, PsychroLib humidity ratio")
for t, wet, p in [(40, 20, P), (30, 19.9, P), (21, 13, 83436.0), (5, 1, P), (-2, -4, P), (-10, -11, P)]:
    print(f"({t}.0, {wet}, {p}, {psy.GetHumRatioFromTWetBulb(t, wet, p):.8f}),")

print("standard atmosphere: m, PsychroLib Pa")
for z in [-500, 0, 500, 1000, 1609.344, 3000]:
    print(f"({z}.0, {psy.GetStandardAtmPressure(z):.3f}),")

print("heat of vaporisation: degC, CoolProp J/kg")
for t in [0.01, 5, 10, 20, 30, 40]:
    h = PropsSI("H", "T", t + ZERO, "Q", 1, "Water") - PropsSI("H", "T", t + ZERO, "Q", 0, "Water")
    print(f"({t:.2f}, {h:.0f}.0),")


def arriving(t_air, vapor, film, t):
    """kg/m2s and W/m2 on a surface of t degC: air by CoolProp, heat of frost by Clapeyron on PsychroLib's curve."""
    mean = (t_air + t) / 2 + ZERO
    k, rho, cp = (PropsSI(it, "T", mean, "P", P, "Air") for it in "LDC")
    lewis = k / (rho * cp) / (2.178e-5 * (mean / ZERO) ** 1.81)
    mass = film / (rho * cp * lewis ** (2 / 3)) * (vapor - psy.GetSatVapPres(t)) / (461.524 * mean)
    if t < 0.01:
        slope = log(psy.GetSatVapPres(t + 0.005) / psy.GetSatVapPres(t - 0.005)) / 0.01
        heat = 461.524 * (t + ZERO) ** 2 * slope
    else:
        heat = PropsSI("H", "T", t + ZERO, "Q", 1, "Water") - PropsSI("H", "T", t + ZERO, "Q", 0, "Water")
    return mass, mass * heat


print("settled: degC, RH, convection, radiation, conductance, sink degC, surface degC, g/m2h")
for t_air, rh, film, radiation, inward, sink in [(21, .4, 3.5, 2, 5, -20), (21, .6, 3.5, 2, 20, 2), (21, .9, 5, .5, 3, -5),
                                                 (21, .3, 3.5, .5, 200, -10), (10, .8, 4, 4, 30, -25)]:
    vapor = rh * psy.GetSatVapPres(t_air)

    def gain(t):
        return (film + radiation) * (t_air - t) + arriving(t_air, vapor, film, t)[1] - inward * (t - sink)

    dry = ((film + radiation) * t_air + inward * sink) / (film + radiation + inward)
    surface = brentq(gain, dry, root(vapor), xtol=1e-9)
    print(f"({t_air}.0, {rh}, {film:.1f}, {radiation:.1f}, {inward}.0, {sink}.0, {surface:.4f}, "
          f"{arriving(t_air, vapor, film, surface)[0] * 3.6e6:.4f}),")

"""Makes the tables of src/physics/air_film.rs and src/physics/water.rs, and the check values of drainage.rs.

python 3.11, CoolProp 8.0.0 (Lemmon et al. 2000 and Lemmon and Jacobsen 2004 for air; IAPWS-95 and IAPWS 2011 for
water), scipy 1.17.1. `cargo test` does not need this script: its output is committed in the sources named.
"""

from math import sqrt

from CoolProp.CoolProp import PropsSI
from scipy.integrate import quad

P = 101325.0

print("air: K, k W/mK, mu Pa s, cp J/kgK")
for i in range(16):
    t = 223.15 + 10 * i
    print(f"{t:.2f} {PropsSI('L', 'T', t, 'P', P, 'Air'):.6f} {PropsSI('V', 'T', t, 'P', P, 'Air'):.4e} "
          f"{PropsSI('C', 'T', t, 'P', P, 'Air'):.2f}")

print("water: degC, rho, cp, k")
for i in range(9):
    t = 273.15 + 5 * i
    t = max(t, 273.1525)  # the liquid's end of the curve
    print(f"{5 * i} {PropsSI('D', 'T', t, 'P', P, 'Water'):.3f} {PropsSI('C', 'T', t, 'P', P, 'Water'):.2f} "
          f"{PropsSI('L', 'T', t, 'P', P, 'Water'):.5f}")


def kept(bore, stem, length, slope, edge):
    """Water in an inclined bore by adaptive quadrature of chords, split where the surface meets stem or crown."""
    big, small = bore / 2, stem / 2

    def chord(y):  # bore less stem, y above the invert
        h = y - big
        return 2 * sqrt(max(big * big - h * h, 0)) - 2 * sqrt(max(small * small - h * h, 0))

    def area(x):
        depth = min(max(edge - slope * x, 0), bore)
        kinks = [y for y in (big - small, big + small) if 0 < y < depth]
        return quad(chord, 0, depth, points=kinks or None, epsabs=1e-14)[0]

    depths = (0, big - small, big + small, bore)
    kinks = [x for x in ((edge - y) / slope for y in depths if slope) if 0 < x < length]
    return quad(area, 0, length, points=sorted(kinks) or None, epsabs=1e-14)[0]


print("drainage: bore, stem, length, slope, edge depth, volume m3")
for case in [(0.0183, 0.00635, 0.2032, -0.0208, 0.0), (0.0183, 0.00635, 0.2032, -0.2, 0.0),
             (0.0183, 0.00635, 0.2032, 0.0208, 0.0027), (0.0139, 0.0, 0.3, -0.01, 0.0027),
             (0.0183, 0.00635, 0.2032, 0.0, 0.0027)]:
    print(*case, f"{kept(*case):.6e}")

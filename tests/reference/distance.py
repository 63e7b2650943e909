"""Makes the distances of tests/climate/data/distances.yaml.

python 3.11, geographiclib 2.1 (Karney, J. Geodesy 87 (2013) 43): the geodesic on a sphere of the mean radius of WGS 84,
and on its ellipsoid. `cargo test` does not need this script: its output is committed.
"""

from geographiclib.geodesic import Geodesic

SPHERE = Geodesic(6371008.8, 0.0)
PAIRS = [
    ("a few meters along a street", (44.98, -93.27), (44.98, -93.26995)),
    ("Duluth to Minneapolis", (46.8422, -92.1936), (44.8831, -93.2289)),
    ("Boise to Fairbanks", (43.5667, -116.2406), (64.8039, -147.8761)),
    ("Honolulu to Anchorage", (21.3239, -157.9294), (61.1744, -149.9967)),
    ("Miami to St. John's", (25.7906, -80.3164), (47.6186, -52.7519)),
    ("across the date line", (52.83, 173.18), (51.88, -176.65)),
    ("across the equator", (-2.0, -78.0), (9.0, -79.5)),
    ("nearly the far side of the earth", (44.9, -93.2), (-44.8, 86.7)),
    ("pole to pole", (90.0, 0.0), (-90.0, 0.0)),
    ("a point and itself", (44.9, -93.2), (44.9, -93.2)),
]

print("about: great circles on a sphere and geodesics on the ellipsoid, m; tests/reference/distance.py")
print("cases:")
for name, a, b in PAIRS:
    on_sphere = SPHERE.Inverse(*a, *b)["s12"]
    on_ellipsoid = Geodesic.WGS84.Inverse(*a, *b)["s12"]
    print(f"  - {{ name: \"{name}\", a: [{a[0]}, {a[1]}], b: [{b[0]}, {b[1]}], "
          f"sphere: {on_sphere:.4f}, ellipsoid: {on_ellipsoid:.4f} }}")

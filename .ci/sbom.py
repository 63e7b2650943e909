"""Prints the bill of materials of the program (CycloneDX 1.5, JSON): the packages it is built from, tests and benches apart.

    python3 .ci/sbom.py > coldsill.cdx.json

Made from Cargo.lock alone, for one system; the same lock file gives the same bytes.
"""

import json, subprocess, sys, tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PLATFORM = sys.argv[1] if len(sys.argv) > 1 else "x86_64-unknown-linux-gnu"

cargo = ["cargo", "metadata", "--locked", "--offline", "--format-version", "1", "--filter-platform", PLATFORM]
metadata = json.loads(subprocess.run(cargo, cwd=ROOT, check=True, stdout=subprocess.PIPE).stdout)
packages = {it["id"]: it for it in metadata["packages"]}
nodes = {it["id"]: it for it in metadata["resolve"]["nodes"]}
locked = tomllib.loads((ROOT / "Cargo.lock").read_text())["package"]
sums = {(it["name"], it["version"]): it.get("checksum") for it in locked}


def needs(package):
    """What a package is built from: not what only its tests use."""
    built = lambda it: any(kind["kind"] != "dev" for kind in it["dep_kinds"])
    return sorted(it["pkg"] for it in nodes[package]["deps"] if built(it))


def url(package):
    return f"pkg:cargo/{package['name']}@{package['version']}"


def component(package, kind):
    made = {"type": kind, "bom-ref": url(package), "name": package["name"], "version": package["version"], "purl": url(package)}
    if checksum := sums[package["name"], package["version"]]:
        made["hashes"] = [{"alg": "SHA-256", "content": checksum}]
    made["licenses"] = [{"expression": package["license"].replace("/", " OR ")}]
    return made


program = next(it for it in metadata["packages"] if it["name"] == "coldsill")
found, left = {program["id"]}, [program["id"]]
while left:
    for package in needs(left.pop()):
        if package not in found:
            found.add(package)
            left.append(package)
ordered = sorted((packages[it] for it in found), key=lambda it: (it["name"], it["version"]))
bill = {
    "bomFormat": "CycloneDX",
    "specVersion": "1.5",
    "version": 1,
    "metadata": {"component": component(program, "application")},
    "components": [component(it, "library") for it in ordered if it is not program],
    "dependencies": [{"ref": url(it), "dependsOn": [url(packages[n]) for n in needs(it["id"])]} for it in ordered],
}
print(json.dumps(bill, indent=1))

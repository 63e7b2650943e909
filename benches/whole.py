"""What whole commands cost, start-up included: processor seconds, wall time, memory and bytes written.

    python benches/whole.py            (builds the release program first)
    python benches/whole.py --build    (a first build in a fresh clone as well: `cargo build`, no target folder)

Schedules come from `schedules.rs`: 10,000 rows of 1,000 different outlets, and a list of 240. Minneapolis is cold enough
that outlets have to be followed through a spell; in a mild climate the same schedule costs a tenth.
"""

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = ROOT / "target/release/coldsill"


def run(name, command, cwd=ROOT):
    """One row: the command's processor time and memory by the system's own account of it."""
    with tempfile.TemporaryFile() as out:
        start = time.perf_counter()
        process = subprocess.Popen(command, cwd=cwd, stdout=out, stderr=subprocess.DEVNULL)
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        wall, size = time.perf_counter() - start, out.tell() or os.fstat(out.fileno()).st_size
    cpu = usage.ru_utime + usage.ru_stime
    print(f"{name:44} {cpu:8.2f} s cpu {wall:8.2f} s wall {usage.ru_maxrss / 1024:7.0f} MB {size / 1e6:8.2f} MB out")


def schedule(rows, distinct, folder):
    path = Path(folder) / f"{rows}-{distinct}.csv"
    command = ["cargo", "run", "--quiet", "--release", "-p", "coldsill-benches", "--example", "schedule", "--"]
    path.write_bytes(subprocess.run([*command, str(rows), str(distinct)], cwd=ROOT, check=True, capture_output=True).stdout)
    return str(path)


def main():
    subprocess.run(["cargo", "build", "--release", "--quiet"], cwd=ROOT, check=True)
    print(f"release program: {PROGRAM.stat().st_size / 1e6:.1f} MB")
    here = ["--climate", "minneapolis-mn"]
    with tempfile.TemporaryDirectory() as folder:
        long, list_ = schedule(10_000, 1_000, folder), schedule(240, 240, folder)
        run("--help", [PROGRAM, "--help"])
        run("review of the example", [PROGRAM, "review", "examples/kestrel-ridge/job.yaml"])
        run("cold spell of the example", [PROGRAM, "cold-spell", "examples/kestrel-ridge/job.yaml"])
        run("cold spell, 240 different outlets", [PROGRAM, "cold-spell", list_, *here])
        run("review, 10,000 rows, 1,000 outlets, text", [PROGRAM, "review", long, *here])
        run("review, 10,000 rows, 1,000 outlets, JSON", [PROGRAM, "review", long, *here, "--format", "json"])
        if "--build" in sys.argv:
            clone = Path(folder) / "clone"
            subprocess.run(["git", "clone", "--quiet", str(ROOT), str(clone)], check=True)
            before = resource.getrusage(resource.RUSAGE_CHILDREN)
            start = time.perf_counter()
            subprocess.run(["cargo", "build", "--quiet"], cwd=clone, check=True)
            after, wall = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter() - start
            cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
            tree = ["cargo", "tree", "-e", "normal", "-p", "coldsill", "--prefix", "none"]
            lines = subprocess.run(tree, cwd=clone, check=True, capture_output=True, text=True).stdout.splitlines()
            crates = {line.split(" (")[0] for line in lines if line and not line.startswith("coldsill")}
            print(f"{'first build':44} {cpu:8.2f} s cpu {wall:8.2f} s wall, {len(crates)} crates")


if __name__ == "__main__":
    main()

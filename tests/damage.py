"""Runs the program on damaged copies of the examples and says what became of each.

    python3 tests/damage.py target/release/coldsill [COUNT [SEED]]

Every run must exit with 0, 1 or 2; 2 with a located line; none with more than 2 s of the processor or more than 500 MB. A damaged cell of a
column that is read must be reported, asked for, or change what the outlet states: it is never dropped in silence.
"""

import csv, io, json, os, random, re, subprocess, sys, tempfile, time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = Path(sys.argv[1]).resolve()
COUNT = int(sys.argv[2]) if len(sys.argv) > 2 else 2000
SEED = int(sys.argv[3]) if len(sys.argv) > 3 else 20
# Texts that no column of a fact can mean.
GARBAGE = ["??", "#REF!", "1/0 in", "12 bananas", "see arch", "TBD", "-", "yes?", "\ufffd\ufffd", "0x1F", "1e999", "N/A?", "8\u2033\u2033"]
# Columns of free words, which may say anything.
WORDS = {"Mark", "Location", "Notes", "Finish", "Qty"}
PIECES = [b'"', b"\0", b"\xff", b"\r", b"\n\n", b",,,,", b"[", b"{", b"*a", b": ", b"-1e999", b"=1+1", b"9" * 30]


def run(arguments, folder):
    started = time.monotonic()
    child = subprocess.Popen([PROGRAM, *arguments], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    # Small outputs: read in full before the child is waited for.
    out, err = child.stdout.read(), child.stderr.read()
    _, status, used = os.wait4(child.pid, 0)
    return os.waitstatus_to_exitcode(status), out, err.decode(), time.monotonic() - started, used


def damaged(choose, data):
    data = bytearray(data)
    for _ in range(choose.randint(1, 4)):
        at = choose.randrange(len(data) + 1)
        kind = choose.randrange(5)
        if kind == 0:
            del data[at:]
        elif kind == 1:
            del data[at : at + choose.randint(1, 40)]
        elif kind == 2:
            data[at:at] = data[at : at + 40]
        elif kind == 3 and at < len(data):
            data[at] ^= 1 << choose.randrange(8)
        else:
            data[at:at] = choose.choice(PIECES)
    return bytes(data)


def outlet_of(review, row):
    for finding in review["findings"]:
        for outlet in finding["rows"]:
            if outlet["at"].get("row") == row:
                return finding, outlet
    return None, None


def main():
    choose = random.Random(SEED)
    example = ROOT / "examples/kestrel-ridge"
    schedule = (example / "schedule.csv").read_text()
    whole = {it.name: it.read_bytes() for it in example.iterdir() if it.suffix in (".yaml", ".csv")}
    # Three of its rows: the whole takes 2 s by itself.
    whole["schedule.csv"] = "".join(schedule.splitlines(keepends=True)[i] for i in (0, 3, 4, 5)).encode()
    rules = (ROOT / "rules/presets/builder.yaml").read_bytes()
    books = [(ROOT / "tests/schedule/data" / name).read_bytes() for name in ("same.xlsx", "same.ods")]
    counts, wrong, slowest, largest, kinds = {0: 0, 1: 0, 2: 0}, [], 0.0, 0, {}
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        for number in range(COUNT):
            for name, data in whole.items():
                (folder / name).write_bytes(data)
            kind = ("cell", "cell", "schedule", "job", "book", "rules")[number % 6]
            arguments, cell = ["review", "job.yaml"], None
            if kind == "cell":
                table = list(csv.reader(io.StringIO(schedule)))
                row = choose.randrange(1, len(table))
                columns = [i for i, heading in enumerate(table[0]) if heading not in WORDS and table[row][i]]
                column = choose.choice(columns)
                table[row][column] = choose.choice(GARBAGE)
                arguments += ["--format", "json"]
                cell = (2, table[0][column], table[row][column])
                text = io.StringIO()
                csv.writer(text).writerows([table[0], table[row]])
                (folder / "schedule.csv").write_text(text.getvalue())
            elif kind == "schedule":
                (folder / "schedule.csv").write_bytes(damaged(choose, whole["schedule.csv"]))
            elif kind == "job":
                (folder / "job.yaml").write_bytes(damaged(choose, whole["job.yaml"]))
            elif kind == "book":
                (folder / "s.xlsx").write_bytes(damaged(choose, choose.choice(books)))
                arguments = ["review", "s.xlsx", "--climate", "minneapolis-mn"]
            else:
                (folder / "own.yaml").write_bytes(damaged(choose, rules))
                arguments = ["rules", "try", "--rules", "own.yaml"]
            code, out, err, seconds, used = run(arguments, folder)
            kinds.setdefault(kind, {}).setdefault(code, 0)
            kinds[kind][code] += 1
            slowest, largest = max(slowest, used.ru_utime + used.ru_stime), max(largest, used.ru_maxrss)
            what = f"{number} {kind} {cell or ''}"
            if code not in counts:
                wrong.append(f"{what}: exit {code}: {err[:200]}")
                continue
            counts[code] += 1
            # Of the processor: what else the machine does is no fault of the program.
            if used.ru_utime + used.ru_stime > 2 or used.ru_maxrss > 500_000:
                wrong.append(f"{what}: {seconds:.1f} s (processor {used.ru_utime:.1f} s), {used.ru_maxrss} kB")
            if code == 2 and not re.match(r"[^\n]+: \S", err):
                wrong.append(f"{what}: no located line: {err[:200]}")
            if cell and code != 2:
                review = json.loads(out)
                row, heading, text = cell
                said = json.dumps([review.get(key) for key in ("problems", "unused", "may_be", "aside", "questions")])
                finding, outlet = outlet_of(review, row)
                if outlet is None:
                    if f'"row": {row}' not in said:
                        wrong.append(f"{what}: its row is dropped in silence")
                    continue
                stated = json.dumps([outlet, finding["facts"]], ensure_ascii=False)
                at_row = f'"row": {row}, "column": {json.dumps(heading)}'
                if at_row not in said and text not in stated and json.dumps(text)[1:-1] not in said:
                    wrong.append(f"{what}: dropped in silence")
    print(f"{COUNT} runs, exits {counts}, by kind {kinds}; slowest {slowest:.2f} s, largest {largest / 1000:.0f} MB")
    print("\n".join(wrong) or "nothing wrong")
    return 1 if wrong else 0


sys.exit(main())

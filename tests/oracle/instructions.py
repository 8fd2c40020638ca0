"""Instruction counts by callgrind against the committed totals, 3 % slack either way.

Counts, not clocks: the same binary on the same input gives the same total whatever else the machine
does. A total that fell by more than the slack is reported too, so that the gain is written down.
    python instructions.py PROGRAM [--update]
"""

import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
TOTALS = ROOT / "benches" / "instructions.txt"
SLACK = 0.03
CASES = {
    "check": ["check", "panels/wheatear/proposed.json", "--format", "json"],
    "template": ["template", "panels/wheatear/proposed.json", "--formats", "svg,pdf,dxf", "--out", "{scratch}/out"],
}


def count(program, args):
    with tempfile.TemporaryDirectory() as scratch:
        args = [a.replace("{scratch}", scratch) for a in args]
        run = subprocess.run(
            ["valgrind", "--tool=callgrind", f"--callgrind-out-file={scratch}/callgrind", program, *args],
            cwd=ROOT, capture_output=True, text=True, check=False,
        )
        found = re.search(r"Collected : (\d+)", run.stderr)
        if run.returncode not in (0, 1) or not found:
            sys.exit(f"callgrind gave no total for {args}:\n{run.stderr[-2000:]}")
        return int(found.group(1))


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    totals = {name: count(program, args) for name, args in CASES.items()}
    if "--update" in sys.argv:
        TOTALS.write_text("".join(f"{n} {t}\n" for n, t in totals.items()))
        return
    wanted = dict(line.split() for line in TOTALS.read_text().splitlines())
    bad = False
    for name, total in totals.items():
        was = int(wanted[name])
        change = total / was - 1
        print(f"{name}: {total} instructions, {change:+.2%} against {was}")
        if change > SLACK:
            bad = True
    if bad:
        sys.exit("more instructions than the committed totals allow: make it cheaper, or write down why with --update")


main()

"""Random panels measured again with shapely.

Arcs become inscribed chords, so a shapely distance is off by at most the sagitta of either side;
`bound` below is the sum of the two plus 1e-9 for rounding. Outside that bound no number and no
verdict may differ, and no pair of openings of two subjects nearer than 25 mm may be missing.
    python panels.py FILE    (JSON lines)
"""

import json
import math
import sys

from shapely.geometry import LinearRing, Polygon
from shapely.strtree import STRtree

PER_TURN = 360
REACH = 25.0
OPENINGS = {"Cutout", "Hole", "OldOpening"}


def flatten(pieces):
    """Points of a contour and the largest sagitta of its chords."""
    points, sagitta = [], 0.0
    for piece in pieces:
        if piece[0] == "line":
            points.append((piece[1], piece[2]))
            continue
        _, cx, cy, r, start, sweep = piece
        n = max(2, math.ceil(abs(sweep) / math.tau * PER_TURN))
        sagitta = max(sagitta, r * (1 - math.cos(sweep / n / 2)))
        points += [(cx + r * math.cos(start + sweep * k / n), cy + r * math.sin(start + sweep * k / n)) for k in range(n)]
    return points, sagitta


def main():
    pairs = verdicts = areas = missing = 0
    for line in open(sys.argv[1]):
        case = json.loads(line)
        where = f"seed {case['seed']}"
        shapes = {}
        for part in case["parts"]:
            points, sagitta = flatten(part["pieces"])
            polygon, ring = Polygon(points), LinearRing(points)
            shapes[tuple(part["ref"])] = (part["class"], polygon, ring, sagitta)
            # inscribed chords lose at most sagitta times the outline's length
            lost = part["area"] - polygon.area
            slack = sagitta * ring.length + 1e-6
            assert -1e-6 <= lost <= slack, f"{where}: area {part['area']} against {polygon.area}"
            c = polygon.centroid
            off = math.hypot(c.x - part["centroid"][0], c.y - part["centroid"][1])
            reach = math.hypot(polygon.bounds[2] - polygon.bounds[0], polygon.bounds[3] - polygon.bounds[1])
            assert off <= slack / part["area"] * reach + 1e-6, f"{where}: centroid off by {off}"
            areas += 1
        seen = set()
        for f in case["findings"]:
            a, b = tuple(f["a"]), tuple(f["b"])
            seen.add((f["rule"], frozenset((a, b))))
            (ca, pa, ra, ea), (cb, pb, rb, eb) = shapes[a], shapes[b]
            bound = ea + eb + 1e-9
            if "Edge" in (ca, cb):
                opening, sheet = (pa, pb) if cb == "Edge" else (pb, pa)
                distance = ra.distance(rb)
                inside = sheet.contains(opening)
                clear = distance if inside else -1.0
            else:
                clear = -1.0 if pa.intersects(pb) and pa.distance(pb) == 0 else pa.distance(pb)
            if clear > bound:
                low, high = f["measured"]
                assert low - bound <= clear <= high + bound, f"{where} {f}: shapely {clear}"
                asked = f["asked"]
                if abs(clear - asked) > bound:
                    want = "pass" if clear > asked else "fail"
                    assert f["verdict"] == want, f"{where} {f}: shapely {clear}"
                    verdicts += 1
            elif clear < 0:
                # an overlap deeper than the chords can invent
                area = pa.intersection(pb).area if "Edge" not in (ca, cb) else opening.difference(sheet).area
                if area > bound * (ra.length + rb.length):
                    assert f["verdict"] == "fail", f"{where} {f}: shapely sees an overlap of {area} mm2"
                    verdicts += 1
            pairs += 1
        for rule, wanted in (("web", OPENINGS), ("bezel-gap", {"Bezel"})):
            refs = [r for r, s in shapes.items() if s[0] in wanted]
            tree = STRtree([shapes[r][1] for r in refs])
            for r in refs:
                _, polygon, _, ea = shapes[r]
                for k in tree.query(polygon, predicate="dwithin", distance=REACH - 0.05):
                    other = refs[k]
                    if other[0] <= r[0]:
                        continue
                    if (rule, frozenset((r, other))) not in seen:
                        missing += 1
                        print(f"{where}: {rule} {r} {other} at {polygon.distance(shapes[other][1])} is not listed")
    assert missing == 0, f"{missing} pairs within reach are not listed"
    assert pairs > 1000 and verdicts > 1000 and areas > 1000, (pairs, verdicts, areas)
    print(f"{areas} areas, {pairs} pairs, {verdicts} verdicts agree with shapely")


main()

"""Random pairs of shapes measured again with shapely.

Arcs become chords with their ends on the arc, so a point of the polygon is off the outline by at most
the sagitta of a chord; `bound` is the sum of both sides' plus 1e-6 (the library's slack). Offsets are
held against unions of the capsules of all chords (shapely's own `buffer` of a shape simplifies first).
    python pairs_shapely.py FILE    (JSON lines)
"""

import json
import math
import sys

from shapely.affinity import translate
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

PER_TURN = 240
SLACK = 1e-6


def flatten(pieces, per_turn=PER_TURN):
    points, sagitta = [], 0.0
    for piece in pieces:
        if piece[0] == "line":
            points.append((piece[1], piece[2]))
            continue
        _, cx, cy, r, start, sweep = piece
        n = max(2, math.ceil(abs(sweep) / math.tau * per_turn))
        sagitta = max(sagitta, r * (1 - math.cos(sweep / n / 2)))
        points += [(cx + r * math.cos(start + sweep * k / n), cy + r * math.sin(start + sweep * k / n)) for k in range(n)]
    return Polygon(points), sagitta


def seconds(polygon):
    """Second moments about the centroid, by the polygon formulas."""
    c = polygon.centroid
    points = [(x - c.x, y - c.y) for x, y in polygon.exterior.coords]
    xx = yy = xy = area = 0.0
    for (px, py), (qx, qy) in zip(points, points[1:]):
        w = px * qy - qx * py
        area += w / 2
        xx += w * (py * py + py * qy + qy * qy) / 12
        yy += w * (px * px + px * qx + qx * qx) / 12
        xy += w * (2 * (px * py + qx * qy) + px * qy + qx * py) / 24
    s = math.copysign(1, area)
    return [xx * s, yy * s, xy * s]


def check_shape(told, where):
    polygon, sagitta = flatten(told["pieces"])
    assert polygon.is_valid, f"{where}: not simple"
    slack = sagitta * polygon.length + 1e-6
    assert abs(told["area"] - polygon.area) <= slack, f"{where}: area {told['area']} {polygon.area}"
    assert 0 <= told["perimeter"] - polygon.length + 1e-9 <= 1e-3 * polygon.length + 1e-6, f"{where}: perimeter"
    x0, y0, x1, y1 = polygon.bounds
    reach = math.hypot(x1 - x0, y1 - y0)
    c = polygon.centroid
    off = math.hypot(c.x - told["centroid"][0], c.y - told["centroid"][1])
    assert off <= slack / told["area"] * reach + 1e-6, f"{where}: centroid off by {off}"
    for mine, other in zip(told["second"], seconds(polygon)):
        assert abs(mine - other) <= 3 * slack * reach * reach + 1e-3, f"{where}: second moment {mine} {other}"
    return polygon, sagitta


def check_relation(case, a, b, bound, where):
    r, d = case["relation"], case["distance"]
    seen = a.exterior.distance(b.exterior)
    assert abs(seen - d) <= bound, f"{where}: distance {d} against {seen}"
    if d > bound:
        expected = "Inside" if b.contains(a) else "Outside" if a.contains(b) else "Apart"
        assert r == expected, f"{where}: {r} against {expected}"
        return
    thin = bound * (a.length + b.length)
    both, only_a, only_b = a.intersection(b).area, a.difference(b).area, b.difference(a).area
    fits = {
        "Apart": both <= thin,
        "Touching": both <= thin,
        "Inside": only_a <= thin,
        "Outside": only_b <= thin,
        "Coincident": only_a <= thin and only_b <= thin,
        # a crossing may be thin, so anything is possible but two shapes that lie clear
        "Crossing": d == 0,
    }
    assert fits[r], f"{where}: {r}, areas {both} {only_a} {only_b}"
    if min(both, only_a, only_b) > thin:
        assert r == "Crossing", f"{where}: {r} against Crossing"


def check_margin(case, a, b, bound, where):
    m = case["margin"]
    if m >= 0:
        assert a.difference(b).area <= bound * a.length, f"{where}: margin {m} but it sticks out"
        return
    ring = a.exterior
    step = ring.length / 300
    far = max(b.distance(ring.interpolate(k * step)) for k in range(300))
    assert far - bound <= -m <= far + step / 2 + bound, f"{where}: sticks out {-m} against {far}"


def check_depth(case, a, b, bound, where):
    """Least shift of two convex polygons: over the normals of their edges (separating axes)."""
    if not case["exact"]:
        return
    pa, pb = list(a.exterior.coords), list(b.exterior.coords)
    least = math.inf
    for ring in (pa, pb):
        for (px, py), (qx, qy) in zip(ring, ring[1:]):
            length = math.hypot(qx - px, qy - py)
            if length == 0:
                continue
            ux, uy = (qy - py) / length, (px - qx) / length
            ra, rb = [x * ux + y * uy for x, y in pa], [x * ux + y * uy for x, y in pb]
            least = min(least, max(ra) - min(rb), max(rb) - min(ra))
    depth = math.hypot(*case["shift"])
    assert least - bound <= depth <= least + 2 * bound, f"{where}: depth {depth} against {least}"


def area_of(loops):
    return sum(flatten(p)[0].area for p in loops)


def filled(shape):
    """The outer outlines alone, as the library gives them."""
    parts = getattr(shape, "geoms", [shape])
    return unary_union([Polygon(p.exterior) for p in parts if p.geom_type == "Polygon" and not p.is_empty])


def check_joined(case, a, b, bound, where):
    thin = 2 * bound * (a.length + b.length) + 1e-3
    if case["union"] is not None:
        # a pocket that is shut by a touch in one point counts as open here and as a gap, filled, there
        joined, got = a.union(b), area_of(case["union"])
        least, most = joined.area, filled(joined.buffer(bound)).area
        assert least - thin <= got <= most + thin, f"{where}: union {got} against {least} to {most}"
    left = a.difference(b)
    holed = any(p.interiors for p in getattr(left, "geoms", [left]) if p.geom_type == "Polygon" and p.area > thin)
    if case["without"] is not None and not holed:
        got = area_of(case["without"])
        assert abs(got - left.area) <= thin, f"{where}: difference {got} against {left.area}"


def check_offset(case, where):
    a, sagitta = flatten(case["a"]["pieces"], 90)
    by = case["by"]
    edges = zip(a.exterior.coords, list(a.exterior.coords)[1:])
    band = unary_union([LineString(e).buffer(abs(by), quad_segs=24) for e in edges])
    expected = filled(a.union(band)).area if by > 0 else a.difference(band).area
    got = 0.0 if case["offset"] is None else area_of(case["offset"])
    round_ends = abs(by) * (1 - math.cos(math.pi / 96))
    thin = 3 * (sagitta + round_ends) * (a.length + math.tau * abs(by)) + 1e-3
    assert abs(got - expected) <= thin, f"{where}: offset by {by}: {got} against {expected}"


def main():
    kinds, offsets, joined, faults = {}, 0, [0, 0], []
    for line in open(sys.argv[1]):
        case = json.loads(line)
        where = f"seed {case['seed']}"
        try:
            (a, ea), (b, eb) = check_shape(case["a"], where + " a"), check_shape(case["b"], where + " b")
            bound = ea + eb + SLACK
            check_relation(case, a, b, bound, where)
            check_margin(case, a, b, bound, where)
            if case["shift"]:
                # a hair more than a touch: sides that coincide to rounding have made the overlay fail
                dx, dy = (v * (1 + bound / math.hypot(*case["shift"])) for v in case["shift"])
                left = translate(a, dx, dy).intersection(b).area
                assert left <= bound * (a.length + b.length), f"{where}: the shift leaves {left}"
                check_depth(case, a, b, bound, where)
            for shape, told in ((a, case["convex"][0]), (b, case["convex"][1])):
                # chords of a hollow arc, and a corner that turns back, leave a pocket in the hull
                hollow = shape.convex_hull.area - shape.area
                assert not told or hollow <= bound * shape.length, f"{where}: convex, hollow {hollow}"
                assert told or hollow > 0, f"{where}: not convex, yet its own hull"
            check_joined(case, a, b, bound, where)
            if case["seed"] % 4 == 0 or case["seed"] % 4 == 1:
                check_offset(case, where)
                offsets += 1
        except AssertionError as e:
            faults.append(str(e))
        kinds[case["relation"]] = kinds.get(case["relation"], 0) + 1
        joined[0] += case["union"] is None
        joined[1] += case["without"] is None
    print(f"{sum(kinds.values())} pairs: {dict(sorted(kinds.items()))}; {offsets} offsets;", end=" ")
    print(f"no union given in {joined[0]}, no difference in {joined[1]}")
    for f in faults[:20]:
        print(f)
    if faults:
        sys.exit(f"{len(faults)} differences")
    few = [k for k in ("Apart", "Touching", "Crossing", "Inside", "Outside", "Coincident") if kinds.get(k, 0) < 10]
    if few:
        sys.exit(f"too few cases of {few}: the generator tests nothing")


if __name__ == "__main__":
    main()

"""Sections of solids held against membership of points: numpy, scipy and shapely tell whether a point lies in a solid.

What lies in an outline lies in the solid; what lies more than 0.01 mm outside does not (0.001 for arithmetic and the
chords of this script).
    python section_points.py FILE    (JSON lines)
"""

import json
import math
import sys

import numpy as np
import shapely
from scipy.spatial import ConvexHull

BOUND, SLACK = 0.01, 0.001


def flatten(pieces, per_turn):
    points = []
    for piece in pieces:
        if piece[0] == "line":
            points.append((piece[1], piece[2]))
            continue
        _, cx, cy, r, start, sweep = piece
        n = max(2, math.ceil(abs(sweep) / math.tau * per_turn))
        points += [(cx + r * math.cos(start + sweep * k / n), cy + r * math.sin(start + sweep * k / n)) for k in range(n)]
    return shapely.Polygon(points)


def member(shape):
    """Signed-ish test with a slack: member(p, grow) for an array of points."""
    kind = shape[0]
    if kind == "prism":
        polygon = flatten(shape[1], 4000)
        lo, hi = shape[2:]
        def test(p, grow):
            q = polygon.buffer(grow) if grow else polygon
            return shapely.contains_xy(q, p[:, 0], p[:, 1]) & (p[:, 2] >= lo - grow) & (p[:, 2] <= hi + grow)
        return test
    if kind == "box":
        h = np.array(shape[1])
        return lambda p, grow: (np.abs(p) <= h + grow).all(axis=1)
    if kind == "bar":
        r, half = shape[1:]
        return lambda p, grow: (np.hypot(p[:, 0], p[:, 1]) <= r + grow) & (np.abs(p[:, 2]) <= half + grow)
    if kind == "ball":
        return lambda p, grow: np.linalg.norm(p, axis=1) <= shape[1] + grow
    if kind == "hull":
        e = ConvexHull(np.array(shape[1])).equations
        return lambda p, grow: (p @ e[:, :3].T + e[:, 3] <= grow).all(axis=1)
    r, path = shape[1], np.array(shape[2])
    a, d = path[:-1], np.diff(path, axis=0)
    square = (d * d).sum(axis=1)
    keep = square > 0
    a, d, square = a[keep], d[keep], square[keep]
    def test(p, grow):
        out = np.empty(len(p), bool)
        for k, q in enumerate(p):
            t = np.clip(((q - a) * d).sum(axis=1) / square, 0, 1)
            out[k] = np.linalg.norm(a + d * t[:, None] - q, axis=1).min() <= r + grow
        return out
    return test


def main():
    rng = np.random.default_rng(5)
    cases = empty = asked = 0
    for line in open(sys.argv[1]):
        c = json.loads(line)
        cases += 1
        area = shapely.Polygon()
        for ring in c["cut"]:
            polygon = flatten(ring, 4000)
            assert polygon.is_valid, (cases, c["shape"][0], "the outline crosses itself")
            area = area.symmetric_difference(polygon)
        empty += area.is_empty
        turn = np.array(c["columns"]).T
        def solid(uv):
            p = np.array(c["at"]) + np.outer(uv[:, 0], c["across"]) + np.outer(uv[:, 1], c["up"])
            return (p - np.array(c["origin"])) @ turn
        has = member(c["shape"])
        wide = rng.uniform(-140, 140, (300, 2))
        rings = [wide]
        if not area.is_empty:
            for off in (-2 * SLACK, BOUND + 2 * SLACK):
                edge = area.buffer(off).boundary
                if not edge.is_empty:
                    t = rng.uniform(0, edge.length, 120)
                    rings.append(shapely.get_coordinates(shapely.line_interpolate_point(edge, t)))
        uv = np.concatenate(rings)
        dist = shapely.distance(shapely.points(uv), area)
        deep = shapely.contains_xy(area.buffer(-SLACK), uv[:, 0], uv[:, 1])
        inside, certain = has(solid(uv), SLACK), has(solid(uv), 0)
        asked += len(uv)
        wrong = deep & ~inside
        assert not wrong.any(), (cases, c["shape"][0], "outline beyond the solid", uv[wrong][:3])
        # deep enough within the solid that a thin tip cut flat does not count
        far = (dist > BOUND + SLACK) & certain & has(solid(uv), -SLACK if c["shape"][0] != "prism" else 0)
        assert not far.any(), (cases, c["shape"][0], "solid beyond the outline", uv[far][:3], dist[far][:3])
    assert cases - empty > cases / 2
    print(f"{cases} sections, {empty} of them empty, {asked} points")


main()

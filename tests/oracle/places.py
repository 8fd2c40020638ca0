"""Regions of places measured again with shapely.

The region of one item among others: the sheet's outside and every other shape are grown by the item's own shape turned
through the origin (a Minkowski sum, hull by hull along the outlines) and by the room that is asked; solids along the depth by
what is left of that beside their gap in depth. Arcs become chords with their ends on the arc: off by at most the sagitta.
The region told may lack `tolerance` along its border and must not be larger than the chords allow.
    python places.py FILE    (JSON lines)
"""

import json
import math
import sys

import numpy
import shapely
from shapely.affinity import translate
from shapely.geometry import MultiPoint, Polygon, box
from shapely.ops import unary_union

from pairs_shapely import flatten

QUARTER = 64


def rings(shape):
    for polygon in getattr(shape, "geoms", [shape]):
        yield polygon.exterior.coords
        for hole in polygon.interiors:
            yield hole.coords


def grown(shape, own, by):
    """`shape` plus the mirror image of the convex `own`, plus a disc."""
    turned = [(-x, -y) for x, y in own.exterior.coords]
    x0, y0 = turned[0]
    if isinstance(shape, Polygon) and not shape.interiors and shape.convex_hull.area - shape.area < 1e-9:
        sums = numpy.asarray(shape.exterior.coords)[:, None, :] + numpy.asarray(turned)[None, :, :]
        return shapely.convex_hull(shapely.multipoints(sums.reshape(-1, 2))).buffer(by, quad_segs=QUARTER)
    parts = [translate(shape, x0, y0)]
    for ring in rings(shape):
        for (px, py), (qx, qy) in zip(ring, ring[1:]):
            ends = [(px + x, py + y) for x, y in turned] + [(qx + x, qy + y) for x, y in turned]
            parts.append(MultiPoint(ends).convex_hull)
    return unary_union(parts).buffer(by, quad_segs=QUARTER)


def check(case, where):
    sag = 0.0

    def flat(pieces):
        nonlocal sag
        polygon, s = flatten(pieces, 120)
        sag = max(sag, s)
        return polygon

    sheet = flat(case["sheet"])
    x0, y0, x1, y1 = sheet.bounds
    frame = box(x0 - 300, y0 - 300, x1 + 300, y1 + 300)
    own = flat(case["own"])
    left = frame.difference(grown(frame.difference(sheet), own, case["edge"]))
    own_body, (a0, a1) = flat(case["body"][0]), case["body"][1]
    for other in case["others"]:
        left = left.difference(grown(flat(other["cutout"]), own, case["web"]))
        b0, b1 = other["depth"]
        gap = max(a0 - b1, b0 - a1, 0.0)
        asked = case["apart"]
        if gap < asked:
            left = left.difference(grown(flat(other["body"]), own_body, math.sqrt(asked * asked - gap * gap)))
    # chords of both shapes and of the disc
    bound = 2 * sag + 40 * (1 - math.cos(math.pi / 4 / QUARTER)) + 1e-4
    off = left.area - case["area"]
    least, most = -bound * left.length - 0.1, (case["tolerance"] + bound) * left.length + 1.0
    assert least <= off <= most, f"{where}: {case['area']} against {left.area}, {least} to {most} allowed"
    return left.area


def main():
    areas = []
    for n, line in enumerate(open(sys.argv[1], encoding="utf-8"), 1):
        areas.append(check(json.loads(line), f"case {n}"))
    some = sum(a > 1 for a in areas)
    assert some > len(areas) // 3, f"only {some} of {len(areas)} regions are not empty"
    print(f"{len(areas)} regions agree, {some} not empty")


main()

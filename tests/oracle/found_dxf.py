"""Writes panels as DXF with ezdxf and says what every closed contour in them measures, as ezdxf lays them out.

    python found_dxf.py FOLDER

Area, length and box come from ezdxf's own flattening to chords that leave the curve by at most 0.5 um, and shapely.
"""

import json
import math
import random
import sys
from pathlib import Path

import ezdxf
from ezdxf import units
from shapely.geometry import Polygon

FINE = 5e-4
BULGE = math.tan(math.pi / 8)


def rounded(x, y, w, h, r):
    b = BULGE
    return [
        (x + r, y, 0), (x + w - r, y, b), (x + w, y + r, 0), (x + w, y + h - r, b),
        (x + w - r, y + h, 0), (x + r, y + h, b), (x, y + h - r, 0), (x, y + r, b),
    ]


def poly(space, points, old):
    if old:
        return space.add_polyline2d(points, format="xyb", close=True)
    return space.add_lwpolyline(points, format="xyb", close=True)


def laid_out(space):
    for e in space:
        if e.dxftype() == "INSERT":
            for one in e.multi_insert() if e.mcount > 1 else [e]:
                yield from laid_out(one.virtual_entities())
        else:
            yield e


def points(e, k):
    """Points along an entity; not by ezdxf's paths, which make Béziers of circles."""
    if e.dxftype() in ("LWPOLYLINE", "POLYLINE"):
        out = []
        for part in e.virtual_entities():
            pts = points(part, k)
            if out and math.dist(out[-1], pts[0]) > math.dist(out[-1], pts[-1]):
                pts.reverse()
            out += pts[1:] if out else pts
        return out
    if e.dxftype() == "LINE":
        return [(e.dxf.start.x, e.dxf.start.y), (e.dxf.end.x, e.dxf.end.y)]
    return [(p[0], p[1]) for p in e.flattening(FINE * k)]


def measure(ring, mm):
    p = Polygon(ring)
    return {"area": p.area * mm * mm, "length": p.exterior.length * mm, "box": [v * mm for v in p.bounds]}


def write(folder, version, unit, seed):
    dice = random.Random(seed)
    doc = ezdxf.new(version, setup=False)
    mm = {"mm": 1.0, "in": 25.4, "cm": 10.0}[unit]
    k = 1 / mm
    old = version == "R12"
    if not old:
        doc.units = {"mm": units.MM, "in": units.IN, "cm": units.CM}[unit]
    space = doc.modelspace()
    poly(space, rounded(-30 * k, -20 * k, 560 * k, 300 * k, 25 * k), old)
    block = doc.blocks.new("B", base_point=(2 * k, k))
    block.add_circle((0, 0), 6.3 * k)
    poly(block, [(12 * k, -5 * k, 0.3), (24 * k, -5 * k, 0), (20 * k, 8 * k, -0.2)], old)
    nest = doc.blocks.new("N")
    nest.add_blockref("B", (3 * k, 2 * k), dxfattribs={"rotation": 25, "xscale": -1})
    for i, (rot, sx, sy) in enumerate([(0, 1, 1), (37, 1, 1), (90, 2, 2), (-15, -1, 1), (200, 1.5, -1.5)]):
        space.add_blockref("B", ((20 + 70 * i) * k, 20 * k), dxfattribs={"rotation": rot, "xscale": sx, "yscale": sy})
    space.add_blockref("N", (420 * k, 30 * k), dxfattribs={"rotation": 40, "xscale": 1.2, "yscale": 1.2})
    array = space.add_blockref("B", (20 * k, 210 * k))
    array.dxf.column_count, array.dxf.row_count = 3, 2
    array.dxf.column_spacing, array.dxf.row_spacing = 50 * k, 30 * k
    loose = []
    if not old:
        # an uneven scale makes ellipses of circles
        uneven = doc.blocks.new("E")
        uneven.add_circle((0, 0), 9 * k)
        poly(uneven, [(14 * k, -5 * k, 0), (24 * k, -5 * k, 0), (20 * k, 8 * k, 0)], old)
        space.add_blockref("E", (200 * k, 220 * k), dxfattribs={"xscale": 1.7, "yscale": 0.8, "rotation": 11})
        for i in range(4):
            c = ((30 + 80 * i) * k, 100 * k)
            ring = [(c[0] + dice.uniform(14, 26) * k * math.cos(t), c[1] + dice.uniform(14, 26) * k * math.sin(t), 0)
                    for t in (2 * math.pi * j / 9 for j in range(9))]
            if i == 0:
                space.add_open_spline(ring + ring[:1], degree=3)
            elif i == 1:
                space.add_rational_spline(ring + ring[:1], [dice.uniform(0.5, 2) for _ in range(10)], degree=3)
            elif i == 2:
                space.add_open_spline(ring + ring[:1], degree=4)
            else:
                # through points, written with its control points
                spline = space.add_spline()
                spline.apply_construction_tool(ezdxf.math.fit_points_to_cad_cv(ring + ring[:1]))
        space.add_ellipse((360 * k, 100 * k), major_axis=(28 * k, 9 * k), ratio=0.55)
        # half of one, closed by a straight
        half = space.add_ellipse((450 * k, 100 * k), major_axis=(25 * k, 0), ratio=0.6, start_param=0, end_param=math.pi)
        space.add_line((425 * k, 100 * k), (475 * k, 100 * k))
        loose = [half]
        space.add_ellipse((300 * k, 230 * k), major_axis=(0, 20 * k), ratio=0.5, dxfattribs={"extrusion": (0, 0, -1)})
    name = f"{version}-{unit}.dxf"
    doc.saveas(folder / name)
    contours = []
    for e in laid_out(space):
        if e.dxftype() == "LINE":
            continue
        ring = points(e, k)
        closed = e in loose or math.dist(ring[0], ring[-1]) < 1e-6 * k
        assert closed, e
        contours.append(measure(ring, mm))
    return {"file": name, "unit-mm": mm if old else None, "contours": contours}


def main():
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    versions = ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]
    facts = [write(folder, v, "mm", 60 + i) for i, v in enumerate(versions)]
    facts += [write(folder, "R2000", "in", 7), write(folder, "R2018", "cm", 8)]
    (folder / "facts.json").write_text(json.dumps(facts))
    print(f"{len(facts)} files, {sum(len(f['contours']) for f in facts)} contours")


main()

"""Writes DXF files with ezdxf and says what every closed contour in them measures.

    python cut_dxf.py FOLDER

Area, length and box come from the entities as ezdxf lays them out (blocks, extrusions, bulges), each arc as
1024 chords, and shapely. What that is off by: area 1e-5 of itself, length 2e-6, box 1e-4 mm.
"""

import json
import math
import random
import sys
from pathlib import Path

import ezdxf
from ezdxf import units
from shapely.geometry import Polygon

VERSIONS = ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]
CHORDS = 1024
BULGE = math.tan(math.pi / 8)


def rounded(x, y, w, h, r):
    """Corners of a rounded rectangle with their bulges, counter-clockwise."""
    b = BULGE
    return [
        (x + r, y, 0), (x + w - r, y, b), (x + w, y + r, 0), (x + w, y + h - r, b),
        (x + w - r, y + h, 0), (x + r, y + h, b), (x, y + h - r, 0), (x, y + r, b),
    ]


def poly(space, version, points, layer="CUT", **attribs):
    attribs = {"layer": layer, **attribs}
    if version == "R12":
        return space.add_polyline2d(points, format="xyb", close=True, dxfattribs=attribs)
    return space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=attribs)


def loose(space, dice, x, y, w, h, r, loops):
    """The same rounded rectangle as loose straights and arcs, in any order and either way round."""
    arcs = [
        ((x + w - r, y + r), 270, 360), ((x + w - r, y + h - r), 0, 90),
        ((x + r, y + h - r), 90, 180), ((x + r, y + r), 180, 270),
    ]
    lines = [
        ((x + r, y), (x + w - r, y)), ((x + w, y + r), (x + w, y + h - r)),
        ((x + w - r, y + h), (x + r, y + h)), ((x, y + h - r), (x, y + r)),
    ]
    adds = [("arc", a) for a in arcs] + [("line", l) for l in lines]
    dice.shuffle(adds)
    for kind, g in adds:
        if kind == "arc":
            space.add_arc(g[0], r, g[1], g[2], dxfattribs={"layer": "CUT"})
        else:
            a, b = g if dice.random() < 0.5 else g[::-1]
            space.add_line(a, b, dxfattribs={"layer": "CUT"})
    ring = []
    for k in range(4):
        ring.append(lines[k][0])
        ring.append(lines[k][1])
        c, start, end = arcs[k]
        ring += [(c[0] + r * math.cos(math.radians(start + (end - start) * i / CHORDS)),
                  c[1] + r * math.sin(math.radians(start + (end - start) * i / CHORDS))) for i in range(1, CHORDS)]
    loops.append(ring)


def flat(e):
    """Points along one line, arc or circle, in the drawing's own axes."""
    kind = e.dxftype()
    if kind == "LINE":
        return [e.dxf.start, e.dxf.end]
    if kind == "CIRCLE":
        return list(e.vertices([360 * k / CHORDS for k in range(CHORDS + 1)]))
    a, b = e.dxf.start_angle, e.dxf.end_angle
    if b <= a:
        b += 360
    return list(e.vertices([a + (b - a) * k / CHORDS for k in range(CHORDS + 1)]))


def ring(e):
    """Points round a closed entity."""
    if e.dxftype() == "CIRCLE":
        return [(p[0], p[1]) for p in flat(e)]
    out = []
    for part in e.virtual_entities():
        pts = [(p[0], p[1]) for p in flat(part)]
        if out and math.dist(out[-1], pts[0]) > math.dist(out[-1], pts[-1]):
            pts.reverse()
        elif not out:
            out = []
        out += pts
    return out


def lay_out(space):
    """Every closed entity, blocks laid out."""
    for e in space:
        if e.dxftype() == "INSERT":
            for one in e.multi_insert() if e.mcount > 1 else [e]:
                yield from lay_out(one.virtual_entities())
        elif e.dxftype() in ("CIRCLE", "LWPOLYLINE", "POLYLINE"):
            yield e


def measure(points, mm):
    p = Polygon(points)
    x0, y0, x1, y1 = p.bounds
    return {"area": p.area * mm * mm, "length": p.exterior.length * mm, "box": [v * mm for v in (x0, y0, x1, y1)]}


def write(folder, version, unit, seed):
    dice = random.Random(seed)
    doc = ezdxf.new(version, setup=False)
    mm = {"mm": 1.0, "in": 25.4, "cm": 10.0}[unit]
    if version != "R12":
        doc.units = {"mm": units.MM, "in": units.IN, "cm": units.CM}[unit]
    doc.layers.add("CUT")
    doc.layers.add("NOTES")
    space = doc.modelspace()
    k = 1 / mm
    holes = doc.blocks.new("HOLES", base_point=(2 * k, 1 * k))
    holes.add_circle((0, 0), 3.1 * k, dxfattribs={"layer": "CUT"})
    poly(holes, version, rounded(6 * k, -4 * k, 9 * k, 7 * k, 1.5 * k), layer="0")
    outer = doc.blocks.new("NEST")
    outer.add_blockref("HOLES", (1 * k, 1 * k), dxfattribs={"layer": "CUT", "rotation": 30})
    loops = []
    for i in range(6):
        x, y = 90 * (i % 3) * k, 80 * (i // 3) * k
        w, h, r = dice.uniform(30, 60) * k, dice.uniform(20, 50) * k, dice.uniform(1, 8) * k
        if i % 2:
            poly(space, version, rounded(x, y, w, h, r))
        else:
            loose(space, dice, x, y, w, h, r, loops)
        space.add_circle((x + w / 2, y + h / 2), dice.uniform(2, 9) * k, dxfattribs={"layer": "CUT"})
    # places far enough apart that nothing crosses
    for i, (rot, sx, sy) in enumerate([(0, 1, 1), (37, 1, 1), (90, 2, 2), (-15, -1, 1), (200, 1.5, -1.5)]):
        space.add_blockref("HOLES", (60 * i * k, 200 * k), dxfattribs={"layer": "CUT", "rotation": rot, "xscale": sx, "yscale": sy})
    space.add_blockref("NEST", (0, 260 * k), dxfattribs={"layer": "CUT", "rotation": 11, "xscale": 1.25, "yscale": 1.25})
    array = space.add_blockref("HOLES", (60 * k, 260 * k), dxfattribs={"layer": "CUT"})
    array.dxf.column_count, array.dxf.row_count = 3, 2
    array.dxf.column_spacing, array.dxf.row_spacing = 40 * k, 30 * k
    # drawn from behind: extrusion down
    space.add_circle((-20 * k, 350 * k), 6 * k, dxfattribs={"layer": "CUT", "extrusion": (0, 0, -1)})
    poly(space, version, rounded(-80 * k, 340 * k, 20 * k, 12 * k, 2 * k), extrusion=(0, 0, -1))
    space.add_text("NOT CUT", dxfattribs={"layer": "NOTES", "height": 5 * k}).set_placement((0, -20 * k))
    name = f"{version}-{unit}.dxf"
    doc.saveas(folder / name)
    contours = [measure(ring(e), mm) for e in lay_out(space)] + [measure(r, mm) for r in loops]
    return {"file": name, "unit": None if version == "R12" else unit, "contours": contours}


def main():
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    facts = [write(folder, v, "mm", 100 + k) for k, v in enumerate(VERSIONS)]
    facts += [write(folder, "R2000", "in", 7), write(folder, "R2010", "cm", 8)]
    (folder / "facts.json").write_text(json.dumps(facts))
    print(f"{len(facts)} files, {sum(len(f['contours']) for f in facts)} contours")


main()

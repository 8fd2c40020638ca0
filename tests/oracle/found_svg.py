"""Writes panels as SVG with svgwrite and with cairo and says what every closed contour measures, as svgelements reads them.

    python found_svg.py FOLDER

Curves and arcs are cut into 2000 chords each. The length of a user unit is worked out by hand.
"""

import io
import json
import math
import random
import sys
from pathlib import Path

import cairocffi
import svgwrite
from shapely.geometry import Polygon
from svgelements import SVG, Close, Line, Move, Shape
from svgelements import Path as SvgPath

CHORDS = 2000


def ring(sub):
    points = []
    for s in sub:
        if isinstance(s, (Move, Line, Close)):
            if s.end is not None:
                points.append((s.end.x, s.end.y))
        else:
            points += [(p.x, p.y) for p in (s.point(k / CHORDS) for k in range(1, CHORDS + 1))]
    return points


def measure(text, mm, shift=(0, 0)):
    out = []
    for e in SVG.parse(io.StringIO(text), reify=True).elements():
        if not isinstance(e, Shape):
            continue
        p = SvgPath(e)
        p.reify()
        for sub in p.as_subpaths():
            points = ring(SvgPath(sub))
            if len(points) < 3:
                continue
            p = Polygon(points)
            box = [v * mm - shift[i % 2] for i, v in enumerate(p.bounds)]
            out.append({"area": p.area * mm**2, "length": p.exterior.length * mm, "box": box})
    return out


def blob(dice, x, y, r, n=6):
    """A smooth closed path of cubics through points on a wobbly ring."""
    pts = []
    for k in range(n):
        a = 2 * math.pi * k / n
        q = r * dice.uniform(0.7, 1.1)
        pts.append((x + q * math.cos(a), y + q * math.sin(a)))
    d = f"M {pts[0][0]:.6f} {pts[0][1]:.6f} "
    for k in range(n):
        p0, p1, p2, p3 = pts[k - 1], pts[k], pts[(k + 1) % n], pts[(k + 2) % n]
        c1 = (p1[0] + (p2[0] - p0[0]) / 6, p1[1] + (p2[1] - p0[1]) / 6)
        c2 = (p2[0] - (p3[0] - p1[0]) / 6, p2[1] - (p3[1] - p1[1]) / 6)
        d += f"C {c1[0]:.6f} {c1[1]:.6f} {c2[0]:.6f} {c2[1]:.6f} {p2[0]:.6f} {p2[1]:.6f} "
    return d + "Z"


def by_svgwrite(folder, name, size, view, mm, seed):
    dice = random.Random(seed)
    dwg = svgwrite.Drawing(size=size, viewBox=view, debug=False)
    g = dwg.g(fill="none", stroke="black", id="panel")
    g.add(dwg.rect((20, 10), (460, 240), rx=20, ry=12))
    g.add(dwg.circle((70, 60), dice.uniform(20, 30)))
    g.add(dwg.ellipse((150, 60), (30, 18)))
    turned = dwg.g(transform="translate(230 60) rotate(25) scale(1.2 0.7)")
    turned.add(dwg.ellipse((0, 0), (25, 14)))
    g.add(turned)
    g.add(dwg.path(d=blob(dice, 310, 60, 28)))
    g.add(dwg.path(d="M 370 50 Q 385 20 400 50 T 430 50 L 430 90 T 400 90 T 370 90 Z"))
    g.add(dwg.path(d="M 60 140 a 40 20 30 1 1 30 15 z"))
    g.add(dwg.path(d="M 150 130 c 10 -25 40 -25 50 0 s 30 40 0 50 s -60 -20 -50 -50 z"))
    g.add(dwg.polygon([(240, 130), (280, 125), (270, 170), (245, 165)]))
    shape = dwg.path(d="M 0 0 h 20 q 8 0 8 8 v 12 a 6 9 0 0 1 -6 9 h -22 z", id="shape")
    dwg.defs.add(shape)
    for k, (x, y, t) in enumerate([(310, 130, ""), (360, 130, "rotate(20 360 130)"), (420, 170, "rotate(-35 420 170)")]):
        g.add(dwg.use("#shape", insert=(x, y), **({"transform": t} if t else {})))
    skew = dwg.g(transform="translate(80 200) skewX(15) matrix(0.9 0.2 -0.1 1.1 0 0)")
    # no arcs: svgelements turns a skewed arc by its conjugate diameters as if they were axes
    skew.add(dwg.polygon([(0, 0), (40, 0), (44, 25), (0, 20)]))
    skew.add(dwg.path(d=blob(dice, 80, 5, 14)))
    g.add(skew)
    dwg.add(g)
    text = dwg.tostring()
    (folder / name).write_text(text)
    x, y, w, h = map(float, view.split())
    head = text[text.index("<svg"):text.index(">", text.index("<svg")) + 1]
    plain = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="1000" height="1000" viewBox="0 0 1000 1000">'
    contours = measure(text.replace(head, plain), mm, (x * mm, y * mm))
    return {"file": name, "unit-mm": None, "contours": contours}


def by_cairo(folder, name, seed):
    dice = random.Random(seed)
    at = folder / name
    surface = cairocffi.SVGSurface(str(at), 1000, 600)
    c = cairocffi.Context(surface)
    c.set_line_width(0.5)

    def stroke():
        c.close_path()
        c.stroke()

    c.rectangle(30, 30, 900, 500)
    stroke()
    for k in range(5):
        c.new_sub_path()
        c.arc(120 + 150 * k, 130, dice.uniform(20, 60), 0, 2 * math.pi)
        stroke()
    for k in range(4):
        c.save()
        c.translate(130 + 180 * k, 300)
        c.rotate(dice.uniform(0, 3))
        c.scale(dice.uniform(0.7, 1.4), dice.uniform(0.6, 1.2))
        c.new_sub_path()
        c.arc(30, -15, 10, -math.pi / 2, 0)
        c.arc(30, 15, 10, 0, math.pi / 2)
        c.arc(-30, 15, 10, math.pi / 2, math.pi)
        c.arc(-30, -15, 10, math.pi, 1.5 * math.pi)
        stroke()
        c.restore()
    c.move_to(150, 420)
    c.curve_to(180, 380, 260, 470, 300, 430)
    c.curve_to(330, 480, 200, 500, 150, 470)
    stroke()
    surface.finish()
    text = at.read_text()
    head = text[text.index("<svg"):text.index(">", text.index("<svg")) + 1]
    plain = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="1000" height="600" viewBox="0 0 1000 600">'
    # cairo writes its points: 72 to the inch, whether it names them or not
    mm = 25.4 / 72
    return {"file": name, "unit-mm": None if "pt" in head else mm, "contours": measure(text.replace(head, plain), mm)}


def main():
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    facts = [
        by_svgwrite(folder, "plain.svg", ("500mm", "260mm"), "0 0 500 260", 1.0, 1),
        by_svgwrite(folder, "inches.svg", ("20in", "10.4in"), "0 0 500 260", 25.4 / 25, 2),
        by_svgwrite(folder, "offset.svg", ("50cm", "26cm"), "-10 -5 500 260", 1.0, 3),
        by_cairo(folder, "cairo-1.svg", 4),
        by_cairo(folder, "cairo-2.svg", 5),
        by_cairo(folder, "cairo-3.svg", 6),
    ]
    (folder / "facts.json").write_text(json.dumps(facts))
    print(f"{len(facts)} files, {sum(len(f['contours']) for f in facts)} contours")


main()

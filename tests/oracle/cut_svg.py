"""Writes SVG files and says what every closed contour in them measures, as svgelements reads them.

    python cut_svg.py FOLDER

Arcs are cut into 1024 chords; svgelements takes a millimetre as 0.0393701 in, which is off by 5e-7: the numbers
here are taken in its pixels and turned to millimetres by the file's own proportion of width and viewBox.
"""

import json
import math
import random
import sys
from pathlib import Path

from shapely.geometry import Polygon
from svgelements import SVG, Arc, Close, Line, Move, Shape
from svgelements import Path as SvgPath

CHORDS = 1024


def content(dice):
    """Shapes in a field of 50 x 50 cells, none of them crossing, and of every kind."""
    out = []

    def cell(k):
        return 60 * (k % 5) + 30, 60 * (k // 5) + 30

    x, y = cell(0)
    out.append(f'<circle cx="{x}" cy="{y}" r="{dice.uniform(3, 20):.4f}"/>')
    x, y = cell(1)
    out.append(f'<rect x="{x - 20}" y="{y - 15}" width="40" height="30" rx="4.5"/>')
    x, y = cell(2)
    out.append(f'<rect x="{x - 20}" y="{y - 15}" width="33" height="20"/>')
    x, y = cell(3)
    out.append(f'<polygon points="{x - 20},{y - 20} {x + 20},{y - 18} {x + 5},{y + 22}"/>')
    x, y = cell(4)
    out.append(f'<ellipse cx="{x}" cy="{y}" rx="12.5" ry="12.5"/>')
    x, y = cell(5)
    out.append(f'<path d="M{x - 20} {y - 10} h30 a10 10 0 0 1 10 10 v5 a10 10 0 0 1 -10 10 h-30 a12.5 12.5 0 1 1 0 -25z"/>')
    x, y = cell(6)
    out.append(f'<path d="m{x} {y}m-15 0a15 15 0 1 0 30 0a15 15 0 1 0-30 0Z m5 0 a10 10 0 1 1 20 0 10 10 0 1 1 -20 0z"/>')
    x, y = cell(7)
    out.append(f'<path d="M {x - 20},{y - 20} L {x + 20},{y - 20} {x + 20},{y + 20} H {x - 20} V {y - 20} Z"/>')
    x, y = cell(8)
    turn = dice.uniform(-80, 80)
    out.append(f'<g transform="translate({x} {y}) rotate({turn:.3f})"><rect x="-18" y="-11" width="36" height="22" rx="3" ry="3"/>'
               f'<g transform="scale(-1.2,1.2)"><path d="M-6 -4 A 5 5 0 0 1 4 -4 L 4 4 L -6 4 Z"/></g></g>')
    x, y = cell(9)
    out.append(f'<g transform="matrix(0.8 0.6 0.6 -0.8 {x} {y})"><path d="M-10 -10 A 30 30 0 0 1 12 -8 L 12 9 A 3 3 0 0 1 9 12 L -10 12 Z"/></g>')
    x, y = cell(10)
    out.append(f'<g transform="translate({x},{y}) skewX(20) scale(1 0.5)"><polygon points="-20 -20 20 -20 20 20 -20 20"/></g>')
    x, y = cell(11)
    out.append(f'<path d="M{x - 3} {y}A 2 2 0 0 1 {x + 9} {y} z"/>')
    x, y = cell(12)
    out.append(f'<circle cx="{x}" cy="{y}" r="7" transform="rotate(33 {x + 4} {y - 2})"/>')
    return "\n".join(out)


def ring(sub):
    points = []
    for s in sub:
        if isinstance(s, Move):
            points.append((s.end.x, s.end.y))
        elif isinstance(s, (Line, Close)):
            if s.end is not None:
                points.append((s.end.x, s.end.y))
        elif isinstance(s, Arc):
            points += [(p.x, p.y) for p in (s.point(k / CHORDS) for k in range(1, CHORDS + 1))]
        else:
            raise SystemExit(f"unexpected piece {s!r}")
    return points


def measure(text, mm_per_px):
    import io
    out = []
    for e in SVG.parse(io.StringIO(text), reify=True).elements():
        if not isinstance(e, Shape):
            continue
        path = SvgPath(e)
        path.reify()
        for sub in path.as_subpaths():
            points = ring(SvgPath(sub))
            if len(points) < 3:
                continue
            p = Polygon(points)
            out.append({"area": p.area * mm_per_px**2, "length": p.exterior.length * mm_per_px,
                        "box": [v * mm_per_px for v in p.bounds]})
    return out


def main():
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    facts = []
    heads = [
        ("mm", 'width="300mm" height="200mm" viewBox="0 0 300 200"', 1.0),
        ("in", 'width="10in" height="8in" viewBox="0 0 500 400"', 25.4 / 50),
        ("offset", 'width="60cm" height="40cm" viewBox="-15 25 300 200"', 2.0),
        ("no-box", 'width="300mm" height="200mm"', 25.4 / 96),
        ("pixels", 'width="300" height="200" viewBox="0 0 300 200"', 25.4 / 96),
    ]
    for k, (name, head, mm) in enumerate(heads):
        body = content(random.Random(40 + k))
        text = (f'<svg xmlns="http://www.w3.org/2000/svg" {head}>\n<g id="cut" class="cut" fill="none" stroke="#000">\n'
                f"{body}\n</g>\n<text x=\"5\" y=\"5\">not cut</text>\n</svg>\n")
        (folder / f"{name}.svg").write_text(text)
        # the reader gets the shapes in plain user units, so that only shapes and transforms are compared;
        # the size of a user unit is worked out by hand above
        plain = text.replace(head, 'width="1000" height="1000" viewBox="0 0 1000 1000"')
        contours = measure(plain, mm)
        shift = (-15 * mm, 25 * mm) if name == "offset" else (0, 0)
        for c in contours:
            c["box"] = [v - shift[i % 2] for i, v in enumerate(c["box"])]
        facts.append({"file": f"{name}.svg", "unit": None if name == "pixels" else "mm", "contours": contours})
    (folder / "facts.json").write_text(json.dumps(facts))
    print(f"{len(facts)} files, {sum(len(f['contours']) for f in facts)} contours")


main()

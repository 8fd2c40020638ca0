"""Reads SVG files with svgelements and the standard XML parser and compares them with facts.json.

Fails on a wrong paper size, an id used twice, or a circle, arc, contour, line or text that is missing, extra
or off by more than 5e-6 mm (ends, centres and radii of arcs included).
"""
import io
import json
import math
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

from svgelements import SVG, Arc, Circle, Close, Ellipse, Line, Move, SimpleLine, Text
from svgelements import Path as SvgPath

TOLERANCE = 5e-6
faults = []
worst = 0.0


def match(file, what, found, wanted):
    global worst
    left = list(found)
    for layer, numbers in wanted:
        best, gap = None, math.inf
        for f in left:
            if f[0] == layer and len(f[1]) == len(numbers):
                g = max((abs(x - y) for x, y in zip(f[1], numbers)), default=0.0)
                if g < gap:
                    best, gap = f, g
        if gap > TOLERANCE:
            faults.append(f"{file}: {what} on {layer} {numbers} not found, nearest {best} off by {gap}")
        else:
            worst = max(worst, gap)
            left.remove(best)
    for f in left:
        faults.append(f"{file}: {what} not expected: {f}")


def pieces(path, height):
    """Numbers of a path's pieces in page coordinates: ends, and centre and radius of arcs."""
    out, start = [], None
    y = lambda p: height - p.y
    for s in path:
        if isinstance(s, Move):
            start = s.end
        elif isinstance(s, Arc):
            out += [s.start.x, y(s.start), s.end.x, y(s.end), s.center.x, y(s.center), s.rx, s.ry]
        elif isinstance(s, (Line, Close)):
            end = s.end if isinstance(s, Line) else start
            if isinstance(s, Close) and abs(s.start - end) < 1e-9:
                continue
            out += [s.start.x, y(s.start), end.x, y(end)]
        else:
            faults.append(f"piece {s!r}")
    return tuple(out)


def expected(pieces):
    out = []
    for p in pieces:
        (ax, ay), (bx, by) = p["a"], p["b"]
        if "centre" not in p:
            out += [ax, ay, bx, by]
            continue
        (cx, cy), rx, ry, start, sweep = p["centre"], p["rx"], p["ry"], p["start"], p["sweep"]
        n = max(1, math.ceil(abs(sweep) / (math.tau / 3) - 1e-9))
        for k in range(n):
            s0, s1 = start + sweep * k / n, start + sweep * (k + 1) / n
            a = (ax, ay) if k == 0 else (cx + rx * math.cos(s0), cy + ry * math.sin(s0))
            b = (bx, by) if k == n - 1 else (cx + rx * math.cos(s1), cy + ry * math.sin(s1))
            out += [*a, *b, cx, cy, rx, ry]
    return tuple(out)


def check(path, page):
    root = ET.parse(path).getroot()
    for what in ("width", "height"):
        if not root.get(what).endswith("mm") or abs(float(root.get(what)[:-2]) - page[what]) > 1e-6:
            faults.append(f"{path.name}: {what} {root.get(what)}")
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    if len(ids) != len(set(ids)):
        faults.append(f"{path.name}: an id is used twice: {ids}")
    space = "{http://www.w3.org/2000/svg}"
    title = root.find(f"{space}title").text.strip()
    if not title.startswith(page["title"]):
        faults.append(f"{path.name}: title {title!r}")

    # the reader takes a millimetre as 0.0393701 in, which is off by 5e-7: give it the paper in plain numbers
    ET.register_namespace("", space[1:-1])
    for what in ("width", "height"):
        root.set(what, root.get(what)[:-2])
    svg = SVG.parse(io.BytesIO(ET.tostring(root)), reify=True)
    h = page["height"]
    found = {k: [] for k in ("circle", "path", "line", "text")}
    for e in svg.elements():
        layer = e.values.get("data-layer") if hasattr(e, "values") else None
        subject = e.values.get("data-subject") if hasattr(e, "values") else None
        if isinstance(e, (Circle, Ellipse)):
            found["circle"].append((f"{layer} {subject}", (e.cx, h - e.cy, e.rx, e.ry)))
        elif isinstance(e, SimpleLine):
            found["line"].append((layer, (e.x1, h - e.y1, e.x2, h - e.y2)))
        elif isinstance(e, SvgPath) and layer == "HATCH":
            for sub in e.as_subpaths():
                found["line"].append((layer, pieces(sub, h)))
        elif isinstance(e, SvgPath):
            found["path"].append((f"{layer} {subject}", pieces(e, h)))
        elif isinstance(e, Text):
            found["text"].append((f"{layer} {e.text}", ()))
    wanted = {k: [] for k in found}
    for i in page["items"]:
        named = f"{i['layer']} {i['subject']}"
        if i["kind"] == "circle":
            wanted["circle"].append((named, (*i["centre"], i["rx"], i["ry"])))
        elif i["kind"] == "line":
            wanted["line"].append((i["layer"], (*i["a"], *i["b"])))
        elif i["kind"] == "arc":
            wanted["path"].append((named, expected([i])))
        elif i["kind"] in ("path", "chain"):
            wanted["path"].append((named, expected(i["pieces"])))
        else:
            wanted["text"].append((f"{i['layer']} {i['text']}", ()))
    for what in found:
        match(path.name, what, found[what], wanted[what])
    return sum(len(v) for v in found.values())


folder = Path(sys.argv[1])
facts = json.loads((folder / "facts.json").read_text())
count = sum(check(folder / page["file"], page) for page in facts["pages"])
print(f"{len(facts['pages'])} files, {count} elements compared, worst {worst:.2e} mm")
if faults:
    print("\n".join(faults[:40]))
    sys.exit(1)
if count < 100:
    sys.exit("too few elements: the comparison is empty")

"""Reads DXF files with ezdxf (strict) and compares every entity with facts.json.

Fails on any audit error or repair, a handle used twice, an open or foreign entity on the layer that is cut,
a wrong unit, or a circle, arc, contour, line or text that is missing, extra or off by more than 1e-6 mm.
"""
import json
import math
import sys
from pathlib import Path

import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.math import bulge_to_arc

TOLERANCE = 1e-6
faults = []


def pieces_of(points, closed):
    """Line and arc pieces of (x, y, bulge) vertices, as comparable tuples."""
    n = len(points)
    out = []
    for k in range(n if closed else n - 1):
        (x, y, bulge), (u, v, _) = points[k], points[(k + 1) % n]
        if bulge:
            centre, _, _, radius = bulge_to_arc((x, y), (u, v), bulge)
            out.append((x, y, u, v, centre.x, centre.y, radius, 4 * math.atan(bulge)))
        else:
            out.append((x, y, u, v))
    return out


def expected_pieces(pieces, scale):
    out = []
    for p in pieces:
        (ax, ay), (bx, by) = p["a"], p["b"]
        if "centre" not in p:
            out.append((ax / scale, ay / scale, bx / scale, by / scale))
            continue
        (cx, cy), r, start, sweep = p["centre"], p["rx"], p["start"], p["sweep"]
        n = max(1, math.ceil(abs(sweep) / math.pi - 1e-9))
        for k in range(n):
            s0, s1 = start + sweep * k / n, start + sweep * (k + 1) / n
            a = (ax, ay) if k == 0 else (cx + r * math.cos(s0), cy + r * math.sin(s0))
            b = (bx, by) if k == n - 1 else (cx + r * math.cos(s1), cy + r * math.sin(s1))
            out.append(tuple(v / scale for v in (*a, *b, cx, cy, r)) + (sweep / n,))
    return out


def same(a, b, tolerance):
    return len(a) == len(b) and all(abs(x - y) <= tolerance for x, y in zip(a, b))


def match(file, what, found, wanted, tolerance):
    """Every wanted thing is found once and nothing else: both are lists of (layer, numbers)."""
    left = list(found)
    for layer, numbers in wanted:
        hit = next((f for f in left if f[0] == layer and same(f[1], numbers, tolerance)), None)
        if hit is None:
            near = min((f for f in left if f[0] == layer and len(f[1]) == len(numbers)),
                       key=lambda f: max(abs(x - y) for x, y in zip(f[1], numbers)), default=None)
            faults.append(f"{file}: {what} on {layer} {numbers} not found, nearest {near}")
        else:
            left.remove(hit)
    for f in left:
        faults.append(f"{file}: {what} not expected: {f}")


def flat(pieces):
    return tuple(v for p in pieces for v in p)


def check(path, page, version):
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    for e in audit.errors:
        faults.append(f"{path.name}: audit error {e.code} {e.message}")
    for e in audit.fixes:
        faults.append(f"{path.name}: audit repair {e.code} {e.message}")
    wanted_version = {"dxf": "AC1015", "dxf-r12": "AC1009"}[version]
    if doc.dxfversion != wanted_version:
        faults.append(f"{path.name}: version {doc.dxfversion}")
    inch = page["unit"] == "inch"
    scale = 25.4 if inch else 1.0
    if version == "dxf" and doc.header.get("$INSUNITS") != (1 if inch else 4):
        faults.append(f"{path.name}: unit {doc.header.get('$INSUNITS')}")
    lines = path.read_text("ascii").split("\n")
    pairs = [(lines[k].strip(), lines[k + 1].rstrip("\r")) for k in range(0, len(lines) - 1, 2)]
    handles = [v for k, (c, v) in enumerate(pairs) if c in ("5", "105") and (c != "5" or pairs[k - 1][1] != "$HANDSEED")]
    if version == "dxf" and (len(handles) != len(set(handles)) or "0" in handles):
        faults.append(f"{path.name}: a handle is used twice or is zero")
    if version == "dxf":
        seed = int(doc.header["$HANDSEED"], 16)
        if any(int(h, 16) >= seed for h in handles):
            faults.append(f"{path.name}: a handle is not below the next free one")

    found = {k: [] for k in ("circle", "arc", "line", "closed", "open", "text")}
    for e in doc.modelspace():
        layer, kind = e.dxf.layer, e.dxftype()
        if layer == "CUT" and not (kind == "CIRCLE" or (kind == "LWPOLYLINE" and e.closed) or (kind == "POLYLINE" and e.is_closed)):
            faults.append(f"{path.name}: {kind} on the layer that is cut")
        if kind == "CIRCLE":
            found["circle"].append((layer, (e.dxf.center.x, e.dxf.center.y, e.dxf.radius)))
        elif kind == "ARC":
            c = e.dxf.center
            found["arc"].append((layer, (c.x, c.y, e.dxf.radius, *e.start_point.xyz[:2], *e.end_point.xyz[:2])))
        elif kind == "LINE":
            found["line"].append((layer, (*e.dxf.start.xyz[:2], *e.dxf.end.xyz[:2])))
        elif kind in ("LWPOLYLINE", "POLYLINE"):
            if kind == "LWPOLYLINE":
                points, closed = list(e.get_points("xyb")), e.closed
            else:
                points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in e.vertices]
                closed = e.is_closed
            found["closed" if closed else "open"].append((layer, flat(pieces_of(points, closed))))
        elif kind == "TEXT":
            align, p, _ = e.get_placement()
            across = {"LEFT": "left", "CENTER": "middle", "RIGHT": "right"}[align.name.split("_")[-1]]
            up = {"TOP": "top", "MIDDLE": "middle"}.get(align.name.split("_")[0], "baseline")
            insert = e.dxf.insert
            found["text"].append((f"{layer} {decode_dxf_unicode(e.plain_text())!r} {across} {up}",
                                  (p.x, p.y, e.dxf.height, e.dxf.rotation, insert.x, insert.y)))
        else:
            faults.append(f"{path.name}: {kind} was not expected")

    wanted = {k: [] for k in found}
    for i in page["items"]:
        layer, kind = i["layer"], i["kind"]
        if kind == "circle":
            wanted["circle"].append((layer, tuple(v / scale for v in (*i["centre"], i["rx"]))))
        elif kind == "arc":
            (cx, cy), r = i["centre"], i["rx"]
            a, b = (i["a"], i["b"]) if i["sweep"] > 0 else (i["b"], i["a"])
            wanted["arc"].append((layer, tuple(v / scale for v in (cx, cy, r, *a, *b))))
        elif kind == "line":
            wanted["line"].append((layer, tuple(v / scale for v in (*i["a"], *i["b"]))))
        elif kind in ("path", "chain"):
            key = "closed" if kind == "path" else "open"
            wanted[key].append((layer, flat(expected_pieces(i["pieces"], scale))))
        else:
            wanted["text"].append((f"{layer} {i['text']!r} {i['across']} {i['up']}",
                                   (i["at"][0] / scale, i["at"][1] / scale, i["height"] / scale, i["angle"],
                                    i["origin"][0] / scale, i["origin"][1] / scale)))
    for what in found:
        match(path.name, what, found[what], wanted[what], TOLERANCE)
    return sum(len(v) for v in found.values())


folder = Path(sys.argv[1])
facts = json.loads((folder / "facts.json").read_text())
count = sum(check(folder / page["file"], page, facts["format"]) for page in facts["pages"])
print(f"{len(facts['pages'])} files, {count} entities compared")
if faults:
    print("\n".join(faults[:40]))
    sys.exit(1)
if count < 100:
    sys.exit("too few entities: the comparison is empty")

"""The demo's shop files read by ezdxf and held against a table made by hand from the panel file.

Every circle on the cut layer: how many, which diameter, where; the one cutout that is no circle: closed,
its area and its arcs. Nothing else may stand on the cut layer. Positions are compared with the outlet
at (-100, 28) as the anchor, because a shop file has its own origin.
    python shop_file.py FILE...
"""

import math
import re
import sys

import ezdxf

from demo_hand import ANCHOR, BY_HAND, COUNTS


def circles_of(doc, scale):
    found = []
    for e in doc.modelspace().query('CIRCLE[layer=="CUT"]'):
        found.append((round(2 * e.dxf.radius * scale, 2), e.dxf.center.x * scale, e.dxf.center.y * scale))
    return found


def main():
    for name in sys.argv[1:]:
        doc = ezdxf.readfile(name)
        audit = doc.audit()
        assert not audit.errors and not audit.fixes, (name, audit.errors, audit.fixes)
        circles = circles_of(doc, 1.0)
        others = [e for e in doc.modelspace() if e.dxf.layer == "CUT" and e.dxftype() != "CIRCLE"]
        counts = {}
        for d, _, _ in circles:
            counts[d] = counts.get(d, 0) + 1
        assert counts == COUNTS, (name, counts)
        anchor = next(c for c in circles if c[0] == ANCHOR)
        dx, dy = anchor[1] + 100, anchor[2] - 28
        # the words that tell the datum in the file's own coordinates
        words = " ".join(e.dxf.text for e in doc.modelspace().query("TEXT"))
        told = re.search(r"datum \(0, 0\) stands at x ([-0-9.]+) mm .*?, y ([-0-9.]+) mm", words)
        assert told, (name, words)
        assert abs(float(told[1]) - dx) < 0.01 and abs(float(told[2]) - dy) < 0.01, (name, told[0], dx, dy)
        for d, centres in BY_HAND.items():
            got = sorted((x - dx, y - dy) for e, x, y in circles if e == d)
            for (gx, gy), (wx, wy) in zip(got, sorted(centres), strict=True):
                assert math.hypot(gx - wx, gy - wy) < 1e-4, (name, d, (gx, gy), (wx, wy))
        # the engine display's cutout, 78 x 64 mm with rounded corners: one closed contour
        assert len(others) == 1, (name, [e.dxftype() for e in others])
        (e,) = others
        if e.dxftype() == "LWPOLYLINE":
            closed, points = e.closed, [(x, y, b) for x, y, _, _, b in e.get_points()]
        else:
            assert e.dxftype() == "POLYLINE", e.dxftype()
            closed = e.is_closed
            points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0)) for v in e.vertices]
        assert closed
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        assert abs(max(xs) - min(xs) - 78) < 1e-4 and abs(max(ys) - min(ys) - 64) < 1e-4
        bulges = [b for _, _, b in points if b]
        assert len(bulges) == 4 and all(abs(abs(b) - math.tan(math.pi / 8)) < 1e-6 for b in bulges), bulges
        assert abs((max(xs) + min(xs)) / 2 - dx - 177.8) < 1e-4 and abs((max(ys) + min(ys)) / 2 - dy - 105) < 1e-4
        print(f"{name.rsplit('/', 1)[-1]}: {len(circles)} circles and 1 contour are as the panel file says")


main()

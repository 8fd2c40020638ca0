"""Nets read back from the pages of a mock-up kit: lengths of folds and cuts, and that no piece lies on another.

One case a line: pages (SVG, 1:1), the paper's size, and the bodies with what their nets must measure.
"""
import json
import math
import sys

from lxml import etree
from shapely.geometry import LineString, Point, Polygon, box

NEAR = 0.01
SVG = "{http://www.w3.org/2000/svg}"


def length(a, b):
    return math.hypot(b[0] - a[0], b[1] - a[1])


def corners(d):
    words = d.split()
    assert words[-1] == "Z" and all(w[0] in "ML" for w in words[:-1:2]), d[:80]
    return [(float(x[1:]), float(y)) for x, y in zip(words[:-1:2], words[1:-1:2])]


def read(path):
    """Cut outlines, lines and circles of a page, each with its subject and layer, in millimetres."""
    tree = etree.parse(path).getroot()
    size = (float(tree.get("width")[:-2]), float(tree.get("height")[:-2]))
    assert tree.get("viewBox") == f"0 0 {tree.get('width')[:-2]} {tree.get('height')[:-2]}"
    cuts, marks, scale = [], [], []
    for group in tree.iter(SVG + "g"):
        layer = group.get("data-layer")
        if layer is None:
            continue
        clipped = any(a.get("clip-path") for a in [group, *group.iterancestors()])
        for e in group:
            of = e.get("data-subject")
            if e.tag == SVG + "path" and layer == "CUT":
                cuts.append((of, corners(e.get("d")), clipped))
            elif e.tag == SVG + "line":
                ends = [(float(e.get("x1")), float(e.get("y1"))), (float(e.get("x2")), float(e.get("y2")))]
                (scale if layer == "SCALE" else marks).append((layer, of, ends, clipped))
            elif e.tag == SVG + "circle":
                c = (float(e.get("cx")), float(e.get("cy")), float(e.get("r")))
                marks.append((layer, of, c, clipped))
    return size, cuts, marks, scale


def same(got, want, what):
    got, want = sorted(got), sorted(want)
    assert len(got) == len(want), (what, got, want)
    for a, b in zip(got, want):
        assert abs(a - b) <= NEAR, (what, got, want)


def edges(outline):
    return [length(a, b) for a, b in zip(outline, outline[1:] + outline[:1])]


def has(outline, wanted, times, what):
    found = sum(abs(e - wanted) <= NEAR for e in edges(outline))
    assert found >= times, (what, wanted, found)


def check_body(body, cuts, marks):
    own = [c for of, c, _ in cuts if of == body["id"]]
    lines = [(layer, m) for layer, of, m, _ in marks if of == body["id"] and isinstance(m, list)]
    circles = [(layer, of, m) for layer, of, m, _ in marks if isinstance(m, tuple)]
    folds = [length(*m) for layer, m in lines if layer == "MARK"]
    glued = [length(*m) for layer, m in lines if layer == "REGISTER"]
    depth = body["depth"]
    if body["is"] == "box":
        long, short = max(body["wide"], body["high"]), min(body["wide"], body["high"])
        # four folds along the depth, and round the back and the front
        same(folds, 4 * [depth] + 4 * [long] + 4 * [short], body["id"])
        assert len(own) == 1
        has(own[0], long + 2 * short, 2, "free edges of the sides")
        has(own[0], depth, 1, "the free end")
        plug_side(body, own[0], lines, circles)
    elif body["is"] == "round":
        around = math.pi * body["diameter"]
        # the strip: its front edge, and the line that its end is rolled to
        same(folds, [around], body["id"])
        same(glued, [depth], body["id"])
        strip = max(own, key=lambda c: Polygon(c).area if abs(max(edges(c)) - around) <= NEAR else 0)
        has(strip, around, 1, "far edge of the strip")
        has(strip, depth, 1, "end of the strip")
        box_of = Polygon(strip).bounds
        wide = {round(box_of[2] - box_of[0], 2), round(box_of[3] - box_of[1], 2)}
        # the tab to glue is 8 mm wide, less on a short strip
        asked = round(around + min(8.0, 0.5 * around, 0.35 * depth), 2)
        assert any(abs(w - asked) <= NEAR for w in wide), (wide, asked)
        assert any(layer == "MARK" and of == body["id"] and abs(2 * m[2] - body["diameter"]) <= NEAR for layer, of, m in circles)
    elif body["is"] == "sides":
        # an L in one piece: a fold along each corner, and round both faces
        same(folds, len(body["sides"]) * [depth] + 2 * body["sides"], body["id"])
    elif body["is"] == "rings":
        assert any(rings_fit(body, n, own, lines) for n in (1, 2, 3)), body
    else:
        raise AssertionError(body["is"])


def rings_fit(body, rings, own, lines):
    """Strips are the pieces with a line as long as a ring is deep: in front, and between rings, their lines run round."""
    high = body["depth"] / rings
    fronts = between = strips = 0
    for outline in own:
        p = Polygon(outline).buffer(0.02)
        inside = [(layer, length(*m)) for layer, m in lines if p.covers(LineString(m))]
        if not any(abs(l - high) <= NEAR for _, l in inside):
            continue
        strips += 1
        fronts += sum(l for layer, l in inside if layer == "MARK" and abs(l - high) > NEAR)
        between += sum(l for layer, l in inside if layer == "REGISTER" and abs(l - high) > NEAR)
        has(outline, high, 1, "end of a strip")
    return strips > 0 and abs(fronts - body["around"]) <= NEAR and abs(between - (rings - 1) * body["around"]) <= NEAR


def plug_side(body, outline, lines, circles):
    """The connector's place: right and up as seen from the seat, on a back that hangs on the top or the bottom."""
    right, up, radius = body["plug"]
    place = [m for layer, of, m in circles if layer == "OUTLINE" and of == "box.plug"]
    assert len(place) == 1 and abs(place[0][2] - radius) <= NEAR, place
    x, y, _ = place[0]
    # the hinge: the fold of the long side nearest to it, below it on the paper (the page counts y downwards)
    long = max(body["wide"], body["high"])
    folds = [m for layer, m in lines if layer == "MARK" and abs(length(*m) - long) <= NEAR and m[0][1] > y]
    hinge = min(folds, key=lambda m: m[0][1] - y)
    across = x - (hinge[0][0] + hinge[1][0]) / 2
    away = hinge[0][1] - y
    half = min(body["wide"], body["high"]) / 2
    from_top = (right, half - up)
    from_bottom = (-right, half + up)
    found = [w for w in (from_top, from_bottom) if abs(across - w[0]) <= NEAR and abs(away - w[1]) <= NEAR]
    assert found, ("the connector is mirrored", across, away, from_top, from_bottom)


def check_page(name, paper, page):
    size, cuts, marks, scale = page
    assert all(abs(a - b) <= NEAR for a, b in zip(size, paper)), (name, size)
    whole = box(5, 5, size[0] - 5, size[1] - 5)
    pieces = []
    for of, c, clipped in cuts:
        p = Polygon(c)
        assert p.is_valid, (name, of, "its outline crosses itself")
        if clipped:
            continue
        assert whole.contains(p), (name, of, "lies off the page", p.bounds)
        for other, q in pieces:
            assert not p.intersects(q), (name, of, other, "lie on each other")
        pieces.append((of, p))
    folds = 0
    for layer, of, m, clipped in marks:
        if layer != "MARK" or clipped:
            continue
        shape = LineString(m) if isinstance(m, list) else Point(m[0], m[1]).buffer(m[2] - 0.02)
        assert any(o == of and p.buffer(0.02).covers(shape) for o, p in pieces), (name, of, m, "a fold off its piece")
        folds += 1
    if cuts:
        # bars both ways, of true length
        spans = {round(length(*m), 3) for _, _, m, _ in scale}
        assert spans & {250.0, 200.0, 150.0, 100.0} and spans & {254.0, 203.2, 152.4, 101.6}, (name, sorted(spans))
    return len(pieces), folds


def beside(page, by):
    """A page moved to the right, so that pages do not lie on each other."""
    def move(m):
        return [(x + by, y) for x, y in m] if isinstance(m, list) else (m[0] + by, *m[1:])

    size, cuts, marks, scale = page
    return size, [(o, move(c), k) for o, c, k in cuts], [(l, o, move(m), k) for l, o, m, k in marks], scale


def main():
    count = folds = 0
    for line in open(sys.argv[1], encoding="utf-8"):
        case = json.loads(line)
        read_pages = [read(p) for p in case["pages"]]
        for page in read_pages:
            n, f = check_page(case["name"], case["paper"], page)
            count, folds = count + n, folds + f
        cuts, marks, seen = [], [], set()
        for number, page in enumerate(read_pages):
            page = beside(page, 1000.0 * number)
            # a piece on several pages is drawn on each: read it once
            for c in page[1]:
                key = (c[0], len(c[1]), round(Polygon(c[1]).area, 3)) if c[2] else None
                if key is None or key not in seen:
                    seen.add(key)
                    cuts.append(c)
            marks.extend(m for m in page[2] if not m[3])
        for body in case["bodies"]:
            check_body(body, cuts, marks)
    assert count > 300 and folds > 800, (count, folds)
    print(f"{count} pieces apart from each other on their pages, {folds} folds in them; every net of its body's size")


main()

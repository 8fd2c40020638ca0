"""The demo's template PDF read by pypdf and held against the table made by hand.

    python demo_pdf.py WHOLE TILES WIDTH HEIGHT

Every circle of the table: centre and diameter within 0.01 mm. Positions are compared with the outlet as the
anchor, because a page has its own origin. The tiles' page boxes: WIDTH x HEIGHT mm (either way up) within 0.01 mm.
"""

import math
import sys

from pypdf import PdfReader

from demo_hand import ANCHOR, BY_HAND, COUNTS
from pdf_paths import MM, box, points, subpaths

TOLERANCE = 0.01


def circles(page, reader):
    """Centre, diameter and stray of every closed round path."""
    found = []
    paths = []
    subpaths(page.get_contents(), page["/Resources"], reader, (1, 0, 0, 1, 0, 0), paths)
    for path in paths:
        if path[-1][0] != "h" or sum(1 for s in path if s[0] == "c") < 4:
            continue
        along = points(path)
        x0, y0, x1, y1 = box(along)
        cx, cy, d = (x0 + x1) / 2, (y0 + y1) / 2, x1 - x0
        stray = max(abs(math.hypot(x - cx, y - cy) - d / 2) for x, y in along)
        if abs(d - (y1 - y0)) < TOLERANCE and stray < TOLERANCE:
            found.append((cx, cy, d))
    return found


def main():
    whole, tiles, width, height = sys.argv[1], sys.argv[2], float(sys.argv[3]), float(sys.argv[4])
    reader = PdfReader(whole, strict=True)
    assert len(reader.pages) == 1, len(reader.pages)
    page = reader.pages[0]
    found = circles(page, reader)
    near = [(x, y) for x, y, d in found if abs(d - ANCHOR) < TOLERANCE]
    assert len(near) == 1, near
    dx, dy = near[0][0] + 100, near[0][1] - 28
    worst = 0.0
    for want, centres in BY_HAND.items():
        for x, y in centres:
            off = min(
                (max(math.hypot(cx - dx - x, cy - dy - y), abs(d - want)) for cx, cy, d in found),
                default=math.inf,
            )
            assert off < TOLERANCE, (want, x, y, off)
            worst = max(worst, off)
    for want, count in COUNTS.items():
        # the same size may also be drawn where it exists already: never fewer
        assert sum(1 for *_, d in found if abs(d - want) < TOLERANCE) >= count, want
    pages = PdfReader(tiles, strict=True).pages
    for k, page in enumerate(pages):
        got = sorted((float(page.mediabox.width) * MM, float(page.mediabox.height) * MM))
        assert all(abs(g - w) < TOLERANCE for g, w in zip(got, sorted((width, height)))), (k, got)
    print(f"{len(found)} circles, worst {worst:.6f} mm; {len(pages)} pages of {width} x {height} mm")


main()

"""Reads sections and the view from behind with svgelements, pypdf, ezdxf and pillow.

A body of the made panel, 90 mm deep and 78 mm wide, must measure 45 x 39 mm at 1:2; seen from behind the item at the
pilot's left is at the right, and the asymmetric mark's staff is at the left of everything.
    python behind_read.py FOLDER
"""

import sys
from pathlib import Path

import ezdxf
from PIL import Image
from pdf_paths import points, subpaths
from pypdf import PdfReader
from svgelements import SVG, SVGElement

MM = 25.4 / 72
folder = Path(sys.argv[1])


def boxes(name):
    """Box of every drawn shape by its subject, mm."""
    out = {}
    for e in SVG.parse(folder / name, ppi=25.4).elements():
        subject = e.values.get("data-subject") if isinstance(e, SVGElement) else None
        box = e.bbox() if subject and hasattr(e, "bbox") else None
        if box:
            out.setdefault(subject, []).append(box)
    return out


def sized(list_, w, h, slack=1e-3):
    return any(abs(b[2] - b[0] - w) < slack and abs(b[3] - b[1] - h) < slack for b in list_)


cut = boxes("section-a.svg")
assert sized(cut["alt.body"], 45, 39), cut["alt.body"]
assert sized(cut["alt.port-data"], 37.5, 9), cut["alt.port-data"]
level = boxes("section-b.svg")
assert sized(level["alt.body"], 39, 45), level["alt.body"]

reader = PdfReader(folder / "section.pdf")
for page, (w, h) in zip(reader.pages, [(45, 39), (39, 45)]):
    found = []
    subpaths(page.get_contents(), page["/Resources"], reader, (1, 0, 0, 1, 0, 0), found)
    ends = [points(s) for s in found]
    rects = [(min(x for x, _ in p), min(y for _, y in p), max(x for x, _ in p), max(y for _, y in p)) for p in ends if p]
    assert sized(rects, w, h, 2e-3), (w, h)
    assert "1:2" in page.extract_text()

dxf = ezdxf.readfile(folder / "section-a.dxf")
lines = [e for e in dxf.modelspace() if e.dxf.layer == "OUTLINE"]
assert lines and not dxf.audit().errors

back = boxes("back.svg")
middle = lambda subject: sum(b[0] + b[2] for b in back[subject]) / 2 / len(back[subject])
assert middle("alt.body") > middle("nav.body"), "the pilot's left must be at the right"
assert sized(back["nav.body"], 49, 34), back["nav.body"]
# the flag: the only black shape of five corners; its left edge is the staff
flag = [e for e in SVG.parse(folder / "back.svg", ppi=25.4).elements() if type(e).__name__ == "Path" and len(list(e)) in (6, 7)
        and e.fill is not None and str(e.fill.hex) in ("#000000", "#000")]
assert flag, "no mark"
mark = flag[0].bbox()
assert mark[0] < min(b[0] for b in back["nav.body"]), "the mark must be at the left"
text = PdfReader(folder / "back.pdf").pages[0].extract_text()
assert "VIEW FROM BEHIND, mirrored" in text and "pilot's left is at your right" in text, text
for png in folder.glob("*.png"):
    low, high = Image.open(png).convert("L").getextrema()
    assert low < 30 and high == 255, png
print("read")

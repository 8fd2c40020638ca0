"""Reads PDF files with pypdf and compares page boxes, content streams and text with facts.json.

Every path is taken from the content stream (form XObjects and matrices followed) and turned into mm from the
lower left corner. Fails on a page box off by more than 0.01 mm, a circle whose centre, diameter or any curve
point is off by more than 0.01 mm (the worst is printed), a contour or line that is missing, a font that is not
embedded, words that do not come back, or a date.
"""
import json
import math
import sys
from pathlib import Path

from pypdf import PdfReader

from pdf_paths import MM, box, points, subpaths

TOLERANCE = 0.01
faults = []
worst = {"box": 0.0, "circle": 0.0, "point": 0.0}


def along(piece, n=48):
    if "centre" not in piece:
        return [piece["a"], piece["b"]]
    (cx, cy), s, w = piece["centre"], piece["start"], piece["sweep"]
    angles = [s + w * k / n for k in range(n + 1)]
    # with its highest, lowest, leftmost and rightmost points
    lo, hi = min(s, s + w), max(s, s + w)
    angles += [k * math.pi / 2 for k in range(math.ceil(lo / (math.pi / 2)), math.floor(hi / (math.pi / 2)) + 1)]
    return [(cx + piece["rx"] * math.cos(t), cy + piece["ry"] * math.sin(t)) for t in angles]


def distance_to_pieces(p, pieces):
    best = math.inf
    for q in pieces:
        if "centre" in q:
            (cx, cy), k = q["centre"], q["ry"] / q["rx"]
            # good to the flattening times the printer correction, far below the tolerance
            r = math.hypot(p[0] - cx, (p[1] - cy) / k)
            angle = math.atan2((p[1] - cy) / k, p[0] - cx)
            turn = (angle - q["start"]) if q["sweep"] > 0 else (q["start"] - angle)
            if turn % math.tau <= abs(q["sweep"]) + 1e-3 or turn % math.tau >= math.tau - 1e-3:
                best = min(best, abs(r - q["rx"]))
        else:
            (ax, ay), (bx, by) = q["a"], q["b"]
            dx, dy = bx - ax, by - ay
            t = max(0, min(1, ((p[0] - ax) * dx + (p[1] - ay) * dy) / (dx * dx + dy * dy)))
            best = min(best, math.hypot(p[0] - ax - t * dx, p[1] - ay - t * dy))
    return best


def check(reader, number, page):
    sheet = reader.pages[number]
    name = f"{page['file']} page {number + 1}"
    for what, value in (("width", sheet.mediabox.width), ("height", sheet.mediabox.height)):
        off = abs(float(value) * MM - page[what])
        worst["box"] = max(worst["box"], off)
        if off > TOLERANCE:
            faults.append(f"{name}: {what} {float(value) * MM} mm, not {page[what]}")
    found = []
    subpaths(sheet.get_contents(), sheet["/Resources"], reader, (1, 0, 0, 1, 0, 0), found)
    left = [(box(points(s)), s) for s in found]
    for i in page["items"]:
        kind = i["kind"]
        if kind == "text":
            continue
        if kind == "circle":
            (cx, cy), rx, ry = i["centre"], i["rx"], i["ry"]
            pieces = [{"centre": (cx, cy), "rx": rx, "ry": ry, "start": 0, "sweep": math.tau, "a": 0, "b": 0}]
            want = (cx - rx, cy - ry, cx + rx, cy + ry)
        else:
            pieces = i["pieces"] if "pieces" in i else [i]
            want = box([p for q in pieces for p in along(q)])
        hit = min(left, key=lambda b: max(abs(x - y) for x, y in zip(b[0], want)), default=None)
        if hit is None or max(abs(x - y) for x, y in zip(hit[0], want)) > TOLERANCE:
            faults.append(f"{name}: {kind} {i['layer']} {want} not found, nearest {hit and hit[0]}")
            continue
        left.remove(hit)
        path = points(hit[1])
        off = max(distance_to_pieces(p, pieces) for p in path)
        worst["point"] = max(worst["point"], off)
        if off > TOLERANCE:
            faults.append(f"{name}: {kind} {i['layer']} {want} strays by {off} mm")
        if kind == "circle":
            b = hit[0]
            size = max(abs((b[0] + b[2]) / 2 - cx), abs((b[1] + b[3]) / 2 - cy),
                       abs(b[2] - b[0] - 2 * rx), abs(b[3] - b[1] - 2 * ry))
            worst["circle"] = max(worst["circle"], size)
            if size > TOLERANCE:
                faults.append(f"{name}: circle {want} off by {size} mm")
        if kind in ("circle", "path") and hit[1][-1][0] != "h":
            faults.append(f"{name}: {kind} {want} is not closed")
    for b, _ in left:
        faults.append(f"{name}: a path at {b} was not expected")
    text = "".join(sheet.extract_text().split())
    for i in page["items"]:
        if i["kind"] == "text" and "".join(i["text"].split()) not in text:
            faults.append(f"{name}: the words {i['text']!r} do not come back from {text!r}")
    return len(page["items"])


def fonts(resources, seen):
    for ref in (resources.get("/Font") or {}).values():
        seen.append(ref.get_object())
    for ref in (resources.get("/XObject") or {}).values():
        fonts(ref.get_object().get("/Resources", {}), seen)


folder = Path(sys.argv[1])
facts = json.loads((folder / "facts.json").read_text())
files = {}
for page in facts["pages"]:
    files.setdefault(page["file"], []).append(page)
count = 0
for file, pages in files.items():
    reader = PdfReader(folder / file, strict=True)
    if len(reader.pages) != len(pages):
        faults.append(f"{file}: {len(reader.pages)} pages, not {len(pages)}")
    if reader.metadata.title != pages[0]["title"]:
        faults.append(f"{file}: title {reader.metadata.title!r}")
    if reader.metadata.get("/CreationDate") or reader.metadata.get("/ModDate"):
        faults.append(f"{file}: holds a date")
    seen = []
    for sheet in reader.pages:
        fonts(sheet["/Resources"], seen)
    for font in seen:
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        if not any(k in inner["/FontDescriptor"].get_object() for k in ("/FontFile2", "/FontFile3")):
            faults.append(f"{file}: font {font['/BaseFont']} is not embedded")
        if "+" not in font["/BaseFont"]:
            faults.append(f"{file}: font {font['/BaseFont']} is not a subset")
    count += sum(check(reader, k, page) for k, page in enumerate(pages))
print(f"{len(files)} files, {count} items compared, worst mm: {worst}")
if faults:
    print("\n".join(faults[:40]))
    sys.exit(1)
if count < 100:
    sys.exit("too few items: the comparison is empty")

"""Looks at what the browser printed: right paper, every letter within the margins, every word of the report there.

Arguments: report.html print.pdf a4|letter, again and again. Fails on a page that is other paper (upright or lying), on a
letter outside the margins of the style sheet, and on a finding or other text of the HTML that is not on the pages.
"""
import re
import subprocess
import sys
import xml.etree.ElementTree as ET

import html5lib

SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
MM = 25.4 / 72
faults = []


def flat(s):
    # the browser sets some letters as one
    return "".join(s.split()).replace("\ufb01", "fi").replace("\ufb02", "fl").replace("\ufb00", "ff").lower()


def run(option, pdf):
    return subprocess.run(["pdftotext", option, pdf, "-"], check=True, capture_output=True, encoding="utf-8").stdout


def look(html, pdf, paper):
    say = lambda s: faults.append(f"{pdf}: {s}")
    boxes = run("-bbox", pdf)
    # control characters are no XML
    doc = ET.fromstring(re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", "", boxes.split("?>", 1)[-1] if boxes.startswith("<?") else boxes))
    pages = [e for e in doc.iter() if e.tag.endswith("page")]
    for k, page in enumerate(pages):
        w, h = float(page.get("width")) * MM, float(page.get("height")) * MM
        if max(abs(a - b) for a, b in zip(sorted((w, h)), SIZES[paper])) > 0.5:
            say(f"page {k + 1} is {w:.1f} x {h:.1f} mm")
        for word in page:
            box = [float(word.get(n)) * MM for n in ("xMin", "yMin", "xMax", "yMax")]
            if box[0] < 14.5 or box[2] > w - 14.5 or box[1] < 3 or box[3] > h - 3:
                say(f"page {k + 1}: {word.text!r} at {[round(b, 1) for b in box]} leaves the margins")
    if not any(len(page) for page in pages):
        say("no word on any page")
    text = [flat(t) for t in run("-raw", pdf).split("\f")]
    count = len(pages)
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(open(html, encoding="utf-8").read())
    texts = 0
    for e in tree.find("body/main").iter():
        if isinstance(e.tag, str) and e.tag in ("h2", "h3", "dt", "dd", "th", "td"):
            want = flat("".join(e.itertext()).replace("\u00a0", ""))
            texts += 1
            if want and not any(want in t for t in text):
                say(f"not printed whole on any page: {want!r}")
    return count, texts


for html, pdf, paper in zip(*[iter(sys.argv[1:])] * 3):
    before = len(faults)
    count, texts = look(html, pdf, paper)
    print(f"{'FAIL' if len(faults) > before else 'ok'} {pdf.rsplit('/', 1)[-1]}: {count} pages, {texts} texts")
if faults:
    print("\n".join(faults[:40]))
    sys.exit(f"{len(faults)} faults")

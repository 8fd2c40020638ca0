"""Reads an HTML and a PDF report with other people's readers and compares them with the JSON report.

Arguments: findings.json, report.html, report.pdf, a4 or letter. html5lib parses strictly (any parse error fails); every
finding of the JSON stands in the HTML once with its verdict, its number (to the decimals printed) and its place; every
text of the HTML stands in the PDF; every page is the paper asked for and no letter of it leaves the margins.
"""
import json
import re
import sys

import html5lib
import pdfplumber
from pypdf import PdfReader

findings, html, pdf, paper = sys.argv[1:5]
report = json.load(open(findings, encoding="utf-8"))
tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(open(html, encoding="utf-8").read())
faults = []
say = faults.append


def words(e):
    return " ".join("".join(e.itertext()).split())


def flat(s):
    return "".join(s.split())


# -- HTML against JSON
found = {}


def add(name, verdict, measured, place):
    if name in found:
        say(f"{name} stands twice")
    found[name] = (verdict, measured, place)


for article in tree.iter("article"):
    name = next(s for s in article.iter("span") if s.get("class") == "name")
    verdict = next(s for s in article.iter("span") if s.get("class") == "verdict")
    facts = {words(d.find("dt")): words(d.find("dd")) for d in article.iter("div") if d.find("dt") is not None}
    add(words(name), words(verdict), facts.get("Measured", ""), facts["In the file"])
section = next(s for s in tree.iter("section") if s.get("aria-labelledby") == "pass")
for details in section.iter("details"):
    rule = ""
    for e in details:
        if e.tag == "h3":
            rule = words(e)
        table = e.find("table") if e.get("class") == "scroll" else None
        if table is None:
            continue
        for row in table.find("tbody"):
            cells = [words(c) for c in row]
            short = re.sub(r" \(.*\)$", "", cells[0])
            name = short if rule.startswith("Reported") else f"{rule}/{short}"
            add(name, "pass", cells[1] if len(cells) == 7 else "", cells[-1])
ids = {f["id"]: f for f in report["findings"]}
for missing in sorted(ids.keys() - found.keys()):
    say(f"{missing} is not in the HTML")
for more in sorted(found.keys() - ids.keys()):
    say(f"{more} is in the HTML alone")
numbers = 0
for name in ids.keys() & found.keys():
    f, (verdict, measured, place) = ids[name], found[name]
    if verdict != f["verdict"]:
        say(f"{name}: {verdict}, not {f['verdict']}")
    first = f["places"][0]
    if not place.startswith((first["file"], first["file"].rsplit("/", 1)[-1])) or f":{first['line']}:{first['column']}" not in place:
        say(f"{name}: place {place}, not {first}")
    if f["measured"] and measured not in ("", "-"):
        value, unit = re.match(r"(-?[\d.]+)(?: (\w+))?", measured).groups()
        # "over N" has no upper end
        ends = [e for e in (f["measured"]["lower"], f["measured"]["upper"]) if e is not None]
        scale, slack = (25.4, 0.0005) if unit == "in" else (1.0, 0.005)
        if min(abs(float(value) * scale - e) for e in ends) > slack * scale * 1.001:
            say(f"{name}: measured {measured}, not {ends}")
        numbers += 1
    elif f["measured"]:
        say(f"{name}: what was measured is not told")
counts = report["counts"]
for row in next(tree.iter("table")).find("tbody"):
    verdict, n = (words(c) for c in list(row)[:2])
    if counts[verdict] != int(n):
        say(f"{verdict}: {n}, not {counts[verdict]}")

# -- PDF against HTML
reader = PdfReader(pdf)
running = words(tree.find("body/header/p"))
notice = next((words(p) for p in tree.iter("p") if p.get("class") == "strong"), "")
text = ""
total = len(reader.pages)
for k, page in enumerate(reader.pages):
    own = flat(page.extract_text())
    foot = flat(f"{running}page {k + 1} of {total}")
    if not own.endswith(foot):
        say(f"page {k + 1} does not end with its foot")
    own = own.removesuffix(foot)
    if notice.startswith("NOT FOR CUTTING"):
        if not own.endswith(flat(notice)):
            say(f"page {k + 1} does not say {notice}")
        own = own.removesuffix(flat(notice))
    text += own
texts = 0
for e in tree.find("body/main").iter():
    if isinstance(e.tag, str) and e.tag in ("h2", "h3", "p", "li", "dt", "dd", "th", "td", "caption", "figcaption", "b"):
        # the verdict of a finding stands in capitals on paper
        want = flat("".join(s for s in e.itertext()))
        spans = list(e.iter("span"))
        if spans:
            want = flat(words(spans[-1]))
        texts += 1
        if want not in text:
            say(f"not in the PDF: {words(e)!r}")

# -- the paper
sizes = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
MM = 25.4 / 72
with pdfplumber.open(pdf) as doc:
    for k, page in enumerate(doc.pages):
        w, h = float(page.width) * MM, float(page.height) * MM
        if max(abs(a - b) for a, b in zip(sorted((w, h)), sizes[paper])) > 0.01:
            say(f"page {k + 1} is {w} x {h} mm")
        for c in page.chars:
            if not c["text"].strip():
                continue
            box = c["x0"] * MM, c["top"] * MM, c["x1"] * MM, c["bottom"] * MM
            # sides 16 mm, foot and head 5 mm and more
            if box[0] < 15.9 or box[2] > w - 15.9 or box[1] < 5 or box[3] > h - 5:
                say(f"page {k + 1}: {c['text']!r} at {box} leaves the margins")
if faults:
    print("\n".join(faults[:40]))
    sys.exit(f"{len(faults)} faults")
print(f"{len(ids)} findings in HTML and PDF, {numbers} numbers compared, {texts} texts, {total} pages")

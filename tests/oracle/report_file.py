"""Reads an HTML and a PDF report with other people's readers and compares them with the JSON report.

Arguments: findings.json, report.html, report.pdf, a4 or letter. html5lib parses strictly (any parse error fails); every
finding of the JSON stands in the HTML once with its verdict, its number (to the decimals printed) and its place; every
text of the HTML stands in the PDF; every page is the paper asked for and no letter of it leaves the margins. The section on
the room behind and in front is held against the findings: verdicts and sums of depths, least gaps that no finding
undercuts, witness points in space as far apart as measured, ways out.
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

# -- the section on the room behind and in front against JSON
space = next(s for s in tree.iter("section") if s.get("aria-labelledby") == "space")
tables = {words(t.find("caption")): [[words(c) for c in row] for row in t.find("tbody")] for t in space.iter("table")}
inch = any(row[2].endswith(" in") for row in tables.get("Least gaps of the controls", []))
slack = (0.0005 * 25.4 if inch else 0.0005) * 1.001


def millimetres(cell):
    value, unit = re.match(r"(?:over )?(-?[\d.]+) (mm|in)$", cell).groups()
    return float(value) * (25.4 if unit == "in" else 1.0)


def poses(f):
    return {d["driver"]: (d["value"], d["unit"]) for d in f["in-space"]["pose"]}


order = ["fail", "withheld", "tight", "pass", "not asked"]
behind = {"depth-behind", "obstacle-clear", "control-clear"}
worst = {}
for f in report["findings"]:
    if f["rule"] in behind:
        for name in f["subjects"]:
            if name:
                worst[name] = min(worst.get(name, "not asked"), f["verdict"], key=order.index)
depth_rows = tables.get("Depth terms", [])
for row in depth_rows:
    # a row without a body stands for what is missing and has no part to name
    if row[5] != worst.get(row[0], "not asked") and row[2] != "not known":
        say(f"depth of {row[0]}: {row[5]}, not {worst.get(row[0], 'not asked')}")
    terms = [t for t in re.findall(r"(?<![\w.])-?\d*\.?\d+(?= \+|$)", row[1])]
    if row[1].startswith("body") and "?" not in row[1]:
        if abs(sum(map(float, terms)) - float(row[2])) > 0.011 * len(terms):
            say(f"depth of {row[0]}: {row[1]} is not {row[2]}")
items = [row[0].split(".")[0] for row in depth_rows]
firsts = [next(i for i, n in enumerate(items) if n == item) for item in dict.fromkeys(items)]
best = [min((order.index(r[5]) for r, n in zip(depth_rows, items) if n == items[k])) for k in firsts]
if best != sorted(best):
    say("the depth terms do not stand worst first")
least = {row[0]: row for row in tables.get("Least gaps of the controls", [])}
gaps = compared = same = alike = 0
for f in report["findings"]:
    if f["rule"] not in ("control-clear", "control-run", "line-control") or f["in-space"] is None:
        continue
    a, b = f["in-space"]["witness"]
    flat_too = [a[:2], b[:2]] == f["witness"]
    apart = sum((p - q) ** 2 for p, q in zip(a, b)) ** 0.5
    m = f["measured"]
    if not flat_too:
        say(f"{f['id']}: its witness points in space are not those on the panel")
    if m and m["lower"] > 0 and not m["lower"] - 1e-6 <= apart <= m["upper"] + 1e-6:
        say(f"{f['id']}: its witness points are {apart} apart, not {m}")
    compared += 1
    for name, other in (f["subjects"], f["subjects"][::-1]):
        row = least.get(name)
        if row is None or m is None:
            continue
        gap = 0.0 if row[2] == "they meet" else millimetres(row[2])
        # a certified least gap is not above any other that was found
        if gap > max(m["upper"], 0.0) + slack and m["upper"] >= 0:
            say(f"{name}: {row[2]} is more than {f['id']} measured, {m}")
        gaps += 1
        if row[1] == other and gap > 0 and abs(gap - m["lower"]) < slack:
            told = {d: (float(v), u) for d, v, u in re.findall(r"([\w-]+) (-?[\d.]+) (mm|deg)", row[3])}
            close = told.keys() == poses(f).keys() and all(
                told[d][1] == u and abs(told[d][0] - v) <= 0.0501 for d, (v, u) in poses(f).items()
            )
            same += close
            alike += 1
# another pose may have the same gap; not every time
if alike and not same:
    say(f"none of {alike} poses of least gaps is that of the finding with the same gap")
# a row that passes with less than is asked says why
for row in depth_rows:
    if row[5] == "pass" and row[4].startswith("-") and row[4] != "-" and "there already" not in row[6]:
        say(f"depth of {row[0]}: {row[4]} to spare passes without a word")
for row in tables.get("Coming out", []):
    f = ids.get(f"comes-out/{row[0]}") or next(
        (f for f in report["findings"] if f["rule"] == "comes-out" and f["subjects"][0] == row[0]), None
    )
    if f is None or f["verdict"] != row[1]:
        say(f"coming out: {row[0]} {row[1]} is not in the JSON")
    elif f["says"] and f["says"] != row[2]:
        say(f"coming out: {row[0]} {row[2]}, not {f['says']}")
coming = sum(f["rule"] == "comes-out" for f in report["findings"])
if coming != len(tables.get("Coming out", [])):
    say(f"{coming} ways out in the JSON, {len(tables.get('Coming out', []))} in the HTML")

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
print(
    f"{len(ids)} findings in HTML and PDF, {numbers} numbers compared, {texts} texts, {total} pages; "
    f"{len(depth_rows)} depths, {compared} findings in space, {gaps} gaps of {len(least)} solids of controls, {same} at the same pose"
)

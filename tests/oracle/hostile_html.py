"""Parses an HTML report with html5lib, strictly, and shows that a hostile text is text wherever it stands.

Arguments: the HTML file, a file with the hostile text. Fails on a parse error, on any element that the report does not
use, on an attribute that runs or fetches something, and where the text does not come back as it was typed.
"""
import sys

import html5lib

html, nasty = (open(p, encoding="utf-8").read() for p in sys.argv[1:3])
tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)
USED = set("html head meta link title style body a header h1 h2 h3 p nav ol ul li main section details summary article span "
           "dl div dt dd table caption colgroup col thead tbody tr th td figure figcaption b".split())
SVG = "{http://www.w3.org/2000/svg}"
faults = []
for e in tree.iter():
    if not isinstance(e.tag, str):
        faults.append(f"a comment or instruction: {e}")
        continue
    if not e.tag.startswith(SVG) and e.tag not in USED:
        faults.append(f"element {e.tag}")
    for name, value in e.attrib.items():
        name = name if isinstance(name, str) else str(name)
        if name.lower().startswith("on") or name in ("src", "srcset", "action", "background", "ping"):
            faults.append(f"attribute {name} of {e.tag}")
        if name.endswith("href") and not (value.startswith("#") or value == "data:,"):
            faults.append(f"link to {value}")
styles = [e for e in tree.iter("style")]
if len(styles) != 1 or "url(" in styles[0].text or "@import" in styles[0].text:
    faults.append("the style sheet is not one, or fetches")
flat = lambda s: "".join(s.split())
want = flat(nasty)
found = 0
for e in tree.iter():
    if isinstance(e.tag, str) and e.tag in ("dd", "td", "th", "li", "h1", "title", "p", "dt"):
        found += flat("".join(e.itertext())).count(want)
# title, h1, running line, material, structure, item title, checked (two tables), label, process, limits (three), acceptance,
# stale one, owner, revision (with the running line), aeroplane, approver, four of the table of revisions
if found < 22:
    faults.append(f"the text came back {found} times only")
if faults:
    sys.exit("\n".join(faults))
print(f"{found} times text, nothing else")

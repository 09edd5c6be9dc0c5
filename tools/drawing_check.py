#!/usr/bin/env python3
"""The drawings of the demo tanks in Chromium: no words on others, none beyond the page.

    python3 tools/drawing_check.py PROGRAM LIBRARY [CHROMIUM]

Chromium sets the words in whatever serif typeface the machine has, not in ours, and says where they lie. Each drawing
stands in a shadow tree of one page, so that identifiers and styles keep apart; what is measured comes back as JSON in
the page's own text. Standard library only; asks nothing of any network.
"""

import html
import json
import pathlib
import re
import subprocess
import sys
import tempfile

DEMOS = ["attic-lowtech", "shelf-gassed", "hall-hardwater"]
# Share of the height of a line that letters fill: ascent and descent of a face reach further.
INK = 0.72
# User units that boxes may share.
TOUCH = 0.05

MEASURE = """
const seen = [];
for (const [name, source] of Object.entries(JSON.parse(document.getElementById('drawings').textContent))) {
  const host = document.body.appendChild(document.createElement('div'));
  const root = host.attachShadow({mode: 'open'});
  root.innerHTML = source;
  const svg = root.querySelector('svg');
  const page = svg.viewBox.baseVal;
  const back = svg.getScreenCTM().inverse();
  const words = [...svg.querySelectorAll('text')].map(text => {
    const box = text.getBBox(), to = back.multiply(text.getScreenCTM());
    const corner = (x, y) => { const p = new DOMPoint(x, y).matrixTransform(to); return [p.x, p.y]; };
    const [left, top, right, bottom] = [box.x, box.y, box.x + box.width, box.y + box.height];
    return {words: text.textContent, face: getComputedStyle(text).fontFamily,
            corners: [corner(left, top), corner(right, top), corner(right, bottom), corner(left, bottom)]};
  });
  seen.push({name, width: page.width, height: page.height, words});
  host.remove();
}
document.getElementById('drawings').remove();
document.body.textContent = JSON.stringify(seen);
"""


def draw(program, library, folder):
    """Every drawing of the demos by name."""
    for demo in DEMOS:
        tank = f"data/demo/{demo}.toml"
        for command in (
            ["plan", tank, "--light", "--weeks", "0,12", "--svg", f"{folder}/{demo}-plan.svg"],
            ["grow", tank, "--svg", f"{folder}/{demo}-growth.svg"],
            ["tank", tank, "--svg", f"{folder}/{demo}-light.svg"],
            ["check", tank, "java fern", "Vallisneria spiralis", "--svg", f"{folder}/{demo}-wishes.svg"],
        ):
            done = subprocess.run([program, "--library", library, *command], capture_output=True, encoding="utf-8")
            # `check` answers no with 1.
            assert done.returncode in (0, 1), done.stderr
    return {path.stem: path.read_text("utf-8") for path in sorted(pathlib.Path(folder).glob("*.svg"))}


def measured(drawings, chromium, folder):
    """The boxes of all words as the browser sets them."""
    sources = {name: re.sub(r"^<\?xml.*?\?>", "", svg) for name, svg in drawings.items()}
    data = json.dumps(sources).replace("<", "\\u003c")
    page = pathlib.Path(folder) / "drawings.html"
    page.write_text(
        f"<!DOCTYPE html><meta charset=utf-8><title>drawings</title><body>"
        f"<script type='application/json' id=drawings>{data}</script><script>{MEASURE}</script>",
        "utf-8",
    )
    command = [
        chromium, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage", f"--user-data-dir={folder}/profile",
        "--virtual-time-budget=60000", "--dump-dom", page.as_uri(),
    ]
    out = subprocess.run(command, check=True, capture_output=True, encoding="utf-8", timeout=300).stdout
    body = re.search(r"<body>(.*)</body>", out, re.S)
    return json.loads(html.unescape(body[1]))


def inked(corners):
    """A box drawn in to the height of its letters; it may be turned."""
    shrink = (1 - INK) / 2
    a, b, c, d = corners
    inner = lambda p, q: [p[i] + (q[i] - p[i]) * shrink for i in (0, 1)]
    return [inner(a, d), inner(b, c), inner(c, b), inner(d, a)]


def apart(a, b):
    """Whether a straight line parts two convex boxes (the separating axis theorem)."""
    for ring in (a, b):
        for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1]):
            axis = (y1 - y0, x0 - x1)
            length = (axis[0] ** 2 + axis[1] ** 2) ** 0.5
            if length == 0:
                continue
            spans = [[(x * axis[0] + y * axis[1]) / length for x, y in box] for box in (a, b)]
            if max(spans[0]) < min(spans[1]) + TOUCH or max(spans[1]) < min(spans[0]) + TOUCH:
                return True
    return False


def faults(drawing):
    found = []
    boxes = [(w["words"], inked(w["corners"])) for w in drawing["words"] if w["words"].strip()]
    for n, (words, box) in enumerate(boxes):
        if any(not (0 <= x <= drawing["width"] and 0 <= y <= drawing["height"]) for x, y in box):
            found.append(f"{drawing['name']}: `{words}` leaves the page")
        found += [f"{drawing['name']}: `{words}` lies on `{other}`" for other, b in boxes[:n] if not apart(box, b)]
    return found


def main(program, library, chromium="chromium"):
    with tempfile.TemporaryDirectory() as folder:
        drawings = draw(program, library, folder)
        seen = measured(drawings, chromium, folder)
        assert [d["name"] for d in seen] == list(drawings), "a drawing is missing"
        # The check sees what it is there for: a drawing with words put on others.
        spoilt = next(iter(drawings.values())).replace(
            "</svg>", '<text x="30" y="15" font-size="5" font-family="serif">over the heading</text></svg>'
        )
        assert any("over the heading" in f for f in faults(measured({"spoilt": spoilt}, chromium, folder)[0]))
    wrong = [fault for drawing in seen for fault in faults(drawing)]
    for drawing in seen:
        assert len(drawing["words"]) > 20, f"{drawing['name']}: {len(drawing['words'])} words"
    if wrong:
        sys.exit("\n".join(wrong))
    print(f"{len(seen)} drawings, {sum(len(d['words']) for d in seen)} words, each where it belongs")


if __name__ == "__main__":
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    main(*sys.argv[1:])

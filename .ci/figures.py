#!/usr/bin/env python3
"""Pages and points of the placing list, lengths to read, films and their area, of the two
examples and of sixty stencils that hardpoints place: figures.py PROGRAM. Reads reports of
2026-11-28 too, before the list was three points a marking. Needs poppler's pdfinfo."""

import json
import os
import subprocess
import sys
import tempfile

from stencils import stencils


def figures(folder):
    with open(os.path.join(folder, "report.json")) as f:
        report = json.load(f)
    tiles = [t for m in report["markings"] for k in m["masks"] for t in k["tiles"]]
    area = sum(t.get("sheet_in2", t["width_in"] * t["height_in"]) for t in tiles) / 144  # within the frame that is cut
    if "place" in report:
        points = [q for p in report["place"] for q in p["points"]]
        lengths = sum(len(q["ways"][0]["readings"]) for q in points if q["ways"])
    else:
        points = report["checkpoints"]
        lengths = sum(len(q["tapes"] or []) + bool(q.get("closure")) for q in points)
    info = subprocess.run(["pdfinfo", os.path.join(folder, "tape-checklist.pdf")], check=True, capture_output=True, text=True).stdout
    pages = next(line.split()[1] for line in info.splitlines() if line.startswith("Pages:"))
    return f"{pages} | {len(points)} | {lengths} | {len(tiles)} | {area:.1f}"


program = os.path.abspath(sys.argv[1])
print("| job | pages | points | lengths | films | film, ft2 |\n|---|---|---|---|---|---|")
with tempfile.TemporaryDirectory() as work:
    layout = os.path.join(work, "sixty.yaml")
    with open(layout, "w") as f:
        f.write(stencils(60, True))
    for name, args in (("demo", []), ("second example", ["--demo", "sandling"]), ("sixty stencils", [layout])):
        pack = os.path.join(work, name)
        done = subprocess.run([program, "build", *args, "-o", pack], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        print(f"| {name} | {figures(pack) if done.returncode in (0, 1) else 'cannot be made | | | | '} |")

"""Sheets in millimetres: the text of every printed document, as poppler reads it, holds no
length in inches, and its pages are A4 (ISO 216: 210 x 297 mm)."""

import glob
import os
import re

from pack import run

INCHES = re.compile(r"\d ?(in|in2|ft|ft2|lb|in-lb|US fl oz)\b|\binch(es)?\b|[\d)] in[.,;: ]")
# mistakes that a wrong length tells of, and what the writer of the layout wrote
OWN = re.compile(r"per-inch|inches taken|taken for inches|Frame:|below the main tyre|ahead of the spinner|markings\[|insignia of 20 in")


def units(check, build):
    pack = build("millimetres", "--units", "mm")
    papers = [p for p in sorted(glob.glob(os.path.join(pack.folder, "**", "*.pdf"), recursive=True))
              if not re.search(r"/(cut|run)/|proof\.pdf$", p)]
    check("documents in millimetres", len(papers) >= 8, str(papers))
    for path in papers:
        name = os.path.relpath(path, pack.folder)
        w, h = sorted(float(x) for x in re.search(r"Page size:\s+([0-9.]+) x ([0-9.]+) pts", run("pdfinfo", path)).groups())
        check(name + " on A4", abs(w / 72 * 25.4 - 210) < 0.1 and abs(h / 72 * 25.4 - 297) < 0.1, f"{w} x {h}")
        if name == "tape-checklist.pdf":
            continue  # places of points are in inches there
        for line in run("pdftotext", "-layout", path, "-").splitlines():
            if INCHES.search(line) and not OWN.search(line):
                check(name + " says no inches", False, line.strip())

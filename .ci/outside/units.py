"""Sheets in millimetres and in inches: all text of all that is printed, of both examples, holds
no length in the other unit, and pages in millimetres are A4 (ISO 216: 210 x 297 mm). PDF as
poppler reads it; console, CSV, JSON and HTML as they are written."""

import glob
import html
import json
import os
import re
import subprocess

from pack import run

INCHES = re.compile(r"\d ?(in|in2|ft|ft2|lb|in-lb|US fl oz)\b(?! \d+ (in|m)\b)|\binch(es)?\b|[\d)] in[.,;: ]|, in$|_in\b|\d-\d+/(2|4|8|16|32)\b")
METRIC = re.compile(r"\d ?(mm|cm2|m2|ml|N mm)\b|, mm$|\bmillimetres?\b|_mm\b")
# what stands in the other unit rightly: names of file units and mistakes made with them, what
# the layout's owner wrote and what is to be written there, quotations of sources
OWN = re.compile(r"per-inch|taken for|as inches for millimetres|Frame:|below the main tyre|ahead of the spinner|between the frames FS|"
                 r"markings\[|film\.(least-)?field: |insignia of 20 in|Camouflage and Markings|Wood 1947|[0-9]+ in (1,?000?|100)\b|eu-1 in the|burn-inch")
KEYS = re.compile(r'\.(value|path|from|frame)$')  # of report.json: what a layout takes, names, the datum sentence


def texts(value, key=""):
    """Every text of a JSON document with its key; figures are in inches there, as their keys say."""
    if isinstance(value, dict):
        for k, v in value.items():
            yield from texts(v, key + "." + k)
    elif isinstance(value, list):
        for v in value:
            yield from texts(v, key)
    elif isinstance(value, str) and not KEYS.search(key):
        yield value


def printed(folder):
    """Name and text of every file of a pack that people read."""
    for path in sorted(glob.glob(os.path.join(folder, "**", "*"), recursive=True)):
        name = os.path.relpath(path, folder)
        if name.endswith(".pdf") and not re.match(r"(cut|run)/", name):
            yield name, run("pdftotext", "-layout", path, "-")
        elif name.endswith((".md", ".csv")):
            yield name, open(path).read()
        elif name.endswith(".html"):
            page = re.sub(r"(?s)<(script|style)\b.*?</\1>", "", open(path).read())
            yield name, html.unescape(re.sub(r"<[^>]*>", " ", re.sub(r"</?(td|th|tr|p|li|div|dd|dt|text|h[1-6])\b[^>]*>", "\n", page)))
        elif name.endswith(".json"):
            yield name, "\n".join(texts(json.load(open(path))))


def example(check, build, program, name, unit, wrong):
    flags = ["--units", unit] + (["--demo", name] if name else [])
    pack = build(f"{name or 'demo'}-{unit}", *flags)
    said = subprocess.run([program, "build", "--all", "-o", pack.folder + "-all", *flags], capture_output=True, text=True).stdout
    for file, text in [("console", said), *printed(pack.folder)]:
        lines = [" ".join(line.split()) for line in text.splitlines() if wrong.search(line) and not OWN.search(line)]
        check(f"{name or 'demo'} in {unit}: {file} says no length in the other unit", not lines, "; ".join(lines[:3]))
    return pack


def units(check, build, program):
    for name in ("", "sandling"):
        example(check, build, program, name, "in", METRIC)
        pack = example(check, build, program, name, "mm", INCHES)
        papers = [p for p in sorted(glob.glob(os.path.join(pack.folder, "**", "*.pdf"), recursive=True))
                  if not re.search(r"/(cut|run)/|proof\.pdf$", p)]
        check("documents in millimetres", len(papers) >= 8, str(papers))
        for path in papers:
            w, h = sorted(float(x) for x in re.search(r"Page size:\s+([0-9.]+) x ([0-9.]+) pts", run("pdfinfo", path)).groups())
            check(os.path.relpath(path, pack.folder) + " on A4", abs(w / 72 * 25.4 - 210) < 0.1 and abs(h / 72 * 25.4 - 297) < 0.1, f"{w} x {h}")

"""Sheets in millimetres and in inches: all text of all that is printed, of both examples, holds
no length in the other unit, and pages in millimetres are A4 (ISO 216: 210 x 297 mm). PDF as
poppler reads it; consoles, CSV, JSON, HTML and the text elements of SVG as they are written."""

import csv
import glob
import html
import json
import os
import re
import struct
import subprocess
import zlib

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
        elif name.endswith(".svg") and not re.match(r"(cut|run)/", name):
            drawn = open(path).read()
            yield name, html.unescape("\n".join(re.findall(r"<(?:text|title|desc)\b[^>]*>([^<]*)<", drawn) + re.findall(r'aria-label="([^"]*)"', drawn)))
        elif name.endswith(".json"):
            yield name, "\n".join(texts(json.load(open(path))))


def beside(check, program, folder, name, unit, flags):
    """What the verbs print that write no pack: check, preview, the tape list, its readings, a photograph."""
    os.makedirs(folder, exist_ok=True)

    def said(*args):
        done = subprocess.run([program, *args], capture_output=True, text=True, cwd=folder)
        return done.stdout + done.stderr

    yield "check", said("check", "--all", "-o", "check", *flags)
    yield "preview", said("preview", "--all", "--dimensions", "--parked", "-o", "preview", *flags)
    yield "tape", said("tape", "--all", *flags)
    table = list(csv.reader(said("tape", "--csv", *flags).splitlines()))
    table = table[["length_" + unit in row for row in table].index(True):]
    length, measured = table[0].index("length_" + unit), table[0].index("measured_" + unit)
    for row in table[1:]:
        if len(row) > length:
            row[measured] = row[length]
    with open(os.path.join(folder, "read.csv"), "w", newline="") as f:
        csv.writer(f).writerows(table)
    yield "tape --measured", said("tape", "--measured", "read.csv", *flags)
    for part in ("check", "preview"):
        for file, text in printed(os.path.join(folder, part)):
            yield part + "/" + file, text
    if name != "sandling":
        return
    # a camera 20 m to the left of the aircraft, level and at 90 deg to it: right is aft, up is up
    with open(os.path.join(folder, "shot.yaml"), "w") as f:
        f.write(said("start", "--demo", name) + "\nphotos:\n  - id: shot\n    file: grey.png\n    side: left\n    focal: 3000 px\n    points:\n")
        for fs, bl, wl in ((2950, -425, -470), (3700, -372, 140), (3700, -365, -280), (6300, -140, 170), (7000, -40, -130), (7000, -35, 250)):
            depth = bl + 20000
            f.write(f"      - {{at: {{fs: {fs}, bl: {bl}, wl: {wl}}}, pixel: [{800 + 3000 * (fs - 4500) / depth:.2f}, {550 - 3000 * wl / depth:.2f}]}}\n")
    with open(os.path.join(folder, "grey.png"), "wb") as f:
        f.write(grey(1600, 1100))
    seen = said("photo", "shot.yaml", "--overlay", "shot", "--at", "800,550", "--between", "800,550:900,540", "-o", "photo", "--units", unit)
    yield "photo", seen
    check(f"photo in {unit} names its points in {unit}", ("FS 2950 BL -425 WL -470 " if unit == "mm" else "FS 116.142 BL -16.732 WL -18.504 ") in seen, seen)
    for file, text in printed(os.path.join(folder, "photo")):
        yield "photo/" + file, text


def grey(width, height):
    """A grey picture as PNG (ISO 15948)."""
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    rows = zlib.compress((b"\0" + b"\x80" * width) * height)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def example(check, build, program, name, unit, wrong):
    flags = ["--units", unit] + (["--demo", name] if name else [])
    pack = build(f"{name or 'demo'}-{unit}", *flags)
    said = subprocess.run([program, "build", "--all", "-o", pack.folder + "-all", *flags], capture_output=True, text=True).stdout
    audited = subprocess.run([program, "audit", pack.folder], capture_output=True, text=True).stdout
    for file, text in [("console", said), ("audit", audited), *printed(pack.folder), *beside(check, program, pack.folder + "-beside", name, unit, flags)]:
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

"""The views measured by their pixels: SVG drawn by librsvg, PDF by poppler, PNG as
written, each against a disc on a cylinder whose places in the side view have a closed
form. Nothing here asks the program where it drew anything."""

import math
import os
import re
import subprocess
import xml.etree.ElementTree as ET

import numpy
from PIL import Image

from pack import run

# A disc of 20 in, true along the skin, centred at FS 50 and 15 above the axis of a
# cylinder of radius 30 (derived: heights are R sin(angle), girth is R times the angle).
R, LONG, FS, WL, D = 30.0, 120.0, 50.0, 15.0, 20.0
LAYOUT = f"""name: disc on a cylinder
units: in
aircraft:
  name: cylinder
  datum: FS 0 is the fore end, positive aft; WL 0 is the axis, positive up; BL 0 the middle, positive to the right.
  surfaces:
    - id: body
      kind: round
      sections: [{{fs: 0, radius: {R:g}, wl: 0}}, {{fs: {LONG:g}, radius: {R:g}, wl: 0}}]
  hardpoints:
    - {{id: P1, name: one, side: both, fs: 20, bl: 26, wl: -15}}
    - {{id: P2, name: two, side: both, fs: 95, bl: 26, wl: -15}}
    - {{id: P3, name: three, side: both, fs: 95, bl: 29, wl: 7}}
markings:
  - id: disc
    figure: {{discs: [{{diameter: {D:g} in, colour: insignia-red}}]}}
    where: {{surface: body, side: both, fs: {FS:g}, wl: {WL:g}}}
    true: skin
film: {{web: 54 in}}
paint:
  order: [insignia-red]
  colours: {{insignia-red: {{name: insignia red, hex: "#9B0A18", standard: ANA 509}}}}
"""
middle = math.asin(WL / R)
TOP, LOW = R * math.sin(middle + D / 2 / R), R * math.sin(middle - D / 2 / R)
SOURCE = "derived: R sin(asin(15/30) +- 10/30)"
EDGE = 0.004  # in of sheet: the line round every region, half of it outside
SKIN, INK, PAPER, RED = 229, 26, 255, 10  # green of the fill, outline, paper and paint


def crossing(profile, start, end, before, after):
    """Where a profile steps from one value to another, in pixels: exact where a pixel
    holds the share that it covers."""
    part = numpy.clip((profile[start:end] - after) / (before - after), 0, 1)
    return start + part.sum()


def line_at(profile, near, before, after, reach):
    """Middle of a dark line near a pixel, paper and fill on its two sides."""
    near = int(round(near))
    dark = near - reach + int(numpy.argmin(profile[near - reach:near + reach]))
    return (crossing(profile, dark - 2 * reach, dark, before, INK) + dark + 2 * reach - crossing(profile[::-1], len(profile) - dark - 2 * reach, len(profile) - dark, after, INK) + (len(profile) - dark - 2 * reach)) / 2


def measure(check, near, what, picture, dpi, side):
    img = numpy.asarray(Image.open(picture).convert("RGB")).astype(float)
    green = img[:, :, 1]
    skin = numpy.abs(img - numpy.array([0xE3, 0xE5, 0xDC])).max(axis=2) < 4
    columns, rows = numpy.nonzero(skin.sum(axis=0) > 0.3 * dpi)[0], numpy.nonzero(skin.sum(axis=1) > 0.3 * dpi)[0]
    x0, x1, y0, y1 = columns[0], columns[-1], rows[0], rows[-1]
    reach = max(4, int(0.03 * dpi))
    low = green[y1 - int(0.2 * dpi):y1 - int(0.1 * dpi)].mean(axis=0)  # below the disc
    right = green[:, x1 - int(0.2 * dpi):x1 - int(0.1 * dpi)].mean(axis=1)
    left_end, right_end = line_at(low, x0 - 0.01 * dpi, PAPER, SKIN, reach), line_at(low, x1 + 0.01 * dpi, SKIN, PAPER, reach)
    top_edge, low_edge = line_at(right, y0 - 0.01 * dpi, PAPER, SKIN, reach), line_at(right, y1 + 0.01 * dpi, SKIN, PAPER, reach)
    scale = (right_end - left_end) / LONG  # pixels to an inch of aircraft
    n = dpi / scale
    near(what + " scale across and up", (low_edge - top_edge) / (2 * R), scale, 0.001 * scale, "one scale both ways")
    near(what + " scale", n, round(n), 0.001 * n, "1 to a whole number")
    if side == "left":
        def station(x): return (x - left_end) / scale
    else:
        def station(x): return (right_end - x) / scale
    def waterline(y): return R - (y - top_edge) / scale

    # the grid, in the strips above and at the left of the body
    for axis, strip, read in (
        ("station", green[int(top_edge - 0.25 * dpi):int(top_edge - 0.06 * dpi)].mean(axis=0), station),
        ("waterline", green[:, int(left_end - 0.25 * dpi):int(left_end - 0.06 * dpi)].mean(axis=1), waterline),
    ):
        lo, hi = (left_end, right_end) if axis == "station" else (top_edge, low_edge)
        dark = numpy.clip(numpy.median(strip) - strip, 0, None)
        found, i = [], int(lo - 0.2 * dpi)
        while i < hi + 0.2 * dpi:
            if dark[i] > 1 and dark[i] == dark[max(0, i - 3):i + 4].max():
                part = dark[i - 3:i + 4]
                found.append(read(i - 3 + (part * numpy.arange(7)).sum() / part.sum() + 0.5))
                i += 4
            i += 1
        check(f"{what} {axis}s are ruled", len(found) >= 4, str(found))
        for v in found:
            near(f"{what} {axis} {round(v / 10) * 10}", v, round(v / 10) * 10, 0.03, "a line every 10 or 20 in")

    # the disc: what is not skin, along the column and the row through its middle
    share = numpy.clip((SKIN - green) / (SKIN - RED), 0, 1)
    cx = left_end + FS * scale if side == "left" else right_end - FS * scale
    cy = top_edge + (R - (TOP + LOW) / 2) * scale
    half = 0.7 * D * scale
    tall = share[int(cy - half * 0.8):int(cy + half * 0.8), int(cx - 2):int(cx + 3)]
    wide = share[:, int(cx - half):int(cx + half)]
    rim = EDGE * dpi / scale
    height = tall.sum(axis=0).max() / scale - rim
    width = wide[int(top_edge + (R - TOP) * scale):int(top_edge + (R - LOW) * scale)].sum(axis=1).max() / scale - rim
    near(what + " height of the disc", height, TOP - LOW, 0.001 * (TOP - LOW), SOURCE + ": 17.0015")
    near(what + " width of the disc", width, D, 0.001 * D, "along the cylinder nothing is foreshortened")
    column = share[:, int(cx)]
    y = crossing(column, int(top_edge + 0.05 * dpi), int(cy), 0, 1)
    near(what + " top of the disc", waterline(y) - rim / 2, TOP, 0.001 * R, SOURCE)
    row = share[int(top_edge + (R - WL) * scale)]  # where it is widest
    x = crossing(row, int(cx - half), int(cx), 0, 1)
    near(what + " fore or aft end of the disc", station(x + rim * scale / 2), FS - D / 2 if side == "left" else FS + D / 2, 0.03, "FS 50 and half the diameter")
    return station


def numbers(check, near, what, pdf, page, station, dpi):
    """Each number under the drawing stands below the station that it names."""
    tree = ET.fromstring(re.sub(r'xmlns="[^"]*"', "", run("pdftotext", "-bbox", "-f", str(page), "-l", str(page), pdf, "-")))
    rows = {}
    for w in tree.iter("word"):
        if re.fullmatch("-?[0-9]+", (w.text or "").replace("\u2212", "-").replace("\u2013", "-")):
            x = (float(w.get("xMin")) + float(w.get("xMax"))) / 2 / 72 * dpi
            rows.setdefault(round(float(w.get("yMin"))), []).append((int(re.sub("[\u2212\u2013]", "-", w.text)), x))
    row = max(rows.values(), key=len)
    check(what + " stations have numbers", len(row) >= 6, str(row))
    for n, x in row:
        near(f"{what} number {n}", station(x), n, 0.3, "pdftotext: the middle of the number, 0.02 in of the sheet")


def views(check, near, program, work):
    layout, folder = os.path.join(work, "views.yaml"), os.path.join(work, "views")
    with open(layout, "w") as f:
        f.write(LAYOUT)
    subprocess.run([program, "preview", layout, "-o", folder, "--dpi", "300"], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    subprocess.run([program, "preview", layout, "-o", folder + "-100"], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    for page, side in ((1, "left"), (2, "right")):
        name = os.path.join(folder, "side-view-" + side)
        drawn = os.path.join(work, "views-" + side)
        with open(name + ".svg") as f:
            inches = float(re.search(r'width="([0-9.]+)in"', f.read()).group(1))
        run("rsvg-convert", "-w", str(round(300 * inches)), "--keep-aspect-ratio", "--background-color", "white", "-o", drawn + ".png", name + ".svg")
        measure(check, near, f"SVG {side}", drawn + ".png", 300, side)
        measure(check, near, f"PNG {side}", name + ".png", 300, side)
        run("pdftoppm", "-r", "300", "-f", str(page), "-l", str(page), "-png", "-singlefile", os.path.join(folder, "side-view.pdf"), drawn + "-pdf")
        station = measure(check, near, f"PDF {side}", drawn + "-pdf.png", 300, side)
        numbers(check, near, f"PDF {side}", os.path.join(folder, "side-view.pdf"), page, station, 300)
        measure(check, near, f"PNG of 100 dpi {side}", os.path.join(folder + "-100", "side-view-" + side + ".png"), 100, side)
        with Image.open(name + ".png") as img:
            near(f"PNG {side} says its dots to the inch", img.info["dpi"][0], 300, 0.01, "PNG, third edition, 11.3.4.3")

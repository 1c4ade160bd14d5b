"""Every cut file as four programs see it: svgelements reads the paths; librsvg, poppler and
MuPDF draw them, and the pictures are measured. Nothing is taken from a file's words."""

import os
import subprocess

import numpy
from PIL import Image
from shapely.geometry import LineString
from svgelements import SVG

from pack import PX, film, group_paths, rings, run

DPI = 200  # a line of 0.010 in is two pixels
TOLERANCE = 0.005
CUT = 60  # darker than any ink but the cut's
Image.MAX_IMAGE_PIXELS = None


def pictures(svg, pdf, folder):
    """Grey pictures of the SVG by librsvg, of the PDF by poppler and by MuPDF."""
    out = []
    for name, command in (
        ("librsvg", ["rsvg-convert", "-d", str(DPI), "-p", str(DPI), "-b", "white", "-o", "{}.png", svg]),
        ("poppler", ["pdftoppm", "-r", str(DPI), "-gray", "-singlefile", pdf, "{}"]),
        ("MuPDF", ["mutool", "draw", "-q", "-r", str(DPI), "-c", "gray", "-o", "{}.pgm", pdf]),
    ):
        stem = os.path.join(folder, "picture")
        subprocess.run([a.replace("{}", stem) for a in command], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        path = stem + (".png" if name == "librsvg" else ".pgm")
        with Image.open(path) as picture:
            out.append((name, numpy.asarray(picture.convert("L"))))
        os.remove(path)
    return out


def cut_files(check, near, pack):
    for m in pack.markings():
        for k in m["masks"]:
            for t in k["tiles"]:
                one_file(check, near, pack, k, t)


def one_file(check, near, pack, mask, tile):
    svg, pdf = pack.file(tile["svg"]), pack.file(tile["pdf"])
    w, h, name = tile["page_width_in"], tile["page_height_in"], tile["id"]
    parsed = SVG.parse(svg, ppi=PX)
    near(name + " svgelements width", float(parsed.width) / PX, w, TOLERANCE, "report.json")
    near(name + " svgelements height", float(parsed.height) / PX, h, TOLERANCE, "report.json")
    outlines = [r for p in group_paths(parsed, "cut") for r in rings(p, 1e-4)]
    xs, ys = [x for r in outlines for x, _ in r], [y for r in outlines for _, y in r]
    cut = (min(xs), min(ys), max(xs), max(ys))
    if mask["polarity"] == "open":
        for side, got, want in zip(("left", "top", "right", "bottom"), cut, ((w - tile["width_in"]) / 2, (h - tile["height_in"]) / 2, (w + tile["width_in"]) / 2, (h + tile["height_in"]) / 2)):
            near(f"{name} svgelements, {side} of the cut", got, want, TOLERANCE, "report.json")
    sizes = {p.id: [v / PX for v in p.bbox()] for p in group_paths(parsed, "registration") if (p.id or "").startswith("size-")}
    centre = lambda b: ((b[0] + b[2]) / 2, (b[1] + b[3]) / 2)
    for ident, axis in (("size-along", 0), ("size-up", 1)):
        if sizes:
            apart = abs(centre(sizes[ident])[axis] - centre(sizes["size-corner"])[axis])
            near(f"{name} windows that check the size, {ident}", apart, 10, TOLERANCE, "10 in apart both ways")
    along = numpy.array([LineString(r + r[:1]).interpolate(d).coords[0] for r in outlines for d in numpy.arange(0, LineString(r + r[:1]).length, 0.1)])
    at = (along * DPI).astype(int)
    for reader, picture in pictures(svg, pdf, pack.folder):
        near(f"{name} {reader} width", picture.shape[1] / DPI, w, 0.0051, "report.json, to one pixel")
        near(f"{name} {reader} height", picture.shape[0] / DPI, h, 0.0051, "report.json, to one pixel")
        darkest = numpy.minimum.reduce([
            picture[numpy.clip(at[:, 1] + dy, 0, picture.shape[0] - 1), numpy.clip(at[:, 0] + dx, 0, picture.shape[1] - 1)]
            for dx in (-1, 0, 1) for dy in (-1, 0, 1)])
        check(f"{name} {reader}: the outline is seen all along", (darkest < 90).all(), f"{int((darkest >= 90).sum())} of {len(darkest)} points are pale")
        dark = picture < CUT
        if mask["polarity"] == "open" and dark.any():  # a point of a piece would reach out by its mitre
            rows, columns = numpy.flatnonzero(dark.any(axis=1)), numpy.flatnonzero(dark.any(axis=0))
            half = 0.005  # of the line
            got = (columns[0] / DPI + half, rows[0] / DPI + half, (columns[-1] + 1) / DPI - half, (rows[-1] + 1) / DPI - half)
            for side, a, b in zip(("left", "top", "right", "bottom"), got, cut):
                near(f"{name} {reader}, {side} of the cut", a, b, TOLERANCE, "report.json and svgelements")
        if sizes:
            seen = {}
            for ident, (x0, y0, x1, y1) in sizes.items():  # the middle of each window's ink
                r0, r1, c0, c1 = (int(v * DPI) for v in (y0 - 0.05, y1 + 0.05, x0 - 0.05, x1 + 0.05))
                ink = 255.0 - picture[r0:r1, c0:c1]
                seen[ident] = ((c0 + (ink.sum(axis=0) * (numpy.arange(ink.shape[1]) + 0.5)).sum() / ink.sum()) / DPI,
                               (r0 + (ink.sum(axis=1) * (numpy.arange(ink.shape[0]) + 0.5)).sum() / ink.sum()) / DPI)
            near(f"{name} {reader} size along", abs(seen["size-along"][0] - seen["size-corner"][0]), 10, TOLERANCE, "10 in apart")
            near(f"{name} {reader} size up", abs(seen["size-up"][1] - seen["size-corner"][1]), 10, TOLERANCE, "10 in apart")


def flavours(check, near, build, layout):
    """The cut files in all four units are of one physical size, for svgelements and librsvg."""
    sizes = {}
    for units in ("px96", "pt72", "px90", "mm"):
        pack = build("units-" + units, layout, "--svg-units", units)
        for m in pack.markings():
            for k in m["masks"]:
                for t in k["tiles"]:
                    svg = pack.file(t["svg"])
                    region, _ = film(svg)
                    png = pack.file("picture.png")
                    run("rsvg-convert", "-d", "96", "-p", "96", "-o", png, svg)
                    with Image.open(png) as picture:
                        got, pixels = (region.area,) + region.bounds, picture.size
                    os.remove(png)
                    first = sizes.setdefault(t["id"], (got, pixels))
                    for a, b in zip(got, first[0]):
                        near(f"{t['id']} in {units}", a, b, 1e-5 * max(1, abs(b)), "the same file in px96")
                    for a, b in zip(pixels, first[1]):
                        near(f"{t['id']} in {units}, pixels", a, b, 1, "the same file in px96, to one pixel")
    check("files in four units", len(sizes) > 0)

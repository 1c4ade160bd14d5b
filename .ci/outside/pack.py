"""Reads a pack with programs that are not ours: svgelements and shapely for SVG,
poppler, qpdf and MuPDF for PDF, librsvg for pixels."""

import json
import math
import os
import subprocess

from shapely.geometry import Polygon, box
from shapely.ops import unary_union
from svgelements import SVG, Close, CubicBezier, Line, Move, Path

PX = 96.0  # SVG user units to the inch (CSS Values 4, section 6.2)


def run(*args):
    return subprocess.run(args, check=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True).stdout


class Pack:
    def __init__(self, folder):
        self.folder = folder
        with open(os.path.join(folder, "report.json")) as f:
            self.report = json.load(f)

    def markings(self):
        return self.report["markings"]

    def file(self, name):
        return os.path.join(self.folder, name)


def chords(segment, tolerance):
    """Points of a cubic, its end excluded, within tolerance (inches)."""
    a, b, c, d = ((p.x / PX, p.y / PX) for p in (segment.start, segment.control1, segment.control2, segment.end))
    d1 = math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1])
    d2 = math.hypot(b[0] - 2 * c[0] + d[0], b[1] - 2 * c[1] + d[1])
    n = max(1, math.ceil(math.sqrt(6 * max(d1, d2) / (8 * tolerance))))
    out = []
    for i in range(n):
        t = i / n
        u = 1 - t
        w = (u**3, 3 * u * u * t, 3 * u * t * t, t**3)
        out.append(tuple(sum(k * p[j] for k, p in zip(w, (a, b, c, d))) for j in (0, 1)))
    return out


def rings(path, tolerance=1e-6):
    """Closed rings of an svgelements path, in inches, y down as in the file."""
    out, ring = [], []
    for s in path:
        if isinstance(s, Move):
            ring = []
        elif isinstance(s, CubicBezier):
            ring += chords(s, tolerance)
        elif isinstance(s, Line):
            ring.append((s.start.x / PX, s.start.y / PX))
        elif isinstance(s, Close):
            if s.start is not None and s.end is not None and abs(s.start - s.end) > 1e-9:
                ring.append((s.start.x / PX, s.start.y / PX))
            out.append(ring)
            ring = []
    assert not ring, "an open contour"
    return out


def page_height(parsed):
    """Height of a parsed page, inches."""
    return float(parsed.height) / PX


def group_paths(node, name, inside=False):
    """Paths of the layer whose id starts with name."""
    out = []
    for child in node:
        ident = (getattr(child, "id", None) or "")
        if isinstance(child, Path):
            if inside:
                out.append(child)
        elif isinstance(child, list):
            out += group_paths(child, name, inside or ident.startswith(name))
    return out


def even_odd(all_rings):
    """The even-odd region of rings that do not cross, as a shapely geometry."""
    region = None
    for r in sorted((Polygon(r) for r in all_rings), key=lambda p: -p.area):
        assert r.is_valid, "a ring crosses itself"
        region = r if region is None else region.symmetric_difference(r)
    return region


def film(svg, tolerance=1e-6, keep=False):
    """The film of a tile, from its file: inches, y up, origin lower left of the page. The
    frame of a keep-down film (keep) is the sheet that carries the pieces, no film."""
    parsed = SVG.parse(svg, ppi=PX)
    parsed_height = page_height(parsed)
    out = []
    for p in group_paths(parsed, "cut"):
        if keep and not (p.id or "").startswith("film"):
            continue
        for r in rings(p, tolerance):
            out.append([(x, parsed_height - y) for x, y in r])
    return even_odd(out), out


def opening(mask, laid):
    """What a pass leaves open: in the cells of its tiles what their film, laid in the
    flat, leaves, and the cells that are painted all over."""
    cells = [box(*t["cell"]) for t in mask["tiles"]] + [box(*r) for r in mask["open"]]
    return unary_union(cells).difference(laid)

"""Measures fonts with fonttools, shapely and hb-shape (HarfBuzz), for the FontAreas
test of glyphs: outlines' areas, points, extents and advances of characters, and the
places of the characters of random strings. Prints one JSON document.

    fonts.py COUNT SEED FONT...    COUNT strings for each font file; FONT.ttc#2 is the
                                   second font of a collection"""

import json
import random
import string
import subprocess
import sys

from fontTools.misc.bezierTools import cubicPointAtT, quadraticPointAtT
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.basePen import decomposeQuadraticSegment
from fontTools.ttLib import TTFont
from shapely.geometry import Polygon
from shapely.ops import unary_union

KERNED = "AVWTLYPFKR7aoecvwy.-"  # characters that fonts kern most
CHARACTERS = string.ascii_letters + string.digits + "-./&"
STEPS = 1000  # chords to a curve, for the merged area only


def polygons(glyphset, name):
    """The contours of a glyph as lists of points."""
    pen = DecomposingRecordingPen(glyphset)
    glyphset[name].draw(pen)
    rings, ring, here = [], [], None
    for op, args in pen.value:
        if op == "moveTo":
            ring, here = [args[0]], args[0]
        elif op == "lineTo":
            ring.append(args[0])
            here = args[0]
        elif op == "curveTo":
            ring += [cubicPointAtT(here, *args, t=k / STEPS) for k in range(1, STEPS + 1)]
            here = args[-1]
        elif op == "qCurveTo":
            if args[-1] is None:  # no point on the curve
                here = ((args[0][0] + args[-2][0]) / 2, (args[0][1] + args[-2][1]) / 2)
                ring, args = [here], args[:-1] + (here,)
            for control, end in decomposeQuadraticSegment(args):
                ring += [quadraticPointAtT(here, control, end, k / STEPS) for k in range(1, STEPS + 1)]
                here = end
        elif op == "closePath":
            rings.append(ring)
    return [r for r in rings if len(r) > 2]


def marks(glyphset, name):
    """Points of the curves of a glyph, the end and the middle of each; contours of one
    or two points have no area and are left out, as in the program."""
    pen = DecomposingRecordingPen(glyphset)
    glyphset[name].draw(pen)
    out, ring, here = [], [], None
    for op, args in pen.value:
        if op in ("closePath", "endPath"):
            out += ring if len(ring) > 2 else []
            ring = []
        elif op == "qCurveTo" and args[-1] is None:  # no point on the curve
            args = args[:-1]
            ring += [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in zip(args, args[1:] + args[:1])]
        else:
            if op == "curveTo":
                ring.append(cubicPointAtT(here, *args, t=0.5))
            elif op == "qCurveTo":
                for control, end in decomposeQuadraticSegment(args):
                    ring.append(quadraticPointAtT(here, control, end, 0.5))
                    here = end
            here = args[-1]
            ring.append(here)
    return [round(v, 4) for p in out for v in p]


def turns(ring):
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, ring[1:] + ring[:1]))


def merged(rings):
    """The area by the non-zero rule, for holes that lie within one contour each."""
    if not rings:
        return 0.0
    outward = turns(max(rings, key=lambda r: abs(turns(r)))) > 0
    shapes, holes = [], []
    for r in rings:
        (shapes if (turns(r) > 0) == outward else holes).append(Polygon(r).buffer(0))
    parts = []
    for s in shapes:
        for h in holes:
            if s.contains(h):
                s = s.difference(h)
        parts.append(s)
    return unary_union(parts).area


def measure(path, count, rng):
    file, _, number = path.partition("#")
    font = TTFont(file, fontNumber=int(number or 1) - 1)
    glyphset, cmap = font.getGlyphSet(), font.getBestCmap()
    glyphs = {}
    for c in CHARACTERS:
        if ord(c) not in cmap:
            continue
        name = cmap[ord(c)]
        area, bounds = AreaPen(glyphset), BoundsPen(glyphset)
        glyphset[name].draw(area)
        glyphset[name].draw(bounds)
        glyphs[c] = {"signed": area.value, "merged": merged(polygons(glyphset, name)),
                     "bounds": bounds.bounds, "advance": glyphset[name].width, "points": marks(glyphset, name)}
    strings = []
    while len(strings) < count:
        letters = rng.choice((list(glyphs), [c for c in KERNED if c in glyphs]))
        words = ["".join(rng.choices(letters, k=rng.randint(1, 7))) for _ in range(rng.choice((1, 1, 2)))]
        strings.append(" ".join(words))
    off = "-liga,-clig,-calt,-rlig,-ccmp,-locl,-dlig,-rclt,-mark,-mkmk"
    shaped = subprocess.run(["hb-shape", "--script=latn", "--no-glyph-names", "--features=" + off, f"--face-index={int(number or 1) - 1}", file], input="\n".join(strings) + "\n",
                            check=True, stdout=subprocess.PIPE, text=True).stdout.splitlines()
    runs = []
    for text, line in zip(strings, shaped):
        x, places = 0, []
        for part in line.strip("[]").split("|"):  # glyph=cluster@dx,dy+advance
            head, advance = part.rsplit("+", 1)
            places.append(x + (int(head.split("@")[1].split(",")[0]) if "@" in head else 0))
            x += int(advance)
        runs.append({"text": text, "places": places})
    return {"file": path, "em": font["head"].unitsPerEm, "cap": glyphs["H"]["bounds"][3], "glyphs": glyphs, "runs": runs}


count, seed = int(sys.argv[1]), int(sys.argv[2])
rng = random.Random(seed)
json.dump({"seed": seed, "fonts": [measure(path, count, rng) for path in sys.argv[3:]]}, sys.stdout)

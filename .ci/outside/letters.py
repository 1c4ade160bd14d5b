"""Lettering measured on the cut files by shapely: the marks of 14 CFR 45.29(c) to (e)
for every character, and the underwing serial of AMWO 501/1926."""

import os
import subprocess

from shapely.geometry import LineString, box
from shapely.ops import unary_union

AIRCRAFT = """
  name: wall
  datum: FS 0 and WL 0 are the lower fore corner of a wall
  units: in
  surfaces: [{id: wall, kind: plate, thickness: 2, outline: [[0, 0], [400, 0], [400, 120], [0, 120]]}]
  hardpoints:
    - {id: A, name: lower fore corner, side: both, fs: 0, bl: 1, wl: 0}
    - {id: B, name: lower aft corner, side: both, fs: 400, bl: 1, wl: 0}
    - {id: C, name: upper fore corner, side: both, fs: 0, bl: 1, wl: 120}
"""


def layout(texts, alphabet, height):
    rows = "".join(
        f"  - {{id: t{i}, figure: {{text: {t!r}, alphabet: {alphabet}, height: {height}}}, where: {{surface: wall, side: left, fs: 200, wl: 60}}, colours: {{text: black}}}}\n"
        for i, t in enumerate(texts))
    return f"""name: letters
units: in
aircraft:{AIRCRAFT}markings:
{rows}film: {{web: 90, margin: {{across: 1, lead: 1, tail: 1}}, field: 1.5, longest: 300}}
paint: {{order: [black], colours: {{black: {{name: black, hex: "#000000"}}}}}}
"""


def measured(build, tile_film, work, name, texts, alphabet, height):
    """Characters of each text as shapely regions, from left to right."""
    path = os.path.join(work, name + ".yaml")
    with open(path, "w") as f:
        f.write(layout(texts, alphabet, height))
    pack = build(name, path)
    out = []
    for m in pack.markings():
        parts = [tile_film(pack, t)[0] for t in m["masks"][0]["tiles"]]
        film = unary_union(parts)
        opening = box(*film.bounds).difference(film)
        out.append(sorted(getattr(opening, "geoms", [opening]), key=lambda g: g.bounds[0]))
    return out


def widest(region, width):
    """Whether a disc of the width fits nowhere into the region: every stroke is at most so
    wide, but for where strokes meet."""
    return region.buffer(-width / 2, join_style=2)


def letters(check, near, build, tile_film, work):
    h = 12.0
    texts = ["N0123", "456789", "ABCDE", "FGHJK", "LMNPQ", "RSTUV", "WXYZ"]
    for text, glyphs in zip(texts, measured(build, tile_film, work, "registration", texts, "cfr-45-29", "12")):
        check(f"{text}: one region a character", len(glyphs) == len(text), str(len(glyphs)))
        widths = []
        for ch, g in zip(text, glyphs):
            x0, y0, x1, y1 = g.bounds
            near(f"height of {ch}", y1 - y0, h, 0.001, "14 CFR 45.29(b)(1)")
            widths.append(x1 - x0)
            if ch == "1":
                near("width of 1", x1 - x0, h / 6, 0.001, "14 CFR 45.29(c)")
            elif ch in "MW":
                check(f"width of {ch}", 2 * h / 3 - 0.001 <= x1 - x0 <= h + 0.001, f"{x1 - x0:.4f} (14 CFR 45.29(c): at most the height)")
            else:
                near(f"width of {ch}", x1 - x0, 2 * h / 3, 0.001, "14 CFR 45.29(c)")
            # 45.29(d): strokes of one sixth: a strip 0.02 in wider than the stroke fits in
            # nowhere, but for joints of strokes; one 0.02 in narrower keeps the character whole
            thin = g.buffer(-(h / 12 - 0.01), join_style=2)
            check(f"stroke of {ch} is nowhere thinner than 1/6", not thin.is_empty and thin.area > 0.02 * (y1 - y0) * 0.02, f"{thin.area:.4f}")
            fat = widest(g, h / 6 + 0.02)
            check(f"stroke of {ch} is nowhere thicker than 1/6 but at joints", fat.area < 0.08 * g.area, f"{fat.area:.3f} in2 of {g.area:.3f}")
        for a, b, wa in zip(glyphs, glyphs[1:], widths):
            gap = b.bounds[0] - a.bounds[2]
            check(f"gap in {text}", gap >= (2 * h / 3) / 4 - 0.001, f"{gap:.4f} (14 CFR 45.29(e): at least a quarter of the width)")
    # uprights by rays: H has two of them, at any height but that of its bar
    for text, glyphs in zip(["HNU"], measured(build, tile_film, work, "uprights", ["HNU"], "cfr-45-29", "12")):
        h_glyph = glyphs[0]
        x0, y0, x1, y1 = h_glyph.bounds
        hit = h_glyph.intersection(LineString([(x0 - 1, y0 + 0.2 * h), (x1 + 1, y0 + 0.2 * h)]))
        for part in getattr(hit, "geoms", [hit]):
            near("upright of H", part.length, h / 6, 0.001, "14 CFR 45.29(d)")

    an = "AMWO 501/1926, copied out at rafweb.org"
    glyphs = measured(build, tile_film, work, "underwing", ["K2345"], "raf-underwing-1926", "30")[0]
    check("five characters", len(glyphs) == 5, str(len(glyphs)))
    for ch, g in zip("K2345", glyphs):
        x0, y0, x1, y1 = g.bounds
        near(f"1926: height of {ch}", y1 - y0, 30, 0.001, an)
        near(f"1926: width of {ch}", x1 - x0, 12, 0.001, an)
    for a, b in zip(glyphs, glyphs[1:]):
        near("1926: gap", b.bounds[0] - a.bounds[2], 6, 0.001, an)
    x0, y0, x1, y1 = glyphs[0].bounds
    hit = glyphs[0].intersection(LineString([(x0 - 1, y0 + 1), (x0 + 4.5, y0 + 1)]))
    near("1926: stroke of K", hit.length if hit.geom_type == "LineString" else hit.geoms[0].length, 4, 0.001, an)

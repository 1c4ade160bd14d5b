"""Tiles laid together by their registration marks, as on the aircraft, against the same
film cut in one piece; openings against each other; and what is too narrow to cut."""

import math
import os
import re

from shapely.affinity import translate
from shapely.ops import unary_union

from pack import PX, film, group_paths, opening, page_height, rings

from svgelements import SVG

NARROW = 2 / 25.4  # a stroke narrower than 2 mm tears when it is weeded (trade practice)


TIP = 1 / 32  # inches from a mark to the points of its triangles


def mark_places(svg):
    """Registration marks of a file, inches, y up: the middle between the points of two
    triangles; on a seam, where a tile has one, its point moved on by TIP."""
    parsed = SVG.parse(svg, ppi=PX)
    height, out = page_height(parsed), {}
    for p in group_paths(parsed, "registration"):
        if not (p.id or "").startswith("mark-"):
            continue
        triangles = [[(x, height - y) for x, y in r] for r in rings(p)]
        if len(triangles) == 2:
            a, b = min(((a, b) for a in triangles[0] for b in triangles[1]), key=lambda ab: math.dist(*ab))
            at = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        else:  # both sides that meet in the point are of one length
            corners = triangles[0]
            legs = lambda c: [math.dist(c, d) for d in corners if d is not c]
            tip = min(corners, key=lambda c: abs(legs(c)[0] - legs(c)[1]))
            rest = [d for d in corners if d is not tip]
            middle = ((rest[0][0] + rest[1][0]) / 2, (rest[0][1] + rest[1][1]) / 2)
            far = math.dist(tip, middle)
            at = tuple(t + (t - m) * TIP / far for t, m in zip(tip, middle))
        out[p.id[len("mark-"):]] = at
    return out


def laid(check, near, pack, tile, keep):
    """The film of a tile, shifted so that the marks cut in it lie on those of the report."""
    svg = pack.file(tile["svg"])
    drawn = mark_places(svg)
    want = {r["id"]: r["film"] for r in tile["registration"]}
    check(tile["id"] + " has its marks cut", sorted(drawn) == sorted(want), f"{sorted(drawn)} {sorted(want)}")
    dx = sum(want[i][0] - drawn[i][0] for i in want) / len(want)
    dy = sum(want[i][1] - drawn[i][1] for i in want) / len(want)
    for i in want:
        near(f"{tile['id']} mark {i} x", drawn[i][0] + dx, want[i][0], 1e-5, "report.json")
        near(f"{tile['id']} mark {i} y", drawn[i][1] + dy, want[i][1], 1e-5, "report.json")
    return translate(film(svg, keep=keep)[0], dx, dy)


def polygons(region):
    return [p for p in getattr(region, "geoms", [region]) if p.geom_type == "Polygon" and p.area > 1e-3]


def hairlines(region):
    """Gaps in a region up to 0.008 in wide and over 0.1 in long."""
    closed = region.buffer(0.004, join_style=2).buffer(-0.004, join_style=2)
    parts = closed.difference(region)
    return [p.bounds for p in getattr(parts, "geoms", [parts]) if p.area > 1e-5 and max(p.bounds[2] - p.bounds[0], p.bounds[3] - p.bounds[1]) > 0.1]


def narrow(region):
    """Parts of a region that vanish, or fall apart, when 1 mm is taken off all round."""
    out = []
    for p in polygons(region):
        left = p.buffer(-(NARROW / 2 - 1e-3))
        if left.is_empty or len(polygons(left)) > 1:
            out.append(tuple(round(v, 3) for v in p.bounds))
    return out


def reassembly(check, near, pack, whole):
    """pack is cut in tiles; whole is the same layout on a web that takes every film in one."""
    uncut = {k["id"]: k for m in whole.markings() for k in m["masks"]}
    for m in pack.markings():
        openings = []
        small = [f for f in pack.report["findings"] if f["rule"] == "small-feature" and f["marking"] == m["id"]]
        for k in m["masks"]:
            keep = k["polarity"] != "open"
            film_laid = unary_union([laid(check, near, pack, t, keep) for t in k["tiles"]])
            other = uncut[k["id"]]
            check(k["id"] + " in one piece", len(other["tiles"]) == 1)
            alone = laid(check, near, whole, other["tiles"][0], keep)
            if keep:
                near(k["id"] + " tiles and one piece", film_laid.symmetric_difference(alone).area, 0, 1e-4, "the same film on a wide web")
            else:  # fields and arms differ with the web, what is sprayed does not
                openings.append(opening(other, alone))
                near(k["id"] + " tiles and one piece", opening(k, film_laid).symmetric_difference(openings[-1]).area, 0, 1e-4, "the same opening on a wide web")
            for what, region in (("film", alone), ("opening", None if keep else openings[-1])):
                found = narrow(region) if region is not None else []
                check(f"{k['id']}: {what} narrower than 2 mm has its finding", not found or small, str(found[:3]))
        union = unary_union(openings)
        check(m["id"] + " openings are valid", union.is_valid and all(o.is_valid for o in openings))
        gaps = hairlines(union)
        check(m["id"] + " openings leave no hairline between them", not gaps, str(gaps[:3]))


def on_wide_web(source, target, aircraft):
    """Writes a layout anew on a web of 200 in."""
    with open(source) as f:
        text = f.read()
    text = re.sub(r"\bweb: *[0-9][^,}\n#]*", "web: 200 in ", text)
    text = re.sub(r"\blongest: *[0-9][^,}\n#]*", "longest: 200 in ", text)
    with open(target, "w") as f:
        f.write(text.replace("../aircraft", aircraft))
    return target

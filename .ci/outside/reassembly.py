"""Tiles laid together by their registration marks, as on the aircraft, against the same
film cut in one piece; openings against each other; and what is too narrow to cut."""

import os
import re

from shapely.affinity import translate
from shapely.geometry import box
from shapely.ops import unary_union

from pack import PX, film, group_paths, page_height

from svgelements import SVG

NARROW = 2 / 25.4  # a stroke narrower than 2 mm tears when it is weeded (trade practice)


def mark_places(svg):
    """Centres of the registration marks of a file, inches, y up."""
    parsed = SVG.parse(svg, ppi=PX)
    height, out = page_height(parsed), {}
    for p in group_paths(parsed, "registration"):
        if (p.id or "").startswith("mark-"):
            x0, y0, x1, y1 = p.bbox()
            out[p.id[len("mark-"):]] = ((x0 + x1) / 2 / PX, height - (y0 + y1) / 2 / PX)
    return out


def laid(check, near, pack, tile):
    """The film of a tile, shifted so that its drawn marks lie on those of the report."""
    svg = pack.file(tile["svg"])
    drawn = mark_places(svg)
    want = {r["id"]: r["film"] for r in tile["registration"]}
    check(tile["id"] + " draws its marks", sorted(drawn) == sorted(want), f"{sorted(drawn)} {sorted(want)}")
    dx = sum(want[i][0] - drawn[i][0] for i in want) / len(want)
    dy = sum(want[i][1] - drawn[i][1] for i in want) / len(want)
    for i in want:
        near(f"{tile['id']} mark {i} x", drawn[i][0] + dx, want[i][0], 1e-5, "report.json")
        near(f"{tile['id']} mark {i} y", drawn[i][1] + dy, want[i][1], 1e-5, "report.json")
    return translate(film(svg)[0], dx, dy)


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
            film_laid = unary_union([laid(check, near, pack, t) for t in k["tiles"]])
            other = uncut[k["id"]]
            check(k["id"] + " in one piece", len(other["tiles"]) == 1)
            alone = laid(check, near, whole, other["tiles"][0])
            near(k["id"] + " tiles and one piece", film_laid.symmetric_difference(alone).area, 0, 1e-4, "the same film on a wide web")
            if k["polarity"] == "open":
                openings.append(box(*alone.bounds).difference(alone))
            for what, region in (("film", alone), ("opening", openings[-1] if k["polarity"] == "open" else None)):
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

"""Every cut file and every nest as ezdxf reads its DXF: release, units, layers, closed
polylines, and how far its arcs lie from the SVG's outlines."""

import glob
import os

import ezdxf
from shapely.geometry import LineString, Point, Polygon
from svgelements import SVG

from pack import PX, group_paths, page_height, rings

TOLERANCE = 0.001  # inches: polylines with bulges within it (the tolerance of outlines)


def outlines(svg, name):
    """Closed rings of a group of an SVG in the order of the file, inches, y up."""
    parsed = SVG.parse(svg, ppi=PX)
    height = page_height(parsed)
    return [[(x, height - y) for x, y in r] for p in group_paths(parsed, name) for r in rings(p, 1e-6)]


def points(polyline):
    """Points of a polyline with bulges, its arcs cut by ezdxf within 1e-6 in."""
    out = []
    for e in polyline.virtual_entities():
        if e.dxftype() == "ARC":
            part = [(p.x, p.y) for p in e.flattening(1e-6)]
        else:
            part = [(e.dxf.start.x, e.dxf.start.y), (e.dxf.end.x, e.dxf.end.y)]
        out += part
    return out


def dxf_files(check, near, pack):
    names = sorted(glob.glob(pack.file("cut/*.dxf")) + glob.glob(pack.file("run/*.dxf")))
    check("there are DXF files", len(names) > 0)
    for name in names:
        doc, short = ezdxf.readfile(name), os.path.basename(name)
        check(short + " is of release 12", doc.dxfversion == "AC1009", doc.dxfversion)
        check(short + " states inches", doc.header.get("$INSUNITS") == 1)
        check(short + " has no errors for ezdxf", not doc.audit().errors)
        drawn = {"CUT": [], "REGISTRATION": []}
        for e in doc.modelspace():
            check(f"{short} {e.dxftype()} is a closed polyline of a group that is cut", e.dxftype() == "POLYLINE" and e.is_closed and e.dxf.layer in drawn)
            drawn[e.dxf.layer].append(e)
        for layer, polylines in drawn.items():
            want = outlines(name[:-3] + "svg", layer.lower())
            check(f"{short} {layer} outlines", len(want) == len(polylines), f"{len(polylines)} of {len(want)}")
            for ring, polyline in zip(want, polylines):
                line = LineString(ring + ring[:1])
                worst = max(line.distance(Point(p)) for p in points(polyline))
                check(f"{short} {layer} lies on the SVG", worst <= TOLERANCE + 2e-6, f"{worst:.6f} in off")
        cut = [Polygon(r) for r in outlines(name[:-3] + "svg", "cut")]
        for i, p in enumerate(cut):  # the knife cuts what lies inside before what holds it
            inside = p.representative_point()
            check(f"{short} outline {i} is cut before what holds it", not any(q.area > p.area and q.contains(inside) for q in cut[:i]))

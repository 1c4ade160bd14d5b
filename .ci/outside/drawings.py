"""Figures from drawings: the areas of all paints together are what the drawing covers,
by shapely on the drawing's own numbers."""

import os

from shapely.geometry import Polygon, box
from shapely.ops import unary_union

LAYOUT = """name: drawing
units: in
aircraft: {aircraft}
markings:
  - id: badge
    figure: {{drawing: {drawing}, width: {width:.9f}, paints: {{"#ff0000": red, "#0000ff": blue, "#000000": black}}}}
    where: {{surface: slab, side: left, fs: 40, wl: 36}}
film: {{web: 60 in, margin: {{across: 1 in, lead: 1 in, tail: 2 in}}, field: 1.5 in, longest: 96 in}}
paint:
  order: [red, blue, black]
  colours: {{red: {{name: red, hex: "#ff0000"}}, blue: {{name: blue, hex: "#0000ff"}}, black: {{name: black, hex: "#000000"}}}}
"""

KAPPA = 0.5523  # of the cubics: a drawing's rounds are what its file says, not circles
STEPS = 1 << 13  # chords to a cubic: its area is then out by less than 1e-8 of it


def round_path(x, y, r):
    """Four cubics, as SVG path data."""
    k = KAPPA * r
    return (f"M{x + r} {y} C{x + r} {y + k} {x + k} {y + r} {x} {y + r} C{x - k} {y + r} {x - r} {y + k} {x - r} {y} "
            f"C{x - r} {y - k} {x - k} {y - r} {x} {y - r} C{x + k} {y - r} {x + r} {y - k} {x + r} {y} Z")


def disc(x, y, r):
    """The same four cubics as chords."""
    points = []
    for q in range(4):
        c, s = (1, 0, -1, 0)[q], (0, 1, 0, -1)[q]
        for i in range(STEPS):
            t = i / STEPS
            u = 1 - t
            px = u**3 + 3 * u * u * t + 3 * u * t * t * KAPPA
            py = 3 * u * u * t * KAPPA + 3 * u * t * t + t**3
            points.append((x + r * (c * px - s * py), y + r * (s * px + c * py)))
    return Polygon(points)


def drawings(near, build, root, work):
    """Rounds, a ring, a bar with a stroke, a polygon with a hole, a clipped bar, one over
    the other, in units of 1/10 in."""
    svg = f"""<svg xmlns="http://www.w3.org/2000/svg" width="10in" height="10in" viewBox="0 0 100 100">
<defs><clipPath id="c"><path d="{round_path(70, 70, 20)}"/></clipPath></defs>
<path d="{round_path(40, 40, 30)}" fill="#ff0000"/>
<path d="{round_path(60, 45, 28)} {round_path(60, 45, 22)}" fill-rule="evenodd" fill="#0000ff"/>
<rect x="20" y="55" width="50" height="12" fill="#0000ff" stroke="#000000" stroke-width="3"/>
<path d="M50 5 L95 30 L80 60 L55 50 Z M65 25 L65 40 L78 40 Z" fill-rule="evenodd" fill="#ff0000"/>
<rect x="50" y="68" width="50" height="10" fill="#000000" clip-path="url(#c)"/>
</svg>
"""
    with open(os.path.join(work, "areas.svg"), "w") as f:
        f.write(svg)
    red = [disc(40, 40, 30), Polygon([(50, 5), (95, 30), (80, 60), (55, 50)], [[(65, 25), (65, 40), (78, 40)]])]
    blue = [disc(60, 45, 28).difference(disc(60, 45, 22)), box(20, 55, 70, 67)]
    black = [box(18.5, 53.5, 71.5, 68.5).difference(box(21.5, 56.5, 68.5, 65.5)), box(50, 68, 100, 78).intersection(disc(70, 70, 20))]
    # in the order of the drawing, each over those before it
    order = [("red", red[0]), ("blue", blue[0]), ("blue", blue[1]), ("black", black[0]), ("red", red[1]), ("black", black[1])]
    shows = {"red": [], "blue": [], "black": []}
    above = Polygon()
    for paint, region in reversed(order):
        shows[paint].append(region.difference(above))
        above = unary_union([above, region])
    whole = unary_union([r for _, r in order])
    width = whole.bounds[2] - whole.bounds[0]
    with open(os.path.join(work, "areas.yaml"), "w") as f:
        f.write(LAYOUT.format(aircraft=os.path.abspath(os.path.join(root, "testdata", "aircraft", "slab.yaml")), drawing="areas.svg", width=width / 10))
    m = build("areas", os.path.join(work, "areas.yaml")).markings()[0]
    total = sum(k["shows_in2"] for k in m["masks"])
    near("areas of all paints of a drawing", total, whole.area / 100, 1e-6 * whole.area / 100 + 1e-6, "shapely")
    for k in m["masks"]:
        want = sum(r.area for r in shows[k["colour"]]) / 100
        near("area of " + k["colour"] + " in a drawing", k["shows_in2"], want, 1e-6 * want + 1e-6, "shapely")

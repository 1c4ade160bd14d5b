"""Forms of markings: the figure of every rule that has numbers is measured with shapely
against the numbers of its document, drawn anew from the YAML by the words of
layouts/standards/kinds.go; colours that touch are told apart."""

import glob
import math
import os
import re
import subprocess

import yaml
from shapely.affinity import affine_transform, rotate, translate
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union

ROUND = 256  # quarter circle in so many chords: area off by 6e-6 of the disc


def number(text, known):
    """A formula of a document: numbers, + - * /, sin and cos of degrees, sqrt."""
    names = dict(known, sin=lambda d: math.sin(math.radians(d)), cos=lambda d: math.cos(math.radians(d)), sqrt=math.sqrt)
    return float(eval(str(text), {"__builtins__": {}}, names))


def disc(r):
    return Point(0, 0).buffer(r, ROUND)


def sector(r, a, b):
    steps = max(2, int(abs(b - a) / 0.1))
    arc = [(r * math.cos(math.radians(a + (b - a) * i / steps)), r * math.sin(math.radians(a + (b - a) * i / steps))) for i in range(steps + 1)]
    return Polygon([(0, 0)] + arc)


def star(points, outer, inner, first):
    ring = []
    for i in range(int(points)):
        for r, turn in ((outer, 0), (inner, 0.5)):
            a = math.radians(first + 360 / points * (i + turn))
            ring.append((r * math.cos(a), r * math.sin(a)))
    return Polygon(ring)


def ngon(points, r, first):
    return Polygon([(r * math.cos(math.radians(first + 360 / points * i)), r * math.sin(math.radians(first + 360 / points * i))) for i in range(int(points))])


def strips(shape, along, low, high):
    """What of a shape lies between two parts of its extent across the direction along,
    counted from its left: turned so that along points up, left is the least x."""
    up = rotate(shape, 90 - along, origin=(0, 0))
    x0, y0, x1, y1 = up.bounds
    cut = box(x0 + low(x1 - x0), y0 - 1, x0 + high(x1 - x0), y1 + 1)
    return rotate(up.intersection(cut), along - 90, origin=(0, 0))


class Drawn:
    """The parts of a rule at a size, in inches, by the numbers of its document."""

    def __init__(self, rule, size):
        known = {"size": size}
        for o in rule.get("options", []):
            known.update({k: number(v, {}) for k, v in next(c for c in o["choices"] if str(c["choice"]) == str(o["default"]))["numbers"].items()})
        self.unit, self.size, self.known, self.shapes, self.rows = rule["unit"], size, known, {}, {}
        for p in rule["parts"]:
            self.rows[p["part"]] = p
        for p in rule["parts"]:
            self.shape(p["part"])
        self.regions = {}
        for p in rule["parts"]:  # painter's order
            role = p["colour"]
            if p.get("left_out") is not None and number(p["left_out"], known) != 0:
                role = "ground"
                if not self.regions:
                    continue
            s = self.shapes[p["part"]]
            self.regions = {k: v.difference(s) for k, v in self.regions.items()}
            self.regions[role] = unary_union([self.regions.get(role, Polygon()), s])

    def n(self, numbers, name, circular=False):
        v = number(numbers[name], self.known)
        if self.unit == "in":
            return v
        if self.unit == "D":
            return v * self.size / (2 if circular else 1)
        return v * self.size / 2

    def shape(self, part):
        if part in self.shapes:
            return self.shapes[part]
        p = self.rows[part]
        kind = next(k for k in p if k not in ("part", "colour", "note", "known", "left_out", "in"))
        s = self.outline(kind, p[kind], p)
        if "in" in p and kind not in ("band", "bands", "strip"):
            s = s.intersection(unary_union([self.shape(q) for q in p["in"]]))
        self.shapes[part] = s
        return s

    def bars(self, q):
        end = self.n(q, "start") + self.n(q, "length")
        return box(-end, self.n(q, "top") - self.n(q, "width"), end, self.n(q, "top"))

    def outline(self, kind, q, p):
        raw = lambda name: number(q[name], self.known)  # noqa: E731
        if kind == "disc":
            return disc(self.n(q, "radius" if "radius" in q else "diameter", True) if self.unit != "in" else raw("radius"))
        if kind == "ring":
            return disc(self.n(q, "outer", True)).difference(disc(self.n(q, "inner", True)))
        if kind == "star":
            return star(raw("points"), self.n(q, "outer", True), self.n(q, "inner", True), raw("first"))
        if kind == "bars":
            return self.bars(q)
        if kind == "stripe":
            out = []
            for b in q["along"]:
                x0, y0, x1, y1 = self.bars(self.rows[b]["bars"]).bounds
                mid, half = (y0 + y1) / 2 + self.n(q, "centre"), self.n(q, "width") / 2
                out.append(box(x0, mid - half, x1, mid + half))
            return unary_union(out)
        if kind == "border":
            w = self.n(q, "width")
            out = []
            for b in q["around"]:
                round_one = "disc" in self.rows[b]
                out.append(self.shape(b).buffer(w, ROUND, join_style=1 if round_one else 2, mitre_limit=100))
            return unary_union(out)
        if kind == "box":
            return box(self.n(q, "left"), self.n(q, "bottom"), self.n(q, "right"), self.n(q, "top"))
        if kind in ("cross", "saltire"):
            a, w = self.n(q, "span") / 2, self.n(q, "width") / 2
            s = unary_union([box(-a, -w, a, w), box(-w, -a, w, a)])
            return rotate(s, 45, origin=(0, 0)) if kind == "saltire" else s
        if kind == "sector":
            return sector(self.n(q, "radius", True), raw("from"), raw("to"))
        if kind == "ring-sector":
            return sector(self.n(q, "outer", True), raw("from"), raw("to")).difference(disc(self.n(q, "inner", True)))
        if kind == "ngon":
            return ngon(raw("points"), self.n(q, "radius", True), raw("first"))
        if kind == "triangle":
            return Polygon([(self.n(q, "x1"), self.n(q, "y1")), (self.n(q, "x2"), self.n(q, "y2")), (self.n(q, "x3"), self.n(q, "y3"))])
        if kind == "bar":
            s = box(-self.n(q, "length") / 2, -self.n(q, "width") / 2, self.n(q, "length") / 2, self.n(q, "width") / 2)
            return translate(rotate(s, raw("angle"), origin=(0, 0)), self.n(q, "x"), self.n(q, "y"))
        if kind == "chevron":
            half = math.radians(raw("angle") / 2)
            arm, w, apex = self.n(q, "arm"), self.n(q, "width"), self.n(q, "apex")
            out = (apex + arm * math.cos(half), arm * math.sin(half))
            inn = (out[0] + w * math.sin(half), out[1] - w * math.cos(half))
            tip = (apex + w / math.sin(half), 0)
            return Polygon([(apex, 0), (out[0], -out[1]), (inn[0], -inn[1]), tip, inn, out])
        if kind == "field":
            return box(-self.n(q, "width") / 2, -self.n(q, "height") / 2, self.n(q, "width") / 2, self.n(q, "height") / 2)
        within = unary_union([self.shape(b) for b in p["in"]])
        if kind == "band":
            return strips(within, raw("along"), lambda w: raw("from") * w, lambda w: raw("to") * w)
        if kind == "strip":
            return strips(within, raw("along"), lambda w: self.n(q, "start"), lambda w: self.n(q, "start") + self.n(q, "width"))
        if kind == "bands":
            count, first, every = int(raw("count")), int(raw("first")), int(raw("every"))
            picked = range(first - 1, count, every)
            return unary_union([strips(within, raw("along"), lambda w, i=i: i * w / count, lambda w, i=i: (i + 1) * w / count) for i in picked])
        raise ValueError("no outline for a part of kind " + kind)


def figure(path):
    """Regions by role and their fill, in inches, y up, about the middle of the page."""
    text = open(path).read()
    width, height = (float(v) for v in re.search(r'width="([0-9.]+)in" height="([0-9.]+)in"', text).groups())
    vw, vh = (float(v) for v in re.search(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"', text).groups())
    out = {}
    for role, fill, d in re.findall(r'<path id="([a-z_]+)[^"]*" fill="(#[0-9a-f]{6})"[^>]* d="([^"]+)"', text):
        shape = Polygon()
        for ring in re.findall(r"M[^MZ]+Z", d):
            shape = shape.symmetric_difference(Polygon(points(ring)).buffer(0))
        out[role] = (affine_transform(shape, [width / vw, 0, 0, -height / vh, 0, height]), fill)
    return out


def points(ring):
    """Points of one closed run of lines and cubics, a cubic in 64 chords."""
    at, out = None, []
    for command, body in re.findall(r"([MLCZ])([^MLCZ]*)", ring):
        v = [float(x) for x in re.findall(r"-?[0-9.]+", body)]
        if command in "ML":
            for i in range(0, len(v), 2):
                at = (v[i], v[i + 1])
                out.append(at)
        if command == "C":
            for i in range(0, len(v), 6):
                p = [at, (v[i], v[i + 1]), (v[i + 2], v[i + 3]), (v[i + 4], v[i + 5])]
                for k in range(1, 65):
                    t = k / 64
                    w = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
                    out.append(tuple(sum(w[j] * p[j][axis] for j in range(4)) for axis in (0, 1)))
                at = p[3]
    return out


def own_size(rule):
    """The size a card is drawn at: see OwnSize."""
    sizes = rule.get("sizes") or []
    for general in (True, False):
        for s in sizes:
            if not general or not ("place" in s or "type" in s):
                if s.get("inches"):
                    return min(s["inches"])
                if s.get("cm"):
                    return min(s["cm"]) / 2.54
                return s["steps"]["from"]
    return 40.0


def forms(program, work, root, check, near):
    standards = os.path.join(root, "layouts", "standards")
    folder = os.path.join(work, "forms")
    subprocess.run([program, "rules", "-o", folder], check=True, cwd=root, stdout=subprocess.DEVNULL)
    drawn = 0
    for path in sorted(glob.glob(os.path.join(standards, "documents", "*.yaml")) + glob.glob(os.path.join(standards, "nations", "*.yaml"))):
        doc = yaml.load(open(path), yaml.BaseLoader)
        if isinstance(doc, list):
            continue
        family = doc.get("document") or doc["nation"].replace(" ", "-")
        revision = "-" + doc["revision"] if doc.get("revision") else ""
        for rule in doc.get("rules", []):
            if "parts" not in rule or any("letters" in p for p in rule["parts"]):
                continue
            drawn += 1
            for s in rule.get("sizes", []):
                for key in ("inches", "cm"):
                    if key in s:
                        s[key] = [float(v) for v in s[key]]
                if "steps" in s:
                    s["steps"] = {k: float(v) for k, v in s["steps"].items()}
            name = f"{family}{revision}-{rule['rule']}"
            size = own_size(rule)
            want = {k: v for k, v in Drawn(rule, size).regions.items() if k != "ground"}  # bare skin is not drawn
            got = figure(os.path.join(folder, name + ".svg"))
            whole = unary_union([v for v in want.values()])
            drawing = unary_union([v for v, _ in got.values()])
            shift = [a - b for a, b in zip(whole.centroid.coords[0], drawing.centroid.coords[0])]
            check(f"form {name}: colours", set(got) == {k for k, v in want.items() if v.area > 1e-9 * whole.area}, f"{sorted(got)} against {sorted(want)}")
            x0, y0, x1, y1 = whole.bounds
            dx0, dy0, dx1, dy1 = drawing.bounds
            near(f"form {name}: width", (dx1 - dx0) / (x1 - x0), 1, 1e-4, "numbers of the document")
            near(f"form {name}: height", (dy1 - dy0) / (y1 - y0), 1, 1e-4, "numbers of the document")
            for role, (shape, _) in got.items():
                if role not in want:
                    continue
                moved = translate(shape, *shift)
                off = moved.symmetric_difference(want[role]).area / whole.area
                near(f"form {name}: {role}", off, 0, 1e-4, "area that lies otherwise, as part of the figure; numbers of the document")
            roles = list(got)
            for i, a in enumerate(roles):
                for b in roles[i + 1:]:
                    if got[a][0].distance(got[b][0]) < 1e-3:
                        check(f"form {name}: {a} and {b} touch in two colours", got[a][1] != got[b][1], got[a][1])
    check("forms with numbers are drawn", drawn >= 100, str(drawn))

"""Outside checks of maskloft: every figure below is measured on the written files
by other programs, and stands beside its source."""

import filecmp
import math
import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from camera import camera  # noqa: E402
from flats import flats  # noqa: E402
from forms import forms  # noqa: E402
from drawings import drawings  # noqa: E402
from dxf import dxf_files  # noqa: E402
from letters import letters  # noqa: E402
from pack import Pack, film, opening, run  # noqa: E402
from readers import cut_files, flavours  # noqa: E402
from reassembly import on_wide_web, reassembly  # noqa: E402
from schema import schema  # noqa: E402
from units import units  # noqa: E402
from views import views  # noqa: E402

from shapely.affinity import translate  # noqa: E402
from shapely.geometry import LineString, Point, Polygon, box  # noqa: E402
from shapely.ops import unary_union  # noqa: E402

program, work = sys.argv[1:3]
root = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
passed, failed = 0, 0


def check(name, ok, detail=""):
    global passed, failed
    if ok:
        passed += 1
    else:
        failed += 1
        print(f"FAILED: {name} {detail}")


def near(name, got, want, tolerance, source):
    check(name, abs(got - want) <= tolerance, f"measured {got:.6f}, expected {want:.6f} within {tolerance:g} ({source})")


def build(name, *args):
    folder = os.path.join(work, name)
    subprocess.run([program, "build", "-o", folder, *args], check=True, cwd=root, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return Pack(folder)


def lesson(name):
    return build(name, os.path.join("testdata", "lessons", name + ".yaml"))


def tile_film(pack, tile):
    """Film of a tile in the flat of its marking: the page's border is 0.25 in."""
    keep = any(t is tile for m in pack.markings() for k in m["masks"] if k["polarity"] != "open" for t in k["tiles"])
    region, all_rings = film(pack.file(tile["svg"]), keep=keep)
    x, y = tile["film_min"][0] - 0.25, tile["film_min"][1] - 0.25
    return translate(region, x, y), [[(px + x, py + y) for px, py in r] for r in all_rings]


def files(pack):
    """Sizes of every file in four readers; outlines that are really drawn."""
    for m in pack.markings():
        for k in m["masks"]:
            for t in k["tiles"]:
                svg, pdf = pack.file(t["svg"]), pack.file(t["pdf"])
                w, h = t["page_width_in"], t["page_height_in"]
                size = re.search(r"Page size:\s+([0-9.]+) x ([0-9.]+) pts", run("pdfinfo", pdf))
                near(t["pdf"] + " pdfinfo width", float(size.group(1)) / 72, w, 0.001, "ISO 32000-1, 8.3.2.3: 1/72 in")
                near(t["pdf"] + " pdfinfo height", float(size.group(2)) / 72, h, 0.001, "ISO 32000-1, 8.3.2.3")
                box = re.search(r'MediaBox l="([0-9.]+)" b="([0-9.]+)" r="([0-9.]+)" t="([0-9.]+)"', run("mutool", "pages", pdf))
                near(t["pdf"] + " MuPDF width", float(box.group(3)) / 72, w, 0.001, "ISO 32000-1, 14.11.2")
                near(t["pdf"] + " MuPDF height", float(box.group(4)) / 72, h, 0.001, "ISO 32000-1, 14.11.2")
                qpdf = subprocess.run(["qpdf", "--check", pdf], capture_output=True, text=True)
                check(t["pdf"] + " qpdf --check", qpdf.returncode == 0, qpdf.stdout + qpdf.stderr)
                png = pack.file("x.png")
                run("rsvg-convert", "-d", "96", "-p", "96", "-o", png, svg)
                with open(png, "rb") as f:
                    head = f.read(24)
                pw, ph = int.from_bytes(head[16:20], "big"), int.from_bytes(head[20:24], "big")
                near(t["svg"] + " librsvg width", pw, w * 96, 1, "CSS Values 4, 6.2: 96 px to the inch")
                near(t["svg"] + " librsvg height", ph, h * 96, 1, "CSS Values 4, 6.2")
                run("pdftoppm", "-r", "40", "-gray", "-singlefile", pdf, pack.file("x"))
                with open(pack.file("x.pgm"), "rb") as f:
                    dark = sum(v < 200 for v in f.read()[20:])
                check(t["pdf"] + " outlines are seen as pixels", dark > 40 * (w + h), f"{dark} dark pixels")
                os.remove(png)
                os.remove(pack.file("x.pgm"))


def tiling(pack):
    """Tiles give the film, passes give the insignia, marks agree."""
    for m in pack.markings():
        openings = []
        for k in m["masks"]:
            parts = [tile_film(pack, t)[0] for t in k["tiles"]]
            for i, a in enumerate(parts):
                for b in parts[:i]:
                    check(k["id"] + " tiles do not overlap", a.intersection(b).area < 1e-5)
            whole = unary_union(parts)
            for t, p in zip(k["tiles"], parts):
                near(t["id"] + " film area", p.area, t["film_in2"], 1e-6 * t["film_in2"] + 1e-6, "the report")
                edge = p.boundary.intersection(box(*t["cell"]).buffer(-1e-4))
                check(t["id"] + " has a paint edge", edge.length > 0.01, "a film without one is never made")
            if k["polarity"] == "open":  # a keep-down sheet holds pieces, not a field
                left = opening(k, whole)
                near(k["id"] + " opening", left.area, k["opening_in2"], 2e-5 * k["opening_in2"], "the report")
                # along a seam the files' six decimals leave slivers of a millionth of an inch
                openings.append(left.buffer(-1e-5).buffer(1e-5))
            for t in k["tiles"]:
                check(t["id"] + " has three marks", len(t["registration"]) >= 3)
            if k["pass"] > 1:
                check(k["id"] + " shares three marks with the film before", len(k["common"]) >= 3, str(k["common"]))
        # traps run under later paints: together the openings are what shows, and no more
        total = sum(k["shows_in2"] for k in m["masks"])
        near(m["id"] + " passes tile the insignia", unary_union(openings).area, total, 2e-5 * total, "disjoint regions")
        for i, a in enumerate(openings):
            for b in openings[:i]:
                both = a.intersection(b)
                check(m["id"] + " openings overlap by the trap alone", both.buffer(-0.9 * m["trap_in"] - 1e-4).area < 1e-6, f"{both.area:.4f} in2")
        seen = {}
        for k in m["masks"]:
            for t in k["tiles"]:
                for r in t["registration"]:
                    at = tuple(r["film"]) + (r["skin"]["fs"], r["skin"]["bl"], r["skin"]["wl"])
                    check(f"{m['id']} mark {r['id']} is one point", seen.setdefault(r["id"], at) == at)
                    for o in openings:
                        check(f"{m['id']} mark {r['id']} is outside the paint", o.distance(Point(r["film"])) > 0.25)


def corners(ring):
    """Points of a ring where it turns by more than a degree."""
    out = []
    n = len(ring)
    for i in range(n):
        a, b, c = ring[i - 1], ring[i], ring[(i + 1) % n]
        u, v = (b[0] - a[0], b[1] - a[1]), (c[0] - b[0], c[1] - b[1])
        turn = math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
        if abs(turn) > math.radians(1):
            out.append(b)
    return out


def star_and_bars(pack):
    """R = 10 in. Ratios: AN-I-9b Amendment 2, para D-1, 16 January 1947 (read in
    a copy): bar 1 R by 1/2 R, top edge in line with the side points, border
    R/8. Star: regular pentagram, Euclid XIII."""
    an = "AN-I-9b Amendment 2, para D-1"
    m = pack.markings()[0]
    white = next(k for k in m["masks"] if k["colour"] == "insignia-white")
    blue = next(k for k in m["masks"] if k["colour"] == "insignia-blue")
    _, ring_list = tile_film(pack, white["tiles"][0])
    outer = max(ring_list, key=lambda r: Polygon(r).area)
    points = [p for r in ring_list if r is not outer for p in corners(r)]
    tips = {(round(x, 3), round(y, 3)) for x, y in points if abs(math.hypot(x, y) - 10) < 0.002}
    for k in range(5):
        a = math.radians(90 + 72 * k)
        d = min(math.hypot(x - 10 * math.cos(a), y - 10 * math.sin(a)) for x, y in points)
        near(f"star tip {k}", d, 0, 0.001, "regular pentagram on R = 10")
        a = math.radians(126 + 72 * k)
        r = 10 * (3 - math.sqrt(5)) / 2
        near("inner vertex radius", r, 3.8197, 0.0001, "(3 - sqrt 5)/2 R, Euclid XIII")
        d = min(math.hypot(x - r * math.cos(a), y - r * math.sin(a)) for x, y in points)
        near(f"inner vertex {k}", d, 0, 0.001, "regular pentagram")
    check("five tips at least", len(tips) >= 5)
    opening = box(*Polygon(outer).bounds).difference(tile_film(pack, white["tiles"][0])[0])
    star = opening.intersection(Point(0, 0).buffer(10.0001, 256))
    # the bars meet the disc, so that what lies inside it is the star
    near("star area", star.area, 112.257, 0.01, "1.12256994144896 R^2, Euclid XIII")
    top = max(y for x, y in points if x > 11)
    low = min(y for x, y in points if x > 11)
    end = max(x for x, y in points)
    near("bar top edge", top, 3.0902, 0.0005, an + ": in line with the side points, R sin 18")
    near("bar width", top - low, 5, 0.001, an + ": 1/2 R")
    tip = 10 * math.cos(math.radians(18))
    near("bar length along its top edge", end - tip, 10, 0.001, an + ": 1 R, from the circle along the top edge")
    _, blue_rings = tile_film(pack, blue["tiles"][0])
    outer = max(blue_rings, key=lambda r: Polygon(r).area)
    pts = [p for r in blue_rings if r is not outer for p in r]
    near("border at the bar's end", max(x for x, _ in pts) - end, 1.25, 0.001, an + ": 1/8 R")
    near("border round the disc", max(y for _, y in pts) - 10, 1.25, 0.001, an + ": 1/8 R")
    near("overall width", max(x for x, _ in pts) - min(x for x, _ in pts), 41.52113, 0.001, "derived: 2 (1.951056516 R + R/8)")


def figures(pack):
    """12 in figures against 14 CFR 45.29: (c) width two thirds of the height, the
    figure 1 one sixth; (d) stroke one sixth; (e) gap at least a quarter of the width."""
    for m in pack.markings():
        mask = m["masks"][0]
        region, ring_list = tile_film(pack, mask["tiles"][0])
        opening = box(*region.bounds).difference(region)
        glyphs = sorted(opening.geoms, key=lambda g: g.bounds[0])
        check(m["id"] + ": eight figures", len(glyphs) == 8, str(len(glyphs)))
        for ch, gl in zip("01234567", glyphs):
            x0, y0, x1, y1 = gl.bounds
            near(f"height of {ch}", y1 - y0, 12, 0.001, "14 CFR 45.29(b)(1)")
            near(f"width of {ch}", x1 - x0, 2 if ch == "1" else 8, 0.001, "14 CFR 45.29(c)")
        for a, b in zip(glyphs, glyphs[1:]):
            check("gap", b.bounds[0] - a.bounds[2] >= 2 - 1e-3, f"{b.bounds[0] - a.bounds[2]:.4f} (14 CFR 45.29(e): at least 8/4 in)")
        # strokes, by rays across: 0 at mid-height has two uprights, 7 and 3 a top bar, 1 is one stroke
        def cuts(gl, line):
            hit = gl.intersection(LineString(line))
            return [g.length for g in getattr(hit, "geoms", [hit])]
        for ch, gl in zip("01234567", glyphs):
            x0, y0, x1, y1 = gl.bounds
            if ch in "016":
                level = y0 + (y1 - y0) * (0.5 if ch != "6" else 0.7)
                for s in cuts(gl, [(x0 - 1, level), (x1 + 1, level)])[:1]:
                    near(f"stroke of {ch}", s, 2, 0.001, "14 CFR 45.29(d): one sixth of the height")
            if ch in "02357":
                x = (x0 + x1) / 2
                s = cuts(gl, [(x, y0 - 1), (x, y1 + 1)])
                near(f"top bar of {ch}", s[-1], 2, 0.001, "14 CFR 45.29(d)")
        # text is never mirrored: 7 stands last in reading order on both sides, its bar at the top left
        seven = glyphs[7].bounds
        check(m["id"] + ": 7 reads normally", glyphs[7].intersects(Point(seven[0] + 0.5, seven[3] - 0.5)))


def side_view(pack):
    """Disc of 20 true in side view, centred 15 above the axis of a cylinder of 30:
    20 wide and 24.529881123541692 high in the flat: 30 (asin(25/30) - asin(5/30)), derived."""
    for m in pack.markings():
        check(m["id"] + " exact", m["exact"])
        region, ring_list = tile_film(pack, m["masks"][0]["tiles"][0])
        inner = min(ring_list, key=lambda r: Polygon(r).area)
        x0, y0, x1, y1 = Polygon(inner).bounds
        near("width", x1 - x0, 20, 0.001, "derived")
        near("height", y1 - y0, 24.529881123541692, 0.001, "30 (asin 25/30 - asin 5/30)")
        near("middle above the anchor", (y0 + y1) / 2, 1.580420, 0.001, "derived")
        near("seen height", m["height_side_in"], 20, 0.001, "the drawing")


def text_free(pack):
    """Cut files hold outlines alone."""
    for m in pack.markings():
        for k in m["masks"]:
            for t in k["tiles"]:
                src = open(pack.file(t["svg"])).read()
                bad = re.findall(r"<(text|use|image|clipPath|mask|pattern|style|script)\b|transform=|style=|class=|vector-effect", src)
                check(t["svg"] + " outlines only", not bad, str(bad))
                check(t["pdf"] + " holds no text", run("pdftotext", pack.file(t["pdf"]), "-").strip() == "")


demo = build("demo")
again = build("again")
names = sorted(os.path.relpath(os.path.join(d, f), demo.folder) for d, _, fs in os.walk(demo.folder) for f in fs)
match, differ, errors = filecmp.cmpfiles(demo.folder, again.folder, names, shallow=False)
check("rerun is byte-identical", not differ and not errors, str(differ + errors))
packs = [demo] + [lesson(n) for n in ("01-star-and-bars", "02-figures", "03-true-in-side-view", "04-tiles", "05-faired", "06-wing")]
for p in packs:
    files(p)
    tiling(p)
    text_free(p)
cut_files(check, near, demo)
for p in packs:
    dxf_files(check, near, p)
flavours(check, near, build, os.path.join("testdata", "lessons", "01-star-and-bars.yaml"))
with open(os.path.join(work, "demo.yaml"), "w") as f:
    f.write(run(program, "start"))
air = os.path.abspath(os.path.join(root, "testdata", "aircraft"))
for name, pack, source in (("demo", demo, os.path.join(work, "demo.yaml")), ("04-tiles", packs[4], os.path.join(root, "testdata", "lessons", "04-tiles.yaml"))):
    reassembly(check, near, pack, build("wide-" + name, on_wide_web(source, os.path.join(work, "wide-" + name + ".yaml"), air)))
for folder, _, names in os.walk(demo.folder):
    for name in names:
        if name.endswith(".pdf"):
            done = subprocess.run(["qpdf", "--check", os.path.join(folder, name)], capture_output=True, text=True)
            check(name + " qpdf --check", done.returncode == 0, done.stdout + done.stderr)
words = run("pdftotext", demo.file("shop-ticket.pdf"), "-") + run("pdftotext", demo.file("tape-checklist.pdf"), "-")
for word in ("MIRROR: NO", "a 72-per-inch file read at 96", "ON SKIN"):
    check(f"the printed pages can be searched for {word!r}", word in words)
with open(os.path.join(root, "testdata", "lessons", "01-star-and-bars.yaml")) as f:
    bare = f.read().replace("paint:\n", "paint:\n  trap: 0 in # openings as the eye sees them\n").replace("../aircraft", os.path.abspath(os.path.join(root, "testdata", "aircraft")))
with open(os.path.join(work, "bare.yaml"), "w") as f:
    f.write(bare)
star_and_bars(build("bare", os.path.join(work, "bare.yaml")))
figures(packs[2])
camera(check, near, program, run(program, "start"), work, int(os.environ.get("SEED", "1")))
flats(check, program, work)
side_view(packs[3])
letters(check, near, build, tile_film, work)
drawings(near, build, root, work)
forms(program, work, root, check, near)
views(check, near, program, work)
units(check, build, program)
print(f"{passed} passed, {failed} failed")
sys.exit(failed > 0)

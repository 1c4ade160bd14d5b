"""CPU times of the program as ratios to reference libraries on the same input, and what 1, 100
and 1,000 markings cost: a table for the README, with machine, commands and date.

    .ci/bench ratios            the table, on standard output
    .ci/bench ratios 1 100      with these numbers of markings

Both sides of a ratio are run in turn and the least of five is taken; times of the program
are of its Go benchmarks, on one core. GEOS gets the same outlines as chords within the same tolerance;
the program keeps the curves."""

import math
import os
import shutil
import subprocess
import sys
import tempfile
import time

import cv2
import numpy
import scipy.linalg
import shapely
from shapely.geometry import MultiPolygon, Polygon, box

from stencils import stencils

program, *counts = sys.argv[1:]
counts = [int(c) for c in counts] or [1, 100, 1000]
runs = 5
GEOS = ".".join(map(str, shapely.geos.geos_version))


def least(do):
    """Seconds of CPU of the fastest of a few calls."""
    best = math.inf
    for _ in range(3):
        start = time.process_time()
        do()
        best = min(best, time.process_time() - start)
    return best


def used(*command):
    """Seconds of CPU of a program."""
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    if status:
        sys.exit(f"{command} failed")
    return usage.ru_utime + usage.ru_stime


tests = {}


def go(package, name, few, many):
    """Seconds of CPU that an operation of one Go benchmark takes: by two counts of it."""
    if package not in tests:
        tests[package] = tempfile.mktemp()
        subprocess.run(["go", "test", "-c", "-o", tests[package], package], check=True)

    def run(times):
        return used(tests[package], "-test.run", "^$", "-test.cpu", "1", "-test.bench", f"^{name}$", "-test.benchtime", f"{times}x")

    return (run(many) - run(few)) / (many - few)


def circle(x, y, r, tolerance):
    n = math.ceil(math.pi / math.acos(1 - tolerance / r))
    return [(x + r * math.cos(2 * math.pi * i / n), y + r * math.sin(2 * math.pi * i / n)) for i in range(n)]


def star(x, y, r):
    inner = r * math.cos(math.radians(72)) / math.cos(math.radians(36))
    return [(x + (r, inner)[i % 2] * math.sin(math.radians(36 * i)), y + (r, inner)[i % 2] * math.cos(math.radians(36 * i))) for i in range(10)]


tolerance = 2e-5
disc, points = Polygon(circle(3, 4, 20, tolerance)), Polygon(star(3, 4, 22))
discs, tile = MultiPolygon([Polygon(circle(3 * (i % 20), 3 * (i // 20), 1.25, tolerance)) for i in range(400)]), box(9, 9, 30, 48)
size, band = 4000, 277
numbers = numpy.random.default_rng(1)
matrix = numbers.standard_normal((band + 1, size)) / band
matrix[-1] = 4  # the diagonal of the upper form
wanted = numbers.standard_normal(size)

# a camera and ten points of an aircraft, pixels out by one: the manner of BenchmarkResect_10points
lens = numpy.array([[1800, 0, 640], [0, 1800, 480], [0, 0, 1]], float)
places = numbers.uniform([0, -40, 0], [260, 40, 100], (10, 3))
seen, _ = cv2.projectPoints(places, numpy.array([0.1, 0.2, 0.05]), numpy.array([-120.0, -40, 600]), lens, None)
seen += numbers.standard_normal(seen.shape)


def camera():
    cv2.setNumThreads(1)
    for _ in range(10):
        _, turn, at = cv2.solvePnP(places, seen, lens, None, flags=cv2.SOLVEPNP_SQPNP)
        cv2.solvePnPRefineLM(places, seen, lens, None, turn, at)


def repeated(command, few, many):
    """Seconds of CPU of one turn of a program that takes a number of turns, start left out."""
    return (used(*command(many)) - used(*command(few))) / (many - few)


letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
font = os.path.join(subprocess.check_output(["go", "list", "-m", "-f", "{{.Dir}}", "golang.org/x/image"], text=True).strip(), "font/gofont/ttfs/Go-Regular.ttf")
harfbuzz = subprocess.check_output(["hb-shape", "--version"], text=True).split()[2]
pictures = tempfile.mkdtemp()
subprocess.run([program, "preview", "--demo", "kittock", "--view", "left", "-o", os.path.join(pictures, "left")], stdout=subprocess.DEVNULL, check=False)
left = next(os.path.join(pictures, "left", f) for f in os.listdir(os.path.join(pictures, "left")) if f.endswith(".svg"))
with open(os.path.join(pictures, "empty.svg"), "w") as file:
    file.write('<svg xmlns="http://www.w3.org/2000/svg" width="1" height="1"/>')
librsvg = subprocess.check_output(["rsvg-convert", "--version"], text=True).split()[2]


def drawn(file):
    return used("rsvg-convert", "-d", "100", "-p", "100", file)


few_many = {"BenchmarkSubtract_star_disc_r20in_tol2e5in": (100, 2100), "BenchmarkIntersect_400discs_tile_tol2e5in": (4, 104), "BenchmarkSet_font_62characters": (100, 1600)}  # the outlines are drawn once, in the first
pairs = [
    ("disc without a star, curves kept", "./geometry", "BenchmarkSubtract_star_disc_r20in_tol2e5in", f"GEOS {GEOS}", lambda: least(lambda: disc.difference(points))),
    ("400 discs cut by a tile, curves kept", "./geometry", "BenchmarkIntersect_400discs_tile_tol2e5in", f"GEOS {GEOS}", lambda: least(lambda: discs.intersection(tile))),
    ("a step of a net of 2,000 nodes", "./geometry/skin", "BenchmarkBanded_4000x277", f"SciPy {scipy.__version__}", lambda: least(lambda: scipy.linalg.solveh_banded(matrix, wanted))),
    ("a camera from 10 points, with plus or minus and second answers", "./geometry/camera", "BenchmarkResect_10points", f"OpenCV {cv2.__version__}, the camera alone", lambda: least(camera) / 10),
    ("a side view as PNG, 100 pixels to the inch", "./cmd/maskloft", "BenchmarkWritePNG_demo_left_100dpi", f"librsvg {librsvg}, of its SVG", lambda: drawn(left) - drawn(os.path.join(pictures, "empty.svg"))),
    ("a line of 62 characters in a font: places and outlines", "./glyphs", "BenchmarkSet_font_62characters", f"HarfBuzz {harfbuzz}, places alone", lambda: repeated(lambda n: ["hb-shape", "-n", str(n), font, letters], 1000, 41000)),
]

print(f"Machine: {os.cpu_count()} cores, {next(s.split(':')[1].strip() for s in open('/proc/cpuinfo') if s.startswith('model name'))}; load {os.getloadavg()[0]:.1f}; {time.strftime('%Y-%m-%d')}; `.ci/bench ratios`\n")
print("| what | program, ms | reference, ms | ratio |\n|---|---|---|---|")
for what, package, name, reference, do in pairs:
    ours, theirs = math.inf, math.inf
    for _ in range(runs):
        ours, theirs = min(ours, go(package, name, *few_many.get(name, (4, 16)))), min(theirs, do())
    print(f"| {what} | {ours * 1e3:.3g} | {reference}: {theirs * 1e3:.3g} | {ours / theirs:.2g} |", flush=True)


def build(n, tapes):
    """CPU seconds, peak memory and size of a pack of n stencils; None where it fails."""
    work = tempfile.mkdtemp()
    try:
        layout = os.path.join(work, "mine.yaml")
        with open(layout, "w") as file:
            file.write(stencils(n, tapes))
        # by a small program: what this one holds itself would count as the peak of a child
        told = os.path.join(work, "told")
        code = subprocess.run(["/usr/bin/time", "-q", "-f", "%U %S %M", "-o", told, program, "build", layout, "-o", os.path.join(work, "pack")], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False).returncode
        sizes = [os.path.getsize(os.path.join(where, f)) for where, _, names in os.walk(os.path.join(work, "pack")) for f in names]
        if code not in (0, 1) or not sizes:
            return None
        with open(told) as file:
            user, system, peak = map(float, file.read().split())
        return user + system, peak / 1024, sum(sizes) / 1e6, len(sizes)
    finally:
        shutil.rmtree(work)


most_taped = 100  # with tapes up to 690 in long
print("\n| half-inch stencils | tapes | CPU, s | peak memory, MB | pack, MB | files |\n|---|---|---|---|---|---|")
for n in counts:
    for tapes in (False, True):
        if tapes and n > most_taped:
            continue
        got = build(n, tapes)
        cells = "it failed | | |" if got is None else f"{got[0]:.1f} | {got[1]:.0f} | {got[2]:.1f} | {got[3]} |"
        print(f"| {n} | {'yes' if tapes else 'no'} | {cells}", flush=True)

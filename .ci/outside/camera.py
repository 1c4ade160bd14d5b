"""The camera of a photograph, its plus or minus and what its pixels show, held
against OpenCV (projectPoints with distortion, solvePnP) and SciPy (least_squares),
which share nothing with the program. Cameras and grain are random, and the seed is
printed: every layout is the demo aircraft with points of its structure, seen by an
invented camera."""

import json
import math
import os
import subprocess

import cv2
import numpy as np
from PIL import Image
from scipy.optimize import least_squares

WIDTH, HEIGHT = 1600, 1100

# Points of the demo aircraft, by its own tables: (what stands after at:, position).
# They are given as positions, so that all weigh alike, but for the last three, which
# the program must find by itself: a corner of a plate 1.6 in thick, a named line half
# way between its sections, and a point of the rudder seen from the side.
POINTS = [((fs, bl, wl), f"{{fs: {fs}, bl: {bl}, wl: {wl}}}") for fs, bl, wl in (
    (240, -1.375, 50), (120, -12.5, 36), (240, -1.5, 60), (120, -13, 65), (206, -0.8, 64.85), (120, 13, 65), (72, -38, 6), (72, 38, 6), (246, 0, 43), (12, 0, 58))]
POINTS += [((240, -0.8, 93), "{surface: fin, corner: 8}"), ((180, -8.0625, 52.5), "{surface: fuselage, line: S4, fs: 180}"), ((250, -0.8, 60), "{surface: rudder, fs: 250, wl: 60}")]


def looking(eye, at):
    """Rows right, down, ahead of a camera held upright."""
    ahead = (at - eye) / np.linalg.norm(at - eye)
    right = np.cross(ahead, [0, 0, 1.0])
    right /= np.linalg.norm(right)
    return np.array([right, np.cross(ahead, right), ahead])


def project(points, rotation, eye, focal, k1):
    """OpenCV's own projection."""
    k = np.array([[focal, 0, (WIDTH - 1) / 2], [0, focal, (HEIGHT - 1) / 2], [0, 0, 1]])
    vector, _ = cv2.Rodrigues(rotation)
    return cv2.projectPoints(np.array(points, dtype=float), vector, -rotation @ eye, k, np.array([k1, 0, 0, 0]))[0][:, 0, :], k


def camera(check, near, program, start, work, seed):
    print(f"cameras of photographs, seed {seed}")
    rng = np.random.default_rng(seed)
    folder = os.path.join(work, "photos")
    os.makedirs(folder, exist_ok=True)
    Image.new("L", (WIDTH, HEIGHT), 128).save(os.path.join(folder, "grey.png"))
    shots, text = [], start + "\nphotos:\n"
    world = np.array([p for p, _ in POINTS], dtype=float)
    while len(shots) < 12:
        eye = np.array([rng.uniform(-60, 380), rng.uniform(-750, -330), rng.uniform(20, 200)])
        turn, _ = cv2.Rodrigues(rng.normal(0, 0.05, 3))
        rotation = turn @ looking(eye, np.array([150.0, 0, 55]))
        focal = rng.uniform(3.2, 4.4) * np.linalg.norm(eye - [150, 0, 55])
        k1 = rng.uniform(-0.1, 0.1)
        true, k = project(world, rotation, eye, focal, k1)
        pixels = np.round(true + rng.normal(0, 1.5, true.shape), 3)
        if pixels.min() < 5 or pixels[:, 0].max() > WIDTH - 5 or pixels[:, 1].max() > HEIGHT - 5:
            continue
        free = len(shots) % 2 == 1  # the focal length is to be found
        name = f"shot-{len(shots)}"
        text += f"  - id: {name}\n    file: grey.png\n    side: left\n    distortion: {k1:.12f}\n    plus-minus: 1.5\n"
        text += "" if free else f"    focal: {focal:.9f} px\n"
        text += "    points:\n" + "".join(f"      - {{at: {at}, pixel: [{x:.3f}, {y:.3f}]}}\n" for (_, at), (x, y) in zip(POINTS, pixels))
        shots.append((name, free, eye, rotation, focal, round(k1, 12), k, pixels))
    layout = os.path.join(folder, "photos.yaml")
    with open(layout, "w") as f:
        f.write(text)
    for name, free, eye, rotation, focal, k1, k, pixels in shots:
        # a pixel of the fin's plane, and one of the rudder's
        spots = np.array([(231.0, -0.8, 80.0), (256.0, -0.8, 70.0)])
        marks = np.round(project(spots, rotation, eye, focal, k1)[0], 3)
        at = [f"{x:.3f},{y:.3f}" for x, y in marks]
        done = subprocess.run([program, "photo", layout, "--overlay", name, "--json", "--at", at[0], "--between", ":".join(at)], capture_output=True, text=True)
        check(name + " is found", done.returncode == 0, done.stderr)
        if done.returncode != 0:
            continue
        got = json.loads(done.stdout)
        where = np.array([got["camera"]["at"][x] for x in ("fs", "bl", "wl")])
        if not free:
            vector0, _ = cv2.Rodrigues(rotation)
            ok, vector, move = cv2.solvePnP(world, pixels, k, np.array([k1, 0, 0, 0]), vector0.copy(), (-rotation @ eye).reshape(3, 1), True, cv2.SOLVEPNP_ITERATIVE)
            vector, move = cv2.solvePnPRefineLM(world, pixels, k, np.array([k1, 0, 0, 0]), vector, move, (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 200, 1e-14))
            matrix, _ = cv2.Rodrigues(vector)
            near(name + " position, OpenCV", np.linalg.norm(where - (-matrix.T @ move).ravel()), 0, 1e-3, "cv2.solvePnP, refined")

        def left(x, free=free, focal=focal, k1=k1, pixels=pixels):
            matrix, _ = cv2.Rodrigues(x[:3].reshape(3, 1))
            return ((project(world, matrix, x[3:6], math.exp(x[6]) if free else focal, k1)[0] - pixels) / 1.5).ravel()
        vector0, _ = cv2.Rodrigues(rotation)
        x0 = np.concatenate([vector0.ravel(), eye, [math.log(focal)] if free else []])
        fit = least_squares(left, x0, x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=2000)
        near(name + " position, SciPy", np.linalg.norm(where - fit.x[3:6]), 0, 1e-3, "scipy.optimize.least_squares")
        near(name + " chi-square", got["chi_square"], 2 * fit.cost, 1e-4, "scipy.optimize.least_squares")
        if free:
            near(name + " focal length", got["camera"]["focal_px"] / math.exp(fit.x[6]), 1, 1e-6, "scipy.optimize.least_squares")
        freedom = 2 * len(world) - len(x0)
        check(name + " equations left", got["equations_left"] == freedom)
        cov = np.linalg.inv(fit.jac.T @ fit.jac) * max(1, 2 * fit.cost / freedom)
        for i, axis in enumerate(("fs", "bl", "wl")):
            near(f"{name} plus or minus of {axis}", got["camera"]["sigma_in"][axis] / math.sqrt(cov[3 + i, 3 + i]), 1, 2e-3, "(J'J)^-1 of SciPy's own Jacobian")
        for p, left_px in zip(got["points"], (pixels - project(world, cv2.Rodrigues(fit.x[:3].reshape(3, 1))[0], fit.x[3:6], math.exp(fit.x[6]) if free else focal, k1)[0])):
            near(f"{name} {p['name']} residual", math.hypot(p["left_px"][0] - left_px[0], p["left_px"][1] - left_px[1]), 0, 1e-3, "cv2.projectPoints")
        # the sight ray of the pixel by OpenCV, met with the plane BL -0.8
        def on_plane(x, pixel, free=free, focal=focal, k1=k1):
            matrix, _ = cv2.Rodrigues(x[:3].reshape(3, 1))
            k = np.array([[math.exp(x[6]) if free else focal, 0, (WIDTH - 1) / 2], [0, math.exp(x[6]) if free else focal, (HEIGHT - 1) / 2], [0, 0, 1]])
            u, v = cv2.undistortPointsIter(np.array([[pixel]]), k, np.array([k1, 0, 0, 0]), None, None, (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 500, 1e-14)).ravel()
            d = matrix.T @ np.array([u, v, 1.0])
            return x[3:6] + (-0.8 - x[4]) / d[1] * d
        reading, spot = got["readings"][0], on_plane(fit.x, marks[0])
        check(name + " reads the fin", reading["on"] == "fin, left", reading["on"])
        near(name + " reading", math.hypot(reading["at"]["fs"] - spot[0], reading["at"]["wl"] - spot[2]), 0, 1e-3, "cv2.undistortPoints and the plane of the fin")
        apart = np.linalg.norm(spot - on_plane(fit.x, marks[1]))
        near(name + " length", got["lengths"][0]["straight_in"], apart, 1e-3, "cv2.undistortPoints and the plane of the fin")

        def spread(read, pixels):
            """Standard deviations of read(x, pixels), by differences."""
            cols = []
            for i in range(len(x0)):
                h = math.sqrt(cov[i, i]) / 20
                e = np.zeros(len(x0))
                e[i] = h
                cols.append((read(fit.x + e, pixels) - read(fit.x - e, pixels)) / (2 * h))
            j = np.array(cols).T
            total = j @ cov @ j.T
            for n in range(pixels.size):
                e = np.zeros(pixels.size)
                e[n] = 0.05
                d = (read(fit.x, pixels + e.reshape(pixels.shape)) - read(fit.x, pixels - e.reshape(pixels.shape))) / 0.1
                total = total + np.outer(d, d) * 1.5**2
            return np.sqrt(np.diag(total))
        sigma = spread(lambda x, p: on_plane(x, p[0])[[0, 2]], marks[:1])
        near(name + " plus or minus of the reading's FS", reading["sigma_in"]["fs"] / sigma[0], 1, 5e-3, "J C J' by NumPy")
        near(name + " plus or minus of the reading's WL", reading["sigma_in"]["wl"] / sigma[1], 1, 5e-3, "J C J' by NumPy")
        sigma = spread(lambda x, p: np.array([np.linalg.norm(on_plane(x, p[0]) - on_plane(x, p[1]))]), marks)
        near(name + " plus or minus of the length", got["lengths"][0]["straight_sigma_in"] / sigma[0], 1, 5e-3, "J C J' by NumPy")
    # a JPEG that says it is to be turned, written by Pillow
    exif = Image.Exif()
    exif[0x0112] = 6
    Image.new("L", (WIDTH, HEIGHT), 128).save(os.path.join(folder, "turned.jpg"), exif=exif)
    with open(layout) as f:
        text = f.read()
    with open(os.path.join(folder, "turned.yaml"), "w") as f:
        f.write(text.replace("grey.png", "turned.jpg"))
    done = subprocess.run([program, "photo", os.path.join(folder, "turned.yaml"), "--overlay", "shot-0"], capture_output=True, text=True)
    check("a picture to be turned is refused", done.returncode == 2 and "Exif orientation 6" in done.stderr, done.stderr)
    textbook(check, near, program, folder)


def textbook(check, near, program, folder):
    """Four control points of an aerial photograph, as published with course material
    (Wolf, Dewitt and Wilkinson, Elements of Photogrammetry): principal distance
    152.916 mm, photo coordinates in mm, ground in metres; here a pixel is 0.1 mm and
    an inch a metre. Its answer: 1027.857, 1044.114, 648.197."""
    ground = [(1268.102, 1455.027, 22.606), (732.181, 545.344, 22.299), (1454.553, 731.666, 22.649), (545.245, 1268.232, 22.336)]
    photo = [(86.421, -83.977), (-100.916, 92.582), (-98.322, -89.161), (78.812, 98.123)]
    lines = "".join(f"      - {{at: {{fs: {x}, bl: {y}, wl: {z}}}, pixel: [{1200 + 10 * u:.3f}, {1200 - 10 * v:.3f}]}}\n" for (x, y, z), (u, v) in zip(ground, photo))
    with open(os.path.join(folder, "photos.yaml")) as f:
        text = f.read().split("\nphotos:\n")[0]
    Image.new("L", (2400, 2400)).save(os.path.join(folder, "book.png"))
    text += f"\nphotos:\n  - id: book\n    file: book.png\n    side: right\n    focal: 1529.16 px\n    centre: [1200, 1200]\n    points:\n{lines}"
    layout = os.path.join(folder, "book.yaml")
    with open(layout, "w") as f:
        f.write(text)
    done = subprocess.run([program, "photo", layout, "--overlay", "book", "--json"], capture_output=True, text=True)
    check("the textbook's camera is found", done.returncode == 0, done.stderr)
    at = json.loads(done.stdout)["camera"]["at"]
    for axis, want in (("fs", 1027.857), ("bl", 1044.114), ("wl", 648.197)):
        near("textbook camera " + axis, at[axis], want, 0.002, "Elements of Photogrammetry, its printed answer")

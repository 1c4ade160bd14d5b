"""Pictures with edges at known places, and where SciPy finds them: FILE SEED. The picture
is a half plane on a grid eight times as fine, blurred by scipy.ndimage, gathered to
pixels, stored by the curve of sRGB (IEC 61966-2-1) in 8 bits with grain. The fit is one
of all pixels at once by scipy.optimize.least_squares: a straight line, two lights, a blur
of erf. A third of the pictures are stored as JPEG by Pillow besides, which moves edges by
some hundredths of a pixel. `.ci/bench-page/modules.js` holds the page's own fit against both, with FILE in
MASKLOFT_EDGES."""

import io
import json
import math
import sys

import numpy as np
from PIL import Image
from scipy.ndimage import gaussian_filter
from scipy.optimize import least_squares
from scipy.special import erf

FINE = 8
WIDTH, HEIGHT = 56, 48


def encode(light):
    return np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)


def decode(stored):
    return np.where(stored <= 0.04045, stored / 12.92, ((stored + 0.055) / 1.055) ** 2.4)


def packed(stored, quality):
    """The picture as a JPEG has it."""
    file = io.BytesIO()
    Image.fromarray(stored.astype(np.uint8)).save(file, "JPEG", quality=quality)
    return np.asarray(Image.open(file))


def case(rng, quality):
    angle, blur = rng.uniform(0, 2 * math.pi), rng.uniform(0.3, 1.6)
    at = np.array([WIDTH / 2, HEIGHT / 2]) + rng.uniform(-0.5, 0.5, 2)
    u = np.array([math.cos(angle), math.sin(angle)])
    out = np.array([-u[1], u[0]])
    low = rng.uniform(0.03, 0.3)
    high = low + rng.uniform(0.25, 0.6)
    margin = 8
    x = (np.arange((WIDTH + 2 * margin) * FINE) + 0.5) / FINE - 0.5 - margin
    y = (np.arange((HEIGHT + 2 * margin) * FINE) + 0.5) / FINE - 0.5 - margin
    s = (x[None, :] - at[0]) * out[0] + (y[:, None] - at[1]) * out[1]
    # a point of the fine grid on the border is shared by both sides
    light = low + (high - low) * np.clip(s * FINE + 0.5, 0, 1)
    light = gaussian_filter(light, blur * FINE, mode="nearest")
    light = light[margin * FINE:-margin * FINE, margin * FINE:-margin * FINE].reshape(HEIGHT, FINE, WIDTH, FINE).mean(axis=(1, 3))
    stored = np.clip(np.round(255 * encode(light) + rng.normal(0, rng.uniform(0.5, 3), light.shape)), 0, 255)
    half, aside = 18, rng.uniform(-2, 2)
    ends = [at + out * aside - u * half, at + out * aside + u * half]
    # the fit: pixels within 7 of the border and within the line that is drawn
    j, i = np.mgrid[0:HEIGHT, 0:WIDTH]
    t0, s0 = (i - at[0]) * u[0] + (j - at[1]) * u[1], (i - at[0]) * out[0] + (j - at[1]) * out[1]
    use = (np.abs(t0) < half) & (np.abs(s0) < 7)
    t, s, v = t0[use], s0[use], decode(stored[use] / 255)

    def left(p):
        return p[0] + (p[1] - p[0]) * 0.5 * (1 + erf((s - p[2] - p[3] * t) / (math.sqrt(2) * abs(p[4])))) - v

    fit = least_squares(left, [low, high, 0.3, 0.01, 1.0], xtol=1e-12, ftol=1e-12)
    cov = np.linalg.inv(fit.jac.T @ fit.jac) * 2 * fit.cost / (len(v) - 5)
    if quality:
        stored = packed(stored, quality)
    return {"jpeg": quality > 0, "width": WIDTH, "height": HEIGHT, "stored": stored.astype(int).ravel().tolist(), "from": ends[0].tolist(), "to": ends[1].tolist(), "at": at.tolist(), "fit": (at + out * fit.x[2]).tolist(), "fitOff": math.sqrt(cov[2, 2])}


def main():
    rng = np.random.default_rng(int(sys.argv[2]))
    with open(sys.argv[1], "w") as f:
        json.dump([case(rng, quality) for quality in (0, 0, 75) for _ in range(60)], f)


if __name__ == "__main__":
    main()

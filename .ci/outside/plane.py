"""Maps from a plane to its picture by OpenCV: FILE SEED. Points of a side view, seen
by a camera of OpenCV's own with grain, and what cv2.findHomography, which refines to the least
sum of squares in the picture, reads at some pixels. `go test ./geometry/camera -run openCV`
holds its own map against it, with FILE in MASKLOFT_PLANES."""

import json
import sys

import cv2
import numpy as np


def case(rng, n):
    while True:
        at = np.column_stack([rng.uniform(0, 300, n), rng.uniform(20, 110, n)])
        eye = np.array([rng.uniform(0, 300), -rng.uniform(350, 700), rng.uniform(0, 150)])
        ahead = np.array([150.0, 0, 60]) - eye
        ahead /= np.linalg.norm(ahead)
        right = np.cross(ahead, [0, 0, 1.0])
        right /= np.linalg.norm(right)
        rotation = np.array([right, np.cross(ahead, right), ahead])
        vector, _ = cv2.Rodrigues(rotation)
        k = np.array([[1800.0, 0, 800], [0, 1800, 550], [0, 0, 1]])
        project = lambda p: cv2.projectPoints(np.column_stack([p[:, 0], np.zeros(len(p)), p[:, 1]]), vector, -rotation @ eye, k, None)[0][:, 0, :]
        # no three of four near one line: the least triangle that four of them make
        area = min(abs(np.cross(at[j] - at[i], at[m] - at[i])) for i in range(4) for j in range(i + 1, 4) for m in range(j + 1, 4))
        if area > 1500:
            break
    pixels = project(at) + rng.normal(0, 0.7, (n, 2))
    h, _ = cv2.findHomography(at, pixels, 0)
    spots = project(np.array([[150.0, 60], [80, 90], [220, 40]]))
    read = cv2.perspectiveTransform(spots[None], np.linalg.inv(h))[0]
    return {"At": at.tolist(), "Pixels": pixels.tolist(), "Spots": spots.tolist(), "Read": read.tolist()}


def main():
    rng = np.random.default_rng(int(sys.argv[2]))
    with open(sys.argv[1], "w") as f:
        json.dump([case(rng, n) for n in (4, 5, 6, 8, 12, 20) for _ in range(20)], f)


if __name__ == "__main__":
    main()

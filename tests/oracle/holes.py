"""Draws random pictures of round holes under known cameras and measures each hole by grey-weighted moments.

Reads from standard input a list of {"size": [wide, high], "h": the homography's eight, "half", "long": as the camera has them,
"lens": pixels, "holes": [[x, y, r]], "blur": pixels, "noise": greys, "seed", "folder": where the picture goes}. Writes for each
{"raw": file of grey bytes, "holes": [[x, y, r]]}.

The measure shares nothing with the program's edges: the share of hole in each pixel, (out - grey) / (out - in), weighted by the
area that the pixel covers on the panel, summed over a window, is the hole's area, and its first moments are the centre
(numerical integration). Pictures are blurred by scipy.ndimage.gaussian_filter.
"""

import json
import sys

import numpy as np
from scipy.ndimage import gaussian_filter

OUT, IN = 180.0, 35.0


def lies(case, u, v):
    """The panel's place that shows at a pixel: the lens taken off by fixed-point steps, the homography inverted by numpy."""
    half, size = case["half"], np.array(case["size"], float)
    away = np.stack([u - size[0] / 2, v - size[1] / 2])
    q = away.copy()
    for _ in range(40):
        q = away / (1 + case["lens"] / half**3 * (q**2).sum(axis=0))
    h = case["h"]
    m = np.linalg.inv(np.array([[h[0], h[1], h[2]], [h[3], h[4], h[5]], [h[6] / half, h[7] / half, 1.0]]))
    p = np.tensordot(m, np.stack([q[0], q[1], np.ones_like(q[0])]), axes=1)
    return case["long"] * p[0] / p[2], case["long"] * p[1] / p[2]


def draw(case):
    wide, high = case["size"]
    n = 4
    grey = np.zeros((high, wide))
    v, u = np.mgrid[0:high, 0:wide].astype(float)
    for j in range(n):
        for i in range(n):
            x, y = lies(case, u + (i + 0.5) / n, v + (j + 0.5) / n)
            inside = np.zeros_like(x, dtype=bool)
            for cx, cy, r in case["holes"]:
                inside |= (x - cx) ** 2 + (y - cy) ** 2 < r * r
            grey += np.where(inside, IN, OUT)
    grey = gaussian_filter(grey / n**2, case["blur"])
    grey += np.random.default_rng(case["seed"]).normal(0, case["noise"], grey.shape)
    return np.clip(np.rint(grey), 0, 255)


def moments(case, grey):
    high, wide = grey.shape
    v, u = np.mgrid[0:high, 0:wide] + 0.5
    x, y = lies(case, u, v)
    d = 0.01
    (xr, yr), (xl, yl) = lies(case, u + d, v), lies(case, u - d, v)
    (xd, yd), (xu, yu) = lies(case, u, v + d), lies(case, u, v - d)
    area = abs((xr - xl) * (yd - yu) - (xd - xu) * (yr - yl)) / (4 * d * d)
    share = (OUT - grey) / (OUT - IN)
    found = []
    for cx, cy, r in case["holes"]:
        # pixels of the window's rim: whole metal, as no hole is that near
        away = np.hypot(x - cx, y - cy)
        pixel = np.sqrt(area).mean()
        window = away < r + 5 * (case["blur"] + 1) * pixel
        w = (share * area)[window]
        whole = w.sum()
        found.append([(w * x[window]).sum() / whole, (w * y[window]).sum() / whole, np.sqrt(whole / np.pi)])
    return found


out = []
for k, case in enumerate(json.load(sys.stdin)):
    grey = draw(case)
    name = f"{case['folder']}/{k}.raw"
    grey.astype(np.uint8).tofile(name)
    out.append({"raw": name, "holes": moments(case, grey)})
json.dump(out, sys.stdout)

"""Holds a straightened photograph of the demo survey against the camera that drew it, with scipy's sampling.

The camera is written out anew (tests/survey/wheatear_photo.rs states its numbers); `scipy.ndimage.map_coordinates` of order 1
is the bilinear sampling. Writes {"per-mm", "said", "wide", "holes": mm, "difference": greys, "compared": pixels}.
"""

import json
import re
import sys

import numpy as np
from PIL import Image
from scipy.ndimage import map_coordinates

EYE, TO, ROLL, FOCAL, LENS = np.array([-90.0, 310.0, 640.0]), (8.0, 72.0), 0.04, 1250.0, -22.0
SIZE = np.array([1400.0, 800.0])
HOLES = [(-263.0, 113.6, 30.3), (-175.2, 105.3, 40.2), (2.1, 105.2, 39.8), (91.3, 105.1, 39.8), (264.3, 114.0, 28.7)]

Image.MAX_IMAGE_PIXELS = None
got = Image.open(sys.argv[1])
words = got.text["Description"]
said = float(re.search(r"([\d.]+) pixels to the mm", words).group(1))
left, low = (float(v) for v in re.search(r"corner is \(([-\d.]+), ([-\d.]+)\)", words).groups())
pixels = np.asarray(got.convert("L"), dtype=float)
high, wide = pixels.shape


def unit(v):
    return v / np.linalg.norm(v)


def sees(x, y):
    look = unit(np.array([TO[0] - EYE[0], TO[1] - EYE[1], -EYE[2]]))
    right = unit(np.cross(look, [np.sin(ROLL), np.cos(ROLL), 0.0]))
    up = np.cross(right, look)
    v = np.stack([x - EYE[0], y - EYE[1], np.full_like(x, -EYE[2])], axis=-1)
    z = v @ look
    q = np.stack([FOCAL * (v @ right) / z, -FOCAL * (v @ up) / z], axis=-1)
    half = np.linalg.norm(SIZE) / 2
    return SIZE / 2 + q * (1 + LENS / half * (q**2).sum(axis=-1, keepdims=True) / half**2)


rows, columns = np.mgrid[0:high, 0:wide]
x, y = left + (columns + 0.5) / said, low + (high - rows - 0.5) / said
photo = np.asarray(Image.open("surveys/wheatear-photo.png").convert("L"), dtype=float)
at = sees(x, y)
theirs = map_coordinates(photo, [at[..., 1] - 0.5, at[..., 0] - 0.5], order=1, mode="constant", cval=255)
inside = (abs(x) < 290) & (y > 10) & (y < 150)
worst = 0.0
for cx, cy, r in HOLES:
    near = ((x - cx) ** 2 + (y - cy) ** 2 < (r + 8) ** 2) & (pixels < 100)
    worst = max(worst, float(np.hypot(x[near].mean() - cx, y[near].mean() - cy)))
json.dump(
    {
        "per-mm": float(got.info["dpi"][0]) / 25.4,
        "said": said,
        "wide": wide / said,
        "holes": worst,
        "difference": float(abs(pixels - theirs)[inside].mean()),
        "compared": int(inside.sum()),
    },
    sys.stdout,
)

"""Adjusts the picks of a photograph with scipy's least_squares: an independent model, by camera matrix and edge angles.

Reads from standard input a list of {"file": survey file, "truth": {id: [x, y, radius]}}. Writes for each
{id: [[x, y, r], [deviations]]}. The homography is found from four points by numpy; each place on an edge has its own angle.
"""

import json
import sys

import numpy as np
from scipy.optimize import least_squares


def solve(case):
    file, truth = case["file"], case["truth"]
    photo = file["photographs"][0]
    size, sigma = np.array(photo["size"], float), photo["deviation"]
    half, middle = np.linalg.norm(size) / 2, size / 2
    known = {p["id"]: np.array(p["at"], float) for p in file["points"] if isinstance(p, dict)}
    names = [p for p in file["points"] if isinstance(p, str)]
    circles = file["circles"]
    scale = 300.0

    rows, right = [], []
    for pick in photo["picks"]:
        if pick.get("point") in known:
            x, y = known[pick["point"]] / scale
            u, v = (np.array(pick["at"]) - middle) / half
            rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
            right += [u, v]
    h = np.linalg.lstsq(np.array(rows), np.array(right), rcond=None)[0]
    start = list(h) + [0.0]
    index = {}
    for i in names + circles:
        index[i] = len(start)
        start += list(np.array(truth[i][: 3 if i in circles else 2]) / scale)
    angles = {}
    h3 = np.append(h, 1).reshape(3, 3)
    for pick in photo["picks"]:
        if "circle" in pick:
            for k, at in enumerate(pick["edge"]):
                back = np.linalg.solve(h3, np.append((np.array(at) - middle) / half, 1))
                d = back[:2] / back[2] - np.array(truth[pick["circle"]][:2]) / scale
                angles[pick["circle"], k] = len(start)
                start.append(np.arctan2(d[1], d[0]))

    def residuals(u):
        m = np.append(u[:8], 1).reshape(3, 3)

        def shown(p):
            q = m @ np.array([p[0], p[1], 1.0])
            q = q[:2] / q[2]
            return middle + half * q * (1 + u[8] * (q @ q))

        out = [u[8] / 0.03]
        for pick in photo["picks"]:
            if "circle" in pick:
                k = index[pick["circle"]]
                for j, at in enumerate(pick["edge"]):
                    a = u[angles[pick["circle"], j]]
                    out += list((shown(u[k : k + 2] + u[k + 2] * np.array([np.cos(a), np.sin(a)])) - at) / sigma)
            else:
                i = pick["point"]
                p = known[i] / scale if i in known else u[index[i] : index[i] + 2]
                out += list((shown(p) - pick["at"]) / sigma)
        return np.array(out)

    fit = least_squares(residuals, start, jac="3-point", method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    spread = np.sqrt(np.diag(np.linalg.inv(fit.jac.T @ fit.jac)))

    def pick(of, i):
        k = index[i]
        return [float(v) * scale for v in of[k : k + 2]] + [float(of[k + 2]) * scale if i in circles else 0.0]

    return {i: [pick(fit.x, i), pick(spread, i)] for i in names + circles}


json.dump([solve(case) for case in json.load(sys.stdin)], sys.stdout)

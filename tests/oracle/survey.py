"""Adjusts survey files with scipy's least_squares, from the true coordinates: an independent model of every reading.

Reads from standard input a list of {"file": survey file, "truth": {id: [x, y, radius]}}. Writes for each
{"points": {id: [x, y, r]}, "deviations": {id: [dx, dy, dr]}, "zero": [value, deviation] or null}.
"""

import json
import sys

import numpy as np
from scipy.optimize import least_squares

KIND = {"tape": 0.5, "rule": 0.25, "calipers": 0.05}


def mm(text):
    return float(text.removesuffix(" mm"))


def solve(case):
    file, truth = case["file"], case["truth"]
    ids = [p if isinstance(p, str) else p["id"] for p in file["points"] + file["circles"]]
    rounds = {p if isinstance(p, str) else p["id"] for p in file["circles"]}
    origin, along = file["datum"]["origin"], file["datum"]["along"]
    index, start = {}, []

    def unknown(key, value):
        index[key] = len(start)
        start.append(value)

    for i in ids:
        x, y, r = truth[i]
        if i != origin:
            unknown((i, "x"), x)
            if i != along:
                unknown((i, "y"), y)
        if i in rounds:
            unknown((i, "r"), r)
    find = file["tools"]["tape"].get("find-zero-error", False)
    if find:
        unknown("zero", 0.0)
    start = np.array(start)
    sigmas = np.array([KIND[r["tool"]] for r in file["readings"]])

    def residuals(u):
        def get(i, what):
            k = index.get((i, what))
            return 0.0 if k is None else u[k]

        def at(i):
            return np.array([get(i, "x"), get(i, "y")])

        out = []
        for r in file["readings"]:
            if "diameter" in r:
                value = 2 * get(r["diameter"], "r")
            elif "distance" in r or "inside" in r or "outside" in r:
                key = next(k for k in ("distance", "inside", "outside") if k in r)
                a, b = r[key]
                sign = {"distance": 0, "inside": -1, "outside": 1}[key]
                value = np.linalg.norm(at(a) - at(b)) + sign * (get(a, "r") + get(b, "r"))
            else:
                key = next(k for k in ("offset", "along", "gap") if k in r)
                p, a, b = (at(i) for i in r[key])
                e = (b - a) / np.linalg.norm(b - a)
                w = p - a
                across = e[0] * w[1] - e[1] * w[0]
                value = {"offset": across, "along": e @ w, "gap": abs(across) - get(r[key][0], "r")}[key]
            if find and r["tool"] == "tape":
                value += u[index["zero"]]
            out.append(value - mm(r["reads"]))
        return np.array(out) / sigmas

    fit = least_squares(residuals, start, jac="3-point", method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    spread = np.sqrt(np.diag(np.linalg.inv(fit.jac.T @ fit.jac)))

    def pick(of, i):
        return [float(of[index[(i, w)]]) if (i, w) in index else 0.0 for w in "xyr"]

    zero = [float(fit.x[index["zero"]]), float(spread[index["zero"]])] if find else None
    return {
        "points": {i: pick(fit.x, i) for i in ids},
        "deviations": {i: pick(spread, i) for i in ids},
        "zero": zero,
    }


json.dump([solve(case) for case in json.load(sys.stdin)], sys.stdout)

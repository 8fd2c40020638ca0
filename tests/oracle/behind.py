"""Fits slides and turns of controls, and places by taped distances, with scipy's least_squares: another parameter set and
another rotation than the program's.

Reads from standard input a list of {"moves": "slide" or "turn", "sigma": mm, "marks": [[low, neutral, high], ...]} or
{"taped": [[[x, y, d], reads], ...], "sigma": mm, "near": [x, y, d]}. Writes for each {"marks": [...], "stops": [low, high],
"deviations": [low, high], "sum": ..., "axis": direction, "at": the axis's point nearest to the origin} or
{"place": [x, y, d], "deviation": largest}.
"""

import json
import sys

import numpy as np
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

TIGHT = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15, "x_scale": "jac", "max_nfev": 2000}


def taped(case):
    at = np.array([t[0] for t in case["taped"]], dtype=float)
    reads = np.array([t[1] for t in case["taped"]])

    def off(p):
        return (np.linalg.norm(p - at, axis=1) - reads) / case["sigma"]

    got = least_squares(off, case["near"], jac="3-point", **TIGHT)
    covariance = np.linalg.inv(got.jac.T @ got.jac)
    return {"place": list(got.x), "deviation": float(np.sqrt(np.linalg.eigvalsh(covariance)[-1]))}


def control(case):
    marks = np.array(case["marks"], dtype=float)
    n, sigma = len(marks), case["sigma"]

    def slide(u):
        # the way by two angles; the stops along it
        way = np.array([np.cos(u[0]) * np.cos(u[1]), np.sin(u[0]) * np.cos(u[1]), np.sin(u[1])])
        middle = u[4:].reshape(n, 3)
        return np.stack([middle + way * u[2], middle, middle + way * u[3]], axis=1)

    def turn(u):
        # rotation vectors of both stops have one direction; the axis passes through a point of the plane square to it
        axis = np.array([np.cos(u[0]) * np.cos(u[1]), np.sin(u[0]) * np.cos(u[1]), np.sin(u[1])])
        a = np.cross(axis, [1.0, 0.3, 0.2])
        a /= np.linalg.norm(a)
        at = a * u[2] + np.cross(axis, a) * u[3]
        middle = u[6:].reshape(n, 3)
        out = [Rotation.from_rotvec(axis * t).apply(middle - at) + at for t in (u[4], 0.0, u[5])]
        return np.stack(out, axis=1)

    model = slide if case["moves"] == "slide" else turn
    if case["moves"] == "slide":
        way = (marks[:, 2] - marks[:, 0]).sum(axis=0)
        way /= np.linalg.norm(way)
        stops = [((marks[:, k] - marks[:, 1]) @ way).mean() for k in (0, 2)]
        start = [np.arctan2(way[1], way[0]), np.arcsin(way[2]), *stops, *marks[:, 1].ravel()]
        first = 2
    else:
        near = np.array(case["axis"])
        a = np.cross(near, [1.0, 0.3, 0.2])
        a /= np.linalg.norm(a)
        at = np.array(case["at"])
        start = [
            np.arctan2(near[1], near[0]), np.arcsin(near[2]), at @ a, at @ np.cross(near, a),
            *case["stops"], *marks[:, 1].ravel(),
        ]
        first = 4

    def off(u):
        return ((model(u) - marks) / sigma).ravel()

    got = least_squares(off, start, jac="3-point", **TIGHT)
    covariance = np.linalg.inv(got.jac.T @ got.jac)
    u = got.x
    direction = [np.cos(u[0]) * np.cos(u[1]), np.sin(u[0]) * np.cos(u[1]), np.sin(u[1])]
    return {
        "marks": u[first + 2 :].reshape(n, 3).tolist(),
        "stops": [u[first], u[first + 1]],
        "deviations": [float(np.sqrt(covariance[first + k, first + k])) for k in (0, 1)],
        "sum": float((got.fun**2).sum()),
        "axis": direction,
    }


json.dump([taped(c) if "taped" in c else control(c) for c in json.load(sys.stdin)], sys.stdout)

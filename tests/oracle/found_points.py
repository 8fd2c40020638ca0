"""Measured points of contours, and what scipy and numpy make of them: straights by singular values, circles and free arcs by
scipy.optimize.least_squares over centre and radius, fillets by it over the radius between those straights."""

import json
import sys
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares

folder = Path(sys.argv[1])
folder.mkdir(parents=True, exist_ok=True)
draw = np.random.default_rng(20)
NOISE = 0.15


def line(points):
    mean = points.mean(axis=0)
    direction = np.linalg.svd(points - mean)[2][0]
    if (points[-1] - points[0]) @ direction < 0:
        direction = -direction
    residuals = [direction[0] * (p - mean)[1] - direction[1] * (p - mean)[0] for p in points]
    return mean, direction, np.array(residuals)


def circle(points):
    def off(v):
        return np.hypot(points[:, 0] - v[0], points[:, 1] - v[1]) - v[2]

    mean = points.mean(axis=0)
    start = [*mean, np.hypot(*(points - mean).T).mean()]
    # the start of a short arc lies far off: first the algebraic circle
    a = np.c_[2 * (points - mean), np.ones(len(points))]
    u = np.linalg.lstsq(a, ((points - mean) ** 2).sum(axis=1), rcond=None)[0]
    start = [*(u[:2] + mean), np.sqrt(u[2] + u[:2] @ u[:2])]
    got = least_squares(off, start, jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    spare = len(points) - 3
    deviation = np.sqrt((got.fun**2).sum() / spare)
    radius = deviation * np.sqrt(np.linalg.inv(got.jac.T @ got.jac)[2, 2])
    return got.x, got.fun, deviation, radius


def fillet(before, after, points):
    (p, e, _), (q, f, _) = before, after
    corner = p + e * np.linalg.det([q - p, f]) / np.linalg.det([e, f])
    half = np.linalg.norm(f - e) / 2
    way = (f - e) / (2 * half) / np.sqrt(1 - half**2)

    def off(v):
        c = corner + way * v[0]
        return np.hypot(*(points - c).T) - v[0]

    starts = [
        least_squares(off, [start], jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15)
        for start in (1.0, 3.0, 6.0, 10.0, 15.0, 20.0, 30.0, 45.0, 70.0)
    ]
    on_arc = [s for s in starts if s.x[0] > 0 and ((points - corner - way * s.x[0]) @ way).sum() < 0]
    got = min(on_arc, key=lambda s: s.cost)
    deviation = np.sqrt((got.fun**2).sum() / (len(points) - 1))
    return got.x[0], got.fun, deviation, deviation / np.sqrt((got.jac**2).sum())


facts = []
for k in range(12):
    turn, shift = draw.uniform(-0.3, 0.3), draw.uniform(-500, 500, 2)
    w, h, r = draw.uniform(300, 700), draw.uniform(150, 300), draw.uniform(12, 40)
    rotate = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])

    def noisy(points):
        points = np.array(points) @ rotate.T + shift
        return np.round(points + draw.normal(0, NOISE, points.shape), 6)

    corners = np.array([[0, 0], [w, 0], [w, h], [0, h]])
    runs = []
    for i in range(4):
        a, b = corners[i], corners[(i + 1) % 4]
        e = (b - a) / np.linalg.norm(b - a)
        f = np.array([-e[1], e[0]])
        n = draw.integers(3, 9)
        along = np.linspace(r + 1, np.linalg.norm(b - a) - r - 1, n)
        runs.append((f"line {i}", noisy([a + e * t for t in along])))
        angles = np.linspace(0.1, np.pi / 2 - 0.1, draw.integers(3, 8))
        runs.append((f"fillet {i}", noisy([b - e * r + f * r + r * (np.sin(t) * e - np.cos(t) * f) for t in angles])))
    reach = draw.uniform(1.0, 6.2)
    ring = [
        [w / 2 + 39.7 * np.cos(t), h / 2 + 39.7 * np.sin(t)] for t in np.linspace(0, reach, draw.integers(5, 12))
    ]
    runs.append(("circle", noisy(ring)))
    # a window: three straights, and an arc across the top that is tangent to none of them
    a, b, rise = w / 5, h / 4, draw.uniform(6, 30)
    window = {
        "line down": [[w / 4, h / 4 + b * t] for t in (0.9, 0.5, 0.1)],
        "line low": [[w / 4 + a * t, h / 4] for t in (0.1, 0.4, 0.9)],
        "line up": [[w / 4 + a, h / 4 + b * t] for t in (0.1, 0.6, 0.9)],
    }
    bow = (a * a / 4 + rise * rise) / (2 * rise)
    half = np.arcsin(a / 2 / bow) * 0.97
    window["arc top"] = [
        [w / 4 + a / 2 + bow * np.sin(t), h / 4 + b + rise - bow + bow * np.cos(t)]
        for t in np.linspace(half, -half, draw.integers(5, 10))
    ]
    runs += [(n, noisy(p)) for n, p in window.items()]
    rows = ["x mm,y mm,contour,piece"]
    for name, points in runs:
        contour = "dial" if name == "circle" else "window" if name in window else "outline"
        rows += [f"{p[0]},{p[1]},{contour},{name}" for p in points]
    name = f"points-{k}.csv"
    (folder / name).write_text("\n".join(rows) + "\n")
    fits = []
    lines = [line(p) for n, p in runs if n.startswith("line")]
    sides = {n: line(p) for n, p in runs if n.startswith("line")}
    for name_, points in runs:
        if name_.startswith("line"):
            residuals = line(points)[2]
            fits.append({
                "piece": name_, "residuals": list(residuals),
                "deviation": float(np.sqrt((residuals**2).sum() / (len(points) - 2))) if len(points) > 2 else None,
            })
        elif name_.startswith("fillet"):
            i = int(name_.split()[1])
            radius, off, deviation, own = fillet(lines[i], lines[(i + 1) % 4], points)
            fits.append({
                "piece": name_, "radius": radius, "residuals": list(off), "deviation": deviation,
                "radius-deviation": own,
            })
        else:
            x, off, deviation, own = circle(points)
            fits.append({
                "piece": name_, "radius": x[2], "centre": list(x[:2]), "residuals": list(off), "deviation": deviation,
                "radius-deviation": own,
            })
    # where the arc meets its straights, from the fits alone
    x = circle(dict(runs)["arc top"])[0]
    ends = []
    for n, last in (("line up", 0), ("line down", -1)):
        p, e, _ = sides[n]
        foot = p + e * ((x[:2] - p) @ e)
        reach = np.sqrt(x[2] ** 2 - ((foot - x[:2]) ** 2).sum())
        both = [foot - e * reach, foot + e * reach]
        ends.append(min(both, key=lambda q: np.hypot(*(q - dict(runs)["arc top"][last]))).tolist())
    facts.append({"file": name, "fits": fits, "arc-ends": ends})
(folder / "facts.json").write_text(json.dumps(facts))

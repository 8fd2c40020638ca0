"""Distances of solids measured again with scipy, from descriptions by hull points, discs, balls and arcs."""

import json
import os
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small sums: threads only get in each other's way

import numpy as np  # noqa: E402
from scipy.optimize import minimize, minimize_scalar, nnls

WEIGHT = 1e3  # of "the shares add to one" against millimetres


def hulls(p, q):
    """Distance of two hulls: the point of their difference nearest to the origin, as non-negative least squares."""
    n = len(p)
    if n == 1 and len(q) <= 2:
        return to_straight(p[0], q)
    if len(q) == 1 and n <= 2:
        return to_straight(q[0], p)
    a = np.zeros((5, n + len(q)))
    a[:3, :n] = p.T
    a[:3, n:] = -q.T
    # scaled so that both parts weigh alike
    scale = max(1.0, np.abs(a[:3]).max())
    a[:3] /= scale
    a[3, :n] = WEIGHT
    a[4, n:] = WEIGHT
    b = np.array([0, 0, 0, WEIGHT, WEIGHT], dtype=float)
    x, _ = nnls(a, b, maxiter=2000)
    u = x[:n] / x[:n].sum()
    v = x[n:] / x[n:].sum()
    return float(np.linalg.norm(u @ p - v @ q))


def to_straight(point, ends):
    """Distance of a point from a straight, in closed form."""
    along = ends[-1] - ends[0]
    square = float(along @ along)
    t = min(1.0, max(0.0, float((point - ends[0]) @ along) / square)) if square > 0 else 0.0
    return float(np.linalg.norm(point - ends[0] - along * t))


def to_disc(point, s):
    """Distance of a point from a bar or a drawn-out rectangle with round corners, in closed form in its own axes."""
    points, d = np.array(s["points"]), s["disc"]
    u, v = np.array(d["u"]), np.array(d["v"])
    middle = points.mean(axis=0)
    frame = np.array([u, v, np.cross(u, v)])
    half = np.abs((points - middle) @ frame.T).max(axis=0)
    off = np.abs(frame @ (point - middle)) - half
    beside = max(0.0, np.hypot(max(off[0], 0.0), max(off[1], 0.0)) - d["radius"])
    return float(np.hypot(beside, max(off[2], 0.0)))


def general(s, t, good):
    """Two sets with discs, by sequential quadratic programming from several starts until one is `good`; each is an upper bound."""
    p, q = np.array(s["points"]), np.array(t["points"])
    n, m = len(p), len(q)
    parts = [x["disc"] for x in (s, t)]
    axes = [np.array([d["u"], d["v"]]) if d else np.zeros((0, 3)) for d in parts]
    k = [2 if d else 0 for d in parts]
    size = n + m + k[0] + k[1]
    # x -> the vector between the two points, linear
    lin = np.zeros((3, size))
    lin[:, :n] = p.T
    lin[:, n : n + m] = -q.T
    if k[0]:
        lin[:, n + m : n + m + 2] = axes[0].T
    if k[1]:
        lin[:, n + m + k[0] :] = -axes[1].T
    scale = max(1.0, np.abs(lin).max())
    cons = [
        {"type": "eq", "fun": lambda x: x[:n].sum() - 1, "jac": lambda x: np.r_[np.ones(n), np.zeros(size - n)]},
        {
            "type": "eq",
            "fun": lambda x: x[n : n + m].sum() - 1,
            "jac": lambda x: np.r_[np.zeros(n), np.ones(m), np.zeros(size - n - m)],
        },
    ]
    at = n + m
    for d in parts:
        if d:
            r, a = d["radius"], at

            def fun(x, r=r, a=a):
                return (r * r - x[a] ** 2 - x[a + 1] ** 2) / (r * scale)

            def jac(x, r=r, a=a):
                g = np.zeros(size)
                g[a], g[a + 1] = -2 * x[a] / (r * scale), -2 * x[a + 1] / (r * scale)
                return g

            cons.append({"type": "ineq", "fun": fun, "jac": jac})
            at += 2
    bounds = [(0, 1)] * (n + m) + [(None, None)] * (k[0] + k[1])
    f = lambda x: float(((lin @ x) ** 2).sum()) / scale**2
    g = lambda x: 2 * lin.T @ (lin @ x) / scale**2
    best = np.inf
    rng = np.random.default_rng(1)
    for tried in range(6):
        a, b = (np.ones(n), np.ones(m)) if tried == 0 else (rng.random(n), rng.random(m))
        start = np.r_[a / a.sum(), b / b.sum(), np.zeros(k[0] + k[1])]
        out = minimize(f, start, jac=g, bounds=bounds, constraints=cons, method="SLSQP", options={"ftol": 1e-16, "maxiter": 400})
        # back onto the sets, so that what is told is a distance of two points of them
        x = out.x.copy()
        x[: n + m] = np.clip(x[: n + m], 0, None)
        x[:n] /= x[:n].sum()
        x[n : n + m] /= x[n : n + m].sum()
        at = n + m
        for d in parts:
            if d:
                w = np.hypot(x[at], x[at + 1])
                if w > d["radius"]:
                    x[at : at + 2] *= d["radius"] / w
                at += 2
        best = min(best, float(np.linalg.norm(lin @ x)))
        if out.success and good(best):
            break
    return best


def sets(s, t, good):
    if s["disc"] is None and t["disc"] is None:
        return hulls(np.array(s["points"]), np.array(t["points"])) - s["ball"] - t["ball"]
    for a, b in ((s, t), (t, s)):
        if a["disc"] is None and len(a["points"]) == 1:
            return to_disc(np.array(a["points"][0]), b) - s["ball"] - t["ball"]
    return general(s, t, lambda d: good(d - s["ball"] - t["ball"])) - s["ball"] - t["ball"]


def turned(arc, theta):
    """A point of the arc: Rodrigues about the axis, by the order of the numbers."""
    o = np.array(arc["from"]) - np.array(arc["centre"])
    k = np.array(arc["axis"])
    r = o * np.cos(theta) + np.cross(k, o) * np.sin(theta) + k * (k @ o) * (1 - np.cos(theta))
    return np.array(arc["centre"]) + r


def arc_to(arc, ball, other, good):
    """Least distance along an arc: every tenth of a radian, then the best bracket narrowed."""

    def at(theta):
        point = {"points": [turned(arc, theta)], "disc": None, "ball": ball}
        return one(point, other, good)

    grid = np.linspace(0, arc["angle"], max(3, int(abs(arc["angle"]) / 0.2) + 2))
    values = [at(x) for x in grid]
    best = min(values)
    for k in sorted(range(len(grid)), key=lambda k: values[k])[:1]:
        lo, hi = grid[max(k - 1, 0)], grid[min(k + 1, len(grid) - 1)]
        out = minimize_scalar(at, bounds=(lo, hi), method="bounded", options={"xatol": 1e-4})
        best = min(best, float(out.fun))
    return best


def one(s, t, good):
    if "arc" in s:
        return arc_to(s["arc"], s["ball"], t, good)
    if "arc" in t:
        return arc_to(t["arc"], t["ball"], s, good)
    return sets(s, t, good)


def main():
    pairs, bent, overlaps, worst, width = 0, 0, 0, 0.0, 0.0
    bad = []
    for line in open(sys.argv[1]):
        c = json.loads(line)
        pairs += 1
        # another start is tried only where the first found no more than what is told
        good = lambda d, c=c: d <= c["upper"] + 1e-6
        least = min(one(s, t, good) for s in c["a"] for t in c["b"])
        slack = 2e-6 if not c["bent"] else 1e-2
        width = max(width, c["upper"] - c["lower"] if not c["overlap"] and not c["bent"] else 0.0)
        if c["overlap"]:
            overlaps += 1
            if least > 1e-5:
                bad.append(f"{c['seed']}: told to overlap, {least} apart")
            continue
        bent += c["bent"]
        if least < c["lower"] - slack:
            bad.append(f"{c['seed']}: told at least {c['lower']}, found {least}")
        elif least > c["upper"] + max(slack, 1e-5):
            bad.append(f"{c['seed']}: told at most {c['upper']}, found {least}")
        elif not c["bent"]:
            worst = max(worst, abs(least - c["lower"]))
    print(f"{pairs} pairs ({bent} with a bend, {overlaps} overlap); widest bound {width:.2e} mm, farthest off {worst:.2e} mm")
    if width > 1e-6:
        bad.append(f"a bound without a bend is {width} mm wide")
    if overlaps * 20 < pairs:
        bad.append("hardly any overlap was drawn")
    if bad:
        print("\n".join(bad[:20]))
        sys.exit(f"{len(bad)} differ")


main()

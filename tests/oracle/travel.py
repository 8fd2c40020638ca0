"""Measures random mechanisms again: python-fcl for distances, own matrices for the poses, a dense sampling.

Usage: travel.py CASES.jsonl. Each line: drivers (their domains), links, two solids, and what was told: the least
clearance over the whole travel as [lower, upper], or "over", and the pose at which it is least.
"""

import json
import sys

import fcl
import numpy as np
from scipy.spatial import ConvexHull

WIDTH = 0.05  # stated width of an answer that is not "over", mm
ASKED, BEYOND = 12.0, 25.0
FCL = 2e-3  # of fcl's distances, mm
SAMPLES = 1200


def turn(axis, angle):
    """Rodrigues' formula; the same numbers whatever the hand of the frame."""
    x, y, d = axis
    cross = np.array([[0, -d, y], [d, 0, -x], [-y, x, 0]])
    s, c = np.sin(angle), np.cos(angle)
    return np.eye(3)[None] + s[:, None, None] * cross[None] + (1 - c)[:, None, None] * (cross @ cross)[None]


def forward(case, link, drivers):
    """Turns (n, 3, 3) and shifts (n, 3) of a link from the zero pose, for drivers (n, k)."""
    n = len(drivers)
    turns, shifts = np.repeat(np.eye(3)[None], n, 0), np.zeros((n, 3))
    while link is not None:
        at = case["links"][link]
        number = sum((by * drivers[:, d] for d, by in at["follows"]), np.zeros(n))
        axis, point = np.array(at["axis"]), np.array(at["at"])
        if at["kind"] == "slide":
            step, shift = np.repeat(np.eye(3)[None], n, 0), number[:, None] * axis[None]
        elif at["kind"] == "pivot":
            step = turn(axis, np.radians(number))
            shift = point[None] - step @ point
        else:
            step, shift = np.repeat(np.eye(3)[None], n, 0), np.zeros((n, 3))
        turns, shifts = step @ turns, np.einsum("nij,nj->ni", step, shifts) + shift
        link = at["on"]
    return turns, shifts


def geometry(shape):
    kind = shape[0]
    if kind == "sphere":
        return fcl.Sphere(shape[1]), np.zeros((1, 3)), shape[1]
    if kind == "cylinder":
        r, h = shape[1:]
        corners = np.array([[x * r, y * r, z * h] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)])
        return fcl.Cylinder(r, 2 * h), corners, 0.0
    if kind == "box":
        half = np.array(shape[1:])
        corners = np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)]) * half
        return fcl.Box(*(2 * half)), corners, 0.0
    points = np.array(shape[1])
    hull = ConvexHull(points)
    faces = []
    for simplex, plane in zip(hull.simplices, hull.equations):
        p, q, r = points[simplex]
        outward = np.dot(np.cross(q - p, r - p), plane[:3]) > 0
        faces += [3, *(simplex if outward else simplex[::-1])]
    return fcl.Convex(points, len(hull.simplices), np.array(faces)), points, 0.0


class Pair:
    def __init__(self, case):
        self.case = case
        self.sides = []
        for s in case["solids"]:
            shape, corners, round_ = geometry(s["shape"])
            own = np.array(s["columns"]).T
            origin = np.array(s["origin"])
            self.sides.append((shape, own, origin, s["link"], corners @ own.T + origin, round_))
        self.objects = [fcl.CollisionObject(side[0], fcl.Transform()) for side in self.sides]
        self.grow = sum(s["grow"] for s in case["solids"])
        self.asked = 0

    def poses(self, drivers):
        out = []
        for _, own, origin, link, _, _ in self.sides:
            turns, shifts = forward(self.case, link, drivers)
            out.append((turns @ own, turns @ origin + shifts))
        return out

    def gaps(self, drivers):
        """Clearance, growth taken off, at each row; -1 - growth stands for any overlap of what is not grown."""
        drivers = np.atleast_2d(drivers)
        poses = self.poses(drivers)
        request, gaps = fcl.DistanceRequest(), np.empty(len(drivers))
        self.asked += len(drivers)
        for n in range(len(drivers)):
            for o, (turns, shifts) in zip(self.objects, poses):
                o.setTransform(fcl.Transform(turns[n], shifts[n]))
            d = fcl.distance(*self.objects, request, fcl.DistanceResult())
            gaps[n] = max(d, -1.0) - self.grow
        return gaps

    def overlap(self, pose):
        for o, (turns, shifts) in zip(self.objects, self.poses(np.array([pose]))):
            o.setTransform(fcl.Transform(turns[0], shifts[0]))
        return fcl.collide(*self.objects, fcl.CollisionRequest(), fcl.CollisionResult()) > 0

    def speeds(self, lows, highs):
        """How fast, mm for one unit of each driver, any two points of the two can move against each other."""
        links, k = self.case["links"], len(lows)
        total = np.zeros(k)
        most = np.maximum(np.abs(lows), np.abs(highs))
        for _, _, _, link, corners, round_ in self.sides:
            # from the tip to the airframe: how far a point can be from the joint's point
            far = None
            while link is not None:
                at = links[link]
                number = sum(abs(by) * most[d] for d, by in at["follows"])
                if at["kind"] == "pivot":
                    point = np.array(at["at"])
                    if far is None:
                        reach = np.linalg.norm(corners - point, axis=1).max() + round_
                    else:
                        reach = far[1] + np.linalg.norm(point - far[0])
                    far = (point, reach)
                    for d, by in at["follows"]:
                        total[d] += abs(by) * np.pi / 180 * reach
                elif at["kind"] == "slide":
                    if far is None:
                        middle = corners.mean(axis=0)
                        far = (middle, np.linalg.norm(corners - middle, axis=1).max() + round_)
                    far = (far[0], far[1] + number)
                    for d, by in at["follows"]:
                        total[d] += abs(by)
                link = at["on"]
        return total


def measure(case):
    pair = Pair(case)
    lows, highs = np.array(case["drivers"], dtype=float).T
    k = len(lows)
    per = max(3, int(round(SAMPLES ** (1 / k))))
    axes = [np.linspace(a, b, per) for a, b in zip(lows, highs)]
    grid = np.stack([g.ravel() for g in np.meshgrid(*axes, indexing="ij")], axis=1)
    gaps = pair.gaps(grid)
    error = float(pair.speeds(lows, highs) @ ((highs - lows) / (per - 1) / 2))
    # zoom in on the best of the grid, and look around the pose told
    least = gaps.min()
    starts = [grid[n] for n in np.argsort(gaps)[:3]] + [np.array(case["pose"])]
    rng = np.random.default_rng(case["seed"])
    for at in starts:
        width = (highs - lows) / (per - 1)
        here = pair.gaps(at)[0]
        for _ in range(9):
            tries = np.clip(at + rng.uniform(-1, 1, (12, k)) * width, lows, highs)
            found = pair.gaps(tries)
            if found.min() < here:
                here, at = found.min(), tries[found.argmin()]
            else:
                width = width / 2.5
        least = min(least, here)
    return pair, least, error, rng


def main(path):
    bad, widths, over, overlaps, asked, boxes, slack = [], [], 0, 0, 0, [], []
    for line in open(path):
        case = json.loads(line)
        pair, least, error, rng = measure(case)
        asked += pair.asked
        seed = case["seed"]
        boxes.append(case["boxes"])
        lows, highs = np.array(case["drivers"], dtype=float).T
        # the box of the room that each takes holds it at random poses
        for (turns, shifts), side, own, told in zip(
            pair.poses(rng.uniform(lows, highs, (40, len(lows)))), pair.sides, case["solids"], case["bounds"]
        ):
            for turn_, shift in zip(turns, shifts):
                kind = own["shape"][0]
                if kind == "cylinder":
                    r, h = own["shape"][1:]
                    a = turn_[:, 2]
                    reach = abs(a) * h + r * np.sqrt(np.maximum(0, 1 - a * a))
                    low, high = shift - reach, shift + reach
                elif kind == "sphere":
                    low, high = shift - side[5], shift + side[5]
                else:
                    points = (side[4] - side[2]) @ side[1] @ turn_.T + shift
                    low, high = points.min(axis=0), points.max(axis=0)
                low, high = low - own["grow"], high + own["grow"]
                if (low < np.array(told[0]) - 1e-6).any() or (high > np.array(told[1]) + 1e-6).any():
                    bad.append(f"{seed}: {low} {high} sticks out of {told}")
        if case["wide"]:
            bad.append(f"{seed}: ran out of boxes ({case['boxes']})")
        if case["overlap"]:
            overlaps += 1
            # what only its growth makes overlap is told by the distance, the rest by a collision
            if not (pair.overlap(case["pose"]) or pair.gaps(case["pose"])[0] < FCL):
                bad.append(f"{seed}: no overlap at {case['pose']}")
            continue
        if case["lower"] > least + FCL:
            bad.append(f"{seed}: told at least {case['lower']}, but {least} was found")
        if case["over"]:
            over += 1
            if case["lower"] < ASKED + BEYOND:
                bad.append(f"{seed}: over, but told {case['lower']}")
            continue
        there = pair.gaps(case["pose"])[0]
        if abs(there - case["upper"]) > FCL:
            bad.append(f"{seed}: told {case['upper']} at {case['pose']}, measured {there}")
        widths.append(case["upper"] - case["lower"])
        slack.append(least - case["lower"])
        if widths[-1] > WIDTH + 1e-9:
            bad.append(f"{seed}: {widths[-1]} wide")
        if case["lower"] < least - WIDTH - error - FCL:
            bad.append(f"{seed}: told {case['lower']}, {least} found with an error of {error}")
    print(
        f"{len(boxes)} mechanisms, {asked} poses sampled; {over} over, {overlaps} overlap, {len(widths)} measured:"
        f" widest {max(widths):.4f}, least found less lower at most {max(slack):.4f};"
        f" boxes median {int(np.median(boxes))}, most {max(boxes)}"
    )
    if bad:
        sys.exit("\n".join(bad[:40] + [f"{len(bad)} differences"]))


main(sys.argv[1])

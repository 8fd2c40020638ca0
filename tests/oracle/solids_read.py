"""Solid models read back by other programs: STEP by gmsh (OpenCASCADE), GLB and 3MF by trimesh.

One case a line: the three files, and for each solid its closed-form volume (or its hull's points), the kinds of
faces, its box, and by how much a mesh may miss its volume.
"""
import json
import sys

import gmsh
import numpy as np
import trimesh


def box_of(mesh):
    return np.asarray(mesh.bounds)


def step(case):
    gmsh.clear()
    shapes = gmsh.model.occ.importShapes(case["step"], highestDimOnly=True, format="step")
    gmsh.model.occ.synchronize()
    solids = [tag for dim, tag in shapes if dim == 3]
    wanted = [b for b in case["solids"] for _ in range(b.get("runs", 1))]
    assert len(solids) == len(wanted) == len(shapes), (case["step"], len(shapes), len(wanted))
    worst = 0.0
    at = 0
    centres = {}
    for body in case["solids"]:
        tags = solids[at:at + body.get("runs", 1)]
        at += len(tags)
        volume = sum(gmsh.model.occ.getMass(3, t) for t in tags)
        expected = volume_of(body)
        off = abs(volume - expected) / expected
        assert off < 1e-6, (body["id"], volume, expected)
        worst = max(worst, off)
        kinds = {}
        for t in tags:
            for _, face in gmsh.model.getBoundary([(3, t)], oriented=False):
                kind = gmsh.model.getType(2, face)
                kinds[kind] = kinds.get(kind, 0) + 1
        if "faces" in body:
            assert kinds == body["faces"], (body["id"], kinds, body["faces"])
        boxes = np.array([gmsh.model.getBoundingBox(3, t) for t in tags])
        low, high = boxes[:, :3].min(axis=0), boxes[:, 3:].max(axis=0)
        # boxes of this reader stand off by up to its own tolerance
        near(body, low, high, 1e-5)
        name = gmsh.model.getEntityName(3, tags[0])
        assert name == "" or name.endswith(body["id"]), (name, body["id"])
        if len(tags) == 1:
            centres[body["id"]] = centre = np.array(gmsh.model.occ.getCenterOfMass(3, tags[0]))
            if "centre" in body:
                assert np.abs(centre - body["centre"]).max() < 1e-5, (body["id"], centre, body["centre"])
            if "hull" in body:
                mean = trimesh.convex.convex_hull(np.array(body["hull"])).center_mass
                assert np.abs(centre - mean).max() < 1e-5, (body["id"], centre, mean)
    return len(solids), worst, centres


def volume_of(body):
    if "hull" in body:
        return trimesh.convex.convex_hull(np.array(body["hull"])).volume
    return body["volume"]


def near(body, low, high, tolerance):
    if "low" not in body:
        return
    for got, asked in [(low, body["low"]), (high, body["high"])]:
        off = np.abs(np.array(got) - np.array(asked)).max()
        assert off < tolerance, (body["id"], got, asked)


def meshes(scene):
    """Named meshes of a scene in their places."""
    found = {}
    for node in scene.graph.nodes_geometry:
        matrix, name = scene.graph[node]
        mesh = scene.geometry[name].copy()
        mesh.apply_transform(matrix)
        found.setdefault(node, []).append(mesh)
    return found


def check_mesh(body, mesh, scale, rounding, centres):
    assert mesh.is_watertight, (body["id"], "is not closed")
    assert mesh.is_winding_consistent and mesh.volume > 0, (body["id"], "is inside out")
    volume = mesh.volume * scale**3
    expected = volume_of(body)
    bound = body["slack"] + rounding * mesh.area * scale**2
    assert abs(volume - expected) <= bound, (body["id"], volume, expected, bound)
    low, high = box_of(mesh) * scale
    near(body, low, high, 0.0101 + rounding)
    if "mesh_low" in body:
        near({"id": body["id"], "low": body["mesh_low"], "high": body["mesh_high"]}, low, high, 0.0101 + rounding)
    # the meshes stand where the true surfaces do
    off = np.abs(mesh.center_mass * scale - centres[body["id"]]).max()
    assert off < 0.02, (body["id"], off)


def glb(case, centres):
    scene = trimesh.load(case["glb"], force="scene", process=False)
    found = meshes(scene)
    count = 0
    for body in case["solids"]:
        parts = [m for name, list_ in found.items() if name == body["id"] or name.startswith(body["id"] + "_") for m in list_]
        assert parts, (body["id"], sorted(found))
        if body.get("runs", 1) == 1:
            assert len(parts) == 1, (body["id"], len(parts))
            # 32-bit metres within a few metres
            check_mesh(body, parts[0], 1000.0, 5e-4, centres)
        count += len(parts)
    return count


def mf3(case, centres):
    scene = trimesh.load(case["mf3"], file_type="3mf", force="scene", process=False)
    for body in case["solids"]:
        if body.get("runs", 1) == 1 and body.get("dummy", True):
            mesh = next((g for name, g in scene.geometry.items() if name == body["id"]), None)
            assert mesh is not None, (body["id"], sorted(scene.geometry))
            check_mesh(body, mesh, 1.0, 1e-6, centres)


def whole(case):
    """A whole panel: every solid is there and has a volume, every mesh is closed and named, both agree."""
    gmsh.clear()
    shapes = gmsh.model.occ.importShapes(case["step"], highestDimOnly=True, format="step")
    gmsh.model.occ.synchronize()
    volumes = [gmsh.model.occ.getMass(3, tag) for dim, tag in shapes if dim == 3]
    assert len(volumes) == len(shapes) == case["count"] and min(volumes) > 0, (len(volumes), case["count"])
    scene = trimesh.load(case["glb"], force="scene", process=False)
    meshes_ = [m for list_ in meshes(scene).values() for m in list_]
    assert len(meshes_) == case["count"]
    assert all(m.is_watertight and m.volume > 0 for m in meshes_)
    total = sum(m.volume for m in meshes_) * 1e9
    slack = 0.0101 * sum(m.area for m in meshes_) * 1e6
    assert abs(total - sum(volumes)) < slack, (total, sum(volumes), slack)
    printed = trimesh.load(case["mf3"], file_type="3mf", force="scene", process=False)
    assert printed.geometry and all(g.is_watertight for g in printed.geometry.values())


def mark(case):
    """The mark stands up and at the pilot's left in every file: x below 0, y above 0, and towards him: z above 0."""
    name = case["mark"]
    want = np.array(case["mark_at"])
    scene = trimesh.load(case["glb"], force="scene", process=False)
    places = [m.center_mass * 1000.0 for m in meshes(scene)[name]]
    scene = trimesh.load(case["mf3"], file_type="3mf", force="scene", process=False)
    places.append(scene.geometry[name].center_mass)
    gmsh.clear()
    shapes = gmsh.model.occ.importShapes(case["step"], highestDimOnly=True, format="step")
    gmsh.model.occ.synchronize()
    k = [b["id"] for b in case["solids"]].index(name)
    places.append(np.array(gmsh.model.occ.getCenterOfMass(3, shapes[k][1])))
    for p in places:
        assert np.abs(p - want).max() < 0.02, (p, want)
        assert p[0] < 0 < p[1] and p[2] > 0, p
    return len(places)


def main():
    gmsh.initialize(interruptible=False)
    gmsh.option.setNumber("General.Verbosity", 1)
    solids = closed = marks = 0
    worst = 0.0
    for line in open(sys.argv[1], encoding="utf-8"):
        case = json.loads(line)
        if "count" in case:
            whole(case)
            solids += case["count"]
            continue
        n, off, centres = step(case)
        solids += n
        worst = max(worst, off)
        closed += glb(case, centres)
        mf3(case, centres)
        if "mark" in case:
            marks += mark(case)
    gmsh.finalize()
    print(f"{solids} solids read, volumes within {worst:.1e}; {closed} closed meshes; the mark at its place {marks} times")


main()

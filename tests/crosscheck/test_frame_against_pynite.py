"""Random frames against PyNiteFEA: displacements, end forces and reactions."""

import numpy as np
import pytest
from Pynite import FEModel3D

from strutwright.frame import FrameModel, Loads, Sections, internal_forces, solve
from strutwright.shape import DomeSpec, dome

AXES = ("X", "Y", "Z")
FREEDOMS = ("DX", "DY", "DZ", "RX", "RY", "RZ")
NAMES = ("Rxi", "Ryi", "Rzi", "Rxj", "Ryj", "Rzj")


def random_frame(seed):
    """A jittered grid, braced, with hinged ends here and there and springs to ground."""
    rng = np.random.default_rng(seed)
    grid = np.stack(np.meshgrid(*[np.arange(3.0)] * 3, indexing="ij"), axis=-1).reshape(-1, 3)
    nodes = 1.7 * grid + rng.uniform(-0.3, 0.3, grid.shape)
    gap = np.abs(grid[:, None] - grid[None]).sum(axis=2)
    near = np.argwhere(np.triu(gap == 1.0))
    far = np.argwhere(np.triu(gap == 2.0))
    members = np.vstack([near, far[rng.permutation(len(far))[:12]]])
    m = len(members)
    area, iy, iz = (
        rng.uniform(5e-4, 2e-3, m),
        rng.uniform(1e-7, 1e-6, m),
        rng.uniform(1e-7, 1e-6, m),
    )
    sections = Sections(area, iy, iz, rng.uniform(1e-7, 1e-6, m), 70e9, 27e9)
    hinged = rng.random((m, 2, 3)) < 0.15
    hinged[:, 1, 0] = False  # torsion at one end only, else PyNite's condensation is singular
    fixed = np.zeros((len(nodes), 6), dtype=bool)
    fixed[grid[:, 2] == 0.0, :3] = True
    springs = np.zeros((len(nodes), 6))
    springs[grid[:, 2] == 2.0] = rng.uniform(1e3, 1e6, (9, 6))
    loads = Loads(rng.normal(0.0, 1e3, (len(nodes), 6)), rng.normal(0.0, 500.0, (m, 2, 3)))
    return nodes, members, sections, hinged, fixed, springs, loads


def random_shell(seed):
    """A dome with its hubs moved at random, uneven tubes, line loads, springs under its base."""
    rng = np.random.default_rng(seed)
    shell = dome(DomeSpec(radius=3.0, division=(2 + seed % 2, 0)))
    nodes = shell.hubs + rng.normal(0.0, 0.03, shell.hubs.shape)
    m = len(shell.struts)
    sections = Sections(
        rng.uniform(5e-5, 2e-4, m),
        rng.uniform(3e-9, 2e-8, m),
        rng.uniform(3e-9, 2e-8, m),
        rng.uniform(3e-9, 2e-8, m),
        203e9,
        78e9,
    )
    base = shell.course == 0
    fixed = np.zeros((len(nodes), 6), dtype=bool)
    fixed[base, 2] = rng.random(base.sum()) < 0.5
    springs = np.zeros((len(nodes), 6))
    springs[base] = rng.uniform(1e4, 1e6, (base.sum(), 6))
    springs[fixed] = 0.0
    loads = Loads(rng.normal(0.0, 300.0, (len(nodes), 6)), rng.normal(0.0, 400.0, (m, 2, 3)))
    hinged = rng.random((m, 2, 3)) < 0.1
    hinged[:, :, 0] = False
    return nodes, shell.struts, sections, hinged, fixed, springs, loads


def pynite_answer(nodes, members, sections, hinged, fixed, springs, loads):
    model = FEModel3D()
    model.add_material("m", float(sections.modulus[0]), float(sections.shear_modulus[0]), 0.3, 0.0)
    for k, node in enumerate(nodes):
        model.add_node(f"n{k}", *map(float, node))
        model.def_support(f"n{k}", *map(bool, fixed[k]))
        for f, name in enumerate(FREEDOMS):
            if springs[k, f] > 0.0:
                model.def_support_spring(f"n{k}", name, float(springs[k, f]))
            model.add_node_load(
                f"n{k}", name.replace("D", "F").replace("R", "M"), float(loads.forces[k, f])
            )
    for k, (i, j) in enumerate(members):
        table = (sections.area, sections.inertia_y, sections.inertia_z, sections.torsion)
        model.add_section(f"s{k}", *(float(row[k]) for row in table))
        model.add_member(f"m{k}", f"n{i}", f"n{j}", "m", f"s{k}")
        flags = dict(zip(NAMES, map(bool, hinged[k].ravel()), strict=True))
        model.def_releases(f"m{k}", **flags)
        for axis, name in enumerate(AXES):
            w = loads.line[k, :, axis]
            model.add_member_dist_load(f"m{k}", f"F{name}", float(w[0]), float(w[1]))
    model.analyze_linear(check_stability=False)
    return model


def close(ours, theirs):
    """Equal to 1e-8 of the largest entry of its kind."""
    ours, theirs = np.asarray(ours), np.asarray(theirs)
    assert np.abs(ours - theirs).max() <= 1e-8 * np.abs(theirs).max()


@pytest.mark.parametrize("make", [random_frame, random_shell])
@pytest.mark.parametrize("seed", range(4))
def test_random_frames(make, seed):
    frame = make(seed)
    nodes, members, sections, hinged, fixed, springs, loads = frame
    peer = pynite_answer(*frame)
    inner = [peer.members[f"m{k}"].sub_members for k in range(len(members))]
    parts = [next(iter(part.values())) for part in inner]
    reference = np.array([part.T()[2, :3] for part in parts])
    model = FrameModel(
        nodes,
        members,
        sections,
        reference=reference,
        end_rotation=np.where(hinged, 0.0, np.inf),
        fixed=fixed,
        springs=springs,
    )
    (ours,) = solve(model, [loads])
    combo = "Combo 1"
    named = [peer.nodes[f"n{k}"] for k in range(len(nodes))]
    moved = np.array([[getattr(node, f)[combo] for f in FREEDOMS] for node in named])
    close(ours.displacements[:, :3], moved[:, :3])
    close(ours.displacements[:, 3:], moved[:, 3:])
    ends = np.array([part.f().ravel() for part in parts]).reshape(-1, 2, 6)
    close(ours.end_forces[..., :3], ends[..., :3])
    close(ours.end_forces[..., 3:], ends[..., 3:])
    names = [name.replace("D", "F").replace("R", "M") for name in FREEDOMS]
    held = np.array([[getattr(node, f"Rxn{f}")[combo] for f in names] for node in named])
    close(ours.reactions[:, :3], held[:, :3])
    close(ours.reactions[:, 3:], held[:, 3:])


def test_deflection_and_moment_inside_a_member():
    frame = random_frame(7)
    nodes, members, sections, hinged, fixed, springs, loads = frame
    hinged[:] = False
    peer = pynite_answer(*frame)
    parts = [next(iter(peer.members[f"m{k}"].sub_members.values())) for k in range(len(members))]
    reference = np.array([part.T()[2, :3] for part in parts])
    model = FrameModel(nodes, members, sections, reference=reference, fixed=fixed, springs=springs)
    (ours,) = solve(model, [loads])
    share = 0.35
    along = internal_forces(model, loads, ours, np.array([share]))
    at = [share * part.L() for part in parts]
    for side, name in ((1, "dy"), (2, "dz")):
        theirs = [part.deflection(name, x) for part, x in zip(parts, at, strict=True)]
        close(along.deflection[:, 0, side], theirs)
    for column, name in ((4, "My"), (5, "Mz")):
        theirs = [part.moment(name, x) for part, x in zip(parts, at, strict=True)]
        size = np.abs(along.forces[:, 0, column]) - np.abs(theirs)
        assert np.abs(size).max() <= 1e-8 * np.abs(theirs).max()

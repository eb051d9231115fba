"""Frame solver: 12 load cases on triangulated caps, against peers in the same run.

PyNiteFEA comes with the test extra. OpenSeesPy and scikit-sparse are used where they are
installed, and never needed: `python -m benchmarks.frame`.
"""

import importlib.util
import resource
import subprocess
import sys
import time

import numpy as np

from strutwright.frame import FrameModel, Loads, circular_tube, factor, respond, solve
from strutwright.frame.assemble import assemble

CASES = 12
E, G = 203e9, 78e9


def cap(rings):
    """Hexagonal cap of 9 r2 + 3 r members on a sphere of 5 m, pinned round its edge."""
    cells = [
        (q, r)
        for q in range(-rings, rings + 1)
        for r in range(max(-rings, -q - rings), min(rings, rings - q) + 1)
    ]
    index = {cell: k for k, cell in enumerate(cells)}
    q, r = np.array(cells, dtype=float).T
    ring = np.max(np.abs([q, r, q + r]), axis=0)
    azimuth, tilt = np.arctan2(r * np.sqrt(0.75), q + r / 2), 1.2 * ring / rings
    sides = np.sin(tilt)
    nodes = 5.0 * np.column_stack([sides * np.cos(azimuth), sides * np.sin(azimuth), np.cos(tilt)])
    members = [
        (k, index[a + da, b + db])
        for (a, b), k in index.items()
        for da, db in ((1, 0), (0, 1), (1, -1))
        if (a + da, b + db) in index
    ]
    fixed = np.zeros((len(nodes), 6), dtype=bool)
    fixed[ring == rings, :3] = True
    tube = circular_tube(0.0234, 0.00125, E, G)
    return FrameModel(nodes, members, tube, fixed=fixed)


def cases(model):
    rng = np.random.default_rng(1)
    n, m = len(model.nodes), len(model.members)
    return [Loads(rng.normal(size=(n, 6)), rng.normal(size=(m, 3))) for _ in range(CASES)]


def watched(model):
    """The crown and its neighbours in number: where answers are compared."""
    return len(model.nodes) // 2 + np.arange(-1, 2)


def timed(work, repeats):
    """Least time of some repeats, s, and the last result."""
    least, result = np.inf, None
    for _ in range(repeats):
        start = time.perf_counter()
        result = work()
        least = min(least, time.perf_counter() - start)
    return least, result


def pynite(model, loads):
    """Seconds of PyNiteFEA for the same cases, and its displacements in the first."""
    from Pynite import FEModel3D

    peer = FEModel3D()
    peer.add_material("steel", E, G, 0.3, 7850.0)
    table = model.sections
    peer.add_section(
        "tube",
        float(table.area[0]),
        float(table.inertia_y[0]),
        float(table.inertia_z[0]),
        float(table.torsion[0]),
    )
    for k, node in enumerate(model.nodes):
        peer.add_node(f"n{k}", *map(float, node))
        peer.def_support(f"n{k}", *map(bool, model.fixed[k]))
    for k, (i, j) in enumerate(model.members):
        peer.add_member(f"m{k}", f"n{i}", f"n{j}", "steel", "tube")
    for c, load in enumerate(loads):
        peer.add_load_combo(f"c{c}", {f"c{c}": 1.0})
        for k, row in enumerate(load.forces):
            for name, value in zip(("FX", "FY", "FZ", "MX", "MY", "MZ"), row, strict=True):
                peer.add_node_load(f"n{k}", name, float(value), case=f"c{c}")
        for k, ends in enumerate(load.line):
            for name, w in zip(("FX", "FY", "FZ"), ends.T, strict=True):
                w0, w1 = float(w[0]), float(w[1])
                peer.add_member_dist_load(f"m{k}", name, w0, w1, case=f"c{c}")
    start = time.perf_counter()
    peer.analyze_linear(check_stability=False)
    spent = time.perf_counter() - start
    crown = [peer.nodes[f"n{k}"] for k in watched(model)]
    found = [[getattr(node, d)["c0"] for d in ("DX", "DY", "DZ")] for node in crown]
    return spent, np.array(found)


def opensees(model, loads):
    """Seconds of OpenSeesPy in its analyses alone, factored once, and some displacements."""
    import openseespy.opensees as ops

    table, spent = model.sections, 0.0
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    for k, node in enumerate(model.nodes):
        ops.node(k, *map(float, node))
        if model.fixed[k].any():
            ops.fix(k, *map(int, model.fixed[k]))
    section = [float(v[0]) for v in (table.area, table.modulus, table.shear_modulus)]
    section += [float(v[0]) for v in (table.torsion, table.inertia_y, table.inertia_z)]
    for k, (i, j) in enumerate(model.members):
        ops.geomTransf("Linear", k, *map(float, model.reference[k]))
        ops.element("elasticBeamColumn", k, int(i), int(j), *section, k)
    ends = model.nodes[model.members]
    along = ends[:, 1] - ends[:, 0]
    x = along / np.linalg.norm(along, axis=1)[:, None]
    y = np.cross(model.reference, x)
    y /= np.linalg.norm(y, axis=1)[:, None]
    axes = np.stack([x, y, np.cross(x, y)], axis=1)
    for c, load in enumerate(loads):  # case c alone acts at time c + 1
        ops.timeSeries("Rectangular", c, c + 0.5, c + 1.5)
        ops.pattern("Plain", c, c)
        for k, row in enumerate(load.forces):
            ops.load(k, *map(float, row))
        local = np.einsum("mij,mj->mi", axes, load.line[:, 0])
        for k, (wx, wy, wz) in enumerate(local):
            ops.eleLoad("-ele", k, "-type", "-beamUniform", float(wy), float(wz), float(wx))
    ops.constraints("Plain")
    ops.numberer("RCM")
    ops.system("SparseSYM")  # the fastest of its direct solvers here
    ops.algorithm("Linear", "-factorOnce")
    ops.integrator("LoadControl", 1.0)
    ops.analysis("Static", "-noWarnings")
    first = None
    for c in range(len(loads)):
        start = time.perf_counter()
        ops.analyze(1)
        spent += time.perf_counter() - start
        if c == 0:
            first = np.array([ops.nodeDisp(int(k))[:3] for k in watched(model)])
    return spent, first


def cholmod(model, loads):
    """Seconds of CHOLMOD for factor and solves alone: the floor of any direct solver."""
    from sksparse.cholmod import cholesky

    ready = factor(model)
    matrix = assemble(ready.pattern, ready.matrices, model.springs)
    push = np.array([load.forces.ravel()[ready.pattern.free] for load in loads]).T
    return timed(lambda: cholesky(matrix)(push), 5)[0]


def linear(rings, *, peers=True):
    """Lines on one size: our seconds, and the peers' as multiples."""
    model = cap(rings)
    loads = cases(model)
    ours, answers = timed(lambda: respond(factor(model), loads), 7)
    lines = [f"{len(model.members)} members, {CASES} cases: {1e3 * ours:.1f} ms"]
    if not peers:
        return lines
    first = answers[0].displacements[watched(model), :3]
    for name, package, run in (
        ("PyNiteFEA", "Pynite", pynite),
        ("OpenSeesPy", "openseespy", opensees),
    ):
        if importlib.util.find_spec(package) is None:
            lines.append(f"  {name}: not installed")
            continue
        theirs, found = run(model, loads)
        apart = np.abs(found - first).max() / np.abs(first).max()
        lines.append(
            f"  {name}: {theirs:.2f} s, {theirs / ours:.0f} times ours (apart {apart:.0e})"
        )
    if importlib.util.find_spec("sksparse") is None:
        lines.append("  scikit-sparse: not installed")
    else:
        lines.append(
            f"  CHOLMOD, factor and solves alone: ours is {ours / cholmod(model, loads):.2f} times"
        )
    return lines


def memory():
    """Line on the largest memory of a process that solves 20,000 members."""
    code = "from benchmarks import frame; frame.large()"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return done.stdout.strip()


def large():
    model = cap(47)
    spent, _ = timed(lambda: solve(model, cases(model)), 1)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{len(model.members)} members, {CASES} cases: {spent:.2f} s, {peak:.0f} MB at most")


def main():
    for rings in (5, 10, 15):
        print("\n".join(linear(rings, peers=rings > 5)))
    print(memory())


if __name__ == "__main__":
    main()

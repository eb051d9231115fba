"""A steel portal with semi-rigid beam joints: from nodes to displacements, forces and moments.

The frame solver knows nothing of shells: give it nodes, members, sections, springs, supports
and loads. Units are SI here, but any consistent set works.
"""

import numpy as np

from strutwright.frame import FrameModel, Loads, circular_tube, internal_forces, solve


def portal() -> FrameModel:
    """Two clamped posts of 3 m, a beam of 4 m joined to them through rotational springs."""
    nodes = [[0, 0, 0], [0, 0, 3], [4, 0, 3], [4, 0, 0]]
    members = [[0, 1], [1, 2], [2, 3]]
    tube = circular_tube(diameter=0.0889, wall=0.0032, modulus=210e9, shear_modulus=81e9)
    springs = np.full((3, 2, 3), np.inf)  # rigid, save the beam's ends about local y
    springs[1, :, 1] = 60e3  # Nm/rad
    fixed = np.zeros((4, 6), dtype=bool)
    fixed[[0, 3]] = True
    return FrameModel(nodes, members, tube, end_rotation=springs, fixed=fixed)


def main() -> dict[str, float]:
    """Solve two load cases from one factorisation and print what a reader asks first."""
    model = portal()
    wind = np.zeros((4, 6))
    wind[1, 0] = 1500.0  # N along x at the windward corner
    snow = Loads(line=[[0, 0, 0], [0, 0, -1200.0], [0, 0, 0]])  # N/m on the beam
    sideways, down = solve(model, [Loads(forces=wind), snow])
    along = internal_forces(model, snow, down, stations=np.array([0.0, 0.5, 1.0]))
    found = {
        "drift under wind, mm": 1e3 * sideways.displacements[1, 0],
        "beam end moment under snow, Nm": abs(along.forces[1, 0, 4]),
        "beam middle moment under snow, Nm": abs(along.forces[1, 1, 4]),
        "beam middle sag under snow, mm": -1e3 * along.deflection[1, 1, 2],
        "vertical reaction under snow, N": down.reactions[0, 2],
    }
    for name, value in found.items():
        print(f"{name}: {value:.2f}")
    return found


if __name__ == "__main__":
    main()

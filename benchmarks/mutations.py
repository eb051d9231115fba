"""Defects sown on purpose: each must turn its test red. `python -m benchmarks.mutations`.

The list is replayed in a copy of the source and the tests; nothing here is changed.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


@dataclass(frozen=True)
class Mutation:
    """A defect: `old` in `file` becomes `new`, and `test` must fail."""

    name: str
    file: str
    old: str
    new: str
    test: str


MUTATIONS = (
    Mutation(
        "directionality factor missing",
        "loads/standards/asce7_22.py",
        "return K_d * (G * outside",
        "return 1.0 * (G * outside",
        "tests/unit/loads/test_standards.py::test_directionality_is_applied_once_in_each_edition",
    ),
    Mutation(
        "snow half swapped",
        "loads/snow.py",
        "0.5, (ahead > 0).astype",
        "0.5, (ahead < 0).astype",
        "tests/unit/loads/test_snow.py::test_half_snow_lies_on_the_side_that_it_is_named_after",
    ),
    Mutation(
        "one element a member in buckling",
        "structure/buckle.py",
        "PIECES: Final = 2",
        "PIECES: Final = 1",
        "tests/crosscheck/test_shell_stability.py::test_finer_cuts_give_the_same_factor",
    ),
    Mutation(
        "eccentricity dropped",
        "structure/members.py",
        "np.abs(forces.moment_z) + eccentric",
        "np.abs(forces.moment_z)",
        "tests/unit/structure/test_members.py::test_eccentricity_bends",
    ),
    Mutation(
        "line loads lumped to hubs",
        "structure/answers.py",
        "    held = respond(frame.factored, loads)\n",
        "    ends = model.frame.members\n"
        "    spans = np.linalg.norm(np.diff(model.frame.nodes[ends], axis=1)[:, 0], axis=1)\n"
        "    for k, case in enumerate(cases):\n"
        "        lumped = case.hub_forces.copy()\n"
        "        for end in (0, 1):\n"
        "            half = 0.5 * spans[:, None] * case.line_loads\n"
        "            np.add.at(lumped, ends[:, end], half)\n"
        "        loads[k] = case_loads(lumped, 0.0 * case.line_loads)\n"
        "    held = respond(frame.factored, loads)\n",
        "tests/unit/structure/test_answers.py::test_a_line_load_bends_a_hinged_strut",
    ),
    Mutation(
        "spring at one end only",
        "structure/model.py",
        "rotation[:, :, 1:] = stiffness[:, :, None]",
        "rotation[:, :1, 1:] = stiffness[:, :1, None]",
        "tests/unit/structure/test_answers.py::test_a_strut_is_sprung_at_both_ends",
    ),
    Mutation(
        "sign of suction",
        "loads/wind.py",
        "onto_struts(shell, -form.normals * (pressure",
        "onto_struts(shell, form.normals * (pressure",
        "tests/unit/loads/test_wind.py::test_suction_pulls_outwards_and_lifts",
    ),
    Mutation(
        "density as weight",
        "loads/weight.py",
        "lines[:, 2] = -GRAVITY * masses.struts",
        "lines[:, 2] = -masses.struts",
        "tests/unit/loads/test_combine.py::test_weights_add_up",
    ),
    Mutation(
        "duration factor ignored",
        "structure/standards/en1995.py",
        "return K_MOD[service_class][duration] * f_k / gamma_M",
        "return f_k / gamma_M",
        "tests/published/test_member_standards.py::test_ec5_design_strength",
    ),
    Mutation(
        "a combination left out",
        "loads/combine.py",
        '        found.append((*weight, *along_crop, (wind.name, q), (snow.name, psi["snow"])))\n',
        "",
        "tests/unit/loads/test_combine.py::test_wind_and_snow_lead_each_other_in_turn",
    ),
    Mutation(
        "friction without a bound",
        "structure/model.py",
        "friction=np.full(len(ground), GROUND_FRICTION)",
        "friction=np.full(len(ground), np.inf)",
        "tests/laws/test_base_laws.py::test_each_hub_obeys_contact_and_friction_with_its_ballast",
    ),
)


def replay(mutation: Mutation, folder: Path) -> bool:
    """Return whether the test of `mutation` turns red in the copy under `folder`."""
    path = folder / "src" / "strutwright" / mutation.file
    text = path.read_text(encoding="utf-8")
    if text.count(mutation.old) != 1:
        msg = f"{mutation.name}: {mutation.old!r} stands {text.count(mutation.old)} times"
        raise SystemExit(msg)
    path.write_text(text.replace(mutation.old, mutation.new), encoding="utf-8")
    try:
        return tested(folder, [mutation.test]) == 1
    finally:
        path.write_text(text, encoding="utf-8")


def tested(folder: Path, tests: list[str]) -> int:
    """Return the exit code of pytest on `tests`: 0 green, 1 red."""
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *tests]
    found = subprocess.run(
        command,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder / "src"), "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        check=False,
    )
    return found.returncode


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for part in ("src", "tests", "examples"):
            ignored = shutil.ignore_patterns("__pycache__")
            shutil.copytree(ROOT / part, folder / part, ignore=ignored)
        shutil.copy(ROOT / "pyproject.toml", folder)
        tests = sorted({mutation.test for mutation in MUTATIONS})
        if tested(folder, tests) != 0:
            raise SystemExit("the tests are not green before anything is sown")
        missed = []
        for mutation in MUTATIONS:
            red = replay(mutation, folder)
            print(f"{'red ' if red else 'MISSED'}  {mutation.name}", flush=True)
            missed += [] if red else [mutation.name]
    if missed:
        raise SystemExit(f"no test saw: {', '.join(missed)}")


if __name__ == "__main__":
    main()

"""The documented example runs and its numbers hang together."""

import runpy
from pathlib import Path

import pytest

EXAMPLE = Path(__file__).parents[3] / "docs" / "examples" / "frame_portal.py"


def test_portal_example(capsys):
    found = runpy.run_path(str(EXAMPLE))["main"]()
    assert "drift under wind" in capsys.readouterr().out
    end = found["beam end moment under snow, Nm"]
    middle = found["beam middle moment under snow, Nm"]
    assert end + middle == pytest.approx(1200 * 4**2 / 8)  # the simple beam's moment
    assert found["vertical reaction under snow, N"] == pytest.approx(1200 * 4 / 2)

"""The command line loads what a command needs, and tells wrong words as wrong input."""

import subprocess
import sys

import pytest

from strutwright.cli.main import run


def test_serve_waits_for_no_room_of_the_design():
    program = (
        "import sys; from strutwright.cli.main import run; run(['serve', '--help']); "
        "print([name for name in sys.modules if name.startswith('strutwright.design')])"
    )
    told = subprocess.run(
        [sys.executable, "-c", program], check=False, capture_output=True, text=True
    )
    assert told.returncode == 0, told.stderr
    assert "serve" in told.stdout
    assert told.stdout.rstrip().endswith("[]")


@pytest.mark.parametrize("words", [["frobnicate"], ["serve", "--port", "99999"]])
def test_wrong_words_are_wrong_input(words, capsys):
    assert run(words) == 2
    assert "error usage" in capsys.readouterr().err

"""The server in its own process, under many clients and killed while it saves."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[3]))
from benchmarks.web import crowd, killed

pytestmark = pytest.mark.whole


def test_many_clients_lose_no_save(tmp_path):
    tally = crowd(tmp_path, clients=8, seconds=2.0)
    assert tally.faults == []
    assert tally.saved > 8


def test_a_server_killed_while_it_saves_loses_nothing(tmp_path):
    assert killed(tmp_path, times=2) == []
    assert sorted(path.name for path in tmp_path.glob("*.toml")) == ["brief.toml"]

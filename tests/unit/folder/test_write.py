import os
import subprocess
import sys
from pathlib import Path

import pytest

from strutwright.errors import InputError
from strutwright.folder import check_target, write_files

KIT = {"kit.json": b"{}", "pictures/plan.svg": b"<svg/>"}


def tree(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()
    }


def test_the_folder_holds_the_files_and_nothing_stands_beside_it(tmp_path):
    write_files(KIT, tmp_path / "deep" / "kit")
    assert tree(tmp_path / "deep") == {f"kit/{k}": v for k, v in KIT.items()}


def test_an_existing_kit_is_kept_without_force(tmp_path):
    write_files(KIT, tmp_path / "kit")
    with pytest.raises(InputError, match="out-exists"):
        write_files({"kit.json": b"new"}, tmp_path / "kit")
    assert tree(tmp_path / "kit") == KIT


def test_force_replaces_a_kit_whole(tmp_path):
    write_files(KIT, tmp_path / "kit")
    write_files({"kit.json": b"new"}, tmp_path / "kit", force=True)
    assert tree(tmp_path) == {"kit/kit.json": b"new"}


def test_force_spares_a_folder_that_is_no_kit(tmp_path):
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "a.jpg").write_bytes(b"x")
    with pytest.raises(InputError, match="out-not-a-kit"):
        write_files(KIT, tmp_path / "photos", force=True)
    assert tree(tmp_path) == {"photos/a.jpg": b"x"}


def test_a_file_in_the_place_of_the_folder_is_refused(tmp_path):
    (tmp_path / "kit").write_text("mine")
    with pytest.raises(InputError, match="out-not-a-folder"):
        check_target(tmp_path / "kit", force=True)


def test_a_place_where_nothing_may_be_written_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(InputError, match="out-not-writable"):
        check_target(tmp_path / "kit", force=False)


def test_a_write_that_fails_leaves_the_old_kit_and_no_trace(tmp_path):
    write_files(KIT, tmp_path / "kit")
    with pytest.raises(InputError, match="out-not-writable"):
        write_files({"kit.json": b"new", "a" * 300: b"x"}, tmp_path / "kit", force=True)
    assert tree(tmp_path) == {f"kit/{k}": v for k, v in KIT.items()}


KILLED = """
import os, signal, sys
from pathlib import Path
from strutwright.folder import write
def die(*_): os.kill(os.getpid(), signal.SIGKILL)
setattr(write, sys.argv[2], die)
write.write_files({"kit.json": b"new"}, Path(sys.argv[1]), force=True)
"""


@pytest.mark.parametrize("at", ["_write_through", "_swap"])
def test_a_killed_write_leaves_the_old_kit_and_the_next_one_sweeps(tmp_path, at):
    write_files(KIT, tmp_path / "kit")
    run = subprocess.run([sys.executable, "-c", KILLED, tmp_path / "kit", at], check=False)
    assert run.returncode < 0
    assert tree(tmp_path / "kit") == KIT
    write_files({"kit.json": b"newer"}, tmp_path / "kit", force=True)
    assert tree(tmp_path) == {"kit/kit.json": b"newer"}


def test_a_kit_retired_by_a_killed_run_comes_back(tmp_path):
    write_files(KIT, tmp_path / "kit")
    (tmp_path / "kit").rename(tmp_path / ".kit.retired-999999999")
    with pytest.raises(InputError, match="out-exists"):
        write_files({"kit.json": b"new"}, tmp_path / "kit")
    assert tree(tmp_path) == {f"kit/{k}": v for k, v in KIT.items()}

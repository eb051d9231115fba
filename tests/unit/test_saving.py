"""A single file is written whole or not at all, and a refusal says how to mend it."""

import os
from pathlib import Path

import pytest

from strutwright.errors import InputError
from strutwright.saving import save_file


def test_the_new_file_takes_the_place_of_the_old(tmp_path):
    place = tmp_path / "quote.pdf"
    save_file(place, b"old")
    save_file(place, b"new")
    assert place.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [place]


def test_a_disk_that_refuses_leaves_the_old_file_and_no_trace(tmp_path, monkeypatch):
    place = tmp_path / "quote.pdf"
    save_file(place, b"old")

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(InputError, match="out-not-writable") as caught:
        save_file(place, b"new")
    assert "No space left" in caught.value.what
    assert place.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [place]


@pytest.mark.parametrize("name", ["missing/quote.pdf", "."])
def test_a_place_that_is_none_is_refused(tmp_path, name):
    with pytest.raises(InputError, match="out-not-writable"):
        save_file(Path(tmp_path) / name, b"new")

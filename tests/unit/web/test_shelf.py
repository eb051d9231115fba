"""The shelf: saving is atomic and never overwrites what it has not seen."""

import os
import threading

import pytest

from strutwright.errors import InputError
from strutwright.web import shelf
from strutwright.web.names import brief_path, inside, kit_folder, slug


def test_a_save_names_the_revision_it_was_made_from(project):
    held = shelf.read(project, "small")
    first = shelf.save(project, "small", held.text + "# one\n", held.revision)
    with pytest.raises(shelf.Conflict) as refused:
        shelf.save(project, "small", held.text + "# two\n", held.revision)
    assert refused.value.held == first
    assert (project / "small.toml").read_text().endswith("# one\n")


def test_saving_the_same_text_again_is_no_conflict(project):
    held = shelf.read(project, "small")
    text = held.text + "# one\n"
    shelf.save(project, "small", text, held.revision)
    assert shelf.save(project, "small", text, held.revision).text == text


def test_a_change_by_another_program_is_a_conflict(project):
    held = shelf.read(project, "small")
    (project / "small.toml").write_text("# by hand\n")
    with pytest.raises(shelf.Conflict):
        shelf.save(project, "small", held.text + "# mine\n", held.revision)
    assert (project / "small.toml").read_text() == "# by hand\n"


def test_of_many_savers_of_one_revision_one_wins(project):
    held = shelf.read(project, "small")
    won, lost = [], []

    def save(number):
        try:
            won.append(shelf.save(project, "small", f"# {number}\n", held.revision))
        except shelf.Conflict:
            lost.append(number)

    threads = [threading.Thread(target=save, args=(number,)) for number in range(16)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(won) == 1
    assert len(lost) == 15
    assert (project / "small.toml").read_text() == won[0].text


def test_a_save_that_dies_before_the_rename_leaves_the_old_text(project, monkeypatch):
    held = shelf.read(project, "small")

    def die(_number):
        raise OSError("the disk is gone")

    monkeypatch.setattr(os, "fsync", die)
    with pytest.raises(InputError, match="the disk is gone"):
        shelf.save(project, "small", "# half\n", held.revision)
    monkeypatch.undo()
    assert shelf.read(project, "small") == held
    assert [one.name for one in shelf.listed(project)] == ["small"]


def test_line_ends_stay_as_they_were(project):
    (project / "small.toml").write_bytes(b'[project]\r\nname = "x"\r\n')
    held = shelf.read(project, "small")
    shelf.save(project, "small", held.text + "# y\r\n", held.revision)
    assert (project / "small.toml").read_bytes().count(b"\r\n") == 3


def test_nothing_is_deleted_by_putting_away(project, small):
    shelf.move(project, "small", away=True)
    assert shelf.listed(project) == []
    assert (project / "archive" / "small.toml").read_text() == small
    shelf.create(project, "small", "# new\n")
    with pytest.raises(InputError, match="brief-exists"):
        shelf.move(project, "small", away=False)
    assert (project / "small.toml").read_text() == "# new\n"


def test_the_shelf_says_whether_the_kit_is_of_this_text(project, small):
    folder = kit_folder(project, "small")
    folder.mkdir()
    (folder / "brief.toml").write_text(small)
    assert shelf.listed(project)[0].kit == "fresh"
    (project / "small.toml").write_text(small + "# more\n")
    assert shelf.listed(project)[0].kit == "older"


def test_links_and_broken_files_are_no_briefs(project, tmp_path):
    outside = tmp_path / "outside.toml"
    outside.write_text("secret = 1\n")
    (project / "link.toml").symlink_to(outside)
    (project / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    (project / "broken.toml").write_text("[project\n")
    assert [one.name for one in shelf.listed(project)] == ["broken", "small"]
    with pytest.raises(InputError, match="brief-not-found"):
        shelf.read(project, "link")


@pytest.mark.parametrize(
    "name",
    ["", "..", "a..b", "../x", "a/b", "a\\b", ".hidden", "x" * 65, "nul", "COM1.x", "a\0b", "a\n"],
)
def test_names_that_lead_out_are_refused(project, name):
    with pytest.raises(InputError, match="brief-name"):
        brief_path(project, name)


@pytest.mark.parametrize(
    "path",
    ["../small.toml", "/etc/passwd", "..", "", ".", ".lock", "a/../../small.toml", "C:x", "x\0"],
)
def test_paths_that_lead_out_are_nothing(project, path):
    kit = project / "small-kit"
    (kit / "a").mkdir(parents=True)
    (kit / ".lock").write_text("")
    assert inside(kit, path) is None


def test_a_link_inside_a_kit_that_leads_out_is_nothing(project):
    kit = project / "small-kit"
    kit.mkdir()
    (kit / "out.toml").symlink_to(project / "small.toml")
    (kit / "in.toml").write_text("")
    assert inside(kit, "out.toml") is None
    assert inside(kit, "in.toml")


def test_slug():
    assert slug("North field: 18 ft 4 in!") == "north-field-18-ft-4-in"
    assert slug("***") == "brief"

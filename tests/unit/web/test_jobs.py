"""Long work: progress, cancelling, the kit folder."""

import io
import json
import time
import zipfile

import pypdf
import pytest

from strutwright.web import jobs

API = "/api/v1"
WEAK = """
[project]
name = "Weak"
use = "shelter"
[size]
width = "3.0 m"
[shape]
family = "dome"
division = [1, 0]
[struts]
stock = "steel-25x1.5"
[site]
standard = "en"
ground_snow = "9 kN/m2"
basic_wind = { value = "24 m/s", basis = "10 min mean" }
soil = "loam"
[cover]
material = "pe-film-180"
"""
pytestmark = pytest.mark.whole


def begin(client, **asked):
    answer = client.post(f"{API}/jobs", json=asked)
    assert answer.status_code == 202, answer.text
    return answer.json()["id"]


def events(client, number):
    return list(stream(client, number))


def stream(client, number):
    with client.stream("GET", f"{API}/jobs/{number}/events") as stream:
        assert stream.headers["content-type"].startswith("text/event-stream")
        for line in stream.iter_lines():
            if line.startswith("data: "):
                yield json.loads(line[6:])


def test_a_kit_is_built_and_can_be_taken_away(client, project):
    told = events(client, begin(client, kind="kit", name="small"))
    assert told[-1]["state"] == "done"
    # short stages may pass between two looks at the job: that some are told, not which
    assert len({one["stage"] for one in told} - {""}) >= 3
    kit = client.get(f"{API}/briefs/small/kit").json()
    assert kit["fresh"]
    result = client.get(f"{API}/jobs/{told[-1]['id']}/result").json()
    assert result["kit"] == json.loads((project / "small-kit" / "kit.json").read_text())
    archive = zipfile.ZipFile(io.BytesIO(client.get(f"{API}/briefs/small/kit.zip").content))
    assert sorted(archive.namelist()) == sorted(f"small-kit/{one['path']}" for one in kit["files"])
    book = archive.read("small-kit/build-book.pdf")
    assert book == client.get(f"{API}/briefs/small/kit/build-book.pdf").content
    assert len(pypdf.PdfReader(io.BytesIO(book)).pages) > 3
    saved = client.get(f"{API}/briefs/small").json()
    text = {"text": saved["text"] + "# more\n", "revision": saved["revision"]}
    client.put(f"{API}/briefs/small", json=text)
    assert not client.get(f"{API}/briefs/small/kit").json()["fresh"]


def test_a_job_that_is_stopped_leaves_no_kit_and_the_next_one_runs(client, project):
    number = begin(client, kind="kit", name="small")
    while client.get(f"{API}/jobs/{number}").json()["state"] == "waiting":
        time.sleep(0.05)
    client.delete(f"{API}/jobs/{number}")
    assert events(client, number)[-1]["state"] == "cancelled"
    assert not (project / "small-kit").exists()
    again = begin(client, kind="check", name="small")
    assert again == begin(client, kind="check", name="small")  # the same work is done once
    assert events(client, again)[-1]["state"] == "done"


def test_a_brief_that_cannot_be_built_is_told_with_its_keys(client, small):
    text = small.replace('"4.0 m"', '"4.0"')
    told = events(client, begin(client, kind="check", name="small", text=text))[-1]
    assert told["state"] == "refused"
    assert told["problems"][0]["key"] == "size.width"


def test_a_check_stopped_after_its_verdict_keeps_it(client):
    number = begin(client, kind="check", name="small", text=WEAK)
    for told in stream(client, number):
        if told["answers"] == 1 and told["state"] == "working":
            client.delete(f"{API}/jobs/{number}")
    assert told["state"] == "cancelled"
    assert client.get(f"{API}/jobs/{number}/result").json()["verdict"] == "fails"
    again = client.post(f"{API}/shape", json={"text": WEAK})  # the server goes on
    assert again.status_code == 200


def test_a_check_that_two_windows_want_goes_on_when_one_lets_it_go(client):
    number = begin(client, kind="check", name="small")
    assert begin(client, kind="check", name="small") == number
    client.delete(f"{API}/jobs/{number}")
    assert events(client, number)[-1]["state"] == "done"


def left_by_its_browser(client, kind):
    number = begin(client, kind=kind, name="small")
    next(followed := stream(client, number))
    followed.close()
    return number


def test_a_check_that_nobody_follows_any_more_is_stopped_and_a_kit_is_not(client, monkeypatch):
    monkeypatch.setattr(jobs, "LEFT", 0.05)
    number = left_by_its_browser(client, "check")
    while client.get(f"{API}/jobs/{number}").json()["state"] != "cancelled":
        time.sleep(0.05)
    number = left_by_its_browser(client, "kit")
    time.sleep(0.5)
    assert client.get(f"{API}/jobs/{number}").json()["state"] in ("waiting", "working", "done")
    client.delete(f"{API}/jobs/{number}")


def test_a_check_that_is_asked_for_again_goes_on_before_it_is_followed(client, monkeypatch):
    monkeypatch.setattr(jobs, "LEFT", 0.3)
    number = left_by_its_browser(client, "check")
    assert begin(client, kind="check", name="small") == number
    time.sleep(0.6)
    assert events(client, number)[-1]["state"] == "done"

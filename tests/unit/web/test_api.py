"""The JSON API: shelf, texts, shapes, readings."""

from math import dist
from pathlib import Path

from strutwright.web.models import ShapeModel

API = "/api/v1"
EXAMPLES = Path(__file__).parents[3] / "examples"


def test_two_windows_on_one_brief(client, project):
    """The second to save is told, is given both texts, and nothing is overwritten."""
    mine = client.get(f"{API}/briefs/small").json()
    theirs = client.get(f"{API}/briefs/small").json()
    first = {"text": mine["text"] + "# first\n", "revision": mine["revision"]}
    second = {"text": theirs["text"] + "# second\n", "revision": theirs["revision"]}
    assert client.put(f"{API}/briefs/small", json=first).status_code == 200
    answer = client.put(f"{API}/briefs/small", json=second)
    assert answer.status_code == 409
    told = answer.json()
    assert told["yours"] == second["text"]
    assert told["theirs"]["text"] == first["text"]
    assert told["problems"][0]["code"] == "brief-changed"
    assert (project / "small.toml").read_text() == first["text"]
    merged = {"text": "# both\n", "revision": told["theirs"]["revision"]}
    assert client.put(f"{API}/briefs/small", json=merged).status_code == 200


def test_new_briefs_from_starter_demo_and_brief(client, project):
    demo = client.get(f"{API}/demos").json()[0]
    for name, source in [("a", "starter"), ("b", f"demo:{demo['id']}"), ("c", "brief:small")]:
        answer = client.post(f"{API}/briefs", json={"name": name, "source": source})
        assert answer.status_code == 201, answer.text
    again = client.post(f"{API}/briefs", json={"name": "a", "source": "starter"})
    assert again.status_code == 409
    assert (project / "c.toml").read_text() == (project / "small.toml").read_text()
    names = [one["name"] for one in client.get(f"{API}/briefs").json()["briefs"]]
    assert names == ["a", "b", "c", "small"]
    assert client.post(f"{API}/briefs/a/archive").status_code == 200
    assert [one["name"] for one in client.get(f"{API}/archive").json()["briefs"]] == ["a"]
    assert client.post(f"{API}/archive/a/restore").status_code == 200
    assert (project / "a.toml").exists()


def test_a_demo_brings_the_files_it_names(client, project):
    demos = [one["id"] for one in client.get(f"{API}/demos").json()]
    for demo in demos:
        asked = {"name": f"my-{demo}", "source": f"demo:{demo}"}
        assert client.post(f"{API}/briefs", json=asked).status_code == 201
    assert (project / "slantgarth-levels.csv").is_file()
    text = client.get(f"{API}/briefs/my-slantgarth-dome").json()["text"]
    assert client.post(f"{API}/shape", json={"text": text}).status_code == 200


def test_edit_tells_all_problems_with_their_keys(client, small):
    changes = [{"key": "size.width", "value": "20"}, {"key": "struts.kerf", "value": "1 m"}]
    told = client.post(f"{API}/edit", json={"text": small, "changes": changes}).json()
    assert [one["key"] for one in told["problems"]] == ["size.width", "struts.kerf"]
    assert told["problems"][0]["line"] == 7
    assert told["values"]["size"]["width"] == "20"
    assert "# hub to hub" in told["text"]


def test_shape_and_parts_of_a_text(client, small):
    told = client.post(f"{API}/shape", json={"text": small}).json()
    shell, parts = told["shell"], told["parts"]
    assert len(shell["hubs"]) == 26  # half of a class I 2-frequency icosahedral dome: Euler
    assert len(shell["struts"]) == 65
    assert sum(kind["quantity"] for kind in parts["strut_types"]) == 65
    assert abs(shell["width"] - 4.0) < 1e-9
    wrong = client.post(f"{API}/shape", json={"text": "[size]\n"})
    assert wrong.status_code == 422
    assert wrong.json()["problems"][0]["code"] == "brief-missing-key"


def test_a_shape_has_the_form_that_the_api_describes(client, small):
    """It is handed on as the worker wrote it, so its form is held here."""
    told = client.post(f"{API}/shape", json={"text": small})
    assert told.headers["content-type"] == "application/json"
    assert ShapeModel.model_validate(told.json()).diameter > 0


def test_a_drag_is_drawn_as_its_text_would_be(client, small):
    changes = [{"key": "size.width", "value": "5.5 m"}]
    edited = client.post(f"{API}/edit", json={"text": small, "changes": changes}).json()
    after = client.post(f"{API}/shape", json={"text": edited["text"]}).json()
    at_once = client.post(f"{API}/shape", json={"text": small, "changes": changes}).json()
    assert at_once == after
    assert abs(at_once["shell"]["width"] - 5.5) < 1e-9


def test_a_shape_without_its_doors_says_so(client, small):
    text = small + '[[openings]]\nkind = "door"\nwidth = "0.8 m"\nheight = "1.2 m"\n'
    quick = client.post(f"{API}/shape", json={"text": text, "openings": False}).json()
    whole = client.post(f"{API}/shape", json={"text": text}).json()
    assert (quick["openings_made"], whole["openings_made"]) == (False, True)
    assert not quick["shell"]["openings"]
    assert whole["shell"]["openings"]


def test_what_is_not_there(client):
    assert client.get(f"{API}/briefs/none").status_code == 404
    assert client.get(f"{API}/briefs/small/kit").status_code == 404
    assert client.get(f"{API}/briefs/small/kit.zip").status_code == 404
    assert client.get(f"{API}/jobs/none").status_code == 404
    assert client.get(f"{API}/schema/none").status_code == 404
    assert client.put(f"{API}/briefs/none", json={"text": "", "revision": ""}).status_code == 404
    assert client.get(f"{API}/schema/brief").json()["title"] == "strutwright brief"
    assert client.get(f"{API}/openapi.json").json()["info"]["title"] == "strutwright"


def test_readings_become_suspects_and_wrong_ones_are_told(client, small):
    shell = client.post(f"{API}/shape", json={"text": small}).json()["shell"]
    true = [
        f"distance,{i},{j},centre,{1000 * dist(a, b):.0f} mm,"
        for i, j, a, b in [
            (i, j, shell["hubs"][i], shell["hubs"][j]) for i in range(4) for j in range(10, 16)
        ]
    ]
    readings = "\n".join(["kind,from,to,at,value,sigma", *true])
    told = client.post(f"{API}/survey", json={"text": small, "readings": readings}).json()
    assert len(told["readings"]) == len(true)
    assert abs(told["spread"]) < 0.003
    wrong = readings + "\nheight,0,,centre,5\nbend,1,2,centre,1 m,"
    answer = client.post(f"{API}/survey", json={"text": small, "readings": wrong})
    assert answer.status_code == 422
    assert len(answer.json()["problems"]) >= 2


def test_a_proof_load_and_what_its_sink_says(client, small):
    answer = client.post(f"{API}/proof", json={"text": small})
    assert answer.status_code == 422
    assert answer.json()["problems"][0]["code"] == "proof-unjudged"
    text = (EXAMPLES / "tallow-cross-stall.toml").read_text()
    load = client.post(f"{API}/proof", json={"text": text}).json()
    assert 0 < load["load"] <= load["allowed"]
    assert load["low"] < load["sink"] < load["high"]
    readings = (
        f"kind,from,to,at,value,sigma\n# temperature: {load['temperature']} C\n"
        f"# load: {load['load']} N at hub {load['hub']}\n"
        f"sink,{load['hub']},,,{1000 * load['sink']:.2f} mm,{1000 * load['sigma']} mm\n"
    )
    told = client.post(f"{API}/survey", json={"text": text, "readings": readings}).json()
    assert told["joints"]["verdict"] == "within"
    assert told["joints"]["sinks"][0]["hub"] == load["hub"]
    assert {one["code"] for one in told["joints"]["checks"]} >= {"strut-buckling"}

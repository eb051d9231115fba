"""Who may ask, and how much at a time."""

import json

import httpx
import pytest

BRIEFS = "/api/v1/briefs"
NEW = {"name": "new", "source": "starter"}


def test_a_foreign_host_name_is_refused(client):
    for host in ("evil.example", "evil.example:80", "127.0.0.1.evil.example", "", "10.0.0.9"):
        answer = client.get(BRIEFS, headers={"Host": host})
        assert answer.status_code == 421, host
    assert client.get(BRIEFS, headers={"Host": "localhost:1"}).status_code == 200
    assert client.get(BRIEFS, headers={"Host": "[::1]:8765"}).status_code == 200


def test_a_change_from_another_page_is_refused(client, project):
    refused = [
        ({"X-Strutwright": ""}, 201),  # the header is what counts, not its value
        ({"Origin": "http://evil.example"}, 403),
        ({"Origin": "null"}, 403),
        ({"Sec-Fetch-Site": "cross-site"}, 403),
        ({"Content-Type": "text/plain"}, 415),
        ({"Content-Type": "multipart/form-data; boundary=x"}, 415),
    ]
    for number, (wrong, status) in enumerate(refused):
        content = json.dumps({"name": f"n{number}", "source": "starter"})
        headers = {"Content-Type": "application/json", **wrong}
        assert client.post(BRIEFS, content=content, headers=headers).status_code == status, headers
    assert sorted(path.name for path in project.glob("*.toml")) == ["n0.toml", "small.toml"]


def test_a_change_without_the_header_is_refused(client):
    url = str(client.base_url).rstrip("/") + BRIEFS
    assert httpx.post(url, json=NEW).status_code == 403
    assert httpx.request("DELETE", url).status_code == 403


def test_no_other_origin_is_let_in(client):
    headers = {"Origin": "http://evil.example", "Access-Control-Request-Method": "PUT"}
    for answer in (client.options(BRIEFS, headers=headers), client.get(BRIEFS, headers=headers)):
        assert not [name for name in answer.headers if name.startswith("access-control")]


def test_every_answer_bears_a_strict_policy(client):
    for path in ("/", BRIEFS, "/api/v1/nothing", "/nothing.js"):
        answer = client.get(path)
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "http" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"


def test_too_much_is_refused_before_any_work(client):
    large = {"text": "#" * (3 * 1024**2), "changes": []}
    assert client.post("/api/v1/edit", json=large).status_code == 413

    def parts():
        for _ in range(40):
            yield b"x" * 100_000

    headers = {"Content-Type": "application/json"}
    answer = client.post("/api/v1/edit", content=parts(), headers=headers)
    assert answer.status_code == 413
    within = {"text": "#" * (300 * 1024), "changes": []}
    assert client.post("/api/v1/edit", json=within).status_code == 422


def test_beyond_this_machine_a_token_is_needed(beyond):
    assert beyond.get(BRIEFS).status_code == 401
    assert beyond.get("/").status_code == 401
    assert beyond.get(BRIEFS, headers={"X-Strutwright-Token": "wrong"}).status_code == 401
    assert beyond.get("/?token=wrong").status_code == 401
    assert beyond.post(f"{BRIEFS}?token=the-token", json=NEW).status_code == 401
    assert beyond.get(BRIEFS, headers={"X-Strutwright-Token": "the-token"}).status_code == 200
    answer = beyond.get("/?token=the-token")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/"
    assert "HttpOnly" in answer.headers["set-cookie"]
    assert "SameSite=Strict" in answer.headers["set-cookie"]
    assert beyond.get(BRIEFS).status_code == 200  # by the cookie
    assert beyond.get(BRIEFS, headers={"Host": "192.168.1.20:8765"}).status_code == 200
    assert beyond.get(BRIEFS, headers={"Host": "evil.example"}).status_code == 421


@pytest.mark.parametrize(
    "path",
    [
        "/api/v1/briefs/..%2Fsecret",
        "/api/v1/briefs/%2e%2e%2fsecret",
        "/api/v1/briefs/..%5Csecret",
        "/api/v1/briefs/small%00",
        "/api/v1/briefs/small/kit/..%2Fsmall.toml",
        "/api/v1/briefs/small/kit/%2e%2e/%2e%2e/secret.toml",
        "/api/v1/briefs/small/kit/pictures/..%2F..%2F..%2Fsecret.toml",
        "/api/v1/briefs/small/kit//etc/passwd",
        "/api/v1/briefs/small/kit/%2Fetc%2Fpasswd",
        "/api/v1/briefs/small/kit/link.toml",
        "/api/v1/briefs/..%2Fsecret/kit/brief.toml",
        "/assets/..%2F..%2Fapp.py",
        "/..%2Fapp.py",
        "/%2e%2e/app.py",
    ],
)
def test_no_path_leads_out_of_the_folder(client, project, path):
    (project.parent / "secret.toml").write_text("secret = 1")
    kit = project / "small-kit"
    kit.mkdir()
    (kit / "kit.json").write_text("{}")
    (kit / "link.toml").symlink_to(project.parent / "secret.toml")
    answer = client.get(path)
    assert answer.status_code in (404, 422), answer.text
    assert "secret =" not in answer.text
    assert "make_app" not in answer.text

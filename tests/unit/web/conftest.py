"""A real server on a free port, in a thread of the test process."""

import contextlib
import threading
import time

import httpx
import pytest
import uvicorn

from strutwright.web.app import make_app
from strutwright.web.guard import Rules

SMALL = """# A small dome for the tests.
[project]
name = "Test dome"
use = "shelter"

[size]
width = "4.0 m"    # hub to hub

[shape]
family = "dome"
division = [2, 0]
"""


@contextlib.contextmanager
def serving(folder, rules=None):
    app = make_app(folder, rules)
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_level="error", access_log=False))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    headers = {"X-Strutwright": "1"}
    client = httpx.Client(base_url=f"http://127.0.0.1:{port}", headers=headers, timeout=60)
    try:
        with client:
            yield client
    finally:
        server.should_exit = True
        thread.join()


@pytest.fixture
def project(tmp_path):
    folder = tmp_path / "project"
    folder.mkdir()
    (folder / "small.toml").write_text(SMALL)
    return folder


@pytest.fixture
def client(project):
    with serving(project) as open_client:
        yield open_client


@pytest.fixture
def beyond(project):
    """Return a client of a server that asks for a token."""
    with serving(project, Rules(token="the-token")) as open_client:
        yield open_client


@pytest.fixture
def small():
    return SMALL

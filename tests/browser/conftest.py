"""A server of its own process and a real Chromium for the tests of the page."""

import os
import re
import shutil
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
FLAGS = [
    "--no-sandbox", "--disable-dev-shm-usage", "--use-gl=angle", "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
]  # fmt: skip
NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")


@pytest.fixture(scope="session")
def cannot():
    """Skip on a machine that has not what is needed, and say so; fail where all must run."""

    def stop(what):
        if os.environ.get("CI"):
            pytest.fail(what)
        pytest.skip(what)

    return stop


@pytest.fixture(scope="session")
def chromium(cannot):
    if find_spec("playwright") is None:
        cannot("playwright is not installed: `make test` installs it")
    from playwright import sync_api as api  # there by now

    found = next((path for name in NAMES if (path := shutil.which(name))), None)
    with api.sync_playwright() as player:
        try:
            browser = player.chromium.launch(executable_path=found, args=FLAGS)
        except api.Error as error:
            cannot(f"no Chromium starts: install Debian's, or Playwright's own ({error})")
        yield browser
        browser.close()


class Server:
    """`strutwright serve` in a process of its own; it can be killed and started again."""

    def __init__(self, folder):
        self.folder = folder
        self.start("0")

    def start(self, port):
        command = [sys.executable, "-m", "strutwright", "serve", "--project", str(self.folder)]
        env = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
        self.process = subprocess.Popen(
            [*command, "--port", port], stdout=subprocess.PIPE, text=True, env=env
        )
        line = self.process.stdout.readline()
        self.url = re.search(r"http://\S+", line)[0]

    @property
    def port(self):
        return self.url.rsplit(":", 1)[1]

    def kill(self):
        self.process.kill()
        self.process.wait()
        self.process.stdout.close()


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    folder = tmp_path_factory.mktemp("project")
    for name in ("mosswick-two-frequency", "tallow-cross-stall", "pellbrook-repair"):
        shutil.copy(EXAMPLES / f"{name}.toml", folder)
    running = Server(folder)
    yield running
    running.kill()


@pytest.fixture
def context(chromium):
    opened = chromium.new_context(viewport={"width": 1400, "height": 950}, accept_downloads=True)
    opened.set_default_timeout(90_000)
    yield opened
    opened.close()


@pytest.fixture
def page(context, server):
    faults = []
    opened = context.new_page()
    opened.on("pageerror", lambda error: faults.append(str(error)))
    elsewhere = []
    opened.on("request", lambda asked: elsewhere.append(asked.url))
    yield opened
    assert faults == []
    assert [url for url in elsewhere if not url.startswith((server.url, "blob:", "data:"))] == []

"""Records to try on: a SQLite file, and a PostgreSQL server where one is installed."""

import os
import shutil
import socket
import subprocess
import tempfile
from pathlib import Path

import pytest

from strutwright.store import open_records
from strutwright.store.base import META


def _tool(name):
    found = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"))
    return str(found[-1]) if found else shutil.which(name)


def _as_server():
    """Words before a command: the server refuses to run as root."""
    if os.geteuid():
        return []
    known = subprocess.run(["id", "postgres"], capture_output=True, check=False).returncode == 0
    return ["runuser", "-u", "postgres", "--"] if known else None


@pytest.fixture(scope="session")
def server():
    initdb, ctl, before = _tool("initdb"), _tool("pg_ctl"), _as_server()
    if not initdb or not ctl or before is None:
        what = "no PostgreSQL on this machine: `make test` brings Debian's package"
        if os.environ.get("CI"):  # where all must run, what is missing is a failure
            pytest.fail(what)
        pytest.skip(what)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    folder = Path(tempfile.mkdtemp(prefix="records-"))
    if before:
        shutil.chown(folder, "postgres")
    data, log = folder / "data", folder / "log"

    def call(*words):
        subprocess.run([*before, *words], check=True, capture_output=True, cwd=folder, timeout=120)

    call(initdb, "-D", str(data), "-U", "seat", "--auth=trust", "--no-sync")
    options = f"-p {port} -c listen_addresses=127.0.0.1 -c fsync=off -k {folder}"
    call(ctl, "-D", str(data), "-l", str(log), "-o", options, "-w", "start")
    yield f"postgresql://seat@127.0.0.1:{port}/postgres"
    call(ctl, "-D", str(data), "-m", "immediate", "stop")
    shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request, tmp_path):
    if request.param == "sqlite":
        return str(tmp_path / "workshop.sqlite")
    url = request.getfixturevalue("server")
    with open_records(url).begin() as connection:
        META.drop_all(connection)
        META.create_all(connection)
    return url


@pytest.fixture
def records(where):
    held = open_records(where)
    yield held
    held.engine.dispose()

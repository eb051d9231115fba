"""The web app under load: many clients for a while, and the server killed while they save.

``python -m benchmarks.web`` runs 50 clients for 60 s and 20 kills; a small run is in the tests.
"""

import argparse
import os
import random
import re
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path

import httpx

from strutwright.brief import parse_brief, starter_brief

ROOT = Path(__file__).parents[1]
HEADERS = {"X-Strutwright": "1"}
API = "/api/v1"


@dataclass
class Tally:
    """What the clients met."""

    asked: int = 0
    saved: int = 0
    conflicts: int = 0
    shapes: int = 0
    busy: int = 0
    faults: list = field(default_factory=list)
    marks: list = field(default_factory=list)
    seconds: list = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)


def started(folder, port="0"):
    """Return a server process over `folder` and its address."""
    command = [sys.executable, "-m", "strutwright", "serve", "--project", str(folder)]
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    process = subprocess.Popen(
        [*command, "--port", port], stdout=subprocess.PIPE, text=True, env=env
    )
    url = re.search(r"http://\S+", process.stdout.readline())[0]
    return process, url


def ended(process):
    process.kill()
    process.wait()
    process.stdout.close()


def client(url, number, until, tally):
    """One workshop saves its own brief over and over, and adds a line to everybody's."""
    held = {}
    with httpx.Client(base_url=url, headers=HEADERS, timeout=60) as web:
        name = f"brief-{number}"
        count = 0
        while time.monotonic() < until:
            count += 1
            for which in (name, "everybody"):
                begun = time.perf_counter()
                now = web.get(f"{API}/briefs/{which}")
                mark = f"# {number}.{count}\n"
                text = now.json()["text"] + mark
                if which == name:
                    text = starter_brief() + mark
                asked = {"text": text, "revision": now.json()["revision"]}
                answer = web.put(f"{API}/briefs/{which}", json=asked)
                with tally.lock:
                    tally.asked += 2
                    tally.seconds.append((time.perf_counter() - begun) / 2)
                    tally.saved += answer.status_code == 200
                    tally.conflicts += answer.status_code == 409
                    if answer.status_code not in (200, 409):
                        tally.faults.append(answer.text)
                    if answer.status_code == 200 and which == "everybody":
                        tally.marks.append(mark)
                if answer.status_code == 200 and which == name:
                    held = answer.json()
            if count % 5 == 0:
                shape = web.post(f"{API}/shape", json={"text": held["text"]})
                with tally.lock:
                    tally.busy += shape.status_code == 503
                    tally.shapes += shape.status_code == 200
                    if shape.status_code not in (200, 503):
                        tally.faults.append(shape.text)
        kept = web.get(f"{API}/briefs/{name}").json()
        if held and kept != held:
            tally.faults.append(f"{name}: a save was lost")


def crowd(folder, clients, seconds):
    """Let `clients` work for `seconds`; return what they met."""
    for name in [*(f"brief-{k}" for k in range(clients)), "everybody"]:
        (folder / f"{name}.toml").write_text(starter_brief())
    process, url = started(folder)
    tally = Tally()

    def safely(number):
        try:
            client(url, number, time.monotonic() + seconds, tally)
        except (httpx.HTTPError, KeyError, ValueError) as error:
            tally.faults.append(repr(error))

    try:
        threads = [threading.Thread(target=safely, args=(number,)) for number in range(clients)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    finally:
        ended(process)
    kept = set((folder / "everybody.toml").read_text().splitlines(keepends=True))
    tally.faults += [f"lost from everybody's: {mark}" for mark in tally.marks if mark not in kept]
    return tally


def killed(folder, times, seed=1):
    """Kill the server `times` while a brief is saved over and over; return what was lost.

    After each kill the file must be the last text that was answered with 200, or the one that
    was under way: whole, never a mixture.
    """
    chance = random.Random(seed)
    path = folder / "brief.toml"
    path.write_text(starter_brief())
    lost, port = [], "0"
    for run in range(times):
        process, url = started(folder, port)
        port = url.rsplit(":", 1)[1]
        after = chance.uniform(0.05, 0.6)
        timer = threading.Timer(after, process.kill)
        answered = path.read_text()
        under_way = answered
        with httpx.Client(base_url=url, headers=HEADERS, timeout=10) as web:
            revision = web.get(f"{API}/briefs/brief").json()["revision"]
            timer.start()
            try:
                for count in range(100_000):
                    under_way = f"{starter_brief()}# run {run}, save {count}\n"
                    asked = {"text": under_way, "revision": revision}
                    answer = web.put(f"{API}/briefs/brief", json=asked)
                    revision = answer.json()["revision"]
                    answered = under_way
            except (httpx.HTTPError, KeyError, ValueError):
                pass
        timer.join()
        ended(process)
        if path.read_text() not in (answered, under_way):
            lost.append(f"run {run}: the file is neither the last save nor the one under way")
        parse_brief(path.read_text())
    return lost


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--clients", type=int, default=50)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--kills", type=int, default=20)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        begun = time.perf_counter()
        process, url = started(Path(folder))
        httpx.get(url, timeout=60)
        print(f"cold start to the first page: {time.perf_counter() - begun:.2f} s")
        ended(process)
    with tempfile.TemporaryDirectory() as folder:
        tally = crowd(Path(folder), given.clients, given.seconds)
        times = sorted(tally.seconds)
        print(
            f"{given.clients} clients, {given.seconds:g} s: {tally.asked} requests, "
            f"{tally.saved} saves, {tally.conflicts} told of another's save, "
            f"{tally.shapes} shapes, {tally.busy} told to ask again, {len(tally.faults)} faults; "
            f"median {times[len(times) // 2] * 1000:.0f} ms, "
            f"99 % under {times[int(len(times) * 0.99)] * 1000:.0f} ms"
        )
        print(*tally.faults[:5], sep="\n")
    with tempfile.TemporaryDirectory() as folder:
        lost = killed(Path(folder), given.kills)
        print(f"killed {given.kills} times during saves: {len(lost)} texts lost", *lost)


if __name__ == "__main__":
    main()

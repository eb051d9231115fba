"""The page in Chromium: cold start, first picture, the drag of a width, a shell of 5,000 struts.

Times on the clock, so to be read on a quiet machine; processor time of the server beside them.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import httpx
from playwright import sync_api as api

ROOT = Path(__file__).parents[1]
FLAGS = [
    "--no-sandbox", "--disable-dev-shm-usage", "--use-gl=angle", "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
]  # fmt: skip
LARGE = """
[project]
name = "Large"
use = "shelter"
[size]
width = "24 m"
[shape]
family = "dome"
division = [18, 0]
"""
DRAGGED = "long-ambery-steel"
"""582 struts."""
SMALL = "mosswick-two-frequency"
HEADERS = {"X-Strutwright": "1"}


def started(folder):
    command = [sys.executable, "-m", "strutwright", "serve", "--project", str(folder)]
    process = subprocess.Popen([*command, "--port", "0"], stdout=subprocess.PIPE, text=True)
    return process, re.search(r"http://\S+", process.stdout.readline())[0]


def spent(number):
    """Return seconds of processor time of a process."""
    parts = Path(f"/proc/{number}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()
    return (int(parts[11]) + int(parts[12])) / os.sysconf("SC_CLK_TCK")


def cold(folder):
    begun = time.perf_counter()
    process, url = started(folder)
    httpx.get(url, timeout=60)
    took, used = time.perf_counter() - begun, spent(process.pid)
    print(f"cold start to the first page: {took:.2f} s, {used:.2f} s of processor time")
    return process, url


def until(page, condition):
    """Wait for `condition`; the page itself may not evaluate text."""
    end = time.monotonic() + 60
    while not page.evaluate(condition):
        if time.monotonic() > end:
            raise TimeoutError(condition)
        time.sleep(0.01)


def first_picture(page, url):
    begun = time.perf_counter()
    page.goto(f"{url}/#/b/{SMALL}")
    until(page, "window.strutwrightStage?.calls > 0")
    print(f"first picture of a demo: {time.perf_counter() - begun:.2f} s")


def drag(url):
    with httpx.Client(base_url=url, headers=HEADERS, timeout=60) as web:
        text = web.get(f"/api/v1/briefs/{DRAGGED}").json()["text"]
        took = []
        for k in range(20):
            change = [{"key": "size.width", "value": f"{7 + 0.01 * k:.2f} m"}]
            asked = {"text": text, "openings": False, "changes": change}
            begun = time.perf_counter()
            told = web.post("/api/v1/shape", json=asked).json()
            took.append(1000 * (time.perf_counter() - begun))
    struts = len(told["shell"]["struts"])
    print(f"drag, {struts} struts: {min(took):.0f} ms at best, {sorted(took)[10]:.0f} ms median")


def large(page, url):
    page.goto(f"{url}/#/b/large")
    until(page, "window.strutwrightStage?.drawn?.shell.struts.length > 4000")
    page.get_by_role("button", name="Cover", exact=True).click()
    page.wait_for_timeout(500)
    told = page.evaluate(
        """() => {
          const stage = strutwrightStage;
          const times = (count, work) => {
            const took = [];
            for (let k = 0; k < count; k++) {
              const begun = performance.now();
              work(k);
              took.push(performance.now() - begun);
            }
            return took.sort((a, b) => a - b)[count >> 1];
          };
          const box = stage.canvas.getBoundingClientRect();
          return {
            struts: stage.drawn.shell.struts.length,
            calls: stage.calls,
            rebuild: times(15, () => stage.setLook(stage.look)),
            pick: times(50, (k) => stage.pickAt(
              box.left + box.width * (0.3 + 0.008 * k), box.top + box.height / 2)),
          };
        }"""
    )
    print(
        f"{told['struts']} struts: {told['calls']} draw calls, rebuild {told['rebuild']:.1f} ms, "
        f"pick {told['pick']:.1f} ms (medians)"
    )


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for brief in (SMALL, DRAGGED):
            shutil.copy(ROOT / "examples" / f"{brief}.toml", folder)
        (folder / "large.toml").write_text(LARGE)
        process, url = cold(folder)
        try:
            time.sleep(8)  # its workers load in the meantime
            with api.sync_playwright() as player:
                path = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
                browser = player.chromium.launch(executable_path=path, args=FLAGS)
                page = browser.new_page(viewport={"width": 1400, "height": 950})
                page.set_default_timeout(60_000)
                first_picture(page, url)
                page.goto(url)
                drag(url)
                large(page, url)
                browser.close()
        finally:
            process.kill()
            process.wait()
            process.stdout.close()


if __name__ == "__main__":
    main()

"""The built page lies in the package and is of the sources that stand beside it."""

import hashlib
import json
from pathlib import Path

from strutwright.web.app import make_app

ROOT = Path(__file__).parents[3]
PAGE = ROOT / "page"
STATIC = ROOT / "src" / "strutwright" / "web" / "static"


def test_the_built_page_is_of_these_sources():
    """Red? `npm run build` in page/ and commit what it writes."""
    files = [PAGE / name for name in ("index.html", "vite.config.ts", "package-lock.json")]
    for folder in ("src", "public"):
        files += [path for path in (PAGE / folder).rglob("*") if path.is_file()]
    digest = hashlib.sha256()
    for name in sorted(path.relative_to(PAGE).as_posix() for path in files):
        digest.update(f"{name}\n".encode() + (PAGE / name).read_bytes())
    assert (STATIC / "made-from.txt").read_text().strip() == digest.hexdigest()


def test_the_types_of_the_page_are_of_this_api():
    """Red? Write `page/openapi.json` anew and `npm run api` in page/."""
    said = make_app(Path()).openapi()
    said["info"]["version"] = "1"
    assert json.loads((PAGE / "openapi.json").read_text()) == said


def test_the_page_asks_for_nothing_elsewhere():
    index = (STATIC / "index.html").read_text()
    assert "http" not in index
    assert "<script>" not in index
    assert "style=" not in index
    assert list(STATIC.glob("assets/*.js"))

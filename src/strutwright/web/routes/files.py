"""Kits: what lies beside a brief, any file of it, and all of it in one archive."""

from __future__ import annotations

import io
import mimetypes
import zipfile
from pathlib import Path
from urllib.parse import quote

from fastapi import APIRouter, HTTPException
from fastapi.responses import FileResponse, Response

from strutwright.web import shelf
from strutwright.web.models import FileModel, KitModel
from strutwright.web.names import inside, kit_folder
from strutwright.web.state import Held, State

__all__ = ["router"]

router = APIRouter(tags=["kits"])
_SHOWN = (".pdf", ".json", ".csv", ".svg", ".toml")
"""Endings that a browser may show; all others are saved."""
_EARLIEST = (1980, 1, 1, 0, 0, 0)
"""The date of every entry: the same kit gives the same archive."""


@router.get("/briefs/{name}/kit")
def kit(held: Held, name: str) -> KitModel:
    """Return what the kit beside a brief holds, and whether it is of the brief as it is now."""
    folder = _folder(held, name)
    copy = inside(folder, "brief.toml")
    fresh = copy is not None and copy.read_bytes() == shelf.read(held.folder, name).text.encode()
    files = [FileModel(path=path, size=(folder / path).stat().st_size) for path in _paths(folder)]
    return KitModel(name=name, fresh=fresh, files=files)


@router.get("/briefs/{name}/kit.zip", response_class=Response)
def whole(held: Held, name: str) -> Response:
    """Return the whole kit as one archive."""
    folder = _folder(held, name)
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in _paths(folder):
            entry = zipfile.ZipInfo(f"{folder.name}/{path}", _EARLIEST)
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, (folder / path).read_bytes())
    headers = {"content-disposition": _saved_as(f"{folder.name}.zip")}
    return Response(content.getvalue(), media_type="application/zip", headers=headers)


@router.get("/briefs/{name}/kit/{path:path}", response_class=FileResponse)
def one(held: Held, name: str, path: str) -> FileResponse:
    """Return one file of the kit."""
    found = inside(_folder(held, name), path)
    if found is None:
        raise HTTPException(404, "there is no such file in this kit")
    kind = mimetypes.guess_type(found.name)[0] or "application/octet-stream"
    how = "inline" if found.suffix in _SHOWN else "attachment"
    headers = {"content-disposition": _saved_as(found.name, how)}
    return FileResponse(found, media_type=kind, headers=headers)


def _folder(held: State, name: str) -> Path:
    folder = kit_folder(held.folder, name)
    if folder.is_symlink() or not (folder / "kit.json").is_file():
        raise HTTPException(404, f"there is no kit of {name} yet")
    return folder


def _paths(folder: Path) -> list[str]:
    found = (path.relative_to(folder).as_posix() for path in sorted(folder.rglob("*")))
    return [path for path in found if inside(folder, path)]


def _saved_as(name: str, how: str = "attachment") -> str:
    return f"{how}; filename*=UTF-8''{quote(name)}"

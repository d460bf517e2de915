"""Reading and writing the recipe files of the folder, and bringing in what stands elsewhere."""

from __future__ import annotations

from typing import Any
from urllib.parse import unquote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.routing import Route

from labeler.page.asked import answered, json_of, page_of, word_of
from labeler.page.edits import with_head
from labeler.page.engine import reading
from labeler.page.folder import digest_of
from labeler.types import LabelerError

__all__ = ["routes"]

NEW = "---\nmakes: \n---\n- \n> \n"


@answered
async def text(request: Request) -> Any:
    """The text of a file as it stands."""
    found = page_of(request).folder.read(request.query_params.get("name", ""))
    return {"text": found, "digest": digest_of(found)}


@answered
async def save(request: Request) -> Any:
    """Write a recipe file, where it is still the one that was read."""
    given = await json_of(request)
    base = word_of(given, "base") or None
    folder = page_of(request).folder
    digest = await run_in_threadpool(folder.write, word_of(given, "name"), word_of(given, "text"), base=base)
    return {"digest": digest}


@answered
async def new(request: Request) -> Any:
    """Make a recipe file: an empty one by its title, or one that holds a text as it is."""
    given, folder = await json_of(request), page_of(request).folder
    title = " ".join(word_of(given, "title").split())[:120]
    name = folder.free_name(title or "recipe")
    text = word_of(given, "text") or with_head(NEW, "title", title or "New recipe")
    folder.write(name, text, base=None)
    return {"name": name}


@answered
async def bring(request: Request) -> Any:
    """Make a recipe file of whatever was pasted or dropped: a page, JSON, a table, plain text."""
    page = page_of(request)
    data = await request.body()
    name = unquote(request.headers.get("x-file-name", ""))[:200] or "pasted text"
    if not data.strip():
        raise LabelerError("nothing was given; paste a recipe, or drop a file that holds one")
    return await _brought(page, data, name)


@answered
async def adopt(request: Request) -> Any:
    """Text from elsewhere that stands in the editor, as the text of a recipe file; nothing is written."""
    given = await json_of(request)
    return await run_in_threadpool(
        reading.bring, word_of(given, "text").encode("utf-8", "replace"), word_of(given, "name")
    )


@answered
async def bring_file(request: Request) -> Any:
    """Make a recipe file of a file from elsewhere that stands in the folder."""
    page, given = page_of(request), await json_of(request)
    name = word_of(given, "name")
    return await _brought(page, page.folder.read_bytes(name), name)


async def _brought(page: Any, data: bytes, name: str) -> Any:
    found = await run_in_threadpool(reading.bring, data, name)
    stem = name.replace("\\", "/").rpartition("/")[2].rpartition(".")[0]
    target = page.folder.free_name(found["title"] or reading.title_of(found["text"]) or stem or "pasted recipe")
    page.folder.write(target, found["text"], base=None)
    return {"name": target, "problems": found["problems"]}


@answered
async def versions(request: Request) -> Any:
    """The versions of a file that are kept, the newest first."""
    found = page_of(request).folder.versions(request.query_params.get("name", ""))
    return {"versions": [{"id": one.id, "kept": one.kept} for one in found]}


@answered
async def version(request: Request) -> Any:
    """The text of a version."""
    asked = request.query_params
    return {"text": page_of(request).folder.version(asked.get("name", ""), asked.get("id", ""))}


routes = [
    Route("/api/text", text),
    Route("/api/save", save, methods=["POST"]),
    Route("/api/new", new, methods=["POST"]),
    Route("/api/bring", bring, methods=["POST"]),
    Route("/api/bring-file", bring_file, methods=["POST"]),
    Route("/api/adopt", adopt, methods=["POST"]),
    Route("/api/versions", versions),
    Route("/api/version", version),
]

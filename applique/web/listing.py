"""The addresses for a list of names: how it is read, a pattern for each name, and all of them as one zip."""

from __future__ import annotations

import asyncio
import contextlib
import secrets
from collections.abc import AsyncIterator, Mapping
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from applique.design import Design
from applique.errors import Problem, Refusal, Where
from applique.language import message
from applique.record import RECORD
from applique.web.answering import (
    disposition,
    effort_asked,
    event,
    file_stem,
    tab_asking,
    table_in,
    while_wanted,
)
from applique.web.bench import Bench, Message
from applique.web.bodies import read_object
from applique.web.findings import refusal_views
from applique.web.names import Fills, NamedQuilts, named_quilts, names_view
from applique.web.speaking import speech_of
from applique.web.tabs import Tab, Tabs
from applique.web.tasks import CustomersTask, MakeTask
from applique.web.zips import NamesZip

__all__ = ["NamesAnswers"]


class NamesAnswers:
    """What is answered about lists of names; patterns are made one after the other, by the bench."""

    def __init__(self, *, tabs: Tabs, bench: Bench) -> None:
        self._tabs = tabs
        self._bench = bench
        self.routes = [
            Route("/names", self.read, methods=["POST"]),
            Route("/names/make", self.make, methods=["POST"]),
            Route("/names/{made}/folder", self.folder, methods=["GET"]),
        ]

    async def read(self, request: Request) -> Response:
        """How a list was read."""
        tab_asking(self._tabs, request)
        asked = await read_object(request)
        data, text, header = table_in(asked.get("design")), str(asked.get("text", "")), _header(asked)
        speech = speech_of(request)
        return JSONResponse(await asyncio.to_thread(names_view, data, text, has_header=header, speech=speech))

    async def make(self, request: Request) -> Response:
        """A pattern for each name, told one by one. Hanging up stops it; what is made by then can be fetched."""
        tab, asked = tab_asking(self._tabs, request), await read_object(request)
        data, text, effort = table_in(asked.get("design")), str(asked.get("text", "")), effort_asked(request)
        named = await asyncio.to_thread(
            named_quilts, tab, data, text, has_header=_header(asked), fills=_fills(asked)
        )
        is_makers = asked.get("edition") != "customers"
        key, stem = secrets.token_urlsafe(12), f"{file_stem(str(data.get('title') or 'names'))}-each"
        tab.keep_names(key, NamesZip(path=tab.folder / f"names-{key}.zip", stem=stem))

        def task(design: Design) -> MakeTask | CustomersTask:
            if is_makers:
                return MakeTask(start=design, folder=tab.folder, effort=effort)
            return CustomersTask(design=design, folder=tab.folder, effort=effort)

        async def events() -> AsyncIterator[str]:
            yield event("begun", {"made": key, "name": stem, "count": len(named.quilts)})
            made = 0
            for index, quilt in enumerate(named.quilts):
                line, name = named.lines[index], named.names[index]
                yield event("name", {"number": index + 1, "line": line, "name": name})
                problems: tuple[Problem, ...] = quilt.problems if isinstance(quilt, Refusal) else ()
                if isinstance(quilt, Design):
                    is_ended = False
                    async with contextlib.aclosing(self._bench.run(task(quilt))) as messages:
                        async for kind, value in while_wanted(request, messages):
                            if kind == "step":
                                yield event("step", {"step": value})
                                continue
                            is_ended = True
                            problems = await self._kept(tab, key, named, index, (kind, value), is_makers)
                    if not is_ended:
                        return
                made += not problems
                yield event(
                    "refusedName" if problems else "madeName",
                    {"line": line, "name": name, "problems": refusal_views(problems, speech_of(request))},
                )
            yield event("done", {"made": key, "count": made})

        return StreamingResponse(events(), media_type="text/event-stream")

    async def _kept(
        self, tab: Tab, key: str, named: NamedQuilts, index: int, ended: Message, is_makers: bool
    ) -> tuple[Problem, ...]:
        """Put what was made into the zip; what is wrong where nothing was."""
        kind, value = ended
        if kind == "refused":
            return tuple(value)
        if kind != "done":
            stopped = Problem(
                kind="making-stopped",
                what=message("the process that made it was stopped from outside, perhaps for want of memory"),
                where=Where(list_row=named.lines[index]),
                fix=message("the same again"),
            )
            return (stopped,)
        files: Mapping[str, bytes] = {
            name: content for name, content in value[1].items() if is_makers or name != RECORD
        }
        try:
            await asyncio.to_thread(tab.names[key].add, named.folders[index], files)
        except Refusal as refusal:
            return refusal.problems
        return ()

    async def folder(self, request: Request) -> Response:
        """All that was made of a list by now, as one zip."""
        kept = tab_asking(self._tabs, request).names.get(request.path_params["made"])
        if kept is None or not await asyncio.to_thread(kept.is_there):
            raise HTTPException(404)
        return FileResponse(kept.path, media_type="application/zip", headers=disposition(f"{kept.stem}.zip"))


def _header(asked: Mapping[str, Any]) -> bool | None:
    value = asked.get("header")
    return value if isinstance(value, bool) else None


def _fills(asked: Mapping[str, Any]) -> Fills:
    """Which column fills what, as the page says it; anything else fills nothing."""
    given = asked.get("fills")
    given = given if isinstance(given, dict) else {}
    rows, title = given.get("rows"), given.get("title")
    return Fills(
        rows={
            int(row): column
            for row, column in (rows.items() if isinstance(rows, dict) else ())
            if row.isdecimal() and len(row) < 6 and isinstance(column, int)
        },
        title=title if isinstance(title, int) else None,
    )

"""What every address of the page does with a request and with its answer."""

from __future__ import annotations

import asyncio
import contextlib
import json
import re
from collections.abc import AsyncIterator
from typing import Any, Final
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from applique.design import Design
from applique.errors import Problem, Refusal
from applique.language import message
from applique.naming import readable_name
from applique.nesting import Effort
from applique.web.bench import Message
from applique.web.tabs import Tab, Tabs

__all__ = [
    "TAB_HEADER",
    "disposition",
    "download",
    "effort_asked",
    "event",
    "file_stem",
    "svg",
    "tab_asking",
    "table_in",
    "title_of",
    "while_wanted",
]

TAB_HEADER: Final = "x-applique-tab"
_LOOK_EVERY: Final = 0.1
"""Seconds between looks at whether the page still waits for an answer."""


def tab_asking(tabs: Tabs, request: Request) -> Tab:
    """The page that asks.

    Raises:
        HTTPException: 409 for one that is not known (any more).
    """
    tab = tabs.get(request.headers.get(TAB_HEADER, ""))
    if tab is None:
        raise HTTPException(409)
    return tab


def effort_asked(request: Request) -> Effort:
    """How long to look for shorter nests, as the query says; normal where it says nothing.

    Raises:
        Refusal: another word than quick, normal and long.
    """
    asked = request.query_params.get("effort", Effort.NORMAL.name.lower())
    effort = next((one for one in Effort if one.name.lower() == asked), None)
    if effort is None:
        raise Refusal(
            Problem(
                kind="no-such-effort",
                what=message("“{effort}” isn't one of the choices", effort=asked[:40]),
                fix=message("quick, normal or long"),
            )
        )
    return effort


def table_in(value: object) -> dict[str, Any]:
    """The design of a request, as plain data.

    Raises:
        Refusal: there is none.
    """
    if not isinstance(value, dict):
        raise Refusal(
            Problem(
                kind="request-without-design",
                what=message("there is no design in the request"),
                fix=message("see /api/openapi.json"),
            )
        )
    return value


def event(kind: str, value: object) -> str:
    """A server-sent event (HTML Standard) of plain data."""
    return f"event: {kind}\ndata: {json.dumps(value, ensure_ascii=False)}\n\n"


async def while_wanted(request: Request, messages: AsyncIterator[Message]) -> AsyncIterator[Message]:
    """`messages` until the page hangs up."""
    while True:
        coming = asyncio.ensure_future(anext(messages))
        try:
            while not coming.done():
                await asyncio.wait({coming}, timeout=_LOOK_EVERY)
                if await request.is_disconnected():
                    return
            yield coming.result()
        except StopAsyncIteration:
            return
        finally:
            if not coming.done():
                coming.cancel()
                with contextlib.suppress(asyncio.CancelledError, StopAsyncIteration):
                    await coming


def title_of(design: Design) -> str:
    """The title of a design, or its words."""
    return design.title or " ".join(row.text for row in design.rows)


def file_stem(title: str) -> str:
    """The name of a file or folder that is called so, without an ending."""
    return readable_name(title, longest=40).lower() or "pattern"


def svg(content: bytes) -> Response:
    """A picture."""
    return Response(content, media_type="image/svg+xml")


def disposition(name: str) -> dict[str, str]:
    """The header of a file that is kept under `name` (RFC 6266)."""
    plain = re.sub(r"[^\w.\- ]", "", name.encode("ascii", "ignore").decode()) or "file"
    return {
        "content-disposition": f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(name, safe='')}"
    }


def download(content: bytes, name: str, media_type: str) -> Response:
    """A file to keep."""
    return Response(content, media_type=media_type, headers=disposition(name))

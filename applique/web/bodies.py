"""Bodies of requests, read no further than their limit."""

from __future__ import annotations

import json
from typing import Any, Final

from starlette.requests import Request
from starlette.responses import Response
from starlette.types import Message, Receive, Scope, Send

from applique.errors import Problem, Refusal
from applique.language import message

__all__ = ["LARGEST_FONT", "LARGEST_HISTORY", "HeardOut", "TooLarge", "read_body", "read_object"]

LARGEST_FONT: Final = 40_000_000
_LARGEST_DESIGN: Final = 1_000_000
LARGEST_HISTORY: Final = 3_000_000
"""Bytes of a design with its steps of undo and redo."""
_LET_PASS: Final = 64_000_000
"""Bytes of a refused body that are taken and thrown away."""


class TooLarge(Exception):  # noqa: N818 (an answer, as a refusal is)
    """The body is larger than `most` bytes."""

    def __init__(self, most: int) -> None:
        self.most = most
        super().__init__(f"more than {most} bytes")


class HeardOut(Response):
    """An answer that is sent at once while what the browser still sends is thrown away, up to a bound.

    A connection that is closed on somebody who sends is reset, and the words of the answer are lost with it
    (RFC 9112, 9.6).
    """

    def __init__(self, answer: Response) -> None:
        self._answer = answer
        super().__init__()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """The whole answer, and its end only when nothing more comes."""

        async def without_end(part: Message) -> None:
            await send({**part, "more_body": True} if part["type"] == "http.response.body" else part)

        await self._answer(scope, receive, without_end)
        heard = 0
        more = True
        while more and heard <= _LET_PASS:
            part = await receive()
            heard += len(part.get("body", b""))
            more = part.get("more_body", False)
        await send({"type": "http.response.body", "body": b""})


async def read_body(request: Request, *, most: int) -> bytes:
    """The body, refused as soon as it is known to be larger than `most` bytes: by its header, or while it comes.

    Raises:
        TooLarge: it is.
    """
    stated = request.headers.get("content-length", "0")
    if not stated.isdecimal() or int(stated) > most:
        raise TooLarge(most)
    parts: list[bytes] = []
    size = 0
    async for part in request.stream():
        size += len(part)
        if size > most:
            raise TooLarge(most)
        parts.append(part)
    return b"".join(parts)


async def read_object(request: Request, *, most: int = _LARGEST_DESIGN) -> dict[str, Any]:
    """The JSON object that the body holds; no NaN, no infinity.

    Raises:
        TooLarge: more than `most` bytes.
        Refusal: no JSON object.
    """

    def never(constant: str) -> float:
        raise ValueError(f"{constant} is no number")

    body = await read_body(request, most=most)
    try:
        found = json.loads(body.decode("utf-8"), parse_constant=never)
        json.dumps(found, ensure_ascii=False).encode(
            "utf-8"
        )  # half of a surrogate pair could not be answered
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        raise Refusal(
            Problem(
                kind="request-no-object",
                what=message("the request is no JSON object"),
                fix=message("see /api/openapi.json"),
            )
        )
    return found

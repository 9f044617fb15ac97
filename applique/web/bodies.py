"""Bodies of requests, read no further than their limit."""

from __future__ import annotations

import json
from typing import Any, Final

from starlette.requests import Request

from applique.errors import Problem, Refusal
from applique.language import message

__all__ = ["LARGEST_FONT", "LARGEST_HISTORY", "TooLarge", "read_body", "read_object"]

LARGEST_FONT: Final = 40_000_000
_LARGEST_DESIGN: Final = 1_000_000
LARGEST_HISTORY: Final = 3_000_000
"""Bytes of a design with its steps of undo and redo."""


class TooLarge(Exception):  # noqa: N818 (an answer, as a refusal is)
    """The body is larger than `most` bytes."""

    def __init__(self, most: int) -> None:
        self.most = most
        super().__init__(f"more than {most} bytes")


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

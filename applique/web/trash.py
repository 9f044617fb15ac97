"""The addresses of removed quilts: what they are, what they look like, and how they are brought back."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Iterable
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from applique.kept import Chest
from applique.kept.chest import ListedQuilt
from applique.language import Speech
from applique.web.answering import svg
from applique.web.beginnings import drawn_small
from applique.web.findings import refusal_views
from applique.web.speaking import speech_of
from applique.web.tabs import tab_beside

__all__ = ["Drawn", "TrashAnswers", "quilt_picture", "quilt_views"]

Drawn = Callable[[Callable[[], bytes]], Awaitable[bytes]]


def quilt_views(listed: Iterable[ListedQuilt], speech: Speech) -> list[dict[str, Any]]:
    """Quilts of a chest as plain data; times in milliseconds since 1970."""
    return [
        {
            "quilt": quilt.key,
            "title": quilt.title,
            "changed": round(quilt.changed * 1000),
            "problems": refusal_views(quilt.problems, speech),
        }
        for quilt in listed
    ]


async def quilt_picture(chest: Chest, key: str, drawn: Drawn) -> Response:
    """A small picture of a quilt of a chest; `drawn` does the drawing."""
    tab = tab_beside(await asyncio.to_thread(chest.beside, key))

    def picture() -> bytes:
        return chest.picture(key, lambda design: drawn_small(tab.with_paths(tab.checked(design))))

    return svg(await drawn(picture))


class TrashAnswers:
    """What is answered about removed quilts. The page deletes none of them."""

    def __init__(self, *, chest: Chest, drawn: Drawn) -> None:
        self._chest = chest
        self._drawn = drawn
        self.routes = [
            Route("/removed", self.removed, methods=["GET"]),
            Route("/removed/{quilt}/picture", self.picture, methods=["GET"]),
            Route("/removed/{quilt}/back", self.back, methods=["POST"]),
        ]

    async def removed(self, request: Request) -> Response:
        """The removed quilts, the one that was changed last first."""
        listed = await asyncio.to_thread(self._chest.trash.listed)
        return JSONResponse({"quilts": quilt_views(listed, speech_of(request))})

    async def picture(self, request: Request) -> Response:
        """A small picture of a removed quilt."""
        return await quilt_picture(self._chest.trash, request.path_params["quilt"], self._drawn)

    async def back(self, request: Request) -> Response:
        """Bring a removed quilt back: the key that it has among the others."""
        key = await asyncio.to_thread(self._chest.bring_back, request.path_params["quilt"])
        return JSONResponse({"quilt": key})

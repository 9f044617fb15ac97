"""The addresses of kept quilts: what they are and look like, and how they are kept, with their files, and removed."""

from __future__ import annotations

import asyncio

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from applique.kept import Chest, history_from
from applique.kept.chest import LARGEST_BESIDE
from applique.web.answering import download, tab_asking
from applique.web.bodies import LARGEST_HISTORY, read_body, read_object
from applique.web.speaking import speech_of
from applique.web.tabs import Tabs
from applique.web.trash import Drawn, quilt_picture, quilt_views

__all__ = ["QuiltAnswers"]


class QuiltAnswers:
    """What is answered about the quilts that the program keeps."""

    def __init__(self, *, tabs: Tabs, chest: Chest, drawn: Drawn) -> None:
        self._tabs = tabs
        self._chest = chest
        self._drawn = drawn
        self.routes = [
            Route("/quilts", self.listed, methods=["GET"]),
            Route("/quilts/{quilt}", self.quilt, methods=["GET"]),
            Route("/quilts/{quilt}", self.keep, methods=["PUT"]),
            Route("/quilts/{quilt}", self.remove, methods=["DELETE"]),
            Route("/quilts/{quilt}/picture", self.picture, methods=["GET"]),
            Route("/quilts/{quilt}/files/{name}", self.beside, methods=["GET"]),
            Route("/quilts/{quilt}/files/{name}", self.put_beside, methods=["PUT"]),
        ]

    async def listed(self, request: Request) -> Response:
        """The quilts that are kept on this machine, the newest first, and where."""
        speech = speech_of(request)
        listed = await asyncio.to_thread(self._chest.listed)
        return JSONResponse({"folder": str(self._chest.folder or ""), "quilts": quilt_views(listed, speech)})

    async def quilt(self, request: Request) -> Response:
        """A kept quilt with its undo."""
        revision, history = await asyncio.to_thread(self._chest.read, request.path_params["quilt"])
        return JSONResponse(
            {
                "revision": revision,
                "design": history.design,
                "done": history.done,
                "undone": history.undone,
                "by": history.by,
            }
        )

    async def keep(self, request: Request) -> Response:
        """Keep a new revision of a quilt: the number that it gets.

        It is the quilt that the page shows, and takes its fonts, marks and photos along; with the query `aside` it is
        one that the page only has from before.
        """
        tab, data = tab_asking(self._tabs, request), await read_object(request, most=LARGEST_HISTORY)
        key, rests_on, history = request.path_params["quilt"], data.get("rests_on"), history_from(data)
        is_aside = "aside" in request.query_params
        revision = await asyncio.to_thread(
            self._chest.write,
            key,
            history,
            rests_on=rests_on if isinstance(rests_on, int) else 0,
            beside={} if is_aside else tab.files_named(history),
        )
        if not is_aside:
            tab.quilt = key
        return JSONResponse({"revision": revision})

    async def remove(self, request: Request) -> Response:
        """Put a quilt into the trash: where it can be found."""
        place = await asyncio.to_thread(self._chest.remove, request.path_params["quilt"])
        return JSONResponse({"folder": str(place)})

    async def picture(self, request: Request) -> Response:
        """A small picture of a kept quilt."""
        return await quilt_picture(self._chest, request.path_params["quilt"], self._drawn)

    async def beside(self, request: Request) -> Response:
        """A font, a mark or a photo that is kept beside a quilt."""
        key, name = request.path_params["quilt"], request.path_params["name"]
        content = await asyncio.to_thread(self._chest.file, key, name)
        if content is None:
            raise HTTPException(404)
        return download(content, name, "application/octet-stream")

    async def put_beside(self, request: Request) -> Response:
        """Keep a font, a mark or a photo beside a quilt."""
        key, name = request.path_params["quilt"], request.path_params["name"]
        content = await read_body(request, most=LARGEST_BESIDE)
        await asyncio.to_thread(self._chest.put_file, key, name, content)
        return JSONResponse({"name": name})

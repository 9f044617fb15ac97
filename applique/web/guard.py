"""Who may ask: this page alone. Host, origin and token are checked before anything is read."""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from html import escape
from typing import Final
from xml.etree import ElementTree

from starlette.datastructures import Headers
from starlette.requests import HTTPConnection
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from applique.errors import Problem
from applique.language import message
from applique.web.findings import refusal_views
from applique.web.speaking import speech_of

__all__ = ["HOST", "TOKEN_HEADER", "Guard", "refused"]

HOST: Final = "127.0.0.1"
TOKEN_HEADER: Final = "x-applique-token"
_HEADERS: Final = (
    (
        b"content-security-policy",
        b"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; "
        b"connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    ),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)
"""Content Security Policy Level 3, W3C: nothing is loaded from elsewhere, nothing may frame the page."""
_WORDS: Final = (
    '<!doctype html><html lang="{language}"><meta charset="utf-8"><meta name="viewport" content="width=device-width">'
    '<meta name="color-scheme" content="light dark"><title>applique</title>{main}</html>'
)


def refused(problems: Iterable[Problem], status: int, request: HTTPConnection) -> Response:
    """Problems in the shape that every answer of the page uses; as a page of words for who opens an address."""
    speech = speech_of(request)
    views = refusal_views(problems, speech)
    if request.url.path.startswith("/api/") or "text/html" not in request.headers.get("accept", ""):
        return JSONResponse({"problems": views}, status_code=status)
    main = ElementTree.Element("main")
    for view in views:
        ElementTree.SubElement(main, "h1").text = view["what"]
        ElementTree.SubElement(main, "p").text = speech.say("Try: {fix}", fix=view["fix"])
    said = ElementTree.tostring(main, encoding="unicode", method="html")
    return HTMLResponse(_WORDS.format(language=escape(speech.tag), main=said), status_code=status)


class Guard:
    """Lets through what comes from the page itself and nothing else.

    A page of another site can make a browser ask `127.0.0.1`, under that name or, by changing its own address, under
    another. It cannot know the token, nor choose the `Host` or `Origin` that the browser sends.
    """

    def __init__(self, app: ASGIApp, *, token: str, port: int) -> None:
        self._app = app
        self._token = token
        self._hosts = frozenset(f"{name}:{port}" for name in (HOST, "localhost"))

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request; what is refused here never reaches the page's own code."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def with_headers(part: Message) -> None:
            if part["type"] == "http.response.start":
                part["headers"] = [*part["headers"], *_HEADERS]
            await send(part)

        problem = self._problem(Headers(scope=scope), str(scope["path"]))
        if problem is not None:
            answer = refused([problem], 403, HTTPConnection(scope))
            await answer(scope, receive, with_headers)
            return
        await self._app(scope, receive, with_headers)

    def _problem(self, headers: Headers, path: str) -> Problem | None:
        """Why a request is not the page's own; None for one that is."""
        fix = message("open the address that `applique serve` printed")
        if headers.getlist("host") not in [[host] for host in self._hosts]:
            return Problem(
                kind="asked-from-elsewhere", what=message("this page answers on this machine only"), fix=fix
            )
        origins = headers.getlist("origin")
        strange = any(origin not in {f"http://{host}" for host in self._hosts} for origin in origins)
        if strange or headers.get("sec-fetch-site", "none") not in ("none", "same-origin"):
            return Problem(
                kind="asked-by-another-page", what=message("another page may not ask this one"), fix=fix
            )
        given = headers.get(TOKEN_HEADER, "") if path.startswith("/api/") else path.split("/")[1]
        if not secrets.compare_digest(given.encode(), self._token.encode()):
            return Problem(kind="asked-without-key", what=message("the key of this page is missing"), fix=fix)
        return None

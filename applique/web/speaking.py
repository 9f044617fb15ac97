"""The language of a request, and the page in it."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from string import Template
from typing import Any, Final

from starlette.requests import HTTPConnection

from applique.language import Message, Speech
from applique.language.choosing import browser_speech
from applique.words.page import page_texts

__all__ = ["described", "page_html", "speech_of"]

_PAGE: Final = Path(__file__).parent / "static" / "index.html"


def speech_of(request: HTTPConnection) -> Speech:
    """How to speak to the browser that asks."""
    return browser_speech(request.headers.get("accept-language", ""))


@cache
def page_html(speech: Speech) -> str:
    """The page with its texts within it, so that its scripts never have to wait for them."""
    texts = page_texts(speech)
    within = json.dumps(texts, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    page = Template(_PAGE.read_text("utf-8"))
    return page.substitute(language=speech.tag, texts=within, needs_scripts=texts["needsScripts"])


def described(value: Any, speech: Speech) -> Any:
    """`value`, a JSON Schema or what holds one, with every description in it as `speech` has it."""
    if isinstance(value, list):
        return [described(part, speech) for part in value]
    if not isinstance(value, dict):
        return value
    return {
        key: speech.template(Message(template=part))
        if key == "description" and isinstance(part, str)
        else described(part, speech)
        for key, part in value.items()
    }

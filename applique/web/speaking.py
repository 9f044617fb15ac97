"""The language of a request, and the page in it."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from string import Template
from typing import Any, Final

from starlette.requests import Request

from applique.language import Message, Speech, american, speech_in
from applique.words.page import page_texts

__all__ = ["browser_speech", "described", "page_html", "speech_of"]

_PAGE: Final = Path(__file__).parent / "static" / "index.html"


def browser_speech(header: str) -> Speech:
    """The first language of an Accept-Language header that there is a catalogue for, by the wishes that it states.

    Source:
        RFC 9110, 12.5.4 (the header) and 12.4.2 (weights; 0 is what is not wanted).
    """
    wishes: list[tuple[float, str]] = []
    for part in header.split(","):
        tag, _, parameter = part.partition(";")
        weight = re.fullmatch(r"\s*q\s*=\s*([01](?:\.\d{0,3})?)\s*", parameter)
        wishes.append((float(weight[1]) if weight else 1.0, tag.strip()))
    for wish, tag in sorted(wishes, key=lambda wish: -wish[0]):
        speech = speech_in(tag) if wish > 0 else None
        if speech is not None:
            return speech
    return american()


def speech_of(request: Request) -> Speech:
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

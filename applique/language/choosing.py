"""Which language to speak, by what a browser or a terminal says of its user; American English where nothing fits."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from applique.language.speech import Speech, american, speech_in

__all__ = ["browser_speech", "terminal_speech"]


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


def terminal_speech(environment: Mapping[str, str]) -> Speech:
    """The language that a terminal's environment asks for, if there is a catalogue for it; American English otherwise.

    Source:
        POSIX, 8.2: `LC_ALL` before `LC_MESSAGES` before `LANG`, each counting only if it is not empty. GNU gettext,
        Locale Environment Variables: `LANGUAGE` lists what is liked better, and counts for nothing in the locale C
        (from memory).
    """
    return next(
        (speech for tag in _asked_for(environment) if (speech := speech_in(tag)) is not None), american()
    )


def _asked_for(environment: Mapping[str, str]) -> Iterator[str]:
    asked = (environment.get(name, "") for name in ("LC_ALL", "LC_MESSAGES", "LANG"))
    locale = _tag(next(filter(None, asked), "C"))
    if locale in ("C", "POSIX"):
        return
    yield from (_tag(name) for name in environment.get("LANGUAGE", "").split(":") if name)
    yield locale


def _tag(name: str) -> str:
    """The BCP 47 name of a locale such as `de_CH.UTF-8@euro`."""
    return re.split(r"[.@]", name)[0].replace("_", "-")

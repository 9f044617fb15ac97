"""What a font is and can spell, in words for a maker who chooses one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from fontTools.unicodedata import script, script_name

from applique.language import Message, Speech, listed, message, messages
from applique.typeset.bundled import FontStyle
from applique.typeset.fonts import open_typeface, resolve_font
from applique.typeset.shaping import is_connected, missing_letters
from applique.typeset.typeface import Axis, CapKind

__all__ = ["FontDescription", "describe_font"]

_SAMPLES: Final[dict[str, str]] = {
    "Latin": "Sew Happy 123",
    "Greek": "Αγάπη",
    "Cyrillic": "Любовь",
    "Hebrew": "שלום",
    "Arabic": "سلام",
    "Devanagari": "प्रेम",
}
_ENOUGH: Final = {"Latin": 52, "Greek": 48, "Cyrillic": 60, "Hebrew": 27, "Arabic": 28, "Devanagari": 50}
"""Letters that a font needs before it is said to spell a script: its basic alphabet."""
_EMBEDDING: Final[dict[int, Message]] = {
    0: message("may be embedded and installed"),
    2: message("restricted: may not be embedded without leave"),
    4: message("may be embedded for preview and print"),
    8: message("may be embedded and edited"),
}
"""OS/2 fsType, OpenType specification (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FontDescription:
    """A font as told to a maker. `missing` are the characters of the sample that it lacks; None without sample.

    `height_on` is the sign that its letter height is measured on, for want of an H; empty for a font that has one.
    """

    name: str
    style: FontStyle | None
    version: str
    license: str
    embedding: Message | None
    axes: tuple[Axis, ...]
    settings: tuple[tuple[str, float], ...]
    scripts: tuple[tuple[str, int], ...]
    connected: bool
    height_on: str
    sample: str
    missing: tuple[str, ...] | None

    def as_text(self, speech: Speech) -> str:
        """The description as lines of text, in the language of `speech`."""
        head = self.name
        if self.style:
            head = speech.say("{font} · {style}", font=self.name, style=self.style.words)
        return "\n".join((head, *(f"  {speech.field(line)}" for line in self._lines())))

    def _lines(self) -> Iterator[str | Message]:
        yield self.sample
        if self.missing is not None:
            yield (
                message("lacks {signs}", signs=listed(self.missing)) if self.missing else message("spells it")
            )
        spelled = [
            messages("{script} ({count} letter)", "{script} ({count} letters)", count, script=name)
            for name, count in self.scripts
        ]
        yield (
            message("spells {scripts}", scripts=listed(spelled))
            if spelled
            else message("spells no whole alphabet")
        )
        settings = dict(self.settings)
        for axis in self.axes:
            yield message(
                "{axis} {least} to {most}, set to {value}",
                axis=axis.tag,
                least=f"{axis.least:g}",
                most=f"{axis.most:g}",
                value=f"{settings.get(axis.tag, axis.default):g}",
            )
        if self.height_on:
            yield message("no H: its letter height is measured on “{sign}”", sign=self.height_on)
        if self.connected:
            yield message("connected script: words are cut as the pieces that join")
        if not self.style:
            yield from (words for words in (self.version, self.license, self.embedding) if words)

    def as_data(self, speech: Speech) -> dict[str, Any]:
        """The description as plain data, what of it is words in the language of `speech`."""
        return {
            "name": self.name,
            "style": speech.tell(self.style.words) if self.style else "",
            "version": self.version,
            "license": self.license,
            "embedding": speech.field(self.embedding or ""),
            "axes": [
                {"tag": axis.tag, "least": axis.least, "default": axis.default, "most": axis.most}
                for axis in self.axes
            ],
            "settings": dict(self.settings),
            "scripts": dict(self.scripts),
            "connected": self.connected,
            "height_on": self.height_on,
            "missing": None if self.missing is None else list(self.missing),
        }


def describe_font(font: str, *, sample: str | None = None) -> FontDescription:
    """What `font`, a bundled name or a path, is and can spell.

    Raises:
        Refusal: no such font, or one that cannot be read.
    """
    _, bundled = resolve_font(font)
    typeface = open_typeface(font, words=(*_SAMPLES.values(), sample or ""), signs=sample or "")
    scripts = _scripts(typeface.characters())
    missing = tuple(dict.fromkeys(p.character for p in missing_letters(sample, typeface))) if sample else None
    return FontDescription(
        name=typeface.name,
        style=bundled.style if bundled else None,
        version=typeface.facts.version,
        license=typeface.facts.license,
        embedding=_EMBEDDING.get(typeface.facts.embedding & 0xF),
        axes=typeface.facts.axes,
        settings=tuple(sorted(typeface.axes.items())),
        scripts=scripts,
        connected=is_connected(typeface),
        height_on="" if typeface.cap_kind is CapKind.H else typeface.cap_letter,
        sample=sample or " · ".join(_SAMPLES[name] for name, _ in scripts if name in _SAMPLES),
        missing=missing,
    )


def _scripts(characters: str) -> tuple[tuple[str, int], ...]:
    """The scripts whose basic alphabet is there, with the number of letters, most letters first."""
    counts = Counter(script_name(script(character)) for character in characters if character.isalpha())
    whole = [(name, count) for name, count in counts.items() if count >= _ENOUGH.get(name, 40)]
    return tuple(sorted(whole, key=lambda found: (-found[1], found[0])))

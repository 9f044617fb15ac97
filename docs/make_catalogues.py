"""Bring the catalogues of texts up to date, after a text of the program has changed or a translator was at work.

Run `python docs/make_catalogues.py`, with the names of new languages (`de`, `pt_BR`) behind it. Every text that stands
in the program goes into `applique.pot` and into each language's `applique.po`, which keeps its translations and loses
those of texts that are gone; they are printed. `applique.mo` is made from it. The tests check that all of this is
current.

British English is American English with some other words. Its catalogue holds only what differs: a new text that has
one of the words of `BRITISH` is put in with the British word. What stands there by hand is kept.
"""

from __future__ import annotations

import io
import re
import sys
from collections.abc import Iterable
from pathlib import Path

from babel import Locale
from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

PROGRAM = Path(__file__).resolve().parents[1] / "applique"
CATALOGUES = PROGRAM / "language" / "catalogues"
TEMPLATES = CATALOGUES / "applique.pot"
KEYWORDS = {"message": (1,), "messages": (1, 2), "say": (1,), "count": (1, 2), "says": (1,), "helps": (1,)}
"""The functions whose texts are for the catalogue; see `applique/language/messages.py`."""
DIFFERENCES_ONLY = "en_GB"
BRITISH = {
    "batting": "wadding",
    "center": "centre",
    "centered": "centred",
    "centers": "centres",
    "centimeter": "centimetre",
    "centimeters": "centimetres",
    "color": "colour",
    "colored": "coloured",
    "colors": "colours",
    "crib": "cot",
    "cribs": "cots",
    "favorite": "favourite",
    "fiber": "fibre",
    "gray": "grey",
    "inquire": "enquire",
    "license": "licence",
    "licenses": "licences",
    "meter": "metre",
    "meters": "metres",
    "millimeter": "millimetre",
    "millimeters": "millimetres",
    "miter": "mitre",
    "mitered": "mitred",
    "miters": "mitres",
    "muslin": "calico",
    "neighbor": "neighbour",
    "neighboring": "neighbouring",
    "neighbors": "neighbours",
    "trademarks": "trade marks",
}
"""American words that a text of ours may have, and what a British quilter says. Common practice, no source."""
_FIELDS = re.compile(r"(\{\w+\}|`[^`]*`)")
"""What of a text is no prose: the names that are filled in, and what is typed as it stands."""
_WORD = re.compile(r"[A-Za-z]+")


class _Catalogue(Catalog):
    """A catalogue with a head that says nothing of dates, persons and programs, so that the same texts give the same
    file."""

    @property
    def mime_headers(self) -> list[tuple[str, str]]:
        plurals = [] if self.locale is None else [("Plural-Forms", self.plural_forms)]
        language = [] if self.locale is None else [("Language", str(self.locale))]
        return [
            *language,
            *plurals,
            ("MIME-Version", "1.0"),
            ("Content-Type", "text/plain; charset=utf-8"),
            ("Content-Transfer-Encoding", "8bit"),
        ]


def _empty(locale: str | None) -> Catalog:
    name = Locale.parse(locale).english_name if locale else "All"
    return _Catalogue(
        locale=locale,
        header_comment=f"# {name} texts of applique. Names in {{braces}} stay as they are.\n#",
        fuzzy=False,
    )


def templates(program: Path = PROGRAM) -> Catalog:
    """Every text that stands in the program, with the files it stands in."""
    found = _empty(None)
    for file, line, text, _, _ in extract_from_dir(program, [("**.py", "python")], keywords=KEYWORDS):
        found.add(text, None, [(f"applique/{Path(file).as_posix()}", line)])
    return found


def _in_british(text: str) -> str:
    def word(found: re.Match[str]) -> str:
        said = BRITISH.get(found[0].lower())
        if said is None:
            return found[0]
        return said.capitalize() if found[0][0].isupper() else said

    return "".join(part if _FIELDS.fullmatch(part) else _WORD.sub(word, part) for part in _FIELDS.split(text))


def _translated(locale: str, message: Message, known: Message | None) -> str | tuple[str, ...]:
    if known is not None and known.string and not known.fuzzy:
        return known.string if isinstance(known.string, str) else tuple(known.string)
    if locale == DIFFERENCES_ONLY:
        british = tuple(_in_british(text) for text in _texts(message.id))
        if british != _texts(message.id):
            return british if message.pluralizable else british[0]
    return ""


def _texts(text: str | Iterable[str]) -> tuple[str, ...]:
    return (text,) if isinstance(text, str) else tuple(text)


def catalogue(locale: str, found: Catalog) -> Catalog:
    """The catalogue of `locale` with every text of `found` and the translations that it has already."""
    path = po_file(locale)
    known = _empty(locale)
    if path.is_file():
        with path.open("rb") as file:
            known = read_po(file, locale=locale)
    current = _empty(locale)
    for message in found:
        if message.id:
            said = _translated(locale, message, known.get(message.id))
            if said or locale != DIFFERENCES_ONLY:
                current.add(message.id, said, message.locations)
    for message in known:
        if message.id and message.string and message.id not in current:
            print(f"{locale}: gone is {message.id!r}, which was {message.string!r}", file=sys.stderr)
    return current


def po_file(locale: str) -> Path:
    """Where the translations into `locale` stand."""
    return CATALOGUES / locale / "LC_MESSAGES" / "applique.po"


def locales() -> list[str]:
    """The languages that there are catalogues for, beside American English."""
    return sorted(file.parents[1].name for file in CATALOGUES.glob("*/LC_MESSAGES/applique.po"))


def _written(found: Catalog) -> bytes:
    content = io.BytesIO()
    write_po(content, found, include_lineno=False, sort_by_file=True, ignore_obsolete=True)
    return content.getvalue()


def compiled(found: Catalog) -> bytes:
    """`found` as gettext reads it."""
    content = io.BytesIO()
    write_mo(content, found)
    return content.getvalue()


def files(new: Iterable[str] = ()) -> dict[Path, bytes]:
    """What every catalogue file should hold."""
    found = templates()
    made = {TEMPLATES: _written(found)}
    for locale in sorted({*locales(), *new}):
        current = catalogue(locale, found)
        path = po_file(locale)
        made |= {path: _written(current), path.with_suffix(".mo"): compiled(current)}
    return made


if __name__ == "__main__":
    for path, content in files(sys.argv[1:]).items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)

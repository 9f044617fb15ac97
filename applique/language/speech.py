"""How a language says messages, measures, numbers and lists.

American English is the source; other languages are gettext catalogues in `catalogues/`, one folder each, and Babel's
knowledge of numbers and lists (CLDR). Where a catalogue lacks a text, the American one stands.
"""

from __future__ import annotations

import gettext
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Final

from babel import Locale, UnknownLocaleError, negotiate_locale
from babel.lists import format_list
from babel.messages.mofile import read_mo
from babel.numbers import format_decimal

from applique.language.messages import Field, Listing, Measure, Message, PageOf, Unit, message

__all__ = ["DOMAIN", "Speech", "american", "catalogues", "nearest_speech", "speech_in"]

DOMAIN: Final = "applique"
_SOURCE: Final = "en_US"
_FOLDER: Final = Path(__file__).with_name("catalogues")
_NAME: Final = re.compile(r"\{(\w+)\}")
_PLACES: Final = 9
_COUNTS: Final = (*range(200), 1_000_000)
"""Whole numbers of every plural that a language has (CLDR, plural rules)."""
_UNITS: Final = {
    Unit.INCH: message("{number} in"),
    Unit.YARD: message("{number} yd"),
    Unit.CENTIMETER: message("{number} cm"),
    Unit.MILLIMETER: message("{number} mm"),
    Unit.METER: message("{number} m"),
    Unit.FOOT: message("{number} ft"),
    Unit.SQUARE_INCH: message("{number} sq in"),
    Unit.SQUARE_CENTIMETER: message("{number} cm²"),
    Unit.DEGREE: message("{number}°"),
    Unit.MINUTE: message("{number} min"),
    Unit.HOUR: message("{number} h"),
    Unit.IN_HEAD: message("{number}"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Speech:
    """One language. `tag` is its BCP 47 name, `locale` is for numbers and lists, `texts` its catalogue.

    `signs` are the characters of its texts, beyond those that everything has: what a font has to spell. `space` stands
    within a measure. `mark` stands behind what a maker wrote in letters that run to the left, where a sentence goes on
    after it: numbers there would be taken into its direction. `pages` are those of each title and bookmark whose place
    in print is known.
    """

    tag: str
    locale: Locale
    texts: gettext.NullTranslations
    signs: frozenset[str] = frozenset()
    space: str = " "
    mark: str = ""
    pages: tuple[tuple[str, tuple[int, ...]], ...] = ()

    @property
    def is_metric(self) -> bool:
        """Whether those who speak so sew in centimeters and print on A4: all but Americans (CLDR, measurement systems
        and paper sizes of territories)."""
        return self.locale.territory != "US"

    def say(self, template: str, /, **fields: Field) -> str:
        """The sentence of `template`, which is marked for the catalogue by standing here in full."""
        return self.tell(Message(template=template, fields=tuple(fields.items())))

    def count(self, one: str, many: str, /, count: int, **fields: Field) -> str:
        """The sentence of `one` or `many` (or what other forms the language has) by `count`, a field of both."""
        return self.tell(
            Message(template=one, plural=many, counted=count, fields=(("count", count), *fields.items()))
        )

    def tell(self, said: Message) -> str:
        """The sentence of a message.

        Raises:
            KeyError: a name in the template that is no field; the catalogues are tested for it.
        """
        if not said:
            return ""
        fields = dict(said.fields)
        return _NAME.sub(lambda found: self._within(fields[found[1]]), self.template(said))

    def _within(self, value: Field) -> str:
        """A field as a part of a sentence."""
        text = self.field(value)
        turns = self.mark and isinstance(value, str) and any(_runs_left(sign) for sign in text)
        return f"{text}{self.mark}" if turns else text

    def template(self, said: Message) -> str:
        """The text of a message in this language, its `{names}` not yet filled in."""
        if said.plural:
            return self.texts.ngettext(said.template, said.plural, said.counted)
        return self.texts.gettext(said.template)

    def forms(self, said: Message) -> dict[str, str]:
        """The texts of a message in which a count decides, by the names of the plurals in CLDR: `one`, `other`."""
        return {
            self.locale.plural_form(count): self.template(replace(said, counted=count))
            for count in reversed(_COUNTS)
        }

    def field(self, value: Field) -> str:
        """What a name of a template stands for, in words."""
        match value:
            case Message():
                return self.tell(value)
            case Measure():
                return self.measure(value)
            case Listing():
                return self.listing(value)
            case PageOf():
                return self.tell(self._where(value))
            case int() | Fraction():
                return self.number(Fraction(value))
            case _:
                return value

    def _where(self, value: PageOf) -> Message:
        """Where something stands in the printed pattern."""
        known = dict(self.pages)
        parts = [known.get(self.tell(part), ()) for part in value.parts]
        found = sorted({page for pages in parts for page in pages}) if parts and all(parts) else []
        found = found or sorted(known.get(self.tell(value.title), ()))
        match found:
            case []:
                return message("the page “{title}” of the printed pattern", title=value.title)
            case [page]:
                return message("page {page}", page=str(page))
            case [first, *_, last] if last - first == len(found) - 1:
                return message("pages {first}–{last}", first=str(first), last=str(last))
            case _:
                return message("pages {pages}", pages=Listing(items=tuple(map(str, found))))

    def measure(self, value: Measure) -> str:
        """A measure: `7 1/4 in`, `18.5 cm`."""
        number = _mixed(value.number) if value.as_fraction else self.number(value.number, grouped=False)
        said = self.tell(Message(template=_UNITS[value.unit].template, fields=(("number", number),)))
        return said.replace(" ", self.space)

    def number(self, value: Fraction, *, grouped: bool = True) -> str:
        """A number with the decimals it has, nine at the most, and the signs of the language; minus is U+2212.

        Thousands are set apart if `grouped`.
        """
        exact = round(Decimal(value.numerator) / Decimal(value.denominator), _PLACES)
        said = format_decimal(
            abs(exact), format="#,##0.#########" if grouped else "0.#########", locale=self.locale
        )
        return f"−{said}" if exact < 0 else said

    def listing(self, value: Listing) -> str:
        """A list in words: `a, b, and c`."""
        items = [self._within(item) for item in value.items]
        return format_list(items, style="or" if value.either else "standard", locale=self.locale)


def _runs_left(character: str) -> bool:
    return unicodedata.bidirectional(character) in ("R", "AL")


def _mixed(number: Fraction) -> str:
    sign, size = ("−", -number) if number < 0 else ("", number)
    whole, part = divmod(size, 1)
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{f'{whole} ' if whole else ''}{part.numerator}/{part.denominator}"


@cache
def american() -> Speech:
    """American English, in which everything is written."""
    return Speech(tag="en-US", locale=Locale.parse(_SOURCE), texts=gettext.NullTranslations())


def catalogues() -> tuple[str, ...]:
    """The languages there is a catalogue for, beside American English, by their BCP 47 names."""
    return tuple(
        sorted(file.parents[1].name.replace("_", "-") for file in _FOLDER.glob(f"*/LC_MESSAGES/{DOMAIN}.mo"))
    )


def speech_in(language: str) -> Speech | None:
    """How `language` (a BCP 47 name such as `en-GB`) is spoken; None where there is no catalogue for it.

    English without a country is American. A country that has no catalogue of its own takes that of its language.
    """
    return _spoken(language)


@cache
def _spoken(language: str) -> Speech | None:
    wanted = language.replace("-", "_")
    try:
        known = Locale.parse(wanted)
    except (UnknownLocaleError, ValueError):
        return None
    there = [_SOURCE, *(tag.replace("-", "_") for tag in catalogues())]
    found = negotiate_locale([wanted, str(known), known.language], there, aliases={"en": _SOURCE})
    if found is None:
        found = next((tag for tag in there if Locale.parse(tag).language == known.language), None)
    if found is None:
        return None
    if found == _SOURCE:
        return american()
    texts = gettext.translation(DOMAIN, _FOLDER, languages=[found])
    return Speech(tag=found.replace("_", "-"), locale=Locale.parse(found), texts=texts, signs=_signs(found))


def _signs(found: str) -> frozenset[str]:
    """The characters of a catalogue's texts, and of its lists and numbers."""
    with (_FOLDER / found / "LC_MESSAGES" / f"{DOMAIN}.mo").open("rb") as file:
        texts = [text for entry in read_mo(file) for text in _forms(entry.string)]
    locale = Locale.parse(found)
    lists = [format_list(["", "", ""], style=style, locale=locale) for style in ("standard", "or")]
    return frozenset("".join([*texts, *lists, format_decimal(-123456.7, locale=locale)]))


def _forms(text: object) -> Iterable[str]:
    return (text,) if isinstance(text, str) else text if isinstance(text, list | tuple) else ()


def nearest_speech(language: str) -> Speech:
    """How `language` is spoken, or American English where there is no catalogue for it."""
    return speech_in(language) or american()

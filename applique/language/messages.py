"""A sentence before anybody has said it: its American template, marked for the catalogue, and what goes into it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

__all__ = [
    "NOTHING",
    "Field",
    "Listing",
    "Measure",
    "Message",
    "PageOf",
    "Unit",
    "any_of",
    "listed",
    "message",
    "messages",
]


class Unit(StrEnum):
    """What a measure is counted in; of one whose unit stands in the head of its table, nothing is said."""

    INCH = "in"
    YARD = "yd"
    CENTIMETER = "cm"
    MILLIMETER = "mm"
    METER = "m"
    FOOT = "ft"
    SQUARE_INCH = "sq in"
    SQUARE_CENTIMETER = "cm²"
    DEGREE = "°"
    MINUTE = "min"
    HOUR = "h"
    IN_HEAD = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A number of a unit, rounded as it will be printed: a fraction (`7 1/4 in`), or with its decimals (`18.5 cm`)."""

    number: Fraction
    unit: Unit
    as_fraction: bool

    def __str__(self) -> str:
        from applique.language.speech import american

        return american().measure(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Message:
    """One sentence as data. `template` is American English with `{names}` of `fields`.

    `plural` is there where a count decides. A field is words that are shown as they are (a maker's own), a number
    rounded as it will be printed, a measure, another message, or a list of such. `str(message)` is the American
    sentence.
    """

    template: str
    fields: tuple[tuple[str, Field], ...] = ()
    plural: str = ""
    counted: int = 1

    def filled(self, **fields: Field) -> Message:
        """The same template with these fields; those that it does not name are left unsaid."""
        return replace(self, fields=tuple(fields.items()))

    def __bool__(self) -> bool:
        return bool(self.template)

    def __str__(self) -> str:
        from applique.language.speech import american

        return american().tell(self)


NOTHING: Final = Message(template="")
"""Nothing to say."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """Several fields, to be said with "and" between the last two, or with "or"."""

    items: tuple[Field, ...]
    either: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PageOf:
    """Where something stands in the printed pattern: the numbers of its pages, or where nobody knows them its title.

    `parts` are bookmarks of what alone is meant, where that is not all that stands under the title.
    """

    title: Message
    parts: tuple[Message, ...] = ()


Field: TypeAlias = "str | int | Fraction | Measure | Message | Listing | PageOf"
"""What a template's name may stand for."""


def message(template: str, /, **fields: Field) -> Message:
    """A message with `template`, which is marked for the catalogue by standing here in full."""
    return Message(template=template, fields=tuple(fields.items()))


def messages(one: str, many: str, /, count: int, **fields: Field) -> Message:
    """A message that says `one` or `many` (or what other forms a language has) by `count`, a field of both."""
    return Message(template=one, plural=many, counted=count, fields=(("count", count), *fields.items()))


def listed(items: Iterable[Field]) -> Listing:
    """`items` as a list that ends with "and"."""
    return Listing(items=tuple(items))


def any_of(items: Iterable[Field]) -> Listing:
    """`items` as a list that ends with "or"."""
    return Listing(items=tuple(items), either=True)

"""The words of the contents page of many patterns in one file to print."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from applique.language import Message, message, messages

__all__ = [
    "CONTENTS",
    "HEIGHT",
    "HOW",
    "NAME",
    "SHEETS",
    "SIZE",
    "SUBJECT",
    "SheetKind",
    "count_said",
]


class SheetKind(StrEnum):
    """The sheets of a pattern that are printed for each name, in the order in which they are used."""

    TEMPLATES = "templates"
    GUIDE = "guide"
    LAYOUT = "layout"
    LABEL = "label"


SUBJECT: Final = message("sheets of all names")
CONTENTS: Final = message("Where to find each name")
HOW: Final = message(
    "The numbers are pages of this file as a print dialog counts them; a sheet has its own page number in its upper "
    "right corner. Print at 100%, and measure the rule on the first sheet of every name. The instructions are not in "
    "this file: each name has its own in its folder."
)
NAME: Final = message("pattern")
HEIGHT: Final = message("letters")
SIZE: Final = message("finished")
SHEETS: Final[Mapping[SheetKind, Message]] = MappingProxyType(
    {
        SheetKind.TEMPLATES: message("templates"),
        SheetKind.GUIDE: message("placing"),
        SheetKind.LAYOUT: message("layout"),
        SheetKind.LABEL: message("label"),
    }
)


def count_said(names: int) -> Message:
    """How many names are in the file."""
    return messages("{count} name", "{count} names", names)

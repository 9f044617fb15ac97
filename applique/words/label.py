"""The words of the sheet with the quilt label, beside those of the maker."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.design import Design
from applique.language import Message, message

__all__ = ["CUT_IT", "HOW", "LABEL", "METHOD", "SPARE", "SUBJECT", "blanks_said", "made_said"]

SUBJECT: Final = message("label")
LABEL: Final = message("Label")
METHOD: Final = message("Label: trace it, or print it on fabric made for printing")
HOW: Final = message(
    "Trace the label onto fabric with a pen made for it, or print this page on fabric made for printing. Fill in its "
    "lines, and sew it to the back of the quilt."
)
CUT_IT: Final = message("Cut on the solid line, turn the edges under on the dashed one.")
SPARE: Final = message("A spare one. Cut on the solid line, turn the edges under on the dashed one.")


def made_said(design: Design) -> Iterator[str]:
    """Who made it, where and when, as far as the design says; for a pattern that is sold never the designer."""
    label = design.label
    maker = label.maker or ("" if design.publisher.name else design.designer)
    yield from (text for text in (maker, " · ".join(t for t in (label.place, label.date) if t)) if text)


def blanks_said(design: Design) -> Iterator[Message]:
    """What the design does not say, for whoever sews the quilt to fill in: each stands before a line to write on."""
    label = design.label
    if not label.maker and (design.publisher.name or not design.designer):
        yield message("Made by")
    yield message("For")
    if not label.date:
        yield message("Date")
    if not label.place:
        yield message("Place")

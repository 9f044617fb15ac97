"""Borders to choose from, in words: what each is, how large its pieces are, and what else changes for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.design import BorderKind
from applique.language import Message, message, messages
from applique.quilt.borders import BorderChoice, BorderLook
from applique.units import Units, as_seam, as_size

__all__ = ["choice_does", "choice_named", "choice_sized"]

_NAMES: Final = {
    BorderLook.PLAIN: message("Plain strip"),
    BorderLook.CORNERSTONES: message("Strip with cornerstones"),
    BorderLook.MITERED: message("Strip with mitered corners"),
    BorderLook.RECTANGLES: message("Rectangles"),
}


def choice_named(choice: BorderChoice) -> Message:
    """What a border is called."""
    if choice.look in _NAMES:
        return _NAMES[choice.look]
    return messages("Squares of {count} fabric", "Squares of {count} fabrics", len(choice.border.fabrics))


def choice_sized(choice: BorderChoice, units: Units) -> Message:
    """Its finished width, or the finished size of its pieces."""
    border = choice.border
    width, size = as_size(border.width, units), as_size(border.size or border.width, units)
    match border.kind:
        case BorderKind.STRIP:
            return message("{width} wide", width=width)
        case BorderKind.SQUARES:
            return message("{size} square", size=size)
        case BorderKind.RECTANGLES:
            return message("{width} by {length}", width=width, length=size)


def choice_does(choice: BorderChoice, units: Units) -> Iterator[Message]:
    """What else changes when it is added, a sentence each."""
    wider, higher = as_size(choice.wider, units), as_size(choice.higher, units)
    if choice.wider and choice.higher:
        yield message("The panel becomes {wider} wider and {higher} higher.", wider=wider, higher=higher)
    elif choice.wider:
        yield message("The panel becomes {wider} wider.", wider=wider)
    elif choice.higher:
        yield message("The panel becomes {higher} higher.", higher=higher)
    if choice.spacer:
        yield message("A plain strip of {width} goes on before it.", width=as_size(choice.spacer, units))
    if choice.seam_allowance is not None:
        seam = as_seam(choice.seam_allowance, units)
        yield message("The seam allowance becomes {seam}.", seam=seam)
    if choice.added:
        count = len(choice.added)
        yield messages("{count} fabric is added.", "{count} fabrics are added.", count)

"""The quilt label, to trace or to print on fabric made for printing."""

from __future__ import annotations

from collections.abc import Sequence

from applique.pattern import Pattern
from applique.sheets.frame import Sheet
from applique.sheets.strokes import INK, QUIET
from applique.words import label as said

__all__ = ["label_pdf"]


def label_pdf(pattern: Pattern) -> bytes:
    """The quilt label as PDF, at its own size with a line to cut on."""
    design, label, speech = pattern.design, pattern.design.label, pattern.speech
    sheet = Sheet(
        pattern, subject=speech.tell(said.SUBJECT), method=speech.tell(said.METHOD), page_count=1,
        texts=(design.designer, label.maker, label.date, label.place, *label.care), mirrored=False,
    )  # fmt: skip
    sheet.begin(speech.tell(said.LABEL))
    width, height = 5.0 * 72, 3.5 * 72
    left, low = (sheet.left + sheet.right - width) / 2, sheet.top - 40 - height
    canvas = sheet.canvas
    canvas.setStrokeGray(INK)
    canvas.setLineWidth(1.0)
    canvas.rect(left, low, width, height)
    canvas.setDash(3, 2)
    canvas.setLineWidth(0.5)
    canvas.rect(left + 18, low + 18, width - 36, height - 36)
    canvas.setDash()
    lines = [(pattern.title, 20.0, True)]
    lines += [
        (text, 12.0, False)
        for text in (label.maker or design.designer, " · ".join(t for t in (label.place, label.date) if t))
        if text
    ]
    lines += [(text, 9.0, False) for text in label.care]
    _centered(sheet, lines, (left + width / 2, low + height / 2), width - 60)
    canvas.setFillGray(QUIET)
    sheet.letters.draw(
        speech.tell(said.CUT_IT),
        left + width / 2,
        low - 18,
        8.5,
        anchor="middle",
    )
    return sheet.finish()


def _centered(
    sheet: Sheet, lines: Sequence[tuple[str, float, bool]], middle: tuple[float, float], width: float
) -> None:
    wrapped = [
        (part, size, bold)
        for text, size, bold in lines
        for part in sheet.letters.wrapped(text, size, width, bold=bold)
    ]
    y = middle[1] + sum(size * 1.45 for _, size, _ in wrapped) / 2
    for text, size, bold in wrapped:
        y -= size * 1.45
        sheet.letters.draw(text, middle[0], y + size * 0.35, size, bold=bold, anchor="middle")

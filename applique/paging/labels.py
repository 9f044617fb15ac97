"""Labels of templates: their words, their size, and where each stands, on the letter or below it."""

from __future__ import annotations

import math
from bisect import bisect_right
from typing import Final

import shapely

from applique.design import Copies
from applique.geometry.points import Bounds
from applique.geometry.polygons import Shape
from applique.language import Message, Speech, message, messages
from applique.paging.values import LabelSpot
from applique.pieces import MOST_ROWS_SAID, Layer, Template, rows_said
from applique.typeset.labels import label_width

__all__ = ["box_with_arrow", "label_lines", "label_size", "label_spot"]

_NAME_SIZE: Final = 0.22
_DETAIL_SIZE: Final = 0.115
_LEADING: Final = 1.3
_LABEL_PAD: Final = 0.07
_WIDEST_LABEL: Final = 1.8
"""Inches of the longest line of a label. A label wider than its letter takes the paper that other letters need, and
one wider than a page would make the smallest letter a tile."""
_MOST_LABEL_LINES: Final = 10
_ARROW: Final = 0.24
"""Width of the column that the grain arrow takes beside a label."""


def label_lines(
    template: Template, copies: Copies, *, own_fonts: tuple[str, ...], speech: Speech
) -> tuple[str, ...]:
    """What a template says of itself in `speech`: its letter or name, how many from which fabric, its rows if any.

    No line is wider than a label may be: names of fabrics go on in the next line, words too long for one are cut
    short with an ellipsis, rows too many to name are counted.
    """
    details = _wrapped(speech.say("outline behind it"), own_fonts) if template.layer is Layer.OUTLINE else []
    for use in template.uses:
        name = use.fabric.name
        cut = (
            name
            if copies is Copies.EACH
            else speech.say("cut {count} · {fabric}", count=use.count, fabric=name)
        )
        details += _wrapped(cut, own_fonts)
    most = _MOST_LABEL_LINES - 2
    if len(details) > most:
        details = [*details[: most - 1], *_wrapped(speech.say("the rest: see summary.md"), own_fonts)]
    rows = _wrapped(speech.tell(_in_rows(template)), own_fonts) if template.in_rows else []
    return (_shortened(template.text, 0, own_fonts), *details, *rows)


def _in_rows(template: Template) -> Message:
    """For which rows a template is, in few words."""
    rows = len(template.in_rows)
    if rows > MOST_ROWS_SAID:
        return message("in {rows}", rows=rows_said(template))
    return messages("row {rows}", "rows {rows}", rows, rows=rows_said(template))


def _wrapped(text: str, own_fonts: tuple[str, ...]) -> list[str]:
    """`text` in lines of a label, none wider than a label may be."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and _fits_label(longer, 1, own_fonts):
            lines[-1] = longer
        else:
            lines.append(_shortened(word, 1, own_fonts))
    return lines


def _shortened(text: str, line: int, own_fonts: tuple[str, ...]) -> str:
    """`text`, cut with an ellipsis where it is wider than a label may be."""
    if _fits_label(text, line, own_fonts):
        return text
    count = bisect_right(
        range(len(text)), False, key=lambda n: not _fits_label(text[:n] + "…", line, own_fonts)
    )
    return text[: max(count - 1, 1)] + "…"


def _fits_label(text: str, line: int, own_fonts: tuple[str, ...]) -> bool:
    return label_width(text, label_size(line), own_fonts=own_fonts) <= _WIDEST_LABEL


def label_size(line: int) -> float:
    """The size of a label's text in inches: the letter large, what follows it small."""
    return _DETAIL_SIZE if line else _NAME_SIZE


def label_spot(
    template: Template, copies: Copies, *, own_fonts: tuple[str, ...], speech: Speech
) -> LabelSpot:
    """Where the label goes: onto the letter where it fits whole, so that it stays with the cut template.

    Where the strokes are too narrow for it, below the letter.
    """
    lines = label_lines(template, copies, own_fonts=own_fonts, speech=speech)
    long = max(label_width(text, label_size(index), own_fonts=own_fonts) for index, text in enumerate(lines))
    tall = sum(label_size(index) for index in range(len(lines))) * _LEADING
    for turn_deg, width, height in ((0, long, tall), (90, tall, long)):
        whole_width, whole_height = width + _ARROW + 2 * _LABEL_PAD, height + 2 * _LABEL_PAD
        center = _room_inside(template.shape, whole_width, whole_height)
        if center is not None:
            x0, y0 = center[0] - whole_width / 2 + _LABEL_PAD, center[1] - height / 2
            return LabelSpot(
                lines=lines,
                box=(x0 + _ARROW, y0, x0 + _ARROW + width, y0 + height),
                turn_deg=turn_deg,
                arrow=(x0 + _ARROW / 2, y0, y0 + height),
                inside=True,
            )
    low = min(template.ink[1], 0.0) if template.letter else template.ink[1]
    x0, y1 = template.ink[0] + _ARROW, low - 2 * _LABEL_PAD
    return LabelSpot(
        lines=lines,
        box=(x0, y1 - tall, x0 + long, y1),
        turn_deg=0,
        arrow=(x0 - _ARROW / 2, y1 - tall, y1),
        inside=False,
    )


def _room_inside(shape: Shape, width: float, height: float) -> tuple[float, float] | None:
    """The center nearest the middle of `shape` at which a `width` by `height` box lies inside it."""
    x0, y0, x1, y1 = shape.bounds
    if width > x1 - x0 or height > y1 - y0:
        return None
    step = max(min(width, height) / 6, max(x1 - x0, y1 - y0) / 80)
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    centers = sorted(
        (math.dist((x, y), middle), x, y)
        for x in _spaced(x0 + width / 2, x1 - width / 2, step)
        for y in _spaced(y0 + height / 2, y1 - height / 2, step)
    )
    if not centers:
        return None
    _, xs, ys = zip(*centers, strict=True)
    half_width, half_height = width / 2, height / 2
    shapely.prepare(shape)
    boxes = shapely.box(
        [x - half_width for x in xs], [y - half_height for y in ys],
        [x + half_width for x in xs], [y + half_height for y in ys],
    )  # fmt: skip
    inside = shapely.contains(shape, boxes)
    return next(((x, y) for x, y, good in zip(xs, ys, inside, strict=True) if good), None)


def _spaced(low: float, high: float, step: float) -> list[float]:
    count = max(1, math.ceil((high - low) / step))
    return [low + (high - low) * index / count for index in range(count + 1)]


def box_with_arrow(label: LabelSpot) -> Bounds:
    """The box of the label and its grain arrow, about the template's own origin."""
    x0, y0, x1, y1 = label.box
    x, low, high = label.arrow
    return (min(x0, x - _ARROW / 2), min(y0, low), max(x1, x + _ARROW / 2), max(y1, high))

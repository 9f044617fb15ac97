"""What the marks of whole templates are called on their page: the middle of a letter, and its baseline.

Frame: the drawing area of the page, inches, y up; the words are level there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

import shapely
from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry

from applique.geometry.points import Bounds, Point
from applique.language import Speech
from applique.paging.labels import box_with_arrows
from applique.paging.ticks import TICK, TICK_GAP, TICK_NUMBER, lean_boxes, lines_of, middle_tick
from applique.paging.tile_marks import WORD_SIZE, first_clear, words_beside
from applique.paging.values import MarkWord, SheetItem, TemplatePage
from applique.pieces import Template
from applique.typeset.labels import label_width

__all__ = ["with_mark_words"]

_COARSE: Final = 0.005
"""Inches by which lines may be off where only room for a word is looked for; less than it keeps clear of them."""
_REACH: Final = 1.5
"""Inches around a template within which its words stand."""


def with_mark_words(
    page: TemplatePage, templates: Mapping[int, Template], room: tuple[float, float], speech: Speech
) -> TemplatePage:
    """`page` with the words for the marks of its letters, in the language of `speech`, each where its `room` (width and
    height) has some clear of everything that is drawn and no other template is nearer; none elsewhere."""
    taken = shapely.GeometryCollection(
        [one for item in page.items for one in _taken(item, templates[item.template])]
    )
    shapes = [item.place.shape(templates[item.template].outermost) for item in page.items]
    words: list[BaseGeometry] = []
    items = []
    for index, item in enumerate(page.items):
        template = templates[item.template]
        if not template.letter:
            items.append(item)
            continue
        x0, y0, x1, y1 = shapes[index].bounds
        full = shapely.clip_by_rect(taken, x0 - _REACH, y0 - _REACH, x1 + _REACH, y1 + _REACH)
        others = [shape for place, shape in enumerate(shapes) if place != index]
        found: list[MarkWord] = []
        for text, spots in _wanted(item, template, speech):
            near = (spot for spot in spots if _is_own(spot, shapes[index], others))
            at = first_clear(near, (0.0, 0.0, *room), [full, *words])
            if at is not None:
                found.append(MarkWord(text=text, box=at))
                words.append(box(*at))
        items.append(replace(item, words=tuple(found)))
    return replace(page, items=tuple(items))


def _taken(item: SheetItem, template: Template) -> list[BaseGeometry]:
    """All that is drawn of a template on its page."""
    label = item.label
    drawn: list[BaseGeometry] = [shapely.simplify(line, _COARSE) for line in lines_of(template)]
    drawn += [box(*box_with_arrows(one)) for one in (label, *label.parts)]
    drawn += [box(*tag.box) for tag in label.tags]
    drawn += [LineString(label.leader)] if label.leader is not None else []
    if template.letter:
        drawn += [LineString(tick) for tick in (*_baseline_ticks(template), middle_tick(template))]
        drawn += [box(*room) for room in lean_boxes(template)]
        drawn += [LineString([near for near, _ in _baseline_ticks(template)])] if template.leans else []
    return [*(item.place.shape(one) for one in drawn), *_numbers(item, template)]


def _baseline_ticks(template: Template) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """The ticks of the baseline, each from the end near the letter, about its own origin."""
    x0, _, x1, _ = template.outermost.bounds
    left, right = x0 - TICK_GAP, x1 + TICK_GAP
    return ((left, 0.0), (left - TICK, 0.0)), ((right, 0.0), (right + TICK, 0.0))


def _numbers(item: SheetItem, template: Template) -> Iterator[BaseGeometry]:
    """What the numbers at the ticks take, level on the page."""
    half = label_width(str(template.number), WORD_SIZE) / 2
    for (near, _), (far, _) in _baseline_ticks(template) if template.letter else ():
        x, y = item.place.point(((near + far) / 2, TICK_NUMBER))
        yield box(x - half, y - WORD_SIZE / 2, x + half, y + WORD_SIZE / 2)


def _wanted(item: SheetItem, template: Template, speech: Speech) -> Iterator[tuple[str, Iterator[Bounds]]]:
    """Each word, and where it may stand: beside the mark of the middle, and at either tick of the baseline."""
    low, high = (item.place.point(end) for end in middle_tick(template))
    middle, baseline = speech.say("middle"), speech.say("baseline")
    yield middle, words_beside((low, high), label_width(middle, WORD_SIZE))
    wide = label_width(baseline, WORD_SIZE)
    yield (
        baseline,
        (
            spot
            for near, far in _baseline_ticks(template)
            for spot in words_beside((item.place.point(near), item.place.point(far)), wide)
        ),
    )


def _is_own(spot: Bounds, shape: BaseGeometry, others: Sequence[BaseGeometry]) -> bool:
    """Whether no other template is nearer to a word than the one that it is for."""
    word = box(*spot)
    own = word.distance(shape)
    return all(word.distance(other) > own for other in others)

"""Drawings for a narrow screen: every word is large enough, or told below by its letter; nothing lies over another."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely.geometry import Polygon
from shapely.geometry import box as rectangle

from applique.design import Stitch
from applique.drawings import (
    FINE,
    HAIR,
    INK,
    Anchor,
    Drawing,
    Narrow,
    Shape,
    Words,
    box,
    narrowed,
    text_width,
)
from applique.drawings.corners import draw_corners
from applique.drawings.key import BINDING, CORNERS, keyed
from applique.drawings.values import NARROW
from applique.drawings.vocabulary import DOTTED, RIGHT_SIDE, SECOND_SIDE, ring
from applique.language import Message, american

LEAST = 16.0


def _plain(said: str | Message) -> str:
    return said if isinstance(said, str) else american().tell(said)


def _rooms(found: Narrow) -> list[tuple[str, Polygon]]:
    rooms: list[tuple[str, Polygon]] = []
    for mark in found.drawing.marks:
        if isinstance(mark, Words):
            text = _plain(mark.said)
            wide = text_width(text, mark.size, bold=mark.bold)
            left = mark.at[0] - {Anchor.START: 0.0, Anchor.MIDDLE: wide / 2, Anchor.END: wide}[mark.anchor]
            high = (mark.at[1] - 0.2 * mark.size, mark.at[1] + 0.7 * mark.size)
            rooms.append((text, rectangle(left, high[0], left + wide, high[1])))
    return rooms


def _drawing(*words: Words, width: float = 300.0) -> Drawing:
    return Drawing(width=width, height=120.0, marks=(box(20, 20, 200, 80, ink=FINE), *words), said="A panel")


def test_words_grow_or_go_on_in_the_next_line_or_are_told_by_a_letter() -> None:
    words = (
        Words(said="12 in", at=(120.0, 106.0), size=7.0, anchor=Anchor.MIDDLE),
        Words(said="the lower edge", at=(222.0, 60.0), size=7.0),
        *(Words(said=f"row number {n}", at=(30.0, 30.0 + 9 * n), size=7.0) for n in range(5)),
    )
    found = narrowed(_drawing(*words), _plain, least=LEAST)
    rooms = _rooms(found)
    texts = [text for text, _ in rooms]
    assert "12 in" in texts
    assert "the lower" in texts and "edge" in texts
    told = {letter: _plain(said) for letter, said in found.told}
    assert len(told) >= 3 and set(told) <= set(texts)
    assert {*told.values(), *texts} >= {f"row number {n}" for n in range(5)}
    assert all(mark.size >= LEAST for mark in found.drawing.marks if isinstance(mark, Words))
    assert not [(one, other) for (one, a), (other, b) in combinations(rooms, 2) if a.intersects(b)]
    frame = rectangle(0, 0, found.drawing.width, found.drawing.height)
    assert all(frame.contains(room) for _, room in rooms)


def test_names_stay_where_they_are_and_no_number_is_taken_for_one() -> None:
    """What stands for words is a number on a disc, for pieces and fabrics have letters, and none that is there."""
    long = "sixteen and a half inches along the selvage"
    words = (
        Words(said="a", at=(60.0, 60.0), size=8.0, anchor=Anchor.MIDDLE),
        Words(said=long, at=(60.0, 48.0), size=7.0, anchor=Anchor.MIDDLE),
    )
    found = narrowed(_drawing(*words, width=120.0), _plain, least=30.0)
    assert found.told == (("1", long),)
    (name,) = (mark for mark in found.drawing.marks if isinstance(mark, Words) and mark.said == "a")
    assert name.at[0] == 60.0 and name.size == 30.0


def test_a_ring_grows_with_its_number() -> None:
    circle, square = ring(94, 54, 14, 12), box(20, 54, 14, 12, ink=FINE)
    number = Words(said="7", at=(101.0, 57.0), size=8.0, anchor=Anchor.MIDDLE)
    name = Words(said="C", at=(27.0, 57.0), size=8.0, anchor=Anchor.MIDDLE)
    drawing = Drawing(width=200.0, height=120.0, marks=(square, circle, number, name), said="Bands")
    piece, shape, *words = narrowed(drawing, _plain, least=LEAST).drawing.marks
    assert piece == square  # a piece of fabric with its letter
    assert [mark.size for mark in words if isinstance(mark, Words)] == [LEAST, LEAST]
    x0, y0, x1, y1 = shape.outline.bounds()  # type: ignore[union-attr]
    assert (x1 - x0, y1 - y0) == pytest.approx((28, 24))
    assert ((x0 + x1) / 2, (y0 + y1) / 2) == pytest.approx((101, 60))


def test_a_key_takes_the_rows_that_it_needs_below_all_else() -> None:
    marks = tuple(
        box(40 * n, 5, 30, 30, fill=fill) for n, fill in enumerate((RIGHT_SIDE, SECOND_SIDE, DOTTED))
    )
    drawing = keyed(Drawing(width=200.0, height=40.0, marks=marks, said="Binding"), BINDING, american())
    found = narrowed(drawing, _plain, least=LEAST).drawing
    assert found.height > drawing.height
    words = [mark for mark in found.marks if isinstance(mark, Words)]
    assert len(words) == 3 and len({mark.at[1] for mark in words}) > 1
    lowest = min(mark.outline.bounds()[1] for mark in found.marks[:3])  # type: ignore[union-attr]
    assert all(mark.at[1] + 0.7 * mark.size < lowest for mark in words)
    rooms = _rooms(Narrow(drawing=found, told=()))
    assert not [(one, other) for (one, a), (other, b) in combinations(rooms, 2) if a.intersects(b)]


def test_a_number_stands_clear_of_lines_and_leads_to_where_its_words_stood() -> None:
    """In squares that are too small for the words, on the far side of nothing but paper."""
    squares = tuple(box(20.0 * at, 20.0, 20.0, 20.0, fill="#aa3333", ink=FINE) for at in range(10))
    words = tuple(
        Words(said=f"short {at}", at=(20.0 * at + 10, 30.0), size=3.0, anchor=Anchor.MIDDLE)
        for at in (3, 4, 5)
    )
    drawing = Drawing(width=200.0, height=44.0, marks=(*squares, *words), said="A row")
    found = narrowed(drawing, _plain, least=16.0)
    assert [number for number, _ in found.told] == ["1", "2", "3"]
    discs = [
        mark.outline.bounds()
        for mark in found.drawing.marks
        if isinstance(mark, Shape)
        and mark.fill == INK
        and mark.outline.bounds()[2] - mark.outline.bounds()[0] > 4
    ]
    assert len(discs) == 3
    row = rectangle(0, 20, 200, 40)
    rooms = [rectangle(*one) for one in discs]
    assert not [one for one in rooms if one.intersects(row)]
    assert not [(one, other) for one, other in combinations(rooms, 2) if one.intersects(other)]
    leaders = [mark for mark in found.drawing.marks if isinstance(mark, Shape) and mark.ink == HAIR]
    assert len(leaders) == 3
    assert all(one[3] <= found.drawing.height for one in discs)


def test_a_drawing_that_is_laid_out_anew_keeps_its_words_and_its_key() -> None:
    for stitch in Stitch:
        drawing = keyed(draw_corners(stitch), CORNERS, american())
        assert drawing.narrow is not None and drawing.narrow.in_key == drawing.in_key > 0
        assert drawing.narrow.width <= NARROW
        smallest = min(mark.size for mark in drawing.narrow.marks if isinstance(mark, Words))
        assert smallest * 340 / drawing.narrow.width >= 11
        rooms = _rooms(Narrow(drawing=drawing.narrow, told=()))
        tiles = [
            rectangle(*mark.outline.bounds())
            for mark in drawing.narrow.marks
            if isinstance(mark, Shape) and mark.fill == SECOND_SIDE
        ]
        assert len(rooms) == 5 + 2
        assert not [text for text, room in rooms if any(room.intersects(tile) for tile in tiles)]

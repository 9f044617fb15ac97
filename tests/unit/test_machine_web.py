"""Web and fabric for letters cut by a machine: what is bought holds the rectangles that the printed steps ask for."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pypdfium2
import pytest

from applique.design import PaperSize, design_from_mapping
from applique.for_customers import customers_design
from applique.instructions import Edition, instructions_of
from applique.nesting import nest_faults
from applique.pattern import Pattern, draft
from applique.sheets import nesting_pdf, pattern_pdf, whole_pattern_pdf
from applique.units import Units
from applique.words.cloth import carried_said
from tests.overlaps import overlaps

DESIGN: dict[str, Any] = {
    "row": [{"text": "LLLLLLLLLLLL"}, {"text": "LLLLLLLLLL"}, {"text": "LJ", "fabric": "Rust"}],
    "lettering": {"font": "Rubik", "cap_height": "6in", "fabric": "Ink"},
    "panel": {"width": "80in", "height": "30in"},
    "sewing": {"method": "machine cut"},
    "fusible": {"extra_percent": 0},  # so that a length to spare hides nothing
    "fabric": [{"name": "Ink", "color": "#203040"}, {"name": "Rust", "color": "#a05030"}],
}
MAT = {"mat_width": "12in", "mat_height": "24in"}
LENGTH = r"(\d+(?: \d+/\d+)?|\d+/\d+|\d+\.\d+)"


def _words(pdf: bytes) -> str:
    pages = pypdfium2.PdfDocument(pdf)
    return "\n".join(page.get_textpage().get_text_bounded() for page in pages).replace("\r", "")


def _number(said: str) -> Fraction:
    return sum((Fraction(part) for part in said.split()), Fraction(0))


def _customers(**tables: Any) -> Pattern:
    return draft(
        customers_design(design_from_mapping({**DESIGN, "cutting": MAT, **tables}), PaperSize.LETTER)
    )


def _printed_for_customers(pattern: Pattern) -> str:
    return _words(whole_pattern_pdf(pattern, instructions_of(pattern, edition=Edition.CUSTOMER)))


@pytest.mark.long
@pytest.mark.parametrize("units", [Units.INCHES, Units.CENTIMETERS])
def test_a_customer_buys_web_for_a_rectangle_around_every_letter(units: Units) -> None:
    """Web was bought for rough cuts that reach into one another, and cut a piece for each letter: L's ran short."""
    pattern = _customers(units=units.value)
    printed = _printed_for_customers(pattern)
    unit, yard, step = ("in", 36, Fraction(1, 16)) if units is Units.INCHES else ("cm", 1, Fraction(1, 10))
    long = "yd" if units is Units.INCHES else "cm"
    rows = re.findall(rf"^\d ([LJ]) (.*?) {LENGTH} {unit} by {LENGTH} {unit}$", printed, re.M)
    found = {
        letter: (sum(map(int, re.findall(r"(\d+) from", uses))), _number(w), _number(h))
        for letter, uses, w, h in rows
    }
    assert {letter: count for letter, (count, _, _) in found.items()} == {"L": 23, "J": 1}
    across = 1 if units is Units.INCHES else 2.54
    for template in pattern.templates:
        _, width, height = found[template.text]
        x0, y0, x1, y1 = template.ink
        for said, ink in ((width, x1 - x0), (height, y1 - y0)):  # 1/4 in on both sides, up to the next step
            assert 0 <= float(said) - (ink + 0.5) * across < float(step) + 1e-6
    bought = re.search(rf"Fusible web {LENGTH} {long}, at least {LENGTH} {unit} wide", printed)
    assert bought is not None
    room = _number(bought[1]) * yard * _number(bought[2])
    assert room >= sum(count * width * height for count, width, height in found.values())
    for need in (pattern.fusible, *pattern.cloth):
        assert need.nest is not None and nest_faults(need.nest, need.pieces) == ()
        sizes = {
            key: tuple(round(side * across, 4) for side in (x1 - x0, y1 - y0))
            for key, (x0, y0, x1, y1) in ((piece.key, piece.shape.bounds) for piece in need.pieces)
        }
        for template in pattern.templates:
            if template.key in sizes:
                assert sizes[template.key] == pytest.approx(tuple(map(float, found[template.text][1:])))


def test_a_maker_buys_web_and_fabric_for_the_piece_of_each_mat() -> None:
    pattern = draft(design_from_mapping({**DESIGN, "cutting": MAT}))
    printed = _words(pattern_pdf(pattern, instructions_of(pattern, edition=Edition.MAKER)))
    rows = re.findall(rf"^(\d) [A-Z] (Ink|Rust) (\d+) {LENGTH} in by {LENGTH} in$", printed, re.M)
    assert [int(number) for number, *_ in rows] == [mat.number for mat in pattern.mats]
    assert sum(int(pieces) for _, _, pieces, _, _ in rows) == 24
    taken = Fraction(0)
    for mat, (_, fabric, _, width, height) in zip(pattern.mats, rows, strict=True):
        wide, high = _number(width), _number(height)
        x0, y0, x1, y1 = mat.outline.bounds()
        assert fabric == mat.fabric
        assert x0 > 0 and y0 > 0
        assert x1 + 0.25 <= wide <= 12 and y1 + 0.25 <= high <= 24
        (cloth,) = [piece for need in pattern.cloth for piece in need.pieces if piece.key == mat.key]
        assert cloth.shape.bounds == (0, 0, float(wide), float(high))
        taken += wide * high
    bought = re.search(rf"Fusible web {LENGTH} yd, at least 17 in wide", printed)
    assert bought is not None and _number(bought[1]) * 36 * 17 >= taken
    for need in (pattern.fusible, *pattern.cloth):
        assert need.nest is not None and nest_faults(need.nest, need.pieces) == ()
        assert {piece.key for piece in need.pieces} <= {mat.key for mat in pattern.mats}
    assert "for each mat" in printed and "Cut letter by letter" not in printed
    assert "on a mat" not in printed, "a column that says the same of every template"


def test_low_pieces_of_two_fabrics_are_drawn_on_one_page() -> None:
    """Each had a page of its own, three quarters of it white."""
    rows = [{"text": "LINE"}, {"text": "once", "fabric": "Rust"}]
    small = {
        "panel": {"width": "36in", "height": "20in"},
        "lettering": {"cap_height": "4in", "fabric": "Ink"},
    }
    bound = {
        "binding": {"fabric": "Pine"},
        "fabric": [*DESIGN["fabric"], {"name": "Pine", "color": "#2d4a2d"}],
    }
    pdf = nesting_pdf(draft(design_from_mapping({**DESIGN, **small, **bound, "row": rows, "cutting": MAT})))
    texts = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]
    assert [("Ink" in text.split(), "Rust" in text.split()) for text in texts] == [
        (False, False),
        (True, True),
    ]
    assert not overlaps(pdf)


def test_what_no_mat_holds_has_a_rectangle_of_its_own() -> None:
    rows = [{"text": "LI"}, {"text": "L", "cap_height": "13in"}]
    pattern = draft(design_from_mapping({**DESIGN, "row": rows, "cutting": {"mat_width": "10in"}}))
    (large,) = pattern.mat_plan.too_large
    assert {piece.key for piece in pattern.fusible.pieces} == {large.key, *(mat.key for mat in pattern.mats)}


def test_a_fabric_with_letters_cut_from_their_own_spots_has_no_mats() -> None:
    """A mat is one piece of fabric, and a motif is elsewhere on it."""
    spots = [{"letter": 1, "along": "2in", "across": "3in"}]
    rows = [{"text": "LI", "fussy": spots}, {"text": "J", "fabric": "Rust"}]
    pattern = draft(design_from_mapping({**DESIGN, "row": rows, "cutting": MAT}))
    assert {mat.fabric for mat in pattern.mats} == {"Rust"}
    ink = next(need for need in pattern.cloth if need.fabric == "Ink")
    assert {carried_said(ink.carried[piece.key]) for piece in ink.pieces} == {"L", "I"}
    assert ink.nest is not None
    first = next(spot for spot in ink.nest.placements if carried_said(ink.carried[spot.key]) == "L")
    shape = next(piece.shape for piece in ink.pieces if piece.key == first.key)
    assert first.place.shape(shape).bounds[:2] == pytest.approx((2, 3))


def test_no_mat_asks_for_fabric_wider_than_it_comes() -> None:
    narrow = [{**fabric, "usable_width": "18in"} for fabric in DESIGN["fabric"]]
    pattern = draft(design_from_mapping({**DESIGN, "fabric": narrow, "cutting": {"mat_width": "24in"}}))
    assert max(mat.piece[0] for mat in pattern.mats) <= 18
    assert [need.joined for need in pattern.cloth] == [(), ()]


@pytest.mark.parametrize("units", [Units.INCHES, Units.CENTIMETERS])
def test_the_largest_piece_is_one_letter_and_the_mat_holds_every_one_with_its_margin(units: Units) -> None:
    """W is wider than J, J with its descender higher than W: a mat for the W alone would be too low."""
    row = [{"text": "WJ"}]
    pattern = _customers(units=units.value, row=row, cutting={**MAT, "mat_margin": "3/8in"})
    printed = " ".join(_printed_for_customers(pattern).split())
    unit, across, fine, step = ("in", 1.0, 1 / 16, 1 / 8) if units is Units.INCHES else ("cm", 2.54, 0.1, 0.1)
    inks = {one.text: one.ink for one in pattern.templates}
    sides = {name: (x1 - x0, y1 - y0) for name, (x0, y0, x1, y1) in inks.items()}
    number = next(one.number for one in pattern.templates if one.text == "W")
    said = re.search(
        rf"the widest piece is template (\d+), W, {LENGTH} {unit} wide and {LENGTH} {unit} high, the highest template "
        rf"(\d+), J, {LENGTH} {unit} wide and {LENGTH} {unit} high; a mat of at least "
        rf"{LENGTH} {unit} by {LENGTH} {unit} holds every piece with {LENGTH} {unit} free all around",
        printed,
    )
    assert said is not None
    assert (int(said[1]), int(said[4])) == (number, 3 - number)
    assert sides["W"][0] > sides["J"][0]
    assert sides["J"][1] > sides["W"][1]
    read_of = said.groups()
    for reads, name in ((read_of[1:3], "W"), (read_of[4:6], "J")):
        for read, side in zip(reads, sides[name], strict=True):
            assert abs(float(_number(read)) - side * across) <= fine / 2 + 1e-6
    for read, side in zip(read_of[6:8], (sides["W"][0], sides["J"][1]), strict=True):
        assert 0 <= float(_number(read)) - (side + 0.75) * across < step + 1e-6
    assert float(_number(said[9])) == pytest.approx(0.375 * across, abs=0.06)

"""What a row stands on: letters are set on a level line and carried onto another, and all that follows goes by that."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import pypdfium2
import pytest

from applique.design import design_from_mapping
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point, middle_of
from applique.language import american
from applique.panel import requests
from applique.panel.lines import Level
from applique.pattern import Pattern, draft
from applique.sheets.guide import placement_guide_pdf
from applique.typeset.remembered import Remembered
from applique.units import Units, as_length

RADIUS = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Round:
    """The top of a circle about (`x`, `y`), as `Baseline` has it: what no row of the design file can ask for yet."""

    x: float
    y: float

    @property
    def is_level(self) -> bool:
        return False

    @property
    def runs_down(self) -> bool:
        return False

    def moved(self, right: float, up: float) -> _Round:
        return replace(self, x=self.x + right, y=self.y + up)

    def carried(self, flat: Place, middle: float) -> Place:
        return flat.seen_from(Place(x=middle, y=self.y + RADIUS)).within(self._at((middle - self.x) / RADIUS))

    def under(self, point: Point) -> Place:
        return self._at(math.atan2(point[0] - self.x, point[1] - self.y))

    def below(self, point: Point, turn_deg: float) -> Point:
        assert turn_deg == 0
        return point[0], self.y + math.sqrt(RADIUS**2 - (point[0] - self.x) ** 2)

    def points(self, ink: Bounds) -> tuple[Point, ...]:
        return tuple((place.x, place.y) for place in (self._at(angle / 10) for angle in range(-6, 7)))

    def _at(self, angle: float) -> Place:
        x, y = RADIUS * math.sin(angle), RADIUS * math.cos(angle)
        return Place(x=self.x + x, y=self.y + y, turn_deg=-math.degrees(angle))


def _pattern() -> Pattern:
    return draft(
        design_from_mapping(
            {
                "row": [{"text": "HIH", "outline": "1/4in"}],
                "panel": {"width": "30in", "height": "30in"},
                "lettering": {"font": "Fredoka", "cap_height": "4in"},
                "paper": {"full_size_guide": True},
            }
        )
    )


@pytest.fixture(scope="module")
def level() -> Pattern:
    return _pattern()


@pytest.fixture(scope="module")
def bent() -> Pattern:
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(requests, "Level", lambda y: _Round(x=4.0, y=y - RADIUS))
        patched.setattr(requests, "_ROWS", Remembered())  # level rows are kept
        return _pattern()


def test_letters_are_turned_to_the_tangent_at_their_middle(level: Pattern, bent: Pattern) -> None:
    """As far apart along the circle as along the level line, and as high above it: lengths of arc, not of chord."""
    (flat,), (row,) = level.panel.rows, bent.panel.rows
    assert isinstance(row.line, _Round)
    along = []
    for before, cut in zip(flat.cuts, row.cuts, strict=True):
        box = cut.outline.bounds()
        x, y = cut.place.point((middle_of(box)[0], 0.0))
        assert math.dist((x, y), (row.line.x, row.line.y)) == pytest.approx(RADIUS)
        angle = math.atan2(x - row.line.x, y - row.line.y)
        assert cut.place.turn_deg == pytest.approx(-math.degrees(angle))
        along.append(angle * RADIUS - before.place.x - middle_of(box)[0])
    assert along == pytest.approx([along[0]] * 3)


def test_what_is_cut_is_the_same_on_any_line(level: Pattern, bent: Pattern) -> None:
    for before, after in zip(level.templates, bent.templates, strict=True):
        assert (before.name, before.count, before.outline) == (after.name, after.count, after.outline)
    assert [need.used for need in bent.cloth] == [need.used for need in level.cloth]


def test_what_is_laid_goes_with_the_letters(bent: Pattern) -> None:
    (row,) = bent.panel.rows
    x0, y0, x1, y1 = row.ink
    assert (x0 + x1) / 2 == pytest.approx(15)
    assert (y0 + y1) / 2 == pytest.approx(15)
    assert [piece.place for piece in bent.outlines] == [cut.place for cut in row.cuts]
    assert not row.level


def test_the_guide_measures_from_the_line_that_a_row_stands_on(
    bent: Pattern, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A tick is plumb with the middle that its template shows; a letter that nobody turned is not said to be turned."""
    (row,), (mark,) = bent.panel.rows, bent.marks
    assert isinstance(row.line, _Round)
    assert (mark.line, mark.level) == (row.line, False)
    for cut, letter in zip(row.cuts, mark.letters, strict=True):
        assert letter.turn_deg == 0
        assert letter.above_baseline == pytest.approx(cut.outline.bounds()[1])
        shown = (cut.outline.bounds()[0] + cut.outline.bounds()[2]) / 2
        assert letter.tick.x == pytest.approx(cut.place.point((shown, 0.0))[0])
        away = (letter.tick.x - row.line.x, letter.tick.y - row.line.y)
        assert math.hypot(*away) == pytest.approx(RADIUS)
        assert letter.tick.turn_deg == pytest.approx(-math.degrees(math.atan2(*away)))
        assert letter.tick_down == pytest.approx(30.75 - letter.tick.y)
    first, last = row.baseline_path[0], row.baseline_path[-1]
    assert mark.ends == ((first[0] - 15, 30.75 - first[1]), (last[0] - 15, 30.75 - last[1]))
    monkeypatch.setattr("applique.sheets.guide._LEAST_SHARE", 2)  # the table has a page of its own
    pages = [
        page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(placement_guide_pdf(bent))
    ]
    depth = american().measure(as_length(mark.baseline_from_top, Units.INCHES, denominator=16))
    assert depth not in pages[0]
    words = " ".join(pages)
    assert words.count("its tick on the baseline") == 3
    assert "from upright, its lowest point" not in words  # no letter of it is turned by hand


def test_a_plumb_line_meets_a_level_line_where_the_tangent_of_the_turn_says() -> None:
    """5 in above a line turned 45 degrees to the left it meets 5 in before; turned 60 degrees, the nearest point."""
    line = Level(y=2.0)
    assert line.below((10.0, 7.0), 0.0) == (10.0, 2.0)
    assert line.below((10.0, 7.0), 45.0) == pytest.approx((5.0, 2.0))
    assert line.below((10.0, 7.0), 60.0) == (10.0, 2.0)
    assert line.moved(3.0, 1.0) == Level(y=3.0)

"""What the page shows, read back in a real browser and compared with the `Pattern`: sizes, places, what to buy."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from applique.design import design_from_mapping, design_text
from applique.pattern import Pattern, draft
from applique.shopping import ShelfKind
from applique.units import Units
from applique.words.buying import material_said, precut_said, shelf_name
from applique.words.precuts import cuts_of_precut_said
from tests.web.patience import SLOW

if TYPE_CHECKING:
    from tests.web.conftest import Served

pytestmark = pytest.mark.browser

DESIGNS: dict[str, dict[str, Any]] = {
    "inches": {
        "panel": {"width": "21in", "height": "15in", "fabric": "Fog"},
        "lettering": {"font": "Fredoka", "fabric": "Ink"},
        "row": [
            {"text": "OAR", "right": "2in", "cap_height": "3in"},
            {"text": "LOCK", "cap_height": "2in", "outline": "1/4in"},
        ],
        "fabric": [
            {"name": "Ink", "color": "#203040"},
            {"name": "Fog", "color": "#e0e0d8", "usable_width": "42in"},
        ],
        "border": [
            {"kind": "strip", "width": "3/2in", "fabrics": ["Ink"]},
            {"kind": "squares", "size": "3in", "fabrics": ["Fog", "Ink"]},
        ],
        "quilting": [{"kind": "in the ditch"}],
    },
    "centimeters": {
        "units": "cm",
        "panel": {"width": "50cm", "height": "42cm"},
        "lettering": {"font": "Rubik", "cap_height": "6cm"},
        "row": [{"text": "Boot", "up": "3cm"}],
        "paper": {"size": "A4"},
        "sewing": {"method": "turned edge", "weave": "loose"},
    },
}
DESIGNS["turned"] = {
    "panel": {"width": "20in", "height": "18in"},
    "lettering": {"font": "Fredoka", "cap_height": "3in", "outline": "1/4in"},
    "row": [
        {"text": "TO", "turn": 20, "nudge": [{"letter": 1, "right": "-1/2in", "turn": -35}]},
        {"text": "FRO", "nudge": [{"letter": 2, "turn": 90}]},
    ],
}
INCHES = {"in": Fraction(1), "yd": Fraction(36), "cm": Fraction(100, 254)}
BOXES = """elements => elements.map(element => {
  const art = document.querySelector('#art').getCTM().inverse().multiply(element.getCTM());
  const box = element.getBBox(), [x, y] = [box.x * art.a + art.e, box.y * art.d + art.f];
  if (Math.abs(art.b) < 1e-9) return [x, y, x + box.width * art.a, y + box.height * art.d];
  const long = element.getTotalLength(), points = Array.from({ length: 4001 },
    (_, index) => element.getPointAtLength(long * index / 4000).matrixTransform(art));
  const [xs, ys] = [points.map((point) => point.x), points.map((point) => point.y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
})"""
"""The bounds of elements in the frame of the drawing, worked out by the browser; of turned ones from their points."""
ENDS = "lines => lines.map(line => [...line.points].flatMap(({ x, y }) => [x, y]))"


def lengths(text: str) -> list[float]:
    """The lengths of `text` in inches: `7 1/4 in`, `1/8 yd`, `18.4 cm`."""
    return [
        float(sum(Fraction(part) for part in number.split()) * INCHES[unit])
        for number, unit in re.findall(r"(\d[\d ./]*) (in|yd|cm)\b", text)
    ]


@pytest.fixture(scope="module", params=DESIGNS)
def shown(
    request: pytest.FixtureRequest, served: Served, browser: Any, tmp_path_factory: pytest.TempPathFactory
) -> Any:
    """The page with a design opened and its numbers worked out, and the pattern of the same design."""
    design = design_from_mapping(DESIGNS[request.param])
    file = tmp_path_factory.mktemp("shown") / "opened.toml"
    Path(file).write_text(design_text(design), encoding="utf-8")
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.set_default_timeout(SLOW)
    page.goto(served.address)
    page.locator("body.ready").wait_for()
    page.locator("#open-file").set_input_files(file)
    page.locator("#buy-open").click()
    page.locator("#buy:not(.stale) .bill").wait_for(timeout=SLOW)
    yield page, draft(design)
    context.close()


@pytest.mark.long
def test_the_sizes_and_places_of_the_drawing_are_those_of_the_pattern(shown: tuple[Any, Pattern]) -> None:
    page, pattern = shown
    width, height = (float(side) for side in pattern.quilt.finished)
    said = lengths(page.locator("#finished").inner_text())
    assert said == pytest.approx([width, width, height, height], abs=1 / 16)
    assert page.locator("#art > .edge path").evaluate_all(BOXES) == [
        pytest.approx([0, 0, width, height], abs=2e-5)
    ]
    panel = pattern.panel
    left, top = (width - float(panel.width)) / 2, (height - float(panel.height)) / 2
    right, low = width - left, height - top
    assert page.locator("#art > .panel path").evaluate_all(BOXES) == [
        pytest.approx([left, top, right, low], abs=2e-5)
    ]
    margin = float(panel.margin)
    assert page.locator("#guide-lines .margin").evaluate_all(BOXES) == [
        pytest.approx([left + margin, top + margin, right - margin, low - margin])
    ]

    def placed(x0: float, y0: float, x1: float, y1: float) -> Any:
        return pytest.approx([left + x0, low - y1, left + x1, low - y0], abs=4e-3)

    cuts = [cut for row in panel.rows for cut in row.cuts]
    assert page.locator("#art .letter path").evaluate_all(BOXES) == [placed(*cut.ink) for cut in cuts]
    assert page.locator("#art .letter rect").evaluate_all(BOXES) == [placed(*cut.ink) for cut in cuts]
    behind = [piece.place.shape(piece.shape).bounds for piece in pattern.outlines]
    assert page.locator("#art .outline path").evaluate_all(BOXES) == [placed(*bounds) for bounds in behind]
    for row, line in zip(panel.rows, page.locator("#guide-lines .baseline").evaluate_all(ENDS), strict=True):
        across = ((0.0, row.baseline), (float(panel.width), row.baseline))
        ends = across if row.level else row.baseline_path
        assert line == pytest.approx([value for x, y in ends for value in (left + x, low - y)])
    patches = [patch.corners for border in pattern.quilt.borders for patch in border.patches]
    assert page.locator("#art .patch path").evaluate_all(BOXES) == [
        pytest.approx(
            [
                width / 2 + float(min(x for x, _ in corners)),
                height / 2 - float(max(y for _, y in corners)),
                width / 2 + float(max(x for x, _ in corners)),
                height / 2 - float(min(y for _, y in corners)),
            ],
            abs=1e-3,
        )
        for corners in patches
    ]


def test_what_to_buy_and_to_print_is_that_of_the_pattern(shown: tuple[Any, Pattern]) -> None:
    """Small letters: the search for a shorter layout finds nothing to save, so both answers are the same."""
    page, pattern = shown
    items = page.locator("#buy .bill > li")
    rows = [(items.nth(index).locator(".thing").inner_text(), items.nth(index).locator("strong").inner_text())
            for index in range(items.count())]  # fmt: skip
    *cloth, web, sheets = rows
    for (thing, amount), buy in zip(cloth, pattern.shopping.cloth, strict=True):
        assert thing.splitlines()[0] == buy.fabric.name
        assert lengths(amount) == [pytest.approx(float(buy.buy))]
        assert (str(precut_said(buy.precut)) in thing) if buy.precut else len(thing.splitlines()) == 1
        if (plan := buy.cutting.precut) is not None:
            cuts = items.filter(has_text=buy.fabric.name).first.locator(".precut li")
            assert not cuts.first.is_visible()
            units = pattern.design.units
            assert cuts.all_text_contents() == [str(cut) for cut in cuts_of_precut_said(plan, units)]
    assert str(material_said(pattern.fusible)) in web[0].lower()
    wide, bought = lengths(web[0] + ", " + web[1])
    step = 1 / 16 if pattern.design.units is Units.INCHES else 1 / 25.4
    assert 0 <= float(pattern.fusible.usable_width) - wide + 1e-9 < step, "what there is, never rounded up"
    assert bought == pytest.approx(float(pattern.fusible.buy), abs=0.02)
    pages = 1 + len(pattern.sheets.pages) + sum(len(large.tiling.tiles) for large in pattern.sheets.tiled)
    letters = sum(len(row.cuts) for row in pattern.panel.rows)
    assert sheets[1] == str(pages)
    said = [int(number) for line in sheets[0].splitlines()[1:] for number in re.findall(r"(?<!A)\b\d+", line)]
    assert said == [pages, letters, len(pattern.templates)]
    assert pattern.design.paper.size.value in sheets[0]


def test_the_other_shelves_are_those_of_the_pattern(shown: tuple[Any, Pattern]) -> None:
    page, pattern = shown
    page.locator("#buy > .fold > summary").click()
    names, items = page.locator("#buy dt").all_inner_texts(), page.locator("#buy dd").all_inner_texts()
    shelves = dict(zip(names, items, strict=True))
    width, height = pattern.quilt.finished
    over = 2 * pattern.design.batting.overage
    covered = lengths(shelves["Batting"].split("cover")[1])
    assert covered == pytest.approx([float(width + over), float(height + over)], abs=1 / 16)
    needs = pattern.stitching.stabilizers
    bought = [size for need in needs for size in (need.roll_width, need.buy, need.used)]
    said = [size for number, size in enumerate(lengths(shelves.get("Stabilizer", ""))) if number % 4 < 3]
    assert said == pytest.approx([float(size) for size in bought], abs=1 / 16)
    least, most = pattern.stitching.minutes
    time = page.locator("#buy > .note").last.inner_text()
    said = [
        60 * int(hours or 0) + int(minutes or 0)
        for hours, minutes in re.findall(r"(?:(\d+)\sh)?\s?(?:(\d+)\smin)?", time)
        if hours or minutes
    ]
    assert (said[0], said[-1]) == (least, most)
    assert set(names) == {
        str(shelf_name(shelf))
        for shelf in pattern.shopping.shelves
        if shelf.kind not in (ShelfKind.CLOTH, ShelfKind.WEB)
    }
    page.locator("#buy > .fold > summary").click()

"""Words on a ready garment: what is bought, whence they are measured, what is not spoken of; figured by hand."""

from __future__ import annotations

import io
import json
import math
import re
from fractions import Fraction
from typing import Any

import pytest
from pypdf import PdfReader

from applique.cloth import UseKind
from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.instructions import instructions_of
from applique.instructions.values import ChapterKind
from applique.pack import pack_files
from applique.pattern import Pattern, draft, sketch
from applique.quilt.scene import ThingKind
from applique.reports.data import pattern_json
from applique.sewing.stabilizer import StabilizerKind
from applique.shopping import ShelfKind
from tests.chapters import chapter_of, said_in

GARMENT: dict[str, Any] = {
    "finish": "garment",
    "panel": {"width": "13in", "height": "6in", "margin": "1/4in", "fabric": "Gray"},
    "garment": {"drop": "3 1/2in"},
    "lettering": {"font": "Fredoka", "cap_height": "3in", "fabric": "Rust"},
    "row": [{"text": "wren", "baseline": "4in"}],
    "fabric": [{"name": "Gray", "color": "#c9ccd0"}, {"name": "Rust", "color": "#9a4326"}],
    "quilting": [{"kind": "echo"}],
    "hanging": {"sleeve": True},
}


@pytest.fixture(scope="module")
def worn() -> Pattern:
    return draft(design_from_mapping(GARMENT))


@pytest.fixture(scope="module")
def printed(worn: Pattern) -> dict[str, str]:
    """The words of each file that is read, on one line."""
    files = pack_files(worn)
    texts = {
        name: "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(content)).pages)
        for name, content in files.items()
        if name.endswith(".pdf")
    }
    page = re.sub(r"<(style|script).*?</\1>", "", files["sew-along.html"].decode(), flags=re.DOTALL)
    texts |= {"summary.md": files["summary.md"].decode(), "sew-along.html": re.sub(r"<[^>]*>", " ", page)}
    return {name: " ".join(text.split()) for name, text in texts.items()}


def test_only_letters_and_what_holds_them_are_bought(worn: Pattern) -> None:
    """By hand: one fabric, of which only letters are cut; web, stabilizer, thread for the letters alone, notions."""
    assert [buy.fabric.name for buy in worn.shopping.cloth] == ["Rust"]
    assert [use.kind for buy in worn.shopping.cloth for use in buy.uses] == [UseKind.LETTERS]
    assert [shelf.kind for shelf in worn.shopping.shelves] == [
        ShelfKind.CLOTH, ShelfKind.WEB, ShelfKind.STABILIZER, ShelfKind.THREAD, ShelfKind.NOTIONS,
    ]  # fmt: skip
    assert len(worn.threads) == 1 and worn.threads[0].seams is None
    assert not worn.quilting


def test_the_yards_that_are_cut_are_those_of_the_letters(worn: Pattern) -> None:
    """By hand: what the letters are nested on, and 1 in squared off at either end, up to the next 1/8 yd (4 1/2 in)."""
    (buy,) = worn.shopping.cloth
    assert buy.cutting.letters is not None
    (block,) = buy.cutting.letters.blocks
    assert buy.used in (block.block.length, block.block.width)
    assert buy.buy == math.ceil((buy.used + 2) / Fraction(9, 2)) * Fraction(9, 2)


def test_baselines_are_below_the_point_and_not_below_an_edge(worn: Pattern, printed: dict[str, str]) -> None:
    """By hand: the top of the panel is 3 1/2 in below the neckline, the baseline 4 in below that top: 7 1/2 in."""
    (mark,) = worn.marks
    assert math.isclose(mark.baseline_from_top, 7.5)
    assert "baseline 7 1/2 in below the front neckline" in printed["placement-guide.pdf"].replace("⁄", "/")
    assert (
        "| baseline below the front neckline |" in printed["summary.md"]
        and "| 7 1/2 in |" in printed["summary.md"]
    )
    placing = said_in(chapter_of(worn, ChapterKind.PLACING))
    assert "side seam on side seam" in placing and "measured down from the front neckline" in placing


def test_a_point_of_her_own_is_called_as_she_calls_it(worn: Pattern) -> None:
    own = {"drop": "5in", "point": "the shoulder seam"}
    pattern = sketch(design_from_mapping({**GARMENT, "garment": own})).panel
    assert pattern.worn is not None and pattern.worn.point == "the shoulder seam"
    assert pattern.measured_from == 11
    usual = sketch(design_from_mapping({key: one for key, one in GARMENT.items() if key != "garment"})).panel
    assert usual.worn is not None and usual.worn.drop == 3


def test_the_data_name_the_point_and_nothing_that_is_not_cut(worn: Pattern) -> None:
    data = json.loads(pattern_json(worn))
    assert data["rows"][0]["baseline_below_point"] == 7.5 and "baseline_below_cut_top" not in data["rows"][0]
    assert data["panel"]["cut"] is data["panel"]["trimmed"] is data["quilt"]["backing"] is None


def test_stabilizer_and_cut_sizes_are_told_as_the_garment_takes_them(worn: Pattern) -> None:
    assert {need.kind for need in worn.stitching.stabilizers} == {StabilizerKind.TEAR_AWAY}
    finishing = said_in(chapter_of(worn, ChapterKind.FINISHING))
    assert "On knit fabric, where you took cut-away stabilizer instead" in finishing
    assert "such as the panel" not in said_in(chapter_of(worn, ChapterKind.CUTTING))


def test_letters_lie_as_on_a_panel_that_is_cut(worn: Pattern) -> None:
    quilt = sketch(design_from_mapping({**GARMENT, "finish": "quilt"})).panel
    assert [cut.place for cut in worn.panel.cuts] == [cut.place for cut in quilt.cuts]


@pytest.mark.parametrize(
    "word", ["batting", "backing", "binding", "border", "quilt", "cut top", "cut side", "trim it"]
)
def test_nothing_of_a_quilt_is_spoken_of(printed: dict[str, str], word: str) -> None:
    left_out = "Not reckoned: the garment itself, backing, batting, quilting, binding, and label."
    assert left_out in printed["pattern.pdf"] and left_out in printed["summary.md"]
    for name, text in printed.items():
        said = text.replace(left_out, "").replace("quilting cotton", "")
        found = said.lower().find(word)
        assert found < 0, (name, said[found - 60 : found + 60])


def test_no_label_is_printed(printed: dict[str, str]) -> None:
    assert "quilt-label.pdf" not in printed and "quilt-label.pdf" not in printed["pattern.pdf"]


def test_knits_sleepwear_and_the_label_of_the_garment_are_spoken_of(worn: Pattern) -> None:
    needed = said_in(chapter_of(worn, ChapterKind.NEEDED))
    assert "ballpoint or stretch needle" in needed and "cut-away stabilizer in place of tear-away" in needed
    assert "Wash and dry the garment once as its label says" in said_in(chapter_of(worn, ChapterKind.BEFORE))
    care = said_in(chapter_of(worn, ChapterKind.CARE))
    assert "as its own label" in care
    kinds = {chapter.kind for chapter in instructions_of(worn).chapters}
    assert not kinds & {ChapterKind.TRIMMING, ChapterKind.BORDERS, ChapterKind.LAYERING, ChapterKind.QUILTING}


def test_it_is_drawn_on_a_front_at_its_drop(worn: Pattern) -> None:
    """By hand: the lowest point of the neckline is 3 1/2 in below the shoulders, the panel 3 1/2 in below that."""
    front = next(thing for thing in worn.quilt.scene.things if thing.kind is ThingKind.FRONT)
    (shape,) = front.parts
    shoulder = shape.bounds[3]
    assert math.isclose(shoulder - worn.quilt.scene.quilt[3], 7.0)
    assert math.isclose(sum(shape.bounds[::2]) / 2, sum(worn.quilt.scene.quilt[::2]) / 2)


@pytest.mark.parametrize(
    ("more", "kind"),
    [
        ({"border": [{"kind": "strip", "width": "2in", "fabrics": ["Rust"]}]}, "border-on-a-garment"),
        ({"panel": {"width": "13in", "height": "6in", "trim_after": "1in"}}, "trimmed-garment"),
    ],
)
def test_what_needs_a_panel_of_its_own_is_refused(more: dict[str, Any], kind: str) -> None:
    with pytest.raises(Refusal) as refused:
        design_from_mapping({**GARMENT, **more})
    assert [problem.kind for problem in refused.value.problems] == [kind]


def test_turned_letters_speak_of_no_web() -> None:
    design = design_from_mapping({**GARMENT, "sewing": {"method": "turned edge"}})
    pattern = draft(design)
    told = " ".join(said_in(chapter) for chapter in instructions_of(pattern).chapters)
    assert "side seam on side seam" in told
    assert "fusible" not in told.replace("soft fusible lining", "") and "the maker of the web" not in told

"""Letters alone: what is bought and cut, figured by hand; what they are measured from; what is not spoken of."""

from __future__ import annotations

import io
import json
import math
import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from applique.cli import main
from applique.cloth import UseKind
from applique.design import Finish, design_from_mapping, read_design
from applique.drawings import Drawing, Shape
from applique.errors import Refusal
from applique.instructions import instructions_of
from applique.instructions.values import ChapterKind
from applique.pack import pack_files
from applique.pattern import Pattern, draft, sketch
from applique.quilt.scene import ThingKind
from applique.sewing.findings import FindingKind
from applique.shopping import ShelfKind
from applique.words.instructions.stitching import order_drawn_said
from applique.words.quilt import MADE
from tests.chapters import chapter_of, drawings_of, said_in

SAMPLE = Path(__file__).parents[2] / "samples" / "stall.toml"
LOOSE: dict[str, Any] = {
    "finish": "letters only",
    "panel": {"width": "30in", "height": "12in"},
    "lettering": {"font": "Fredoka", "cap_height": "2in", "align": "left"},
    "row": [{"text": "so", "turn": 15}, {"text": "far"}],
    "fabric": [{"name": "Pale", "color": "#fdfdf0"}],
}


@pytest.fixture(scope="module")
def loose() -> Pattern:
    return draft(read_design(SAMPLE))


@pytest.fixture(scope="module")
def files(loose: Pattern) -> dict[str, bytes]:
    return dict(pack_files(loose))


@pytest.fixture(scope="module")
def printed(files: dict[str, bytes]) -> dict[str, str]:
    """The words of each file that is read, on one line."""
    texts = {
        name: "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(content)).pages)
        for name, content in files.items()
        if name.endswith(".pdf")
    }
    page = re.sub(r"<(style|script).*?</\1>", "", files["sew-along.html"].decode(), flags=re.DOTALL)
    texts |= {"summary.md": files["summary.md"].decode(), "sew-along.html": re.sub(r"<[^>]*>", " ", page)}
    return {name: " ".join(text.split()).replace("⁄", "/") for name, text in texts.items()}


def test_what_is_bought_and_cut_is_the_table_of_an_editor(loose: Pattern) -> None:
    """By hand, in inches. Of either fabric letters alone are cut: their length, 1 squared off at each end, 3 % shrunk
    away, up to the next 1/8 yd. Web: a quarter more, up to the next 1/8 yd. Stabilizer: a piece behind each row, 1
    beyond its letters all around and up to the next 1/8, side by side on 20, up to the next 1/8 yd."""
    eighth = Fraction(9, 2)
    assert [shelf.kind for shelf in loose.shopping.shelves] == [
        ShelfKind.CLOTH, ShelfKind.WEB, ShelfKind.STABILIZER, ShelfKind.THREAD, ShelfKind.NOTIONS,
    ]  # fmt: skip
    assert {buy.fabric.name: [use.kind for use in buy.uses] for buy in loose.shopping.cloth} == {
        "Plum": [UseKind.LETTERS],
        "Leaf": [UseKind.LETTERS],
    }
    for buy in loose.shopping.cloth:
        assert buy.buy == math.ceil((buy.used + 2) / Fraction(97, 100) / eighth) * eighth == 9
    assert loose.fusible.buy == math.ceil(loose.fusible.used * Fraction(5, 4) / eighth) * eighth == 9
    pieces = [
        tuple(Fraction(math.ceil((high - low + 2) * 8), 8) for low, high in ((x0, x1), (y0, y1)))
        for x0, y0, x1, y1 in (row.ink for row in loose.panel.rows)
    ]
    (stabilizer,) = loose.stitching.stabilizers
    assert [(row.stabilizer.width, row.stabilizer.height) for row in loose.stitching.rows] == pieces
    assert stabilizer.buy == math.ceil(sum(high for _, high in pieces) / eighth) * eighth
    assert len(loose.threads) == 2 and all(thread.seams is None for thread in loose.threads)
    assert loose.quilt.panel_cut is None and not loose.quilt.borders and not loose.quilting


def test_all_is_measured_from_two_lines_of_its_own(loose: Pattern, printed: dict[str, str]) -> None:
    """By hand: the panel of 10 in has two rows whose inks share what is left of it; only their distance counts here."""
    first, second = loose.panel.rows
    assert [round(mark.baseline_from_top, 9) for mark in loose.marks] == [
        0,
        round(first.baseline - second.baseline, 9),
    ]
    across = max(row.ink[2] for row in loose.panel.rows) - min(row.ink[0] for row in loose.panel.rows)
    width, height = loose.sketch.made_size
    assert abs(float(width) - across) <= 1 / 32
    assert abs(float(height) - (first.ink[3] - second.ink[1])) <= 1 / 32
    assert "baseline 0 in below the first line" in printed["placement-guide.pdf"]
    assert "| baseline below the first line |" in printed["summary.md"]
    assert "no edge comes into it" in said_in(chapter_of(loose, ChapterKind.PLACING))


def test_no_distance_is_above_the_first_line_and_words_lie_about_the_center() -> None:
    """Aligned to the left on a wide panel, the first row slanting upward to the right."""
    sketched = sketch(design_from_mapping(LOOSE))
    slanting, level = sketched.panel.rows
    line = float(sketched.panel.measured_from)
    highest = max(y for _, y in slanting.baseline_path)
    assert line == pytest.approx(highest) and line > level.baseline
    reach = sketched.reach
    assert reach.left == reach.right and abs(reach.width - 2 * reach.left) <= Fraction(1, 16)


def test_contrast_is_judged_against_a_fabric_that_is_named() -> None:
    row = [{"text": "so"}]
    unknown = draft(design_from_mapping({**LOOSE, "row": row}))
    assert FindingKind.CONTRAST not in {finding.kind for finding in unknown.findings}
    white = [*LOOSE["fabric"], {"name": "Bag", "color": "#ffffff"}]
    known = draft(
        design_from_mapping(
            {**LOOSE, "row": row, "fabric": white, "panel": {**LOOSE["panel"], "fabric": "Bag"}}
        )
    )
    assert FindingKind.CONTRAST in {finding.kind for finding in known.findings}


@pytest.mark.parametrize(
    "word",
    ["batting", "backing", "binding", "border", "quilt", "cut top", "cut side", "trim it", "panel cut"],
)
def test_nothing_of_a_quilt_is_spoken_of(printed: dict[str, str], word: str) -> None:
    left_out = (
        "Not reckoned: what the letters are sewn onto, panel, backing, batting, quilting, binding, and label."
    )
    assert left_out in printed["pattern.pdf"] and left_out in printed["summary.md"]
    for name, text in printed.items():
        said = text.replace(left_out, "").replace("quilting cotton", "")
        found = said.lower().find(word)
        assert found < 0, (name, said[found - 60 : found + 60])


def test_no_drawing_has_a_frame_around_what_nobody_makes(loose: Pattern) -> None:
    """The letters under the press cloth, the order of the rows, and the letters to color in, with the edge of the
    panel where one is made."""
    top = draft(replace(loose.design, finish=Finish.TOP, panel=replace(loose.design.panel, fabric="Plum")))
    assert [_framed(drawing) for drawing in _in_lines(loose)] == [False] * 3
    assert [_framed(drawing) for drawing in _in_lines(top)] == [True] * 3


def _in_lines(pattern: Pattern) -> list[Drawing]:
    placing, stitching, coloring = (
        drawings_of(chapter_of(pattern, kind))
        for kind in (ChapterKind.PLACING, ChapterKind.STITCHING, ChapterKind.COLORING)
    )
    (order,) = [one for one in stitching if one.said == order_drawn_said()]
    return [placing[-1], order, coloring[0]]


def _framed(drawing: Drawing) -> bool:
    """Whether something with an edge lies in its lower left corner and is as high as the drawing."""
    boxes = [mark.outline.bounds() for mark in drawing.marks if isinstance(mark, Shape) and mark.ink]
    return any(max(x0, y0) < 1 and y1 > drawing.height - 2 for x0, y0, _, y1 in boxes)


def test_the_data_name_what_baselines_are_measured_from(files: dict[str, bytes]) -> None:
    data = json.loads(files["pattern.json"])
    assert data["rows"][0]["baseline_below_first_line"] == 0
    assert "baseline_below_cut_top" not in data["rows"][0]
    assert data["panel"]["cut"] is data["panel"]["trimmed"] is data["quilt"]["backing"] is None
    assert data["quilt"]["batting"] is data["quilt"]["trimmed"] is data["quilt"]["panel_cut"] is None
    assert data["quilt"]["class"]["words"] == "letters" and "quilt-label.pdf" not in files


def test_the_command_says_what_is_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    assert set(MADE) == set(Finish)
    file = tmp_path / "i.toml"
    file.write_text('finish = "letters only"\n[lettering]\ncap_height = "2in"\n[[row]]\ntext = "I"\n')
    done = CliRunner().invoke(main, ["make", str(file), "-o", str(tmp_path / "i"), "--effort", "quick"])
    assert done.exit_code == 0, done.output
    assert re.search(r"^  words .* by 2 in", done.output, re.MULTILINE) and "quilt" not in done.output


def test_it_is_sewn_on_through_one_layer_or_handed_on(loose: Pattern) -> None:
    assert "one layer alone" in said_in(chapter_of(loose, ChapterKind.STITCHING))
    finishing = said_in(chapter_of(loose, ChapterKind.FINISHING))
    assert "Leave the paper on the web" in finishing
    kinds = {chapter.kind for chapter in instructions_of(loose).chapters}
    assert not kinds & {ChapterKind.TRIMMING, ChapterKind.BORDERS, ChapterKind.LAYERING, ChapterKind.QUILTING}
    assert [thing.kind for thing in loose.quilt.scene.things] == [ThingKind.PERSON]


@pytest.mark.parametrize(
    ("more", "kind"),
    [
        ({"border": [{"kind": "strip", "width": "2in", "fabrics": ["Pale"]}]}, "around-letters-alone"),
        ({"binding": {"fabric": "Pale"}}, "around-letters-alone"),
        ({"backing": {"fabric": "Pale"}}, "around-letters-alone"),
        ({"quilting": [{"kind": "echo"}]}, "around-letters-alone"),
        ({"hanging": {"sleeve": True}}, "around-letters-alone"),
        ({"panel": {"width": "30in", "height": "12in", "trim_after": "1in"}}, "trimmed-letters"),
    ],
)
def test_what_needs_a_panel_is_refused(more: dict[str, Any], kind: str) -> None:
    with pytest.raises(Refusal) as refused:
        design_from_mapping({**LOOSE, **more})
    assert [problem.kind for problem in refused.value.problems] == [kind]


def test_what_is_left_out_is_not_refused() -> None:
    left_out = {"left_out": True}
    design_from_mapping({**LOOSE, "binding": left_out, "backing": left_out, "batting": left_out})

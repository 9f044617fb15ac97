"""Several panels in one design: one pattern for all, equal to as many designs of one panel."""

from __future__ import annotations

import json
import math
import random
import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from applique.batch.filling import check_placeholders
from applique.design import Design, design_from_mapping, design_text, read_design
from applique.drawings import Words
from applique.errors import Refusal
from applique.geometry.outline import Outline
from applique.instructions import instructions_of
from applique.instructions.values import ChapterKind
from applique.pattern import Pattern, draft
from applique.pieces import Template, cut_templates
from applique.preview import preview_svg
from applique.reports import pattern_json, summary_md
from applique.sewing.checks import check_panel
from applique.sewing.cures import cures
from applique.sewing.placed import Placed, place
from applique.sheets import pattern_pdf, placement_guide_pdf
from tests.chapters import chapter_of, said_in, steps_of

SAMPLE = Path(__file__).parents[2] / "samples" / "harbor-flags.toml"
FABRICS = [{"name": "Ink", "color": "#223355"}, {"name": "Red", "color": "#aa3322"}]


def _design(*blocks: Any, **tables: Any) -> Design:
    data: dict[str, Any] = {
        "finish": "top only",
        "panel": {"width": "12in", "height": "10in", "margin": "1in"},
        "lettering": {"font": "Rubik", "cap_height": "2in"},
        "fabric": FABRICS,
        "block": [_block(block) for block in blocks],
    }
    return design_from_mapping({**data, **tables})


def _block(block: Any) -> dict[str, Any]:
    return block if isinstance(block, dict) else {"name": block, "row": [{"text": block}]}


def _cut(design: Design) -> tuple[Template, ...]:
    placed = place(design)
    return cut_templates(design, placed.panel.laid, placed.outlines, placed.panel.made)


def _counted(templates: tuple[Template, ...], times: int = 1) -> Counter[tuple[str, Outline, str]]:
    """How many of each outline are cut from each fabric."""
    found: Counter[tuple[str, Outline, str]] = Counter()
    for template in templates:
        for use in template.uses:
            found[template.text, template.outline, use.fabric.name] += use.count * times
    return found


def _alone(design: Design) -> Counter[tuple[str, Outline, str]]:
    """The same of every block as a design of its own, as often as it is made."""
    found: Counter[tuple[str, Outline, str]] = Counter()
    for block, one in zip(design.block, design.blocks_alone, strict=True):
        found += _counted(_cut(one), block.count)
    return found


@pytest.fixture(scope="module")
def flags() -> Pattern:
    return draft(
        _design(
            {"name": "Tide", "count": 2, "row": [{"text": "TIE"}]},
            {"name": "Eddy", "row": [{"text": "ED"}, {"text": "IT", "fabric": "Red"}]},
            {"name": "Low Water", "width": "16in", "row": [{"text": "TIDE"}]},
            panel={"width": "9in", "height": "11in", "margin": "1in", "fabric": "Sand"},
            fabric=[*FABRICS, {"name": "Sand", "color": "#efe3c8"}],
        )
    )


@pytest.fixture(scope="module")
def each(flags: Pattern) -> tuple[Pattern, ...]:
    return tuple(draft(one) for one in flags.design.blocks_alone)


def _pages(content: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(content)
    return [re.sub(r"\s+", " ", page.get_textpage().get_text_range()) for page in document]


# As many designs


def test_twelve_blocks_are_cut_like_twelve_designs() -> None:
    design = read_design(SAMPLE)
    templates = _cut(design)
    assert sum(block.count for block in design.block) == 12
    assert _counted(templates) == _alone(design)
    assert len({(one.text, one.outline) for one in templates}) == len(templates)
    assert [template.number for template in templates] == list(range(1, len(templates) + 1))


def test_together_they_need_no_more_than_apart(flags: Pattern, each: tuple[Pattern, ...]) -> None:
    times = [block.count for block in flags.design.block]
    web = sum(one.fusible.used * count for one, count in zip(each, times, strict=True))
    assert flags.fusible.used <= web
    bought: dict[str, Fraction] = defaultdict(Fraction)
    for one, count in zip(each, times, strict=True):
        for buy in one.shopping.cloth:
            bought[buy.fabric.name] += buy.cutting.rule.buy * count
    for buy in flags.shopping.cloth:
        assert 0 < buy.cutting.rule.buy <= bought[buy.fabric.name]


def test_panels_are_cut_by_their_size_as_often_as_blocks_are_made(flags: Pattern) -> None:
    """9 by 11 in and a seam allowance of 1/4 in on every side are 9 1/2 by 11 1/2 in; of four one is 16 in wide."""
    sand = next(buy for buy in flags.shopping.cloth if buy.fabric.name == "Sand")
    cut = {(one.length, one.width): one.count for use in sand.uses for one in use.strips}
    high = Fraction(23, 2)
    assert cut == {(high, Fraction(19, 2)): 3, (high, Fraction(33, 2)): 1}


def test_stitching_is_that_of_every_block_as_often_as_it_is_made(
    flags: Pattern, each: tuple[Pattern, ...]
) -> None:
    rows = iter(flags.stitching.rows)
    around = 0.0
    for block, one in zip(flags.design.block, each, strict=True):
        around += block.count * 2 * float(sum(one.quilt.finished))
        for own in one.stitching.rows:
            row = next(rows)
            assert row.edge == pytest.approx(block.count * own.edge)
            assert row.stabilizer == own.stabilizer
    pieces = sum(block.count * len(block.row) for block in flags.design.block)
    assert sum(len(need.tables) for need in flags.stitching.stabilizers) == pieces
    assert float(flags.quilt.around) == pytest.approx(around)


def test_rows_of_a_block_are_marked_as_on_a_panel_of_its_own(
    flags: Pattern, each: tuple[Pattern, ...]
) -> None:
    marks = iter(flags.marks)
    for one in each:
        for own in one.marks:
            mark = next(marks)
            assert (mark.text, mark.downs, mark.left, mark.right) == (
                own.text,
                own.downs,
                own.left,
                own.right,
            )
            assert [letter.middle for letter in mark.letters] == [letter.middle for letter in own.letters]
            assert [flags.template(letter.template).text for letter in mark.letters] == [
                letter.text for letter in own.letters
            ]


@pytest.mark.parametrize("seed", range(4))
def test_however_words_are_split_into_blocks_the_letters_are_the_same(seed: int) -> None:
    chance = random.Random(seed)
    words = ["TIDE", "OAR", "KNOT", "NET", "ROPE", "LEE"]
    chance.shuffle(words)
    rows = [
        {"text": word, "fabric": chance.choice(["Ink", "Red"]), "turn": chance.choice([0, 0, 15])}
        for word in words
    ]
    cuts = sorted(chance.sample(range(1, len(rows)), chance.randint(0, 3)))
    split = [rows[start:end] for start, end in zip([0, *cuts], [*cuts, len(rows)], strict=True)]
    counts = [chance.randint(1, 3) for _ in split]
    design = _design(
        *(
            {"name": f"Block {number}", "count": count, "row": part}
            for number, (part, count) in enumerate(zip(split, counts, strict=True), 1)
        ),
        panel={"width": "14in", "height": "30in", "margin": "1in"},
        sewing={"method": chance.choice(["raw edge", "turned edge"])},
    )
    assert _counted(_cut(design)) == _alone(design)


# Where they lie


def _each(placed: Placed) -> Iterator[tuple[Any, Any]]:
    """Every row where it lies beside the others, and where it lies on its own panel moved there."""
    rows = iter(placed.panel.rows)
    for block in placed.several:
        for row in block.placed.panel.rows:
            yield next(rows), (block, row)


def test_shown_side_by_side_a_turned_row_lies_as_on_its_panel() -> None:
    placed = place(_design("OAR", {"name": "Tide", "row": [{"text": "TIDE", "turn": 20}]}, "NET"))
    for shown, (block, row) in _each(placed):
        at = block.at
        assert shown.number == row.number
        for point, own in zip(shown.baseline_path, row.baseline_path, strict=True):
            assert point == pytest.approx(at.point(own))
        for cut, same in zip(shown.cuts, row.cuts, strict=True):
            assert cut.place.point((0.3, 0.7)) == pytest.approx(at.point(same.place.point((0.3, 0.7))))
            assert shown.turned.point(cut.upright.point((0.3, 0.7))) == pytest.approx(
                cut.place.point((0.3, 0.7))
            )
        (x0, y0, _, _), (own_x0, own_y0, _, _) = shown.outline.bounds(), row.outline.bounds()
        assert (x0, y0) == pytest.approx(at.point((own_x0, own_y0)))


def test_blocks_keep_apart_where_they_are_shown() -> None:
    placed = place(
        _design("OAR", "NET", "LEE", "BOW", {"name": "W", "width": "20in", "row": [{"text": "WE"}]})
    )
    boxes = [
        (
            one.at.x,
            one.at.y,
            one.at.x + float(one.placed.panel.width),
            one.at.y + float(one.placed.panel.height),
        )
        for one in placed.several
    ]
    for index, (x0, y0, x1, y1) in enumerate(boxes):
        assert x0 >= 0 and x1 <= float(placed.panel.width) and y1 <= float(placed.panel.height)
        for a0, b0, a1, b1 in boxes[index + 1 :]:
            assert math.hypot(max(a0 - x1, x0 - a1, 0), max(b0 - y1, y0 - b1, 0)) >= 4


def test_what_is_too_near_the_seam_of_a_block_is_found_on_it() -> None:
    near = {"name": "Near", "row": [{"text": "OAR", "up": "3 7/8in"}]}
    design = _design(
        "NET", near, panel={"width": "12in", "height": "10in", "margin": "0in"}, stitching={"width": "4mm"}
    )
    checks = check_panel(place(design))
    alone = [check_panel(place(one)).findings for one in design.blocks_alone]
    assert [(one.kind, one.measure) for one in checks.findings] == [
        (one.kind, one.measure) for found in alone for one in found
    ]
    assert {finding.kind.value for finding in checks.findings if finding.row == 2} >= {"close to the seam"}, (
        checks.findings
    )
    assert all(not list(cures(checks, finding)) for finding in checks.findings)


# What a maker reads


def test_every_block_has_its_page_of_the_guide(flags: Pattern) -> None:
    pages = _pages(placement_guide_pdf(flags))
    assert len(pages) == len(flags.design.block)
    for page, block, view in zip(pages, flags.design.block, flags.blocks, strict=True):
        assert f"Block “{block.name}”" in page
        assert (f"make {block.count}" in page) is (block.count > 1)
        for mark in view.marks:
            assert f"Row {mark.where.row} · {mark.text}" in page


def test_the_booklet_says_how_many_of_which_size_and_for_which_block(flags: Pattern) -> None:
    words = " ".join(_pages(pattern_pdf(flags, instructions_of(flags))))
    assert "4 blocks, each made by itself: 3 finished 9 in by 11 in and 1 finished 16 in by 11 in." in words
    assert "is for 2 × Tide and Eddy: each" in words
    assert "is for Low Water: each" in words
    for block in flags.design.block:
        assert f"Block “{block.name}”" in words
    assert "Make 2 × Tide: edge" in words
    assert "to scale" not in words.lower()
    assert [one.design.row for one in flags.blocks] == [block.row for block in flags.design.block]


@pytest.mark.parametrize("finish", ["quilt", "top only", "banner", "pillow", "garment", "letters only"])
def test_nothing_is_said_of_blocks_where_there_is_one_panel(finish: str) -> None:
    """It was: “Do this on each of the 0 blocks”."""
    design = {"finish": finish, "row": [{"text": "TIDE"}], "panel": {"width": "16in", "height": "16in"}}
    if finish == "quilt":
        design |= {"border": [{"kind": "strip", "fabrics": ["Red"]}], "fabric": FABRICS}
    pattern = draft(design_from_mapping(design))
    told = " ".join(said_in(chapter) for chapter in instructions_of(pattern).chapters)
    assert "Stitch" in told
    assert not re.findall(r"\bblocks\b|\b(?:each|every|this) block\b|\bBlock\b", told)


def test_the_center_line_is_told_once_for_blocks_that_are_cut_alike() -> None:
    for other, times in (({}, 1), ({"width": "13in"}, 2)):
        design = _design("TIDE", {"name": "Oar", "row": [{"text": "OAR"}], **other})
        steps = steps_of(chapter_of(draft(design), ChapterKind.PLACING))
        folds = [step for step in steps if str(step.said[0]).startswith("Fold ")]
        assert len(folds) == times
        whose = "Fold each block in half" if times == 1 else "Fold the panel in half"
        assert all(whose in str(step.said[0]) for step in folds)
        assert all("from either cut side edge" in str(step.said[0]) for step in folds)


def test_stabilizer_is_drawn_on_the_block_with_the_most_rows_and_told_of_all(flags: Pattern) -> None:
    chapter = chapter_of(flags, ChapterKind.STITCHING)
    (step,) = [
        one for one in steps_of(chapter) if "Center a piece of stabilizer" in " ".join(map(str, one.said))
    ]
    assert "The picture shows “Eddy”; lay the pieces of the other blocks the same way" in str(step.said[-1])
    assert step.drawing is not None
    drawn = [str(words.said) for words in step.drawing.marks if isinstance(words, Words)]
    assert [text.split(":")[0].split()[0] for text in drawn if " by " in text] == ["2", "3"]


def test_a_panel_that_draws_in_is_trimmed_block_by_block() -> None:
    """Under satin stitch a panel is cut 1 in larger: 13 1/2 by 11 1/2 in, trimmed to 12 1/2 by 10 1/2 in."""
    satin = {"name": "Satin", "row": [{"text": "OA", "stitch": "satin"}]}
    pattern = draft(_design(satin, "NE"))
    words = " ".join(_pages(pattern_pdf(pattern, instructions_of(pattern))))
    (trimmed, plain) = pattern.quilt.blocks
    assert trimmed.cut.width - trimmed.cut.trimmed[0] == 1
    assert plain.cut.width == plain.cut.trimmed[0]
    summary = summary_md(pattern).decode()
    assert "| Satin | 1 | 12 in by 10 in | 13 1/2 in by 11 1/2 in | 12 1/2 in by 10 1/2 in | 1 |" in summary
    assert "| NE | 1 | 12 in by 10 in | 12 1/2 in by 10 1/2 in | 12 1/2 in by 10 1/2 in | 2 |" in summary
    assert words.count("Mark the side edges") == words.count("Square up each block and measure it") == 1
    assert "2 blocks, finished 12 in by 10 in, each made by itself." in words
    assert "as often as they are made" not in words and "stabilizer of its own" not in words


def test_the_summary_and_the_data_name_every_block(flags: Pattern) -> None:
    summary = summary_md(flags).decode()
    data = json.loads(pattern_json(flags))
    assert "| Tide | 2 | 9 in by 11 in | 9 1/2 in by 11 1/2 in | 9 1/2 in by 11 1/2 in | 1 |" in summary
    assert [(one["name"], one["count"]) for one in data["blocks"]] == [
        (block.name, block.count) for block in flags.design.block
    ]
    assert [row for one in data["blocks"] for row in one["rows"]] == [row["number"] for row in data["rows"]]
    assert "panel" not in data and "finished" not in data["quilt"]
    assert [row["text"] for row in data["rows"]] == [row.text for row in flags.design.rows]


def test_the_preview_shows_every_panel(flags: Pattern) -> None:
    drawn = preview_svg(flags).decode()
    assert sum(item.key.startswith("panel") for item in flags.picture.items) == len(flags.design.block)
    assert drawn.count("#efe3c8") == len(flags.design.block)


# The design file


def test_a_design_of_blocks_is_written_as_it_was_read(tmp_path: Path, flags: Pattern) -> None:
    file = tmp_path / "again.toml"
    file.write_text(design_text(flags.design), "utf-8")
    assert read_design(file) == flags.design


def test_what_a_block_does_not_say_the_panel_says() -> None:
    wide = {"name": "Wide", "width": "20in", "row": [{"text": "WIDE"}]}
    first, second = _design("OAR", wide).blocks_alone
    assert [first.panel.width, first.panel.height] == [12, 10]
    assert [second.panel.width, second.panel.height] == [20, 10]
    assert second.panel.margin == first.panel.margin == 1


def _refused(*blocks: Any, **tables: Any) -> dict[str, str]:
    with pytest.raises(Refusal) as refused:
        draft(_design(*blocks, **tables))
    return {problem.kind: str(problem.where) for problem in refused.value.problems}


@pytest.mark.parametrize("finish", ["quilt", "pillow", "banner", "garment"])
def test_blocks_are_not_set_together_yet(finish: str) -> None:
    with pytest.raises(Refusal, match="does not say how its blocks are set together"):
        _design("OAR", finish=finish)


def test_rows_beside_blocks_are_refused_with_what_to_do() -> None:
    with pytest.raises(Refusal, match=r"in no block.*\n.*\[\[block\.row\]\]"):
        _design("OAR", row=[{"text": "NET"}])


@pytest.mark.parametrize(
    ("key", "tables"),
    [
        ("border", {"border": [{"kind": "strip", "fabrics": ["Ink"]}]}),
        ("quilting", {"quilting": [{"kind": "echo"}]}),
        ("also", {"sewing": {"also": "turned edge"}}),
        ("offers", {"stitching": {"offers": ["satin"]}}),
        ("full_size_guide", {"paper": {"full_size_guide": True}}),
        ("copy_shop", {"paper": {"copy_shop": "24in"}}),
        ("projector", {"paper": {"projector": True}}),
        ("stated", {"stated": [{"part": "panel", "pieces": 1}]}),
    ],
)
def test_what_is_of_one_panel_is_refused_beside_blocks(key: str, tables: dict[str, Any]) -> None:
    assert key in _refused("OAR", **tables)["not-of-blocks-yet"]
    assert "not-of-blocks-yet" not in _kinds_alone(tables)


def _kinds_alone(tables: dict[str, Any]) -> set[str]:
    try:
        design_from_mapping({"row": [{"text": "OAR"}], "fabric": FABRICS, **tables})
    except Refusal as refusal:
        return {problem.kind for problem in refusal.problems}
    return set()


def test_blocks_without_words_of_one_name_or_with_fussy_cuts_are_refused() -> None:
    fussy = {"name": "F", "row": [{"text": "OAR", "fussy": [{"letter": 1, "along": "1in", "across": "1in"}]}]}
    assert _refused("OAR", "oar", {"name": "Empty", "row": []}, fussy) == {
        "two-blocks-of-one-name": "block 2",
        "block-without-words": "block 3",
        "fussy-cut-in-a-block": "block 4, row 1, fussy",
    }


def test_a_row_that_does_not_fit_is_named_by_its_block() -> None:
    wide = {"name": "Wide", "row": [{"text": "OK"}, {"text": "MUCH TOO WIDE"}]}
    with pytest.raises(Refusal) as refused:
        draft(_design("OAR", wide))
    (problem,) = refused.value.problems
    assert problem.where.path[:4] == ("block", 2, "row", 2)


def test_a_block_wider_than_its_fabric_is_refused() -> None:
    wide = {"name": "Wide", "width": "60in", "height": "50in", "row": [{"text": "OAR"}]}
    assert _refused("NET", wide) == {"block-wider-than-fabric": "block 2"}


def test_a_list_of_names_fills_one_panel() -> None:
    with pytest.raises(Refusal, match="a list does not yet go with a design of several blocks"):
        check_placeholders({"block": [{"name": "A", "row": [{"text": "{name}"}]}]}, ["name"])
    check_placeholders({"row": [{"text": "{name}"}]}, ["name"])


def test_too_many_letters_are_counted_as_often_as_blocks_are_made() -> None:
    many = {"name": "Many", "count": 200, "row": [{"text": "A" * 51}]}
    assert "too-many-letters" in _refused(many)


# One panel


def test_a_design_of_one_panel_is_its_own_only_block() -> None:
    design = design_from_mapping({"row": [{"text": "OAR"}]})
    placed = place(design)
    assert design.blocks_alone == (design,)
    assert placed.panel.made == (1,)
    (block,) = placed.blocks
    assert (block.name, block.count, block.placed) == ("", 1, placed)


def test_the_same_rows_on_one_panel_are_the_same_templates() -> None:
    """A block made once is a panel, whatever it is called."""
    blocks = _design({"name": "One", "row": [{"text": "OAR"}, {"text": "NET"}]})
    (one,) = blocks.blocks_alone
    assert replace(one, row=()) == replace(blocks, block=())
    assert [(t.number, t.text, t.outline, t.count, t.in_rows) for t in _cut(blocks)] == [
        (t.number, t.text, t.outline, t.count, t.in_rows) for t in _cut(one)
    ]

"""Blocks set together into one top: where each lies, what is cut, what it measures, and the quilt around it."""

from __future__ import annotations

import json
import random
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import shapely
from shapely import affinity

from applique.cloth import UseKind, plan_cloth
from applique.cutting import Lie
from applique.design import Design, Finish, Setting, design_from_mapping, design_text, read_design
from applique.errors import Refusal
from applique.fabrics import resolve_fabrics
from applique.instructions import ChapterKind, instructions_of
from applique.instructions.values import Heading, Step
from applique.language import american
from applique.pattern import Pattern, draft, sketch
from applique.picture import Part
from applique.quilt.setting import SetPart, SettingPlan, plan_setting
from applique.quilt.strips import Join
from applique.quilt.whole import QuiltPlan
from applique.reports import pattern_json, summary_md
from applique.sewing.piecing import SeamKind, piecing_seams
from applique.sewing.placed import place
from applique.sheets import pattern_pdf
from applique.units import Units, cutting_step
from applique.words.instructions import setting as said
from tests.chapters import chapter_of, steps_of
from tests.cutter import Patch, SpoiledError, Strip, cut_lengths, measure, read, sew_lengths
from tests.cutter import join as join_strips

SAMPLES = Path(__file__).parents[2] / "samples"
FABRICS = [{"name": name, "color": "#223355"} for name in ("Ink", "Mist", "Red", "Moss")]
SEAM = Fraction(1, 4)
NONE = Fraction(0)


def _design(*blocks: Any, setting: dict[str, Any], **tables: Any) -> Design:
    data: dict[str, Any] = {
        "panel": {"width": "9in", "height": "7in", "margin": "1/2in"},
        "lettering": {"font": "Rubik", "cap_height": "1 1/2in"},
        "fabric": FABRICS,
        "setting": setting,
        "block": [
            block if isinstance(block, dict) else {"name": block, "row": [{"text": block}]}
            for block in blocks
        ],
    }
    return design_from_mapping({**data, **tables})


def _plan(
    rows: int,
    columns: int,
    size: tuple[Fraction, Fraction] = (Fraction(12), Fraction(9)),
    **keys: Any,
) -> SettingPlan:
    """A grid of equal blocks, planned without any words."""
    design = _design("A", setting={"columns": 1})
    return plan_setting(
        Setting(columns=columns, **keys),
        tuple(tuple(row * columns + column for column in range(columns)) for row in range(rows)),
        [size] * (rows * columns),
        size,
        resolve_fabrics(design),
        seam_allowance=SEAM,
        units=Units.INCHES,
    )


def _counted(plan: SettingPlan, part: SetPart) -> dict[tuple[Fraction, Fraction], int]:
    """How many of each cut size (width, length)."""
    found: Counter[tuple[Fraction, Fraction]] = Counter()
    for cut_for, cut in plan.cuts:
        if cut_for is part:
            for pieces in cut.pieces:
                found[cut.strip_width, pieces.length] += pieces.count
    return dict(found)


def _pages(content: bytes) -> str:
    document = pypdfium2.PdfDocument(content)
    return re.sub(r"\s+", " ", " ".join(page.get_textpage().get_text_range() for page in document))


@pytest.fixture(scope="module")
def harbor() -> Pattern:
    return draft(read_design(SAMPLES / "harbor-memory.toml"))


@pytest.fixture(scope="module")
def runner() -> Pattern:
    return draft(read_design(SAMPLES / "pier-runner.toml"))


def _setting_of(pattern: Pattern) -> SettingPlan:
    assert pattern.quilt.setting is not None
    return pattern.quilt.setting


# Closed forms: W = c·b + (c ± 1)·s


@pytest.mark.parametrize("rows", [1, 2, 4])
@pytest.mark.parametrize("columns", [1, 3])
@pytest.mark.parametrize("around", [False, True])
@pytest.mark.parametrize("stones", ["", "Red"])
def test_sizes_and_counts_are_their_closed_forms(rows: int, columns: int, around: bool, stones: str) -> None:
    """Finished W = c·b + (c ± 1)·s and H likewise; r·(c ± 1) upright pieces, (r ± 1)·c level ones and (r ± 1)·(c ± 1)
    cornerstones, or r ± 1 long strips: geometry."""
    s, (width, height) = Fraction(7, 4), (Fraction(12), Fraction(9))
    plan = _plan(rows, columns, (width, height), sashing=s, around=around, cornerstone_fabric=stones)
    up, level = (n + 1 if around else n - 1 for n in (columns, rows))
    assert plan.finished == (columns * width + up * s, rows * height + level * s)
    strip = s + 2 * SEAM
    expected: Counter[tuple[Fraction, Fraction]] = Counter()
    expected[strip, height + 2 * SEAM] += rows * up
    expected[strip, (width if stones else plan.finished[0]) + 2 * SEAM] += level * (columns if stones else 1)
    assert _counted(plan, SetPart.SASHING) == {size: count for size, count in expected.items() if count}
    cornered = level * up if stones else 0
    assert _counted(plan, SetPart.CORNERSTONES) == ({(strip, strip): cornered} if cornered else {})
    top = plan.finished[0] + 2 * SEAM, plan.finished[1] + 2 * SEAM
    assert plan.set_size == top
    edge = s if around else NONE
    assert [size[1] for size in plan.joined_sizes] == [
        edge + n * height + (n - 1) * s + 2 * SEAM for n in range(1, rows + 1)
    ]


@pytest.mark.parametrize("stones", ["", "Red"])
@pytest.mark.parametrize("around", [False, True])
def test_its_pieces_cover_the_top_once(stones: str, around: bool) -> None:
    plan = _plan(3, 2, sashing=Fraction(3, 2), around=around, cornerstone_fabric=stones)
    boxes = [
        shapely.box(float(x), float(y), float(x + wide), float(y + high))
        for (x, y), (wide, high) in [
            *((one.corner, one.size) for one in plan.patches),
            *((one.corner, one.size) for one in plan.places),
        ]
    ]
    whole = shapely.box(0.0, 0.0, float(plan.finished[0]), float(plan.finished[1]))
    assert shapely.union_all(boxes).symmetric_difference(whole).area < 1e-9
    assert sum(one.area for one in boxes) == pytest.approx(whole.area)


def test_each_patch_is_one_cut_piece_without_its_seams() -> None:
    plan = _plan(3, 2, sashing=Fraction(3, 2), around=True, cornerstone_fabric="Red")
    for part in SetPart:
        shown = Counter(
            tuple(sorted((side + 2 * SEAM) for side in patch.size))
            for patch in plan.patches
            if patch.part is part
        )
        cut: Counter[tuple[Fraction, ...]] = Counter()
        for size, count in _counted(plan, part).items():
            cut[tuple(sorted(size))] += count
        assert shown == cut


def test_seams_are_their_closed_form() -> None:
    """4 rows of 3 blocks of 12 by 9 in, sashing and cornerstones of 2 in around: 6 seams of 9 1/2 in in each of 4 rows,
    6 of 2 1/2 in in each of 5 rows of sashing, and 8 of 44 1/2 in between those 9: 228 + 75 + 356 in."""
    plan = _plan(4, 3, sashing=Fraction(2), around=True, cornerstone_fabric="Red")
    assert plan.seams == 228 + 75 + 356


def test_blocks_may_differ_from_column_to_column_and_from_row_to_row() -> None:
    blocks = [
        {"name": f"{column}{row}", "width": width, "height": height, "row": [{"text": "A"}]}
        for row, height in enumerate(["7in", "5in"])
        for column, width in enumerate(["9in", "6 1/2in"])
    ]
    plan = sketch(_design(*blocks, setting={"columns": 2, "sashing": "1in"})).quilt.setting
    assert plan is not None
    assert list(plan.columns) == [9, Fraction(13, 2)] and list(plan.rows) == [7, 5]
    assert list(plan.finished) == [9 + Fraction(13, 2) + 1, 7 + 5 + 1]
    corners = [[float(side) for side in one.corner] for one in plan.places]
    assert corners == [[0, 6], [10, 6], [0, 0], [10, 0]]


@pytest.mark.parametrize("stones", ["", "Red"])
def test_everything_is_cut_on_the_grid_of_sizes_whatever_the_seams_are(stones: str) -> None:
    """Seams of 7 mm and sashing of 3 cm in a design in inches: each piece is cut to a sixteenth of an inch."""
    plan = sketch(
        _design(
            "OAR",
            "NET",
            setting={"columns": 1, "sashing": "3cm", "cornerstone_fabric": stones, "around": True},
            panel={"width": "9in", "height": "7in", "margin": "1/2in", "seam_allowance": "7mm"},
        )
    ).quilt.setting
    assert plan is not None
    sizes = [side for _, cut in plan.cuts for one in cut.pieces for side in (cut.strip_width, one.length)]
    assert all(side % cutting_step(Units.INCHES) == 0 for side in sizes)
    assert abs(plan.sashing - Fraction(30) * 10 / 254) <= cutting_step(Units.INCHES) / 2


# The cutter


def _sewn(plan: SettingPlan, told: Sequence[str]) -> None:
    """She cuts every piece as it is planned, sews rows and top with the printed seam, and measures what was `told`:
    the top after each row of blocks, and after the last sashing."""
    left = {part: Counter(_counted(plan, part)) for part in SetPart}

    def take(part: SetPart, width: Fraction, height: Fraction) -> Patch:
        size = (width, height) if left[part][width, height] else (height, width)
        if not left[part][size]:
            raise SpoiledError(f"no piece of {part.value} {width} by {height} in is left")
        left[part][size] -= 1
        return Patch(width=width, height=height)

    wide = plan.sashing + 2 * SEAM
    rows: list[Patch] = []
    for number, blocks in enumerate(plan.grid):
        high = plan.rows[number] + 2 * SEAM
        pieces: list[Patch] = []
        for column, block in enumerate(blocks):
            if plan.upright and (plan.around or column):
                pieces.append(take(SetPart.SASHING, wide, high))
            across = plan.columns[column] + 2 * SEAM
            pieces.append(
                take(SetPart.PLAIN, across, high) if block is None else Patch(width=across, height=high)
            )
        if plan.upright and plan.around:
            pieces.append(take(SetPart.SASHING, wide, high))
        rows.append(sew_lengths(pieces, seam=SEAM, slack=NONE))

    def between() -> Patch:
        if not plan.cornerstones:
            return take(SetPart.SASHING, plan.finished[0] + 2 * SEAM, wide)
        pieces = []
        for column, width in enumerate(plan.columns):
            if plan.around or column:
                pieces.append(take(SetPart.CORNERSTONES, wide, wide))
            pieces.append(take(SetPart.SASHING, width + 2 * SEAM, wide))
        if plan.around:
            pieces.append(take(SetPart.CORNERSTONES, wide, wide))
        return sew_lengths(pieces, seam=SEAM, slack=NONE)

    def stacked(lines: Sequence[Patch]) -> Patch:
        turned = [Patch(width=line.height, height=line.width) for line in lines]
        sewn = sew_lengths(turned, seam=SEAM, slack=NONE)
        return Patch(width=sewn.height, height=sewn.width)

    def measured(top: Patch, size: str) -> None:
        told_across, told_down = size.split(" by ")
        measure("the top across", told=read(told_across), found=top.width, slack=NONE)
        measure("the top down", told=read(told_down), found=top.height, slack=NONE)

    lines: list[Patch] = []
    for number, row in enumerate(rows):
        if plan.level and (plan.around or number):
            lines.append(between())
        lines.append(row)
        top = stacked(lines)
        measured(top, told[number])
    if plan.level and plan.around:
        top = stacked([*lines, between()])
        measured(top, told[len(rows)])
    assert top.finished(SEAM) == plan.finished
    assert not any(count for pieces in left.values() for count in pieces.values())


@pytest.mark.parametrize("name", ["harbor-memory", "pier-runner", "slack-water"])
def test_the_cutter_sews_what_is_printed(name: str) -> None:
    """Pieces cut at their sizes and sewn with the printed seam give the printed sizes, row after row."""
    pattern = draft(read_design(SAMPLES / f"{name}.toml"))
    plan = _setting_of(pattern)
    words = _pages(pattern_pdf(pattern, instructions_of(pattern)))
    table = words[words.index("joined so far") :]
    length = r"[\d/ ]+ in"
    told = [
        match[1]
        for match in re.finditer(
            rf"(?:\d+ block rows?|with the last sashing) ({length} by {length})",
            table[: table.index("Take care")],
        )
    ]
    assert len(told) == len(plan.rows) + plan.around
    _sewn(plan, told)
    (row,) = set(re.findall(rf"Each block row measures ({length}) by ({length}) from raw edge", words))
    assert tuple(map(read, row)) == plan.row_sizes[0]


@pytest.mark.parametrize("seed", range(40))
def test_the_cutter_sews_any_setting_as_it_is_told(seed: int) -> None:
    """Rows of several heights, columns of several widths, plain blocks anywhere, with and without sashing."""
    chance = random.Random(seed)
    eighths = [Fraction(chance.randint(20, 120), 8) for _ in range(10)]
    columns, rows = eighths[: chance.randint(1, 5)], eighths[5 : 5 + chance.randint(1, 5)]
    numbers = iter(range(len(columns) * len(rows)))
    grid = tuple(
        tuple(number if (number := next(numbers)) == 0 or chance.random() < 0.6 else None for _ in columns)
        for _ in rows
    )
    sashing = chance.choice([None, Fraction(1), Fraction(13, 8)])
    setting = Setting(
        columns=len(columns),
        sashing=sashing,
        around=sashing is not None and chance.random() < 0.5,
        cornerstone_fabric="Red" if sashing is not None and chance.random() < 0.5 else "",
    )
    plan = replace(
        _plan(1, 1, sashing=sashing, around=setting.around, cornerstone_fabric=setting.cornerstone_fabric),
        grid=grid,
        columns=tuple(columns),
        rows=tuple(rows),
    )
    told = [american().field(size) for _, size in said.joined_cells(plan, Units.INCHES)]
    _sewn(plan, told)


def test_strips_of_joined_sashing_reach(runner: Pattern) -> None:
    """Four strips of 42 1/2 in from fabric 42 in wide: joined on the diagonal, each join takes a strip's width."""
    plan = _setting_of(runner)
    (use,) = [
        use for buy in runner.shopping.cloth for use in buy.uses if use.kind is UseKind.SASHING and use.joined
    ]
    (run,) = use.joined
    assert run.join is Join.DIAGONAL
    strips = [
        Strip(length=one.length, width=one.width)
        for one in use.strips
        if one.key == run.key
        for _ in range(one.count)
    ]
    long = join_strips(strips, plan.sashing + 2 * SEAM)
    cut_lengths(long, [plan.finished[0] + 2 * SEAM] * plan.level)


def test_strips_are_joined_once_there_are_rows_to_measure(runner: Pattern) -> None:
    (chapter,) = (one for one in instructions_of(runner).chapters if one.kind is ChapterKind.SETTING)
    steps = [
        " ".join(runner.speech.field(words) for words in block.said)
        for block in chapter.blocks
        if isinstance(block, Step)
    ]
    assert [step.split(":")[0].split(" ")[0] for step in steps] == ["Lay", "Sew", "Join", "Join"]
    assert "and the sashing (C d)" in steps[0] and "Join the strips C b" in steps[2]
    assert "4 pieces of 42 1/2 in" in steps[2]


def test_a_one_way_print_stands_upright_in_all_of_it() -> None:
    """Upright pieces run along the selvage with their length, level ones across it: only so does the print stand."""
    upright = [{"name": "Ink", "color": "#223355"}, {"name": "Mist", "color": "#99aabb", "turns": "upright"}]
    setting = {"columns": 2, "sashing": "2in", "sashing_fabric": "Mist", "cornerstone_fabric": "Ink"}
    pattern = draft(_design("OAR", "NET", "LEE", "BOW", setting=setting, fabric=upright))
    lies = {
        (one.length, one.lie)
        for buy in pattern.shopping.cloth
        for use in buy.uses
        if use.kind is UseKind.SASHING
        for one in use.strips
    }
    assert lies == {(Fraction(15, 2), Lie.ALONG), (Fraction(19, 2), Lie.ACROSS)}


def test_everything_between_the_blocks_is_cut_and_bought(harbor: Pattern) -> None:
    """4 rows of 3: 4·4 upright and 5·3 level pieces, 5·4 cornerstones; 2 in finished are cut 2 1/2 in."""
    found = {
        (use.kind, buy.fabric.name): Counter({(one.width, one.length): one.count for one in use.strips})
        for buy in harbor.shopping.cloth
        for use in buy.uses
        if use.kind in (UseKind.SASHING, UseKind.CORNERSTONES, UseKind.PLAIN_BLOCKS)
    }
    wide = Fraction(5, 2)
    assert found == {
        (UseKind.SASHING, "Mist"): Counter({(wide, Fraction(19, 2)): 16, (wide, Fraction(25, 2)): 15}),
        (UseKind.CORNERSTONES, "Buoy Red"): Counter({(wide, wide): 20}),
    }


# The quilt around it


def _parts(quilt: QuiltPlan) -> tuple[Any, ...]:
    return (
        quilt.finished, quilt.binding, quilt.backing, quilt.batting, quilt.sleeve, quilt.size_class, quilt.bed,
        [(border.steps, border.cuts) for border in quilt.borders], quilt.scene, quilt.made, quilt.around, quilt.raw,
    )  # fmt: skip


@pytest.mark.parametrize("finish", [Finish.QUILT, Finish.TOP])
def test_the_set_top_takes_the_place_of_a_panel_of_its_size(harbor: Pattern, finish: Finish) -> None:
    """Borders, binding, back, batting and all that is told of the quilt, as around one panel of 44 by 46 in."""
    design = replace(harbor.design, finish=finish)
    one = replace(
        design,
        block=(),
        setting=Setting(),
        row=design.block[0].row,
        panel=replace(design.panel, width=Fraction(44), height=Fraction(46)),
    )
    assert _parts(sketch(design).quilt) == _parts(sketch(one).quilt)
    assert list(sketch(design).quilt.finished) == [52, 54]


def test_templates_and_stitching_are_those_of_the_blocks_apart(runner: Pattern) -> None:
    """How blocks are sewn together changes nothing of what is cut for letters."""
    panel = replace(runner.design.panel, trim_after=Fraction(1, 2))
    apart = draft(replace(runner.design, panel=panel, setting=Setting(), finish=Finish.TOP, quilting=()))
    assert [(one.number, one.text, one.outline, one.count) for one in apart.templates] == [
        (one.number, one.text, one.outline, one.count) for one in runner.templates
    ]
    assert [row.edge for row in apart.stitching.rows] == [row.edge for row in runner.stitching.rows]
    assert apart.fusible.used == runner.fusible.used
    assert [block.cut for block in apart.quilt.blocks] == [block.cut for block in runner.quilt.blocks]


def test_its_seams_take_thread(harbor: Pattern) -> None:
    cloth = plan_cloth(harbor.design, harbor.quilt, harbor.cloth)
    kinds = {seam.kind: seam.length for seam in piecing_seams(harbor.panel, harbor.quilt, cloth)}
    assert kinds[SeamKind.SETTING] == pytest.approx(228 + 75 + 356)


def test_echo_lines_go_around_the_words_at_every_place(runner: Pattern) -> None:
    """Rope and Plank lie at two places each: their letters are all clear of the first line and inside of it."""
    plan = _setting_of(runner)
    (echo,) = runner.quilting
    width, height = map(float, plan.finished)
    inside = shapely.union_all([shapely.Polygon(line) for line in echo.lines if len(line) > 3])
    for block, one in zip(runner.sketch.placed.blocks, runner.blocks, strict=True):
        letters = shapely.union_all([cut.place.shape(cut.shape) for cut in one.panel.cuts])
        assert len(block.places) == block.count
        for at in block.places:
            there = affinity.translate(letters, at.x - width / 2, at.y - height / 2)
            assert inside.contains(there)


def test_the_ditch_follows_every_seam_between_blocks(harbor: Pattern) -> None:
    """Around and on both sides of 2 sashes across and 3 down, ends left out where the border is: 8 lines of 44 in, 6 of
    46 in, and the seams of the border, sides first: 2·46 + 2·52 in."""
    (ditch,) = harbor.quilting
    drawn = sum(shapely.LineString(line).length for line in ditch.lines)
    assert drawn == pytest.approx(8 * 44 + 6 * 46 + 2 * 46 + 2 * 52)
    words = _pages(pattern_pdf(harbor, instructions_of(harbor)))
    assert (
        "The largest part that these lines leave free is 12 in by 9 in: they lie 9 in apart there." in words
    )
    assert "that side changes at every cornerstone" in words


def test_between_long_strips_upright_seams_are_as_long_as_a_row() -> None:
    plan = _plan(2, 2, sashing=Fraction(1))
    assert list(plan.level_seams) == [10, 9]
    assert [[low, top] for _, low, top in plan.upright_seams] == [[10, 19], [0, 9]] * 2


# Words on one line


def _downs(design: Design) -> list[list[Fraction]]:
    """Of each block how far the baselines are above its finished lower edge, to 1/1000 in."""
    return [
        [round(Fraction(row.baseline), 3) for row in block.placed.panel.rows]
        for block in place(design).blocks
    ]


def _word(text: str, **keys: Any) -> dict[str, Any]:
    return {"name": text, "row": [{"text": text, **keys}]}


def test_words_of_a_row_of_blocks_stand_on_the_line_of_most_of_them() -> None:
    """Smaller letters stand higher on their panel, larger ones lower, and both come to the others; a row that is turned
    stays."""
    small, large, turned = (
        _word("LOW", cap_height="1in"),
        _word("UP", cap_height="3in"),
        _word("TIP", turn=10),
    )
    blocks = ("OAR", "NET", small, turned, "LEE", "BOW", large, "TUG")
    free = _downs(_design(*blocks, setting={"columns": 4}))
    lined = _downs(_design(*blocks, setting={"columns": 4, "align_baselines": True}))
    assert free[6] < free[0] < free[2]
    assert lined[0] == lined[1] == lined[2] == free[0]
    assert lined[3] == free[3]
    assert lined[4] == lined[5] == lined[6] == lined[7] == free[4]


def test_where_no_line_is_that_of_most_it_is_the_lowest_and_common_blocks_carry_it_on() -> None:
    small, large = {**_word("LOW", cap_height="1in"), "count": 2}, _word("UP", cap_height="3in")
    setting = {"places": [["OAR", "LOW"], ["LOW", "UP"]], "align_baselines": True}
    lined = _downs(_design("OAR", small, large, setting=setting))
    assert lined[0] == lined[1] == lined[2] == _downs(_design(large, setting={"columns": 1}))[0]


# What a maker sees


def test_the_picture_shows_every_block_at_each_of_its_places(runner: Pattern) -> None:
    plan, picture = _setting_of(runner), runner.picture
    panels = list(picture.of(Part.PANEL))
    assert {(round(item.place.x, 6), round(item.place.y, 6)) for item in panels} == {
        (float(one.corner[0]), float(one.corner[1])) for one in plan.places if one.block is not None
    }
    letters = Counter(item.row for item in picture.of(Part.LETTER))
    assert letters == {1: 2 * 4, 2: 2 * 5, 3: 4}
    assert sum(item.fabric == "Lichen" for item in picture.of(Part.PATCH)) == 4
    assert (picture.width, picture.height) == (42.0, 30.0)


def test_the_summary_the_data_and_the_booklet_name_the_setting(harbor: Pattern) -> None:
    summary = summary_md(harbor).decode()
    assert (
        "4 rows of 3 blocks, sashing 2 in wide between them and around them: finished 44 in by 46 in."
        in summary
    )
    assert "| Mist | sashing |" in summary and "cornerstones" in summary
    data = json.loads(pattern_json(harbor))["quilt"]
    assert data["setting"]["places"][3] == ["Eddy", "Jib", "Home"]
    sides = [[side["inches"] for side in size] for size in (data["finished"], data["setting"]["set"])]
    assert sides == [[52.0, 54.0], [44.5, 46.5]]
    words = _pages(pattern_pdf(harbor, instructions_of(harbor)))
    assert "on each block by itself, before the blocks are sewn together." in words
    assert "before the borders are sewn on" not in words + summary
    kinds = [chapter.kind.value for chapter in instructions_of(harbor).chapters]
    assert kinds.index("trimming") < kinds.index("setting") < kinds.index("borders") < kinds.index("layering")


def test_a_design_that_sets_blocks_is_written_as_it_was_read(tmp_path: Path, runner: Pattern) -> None:
    file = tmp_path / "again.toml"
    file.write_text(design_text(runner.design), "utf-8")
    assert read_design(file) == runner.design


# What is refused


def _refused(*blocks: Any, setting: dict[str, Any], **tables: Any) -> dict[str, str]:
    with pytest.raises(Refusal) as refused:
        draft(_design(*blocks, setting=setting, **tables))
    return {problem.kind: str(problem.where) for problem in refused.value.problems}


@pytest.mark.parametrize(
    ("setting", "kind", "where"),
    [
        ({"sashing": "2in"}, "setting-without-columns", "[setting]"),
        ({"columns": 2, "around": True}, "no-sashing", "[setting], around"),
        ({"columns": 2}, "last-row-not-full", "[setting], columns"),
        ({"columns": 4, "alternate": True}, "last-row-not-full", "[setting], columns"),
        (
            {"columns": 3, "sashing": "1in", "sashing_fabric": "Gold"},
            "no-such-fabric",
            "[setting], sashing_fabric",
        ),
        ({"places": [["OAR", "NET"], ["LEE"]]}, "rows-of-unequal-places", "[setting], places 2"),
        ({"places": [["OAR", "NET", "Sea"]]}, "no-such-block", "[setting], places"),
        ({"places": [["OAR", "NET", "NET"]]}, "placed-otherwise-than-made", "block 3"),
        ({"places": [["OAR", "NET", "LEE"]], "columns": 3}, "places-and-columns", "[setting], columns"),
    ],
)
def test_what_cannot_be_set_together_is_refused(setting: dict[str, Any], kind: str, where: str) -> None:
    assert _refused("OAR", "NET", "LEE", setting=setting)[kind] == where


def test_a_setting_without_blocks_is_refused() -> None:
    with pytest.raises(Refusal, match="blocks are set together, and the design has none"):
        design_from_mapping({"row": [{"text": "OAR"}], "setting": {"columns": 2}})


def test_blocks_of_unequal_size_are_refused_with_how_much() -> None:
    wide = {"name": "Wide", "width": "9 1/2in", "row": [{"text": "W"}]}
    high = {"name": "High", "height": "8in", "row": [{"text": "H"}]}
    with pytest.raises(Refusal) as refused:
        _design("OAR", high, wide, "NET", setting={"columns": 2})
    said = str(refused.value)
    assert "“Wide” is 9 1/2 in wide, and “OAR” in the same column 9 in, 1/2 in apart" in said
    assert "“High” is 8 in high, and “OAR” in the same row 7 in, 1 in apart" in said


@pytest.mark.parametrize("finish", ["pillow", "banner", "garment", "letters only"])
def test_set_blocks_make_a_quilt_or_its_top(finish: str) -> None:
    with pytest.raises(Refusal, match="make a quilt, or its top alone"):
        _design("OAR", setting={"columns": 1}, finish=finish)


# Blocks that draw in


def _block_trimmed(pattern: Pattern) -> Fraction:
    """How far the cut edge of every block lies outside its finished edge, the same for all."""
    beyond = {
        (one.cut.width - one.cut.trimmed[0], one.cut.height - one.cut.trimmed[1])
        for one in pattern.quilt.blocks
    }
    ((across, down),) = beyond
    assert across == down
    return across


def test_blocks_are_cut_larger_and_trimmed_to_the_size_that_is_sewn(harbor: Pattern) -> None:
    """Cut 13 by 10 in and trimmed to 12 1/2 by 9 1/2 in; marks are measured from the edge that is there until then."""
    assert _block_trimmed(harbor) == Fraction(1, 2)
    words = _pages(pattern_pdf(harbor, instructions_of(harbor)))
    assert "each 13 in wide and 10 in high, to trim to 12 1/2 in by 9 1/2 in after stitching" in words
    assert "6 1/2 in from either cut side edge" in words and "you trim the block by it" in words
    assert "Trim each block to 12 1/2 in by 9 1/2 in on these lines" in words
    assert "A block that came out smaller" not in words
    downs = [mark.baseline_from_top for one in harbor.blocks for mark in one.marks]
    assert {round(16 * down) for down in downs} == {16 * 6.25}


def test_a_maker_who_cuts_blocks_to_size_is_told_what_to_do_with_small_ones() -> None:
    pattern = draft(
        _design(
            "TIDE",
            "OAR",
            setting={"columns": 2},
            panel={"width": "9in", "height": "7in", "trim_after": "0in"},
        )
    )
    assert _block_trimmed(pattern) == 0
    words = _pages(pattern_pdf(pattern, instructions_of(pattern)))
    assert "Square up each block and measure it" in words
    assert "trim all blocks to its size, and what lies between them to match" in words


def test_blocks_of_which_the_same_is_said_are_trimmed_together(harbor: Pattern) -> None:
    chapter = chapter_of(harbor, ChapterKind.TRIMMING)
    headings = [str(one.said) for one in chapter.blocks if isinstance(one, Heading)]
    assert headings[0] == "Blocks Tide, Net, and Lee"
    named = [name for heading in headings for name in harbor.block_names if name in heading]
    assert sorted(named) == sorted(harbor.block_names)


def test_steps_before_blocks_are_sewn_together_name_the_block(harbor: Pattern) -> None:
    for kind in (ChapterKind.PLACING, ChapterKind.STITCHING, ChapterKind.TRIMMING):
        told = " ".join(str(said) for step in steps_of(chapter_of(harbor, kind)) for said in step.said)
        assert "block" in told
        for other in (
            "Lay the panel flat",
            "Fold the panel",
            "Press the panel",
            "Turn the panel",
            "to the panel",
        ):
            assert other not in told


def test_a_row_of_blocks_is_never_called_a_row(harbor: Pattern) -> None:
    """Rows are those of words."""
    steps = steps_of(chapter_of(harbor, ChapterKind.SETTING))
    ticks = [str(tick.said) for step in steps for tick in step.ticks]
    assert "block row 4 sewn and pressed" in ticks and "row 5 of sashing sewn and pressed" in ticks
    told = " ".join([*ticks, *(str(said) for step in steps for said in step.said)])
    assert not re.search(r"(?<!block )\brows?\b", re.sub(r"rows? (\d+ )?of sashing", "", told))


def test_the_last_sashing_has_a_line_of_its_own(harbor: Pattern) -> None:
    """4 rows of 9 in, and sashing of 2 in above and between them: 44 in and two seams; the last makes 46 in."""
    cells = said.joined_cells(_setting_of(harbor), Units.INCHES)
    assert [american().field(size) for _, size in cells[-2:]] == [
        "44 1/2 in by 44 1/2 in",
        "44 1/2 in by 46 1/2 in",
    ]


def test_the_ends_of_a_row_are_said_to_be_nothing_to_mark_wherever_they_are_drawn(harbor: Pattern) -> None:
    """Beside the panel in gray where words reach far, beside their letters where there is room."""
    steps = steps_of(chapter_of(harbor, ChapterKind.PLACING))
    all_told = [" ".join(map(str, step.said)) for step in steps]
    told = [one for one in all_told if one.startswith("Mark each baseline")]
    assert len(told) == 12 and all("there is nothing to mark there" in one for one in told)
    assert sum("short bars at both ends" in one for one in told) >= 1
    assert sum("Those in gray are the ends" in one for one in told) >= 1

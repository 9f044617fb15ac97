"""The page to sew by against the pattern: its steps and numbers, its pictures read back, its ticks, its words."""

from __future__ import annotations

import base64
import hashlib
import io
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise
from typing import Any

import pypdfium2
import pytest
from svgelements import SVG, Path, Use

from applique.design import Method, design_from_mapping
from applique.drawings import Drawing, Ink, Shape, Words, box, narrowed
from applique.drawings.vocabulary import LEFT_OVER
from applique.for_customers import customers_files, drafted_for_customers
from applique.geometry.outline import Contour, Outline
from applique.instructions import ChapterKind, Edition, Instructions, Step, Tick, instructions_of
from applique.instructions.ticks import all_letter_ticks
from applique.language import american, message
from applique.language import speech as speaking
from applique.marks import LetterMark, OutlineMark
from applique.pack import pack_files
from applique.pattern import Pattern, draft
from applique.sew_along import sew_along_html
from applique.sew_along.pictures import Gallery, drawing_svg
from applique.sew_along.wording import Wording
from applique.sheets import placement_guide_pdf
from applique.units import Units, as_size
from applique.words.instructions.finishing import SLEEVE_SEEN
from applique.words.sew_along import Done
from tests.chapters import chapter_of, drafted, drawings_of
from tests.made_up import loud

VOID = {"meta", "input", "link", "br", "img", "hr"}
CLOTHS = [{"name": "Oat", "color": "#eeeeee"}, {"name": "Plum", "color": "#550055"}]
QUILT: dict[str, Any] = {
    "title": "Boats",
    "designer": "A. Maker",
    "fabric": CLOTHS,
    "row": [{"text": "OAR OAR"}, {"text": "ROE", "cap_height": "2in"}],
    "lettering": {"font": "Rubik", "cap_height": "3in", "outline": "3/8in"},
    "outline": {"fabric": "Oat"},
    "panel": {"width": "26in", "height": "18in", "fabric": "Plum"},
    "border": [
        {"kind": "strip", "corners": "mitered", "fabrics": ["Oat"]},
        {"kind": "squares", "size": "2in", "fabrics": ["Plum", "Oat"]},
    ],
    "hanging": {"sleeve": True},
    "quilting": [{"kind": "echo"}],
}


@cache
def _pattern(method: str = "raw edge", language: str = "en-US") -> Pattern:
    return draft(design_from_mapping({**QUILT, "sewing": {"method": method}, "language": language}))


def _written(**changes: Any) -> bytes:
    return sew_along_html(draft(design_from_mapping({**QUILT, **changes})))


@dataclass
class Element:
    tag: str
    attributes: dict[str, str]
    parts: list[Element | str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """What can be read, spaces made plain."""
        told = "".join(part if isinstance(part, str) else part.text for part in self.parts)
        return told.replace("\u00a0", " ")

    def walk(self) -> Iterator[Element]:
        yield self
        for part in self.parts:
            if isinstance(part, Element):
                yield from part.walk()

    def all(self, tag: str, **attributes: str) -> list[Element]:
        return [
            one
            for one in self.walk()
            if one.tag == tag
            and all(one.attributes.get(name.strip("_")) == value for name, value in attributes.items())
        ]


class Reader(HTMLParser):
    """A page as a tree; every element must be closed in its place."""

    def __init__(self, page: bytes) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("page", {})
        self._open = [self.root]
        self.feed(page.decode("utf-8"))
        assert self._open == [self.root]

    def handle_starttag(self, tag: str, attrs: Sequence[tuple[str, str | None]]) -> None:
        element = Element(tag, {name: value or "" for name, value in attrs})
        self._open[-1].parts.append(element)
        if tag not in VOID:
            self._open.append(element)

    def handle_startendtag(self, tag: str, attrs: Sequence[tuple[str, str | None]]) -> None:
        self._open[-1].parts.append(Element(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop().tag == tag

    def handle_data(self, data: str) -> None:
        self._open[-1].parts.append(data)


def _read(page: bytes) -> Element:
    return Reader(page).root


# Steps and numbers


@pytest.mark.parametrize("method", list(Method))
def test_every_step_stands_with_its_number_its_words_and_its_picture(method: Method) -> None:
    pattern = _pattern(method)
    instructions = instructions_of(pattern)
    page = _read(sew_along_html(pattern, instructions))
    tell = pattern.speech.field
    shown = page.all("li", class_="step")
    for step, element in zip(instructions.steps(), shown, strict=True):
        label, *_ = element.all("label")
        assert label.text == f"Step {step.number}"
        for said in step.on_screen.said or step.said:
            assert tell(said) in element.text
        assert len(element.all("svg", role="img")) == (step.drawing is not None)
    heads = [
        element.text for element in page.walk() if element.tag in ("h1", "h2") and element.text != "Contents"
    ]
    assert heads == [tell(chapter.title) for chapter in instructions.chapters]
    assert len(page.all("svg", role="img")) == len(list(instructions.drawings()))
    for caption in page.all("figcaption"):  # what the picture says already is not read out twice
        assert (caption.attributes.get("aria-hidden") == "true") == (
            caption.text in [title.text for title in page.all("title")]
        )


def test_the_numbers_are_those_of_the_pattern() -> None:
    pattern = _pattern()
    page = _read(sew_along_html(pattern))
    text = page.text
    for border in pattern.quilt.borders:
        for round_ in border.steps:
            for side in (*round_.cut, *(strip.cut_length for strip in round_.strips)):
                assert str(as_size(side, pattern.design.units)) in text
    cells = {cell.text.strip() for cell in page.all("td")}
    for buy in pattern.shopping.cloth:
        assert any(buy.fabric.name in head.text for head in page.all("th", scope="row"))
    for mark in pattern.marks:
        assert mark.text in cells


def test_tables_have_heads_and_headings_come_in_their_order() -> None:
    page = _read(sew_along_html(_pattern()))
    for table in page.all("table"):
        assert len(table.all("th", scope="col")) >= 2
        for cell in table.all("td"):
            assert cell.attributes.get("data-head") or not cell.text
    levels = [int(one.tag[1]) for one in page.walk() if re.fullmatch("h[1-6]", one.tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


# One file


def test_it_refers_to_nothing_outside_and_allows_nothing_but_its_own_style_and_script() -> None:
    written = sew_along_html(_pattern())
    page = _read(written)
    for element in page.walk():
        assert element.tag not in (
            "link",
            "img",
            "iframe",
            "object",
            "embed",
            "base",
            "foreignobject",
        )
        for name, value in element.attributes.items():
            assert name not in ("src", "srcset", "style", "action", "data", "poster")
            assert not name.startswith("on")
            if name.endswith("href"):
                assert value.startswith(("#", "data:image/png;base64,"))
    text = written.decode("utf-8")
    assert "url(" not in text and "@import" not in text and "//" not in re.sub(r"\n\s*//.*", "", text)
    [policy] = [one.attributes["content"] for one in page.all("meta") if "http-equiv" in one.attributes]
    allowed = dict(part.strip().split(" ", 1) for part in policy.split(";"))
    assert allowed.pop("default-src") == "'none'"
    for kind in ("style", "script"):
        [element] = page.all(kind)
        digest = base64.b64encode(hashlib.sha256("".join(map(str, element.parts)).encode()).digest()).decode()
        assert allowed.pop(f"{kind}-src") == f"'sha256-{digest}'"
    assert allowed.pop("img-src", "data:") == "data:"
    assert set(allowed.values()) == {"'none'"}


def test_the_same_pattern_gives_the_same_bytes() -> None:
    assert _written() == _written()


HOSTILE = "</script></style></title><script>alert(1)</script><img src=x onerror=alert(1)> \"'& {done} \U0001f9f5 \u05e9"


def test_what_a_maker_wrote_is_text_and_nothing_else() -> None:
    fabrics = [{**CLOTHS[0], "name": "Oat"}, {"name": '<b>"Plum"</b> &amp; \'', "color": "#550055"}]
    publisher = {"name": HOSTILE, "contact": HOSTILE, "license": "</bdi><h1>Mine</h1>"}
    page = _read(
        _written(
            title=HOSTILE,
            fabric=fabrics,
            publisher=publisher,
            panel={**QUILT["panel"], "fabric": fabrics[1]["name"]},
            border=[{"kind": "strip", "fabrics": [fabrics[1]["name"]]}],
        )
    )
    assert len(page.all("script")) == len(page.all("style")) == len(page.all("h1")) == 1
    assert not page.all("img") and not page.all("b", class_="")
    [title], [head] = page.all("title")[:1], page.all("h1")
    assert title.text == f"{HOSTILE}: to sew by"
    assert head.text == HOSTILE
    assert any(fabrics[1]["name"] in one.text for one in page.all("th"))
    paragraphs = [one.text for one in page.all("p")]
    assert HOSTILE in paragraphs and "</bdi><h1>Mine</h1>" in paragraphs


def test_letters_that_run_the_other_way_are_set_apart() -> None:
    say = Wording(american())
    shalom, turned = "\u05e9\u05dc\u05d5\u05dd", "abc\u202edef"
    told = say.html(message("Row {number}: {words}", number=1, words=shalom))
    assert told == f"Row\u00a01: <bdi>{shalom}</bdi>"
    assert say.html(turned) == f"<bdi>{turned}</bdi>"
    assert say.html("Oat & Plum") == "Oat &amp; Plum"
    page = _read(_written(row=[{"text": shalom}], lettering={"font": "Rubik", "cap_height": "3in"}))
    tiles = next(one for one in page.all("div") if "tiles" in one.attributes.get("class", "").split())
    assert tiles.attributes["dir"] == "rtl"
    assert "".join(letter.text for letter in tiles.all("bdi")) == shalom  # in the order they are read


# Ticks


@pytest.mark.parametrize(
    ("method", "work"),
    [
        (Method.RAW_EDGE, ["traced", "fused", "cut", "fused-down", "stitched"]),
        (Method.MACHINE_CUT, ["cut", "fused-down", "stitched"]),
        (Method.TURNED_EDGE, ["traced", "paper-cut", "pressed-on", "cut", "turned", "placed", "stitched"]),
    ],
)
def test_every_letter_can_be_ticked_off_for_each_thing_that_is_done_to_it(
    method: Method, work: Sequence[str]
) -> None:
    pattern = _pattern(method)
    boards = [board for step in instructions_of(pattern).steps() for board in step.on_screen.letters]
    assert list(dict.fromkeys(board.done for board in boards)) == [Done(one) for one in work]
    for one in work:
        ticks = [
            tick for board in boards if board.done == Done(one) for row in board.rows for tick in row.ticks
        ]
        layers = [tick.key.partition(".")[0] for tick in ticks]
        assert layers == 9 * ["behind"] + 9 * [
            "piece"
        ]  # all that lies behind letters comes before any letter
        assert len(pattern.outlines) == 9
        letters = "".join(str(tick.said) for tick in ticks if tick.key.startswith("piece."))
        assert letters == "OAROARROE"
    assert [len(word) for word in boards[0].rows[2].words] == [3, 3]
    page = _read(sew_along_html(pattern))
    names = [one.attributes["name"] for one in page.all("input")]
    assert len(names) == len(set(names))
    ticks = [tick for board in boards for row in board.rows for tick in row.ticks]
    assert {tick.key for tick in ticks} <= set(names)
    steps = [name for name in names if name.startswith("step.")]
    assert len(steps) == len(list(instructions_of(pattern).steps()))
    assert f"0 of {len(names)} done" in page.text


def test_pieces_that_are_no_letters_are_ticked_off_from_left_to_right() -> None:
    pattern = _pattern()
    placed, panel = pattern.sketch.placed, pattern.panel
    shapes = [replace(row, cuts=tuple(replace(cut, letters=()) for cut in row.cuts)) for row in panel.rows]
    laid = replace(placed, panel=replace(panel, laid=tuple(shapes)))
    shaped = replace(pattern, sketch=replace(pattern.sketch, placed=laid))
    for row in all_letter_ticks(shaped, Done.TRACED).letters[0].rows:
        assert not row.leftward
        places = [int(tick.key.split(".")[3]) for tick in row.ticks]
        assert places == sorted(places)


@pytest.mark.parametrize("method", list(Method))
def test_every_letter_is_ticked_off_in_the_step_that_does_it(method: Method) -> None:
    """All tiles stood in panels at the end of a chapter, an outline and its letters in turn: nobody works so."""
    pattern = _pattern(method)
    page = _read(sew_along_html(pattern))
    assert not [part for section in page.all("section") for part in section.parts if _is_board(part)]
    work: dict[str, str] = {
        "traced": "Trace",
        "fused": "Fuse",
        "paper-cut": "Cut the paper out",
        "pressed-on": "Press",
        "cut": "turn-under" if method is Method.TURNED_EDGE else "cut",
        "turned": "Turn",
        "placed": "pin",
        "fused-down": "Fuse",
        "stitched": "Stitch",
    }
    stitched: list[tuple[str, str]] = []
    for step in page.all("li", class_="step"):
        boxes = [one.attributes["name"] for one in step.all("input") if not _is_step(one)]
        for done in {name.rpartition(".")[2] for name in boxes if name.startswith(("piece.", "behind."))}:
            assert re.search(work[done], " ".join(one.text for one in step.all("p")), re.IGNORECASE), done
        rows = {
            (kind, row)
            for kind, _, row, *_ in (name.split(".") for name in boxes if name.endswith(".stitched"))
        }
        assert len(rows) <= 1
        stitched += rows
    order = [str(where.row) for where in pattern.stitching.order]
    assert stitched == [(kind, row) for kind in ("behind", "piece") for row in order]


def _is_board(part: Element | str) -> bool:
    return isinstance(part, Element) and part.attributes.get("class") == "board"


def _is_step(box: Element) -> bool:
    return box.attributes["name"].startswith("step.")


def test_where_each_letter_goes_stands_in_the_step_that_marks_it() -> None:
    """The step sent its reader to the printed placement guide for every tick."""
    pattern = _pattern()
    page = _read(sew_along_html(pattern, instructions_of(pattern, edition=Edition.CUSTOMER)))
    (step,) = (one for one in page.all("li", class_="step") if one.all("div", class_="places"))
    told = step.text
    assert "How far each tick, the middle of a letter, is from the center line stands in" in told
    assert "the placement guide, the table below." in told and "printed pattern" not in told
    assert not step.all("details")  # so few letters are never folded
    tables, units = step.all("table"), pattern.design.units
    pieces: list[Sequence[OutlineMark | LetterMark]] = []
    for mark in pattern.marks:
        pieces += [mark.outlines, mark.letters]
    for table, marked in zip(tables, pieces, strict=True):
        for line, piece in zip(table.all("tr")[1:], marked, strict=True):
            name, *cells = (cell.text for cell in line.parts if isinstance(cell, Element))
            assert (name, cells[0]) == (piece.text, str(piece.template))
            for cell, inches in zip(cells[1:4], (piece.left, piece.middle, piece.right), strict=True):
                number, _, side = cell.rpartition(" ")
                if cell == "on center":
                    assert abs(inches) <= 1 / 32
                else:
                    read = float(sum(map(Fraction, number.split())))
                    assert side == "LR"[inches > 0]
                    assert read == pytest.approx(abs(inches), abs=1 / 32 + 1e-9)
    assert units is Units.INCHES
    guide = " ".join(
        " ".join(sheet.get_textpage().get_text_bounded().split())
        for sheet in pypdfium2.PdfDocument(placement_guide_pdf(pattern))
    )
    for line in (line for table in tables for line in table.all("tr")[1:]):
        name, *cells = (cell.text for cell in line.parts if isinstance(cell, Element))
        assert " ".join((name, *cells)) in guide


def test_rows_of_many_letters_are_folded_and_each_has_its_name() -> None:
    rows = [{"text": 21 * "OI", "cap_height": "1in"}, {"text": "ROE", "cap_height": "1in"}]
    wide = {"width": "60in", "height": "18in", "fabric": "Plum"}
    page = _read(_written(row=rows, panel=wide, lettering={"font": "Rubik"}))
    folded = page.all("details")
    assert [one.all("summary")[0].all("span")[0].text for one in folded] == [
        f"Row 1 · {21 * 'OI'}",
        "Row 2 · ROE",
    ]
    for one in folded:
        assert "open" not in one.attributes
        (table,) = one.all("table")
        assert table.attributes["aria-labelledby"] == one.all("summary")[0].all("span")[0].attributes["id"]
    assert [len(one.all("tbody")[0].all("tr")) for one in folded] == [42, 3]


TWO = (Tick(key="own.a", said="left"), Tick(key="own.b", said="right"))


def _with_ticks(instructions: Instructions, ticks: Callable[[Step], tuple[Tick, ...]]) -> Instructions:
    """`instructions` with those ticks for each step and no others."""
    chapters = []
    for chapter in instructions.chapters:
        blocks = (
            replace(block, ticks=ticks(block)) if isinstance(block, Step) else block
            for block in chapter.blocks
        )
        chapters.append(replace(chapter, blocks=tuple(blocks)))
    return replace(instructions, chapters=tuple(chapters))


def test_nothing_is_asked_for_twice() -> None:
    """Where letters have their ticks, those of steps are for paper; a single tick is that of its step."""
    pattern = _pattern()
    whole = instructions_of(pattern)
    for count in (1, 2):

        def own(step: Step, count: int = count) -> tuple[Tick, ...]:
            return tuple(Tick(key=f"own.{step.number}.{one}", said="left") for one in range(count))

        names = set(_keys(sew_along_html(pattern, _with_ticks(whole, own)))[1])
        for chapter in whole.chapters:
            for block in chapter.blocks:
                if isinstance(block, Step):
                    assert f"step.{chapter.kind}.{block.number}" in names
                    shown = count > 1 and not block.on_screen.letters
                    assert (f"own.{block.number}.0" in names) == shown


def test_words_come_first_then_the_picture_then_the_ticks() -> None:
    pattern = _pattern()
    page = _read(sew_along_html(pattern, _with_ticks(instructions_of(pattern), lambda _: TWO)))
    order = [
        [part.tag for part in step.parts if isinstance(part, Element)]
        for step in page.all("li", class_="step")
    ]
    assert any(tags[-2:] == ["figure", "ul"] for tags in order)
    for tags in order:
        assert tags == sorted(tags, key=("label", "p", "figure", "div", "ul").index)
    for figure in page.all("figure"):
        assert figure.all("button", class_="enlarge")


def _keys(page: bytes) -> tuple[str, list[str]]:
    read = _read(page)
    return read.all("html")[0].attributes["data-pattern"], [
        one.attributes["name"] for one in read.all("input")
    ]


@pytest.mark.long
def test_ticks_go_by_the_pattern_and_not_by_whom_it_is_for() -> None:
    pattern = _pattern()
    digest, names = _keys(sew_along_html(pattern))
    customers = instructions_of(pattern, edition=Edition.CUSTOMER)
    assert _keys(sew_along_html(pattern, customers)) == (digest, names)
    assert _keys(_written(title="Other boats"))[0] != digest


# Pictures


def _rules(page: Element) -> Mapping[str, str]:
    """The classes of drawings, by their names."""
    [sheet] = page.all("style")
    return dict(re.findall(r"\.(p[0-9a-f]+)\{([^}]*)\}", "".join(map(str, sheet.parts))))


def _svg_texts(page: str) -> tuple[str, list[str]]:
    shared = re.search(r'<svg class="shared".*?</svg>', page, re.DOTALL)
    assert shared is not None
    inner = re.search(r"<defs>.*</defs>", shared[0], re.DOTALL)
    assert inner is not None
    return inner[0], re.findall(r'<svg role="img".*?</svg>', page, re.DOTALL)


def _painted(definitions: str, drawing: str) -> list[tuple[Path, str]]:
    """The paths of a drawing as they come to lie, each with its class, read by a library of others."""
    head, rest = drawing.split(">", 1)
    head = re.sub(r' width="\d+"', "", head).replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
    text = f"{head}>{definitions}{rest}"
    read = SVG.parse(io.StringIO(text), reify=True, width=None, height=None)
    painted, used = [], ""
    for one in read.elements():
        if isinstance(one, Use):
            used = one.values["class"]  # its path comes next, and has none of its own
        elif isinstance(one, Path):
            painted.append((one, one.values.get("class", used)))
    return painted


@pytest.mark.long
def test_every_shape_lies_where_the_drawing_has_it_in_its_color_and_width() -> None:
    pattern = _pattern()
    instructions = instructions_of(pattern)
    written = sew_along_html(pattern, instructions).decode("utf-8")
    rules = _rules(_read(written.encode("utf-8")))
    definitions, drawn = _svg_texts(written)
    shapes = 0
    for drawing, text in zip(instructions.drawings(), drawn, strict=True):
        wanted = [mark for mark in drawing.marks if isinstance(mark, Shape) and mark.outline]
        paths = _painted(definitions, text)
        view = re.search(r'viewBox="0 0 (\d+) (\d+)"', text)
        assert view is not None
        unit = int(view[1]) / drawing.width
        assert int(view[2]) / drawing.height == pytest.approx(unit, rel=0.01)
        courses = [(course, name) for path, name in paths for course in path.as_subpaths()]
        expected = [(contour, mark) for mark in wanted for contour in mark.outline.contours]
        for (contour, mark), (course, name) in zip(expected, courses, strict=True):
            shapes += 1
            x0, y0, x1, y1 = contour.bounds()
            box_drawn = course.bbox()
            flipped = (x0, drawing.height - y1, x1, drawing.height - y0)
            assert [side / unit for side in box_drawn] == pytest.approx(flipped, abs=0.06)
            style = dict(rule.split(":", 1) for rule in rules[name].split(";"))
            assert style["fill"] == (mark.fill or "none")
            assert style.get("stroke") == (mark.ink.color if mark.ink else None)
    assert shapes > 300


def _curved(size: float, at: tuple[float, float]) -> Shape:
    """A leaf of curves, larger in data than what is written each time."""
    x, y = at
    corners = ((0, 0), (0.2, 0.9), (0.6, 1), (1, 1), (0.9, 0.3), (0.4, 0.1))
    start, a, b, c, d, e = ((x + size * across, y + size * up) for across, up in corners)
    leaf = Contour(start=start, segments=((a, b, c), (d, e, start)))
    return Shape(outline=Outline(contours=(leaf, leaf)), fill="#112233", ink=Ink(width=1))


def test_a_shape_that_comes_again_at_another_size_is_written_once_with_its_line_as_wide() -> None:
    small = Drawing(width=100, height=60, marks=(_curved(10, (5, 5)), _curved(10, (50, 7.5))), said="small")
    large = Drawing(
        width=100, height=60, marks=(_curved(40, (20, 10)), box(1, 2, 30, 4, fill="#ffffff")), said="large"
    )
    gallery = Gallery((small, large))
    say = Wording(american())
    first, second = (drawing_svg(one, gallery, say, name) for name, one in (("a", small), ("b", large)))
    assert gallery.definitions().count("<path") == 1
    assert first.count("<use") == 2 and second.count("<use") == 1
    assert first.count('<g transform="scale(.25)">') == 1
    style = dict(re.findall(r"\.(p\d)\{([^}]*)\}", gallery.sheet()))
    widths = {
        name: float(found[1])
        for name, rule in style.items()
        if (found := re.search(r"stroke-width:([\d.]+)px", rule))
    }
    in_small, in_large = (re.findall(r'<use href="#s0" class="(p\d)"', text) for text in (first, second))
    assert widths[in_small[0]] * 0.25 == pytest.approx(widths[in_large[0]])
    assert (
        '<path class="p2" d="M50 2900' in second
    )  # the box: 1 pt from the left, its lower edge 58 pt from the top


def test_nothing_long_is_drawn_twice() -> None:
    for written in (sew_along_html(_pattern()), _written(row=[{"text": "ORORO"}, {"text": "OAR"}])):
        data = re.findall(r' d="M-?\d+ ?-?\d+([^"]*)"', written.decode("utf-8"))
        counted = Counter(one for one in data if len(one) > 48)
        assert counted and counted.most_common(1)[0][1] == 1


def test_a_picture_says_what_it_shows_and_the_words_in_it() -> None:
    words = Words(said=message("cut <here>"), at=(10, 12), size=8, bold=True, turn_deg=90)
    drawing = Drawing(width=100, height=60, marks=(words,), said=message("A “strip”, & its end"))
    gallery = Gallery((drawing,))
    read = _read(drawing_svg(drawing, gallery, Wording(american()), "d1").encode("utf-8"))
    [svg] = read.all("svg")
    [title], [told], [text] = svg.all("title"), svg.all("desc"), svg.all("text")
    assert (title.text, told.text, text.text) == (
        "A “strip”, & its end",
        "In the picture: cut <here>.",
        "cut <here>",
    )
    assert svg.attributes["aria-labelledby"] == title.attributes["id"]
    assert svg.attributes["aria-describedby"] == told.attributes["id"]
    assert (text.attributes["x"], text.attributes["y"]) == ("500", "2400")
    assert text.attributes["transform"] == "rotate(-90 500 2400)"


# Words


def test_what_stands_around_the_chapters_is_said_in_the_language_of_the_sheets(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    shouting = loud()
    monkeypatch.setattr(speaking, "_spoken", lambda tag: shouting if tag == "de" else american())
    pattern = draft(
        design_from_mapping(
            {**QUILT, "language": "de", "title": "BOATS", "fabric": CLOTHS, "designer": "A. MAKER"}
        )
    )
    page = _read(sew_along_html(pattern))
    assert page.all("html")[0].attributes["lang"] == shouting.tag
    around = [*page.all("nav"), *page.all("header"), *page.all("dialog"), *page.all("a", class_="skip")]
    ticks = [one for one in page.all("label") if one.attributes["class"] != "t"]
    for element in (*around, *page.all("legend"), *ticks):
        assert not re.search(r"[a-z]", element.text), element.text


def test_instructions_without_steps_still_make_a_page() -> None:
    pattern = _pattern()
    whole = instructions_of(pattern)
    cover = Instructions(method=whole.method, edition=whole.edition, chapters=whole.chapters[:2])
    assert not any(isinstance(block, Step) for chapter in cover.chapters for block in chapter.blocks)
    page = _read(sew_along_html(pattern, cover))
    assert not page.all("li", class_="step")
    assert "0 of 0 done" in page.text


def _light(color: str, ground: str) -> float:
    """Relative luminance of a color that is multiplied with its ground: W3C, WCAG 2.1, definition of contrast ratio,
    and Compositing and Blending Level 1, multiply."""
    parts = (int(color[at : at + 2], 16) / 255 * int(ground[at : at + 2], 16) / 255 for at in (1, 3, 5))
    linear = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def test_what_is_left_over_can_be_read_in_the_dark() -> None:
    """Its gray words stood on gray at 3.8 to 1; 4.5 is the least for words as small (W3C, WCAG 2.1, 1.4.3)."""
    pattern = draft(design_from_mapping({"row": [{"text": "LO"}]}))
    words = {
        mark.color
        for drawing in drawings_of(chapter_of(pattern, ChapterKind.CUTTING))
        for mark in drawing.marks
        if isinstance(mark, Words) and "left: " in str(mark.said)
    }
    page = sew_along_html(pattern).decode()
    (lamp,) = set(re.findall(r"--ground: (#\w{6});", page))
    assert words and ".ground > * { mix-blend-mode: multiply; }" in page
    for color in words:
        assert color in page
        for ground in ("#ffffff", lamp):
            above, below = _light(LEFT_OVER, ground), _light(color, ground)
            assert (above + 0.05) / (below + 0.05) >= 4.5


def test_pictures_have_a_warm_ground_in_the_dark() -> None:
    """Blue is dimmed most, as a lamp does; in gray the ground stays light enough for ink (W3C, WCAG 2.1, 1.4.3)."""
    (lamp,) = set(re.findall(r"--ground: (#\w{6});", _written().decode()))
    red, green, blue = (int(lamp[at : at + 2], 16) for at in (1, 3, 5))
    assert 255 > red > green > blue
    ink = _light("#62584c", lamp)
    assert (_light("#ffffff", lamp) + 0.05) / (ink + 0.05) >= 4.5


@pytest.mark.long
@pytest.mark.parametrize("method", ["raw edge", "machine cut", "turned edge"])
def test_the_cover_says_what_else_is_needed_by_the_names_of_files(method: str) -> None:
    """In her own folder, and in the customer's edition, where files have the name of the pattern."""
    pattern = drafted(title="Boats", sewing={"method": method})
    files = pack_files(pattern)
    (said,) = _read(files["sew-along.html"]).all("p", class_="besides")
    named = re.findall(r"[\w-]+\.\w+", said.text)
    way = "right-reading" if method == "turned edge" else "mirrored"
    assert named == [f"templates-{way}.pdf", "placement-guide.pdf"] and files.keys() >= set(named)
    assert ("cut-files" in said.text) == (method == "machine cut")
    theirs = customers_files(drafted_for_customers(pattern.design))
    (page,) = (content for name, content in theirs.items() if name.endswith(".html"))
    (said,) = _read(page).all("p", class_="besides")
    named = re.findall(r"[\w-]+\.\w+", said.text)
    archive = ["boats-cut-files.zip"] if method == "machine cut" else []
    assert named == ["boats-letter.pdf", "boats-A4.pdf", *archive] and theirs.keys() >= set(named)


def test_a_narrow_picture_of_the_sleeve_has_no_number_twice() -> None:
    """The same measure at either end was told by two discs with the same number."""
    pattern = _pattern()
    chapters = instructions_of(pattern).chapters
    finishing = next(chapter for chapter in chapters if chapter.kind is ChapterKind.FINISHING)
    (drawing,) = (
        block.drawing
        for block in finishing.blocks
        if isinstance(block, Step) and block.drawing and block.drawing.said == SLEEVE_SEEN
    )
    found = narrowed(drawing, pattern.speech.field, least=16.0)
    said = [pattern.speech.field(mark.said) for mark in found.drawing.marks if isinstance(mark, Words)]
    assert len(said) == len(set(said))
    assert any(
        "at each end" in one for one in (*said, *(pattern.speech.field(told) for _, told in found.told))
    )

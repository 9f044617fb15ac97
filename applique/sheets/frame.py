"""What every sheet has: header, page number, two rules to measure if it is at true size, bookmarks, and the way there.

Places on paper are points from the lower left corner of the page. `Sheet.to_paper` leads from true inches in
the drawing area to points: with the printer's correction, and mirrored if the sheet is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from enum import Enum, auto
from io import BytesIO
from typing import Final, assert_never, cast

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from applique.geometry.points import Matrix, Point
from applique.language import Message
from applique.paging import RULE_STRIP, SheetFrame, Tiling
from applique.pattern import Pattern
from applique.sheets.lettering import Lettering, first_font
from applique.sheets.strokes import HAIR, INK, QUIET, THIN, line_on
from applique.typeset.breaks import UNBROKEN
from applique.words.blocks import of_block_said
from applique.words.publishing import imprint_said
from applique.words.sheets import (
    SMALL_PICTURE,
    TRUE_SCALE,
    file_title,
    inch_mark,
    millimeter_mark,
    page_of,
    rule_caption,
)

__all__ = ["CHAPTER", "POINTS", "Drawn", "Sheet"]

# Streams as they are: a second coat of ASCII makes them a quarter larger and takes longer than drawing them.
rl_config.useA85 = 0

POINTS: Final = 72.0
CHAPTER: Final = 15.0
"""Points of the title of a chapter, and of a page that is none but stands among them."""
_TITLE_SIZE: Final = 11.0
_ABOVE_TITLE: Final = 4.0
_TOLD: Final = 8.5
_TOLD_LEADING: Final = 12.0
_SMALL: Final = 7.5
_IMPRINT: Final = 7.0
_RULE_TEXT: Final = 7.0
_MAP_HIGH: Final = 27.0
_MAP_WIDE: Final = 60.0
_MAP_CLEAR: Final = 190.0
"""Points kept on the right of the header for the page number and the note."""
_RULES: Final = "rules"
_RULE_AT: Final = RULE_STRIP * 0.48
"""Inches from the margin to the rule in its strip."""
_SCALES_APART: Final = 2.5
"""Points from the line of the inches to that of the millimeters."""
_LAST_TICK: Final = 12.0
"""Points of the last tick of the millimeters, which goes on beside their length."""
_CAPTION_BELOW: Final = -14.0
"""Points from the rule along the bottom to the line that its captions stand on."""
_RIGHTWARD: Final = "\u200e"
"""Left-to-right mark (Unicode bidirectional algorithm, UAX 9)."""


class Drawn(Enum):
    """How large what a page shows is drawn: at true size, with rules to measure; small, which its header says; or
    nothing that anybody could measure."""

    AT_TRUE_SIZE = auto()
    SMALL = auto()
    NOTHING = auto()


class _Nowhere:
    """What a trial is drawn on: it takes whatever a canvas takes, and nothing stays."""

    def __getattr__(self, _: str) -> _Nowhere:
        return self

    def __call__(self, *_: object, **__: object) -> _Nowhere:
        return self


class Sheet:
    """One PDF being written, page by page, in one paper and one reading direction.

    A `trial` is laid out like any other, to see which page comes to hold what, and is not drawn.
    """

    def __init__(
        self,
        pattern: Pattern,
        *,
        subject: str,
        method: str = "",
        page_count: int,
        texts: Iterable[str],
        mirrored: bool,
        drawn: Drawn = Drawn.AT_TRUE_SIZE,
        trial: bool = False,
    ) -> None:
        frame = pattern.sheets.frame
        self.frame: SheetFrame = frame
        self.mirrored = mirrored
        self.page_count = page_count
        self.page = 0
        self.anchors: dict[str, tuple[int, ...]] = {}
        """The pages of what has bookmarks or is named as if it had, by its words."""
        self.speech = replace(pattern.speech, space=UNBROKEN, mark=_RIGHTWARD)
        self._drawn = drawn
        self._title, self._method = pattern.title, method
        self.block = ""
        """What of several panels a page is about, in its header and in the bookmarks."""
        self._imprint = self.speech.field(imprint_said(pattern.design.publisher))
        self.is_trial = trial
        self._bytes = BytesIO()
        spelled = (pattern.title, method, self._imprint, *texts, *self.speech.signs)
        self.canvas = cast(Canvas, _Nowhere()) if trial else self._canvas(first_font(spelled))
        self.canvas.setTitle(self.tell(file_title(pattern.title, subject)))
        self.canvas.setAuthor(pattern.design.publisher.name or pattern.design.designer or "")
        self.canvas.setSubject(subject)
        # The pattern is hers: what it was made with is nobody's concern.
        self.canvas.setCreator("")
        self.canvas.setProducer("")
        self.canvas.setViewerPreference("PrintScaling", "None")
        self.letters = Lettering(self.canvas, spelled, own_fonts=pattern.own_fonts, seen=not trial)

    def _canvas(self, font: str) -> Canvas:
        return Canvas(
            self._bytes,
            pagesize=(self.frame.width * POINTS, self.frame.height * POINTS),
            invariant=1,
            pageCompression=1,
            initialFontName=font,  # type: ignore[arg-type]  # the stub is wrong
            lang=self.speech.tag,
        )

    def tell(self, said: Message) -> str:
        """`said` in the language of the sheets."""
        return self.speech.tell(said)

    @property
    def left(self) -> float:
        """The left edge of the drawing area in points."""
        return self.frame.drawing[0] * POINTS

    @property
    def right(self) -> float:
        """The right edge of the drawing area in points."""
        return self.frame.drawing[2] * POINTS

    @property
    def bottom(self) -> float:
        """The lower edge of the drawing area in points."""
        return self.frame.drawing[1] * POINTS

    @property
    def top(self) -> float:
        """The upper edge of the drawing area in points."""
        return self.frame.drawing[3] * POINTS

    def to_paper(self) -> Matrix:
        """From true inches in the drawing area, laid out right-reading, to points on this sheet."""
        across, up = self.frame.paper_per_true_x * POINTS, self.frame.paper_per_true_y * POINTS
        if self.mirrored:
            return (-across, 0.0, 0.0, up, self.right, self.bottom)
        return (across, 0.0, 0.0, up, self.left, self.bottom)

    def turn_to(self, *, method: str = "", mirrored: bool = False, drawn: Drawn = Drawn.AT_TRUE_SIZE) -> None:
        """What follows is another part of the same file, with a line of its own in its headers."""
        self._method, self.mirrored, self._drawn = method, mirrored, drawn

    def begin(self, bookmark: str, *, level: int = 0, note: str = "", drawn: Drawn | None = None) -> None:
        """Start the next page: header, rules and a bookmark; `note` stands on the right of the header.

        It is `drawn` as the part that it belongs to where nothing else is said.
        """
        drawn = drawn or self._drawn
        if self.page:
            self.canvas.showPage()
        self.page += 1
        key = f"page-{self.page}"
        self.anchor(bookmark)
        self.canvas.bookmarkPage(key)
        self.canvas.addOutlineEntry(self._with_block(bookmark), key, level=level)
        self._header(note or self._asked(drawn))
        if drawn is Drawn.AT_TRUE_SIZE:
            self._rules()

    def _with_block(self, words: str) -> str:
        return self.tell(of_block_said(words, self.block)) if self.block else words

    def run_head(self, words: str) -> None:
        """`words` on the second line of this page's header, where the sheet has no line of its own there."""
        left, right = self.frame.margin * POINTS, (self.frame.width - self.frame.margin) * POINTS
        top = (self.frame.height - self.frame.margin) * POINTS
        self.canvas.setFillGray(QUIET)
        line = self.letters.shortened(words, _SMALL, right - left)
        self.letters.draw(line, left, top - 22, _SMALL)
        self.canvas.setFillGray(INK)

    def title(self, words: str, told: str = "") -> float:
        """What this page is, at the top of its drawing area, and what to do with it; returns how high that is."""
        y = self.top - CHAPTER - _ABOVE_TITLE
        self.canvas.setFillGray(INK)
        self.letters.draw(words, self.left, y, CHAPTER, bold=True)
        y -= 4
        for line in self.letters.wrapped(told, _TOLD, self.right - self.left) if told else ():
            y -= _TOLD_LEADING
            self.letters.draw(line, self.left, y + 2, _TOLD)
        return self.top - y

    def mark(self, bookmark: str) -> None:
        """One more bookmark to the page that is being written."""
        self.anchor(bookmark)
        # A key of its own: the library gives all bookmarks of one key the words of the last.
        key = f"page-{self.page}-{len(self.anchors)}"
        self.canvas.bookmarkPage(key)
        self.canvas.addOutlineEntry(bookmark, key, level=0)

    def anchor(self, words: str) -> None:
        """What is called so stands on the page that is being written."""
        self.anchors[words] = (*self.anchors.get(words, ()), self.page)

    def stamp(self, name: str, draw: Callable[[], None]) -> None:
        """What `draw` draws, kept in the file once under `name` (a PDF name: no spaces) and shown on every page that
        asks for it.
        """
        if not self.canvas.hasForm(name):
            self.canvas.beginForm(name)
            draw()
            self.canvas.endForm()
        self.canvas.doForm(name)

    def remark(self, words: str) -> None:
        """`words` below the rule along the bottom, between its captions: clear of whatever the page draws."""
        scale = self.frame.paper_per_true_x * POINTS
        taken = self.letters.width(self._rule_caption(0), _RULE_TEXT)
        metric = self.letters.width(self.speech.measure(millimeter_mark(self.frame.rule_mm[0])), _RULE_TEXT)
        middle = self.left + (taken + self.frame.rule_mm[0] / 25.4 * scale - metric) / 2
        y = (self.frame.margin + _RULE_AT) * POINTS + _CAPTION_BELOW
        self.letters.draw(words, middle, y, _RULE_TEXT, anchor="middle")

    def map_box(self, tiling: Tiling) -> tuple[Point, Point]:
        """Where in the header the map of a tiling goes: its lower left corner and its size."""
        x0, y0, x1, y1 = tiling.area
        scale = min(_MAP_HIGH / (y1 - y0), _MAP_WIDE / (x1 - x0))
        size = (scale * (x1 - x0), scale * (y1 - y0))
        top = (self.frame.height - self.frame.margin) * POINTS
        return (self.right - _MAP_CLEAR - size[0], top - 28), size

    def finish(self) -> bytes:
        """The finished PDF.

        Raises:
            ValueError: fewer or more pages than the headers say.
        """
        if self.page != self.page_count:
            raise ValueError(f"{self.page} pages written, {self.page_count} announced")
        self.canvas.showPage()
        self.canvas.save()
        return self._bytes.getvalue()

    def _header(self, note: str) -> None:
        edge, right = self.frame.margin * POINTS, (self.frame.width - self.frame.margin) * POINTS
        top = (self.frame.height - self.frame.margin) * POINTS
        self.canvas.setFillGray(INK)
        title = self.letters.shortened(
            self._with_block(self._title), _TITLE_SIZE, right - edge - 260, bold=True
        )
        self.letters.draw(title, edge, top - 10, _TITLE_SIZE, bold=True)
        number = self.tell(page_of(self.page, self.page_count))
        self.letters.draw(number, right, top - 10, 9.0, bold=True, anchor="end")
        self.canvas.setFillGray(QUIET)
        self.letters.draw(self._method, edge, top - 22, _SMALL)
        self.letters.draw(note, right, top - 22, _SMALL, anchor="end")
        imprint = self.letters.shortened(self._imprint, _IMPRINT, right - edge)
        self.letters.draw(imprint, edge, top - 39, _IMPRINT)
        self.canvas.setFillGray(INK)
        line_on(self.canvas, (edge, top - 30), (right, top - 30), width=THIN, gray=QUIET)

    def _asked(self, drawn: Drawn) -> str:
        """What the header of a page asks of the printer, or says of a small picture."""
        match drawn:
            case Drawn.AT_TRUE_SIZE:
                return self.tell(TRUE_SCALE)
            case Drawn.SMALL:
                return self.tell(SMALL_PICTURE)
            case Drawn.NOTHING:
                return ""
        assert_never(drawn)

    def _rules(self) -> None:
        def both() -> None:
            self._rule_along()
            self._rule_up()

        self.stamp(_RULES, both)

    def _rule_along(self) -> None:
        scale = self.frame.paper_per_true_x * POINTS
        y = (self.frame.margin + _RULE_AT) * POINTS
        self._ruler((self.left, y), (1.0, 0.0), scale, 0)

    def _rule_up(self) -> None:
        scale = self.frame.paper_per_true_y * POINTS
        x = (self.frame.margin + _RULE_AT) * POINTS
        self._ruler((x, self.bottom), (0.0, 1.0), scale, 1)

    def _ruler(self, start: Point, along: Point, scale: float, way: int) -> None:
        """A rule of two scales from `start`: inches on the side of the drawing, millimeters on the outer side.

        Each has a line that ends with its last tick, and its length stands before that tick.
        `way` is 0 for the rule along the bottom, 1 for the one up the side.
        """
        canvas, inches, millimeters = self.canvas, self.frame.rule_inches[way], self.frame.rule_mm[way]
        canvas.saveState()
        canvas.translate(*start)
        if along[1]:
            canvas.rotate(90)
        inner = -1.0 if along[1] else 1.0
        line_on(canvas, (0, 0), (inches * scale, 0), width=THIN)
        for eighth in range(inches * 8 + 1):
            height = 9.0 if eighth % 8 == 0 else 5.5 if eighth % 4 == 0 else 3.0
            line_on(canvas, (eighth * scale / 8, 0), (eighth * scale / 8, inner * height), width=HAIR)
        metric = -inner * _SCALES_APART
        line_on(canvas, (0, metric), (millimeters * scale / 25.4, metric), width=THIN)
        for millimeter in range(millimeters + 1):
            height = 5.5 if millimeter % 10 == 0 else 3.5 if millimeter % 5 == 0 else 2.0
            if millimeter == millimeters:
                height = _LAST_TICK
            x = millimeter * scale / 25.4
            line_on(canvas, (x, metric), (x, metric - inner * height), width=HAIR)
        self._ruler_words(scale, way)
        canvas.restoreState()

    def _ruler_words(self, scale: float, way: int) -> None:
        inches, millimeters = self.frame.rule_inches[way], self.frame.rule_mm[way]
        up, down = (-8.5, 10.2) if way else (4.0, _CAPTION_BELOW)
        for inch in range(1, inches + 1):
            words = self.speech.measure(inch_mark(inch)) if inch == inches else str(inch)
            self.letters.draw(words, inch * scale - 2.5, up, _RULE_TEXT, anchor="end")
        words = self.speech.measure(millimeter_mark(millimeters))
        self.letters.draw(words, millimeters * scale / 25.4 - 2.5, down, _RULE_TEXT, anchor="end")
        self.letters.draw(self._rule_caption(way), 0.0, down, _RULE_TEXT)

    def _rule_caption(self, way: int) -> str:
        return self.tell(rule_caption(self.frame.rule_inches[way], self.frame.rule_mm[way]))

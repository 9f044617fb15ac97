"""`draft`: from a design to the `Pattern`, one frozen value with every number and shape a maker will see.

Everything is worked out here once; sheets, cut files and tables only draw it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, TypeVar

import shapely
from shapely import affinity
from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry

from applique.design import Design, QuiltingKind
from applique.design.fonts import fonts_named
from applique.errors import Notice, Problem, Refusal
from applique.fabrics import Fabrics, resolve_fabrics
from applique.mats import Mat, plan_mats
from applique.nesting import Nester
from applique.outline_layer import PlacedOutline
from applique.paging import TemplateSheets, Tiling, lay_out_templates, tile_area
from applique.panel import PanelPlan, PlacedRow, on_panel, place_rows
from applique.pieces import Layer, Template, cut_templates, template_key
from applique.quilt.whole import QuiltPlan, plan_quilt
from applique.sewing.checks import check_panel
from applique.sewing.findings import Checks, Finding
from applique.sewing.holes import filled_holes, lay_sewn_outlines
from applique.sewing.plan import StitchPlan, plan_stitching
from applique.sewing.quilting import QuiltingPlan, plan_quilting
from applique.sewing.stitches import RowStitch, row_stitches
from applique.shopping import Shopping, plan_shopping
from applique.typeset.own import OwnFont, own_fonts, shared_design
from applique.words.findings import filled_notice, notice_of
from applique.yardage import StripNeed, letter_needs

__all__ = ["LetterMark", "Pattern", "Risk", "RowMark", "Sketch", "draft", "sketch"]

First = TypeVar("First")
Second = TypeVar("Second")
_QUICK: Final = Nester()
_LONGEST_TITLE: Final = 60
"""Letters of a title that is made of the words because none was given."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterMark:
    """Where one cut stands on the panel, in inches from the center line; negative is left of it."""

    text: str
    template: int
    left: float
    middle: float
    right: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RowMark:
    """Where one row stands: its baseline in inches down from the cut top edge, and its letters.

    `left` and `right` are the row's ink from the center line.
    """

    row: int
    text: str
    fabric: str
    baseline_from_top: float
    left: float
    right: float
    letters: tuple[LetterMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Risk:
    """One thing to look at before cutting: what is said of it, and the finding that says so, if it is one."""

    notice: Notice
    finding: Finding | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Everything about a quilt of words. Shapes in inches, y up; see each part for its frame.

    `outlines` is the outline layer, `templates` are the distinct shapes of both, `sheets` where they stand on printed
    pages, `marks` the numbers of the placement guide, `guide` the tiles of a full-size one if asked for (frame of the
    panel); `fusible` and `cloth` are the nests of the letters alone, `searched` those of them that a search found, as
    text by their keys, to make the same pattern again, `shopping` everything to buy, `mats` the mats of a
    cutting machine, `trace` the tiles of the nested web at full size (frame of the nest); `checks` say what will go
    wrong, `risks` that and all else to look at, `stitching` and `quilting` how it is sewn. `fonts` are the maker's
    own font files.
    """

    design: Design
    fonts: tuple[OwnFont, ...]
    title: str
    panel: PanelPlan
    outlines: tuple[PlacedOutline, ...]
    templates: tuple[Template, ...]
    marks: tuple[RowMark, ...]
    sheets: TemplateSheets
    guide: Tiling | None
    fusible: StripNeed
    cloth: tuple[StripNeed, ...]
    searched: Mapping[str, str]
    quilt: QuiltPlan
    shopping: Shopping
    mats: tuple[Mat, ...]
    trace: Tiling | None
    checks: Checks
    stitching: StitchPlan
    quilting: tuple[QuiltingPlan, ...]
    risks: tuple[Risk, ...]

    @property
    def notices(self) -> tuple[Notice, ...]:
        """What is said of every risk."""
        return tuple(risk.notice for risk in self.risks)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What will go wrong when the letters are cut, sewn and read."""
        return self.checks.findings

    def template(self, number: int) -> Template:
        """The template of that number, from 1."""
        return self.templates[number - 1]

    @property
    def letter_count(self) -> int:
        """How many cuts the panel carries."""
        return sum(template.count for template in self.templates if template.layer is Layer.LETTER)

    def _repr_svg_(self) -> str:
        """The drawing of the quilt, which notebooks show for a pattern (IPython's display protocol)."""
        # The one exception to "writers come after the pattern", allowed by name in the import contracts.
        from applique.preview import preview_svg

        return preview_svg(self).decode("utf-8")

    @property
    def own_fonts(self) -> tuple[str, ...]:
        """The maker's own font files, for labels that no bundled font can spell."""
        return tuple(font.font for font in self.fonts)

    @property
    def shared_design(self) -> Design:
        """The design as others get it: its font files by their names, to lie beside it."""
        return shared_design(self.design, self.fonts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """What can be seen of a quilt: its panel with the letters and all that is around it, no nests and no pages.

    `filled` says which holes of the outline layer were closed.
    """

    panel: PanelPlan
    outlines: tuple[PlacedOutline, ...]
    quilt: QuiltPlan
    stitches: tuple[RowStitch, ...]
    filled: tuple[Notice, ...]

    @property
    def notices(self) -> tuple[Notice, ...]:
        """The risks that show without nests and pages; `Pattern.notices` holds these and more."""
        return (*self.panel.notices, *self.filled, *self.quilt.notices)


def sketch(design: Design) -> Sketch:
    """What can be seen of the quilt of `design`, quick enough to follow somebody who types.

    Raises:
        Refusal: rows, borders or cloth that do not work out.
    """
    fabrics, panel = resolve_fabrics(design), place_rows(design)
    outlines = lay_sewn_outlines(design, panel, fabrics)
    return Sketch(
        panel=panel,
        outlines=outlines,
        quilt=plan_quilt(design, panel, fabrics),
        stitches=row_stitches(design, panel.rows, fabrics),
        filled=tuple(_filled(design, panel, fabrics, outlines)),
    )


def draft(design: Design, *, nester: Nester = _QUICK) -> Pattern:
    """The whole pattern of `design`, worked out once.

    Pure and the same on every run with the quick nester. A `nester` of more effort searches for shorter nests by the
    clock, so it gives the same again only with the nests that it is given or that its store kept.

    Raises:
        Refusal: what cannot be made, with every problem found.
    """
    fabrics = resolve_fabrics(design)
    panel = place_rows(design)
    outlines = lay_sewn_outlines(design, panel, fabrics)
    templates = cut_templates(design, panel.rows, outlines)
    fonts = own_fonts(fonts_named(design))
    quilt, sheets = _both(
        lambda: plan_quilt(design, panel, fabrics),
        lambda: lay_out_templates(
            templates, design.paper, design.print, own_fonts=tuple(font.font for font in fonts)
        ),
    )
    needs = letter_needs(
        templates,
        panel.rows,
        design.row,
        fabrics.letters,
        fusible=design.fusible,
        method=design.sewing.method,
        units=design.units,
        nester=nester,
    )
    mats = plan_mats(templates, design.cutting, design.units)
    checks = check_panel(design, panel, fabrics, outlines)
    stitching = plan_stitching(design, panel, templates, outlines, quilt, checks.stitches)
    quilting = plan_quilting(design, panel, outlines, quilt)
    shopping = plan_shopping(
        design,
        quilt,
        stitching,
        quilting,
        letters=needs.cloth,
        fusible=needs.fusible,
        one_fabric=needs.one_fabric,
    )
    return Pattern(
        design=design,
        fonts=fonts,
        title=design.title or _title_of(design),
        panel=panel,
        outlines=outlines,
        templates=templates,
        marks=_marks(panel, templates),
        sheets=sheets,
        guide=_full_size_guide(design, panel, outlines, sheets, quilting)
        if design.paper.full_size_guide
        else None,
        fusible=needs.fusible,
        cloth=needs.cloth,
        searched=needs.searched,
        quilt=quilt,
        shopping=shopping,
        mats=mats.mats,
        trace=_trace_sheets(design, needs.fusible, sheets) if design.paper.full_size_nest else None,
        checks=checks,
        stitching=stitching,
        quilting=quilting,
        risks=(
            *_risks(panel.notices),
            *_risks(_filled(design, panel, fabrics, outlines)),
            *(Risk(notice=notice_of(finding, design.units), finding=finding) for finding in checks.findings),
            *_risks(quilt.notices),
            *_risks(shopping.notices),
            *_risks(mats.notices),
        ),
    )


def _risks(notices: Iterable[Notice]) -> Iterator[Risk]:
    return (Risk(notice=notice) for notice in notices)


def _filled(
    design: Design, panel: PanelPlan, fabrics: Fabrics, outlines: Sequence[PlacedOutline]
) -> Iterator[Notice]:
    """Which holes of the outline layer are closed."""
    return (filled_notice(filled, design.units) for filled in filled_holes(design, panel, fabrics, outlines))


def _both(first: Callable[[], First], second: Callable[[], Second]) -> tuple[First, Second]:
    """What two independent steps give; if either refuses, the problems of both are said together."""
    problems: list[Problem] = []
    results: list[Any] = []
    for step in (first, second):
        try:
            results.append(step())
        except Refusal as refusal:
            problems += refusal.problems
    if problems:
        raise Refusal(problems)
    return results[0], results[1]


def _title_of(design: Design) -> str:
    """The words themselves, as many of them as make a title."""
    words = " ".join(line.text for line in design.row)
    return words if len(words) <= _LONGEST_TITLE else words[:_LONGEST_TITLE].rsplit(" ", 1)[0] + " …"


def _marks(panel: PanelPlan, templates: Sequence[Template]) -> tuple[RowMark, ...]:
    center = float(panel.width) / 2
    cut_top = float(panel.height + panel.seam_allowance)
    numbers = {template.key: template.number for template in templates}
    turned = any(template.turned for template in templates)

    def mark(row: PlacedRow) -> RowMark:
        return RowMark(
            row=row.number,
            text=row.text,
            fabric=row.fabric.name,
            baseline_from_top=cut_top - row.baseline,
            left=row.ink[0] - center,
            right=row.ink[2] - center,
            letters=tuple(
                LetterMark(
                    text=cut.text,
                    template=numbers[template_key(row, index) if turned else cut.key],
                    left=cut.ink[0] - center,
                    middle=(cut.ink[0] + cut.ink[2]) / 2 - center,
                    right=cut.ink[2] - center,
                )
                for index, cut in enumerate(row.cuts)
            ),
        )

    return tuple(mark(row) for row in panel.rows)


def _trace_sheets(design: Design, web: StripNeed, sheets: TemplateSheets) -> Tiling | None:
    """Tiles of the nested letters at full size, in the frame of the nest, to lay under the web."""
    if web.nest is None:
        return None
    shapes = {piece.key: piece.shape for piece in web.pieces}
    laid = [
        affinity.translate(
            affinity.rotate(shapes[spot.key], spot.turn_deg, origin=(0.0, 0.0)), spot.x, spot.y
        )
        for spot in web.nest.placements
    ]
    overlap = float(design.paper.overlap)
    return tile_area(shapely.GeometryCollection(laid), frame=sheets.frame, overlap=overlap, border=0.1)


def _full_size_guide(
    design: Design,
    panel: PanelPlan,
    outlines: Sequence[PlacedOutline],
    sheets: TemplateSheets,
    quilting: Sequence[QuiltingPlan],
) -> Tiling:
    """Tiles of the whole cut panel that show a letter, a shape behind one, an echo line or the panel's edge."""
    allowance, width, height = (float(panel.seam_allowance), float(panel.width), float(panel.height))
    drawn: list[BaseGeometry] = [on_panel(cut) for row in panel.rows for cut in row.cuts]
    drawn += [piece.place.shape(piece.shape) for piece in outlines]
    drawn += [
        affinity.translate(LineString(line), width / 2, height / 2)
        for plan in quilting
        if plan.kind is QuiltingKind.ECHO
        for line in plan.lines
    ]
    edge = box(-allowance, -allowance, width + allowance, height + allowance).exterior
    return tile_area(
        shapely.GeometryCollection([*drawn, edge]),
        frame=sheets.frame,
        overlap=float(design.paper.overlap),
        border=0.1,
    )

"""From a design to its `Pattern` in three stages, each of which holds the one before it: placed, sketch, pattern.

`place` lays the panel, `sketch` adds the quilt around it, `draft` all that it takes to make it; whoever has a stage
goes on from there. Everything is worked out here once; sheets, cut files and tables only draw it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Final, TypeVar

from applique.cloth import ClothPlan, fabrics_beside_letters, plan_cloth
from applique.design import BackingKind, Design, Method, in_second_method
from applique.design.fonts import fonts_named
from applique.errors import Notice, Problem, Refusal, Where
from applique.fabrics import shared_photos
from applique.full_size import (
    CopyShopSheets,
    PanelTemplate,
    copy_shop_sheets,
    guide_tiles,
    panel_templates,
    projector_frame,
    trace_tiles,
)
from applique.held_numbers import HeldNumber, hold_numbers
from applique.language import Speech, american, any_of, catalogues, message, nearest_speech, speech_in
from applique.marks import RowMark, WordsReach, guide_items, row_marks, words_reach
from applique.mats import Mat, MatPlan, plan_mats
from applique.nesting import Nester
from applique.outline_layer import PlacedOutline
from applique.paging import SheetFrame, TemplateSheets, Tiling, lay_out_templates
from applique.panel import PanelPlan
from applique.photos import Photo
from applique.picture import Picture, beside_each_other, draw_picture, draw_set
from applique.pieces import Layer, Template, cut_templates
from applique.publishing import Mark, read_mark
from applique.quilt.whole import QuiltPlan, plan_blocks, plan_quilt
from applique.scan_code import ScanCode, scan_code
from applique.sewing.checks import check_panel
from applique.sewing.findings import Checks, Finding
from applique.sewing.offers import StitchOffer, plan_offers
from applique.sewing.placed import Placed, place
from applique.sewing.plan import StitchPlan, plan_stitching
from applique.sewing.quilting import QuiltingPlan, plan_quilting
from applique.sewing.stitches import EdgeStitch
from applique.sewing.threads import ThreadNeed, plan_threads
from applique.shopping import Shopping, plan_shopping
from applique.typeset.own import OwnFont, own_fonts, shared_design
from applique.words.accepted import Acceptance, Risk, acceptances, is_accepted
from applique.words.buying import shopping_notices
from applique.words.cut_files import mat_notices
from applique.words.findings import filled_notice, notice_of
from applique.words.methods import in_method_said
from applique.words.quilt import quilt_notices
from applique.yardage import LetterNeeds, StripNeed, letter_needs

__all__ = ["Pattern", "Placed", "Risk", "Sketch", "draft", "place", "renest", "rests_on_nests", "sketch"]

First = TypeVar("First")
Second = TypeVar("Second")
_QUICK: Final = Nester()
_LONGEST_TITLE: Final = 60
"""Letters of a title that is made of the words because none was given."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """What can be seen of a quilt: its panel and all that is around it, no nests and no pages.

    `several` are the sketches of its blocks, each in its own frame; none where it has one panel.
    """

    placed: Placed
    quilt: QuiltPlan
    several: tuple[Sketch, ...] = ()

    @property
    def design(self) -> Design:
        """The design that was sketched."""
        return self.placed.design

    @property
    def panel(self) -> PanelPlan:
        """The panel with its rows."""
        return self.placed.panel

    @property
    def outlines(self) -> tuple[PlacedOutline, ...]:
        """The outline layer, in the frame of the panel."""
        return self.placed.outlines

    @property
    def reach(self) -> WordsReach:
        """How far the words reach, from the center line and from what baselines are measured down from."""
        return words_reach(self.panel, self.outlines, self.design.units)

    @property
    def made_size(self) -> tuple[Fraction, Fraction]:
        """Width and height of what is made: of the finished quilt, or of the words where letters alone are made."""
        reach = self.reach
        return (reach.width, reach.height) if self.panel.loose else self.quilt.finished

    @property
    def stitches(self) -> tuple[EdgeStitch, ...]:
        """The stitch of each row and every other piece."""
        return self.placed.stitches

    @property
    def notices(self) -> tuple[Notice, ...]:
        """The risks that show without nests and pages, but for accepted ones; `Pattern.notices` has these and more."""
        every = (
            *self.panel.notices,
            *self.filled,
            *quilt_notices(self.quilt, self.design.units),
            *_language_notices(self.placed.design.language),
        )
        return tuple(risk.notice for risk in _risks(every) if not is_accepted(risk, self.design))

    @property
    def filled(self) -> tuple[Notice, ...]:
        """Which holes of the outline layer are closed."""
        return tuple(filled_notice(filled, self.design.units) for filled in self.placed.filled)

    @property
    def picture(self) -> Picture:
        """The finished quilt as it is painted, without its quilting; blocks set together or side by side."""
        return self.drawn_with(())

    def drawn_with(self, quilting: Sequence[QuiltingPlan]) -> Picture:
        """The finished quilt as it is painted, with those lines of quilting where it is one quilt."""
        if not self.several:
            return draw_picture(self.panel, self.outlines, self.quilt, self.stitches, quilting)
        blocks = [block.picture for block in self.several]
        if self.quilt.setting is not None:
            places = [block.places for block in self.placed.several]
            return draw_set(blocks, places, self.quilt, self.quilt.setting, quilting)
        at = [block.at for block in self.placed.several]
        return beside_each_other(blocks, at, (self.panel.width, self.panel.height), self.quilt)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Everything about a quilt of words. Shapes in inches, y up; see each part for its frame.

    `templates` are the distinct shapes of letters and outline layer, `sheets` where they stand on printed pages,
    `marks` the numbers of the placement guide, each in the frame of its own panel, `guide` the tiles of a full-size one
    if asked for (frame of the panel); `panel_templates` are those of panels that are no rectangles; `needs` holds the
    nests of the letters alone, `trace` the tiles of the nested web at full size (frame of the nest), `shopping`
    everything to buy, `mat_plan` the mats of a cutting machine; `checks` say what will go wrong, `stitching` and
    `quilting` how it is sewn, `offers` what the letters take in other stitches, `threads` what for. `stated` are the
    numbers of the maker's own, held against all that; `fonts` her own font files, `mark` and `contact_code` what she
    publishes under, if she does. `copy_shop` and `projector` are the long pages of a copy shop and the page of a
    projector, if asked for. `second` is the same quilt in the second method that the design offers.
    """

    sketch: Sketch
    fonts: tuple[OwnFont, ...]
    title: str
    templates: tuple[Template, ...]
    marks: tuple[RowMark, ...]
    sheets: TemplateSheets
    guide: Tiling | None
    panel_templates: tuple[PanelTemplate, ...]
    needs: LetterNeeds
    shopping: Shopping
    mat_plan: MatPlan
    trace: Tiling | None
    checks: Checks
    stitching: StitchPlan
    offers: tuple[StitchOffer, ...]
    quilting: tuple[QuiltingPlan, ...]
    threads: tuple[ThreadNeed, ...]
    stated: tuple[HeldNumber, ...]
    copy_shop: CopyShopSheets | None
    projector: SheetFrame | None
    mark: Mark | None = None
    contact_code: ScanCode | None = None
    second: Pattern | None = None

    @property
    def design(self) -> Design:
        """The design that the pattern is of."""
        return self.sketch.design

    @property
    def panel(self) -> PanelPlan:
        """The panel with its rows."""
        return self.sketch.panel

    @property
    def outlines(self) -> tuple[PlacedOutline, ...]:
        """The outline layer, in the frame of the panel."""
        return self.sketch.outlines

    @property
    def reach(self) -> WordsReach:
        """How far the words reach, from the center line and from what baselines are measured down from."""
        return self.sketch.reach

    @property
    def quilt(self) -> QuiltPlan:
        """Everything around the panel."""
        return self.sketch.quilt

    @property
    def blocks(self) -> tuple[Pattern, ...]:
        """The pattern seen from each panel in its own frame, everything else as it is in all: this one where it has one
        panel."""
        return tuple(
            replace(
                self,
                sketch=drawn,
                marks=row_marks(drawn.panel, self.templates, drawn.outlines),
                quilting=(),
            )
            for drawn in self.sketch.several
        ) or (self,)

    @property
    def block_names(self) -> tuple[str, ...]:
        """What each of `blocks` is called; one without a name is the only panel."""
        return tuple(block.name for block in self.sketch.placed.blocks)

    @property
    def fusible(self) -> StripNeed:
        """The web, or the freezer paper, that the letters take."""
        return self.needs.fusible

    @property
    def cloth(self) -> tuple[StripNeed, ...]:
        """What the letters take of each fabric."""
        return self.needs.cloth

    @property
    def searched(self) -> Mapping[str, str]:
        """The nests that a search found, as text by their keys, to make the same pattern again."""
        return {**self.needs.searched, **({} if self.second is None else self.second.searched)}

    @property
    def mats(self) -> tuple[Mat, ...]:
        """The mats of a cutting machine."""
        return self.mat_plan.mats

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What will go wrong when the letters are cut, sewn and read."""
        return self.checks.findings

    @property
    def picture(self) -> Picture:
        """The finished quilt as it is painted, its quilting in it; blocks set together or side by side."""
        return self.sketch.drawn_with(self.quilting)

    @property
    def risks(self) -> tuple[Risk, ...]:
        """Every risk that the maker has not accepted, from the panel outward and on to the table."""
        return tuple(risk for risk in self.every_risk if not is_accepted(risk, self.design))

    @property
    def accepted(self) -> tuple[Acceptance, ...]:
        """What the maker has accepted, entry by entry, and which of it still holds."""
        return acceptances(self.every_risk, self.design)

    @property
    def every_risk(self) -> tuple[Risk, ...]:
        """Every risk, accepted or not."""
        units = self.design.units
        return (
            *_risks(self.panel.notices),
            *_risks(self.sketch.filled),
            *(Risk(notice=notice_of(finding, units), finding=finding) for finding in self.findings),
            *_risks(quilt_notices(self.quilt, units)),
            *_risks(shopping_notices(self.shopping, units)),
            *_risks(mat_notices(self.mat_plan, units)),
            *_risks(_language_notices(self.design.language)),
            *self._risks_of_second,
        )

    @property
    def _risks_of_second(self) -> tuple[Risk, ...]:
        """What the second method alone risks, said of it; its numbers are in what is said, for no cure is tried."""
        if self.second is None:
            return ()
        own = {str(risk.notice) for risk in replace(self, second=None).every_risk}
        method = self.second.design.sewing.method
        return tuple(
            Risk(notice=replace(risk.notice, what=in_method_said(method, risk.notice.what)))
            for risk in self.second.risks
            if str(risk.notice) not in own
        )

    @property
    def notices(self) -> tuple[Notice, ...]:
        """What is said of every risk that is not accepted."""
        return tuple(risk.notice for risk in self.risks)

    def template(self, number: int) -> Template:
        """The template of that number, from 1."""
        return self.templates[number - 1]

    @property
    def letter_count(self) -> int:
        """How many letters are cut, several that are cut as one piece counted as one."""
        return sum(template.count for template in self.templates if template.layer is Layer.LETTER)

    @property
    def piece_count(self) -> int:
        """How many pieces of cloth the letters are: an i is two."""
        return sum(one.count * one.parts for one in self.templates if one.layer is Layer.LETTER)

    @property
    def joins_letters(self) -> bool:
        """Whether letters of a connected script are cut as one, so that what is counted are pieces."""
        return any(len(cut.letters) > 1 for row in self.panel.rows for cut in row.cuts)

    def _repr_svg_(self) -> str:
        """The drawing of the quilt, which notebooks show for a pattern (IPython's display protocol)."""
        # The one exception to "writers come after the pattern", allowed by name in the import contracts.
        from applique.preview import preview_svg

        return preview_svg(self).decode("utf-8")

    @property
    def speech(self) -> Speech:
        """How its sheets speak: the language of the design, or American English where there is no catalogue of it."""
        return nearest_speech(self.design.language)

    @property
    def own_fonts(self) -> tuple[str, ...]:
        """The maker's own font files, for labels that no bundled font can spell."""
        return tuple(font.font for font in self.fonts)

    @property
    def shared_design(self) -> Design:
        """The design as others get it: its font files and photos by their names, to lie beside it."""
        return shared_design(self.design, self.fonts, self.photo_names)

    @property
    def photo_names(self) -> Mapping[str, str]:
        """What the photos of fabrics are called beside the design, by the names that it has for them."""
        return shared_photos(self.design, self.quilt.fabrics.photos)

    @property
    def photos(self) -> tuple[tuple[str, Photo], ...]:
        """The photos of fabrics by their names beside the design, each once."""
        photos = self.quilt.fabrics.photos
        named = {
            self.photo_names[fabric.photo]: photos[fabric.name].photo
            for fabric in self.design.fabric
            if fabric.photo
        }
        return tuple(named.items())


def sketch(start: Design | Placed, *, after: Sketch | None = None) -> Sketch:
    """What can be seen of the quilt of a design, or of one that is placed; quick enough to follow somebody who types.

    `after` is that of a design much like it, such as before the last key. It saves time and has no part in what comes
    back.

    Raises:
        Refusal: rows, borders or cloth that do not work out.
    """
    before = after.placed if after is not None else None
    placed = start if isinstance(start, Placed) else place(start, after=before)
    if not placed.several:
        return Sketch(placed=placed, quilt=plan_quilt(placed.design, placed.panel, placed.fabrics))
    blocks = tuple(sketch(block.placed) for block in placed.several)
    plans = [
        (block.name, block.count, drawn.quilt) for block, drawn in zip(placed.several, blocks, strict=True)
    ]
    quilt = plan_blocks(placed.design, plans, placed.panel, placed.fabrics, placed.setting)
    return Sketch(placed=placed, quilt=quilt, several=blocks)


def rests_on_nests(design: Design) -> bool:
    """Whether what is said of a design hangs on how short its nests are, and not only what is bought.

    So it is with a back from leftovers, with what the stash lacks, and with numbers that the maker states.
    """
    leftovers = design.backing.kind is BackingKind.LEFTOVERS
    return leftovers or bool(design.stated) or any(fabric.have for fabric in design.fabric)


def draft(start: Design | Sketch, *, nester: Nester = _QUICK) -> Pattern:
    """The whole pattern of a design; what a sketch of it has is not worked out again.

    Pure and the same on every run with the quick nester. A `nester` of more effort searches for shorter nests by the
    clock, so it gives the same again only with the nests that it is given or that its store kept.

    Raises:
        Refusal: what cannot be made, with every problem found.
    """
    placed = start.placed if isinstance(start, Sketch) else place(start)
    design, panel, outlines = placed.design, placed.panel, placed.outlines
    templates = cut_templates(design, panel.laid, outlines, panel.made)
    fonts = own_fonts(fonts_named(design))
    publisher = design.publisher
    mark = read_mark(publisher.mark_file) if publisher.mark_file else None
    drawn, sheets = _both(
        lambda: start if isinstance(start, Sketch) else sketch(placed),
        lambda: lay_out_templates(
            templates,
            design.paper,
            design.print,
            own_fonts=tuple(font.font for font in fonts),
            speech=nearest_speech(design.language),
        ),
    )
    mat_plan = plan_mats(
        templates,
        design.cutting,
        rough_cut=design.fusible.rough_cut,
        fussy=_cut_by_spot(placed),
        shared=fabrics_beside_letters(design, drawn.quilt),
        units=design.units,
    )
    needs = _needs(placed, templates, mat_plan, nester)
    checks = check_panel(placed)
    stitching = plan_stitching(design, panel, templates, outlines, drawn.quilt, placed.stitches)
    quilting = plan_quilting(design, panel, outlines, drawn.quilt)
    cloth = plan_cloth(design, drawn.quilt, needs.cloth)
    threads = plan_threads(design, panel, drawn.quilt, cloth, stitching, quilting)
    shopping = _shopping(drawn.quilt, cloth, stitching, threads, needs)
    return Pattern(
        sketch=drawn,
        fonts=fonts,
        title=design.title or _title_of(design),
        templates=templates,
        marks=_marks(placed, templates),
        sheets=sheets,
        guide=_guide(drawn, quilting, sheets),
        panel_templates=panel_templates(
            ((block.name, block.count, block.placed.panel) for block in placed.blocks),
            design.paper,
            sheets.frame,
        ),
        needs=needs,
        shopping=shopping,
        mat_plan=mat_plan,
        trace=_trace(design, needs, sheets),
        checks=checks,
        stitching=stitching,
        offers=plan_offers(placed, templates, drawn.quilt, stitching),
        quilting=quilting,
        threads=threads,
        stated=hold_numbers(design, panel, drawn.quilt, templates, needs, shopping, stitching),
        copy_shop=copy_shop_sheets(
            design,
            panel,
            templates,
            own_fonts=tuple(font.font for font in fonts),
            speech=nearest_speech(design.language),
        ),
        projector=projector_frame(design, panel),
        mark=mark,
        contact_code=scan_code(publisher.contact.strip()) if publisher.contact_code else None,
        second=_second(design, nester),
    )


def _marks(placed: Placed, templates: Sequence[Template]) -> tuple[RowMark, ...]:
    """The numbers of the placement guide, each in the frame of its own panel."""
    each = (block.placed for block in placed.blocks)
    return tuple(mark for one in each for mark in row_marks(one.panel, templates, one.outlines))


def _second(design: Design, nester: Nester) -> Pattern | None:
    """The pattern in the second method that the design offers, if it offers one.

    Raises:
        Refusal: what cannot be made in it, every problem said of that method.
    """
    other = in_second_method(design)
    if other is None:
        return None
    try:
        return draft(other, nester=nester)
    except Refusal as refusal:
        method = other.sewing.method
        raise Refusal(
            [replace(one, what=in_method_said(method, one.what)) for one in refusal.problems]
        ) from None


def renest(pattern: Pattern, *, nester: Nester) -> Pattern:
    """`pattern` with its letters nested anew by `nester`, as `draft` with that nester makes it; the rest is kept."""
    needs = _needs(pattern.sketch.placed, pattern.templates, pattern.mat_plan, nester)
    design, panel, quilt, stitching = pattern.design, pattern.panel, pattern.quilt, pattern.stitching
    cloth = plan_cloth(design, quilt, needs.cloth)
    threads = plan_threads(design, panel, quilt, cloth, stitching, pattern.quilting)
    shopping = _shopping(quilt, cloth, stitching, threads, needs)
    return replace(
        pattern,
        needs=needs,
        threads=threads,
        shopping=shopping,
        stated=hold_numbers(design, panel, quilt, pattern.templates, needs, shopping, stitching),
        trace=_trace(design, needs, pattern.sheets),
        second=None if pattern.second is None else renest(pattern.second, nester=nester),
    )


def _cut_by_spot(placed: Placed) -> frozenset[str]:
    """The fabrics whose letters a machine cuts one by one, some of them from a spot of their own."""
    if placed.design.sewing.method is not Method.MACHINE_CUT:
        return frozenset()
    rows = zip(placed.panel.rows, placed.design.rows, strict=True)
    return frozenset(row.fabric.name for row, line in rows if line.fussy)


def _needs(placed: Placed, templates: Sequence[Template], mat_plan: MatPlan, nester: Nester) -> LetterNeeds:
    design = placed.design
    return letter_needs(
        templates,
        placed.panel.rows,
        design.rows,
        placed.fabrics.letters,
        fusible=design.fusible,
        method=design.sewing.method,
        extra=design.yardage.loss(design.units),
        seam=2 * design.seam_allowance,
        units=design.units,
        nester=nester,
        mats=mat_plan.mats,
    )


def _shopping(
    quilt: QuiltPlan,
    cloth: ClothPlan,
    stitching: StitchPlan,
    threads: Sequence[ThreadNeed],
    needs: LetterNeeds,
) -> Shopping:
    return plan_shopping(
        quilt,
        cloth,
        stitching.stabilizers,
        threads,
        fusible=needs.fusible,
        one_fabric=needs.one_fabric,
    )


def _guide(drawn: Sketch, quilting: Sequence[QuiltingPlan], sheets: TemplateSheets) -> Tiling | None:
    paper = drawn.design.paper
    if not paper.full_size_guide:
        return None
    return guide_tiles(guide_items(drawn.drawn_with(quilting), quilting), drawn.panel, paper, sheets.frame)


def _trace(design: Design, needs: LetterNeeds, sheets: TemplateSheets) -> Tiling | None:
    return trace_tiles(needs.fusible, design.paper, sheets.frame) if design.paper.full_size_nest else None


def _risks(notices: Iterable[Notice]) -> Iterator[Risk]:
    return (Risk(notice=notice) for notice in notices)


def _language_notices(language: str) -> list[Notice]:
    if speech_in(language) is not None:
        return []
    return [
        Notice(
            kind="no-catalogue",
            what=message(
                "the sheets are in American English, for there is no translation into “{language}” yet",
                language=language,
            ),
            where=Where.key("language"),
            fix=message(
                "one of {languages}; the words of the quilt stay as they are", languages=any_of(_spoken())
            ),
        )
    ]


def _spoken() -> list[str]:
    return [american().tag, *catalogues()]


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
    words = " ".join(line.text for line in design.rows)
    return words if len(words) <= _LONGEST_TITLE else words[:_LONGEST_TITLE].rsplit(" ", 1)[0] + " …"

"""The design as frozen values: what a maker asks for, and nothing worked out yet.

Lengths are exact `Fraction` inches. The JSON Schema and the reference of the design file come from these classes.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields, is_dataclass, replace
from enum import StrEnum
from fractions import Fraction
from functools import cache
from typing import Annotated, Final, Literal, get_args, get_type_hints

from applique.buying import WashAndSquare
from applique.cutting import Preference
from applique.design.accepted import Accepted
from applique.design.around import (
    Backing,
    Banner,
    Batting,
    Binding,
    Border,
    Bunting,
    Garment,
    Hanging,
    Label,
    Pillow,
)
from applique.design.entries import (
    FIT,
    STRICT,
    Allowance,
    CapHeight,
    Color,
    Count,
    Degrees,
    Fine,
    Flag,
    Measured,
    Near,
    Number,
    PhotoWidth,
    Roll,
    Shift,
    Size,
    Step,
    Words,
    says,
)
from applique.design.setting import Grid, Setting, grid_of
from applique.design.sewn import OutlineLayer, Quilting, Sewing, Stitch, Stitching
from applique.design.stash import Stash
from applique.design.stated import Stated
from applique.units import Units, cut_on_grid, seam_allowance_in, spare_in, squaring_in

__all__ = [
    "Align",
    "Block",
    "Columns",
    "Copies",
    "CopyShop",
    "Cutting",
    "Design",
    "Direction",
    "Fabric",
    "Finish",
    "Fusible",
    "FussyCut",
    "Lettering",
    "LettersDown",
    "Nudge",
    "Panel",
    "PanelShape",
    "Paper",
    "PaperSize",
    "PrintCorrection",
    "Publisher",
    "Row",
    "Rows",
    "Spacing",
    "Turns",
    "Yardage",
    "tables_of",
]


class Align(StrEnum):
    """How a row lies across the panel, judged by its ink."""

    CENTER = "center"
    LEFT = "left"
    RIGHT = "right"
    SPREAD = "spread"


class Direction(StrEnum):
    """Which way the letters of a row follow one another."""

    ACROSS = "across"
    DOWN = "down"


class LettersDown(StrEnum):
    """How letters stand in a row that runs down that are written across the page, such as Latin ones."""

    UPRIGHT = "upright"
    TURNED = "turned"


class Columns(StrEnum):
    """From which side rows that run down follow one another."""

    FROM_LEFT = "from the left"
    FROM_RIGHT = "from the right"


class Spacing(StrEnum):
    """How letters follow one another: the font's own kerning, or evened by the white between them."""

    FONT = "font"
    EVEN = "even"


class Rows(StrEnum):
    """How rows follow one another down the panel."""

    EQUAL_WHITE = "equal white"
    EVEN_BASELINES = "even baselines"


class Copies(StrEnum):
    """One template for each distinct shape, or one for each letter to be cut."""

    ONE = "one"
    EACH = "each"


class PaperSize(StrEnum):
    """The papers that home printers take."""

    LETTER = "letter"
    A4 = "A4"
    LEGAL = "legal"
    TABLOID = "tabloid"
    A3 = "A3"


class CopyShop(StrEnum):
    """The rolls of paper that a copy shop prints on, by their width."""

    INCHES_24 = "24in"
    INCHES_36 = "36in"
    A1 = "A1"
    A0 = "A0"


class Turns(StrEnum):
    """How letters may be turned on a fabric to save cloth."""

    UPRIGHT = "upright"
    HALF = "half"
    QUARTER = "quarter"


class Finish(StrEnum):
    """What is made around the words."""

    QUILT = "quilt"
    TOP = "top only"
    PILLOW = "pillow"
    BANNER = "banner"
    GARMENT = "garment"
    LETTERS = "letters only"


class PanelShape(StrEnum):
    """The finished outline of a panel; flags hang from their top edge."""

    RECTANGLE = "rectangle"
    TRIANGLE = "triangle"
    SWALLOWTAIL = "swallowtail"
    HALF_ROUND = "half round"
    CIRCLE = "circle"
    HEXAGON = "hexagon"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabric:
    """A fabric of the design."""

    __pydantic_config__ = STRICT
    name: Annotated[str, says("what the other tables call it", min_length=1, max_length=60)]
    color: Annotated[Color, says("its color, six digits as on the web; that of its photo if left out")] = ""
    photo: Annotated[
        str, says("a photo of it: the name of a JPEG, PNG or WebP beside this file", max_length=1000)
    ] = ""
    photo_width: Annotated[PhotoWidth, says("the width of fabric that the photo shows")] = Fraction(8)
    usable_width: Annotated[
        Roll, says("width of fabric that you can cut from, after washing and without the selvages")
    ] = Fraction(40)
    sold_width: Annotated[
        Roll | None,
        says("instead of the usable width: between the selvages as it is sold; washing takes from it"),
    ] = None
    turns: Annotated[
        Turns, says("how letters lie: heads up or down, up only on one-way prints, any quarter")
    ] = Turns.HALF
    have: Annotated[
        Stash, says("what of it is in your stash, such as 1 1/2yd and 2 fat quarters; that is cut first")
    ] = ()
    plan: Annotated[Preference | None, says("as in yardage, for this fabric alone")] = None
    stitch: Annotated[Stitch | None, says("the stitch around letters of it; as in stitching if left out")] = (
        None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """The background panel that the letters are sewn to."""

    __pydantic_config__ = STRICT
    width: Annotated[Size, says("finished width")] = Fraction(30)
    height: Annotated[Size, says("finished height")] = Fraction(40)
    shape: Annotated[
        PanelShape,
        says(
            "its finished outline, as large as width and height; a hexagon has its points left and right, and equal "
            "sides where it is 0.866 times as high as wide"
        ),
    ] = PanelShape.RECTANGLE
    seam_allowance: Annotated[
        Allowance | None,
        says(
            "of every seam, and added on every side when the panel is cut; 1/4in, or 0.75cm in cm, if left out"
        ),
    ] = None
    trim_after: Annotated[
        Near | None,
        says(
            "cut larger by this in all, in width and in height, to trim after stitching; if left out by the stitch, "
            "and blocks that are set together by 1/2in at least, or 2cm in cm"
        ),
    ] = None
    margin: Annotated[Allowance, says("least distance from the letters to the finished edge")] = Fraction(
        3, 2
    )
    fabric: Annotated[str, says("the name of one of the fabrics; a light one of its own if left out")] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nudge:
    """One letter of a row moved or turned by hand; in a turned row, right and up are those of the row."""

    __pydantic_config__ = STRICT
    letter: Annotated[
        Count, says("which letter, counted as typed from 1; no spaces, accents with their letter", ge=1)
    ]
    right: Annotated[Shift, says("how far to the right; negative moves left")] = Fraction(0)
    up: Annotated[Shift, says("how far up; negative moves down")] = Fraction(0)
    turn: Annotated[
        Degrees, says("degrees to the left, about the middle of its ink; negative turns right")
    ] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FussyCut:
    """A letter cut from one spot of its fabric, for the sake of the print."""

    __pydantic_config__ = STRICT
    letter: Annotated[
        Count, says("which letter, counted as typed from 1; no spaces, accents with their letter", ge=1)
    ]
    along: Annotated[Allowance, says("how far along the selvage its rough cut starts")]
    across: Annotated[Allowance, says("how far in from the selvage its rough cut starts")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering:
    """What every row takes unless it says otherwise."""

    __pydantic_config__ = STRICT
    font: Annotated[str, says("a bundled font, or the path of a font file, from the folder of this file")] = (
        "Montserrat"
    )
    axes: Annotated[
        dict[str, Number], says("settings of a variable font: weight, width, or its own tags")
    ] = field(default_factory=dict)
    cap_height: Annotated[CapHeight, says("letter height (capital H), or fit for the largest that fits")] = (
        FIT
    )
    letter_spacing: Annotated[Shift, says("added between all letters")] = Fraction(0)
    least_gap: Annotated[Allowance, says("neighboring letters keep at least this clear")] = Fraction(1, 4)
    spacing: Annotated[Spacing, says("the font's own, or even: the space between letters evened by area")] = (
        Spacing.FONT
    )
    row_gap: Annotated[Allowance, says("least space between rows")] = Fraction(1)
    rows: Annotated[Rows, says("space above, between and below equal, or baselines evenly spaced")] = (
        Rows.EQUAL_WHITE
    )
    row_spacing: Annotated[Size | None, says("a fixed distance from baseline to baseline")] = None
    baseline_step: Annotated[
        Step | None,
        says(
            "moves rows by at most half of it, so that each baseline is a whole number of it below the top edge of "
            "the panel as cut; such as 1/8in, 1/4in or 0.5cm"
        ),
    ] = None
    align: Annotated[
        Align,
        says(
            "where a row lies between the margins, judged by its ink; of a row that runs down, left is at the top and "
            "right at the foot"
        ),
    ] = Align.CENTER
    columns: Annotated[
        Columns | None,
        says(
            "from which side rows that run down stand beside one another, in their order; left out, from the right "
            "where the first of them is Japanese, Chinese or Korean, else from the left"
        ),
    ] = None
    fabric: Annotated[str, says("the fabric of the letters; the first fabric if left out")] = ""
    alternates: Annotated[Flag, says("letter variants by neighbors and in turn, in fonts that have them")] = (
        False
    )
    outline: Annotated[
        Near, says("how far a shape of another fabric reaches out behind the letters; 0in for none")
    ] = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of words. What is left out is taken from the lettering table."""

    __pydantic_config__ = STRICT
    text: Annotated[Words, says("the words, case kept as typed")]
    direction: Annotated[Direction, says("across, or down: letter under letter, beside the other rows")] = (
        Direction.ACROSS
    )
    letters_down: Annotated[
        LettersDown | None,
        says(
            "in a row that runs down, Latin and other letters that are written across: upright, or turned a quarter to "
            "the right; left out, turned among Japanese, Chinese or Korean, and upright by themselves"
        ),
    ] = None
    font: Annotated[str | None, says("as in lettering")] = None
    axes: Annotated[dict[str, Number] | None, says("as in lettering")] = None
    cap_height: Annotated[CapHeight | None, says("as in lettering")] = None
    width: Annotated[
        Size | None,
        says("how wide the row is, instead of a letter height: from edge to edge of its letters"),
    ] = None
    letter_spacing: Annotated[Shift | None, says("as in lettering")] = None
    least_gap: Annotated[Allowance | None, says("as in lettering")] = None
    spacing: Annotated[Spacing | None, says("as in lettering")] = None
    align: Annotated[Align | None, says("as in lettering")] = None
    fabric: Annotated[str | None, says("as in lettering")] = None
    alternates: Annotated[Flag | None, says("as in lettering")] = None
    outline: Annotated[Near | None, says("as in lettering")] = None
    stitch: Annotated[Stitch | None, says("the stitch of this row; that of its fabric if left out")] = None
    stitch_width: Annotated[Fine | None, says("as width in stitching")] = None
    stitch_length: Annotated[Fine | None, says("as length in stitching")] = None
    thread: Annotated[Color | None, says("as in stitching")] = None
    baseline: Annotated[
        Size | None, says("its baseline, down from the finished top edge; all rows or none")
    ] = None
    right: Annotated[Shift, says("the whole row moved to the right by hand")] = Fraction(0)
    up: Annotated[Shift, says("the whole row moved up by hand")] = Fraction(0)
    turn: Annotated[
        Degrees, says("the whole row turned by hand: degrees to the left, about the middle of its ink")
    ] = 0.0
    runs_off: Annotated[
        Flag, says("its letters may run off the panel: they are cut off at its edge and caught in the seam")
    ] = False
    nudge: Annotated[tuple[Nudge, ...], says("single letters moved or turned by hand", max_length=2000)] = ()
    fussy: Annotated[
        tuple[FussyCut, ...], says("letters cut from one spot of the fabric, upright", max_length=2000)
    ] = ()

    @property
    def runs_down(self) -> bool:
        """Whether its letters follow one another down the panel."""
        return self.direction is Direction.DOWN

    def sized(self, cap_height: Fraction | Literal["fit"] | None) -> Row:
        """The row with that letter height, or that of the lettering table, whatever its size came from before."""
        return replace(self, cap_height=cap_height, width=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One of several panels in a design, with rows of its own. What is left out is taken from the panel table."""

    __pydantic_config__ = STRICT
    name: Annotated[str, says("what the sheets call it", min_length=1, max_length=60)]
    count: Annotated[Count, says("how many of it are made", ge=1, le=200)] = 1
    width: Annotated[Size | None, says("finished width; as in panel if left out")] = None
    height: Annotated[Size | None, says("finished height; as in panel if left out")] = None
    shape: Annotated[PanelShape | None, says("its finished outline; as in panel if left out")] = None
    row: Annotated[tuple[Row, ...], says("its rows of words, from the top", max_length=500)]


_SHRINKAGE: Final = Fraction(3, 100)
"""What quilting cotton loses in the first wash, 3 to 5 %: common practice, docs/sources.md, shrinkage."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Yardage:
    """How fabric is washed, squared up and cut, and what that adds to every length that is bought."""

    __pydantic_config__ = STRICT
    washed: Annotated[Flag, says("you wash fabric before you cut it: it loses 3% of its length")] = False
    shrinkage_percent: Annotated[
        Count | None, says("what washing takes, where you know better; then fabric is washed", ge=0, le=20)
    ] = None
    squaring: Annotated[
        Near | None, says("cut off to square up each cut end; 1in, or 2.5cm in cm, if left out")
    ] = None
    plan: Annotated[
        Preference, says("what you like best of the ways to cut; simple is strips across the fabric")
    ] = Preference.SIMPLE_UNLESS_IT_PAYS

    @property
    def is_washed(self) -> bool:
        """Whether fabric is washed before it is cut; to state what it loses says so too."""
        return self.washed or self.shrinkage_percent is not None

    @property
    def shrinkage(self) -> Fraction:
        """The part of each length that washing takes, 0 where nothing is washed."""
        if self.shrinkage_percent is not None:
            return Fraction(self.shrinkage_percent, 100)
        return _SHRINKAGE if self.washed else Fraction(0)

    def squared_off(self, units: Units) -> Fraction:
        """What squaring up takes off each cut end: as stated, else by the units."""
        return squaring_in(units) if self.squaring is None else self.squaring

    def loss(self, units: Units) -> WashAndSquare:
        """What every fabric loses before it is cut, and what of it must be to spare."""
        return WashAndSquare(
            shrinkage_percent=int(self.shrinkage * 100),
            squaring=self.squared_off(units),
            spare=spare_in(units),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Publisher:
    """What a maker who publishes the pattern puts on it."""

    __pydantic_config__ = STRICT
    name: Annotated[str, says("the name on the cover; the designer if left out", max_length=120)] = ""
    mark: Annotated[str, says("a mark of a few letters beside the name", max_length=12)] = ""
    mark_file: Annotated[
        str,
        says(
            "or a picture as your mark: the path of a PNG or SVG, from the folder of this file",
            max_length=1000,
        ),
    ] = ""
    edition: Annotated[str, says("which edition, such as 2nd edition", max_length=60)] = ""
    year: Annotated[Count | None, says("the year it is published", ge=1900, le=2200)] = None
    contact: Annotated[str, says("where to reach you", max_length=200)] = ""
    contact_code: Annotated[Flag, says("the contact also as a code to scan")] = False
    license: Annotated[
        str,
        says(
            "what others may do with the pattern; if left out and there is a name, that they may sew and sell "
            "quilts from it and not copy it",
            max_length=300,
        ),
    ] = ""
    skill: Annotated[str, says("for whom it is, such as confident beginner", max_length=60)] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fusible:
    """The fusible web as it is bought, and how letters are cut from it and from fabric."""

    __pydantic_config__ = STRICT
    width: Annotated[Roll, says("width of the web")] = Fraction(17)
    rough_cut: Annotated[Near, says("left around each letter until it is fused")] = Fraction(1, 4)
    spacing: Annotated[Near, says("between rough-cut letters")] = Fraction(1, 8)
    extra_percent: Annotated[Count, says("bought beyond what the layout uses", ge=0, le=200)] = 25
    ring: Annotated[
        Size | None,
        says(
            "for letters cut by hand: the middle of the web cut away, a ring this wide left inside the edge"
        ),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """A cutting machine: its mat, and the files it takes."""

    __pydantic_config__ = STRICT
    mat_width: Annotated[Roll | None, says("width of the mat; without it no mats are laid out")] = None
    mat_height: Annotated[Roll | None, says("height of the mat; as its width if left out")] = None
    mat_margin: Annotated[Near, says("what the machine cannot reach on each side")] = Fraction(1, 4)
    mat_spacing: Annotated[Near, says("between letters on a mat")] = Fraction(1, 8)
    dxf: Annotated[Flag, says("DXF files beside the SVG ones")] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintCorrection:
    """What the 6 in rules of a printed sheet measured, for a printer that is a little off."""

    __pydantic_config__ = STRICT
    scale_x: Annotated[Measured, says("what the bottom ruler measured: a length, or a percentage")] = (
        Fraction(1)
    )
    scale_y: Annotated[Measured, says("what the side ruler measured")] = Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """The paper that the sheets are printed on."""

    __pydantic_config__ = STRICT
    size: Annotated[PaperSize, says("the paper, upright")] = PaperSize.LETTER
    margin: Annotated[Allowance, says("what the printer cannot reach on each side")] = Fraction(3, 8)
    overlap: Annotated[Size, says("what the pages of a large letter share")] = Fraction(3, 4)
    copies: Annotated[Copies, says("one template for each shape, or each: one for every letter to cut")] = (
        Copies.ONE
    )
    full_size_nest: Annotated[
        Flag, says("the nested letters at full size, to trace from, or for a machine to cut web by")
    ] = False
    full_size_guide: Annotated[Flag, says("the whole panel on pages to lay under light fabric")] = False
    copy_shop: Annotated[
        CopyShop | None,
        says("placement guide and templates at full size for a copy shop, on a roll as wide as this"),
    ] = None
    projector: Annotated[
        Flag, says("the placed words at full size on one page for a projector, with a grid to set it up by")
    ] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A whole design."""

    __pydantic_config__ = STRICT
    title: Annotated[str, says("the title of the pattern; the words if left out", max_length=200)] = ""
    designer: Annotated[str, says("who designed it", max_length=200)] = ""
    language: Annotated[
        str,
        says(
            "language of the printed sheets, such as en-GB; American English where there is no catalogue of it",
            pattern="^[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*$",
        ),
    ] = "en"
    units: Annotated[Units, says("what lengths are printed in")] = Units.INCHES
    finish: Annotated[
        Finish,
        says(
            "what is made: a whole quilt, its top alone, for somebody else to quilt, a pillow, a banner, words on a "
            "ready garment, or letters alone, to sew onto anything"
        ),
    ] = Finish.QUILT
    panel: Annotated[Panel, says("the background panel")] = field(default_factory=Panel)
    lettering: Annotated[Lettering, says("what every row takes")] = field(default_factory=Lettering)
    row: Annotated[
        tuple[Row, ...],
        says("the rows of words, from the top; needed where there are no blocks", max_length=500),
    ] = ()
    block: Annotated[
        tuple[Block, ...],
        says("several panels instead of one, each with its own rows, in one pattern", max_length=200),
    ] = ()
    setting: Annotated[Setting, says("how blocks are set together into one top")] = field(
        default_factory=Setting
    )
    fabric: Annotated[tuple[Fabric, ...], says("the fabrics", max_length=200)] = ()
    outline: Annotated[OutlineLayer, says("the outline layer behind letters")] = field(
        default_factory=OutlineLayer
    )
    sewing: Annotated[Sewing, says("how letters are cut and held, and what is too small for it")] = field(
        default_factory=Sewing
    )
    stitching: Annotated[Stitching, says("the stitch around letters")] = field(default_factory=Stitching)
    quilting: Annotated[
        tuple[Quilting, ...], says("lines of quilting, in the order they are sewn", max_length=20)
    ] = ()
    border: Annotated[tuple[Border, ...], says("the borders, from the panel outward", max_length=40)] = ()
    binding: Annotated[Binding, says("the binding")] = field(default_factory=Binding)
    backing: Annotated[Backing, says("the back")] = field(default_factory=Backing)
    batting: Annotated[Batting, says("the batting")] = field(default_factory=Batting)
    pillow: Annotated[Pillow, says("the back of a pillow, where one is made")] = field(default_factory=Pillow)
    banner: Annotated[Banner, says("what a banner hangs by, where one is made")] = field(
        default_factory=Banner
    )
    bunting: Annotated[Bunting, says("the tape that panels hang from, where they do")] = field(
        default_factory=Bunting
    )
    garment: Annotated[Garment, says("where the words lie on a garment, where they go on one")] = field(
        default_factory=Garment
    )
    hanging: Annotated[Hanging, says("what a wall quilt hangs by")] = field(default_factory=Hanging)
    label: Annotated[Label, says("the label for the back")] = field(default_factory=Label)
    yardage: Annotated[Yardage, says("how fabric is washed, squared up and cut")] = field(
        default_factory=Yardage
    )
    stated: Annotated[
        tuple[Stated, ...], says("numbers of your own pattern, to see whether they hold", max_length=200)
    ] = ()
    accepted: Annotated[
        tuple[Accepted, ...], says("findings that you have looked at and mean so", max_length=500)
    ] = ()
    publisher: Annotated[Publisher, says("what a published pattern carries")] = field(
        default_factory=Publisher
    )
    fusible: Annotated[Fusible, says("fusible web")] = field(default_factory=Fusible)
    cutting: Annotated[Cutting, says("a cutting machine")] = field(default_factory=Cutting)
    paper: Annotated[Paper, says("the printed sheets")] = field(default_factory=Paper)
    print: Annotated[PrintCorrection, says("a printer that is a little off")] = field(
        default_factory=PrintCorrection
    )

    @property
    def drop(self) -> Fraction | None:
        """From a point of a garment down to the top of the panel; None of what is no garment.

        Source:
            3 in below a front neckline, 7.5 cm in a metric design: common practice, no source.
        """
        if self.finish is not Finish.GARMENT:
            return None
        usual = Fraction(3) if self.units is Units.INCHES else Fraction(750, 254)
        return usual if self.garment.drop is None else self.garment.drop

    @property
    def cuts_panel(self) -> bool:
        """Whether a panel is cut, with an edge that letters can run off: not of a garment, nor of letters alone."""
        return self.finish not in (Finish.GARMENT, Finish.LETTERS)

    @property
    def seam_allowance(self) -> Fraction:
        """That of every seam: as stated, else by the units."""
        stated = self.panel.seam_allowance
        return seam_allowance_in(self.units) if stated is None else stated

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows of the panel, or those of all blocks in their order."""
        return (*self.row, *(row for block in self.block for row in block.row))

    @property
    def blocks_alone(self) -> tuple[Design, ...]:
        """For each block the design that makes nothing else; this one where it has no blocks."""
        return tuple(self._alone(block) for block in self.block) or (self,)

    @property
    def grid(self) -> Grid:
        """Which block lies where, of a design that sets its blocks together."""
        return grid_of(self.setting, [(block.name, block.count) for block in self.block])

    def _alone(self, block: Block) -> Design:
        panel = replace(
            self.panel,
            width=self.panel.width if block.width is None else block.width,
            height=self.panel.height if block.height is None else block.height,
            shape=self.panel.shape if block.shape is None else block.shape,
        )
        alone = replace(self, block=(), row=block.row, panel=panel)
        if not self.setting.sets_together:
            return alone
        return replace(alone, finish=Finish.TOP, setting=Setting(), border=(), quilting=())

    def fits(self, row: Row) -> bool:
        """Whether `row` is as large as fits."""
        return row.width is None and (row.cap_height or self.lettering.cap_height) == FIT

    @property
    def panel_size(self) -> tuple[Fraction, Fraction]:
        """The finished width and height of the panel: as typed, to the nearest that can be cut as printed."""
        width, height = (
            cut_on_grid(side, seam_allowance=self.seam_allowance, units=self.units)
            for side in (self.panel.width, self.panel.height)
        )
        return width, height


@cache
def tables_of(kind: type) -> dict[str, type]:
    """The tables that a table of the design file may hold, by their keys, with those that these hold."""
    found: dict[str, type] = {}
    hints = get_type_hints(kind)
    for item in fields(kind):
        hint = hints[item.name]
        for inner in (one for one in (hint, *get_args(hint)) if isinstance(one, type) and is_dataclass(one)):
            found |= {item.name: inner, **tables_of(inner)}
    return found

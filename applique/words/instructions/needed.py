"""What you need, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from applique.design import Method, Stitch
from applique.language import Field, Message, listed, message
from applique.pieces import Template
from applique.sewing.threads import SeamLengths
from applique.units import (
    Units,
    as_available,
    as_counted,
    as_length,
    as_needed,
    as_size,
    cutting_step,
    round_up,
)
from applique.words.instructions.sizes import by_said, extent_of, largest_said

__all__ = [
    "BUYING",
    "FABRICS_HEAD",
    "FABRICS_TO_BUY_HEAD",
    "FIRM_COTTON",
    "LIGHT_WEB",
    "MARKING",
    "MARKING_SAID",
    "MAT",
    "MEASURE_UNWASHED",
    "MEASURE_WASHED",
    "TOOLS",
    "mat_said",
    "seams_figured_said",
    "small_things_said",
    "thread_kinds_said",
    "tools_said",
    "wider_said",
    "width_said",
]

BUYING: Final = message("What you need")
FABRICS_TO_BUY_HEAD: Final = (
    message("fabric"),
    message("for"),
    message("usable width"),
    message("buy"),
)
TOOLS: Final = message("Tools")
MARKING: Final = message("Marking")
MARKING_SAID: Final = message(
    "all marks are made with a chalk pencil: they are pressed, and heat can set the ink of a pen or make it vanish, "
    "while chalk stays until you brush it off"
)
"""Why that and no pen: common practice, no source."""
MAT: Final = message("Mat of the cutting machine")
_BY_MACHINE: Final = (
    message("cutting machine with a fabric blade and a mat"),
    message("flat tool to lift letters off it"),
)
_TOOLS: Final = (
    message("printer"),
    message("pencil"),
    message("sharp scissors with fine points"),
    message("rotary cutter, its mat and a long ruler"),
    message("large square ruler"),
    message("tape measure"),
    message("iron and ironing board"),
)
"""Of every method."""
FIRM_COTTON: Final = message("All of it firm woven cotton, such as quilting cotton.")
LIGHT_WEB: Final = message("paper-backed, light, made to be sewn through")
FABRICS_HEAD: Final = (
    message("fabric"),
    message("for"),
    message("usable width"),
    message("buy"),
    message("how we figured it"),
)
MEASURE_WASHED: Final = message(
    "Usable width is measured between the selvages, after washing. Measure yours first: the cutting plan holds down to "
    "the least width in the table, and narrower fabric needs a plan of its own."
)
MEASURE_UNWASHED: Final = message(
    "Usable width is measured between the selvages. Measure yours first: the cutting plan holds down to the least "
    "width in the table, and narrower fabric needs a plan of its own."
)


def width_said(width: Fraction, least: Fraction, units: Units) -> Message:
    """How wide a fabric is between its selvages, and down to which width its plan holds."""
    narrowest = round_up(least, cutting_step(units))
    if narrowest >= width:
        return message("{width}, no less", width=as_available(width, units))
    return message(
        "{width}, at least {least}", width=as_available(width, units), least=as_size(narrowest, units)
    )


def tools_said(
    method: Method, stitches: Sequence[Stitch], *, through_all: bool, guided: bool, layered: bool
) -> Iterator[Message]:
    """The tools that the method takes: with a machine for the `stitches` that may be sewn, and its feet: for letters,
    unless those are stitched `through_all` layers, for quilting where the quilt is `layered`, and for lines that are
    `guided`. A towel where letters are pressed."""
    if method is Method.MACHINE_CUT:
        yield from _BY_MACHINE
    yield from _TOOLS
    yield message("press cloth")
    if not through_all or method is Method.TURNED_EDGE:
        yield message("soft towel to press on")
    if Stitch.BLANKET in stitches:
        yield message("sewing machine with a blanket stitch")
    else:
        yield message("sewing machine")
    if not through_all:
        yield message("open-toe foot")
    if layered and guided:
        yield message("walking foot with a guide bar")
    elif layered:
        yield message("walking foot")


def small_things_said(
    method: Method,
    *,
    sealed: bool,
    taped: bool,
    layered: bool,
    sorted_out: bool,
    rod: Fraction | None,
    pocket_rod: Fraction | None,
    units: Units,
) -> Iterator[Message]:
    """The notions that not every pattern takes: glue for turned edges, what keeps corners from
    fraying that are `sealed`, tape where templates are `taped` together or a
    quilt is `layered`, envelopes where letters are `sorted_out` by rows, and a `rod` of that length where it hangs by
    its sleeve, a flat one, the `pocket_rod`, where it may hang by pockets in its corners."""
    if method is Method.TURNED_EDGE:
        yield message("wash-away glue")
    if sealed:
        yield message("seam sealant that stops fraying, tried on a scrap")
    match layered, taped:
        case True, True:
            yield message("tape for the backing and for the pages of large letters")
        case True, False:
            yield message("tape for the backing")
        case False, True:
            yield message("tape for the pages of large letters")
    if sorted_out:
        yield message("envelopes for the letters")
    if pocket_rod is not None:
        yield message(
            "flat rod about {length} long if it is to hang by corner pockets",
            length=as_length(pocket_rod, units),
        )
    elif rod is not None:
        yield message("rod about {length} long for the hanging sleeve", length=as_length(rod, units))
        yield message("two hooks or nails for the rod")


def thread_kinds_said(*, layered: bool, bound: bool, seamed: bool) -> Iterator[Message]:
    """Which thread is taken where none is named by a fabric, for a quilt that is `layered`, one that is `bound`, and
    what is `seamed` at all.

    Source:
        Weight, fiber and colors: common practice, no source.
    """
    if layered:
        yield message(
            "All of this thread may be cotton or polyester of about 50 weight, unless the maker of your machine "
            "advises another. For seams take a neutral color, for quilting one that you like to see on the quilt."
        )
    elif seamed:
        yield message(
            "All of this thread may be cotton or polyester of about 50 weight, unless the maker of your machine "
            "advises another. For seams take a neutral color."
        )
    else:
        yield message(
            "All of this thread may be cotton or polyester of about 50 weight, unless the maker of your machine "
            "advises another."
        )
    if bound:
        yield message(
            "Whatever is stitched down by hand on the back takes a thread that matches the binding."
        )


def wider_said(wide: Mapping[str, Fraction], usual: Fraction, units: Units) -> Message:
    """Which fabrics have to be wider than is `usual`, each with its least width."""
    return message(
        "Much quilting cotton is only {usual} wide between its selvages, too narrow for {fabrics}: measure it in the "
        "shop, before it is cut.",
        usual=as_available(usual, units),
        fabrics=listed(
            message(
                "{fabric} (at least {least})",
                fabric=fabric,
                least=as_size(round_up(least, cutting_step(units)), units),
            )
            for fabric, least in wide.items()
        ),
    )


def seams_figured_said(seams: SeamLengths, ratio: float, waste_percent: int, units: Units) -> Message:
    """How the thread of the seams was figured: `ratio` times those that join two fabrics, and more those through all
    layers, so that it can be figured again."""
    metric = units is Units.CENTIMETERS
    fields: dict[str, Field] = {
        "plain": as_counted(seams.plain, units),
        "ratio": Fraction(round(ratio, 1)).limit_denominator(10),
        "waste": waste_percent,
        "whole": message("whole meter") if metric else message("whole yard"),
    }
    if not seams.layered:
        return message(
            "How we figured the thread for seams, top and bobbin together: {plain} of them, {ratio} times their "
            "length; another {waste}% is for ends and for what you unpick, up to the next {whole}.",
            **fields,
        )
    return message(
        "How we figured the thread for seams, top and bobbin together: {plain} of them, what is sewn down by hand "
        "too, {ratio} times their length, and the binding, {layered} with what its corners and ends take, through "
        "all layers, {through} times its length; another {waste}% is for ends and for what you unpick, up to the next "
        "{whole}.",
        layered=as_counted(seams.layered, units),
        through=seams.through,
        **fields,
    )


def mat_said(templates: Sequence[Template], margin: Fraction, units: Units) -> Message:
    """The largest piece, and the mat that has `margin` all around every one of them."""
    width, height = (max(sides) + 2 * margin for sides in zip(*map(extent_of, templates), strict=True))
    return message(
        "{largest}; a mat of at least {mat} holds every piece with {margin} free all around; what a smaller mat does "
        "not hold is cut by hand",
        largest=largest_said(templates, units),
        mat=by_said((width, height), units, as_needed),
        margin=as_size(margin, units),
    )

"""How the letters are cut, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import PaperSize
from applique.language import Listing, Message, listed, message, messages
from applique.pieces import Layer, Template
from applique.units import Units, as_area, as_length
from applique.words.instructions.sizes import percent_said
from applique.words.sheets import PAPERS

__all__ = [
    "LETTERING",
    "TEMPLATES_HEAD",
    "files_said",
    "lettering_said",
    "ring_said",
    "template_said",
    "template_uses_said",
    "turned_said",
]

LETTERING: Final = message("Lettering")
TEMPLATES_HEAD: Final = (message("template"), message("letter"), message("cut"), message("row"))


def lettering_said(
    letters: int, templates: int, pages: int, paper: PaperSize, *, joined: bool
) -> tuple[Message, Message]:
    """How many letters (pieces, if they are `joined`) and templates there are, and what to print: `pages` of
    `paper`."""
    return (
        _to_cut(letters, messages("{count} template", "{count} templates", templates), joined=joined),
        message(
            "Print one of the two template files at 100 %, {pages}, and measure the rules before you cut.",
            pages=messages("{count} page of {paper}", "{count} pages of {paper}", pages, paper=PAPERS[paper]),
        ),
    )


def _to_cut(letters: int, templates: Message, *, joined: bool) -> Message:
    if joined:
        return messages(
            "There is {count} piece to cut from {templates}.",
            "There are {count} pieces to cut from {templates}.",
            letters,
            templates=templates,
        )
    return messages(
        "There is {count} letter to cut from {templates}.",
        "There are {count} letters to cut from {templates}.",
        letters,
        templates=templates,
    )


def files_said(rough_cut: Fraction, units: Units) -> tuple[Message, Message]:
    """What each of the two template files is for."""
    freezer = message(
        "templates-right-reading.pdf for freezer paper on the right side of the fabric, shiny side down."
    )
    if not rough_cut:
        return (
            message(
                "templates-mirrored.pdf for fusible web: trace on the paper side, cut out on the line, fuse to the "
                "wrong side of the fabric, then cut on the line."
            ),
            freezer,
        )
    return (
        message(
            "templates-mirrored.pdf for fusible web: trace on the paper side, cut out roughly, about {room} outside "
            "the line, fuse to the wrong side of the fabric, then cut on the line.",
            room=as_length(rough_cut, units, denominator=16),
        ),
        freezer,
    )


def turned_said(templates: Sequence[Template], turn_under: Fraction, units: Units) -> Iterator[Message]:
    """How the lines of a turned edge are used; nothing for raw edges."""
    if not any(template.turned for template in templates):
        return
    yield message(
        "Turned edges: the bold line is the finished edge, cut the freezer paper on it. The thin line {turn} outside "
        "it is the cut line of the fabric. Short lines across the turn-under are clips, little wedges are notches: "
        "clip to within two or three threads of the finished edge, then turn the fabric over the paper.",
        turn=as_length(turn_under, units, denominator=16),
    )
    tucked = [template.text for template in templates if template.turned and template.turned.tucked]
    if tucked:
        yield messages(
            "Where {letters} tucks under the next letter, the edge lies flat and is not turned.",
            "Where {letters} tuck under the next letter, the edge lies flat and is not turned.",
            len(tucked),
            letters=listed(tucked),
        )


def ring_said(templates: Sequence[Template], ring: Fraction | None, units: Units) -> Iterator[Message]:
    """What a ring of fusible is and what it saves; nothing without one."""
    saved = sum(template.ring_saves * template.count for template in templates)
    if ring is None or not saved:
        return
    whole = sum(template.area * template.count for template in templates)
    yield message(
        "Large letters stay soft with the middle of the web cut away: before you fuse, cut along the dashed line "
        "{wide} inside the edge and take the middle out. Of the web under the letters {share} comes away ({saved}); "
        "it can serve small letters, and is not taken off what to buy.",
        wide=as_length(ring, units, denominator=16),
        share=percent_said(saved / whole),
        saved=as_area(saved, units),
    )


def template_said(template: Template) -> str | Message:
    """What a template is of."""
    return (
        message("behind {letters}", letters=template.text)
        if template.layer is Layer.OUTLINE
        else template.text
    )


def template_uses_said(template: Template) -> Listing:
    """How many to cut of a template, and from which fabrics."""
    return listed(
        message("{count} from {fabric}", count=use.count, fabric=use.fabric.name) for use in template.uses
    )

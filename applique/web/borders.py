"""Borders to choose from, as plain data with a picture of each."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from applique.design import BorderKind, Design, Fabric, design_data, design_from_mapping
from applique.design.writing import design_adapter
from applique.errors import Refusal
from applique.fabrics import Fabrics, resolve_fabrics
from applique.language import Speech
from applique.picture import draw_top
from applique.preview import corner_svg
from applique.quilt.borders import BorderChoice, border_choices
from applique.words.borders import choice_does, choice_named, choice_sized

__all__ = ["borders_to_choose", "spare_fabrics"]

_BEYOND: Final = 2.6
"""How far its picture shows the panel inside a border, in widths of that border."""
_MOST_SPARE: Final = 4
_SIZES: Final[Mapping[BorderKind, tuple[str, ...]]] = {
    BorderKind.STRIP: ("width",),
    BorderKind.SQUARES: ("size",),
    BorderKind.RECTANGLES: ("width", "size"),
}
"""What is written of each kind also where it stands at its default, for the forms to show."""


def spare_fabrics(listed: object) -> tuple[Fabric, ...]:
    """Fabrics that may be added, from their plain data.

    Raises:
        Refusal: they are none that a design could have.
    """
    given = listed[:_MOST_SPARE] if isinstance(listed, list) else []
    return design_from_mapping({"row": [{"text": "A"}], "fabric": given}).fabric if given else ()


def borders_to_choose(
    named: Design, design: Design, spare: tuple[Fabric, ...], speech: Speech
) -> list[dict[str, Any]]:
    """Every border that can be added: what it is called, what adding it does, how it looks, what the design has then.

    `design` is `named` with paths for the files that it names. Where the borders that it has do not come out even,
    there is none.
    """
    fabrics = resolve_fabrics(design)
    try:
        choices = border_choices(named, fabrics.by_name, spare)
    except Refusal:
        return []
    return [_view(choice, named, fabrics, speech) for choice in choices]


def _view(choice: BorderChoice, before: Design, fabrics: Fabrics, speech: Speech) -> dict[str, Any]:
    units = choice.design.units
    return {
        "look": choice.look.value,
        "name": speech.tell(choice_named(choice)),
        "size": speech.tell(choice_sized(choice, units)),
        "does": [speech.tell(said) for said in choice_does(choice, units)],
        "picture": _picture(choice, fabrics),
        "changes": _changes(choice, before),
    }


def _changes(choice: BorderChoice, before: Design) -> dict[str, Any]:
    """The tables of the design that change, as they are then."""
    data, was = design_data(choice.design), design_data(before)
    panel: Mapping[str, Any] = data.get("panel", {})
    old: Mapping[str, Any] = was.get("panel", {})
    new = len(before.border)
    written = design_adapter().dump_python(choice.design, mode="json")["border"][new:]
    sized = [
        {**table, **{key: full[key] for key in _SIZES[border.kind]}}
        for table, full, border in zip(data["border"][new:], written, choice.design.border[new:], strict=True)
    ]
    return {
        "border": sized,
        "panel": {key: value for key, value in panel.items() if old.get(key) != value},
        "fabric": data["fabric"][-len(choice.added) :] if choice.added else [],
    }


def _picture(choice: BorderChoice, fabrics: Fabrics) -> str:
    """Its upper left corner, in the colors of its fabrics."""
    by_name = {**fabrics.by_name, **{fabric.name: fabric for fabric in choice.added}}
    items = draw_top(choice.design.panel_size, fabrics.panel, choice.plans, by_name)
    width, height = (float(side) for side in choice.plans[-1].finished)
    around = sum(float(plan.width) for plan in choice.plans)
    reach = min(around + _BEYOND * float(choice.plans[-1].width), width, height)
    return corner_svg(items, height, reach).decode("utf-8")

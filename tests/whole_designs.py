"""Whole designs drawn with a seed: inch and metric, one to four fabrics, borders of all kinds, backs and stashes.

Few letters, so that a draft takes a moment. Not every one can be made: borders may not come out even.
"""

from __future__ import annotations

import random
from typing import Any

__all__ = ["whole_design"]

_STASHES = {
    "in": (
        ["1yd"],
        ["2 fat quarters"],
        ["1 1/2yd", "1 fat quarter"],
        ["2 pieces 18in x 30in"],
        ["1 roll of 2 1/2in strips"],
        ["1 pack of 5in squares", "1/2yd"],
    ),
    "cm": (["1m"], ["80cm", "1 piece 45cm x 55cm"], ["2 pieces 50cm x 70cm"]),
}


def whole_design(draw: random.Random) -> dict[str, Any]:
    """A design as its file has it."""
    units = draw.choice(("in", "in", "cm"))
    names = [f"cloth {number}" for number in range(1, draw.randint(1, 4) + 1)]
    unit = draw.choice((1.5, 2, 2.5, 3, 4) if units == "in" else (4, 5, 6, 7.5))
    least, most = (12, 30) if draw.random() < 0.6 else (24, 96)
    inch = 1 if units == "in" else 2.5
    across, down = (draw.randint(round(least * inch / unit), round(most * inch / unit)) for _ in range(2))

    def size(length: float) -> str:
        return f"{length:g}{units}"

    def name() -> str:
        return draw.choice(names)

    borders = [_border(draw, names, unit, size) for _ in range(draw.choice((0, 1, 1, 2, 2, 3)))]
    design: dict[str, Any] = {
        "units": units,
        "row": [
            {"text": draw.choice(("I", "L", "HI", "TIL")), "cap_height": size(5 if units == "in" else 12)}
        ],
        "panel": {"width": size(across * unit), "height": size(down * unit), "fabric": name()},
        "lettering": {"fabric": name()},
        "border": borders,
        "fabric": [_fabric(draw, one, units, size) for one in names],
        "binding": {"fabric": name(), "grain": draw.choice(("straight", "straight", "bias"))},
        "backing": {"kind": draw.choice(("cloth", "cloth", "wide", "leftovers"))},
        "hanging": {"sleeve": draw.random() < 0.5},
        "yardage": {"plan": draw.choice(("simple unless it pays", "least fabric", "fewest kinds of cuts"))},
    }
    if design["backing"]["kind"] == "leftovers":
        design["backing"]["overage"] = size(1 if units == "in" else 3)
        for fabric in design["fabric"]:
            fabric["have"] = draw.choice((["3yd"], ["2yd", "4 fat quarters"]))
    elif draw.random() < 0.6:
        design["backing"]["fabric"] = name()
    if draw.random() < 0.4:
        design["yardage"]["washed"] = True
        if draw.random() < 0.5:
            design["yardage"]["shrinkage_percent"] = draw.randint(1, 10)
    if draw.random() < 0.5:
        design["yardage"]["squaring"] = size(draw.choice((0, 0.5, 2)))
    if draw.random() < 0.3:
        design["hanging"]["fabric"] = name()
    return design


def _fabric(draw: random.Random, name: str, units: str, size: Any) -> dict[str, Any]:
    fabric: dict[str, Any] = {"name": name, "color": f"#{draw.randrange(16**6):06x}"}
    wide = draw.choice((40, 41, 42, 42.5, 43, 60) if units == "in" else (100, 106, 110, 140))
    fabric[draw.choice(("usable_width", "usable_width", "sold_width"))] = size(wide)
    fabric["turns"] = draw.choice(("half", "half", "quarter", "upright"))
    if draw.random() < 0.3:
        fabric["have"] = draw.choice(_STASHES[units])
    return fabric


def _border(draw: random.Random, names: list[str], unit: float, size: Any) -> dict[str, Any]:
    kind = draw.choice(("strip", "strip", "squares", "rectangles"))
    if kind != "strip" and len(names) < 2:
        kind = "strip"
    count = 1 if kind == "strip" else draw.randint(2, len(names))
    made: dict[str, Any] = {
        "kind": kind,
        "fabrics": draw.sample(names, count),
        "first": draw.choice(("sides", "top and bottom")),
        "joins": draw.choice(("diagonal", "straight")),
    }
    match kind:
        case "strip":
            made["width"] = size(draw.choice((unit / 2, unit, unit)))
            made["corners"] = draw.choice(("butted", "cornerstones", "mitered"))
            made["corner_fabric"] = draw.choice(names)
        case "squares":
            made["size"] = size(unit)
        case _:
            made["size"] = size(unit * draw.choice((1, 2)))
            made["width"] = size(unit)
    return made

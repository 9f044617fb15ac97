"""The quilt to scale beside a door, a person and a sofa, so that nobody is surprised by its size.

Shapes are polygons in inches, y up, the floor at 0. They are drawn plainly and are of our own making.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

import shapely
from shapely.geometry import Point, Polygon, box

from applique.quilt.sizes import DOOR, FRONT, PERSON_HEIGHT, SEAT, SOFA
from applique.quilt.strips import Extent

__all__ = ["Scene", "SceneThing", "ThingKind", "loose_scene", "scale_scene", "worn_scene"]

_APART: Final = 14.0
_SLEEVE: Final = 7.0
"""Inches that a short sleeve of a front stands out: common practice, no source."""
_SHOULDER: Final = 56.0
"""Inches from the floor to the shoulders of a front, level with those of the person: our own."""
_NECK_STEPS: Final = 24
_NECK: Final = (7.0, 3.5)
"""Inches wide and deep, the neckline of a front: common practice, no source."""
_HANGS_AT: Final = 58.0
"""Inches from the floor to the middle of a quilt on the wall, or as low as its own length allows."""


class ThingKind(StrEnum):
    """What stands beside a quilt, to be held against it."""

    DOOR = "door"
    PERSON = "person"
    SOFA = "sofa"
    FRONT = "front"


@dataclass(frozen=True, slots=True, kw_only=True)
class SceneThing:
    """One thing beside the quilt, and the polygons it is made of."""

    kind: ThingKind
    parts: tuple[Polygon, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A wall with the quilt on it: `quilt` is its (x, y, x, y), `width` and `height` those of the whole."""

    width: float
    height: float
    quilt: tuple[float, float, float, float]
    things: tuple[SceneThing, ...]


def scale_scene(finished: Extent, *, sits: bool = False) -> Scene:
    """A door and a person on the left, the quilt above a sofa on the right, or what `sits` on its seat; all to one
    scale."""
    across, down = (float(side) for side in finished)
    door_width, door_height = DOOR
    person_x = door_width + _APART + 9
    start = person_x + 9 + _APART
    room = max(across, float(SOFA[0]))
    middle = start + room / 2
    low = SEAT if sits else max(2.0, _HANGS_AT - down / 2, SOFA[1] + 4.0 if down <= 60 else 2.0)
    things = [
        SceneThing(kind=ThingKind.DOOR, parts=_door(0.0)),
        SceneThing(kind=ThingKind.PERSON, parts=_person(person_x)),
    ]
    if sits or low > SOFA[1]:
        things.append(SceneThing(kind=ThingKind.SOFA, parts=_sofa(middle - SOFA[0] / 2)))
    return Scene(
        width=start + room,
        height=max(door_height + 2.0, low + down, float(PERSON_HEIGHT)),
        quilt=(middle - across / 2, low, middle + across / 2, low + down),
        things=tuple(things),
    )


def worn_scene(panel: Extent, drop: Fraction) -> Scene:
    """A person, and on the right the plain front of a garment with the panel on it, `drop` below its neckline; all to
    one scale."""
    across, down = (float(side) for side in panel)
    wide, long = FRONT
    room = max(across, wide + 2 * _SLEEVE)
    middle = 9 + 9 + _APART + room / 2
    top = _SHOULDER - _NECK[1] - float(drop)
    low = max(0.0, top - down)
    return Scene(
        width=middle + room / 2,
        height=max(float(PERSON_HEIGHT), low + down) + 2.0,
        quilt=(middle - across / 2, low, middle + across / 2, low + down),
        things=(
            SceneThing(kind=ThingKind.PERSON, parts=_person(9)),
            SceneThing(kind=ThingKind.FRONT, parts=(_front(middle, float(wide), float(long)),)),
        ),
    )


def loose_scene(space: Extent) -> Scene:
    """A person, and on the right the words on their space, their middle as high as that of a quilt on the wall; all to
    one scale."""
    across, down = (float(side) for side in space)
    left, low = 9 + 9 + _APART, max(0.0, _HANGS_AT - down / 2)
    return Scene(
        width=left + across,
        height=max(float(PERSON_HEIGHT), low + down) + 2.0,
        quilt=(left, low, left + across, low + down),
        things=(SceneThing(kind=ThingKind.PERSON, parts=_person(9)),),
    )


def _front(x: float, wide: float, long: float) -> Polygon:
    """Body and two short sleeves in one shape, its neckline half an ellipse."""
    half, low, (across, deep) = wide / 2, _SHOULDER - long, _NECK
    right = [
        (half, low),
        (half, _SHOULDER - 10),
        (half + _SLEEVE - 2, _SHOULDER - 12),
        (half + _SLEEVE, _SHOULDER - 5),
        (half - 3, _SHOULDER),
    ]
    turns = (math.pi * step / _NECK_STEPS for step in range(_NECK_STEPS + 1))
    neck = [(across / 2 * math.cos(turn), _SHOULDER - deep * math.sin(turn)) for turn in turns]
    left = [(-over, y) for over, y in reversed(right)]
    return Polygon([(x + over, y) for over, y in (*right, *neck, *left)])


def _door(x: float) -> tuple[Polygon, ...]:
    width, height = DOOR
    return (
        box(x, 0, x + width, height),
        box(x + 5, 8, x + width - 5, 34),
        box(x + 5, 42, x + width - 5, height - 7),
        Point(x + width - 3, 38).buffer(1.2, quad_segs=8),
    )


def _person(x: float) -> tuple[Polygon, ...]:
    """A plain figure: a round head and one shape for the rest, arms at its sides."""
    head = Point(x, PERSON_HEIGHT - 4.6).buffer(4.6, quad_segs=12)
    body = Polygon(
        [(x - 7, 54), (x + 7, 54), (x + 8, 30), (x + 5, 28), (x + 5, 0), (x - 5, 0), (x - 5, 28), (x - 8, 30)]
    )
    return (head, _rounded(body, 1.8))


def _sofa(x: float) -> tuple[Polygon, ...]:
    """Arms before the seat, the seat before the back, each seen where nothing stands before it; two feet."""
    width, height = SOFA
    back = box(x + 8, 12, x + width - 8, height)
    seat = box(x + 8, 5, x + width - 8, 18)
    arms = (box(x, 4, x + 10, 24), box(x + width - 10, 4, x + width, 24))
    feet = (box(x + 3, 0, x + 7, 5), box(x + width - 7, 0, x + width - 3, 5))
    seen: list[Polygon] = []
    for part in (*(_rounded(arm, 2.0) for arm in arms), _rounded(seat, 2.0), _rounded(back, 2.0), *feet):
        left = shapely.get_parts(part.difference(shapely.union_all(seen)))
        seen.append(max((one for one in left if isinstance(one, Polygon)), key=lambda one: one.area))
    return tuple(seen)


def _rounded(shape: Polygon, radius: float) -> Polygon:
    grown = shape.buffer(-radius, quad_segs=6, join_style="mitre", mitre_limit=5.0).buffer(
        radius, quad_segs=6, join_style="round"
    )
    return grown if isinstance(grown, Polygon) else shapely.convex_hull(grown)

"""Where the label of each template stands, on the letter or beside it, and how large it is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from applique.design import Copies
from applique.geometry.points import Bounds, Point
from applique.geometry.polygons import CHORD_ERROR, parts_in_order, parts_of
from applique.language import Speech
from applique.paging.label_text import DETAIL_SIZE, label_lines, label_size, title_line, wrapped
from applique.paging.ticks import TICK_HALF, tick_boxes
from applique.paging.values import LabelSpot, PartTag
from applique.pieces import Template
from applique.typeset.labels import label_width

__all__ = [
    "BETWEEN",
    "LabelLayout",
    "LabelWords",
    "box_with_arrows",
    "label_layouts",
    "label_words",
    "tag_inside",
]

BETWEEN: Final = 0.2
"""Clear inches between templates on a page."""
_COARSE: Final = 0.01
"""Inches by which a shape may be off where only room for a label is looked for."""
_BESIDE: Final = BETWEEN * 0.5
"""From a letter to a label beside it: less than from that label to any other letter."""
_DEPTHS: Final = (0.08, 0.05, 0.03)
"""Inches from the cut line to the dot that ends a leader."""
_TAG_PAD: Final = 0.03
"""Clear inches around the name of a part."""
_TAG_FINE: Final = 4
_TAG_GAPS: Final = (0.05, 0.1, 0.2, 0.3, 0.45)
"""Inches from a part to its name beside it, in the order tried: further off where a cut line lies between."""
_LEADING: Final = 1.3
_LABEL_PAD: Final = 0.07
_ARROW: Final = 0.18
"""Width of the column that an arrow takes beside a label."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelLayout:
    """Where the label of a template can stand, and in which turns of the template its text is then level.

    `spots` are by the turn of the text about the template's own frame. A label on the letter may have one for each
    way; one beside it has one, which takes room of its own.
    """

    spots: Mapping[int, LabelSpot]

    @property
    def turns_deg(self) -> tuple[float, ...]:
        """The turns of the template at which a text lies level on the sheet, or stands on its head."""
        return tuple(turn for turn in (0.0, 90.0, 180.0, 270.0) if round(turn) % 180 in self.spots)

    @property
    def inside(self) -> bool:
        """Whether the label lies on the letter."""
        return all(spot.inside for spot in self.spots.values())

    def at(self, turn_deg: float) -> LabelSpot:
        """The label for a template that is turned so: the one whose text is level, if there is one."""
        way = round(turn_deg) % 180
        return self.spots.get(way) or next(iter(self.spots.values()))


def label_layouts(
    template: Template, copies: Copies, *, own_fonts: tuple[str, ...], speech: Speech
) -> Iterator[LabelLayout]:
    """Where the label can go, the best first: onto the letter where it fits whole, so that it stays with the cut
    template; where the strokes are too narrow for it, beside the letter.
    """
    words = label_words(template, copies, own_fonts=own_fonts, speech=speech)
    ring = [LineString(line.points(CHORD_ERROR)).buffer(_LABEL_PAD) for line in template.ring.contours]
    ticks = [tick.buffer(TICK_HALF) for tick in tick_boxes(template)]
    drawn = shapely.union_all([*ring, *ticks])
    on_parts = _on_parts(template, copies, drawn, own_fonts=own_fonts, speech=speech)
    if on_parts:
        yield LabelLayout(spots=on_parts)
    free = shapely.difference(template.shape, drawn)
    inside = {turn: spot for turn in (0, 90) if (spot := words.on(free, turn, inside=True)) is not None}
    if inside:
        yield LabelLayout(
            spots={turn: _tagged(template, spot, drawn, own_fonts) for turn, spot in inside.items()}
        )
    for turn in (0, 90):
        spot = _beside(template, words, turn)
        yield LabelLayout(spots={turn: _tagged(template, spot, drawn, own_fonts)})


def _on_parts(
    template: Template, copies: Copies, drawn: BaseGeometry, *, own_fonts: tuple[str, ...], speech: Speech
) -> dict[int, LabelSpot]:
    """The label of a letter in several parts on its largest one, by the turn of its text, with one on each other part
    that has room, clear of what is `drawn` on them, and with the names of those that have none; nothing where the
    largest has none.
    """
    shapes, names = parts_in_order(template.shape), template.part_names
    if not names:
        return {}
    rooms = [shapely.difference(shape, drawn) for shape in shapes]

    def part(number: int) -> str:
        return speech.say("part {number} of {count}", number=str(number), count=str(len(rooms)))

    titles = [title_line(template, "", own_fonts, speech, part=name) for name in names]
    _, *told = label_lines(template, copies, own_fonts=own_fonts, speech=speech)
    whole = _measured((titles[0], *told, *wrapped(part(1), own_fonts)), own_fonts)
    others = [
        (_measured((title, part(number)), own_fonts), room)
        for number, (title, room) in enumerate(zip(titles[1:], rooms[1:], strict=True), start=2)
    ]
    found = {}
    for turn in (0, 90):
        spot = whole.on(rooms[0], turn, inside=True)
        if spot is None:
            continue
        tried = [
            words.on(room, turn, inside=True) or words.on(room, 90 - turn, inside=True)
            for words, room in others
        ]
        labeled = replace(spot, parts=tuple(filter(None, tried)))
        bare = tuple(index for index, label in enumerate(tried, 1) if label is None)
        found[turn] = _tagged(template, labeled, drawn, own_fonts, parts=bare)
    return found


def _tagged(
    template: Template,
    label: LabelSpot,
    drawn: BaseGeometry,
    own_fonts: tuple[str, ...],
    *,
    parts: Sequence[int] | None = None,
) -> LabelSpot:
    """`label` with the names of those `parts` of a letter in several, by their places in their order, or of all: each
    on its part clear of what is `drawn` there, else right beside it, nearer to it than to any other part.
    """
    names, shapes = template.part_names, parts_in_order(template.shape)
    chosen = (range(len(names)) if parts is None else parts) if names else ()
    taken: list[BaseGeometry] = [drawn, box(*box_with_arrows(label)), *tick_boxes(template)]
    tags: list[PartTag] = []
    for index in chosen:
        others = [shape for place, shape in enumerate(shapes) if place != index]
        tag = _tag(names[index], shapes[index], others, template.outermost, taken, label.turn_deg, own_fonts)
        tags.append(tag)
        taken.append(box(*tag.box))
    return replace(label, tags=tuple(tags))


def _tag(
    name: str,
    part: Polygon,
    others: Sequence[Polygon],
    lines: BaseGeometry,
    taken: Sequence[BaseGeometry],
    turn_deg: int,
    own_fonts: tuple[str, ...],
) -> PartTag:
    """The name of a part on it, or beside it."""
    full = shapely.union_all(taken)
    inside = tag_inside(name, shapely.difference(part, full), turn_deg, own_fonts)
    if inside is not None:
        return inside
    width, height = _tag_size(name, turn_deg, own_fonts)
    x0, y0, x1, y1 = part.bounds
    middle, wanted = ((x0 + x1) / 2, (y0 + y1) / 2), (width / 2, height / 2)
    spots = [
        spot
        for gap in _TAG_GAPS
        for off_x, off_y in [(wanted[0] + gap, wanted[1] + gap)]
        for spot in (
            *((x, y) for x in (x1 + off_x, x0 - off_x) for y in (middle[1], y1 - wanted[1], y0 + wanted[1])),
            *((x, y) for y in (y1 + off_y, y0 - off_y) for x in (middle[0], x0 + wanted[0], x1 - wanted[0])),
        )
    ]
    near = shapely.buffer(lines, _TAG_PAD, quad_segs=4)

    def price(spot: Point) -> tuple[bool, bool]:
        whole = box(*_around(spot, width, height))
        blocked = whole.intersects(near) or whole.buffer(_TAG_PAD).intersects(full)
        return blocked, any(whole.distance(other) < whole.distance(part) for other in others)

    return PartTag(name=name, box=_around(min(spots, key=price), width, height), turn_deg=turn_deg)


def tag_inside(name: str, room: BaseGeometry, turn_deg: int, own_fonts: tuple[str, ...]) -> PartTag | None:
    """The name of a part within `room`, its text turned by `turn_deg` or else the other way; None where it has none."""
    for turn in (turn_deg, 90 - turn_deg):
        width, height = _tag_size(name, turn, own_fonts)
        center = _room_inside(room, width + 2 * _TAG_PAD, height + 2 * _TAG_PAD, _TAG_FINE)
        if center is not None:
            return PartTag(name=name, box=_around(center, width, height), turn_deg=turn)
    return None


def _tag_size(name: str, turn_deg: int, own_fonts: tuple[str, ...]) -> Point:
    long, high = label_width(name, DETAIL_SIZE, own_fonts=own_fonts), DETAIL_SIZE * _LEADING
    return (high, long) if turn_deg else (long, high)


def _around(center: Point, width: float, height: float) -> Bounds:
    """The box of that size around `center`."""
    (x, y), half_width, half_height = center, width / 2, height / 2
    return (x - half_width, y - half_height, x + half_width, y + half_height)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelWords:
    """The lines of a label, their width and height in inches."""

    lines: tuple[str, ...]
    width: float
    height: float

    def size(self, turn_deg: int) -> Point:
        """What it takes with its arrows, and no pad, of the width and height of the frame that it stands in."""
        width, height = (self.height, self.width) if turn_deg else (self.width, self.height)
        return width + 2 * _ARROW, height

    def spot(self, corner: Point, turn_deg: int, *, inside: bool) -> LabelSpot:
        """The label with the lower left corner of all that it takes at `corner`."""
        (x0, y0), (whole, height) = corner, self.size(turn_deg)
        x1 = x0 + whole
        right = x1 - _ARROW
        return LabelSpot(
            lines=self.lines,
            box=(x0 + _ARROW, y0, right, y0 + height),
            turn_deg=turn_deg,
            arrow=(x0 + _ARROW / 2, y0, y0 + height),
            up=(x1 - _ARROW / 2, y0, y0 + height),
            inside=inside,
            leader=None,
        )

    def on(self, shape: BaseGeometry, turn_deg: int, *, inside: bool, fine: int = 6) -> LabelSpot | None:
        """The label where it lies within `shape` with its pad, as near to the middle as can be; None where it cannot.

        Places are tried a `fine` part of the label apart.
        """
        width, height = self.size(turn_deg)
        center = _room_inside(shape, width + 2 * _LABEL_PAD, height + 2 * _LABEL_PAD, fine)
        if center is None:
            return None
        return self.spot((center[0] - width / 2, center[1] - height / 2), turn_deg, inside=inside)


def label_words(
    template: Template,
    copies: Copies,
    *,
    own_fonts: tuple[str, ...],
    speech: Speech,
    tile: str = "",
    more: tuple[str, ...] = (),
) -> LabelWords:
    """The label of a template, or of its page `tile`, with `more` lines, measured in the fonts that spell it."""
    lines = label_lines(template, copies, own_fonts=own_fonts, speech=speech, tile=tile)
    lines += tuple(line for text in more for line in wrapped(text, own_fonts))
    return _measured(lines, own_fonts)


def _measured(lines: tuple[str, ...], own_fonts: tuple[str, ...]) -> LabelWords:
    return LabelWords(
        lines=lines,
        width=max(
            label_width(text, label_size(index), own_fonts=own_fonts, bold=not index)
            for index, text in enumerate(lines)
        ),
        height=sum(label_size(index) for index in range(len(lines))) * _LEADING,
    )


def _beside(template: Template, words: LabelWords, turn_deg: int) -> LabelSpot:
    """The label beside the letter, nearer to it than letters on a page are to one another, clear of its ticks.

    Of all such places the one that makes the whole smallest.
    """
    shape, (width, height) = template.outermost, words.size(turn_deg)
    x0, y0, x1, y1 = shape.bounds
    near = shapely.buffer(shapely.simplify(shape, _COARSE), _BESIDE - _COARSE, quad_segs=4)
    ticks = shapely.union_all(tick_boxes(template)).buffer(_LABEL_PAD, cap_style="square", join_style="mitre")
    shapely.prepare(near)
    middle_x, middle_y = (x0 + x1 - width) / 2, (y0 + y1 - height) / 2
    corners = [
        *((x, y) for x in (x0, middle_x, x1 - width) for y in (y0 - _BESIDE - height, y1 + _BESIDE)),
        *((x, y) for y in (y0, middle_y, y1 - height) for x in (x1 + _BESIDE, x0 - _BESIDE - width)),
        *((x1 + _BESIDE, y) for y in (_LABEL_PAD * 2, -_LABEL_PAD * 2 - height)),
    ]

    def taken(corner: Point) -> tuple[bool, bool, float]:
        x, y = corner
        whole = box(x, y, x + width, y + height)
        around = (min(x, x0), min(y, y0), max(x + width, x1), max(y + height, y1))
        far = whole.distance(shape) > _BESIDE + 0.02
        return whole.intersects(ticks) or whole.intersects(near), far, box(*around).area

    spot = _in_pocket(template, words, turn_deg, near, ticks)
    if spot is None:
        spot = words.spot(min(corners, key=taken), turn_deg, inside=False)
    x, y, _, _ = box_with_arrows(spot)
    start, edge = shapely.shortest_line(box(x, y, x + width, y + height), shape).coords
    return replace(spot, leader=((start[0], start[1]), _within(shape, (edge[0], edge[1]))))


def _within(shape: BaseGeometry, edge: Point) -> Point:
    """The place inside `shape` that a leader to its `edge` goes on to, clear of the cut line; where the shape is too
    narrow for that, as deep as it is.
    """
    for depth in _DEPTHS:
        inner = shapely.buffer(shape, -depth)
        if not inner.is_empty:
            _, end = shapely.shortest_line(shapely.Point(edge), inner).coords
            return end[0], end[1]
    return edge


def _in_pocket(
    template: Template, words: LabelWords, turn_deg: int, near: BaseGeometry, ticks: BaseGeometry
) -> LabelSpot | None:
    """The label in a hole of the letter, where it takes no room of its own; or in a bay of it, if it is near there."""
    shape = template.outermost
    holes = [Polygon(ring) for part in parts_of(shape) for ring in part.interiors]
    spot = words.on(shapely.difference(shapely.union_all(holes), near), turn_deg, inside=False)
    if spot is not None:
        return spot
    bays = shapely.difference(box(*shape.bounds), shapely.union_all([near, ticks, *holes]))
    spot = words.on(bays, turn_deg, inside=False)
    if spot is not None and box(*box_with_arrows(spot)).distance(shape) < BETWEEN - 0.01:
        return spot
    return None


def _room_inside(shape: BaseGeometry, width: float, height: float, fine: int) -> tuple[float, float] | None:
    """The center nearest the middle of `shape` at which a `width` by `height` box lies inside it."""
    if shape.is_empty:
        return None
    x0, y0, x1, y1 = shape.bounds
    if width > x1 - x0 or height > y1 - y0:
        return None
    step = max(min(width, height) / fine, max(x1 - x0, y1 - y0) / 80)
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    centers = sorted(
        (math.dist((x, y), middle), x, y)
        for x in _spaced(x0 + width / 2, x1 - width / 2, step)
        for y in _spaced(y0 + height / 2, y1 - height / 2, step)
    )
    if not centers:
        return None
    _, xs, ys = zip(*centers, strict=True)
    half_width, half_height = width / 2, height / 2
    shapely.prepare(shape)
    boxes = shapely.box(
        [x - half_width for x in xs], [y - half_height for y in ys],
        [x + half_width for x in xs], [y + half_height for y in ys],
    )  # fmt: skip
    inside = shapely.contains(shape, boxes)
    return next(((x, y) for x, y, good in zip(xs, ys, inside, strict=True) if good), None)


def _spaced(low: float, high: float, step: float) -> list[float]:
    count = max(1, math.ceil((high - low) / step))
    return [low + (high - low) * index / count for index in range(count + 1)]


def box_with_arrows(label: LabelSpot) -> Bounds:
    """The box of the label and its arrows, about the template's own origin."""
    x0, y0, x1, y1 = label.box
    return (x0 - _ARROW, y0, x1 + _ARROW, y1)

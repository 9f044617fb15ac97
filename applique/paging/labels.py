"""Labels of templates: their words, their size, and where each stands, on the letter or beside it."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

import shapely
from fontTools.unicodedata import script, script_horizontal_direction
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from applique.design import Copies
from applique.geometry.points import Bounds, Point
from applique.geometry.polygons import CHORD_ERROR, parts_in_order, parts_of
from applique.language import Measure, Message, Speech, Unit, message, messages
from applique.paging.lookalikes import spelled_out
from applique.paging.values import LabelSpot, PartTag
from applique.pieces import MOST_ROWS_SAID, Layer, Template, rows_said
from applique.typeset.breaks import line_words, loose_words
from applique.typeset.labels import label_width

__all__ = [
    "BETWEEN",
    "LEAN_ROOM",
    "TICK",
    "TICK_GAP",
    "TICK_NUMBER",
    "LabelLayout",
    "LabelWords",
    "among_numbers",
    "box_with_arrows",
    "is_leftward",
    "label_layouts",
    "label_lines",
    "label_size",
    "label_words",
    "lean_boxes",
    "longer_tick",
    "middle_tick",
    "tag_inside",
    "tick_boxes",
]

TICK: Final = 0.22
"""Length of a baseline tick, and its distance from the ink `TICK_GAP`."""
TICK_GAP: Final = 0.06
LEAN_ROOM: Final = 0.52
"""Width and height of what is said below a tick of a letter that is turned in its row."""
MIDDLE_TICK: Final = 0.12
"""Length of the mark of a letter's middle."""
_LONGER: Final = (0.5, 0.4, 0.3, 0.2)
"""Lengths of that mark near a seam, in the order tried."""
_LIFTED: Final = 0.1
"""Inches above the baseline at which it starts in a stem that stands on it."""
BETWEEN: Final = 0.2
"""Clear inches between templates on a page."""
_COARSE: Final = 0.01
"""Inches by which a shape may be off where only room for a label is looked for."""
TICK_NUMBER: Final = 0.09
"""From a tick up to the middle of the number that stands above it."""
_TICK_HALF: Final = 0.03
_BESIDE: Final = BETWEEN * 0.5
"""From a letter to a label beside it: less than from that label to any other letter."""
_DEPTHS: Final = (0.08, 0.05, 0.03)
"""Inches from the cut line to the dot that ends a leader."""

_TAG_PAD: Final = 0.03
"""Clear inches around the name of a part."""
_TAG_FINE: Final = 4
_TAG_GAPS: Final = (0.05, 0.1, 0.2, 0.3, 0.45)
"""Inches from a part to its name beside it, in the order tried: further off where a cut line lies between."""

_NAME_SIZE: Final = 0.22
_DETAIL_SIZE: Final = 0.115
_LEADING: Final = 1.3
_LABEL_PAD: Final = 0.07
_LEFT_TO_RIGHT: Final = "\u200e"
"""The left-to-right mark, which nobody sees: without it a number goes after letters that run to the left."""
_WIDEST_LABEL: Final = 1.8
"""Inches of the longest line of a label. A label wider than its letter takes the paper that other letters need, and
one wider than a page would make the smallest letter a tile."""
_MOST_LABEL_LINES: Final = 10
_MOST_TURNS: Final = 4
"""Lines of a label that say how one of its letters is turned in its row."""
_ARROW: Final = 0.18
"""Width of the column that an arrow takes beside a label."""


def label_lines(
    template: Template, copies: Copies, *, own_fonts: tuple[str, ...], speech: Speech, tile: str = ""
) -> tuple[str, ...]:
    """What a template says of itself in `speech`: its number and its letter or name, which letter that is where
    another could be read, how many from which fabric, its rows if any; of a large one the page, `tile`.
    Of a letter that is cut more than once, each that is turned in its row and how far, as far as there is room.

    No line is wider than a label may be: names of fabrics go on in the next line, words too long for one are cut
    short with an ellipsis, rows too many to name are counted.
    """
    details = _wrapped(speech.say("outline behind it"), own_fonts) if template.layer is Layer.OUTLINE else []
    spelled = spelled_out(template.text) if template.letter else None
    if spelled is not None:
        details += _wrapped(speech.tell(spelled), own_fonts)
    for use in template.uses:
        name = use.fabric.name
        cut = (
            name
            if copies is Copies.EACH
            else speech.say("cut {count} · {fabric}", count=use.count, fabric=name)
        )
        details += _wrapped(cut, own_fonts)
    most = _MOST_LABEL_LINES - 2
    if len(details) > most:
        details = [*details[: most - 1], *_wrapped(speech.say("the rest: see instructions"), own_fonts)]
    rows = _wrapped(speech.tell(_in_rows(template)), own_fonts) if template.in_rows else []
    turns = [line for said in _turns(template) for line in _wrapped(speech.tell(said), own_fonts)]
    return (_title(template, tile, own_fonts, speech), *details, *rows, *turns)


def _turns(template: Template) -> Iterator[Message]:
    """How each letter of a template that is cut more than once is turned in its row, or how many more are."""
    if template.count == 1:
        return
    told = len(template.leans) if len(template.leans) <= _MOST_TURNS else _MOST_TURNS - 1
    for lean in template.leans[:told]:
        angle = Measure(number=round(Fraction(abs(lean.turn_deg)), 1), unit=Unit.DEGREE, as_fraction=False)
        if lean.turn_deg > 0:
            yield message("{place}: {angle} to the left", place=lean.where.as_field(), angle=angle)
        else:
            yield message("{place}: {angle} to the right", place=lean.where.as_field(), angle=angle)
    more = len(template.leans) - told
    if more:
        yield messages("{count} more turned: see guide", "{count} more turned: see guide", more)


def _title(
    template: Template, tile: str, own_fonts: tuple[str, ...], speech: Speech, *, part: str = ""
) -> str:
    """The number of a template or the name of a `part` of it, its letters, cut short where it would be too wide, and
    its page if it has one."""

    def said(letters: str) -> str:
        number = part or str(template.number)
        shown = among_numbers(letters)
        if tile:
            return speech.say("{number} · {letters} {tile}", number=number, letters=shown, tile=tile)
        return speech.say("{number} · {letters}", number=number, letters=shown)

    letters = template.text
    while letters and not _fits_label(said(letters), 0, own_fonts):
        letters = f"{letters[:-2]}…" if len(letters) > 1 else ""
    return said(letters)


def among_numbers(letters: str) -> str:
    """Letters that leave the numbers and words around them where they stand, whichever way they run."""
    return f"{_LEFT_TO_RIGHT}{letters}{_LEFT_TO_RIGHT}" if is_leftward(letters) else letters


def is_leftward(letters: str) -> bool:
    """Whether letters are of a script that runs from right to left."""
    return bool(letters) and script_horizontal_direction(script(letters[0])) == "RTL"


def _in_rows(template: Template) -> Message:
    """For which rows a template is, in few words."""
    rows = len(template.in_rows)
    if rows > MOST_ROWS_SAID:
        return message("in {rows}", rows=rows_said(template))
    return messages("row {rows}", "rows {rows}", rows, rows=rows_said(template))


def _wrapped(text: str, own_fonts: tuple[str, ...]) -> list[str]:
    """`text` in lines of a label, none wider than a label may be."""
    lines: list[str] = []
    for word in _parts(text, own_fonts):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and _fits_label(longer, 1, own_fonts):
            lines[-1] = longer
        else:
            lines.append(_shortened(word, 1, own_fonts))
    return lines


def _parts(text: str, own_fonts: tuple[str, ...]) -> Iterator[str]:
    """What stands on one line of a label, as far as that is wide enough."""
    for word in line_words(text):
        if _fits_label(word, 1, own_fonts):
            yield word
        else:
            yield from loose_words(word)


def _shortened(text: str, line: int, own_fonts: tuple[str, ...]) -> str:
    """`text`, cut with an ellipsis where it is wider than a label may be."""
    if _fits_label(text, line, own_fonts):
        return text
    count = bisect_right(
        range(len(text)), False, key=lambda n: not _fits_label(text[:n] + "…", line, own_fonts)
    )
    return text[: max(count - 1, 1)] + "…"


def _fits_label(text: str, line: int, own_fonts: tuple[str, ...]) -> bool:
    return label_width(text, label_size(line), own_fonts=own_fonts, bold=not line) <= _WIDEST_LABEL


def label_size(line: int) -> float:
    """The size of a label's text in inches: the letter large, what follows it small."""
    return _DETAIL_SIZE if line else _NAME_SIZE


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
    ticks = [tick.buffer(_TICK_HALF) for tick in tick_boxes(template)]
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

    titles = [_title(template, "", own_fonts, speech, part=name) for name in names]
    _, *told = label_lines(template, copies, own_fonts=own_fonts, speech=speech)
    whole = _measured((titles[0], *told, *_wrapped(part(1), own_fonts)), own_fonts)
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
    long, high = label_width(name, _DETAIL_SIZE, own_fonts=own_fonts), _DETAIL_SIZE * _LEADING
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
    lines += tuple(line for text in more for line in _wrapped(text, own_fonts))
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


def tick_boxes(template: Template) -> tuple[Polygon, ...]:
    """What the baseline ticks of a letter and its number above each take, and the mark of its middle, about its own
    origin; nothing of a piece that has no baseline.
    """
    if not template.letter:
        return ()
    x0, _, x1, _ = template.outermost.bounds
    (x, low), (_, high) = middle_tick(template)
    leaning = [box(*room) for room in lean_boxes(template)]
    if leaning:
        leaning.append(box(x0 - TICK_GAP, -_TICK_HALF, x1 + TICK_GAP, _TICK_HALF))
    return (
        *leaning,
        box(x0 - TICK_GAP - TICK, -_TICK_HALF, x0 - TICK_GAP, TICK_NUMBER * 2 - _TICK_HALF),
        box(x1 + TICK_GAP, -_TICK_HALF, x1 + TICK_GAP + TICK, TICK_NUMBER * 2 - _TICK_HALF),
        box(x - _TICK_HALF, low, x + _TICK_HALF, high),
    )


def lean_boxes(template: Template) -> tuple[Bounds, ...]:
    """Where it stands, below the left and the right tick of a baseline, how far that end lies off the baseline of the
    row; nothing of a letter that is turned in none. About its own origin.
    """
    if not template.leans:
        return ()
    x0, _, x1, _ = template.outermost.bounds
    left, right, low, high = x0 - TICK_GAP, x1 + TICK_GAP, -_TICK_HALF - LEAN_ROOM, -_TICK_HALF
    return (left - LEAN_ROOM, low, left, high), (right, low, right + LEAN_ROOM, high)


def middle_tick(template: Template) -> tuple[Point, Point]:
    """The mark of the middle of a letter, from its lower to its upper end, about its own origin: up from its baseline
    or a little above it where that is clear of every line, else right below all that is drawn.
    """
    x = (template.ink[0] + template.ink[2]) / 2
    lines = _lines_of(template)
    for low in (0.0, _LIFTED):
        tick = ((x, low), (x, low + MIDDLE_TICK))
        if _is_clear(tick, lines):
            return tick
    top = min(template.outermost.bounds[1], 0.0) - TICK_GAP
    return ((x, top - MIDDLE_TICK), (x, top))


def longer_tick(template: Template) -> tuple[Point, Point]:
    """The same mark as it is drawn near a seam, as much longer as the lines around it let it be."""
    (x, low), (_, high) = middle_tick(template)
    lines = _lines_of(template)
    grown = (
        ((x, high - length), (x, high)) if high < 0 else ((x, low), (x, low + length)) for length in _LONGER
    )
    return next((tick for tick in grown if _is_clear(tick, lines)), ((x, low), (x, high)))


def _lines_of(template: Template) -> list[BaseGeometry]:
    """What is drawn of a letter beside its baseline."""
    lines: list[BaseGeometry] = [template.shape.boundary, template.outermost.boundary]
    lines += [LineString(line.points(CHORD_ERROR)) for line in template.ring.contours]
    if template.turned:
        lines += [LineString(mark) for mark in template.turned.marks]
    return lines


def _is_clear(tick: tuple[Point, Point], lines: Sequence[BaseGeometry]) -> bool:
    around = LineString(tick).buffer(TICK_GAP * 0.99)
    return not any(around.intersects(line) for line in lines)


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

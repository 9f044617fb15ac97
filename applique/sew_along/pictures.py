"""Drawings as SVG within the page. Shapes that come again, in one drawing or in several, are written once.

Frame of the SVG: a fiftieth of a point, so that every number is whole; y points down, and is flipped here alone.
"""

from __future__ import annotations

import base64
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, groupby
from math import ceil
from typing import Final

from applique.drawings import Anchor, Drawing, Mark, Narrow, Raster, Shape, Words, narrowed, text_width
from applique.geometry.outline import Contour, Outline
from applique.geometry.points import Point
from applique.sew_along.wording import Wording
from applique.typeset.breaks import tied
from applique.words.sew_along import words_in_it

__all__ = ["Gallery", "Shown", "drawing_svg", "for_telephones", "narrow_svg", "shown"]

_FINE: Final = 50
"""Units of the SVG in a point: 1/3600 in."""
_ALIKE: Final = 3988.717
"""Shapes are one if their points are, in so many parts of their size. Letters have points at halves and quarters of it,
which with a whole number would be rounded now up, now down."""
_SHORT: Final = 48
"""Path data up to so long is written out each time, which takes no more room than to refer to it."""
_GROUND: Final = 1.5
"""Points of ground around words."""
_SEEN: Final = 2.2
"""Pixels of the page for a point, where words and room allow it."""
_READ: Final = 13.2
_MOST_READ: Final = 20.0
"""Pixels of the smallest and of the largest words in a drawing where there is room, and of the smallest one where there
is not."""
_LEAST_READ: Final = 11.0
_PHONE: Final = 340.0
"""Pixels that a drawing has on a telephone: in its frame, on a screen of 360."""
_STEP: Final = 10
"""Drawings that need nearly the same width are narrowed at one, a multiple of so many pixels."""
_COLUMN: Final = 770.0
"""Pixels that a drawing may take in the column of steps; one whose words need more reaches out beyond it."""
_VERBS: Final = ("l", "q", "c")
_ANCHORS: Final = {Anchor.START: "start", Anchor.MIDDLE: "middle", Anchor.END: "end"}

_Key = tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class _Form:
    """A shape without its place: `key` is the same for all sizes of it, `start` and `size` are units of the SVG."""

    key: _Key
    start: Point
    size: float
    data: str


class Gallery:
    """All drawings of a page: what of them comes again, and the classes of their lines and words."""

    def __init__(self, drawings: Iterable[Drawing]) -> None:
        self._marks: dict[int, tuple[tuple[Mark, _Form | None], ...]] = {}
        self._kept: list[Drawing] = []  # as long as they are here, no other drawing has their identity
        found: Counter[_Key] = Counter()
        largest: dict[_Key, _Form] = {}
        for drawing in drawings:
            if id(drawing) in self._marks:
                continue
            marks = tuple(
                (mark, _form(mark, drawing.height) if isinstance(mark, Shape) else None)
                for mark in _together(drawing.marks)
            )
            self._marks[id(drawing)] = marks
            self._kept.append(drawing)
            for _, form in marks:
                if form is None or len(form.data) <= _SHORT:
                    continue
                found[form.key] += 1
                if form.key not in largest or largest[form.key].size < form.size:
                    largest[form.key] = form
        shared = [form for key, form in largest.items() if found[key] > 1]
        self._names = {form.key: f"s{number:x}" for number, form in enumerate(shared)}
        self._shared = {form.key: form for form in shared}
        self._classes: dict[str, str] = {}

    def marks(self, drawing: Drawing) -> tuple[tuple[Mark, _Form | None], ...]:
        """The marks of a drawing in their order, each with its form; words have none."""
        return self._marks[id(drawing)]

    def shared(self, form: _Form) -> tuple[str, float] | None:
        """The name of what is written once for `form`, and how much smaller `form` is; nothing if it is not shared."""
        name = self._names.get(form.key)
        return None if name is None else (name, float(f"{form.size / self._shared[form.key].size:.4g}"))

    def styled(self, style: str) -> str:
        """The class of `style`, made when it is first asked for."""
        return self._classes.setdefault(style, f"p{len(self._classes):x}")

    def definitions(self) -> str:
        """An SVG that is not seen and holds what the others share."""
        paths = "".join(
            f'<path id="{name}" d="M0 0{self._shared[key].data}"/>' for key, name in self._names.items()
        )
        return f'<svg class="shared" width="0" height="0" aria-hidden="true"><defs>{paths}</defs></svg>'

    def sheet(self) -> str:
        """The classes of all drawings made so far, as CSS."""
        return "".join(f".{name}{{{style}}}" for style, name in self._classes.items())


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """Pixels that a drawing is wide where there is room, and at the least: in less its words are set anew."""

    width: int
    least: int

    @property
    def is_wide(self) -> bool:
        """Whether it needs more than the column of steps."""
        return self.width > _COLUMN

    @property
    def narrowed_below(self) -> int:
        """Pixels below which the drawing is shown as a telephone has room for; 0 where it needs no more than that."""
        return ceil(self.least / _STEP) * _STEP if self.least > _PHONE else 0


def shown(drawing: Drawing, wording: Wording) -> Shown:
    """How wide `drawing` is shown, so that its words are nowhere far smaller or larger than those around it."""
    words = [mark for mark in drawing.marks if isinstance(mark, Words)]
    sizes = [mark.size for mark in words if wording.plain(mark.said).strip()]
    wanted = min(_SEEN, _COLUMN / drawing.width)
    if not sizes:
        return Shown(width=round(drawing.width * wanted), least=0)
    scale = max(min(wanted, _MOST_READ / max(sizes)), _READ / min(sizes))
    least = drawing.width * _LEAST_READ / min(sizes)
    return Shown(width=round(drawing.width * scale), least=ceil(least))


def for_telephones(drawing: Drawing, wording: Wording) -> Narrow | None:
    """`drawing` with its words as large as a telephone needs them; nothing where they are so already."""
    if not shown(drawing, wording).narrowed_below:
        return None
    small = drawing.narrow or drawing
    if not shown(small, wording).narrowed_below:
        return Narrow(drawing=small, told=())
    return narrowed(small, wording.plain, least=small.width * _LEAST_READ / _PHONE)


def drawing_svg(drawing: Drawing, gallery: Gallery, wording: Wording, name: str) -> str:
    """`drawing`, one of those of `gallery`, as an element; `name` is its own on the page."""
    width, height = (round(side * _FINE) for side in (drawing.width, drawing.height))
    texts = dict.fromkeys(wording.plain(mark.said) for mark in drawing.marks if isinstance(mark, Words))
    words = [text for text in texts if text.strip()]
    told = f"<title id={_quoted(name + '-t')}>{wording.attribute(drawing.said)}</title>"
    by = f'aria-labelledby="{name}-t"'
    if words:
        told += f"<desc id={_quoted(name + '-d')}>{wording.attribute(words_in_it(words))}</desc>"
        by += f' aria-describedby="{name}-d"'
    size = shown(drawing, wording)
    names = [f"w{size.narrowed_below}"] if size.narrowed_below else []
    names += [gallery.styled(f"min-width:{size.least}px")] if size.least else []
    least = f' class="{" ".join(names)}"' if names else ""
    return (
        f'<svg role="img" {by} viewBox="0 0 {width} {height}"'
        f' width="{size.width}"{least}>{told}{"".join(_marks(drawing, gallery, wording))}</svg>'
    )


def narrow_svg(drawing: Drawing, small: Narrow, gallery: Gallery, wording: Wording) -> str:
    """What stands in place of `drawing` where that has no room: the same with larger words, one of those of `gallery`,
    and below it what the numbers in it stand for."""
    width, height = (round(side * _FINE) for side in (small.drawing.width, small.drawing.height))
    below = shown(drawing, wording).narrowed_below
    sizes = [mark.size for mark in small.drawing.marks if isinstance(mark, Words)]
    wide = min(below, small.drawing.width * _MOST_READ / max(sizes))
    told = "".join(
        f"<li><b>{number}</b><span>{tied(wording.html(words))}</span></li>" for number, words in small.told
    )
    key = f'<ul role="list">{told}</ul>' if told else ""
    return (
        f'<div class="small n{below}"><div role="img" aria-label="{wording.attribute(drawing.said)}">'
        f'<svg aria-hidden="true" viewBox="0 0 {width} {height}" width="{round(wide)}">'
        f"{''.join(_marks(small.drawing, gallery, wording))}</svg></div>{key}</div>"
    )


def _quoted(text: str) -> str:
    return f'"{text}"'


def _marks(drawing: Drawing, gallery: Gallery, wording: Wording) -> Iterator[str]:
    """Every mark in its order; shapes that follow one another at one scale lie in one group."""
    scale = 1.0
    for mark, form in gallery.marks(drawing):
        shared = None if form is None else gallery.shared(form)
        wanted = 1.0 if shared is None else shared[1]
        if wanted != scale:
            if scale != 1.0:
                yield "</g>"
            if wanted != 1.0:
                yield f'<g transform="scale({_short(wanted, 6)})">'
            scale = wanted
        if isinstance(mark, Words):
            yield _words(mark, drawing.height, gallery, wording)
        elif isinstance(mark, Raster):
            yield _raster(mark, drawing.height, scale)
        elif form is not None:
            style = gallery.styled(_style(mark, scale))
            if shared is None:
                x, y = (round(value) for value in form.start)
                yield f'<path class="{style}" d="M{_pair(x, y)}{form.data}"/>'
            else:
                x, y = (round(value / scale) for value in form.start)
                yield f'<use href="#{shared[0]}" class="{style}" x="{x}" y="{y}"/>'
    if scale != 1.0:
        yield "</g>"


def _raster(mark: Raster, height: float, scale: float) -> str:
    """A picture made of pixels, in the page itself."""
    sides = [round(side * _FINE / scale) for side in (mark.at[0], height - mark.at[1] - mark.height)]
    wide, high = (round(side * _FINE / scale) for side in (mark.width, mark.height))
    data = base64.b64encode(mark.png).decode("ascii")
    return f'<image x="{sides[0]}" y="{sides[1]}" width="{wide}" height="{high}" href="data:image/png;base64,{data}"/>'


def _style(shape: Shape, scale: float) -> str:
    """How a shape is painted that is written `scale` times smaller than its words and its line."""
    style = f"fill:{shape.fill or 'none'}"
    if shape.ink is not None:
        ink = shape.ink
        style += f";stroke:{ink.color};stroke-width:{_short(ink.width * _FINE / scale, 1)}px"
        if ink.opacity < 1:
            style += f";stroke-opacity:{_short(ink.opacity)}"
        if ink.dashes:
            style += ";stroke-dasharray:" + " ".join(
                f"{_short(dash * _FINE / scale, 1)}px" for dash in ink.dashes
            )
    return style


def _words(words: Words, height: float, gallery: Gallery, wording: Wording) -> str:
    """Words as wide as they were laid out, whatever font the reader has."""
    text = wording.plain(words.said)
    if not text.strip():
        return ""
    wide = text_width(text, words.size, bold=words.bold)
    x, y = round(words.at[0] * _FINE), round((height - words.at[1]) * _FINE)
    style = f"fill:{words.color};font-size:{_short(words.size * _FINE, 0)}px"
    if words.bold:
        style += ";font-weight:600"
    if words.anchor is not Anchor.START:
        style += f";text-anchor:{_ANCHORS[words.anchor]}"
    turned = f' transform="rotate({_short(-words.turn_deg)} {x} {y})"' if words.turn_deg else ""
    ground = ""
    if words.ground is not None:
        left = {Anchor.START: 0.0, Anchor.MIDDLE: -wide / 2, Anchor.END: -wide}[words.anchor]
        behind = gallery.styled(f"fill:{words.ground}")
        ground = (
            f'<rect class="{behind}" x="{round(x + (left - _GROUND) * _FINE)}"'
            f' y="{round(y - 0.9 * words.size * _FINE)}" width="{round((wide + 2 * _GROUND) * _FINE)}"'
            f' height="{round(1.15 * words.size * _FINE)}"{turned}/>'
        )
    return (
        f'{ground}<text class="{gallery.styled(style)}" x="{x}" y="{y}" textLength="{round(wide * _FINE)}"'
        f' lengthAdjust="spacingAndGlyphs"{turned}>{wording.attribute(words.said)}</text>'
    )


# Shapes


def _together(marks: Iterable[Mark]) -> Iterator[Mark]:
    """The marks, lines that follow one another in the same ink as one; where such lines cross they cover no more."""
    for line, alike in groupby(marks, key=_line):
        if line is None:
            yield from alike
            continue
        contours = [one.outline.contours for one in alike if isinstance(one, Shape)]
        yield replace(line, outline=Outline(contours=tuple(chain.from_iterable(contours))))


def _line(mark: Mark) -> Shape | None:
    """What a line is apart from where it runs; nothing for other marks."""
    if isinstance(mark, Shape) and mark.open and mark.fill is None:
        return replace(mark, outline=Outline(contours=()))
    return None


def _form(shape: Shape, height: float) -> _Form | None:
    """A shape made ready to be written; nothing for one without an outline."""
    if not shape.outline:
        return None
    contours = tuple(_flipped(contour, height) for contour in shape.outline.contours)
    points = [point for contour in contours for segment in contour for point in segment]
    (x0, y0), xs, ys = points[0], [x for x, _ in points], [y for _, y in points]
    size = max(max(xs) - min(xs), max(ys) - min(ys), 1.0)
    share = _ALIKE / size
    closed = not shape.open
    key: _Key = (
        (closed, *(len(segment) for contour in contours for segment in (*contour, ()))),
        tuple(round((x - x0) * share) for x in xs),
        tuple(round((y - y0) * share) for y in ys),
    )
    return _Form(key, (x0, y0), size, _data(contours, closed=closed))


def _flipped(contour: Contour, height: float) -> tuple[tuple[Point, ...], ...]:
    return tuple(
        tuple((x * _FINE, (height - y) * _FINE) for x, y in segment)
        for segment in ((contour.start,), *contour.segments)
    )


def _data(contours: Sequence[Sequence[Sequence[Point]]], *, closed: bool) -> str:
    """Path data from the start of the first contour on, which the reader puts before it; every step is relative."""
    origin = contours[0][0][0]

    def whole(point: Point) -> tuple[int, int]:
        return round(point[0] - origin[0]), round(point[1] - origin[1])

    parts: list[str] = []
    pen = (0, 0)
    for number, ((start,), *segments) in enumerate(contours):
        here = first = whole(start)
        if number:
            parts.append("m" + _pair(here[0] - pen[0], here[1] - pen[1]))
        for segment in segments:
            ends = [whole(point) for point in segment]
            if all(end == here for end in ends):
                continue
            parts.append(_step(here, ends))
            here = ends[-1]
        if closed:
            parts.append("z")
        pen = first if closed else here
    return "".join(parts)


def _step(here: tuple[int, int], ends: Sequence[tuple[int, int]]) -> str:
    if len(ends) == 1:
        across, down = ends[0][0] - here[0], ends[0][1] - here[1]
        if not down:
            return f"h{across}"
        if not across:
            return f"v{down}"
    steps = [value - origin for end in ends for value, origin in zip(end, here, strict=True)]
    first, *rest = steps
    return (
        _VERBS[len(ends) - 1] + str(first) + "".join(f"{step}" if step < 0 else f" {step}" for step in rest)
    )


def _pair(x: int, y: int) -> str:
    return f"{x}{y}" if y < 0 else f"{x} {y}"


def _short(value: float, places: int = 2) -> str:
    """A number with no more decimals than it needs."""
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text.removeprefix("0") if text.startswith("0.") else text

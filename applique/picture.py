"""One picture of the quilt: what to paint, in its order. Preview, booklet, guide and page paint this and nothing else.

Frame of the picture: inches from the lower left corner of the finished quilt, y up. A shape stands about its own
origin and has a place in that frame, so that the same shape laid twice is kept once. Curves stay curves, widths are
true inches, and nothing is drawn that cannot be seen.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache
from typing import Final

import shapely

from applique.design import Fabric, Stitch
from applique.fabrics import FabricPhoto
from applique.geometry.offset import offset_outline
from applique.geometry.outline import Contour, Outline
from applique.geometry.place import Place
from applique.geometry.points import Point
from applique.geometry.polygons import CHORD_ERROR, polygon_of
from applique.outline_layer import PlacedOutline
from applique.panel import CutOff, Laid, PanelEdges, PanelPlan
from applique.quilt.borders import BorderPlan
from applique.quilt.edge import Edge
from applique.quilt.scene import Scene
from applique.quilt.setting import SettingPlan
from applique.quilt.strips import Extent
from applique.quilt.whole import QuiltPlan
from applique.sewing.quilting import QuiltingPlan, sewn_quilting
from applique.sewing.stitches import EdgeStitch

__all__ = [
    "Item",
    "Part",
    "Pen",
    "Picture",
    "Wall",
    "beside_each_other",
    "draw_picture",
    "draw_set",
    "draw_top",
]

_SEAM: Final = "#3b3733"
_THINGS: Final = "#8c857c"
_QUILTED: Final = "#7f7f7f"
"""Between black and white, so that a line of quilting shows on dark and on light fabric alike."""
_THREAD_WIDE: Final = 0.5 / 25.4
"""Inches across one thread: common practice, no source."""
_SEAM_WIDE: Final = 1 / 32
_SEAM_SEEN: Final = 0.35
_FURROW_WIDE: Final = 1 / 16
"""Inches across the soft furrow that a line of quilting draws: common practice, no source."""
_FURROW_SEEN: Final = 0.45
_BINDING_WIDE: Final = 1 / 8
_RAW_EDGE: Final = "#8c8c8c"
"""Of an edge without a binding."""
_THING_WIDE: Final = 0.35
_STRAYED: Final = 0.01
"""Inches that a line of quilting may stray from its plan here, for the sake of few points."""
_AT_ORIGIN: Final = Place(x=0.0, y=0.0)


class Part(StrEnum):
    """What an item of the picture is."""

    PATCH = "patch"
    PANEL = "panel"
    OUTLINE = "outline"
    LETTER = "letter"
    SHAPE = "shape"
    STITCH = "stitch"
    QUILTING = "quilting"
    EDGE = "edge"
    THING = "thing"
    FLOOR = "floor"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """A line along the middle of an edge: its color, its true width in inches, and how much it covers, from 0 to 1."""

    color: str
    width: float
    opacity: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One thing to paint over those before it: filled first, then its line.

    Items of equal `key` are the same `outline`, each about its own origin at its own `place`. An `open` outline is a
    line whose ends do not meet. `fabric` names what it is cut from. `row` and `letter` (its first one, from 1) say
    whose it is, `border`, `side` and `quilting` likewise; those of an outline layer and its stitches have no letter.
    Of a piece that runs off the panel `outline` is what is seen, and `caught` all that is cut, the rest in the seam.
    """

    part: Part
    key: str
    outline: Outline
    place: Place = _AT_ORIGIN
    fill: str | None = None
    pen: Pen | None = None
    fabric: str = ""
    row: int | None = None
    letter: int | None = None
    border: int | None = None
    side: str = ""
    quilting: int | None = None
    open: bool = False
    caught: Outline | None = None

    @property
    def is_edged(self) -> bool:
        """Whether it has an edge in a drawing of lines; the panel has none where letters alone are made."""
        return self.part is not Part.PANEL or self.pen is not None

    @property
    def laid(self) -> Outline:
        """The outline where it lies in the picture."""
        return self.place.outline(self.outline)

    @property
    def laid_whole(self) -> Outline:
        """All that is cut of it where it lies, what a seam hides too."""
        return self.laid if self.caught is None else self.place.outline(self.caught)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """The quilt on a wall: things beside it in inches, y up, the floor at 0, the left edge at 0.

    `quilt` is where the lower left corner of the picture of the quilt comes to hang, at the same scale.
    """

    width: float
    height: float
    quilt: Point
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """The finished quilt, `width` by `height` inches, in the order it is painted, and the wall that it hangs on.

    `panel` is where the frame of the panel lies in it; `top` its borders and its panel before the edge is cut.
    `photos` has those of its fabrics that have one, by their names. An item of such a fabric is filled with it at true
    scale, upright and again and again from the origin of the item on, in its own frame: cloth turns with its piece.
    """

    width: float
    height: float
    panel: Place
    top: tuple[Item, ...]
    items: tuple[Item, ...]
    wall: Wall
    photos: Mapping[str, FabricPhoto]

    def photo_of(self, item: Item) -> FabricPhoto | None:
        """The photo that fills an item; nothing for one of a single color."""
        return None if item.fill is None else self.photos.get(item.fabric)

    def of(self, *parts: Part) -> Iterator[Item]:
        """The items of some parts, in their order."""
        return (item for item in self.items if item.part in parts)

    def on_panel(self, *parts: Part) -> Iterator[Item]:
        """The items of some parts, in their order, at their places in the frame of the panel."""
        return (replace(item, place=item.place.seen_from(self.panel)) for item in self.of(*parts))


def draw_picture(
    panel: PanelPlan,
    outlines: Sequence[PlacedOutline],
    quilt: QuiltPlan,
    stitches: Sequence[EdgeStitch],
    quilting: Sequence[QuiltingPlan] = (),
) -> Picture:
    """The picture of a quilt: borders, panel, outline layer, letters and other pieces, stitches, quilting, binding."""
    width, height = (float(side) for side in quilt.finished)
    middle = Place(x=width / 2, y=height / 2)
    corner = Place(x=(width - float(panel.width)) / 2, y=(height - float(panel.height)) / 2)
    by_table = {stitch.where: stitch for stitch in stitches}
    off = {row.where: panel.edges for row in panel.laid if row.runs_off}
    size, by_name = (panel.width, panel.height), quilt.fabrics.by_name
    top = draw_top(size, panel.fabric, quilt.borders, by_name, edged=not panel.loose)
    return Picture(
        width=width,
        height=height,
        panel=corner,
        top=top,
        items=(
            *_trimmed(top, quilt.edge, middle),
            *(
                item
                for piece in outlines
                for item in _outline_items(piece, by_table[piece.where], corner, off.get(piece.where))
            ),
            *(
                item
                for row in panel.laid
                for item in _laid_items(row, by_table[row.where], corner, off.get(row.where))
            ),
            *_quilting_items(quilting, middle),
            *(() if quilt.pillow or quilt.turned or not panel.is_cut else (_edge(quilt, middle),)),
        ),
        wall=_wall(quilt.scene),
        photos=quilt.fabrics.photos,
    )


def beside_each_other(
    pictures: Sequence[Picture], at: Sequence[Place], size: Extent, quilt: QuiltPlan
) -> Picture:
    """Several pictures in one, the lower left corner of each at its place in a frame of that size."""

    def moved(items: Iterable[Item], number: int, place: Place) -> Iterator[Item]:
        for item in items:
            own = item.part in (Part.PANEL, Part.EDGE)
            key = f"{item.key}-{number}" if own else item.key
            yield replace(item, key=key, place=item.place.within(place))

    return Picture(
        width=float(size[0]),
        height=float(size[1]),
        panel=_AT_ORIGIN,
        top=tuple(
            item
            for number, (one, place) in enumerate(zip(pictures, at, strict=True), 1)
            for item in moved(one.top, number, place)
        ),
        items=tuple(
            item
            for number, (one, place) in enumerate(zip(pictures, at, strict=True), 1)
            for item in moved(one.items, number, place)
        ),
        wall=_wall(quilt.scene),
        photos=quilt.fabrics.photos,
    )


def draw_set(
    pictures: Sequence[Picture],
    places: Sequence[Sequence[Place]],
    quilt: QuiltPlan,
    setting: SettingPlan,
    quilting: Sequence[QuiltingPlan] = (),
) -> Picture:
    """The picture of a quilt whose blocks are set together: each of those `pictures` at all of its `places`, in the
    frame of the set top, with what lies between them, borders, quilting, binding."""
    width, height = (float(side) for side in quilt.finished)
    middle = Place(x=width / 2, y=height / 2)
    across, down = (float(side) for side in setting.finished)
    corner = Place(x=(width - across) / 2, y=(height - down) / 2)
    by_name = quilt.fabrics.by_name
    laid = [
        (number, one, place.within(corner))
        for number, (one, own) in enumerate(zip(pictures, places, strict=True), 1)
        for place in own
    ]
    top = (
        *_patches(quilt.borders, by_name, middle),
        *_set_patches(setting, by_name, corner),
        *(
            replace(item, key=f"{item.key}-{number}", place=item.place.within(place))
            for number, one, place in laid
            for item in one.top
        ),
    )
    return Picture(
        width=width,
        height=height,
        panel=corner,
        top=top,
        items=(
            *_trimmed(top, quilt.edge, middle),
            *(
                replace(item, place=item.place.within(place))
                for _, one, place in laid
                for item in one.items
                if item.part not in (Part.PANEL, Part.EDGE)
            ),
            *_quilting_items(quilting, middle),
            _edge(quilt, middle),
        ),
        wall=_wall(quilt.scene),
        photos=quilt.fabrics.photos,
    )


def _set_patches(setting: SettingPlan, fabrics: Mapping[str, Fabric], corner: Place) -> Iterator[Item]:
    for patch in setting.patches:
        (x, y), (wide, high) = ((float(one) for one in pair) for pair in (patch.corner, patch.size))
        yield Item(
            part=Part.PATCH,
            key=f"{patch.part.value}-{wide:g}-{high:g}",
            outline=_box(wide, high),
            place=Place(x=x, y=y).within(corner),
            fill=fabrics[patch.fabric].color,
            pen=_seam(),
            fabric=patch.fabric,
        )


def _edge(quilt: QuiltPlan, middle: Place) -> Item:
    """The edge of a quilt, in its binding or raw."""
    bound = quilt.binding is not None
    return Item(
        part=Part.EDGE,
        key="edge",
        outline=quilt.edge.outline,
        place=middle,
        pen=Pen(color=quilt.fabrics.binding.color if bound else _RAW_EDGE, width=_BINDING_WIDE),
        fabric=quilt.fabrics.binding.name if bound else "",
    )


def draw_top(
    panel: Extent,
    fabric: Fabric,
    borders: Sequence[BorderPlan],
    fabrics: Mapping[str, Fabric],
    *,
    edged: bool = True,
) -> tuple[Item, ...]:
    """The borders and a panel of `fabric` between them, as they are sewn together, with nothing on it yet; the
    panel is `edged` with its seam, unless letters alone are made.

    Inches from the lower left corner of the whole, finished, y up; `fabrics` are all of them by their names.
    """
    width, height = (float(side) for side in panel)
    around = borders[-1].finished if borders else panel
    middle = Place(x=float(around[0]) / 2, y=float(around[1]) / 2)
    laid = Item(
        part=Part.PANEL,
        key="panel",
        outline=_box(width, height),
        place=Place(x=middle.x - width / 2, y=middle.y - height / 2),
        fill=fabric.color,
        pen=_seam() if edged else None,
        fabric=fabric.name,
    )
    return (*_patches(borders, fabrics, middle), laid)


def _trimmed(top: Sequence[Item], edge: Edge, middle: Place) -> Iterator[Item]:
    """The pieces of the top once the quilt is cut along its edge."""
    laid = [item.place.seen_from(middle).outline(item.outline) for item in top]
    for item, piece, left in zip(top, laid, edge.trimmed(laid), strict=True):
        if left:
            yield item if left is piece else replace(item, outline=left, place=middle)


def _quilting_items(quilting: Sequence[QuiltingPlan], middle: Place) -> Iterator[Item]:
    """The lines of quilting that are sewn together, no further than 0.01 in from their plan."""
    for plan in sewn_quilting(quilting):
        for count, line in enumerate(plan.lines):
            points = shapely.LineString(line).simplify(_STRAYED).coords
            yield Item(
                part=Part.QUILTING,
                key=f"quilting-{plan.number}-{count}",
                outline=_through((x, y) for x, y in points),
                place=middle,
                pen=Pen(color=_QUILTED, width=_FURROW_WIDE, opacity=_FURROW_SEEN),
                quilting=plan.number,
                open=True,
            )


def _patches(borders: Sequence[BorderPlan], fabrics: Mapping[str, Fabric], middle: Place) -> Iterator[Item]:
    for border in borders:
        for count, patch in enumerate(border.patches):
            corners = [(float(x), float(y)) for x, y in patch.corners]
            yield Item(
                part=Part.PATCH,
                key=f"border-{border.number}-{count}",
                outline=_through(corners),
                place=middle,
                fill=fabrics[patch.fabric].color,
                pen=_seam(),
                fabric=patch.fabric,
                border=border.number,
                side=patch.side,
            )


def _outline_items(
    piece: PlacedOutline, stitch: EdgeStitch, corner: Place, edges: PanelEdges | None
) -> Iterator[Item]:
    laid = Item(
        part=Part.OUTLINE,
        key=piece.key,
        outline=piece.outline,
        place=piece.place.within(corner),
        fill=piece.fabric.color,
        fabric=piece.fabric.name,
        row=piece.where.row,
    )
    stitched = list(_stitched(laid, piece.off, stitch, stitch.outline_thread))
    yield from _seen([laid, *stitched], edges, corner)


def _laid_items(row: Laid, stitch: EdgeStitch, corner: Place, edges: PanelEdges | None) -> Iterator[Item]:
    for cut in row.cuts:
        laid = Item(
            part=Part.LETTER if row.letter else Part.SHAPE,
            key=cut.key,
            outline=cut.outline,
            place=cut.place.within(corner),
            fill=row.fabric.color,
            fabric=row.fabric.name,
            row=row.where.row,
            letter=cut.letters[0] if cut.letters else None,
        )
        stitched = list(_stitched(laid, cut.off, stitch, stitch.thread))
        yield from _seen([laid, *stitched], edges, corner)


def _seen(items: Sequence[Item], edges: PanelEdges | None, corner: Place) -> Iterator[Item]:
    """`items` as far as they lie inside the finished edge of a panel that they run off; all of them without one."""
    for item in items:
        if edges is None:
            yield item
            continue
        place = item.place.seen_from(corner)
        inside = place.shape(polygon_of(item.outline, chord_error=CHORD_ERROR))
        if edges.finished.covers(inside):
            yield item
        elif item.part is Part.STITCH:
            yield from _stitches_seen(item, edges, place)
        else:
            seen = edges.seen(item.outline, place)
            if seen:
                key = f"{item.key}-seen-{place.x:.4f}-{place.y:.4f}-{place.turn_deg:.4f}"
                yield replace(item, key=key, outline=seen, caught=item.outline)


def _stitches_seen(item: Item, edges: PanelEdges, place: Place) -> Iterator[Item]:
    """The line of stitches of a piece as far as it lies inside the finished edge: open lines from edge to edge."""
    lines = place.shape(polygon_of(item.outline, chord_error=CHORD_ERROR)).boundary
    left = lines.intersection(edges.finished)
    parts = [part for part in shapely.get_parts(left) if isinstance(part, shapely.LineString)]
    merged = shapely.get_parts(shapely.line_merge(shapely.MultiLineString(parts))) if parts else ()
    back = Place(x=0.0, y=0.0).seen_from(place)
    found = [_through(map(back.point, line.simplify(CHORD_ERROR).coords)) for line in merged]
    contours = tuple(contour for one in found for contour in one.contours)
    if contours:
        key = f"{item.key}-seen-{place.x:.4f}-{place.y:.4f}-{place.turn_deg:.4f}"
        yield replace(item, key=key, outline=Outline(contours=contours), open=True)


# Stitches


def _stitched(piece: Item, off: CutOff | None, stitch: EdgeStitch, thread: str) -> Iterator[Item]:
    """The stitch line of a piece in a color of `thread`, unless it lies on the piece in its own color; of one that is
    cut off that of the whole.

    Satin and zigzag are solid, as wide as they are sewn, from `outside` to `bite`; a blanket stitch is its thread along
    the edge, a straight one its thread inside of it.
    """
    covers = stitch.stitch in (Stitch.SATIN, Stitch.ZIGZAG)
    if not covers and thread == piece.fill:
        return
    match stitch.stitch:
        case Stitch.SATIN | Stitch.ZIGZAG:
            inward, width = float(stitch.bite - stitch.outside) / 2, float(stitch.width)
        case Stitch.BLANKET:
            inward, width = 0.0, _THREAD_WIDE
        case Stitch.STRAIGHT:
            inward, width = float(stitch.bite), _THREAD_WIDE
    whole = piece.outline if off is None else off.whole
    outline = _inside(whole, inward) if inward else whole
    if outline:
        yield Item(
            part=Part.STITCH,
            key=f"{piece.key}-in-{inward:g}" if inward else piece.key,
            outline=outline,
            place=piece.place,
            pen=Pen(color=thread, width=width),
            row=piece.row,
            letter=piece.letter,
        )


@lru_cache(maxsize=512)
def _inside(outline: Outline, inward: float) -> Outline:
    """The line `inward` of an edge; none in a stroke too narrow for it."""
    return offset_outline(outline, -inward)


def _seam() -> Pen:
    return Pen(color=_SEAM, width=_SEAM_WIDE, opacity=_SEAM_SEEN)


# The wall


def _wall(scene: Scene) -> Wall:
    pen = Pen(color=_THINGS, width=_THING_WIDE)
    things = [part for thing in scene.things for part in thing.parts]
    floor = ((0.0, 0.0), (scene.width, 0.0))
    return Wall(
        width=scene.width,
        height=scene.height,
        quilt=(scene.quilt[0], scene.quilt[1]),
        items=(
            Item(part=Part.FLOOR, key="floor", outline=_through(floor), pen=pen, open=True),
            *(
                Item(
                    part=Part.THING,
                    key=f"thing-{count}",
                    outline=_through((x, y) for x, y in thing.exterior.coords[:-1]),
                    pen=pen,
                )
                for count, thing in enumerate(things)
            ),
        ),
    )


def _box(width: float, height: float) -> Outline:
    return _through(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)))


def _through(points: Iterable[Point]) -> Outline:
    """One path of straight lines."""
    start, *rest = points
    return Outline(contours=(Contour(start=start, segments=tuple((point,) for point in rest)),))

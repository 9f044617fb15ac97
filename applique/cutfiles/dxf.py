"""DXF files beside the SVG ones, each of the same name: polylines at true size.

Curves are flattened at `CHORD_ERROR`; units are inches or millimeters and said in the file's header. The origin is
the lower left corner of the drawing, of quilting the middle of the quilt. DXF's y points up, as ours does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from io import StringIO

from applique.cutfiles.drawings import SIDES, CutDrawing, cut_drawings, quilting_name
from applique.geometry.points import Point, point_under
from applique.geometry.polygons import CHORD_ERROR
from applique.pattern import Pattern
from applique.units import Units

__all__ = ["dxf_files"]


def dxf_files(pattern: Pattern) -> dict[str, bytes]:
    """A DXF of every drawing that there is an SVG of; none unless the design asks for them."""
    if not pattern.design.cutting.dxf:
        return {}
    return dict(_files(pattern))


def _files(pattern: Pattern) -> Iterator[tuple[str, bytes]]:
    units = pattern.design.units
    for drawing in cut_drawings(pattern):
        for mirrored, side in SIDES:
            yield f"{side}/{drawing.name}.dxf", _document(_lines(drawing, mirrored), units)
    for plan in pattern.quilting:
        yield f"{quilting_name(plan)}.dxf", _document([(line, False) for line in plan.lines], units)


_Line = tuple[Sequence[Point], bool]
"""A line through points, and whether its ends meet."""


def _lines(drawing: CutDrawing, mirrored: bool) -> Iterator[_Line]:
    x0, y0, x1, _ = drawing.window
    onto = (-1.0, 0.0, 0.0, 1.0, x1, -y0) if mirrored else (1.0, 0.0, 0.0, 1.0, -x0, -y0)
    for contour in drawing.outline.transformed(onto).contours:
        yield contour.points(CHORD_ERROR), True
    for slit in drawing.slits:
        yield [point_under(onto, point) for point in slit], False


def _document(lines: Iterable[_Line], units: Units) -> bytes:
    """A DXF that is the same bytes on every run.

    Source:
        DXF reference, header variables $INSUNITS (1 inches, 4 millimeters) and $MEASUREMENT (0 English, 1 metric),
        from memory; the writer sets the second by the first.
    """
    import ezdxf

    number, scale = (4, 25.4) if units is Units.CENTIMETERS else (1, 1.0)
    with _no_dates():
        document = ezdxf.new("R2010", setup=False, units=number)  # type: ignore[attr-defined]
        space = document.modelspace()
        for line, closed in lines:
            points = [(x * scale, y * scale) for x, y in line]
            space.add_lwpolyline(points, close=closed, dxfattribs={"layer": "0"})
        # The writer goes through a set for these, whose order differs from one run of Python to the next.
        for kind in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(kind)
        text = StringIO()
        document.write(text)
    return text.getvalue().encode("utf-8")


@contextmanager
def _no_dates() -> Iterator[None]:
    """Fixed dates and ids instead of the clock's, which would make two runs differ."""
    import ezdxf

    options = ezdxf.options  # type: ignore[attr-defined]
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before

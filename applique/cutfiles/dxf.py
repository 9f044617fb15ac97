"""DXF files beside the SVG ones: closed polylines at true size.

Curves are flattened at `CHORD_ERROR`; units are inches or millimetres and said in the file's header. DXF's y points
up, as ours does.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO

from applique.cutfiles.svg import cut_line, mat_outline, safe_name
from applique.pattern import Pattern
from applique.typeset.outline import CHORD_ERROR, Outline
from applique.units import Units

__all__ = ["dxf_files"]

_INSUNITS = {"in": 1, "mm": 4}
"""AutoCAD DXF reference, header variable $INSUNITS (from memory)."""


def dxf_files(pattern: Pattern) -> dict[str, bytes]:
    """A DXF for each letter, right-reading and mirrored, and for each mat; none unless the design asks for them."""
    if not pattern.design.cutting.dxf:
        return {}
    return {name: _document(outline, pattern.design.units) for name, outline in _outlines(pattern)}


def _outlines(pattern: Pattern) -> Iterator[tuple[str, Outline]]:
    digits = max(2, len(str(len(pattern.templates))))
    for template in pattern.templates:
        name = f"{template.layer}s/{template.number:0{digits}d}-{safe_name(template.text)}.dxf"
        yield f"right-reading/{name}", cut_line(template)
        yield f"mirrored/{name}", cut_line(template).transformed((-1.0, 0.0, 0.0, 1.0, 0.0, 0.0))
    for mat in pattern.mats:
        mirrored = mat_outline(pattern, mat).transformed((-1.0, 0.0, 0.0, 1.0, mat.width, 0.0))
        yield f"mats/mat-{mat.number:0{digits}d}-{safe_name(mat.fabric)}.dxf", mirrored


def _document(outline: Outline, units: Units) -> bytes:
    import ezdxf
    from ezdxf._options import options

    unit, scale = ("mm", 25.4) if units is Units.CENTIMETRES else ("in", 1.0)
    # Dates and random ids would make two runs differ.
    options.write_fixed_meta_data_for_testing = True
    document = ezdxf.new("R2010", setup=False)  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = _INSUNITS[unit]
    space = document.modelspace()
    for contour in outline.contours:
        points = [(x * scale, y * scale) for x, y in contour.points(CHORD_ERROR)]
        space.add_lwpolyline(points, close=True, dxfattribs={"layer": "0"})
    text = StringIO()
    document.write(text)
    return text.getvalue().encode("utf-8")

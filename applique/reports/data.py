"""The pattern in numbers, for programs: `pattern.json`, and `design.toml`."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from importlib.metadata import version
from pathlib import Path
from typing import Any, Final

from applique.design import Design, design_data, design_text
from applique.language import nearest_speech
from applique.pattern import Pattern
from applique.photos import Photo
from applique.publishing import Mark
from applique.reports.buying_data import need_data, shopping_data
from applique.reports.file_names import one_line
from applique.reports.findings_data import accepted_data, finding_said_data, held_data
from applique.reports.numbers import rounded
from applique.reports.quilt_data import quilt_data
from applique.reports.sewing_data import quilting_data, stitching_data
from applique.reports.words_data import (
    outline_data,
    panel_data,
    row_data,
    shape_data,
    sheets_data,
    template_data,
)
from applique.scan_code import LEVEL, ScanCode
from applique.typeset.own import OwnFont, font_digests, shared_design
from applique.words import summary as said
from applique.words.held_numbers import held_said

__all__ = [
    "FORMAT",
    "design_toml",
    "made_by",
    "mark_data",
    "pattern_json",
    "photo_digests",
]

FORMAT: Final = "applique-pattern/1"


def _panels(pattern: Pattern) -> dict[str, Any]:
    """The panel; of a design of blocks the panel of each, with its name, how many are made, and its rows."""
    if not pattern.quilt.blocks:
        return {"panel": panel_data(pattern)}
    return {
        "blocks": [
            {
                "name": block.name,
                "count": block.count,
                "panel": panel_data(one),
                "rows": [row.number for row in one.panel.rows],
            }
            for block, one in zip(pattern.quilt.blocks, pattern.blocks, strict=True)
        ]
    }


def pattern_json(pattern: Pattern) -> bytes:
    """Every number of the pattern as JSON, lengths in inches.

    Exact lengths stand as decimal inches and as the fraction they are. Keys are sorted, so equal patterns give
    equal bytes.
    """
    marks = {mark.where: mark for mark in pattern.marks}
    data = {
        "format": FORMAT,
        "made_by": made_by(),
        "title": pattern.title,
        "design": design_data(pattern.shared_design),
        "fonts": font_digests(pattern.fonts),
        "photos": photo_digests(pattern.photos),
        "mark": mark_data(pattern.mark),
        "contact_code": _contact_code(pattern.contact_code),
        **_panels(pattern),
        "rows": [row_data(one, row, marks[row.where]) for one in pattern.blocks for row in one.panel.rows],
        "shapes": [
            shape_data(pattern, one, marks[one.where]) for one in pattern.panel.laid if one.letter is None
        ],
        "templates": [template_data(template) for template in pattern.templates],
        "sheets": sheets_data(pattern),
        "fusible": need_data(pattern, pattern.fusible),
        "cloth": [need_data(pattern, need) for need in pattern.cloth],
        "quilt": quilt_data(pattern),
        **shopping_data(pattern),
        "too_large_for_mat": [template.number for template in pattern.mat_plan.too_large],
        "outlines": [outline_data(pattern, piece) for piece in pattern.outlines],
        "findings": [finding_said_data(finding, pattern.design.units) for finding in pattern.findings],
        "accepted": [accepted_data(acceptance) for acceptance in pattern.accepted],
        "stitching": stitching_data(pattern),
        "quilting": [quilting_data(plan, pattern.design.units) for plan in pattern.quilting],
        "stated": [
            {**held_data(number), "what": str(held_said(number, pattern.design.units))}
            for number in pattern.stated
        ],
        "notices": [
            {
                "kind": n.kind,
                "what": str(n.what),
                "where": str(n.where),
                "place": n.where.as_data(),
                "fix": str(n.fix),
            }
            for n in pattern.notices
        ],
    }
    text = json.dumps(data, ensure_ascii=False, indent=1, sort_keys=True, allow_nan=False)
    return (text + "\n").encode("utf-8")


def design_toml(design: Design, fonts: Sequence[OwnFont], photos: Mapping[str, str]) -> bytes:
    """`design` as the file that others get: its own `fonts` by name, each told at the top with its SHA-256,
    the picture of its mark, and its photos as `photos` names them."""
    speech = nearest_speech(design.language)
    head = [
        f"# {speech.tell(note)}\n"
        for name, digest in font_digests(fonts).items()
        for note in said.font_notes(one_line(name), digest)
    ]
    if design.publisher.mark_file:
        head.append(f"# {speech.tell(said.mark_note(one_line(Path(design.publisher.mark_file).name)))}\n")
    return "".join([*head, "\n" if head else "", design_text(shared_design(design, fonts, photos))]).encode(
        "utf-8"
    )


def made_by() -> str:
    """The program and its version, as `pattern.json` carries them."""
    return f"applique {version('applique')}"


def mark_data(mark: Mark | None) -> dict[str, Any] | None:
    """The picture of a publisher's mark, as others are told of it: by name and digest."""
    return None if mark is None else {"name": mark.name, "sha256": mark.sha256}


def photo_digests(photos: Iterable[tuple[str, Photo]]) -> dict[str, str]:
    """The SHA-256 of each photo of a fabric by its name beside the design."""
    return {name: photo.sha256 for name, photo in photos}


def _contact_code(code: ScanCode | None) -> dict[str, Any] | None:
    """A code to scan: a row of figures for each row of its modules, 1 for a dark one, the quiet zone in it."""
    if code is None:
        return None
    rows = ["".join("1" if dark else "0" for dark in row) for row in code.modules]
    return {"text": code.text, "error_correction": LEVEL, "modules": rows, "side": rounded(code.side)}

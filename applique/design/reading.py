"""Reading a design: from TOML or plain data to a `Design`, with every problem at once and in the maker's words."""

from __future__ import annotations

import os
import re
import stat
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError

from applique.design.accepted import accepted_problems
from applique.design.blocks import block_problems
from applique.design.downward import down_problems
from applique.design.entries import FIT, as_written, short
from applique.design.faults import nearest, no_rows, told
from applique.design.fonts import is_path
from applique.design.holding import stated_problems
from applique.design.methods import method_problems
from applique.design.model import (
    Align,
    Backing,
    Batting,
    Binding,
    BorderKind,
    Design,
    Fabric,
    Finish,
    Hanging,
    Row,
)
from applique.design.placeholders import fill, placeholders
from applique.design.plain import control_signs, refuse_no_plain
from applique.design.sewn import Method, WhenStitched
from applique.design.shapes import shape_problems, tape_problems
from applique.design.writing import design_adapter
from applique.errors import NOWHERE, Problem, Refusal, Where
from applique.language import message
from applique.naming import file_place, refuse_no_name
from applique.photos import is_plain_name
from applique.units import as_length

__all__ = ["design_from_mapping", "read_design", "read_design_data", "words_of_design"]

_LARGEST_FILE: Final = 1_000_000
_MOST_LETTERS: Final = 10_000
_MOST_DOTS: Final = 100
_MOST_NAMED: Final = 5
_FABRICS: Final = frozenset(
    ["fabric", "fabrics", "corner_fabric", "sashing_fabric", "cornerstone_fabric", "plain_fabric"]
)
"""The keys whose values name fabrics of the design."""
_QUOTED: Final = re.compile(r"\"[^\"]*\"|'[^']*'")


def read_design(path: str | os.PathLike[str]) -> Design:
    """The design that the TOML file at `path` holds, fully validated.

    A font given as a path is taken relative to the folder of the file.

    Raises:
        Refusal: the file cannot be read, is no TOML, is a template for a list of names, or breaks a rule; with every
            problem of it.
    """
    file = Path(path)
    data = read_design_data(file)
    return design_from_mapping(words_of_design(data, where=file_place(file)), base=file.parent)


def words_of_design(data: Mapping[str, Any], *, where: Where = NOWHERE) -> dict[str, Any]:
    """`data`, as a design file holds it, with the words as they will be sewn: doubled braces are single.

    Raises:
        Refusal: words in braces stand for columns of a list, or it is no plain data.
    """
    refuse_no_plain(data)
    asked: dict[str, str] = {}
    for name in placeholders(data):
        asked.setdefault(name.casefold(), short(f"{{{name}}}"))
    if asked:
        shown = [*asked.values()][:_MOST_NAMED] + ["…"] * (len(asked) > _MOST_NAMED)
        raise Refusal(
            Problem(
                kind="is-template",
                what=message("is a template, to be filled from a list: {columns}", columns=", ".join(shown)),
                where=where,
                fix=message(
                    "--each names.csv, with `make` or `check`; {doubled} where braces are to be sewn",
                    doubled=f"{{{shown[0]}}}",
                ),
            )
        )
    return fill(data, {})


def read_design_data(path: Path) -> dict[str, Any]:
    """The tables of the TOML file at `path`, not yet looked into.

    Raises:
        Refusal: the file cannot be read, is no TOML, or no plain data.
    """
    data = _tables(path)
    refuse_no_plain(data)
    return data


def _tables(path: Path) -> dict[str, Any]:
    refuse_no_name(path)
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            raise Refusal(
                Problem(
                    kind="no-design-file",
                    what=message("is no file"),
                    where=file_place(path),
                    fix=message("the name of a design file"),
                )
            )
        if about.st_size > _LARGEST_FILE:
            raise Refusal(
                Problem(
                    kind="design-file-too-large",
                    what=message("the file is too large for a design"),
                    where=file_place(path),
                    fix=message("a design file"),
                )
            )
        text = path.read_bytes().decode("utf-8-sig")
        _refuse_chains(text, path)
        return tomllib.loads(text)
    except OSError as error:
        raise Refusal(
            Problem(
                kind="design-file-unreadable",
                what=message("cannot be read ({reason})", reason=error.strerror or type(error).__name__),
                where=file_place(path),
                fix=message("check the name of the file"),
            )
        ) from None
    except UnicodeDecodeError:
        raise Refusal(
            Problem(
                kind="design-file-not-text",
                what=message("is not plain text"),
                where=file_place(path),
                fix=message("save it as UTF-8 text"),
            )
        ) from None
    except (
        ValueError,
        RecursionError,
    ) as error:  # besides its own error, tomllib lets int() and datetime() speak
        raise Refusal(
            Problem(
                kind="no-toml",
                what=message("is not valid TOML: {reason}", reason=str(error)),
                where=file_place(path),
                fix=message(
                    'words and lengths in quotes: text = "HOME"; `applique new` shows a file that works'
                ),
            )
        ) from None


def _refuse_chains(text: str, path: Path) -> None:
    """Refuse keys of hundreds of parts (a.b.c…), over which the parser takes time that grows with their square."""
    for number, line in enumerate(text.splitlines(), 1):
        if line.count(".") > _MOST_DOTS and _QUOTED.sub("", line).partition("#")[0].count(".") > _MOST_DOTS:
            raise Refusal(
                Problem(
                    kind="key-of-too-many-parts",
                    what=message(
                        "line {number} is not valid TOML for a design: a key of hundreds of parts",
                        number=number,
                    ),
                    where=file_place(path),
                    fix=message('words and lengths in quotes: text = "HOME"'),
                )
            )


def design_from_mapping(data: Mapping[str, Any], *, base: Path | None = None) -> Design:
    """The design that `data`, shaped as the TOML file, describes.

    `base` is the folder that relative font paths start from.

    Raises:
        Refusal: with every problem of the data.
    """
    if not isinstance(data, Mapping):
        raise Refusal(
            Problem(
                kind="design-no-table",
                what=message("a design is a table of settings, and this is {value}", value=as_written(data)),
                fix=message('such as {"row": [{"text": "HOME"}]}'),
            )
        )
    resolved = _with_paths(data, base)
    refuse_no_plain(resolved)
    problems = [*control_signs(data), *_said_twice(data), *_photos_elsewhere(data)]
    design: Design | None = None
    try:
        design = design_adapter().validate_python(resolved)
    except ValidationError as error:
        problems += told(error)
    if not problems and design is not None:
        problems += _cross_problems(design)
    if problems or design is None:
        raise Refusal(problems)
    return design


def _with_paths(data: Mapping[str, Any], base: Path | None) -> dict[str, Any]:
    """`data` with every font that looks like a file, photos, and the picture of a mark, made paths from `base`."""
    resolved = dict(data)
    if base is None:
        return resolved

    def full(file: str) -> str:
        try:
            return str((base / Path(file).expanduser()).absolute())
        except RuntimeError:  # ~ of somebody this machine does not know
            return file

    def settled(table: object) -> object:
        if not isinstance(table, Mapping) or not isinstance(table.get("font"), str):
            return table
        font = table["font"]
        return {**table, "font": full(font)} if is_path(font) else table

    if "lettering" in resolved:
        resolved["lettering"] = settled(resolved["lettering"])
    if isinstance(resolved.get("row"), list):
        resolved["row"] = [settled(row) for row in resolved["row"]]
    if isinstance(resolved.get("block"), list):
        resolved["block"] = [
            {**block, "row": [settled(row) for row in block["row"]]}
            if isinstance(block, Mapping) and isinstance(block.get("row"), list)
            else block
            for block in resolved["block"]
        ]
    if isinstance(resolved.get("fabric"), list):
        resolved["fabric"] = [
            {**fabric, "photo": full(fabric["photo"])}
            if isinstance(fabric, Mapping) and isinstance(fabric.get("photo"), str) and fabric["photo"]
            else fabric
            for fabric in resolved["fabric"]
        ]
    publisher = resolved.get("publisher")
    if (
        isinstance(publisher, Mapping)
        and isinstance(publisher.get("mark_file"), str)
        and publisher["mark_file"]
    ):
        resolved["publisher"] = {**publisher, "mark_file": full(publisher["mark_file"])}
    return resolved


def _photos_elsewhere(data: Mapping[str, Any]) -> Iterable[Problem]:
    """Photos that do not lie beside the design: one from a stranger opens no file of any other folder."""
    fabrics = data.get("fabric")
    for number, fabric in enumerate(fabrics if isinstance(fabrics, list | tuple) else (), 1):
        photo = fabric.get("photo") if isinstance(fabric, Mapping) else None
        if isinstance(photo, str) and photo and not is_plain_name(photo):
            yield Problem(
                kind="photo-not-beside",
                what=message("“{name}” is not the name of a photo beside the design", name=short(photo)),
                where=Where.key("fabric", number, "photo"),
                fix=message(
                    "put the photo into the folder of the design and write its name alone, such as “{name}”",
                    name="birds.jpg",
                ),
            )


def _said_twice(data: Mapping[str, Any]) -> Iterable[Problem]:
    """Settings of which one makes the other void, where both are written."""
    fabrics = data.get("fabric")
    for number, fabric in enumerate(fabrics if isinstance(fabrics, list | tuple) else (), 1):
        if isinstance(fabric, Mapping) and {"usable_width", "sold_width"} <= fabric.keys():
            yield Problem(
                kind="two-widths",
                what=message("both usable_width and sold_width say how wide it is"),
                where=Where.key("fabric", number, "sold_width"),
                fix=message("one of them: usable_width for what you cut from, sold_width as it is sold"),
            )
    yardage = data.get("yardage")
    if (
        isinstance(yardage, Mapping)
        and yardage.get("washed") is False
        and yardage.get("shrinkage_percent") is not None
    ):
        yield Problem(
            kind="unwashed-shrinks",
            what=message("fabric that is not washed does not shrink"),
            where=Where.key("yardage", "shrinkage_percent"),
            fix=message("washed = true, or no shrinkage_percent"),
        )


def _beside_letters_alone(design: Design) -> Iterable[Problem]:
    """What a design asks for that needs a panel, where letters alone are made."""
    if design.panel.trim_after:
        yield Problem(
            kind="trimmed-letters",
            what=message("letters alone have no panel, so none can be trimmed after stitching"),
            where=Where.key("panel", "trim_after"),
            fix=message('no trim_after, or finish = "quilt"'),
        )
    asked = {
        "border": bool(design.border),
        "binding": not design.binding.left_out and design.binding != Binding(),
        "backing": not design.backing.left_out and design.backing != Backing(),
        "batting": not design.batting.left_out and design.batting != Batting(),
        "quilting": bool(design.quilting),
        "hanging": design.hanging != Hanging(),
    }
    for table in (table for table, is_asked in asked.items() if is_asked):
        yield Problem(
            kind="around-letters-alone",
            what=message(
                "letters alone have nothing around them, so [{table}] has no place here", table=table
            ),
            where=Where.key(table),
            fix=message('no {table}, or finish = "quilt"', table=table),
        )


def _cross_problems(design: Design) -> Iterable[Problem]:
    """Problems between parts of a design that each part alone cannot see."""
    names = [fabric.name for fabric in design.fabric]
    for name in sorted({name for name in names if names.count(name) > 1}):
        yield Problem(
            kind="two-fabrics-of-one-name",
            what=message("two fabrics are named “{name}”", name=name),
            where=Where.key("fabric"),
            fix=message("a name of its own for each"),
        )
    for number, fabric in enumerate(design.fabric, 1):
        yield from _nothing_left(design, fabric, number)
        if not (fabric.color or fabric.photo):
            yield Problem(
                kind="setting-missing",
                what=message("{name} is missing", name="color"),
                where=Where.key("fabric", number),
                fix=message("add {name} = …", name="color"),
            )
    if design.finish is not Finish.QUILT and design.stitching.when is WhenStitched.QUILTING:
        yield Problem(
            kind="top-stitched-with-the-quilting",
            what=message("only a whole quilt has quilting to stitch its letters with"),
            where=Where.key("stitching", "when"),
            fix=message('when = "before the borders" or "after the borders", or finish = "quilt"'),
        )
    if design.finish is Finish.GARMENT and design.border:
        yield Problem(
            kind="border-on-a-garment",
            what=message("nothing is sewn around the words on a garment, so it has no borders"),
            where=Where.key("border"),
            fix=message('no [[border]], or finish = "quilt"'),
        )
    for number, row in enumerate(design.row, 1):
        if row.runs_off and not design.cuts_panel:
            yield Problem(
                kind="no-edge-to-run-off",
                what=message("no panel is cut here, so there is no edge that a row could run off"),
                where=Where.key("row", number, "runs_off"),
                fix=message('no runs_off, or finish = "quilt"'),
            )
    if design.finish is Finish.GARMENT and design.panel.trim_after:
        yield Problem(
            kind="trimmed-garment",
            what=message("the panel on a garment is not cut, so it cannot be trimmed after stitching"),
            where=Where.key("panel", "trim_after"),
            fix=message('no trim_after, or finish = "quilt"'),
        )
    if design.finish is Finish.LETTERS:
        yield from _beside_letters_alone(design)
    if design.panel.trim_after and design.stitching.when in (WhenStitched.TOP, WhenStitched.QUILTING):
        yield Problem(
            kind="trim-under-borders",
            what=message("the panel cannot be trimmed after stitching: by then its borders are on"),
            where=Where.key("panel", "trim_after"),
            fix=message('when = "before the borders" in [stitching], or no trim_after'),
        )
    if design.fusible.ring is not None and design.sewing.method is not Method.RAW_EDGE:
        yield Problem(
            kind="ring-not-cut-by-hand",
            what=message("the middle of the web is cut away only for letters that are fused and cut by hand"),
            where=Where.key("fusible", "ring"),
            fix=message('method = "raw edge" in [sewing], or no ring'),
        )
    for number, border in enumerate(design.border, 1):
        if "" in border.fabrics:
            yield Problem(
                kind="fabric-without-name",
                what=message("one of its fabrics has no name"),
                where=Where.key("border", number),
                fix=message("the names of fabrics"),
            )
    for where, name in _fabrics_named(design, NOWHERE):
        if name and name not in names:
            yield Problem(
                kind="no-such-fabric",
                what=message("there is no fabric “{name}”", name=name),
                where=where,
                fix=nearest(name, names)
                if names
                else message("add it: [[fabric]] name = “{name}”", name=name),
            )
    for number, border in enumerate(design.border, 1):
        if border.kind is BorderKind.STRIP and len(border.fabrics) > 1:
            yield Problem(
                kind="strip-of-several-fabrics",
                what=message("a plain strip has one fabric"),
                where=Where.key("border", number),
                fix=message('kind = "rectangles" or "squares" for several'),
            )
    yield from stated_problems(design)
    yield from accepted_problems(design.accepted)
    yield from method_problems(design.sewing)
    if design.publisher.contact_code and not design.publisher.contact.strip():
        yield Problem(
            kind="code-without-contact",
            what=message("there is no contact to put into a code to scan"),
            where=Where.key("publisher", "contact_code"),
            fix=message('contact = "where to reach you", or leave contact_code out'),
        )
    for number, quilting in enumerate(design.quilting, 1):
        if (quilting.repeat_width is None) != (quilting.repeat_thread is None):
            yield Problem(
                kind="half-a-repeat",
                what=message("a repeat needs its width and its thread"),
                where=Where.key("quilting", number),
                fix=message('repeat_width = "12in" and repeat_thread = "4yd", or neither'),
            )
    letters = _letters(design.row) + sum(_letters(block.row) * block.count for block in design.block)
    if letters > _MOST_LETTERS:
        yield Problem(
            kind="too-many-letters",
            what=message(
                "there are {letters} letters; {most} are the most in one quilt",
                letters=letters,
                most=_MOST_LETTERS,
            ),
            fix=message("several quilts, or fewer words"),
        )
    if not design.rows:
        yield no_rows()
    yield from block_problems(design)
    yield from shape_problems(design)
    yield from tape_problems(design)
    places = [Where.in_row(number) for number, _ in enumerate(design.row, 1)]
    places += [
        Where.in_row(number).within(Where.key("block", place))
        for place, block in enumerate(design.block, 1)
        for number, _ in enumerate(block.row, 1)
    ]
    for where, row in zip(places, design.rows, strict=True):
        fits = row.cap_height is None and row.width is None and design.lettering.cap_height == FIT
        if fits and row.baseline is not None:
            yield Problem(
                kind="baseline-without-cap-height",
                what=message("a stated baseline needs a stated cap height"),
                where=where,
                fix=message(
                    "a letter height of its own, such as “{height}”, or one for all rows", height="7in"
                ),
            )
        yield from _width_problems(design, row, where)
        yield from down_problems(design, row, where)
    if design.fusible.width <= 2 * design.fusible.rough_cut:
        yield Problem(
            kind="web-narrower-than-rough-cut",
            what=message("the web is narrower than its rough cut"),
            where=Where.key("fusible"),
            fix=message('width = "17in"'),
        )


def _letters(rows: Iterable[Row]) -> int:
    return sum(not sign.isspace() for row in rows for sign in row.text)


def _width_problems(design: Design, row: Row, where: Where) -> Iterable[Problem]:
    """What a row cannot be beside as wide as it says."""
    if row.width is None:
        return
    if row.cap_height is not None:
        yield Problem(
            kind="width-and-height",
            what=message("a row states its width and its letter height; one follows from the other"),
            where=where,
            fix=message("leave out one of them"),
        )
    if (row.align or design.lettering.align) is Align.SPREAD:
        yield Problem(
            kind="width-of-a-spread-row",
            what=message("a row that is spread from margin to margin has no width of its own"),
            where=where,
            fix=message("a letter height instead of the width, or another align"),
        )


def _nothing_left(design: Design, fabric: Fabric, number: int) -> Iterable[Problem]:
    """What is in the stash and is gone once it is washed and squared up."""
    loss = design.yardage.loss(design.units)
    for held in fabric.have:
        if not held.is_cut_ready and loss.left_of(held.length) <= 0:
            yield Problem(
                kind="stash-gone-in-squaring",
                what=message(
                    "nothing is left of “{held}” when {squaring} is squared off at each end",
                    held=held.words,
                    squaring=as_length(design.yardage.squared_off(design.units), design.units),
                ),
                where=Where.key("fabric", number, "have"),
                fix=message("leave it out, or less squaring in [yardage]"),
            )


def _fabrics_named(table: object, where: Where) -> Iterator[tuple[Where, str]]:
    """Every name of a fabric in a table and in those that it holds, each with its place."""
    for item in fields(table):  # type: ignore[arg-type]
        value, here = getattr(table, item.name), Where.key(item.name).within(where)
        for number, one in enumerate(value if isinstance(value, tuple) else (value,), 1):
            if is_dataclass(one):
                at = Where.key(number).within(here) if isinstance(value, tuple) else here
                yield from _fabrics_named(one, at)
            elif isinstance(one, str) and item.name in _FABRICS:
                yield here, one

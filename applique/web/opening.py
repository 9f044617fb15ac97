"""Designs that come and go as files: the text of one, a zip of one with its photos, fonts and mark, and those alone."""

from __future__ import annotations

import asyncio
import contextlib
import tempfile
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from applique.archives import ArchiveFault, NoGoodArchive, unzipped, zipped
from applique.design import Design, design_data, design_from_mapping
from applique.design.blocks import refuse_blocks
from applique.design.fonts import fonts_named, with_fonts, with_mark
from applique.design.lines import line_of
from applique.design.reading import words_of_design
from applique.errors import NOWHERE, Problem, Refusal, Where
from applique.language import Speech, message
from applique.photos import Photo, read_photo
from applique.publishing import read_mark
from applique.reports import design_toml
from applique.web.answering import download, file_stem, tab_asking, title_of
from applique.web.bench import Bench, Message
from applique.web.bodies import read_body, read_object
from applique.web.findings import refusal_views
from applique.web.speaking import speech_of
from applique.web.tabs import Tab, Tabs
from applique.web.tasks import FontTask

__all__ = ["OpeningAnswers", "take_font", "take_mark", "take_photo"]

_LARGEST_ZIP: Final = 200_000_000
_MOST_UNPACKED: Final = 400_000_000
_MOST_FILES: Final = 200
_LARGEST_DESIGN: Final = 1_000_000


async def take_font(tab: Tab, bench: Bench, name: str, content: bytes, speech: Speech) -> tuple[str, object]:
    """Keep a font file for a page, after it was tried out in a process apart: its name there, and what it is.

    Raises:
        Refusal: it is no font that can be read, or the page holds as many as it takes.
    """
    path = tab.font_path(name)
    path.write_bytes(content)
    end: Message = ("failed", "")
    async with contextlib.aclosing(bench.run(FontTask(path=path, language=speech.tag))) as messages:
        async for told in messages:
            end = told
    if end[0] != "done":
        path.unlink(missing_ok=True)
        damaged = Problem(
            kind="font-unreadable",
            what=message("is no font that can be read"),
            where=Where(file=path.name),
            fix=message("the file again from where it came"),
        )
        raise Refusal(end[1] if end[0] == "refused" else damaged)
    tab.fonts[path.name] = path
    return path.name, end[1]


async def take_mark(tab: Tab, name: str, content: bytes) -> str:
    """Keep the picture of a mark for a page: its name there.

    Raises:
        Refusal: it is no picture that can be read, or the page holds as many as it takes.
    """
    path = tab.mark_path(name)
    path.write_bytes(content)
    try:
        await asyncio.to_thread(read_mark, str(path))
    except Refusal:
        path.unlink(missing_ok=True)
        raise
    tab.marks[path.name] = path
    return path.name


async def take_photo(tab: Tab, name: str, content: bytes) -> tuple[str, Photo]:
    """Keep the photo of a fabric for a page, made ready: its name there, and the photo.

    Raises:
        Refusal: it is no photo that can be read, or the page holds as many as it takes.
    """
    plain = tab.photo_name(name)
    with tempfile.TemporaryDirectory(
        dir=tab.folder
    ) as aside:  # there it has the name that its maker knows it by
        path = Path(aside) / plain
        path.write_bytes(content)
        photo = await asyncio.to_thread(read_photo, str(path))
    kept = tab.keep_photo(photo)
    await asyncio.to_thread(read_photo, str(tab.photos[kept]))  # so that the drawing need not wait for it
    return kept, photo


class OpeningAnswers:
    """What is answered about designs as files."""

    def __init__(self, *, tabs: Tabs, bench: Bench) -> None:
        self._tabs = tabs
        self._bench = bench
        self.routes = [
            Route("/read", self.read, methods=["POST"]),
            Route("/write", self.write, methods=["POST"]),
            Route("/save", self.save, methods=["POST"]),
            Route("/open", self.open, methods=["POST"]),
        ]

    async def read(self, request: Request) -> Response:
        """The design that a TOML text holds, its photos named as this page has them; fonts and photos may still have to
        be added. What is refused has its line."""
        tab, asked = tab_asking(self._tabs, request), await read_object(request)
        photos = asked.get("photos")
        return _read(
            tab, str(asked.get("text", "")), photos if isinstance(photos, dict) else {}, speech_of(request)
        )

    async def write(self, request: Request) -> Response:
        """A design as the text of its file."""
        tab = tab_asking(self._tabs, request)
        design = design_from_mapping(await read_object(request))
        text = design_toml(design, tab.own_fonts(design), {}).decode("utf-8")
        return JSONResponse({"text": text, "name": file_stem(title_of(design))})

    async def save(self, request: Request) -> Response:
        """A design with its photos, fonts and mark, to lie in one folder, as a zip."""
        tab = tab_asking(self._tabs, request)
        design = tab.checked(await read_object(request))
        stem, fonts = file_stem(title_of(design)), tab.own_fonts(design)
        files = {f"{stem}.toml": design_toml(design, fonts, {})}
        files |= {font.name: tab.fonts[font.font].read_bytes() for font in fonts}
        files |= {
            fabric.photo: tab.photos[fabric.photo].read_bytes() for fabric in design.fabric if fabric.photo
        }
        mark = design.publisher.mark_file
        if mark:
            files[mark] = tab.marks[mark].read_bytes()
        return download(zipped(stem, files), f"{stem}.zip", "application/zip")

    async def open(self, request: Request) -> Response:
        """The design of a zip that `save` gave, its photos, fonts and mark kept for this page."""
        tab, speech = tab_asking(self._tabs, request), speech_of(request)
        content = await read_body(request, most=_LARGEST_ZIP)
        files = await asyncio.to_thread(_files_in, content)
        text = _text_in(files)
        kept: dict[str, str] = {}
        for name in _named_in(text):
            if name not in files:
                continue
            ending = name.rpartition(".")[2].lower()
            if ending in ("ttf", "otf", "ttc", "woff", "woff2"):
                kept[name], _ = await take_font(tab, self._bench, name, files[name], speech)
            elif name == _mark_in(text):
                kept[name] = await take_mark(tab, name, files[name])
            else:
                kept[name], _ = await take_photo(tab, name, files[name])
        return _read(tab, text, kept, speech)


def _files_in(content: bytes) -> dict[str, bytes]:
    """The files of a zip by their plain names.

    Raises:
        Refusal: it is not read, and why.
    """
    try:
        files = unzipped(content, most_files=_MOST_FILES, most_bytes=_MOST_UNPACKED)
    except NoGoodArchive as error:
        where = Where(file=error.name[:80]) if error.name else NOWHERE
        raise Refusal(_problem_of(error.fault, where)) from None
    return {name.rsplit("/", 1)[-1]: data for name, data in files.items()}


def _problem_of(fault: ArchiveFault, where: Where) -> Problem:
    match fault:
        case ArchiveFault.DAMAGED:
            return Problem(
                kind="zip-damaged",
                what=message("is no zip that can be read"),
                where=where,
                fix=message("the zip that “Save” made, once more"),
            )
        case ArchiveFault.LEADS_OUT:
            return Problem(
                kind="zip-leads-out",
                what=message("holds a file that leads out of its folder"),
                where=where,
                fix=message("the zip that “Save” made; this one was made by something else"),
            )
        case ArchiveFault.TOO_LARGE:
            return Problem(
                kind="zip-too-large",
                what=message("holds more than a design with its photos and fonts"),
                where=where,
                fix=message("the zip that “Save” made"),
            )


def _text_in(files: Mapping[str, bytes]) -> str:
    """The design file among them.

    Raises:
        Refusal: there is none, or there are several, or it is no text.
    """
    designs = [data for name, data in files.items() if name.lower().endswith(".toml")]
    if len(designs) != 1 or len(designs[0]) > _LARGEST_DESIGN:
        raise Refusal(
            Problem(
                kind="zip-without-design",
                what=message("the zip holds no design file, or several"),
                fix=message("the zip that “Save” made, or the .toml file alone"),
            )
        )
    return designs[0].decode("utf-8", errors="replace")


def _named_in(text: str) -> list[str]:
    """The files that a design names, by their plain names, each once; none where the text is no design."""
    design = _design_in(text)
    if design is None:
        return []
    named = (*fonts_named(design), *(fabric.photo for fabric in design.fabric), design.publisher.mark_file)
    return list(dict.fromkeys(file.rsplit("/", 1)[-1] for file in named if file))


def _mark_in(text: str) -> str:
    design = _design_in(text)
    return "" if design is None else design.publisher.mark_file.rsplit("/", 1)[-1]


def _design_in(text: str) -> Design | None:
    try:
        return design_from_mapping(words_of_design(tomllib.loads(text.removeprefix("\ufeff"))))
    except (tomllib.TOMLDecodeError, RecursionError, Refusal):
        return None


def _read(tab: Tab, text: str, kept: Mapping[str, Any], speech: Speech) -> Response:
    """The design that a TOML text holds, its files named as `kept` has them on this page."""
    text = text.removeprefix("\ufeff")
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise Refusal(
            Problem(
                kind="text-no-toml",
                what=message("this is not valid TOML: {reason}", reason=str(error)),
                fix=message('words and lengths in quotes: text = "HOME"'),
            )
        ) from None
    try:
        design = tab.opened(refuse_blocks(design_from_mapping(_with_photos(words_of_design(data), kept))))
    except Refusal as refusal:
        problems = refusal_views(refusal.problems, speech)
        lines = [_line(text, problem) for problem in refusal.problems]
        said = [{**one, "line": line} for one, line in zip(problems, lines, strict=True)]
        return JSONResponse({"problems": said}, status_code=422)
    design = with_fonts(design, lambda font: kept.get(font, font))
    return JSONResponse({"design": design_data(with_mark(design, lambda file: kept.get(file, file)))})


def _with_photos(data: dict[str, Any], names: Mapping[str, Any]) -> dict[str, Any]:
    """Design data whose photos have other names."""
    fabrics = data.get("fabric")
    if not isinstance(fabrics, list):
        return data
    named = [
        {**fabric, "photo": names.get(fabric["photo"], fabric["photo"])}
        if isinstance(fabric, dict) and isinstance(fabric.get("photo"), str)
        else fabric
        for fabric in fabrics
    ]
    return {**data, "fabric": named}


def _line(text: str, problem: Problem) -> int | None:
    """The line of `text` that the problem is about; a key that there is not is named by the problem alone."""
    name = dict(problem.what.fields).get("name")
    return line_of(text, (*problem.where.path, name) if isinstance(name, str) else problem.where.path)

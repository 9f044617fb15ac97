"""What the server keeps for each open page: the files it was given, its newest sketch and the folder it made."""

from __future__ import annotations

import json
import re
import secrets
import shutil
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final

from applique.design import Design, design_from_mapping
from applique.design.blocks import refuse_blocks
from applique.design.fonts import fonts_named, is_path, with_fonts, with_mark, with_photos
from applique.errors import Problem, Refusal, Where
from applique.kept import History
from applique.language import message
from applique.nesting import NESTS_FILE, written_nests
from applique.pattern import Sketch
from applique.photos import ENDINGS, Photo
from applique.typeset.own import OwnFont, own_fonts
from applique.web.zips import NamesZip

__all__ = ["Made", "Tab", "Tabs", "tab_beside"]

_MOST_FONTS: Final = 20
_MOST_MARKS: Final = 20
_MOST_PHOTOS: Final = 60
_MOST_TABS: Final = 200
_MOST_LETTERS: Final = 3_000
"""Letters that a page still draws while one types; the command line takes more."""
_FONT_ENDINGS: Final = ("ttf", "otf", "ttc", "woff", "woff2")
_MARK_ENDINGS: Final = ("png", "svg")
_FILE_NAME: Final = re.compile(r"[^\w \-]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A finished folder: what to call it, its files by their names in it, and whether it is for the maker herself."""

    stem: str
    files: Mapping[str, bytes]
    is_makers: bool


@dataclass(slots=True, kw_only=True)
class Tab:
    """One open page. `fonts` are its own font files, by the name a design calls them, in its own `folder`; `marks` the
    pictures that publish it, `photos` those of fabrics, made ready.

    `quilt` is the key of the kept quilt that it shows, empty while it has none.

    `drawn` is the newest design that could be drawn, with its sketch, until the page closes.
    """

    key: str
    folder: Path
    quilt: str = ""
    fonts: dict[str, Path] = field(default_factory=dict)
    marks: dict[str, Path] = field(default_factory=dict)
    photos: dict[str, Path] = field(default_factory=dict)
    made: dict[str, Made] = field(default_factory=dict)
    names: dict[str, NamesZip] = field(default_factory=dict)
    drawn: tuple[Design, Sketch] | None = None

    def keep_made(self, made: Made) -> str:
        """Keep a finished pattern under a new key; the one before it goes."""
        key = secrets.token_urlsafe(12)
        self.made = {key: made}
        return key

    def keep_names(self, key: str, kept: NamesZip) -> None:
        """Keep what is made of a list of names; that of the list before it goes."""
        for former in self.names.values():
            former.path.unlink(missing_ok=True)
        self.names = {key: kept}

    def start(self, design: Design) -> Design | Sketch:
        """What a pattern of `design` starts from: the newest sketch where that is of this very design, or the design.

        The sketch was made of `with_paths(design)`; it goes on under the names that `design` has for its fonts.
        """
        if self.drawn is None or self.drawn[0] != design:
            return design
        sketch = self.drawn[1]
        return replace(sketch, placed=replace(sketch.placed, design=design))

    def font_path(self, file_name: str) -> Path:
        """Where a new font file goes: a plain name made from `file_name`, in the folder of this tab and never outside.

        Raises:
            Refusal: the page holds as many fonts as it takes, or the name has no ending of a font.
        """
        stem, _, ending = file_name.replace("\\", "/").rsplit("/", 1)[-1].rpartition(".")
        if ending.lower() not in _FONT_ENDINGS:
            raise Refusal(
                Problem(
                    kind="no-font-file",
                    what=message("“{name}” is no font file", name=file_name[:80]),
                    fix=message("a file that ends in .ttf, .otf or .woff2"),
                )
            )
        if len(self.fonts) >= _MOST_FONTS:
            raise Refusal(
                Problem(
                    kind="too-many-fonts",
                    what=message("the page holds {number} fonts already", number=_MOST_FONTS),
                    fix=message("open the page anew"),
                )
            )
        return self._free_path(stem, ending)

    def mark_path(self, file_name: str) -> Path:
        """Where the picture of a mark goes: a plain name made from `file_name`, in the folder of this tab.

        Raises:
            Refusal: the page holds as many pictures as it takes, or the name has no ending of a PNG or SVG.
        """
        stem, _, ending = file_name.replace("\\", "/").rsplit("/", 1)[-1].rpartition(".")
        if ending.lower() not in _MARK_ENDINGS:
            raise Refusal(
                Problem(
                    kind="mark-no-picture",
                    what=message("{name} is neither a PNG nor an SVG picture", name=file_name[:80]),
                    fix=message("a picture saved as .png or .svg"),
                )
            )
        if len(self.marks) >= _MOST_MARKS:
            raise Refusal(
                Problem(
                    kind="too-many-marks",
                    what=message("the page holds {number} pictures already", number=_MOST_MARKS),
                    fix=message("open the page anew"),
                )
            )
        return self._free_path(stem, ending)

    def photo_name(self, file_name: str) -> str:
        """What the photo of a fabric is called until it is kept: a plain name made from `file_name`.

        Raises:
            Refusal: the page holds as many photos as it takes, or the name has no ending of a JPEG, PNG or WebP.
        """
        stem, _, ending = file_name.replace("\\", "/").rsplit("/", 1)[-1].rpartition(".")
        if ending.lower() not in ENDINGS:
            raise Refusal(
                Problem(
                    kind="photo-no-picture",
                    what=message("{name} is no JPEG, PNG or WebP picture", name=file_name[:80]),
                    fix=message("a photo saved as .jpg or .png"),
                )
            )
        if len(self.photos) >= _MOST_PHOTOS:
            raise Refusal(
                Problem(
                    kind="too-many-photos",
                    what=message("the page holds {number} photos already", number=_MOST_PHOTOS),
                    fix=message("open the page anew"),
                )
            )
        return f"{_plain_stem(stem)}.{ending.lower()}"

    def keep_photo(self, photo: Photo) -> str:
        """Keep `photo` in the folder of this tab; the name it has here, which is that of the same photo kept before."""
        for name, path in self.photos.items():
            if path.read_bytes() == photo.data:
                return name
        stem, _, ending = photo.name.rpartition(".")
        path = self._free_path(stem, ending)
        path.write_bytes(photo.data)
        self.photos[path.name] = path
        return path.name

    def _free_path(self, stem: str, ending: str) -> Path:
        """A plain file name made from `stem`, in the folder of this tab, that no file of it has, however written."""
        taken = {name.casefold() for name in (*self.fonts, *self.marks, *self.photos)}
        plain = _plain_stem(stem)
        name, count = f"{plain}.{ending.lower()}", 1
        while name.casefold() in taken:
            count += 1
            name = f"{plain} {count}.{ending.lower()}"
        return self.folder / name

    def show(self, quilt: str, files: Mapping[str, bytes]) -> None:
        """This page shows the kept quilt of that key, with what is beside it, and nothing of a former one."""
        if self.quilt not in ("", quilt):
            self.fonts, self.marks, self.photos, self.drawn = {}, {}, {}, None
        self.quilt = quilt
        here = {**self.fonts, **self.marks, **self.photos}
        for name, content in files.items():
            kinds = self.kinds_of(name)
            if not kinds or name in here:
                continue
            path = self.folder / quilt / name
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(content)
            for kind in kinds:
                kind[name] = path

    def kinds_of(self, name: str) -> list[dict[str, Path]]:
        """What a file of that name, kept beside a quilt, may be here; a PNG both a mark and a photo."""
        ending = name.rpartition(".")[2]
        kinds = ((self.fonts, _FONT_ENDINGS), (self.marks, _MARK_ENDINGS), (self.photos, ENDINGS))
        return [kind for kind, endings in kinds if ending in endings]

    def files_named(self, history: History) -> dict[str, Path]:
        """The fonts, marks and photos of this page that a design or a step of its undo names."""
        said = [json.dumps(history.design, ensure_ascii=False), *history.done, *history.undone]
        return {
            name: path
            for name, path in {**self.fonts, **self.marks, **self.photos}.items()
            if any(json.dumps(name, ensure_ascii=False) in one for one in said)
        }

    def checked(self, data: Mapping[str, Any]) -> Design:
        """The design that `data` describes, its fonts bundled ones or this tab's own and nothing else.

        Raises:
            Refusal: with every problem of the data, and for a font, a mark or a photo that was not added to this page.
        """
        design = refuse_blocks(design_from_mapping(data))
        letters = sum(len(row.text) for row in design.rows)
        if letters > _MOST_LETTERS:
            raise Refusal(
                Problem(
                    kind="too-many-letters-for-page",
                    what=message("{letters} letters are more than the page draws", letters=letters),
                    fix=message("at most {most} here; `applique make` takes more", most=_MOST_LETTERS),
                )
            )
        named = [(Where.key("lettering", "font"), design.lettering.font)]
        named += [(Where.in_row(number, "font"), row.font or "") for number, row in enumerate(design.row, 1)]
        problems = tuple(
            Problem(
                kind="font-not-on-page",
                what=message("the font file “{name}” is not on this page", name=font[:80]),
                where=where,
                fix=message("add the file under “A font of your own”, or choose another font"),
            )
            for where, font in named
            if font not in self.fonts and any(sign in font for sign in "/\\.")
        )
        problems += tuple(
            Problem(
                kind="photo-not-on-page",
                what=message("the photo “{name}” is not on this page", name=fabric.photo[:80]),
                where=Where.key("fabric", number, "photo"),
                fix=message("choose the photo again under “Fabrics”, or open it together with the design"),
            )
            for number, fabric in enumerate(design.fabric, 1)
            if fabric.photo and fabric.photo not in self.photos
        )
        mark = design.publisher.mark_file
        if mark and mark not in self.marks:
            problems += (
                Problem(
                    kind="mark-not-on-page",
                    what=message("the picture “{name}” is not on this page", name=mark[:80]),
                    where=Where.key("publisher", "mark_file"),
                    fix=message("choose the file again under “If you publish it”, or leave it out"),
                ),
            )
        if problems:
            raise Refusal(problems)
        return design

    def opened(self, design: Design) -> Design:
        """`design` as a page opens it: files that it names by a path have the plain names that they get when they are
        added to this page. Two files of one name keep their paths, or one would stand for the other."""
        paths = [font for font in fonts_named(design) if is_path(font)]
        names = {path: _plain_name(path) for path in paths}
        if len(set(names.values())) < len(names):
            names = {}
        named = with_fonts(design, lambda font: names.get(font, font))
        return with_mark(named, _plain_name)

    def with_paths(self, design: Design) -> Design:
        """`design` with the names of this tab's files made paths, for the rooms that open them."""
        named = with_fonts(design, lambda font: str(self.fonts.get(font, font)))
        named = with_photos(named, lambda photo: str(self.photos.get(photo, photo)))
        return with_mark(named, lambda file: str(self.marks.get(file, file)))

    def own_fonts(self, design: Design) -> tuple[OwnFont, ...]:
        """The files of this tab that `design` names, by the names it has for them."""
        named = [font for font in fonts_named(design) if font in self.fonts]
        files = own_fonts(str(self.fonts[font]) for font in named)
        return tuple(replace(file, font=font) for font, file in zip(named, files, strict=True))

    def with_names(self, data: Mapping[str, Any]) -> dict[str, Any]:
        """Design data with the paths of `with_paths` made names again."""
        names = {str(path): name for name, path in self.fonts.items()}

        def named(table: Mapping[str, Any]) -> dict[str, Any]:
            return (
                {**table, "font": names.get(table["font"], table["font"])} if "font" in table else dict(table)
            )

        marks = {str(path): name for name, path in self.marks.items()}
        photos = {str(path): name for name, path in self.photos.items()}
        fabrics = [
            {**fabric, "photo": photos.get(fabric["photo"], fabric["photo"])} if "photo" in fabric else fabric
            for fabric in data.get("fabric", ())
        ]
        publisher = dict(data.get("publisher", {}))
        if "mark_file" in publisher:
            publisher["mark_file"] = marks.get(publisher["mark_file"], publisher["mark_file"])
        return {
            **data,
            **({"publisher": publisher} if publisher else {}),
            **({"fabric": fabrics} if fabrics else {}),
            **({"lettering": named(data["lettering"])} if "lettering" in data else {}),
            "row": [named(row) for row in data["row"]],
        }


def _plain_stem(stem: str) -> str:
    return _FILE_NAME.sub("", stem).strip()[:60] or "file"


def _plain_name(path: str) -> str:
    stem, _, ending = path.replace("\\", "/").rsplit("/", 1)[-1].rpartition(".")
    return f"{_plain_stem(stem)}.{ending.lower()}"


def tab_beside(files: Mapping[str, Path]) -> Tab:
    """A page that nobody has open, for what is drawn of a kept quilt: its files where they are kept."""
    tab = Tab(key="", folder=Path())
    for name, path in files.items():
        for kind in tab.kinds_of(name):
            kind[name] = path
    return tab


class Tabs:
    """The open pages by their keys; the oldest are forgotten when there are too many."""

    def __init__(
        self,
        folder: Path,
        *,
        fonts: Mapping[str, Path],
        nests: Mapping[str, str],
        marks: Mapping[str, Path],
        photos: Mapping[str, bytes],
    ) -> None:
        self._folder = folder
        self._fonts = dict(fonts)
        self._marks = dict(marks)
        self._photos = dict(photos)
        self._nests = dict(nests)
        self._tabs: dict[str, Tab] = {}

    def new(self) -> Tab:
        """A new page, with the fonts, mark, photos and nests of the design that the server was started with."""
        key = secrets.token_urlsafe(12)
        folder = self._folder / key
        folder.mkdir(mode=0o700, parents=True)
        fonts = {name: Path(shutil.copyfile(path, folder / name)) for name, path in self._fonts.items()}
        marks = {name: Path(shutil.copyfile(path, folder / name)) for name, path in self._marks.items()}
        if self._nests:
            (folder / NESTS_FILE).write_text(written_nests(self._nests), encoding="ascii")
        photos = {name: folder / name for name in self._photos}
        for name, path in photos.items():
            path.write_bytes(self._photos[name])
        tab = Tab(key=key, folder=folder, fonts=fonts, marks=marks, photos=photos)
        self._tabs[key] = tab
        for old in list(self._tabs)[:-_MOST_TABS]:
            shutil.rmtree(self._tabs.pop(old).folder, ignore_errors=True)
        return tab

    def get(self, key: str) -> Tab | None:
        """The page of that key, if there is one."""
        return self._tabs.get(key)

"""The chest of quilts: a folder of the user's own with a folder for each quilt in it.

A quilt's folder holds `design.toml`, `history.json`, a picture of it, and the fonts, marks and photos that it uses. A
history is written before its design file, each of them whole or not at all; `Written` tells them apart after a kill.
"""

from __future__ import annotations

import json
import os
import re
import secrets
import sys
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import platformdirs

from applique.errors import Problem, Refusal, Where
from applique.kept.history import (
    DESIGN_FILE,
    HISTORY_FILE,
    LARGEST_HISTORY,
    ChangedElsewhere,
    History,
    Written,
    damaged,
    design_file,
    design_in,
    digest,
    read_written,
)
from applique.kept.reading import is_own_folder, plain_file
from applique.language import message
from applique.swapping import replace_file, replace_folder

__all__ = ["LARGEST_BESIDE", "Chest", "ListedQuilt", "data_folder"]

fcntl: Any
if sys.platform == "win32":
    fcntl = None
else:
    import fcntl

LARGEST_BESIDE: Final = 40_000_000
"""Bytes of the largest font or photo."""
_LARGEST_DESIGN: Final = 1_000_000
_LARGEST_PICTURE: Final = 20_000_000
_MOST_BESIDE: Final = 80
_MOST_LISTED: Final = 500
_TRASH: Final = "trash"
_LOCK: Final = ".lock"
_KEY: Final = re.compile(r"[a-z0-9]{16}")
_REMOVED: Final = re.compile(r"[a-z0-9]{16}(?:-[0-9]{1,6})?")
"""What the folder of a quilt is called, and what it may be called in the trash."""
_BESIDE: Final = re.compile(r"[\w][\w \-]{0,79}\.(?:ttf|otf|ttc|woff2?|svg|png|jpe?g|webp)")


def data_folder() -> Path | None:
    """Where this system has what programs keep for a user; None where nobody's home is known."""
    try:
        folder = platformdirs.user_data_path("applique", appauthor=False)
    except RuntimeError:
        return None
    return folder if folder.is_absolute() else None


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedQuilt:
    """A quilt of the chest: its title or words, seconds since 1970 of its last change, what is wrong with it."""

    key: str
    title: str
    changed: float
    problems: tuple[Problem, ...] = ()


class Chest:
    """Kept quilts by their keys. Without a folder it is empty, and says so when something is to be kept."""

    def __init__(self, folder: Path | None, *, named: re.Pattern[str] = _KEY) -> None:
        self.folder = folder
        self._named = named
        self._writing = threading.Lock()

    @property
    def trash(self) -> Chest:
        """The quilts that were removed, each by the name of its folder there, to be looked at."""
        return Chest(None if self.folder is None else self.folder / _TRASH, named=_REMOVED)

    def listed(self) -> tuple[ListedQuilt, ...]:
        """Every quilt, the newest first; one that cannot be read stands among them with what is wrong."""
        if self.folder is None or not self.folder.is_dir():
            return ()
        found = [
            (path.name, _changed(path))
            for path in self.folder.iterdir()
            if self._named.fullmatch(path.name) and is_own_folder(path)
        ]
        newest = sorted(found, key=lambda one: (-one[1], one[0]))[:_MOST_LISTED]
        return tuple(self._listed(key, changed) for key, changed in newest)

    def _listed(self, key: str, changed: float) -> ListedQuilt:
        try:
            design = self.read(key)[1].design
        except Refusal as refusal:
            return ListedQuilt(key=key, title="", changed=changed, problems=refusal.problems)
        title = design.get("title")
        words = " ".join(row["text"].strip() for row in design["row"]).strip()
        return ListedQuilt(
            key=key, title=title if isinstance(title, str) and title else words, changed=changed
        )

    def has(self, key: str) -> bool:
        """Whether a quilt is kept under `key`."""
        return (
            self.folder is not None and bool(self._named.fullmatch(key)) and is_own_folder(self.folder / key)
        )

    def read(self, key: str) -> tuple[int, History]:
        """The newest revision of a quilt, and its number.

        A design file that was changed by hand is the newest revision, and the design before it the last step of undo.

        Raises:
            Refusal: there is none, or it is damaged, or of a newer format.
        """
        written = self._read(key)
        return written.revision, written.history

    def _read(self, key: str) -> Written:
        folder = self._place(key)
        if not is_own_folder(folder):
            raise _no_such_quilt()
        with _said(folder):
            written = read_written(
                plain_file(folder / HISTORY_FILE, most=LARGEST_HISTORY), folder=str(folder)
            )
            content = plain_file(folder / DESIGN_FILE, most=_LARGEST_DESIGN)
        if content is None or digest(content) in (written.design_file, written.file_before):
            return written
        design = design_in(content)
        if design is None:
            raise damaged(DESIGN_FILE, str(folder))
        return Written(
            revision=written.revision + 1,
            history=History(design=design, done=(*written.history.done, json.dumps(written.history.design))),
            design_file=digest(content),
            file_before=digest(content),
        )

    def write(self, key: str, history: History, *, rests_on: int, beside: Mapping[str, Path]) -> int:
        """Keep a new revision, which was made from number `rests_on` (0: of none); returns its number.

        `beside` are the files that it uses and that are not kept yet, by their names. What is there already is not
        written again, and its number is returned: an answer may have been lost.

        Raises:
            ChangedElsewhere: `rests_on` is not the newest revision.
            Refusal: it cannot be kept; what was there is untouched.
        """
        folder = self._place(key)
        content = design_file(history.design)
        with _said(folder), self._held():
            known = self._read(key) if is_own_folder(folder) else None
            revision = 0 if known is None else known.revision
            if known is not None and known.history == history:
                self._put(folder, beside)
                return revision
            if revision != rests_on:
                raise ChangedElsewhere(revision)
            written = Written(
                revision=revision + 1,
                history=history,
                design_file=digest(content),
                file_before=digest(plain_file(folder / DESIGN_FILE, most=_LARGEST_DESIGN) or b""),
            )
            text = written.as_bytes()
            if len(text) > LARGEST_HISTORY or len(content) > _LARGEST_DESIGN:
                raise _too_large()
            if known is None:
                files = {name: path.read_bytes() for name, path in beside.items() if _BESIDE.fullmatch(name)}
                replace_folder(folder, {HISTORY_FILE: text, DESIGN_FILE: content, **files})
            else:
                for left in folder.glob(".*.new"):  # by a run that was killed: nobody else writes now
                    left.unlink(missing_ok=True)
                self._put(folder, beside)
                replace_file(folder / HISTORY_FILE, text)
                replace_file(folder / DESIGN_FILE, content)
            return written.revision

    def _put(self, folder: Path, beside: Mapping[str, Path]) -> None:
        for name, path in beside.items():
            if _BESIDE.fullmatch(name) and not (folder / name).exists():
                replace_file(folder / name, path.read_bytes())

    def remove(self, key: str) -> Path:
        """Put a quilt into the trash, a folder of the chest from where it can be brought back; returns its place there.

        Raises:
            Refusal: there is none, or it cannot be moved.
        """
        folder = self._place(key)
        if not is_own_folder(folder):
            raise _no_such_quilt()
        with _said(folder), self._held():
            (folder.parent / _TRASH).mkdir(mode=0o700, exist_ok=True)
            place, count = folder.parent / _TRASH / key, 1
            while place.exists():
                count += 1
                place = folder.parent / _TRASH / f"{key}-{count}"
            return folder.rename(place)

    def bring_back(self, name: str) -> str:
        """Take a quilt out of the trash, by the name of its folder there; returns its key, a new one where it is taken.

        Raises:
            Refusal: there is none, or it cannot be moved.
        """
        folder = self.trash._place(name)
        if not is_own_folder(folder):
            raise _no_such_quilt()
        key = name.partition("-")[0]
        with _said(folder), self._held():
            while self._place(key).exists():
                key = secrets.token_hex(8)
            folder.rename(self._place(key))
        return key

    def beside(self, key: str) -> dict[str, Path]:
        """The fonts, marks and photos of a quilt, by their names.

        Raises:
            Refusal: there is no such quilt.
        """
        folder = self._place(key)
        if not is_own_folder(folder):
            raise _no_such_quilt()
        return {
            path.name: path
            for path in sorted(folder.iterdir())
            if _BESIDE.fullmatch(path.name) and path.is_file() and not path.is_symlink()
        }

    def file(self, key: str, name: str) -> bytes | None:
        """The bytes of a file beside a quilt; None where it has none of that name.

        Raises:
            Refusal: there is no such quilt, or the disk cannot read it.
        """
        folder = self._place(key)
        if not is_own_folder(folder):
            raise _no_such_quilt()
        if not _BESIDE.fullmatch(name):
            return None
        with _said(folder):
            return plain_file(folder / name, most=LARGEST_BESIDE)

    def put_file(self, key: str, name: str, content: bytes) -> None:
        """Keep a file beside a quilt, over one of the same name.

        Raises:
            Refusal: the name is none of a font, a mark or a photo, there are too many, or it cannot be written.
        """
        if not _BESIDE.fullmatch(name):
            raise Refusal(
                Problem(
                    kind="no-name-beside-quilt",
                    what=message("“{name}” is no name of a font or picture", name=name[:80]),
                    fix=message("letters, figures, spaces and hyphens, and an ending such as .jpg or .ttf"),
                )
            )
        there = self.beside(key)
        if name not in there and len(there) >= _MOST_BESIDE:
            raise Refusal(
                Problem(
                    kind="too-many-beside-quilt",
                    what=message("this quilt keeps {number} files already", number=_MOST_BESIDE),
                    fix=message("fewer fonts and photos"),
                )
            )
        folder = self._place(key)
        with _said(folder), self._held():
            replace_file(folder / name, content)

    def picture(self, key: str, draw: Callable[[Mapping[str, Any]], bytes]) -> bytes:
        """A small picture (SVG) of the newest revision; `draw` makes it of plain design data where none is kept yet.

        Raises:
            Refusal: there is no such quilt, or it cannot be drawn.
        """
        written = self._read(key)
        folder = self._place(key)
        path = folder / f".preview-{written.design_file[:16]}.svg"
        with _said(folder):
            kept = plain_file(path, most=_LARGEST_PICTURE)
            if kept is not None:
                return kept
            design = written.history.design
            drawn = draw({**design, "row": [row for row in design["row"] if row["text"].strip()]})
            with self._held():
                for old in folder.glob(".preview-*.svg"):
                    old.unlink(missing_ok=True)
                replace_file(path, drawn)
            return drawn

    def _place(self, key: str) -> Path:
        """The folder of a key; none other than a plain key has one."""
        if self.folder is None:
            raise Refusal(
                Problem(
                    kind="nowhere-to-keep",
                    what=message("there is no folder on this machine to keep quilts in"),
                    fix=message("save the design as a file"),
                )
            )
        if not self._named.fullmatch(key):
            raise _no_such_quilt()
        return self.folder / key

    @contextmanager
    def _held(self) -> Iterator[None]:
        """One writer at a time, in this process and in others; nobody holds it longer than one writing takes."""
        assert self.folder is not None
        with self._writing:
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            if fcntl is None:
                yield
                return
            handle = os.open(
                self.folder / _LOCK, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW | os.O_CLOEXEC, 0o600
            )
            try:
                fcntl.flock(handle, fcntl.LOCK_EX)
                yield
            finally:
                os.close(handle)


def _changed(folder: Path) -> float:
    with suppress(OSError):
        return (folder / HISTORY_FILE).lstat().st_mtime
    return 0.0


@contextmanager
def _said(folder: Path) -> Iterator[None]:
    """What the disk refuses, said in words."""
    try:
        yield
    except OSError as error:
        raise Refusal(
            Problem(
                kind="chest-unusable",
                what=message("the disk said: {reason}", reason=error.strerror or type(error).__name__),
                where=Where(file=str(folder)),
                fix=message("save the design as a file, and look whether the disk is full"),
            )
        ) from None


def _no_such_quilt() -> Refusal:
    return Refusal(
        Problem(
            kind="no-such-quilt",
            what=message("no quilt is kept here by that name"),
            fix=message("choose one from your quilts"),
        )
    )


def _too_large() -> Refusal:
    return Refusal(
        Problem(
            kind="quilt-too-large",
            what=message("this quilt is too large to be kept"),
            fix=message("save the design as a file"),
        )
    )

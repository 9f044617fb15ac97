"""The record of a finished folder: which files the program made, with their digests, and so what it may replace.

It is a text in the form of `sha256sum`, so that whoever gets the folder can check it with that, and ends with the
digest of its own lines: a record that somebody changed is none.
"""

from __future__ import annotations

import hashlib
import os
import re
import stat
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

__all__ = ["RECORD", "Contents", "look_into", "read_record", "with_record"]

RECORD: Final = ".made-files.sha256"
_HEAD: Final = (
    "# applique-files/1: what the program made here. It replaces nothing else; leave this file as it is.\n"
)
_LINE: Final = re.compile(r"([0-9a-f]{64})  (.+)")
_LARGEST: Final = 10_000_000
"""Of a record in bytes: a pattern of 10,000 letters has one of about 2 MB."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """What a folder holds, names with `/` from the folder: `made` by the program and as it made them (the record
    among them), `changed` since, and `foreign`. An empty folder of somebody's own is foreign and ends in `/`.
    `missing` are recorded and no longer there."""

    made: tuple[str, ...]
    changed: tuple[str, ...]
    foreign: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def untouched(self) -> bool:
        """Whether every recorded file is there as it was made, and nothing else."""
        return not (self.changed or self.foreign or self.missing)


def with_record(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """`files` and, last, their record: the same bytes for the same files, and no path but their names."""
    lines = [f"{hashlib.sha256(content).hexdigest()}  {name}\n" for name, content in sorted(files.items())]
    text = "".join([_HEAD, *lines])
    return {**files, RECORD: f"{text}# {_digest_of(text)}\n".encode()}


def read_record(folder: Path) -> dict[str, str]:
    """The digests of the files that the program made in `folder`; none without a record, or with a changed one."""
    path = folder / RECORD
    try:
        found = path.lstat()
        if not stat.S_ISREG(found.st_mode) or found.st_size > _LARGEST:
            return {}
        text = path.read_bytes().decode("utf-8")
    except (OSError, ValueError):
        return {}
    *lines, last = text.splitlines(keepends=True) or [""]
    said = "".join(lines)
    if not lines or lines[0] != _HEAD or last != f"# {_digest_of(said)}\n":
        return {}
    found_lines = [_LINE.fullmatch(line.rstrip("\n")) for line in lines[1:]]
    return {_plain(match[2]): match[1] for match in found_lines if match}


def look_into(folder: Path) -> Contents:
    """Everything below `folder`, by its record.

    Raises:
        OSError: a folder in it cannot be read.
    """
    recorded = read_record(folder)
    made: list[str] = []
    changed: list[str] = []
    foreign: list[str] = []
    ours = {_plain(parent.as_posix()) for name in recorded for parent in Path(name).parents}
    for name in _entries(folder):
        plain = _plain(name)
        if plain == RECORD and recorded:
            made.append(name)
        elif plain in recorded:
            (made if _digest(folder / name) == recorded[plain] else changed).append(name)
        elif not (name.endswith("/") and plain.rstrip("/") in ours):
            foreign.append(name)
    there = {_plain(name) for name in (*made, *changed)}
    missing = tuple(name for name in sorted(recorded) if name not in there)
    return Contents(made=tuple(made), changed=tuple(changed), foreign=tuple(foreign), missing=missing)


def _entries(folder: Path) -> Iterator[str]:
    """Files, links and what else is no folder, and empty folders with a `/` behind them, in order."""

    def refused(error: OSError) -> None:
        raise error

    for place, folders, files in os.walk(folder, onerror=refused):
        folders.sort()
        at = Path(place).relative_to(folder)
        links = [name for name in folders if Path(place, name).is_symlink()]
        yield from ((at / name).as_posix() for name in sorted([*files, *links]))
        if not folders and not files and at.parts:
            yield f"{at.as_posix()}/"


def _plain(name: str) -> str:
    """`name` as every file system gives it back: some take the accents of letters apart."""
    return unicodedata.normalize("NFC", name)


def _digest_of(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def _digest(path: Path) -> str:
    """The SHA-256 of a plain file; nothing for a link, a pipe or what cannot be read."""
    try:
        if not stat.S_ISREG(path.lstat().st_mode):
            return ""
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""

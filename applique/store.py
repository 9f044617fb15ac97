"""The nests of this machine, kept in the user's cache folder, and those that came with a design.

A folder that cannot be written keeps nothing, and what is wrong with a file there is as if there were none.
"""

from __future__ import annotations

import contextlib
import os
import stat
import tempfile
from pathlib import Path
from typing import Final

import platformdirs

from applique.nesting.store import NESTS_FILE, read_nests

__all__ = ["FolderStore", "cache_folder", "nests_beside"]

_LARGEST: Final = 20_000_000
"""Bytes of the largest file of nests that is read; 10,000 letters take some 3 million."""
_NO_WAITING: Final = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
"""For opening what may turn out to be a pipe that nobody writes to."""


def cache_folder() -> Path | None:
    """Where nests are kept, below where this system has its users' caches; None where nobody's home is known."""
    try:
        folder = platformdirs.user_cache_path("applique", appauthor=False)
    except RuntimeError:
        return None
    return folder / "nests" if folder.is_absolute() else None


class FolderStore:
    """A store of nests: one small file for each, written whole or not at all. Without a folder it keeps nothing."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder

    def get(self, key: str) -> str | None:
        """The text kept under `key`, or None."""
        return None if self._folder is None else _small_text(self._folder / f"{key}.json")

    def put(self, key: str, text: str) -> None:
        """Keep `text` under `key`; forgotten quietly where the folder cannot be written."""
        if self._folder is None:
            return
        fresh = None
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(dir=self._folder)
            fresh = Path(name)
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                file.write(text)
            fresh.replace(self._folder / f"{key}.json")
            fresh = None
        except OSError:
            return
        finally:
            if fresh is not None:
                with contextlib.suppress(OSError):
                    fresh.unlink()


def nests_beside(folder: Path) -> dict[str, str]:
    """The nests of a pattern's `folder` by their keys, so that the design in it makes the same pattern again."""
    return read_nests(_small_text(folder / NESTS_FILE))


def _small_text(path: Path) -> str | None:
    """The text of a regular file of a bearable size; None for a pipe, a device, a folder or anything else."""
    try:
        handle = os.open(path, os.O_RDONLY | _NO_WAITING)
    except (OSError, ValueError):
        return None
    try:
        found = os.fstat(handle)
        if not stat.S_ISREG(found.st_mode) or found.st_size > _LARGEST:
            return None
        with os.fdopen(handle, "rb", closefd=False) as file:
            return file.read(_LARGEST).decode("utf-8")
    except (OSError, UnicodeDecodeError):
        return None
    finally:
        os.close(handle)

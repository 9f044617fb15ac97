"""The nests of this machine, kept in the user's cache folder; a folder that cannot be written keeps nothing."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import platformdirs

__all__ = ["FolderStore", "cache_folder"]


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
        if self._folder is None:
            return None
        try:
            return (self._folder / f"{key}.json").read_text("utf-8")
        except (OSError, UnicodeDecodeError):
            return None

    def put(self, key: str, text: str) -> None:
        """Keep `text` under `key`; forgotten quietly where the folder cannot be written."""
        if self._folder is None:
            return
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(dir=self._folder)
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                file.write(text)
            Path(name).replace(self._folder / f"{key}.json")
        except OSError:
            return

"""Files of a kept folder, read without ever leaving it: no links, no pipes, nothing larger than its bound."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import Final

__all__ = ["is_own_folder", "plain_file"]

_PLAINLY: Final = (
    getattr(os, "O_NONBLOCK", 0)
    | getattr(os, "O_BINARY", 0)
    | getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_CLOEXEC", 0)
)
"""For opening what may turn out to be a link to elsewhere, or a pipe that nobody writes to."""


def plain_file(path: Path, *, most: int) -> bytes | None:
    """The bytes of a regular file of at most `most` bytes; None for a link, a pipe, a folder, or nothing there.

    Raises:
        OSError: the disk cannot read it.
    """
    try:
        handle = os.open(path, os.O_RDONLY | _PLAINLY)
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError:
        if path.is_symlink() or not path.is_file():
            return None
        raise
    try:
        found = os.fstat(handle)
        if not stat.S_ISREG(found.st_mode) or found.st_size > most:
            return None
        with os.fdopen(handle, "rb", closefd=False) as file:
            return file.read(most)
    finally:
        os.close(handle)


def is_own_folder(path: Path) -> bool:
    """Whether a folder stands there itself, and no link to one."""
    return path.is_dir() and not path.is_symlink()

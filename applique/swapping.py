"""Putting a finished folder where another one is, so that a kill at any moment leaves one of the two whole.

The new folder is written beside its place under a hidden name and then exchanged with the old one in a single step
of the file system. Where no such step exists, two renames stand in for it, and `recover` undoes a half of them.
What a killed run left under a hidden name is cleared away by the next run for the same place.
"""

from __future__ import annotations

import ctypes
import errno
import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

__all__ = ["recover", "replace_folder", "write_file"]

fcntl: Any
if sys.platform == "win32":
    fcntl = None
else:
    import fcntl

_AT_FDCWD: Final = -100
_RENAME_EXCHANGE: Final = 2
"""Source of both: Linux, `renameat2(2)` and <linux/fs.h>."""
_NO_EXCHANGE: Final = (errno.ENOSYS, errno.EINVAL, errno.EPERM, errno.ENOTSUP)
"""What the kernel or a file system without an exchange answers."""
_LETTERS_OF_NAME: Final = 20
"""How much of the folder's name its hidden neighbours carry; four bytes a letter stay far below 255."""


def replace_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write `files` (names with `/` go into folders) as `folder`, whole or not at all.

    After a kill at any moment `folder` is as it was or wholly new. Only where the file system cannot exchange two
    folders there is an instant in which the old one stands under a hidden name; `recover` brings it back.

    Raises:
        OSError: it cannot be written; what was there is untouched.
    """
    recover(folder)
    with _held_beside(folder) as fresh:
        fresh.chmod(0o755)
        for name, content in files.items():
            write_file(fresh / name, content)
        _keep_folders(fresh)
        _put_in_place(fresh, folder)
        _keep(folder.parent)


def recover(folder: Path) -> None:
    """Bring back a folder that a killed run had set aside, and clear away what killed runs left beside it.

    What a running process still writes is left alone.
    """
    if not folder.exists():
        for aside in sorted(folder.parent.glob(_pattern(folder, "old"))):
            if _is_free(aside):
                aside.rename(folder)
                break
    for kind in ("old", "new"):
        for leftover in folder.parent.glob(_pattern(folder, kind)):
            if _is_free(leftover):
                shutil.rmtree(leftover, ignore_errors=True)


def write_file(path: Path, content: bytes) -> None:
    """Write one new file and have the disk keep it before anything depends on it.

    Raises:
        OSError: it exists, or cannot be written whole.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _beside(folder: Path, kind: str) -> str:
    """How the hidden neighbours of `folder` begin: a part of its name for people, a digest for us."""
    digest = hashlib.sha256(os.fsencode(folder.name)).hexdigest()[:12]
    return f".{folder.name[:_LETTERS_OF_NAME]}.{digest}-{kind}-"


def _pattern(folder: Path, kind: str) -> str:
    return "".join(f"[{sign}]" if sign in "*?[" else sign for sign in _beside(folder, kind)) + "*"


@contextmanager
def _held_beside(folder: Path) -> Iterator[Path]:
    """A new hidden folder beside `folder`, locked while this process lives, removed at the end.

    The lock is the kernel's and ends with the process, however that ends. Without such locks (Windows) a second run
    for the same place at the same time clears this one away, which is then refused.
    """
    while True:
        fresh = Path(tempfile.mkdtemp(prefix=_beside(folder, "new"), dir=folder.parent))
        handle = _locked(fresh)
        # Another run may have taken it for a leftover between its making and its locking.
        if fcntl is None or handle is not None:
            break
    try:
        yield fresh
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
        if handle is not None:
            os.close(handle)


def _locked(folder: Path) -> int | None:
    """A handle that holds the lock of `folder`; None if another holds it, it is gone, or there are no locks."""
    if fcntl is None:
        return None
    try:
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
    except OSError:
        return None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if os.path.samestat(os.fstat(handle), folder.stat()):
            return handle
    except OSError:
        pass
    os.close(handle)
    return None


def _is_free(folder: Path) -> bool:
    """Whether no living process holds `folder`."""
    if fcntl is None:
        return True
    handle = _locked(folder)
    if handle is None:
        return False
    os.close(handle)
    return True


def _put_in_place(fresh: Path, folder: Path) -> None:
    """Exchange `fresh` and `folder`; without an old folder, a plain rename."""
    if not folder.exists():
        fresh.rename(folder)
        return
    if _exchange(fresh, folder):
        return
    aside = fresh.with_name(fresh.name.replace("-new-", "-old-"))
    folder.rename(aside)
    try:
        fresh.rename(folder)
    except OSError:
        aside.rename(folder)
        raise
    shutil.rmtree(aside, ignore_errors=True)


def _exchange(one: Path, other: Path) -> bool:
    """Exchange two folders in one step; False where the system cannot.

    Raises:
        OSError: it can, and will not.
    """
    if not sys.platform.startswith("linux"):
        return False
    try:
        renameat2 = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    paths = (ctypes.c_char_p(os.fsencode(one)), ctypes.c_char_p(os.fsencode(other)))
    if renameat2(_AT_FDCWD, paths[0], _AT_FDCWD, paths[1], ctypes.c_uint(_RENAME_EXCHANGE)) == 0:
        return True
    number = ctypes.get_errno()
    if number in _NO_EXCHANGE:
        return False
    raise OSError(number, os.strerror(number), str(other))


def _keep_folders(folder: Path) -> None:
    for path in (folder, *(path for path in folder.rglob("*") if path.is_dir())):
        _keep(path)


def _keep(folder: Path) -> None:
    """Have the disk keep the names in `folder`; not every system can open a folder for that."""
    if fcntl is None:
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno != errno.EINVAL:
            raise
    finally:
        os.close(handle)

"""Putting a finished folder where another one is, so that a kill at any moment leaves one of the two whole.

The new folder is written beside its place under a hidden name and then exchanged with the old one in a single step
of the file system. Where no such step exists, two renames stand in for it, and `recover` undoes a half of them.
What a killed run left under a hidden name is cleared away by the next run for the same place.

What somebody else put into the old folder has a second name, a hard link, in the new one or in the folder of kept
files before the exchange, so no moment is without it. Afterwards only that is taken away which the record of the old
folder lists unchanged, or which has its second name; anything else comes to stand beside the new folder.
"""

from __future__ import annotations

import ctypes
import errno
import hashlib
import os
import shutil
import stat
import sys
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, Final

from applique.record import RECORD, look_into, read_record

__all__ = ["NotCarriedError", "recover", "replace_file", "replace_folder", "write_file"]

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
"""How much of the folder's name its hidden neighbors carry; four bytes a letter stay far below 255."""


class NotCarriedError(OSError):
    """A file of somebody's own that cannot have a second name here, so that it could be lost; `filename` says which."""


def replace_folder(
    folder: Path, files: Mapping[str, bytes], *, left: Iterable[str] = (), kept: Iterable[str] = ()
) -> tuple[Path, ...]:
    """Write `files` (names with `/` go into folders; the record last) as `folder`, whole or not at all.

    `left` are the names of what stays where it is in the folder, `kept` of what is moved to a new folder beside it.
    What came into the old folder while this worked, and is neither, is moved beside it too. Returns the folders
    beside it that now hold something.

    After a kill at any moment `folder` is as it was or wholly new, and nothing of somebody's own is gone. Only where
    the file system cannot exchange two folders there is an instant in which the old one stands under a hidden name;
    `recover` brings it back.

    Raises:
        NotCarriedError: the file system cannot give a file of `left` or `kept` a second name; nothing is changed.
        OSError: it cannot be written; what was there is untouched.
    """
    recover(folder)
    beside: Path | None = None
    with _held_beside(folder) as fresh:
        mark = fresh.stat()
        try:
            fresh.chmod(0o755)
            for name, content in files.items():
                write_file(fresh / name, content)
            _link(left, folder, fresh)
            _keep_folders(fresh)
            if names := tuple(kept):
                beside = _free_beside(folder)
                _link(names, folder, beside)
                _keep_folders(beside)
            old = _put_in_place(fresh, folder)
        except BaseException:
            # Ctrl-C may fall behind the exchange, and then what is under the hidden name is the old folder.
            if not (folder.exists() and os.path.samestat(folder.stat(), mark)):
                for made in (fresh, beside):
                    if made is not None:
                        shutil.rmtree(made, ignore_errors=True)
            raise
        rescued = _take_down(old, folder) if old is not None else None
        _keep(folder.parent)
    return tuple(place for place in (beside, rescued) if place is not None)


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
            if not _is_free(leftover):
                continue
            # The record is the last file to be written and to be taken away: without one, all in it is ours.
            if read_record(leftover):
                _take_down(leftover, folder)
            else:
                shutil.rmtree(leftover, ignore_errors=True)


def replace_file(path: Path, content: bytes) -> None:
    """Write one file over the plain file `path`, or where nothing is, whole or not at all.

    Raises:
        OSError: it cannot be written; what was there is untouched, and nothing else is left.
    """
    handle, name = tempfile.mkstemp(
        prefix=f".{path.name[:_LETTERS_OF_NAME]}-", suffix=".new", dir=path.parent
    )
    fresh = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        fresh.chmod(stat.S_IMODE(path.stat().st_mode) if path.exists() else 0o666 & ~_umask())
        fresh.replace(path)
    finally:
        fresh.unlink(missing_ok=True)
    _keep(path.parent)


def _umask() -> int:
    """What this process takes away from the rights of new files; asking is setting it, so it is put back."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


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
    """How the hidden neighbors of `folder` begin: a part of its name for people, a digest for us."""
    digest = hashlib.sha256(os.fsencode(folder.name)).hexdigest()[:12]
    return f".{folder.name[:_LETTERS_OF_NAME]}.{digest}-{kind}-"


def _pattern(folder: Path, kind: str) -> str:
    return "".join(f"[{sign}]" if sign in "*?[" else sign for sign in _beside(folder, kind)) + "*"


@contextmanager
def _held_beside(folder: Path) -> Iterator[Path]:
    """A new hidden folder beside `folder`, locked while this process lives and until the end.

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


def _put_in_place(fresh: Path, folder: Path) -> Path | None:
    """Exchange `fresh` and `folder`; without an old folder, a plain rename. Returns where the old one stands now."""
    if not folder.exists():
        fresh.rename(folder)
        return None
    if _exchange(fresh, folder):
        return fresh
    aside = fresh.with_name(fresh.name.replace("-new-", "-old-"))
    folder.rename(aside)
    try:
        fresh.rename(folder)
    except BaseException:
        if not folder.exists():
            aside.rename(folder)
        raise
    return aside


def _link(names: Iterable[str], folder: Path, target: Path) -> None:
    """Give what `folder` holds under `names` the same name below `target` too; empty folders are made there.

    Raises:
        NotCarriedError: the file system cannot, or another file stands there.
    """
    made: list[Path] = []
    for name in names:
        path = Path(name)
        for parent in (*reversed(path.parents), *([path] if name.endswith("/") else ())):
            if not (target / parent).exists():
                (target / parent).mkdir()
                made.append(parent)
        if name.endswith("/"):
            continue
        try:
            # A link itself is carried, not what it leads to.
            os.link(folder / path, target / path, follow_symlinks=os.link not in os.supports_follow_symlinks)
        except OSError as error:
            raise NotCarriedError(error.errno, error.strerror, name) from None
    for parent in reversed(made):
        shutil.copystat(folder / parent, target / parent)


def _take_down(old: Path, folder: Path) -> Path | None:
    """Remove the replaced folder `old`: what the program made, and what has a second name since it was carried over.

    What else it holds was put there in the last moment: then the rest of it is moved beside `folder`, and that place
    is returned. What cannot be removed now stays under its hidden name for the next run.
    """
    with suppress(OSError):
        contents = look_into(old)
        carried = [name for name in (*contents.changed, *contents.foreign) if not name.endswith("/")]
        for name in carried:
            if (old / name).lstat().st_nlink > 1:
                (old / name).unlink()
        for name in sorted(contents.made, key=lambda name: name == RECORD):
            (old / name).unlink(missing_ok=True)
        for place, _, _ in os.walk(old, topdown=False):
            with suppress(OSError):
                Path(place).rmdir()
        if old.exists():
            beside = _free_beside(folder)
            old.rename(beside)
            return beside
    return None


def _free_beside(folder: Path) -> Path:
    """A new empty folder for what is kept of `folder`, beside it, under the first name of its kind that is free."""
    number = 1
    while True:
        beside = folder.with_name(f"{folder.name}-kept-{number}")
        try:
            beside.mkdir()
        except FileExistsError:
            number += 1
        else:
            return beside


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

"""Folders as one file."""

from __future__ import annotations

import io
import stat
import zipfile
import zlib
from collections.abc import Mapping
from enum import StrEnum
from typing import Final

__all__ = ["ArchiveFault", "NoGoodArchive", "put_folder", "unzipped", "zipped"]

_EARLIEST: Final = (1980, 1, 1, 0, 0, 0)
"""The earliest date that a zip can hold, so that the same files give the same bytes."""

_READ: Final = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_DEEPEST: Final = 3
"""Folders within one another that a file may lie in."""


class ArchiveFault(StrEnum):
    """Why an archive is not read."""

    DAMAGED = "damaged"
    LEADS_OUT = "leads out"
    TOO_LARGE = "too large"


class NoGoodArchive(ValueError):  # noqa: N818 (it says what it is)
    """An archive that is not read, and why; `name` is the file in it that it is about, if it is about one."""

    def __init__(self, fault: ArchiveFault, name: str = "") -> None:
        self.fault = fault
        self.name = name
        super().__init__(f"{fault}: {name}")


def unzipped(content: bytes, *, most_files: int, most_bytes: int) -> dict[str, bytes]:
    """The files of a zip by their names in it, held in memory alone; no more than `most_bytes` of them are unpacked.

    Raises:
        NoGoodArchive: it is damaged, locked, or not packed as zips are; a file of it leads out of its folder or is a
            link; there are too many of them, or they are too large.
    """
    files: dict[str, bytes] = {}
    left = most_bytes
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            entries = [entry for entry in archive.infolist() if not entry.is_dir()]
            if len(entries) > most_files:
                raise NoGoodArchive(ArchiveFault.TOO_LARGE)
            for entry in entries:
                _refuse_astray(entry)
                if entry.flag_bits & 1 or entry.compress_type not in _READ or entry.filename in files:
                    raise NoGoodArchive(ArchiveFault.DAMAGED, entry.filename)
                with archive.open(entry) as packed:
                    data = packed.read(left + 1)
                left -= len(data)
                if left < 0:
                    raise NoGoodArchive(ArchiveFault.TOO_LARGE, entry.filename)
                files[entry.filename] = data
    except (
        zipfile.BadZipFile,
        zlib.error,
        EOFError,
        OSError,
        NotImplementedError,
        RuntimeError,
        OverflowError,
    ):
        raise NoGoodArchive(ArchiveFault.DAMAGED) from None
    except ValueError as error:
        raise error if isinstance(error, NoGoodArchive) else NoGoodArchive(ArchiveFault.DAMAGED) from None
    return files


def _refuse_astray(entry: zipfile.ZipInfo) -> None:
    name = entry.filename
    parts = name.split("/")
    is_link = stat.S_ISLNK(entry.external_attr >> 16)
    if (
        is_link
        or ":" in name
        or "\\" in name
        or not all(parts)
        or {".", ".."} & set(parts)
        or len(parts) > _DEEPEST + 1
    ):
        raise NoGoodArchive(ArchiveFault.LEADS_OUT, name)


def zipped(folder: str, files: Mapping[str, bytes]) -> bytes:
    """`files` in a `folder` as one zip: the same bytes for the same files."""
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        put_folder(archive, folder, files)
    return content.getvalue()


def put_folder(archive: zipfile.ZipFile, folder: str, files: Mapping[str, bytes]) -> None:
    """Put `files` into an archive that is being written, in a `folder` of it: the same bytes for the same files."""
    for name, data in files.items():
        archive.writestr(zipfile.ZipInfo(f"{folder}/{name}", _EARLIEST), data, zipfile.ZIP_DEFLATED)

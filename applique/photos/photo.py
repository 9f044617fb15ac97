"""A photo of a fabric, tried out in a child process and freed of all but its pixels before anything else.

The child (`applique.photos.probe`) opens the file within limits on processor time and memory, so that a hostile one can
hurt nothing but that. What comes of it is remembered by the digest of the file while this process lives.
"""

from __future__ import annotations

import hashlib
import json
import re
import stat
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, Final

from applique.children import ChildBusyError, answer_of
from applique.errors import NOWHERE, Problem, Refusal, Where
from applique.language import message

__all__ = [
    "ENDINGS",
    "LARGEST_FILE",
    "LONGEST_SIDE",
    "MOST_BYTES",
    "MOST_PIXELS",
    "MOST_SECONDS",
    "MOST_TIMES_LONGER",
    "SMALL_SIDE",
    "Photo",
    "PhotoFault",
    "is_plain_name",
    "photo_names",
    "read_photo",
]

ENDINGS: Final = ("jpg", "jpeg", "png", "webp")
LARGEST_FILE: Final = 25_000_000
MOST_PIXELS: Final = 50_000_000
MOST_BYTES: Final = 1_000_000_000
"""Memory that a photo may take to read."""
MOST_SECONDS: Final = 10
"""Processor time for a photo, beyond what it takes to start."""
LONGEST_SIDE: Final = 1_200
"""Pixels of the longer side at most, once it is made ready: 150 to the inch where it shows 8 in."""
SMALL_SIDE: Final = 300
"""Pixels of the longer side of the one that is drawn on the cover, where the whole quilt is a few inches wide."""
MOST_TIMES_LONGER: Final = 4
"""So many times longer than wide a photo may be, so that it takes no more than some thousand of it to cover a quilt."""
_PROBE: Final = "applique.photos.probe"
_SIGNATURES: Final = {"jpg": b"\xff\xd8\xff", "png": b"\x89PNG\r\n\x1a\n"}
_PLAIN: Final = re.compile(r"[^/\\:*?\"<>|\x00-\x1f]+", re.DOTALL)


class PhotoFault(StrEnum):
    """Why a photo is refused, as the child says it."""

    NO_PICTURE = "photo-no-picture"
    DAMAGED = "photo-damaged"
    TOO_MANY_PIXELS = "photo-of-too-many-pixels"
    MOVES = "photo-moves"
    TOO_NARROW = "photo-too-narrow"


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photo ready to be shown: a JPEG or PNG of pixels and nothing else, by the `name` of its file.

    `small` is the same for the cover, `color` the mean of its light. What `data` holds, read again, gives the same.
    """

    name: str
    data: bytes
    small: bytes
    width_px: int
    height_px: int
    color: str

    @property
    def media_type(self) -> str:
        """What `data` and `small` are, as the web says it."""
        return "image/png" if self.data.startswith(_SIGNATURES["png"]) else "image/jpeg"

    @property
    def sha256(self) -> str:
        """The SHA-256 of `data`."""
        return hashlib.sha256(self.data).hexdigest()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ready:
    ending: str
    data: bytes
    small: bytes
    width_px: int
    height_px: int
    color: str


_KNOWN: Final[dict[str, _Ready | PhotoFault]] = {}


def is_plain_name(name: str) -> bool:
    """Whether `name` is that of a picture in the folder of a design, and leads nowhere else on any system."""
    stem, dot, ending = name.rpartition(".")
    plain = _PLAIN.fullmatch(name) is not None and not name.startswith(".") and name == name.strip()
    return plain and bool(dot and stem) and ending.lower() in ENDINGS


def read_photo(path: str, where: Where = NOWHERE) -> Photo:
    """The photo at `path`, a JPEG, PNG or WebP, upright and without what else its file holds; `where` names it.

    Raises:
        Refusal: there is none, it leads out of its folder, is too large or damaged, or no photo; or this machine is too
            busy to tell.
    """
    file = Path(path)
    try:
        data = _read(file)
        digest = hashlib.sha256(data).hexdigest()
        found = _KNOWN.get(digest)
        if found is None:
            found = _KNOWN[digest] = _tried(data, file.name)
        if isinstance(found, PhotoFault):
            raise Refusal(_problem(found, file.name))
    except Refusal as refusal:
        raise Refusal([problem.within(where) for problem in refusal.problems]) from None
    keeps = {"jpeg": "jpg"}.get(file.suffix[1:].lower(), file.suffix[1:].lower()) == found.ending
    return Photo(
        name=file.name if keeps else f"{file.stem}.{found.ending}",
        data=found.data,
        small=found.small,
        width_px=found.width_px,
        height_px=found.height_px,
        color=found.color,
    )


def photo_names(photos: Iterable[Photo], taken: Iterable[str] = ()) -> Mapping[str, str]:
    """The names under which `photos` lie in one folder beside files that are `taken`, by the SHA-256 of each.

    Each has its own name; one that is taken by something else gets a number. Names are compared as file systems do that
    know no case.
    """
    names: dict[str, str] = {}
    used = {_folded(name) for name in taken}
    for photo in photos:
        if photo.sha256 in names:
            continue
        stem, _, ending = photo.name.rpartition(".")
        name, number = photo.name, 1
        while _folded(name) in used:
            number += 1
            name = f"{stem} {number}.{ending}"
        used.add(_folded(name))
        names[photo.sha256] = name
    return names


def _folded(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()


def _problem(fault: PhotoFault, name: str) -> Problem:
    """What is wrong with the photo `name`, as the child found it."""
    match fault:
        case PhotoFault.NO_PICTURE:
            return Problem(
                kind="photo-no-picture",
                what=message("{name} is no JPEG, PNG or WebP picture", name=name),
                fix=message("a photo saved as .jpg or .png"),
            )
        case PhotoFault.DAMAGED:
            return Problem(
                kind="photo-damaged",
                what=message(
                    "{name} is a damaged picture, or one that takes too long or too much memory to read",
                    name=name,
                ),
                fix=message("take or save the photo again"),
            )
        case PhotoFault.TOO_MANY_PIXELS:
            return Problem(
                kind="photo-of-too-many-pixels",
                what=message(
                    "{name} has more than {most} million pixels", name=name, most=MOST_PIXELS // 10**6
                ),
                fix=message(
                    "a smaller picture; {side} pixels on its longer side are plenty", side=LONGEST_SIDE
                ),
            )
        case PhotoFault.MOVES:
            return Problem(
                kind="photo-moves",
                what=message("{name} is a moving picture", name=name),
                fix=message("a still one"),
            )
        case PhotoFault.TOO_NARROW:
            return Problem(
                kind="photo-too-narrow",
                what=message(
                    "{name} is more than {times} times as long as it is wide",
                    name=name,
                    times=MOST_TIMES_LONGER,
                ),
                fix=message("a photo cut more nearly square"),
            )


def _read(file: Path) -> bytes:
    try:
        if file.resolve().parent != file.parent.resolve():
            raise Refusal(
                Problem(
                    kind="photo-outside",
                    what=message("{name} leads to a file in another folder", name=file.name),
                    fix=message("put the photo itself into the folder of the design"),
                )
            )
        about = file.stat()
        if not stat.S_ISREG(about.st_mode):
            raise Refusal(
                Problem(
                    kind="photo-no-file",
                    what=message("{name} is no file", name=file.name),
                    fix=message("the name of a photo"),
                )
            )
        if about.st_size > LARGEST_FILE:
            raise Refusal(
                Problem(
                    kind="photo-too-large",
                    what=message(
                        "{name} is larger than {most} MB", name=file.name, most=LARGEST_FILE // 10**6
                    ),
                    fix=message(
                        "a smaller picture; {side} pixels on its longer side are plenty", side=LONGEST_SIDE
                    ),
                )
            )
        return file.read_bytes()
    except (OSError, ValueError, RuntimeError) as error:
        raise Refusal(
            Problem(
                kind="photo-unreadable",
                what=message(
                    "{name} cannot be read ({reason})",
                    name=file.name,
                    reason=getattr(error, "strerror", None) or type(error).__name__,
                ),
                fix=message("put the photo into the folder of the design, or leave it out"),
            )
        ) from None


def _tried(data: bytes, name: str) -> _Ready | PhotoFault:
    """The photo as the child made it ready, or why it did not.

    Raises:
        Refusal: nobody knows, because the child was not let finish.
    """
    try:
        head, _, body = answer_of(_PROBE, data).said.partition(b"\n")
    except ChildBusyError:
        raise Refusal(
            Problem(
                kind="too-busy-to-try-photo",
                what=message("{name} could not be tried out, because this machine is busy", name=name),
                fix=message("again, once other programs have finished"),
            )
        ) from None
    try:
        answer: Any = json.loads(head)
        if "fault" in answer:
            return PhotoFault(answer["fault"])
        ready = _Ready(
            ending=answer["ending"],
            data=body[: answer["size"]],
            small=body[answer["size"] :],
            width_px=int(answer["width"]),
            height_px=int(answer["height"]),
            color=answer["color"],
        )
        start = _SIGNATURES[ready.ending]
        good = ready.data.startswith(start) and ready.small.startswith(start)
        good = good and re.fullmatch(r"#[0-9a-f]{6}", ready.color) is not None
        good = good and min(ready.width_px, ready.height_px) > 0
        good = good and max(ready.width_px, ready.height_px) <= LONGEST_SIDE
    except (ValueError, TypeError, KeyError):
        return PhotoFault.DAMAGED
    return ready if good else PhotoFault.DAMAGED

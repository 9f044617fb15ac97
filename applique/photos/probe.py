"""The child process of `photo`: opens a photo that nobody vouches for, within limits, and keeps its pixels alone.

Reads the file from standard input; writes a line of JSON, with a `fault` or what the photo is, and after it the photo
and a small one. Dying without an answer is an answer too.
"""

from __future__ import annotations

import json
import sys
from io import BytesIO
from typing import Final

from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError

from applique.children import keep_within
from applique.photos.photo import (
    LONGEST_SIDE,
    MOST_BYTES,
    MOST_PIXELS,
    MOST_SECONDS,
    MOST_TIMES_LONGER,
    SMALL_SIDE,
    PhotoFault,
)

__all__ = ["Faulty", "main", "mean_color", "ready_photo"]

_FORMATS: Final = ("JPEG", "PNG", "WEBP")
_FEW_COLORS: Final = 256
"""A picture of so few colors at most is drawn, not taken, and stays as it is in a PNG."""
_QUALITY: Final = 85
_SCANNED: Final = frozenset([*range(0xC0, 0xD0), 0xDA, 0xDB, 0xDD])
"""Segments of a JPEG that hold its pixels and how to read them (ITU-T T.81, B.1.1.3): frames, tables, scans."""
_IN_SCAN: Final = frozenset([b"\x00", *(bytes([marker]) for marker in range(0xD0, 0xD8))])
"""What may follow 0xFF within a scan: a zero for the byte itself, and restarts."""
_JFIF: Final = b"JFIF\x00"


class Faulty(Exception):  # noqa: N818 (an answer, as a refusal is)
    """The photo is refused."""

    def __init__(self, fault: PhotoFault) -> None:
        self.fault = fault
        super().__init__(fault.value)


def ready_photo(data: bytes) -> tuple[dict[str, object], bytes]:
    """What the photo in `data` is, and the photo and the small one behind each other.

    Upright as its EXIF has it, in sRGB where it names another space, on white where it is clear, `LONGEST_SIDE` pixels
    at most; of a PNG where it has few colors, else a JPEG. A JPEG that is all this already is handed on as it is, so
    that nothing is lost to writing it twice.

    Raises:
        Faulty: it is no photo to draw.
    """
    picture = _opened(data)
    if max(picture.size) <= LONGEST_SIDE and picture.format == "JPEG" and _is_bare(data):
        picture = picture.convert("RGB")
        return _told(picture, "jpg", data, _written(_shrunk(picture, SMALL_SIDE), "jpg"))
    picture = _shrunk(_plain(picture), LONGEST_SIDE)
    ending = "png" if picture.getcolors(_FEW_COLORS) else "jpg"
    kept = _written(picture, ending)
    seen = Image.open(BytesIO(kept)).convert("RGB")
    return _told(seen, ending, kept, _written(_shrunk(seen, SMALL_SIDE), ending))


def _told(picture: Image.Image, ending: str, kept: bytes, small: bytes) -> tuple[dict[str, object], bytes]:
    about = {"ending": ending, "size": len(kept), "color": mean_color(picture)}
    return {**about, "width": picture.width, "height": picture.height}, kept + small


def _opened(data: bytes) -> Image.Image:
    Image.MAX_IMAGE_PIXELS = None  # ours is the bound, said in our words
    try:
        picture = Image.open(BytesIO(data), formats=_FORMATS)
    except UnidentifiedImageError:
        looks = data[:3] == b"\xff\xd8\xff" or data[:8] == b"\x89PNG\r\n\x1a\n" or data[8:12] == b"WEBP"
        raise Faulty(PhotoFault.DAMAGED if looks else PhotoFault.NO_PICTURE) from None
    if picture.width * picture.height > MOST_PIXELS:
        raise Faulty(PhotoFault.TOO_MANY_PIXELS)
    if max(picture.size) > MOST_TIMES_LONGER * min(picture.size):
        raise Faulty(PhotoFault.TOO_NARROW)
    if picture.format in ("PNG", "WEBP") and getattr(picture, "is_animated", False):
        raise Faulty(PhotoFault.MOVES)  # phones hide a second picture behind a JPEG, which is none that moves
    picture.draft("RGB", (2 * LONGEST_SIDE, 2 * LONGEST_SIDE))
    return picture


def _plain(picture: Image.Image) -> Image.Image:
    """`picture` as it is seen: upright, opaque, in sRGB."""
    profile = picture.info.get("icc_profile")
    if picture.mode.startswith("I"):  # 16 bits of gray
        picture = picture.convert("I").point(lambda value: value * (1 / 257)).convert("L")
    if picture.mode == "P" or picture.has_transparency_data:
        picture = picture.convert("RGBA")
    picture = ImageOps.exif_transpose(_shrunk(picture, 2 * LONGEST_SIDE))
    if picture.mode == "RGBA":
        white = Image.new("RGB", picture.size, "#ffffff")
        white.paste(picture, mask=picture.getchannel("A"))
        picture = white
    return (_in_srgb(picture, profile) if profile else picture).convert("RGB")


def _in_srgb(picture: Image.Image, profile: bytes) -> Image.Image:
    """`picture` from its own color space; as it is where its profile is none that can be read."""
    try:
        space = ImageCms.ImageCmsProfile(BytesIO(profile))
        srgb = ImageCms.createProfile("sRGB")
        return ImageCms.profileToProfile(picture, space, srgb, outputMode="RGB") or picture
    except (ImageCms.PyCMSError, OSError, ValueError):
        return picture


def _shrunk(picture: Image.Image, side: int) -> Image.Image:
    smaller = picture.copy()
    smaller.thumbnail((side, side), Image.Resampling.LANCZOS)
    return smaller


def _written(picture: Image.Image, ending: str) -> bytes:
    bare = Image.frombytes(picture.mode, picture.size, picture.tobytes())
    file = BytesIO()
    if ending == "png":
        bare.save(file, "PNG", optimize=True)
    else:
        bare.save(file, "JPEG", quality=_QUALITY, optimize=True)
    return file.getvalue()


def _is_bare(data: bytes) -> bool:
    """Whether a JPEG holds its pixels and nothing else: no EXIF, no comment, no profile, no thumbnail, nothing after.

    Source:
        ITU-T T.81, annex B: segments between markers, and what a scan may hold.
    """
    at = 2
    while data[at : at + 1] == b"\xff" and at + 1 < len(data):
        marker = data[at + 1]
        if marker == 0xD9:
            return at + 2 == len(data)
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        jfif = marker == 0xE0 and length == 16 and data[at + 4 : at + 9] == _JFIF
        if not (jfif or marker in _SCANNED):
            return False
        at += 2 + length
        if marker == 0xDA:
            while data[at + 1 : at + 2] in _IN_SCAN or data[at : at + 1] != b"\xff":
                at = data.find(b"\xff", at + 1 if data[at : at + 1] != b"\xff" else at + 2)
                if at < 0:
                    return False
    return False


def mean_color(picture: Image.Image) -> str:
    """The mean of the light of an RGB picture, as six hexadecimal digits: the color of the fabric from afar.

    Source:
        IEC 61966-2-1 (sRGB): the curve from a channel to linear light and back.
    """
    counts = picture.histogram()
    total = picture.width * picture.height
    mean = []
    for channel in range(3):
        shades = counts[256 * channel : 256 * channel + 256]
        light = sum(count * _light(shade / 255) for shade, count in enumerate(shades)) / total
        mean.append(round(255 * _shade(light)))
    return "#{:02x}{:02x}{:02x}".format(*mean)


def _light(shade: float) -> float:
    return shade / 12.92 if shade <= 0.04045 else float(((shade + 0.055) / 1.055) ** 2.4)


def _shade(light: float) -> float:
    return 12.92 * light if light <= 0.0031308 else float(1.055 * light ** (1 / 2.4) - 0.055)


def main() -> None:
    """Make one photo ready."""
    keep_within(seconds=MOST_SECONDS, memory=MOST_BYTES)
    answer: dict[str, object] = {}
    photos = b""
    try:
        answer, photos = ready_photo(sys.stdin.buffer.read())
    except Faulty as faulty:
        answer = {"fault": faulty.fault.value}
    except Exception:  # whatever the readers trip over means the same
        answer = {"fault": PhotoFault.DAMAGED.value}
    sys.stdout.buffer.write(json.dumps(answer).encode("ascii") + b"\n" + photos)


if __name__ == "__main__":
    main()

"""The folder of a pattern: which files it has, and writing them all or none."""

from __future__ import annotations

import dataclasses
import json
import os
import stat
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final

from applique.archives import zipped
from applique.cutfiles import cut_files
from applique.design import METHOD_FILES, Design, PaperSize, design_data
from applique.design.fonts import fonts_named, is_path
from applique.errors import Problem, Refusal, Where
from applique.fabrics import resolve_fabrics, shared_photos
from applique.for_customers import customers_files
from applique.instructions import OtherWay, instructions_of
from applique.language import Message, message, messages
from applique.naming import readable_name, refuse_no_name
from applique.nesting import NESTS_FILE, written_nests
from applique.pattern import Pattern
from applique.preview import preview_png, preview_svg
from applique.publishing import read_mark
from applique.record import RECORD, Contents, look_into, read_record, with_record
from applique.reports import FORMAT, design_toml, made_by, mark_data, pattern_json, photo_digests, summary_md
from applique.sew_along import sew_along_html
from applique.sheets import (
    copy_shop_guide_pdf,
    copy_shop_templates_pdf,
    label_pdf,
    nesting_pdf,
    pattern_pdf,
    placement_guide_pdf,
    projector_pdf,
    templates_pdf,
)
from applique.swapping import NotCarriedError, recover, replace_file, replace_folder
from applique.typeset.own import font_digests, own_fonts, shared_design

__all__ = [
    "Written",
    "check_folder",
    "check_zip",
    "folder_name",
    "holds_pack",
    "holds_pack_of",
    "pack_files",
    "source_files",
    "write_for_customers",
    "write_pack",
    "write_text",
]

_LIST: Final = "pattern.json"
_LARGEST_LIST: Final = 200_000_000
_LONGEST_SHOWN: Final = 120
_MOST_NAMED: Final = 3
_MOST_LEFT: Final = 1_000
"""Files of a maker's own that stay in a folder when it is replaced; more are a folder for something else."""
_LONGEST_NAME: Final = 40
_RESERVED: Final = frozenset(
    ["CON", "PRN", "AUX", "NUL", *(f"{port}{number}" for port in ("COM", "LPT") for number in range(1, 10))]
)
"""Names of devices on Windows, with any ending."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What was written: the files of the pattern, and what of the maker's own was there.

    `left` stayed where it was in the folder (names from the folder); `kept` had been changed, or stood where the
    program writes, and lies in the folders `beside` now.
    """

    files: tuple[Path, ...]
    left: tuple[str, ...]
    kept: tuple[str, ...]
    beside: tuple[Path, ...]


def pack_files(pattern: Pattern, *, progress: Callable[[str], None] | None = None) -> dict[str, bytes]:
    """Every file of the pattern by its name in the folder; the same bytes for the same pattern on every run.

    The last is the record of the others. `progress` is told the name of each file before it is made.
    """
    files: dict[str, bytes] = {}
    for name, make in _writers(pattern):
        if progress is not None:
            progress(name)
        files[name] = make()
    if progress is not None:
        progress("cut-files")
    files |= {f"cut-files/{name}": content for name, content in cut_files(pattern).items()}
    if (second := pattern.second) is not None:
        folder = METHOD_FILES[second.design.sewing.method]
        files |= {f"{folder}/cut-files/{name}": content for name, content in cut_files(second).items()}
    files |= {name: photo.data for name, photo in pattern.photos}
    files["preview.png"] = preview_png(files["preview.svg"])
    files[_LIST] = pattern_json(pattern)
    return with_record(files)


def _writers(pattern: Pattern) -> Iterator[tuple[str, Callable[[], bytes]]]:
    second = pattern.second
    if second is None:
        yield from _sewn_from(pattern, None)
    else:
        folder = METHOD_FILES[second.design.sewing.method]
        yield from _sewn_from(pattern, OtherWay(pattern=second, file=f"{folder}/pattern.pdf"))
        first = OtherWay(pattern=pattern, file=message("pattern.pdf in the folder above"))
        for name, make in _sewn_from(second, first):
            yield f"{folder}/{name}", make
    if (shop := pattern.copy_shop) is not None:
        yield "copy-shop-guide.pdf", lambda: copy_shop_guide_pdf(pattern, shop)
        yield "copy-shop-templates.pdf", lambda: copy_shop_templates_pdf(pattern, shop)
    if (frame := pattern.projector) is not None:
        yield "projector.pdf", lambda: projector_pdf(pattern, frame)
    yield "preview.svg", lambda: preview_svg(pattern)
    yield "summary.md", lambda: summary_md(pattern)
    yield "design.toml", lambda: design_toml(pattern.design, pattern.fonts, pattern.photo_names)
    if pattern.searched:
        yield NESTS_FILE, lambda: written_nests(pattern.searched).encode("ascii")


def _sewn_from(pattern: Pattern, other_way: OtherWay | None) -> Iterator[tuple[str, Callable[[], bytes]]]:
    """What the quilt is made from in one method, with the other to choose where there is one."""
    instructions = cache(lambda: instructions_of(pattern, other_way=other_way))
    yield "pattern.pdf", lambda: pattern_pdf(pattern, instructions())
    yield "sew-along.html", lambda: sew_along_html(pattern, instructions())
    if pattern.quilt.layered:
        yield "quilt-label.pdf", lambda: label_pdf(pattern)
    yield "templates-mirrored.pdf", lambda: templates_pdf(pattern, mirrored=True)
    yield "templates-right-reading.pdf", lambda: templates_pdf(pattern, mirrored=False)
    yield "placement-guide.pdf", lambda: placement_guide_pdf(pattern)
    yield "nesting.pdf", lambda: nesting_pdf(pattern)


def write_pack(
    pattern: Pattern,
    folder: Path,
    *,
    replace: bool = False,
    sources: Iterable[Path] = (),
    progress: Callable[[str], None] | None = None,
) -> Written:
    """Write the pattern to `folder`, whole or not at all.

    A folder that this tool made and nobody touched is replaced. With `replace` one that somebody did touch is too:
    what was changed is moved to a new folder beside it, what was added stays where it is. `sources` are the files
    that the pattern is made from, besides fonts and a mark: a folder that holds one of them is never replaced.

    Raises:
        Refusal: the folder holds what must not be replaced, or cannot be written; nothing is changed.
    """
    sources = (*sources, *source_files(pattern.design))
    return write_files(
        lambda: pack_files(pattern, progress=progress), folder, replace=replace, sources=sources
    )


def write_for_customers(
    patterns: Mapping[PaperSize, Pattern],
    folder: Path,
    *,
    replace: bool = False,
    sources: Iterable[Path] = (),
    progress: Callable[[str], None] | None = None,
) -> Written:
    """Write the customer's edition to `folder` as `write_pack` does, and all of it once more as a zip beside it.

    Raises:
        Refusal: as `write_pack`; or a file is there where the zip should be that was not made from the folder.
    """
    check_zip(folder, replace=replace)
    sources = (*sources, *(font for pattern in patterns.values() for font in source_files(pattern.design)))
    files = customers_files(patterns, progress=progress)
    written = write_files(lambda: files, folder, replace=replace, sources=sources)
    archive = _zip_beside(folder)
    try:
        replace_file(archive, zipped(folder.name, _without_record(files)))
    except OSError as error:
        raise _cannot_write(archive, error) from None
    return dataclasses.replace(written, files=(*written.files, archive))


def check_zip(folder: Path, *, replace: bool) -> None:
    """Refuse a file where the zip of a customer's edition in `folder` should be, unless it was made from that folder.

    Raises:
        Refusal: it was not, and `replace` is not set; or it is no plain file.
    """
    archive = _zip_beside(folder)
    if not os.path.lexists(archive):
        return
    try:
        is_file = stat.S_ISREG(archive.lstat().st_mode)
        made = {name: (folder / name).read_bytes() for name in read_record(folder)} if is_file else {}
        if is_file and (replace or archive.read_bytes() == zipped(folder.name, _without_record(made))):
            return
    except OSError:
        pass
    raise Refusal(
        Problem(
            kind="zip-in-the-way",
            what=message("is there and was not made from the folder beside it"),
            where=Where(file=str(archive)),
            fix=message("another folder with --output, or --replace to overwrite it"),
        )
    )


def _zip_beside(folder: Path) -> Path:
    place = _settled(folder)
    return place.with_name(f"{place.name}.zip")


def _without_record(files: Mapping[str, bytes]) -> dict[str, bytes]:
    return {name: files[name] for name in sorted(files) if name != RECORD}


def write_files(
    make: Callable[[], Mapping[str, bytes]], folder: Path, *, replace: bool, sources: Sequence[Path]
) -> Written:
    """Write what `make` makes, files with their record, to `folder`, whole or not at all, as `write_pack` does.

    Raises:
        Refusal: as `write_pack`.
    """
    check_folder(folder, replace=replace, sources=sources)
    files = make()
    # Once more, since what was put there while the files were made must not be lost either.
    folder, there = _judged(folder, replace=replace, sources=sources)
    left = _staying(there.foreign, files)
    in_the_way = set(there.foreign) - set(left)
    kept = tuple(sorted(name for name in {*there.changed, *in_the_way} if not name.endswith("/")))
    try:
        beside = replace_folder(folder, files, left=left, kept=kept)
    except NotCarriedError as error:
        raise Refusal(
            Problem(
                kind="file-cannot-be-kept",
                what=message(
                    "holds {name}, which cannot be kept while the rest is replaced ({reason})",
                    name=str(error.filename),
                    reason=error.strerror or type(error).__name__,
                ),
                where=Where(file=str(folder)),
                fix=message("move it out of the folder, or another folder with --output"),
            )
        ) from None
    except OSError as error:
        raise _cannot_write(folder, error) from None
    return Written(files=tuple(folder / name for name in files), left=left, kept=kept, beside=beside)


def _staying(foreign: Iterable[str], files: Iterable[str]) -> tuple[str, ...]:
    """Which of `foreign` can stay beside the new `files`: not one of those, nor a file where they need a folder.

    Compared as the file systems do that know no case.
    """

    def folded(path: str) -> tuple[str, ...]:
        return tuple(unicodedata.normalize("NFC", part).casefold() for part in path.rstrip("/").split("/"))

    taken = {folded(file) for file in files}
    folders = {file[:depth] for file in taken for depth in range(1, len(file))}

    def stays(name: str) -> bool:
        own = folded(name)
        if not name.endswith("/") and own in folders:
            return False
        return not any(own[:depth] in taken for depth in range(1, len(own) + 1))

    return tuple(name for name in foreign if stays(name))


def write_text(path: Path, text: str, *, replace: bool) -> None:
    """Write one text file, whole or not at all. A link to a plain file is followed.

    Raises:
        Refusal: it exists and `replace` is not set, it is no plain file, or it cannot be written.
    """
    path = _settled(path)
    try:
        target = path.resolve(strict=True) if path.is_symlink() else path
        mode = target.stat().st_mode if target.exists() else stat.S_IFREG
    except (OSError, RuntimeError):
        raise Refusal(
            Problem(
                kind="link-to-nowhere",
                what=message("is a link that leads nowhere"),
                where=Where(file=str(path)),
                fix=message("another name"),
            )
        ) from None
    if stat.S_ISDIR(mode):
        raise Refusal(
            Problem(
                kind="is-folder",
                what=message("is a folder"),
                where=Where(file=str(path)),
                fix=message("another name"),
            )
        )
    if not stat.S_ISREG(mode):
        raise Refusal(
            Problem(
                kind="is-device",
                what=message("is a device or a pipe, no file"),
                where=Where(file=str(path)),
                fix=message("another name"),
            )
        )
    if target.exists() and not replace:
        raise Refusal(
            Problem(
                kind="file-exists",
                what=message("exists"),
                where=Where(file=str(path)),
                fix=message("another name, or --replace to overwrite it"),
            )
        )
    if not target.parent.is_dir():
        raise Refusal(
            Problem(
                kind="no-parent-folder",
                what=message("the folder it would go into does not exist"),
                where=Where(file=str(path)),
                fix=message("make it first"),
            )
        )
    try:
        replace_file(target, text.encode("utf-8"))
    except OSError as error:
        raise _cannot_write(path, error) from None


def check_folder(folder: Path, *, replace: bool, sources: Iterable[Path] = ()) -> Path:
    """Refuse a place where a pack must not be written, before any work is done; returns the place in full.

    `sources` are the files that the pattern is made from, and `replace` says what `write_pack` will be told. A folder
    that a killed run had set aside is brought back first.

    Raises:
        Refusal: with the reason and what to do.
    """
    return _judged(folder, replace=replace, sources=sources)[0]


def _judged(folder: Path, *, replace: bool, sources: Iterable[Path]) -> tuple[Path, Contents]:
    """The place of `folder` in full and what it holds, where a pack may be written.

    Raises:
        Refusal: it may not.
    """
    place = _settled(folder)
    if not place.parent.is_dir():
        raise Refusal(
            Problem(
                kind="no-parent-folder",
                what=message("the folder it would go into does not exist"),
                where=Where(file=str(folder)),
                fix=message("make it first"),
            )
        )
    if place.is_symlink():
        raise Refusal(
            Problem(
                kind="folder-is-link",
                what=message("is a link"),
                where=Where(file=str(folder)),
                fix=message("the folder that it leads to, or another name"),
            )
        )
    if place.exists() and not place.is_dir():
        raise Refusal(
            Problem(
                kind="no-folder",
                what=message("is no folder"),
                where=Where(file=str(folder)),
                fix=message("another name for the output folder"),
            )
        )
    try:
        recover(place)
        if not place.exists():
            return place, Contents(made=(), changed=(), foreign=(), missing=())
        _refuse_what_is_in_use(place, folder, sources)
        if not read_record(place) and (found := sorted(path.name for path in place.iterdir())):
            raise Refusal(
                Problem(
                    kind="folder-without-record",
                    what=message(
                        "the folder exists and holds what this tool did not write ({names}); "
                        "it has no record ({record}) of a finished pattern",
                        names=_some(found),
                        record=RECORD,
                    ),
                    where=Where(file=str(folder)),
                    fix=message("another folder with --output, or move out what is there"),
                )
            )
        _refuse_disks(place, folder)
        there = look_into(place)
    except OSError as error:
        raise _cannot_write(place, error) from None
    added = (*there.changed, *there.foreign)
    if added and not replace:
        raise Refusal(
            Problem(
                kind="folder-changed",
                what=message(
                    "the folder exists and holds what this tool did not write ({names})", names=_some(added)
                ),
                where=Where(file=str(folder)),
                fix=message(
                    "another folder with --output, "
                    "or --replace: what you changed is moved beside it, what you added stays in it"
                ),
            )
        )
    if len(there.foreign) > _MOST_LEFT:
        raise Refusal(
            Problem(
                kind="too-many-files-of-your-own",
                what=message(
                    "the folder exists and holds what this tool did not write ({names}); "
                    "{number} files are more than stay in it when it is replaced",
                    names=_some(there.foreign),
                    number=len(there.foreign),
                ),
                where=Where(file=str(folder)),
                fix=message("another folder with --output, or move out what is there"),
            )
        )
    return place, there


def _some(names: Sequence[str]) -> str | Message:
    """A few of `names` in words, and how many more there are."""
    shown = ", ".join(names[:_MOST_NAMED])
    more = len(names) - _MOST_NAMED
    return (
        messages("{names} and {count} more", "{names} and {count} more", more, names=shown)
        if more > 0
        else shown
    )


def _refuse_what_is_in_use(place: Path, folder: Path, sources: Iterable[Path]) -> None:
    """Refuse a folder that holds what the pattern is made from, or the current folder.

    Raises:
        Refusal: it does.
    """
    problems = [
        Problem(
            kind="folder-holds-source",
            what=message("the folder holds {name}, which this pattern is made from", name=source.name),
            where=Where(file=str(folder)),
            fix=message("another folder with --output"),
        )
        for source in sources
        if os.path.lexists(source) and _lies_in(source, place)
    ]
    if _lies_in(Path("any name in it"), place):
        problems.append(
            Problem(
                kind="folder-you-work-in",
                what=message("is the folder you work in, or holds it"),
                where=Where(file=str(folder)),
                fix=message("another folder with --output; a new one is made"),
            )
        )
    if problems:
        raise Refusal(problems)


def _refuse_disks(place: Path, folder: Path) -> None:
    """Refuse a folder that is, or holds, the place where another disk is mounted.

    Raises:
        Refusal: it is, or does.
        OSError: a folder in it cannot be read.
    """
    device = place.stat().st_dev
    for name, _, _ in os.walk(place):
        if os.path.ismount(name) or Path(name).stat().st_dev != device:
            raise Refusal(
                Problem(
                    kind="disk-in-folder",
                    what=message("another disk is mounted at {place}", place=_shown(Path(name))),
                    where=Where(file=str(folder)),
                    fix=message("another folder with --output, which may be a new one on that disk"),
                )
            )


def _lies_in(path: Path, place: Path) -> bool:
    """Whether `path`, or what it leads to, lies below the folder `place`, by whatever names the two are called."""
    try:
        ways = {path.parent.resolve() / path.name, path.resolve()}
        return any(parent.exists() and parent.samefile(place) for way in ways for parent in way.parents)
    except (OSError, ValueError, RuntimeError):
        return False


def holds_pack(folder: Path) -> bool:
    """Whether `folder` holds what this program made, touched since or not."""
    return folder.is_dir() and not folder.is_symlink() and bool(read_record(folder))


def holds_pack_of(design: Design, folder: Path) -> bool:
    """Whether `folder` holds what this version makes of `design`, with the same fonts, photos and mark, whole and
    untouched."""
    data = _pack_data(folder / _LIST)
    try:
        fonts = own_fonts(fonts_named(design))
        photos = resolve_fabrics(design).photos
        mark = read_mark(design.publisher.mark_file) if design.publisher.mark_file else None
    except Refusal:  # whoever makes it says which file is not there
        return False
    names = shared_photos(design, photos)
    wanted = {
        "made_by": made_by(),
        "design": json.loads(json.dumps(design_data(shared_design(design, fonts, names)))),
        "fonts": font_digests(fonts),
        "photos": photo_digests(
            (names[fabric.photo], photos[fabric.name].photo) for fabric in design.fabric if fabric.photo
        ),
        "mark": mark_data(mark),
    }
    if any(data.get(key) != value for key, value in wanted.items()):
        return False
    return bool(read_record(folder)) and look_into(folder).untouched


def folder_name(words: str) -> str:
    """A name for a folder from any words, good on every system: letters and figures, joined by hyphens."""
    name = readable_name(words, longest=_LONGEST_NAME).lower() or "pattern"
    return f"{name}-quilt" if _fault_of_name(name) else name


def source_files(design: Design) -> tuple[Path, ...]:
    """The files of the maker's own that `design` names: fonts, photos of fabrics, and the picture of a mark."""
    fonts = (font for font in fonts_named(design) if is_path(font))
    pictures = (*(fabric.photo for fabric in design.fabric), design.publisher.mark_file)
    return tuple(Path(file) for file in (*fonts, *(picture for picture in pictures if picture)))


def _settled(path: Path) -> Path:
    """`path` in full, its last part as given, links before it followed.

    Raises:
        Refusal: a name that some system cannot hold, so that a shared pattern could not be unpacked there.
    """
    refuse_no_name(path)
    try:
        place = path.parent.resolve() / path.name if path.name not in ("", "..") else path.resolve()
        place.exists()
    except (OSError, ValueError, RuntimeError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise Refusal(
            Problem(
                kind="name-unusable",
                what=message("cannot be a file or a folder ({reason})", reason=reason),
                where=Where(file=_shown(path)),
                fix=message("another name"),
            )
        ) from None
    problem = _fault_of_name(place.name)
    if problem is not None:
        raise Refusal(problem.within(Where(file=_shown(path))))
    return place


def _shown(path: Path) -> str:
    text = str(path)
    printable = "".join(sign if sign.isprintable() else "�" for sign in text)
    return printable if len(printable) <= _LONGEST_SHOWN else printable[:_LONGEST_SHOWN] + "…"


def _fault_of_name(name: str) -> Problem | None:
    """What is wrong with `name` on some system; None for a good one.

    Source:
        Microsoft, Naming Files, Paths, and Namespaces (from memory).
    """
    fix = message("another name")
    if not name:
        return Problem(
            kind="top-of-disk", what=message("is the top of the disk, no folder to write"), fix=fix
        )
    if name.split(".")[0].rstrip().upper() in _RESERVED:
        return Problem(
            kind="reserved-name",
            what=message("“{name}” is reserved on Windows, so the pattern could not be shared", name=name),
            fix=fix,
        )
    if name != name.rstrip(". "):
        return Problem(
            kind="name-ends-in-dot",
            what=message("“{name}” ends in a dot or a space, which Windows drops", name=name),
            fix=fix,
        )
    if not name.isprintable():
        return Problem(
            kind="unprintable-name",
            what=message("the name holds signs that cannot be printed"),
            fix=fix,
        )
    return None


def _pack_data(path: Path) -> dict[str, Any]:
    """What a pattern.json of this tool says; nothing if it is something else."""
    try:
        if path.is_symlink() or path.stat().st_size > _LARGEST_LIST:
            return {}
        data = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError):
        return {}
    return data if isinstance(data, dict) and data.get("format") == FORMAT else {}


def _cannot_write(folder: Path, error: OSError) -> Refusal:
    reason = error.strerror or type(error).__name__
    return Refusal(
        Problem(
            kind="cannot-be-written",
            what=message("cannot be written ({reason})", reason=reason),
            where=Where(file=str(folder)),
            fix=message("another place, or room there"),
        )
    )

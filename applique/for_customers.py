"""The customer's edition: what a maker sells or gives away, with nothing in it that is only for her."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Final, NamedTuple, TypeAlias

from applique.archives import zipped
from applique.cutfiles import cut_files
from applique.design import METHOD_FILES, Design, PaperSize, PrintCorrection
from applique.instructions import Edition, OtherWay, instructions_of
from applique.naming import readable_name
from applique.nesting import Nester
from applique.pattern import Pattern, draft
from applique.record import with_record
from applique.sew_along import sew_along_html
from applique.sheets import coloring_pdf, template_pages_pdf, whole_pattern_pdf
from applique.words.cut_files import FOR_A_MACHINE, files_said
from applique.words.sew_along import besides_said_to_customers

__all__ = ["PAPERS_PRINTED", "customers_design", "customers_files", "drafted_for_customers"]

PAPERS_PRINTED: Final = (PaperSize.LETTER, PaperSize.A4)
_READ_ME: Final = "read-me.txt"
_LONGEST_NAME: Final = 40


def customers_design(design: Design, paper: PaperSize) -> Design:
    """`design` as somebody else makes it: on `paper`, from a printer that is true, with nothing in the stash.

    What only its maker wants with her own folder (large prints for a copy shop, a projector) is left out, and so are
    mats laid out for her machine: the label is for whoever sews it to fill in.
    """
    return replace(
        design,
        paper=replace(
            design.paper,
            size=paper,
            full_size_nest=False,
            full_size_guide=False,
            copy_shop=None,
            projector=False,
        ),
        print=PrintCorrection(),
        cutting=replace(design.cutting, mat_width=None, mat_height=None),
        fabric=tuple(replace(fabric, have=()) for fabric in design.fabric),
        label=replace(design.label, maker="", date="", place=""),
        publisher=replace(design.publisher, name=design.publisher.name or design.designer),
    )


def drafted_for_customers(design: Design, *, nester: Nester | None = None) -> dict[PaperSize, Pattern]:
    """The patterns that `customers_files` prints, nested by `nester`, quickly unless it is given.

    Raises:
        Refusal: what cannot be made for a customer.
    """
    how = Nester() if nester is None else nester
    patterns: dict[PaperSize, Pattern] = {}
    for paper in PAPERS_PRINTED:
        patterns[paper] = draft(customers_design(design, paper), nester=how)
        how = replace(
            how, given={**how.given, **patterns[paper].searched}
        )  # what it buys is the same on any paper
    return patterns


def customers_files(
    patterns: Mapping[PaperSize, Pattern], *, progress: Callable[[str], None] | None = None
) -> dict[str, bytes]:
    """Every file of the edition by its name in the folder, the record of them last.

    `patterns` has the pattern of the customer's design for each of `PAPERS_PRINTED`. The same patterns give the same
    bytes. `progress` is told the step of each file before it is made.
    """
    first = patterns[PAPERS_PRINTED[0]]
    stem = readable_name(first.title, longest=_LONGEST_NAME).lower() or "pattern"
    second = {paper: one.second for paper, one in patterns.items() if one.second is not None}
    made: list[_File] = []
    if second:
        stems = [
            f"{stem}-{METHOD_FILES[ways[PAPERS_PRINTED[0]].design.sewing.method]}"
            for ways in (patterns, second)
        ]
        made += _in_one_method(patterns, stems[0], _Other(second, stems[1]))
        made += _in_one_method(second, stems[1], _Other(patterns, stems[0]))
    else:
        made += _in_one_method(patterns, stem, None)
    made.append(("to-color", f"{stem}-to-color.pdf", lambda: coloring_pdf(first)))
    files: dict[str, bytes] = {}
    for step, name, make in made:
        if progress is not None:
            progress(step)
        files[name] = make()
    return with_record(files)


class _Other(NamedTuple):
    """The patterns of the other method to choose, and what the names of its files begin with."""

    patterns: Mapping[PaperSize, Pattern]
    stem: str


_File: TypeAlias = tuple[str, str, Callable[[], bytes]]
"""The step that makes a file, its name, and how it is made."""


def _in_one_method(patterns: Mapping[PaperSize, Pattern], stem: str, other: _Other | None) -> Iterator[_File]:
    """What is printed, cut and read in one method, by names that begin with `stem`."""
    first = patterns[PAPERS_PRINTED[0]]
    whole = {paper: f"{stem}-{paper.value}.pdf" for paper in patterns}
    for paper, pattern in patterns.items():
        yield from _printed(pattern, paper, stem, whole[paper], other)
    page = f"{stem}-sew-along.html"
    on_any = instructions_of(
        first,
        edition=Edition.CUSTOMER,
        papers={paper: pattern.sheets for paper, pattern in patterns.items()},
        other_way=_way(other, PAPERS_PRINTED[0], "-sew-along.html"),
    )
    cut_files_of = f"{stem}-cut-files"
    besides = besides_said_to_customers(
        on_any.method,
        letter=whole[PaperSize.LETTER],
        a4=whole[PaperSize.A4],
        cut_files=f"{cut_files_of}.zip",
    )
    yield "cut-files", f"{cut_files_of}.zip", lambda: zipped(cut_files_of, _cut_files(first))
    yield "sew-along", page, lambda: sew_along_html(first, on_any, besides)


def _way(other: _Other | None, paper: PaperSize, ending: str) -> OtherWay | None:
    if other is None:
        return None
    return OtherWay(pattern=other.patterns[paper], file=f"{other.stem}{ending}")


def _cut_files(pattern: Pattern) -> dict[str, bytes]:
    """The cut files and a page of text that says which is which."""
    design, tell = pattern.design, pattern.speech.tell
    listed = files_said(
        design.sewing.method,
        pattern.templates,
        panels=bool(pattern.panel_templates),
        in_mats=bool(pattern.mats),
        quilting=bool(pattern.quilting),
    )
    lines = (pattern.title, "", tell(FOR_A_MACHINE), "", *(f"- {tell(line)}" for line in listed), "")
    return {_READ_ME: "\n".join(lines).encode("utf-8"), **cut_files(pattern)}


def _printed(
    pattern: Pattern, paper: PaperSize, stem: str, whole: str, other: _Other | None
) -> Iterator[_File]:
    """What is printed on one paper: the whole pattern, and the template pages alone."""
    size = paper.value
    told = instructions_of(pattern, edition=Edition.CUSTOMER, other_way=_way(other, paper, f"-{size}.pdf"))
    yield f"pattern-{size}", whole, lambda: whole_pattern_pdf(pattern, told)
    yield f"templates-{size}", f"{stem}-templates-{size}.pdf", lambda: template_pages_pdf(pattern)

"""The command line: reads arguments, calls the rooms, shows the result.

Exit 0 made, 1 refused, 2 wrong usage; what else can end a command is the business of `__main__`. Rooms are imported
inside the commands, so that `applique --help` is quick.
"""

from __future__ import annotations

import io
import json
import math
import re
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, ParamSpec

import click

from applique.errors import Notice, Problem, Refusal

if TYPE_CHECKING:
    from applique.batch import CheckedRow, Outcome
    from applique.design import Design
    from applique.pack import Written
    from applique.pattern import Pattern

__all__ = ["main"]

P = ParamSpec("P")
_SECONDS_A_LETTER: Final = 0.008
"""For all but the search for nests, by `docs/performance.md`."""
_LONG_SECONDS: Final = 8.0


def _refusing(command: Callable[P, None]) -> Callable[P, None]:
    """Say a refusal, every problem of it, and leave with 1: on standard error, or as JSON where that is asked for."""

    @wraps(command)
    def refusing(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            command(*args, **kwargs)
        except Refusal as refusal:
            _say_refused(refusal, as_json=bool(kwargs.get("as_json")))
            sys.exit(1)

    return refusing


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="applique", message="%(version)s")
def main() -> None:
    """Quilts of words: letters at true size, templates, placement guide, cut files and yardage."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(
            stream, io.TextIOWrapper
        ):  # a pipe of few letters must not stop the work over a Hebrew word
            stream.reconfigure(errors="backslashreplace")


@main.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help="Folder to write; named after the design if not given.",
)
@click.option(
    "--text",
    "texts",
    multiple=True,
    metavar="WORDS",
    help="A row of words, instead of FILE; repeat for more rows.",
)
@click.option("--font", metavar="NAME", help="A bundled font, or the path of a font file.")
@click.option(
    "--cap-height", metavar="LENGTH", help="Height of the H, such as 7in; the largest that fits if not given."
)
@click.option("--panel", metavar="SIZE", help="Finished panel, width by height, such as 30x40in.")
@click.option("--title", metavar="WORDS", help="Title of the pattern.")
@click.option(
    "--replace",
    is_flag=True,
    help="Replace a finished folder that was changed since; what you changed or added is kept.",
)
@click.option(
    "--each",
    "names",
    type=click.Path(path_type=Path),
    metavar="CSV",
    help="Make FILE once for each row of a list, placeholders such as {name} filled from its columns.",
)
@click.option("--json", "as_json", is_flag=True, help="Say it as JSON, for other programs.")
@click.option(
    "--effort",
    type=click.Choice(["quick", "normal", "long"]),
    default="normal",
    show_default=True,
    help="How long to look for the shortest piece of cloth; what is found is kept for the next time.",
)
@_refusing
def make(
    file: Path | None,
    output: Path | None,
    texts: tuple[str, ...],
    font: str | None,
    cap_height: str | None,
    panel: str | None,
    title: str | None,
    replace: bool,
    names: Path | None,
    as_json: bool,
    effort: str,
) -> None:
    """Make the pattern of FILE, or of the words given with --text, into one folder."""
    from applique.pack import check_folder, font_files, write_pack

    options = {"font": font, "cap_height": cap_height, "panel": panel, "title": title}
    if names is not None:
        if file is None or texts or any(options.values()):
            raise click.UsageError("--each goes with FILE alone: the design to fill in for each row.")
        _make_each(file, names, output or Path(f"{file.stem}-each"), effort, replace=replace, as_json=as_json)
        return
    design = _design_of(file, texts, options)
    folder = output or Path(_folder_name(file, design))
    sources = (*font_files(design), *([file] if file is not None else ()))
    check_folder(folder, replace=replace, sources=sources)
    _say_how_long(design, effort)
    pattern = _drafted(design, effort, beside=None if file is None else file.parent)
    written = write_pack(pattern, folder, replace=replace, sources=sources, progress=_progress())
    _note_written(folder)
    if as_json:
        _say_json(_made_as_data(pattern, folder, written))
    else:
        _say_what_was_made(pattern, folder, written)


def _note_written(path: Path) -> None:
    """Put down that `path` was written, for whoever has to say so if the command ends early (see `__main__`)."""
    click.get_current_context().ensure_object(list).append(path)


def _made_as_data(pattern: Pattern, folder: Path, written: Written) -> dict[str, Any]:
    return {
        "title": pattern.title,
        "folder": str(folder),
        "files": [str(path) for path in written.files],
        **_kept_as_data(written),
        "finished": [float(side) for side in pattern.quilt.finished],
        "letters": pattern.letter_count,
        "template_pages": pattern.sheets.page_count + 1,
        "notices": [_as_data(notice) for notice in pattern.notices],
    }


def _kept_as_data(written: Written | None) -> dict[str, Any]:
    """What of the maker's own was in the folder: what stayed in it, and what was moved to folders beside it."""
    if written is None:
        return {"left": [], "kept": [], "beside": []}
    beside = [str(place) for place in written.beside]
    return {"left": list(written.left), "kept": list(written.kept), "beside": beside}


def _say_what_was_kept(written: Written) -> None:
    if written.kept:
        click.echo(f"  kept in {written.beside[0]}, since it was changed: {', '.join(written.kept)}")
    for place in written.beside[1 if written.kept else 0 :]:
        click.echo(f"  kept in {place}: what came into the folder meanwhile")
    if written.left:
        click.echo(f"  left where it was: {', '.join(written.left)}")


def _make_each(file: Path, names: Path, folder: Path, effort: str, *, replace: bool, as_json: bool) -> None:
    """Make FILE for each row of the list, say what became of each, and leave with 1 if any was refused."""
    from applique.batch import State, left_over, make_each
    from applique.nesting import Effort

    outcomes: list[Outcome] = []
    made = make_each(file, names, folder, effort=Effort[effort.upper()], replace=replace)
    # It stands from here on, and rows are finished in it before it is their turn to be told.
    _note_written(folder)
    for outcome in made:
        outcomes.append(outcome)
        if as_json:
            continue
        for problem in outcome.problems:
            click.echo(str(problem), err=True)
        if outcome.state is not State.REFUSED:
            risks = f", {len(outcome.notices)} to look at in summary.md" if outcome.notices else ""
            click.echo(f"list row {outcome.row}: {outcome.folder} {outcome.state.value}{risks}")
        if outcome.written is not None:
            _say_what_was_kept(outcome.written)
    counts = {state: sum(outcome.state is state for outcome in outcomes) for state in State}
    left = [str(path) for path in left_over(folder, outcomes)]
    if as_json:
        _say_json({"rows": [_outcome_as_data(outcome) for outcome in outcomes], "left_over": left})
    else:
        click.echo(", ".join(f"{counts[state]} {state.value}" for state in State))
        for path in left:
            click.echo(
                f"! {path}: no row of the list makes this any more\n  try: look at it, then take it away"
            )
    if counts[State.REFUSED]:
        sys.exit(1)


def _outcome_as_data(outcome: Outcome) -> dict[str, Any]:
    return {
        "row": outcome.row,
        "folder": str(outcome.folder),
        "state": outcome.state.value,
        **_kept_as_data(outcome.written),
        "problems": [_as_data(problem) for problem in outcome.problems],
        "notices": [_as_data(notice) for notice in outcome.notices],
    }


def _say_json(data: object) -> None:
    click.echo(json.dumps(data, ensure_ascii=False, indent=1))


def _design_of(file: Path | None, texts: tuple[str, ...], options: Mapping[str, str | None]) -> Design:
    from applique.design import design_from_mapping, read_design

    given = [f"--{name.replace('_', '-')}" for name, value in options.items() if value is not None]
    if file is not None:
        if texts or given:
            raise click.UsageError(
                f"{'--text' if texts else given[0]} does not go with FILE; change the file instead."
            )
        return read_design(file)
    if not texts:
        raise click.UsageError("Give a design FILE, or words with --text.")
    lettering = {key: options[key] for key in ("font", "cap_height") if options[key] is not None}
    data: dict[str, Any] = {"row": [{"text": text} for text in texts], "lettering": lettering}
    if options["panel"] is not None:
        data["panel"] = _panel_size(options["panel"])
    if options["title"] is not None:
        data["title"] = options["title"]
    return design_from_mapping(data, base=Path())


def _panel_size(size: str) -> dict[str, str]:
    """Width and height of `30x40in`, `30in x 40in` or `76×102 cm`; one unit may serve both."""
    parts = re.split(r"\s*[x×X*]\s*|\s+by\s+", size.strip())
    unit = re.search(r"[^\d\s./,½¼¾⅛⅜⅝⅞-]+$", parts[-1])
    if len(parts) != 2 or not all(parts) or unit is None:
        raise Refusal(
            Problem(
                what=f"“{size}” is no panel size", where="--panel", fix='width by height, such as "30x40in"'
            )
        )
    width = parts[0] if re.search(r"[^\d\s./,½¼¾⅛⅜⅝⅞-]", parts[0]) else parts[0] + unit[0]
    return {"width": width, "height": parts[1]}


def _folder_name(file: Path | None, design: Design) -> str:
    from applique.pack import folder_name

    if file is not None:
        return file.stem
    return folder_name(design.title or " ".join(line.text for line in design.row))


def _drafted(design: Design, effort: str = "quick", *, beside: Path | None = None) -> Pattern:
    """The pattern of `design`, with nests from the folder `beside` it, from those kept before, or found now."""
    from applique.nesting import Effort, Nester, can_search
    from applique.pattern import draft
    from applique.store import FolderStore, cache_folder, nests_beside

    chosen = Effort[effort.upper()]
    if chosen is Effort.QUICK:
        return draft(design)
    if not can_search():
        click.echo(
            "The nesting library is not installed; letters are laid out by our own placement where no nest is kept.",
            err=True,
        )
    elif chosen is Effort.LONG and sys.stderr.isatty():
        click.echo("  looking for a shorter layout; Ctrl-C takes what there is", err=True)
    with _stopped_by_hand(chosen is Effort.LONG) as stop:
        nester = Nester(
            effort=chosen,
            store=FolderStore(cache_folder()),
            given={} if beside is None else nests_beside(beside),
            stop=stop,
        )
        return draft(design, nester=nester)


@contextmanager
def _stopped_by_hand(wanted: bool) -> Iterator[Callable[[], bool] | None]:
    """Within it, Ctrl-C ends a long search instead of the program; yields what tells whether it was pressed."""
    if not wanted:
        yield None
        return
    pressed = threading.Event()
    former = signal.signal(signal.SIGINT, lambda *_: pressed.set())
    try:
        yield pressed.is_set
    finally:
        signal.signal(signal.SIGINT, former)


def _say_how_long(design: Design, effort: str) -> None:
    """Tell a person who is watching how long it will take, if that is long."""
    from applique.nesting import Effort, search_seconds

    letters = sum(not sign.isspace() for line in design.row for sign in line.text)
    seconds = search_seconds(letters, Effort[effort.upper()]) + letters * _SECONDS_A_LETTER
    if sys.stderr.isatty() and seconds > _LONG_SECONDS:
        click.echo(
            f"  {letters} letters: about {math.ceil(seconds / 5) * 5} seconds, less a second time", err=True
        )


def _progress() -> Callable[[str], None] | None:
    """Say each step on standard error when a person is watching."""
    if not sys.stderr.isatty():
        return None
    return lambda step: click.echo(f"  {step}", err=True)


def _say_what_was_made(pattern: Pattern, folder: Path, written: Written) -> None:
    from applique.units import format_both, format_yards

    units = pattern.design.units
    across, down = (format_both(side, units) for side in pattern.quilt.finished)
    click.echo(f"{pattern.title}: {len(written.files)} files in {folder}")
    _say_what_was_kept(written)
    click.echo(
        f"  quilt {across} by {down}, {pattern.letter_count} letters, {pattern.sheets.page_count + 1} template pages"
    )
    for buy in pattern.shopping.cloth:
        click.echo(f"  {buy.fabric.name}: {format_yards(buy.buy, units)}")
    click.echo(f"  {pattern.fusible.material}: {format_yards(pattern.fusible.buy, units)}")
    _say_notices(pattern.notices)
    if pattern.findings:
        click.echo("  `applique check` on the design offers cures that it has tried.")
    click.echo(f"Next: read {folder / 'summary.md'}")


def _say_notices(notices: tuple[Notice, ...]) -> None:
    for notice in notices:
        click.echo(f"! {notice}")


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Say it as JSON, for other programs.")
@click.option(
    "--fix", is_flag=True, help="Write a design with the first cure of each finding; show the difference."
)
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help="The file that --fix writes; FILE-mended.toml if not given.",
)
@click.option("--replace", is_flag=True, help="Overwrite the file that --fix writes.")
@click.option(
    "--each",
    "names",
    type=click.Path(path_type=Path),
    metavar="CSV",
    help="Check FILE, a template, with each row of a list.",
)
@_refusing
def check(
    file: Path, as_json: bool, fix: bool, output: Path | None, replace: bool, names: Path | None
) -> None:
    """Say all that is wrong or risky in FILE, each with cures that have been tried; write nothing without --fix."""
    from applique.design import read_design
    from applique.sewing.cures import tried_cures

    if names is not None and fix:
        raise click.UsageError("--fix does not go with --each; change the template by hand.")
    if (output is not None or replace) and not fix:
        raise click.UsageError("--output and --replace go with --fix.")
    if names is not None:
        _check_each(file, names, as_json=as_json)
        return
    target = output or file.with_name(f"{file.stem}-mended.toml")
    design = read_design(file)
    pattern = _drafted(design)
    tried = tried_cures(pattern.checks)
    if as_json:
        said = {"problems": [], "notices": [_as_data(n, tried.get(str(n), ())) for n in pattern.notices]}
        mended = {"mended": _mend(design, target, replace=replace, show=False)} if fix else {}
        _say_json({**said, **mended})
        return
    _say_notices_and_cures(pattern.notices, tried)
    click.echo(
        "It can be made; look at the above first." if pattern.notices else "Nothing stands in the way."
    )
    if fix:
        for words in _mend(design, target, replace=replace, show=True)["done"]:
            click.echo(words)


def _check_each(file: Path, names: Path, *, as_json: bool) -> None:
    """Say what is wrong or risky in each row of the list, and leave with 1 if any would be refused."""
    from applique.batch import check_each

    rows: list[CheckedRow] = []
    for checked in check_each(file, names):
        rows.append(checked)
        if as_json:
            continue
        for problem in checked.problems:
            click.echo(str(problem), err=True)
        _say_notices_and_cures(checked.notices, checked.tried)
        if not checked.problems and not checked.notices:
            click.echo(f"list row {checked.row}: nothing stands in the way")
    refused = sum(bool(checked.problems) for checked in rows)
    risky = sum(bool(checked.notices) for checked in rows)
    if as_json:
        _say_json({"rows": [_checked_as_data(checked) for checked in rows]})
    else:
        click.echo(f"{len(rows) - refused - risky} ready, {risky} to look at, {refused} refused")
    if refused:
        sys.exit(1)


def _checked_as_data(checked: CheckedRow) -> dict[str, Any]:
    return {
        "row": checked.row,
        "problems": [_as_data(problem) for problem in checked.problems],
        "notices": [_as_data(notice, checked.tried.get(str(notice), ())) for notice in checked.notices],
    }


def _say_notices_and_cures(notices: tuple[Notice, ...], tried: Mapping[str, tuple[str, ...]]) -> None:
    for notice in notices:
        click.echo(f"! {notice}" if str(notice) not in tried else f"! {notice.where}: {notice.what}")
        for words in tried.get(str(notice), ()):
            click.echo(f"  try: {words}")


def _say_refused(refusal: Refusal, *, as_json: bool) -> None:
    if as_json:
        said = {"problems": [_as_data(problem) for problem in refusal.problems], "notices": []}
        _say_json(said)
        return
    for problem in refusal.problems:
        click.echo(str(problem), err=True)


def _as_data(said: Problem | Notice, tried: tuple[str, ...] = ()) -> dict[str, Any]:
    return {
        "what": said.what,
        "where": said.where,
        "fix": tried[0] if tried else said.fix,
        "cures": list(tried),
    }


def _mend(design: Design, target: Path, *, replace: bool, show: bool) -> dict[str, Any]:
    """Write the design with its cures, after the difference if `show`; the file written and what was done, in words."""
    import difflib

    from applique.design import design_text
    from applique.pack import write_text
    from applique.sewing.cures import cured_design

    mended, taken, given_up = cured_design(design)
    if not taken:
        words = "no cure was found" if given_up else "there is nothing to cure"
        return {"file": None, "done": [f"Nothing was changed: {words}."]}
    if show:
        before, after = (design_text(one, base=target.parent).splitlines() for one in (design, mended))
        click.echo(
            "\n".join(difflib.unified_diff(before, after, "the design", str(target), lineterm="", n=2))
        )
    write_text(target, design_text(mended, base=target.parent), replace=replace)
    _note_written(target)
    done = [f"Wrote {target}:", *(f"  {finding.where}: {cure.words}" for finding, cure in taken)]
    done += [f"  {finding.where}: no cure was found; {finding.what}" for finding in given_up]
    return {"file": str(target), "done": done}


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--replace", is_flag=True, help="Overwrite FILE if it exists.")
@click.option("--json", "as_json", is_flag=True, help="Say it as JSON, for other programs.")
@_refusing
def new(file: Path, replace: bool, as_json: bool) -> None:
    """Write a commented design to FILE, to start from."""
    from applique.pack import write_text
    from applique.starter import STARTER

    write_text(file, STARTER, replace=replace)
    _note_written(file)
    if as_json:
        _say_json({"file": str(file)})
        return
    click.echo(f"Wrote {file}. Change the words, then: applique make {file}")


@main.command()
@click.argument("paths", nargs=-1, metavar="[PATH]...")
@click.option("--sample", metavar="WORDS", help="Words to try: says which fonts can spell them.")
@click.option("--json", "as_json", is_flag=True, help="Say it as JSON, for other programs.")
@_refusing
def fonts(paths: tuple[str, ...], sample: str | None, as_json: bool) -> None:
    """List the bundled fonts and what each can spell, or describe the font files at PATH."""
    from applique.typeset.bundled import BUNDLED
    from applique.typeset.describe import describe_font

    names = paths or tuple(font.name for font in BUNDLED)
    described = [describe_font(name, sample=sample) for name in names]
    if as_json:
        _say_json([font.as_data() for font in described])
        return
    click.echo("\n\n".join(font.as_text() for font in described))


@main.command()
def schema() -> None:
    """Print the JSON Schema of the design file, for editors that complete TOML."""
    from applique.design import design_schema

    click.echo(json.dumps(design_schema(), ensure_ascii=False, indent=2))


@main.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option(
    "--port", type=click.IntRange(0, 65535), default=0, help="Port to use; any that is free if not given."
)
@click.option("--no-browser", is_flag=True, help="Only print the address.")
@click.option("--until-closed", is_flag=True, help="Stop when the last page is closed.")
@_refusing
def serve(file: Path | None, port: int, no_browser: bool, until_closed: bool) -> None:
    """Open the page that does the whole job, on this machine only, with the design of FILE if given."""
    from applique.web import serve as serve_page

    def say(address: str) -> None:
        click.echo(f"The page is at {address}\nCtrl-C stops it.")

    serve_page(file, port=port, open_browser=not no_browser, until_closed=until_closed, say=say)

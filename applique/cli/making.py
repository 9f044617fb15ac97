"""`applique make`: the pattern of one design, or of each row of a list."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from applique.cli.drafting import design_of, drafted, folder_name_of, say_how_long, shown_progress
from applique.cli.helping import command, helps, option
from applique.cli.saying import (
    as_data,
    kept_as_data,
    note_written,
    say_json,
    say_notices,
    say_problems,
    say_shared_height,
    say_what_was_kept,
    saying_refusals,
    terminal_speech,
)
from applique.language import messages

if TYPE_CHECKING:
    from applique.batch import Outcome
    from applique.design import Design
    from applique.pack import Written
    from applique.pattern import Pattern

__all__ = ["make"]


@command(help=helps("Make the pattern of FILE, or of the words given with --text, into one folder."))
@click.argument("file", required=False, type=click.Path(path_type=Path))
@option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help=helps("Folder to write; named after the design if not given."),
)
@option(
    "--text",
    "texts",
    multiple=True,
    metavar="WORDS",
    help=helps("A row of words, instead of FILE; repeat for more rows."),
)
@option("--font", metavar="NAME", help=helps("A bundled font, or the path of a font file."))
@option(
    "--cap-height",
    metavar="LENGTH",
    help=helps("Letter height (capital H), such as 7in; the largest that fits if not given."),
)
@option("--panel", metavar="SIZE", help=helps("Finished panel, width by height, such as 30x40in."))
@option("--title", metavar="WORDS", help=helps("Title of the pattern."))
@option(
    "--replace",
    is_flag=True,
    help=helps("Replace a finished folder that was changed since; what you changed or added is kept."),
)
@option(
    "--each",
    "names",
    type=click.Path(path_type=Path),
    metavar="CSV",
    help=helps("Make FILE once for each row of a list, its placeholders in braces filled from the columns."),
)
@option(
    "--same-height",
    is_flag=True,
    help=helps(
        "With --each: letters of all names in one height, the largest at which the longest name fits."
    ),
)
@option(
    "--print-together",
    "together",
    type=click.Choice(["names", "sheets"]),
    help=helps(
        "With --each: one more file to print, with the sheets of all names behind a page that says where each begins; "
        "those of one name together, or all templates, then all guides."
    ),
)
@option(
    "--for-customers",
    is_flag=True,
    help=helps(
        "Make the pattern to sell or give away instead: on letter and A4 paper, as a folder and a zip, with nothing "
        "in it that is only for you."
    ),
)
@option("--json", "as_json", is_flag=True, help=helps("Print the result as JSON."))
@option(
    "--effort",
    type=click.Choice(["quick", "normal", "long"]),
    default="normal",
    show_default=True,
    help=helps("How long to look for the shortest piece of fabric; what is found is kept for the next time."),
)
@saying_refusals
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
    same_height: bool,
    together: str | None,
    for_customers: bool,
    as_json: bool,
    effort: str,
) -> None:
    """The command `make`."""
    from applique.pack import check_folder, source_files, write_pack

    options = {"font": font, "cap_height": cap_height, "panel": panel, "title": title}
    if names is not None:
        if for_customers:
            raise click.UsageError(terminal_speech().say("--each and --for-customers do not go together."))
        if file is None or texts or any(options.values()):
            raise click.UsageError(
                terminal_speech().say("--each goes with FILE alone: the design to fill in for each row.")
            )
        _make_each(
            file, names, output or Path(f"{file.stem}-each"), effort,
            same_height=same_height, together=together, replace=replace, as_json=as_json,
        )  # fmt: skip
        return
    if same_height or together is not None:
        option = "--same-height" if same_height else "--print-together"
        raise click.UsageError(terminal_speech().say("{option} goes with --each.", option=option))
    design = design_of(file, texts, options)
    if for_customers:
        _make_for_customers(file, design, output, effort, replace=replace, as_json=as_json)
        return
    folder = output or Path(folder_name_of(file, design))
    sources = (*source_files(design), *([file] if file is not None else ()))
    check_folder(folder, replace=replace, sources=sources)
    say_how_long(design, effort)
    pattern = drafted(design, effort, beside=None if file is None else file.parent)
    written = write_pack(pattern, folder, replace=replace, sources=sources, progress=shown_progress())
    note_written(folder)
    if as_json:
        say_json(_made_as_data(pattern, folder, written))
    else:
        _say_what_was_made(pattern, folder, written)


def _make_for_customers(
    file: Path | None, design: Design, output: Path | None, effort: str, *, replace: bool, as_json: bool
) -> None:
    """Make the customer's edition, with the nests that the maker's own pattern was made with where it was."""
    from applique.for_customers import PAPERS_PRINTED, customers_design
    from applique.pack import check_folder, check_zip, source_files, write_for_customers

    folder = output or Path(f"{folder_name_of(file, design)}-for-customers")
    sources = (*source_files(design), *([file] if file is not None else ()))
    check_folder(folder, replace=replace, sources=sources)
    check_zip(folder, replace=replace)
    say_how_long(design, effort)
    patterns = {}
    for paper in PAPERS_PRINTED:
        patterns[paper] = drafted(
            customers_design(design, paper), effort, beside=None if file is None else file.parent
        )
    written = write_for_customers(
        patterns, folder, replace=replace, sources=sources, progress=shown_progress()
    )
    note_written(folder)
    if as_json:
        say_json(
            {
                "title": patterns[PAPERS_PRINTED[0]].title,
                "folder": str(folder),
                "files": [str(p) for p in written.files],
                **kept_as_data(written),
            }
        )
        return
    speech = terminal_speech()
    click.echo(
        speech.count(
            "{title}, for customers: {count} file in {folder}, and all of it in {zip}",
            "{title}, for customers: {count} files in {folder}, and all of it in {zip}",
            len(written.files) - 1,
            title=patterns[PAPERS_PRINTED[0]].title,
            folder=str(folder),
            zip=str(written.files[-1]),
        )
    )
    say_what_was_kept(written)
    click.echo(
        speech.say(
            "Next: print the template pages on paper of your own and measure them, as a customer would."
        )
    )


def _made_as_data(pattern: Pattern, folder: Path, written: Written) -> dict[str, Any]:
    return {
        "title": pattern.title,
        "folder": str(folder),
        "files": [str(path) for path in written.files],
        **kept_as_data(written),
        **_sizes_as_data(pattern),
        "letters": pattern.letter_count,
        "template_pages": pattern.sheets.page_count + 1,
        "notices": [as_data(notice) for notice in pattern.notices],
    }


def _sizes_as_data(pattern: Pattern) -> dict[str, Any]:
    blocks = pattern.quilt.blocks
    whole = {} if pattern.quilt.apart else {"finished": [float(side) for side in pattern.sketch.made_size]}
    if not blocks:
        return whole
    return {
        **whole,
        "blocks": [
            {"name": one.name, "count": one.count, "finished": [float(side) for side in one.finished]}
            for one in blocks
        ],
    }


def _say_what_was_made(pattern: Pattern, folder: Path, written: Written) -> None:
    from applique.units import as_size_both, as_yardage
    from applique.words.blocks import how_many_said
    from applique.words.buying import amount_said, material_said
    from applique.words.quilt import MADE
    from applique.words.sheets import letters_said

    units, speech = pattern.design.units, terminal_speech()
    across, down = (as_size_both(side, units) for side in pattern.sketch.made_size)
    click.echo(
        speech.count(
            "{title}: {count} file in {folder}",
            "{title}: {count} files in {folder}",
            len(written.files),
            title=pattern.title,
            folder=str(folder),
        )
    )
    say_what_was_kept(written)
    letters = letters_said(pattern.letter_count, pieces=pattern.piece_count, joined=pattern.joins_letters)
    pages = messages("{count} template page", "{count} template pages", pattern.sheets.page_count + 1)
    if pattern.quilt.apart:
        blocks = how_many_said(sum(block.count for block in pattern.quilt.blocks))
        click.echo(speech.say("  {blocks}, {letters}, {pages}", blocks=blocks, letters=letters, pages=pages))
    else:
        click.echo(
            speech.say(
                "  {what} {across} by {down}, {letters}, {pages}",
                what=MADE[pattern.design.finish],
                across=across,
                down=down,
                letters=letters,
                pages=pages,
            )
        )
    bought = [(buy.fabric.name, amount_said(buy, units)) for buy in pattern.shopping.cloth]
    web = (material_said(pattern.fusible), as_yardage(pattern.fusible.buy, units))
    for name, amount in (*bought, web):
        click.echo(speech.say("  {name}: {amount}", name=name, amount=amount))
    say_notices(pattern.notices)
    if any(risk.finding for risk in pattern.risks):
        click.echo(speech.say("  `applique check` on the design offers cures that it has tried."))
    click.echo(speech.say("Next: read {file}", file=str(folder / "summary.md")))


def _make_each(
    file: Path,
    names: Path,
    folder: Path,
    effort: str,
    *,
    same_height: bool,
    together: str | None,
    replace: bool,
    as_json: bool,
) -> None:
    """Make FILE for each row of the list, say what became of each, and leave with 1 if any was refused."""
    from applique.batch import TO_PRINT, State, Together, left_over, make_each, shared_height, write_to_print
    from applique.nesting import Effort
    from applique.pack import check_folder, holds_pack

    shared = shared_height(file, names) if same_height else None
    if same_height and not as_json:
        say_shared_height(shared)
    height = None if shared is None else shared.height
    outcomes: list[Outcome] = []
    made = make_each(file, names, folder, effort=Effort[effort.upper()], replace=replace, height=height)
    if together is not None:
        check_folder(folder / TO_PRINT, replace=replace, sources=(file, names))
    # It stands from here on, and rows are finished in it before it is their turn to be told.
    note_written(folder)
    for outcome in made:
        outcomes.append(outcome)
        if as_json:
            continue
        say_problems(outcome.problems)
        _say_outcome(outcome)
        if outcome.written is not None:
            say_what_was_kept(outcome.written)
    printed = None
    if together is not None:
        printed = write_to_print(
            file, names, outcomes, folder, together=Together(together), height=height, replace=replace
        )
    counts = {state: sum(outcome.state is state for outcome in outcomes) for state in State}
    left = [str(path) for path in left_over(folder, outcomes)]
    if as_json:
        say_json(
            {
                "rows": [_outcome_as_data(outcome) for outcome in outcomes],
                "left_over": left,
                "same_height": None if height is None else float(height),
                "to_print": None if printed is None else str(printed.files[0]),
            }
        )
    else:
        speech = terminal_speech()
        click.echo(
            speech.say(
                "{made} made, {kept} kept, {refused} refused",
                made=counts[State.MADE],
                kept=counts[State.KEPT],
                refused=counts[State.REFUSED],
            )
        )
        for path in left:
            click.echo(
                speech.say(
                    "! {folder}: no row of the list makes this any more\n  try: look at it, then take it away",
                    folder=path,
                )
            )
        if printed is not None:
            say_what_was_kept(printed)
            click.echo(speech.say("To print: {file}", file=str(printed.files[0])))
        elif holds_pack(folder / TO_PRINT):
            click.echo(
                speech.say(
                    "! {folder}: from an earlier run\n  try: --print-together makes it anew",
                    folder=str(folder / TO_PRINT),
                )
            )
    if counts[State.REFUSED]:
        sys.exit(1)


def _say_outcome(outcome: Outcome) -> None:
    """Print what became of a row that was not refused."""
    from applique.batch import State

    speech, row, folder = terminal_speech(), str(outcome.row), str(outcome.folder)
    risks = len(outcome.notices)
    match outcome.state:
        case State.KEPT:
            click.echo(speech.say("list row {row}: {folder} kept", row=row, folder=folder))
        case State.MADE if risks:
            click.echo(
                speech.count(
                    "list row {row}: {folder} made, {count} to look at in summary.md",
                    "list row {row}: {folder} made, {count} to look at in summary.md",
                    risks,
                    row=row,
                    folder=folder,
                )
            )
        case State.MADE:
            click.echo(speech.say("list row {row}: {folder} made", row=row, folder=folder))


def _outcome_as_data(outcome: Outcome) -> dict[str, Any]:
    return {
        "row": outcome.row,
        "folder": str(outcome.folder),
        "state": outcome.state.value,
        **kept_as_data(outcome.written),
        "problems": [as_data(problem) for problem in outcome.problems],
        "notices": [as_data(notice) for notice in outcome.notices],
    }

"""`applique check`: what is wrong or risky in one design, or in each row of a list, and what cures it."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from applique.cli.drafting import drafted
from applique.cli.helping import command, helps, option
from applique.cli.saying import (
    as_data,
    note_written,
    say_json,
    say_problems,
    say_shared_height,
    saying_refusals,
    terminal_speech,
)
from applique.language import NOTHING, american, messages

if TYPE_CHECKING:
    from applique.advice import Advice
    from applique.batch import CheckedRow
    from applique.design import Design
    from applique.held_numbers import HeldNumber
    from applique.language import Message, Speech
    from applique.sewing.findings import Finding
    from applique.units import Units
    from applique.words.accepted import Acceptance

__all__ = ["check"]


@command(
    help=helps(
        "Say all that is wrong or risky in FILE, each with cures that have been tried; write nothing without --fix."
    )
)
@click.argument("file", type=click.Path(path_type=Path))
@option("--json", "as_json", is_flag=True, help=helps("Print the result as JSON."))
@option(
    "--fix",
    is_flag=True,
    help=helps("Write a design with the first cure of each finding; show the difference."),
)
@option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help=helps("The file that --fix writes; FILE-mended.toml if not given."),
)
@option("--replace", is_flag=True, help=helps("Overwrite the file that --fix writes."))
@option(
    "--each",
    "names",
    type=click.Path(path_type=Path),
    metavar="CSV",
    help=helps("Check FILE, a template, with each row of a list."),
)
@option(
    "--same-height",
    is_flag=True,
    help=helps("With --each: as `make` does it, with the letters of all names in one height."),
)
@saying_refusals
def check(
    file: Path,
    as_json: bool,
    fix: bool,
    output: Path | None,
    replace: bool,
    names: Path | None,
    same_height: bool,
) -> None:
    """The command `check`."""
    from applique.advice import advise
    from applique.design import read_design
    from applique.pattern import rests_on_nests
    from applique.reports import accepted_data
    from applique.words.held_numbers import short_notices

    if names is not None and fix:
        raise click.UsageError(
            terminal_speech().say("--fix does not go with --each; change the template by hand.")
        )
    if (output is not None or replace) and not fix:
        raise click.UsageError(terminal_speech().say("--output and --replace go with --fix."))
    if names is not None:
        _check_each(file, names, same_height=same_height, as_json=as_json)
        return
    if same_height:
        raise click.UsageError(terminal_speech().say("{option} goes with --each.", option="--same-height"))
    target = output or file.with_name(f"{file.stem}-mended.toml")
    design = read_design(file)
    # As `make` does it, so that both say the same numbers.
    effort = "normal" if rests_on_nests(design) else "quick"
    pattern = drafted(design, effort, beside=file.parent)
    advice = advise(pattern)
    if as_json:
        said = {
            "problems": [],
            "notices": [_advice_as_data(one) for one in advice],
            "accepted": [accepted_data(one) for one in pattern.accepted],
            "stated": [_held_as_data(one, design.units) for one in pattern.stated],
        }
        mended = {"mended": _mend(design, target, american(), replace=replace, show=False)} if fix else {}
        say_json({**said, **mended})
        return
    _say_advice(advice)
    _say_held(pattern.stated, design.units)
    _say_accepted(pattern.accepted)
    _say_what_to_accept(advice)
    speech = terminal_speech()
    if advice or short_notices(pattern.stated, design.units):
        click.echo(speech.say("It can be made; look at the above first."))
    else:
        click.echo(speech.say("No problems found."))
    if fix:
        for words in _mend(design, target, speech, replace=replace, show=True)["done"]:
            click.echo(words)


def _say_advice(advice: tuple[Advice, ...]) -> None:
    speech = terminal_speech()
    for one in advice:
        click.echo(speech.say("! {notice}", notice=replace(one.notice, fix=NOTHING).as_message()))
        tried: list[Message] = [cure.what for cure in one.cures] or [one.fix]
        for words in (cure for cure in tried if cure):
            click.echo(speech.say("  try: {cure}", cure=words))


def _advice_as_data(advice: Advice) -> dict[str, Any]:
    from applique.reports import entry_data, finding_data

    cures = [{"kind": cure.kind.value, "row": cure.row, "what": str(cure.what)} for cure in advice.cures]
    data = finding_data(advice.finding) if advice.finding else {}
    accept = entry_data(advice.accept) if advice.accept else None
    return {**as_data(advice.notice), "fix": str(advice.fix), "cures": cures, "data": data, "accept": accept}


def _say_accepted(accepted: tuple[Acceptance, ...]) -> None:
    """What the design accepts, with the maker's reasons, and what of it is no longer needed."""
    from applique.words.accepted import ACCEPTED, acceptance_said

    speech = terminal_speech()
    if accepted:
        click.echo(speech.say("{heading}:", heading=ACCEPTED))
    for one in accepted:
        for words in acceptance_said(one):
            click.echo(speech.say("  {notice}", notice=words))


def _say_what_to_accept(advice: tuple[Advice, ...]) -> None:
    """The tables to paste into the design file, one for each finding that may be meant so."""
    from applique.design import accepted_text
    from applique.words.accepted import together

    entries = [one.accept for one in advice if one.accept is not None]
    if not entries:
        return
    speech = terminal_speech()
    click.echo(
        speech.say("Is one of these meant so? Paste its table at the end of the design file, and say why:")
    )
    for entry in together(entries):
        rows = sum(one.finding is entry.finding for one in entries)
        click.echo()
        if rows > 1 and not entry.words:
            note = messages(
                "{count} place; for one row alone add its words: {words}",
                "{count} places; for one row alone add its words: {words}",
                rows,
                words='words = "…"',
            )
            click.echo(f"# {speech.tell(note)}")
        click.echo(accepted_text(entry), nl=False)
    click.echo()


def _say_held(numbers: tuple[HeldNumber, ...], units: Units) -> None:
    """Every number that the maker states, those that do not hold marked as other findings are."""
    from applique.held_numbers import Verdict
    from applique.words.held_numbers import HELD_NUMBERS, held_notice

    speech = terminal_speech()
    if numbers:
        click.echo(speech.say("{heading}:", heading=HELD_NUMBERS))
    for one in numbers:
        notice = held_notice(one, units).as_message()
        if one.verdict is Verdict.HOLDS:
            click.echo(speech.say("  {notice}", notice=notice))
        else:
            click.echo(speech.say("! {notice}", notice=notice))


def _held_as_data(number: HeldNumber, units: Units) -> dict[str, Any]:
    from applique.reports import held_data
    from applique.words.held_numbers import held_notice

    return {**as_data(held_notice(number, units)), "data": held_data(number)}


def _mend(design: Design, target: Path, speech: Speech, *, replace: bool, show: bool) -> dict[str, Any]:
    """Write the design with its cures, after the difference if `show`; the file written and what was done, in words."""
    import difflib

    from applique.design import design_text
    from applique.pack import write_text
    from applique.sewing.cures import cured_design
    from applique.words.accepted import Risk, is_accepted
    from applique.words.cures import cure_said
    from applique.words.findings import finding_said, notice_of

    def accepted(finding: Finding, now: Design) -> bool:
        return is_accepted(Risk(notice=notice_of(finding, now.units), finding=finding), now)

    mended, taken, given_up = cured_design(design, accepted=accepted)
    if not taken and given_up:
        return {"file": None, "done": [speech.say("Nothing was changed: no cure was found.")]}
    if not taken:
        return {"file": None, "done": [speech.say("Nothing was changed: there is nothing to cure.")]}
    if show:
        before, after = (design_text(one, base=target.parent).splitlines() for one in (design, mended))
        name = speech.say("the design")
        click.echo("\n".join(difflib.unified_diff(before, after, name, str(target), lineterm="", n=2)))
    write_text(target, design_text(mended, base=target.parent), replace=replace)
    note_written(target)
    done = [speech.say("Wrote {file}:", file=str(target))]
    done += [
        speech.say("  {where}: {cure}", where=finding.where.as_field(), cure=cure_said(cure))
        for finding, cure in taken
    ]
    done += [
        speech.say(
            "  {where}: no cure was found; {what}",
            where=finding.where.as_field(),
            what=finding_said(finding, design.units),
        )
        for finding in given_up
    ]
    return {"file": str(target), "done": done}


_TOO_LARGE: Final = frozenset({"row-too-wide", "rows-too-high", "panel-too-small"})
"""What is wrong with a name whose letters are too large for the panel."""


def _check_each(file: Path, names: Path, *, same_height: bool, as_json: bool) -> None:
    """Say what is wrong or risky in each row of the list, and leave with 1 if any would be refused."""
    from applique.batch import check_each, shared_height

    shared = shared_height(file, names) if same_height else None
    if same_height and not as_json:
        say_shared_height(shared)
    rows: list[CheckedRow] = []
    for checked in check_each(file, names, height=None if shared is None else shared.height):
        rows.append(checked)
        if as_json:
            continue
        say_problems(checked.problems)
        _say_advice(checked.advice)
        if not checked.problems and not checked.advice:
            click.echo(terminal_speech().say("list row {row}: no problems found", row=str(checked.row)))
    refused = sum(bool(checked.problems) for checked in rows)
    risky = sum(bool(checked.advice) for checked in rows)
    if not same_height and any(one.kind in _TOO_LARGE for checked in rows for one in checked.problems):
        shared = shared_height(file, names)
        if not as_json:
            say_shared_height(shared)
    if as_json:
        say_json(
            {
                "rows": [_checked_as_data(checked) for checked in rows],
                "same_height": None if shared is None else float(shared.height),
            }
        )
    else:
        click.echo(
            terminal_speech().say(
                "{ready} ready, {risky} to look at, {refused} refused",
                ready=len(rows) - refused - risky,
                risky=risky,
                refused=refused,
            )
        )
    if refused:
        sys.exit(1)


def _checked_as_data(checked: CheckedRow) -> dict[str, Any]:
    return {
        "row": checked.row,
        "problems": [as_data(problem) for problem in checked.problems],
        "notices": [_advice_as_data(one) for one in checked.advice],
    }

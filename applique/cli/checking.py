"""`applique check`: what is wrong or risky in one design, or in each row of a list, and what cures it."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from applique.cli.drafting import drafted
from applique.cli.saying import as_data, note_written, say_json, saying_refusals

if TYPE_CHECKING:
    from applique.advice import Advice
    from applique.batch import CheckedRow
    from applique.design import Design

__all__ = ["check"]


@click.command()
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
@saying_refusals
def check(
    file: Path, as_json: bool, fix: bool, output: Path | None, replace: bool, names: Path | None
) -> None:
    """Say all that is wrong or risky in FILE, each with cures that have been tried; write nothing without --fix."""
    from applique.advice import advise
    from applique.design import read_design

    if names is not None and fix:
        raise click.UsageError("--fix does not go with --each; change the template by hand.")
    if (output is not None or replace) and not fix:
        raise click.UsageError("--output and --replace go with --fix.")
    if names is not None:
        _check_each(file, names, as_json=as_json)
        return
    target = output or file.with_name(f"{file.stem}-mended.toml")
    design = read_design(file)
    advice = advise(drafted(design))
    if as_json:
        said = {"problems": [], "notices": [_advice_as_data(one) for one in advice]}
        mended = {"mended": _mend(design, target, replace=replace, show=False)} if fix else {}
        say_json({**said, **mended})
        return
    _say_advice(advice)
    click.echo("It can be made; look at the above first." if advice else "Nothing stands in the way.")
    if fix:
        for words in _mend(design, target, replace=replace, show=True)["done"]:
            click.echo(words)


def _say_advice(advice: tuple[Advice, ...]) -> None:
    for one in advice:
        click.echo(f"! {replace(one.notice, fix='')}")
        tried = [str(cure.what) for cure in one.cures] or [str(one.fix)]
        for words in filter(None, tried):
            click.echo(f"  try: {words}")


def _advice_as_data(advice: Advice) -> dict[str, Any]:
    from applique.reports import finding_data

    cures = [{"kind": cure.kind.value, "row": cure.row, "what": str(cure.what)} for cure in advice.cures]
    data = finding_data(advice.finding) if advice.finding else {}
    return {**as_data(advice.notice), "fix": str(advice.fix), "cures": cures, "data": data}


def _mend(design: Design, target: Path, *, replace: bool, show: bool) -> dict[str, Any]:
    """Write the design with its cures, after the difference if `show`; the file written and what was done, in words."""
    import difflib

    from applique.design import design_text
    from applique.pack import write_text
    from applique.sewing.cures import cured_design
    from applique.words.cures import cure_said
    from applique.words.findings import finding_said

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
    note_written(target)
    done = [f"Wrote {target}:", *(f"  {finding.where}: {cure_said(cure)}" for finding, cure in taken)]
    done += [
        f"  {finding.where}: no cure was found; {finding_said(finding, design.units)}" for finding in given_up
    ]
    return {"file": str(target), "done": done}


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
        _say_advice(checked.advice)
        if not checked.problems and not checked.advice:
            click.echo(f"list row {checked.row}: nothing stands in the way")
    refused = sum(bool(checked.problems) for checked in rows)
    risky = sum(bool(checked.advice) for checked in rows)
    if as_json:
        say_json({"rows": [_checked_as_data(checked) for checked in rows]})
    else:
        click.echo(f"{len(rows) - refused - risky} ready, {risky} to look at, {refused} refused")
    if refused:
        sys.exit(1)


def _checked_as_data(checked: CheckedRow) -> dict[str, Any]:
    return {
        "row": checked.row,
        "problems": [as_data(problem) for problem in checked.problems],
        "notices": [_advice_as_data(one) for one in checked.advice],
    }

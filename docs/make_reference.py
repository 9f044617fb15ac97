"""Write the pages that are made from the program: command-line.md, design-file.md and design.schema.json.

Run `python docs/make_reference.py`; the tests check that the pages are current.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import click

from applique.cli import main
from applique.design import design_schema

HERE = Path(__file__).parent
TABLES = (
    "Panel", "Lettering", "Row", "Nudge", "FussyCut", "Block", "Setting", "Fabric", "Border", "Binding", "Backing",
    "Batting", "Hanging", "Label", "OutlineLayer", "Sewing", "Stitching", "Quilting", "Yardage", "Stated", "Accepted",
    "Publisher", "Fusible", "Cutting", "Paper", "PrintCorrection",
)  # fmt: skip
HEADINGS = {
    "PrintCorrection": "[print]",
    "Row": "[[row]]",
    "Nudge": "[[row.nudge]]",
    "FussyCut": "[[row.fussy]]",
    "Block": "[[block]]",
    "Fabric": "[[fabric]]",
    "Border": "[[border]]",
    "Quilting": "[[quilting]]",
    "Stated": "[[stated]]",
    "Accepted": "[[accepted]]",
    "OutlineLayer": "[outline]",
}

NOTES = {
    "Block": (
        "`[[block.row]]` takes what `[[row]]` takes. Rows, like templates, are numbered once through all blocks.",
        'Without `[setting]` each is finished by itself, with `finish = "top only"`.',
    ),
    "Setting": (
        "Blocks that lie in one column are of one width, and those in one row of one height. A plain block is as large",
        "as its column and its row; where those have no other, as `[panel]` says. Borders, and all that follows, go by",
        'the set top. `finish` is `"quilt"` or `"top only"`. See [Set blocks together](how-to/set-blocks-together.md).',
    ),
    "Fabric": (
        "`have` is said as you would say it: a length of the fabric (`1 1/2yd`, `60cm`, `half a yard`),",
        "`2 half yards`, `2 fat quarters`, pieces with the side along the selvage first (`3 pieces 18in x 21in`),",
        "`20 strips 2 1/2in wide`, `30 squares 5in`, `a roll of 2 1/2in strips` (40 of them),",
        '`2 packs of 10in squares` (42 in each), and several with "and" between them or as a list. With `washed`',
        "behind it, it loses nothing more. What is not cut ready is squared up at both ends like what you buy.",
    ),
}
"""What there is to say of a table beside its keys."""

CODES = (
    "| exit code | means |",
    "|---|---|",
    "| 0 | made, or said |",
    "| 1 | refused: it says what is wrong, where, and what to do; nothing was changed. `--each` makes the other rows |",
    "| 2 | wrong usage: no such command or option |",
    "| 70 | a defect of the program: it says where the report of it is kept, and what was written before |",
    "| 130, 143 | stopped with Ctrl-C, or told to end (SIGTERM): it says what was written before |",
    "| 141 | whatever read the output went away, as in `applique fonts \\| true`; the work may be done |",
)


def command_line() -> str:
    """Every command with its help, as click prints it."""
    made = "Made from `--help` by `python docs/make_reference.py`."
    spoken = (
        "Commands speak the language of the terminal (LC_ALL, LC_MESSAGES, LANG and LANGUAGE) where there is a\n"
        "catalogue for it, and American English otherwise. `--json` is always American English."
    )
    parts = ["# Commands", "", made, spoken, "", *CODES, ""]
    top = click.Context(main, info_name="applique", terminal_width=90, **main.context_settings)
    commands: list[tuple[str, click.Command, click.Context]] = [("applique", main, top)]
    commands += [
        (f"applique {n}", c, click.Context(c, info_name=n, parent=top))
        for n, c in sorted(main.commands.items())
    ]
    for words, command, context in commands:
        parts += [f"## {words}", "", "```", command.get_help(context), "```", ""]
    return "\n".join(parts)


def design_file() -> str:
    """Every table and key of the design file with what it means and its default."""
    schema = design_schema()
    parts = [
        "# The design file",
        "",
        'TOML, with lengths written as you say them: `7in`, `7 1/4in`, `7-1/4"`, `18.5cm`, `1/2yd`. Everything but the',
        "words has a default. `applique new my.toml` writes a file to start from; editors that complete TOML can use",
        "[design.schema.json](design.schema.json). Made from the model by `python docs/make_reference.py`.",
        "",
        "In any text `{name}` stands for a column of [a list](batch.md), which such a file cannot do without;",
        "braces that are to be sewn are doubled: `{{` and `}}`.",
        "",
        "## At the top",
        "",
        *_table(schema, schema),
    ]
    for name in TABLES:
        table = schema["$defs"][name]
        heading = HEADINGS.get(name, f"[{name.lower()}]")
        parts += ["", f"## `{heading}`", "", table.get("description", ""), "", *_table(table, schema)]
        parts += ["", *NOTES[name]] if name in NOTES else []
    return "\n".join(parts) + "\n"


def _table(table: dict[str, Any], schema: dict[str, Any]) -> list[str]:
    rows = ["| key | means | value | default |", "|---|---|---|---|"]
    for key, value in table["properties"].items():
        default = "needed" if key in table.get("required", ()) else _default(value)
        rows.append(f"| `{key}` | {value.get('description', '')} | {_value(value, schema)} | {default} |")
    return rows


def _default(value: dict[str, Any]) -> str:
    default = value.get("default")
    if default in (None, "", [], {}):
        return ""
    return f"`{json.dumps(default, ensure_ascii=False)}`" if not isinstance(default, dict) else ""


def _value(value: dict[str, Any], schema: dict[str, Any]) -> str:
    if "$ref" in value:
        target = schema["$defs"][value["$ref"].rsplit("/", 1)[-1]]
        return ", ".join(f"`{choice}`" for choice in target["enum"]) if "enum" in target else "a table"
    if "anyOf" in value:
        return " or ".join(
            dict.fromkeys(_value(part, schema) for part in value["anyOf"] if part.get("type") != "null")
        )
    if "const" in value:
        return f"`{value['const']}`"
    if value.get("examples"):
        return "a length"
    if value.get("type") == "array" and "enum" in schema["$defs"].get(
        value["items"].get("$ref", "").rsplit("/", 1)[-1], {}
    ):
        return f"a list of {_value(value['items'], schema)}"
    if value.get("type") == "array" and value["items"].get("type") == "string":
        return "a list of texts"
    kinds = {"string": "text", "integer": "a number", "number": "a number", "boolean": "true or false"}
    return {"array": "tables", "object": "a table"}.get(
        value.get("type", ""), kinds.get(value.get("type", ""), "text")
    )


def pages() -> dict[str, str]:
    """Each generated page by its file name."""
    return {
        "command-line.md": command_line(),
        "design-file.md": design_file(),
        "design.schema.json": json.dumps(design_schema(), ensure_ascii=False, indent=2) + "\n",
    }


if __name__ == "__main__":
    os.environ["LC_ALL"] = "C"  # in American English, whoever writes them
    for name, text in pages().items():
        (HERE / name).write_text(text, encoding="utf-8")

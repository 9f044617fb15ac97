"""Refusals and notices where they are made: each has a kind of its own, and its words stand whole in the catalogue."""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import applique

HERE = Path(applique.__file__).parent
ROOMS = (
    *(
        "__main__.py",
        "errors.py",
        "units.py",
        "buying.py",
        "naming.py",
        "pack.py",
        "design",
        "batch",
        "web",
        "cli",
    ),
    *("typeset", "panel", "pieces.py", "outline_layer.py", "fabrics.py", "nesting", "paging", "mats.py"),
    *(
        "yardage.py",
        "quilt",
        "shopping.py",
        "sewing",
        "turned_edges.py",
        "advice.py",
        "pattern.py",
        "picture.py",
    ),
    *(
        "full_size.py",
        "marks.py",
        "colors.py",
        "geometry",
        "store.py",
        "swapping.py",
        "record.py",
        "defects.py",
    ),
    "__init__.py",
)
"""Where refusals are made with a kind."""
SAYING = ("message", "messages", "say", "count", "says", "helps")
"""What marks the words in a call of it for the catalogue, by their names alone."""
KEBAB = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def _files() -> Iterator[Path]:
    for room in ROOMS:
        place = HERE / room
        yield from sorted(place.rglob("*.py")) if place.is_dir() else [place]


def _calls(file: Path, *names: str) -> Iterator[ast.Call]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and _name(node.func) in names:
            yield node


def _name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _made() -> Iterator[tuple[str, dict[str, ast.expr], ast.Module]]:
    """Every problem and notice that is made: where in the tree, and its arguments by name."""
    for file in _files():
        tree = ast.parse(file.read_text(encoding="utf-8"))
        for call in _calls(file, "Problem", "Notice"):
            given = {one.arg: one.value for one in call.keywords if one.arg is not None}
            yield f"{file.relative_to(HERE)}:{call.lineno}", given, tree


def _text(node: ast.expr | None) -> str | None:
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def _is_message(node: ast.expr | None, tree: ast.Module) -> bool:
    """Whether it is a message in full: made here, by a function that says so, or under a name."""
    match node:
        case ast.Call(func=ast.Name(id="message"), args=[first]):
            return _text(first) is not None
        case ast.Call(func=ast.Name(id="messages"), args=[one, many, _]):
            return _text(one) is not None and _text(many) is not None
        case ast.IfExp(body=body, orelse=orelse):
            return _is_message(body, tree) and _is_message(orelse, tree)
        case ast.Call(func=ast.Name(id=name)):
            return name in _makers_of_messages()
        case ast.Name(id=name):
            set_to = [
                part.value
                for part in ast.walk(tree)
                if isinstance(part, ast.Assign) and _name(part.targets[0]) == name
            ]
            return bool(set_to) and all(_is_message(value, tree) for value in set_to)
    return False


@cache
def _makers_of_messages() -> frozenset[str]:
    """The functions of these rooms that say they give a message."""
    return frozenset(
        node.name
        for file in _files()
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef)
        and isinstance(node.returns, ast.Name)
        and node.returns.id == "Message"
    )


def test_every_problem_and_notice_has_a_kind_and_messages() -> None:
    wrong = []
    made = list(_made())
    for place, given, tree in made:
        kind, fix = _text(given.get("kind")), given.get("fix")
        wrong += [f"{place}: its kind"] * (kind is None or KEBAB.fullmatch(kind) is None)
        wrong += [f"{place}: what"] * (not _is_message(given.get("what"), tree))
        wrong += [f"{place}: fix"] * (fix is not None and not _is_message(fix, tree))
    assert not wrong
    assert len(made) > 100


def test_a_kind_says_one_thing_and_one_thing_has_one_kind_in_a_file() -> None:
    said = defaultdict(set)
    kinds = defaultdict(set)
    for place, given, _ in _made():
        what = given["what"]
        assert isinstance(what, ast.Call)
        said[_text(given["kind"])].add(_text(what.args[0]))
        kinds[place.partition(":")[0], _text(what.args[0])].add(_text(given["kind"]))
    assert not {kind: templates for kind, templates in said.items() if len(templates) > 1}
    assert not {what: several for what, several in kinds.items() if len(several) > 1}


def test_what_is_marked_for_the_catalogue_stands_in_full() -> None:
    """A translator finds only what stands in the call as it is: no name, no sum, no f-string."""
    for file in _files():
        for call in _calls(file, *SAYING):
            texts = call.args[:2] if _name(call.func) in ("messages", "count") else call.args[:1]
            if _name(call.func) == "count" and len(call.args) == 1:
                continue  # `str.count`, or `list.count`
            assert all(_text(text) is not None for text in texts), f"{file.relative_to(HERE)}:{call.lineno}"


def test_each_name_in_a_template_is_given_a_value() -> None:
    """A missing one would be an error of the program just when something is to be said; one too many says nothing."""
    for file in _files():
        for call in _calls(file, "message", "messages", "say", "count"):
            counts = _name(call.func) in ("messages", "count")
            texts = [_text(text) or "" for text in call.args[: 1 + counts]]
            given = {one.arg for one in call.keywords} | ({"count"} if counts else set())
            if None in given or len(call.args) < len(texts) + counts:
                continue  # `**fields` handed on; `str.count`
            named = set(re.findall(r"\{(\w+)\}", " ".join(texts)))
            chosen_by = {"count"} if counts else set()  # which form it is, said or not
            assert named | chosen_by == given, f"{file.relative_to(HERE)}:{call.lineno}"


FACTS = (
    *("geometry", "buying.py", "fabrics.py", "quilt", "sewing", "picture.py", "nesting"),
    *("yardage.py", "mats.py", "marks.py", "shopping.py", "full_size.py"),
)
"""The rooms of what is true: `words/` makes the sentences from what they hold."""
SENTENCES = {"Message", "Listing", "Field", "Notice"}


def _mentions(node: ast.AST | None, names: set[str]) -> bool:
    return node is not None and any(
        _name(part) in names for part in ast.walk(node) if isinstance(part, ast.expr)
    )


def _calls_of(node: ast.AST, *names: str) -> bool:
    return any(isinstance(part, ast.Call) and _name(part.func) in names for part in ast.walk(node))


def _only_refuses(function: ast.FunctionDef, functions: list[ast.FunctionDef]) -> bool:
    """Whether what it says goes into a refusal: made there, or by a function of its own file that refuses with it."""
    if _calls_of(function, "Problem"):
        return True
    callers = [other for other in functions if other is not function and _calls_of(other, function.name)]
    private = function.name.startswith("_")
    return private and bool(callers) and all(_only_refuses(caller, functions) for caller in callers)


def _sentences(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Where a file makes a sentence for anything but a refusal, or hands one out."""
    functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
    for node in tree.body:
        if not isinstance(node, ast.FunctionDef | ast.ClassDef) and _calls_of(node, "message", "messages"):
            yield node.lineno, "a sentence under a name"
    for function in functions:
        if _calls_of(function, "message", "messages") and not _only_refuses(function, functions):
            yield function.lineno, f"{function.name} makes a sentence"
        if not function.name.startswith("_") and _mentions(function.returns, SENTENCES):
            yield function.lineno, f"{function.name} hands out a sentence"
    for holder in (node for node in ast.walk(tree) if isinstance(node, ast.ClassDef)):
        for part in holder.body:
            if isinstance(part, ast.AnnAssign) and _mentions(part.annotation, SENTENCES):
                yield part.lineno, f"{holder.name} holds a sentence"


def test_what_is_true_is_held_without_a_sentence() -> None:
    found, files = [], [file for file in _files() if file.relative_to(HERE).parts[0] in FACTS]
    for file in files:
        for line, what in _sentences(ast.parse(file.read_text(encoding="utf-8"))):
            found.append(f"{file.relative_to(HERE)}:{line}: {what}")
    assert not found
    assert {file.relative_to(HERE).parts[0] for file in files} == set(FACTS)


WORDS = re.compile("[a-z]{2,},? [a-z]{2,}")
FOR_PROGRAMS = {"web/openapi.py", "nesting/checking.py"}
"""Whose sentences programs read, in American English."""
UNSAID = {
    "<frozen importlib",
    "any name in it",
    "end with the parent",
    # in the JSON Schema, which is American English
    "applique design file",
    "the largest that fits the panel",
    "what the 6 in rule measured",
    # what a maker may write, and what stands in the design if she writes nothing
    "fat quarter",
    "fat eighth",
    "quarter yard",
    "half yard",
    "optical size",
    "2 fat quarters",
    "1 half yard",
    "Wash cold and gently, dry flat.",
    "Iron the back only.",
    # errors of a program that calls this one, and a file that it alone reads
    " has no attribute ",
    "# applique-files/1: what the program made here. It replaces nothing else; leave this file as it is.\n",
    # in the reports of defects
    "in list row ",
    "the process that did the work ended",
}


def _unmarked(tree: ast.Module) -> Iterator[ast.Constant]:
    """The texts of several words that nobody marked; docstrings, choices and errors of the program left aside."""
    aside: set[int] = set()
    for node in ast.walk(tree):
        match node:
            case ast.Call() if _name(node.func) in SAYING:
                parts: list[ast.AST] = list(node.args)
            case ast.Expr(value=ast.Constant() as docstring):
                parts = [docstring]
            case (
                ast.ClassDef(bases=[ast.Name(id="StrEnum" | "Exception"), *_])
                | ast.Raise(exc=ast.Call(func=ast.Name(id="ValueError")))
            ):
                parts = [node]
            case _:
                continue
        aside |= {id(inner) for part in parts for inner in ast.walk(part)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and id(node) not in aside and WORDS.search(_text(node) or ""):
            yield node


def test_no_sentence_stands_outside_the_catalogue() -> None:
    found, met = [], set()
    for file in _files():
        name = file.relative_to(HERE).as_posix()
        if name in FOR_PROGRAMS:
            continue
        for node in _unmarked(ast.parse(file.read_text(encoding="utf-8"))):
            met.add(node.value)
            found += [f"{name}:{node.lineno}: {node.value!r}"] * (node.value not in UNSAID)
    assert not found
    assert met == UNSAID

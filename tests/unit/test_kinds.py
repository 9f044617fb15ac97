"""Refusals and notices where they are made: each has a kind of its own, and its words stand whole in the catalogue."""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from enum import StrEnum
from functools import cache
from pathlib import Path

import pytest

import applique
from applique import design
from applique.cutting import Preference

HERE = Path(applique.__file__).parent
FINDINGS = "words"
"""The room of notices that have the kind of a finding."""
PLACING = ("sheets", "cutfiles", "preview.py", "reports", "picture.py")
"""Where words are placed that `words/` has made."""
SAYING = ("message", "messages", "say", "count", "says", "helps")
"""What marks the words in a call of it for the catalogue, by their names alone."""
KEBAB = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@cache
def _trees() -> dict[str, ast.Module]:
    """Every file of the program, by its place in it."""
    return {
        file.relative_to(HERE).as_posix(): ast.parse(file.read_text(encoding="utf-8"))
        for file in sorted(HERE.rglob("*.py"))
    }


@cache
def _every_call(tree: ast.Module) -> tuple[ast.Call, ...]:
    return tuple(node for node in ast.walk(tree) if isinstance(node, ast.Call))


def _calls(tree: ast.Module, *names: str) -> Iterator[ast.Call]:
    return (call for call in _every_call(tree) if _name(call.func) in names)


def _name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _made() -> Iterator[tuple[str, dict[str, ast.expr], ast.Module]]:
    """Every problem and notice that is made: where in the tree, and its arguments by name."""
    for name, tree in _trees().items():
        for call in _calls(tree, "Problem", "Notice") if not name.startswith(FINDINGS) else ():
            given = {one.arg: one.value for one in call.keywords if one.arg is not None}
            if not _handed_on(given):
                yield f"{name}:{call.lineno}", given, tree


def _handed_on(given: dict[str, ast.expr]) -> bool:
    """Whether a refusal says what a notice says: kind and words both taken from the one that has them."""
    match given.get("kind"), given.get("what"):
        case ast.Attribute(value=ast.Name(id=one), attr="kind"), ast.Attribute(
            value=ast.Name(id=other), attr="what"
        ):
            return one == other
    return False


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
    """The functions that say they give a message."""
    return frozenset(
        node.name
        for tree in _trees().values()
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef)
        and isinstance(node.returns, ast.Name)
        and node.returns.id == "Message"
    )


@pytest.mark.long
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
    for name, tree in _trees().items():
        for call in _calls(tree, *SAYING):
            texts = call.args[:2] if _name(call.func) in ("messages", "count") else call.args[:1]
            if _name(call.func) == "count" and len(call.args) == 1:
                continue  # `str.count`, or `list.count`
            assert all(_text(text) is not None for text in texts), f"{name}:{call.lineno}"


def test_each_name_in_a_template_is_given_a_value() -> None:
    """A missing one would be an error of the program just when something is to be said; one too many says nothing."""
    for name, tree in _trees().items():
        for call in _calls(tree, "message", "messages", "say", "count"):
            counts = _name(call.func) in ("messages", "count")
            texts = [_text(text) or "" for text in call.args[: 1 + counts]]
            given = {one.arg for one in call.keywords} | ({"count"} if counts else set())
            filled_later = not call.keywords and name.startswith(("words/", "language/"))
            if None in given or len(call.args) < len(texts) + counts or filled_later:
                continue  # `**fields` handed on; `str.count`; `filled` where it is said
            named = set(re.findall(r"\{(\w+)\}", " ".join(texts)))
            chosen_by = {"count"} if counts else set()  # which form it is, said or not
            assert named | chosen_by == given, f"{name}:{call.lineno}"


def test_who_places_words_makes_none() -> None:
    for name, tree in _trees().items():
        if name.startswith(PLACING):
            made = [call.lineno for call in _calls(tree, *SAYING) if call.args and _text(call.args[0])]
            assert not made, name


FACTS = (
    *("geometry", "buying.py", "cutting", "fabrics.py", "supplies.py", "quilt", "sewing", "picture.py"),
    *("nesting", "yardage.py", "leftovers.py", "cloth", "mats.py", "marks.py", "shopping.py"),
    *("full_size.py",),
)
"""The rooms of what is true: `words/` makes the sentences from what they hold."""
SENTENCES = {"Message", "Listing", "Field", "Notice"}
NAMED_IN_REFUSALS = {
    ("cloth/planning.py", "_name makes a sentence"),
    ("cutting/refusing.py", "name hands out a sentence"),
    ("cutting/refusing.py", "Naming holds a sentence"),
}
"""What pieces are called where nothing holds them, which only a refusal says: it is made in one file and handed on."""


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
    trees = {name: tree for name, tree in _trees().items() if name.split("/")[0] in FACTS}
    found = {(name, what) for name, tree in trees.items() for _, what in _sentences(tree)}
    assert found == NAMED_IN_REFUSALS
    assert {name.split("/")[0] for name in trees} == set(FACTS)


WORDS = re.compile("[a-z]{2,},? [a-z]{2,}")
FOR_PROGRAMS = {"web/openapi.py", "nesting/checking.py", "cutting/checking.py"}
"""Whose sentences programs read, in American English."""
UNSAID = {
    "first name",  # a heading of a list that somebody else made
    "any name in it",
    "end with the parent",
    # in the JSON Schema, which is American English
    "applique design file",
    "the largest that fits the panel",
    "what the 6 in rule measured",
    # what a maker may write, and what stands in the design if she writes nothing
    "a couple of",
    "a pair of",
    "optical size",
    "Wash cold and gently, dry flat.",
    "Iron the back only.",
    "# font, axes, cap_height, letter_spacing, least_gap, spacing, align, fabric, outline,",
    "# stitch, stitch_width, stitch_length, thread",
    # what the page's style sheets call the letters that they load
    "Page display",
    "Page text",
    # errors of a program that calls this one, and a file that it alone reads
    " has no attribute ",
    # what the file for the tablet may load
    "default-src 'none'; img-src data:; style-src '",
    "# applique-files/1: what the program made here. It replaces nothing else; leave this file as it is.\n",
    # in the reports of defects
    "in list row ",
    "the process that did the work ended",
}
CHOICES = {
    choice.value
    for kind in (*map(vars(design).get, design.__all__), Preference)
    if isinstance(kind, type) and issubclass(kind, StrEnum)
    for choice in kind
}
"""What a maker may write in a design file."""
SETTING = re.compile(r"(# )?[a-z_]+ = ")
"""How a line of a design file begins that sets something."""


MARKUP = re.compile(r'(?<!\?P)</?[a-z!][^<>]*(>|$)|^"[^<>]*>|\s?[A-Za-z-]+="[^"]*("|$)', re.IGNORECASE)
"""A tag, the end of one that a value breaks, and an attribute that stands alone."""
SAID_IN_MARKUP = re.compile(r'\b(aria-label|alt|title|placeholder)="[^"]*[A-Za-z]')
"""What is read out, or shown, of a tag itself."""


def _bare(text: str) -> str:
    """A text without its markup, unless the markup has words of its own to say."""
    if SAID_IN_MARKUP.search(text) or not MARKUP.search(text):
        return text
    return re.sub(r"\s+", " ", MARKUP.sub(" ", text))


def _unmarked(tree: ast.Module) -> Iterator[ast.Constant]:
    """The texts of several words that nobody marked; docstrings, choices and errors of the program left aside."""
    aside: set[int] = set()
    for node in ast.walk(tree):
        match node:
            case ast.Call() if _name(node.func) in SAYING:
                parts: list[ast.AST] = list(node.args)
            case ast.Expr(value=ast.Constant() as docstring):
                parts = [docstring]
            case ast.AnnAssign(annotation=ast.Name(id="TypeAlias"), value=ast.Constant() as alias):
                parts = [alias]
            case (
                ast.ClassDef(bases=[ast.Name(id="StrEnum" | "Exception"), *_])
                | ast.Raise(exc=ast.Call(func=ast.Name(id="ValueError")))
            ):
                parts = [node]
            case _:
                continue
        aside |= {id(inner) for part in parts for inner in ast.walk(part)}
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Constant)
            and id(node) not in aside
            and WORDS.search(_bare(_text(node) or ""))
        ):
            yield node


def test_no_sentence_stands_outside_the_catalogue() -> None:
    found, met = [], set()
    for name, tree in _trees().items():
        if name in FOR_PROGRAMS:
            continue
        for node in _unmarked(tree):
            met.add(node.value)
            known = node.value in UNSAID | CHOICES or SETTING.match(str(node.value))
            found += [f"{name}:{node.lineno}: {node.value!r}"] * (not known)
    assert not found
    assert met >= UNSAID


TELLING = ("say", "tell", "count", "field", "measure", "listing")
"""What gives words in a language, by their names alone."""
BESIDE_WORDS = re.compile(r"[A-Za-z]{2,}[.,:;]? | [A-Za-z]{2,}")
"""What a half of a sentence has, with which it goes on in the other."""
UNSAID_SUMS = {
    # a sign that nobody sees, which turns the reading back to the right
    "f'{text}{self.mark}'",
    # the numbers of a list in Markdown
    "f'{number}. {speech.tell(step)}'",
    # what a program made, and with what; a digest; a line of HTTP and one of an event
    "f\"applique {version('applique')}\"",
    "f\"applique {version('applique')}, Python {platform.python_version()}, {platform.platform()}\"",
    "f'command: {sys.argv[1:]}'",
    "f'- {_cell(one_line(name))}, SHA-256 `{digest}`'",
    'f"""attachment; filename="{plain}"; filename*=UTF-8\'\'{quote(name, safe=\'\')}"""',
    "f'event: {kind}\\ndata: {json.dumps(value, ensure_ascii=False)}\\n\\n'",
    # what a cutting plan calls its demands and supplies
    "f'panel, {number}'",
    "f'backing {number}, {index}'",
    "f'border {border.number}, {number}'",
    "f'{key} joined'",
    "f'{LETTERS} narrow'",
    "f'have {number}'",
    # a stash in the maker's own words
    "' and '.join((one.words for one in held))",
    "f'{items[-1]} and {part}'",
    "f\"(^|\\\\bof )({'|'.join(_COUNTS)}) \"",
    # the chapters of a page, with a dot between
    "' · '.join((self._speech.field(chapter_said(one.title, one.steps)) for one in self._here))",
    # what the file for the tablet may load
    "f\"default-src 'none'; img-src data:; style-src '{_hashed(style)}'; script-src '{_hashed(script)}'; "
    "base-uri 'none'; form-action 'none'\"",
    # what threads are for, for programs
    "' and '.join(item.uses)",
    # what a design file sets
    "f'language = \"{speech.tag}\"'",
    # a sign that Unicode has no name for, in the name of a file
    "f'sign {ord(sign):04x}'",
    # errors of a program that calls this one, and the reports of defects
    "f'module {__name__!r} has no attribute {name!r}'",
    "f'in list row {jobs[at].row}'",
    "f'more than {most} bytes'",
}


def _tellers(tree: ast.Module) -> tuple[set[str], set[str]]:
    """The names of a file that stand for what tells words, and those that stand for what was told."""
    tellers, told = set(TELLING), set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign):
            for target in node.targets:
                pairs = (
                    zip(target.elts, node.value.elts, strict=True)
                    if isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple)
                    else [(target, node.value)]
                )
                for name, value in pairs:
                    if isinstance(name, ast.Name):
                        if isinstance(value, ast.Attribute) and value.attr in TELLING:
                            tellers.add(name.id)
                        if isinstance(value, ast.Call) and _name(value.func) in tellers:
                            told.add(name.id)
    return tellers, told


def _sums(tree: ast.Module) -> Iterator[ast.expr]:
    """Texts put together, by any of Python's ways, from what was told or from words of their own.

    One that was told may have signs around it (`- {}`, `**{}**`), and whole lines may be joined.
    """
    tellers, told = _tellers(tree)

    def is_told(node: ast.AST) -> bool:
        return any(
            (isinstance(part, ast.Name) and part.id in told)
            or (isinstance(part, ast.Call) and _name(part.func) in tellers)
            or (
                isinstance(part, ast.Call)
                and _name(part.func) == "map"
                and isinstance(part.args[0], ast.Name | ast.Attribute)
                and _name(part.args[0]) in tellers
            )
            for part in ast.walk(node)
        )

    aside = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.Raise)
        and isinstance(node.exc, ast.Call)
        and _name(node.exc.func) == "ValueError"
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if id(node) in aside:
            continue
        match node:
            case ast.JoinedStr(values=parts):
                texts = [_bare(_text(part) or "") for part in parts]
                values = [part for part in parts if isinstance(part, ast.FormattedValue)]
                halves = any(is_told(part.value) for part in values) and (
                    len(values) > 1 or re.search("[A-Za-z]", "".join(texts))
                )
                if halves or any(BESIDE_WORDS.search(text) for text in texts):
                    yield node
            case ast.BinOp(op=ast.Add() | ast.Mod(), left=left, right=right):
                ends = (left, right)
                signs = all(_text(end) in ("\n", None) for end in ends) and any(_text(end) for end in ends)
                if (any(_is_text(end, told, tellers) for end in ends) and not signs) or any(
                    BESIDE_WORDS.search(_text(end) or "") for end in ends
                ):
                    yield node
            case ast.Call(func=ast.Attribute(attr="join" | "format" | "replace", value=holder), args=args):
                if ((_text(holder) or "x").strip("\n") and any(map(is_told, args))) or BESIDE_WORDS.search(
                    _text(holder) or ""
                ):
                    yield node


def _is_text(node: ast.expr, told: set[str], tellers: set[str]) -> bool:
    return (isinstance(node, ast.Name) and node.id in told) or (
        isinstance(node, ast.Call) and _name(node.func) in tellers
    )


def test_no_sentence_is_put_together_from_halves() -> None:
    found, met = [], set()
    for name, tree in _trees().items():
        if name in FOR_PROGRAMS:
            continue
        for node in _sums(tree):
            met.add(ast.unparse(node))
            found += [f"{name}:{node.lineno}: {ast.unparse(node)}"] * (ast.unparse(node) not in UNSAID_SUMS)
    assert not found
    assert met >= UNSAID_SUMS


PLANTED = (
    'print("Sew the letters down")',
    'print(f"Sew {name} down")',
    'print("Sew " + name)',
    'print("Sew {} down".format(name))',
    'print(speech.say("Sew") + speech.tell(DOWN))',
    'words = speech.tell(SEW)\nprint(f"{words}; {name}")',
    'tell = speech.tell\nprint(" ".join(map(tell, (SEW, DOWN))))',
    'print(f"{speech.tell(SEW)} {speech.field(name)}")',
    'print(f"<p class=\\"{name}\\">Sew <b>{name}</b></p>")',
    'print(f"<p>{name}</p><button aria-label=\\"Sew {name}\\">")',
    'print("<p class=a>Sew the <b>letters</b></p>")',
)


@pytest.mark.long
@pytest.mark.parametrize("planted", PLANTED)
def test_a_sentence_planted_in_any_room_is_found(planted: str) -> None:
    rooms = {name.partition("/")[0]: name for name in _trees() if name not in FOR_PROGRAMS}
    for room, name in rooms.items():
        tree = _trees()[name]
        grown = ast.Module(body=[*tree.body, *ast.parse(planted).body], type_ignores=[])
        assert _found(grown) > _found(tree), room


def _found(tree: ast.Module) -> int:
    return len([*_unmarked(tree), *_sums(tree)])

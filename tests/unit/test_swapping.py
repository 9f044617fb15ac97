"""The swap of a finished folder: whatever happens, the old one or the new one stands whole under its name."""

from __future__ import annotations

import errno
import os
import pickle
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from applique import pack, swapping
from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.pack import check_folder, folder_name, pack_files, write_pack, write_text
from applique.pattern import Pattern, draft
from applique.record import with_record
from applique.swapping import NotCarriedError, recover, replace_folder

OLD = with_record({"a.txt": b"old", "below/b.txt": b"old too"})
NEW = with_record({"a.txt": b"new", "c.txt": b"new as well"})


def _tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.fixture(params=["one step", "two renames"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    if request.param == "two renames":
        monkeypatch.setattr(swapping, "_exchange", lambda one, other: False)
    return str(request.param)


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return draft(design_from_mapping({"row": [{"text": "I"}], "lettering": {"cap_height": "2in"}}))


def _leaves_a_note(folder: Path) -> Callable[[str], None]:
    """A progress that writes a note of the maker's own into `folder`."""

    def progress(_: str) -> None:
        (folder / "notes.txt").write_text("mine", encoding="utf-8")

    return progress


def test_a_folder_is_replaced_and_nothing_is_left_beside_it(tmp_path: Path, way: str) -> None:
    out = tmp_path / "out"
    replace_folder(out, OLD)
    assert _tree(out) == OLD
    replace_folder(out, NEW)
    assert _tree(out) == NEW
    assert list(tmp_path.iterdir()) == [out]


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the single step is Linux's")
def test_linux_exchanges_in_one_step(tmp_path: Path) -> None:
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    assert swapping._exchange(tmp_path / "one", tmp_path / "other")
    assert (tmp_path / "one" / "other").exists()
    assert (tmp_path / "other" / "one").exists()


def test_a_system_that_refuses_the_exchange_keeps_the_old_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refusing(one: Path, other: Path) -> bool:
        raise OSError(errno.EACCES, "Permission denied")

    replace_folder(tmp_path / "out", OLD)
    monkeypatch.setattr(swapping, "_exchange", refusing)
    with pytest.raises(OSError, match="Permission denied"):
        replace_folder(tmp_path / "out", NEW)
    assert _tree(tmp_path / "out") == OLD
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_folder_set_aside_by_a_killed_run_comes_back(tmp_path: Path) -> None:
    out = tmp_path / "out"
    replace_folder(out, OLD)
    out.rename(tmp_path / (swapping._beside(out, "old") + "abc"))
    (tmp_path / (swapping._beside(out, "new") + "abc")).mkdir()
    recover(out)
    assert _tree(out) == OLD
    assert list(tmp_path.iterdir()) == [out]


def test_leftovers_of_other_folders_and_of_running_writers_are_left_alone(tmp_path: Path) -> None:
    out = tmp_path / "out"
    other = tmp_path / (swapping._beside(tmp_path / "output", "new") + "abc")
    other.mkdir()
    mine = tmp_path / ".out.mine"
    mine.mkdir()
    with swapping._held_beside(out) as running:
        recover(out)
        assert running.is_dir()
    recover(out)
    assert not running.exists()
    assert other.is_dir()
    assert mine.is_dir()


def test_signs_of_patterns_in_a_name_match_themselves_only(tmp_path: Path) -> None:
    star = tmp_path / "o[u]*?"
    (tmp_path / (swapping._beside(star, "new") + "x")).mkdir()
    recover(star)
    assert list(tmp_path.iterdir()) == []


NAMES = [
    "with space",
    "it's “quoted”",
    'say "hi"',
    "שלום",
    "Любовь и мир",
    "日本",
    "🧵" * 30,
    "a" * 200,
    "-o",
    "~",
    "%20",
]


@pytest.mark.parametrize("name", NAMES)
def test_names_as_people_give_them(name: str, tmp_path: Path, way: str) -> None:
    place = check_folder(tmp_path / name, replace=False)
    replace_folder(place, OLD)
    replace_folder(place, NEW)
    assert _tree(tmp_path / name) == NEW
    assert [path.name for path in tmp_path.iterdir()] == [name]


@pytest.mark.parametrize(
    "name",
    [
        "CON",
        "con",
        "aux.txt",
        "Com1.quilt",
        "lpt9",
        "NUL .txt",
        "ends.",
        "ends ",
        "bell\a",
        "a\0b",
        "é" * 200,
    ],
)
def test_names_that_some_system_cannot_hold_are_refused(name: str, pattern: Pattern, tmp_path: Path) -> None:
    with pytest.raises(Refusal) as refused:
        write_pack(pattern, tmp_path / name)
    assert str(refused.value.problems[0].fix) == "another name"
    with pytest.raises(Refusal):
        write_text(tmp_path / name, "x", replace=True)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("Row Steady!", "row-steady"),
        ("CON", "con-quilt"),
        ("…", "pattern"),
        ("a/b\\c", "a-b-c"),
        ("x" * 90, "x" * 40),
    ],
)
def test_a_folder_name_from_words_is_good_everywhere(words: str, name: str) -> None:
    assert folder_name(words) == name


def test_the_top_of_the_disk_and_a_folder_for_a_file_are_refused(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="top of the disk"):
        check_folder(Path("/"), replace=True)
    with pytest.raises(Refusal, match="is a folder"):
        write_text(tmp_path, "x", replace=True)


def test_what_came_into_the_old_folder_at_the_last_moment_is_moved_beside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    out = tmp_path / "out"
    replace_folder(out, OLD)
    real = swapping._put_in_place

    def late(fresh: Path, folder: Path) -> Path | None:
        (folder / "below" / "late.txt").write_text("mine", encoding="utf-8")
        (folder / "a.txt").write_text("mine too", encoding="utf-8")
        return real(fresh, folder)

    monkeypatch.setattr(swapping, "_put_in_place", late)
    assert replace_folder(out, NEW) == (tmp_path / "out-kept-1",)
    assert _tree(out) == NEW
    assert _tree(tmp_path / "out-kept-1") == {"below/late.txt": b"mine", "a.txt": b"mine too"}
    assert {path.name for path in tmp_path.iterdir()} == {"out", "out-kept-1"}


def test_ctrl_c_right_after_the_exchange_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    out = tmp_path / "out"
    replace_folder(out, OLD)
    (out / "late.txt").write_text("mine", encoding="utf-8")
    (out / "a.txt").write_text("mine too", encoding="utf-8")
    real = swapping._put_in_place

    def interrupted(fresh: Path, folder: Path) -> Path | None:
        real(fresh, folder)
        raise KeyboardInterrupt

    monkeypatch.setattr(swapping, "_put_in_place", interrupted)
    with pytest.raises(KeyboardInterrupt):
        replace_folder(out, NEW, kept=["a.txt"])
    monkeypatch.undo()
    recover(out)
    assert _tree(out) == NEW
    assert _tree(tmp_path / "out-kept-1") == {"a.txt": b"mine too"}
    assert _tree(tmp_path / "out-kept-2") == {"late.txt": b"mine"}
    assert len(list(tmp_path.iterdir())) == 3


@pytest.mark.parametrize("kind", ["left", "kept"])
def test_a_disk_without_second_names_keeps_the_old_folder(
    kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*args: object, **kwargs: object) -> None:
        raise OSError(errno.EPERM, os.strerror(errno.EPERM))

    replace_folder(tmp_path / "out", OLD)
    (tmp_path / "out" / "a.txt").write_text("mine", encoding="utf-8")
    before = _tree(tmp_path / "out")
    monkeypatch.setattr(os, "link", failing)
    with pytest.raises(NotCarriedError) as refused:
        replace_folder(tmp_path / "out", NEW, **{kind: ["a.txt"]})
    assert refused.value.filename == "a.txt"
    assert _tree(tmp_path / "out") == before
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_place_is_refused(tmp_path: Path, pattern: Pattern) -> None:
    (tmp_path / "still").mkdir(mode=0o555)
    with pytest.raises(Refusal, match="Permission denied"):
        write_pack(pattern, tmp_path / "still" / "out")


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EDQUOT, errno.EACCES])
@pytest.mark.parametrize("stage", ["mkdtemp", "fsync"])
def test_a_disk_that_will_not_keeps_the_old_folder(
    number: int, stage: str, tmp_path: Path, pattern: Pattern, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    def failing(*args: object, **kwargs: object) -> str:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(pack, "pack_files", lambda pattern, progress: OLD)
    write_pack(pattern, tmp_path / "out")
    before = _tree(tmp_path / "out")
    monkeypatch.setattr(tempfile if stage == "mkdtemp" else os, stage, failing)
    with pytest.raises(Refusal, match=os.strerror(number)):
        write_pack(pattern, tmp_path / "out")
    assert _tree(tmp_path / "out") == before
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize("room", [1_000, 20_000, 60_000])
def test_a_file_that_may_not_grow_keeps_the_old_folder(room: int, tmp_path: Path) -> None:
    """A real failure of the kernel in the middle of a file, by RLIMIT_FSIZE."""
    code = (
        "import sys; from pathlib import Path; from applique.swapping import replace_folder\n"
        "replace_folder(Path(sys.argv[1]), {f'{n}.bin': bytes(n * 7000) for n in range(10)})"
    )
    replace_folder(tmp_path / "out", OLD)
    done = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path / "out")],
        capture_output=True,
        text=True,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (room, room)),
    )
    assert "File too large" in done.stderr
    assert _tree(tmp_path / "out") == OLD
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_what_is_put_into_the_folder_while_the_files_are_made_is_kept(
    tmp_path: Path, pattern: Pattern
) -> None:
    out = tmp_path / "out"
    write_pack(pattern, out)
    with pytest.raises(Refusal, match=r"notes\.txt"):
        write_pack(pattern, out, progress=_leaves_a_note(out))
    assert (out / "notes.txt").is_file()


# Kills

_WRITER = """
import os, pickle, sys, time
from pathlib import Path
from applique import swapping
from applique.design import design_from_mapping
from applique.pack import write_pack
from applique.pattern import draft
out, way, whole = Path(sys.argv[1]), sys.argv[2], sys.argv[3] == "whole"
if way == "two renames":
    swapping._exchange = lambda one, other: False
    quick = Path.rename
    def slow(self, target):
        # So that kills fall between the two renames, which is a matter of microseconds otherwise.
        time.sleep(0.04)
        return quick(self, target)
    Path.rename = slow
files = pickle.loads(Path(sys.argv[4]).read_bytes())
if sys.argv[3] == "swap":
    swapping.replace_folder(out, files[0])
else:
    patterns = [draft(design_from_mapping({"row": [{"text": t}], "lettering": {"cap_height": "1in"}})) for t in "IL"]
    write_pack(patterns[0], out)
if sys.argv[3] == "touched":
    (out / "photos").mkdir()
    (out / "notes.txt").write_text("notes", encoding="utf-8")
    (out / "photos" / "one.jpg").write_text("one", encoding="utf-8")
print("ready", flush=True)
for line in sys.stdin:
    child = os.fork()
    if child == 0:
        for turn in range(10_000):
            if sys.argv[3] == "touched":
                mine = out.with_name(f"mine-{os.getpid()}")
                mine.write_text(f"mine {turn}", encoding="utf-8")
                mine.replace(out / "summary.md")
                write_pack(patterns[turn % 2], out, replace=True)
            elif whole:
                write_pack(patterns[turn % 2], out)
            else:
                swapping.replace_folder(out, files[turn % 2])
        os._exit(0)
    print(child, flush=True)
    os.waitpid(child, 0)
    print("ended", flush=True)
"""


_Files = list[dict[str, bytes]]


@pytest.fixture(scope="module")
def packs() -> _Files:
    """The files of two small patterns."""
    tables: list[dict[str, Any]] = [{"row": [{"text": t}], "lettering": {"cap_height": "1in"}} for t in "IL"]
    return [pack_files(draft(design_from_mapping(data))) for data in tables]


def _killed_again_and_again(tmp_path: Path, whole: _Files, way: str, what: str, seed: int, kills: int) -> int:
    """Kill a writer `kills` times at seeded moments; how often the folder had to be recovered. Where it has to be now
    and then, it goes on until that happened."""
    room = tmp_path / f"{seed}"
    room.mkdir()
    out = room / "out"
    (room.parent / f"{seed}.files").write_bytes(pickle.dumps(whole))
    moments, recovered = random.Random(seed), 0
    with subprocess.Popen(
        [sys.executable, "-c", _WRITER, str(out), way, what, str(room.parent / f"{seed}.files")],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as writer:
        assert writer.stdin is not None
        assert writer.stdout is not None
        assert writer.stdout.readline() == "ready\n"
        for kill in range(20 * kills):
            if kill >= kills and (recovered or (way, what) != ("two renames", "swap")):
                break
            writer.stdin.write("go\n")
            writer.stdin.flush()
            child = int(writer.stdout.readline())
            signal.sigtimedwait([], moments.uniform(0.0, 0.35))
            os.kill(child, signal.SIGKILL)
            assert writer.stdout.readline() == "ended\n"
            if way == "two renames" and not out.exists():
                recover(out)
                recovered += 1
            if what == "touched":
                _nothing_is_lost(room, out)
            else:
                assert _tree(out) in whole
        writer.stdin.close()
    if what != "touched":
        replace_folder(out, NEW)
        assert list(room.iterdir()) == [out]
    return recovered


def _nothing_is_lost(room: Path, out: Path) -> None:
    """Every text that the writer put over the summary is there, in the folder or beside it; so are the notes."""
    recover(out)
    assert (out / "notes.txt").read_text("utf-8") == "notes"
    assert (out / "photos" / "one.jpg").read_text("utf-8") == "one"
    texts = [path.read_text("utf-8") for path in room.glob("out*/summary.md")]
    turns = {int(text.removeprefix("mine ")) for text in texts if text.startswith("mine ")}
    assert turns == set(range(max(turns, default=-1) + 1))
    assert not list(room.glob(".out.*"))
    for beside in room.glob("out-kept-*"):
        shutil.rmtree(beside)


@pytest.mark.long
def test_kills_lose_nothing_that_was_changed_or_added(tmp_path: Path, packs: _Files) -> None:
    rounds = [("one step", "touched", 5, 15), ("two renames", "touched", 6, 15)]
    with ThreadPoolExecutor(len(rounds)) as pool:
        list(pool.map(lambda round_: _killed_again_and_again(tmp_path, packs, *round_), rounds))


@pytest.mark.long
def test_a_hundred_kills_leave_the_old_folder_or_the_new_one(tmp_path: Path, packs: _Files) -> None:
    """A real SIGKILL at seeded moments: half while whole packs are made, half in a loop of swaps alone."""
    rounds = [
        ("one step", "whole", 1, 25),
        ("one step", "swap", 2, 40),
        ("two renames", "whole", 3, 10),
        ("two renames", "swap", 4, 25),
    ]
    with ThreadPoolExecutor(len(rounds)) as pool:
        recovered = list(pool.map(lambda round_: _killed_again_and_again(tmp_path, packs, *round_), rounds))
    assert recovered[:2] == [0, 0]
    assert recovered[3] > 0  # some came between the renames

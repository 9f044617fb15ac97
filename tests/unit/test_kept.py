"""The chest of quilts: what is kept comes back to the last step, through kills, damage, strangers and other windows."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from applique.design import read_design
from applique.errors import Refusal
from applique.kept import Address, ChangedElsewhere, Chest, History, KeptAddress

KEY = "abcdefgh23456789"
OTHER = "zzzzzzzz23456789"


def quilt(*words: str, **more: Any) -> dict[str, Any]:
    return {"row": [{"text": text} for text in words], **more}


def history(*words: str, done: tuple[str, ...] = (), undone: tuple[str, ...] = ()) -> History:
    return History(design=quilt(*words), done=done, undone=undone)


def step(*words: str) -> str:
    return json.dumps(quilt(*words))


def kinds(refusal: Refusal) -> list[str]:
    return [problem.kind for problem in refusal.problems]


def files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_quilt_comes_back_with_its_undo_and_its_design_file_is_one(tmp_path: Path) -> None:
    chest = Chest(tmp_path / "quilts")
    kept = History(
        design=quilt("OAR", "", "{LOCK}", title="Boats"), done=(step("O"),), undone=(step("OARS"),)
    )
    assert chest.write(KEY, kept, rests_on=0, beside={}) == 1
    assert Chest(tmp_path / "quilts").read(KEY) == (1, kept)
    assert [(one.key, one.title) for one in chest.listed()] == [(KEY, "Boats")]
    taken = read_design(tmp_path / "quilts" / KEY / "design.toml")
    assert [row.text for row in taken.row] == ["OAR", "{LOCK}"]


def test_what_is_no_design_yet_is_kept_as_it_is(tmp_path: Path) -> None:
    chest = Chest(tmp_path)
    wrong = History(design={"row": [{"text": "A", "cap_height": "tall"}], "panel": {"width": None}})
    chest.write(KEY, wrong, rests_on=0, beside={})
    assert chest.read(KEY) == (1, wrong)
    assert 'cap_height = "tall"' in (tmp_path / KEY / "design.toml").read_text("utf-8")


def test_of_two_windows_the_second_is_told_and_loses_nothing(tmp_path: Path) -> None:
    chest = Chest(tmp_path)
    chest.write(KEY, history("OAR"), rests_on=0, beside={})
    assert chest.write(KEY, history("OARS"), rests_on=1, beside={}) == 2
    with pytest.raises(ChangedElsewhere) as told:
        chest.write(KEY, history("OAK"), rests_on=1, beside={})
    assert told.value.revision == 2
    with pytest.raises(ChangedElsewhere):
        chest.write(KEY, history("NEW"), rests_on=0, beside={})
    assert chest.read(KEY) == (2, history("OARS"))
    # Said once more because the answer was lost, it is no other change.
    assert chest.write(KEY, history("OARS"), rests_on=1, beside={}) == 2
    assert chest.write(KEY, history("OAK"), rests_on=2, beside={}) == 3


@pytest.mark.parametrize("killed_at", ["history.json", "design.toml"])
def test_a_kill_between_the_files_leaves_the_old_or_the_new(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, killed_at: str
) -> None:
    chest = Chest(tmp_path)
    chest.write(KEY, history("OLD"), rests_on=0, beside={})
    real = Path.replace

    def killed(fresh: Path, target: Path) -> Path:
        if Path(target).name == killed_at:
            raise KeyboardInterrupt
        return real(fresh, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", killed)
        with pytest.raises(KeyboardInterrupt):
            chest.write(KEY, history("NEW"), rests_on=1, beside={})
    expected = (1, history("OLD")) if killed_at == "history.json" else (2, history("NEW"))
    assert chest.read(KEY) == expected
    assert chest.write(KEY, history("NEXT"), rests_on=expected[0], beside={}) == expected[0] + 1
    assert read_design(tmp_path / KEY / "design.toml").row[0].text == "NEXT"


WRITER = """
import sys
from pathlib import Path
from applique.kept import Chest, History
chest = Chest(Path(sys.argv[1]))
revision = chest.read("{key}")[0] if chest.has("{key}") else 0
while True:
    steps = tuple('{{"row": [{{"text": "%d"}}]}}' % number for number in range(revision % 50))
    history = History(design={{"row": [{{"text": str(revision + 1)}}]}}, done=steps)
    revision = chest.write("{key}", history, rests_on=revision, beside={{}})
    print(revision, flush=True)
"""


@pytest.mark.long
def test_a_process_killed_while_it_writes_leaves_whole_revisions(tmp_path: Path) -> None:
    """What was answered is there, at most one revision more; nothing is left over once somebody writes again."""
    moments = random.Random(15)
    chest = Chest(tmp_path)
    for _ in range(8):
        with subprocess.Popen(
            [sys.executable, "-c", WRITER.format(key=KEY), str(tmp_path)],
            stdout=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        ) as writer:
            assert writer.stdout is not None
            answered = int(writer.stdout.readline())
            time.sleep(moments.uniform(0, 0.2))
            writer.kill()
            answered = max([answered, *map(int, writer.stdout.read().split())])
        revision, kept = chest.read(KEY)
        assert revision in (answered, answered + 1)
        assert kept.design == quilt(str(revision))
        assert len(kept.done) == (revision - 1) % 50
        chest.write(KEY, history(str(revision + 1)), rests_on=revision, beside={})
        assert {path.name for path in (tmp_path / KEY).iterdir()} == {"history.json", "design.toml"}
    assert [one.key for one in chest.listed()] == [KEY]


def test_a_design_file_changed_by_hand_is_the_newest_step_and_can_be_undone(tmp_path: Path) -> None:
    chest = Chest(tmp_path)
    chest.write(KEY, history("OAR"), rests_on=0, beside={})
    (tmp_path / KEY / "design.toml").write_text('[[row]]\ntext = "BOAT"\n', encoding="utf-8")
    revision, kept = chest.read(KEY)
    assert (revision, kept.design, [json.loads(one) for one in kept.done]) == (
        2,
        quilt("BOAT"),
        [quilt("OAR")],
    )
    with pytest.raises(ChangedElsewhere):
        chest.write(KEY, history("OARS"), rests_on=1, beside={})
    (tmp_path / KEY / "design.toml").write_text("row = nothing", encoding="utf-8")
    before = files(tmp_path)
    with pytest.raises(Refusal) as refused:
        chest.write(KEY, history("OARS"), rests_on=1, beside={})
    assert kinds(refused.value) == ["kept-quilt-damaged"]
    assert files(tmp_path) == before


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (b"", "kept-quilt-damaged"),
        (b'{"format": 1}', "kept-quilt-damaged"),
        (b"[" * 100_000, "kept-quilt-damaged"),
        (b'{"format": 1, "revision": 1, "design": {"row": []}}', "kept-quilt-damaged"),
        (b'{"format": 2, "revision": 1, "quilt": "said in another way"}', "kept-by-newer-program"),
    ],
)
def test_a_damaged_or_newer_quilt_stands_among_the_others_untouched(
    tmp_path: Path, content: bytes, kind: str
) -> None:
    chest = Chest(tmp_path)
    chest.write(KEY, history("OAR"), rests_on=0, beside={})
    chest.write(OTHER, history("LOCK"), rests_on=0, beside={})
    (tmp_path / KEY / "history.json").write_bytes(content)
    before = files(tmp_path / KEY)
    listed = {one.key: one for one in chest.listed()}
    assert [problem.kind for problem in listed[KEY].problems] == [kind]
    assert (listed[OTHER].title, listed[OTHER].problems) == ("LOCK", ())
    for work in (
        lambda: chest.read(KEY),
        lambda: chest.write(KEY, history("NEW"), rests_on=1, beside={}),
    ):
        with pytest.raises(Refusal) as refused:
            work()
        assert kinds(refused.value) == [kind]
    assert files(tmp_path / KEY) == before


@pytest.mark.parametrize(
    "key", ["", "..", "../" + "a" * 13, "A" * 16, "trash", "a" * 15, "a" * 17, "a" * 16 + "\n"]
)
def test_only_a_plain_key_has_a_place(tmp_path: Path, key: str) -> None:
    chest = Chest(tmp_path / "quilts")
    assert not chest.has(key)
    for work in (
        lambda: chest.read(key),
        lambda: chest.write(key, history("A"), rests_on=0, beside={}),
        lambda: chest.remove(key),
        lambda: chest.file(key, "a.png"),
    ):
        with pytest.raises(Refusal) as refused:
            work()
        assert kinds(refused.value) == ["no-such-quilt"]
    assert not list(tmp_path.iterdir())


def test_nothing_outside_a_quilts_own_folder_is_read_or_written(tmp_path: Path) -> None:
    secret = tmp_path / "secret.png"
    secret.write_bytes(b"secret")
    chest = Chest(tmp_path / "quilts")
    chest.write(KEY, history("OAR"), rests_on=0, beside={"own.ttf": secret})
    folder = tmp_path / "quilts" / KEY
    (folder / "link.png").symlink_to(secret)
    os.mkfifo(folder / "pipe.png")
    assert chest.file(KEY, "own.ttf") == b"secret"
    assert set(chest.beside(KEY)) == {"own.ttf"}
    for name in (
        "link.png",
        "pipe.png",
        "../../secret.png",
        "history.json",
        "design.toml",
        ".lock",
        "none.png",
    ):
        assert chest.file(KEY, name) is None, name
    for name in ("../out.png", "history.json", "design.toml", ".hidden.png", "a.html", "a/b.png", ""):
        with pytest.raises(Refusal):
            chest.put_file(KEY, name, b"x")
    chest.put_file(KEY, "link.png", b"cloth")
    assert (secret.read_bytes(), chest.file(KEY, "link.png")) == (b"secret", b"cloth")
    (tmp_path / "quilts" / OTHER).symlink_to(folder)
    assert [one.key for one in chest.listed()] == [KEY]
    with pytest.raises(Refusal):
        chest.read(OTHER)
    (folder / "history.json").rename(tmp_path / "elsewhere.json")
    (folder / "history.json").symlink_to(tmp_path / "elsewhere.json")
    with pytest.raises(Refusal):
        chest.read(KEY)


def test_a_removed_quilt_lies_whole_in_the_trash(tmp_path: Path) -> None:
    chest = Chest(tmp_path)
    places = []
    for word in ("OAR", "LOCK"):
        chest.write(KEY, history(word), rests_on=0, beside={})
        before = files(tmp_path / KEY)
        places.append(chest.remove(KEY))
        assert files(places[-1]) == before
        assert not chest.listed()
    assert len(set(places)) == 2


def test_a_folder_that_cannot_be_written_is_said_and_nothing_is_half_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    chest = Chest(tmp_path)
    chest.write(KEY, history("OAR"), rests_on=0, beside={})
    before = files(tmp_path / KEY)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    for key, rests_on in ((KEY, 1), (OTHER, 0)):
        with pytest.raises(Refusal) as refused:
            chest.write(key, history("OARS"), rests_on=rests_on, beside={})
        assert "No space left on device" in str(refused.value)
    assert files(tmp_path / KEY) == before
    assert [one.key for one in chest.listed()] == [KEY]
    with pytest.raises(Refusal) as nowhere:
        Chest(None).write(KEY, history("A"), rests_on=0, beside={})
    assert kinds(nowhere.value) == ["nowhere-to-keep"]


def test_a_picture_is_drawn_once_for_each_design(tmp_path: Path) -> None:
    chest = Chest(tmp_path)
    drawn: list[str] = []

    def draw(design: Any) -> bytes:
        drawn.append(" ".join(row["text"] for row in design["row"]))
        return f"<svg>{drawn[-1]}</svg>".encode()

    chest.write(KEY, history("OAR", ""), rests_on=0, beside={})
    assert {chest.picture(KEY, draw) for _ in range(3)} == {b"<svg>OAR</svg>"}
    chest.write(KEY, history("LOCK"), rests_on=1, beside={})
    assert chest.picture(KEY, draw) == b"<svg>LOCK</svg>"
    assert drawn == ["OAR", "LOCK"]
    assert len(list((tmp_path / KEY).glob(".preview-*"))) == 1


def test_the_address_is_kept_for_one_program_and_from_other_users(tmp_path: Path) -> None:
    first, second = KeptAddress(tmp_path / "own"), KeptAddress(tmp_path / "own")
    address = Address(port=4711, token="a" * 32)
    assert first.take()
    assert first.read() is None
    first.write(address)
    assert (first.read(), second.take()) == (address, False)
    first.let_go()
    assert second.take()
    file = tmp_path / "own" / "page.json"
    assert file.stat().st_mode & 0o077 == 0
    file.chmod(0o644)
    assert second.read() is None
    second.write(address)
    assert second.read() == address
    for wrong in (
        b"",
        b"[]",
        b'{"format": 1, "port": 0, "token": "' + b"a" * 32 + b'"}',
        b'{"format": 1, "port": 80, "token": ""}',
    ):
        file.write_bytes(wrong)
        assert second.read() is None
    second.let_go()

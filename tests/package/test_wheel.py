"""What is shipped: the wheel and the source archive hold all that the program needs, and the wheel makes the demo."""

from __future__ import annotations

import subprocess
import sys
import sysconfig
import tarfile
import tomllib
import venv
import zipfile
from email.parser import Parser
from itertools import chain
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder with the wheel and the source archive; the wheel is built from that archive, not from the checkout."""
    folder = tmp_path_factory.mktemp("dist")
    done = subprocess.run(
        [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(folder), str(ROOT)],
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stdout[-2_000:] + done.stderr[-2_000:]
    return folder


def _in_checkout(folder: str) -> set[str]:
    """The files of `folder` in the checkout that are not made on the way."""
    return {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / folder).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }


def test_the_wheel_holds_the_program_its_fonts_and_their_licenses(built: Path) -> None:
    (wheel,) = built.glob("*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    assert _in_checkout("applique") <= names
    assert {f"applique/{name}" for name in _in_checkout("fonts") | _in_checkout("samples")} <= names
    assert "applique/py.typed" in names
    (metadata,) = (name for name in names if name.endswith("METADATA"))
    licenses = {name.partition("/licenses/")[2] for name in names if "/licenses/" in name}
    fonts = {name for name in _in_checkout("fonts") if name.endswith("OFL.txt")}
    assert licenses == {"LICENSE"} | fonts
    assert len(fonts) == 14
    said = Parser().parsestr(zipfile.ZipFile(wheel).read(metadata).decode("utf-8"))
    assert said["Requires-Python"] == ">=3.11"
    assert not any(name.startswith(("tests/", "docs/", "samples/")) for name in names)


def test_the_source_archive_holds_what_the_tests_need(built: Path) -> None:
    (archive,) = built.glob("*.tar.gz")
    with tarfile.open(archive) as opened:
        names = {name.partition("/")[2] for name in opened.getnames()}
    for folder in ("applique", "fonts", "samples", "tests", "docs"):
        assert _in_checkout(folder) <= names
    assert {"README.md", "LICENSE", "DEVELOPERS.md", "pyproject.toml"} <= names


@pytest.mark.long
def test_an_empty_environment_with_the_wheel_makes_the_demo(built: Path, tmp_path: Path) -> None:
    """What the wheel depends on is taken from the environment of the tests, so that no index is asked."""
    (wheel,) = built.glob("*.whl")
    room = tmp_path / "room"
    venv.create(room, with_pip=False, symlinks=True)
    python = room / "bin" / "python"
    own = Path(
        subprocess.run(
            [python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"],
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
    )
    pip = [sys.executable, "-m", "pip", "--python", str(python), "install", "-q", "--no-index", "--no-deps"]
    subprocess.run([*pip, str(wheel)], check=True, capture_output=True)
    borrowed = {sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}
    (own / "borrowed.pth").write_text("\n".join(sorted(borrowed)) + "\n", encoding="utf-8")
    where = subprocess.run(
        [python, "-c", "import applique; print(applique.__file__)"],
        capture_output=True,
        text=True,
        check=True,
        cwd=tmp_path,
    )
    assert Path(where.stdout.strip()).is_relative_to(room)
    demo = ROOT / "samples" / "boathouse.toml"
    for command in ([room / "bin" / "applique"], [python, "-m", "applique"]):
        done = subprocess.run(
            [*command, "make", str(demo), "-o", f"demo-{len(command)}", "--effort", "quick"],
            capture_output=True,
            text=True,
            cwd=tmp_path,
        )
        assert done.returncode == 0, done.stderr
    assert (tmp_path / "demo-1" / "pattern.pdf").read_bytes() == (
        tmp_path / "demo-3" / "pattern.pdf"
    ).read_bytes()


def test_the_classifiers_name_every_python_that_is_meant() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    for minor in range(11, 15):
        assert f"Programming Language :: Python :: 3.{minor}" in project["classifiers"]


def test_the_lock_of_ci_has_every_dependency_at_one_version() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    lines = (ROOT / ".ci" / "requirements.lock").read_text("utf-8").splitlines()
    locked = {_plain(line.partition("==")[0]) for line in lines if line and not line.startswith("#")}
    assert all("==" in line for line in lines if line and not line.startswith("#"))
    wanted = [*project["dependencies"], *chain(*project["optional-dependencies"].values())]
    assert {_plain(item.partition(">")[0].partition("[")[0]) for item in wanted} <= locked
    assert "-c .ci/requirements.lock" in (ROOT / ".ci" / "run").read_text("utf-8")


def _plain(name: str) -> str:
    return name.strip().lower().replace("_", "-")

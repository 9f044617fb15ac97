"""The page's numbers go on from its drawing: rows are laid once, and never those of another design."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import httpx
import pytest

from applique.design import design_data, design_from_mapping
from applique.language import american
from applique.pattern import draft
from applique.web.views import numbers_view

if TYPE_CHECKING:
    from tests.web.conftest import Running, Served

SMALL: dict[str, Any] = {
    "row": [{"text": "Row"}],
    "lettering": {"font": "Pacifico", "cap_height": "1 1/2in"},
    "panel": {"width": "20in", "height": "16in"},
}
"""Thin strokes: there are findings, and cures are tried."""


class Noted:
    """A server that notes every design whose rows it lays, in whichever of its processes."""

    def __init__(self, page: Served, file: Path) -> None:
        self.page = page
        self._file = file

    def lines(self) -> list[dict[str, Any]]:
        return [json.loads(line) for line in self._file.read_text("utf-8").splitlines()]

    def times(self, design: dict[str, Any]) -> int:
        """How often the rows of this very design were laid."""
        data = design_data(design_from_mapping(design))
        return sum(line["design"] == data for line in self.lines())


@pytest.fixture(scope="module")
def noting(start_page: type[Running], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Noted]:
    folder = tmp_path_factory.mktemp("noting")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LAID_ROWS", str(folder / "laid"))
        program = [str(Path(__file__).with_name("noting_server.py"))]
        with start_page(folder, program=program) as page:
            yield Noted(page, folder / "laid")


def events(client: httpx.Client, path: str, design: dict[str, Any]) -> list[tuple[str, Any]]:
    """What a slow work tells, as (name, data)."""
    blocks = [block.split("\n") for block in client.post(path, json=design).text.strip().split("\n\n")]
    return [(head.removeprefix("event: "), json.loads(data.removeprefix("data: "))) for head, data in blocks]


def numbers(client: httpx.Client, design: dict[str, Any]) -> dict[str, Any]:
    """The first numbers, without their findings."""
    said = events(client, "/api/numbers", design)
    assert [name for name, _ in said] == ["numbers", "findings", "numbers", "done"]
    return {key: value for key, value in said[0][1].items() if key != "findings"}


def drafted(design: dict[str, Any]) -> dict[str, Any]:
    return numbers_view(draft(design_from_mapping(design)), american(), settled=False)


@pytest.mark.long
def test_a_keystroke_and_the_numbers_after_it_lay_rows_once(noting: Noted) -> None:
    """Numbers run in another process, where notes are taken too: the letter that it warms up with is among them."""
    client = noting.page.client()
    assert client.post("/api/plan", json=SMALL).json()["drawing"] is not None
    assert numbers(client, SMALL) == drafted(SMALL)
    warm = [line["process"] for line in noting.lines() if line["design"]["row"] == [{"text": "A"}]]
    assert len(set(warm)) >= 2
    cured = [line["process"] for line in noting.lines() if line["design"]["row"][0]["text"] == "Row"]
    assert len(set(cured)) == 2
    assert noting.times(SMALL) == 1


@pytest.mark.long
def test_a_pattern_in_a_font_of_ones_own_lays_rows_once(noting: Noted, dejavu_bold: str) -> None:
    """The drawing opens the font by its path; the numbers, with the cures of what is small, know it by its name."""
    client = noting.page.client()
    content = Path(dejavu_bold).read_bytes()
    name = client.post("/api/fonts", params={"name": "mine.ttf"}, content=content).json()["font"]
    design = {**SMALL, "row": [{"text": "OH"}], "lettering": {"font": name, "cap_height": "5/8in"}}
    assert client.post("/api/plan", json=design).json()["drawing"] is not None
    said = dict(events(client, "/api/numbers", design))
    fonts = {
        cure["design"]["lettering"]["font"] for one in said["findings"]["findings"] for cure in one["cures"]
    }
    assert fonts == {name}
    made = dict(events(client, "/api/make", design))["done"]["made"]
    assert noting.times(design) == 1
    assert 'font = "mine.ttf"' in client.get(f"/api/made/{made}/file/design.toml").text


@pytest.mark.long
def test_numbers_never_start_from_the_drawing_of_another_design(noting: Noted) -> None:
    """A drawing that came between, one of an older keystroke, one of another page, one that was let go of."""
    client, other = noting.page.client(), noting.page.client()
    former = {**SMALL, "row": [{"text": "OAR"}]}
    newer = {**former, "panel": {"width": "20in", "height": "17in"}, "row": [{"text": "OARS"}]}
    assert client.post("/api/plan", json=former).json()["drawing"] is not None
    assert numbers(client, newer) == drafted(newer)
    assert client.post("/api/plan", json=newer).json()["drawing"] is not None
    assert numbers(client, former) == drafted(former) != drafted(newer)
    assert numbers(other, newer) == drafted(newer)
    assert (noting.times(former), noting.times(newer)) == (2, 3)
    client.post("/api/goodbye")
    assert numbers(client, newer) == drafted(newer)
    assert noting.times(newer) == 4

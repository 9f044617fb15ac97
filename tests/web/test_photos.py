"""Photos of fabrics on the page: made ready before they are kept, drawn at true scale, saved and opened again."""

from __future__ import annotations

import base64
import io
import json
import secrets
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import quote

import numpy as np
import pytest
from PIL import Image

from tests.web.test_page import Sheet
from tests.web.test_server import raw

if TYPE_CHECKING:
    import httpx

    from tests.web.conftest import Running, Served

PLACE: Final = "54.0901 N 12.1405 E"
RED: Final = (204, 16, 32)
BLUE: Final = (16, 32, 204)
SMALL: Final[dict[str, Any]] = {
    "panel": {"width": "12in", "height": "12in"},
    "lettering": {"font": "Fredoka", "cap_height": "4in"},
    "row": [{"text": "O"}],
}


def _striped(kind: str = "PNG", **more: Any) -> bytes:
    """Red above blue, twice as wide as high."""
    picture = Image.new("RGB", (80, 40), RED)
    picture.paste(BLUE, (0, 20, 80, 40))
    file = io.BytesIO()
    picture.save(file, kind, **more)
    return file.getvalue()


def _from_a_phone() -> bytes:
    shades = np.random.default_rng(3).integers(60, 200, (30, 40, 3), dtype=np.uint8)
    exif = Image.Exif()
    exif[0x010E] = PLACE
    file = io.BytesIO()
    Image.fromarray(shades).resize((1600, 1200)).save(file, "JPEG", exif=exif)
    return file.getvalue()


def _add(client: httpx.Client, name: str, content: bytes) -> httpx.Response:
    return client.post("/api/photos", params={"name": name}, content=content)


def _quilt(photo: str) -> dict[str, Any]:
    return {**SMALL, "fabric": [{"name": "Birds", "photo": photo, "photo_width": "6in"}]}


@pytest.mark.long
def test_a_photo_is_made_ready_for_its_page_and_named_in_the_folder(served: Served) -> None:
    client = served.client()
    answer = _add(client, "../../my birds.jpeg", _from_a_phone()).json()
    assert answer["photo"] == "my birds.jpeg"
    kept = client.get("/api/photos/my birds.jpeg").content
    assert PLACE.encode() not in kept
    assert Image.open(io.BytesIO(kept)).size == (1200, 900)
    design = _quilt(answer["photo"])
    drawing = client.post("/api/plan", json=design).json()["drawing"]
    assert drawing["photos"] == [{"fabric": "Birds", "photo": "my birds.jpeg", "width": 6.0, "height": 4.5}]
    assert ["Birds", answer["color"]] in drawing["fabrics"]
    assert drawing["design"]["fabric"][0]["photo"] == "my birds.jpeg"
    blocks = client.post("/api/make", json=design).text.strip().split("\n\n")
    head, data = blocks[-1].split("\n")
    assert head == "event: done", data
    folder = client.get(f"/api/made/{json.loads(data.removeprefix('data: '))['made']}/folder").content
    with zipfile.ZipFile(io.BytesIO(folder)) as archive:
        files = {name.rsplit("/", 1)[-1]: archive.read(name) for name in archive.namelist()}
    assert files["my birds.jpeg"] == kept
    assert 'photo = "my birds.jpeg"' in files["design.toml"].decode()
    assert not [name for name, content in files.items() if PLACE.encode() in content]


def test_a_photo_belongs_to_its_page_alone(served: Served) -> None:
    name = _add(served.client(), "birds.png", _striped()).json()["photo"]
    other = served.client()
    assert other.get(f"/api/photos/{name}").status_code == 404
    (finding,) = other.post("/api/plan", json=_quilt(name)).json()["findings"]
    assert (finding["kind"], finding["stops"]) == ("photo-not-on-page", True)
    assert other.post("/api/make", json=_quilt(name)).status_code == 422
    assert other.post("/api/save", json=_quilt(name)).status_code == 422


@pytest.mark.parametrize("name", ["/etc/hostname", "../../secret.png", "..\\secret.png", "nests.json"])
def test_a_file_that_the_page_was_not_given_is_never_read(served: Served, name: str) -> None:
    client = served.client()
    assert client.get(f"/api/photos/{quote(name, safe='')}").status_code == 404
    (finding,) = client.post("/api/plan", json=_quilt(name)).json()["findings"]
    assert finding["kind"] in ("photo-not-on-page", "photo-not-beside")


def test_a_photo_that_is_refused_is_not_kept(served: Served) -> None:
    client = served.client()
    for name, content, kind in [
        ("birds.jpg", b"These are words.", "photo-no-picture"),
        ("birds.txt", _striped(), "photo-no-picture"),
        ("birds.png", _striped()[:60], "photo-damaged"),
    ]:
        answer = _add(client, name, content)
        assert (answer.status_code, [one["kind"] for one in answer.json()["problems"]]) == (422, [kind])
        assert client.get(f"/api/photos/{name}").status_code == 404
    headers = {
        "Host": served.origin.removeprefix("http://"),
        "x-applique-token": served.token,
        "x-applique-tab": client.headers["x-applique-tab"],
        "Content-Length": "25000001",
    }
    assert raw(served, "POST", "/api/photos?name=birds.png", headers)[0] == 413
    assert _add(client, "birds.png", _striped()).json()["photo"] == "birds.png"


def test_a_photo_never_takes_the_place_of_another_file(served: Served) -> None:
    client = served.client()
    mark = client.post("/api/marks", params={"name": "birds.png"}, content=_striped())
    assert mark.json() == {"mark_file": "birds.png"}
    assert _add(client, "birds.png", _striped()).json()["photo"] == "birds 2.png"
    assert _add(client, "BIRDS.png", _striped()).json()["photo"] == "birds 2.png"
    assert _add(client, "BIRDS.png", _other()).json()["photo"] == "BIRDS 3.png"


def _other() -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (8, 8), BLUE).save(file, "PNG")
    return file.getvalue()


@pytest.mark.long
def test_a_page_begins_with_the_photos_of_its_design(start_page: type[Running], tmp_path: Path) -> None:
    (tmp_path / "birds.webp").write_bytes(_striped("WEBP", lossless=True))
    (tmp_path / "quilt.toml").write_text(
        '[panel]\nfabric = "Birds"\n[[row]]\ntext = "O"\n[[fabric]]\nname = "Birds"\nphoto = "birds.webp"\n'
    )
    with start_page(tmp_path / "cache", str(tmp_path / "quilt.toml")) as served:
        client = served.client()
        design = client.post("/api/hello").json()["design"]
        assert design["fabric"] == [{"name": "Birds", "photo": "birds.png"}]
        assert client.get("/api/photos/birds.png").content[:4] == b"\x89PNG"
        assert client.post("/api/plan", json=design).json()["drawing"]["photos"][0]["width"] == 8


def test_a_kept_quilt_keeps_its_photos_and_gives_them_to_whoever_opens_it(served: Served) -> None:
    client, other, key = served.client(), served.client(), secrets.token_hex(8)
    for name in ("birds.png", "not used.png"):
        assert _add(client, name, _striped() if name == "birds.png" else _other()).json()["photo"] == name
    ready = client.get("/api/photos/birds.png").content
    design = _quilt("birds.png")
    assert client.put(f"/api/quilts/{key}", json={"rests_on": 0, "design": design}).status_code == 200
    assert other.post("/api/plan", json=design).json()["drawing"] is None
    assert other.post("/api/hello", params={"quilt": key}).json()["tab"] == other.headers["x-applique-tab"]
    assert other.get("/api/photos/birds.png").content == ready
    assert other.get("/api/photos/not used.png").status_code == 404
    assert [one["photo"] for one in other.post("/api/plan", json=design).json()["drawing"]["photos"]] == [
        "birds.png"
    ]
    assert _add(other, "birds.png", _other()).json()["photo"] == "birds 2.png"
    picture = served.client().get(f"/api/quilts/{key}/picture").text
    assert base64.b64encode(ready).decode() in picture
    elsewhere = other.post("/api/hello").json()["tab"]
    assert elsewhere != other.headers["x-applique-tab"]
    other.headers["x-applique-tab"] = elsewhere
    assert other.get("/api/photos/birds.png").status_code == 404


@pytest.fixture
def sheet(served: Served, browser: Any) -> Any:
    context = browser.new_context(viewport={"width": 1280, "height": 800}, accept_downloads=True)
    opened = Sheet(context.new_page(), served.address)
    yield opened
    opened.quiet()
    context.close()


def _choose(sheet: Sheet, name: str, content: bytes) -> None:
    sheet.page.locator("#photo-file-0").set_input_files(
        {"name": name, "mimeType": "image/png", "buffer": content}
    )


@pytest.mark.long
@pytest.mark.browser
def test_a_photo_is_chosen_seen_made_wider_and_removed(sheet: Sheet) -> None:
    page = sheet.page
    sheet.words("OAR")
    sheet.unfold("cloth")
    page.get_by_role("button", name="Add a fabric").click()
    _choose(sheet, "words.jpg", b"These are words.")
    page.get_by_role("alert").get_by_text("words.jpg is no JPEG, PNG or WebP picture").wait_for()
    _choose(sheet, "cut-off.png", _striped()[:60])
    page.get_by_role("alert").get_by_text("cut-off.png").wait_for()
    assert "photo" not in sheet.design()["fabric"][0]
    _choose(sheet, "birds.png", _striped())
    filled = page.locator("#art .letter path[fill='url(#cloth-0)']")
    filled.first.wait_for(state="attached")
    assert filled.count() == 3
    (fabric,) = sheet.design()["fabric"]
    assert (fabric["photo"], "color" in fabric) == ("birds.png", False)
    tile = page.locator("#drawing pattern")
    assert (tile.get_attribute("width"), tile.get_attribute("height")) == ("8", "4")
    _looks_striped(sheet)
    mean = page.locator("[data-focus='fabric-0-color']").input_value()
    assert mean not in ("#1f4e5f", "#000000")
    page.get_by_label("The photo shows, from left to right").fill("4")
    page.keyboard.press("Tab")
    page.locator("#drawing pattern[width='4'][height='2']").wait_for(state="attached")
    assert sheet.design()["fabric"][0]["photo_width"] == "4in"
    page.get_by_role("button", name="Remove the photo").click()
    page.locator(f"#art .letter [fill='{mean}']").first.wait_for(state="attached")
    (fabric,) = sheet.design()["fabric"]
    assert fabric.keys() == {"name", "color"}
    page.keyboard.press("Control+z")
    filled.first.wait_for(state="attached")


def _looks_striped(sheet: Sheet) -> None:
    """The first letter as it is painted: red and blue and hardly anything between."""
    box = sheet.page.locator("#art .letter").first.bounding_box()
    shown = np.asarray(Image.open(io.BytesIO(sheet.page.screenshot(clip=box))).convert("RGB"), dtype=int)
    for color in (RED, BLUE):
        assert (np.abs(shown - color).max(axis=2) < 20).mean() > 0.05


def _in_birds(sheet: Sheet, photo: bytes) -> None:
    """Type a word and give it a fabric with a photo."""
    sheet.words("OAR")
    sheet.unfold("cloth")
    sheet.page.get_by_role("button", name="Add a fabric").click()
    _choose(sheet, "birds.png", photo)
    sheet.page.locator("#art .letter [fill^='url']").first.wait_for(state="attached")


@pytest.mark.long
@pytest.mark.browser
def test_a_design_with_photos_is_saved_whole_and_opened_in_another_page(
    sheet: Sheet, served: Served, browser: Any, tmp_path: Path
) -> None:
    """There the name of the photo is taken by another one."""
    page = sheet.page
    _in_birds(sheet, _striped())
    page.get_by_role("button", name="Save", exact=True).click()
    assert page.locator("#save-name").input_value() == "oar.zip"
    with page.expect_download() as download:
        page.locator("#save-dialog button.main").click()
    with zipfile.ZipFile(download.value.path()) as archive:
        archive.extractall(tmp_path)
    files = sorted(path for path in tmp_path.rglob("*") if path.is_file())
    assert [path.name for path in files] == ["birds.png", "oar.toml"]
    context = browser.new_context()
    other = Sheet(context.new_page(), served.address)
    _in_birds(other, _other())
    before = other.design()
    broken = {"name": "birds.png", "mimeType": "image/png", "buffer": _striped()[:60]}
    toml = {"name": "oar.toml", "mimeType": "text/plain", "buffer": files[1].read_bytes()}
    other.page.locator("#open-file").set_input_files([toml, broken])
    other.page.locator("#findings").get_by_text(": birds.png is a damaged picture").wait_for(state="attached")
    assert other.design() == before
    other.page.locator("#open-file").set_input_files(files)
    other.settled(lambda: other.design()["fabric"][0]["photo"], "birds 2.png")
    other.page.locator("#drawing pattern[height='4'] image[href^='blob']").wait_for(state="attached")
    other.quiet()
    context.close()

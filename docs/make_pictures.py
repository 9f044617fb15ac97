"""Draw the pictures of the documents with the tool itself. Run `python docs/make_pictures.py`."""

from pathlib import Path

from applique import draft, read_design
from applique.preview import preview_png, preview_svg

HERE = Path(__file__).parent
WIDTH_PX = 900


if __name__ == "__main__":
    pattern = draft(read_design(HERE.parent / "samples" / "boathouse.toml"))
    (HERE / "boathouse.png").write_bytes(preview_png(preview_svg(pattern), width_px=WIDTH_PX))

"""Where a place of the design stands in the text of its file."""

from __future__ import annotations

import pytest

from applique.design.lines import line_of

TEXT = '''title = "A [row] = 1"
paper.size = "A4"

[[row]]
text = """
cap_height = 1
"""
[[row]]
text = "B"  # [[row]]
cap_height = "7in"
[[row.nudge]]
letter = 1
[[row.nudge]]
letter = 2
[lettering]
"font" = "Fredoka"
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("title",), 1),
        (("paper", "size"), 2),
        (("row", 1), 4),
        (("row", 1, "cap_height"), 4),
        (("row", 2, "text"), 9),
        (("row", 2, "cap_height"), 10),
        (("row", 2, "nudge", 2, "letter"), 14),
        (("lettering", "font"), 16),
        (("lettering", "gap"), 15),
        (("row", 3, "text"), None),
        (("panel", "width"), None),
        ((), None),
    ],
)
def test_a_place_is_found_at_its_line_or_at_the_head_of_its_table(
    path: tuple[str | int, ...], line: int | None
) -> None:
    assert line_of(TEXT, path) == line

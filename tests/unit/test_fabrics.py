"""Which fabric stands in where the design names none."""

from __future__ import annotations

import subprocess
import sys

import pytest

from applique.design import design_from_mapping
from applique.fabrics import resolve_fabrics

PLACED = """
import sys
from applique.design import design_from_mapping
from applique.panel import place_rows
place_rows(design_from_mapping({"row": [{"text": "HI"}], "lettering": {"outline": sys.argv[1]}}))
print("coloraide" in sys.modules)
"""


@pytest.mark.parametrize(("outline", "weighed"), [("0in", False), ("1/4in", True)])
def test_the_colors_of_an_outline_were_weighed_for_words_that_have_none(outline: str, weighed: bool) -> None:
    done = subprocess.run([sys.executable, "-c", PLACED, outline], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == str(weighed)


def test_a_fabric_for_the_outline_stood_among_the_fabrics_of_words_that_have_none() -> None:
    bare = {"row": [{"text": "HI"}]}
    assert "Outline" not in resolve_fabrics(design_from_mapping(bare)).by_name
    outlined = design_from_mapping({"row": [{"text": "HI", "outline": "1/8in"}]})
    assert "Outline" in resolve_fabrics(outlined).by_name

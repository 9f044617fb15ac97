"""Each cure that is offered passes when the tool is run again with it, and makes nothing else worse."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from applique.design import Method, design_from_mapping
from applique.errors import Refusal
from applique.sewing.cures import check_design, cures
from applique.typeset.bundled import BUNDLED
from applique.words.cures import cure_said


@pytest.mark.long
@settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(
    font=st.sampled_from([font.name for font in BUNDLED]),
    height=st.integers(8, 80),
    method=st.sampled_from(list(Method)),
    text=st.sampled_from(["Rest", "HOME", "g8&y", "Wave"]),
)
def test_every_cure_cures(font: str, height: int, method: Method, text: str) -> None:
    design = design_from_mapping(
        {
            "row": [{"text": text}],
            "lettering": {"font": font, "cap_height": f"{height}/8in"},
            "panel": {"width": "70in", "height": "40in"},
            "sewing": {"method": method.value},
        }
    )
    try:
        findings = check_design(design).findings
    except Refusal:
        return
    for finding in findings[:2]:
        for cure in cures(check_design(design), finding, most=3):
            after = {(one.kind, one.row): one.measure for one in check_design(cure.design).findings}
            assert (finding.kind, finding.row) not in after, str(cure_said(cure))
            before = {(one.kind, one.row): one.measure for one in findings}
            assert after.keys() <= before.keys(), str(cure_said(cure))
            assert all(measure >= before[where] / 1.02 for where, measure in after.items()), str(
                cure_said(cure)
            )

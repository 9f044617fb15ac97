"""The page says the length of a move by the same rule as the program: the same fractions, decimals and units."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from applique.language import Speech, american
from applique.units import MM_PER_INCH, Units, as_length
from tests.made_up import made_up
from tests.web.patience import SLOW

if TYPE_CHECKING:
    from tests.web.conftest import Served

SAID = """async ([address, moves]) => {
  const { lengthSaid } = await import(address);
  return moves.map(([inches, metric]) => lengthSaid(inches, metric));
}"""
THIRTY_SECONDS = [Fraction(count, 32) for count in (*range(129), 1_600, 1_601, 50_000)]
HALF_MILLIMETERS = [count / (2 * MM_PER_INCH) for count in (*range(101), 2_541, 100_001)]
BETWEEN = [Fraction(count, 64) for count in range(1, 20, 2)] + [Fraction(10, 3), 1 / MM_PER_INCH / 8]


@pytest.mark.long
@pytest.mark.browser
@pytest.mark.parametrize("speech", [american(), made_up()], ids=lambda speech: speech.tag)
def test_a_move_is_said_as_the_program_says_lengths(
    made_up_page: Served, browser: Any, speech: Speech
) -> None:
    moves = [(length, Units.INCHES) for length in THIRTY_SECONDS + BETWEEN]
    moves += [(length, Units.CENTIMETERS) for length in HALF_MILLIMETERS + BETWEEN]
    context = browser.new_context(extra_http_headers={"accept-language": speech.tag})
    page = context.new_page()
    page.set_default_timeout(SLOW)
    page.goto(made_up_page.address)
    asked = [(float(length), units is Units.CENTIMETERS) for length, units in moves]
    said = page.evaluate(SAID, [f"{made_up_page.start}static/measures.js", asked])
    context.close()
    assert said == [
        speech.measure(as_length(float(length), units, denominator=32)) for length, units in moves
    ]
    assert {"3/32 in", "1 1/4 in", "0.05 cm", "1.5 cm"} <= set(said) or speech != american()

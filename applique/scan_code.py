"""A contact as a code to scan: a QR code, as squares that writers only draw."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import segno

__all__ = ["LEVEL", "MODULE", "QUIET", "ScanCode", "scan_code"]

QUIET: Final = 4
"""Light modules on every side: ISO/IEC 18004, the quiet zone of a QR code is 4 modules wide."""
LEVEL: Final = "M"
"""The level of error correction: M, about 15 % of the codewords can be restored (ISO/IEC 18004)."""
MODULE: Final = 0.02
"""Inches of one module as it is printed, half a millimeter: phones read that on paper (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScanCode:
    """A code for `text`: its modules from the top row down, each from the left, True for dark, quiet zone and all."""

    text: str
    modules: tuple[tuple[bool, ...], ...]

    @property
    def count(self) -> int:
        """Modules along each side."""
        return len(self.modules)

    @property
    def side(self) -> float:
        """Inches of each side as it is printed, the quiet zone in it."""
        return self.count * MODULE


def scan_code(text: str) -> ScanCode:
    """The QR code of `text` at error correction level M, with its quiet zone; the same on every run.

    Raises:
        ValueError: no text, or more than a code holds, which is far more than a contact may have.
    Source:
        ISO/IEC 18004, QR Code bar code symbology, as the package `segno` carries it out.
    """
    symbol = segno.make_qr(text, error=LEVEL, boost_error=False)
    return ScanCode(
        text=text,
        modules=tuple(tuple(bool(module) for module in row) for row in symbol.matrix_iter(border=QUIET)),
    )

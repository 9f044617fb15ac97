"""The one rule by which a length that is used becomes the length to buy. Exact inches."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, TypeAlias, TypeVar

from applique.units import round_up

__all__ = ["BeyondLayout", "Extra", "Rule", "WashAndSquare"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BeyondLayout:
    """So much more than a layout of letters takes.

    Source:
        About a quarter more: common practice, no source.
    """

    percent: int

    def added_to(self, used: Fraction) -> Fraction:
        """`used` with it."""
        return used * (100 + self.percent) / 100

    def least_of(self, used: Fraction) -> Fraction:
        """The least length that will do: `used` with it."""
        return self.added_to(used)


@dataclass(frozen=True, slots=True, kw_only=True)
class WashAndSquare:
    """What fabric loses before it is cut: in the wash, and `squaring` inches at each of its two cut ends; and how many
    inches of what is bought must be to spare.
    """

    shrinkage_percent: int
    squaring: Fraction
    spare: Fraction = Fraction(0)

    def added_to(self, used: Fraction) -> Fraction:
        """The length that has `used` inches between squared ends once it is washed; nothing where nothing is used.

        Source:
            Fabric that shrinks by s needs length / (1 - s): algebra.
        """
        return (used + 2 * self.squaring) / self._kept if used else Fraction(0)

    def least_of(self, used: Fraction) -> Fraction:
        """The least length that will do: that which has `used` inches and what must be to spare."""
        return self.added_to(used + self.spare) if used else Fraction(0)

    def left_of(self, bought: Fraction, used: Fraction = Fraction(0)) -> Fraction:
        """What remains of a length that was bought when `used` inches are cut from it between squared ends."""
        return bought * self._kept - 2 * self.squaring - used if bought else Fraction(0)

    @property
    def _kept(self) -> Fraction:
        return Fraction(100 - self.shrinkage_percent, 100)


Extra: TypeAlias = BeyondLayout | WashAndSquare
"""What is wanted beyond what is used."""
ExtraT = TypeVar("ExtraT", bound=Extra, covariant=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule(Generic[ExtraT]):
    """What is `used`, what is wanted beyond it, and the `step` that a shop cuts lengths to."""

    used: Fraction
    extra: ExtraT
    step: Fraction

    @property
    def wanted(self) -> Fraction:
        """What is used with its extra."""
        return self.extra.added_to(self.used)

    @property
    def buy(self) -> Fraction:
        """The least length that a shop cuts and that has what is wanted, and what must be to spare."""
        return round_up(self.extra.least_of(self.used), self.step)

    @property
    def has_more(self) -> bool:
        """Whether more is bought than the wanted length rounded up, so that there is some to spare."""
        return self.buy > round_up(self.wanted, self.step)

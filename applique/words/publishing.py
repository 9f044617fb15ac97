"""What a published pattern says of its publisher: edition and year, and what others may do with it."""

from __future__ import annotations

from typing import Final

from applique.design import Publisher
from applique.language import NOTHING, Message, message

__all__ = ["edition_said", "imprint_said", "license_said"]

_LICENSE: Final = message("You may sell what you sew from this pattern; do not copy the pattern.")


def license_said(publisher: Publisher) -> str | Message:
    """What others may do: in her words if she has said it, in ours where there is a publisher; else nothing."""
    return publisher.license or (_LICENSE if publisher.name else NOTHING)


def edition_said(publisher: Publisher) -> str | Message:
    """Edition and year, as far as they are given."""
    if publisher.edition and publisher.year is not None:
        return message("{edition}, {year}", edition=publisher.edition, year=str(publisher.year))
    return publisher.edition or (NOTHING if publisher.year is None else str(publisher.year))


def imprint_said(publisher: Publisher) -> str | Message:
    """The line of a publisher on every sheet: her name, the edition, and what others may do; nothing without a name."""
    if not publisher.name:
        return NOTHING
    edition, license_ = edition_said(publisher), license_said(publisher)
    if edition:
        return message(
            "{name} · {edition} · {license}", name=publisher.name, edition=edition, license=license_
        )
    return message("{name} · {license}", name=publisher.name, license=license_)

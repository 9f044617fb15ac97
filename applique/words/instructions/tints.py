"""What the tints of a step picture stand for."""

from __future__ import annotations

from typing import Final

from applique.language import message

__all__ = [
    "BACKGROUND",
    "BINDING",
    "BINDING_WRONG",
    "FRONT",
    "HANGS",
    "LEFT_OVER",
    "LETTER",
    "PAPER",
    "QUILT",
    "RIGHT_SIDE",
    "SLEEVE",
    "SLEEVE_WRONG",
    "STRIP",
    "TOP",
    "WEB",
    "WRONG_SIDE",
    "ZIPPER",
]

RIGHT_SIDE: Final = message("right side")
WRONG_SIDE: Final = message("wrong side")
PAPER: Final = message("paper")
WEB: Final = message("web")
LEFT_OVER: Final = message("left over")
QUILT: Final = message("quilt")
BINDING: Final = message("binding, right side")
BINDING_WRONG: Final = message("binding, wrong side")
STRIP: Final = message("strip, right side")
TOP: Final = message("top, right side")
SLEEVE: Final = message("sleeve")
FRONT: Final = message("front, right side")
HANGS: Final = message("what it hangs by")
ZIPPER: Final = message("zipper")
SLEEVE_WRONG: Final = message("inside of the sleeve")
LETTER: Final = message("letter")
BACKGROUND: Final = message("background")

"""How the states of a coverage look: a symbol, a word and a hatching beside every colour."""

from typing import Literal

from geometry.record import Derived


class CoverSign(Derived, frozen=True):
    """One state: its symbol and word, the colour by its name in the palette, and the pattern over it."""

    symbol: str
    word: str
    fill: str
    share: float
    """How much of the colour is in the ground of a cell."""
    hatch: Literal["", "///", "...", "xxx"]


COVER_SIGNS: dict[str, CoverSign] = {
    "covered": CoverSign("✔", "covered", "good", 0.22, ""),
    "covered with caution": CoverSign("▲", "covered with caution", "caution", 0.22, "///"),
    "cannot tell": CoverSign("?", "cannot tell yet", "cannot tell", 0.22, "..."),
    "missed": CoverSign("✖", "missed", "not good", 0.30, "xxx"),
    "not searched": CoverSign("·", "not searched yet", "", 0.0, ""),
}


def sign_of(state: str | None) -> CoverSign:
    """The sign of a state; None: not searched yet."""
    return COVER_SIGNS[state or "not searched"]

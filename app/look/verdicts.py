"""How a verdict and a severity look: a symbol and a word beside every colour."""

from app.look.palette import Palette
from geometry.record import Derived


class Sign(Derived, frozen=True):
    """A symbol that is told apart by its form, the word, and what it asks of the reader."""

    symbol: str
    word: str
    meaning: str


VERDICTS: dict[str, Sign] = {
    "good": Sign("✔", "GOOD", "Every check passed."),
    "caution": Sign("▲", "CAUTION", "It works; read the cautions first."),
    "not good": Sign("✖", "NOT GOOD", "Do not press like this."),
    "cannot tell": Sign("?", "CANNOT TELL", "Something that matters is not known well enough."),
}
SEVERITIES: dict[str, Sign] = {
    "fault": Sign("✖", "Fault", "must be mended"),
    "caution": Sign("▲", "Caution", "mind this"),
    "note": Sign("•", "Note", "worth knowing"),
}


def severity_colour(severity: str, palette: Palette) -> str:
    """Colour of a severity's symbol and word."""
    return {"fault": palette.alarm, "caution": palette.caution}.get(severity, palette.quiet)

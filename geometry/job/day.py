"""Days in files: as 2031-05-28, so that they sort as text and mean the same everywhere."""

from datetime import date


def require_day(name: str, text: str) -> None:
    """ValueError where a text is no day."""
    try:
        date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{name} '{text}' must be a day such as 2031-05-28") from None

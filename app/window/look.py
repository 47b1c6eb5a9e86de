"""Look: palette, ink, sizes and unit of the window, as the preferences say."""

from functools import cache

from app.look.palette import DARK, LIGHT, Palette
from app.section_view.ink import Ink
from app.window.preferences import Preferences
from app.window.style_sheet import FOR_MOUSE, FOR_TOUCH, Sizes
from geometry.record import Derived

TOUCH_INK = 1.3
"""Lines and lettering of the drawing are so much larger in touch mode."""


class Look(Derived, frozen=True):
    """What every part of the window needs to know about looks."""

    palette: Palette
    sizes: Sizes
    unit: str
    ink: Ink


def look_of(preferences: Preferences) -> Look:
    """The look that the preferences ask for."""
    return Look(
        palette=DARK if preferences.is_dark else LIGHT,
        sizes=FOR_TOUCH if preferences.is_for_touch else FOR_MOUSE,
        unit=preferences.unit,
        ink=_ink(preferences.is_dark, preferences.is_for_touch),
    )


@cache
def _ink(is_dark: bool, is_for_touch: bool) -> Ink:
    """Always the same one, with the pens that it has made."""
    return Ink(DARK if is_dark else LIGHT, magnified=TOUCH_INK if is_for_touch else 1.0)

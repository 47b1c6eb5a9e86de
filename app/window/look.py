"""Look: palette, ink, sizes and unit of the window, as the preferences say."""

from dataclasses import dataclass, field

from app.look.palette import DARK, LIGHT, Palette
from app.section_view.ink import Ink
from app.window.preferences import Preferences
from app.window.style_sheet import FOR_MOUSE, FOR_TOUCH, Sizes

TOUCH_INK = 1.3
"""Lines and lettering of the drawing are so much larger in touch mode."""


@dataclass(frozen=True, slots=True)
class Look:
    """What every part of the window needs to know about looks."""

    palette: Palette
    sizes: Sizes
    unit: str
    ink: Ink = field(compare=False)


def look_of(preferences: Preferences) -> Look:
    """The look that the preferences ask for."""
    palette = DARK if preferences.is_dark else LIGHT
    magnified = TOUCH_INK if preferences.is_for_touch else 1.0
    return Look(
        palette=palette,
        sizes=FOR_TOUCH if preferences.is_for_touch else FOR_MOUSE,
        unit=preferences.unit,
        ink=Ink(palette, magnified=magnified),
    )

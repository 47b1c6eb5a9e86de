"""Colours that can be read, and lettering as wide as it is laid out."""

import pytest
from PySide6.QtGui import QFont, QFontMetricsF

from app.look.font_metrics import em_mm, text_width_mm, wrapped
from app.look.fonts import load_fonts
from app.look.icon import app_icon
from app.look.lines import LINES
from app.look.palette import DARK, LIGHT, PRINT
from app.look.verdicts import SEVERITIES, VERDICTS, severity_colour

PALETTES = [pytest.param(LIGHT, id="light"), pytest.param(DARK, id="dark"), pytest.param(PRINT, id="print")]


def contrast(one, other):
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.x, relative luminance of sRGB)."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour):
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_contrast_of_black_on_white():
    """WCAG 2.x: the greatest contrast is 21 to 1; #767676 on white just passes 4.5 (a value in common use)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("palette", PALETTES)
def test_lettering_can_be_read(palette):
    colours = [palette.ink, palette.quiet, palette.alarm, palette.caution, palette.good, palette.unknown]
    colours += [palette.fill(verdict) for verdict in VERDICTS]
    colours += [severity_colour(severity, palette) for severity in SEVERITIES]
    found = min(contrast(colour, ground) for colour in colours for ground in (palette.ground, palette.panel))

    assert found >= 4.5


@pytest.mark.parametrize("palette", PALETTES)
def test_the_force_stands_out_from_the_bodies(palette):
    grounds = [ground for material, ground in palette.materials.items() if material != "rubber"]
    found = min(contrast(band, ground) for band in (palette.calm, palette.alarm) for ground in grounds)

    assert found >= 3.0


def test_verdicts_differ_by_symbol_and_word():
    assert len({sign.symbol for sign in VERDICTS.values()}) == len(VERDICTS)
    assert len({sign.word for sign in VERDICTS.values()}) == len(VERDICTS)


def test_wide_lines_are_twice_the_narrow_ones():
    """ISO 128-2: two widths, 2 to 1."""
    assert LINES["visible"].width_mm == 2 * LINES["narrow"].width_mm


@pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])
@pytest.mark.parametrize("text", ["Ø27.98 -0.007", "THROUGH THE BALLS", "±0.05 · 1:2", "✔ ▲ ✖ •"])
def test_width_of_lettering_is_that_of_the_font(qapp, text, bold):
    font = QFont(load_fonts())
    font.setPixelSize(1000)
    font.setBold(bold)
    font.setKerning(False)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    expected = QFontMetricsF(font).horizontalAdvance(text) / 1000 * em_mm(2.5)
    found = text_width_mm(text, height_mm=2.5, bold=bold)

    assert found == pytest.approx(expected, rel=0.005)


def test_lines_are_broken_between_words():
    found = wrapped("hold the nut on the left", width_mm=30.0, height_mm=2.5)

    assert " ".join(found) == "hold the nut on the left"
    assert len(found) > 1
    assert all(text_width_mm(line, height_mm=2.5) <= 30.0 for line in found)


def test_the_icon_has_all_usual_sizes(qapp):
    found = sorted(size.width() for size in app_icon().availableSizes())

    assert found == [16, 24, 32, 48, 64, 128, 256]

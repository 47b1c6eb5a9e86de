"""The style sheet of the window: one look for light and dark, for mouse and for gloves."""

from typing import NamedTuple

from app.look.palette import Palette
from app.look.tint import tint


class Sizes(NamedTuple):
    """Sizes of the window [px]."""

    text: int
    large: int
    control: int
    gap: int
    picture: int
    left: int
    right: int
    """Widths of the places beside the drawing, at least."""


FOR_MOUSE = Sizes(text=13, large=20, control=30, gap=8, picture=44, left=300, right=346)
FOR_TOUCH = Sizes(text=17, large=26, control=48, gap=12, picture=52, left=372, right=416)
"""Targets of 12 to 13 mm at 96 pixels to the inch."""


def style_sheet(palette: Palette, sizes: Sizes) -> str:
    """Rules for every widget of the window."""
    line = tint(palette.panel, palette.ink, 0.16)
    strong_line = tint(palette.panel, palette.ink, 0.42)
    hover = tint(palette.ground, palette.accent, 0.12)
    pressed = tint(palette.ground, palette.accent, 0.26)
    chosen = tint(palette.ground, palette.accent, 0.20)
    verdicts = "\n".join(
        f"#banner[verdict='{verdict}'] {{ background: {tint(palette.ground, palette.fill(verdict), 0.13)};"
        f" border-left: 7px solid {palette.fill(verdict)}; }}\n"
        f"#banner[verdict='{verdict}'] #banner-symbol, #banner[verdict='{verdict}'] #banner-word,"
        f" QLabel[verdict='{verdict}'] {{ color: {palette.fill(verdict)}; }}"
        for verdict in ("good", "caution", "not good", "cannot tell")
    )
    severities = "\n".join(
        f"#finding[severity='{name}'] {{ border-left: 5px solid {colour}; }}\n"
        f"QLabel[severity='{name}'] {{ color: {colour}; font-weight: bold; }}"
        for name, colour in (("fault", palette.alarm), ("caution", palette.caution), ("note", palette.quiet))
    )
    return f"""
* {{ font-size: {sizes.text}px; color: {palette.ink}; }}
QMainWindow, QDialog, QWidget#page, QStackedWidget {{ background: {palette.panel}; }}
QToolTip {{ background: {palette.ground}; color: {palette.ink}; border: 1px solid {strong_line};
  padding: 4px; }}
QMenuBar, QMenu {{ background: {palette.panel}; }}
QMenuBar::item {{ padding: 6px 10px; background: transparent; border-radius: 4px; }}
QMenuBar::item:selected, QMenu::item:selected {{ background: {chosen}; }}
QMenu {{ border: 1px solid {line}; padding: 4px; }}
QMenu::item {{ padding: {sizes.gap - 2}px 28px; border-radius: 4px; }}
QMenu::item:disabled {{ color: {palette.quiet}; }}
QMenu::separator {{ height: 1px; background: {line}; margin: 4px 8px; }}
QStatusBar {{ background: {palette.panel}; color: {palette.quiet}; }}
QSplitter::handle {{ background: {line}; }}
QScrollArea, QScrollArea > QWidget > QWidget {{ background: transparent; border: none; }}
QScrollBar:vertical {{ width: {sizes.gap + 4}px; background: transparent; }}
QScrollBar:horizontal {{ height: {sizes.gap + 4}px; background: transparent; }}
QScrollBar::handle {{ background: {tint(palette.panel, palette.ink, 0.3)}; border-radius: 4px;
  min-height: 32px;
  min-width: 32px; margin: 2px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
#left-panel, #right-panel {{ background: {palette.panel}; }}
#drawing-frame {{ background: {palette.ground}; border: 1px solid {line}; border-radius: 6px; }}
#bar {{ background: {palette.panel}; border-bottom: 1px solid {line}; }}
#foot {{ background: {palette.panel}; border-top: 1px solid {line}; }}
QPushButton, QToolButton, QComboBox {{ background: {palette.ground}; border: 1px solid {line};
  border-radius: 5px;
  min-height: {sizes.control - 2}px; padding: 0 {sizes.gap}px; }}
QToolButton {{ min-width: {sizes.control - 14}px; padding: 0 {sizes.gap // 2}px; }}
QPushButton:hover, QToolButton:hover, QComboBox:hover {{ background: {hover};
  border-color: {palette.accent}; }}
QPushButton:pressed, QToolButton:pressed {{ background: {pressed}; }}
QPushButton:checked, QToolButton:checked {{ background: {chosen}; border: 1px solid {palette.accent};
  color: {palette.ink}; }}
QPushButton:disabled, QToolButton:disabled, QComboBox:disabled {{ color: {tint(palette.panel, palette.ink, 0.45)};
  background: {palette.panel}; border-color: {line}; }}
*:focus {{ outline: none; }}
QPushButton:focus, QToolButton:focus, QComboBox:focus, QLineEdit:focus, QTableWidget:focus, QSlider:focus,
#part-card:focus, #step-card:focus, #sample-card:focus {{ border: 2px solid {palette.accent}; }}
QPushButton#main {{ background: {palette.accent}; color: {palette.ground}; border: 1px solid {palette.accent};
  font-weight: bold; }}
QPushButton#main:hover {{ background: {tint(palette.accent, palette.ink, 0.2)}; }}
QPushButton#main:disabled {{ background: {strong_line}; border-color: {strong_line}; }}
QToolButton#tab {{ border: none; border-bottom: 3px solid transparent; border-radius: 0;
  background: transparent;
  padding: 0 1px; }}
QToolButton#tab:checked {{ border-bottom: 3px solid {palette.accent}; }}
QToolButton#tab:hover {{ background: {hover}; }}
QToolButton#tab:focus {{ border: 2px solid {palette.accent}; }}
QToolButton#flat {{ border-color: transparent; background: transparent; }}
QToolButton#flat:hover {{ background: {hover}; border-color: {line}; }}
QToolButton#flat:checked {{ background: {chosen}; }}
QToolButton#signed {{ border-color: transparent; background: transparent; min-height: {sizes.text + 8}px; }}
QToolButton#signed:hover {{ background: {hover}; border-color: {line}; }}
QToolButton[answer='open'] {{ border: 1px dashed {palette.unknown}; }}
QComboBox QAbstractItemView {{ background: {palette.ground}; border: 1px solid {line};
  selection-background-color: {chosen}; selection-color: {palette.ink}; }}
QComboBox::drop-down {{ border: none; width: 22px; }}
QComboBox::down-arrow {{ image: none; }}
QLineEdit {{ background: {palette.ground}; border: 1px solid {line}; border-radius: 4px; padding: 0 6px;
  min-height: {sizes.control - 4}px; selection-background-color: {palette.accent}; }}
QSpinBox {{ background: {palette.ground}; min-height: {sizes.control - 4}px;
  selection-background-color: {palette.accent}; }}
QLineEdit[wrong='true'] {{ border: 2px solid {palette.alarm}; }}
QListView, QTreeView {{ background: {palette.ground}; border: 1px solid {line}; border-radius: 5px;
  selection-background-color: {chosen}; selection-color: {palette.ink}; }}
QTableWidget {{ background: {palette.ground}; border: 1px solid {line}; border-radius: 5px;
  gridline-color: {line};
  alternate-background-color: {palette.panel}; selection-background-color: {chosen};
  selection-color: {palette.ink}; }}
QHeaderView {{ background: {palette.panel}; border: none; }}
QHeaderView::section, QTableCornerButton::section {{ background: {palette.panel};
  color: {palette.quiet}; border: none; border-bottom: 1px solid {line}; padding: 5px 3px; }}
QTextBrowser {{ background: {palette.ground}; border: none; padding: 12px; }}
QProgressBar {{ background: {palette.ground}; border: 1px solid {line}; border-radius: 4px; min-height: 14px; }}
QProgressBar::chunk {{ background: {palette.accent}; border-radius: 3px; }}
QSlider {{ min-height: {sizes.control}px; }}
QSlider::groove:horizontal {{ height: 6px; background: {line}; border-radius: 3px; }}
QSlider::sub-page:horizontal {{ background: {palette.accent}; border-radius: 3px; }}
QSlider::handle:horizontal {{ background: {palette.ground}; border: 2px solid {palette.accent};
  width: {sizes.control - 12}px; margin: -{(sizes.control - 18) // 2}px 0;
  border-radius: {(sizes.control - 12) // 2}px; }}
QLabel#title {{ font-size: {sizes.large}px; font-weight: bold; }}
QLabel#heading {{ font-weight: bold; padding-top: {sizes.gap - 2}px; qproperty-indent: 0; }}
QLabel#quiet, QLabel#unit {{ color: {palette.quiet}; }}
QLabel#sentence {{ color: {palette.alarm}; }}
QLabel#asked {{ color: {palette.unknown}; font-weight: bold; }}
QLabel#stale {{ color: {palette.quiet}; font-style: italic; }}
#banner {{ background: {palette.ground}; border: none; border-left: 7px solid {strong_line};
  border-top-right-radius: 6px; border-bottom-right-radius: 6px; }}
#banner-symbol {{ font-size: {sizes.large + 10}px; font-weight: bold; }}
#banner-word {{ font-size: {sizes.large}px; font-weight: bold; }}
#finding, #part-card, #sample-card, #card {{ background: {palette.ground}; border: 1px solid {line};
  border-radius: 6px; }}
#part-card:hover, #sample-card:hover {{ border-color: {palette.accent}; background: {hover}; }}
#finding {{ border-top-left-radius: 0; border-bottom-left-radius: 0; }}
#finding[lit='true'] {{ background: {chosen}; }}
#reading-line {{ border: none; border-left: 4px solid {line}; }}
#reading-line[state='measured'] {{ border-left: 4px solid {palette.calm}; }}
#reading-line[state='standard'] {{ border-left: 4px double {palette.calm}; }}
#reading-line[state='assumed'] {{ border-left: 4px dotted {palette.unknown}; }}
#reading-line[state='wanted'] {{ border-left: 4px dashed {palette.unknown}; }}
#reading-line[lit='true'] {{ background: {chosen}; }}
#step-card {{ background: {palette.ground}; border: 2px solid {line}; border-radius: 6px; text-align: left; }}
#step-card:checked {{ border: 2px solid {palette.accent}; background: {chosen}; }}
QGraphicsView {{ border: 2px solid transparent; }}
QGraphicsView:focus {{ border: 2px solid {palette.accent}; }}
#drawing-chosen {{ background: {palette.ground}; font-weight: bold; padding: 2px 4px; }}
#drawing-hint, #drawing-notice {{ background: {palette.ground}; border: 1px solid {strong_line};
  border-radius: 6px;
  padding: 5px 12px; }}
#drawing-notice {{ border-color: {palette.accent}; }}
#drawing-scale {{ color: {palette.quiet}; background: transparent; }}
#strip {{ background: {tint(palette.ground, palette.unknown, 0.14)}; border: 1px solid {palette.unknown};
  border-radius: 6px; }}
{verdicts}
{severities}
"""

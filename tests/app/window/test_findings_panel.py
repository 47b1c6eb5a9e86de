"""The findings panel: what somebody reads stays open when a later check tells of the same thing."""

from msgspec.structs import replace
from PySide6.QtWidgets import QLabel

from app.window.findings_panel import FindingsPanel
from geometry.check.finding import Finding

SHALLOW = Finding("cup-shallow", "fault", ("axle", "C39-18@right"), "The axle meets the cup.", "18 - 19 = -1")
SHORT = Finding("rod-short", "fault", ("rod",), "The rod is too short.", "200 - 212 = -12")


def test_a_sum_stays_unfolded_when_a_later_check_tells_the_same_with_other_figures(qtbot):
    panel = FindingsPanel()
    qtbot.addWidget(panel)
    panel.show_findings((SHALLOW,), words_when_empty="")
    panel.cards[0]._why.click()
    later = replace(SHALLOW, sum="18 - 19.02 = -1.02", certainty="likely")
    panel.show_findings((SHORT, later), words_when_empty="")

    assert [(card.finding.code, card.tells_why) for card in panel.cards] == [
        ("rod-short", False),
        ("cup-shallow", True),
    ]


def test_another_finding_in_the_same_place_is_folded(qtbot):
    panel = FindingsPanel()
    qtbot.addWidget(panel)
    panel.show_findings((SHALLOW,), words_when_empty="")
    panel.cards[0]._why.click()
    panel.show_findings((SHORT,), words_when_empty="")

    assert [card.tells_why for card in panel.cards] == [False]


def test_findings_say_that_they_are_in_mm_where_inches_are_chosen(qtbot):
    panel = FindingsPanel()
    qtbot.addWidget(panel)
    panel.show()
    panel.set_unit("in")
    told = [label.text() for label in panel.findChildren(QLabel) if label.isVisible()]
    panel.set_unit("mm")

    assert "All lengths in these sentences are in mm." in told
    assert not any("in mm" in label.text() and label.isVisible() for label in panel.findChildren(QLabel))

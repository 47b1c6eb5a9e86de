"""The readings place, used as people use it: typing, a caliper that types, a column from a spreadsheet, CSV."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.document.open_job import OpenJob
from app.sheet.reading_rows import reading_rows
from app.window.readings_files import write_csv
from app.window.readings_panel import ReadingsPanel
from geometry.check.result import StepReadings
from geometry.errors import RingpathError
from geometry.job.measured import measured_section
from geometry.job.reading_changes import start_readings, type_reading
from geometry.planning.starting_jobs import starting_job
from tests.plain_hub import plain_hub


class Bench:
    """A readings panel around one job: what it asks for is done, what is refused is kept."""

    def __init__(self, job, *, unit="mm"):
        self.open_job = OpenJob(job)
        self.panel = ReadingsPanel(lambda change: change(self.open_job.job))
        self.unit, self.refused, self.previews, self.pointed = unit, [], [], []
        self.panel.asked.connect(self._apply)
        self.panel.refused.connect(self.refused.append)
        self.panel.previewed.connect(self.previews.append)
        self.panel.pointed.connect(self.pointed.append)
        self.open_job.changed.connect(self._show)
        self._show()

    def _show(self, *_):
        self.panel.show_section(self.open_job.job, 0, self.unit)

    def _apply(self, title, change):
        try:
            self.open_job.apply(title, change)
        except RingpathError as error:
            self.refused.append(str(error))

    @property
    def sheet(self):
        return self.panel.sheet

    @property
    def typed(self):
        return {one.line: one.typed for one in self.open_job.job.readings.readings}

    def read(self, line, text, *, key=Qt.Key.Key_Return):
        """Type into a line as fingers do."""
        field = self.sheet.row(line).entry.field
        field.setFocus()
        field.selectAll()
        QTest.keyClicks(field, text)
        if key is not None:
            QTest.keyClick(field, key)


@pytest.fixture
def make_bench(qtbot):
    def make(job, **more):
        bench = Bench(job, **more)
        qtbot.addWidget(bench.panel)
        bench.panel.resize(320, 700)
        with qtbot.waitActive(bench.panel):
            bench.panel.show()
            bench.panel.activateWindow()
        return bench

    return make


@pytest.fixture
def bench(make_bench):
    return make_bench(start_readings(plain_hub()))


def _row(bench, line):
    return bench.sheet.row(line)


def test_a_job_without_readings_shows_its_dimensions_until_the_user_starts(make_bench):
    bench = make_bench(plain_hub())
    drawn = bench.panel.row("shell.slice0.outside_mm").field.text()
    QTest.mouseClick(bench.panel.start, Qt.MouseButton.LeftButton)

    assert drawn == "40"
    assert bench.open_job.job.section == plain_hub().section
    assert bench.sheet.isVisible()
    assert [one.line.id for one in bench.sheet.lines if one.is_needed][0] == "shell.z3"


def test_starting_with_inches_means_inches(make_bench):
    bench = make_bench(plain_hub(), unit="in")
    QTest.mouseClick(bench.panel.start, Qt.MouseButton.LeftButton)

    assert bench.open_job.job.readings.unit == "in"


def test_needed_lines_come_first_and_the_rest_is_folded(bench):
    needed = [one.is_needed for one in bench.sheet.lines]
    shown = set(bench.sheet._rows)

    assert needed == sorted(needed, reverse=True)
    assert shown == {one.line.id for one in bench.sheet.lines if one.is_needed}
    assert "Not needed yet" in bench.sheet.rest.text()


@pytest.mark.parametrize(
    ("typed", "words"),
    (
        ("60.02", "60.02 ± 0.03 mm, measured"),
        ("60,02", "60.02 ± 0.03 mm, measured"),
        ("60,02±0,05", "60.02 ± 0.05 mm, measured"),
        ("60.02 60.03 60.04", "60.03 ± 0.03 mm, measured"),
        ("2 3/8 in", "60.325 ± 0.03 mm, measured"),  # 2.375 * 25.4
    ),
)
def test_what_is_typed_is_shown_as_understood(bench, typed, words):
    bench.read("shell.z3", typed)

    assert _row(bench, "shell.z3").words.text().startswith(words)
    assert bench.typed == {"shell.z3": typed}


def test_typing_previews_the_section_at_once(bench):
    bench.read("shell.z3", "61", key=None)
    previewed = bench.previews[-1](bench.open_job.job)

    assert measured_section(previewed).value_mm("shell.z3") == 61.0
    assert bench.typed == {}


def test_enter_goes_to_the_next_line_that_is_wanted(bench):
    wanted = [one.line.id for one in bench.sheet.lines if one.is_wanted]
    bench.read(wanted[0], "60.02")
    after = bench.sheet.pointed_line

    assert after == wanted[1]
    assert QApplication.focusWidget() is _row(bench, wanted[1]).entry.field


def test_a_caliper_that_types_fills_line_after_line(bench):
    """Digits and Enter into whatever has the focus."""
    wanted = [one.line.id for one in bench.sheet.lines if one.is_wanted]
    expected = {one: f"{measured_section(bench.open_job.job).fit.value_mm(_terms(bench, one)):.2f}" for one in wanted}
    bench.sheet.go_to(wanted[0])
    for one in wanted:
        QTest.keyClicks(QApplication.focusWidget(), expected[one])
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)

    assert bench.typed == expected
    assert bench.sheet.head.completeness.text() == f"<b>All {len(wanted)} that this step needs are known.</b>"
    assert not bench.sheet.is_typing  # figures that come now must not end up in the last field


def test_enter_goes_to_a_line_that_follows_from_others_too(make_bench):
    """Its own reading closes the loop: passed over, a slip in any of the four would never be noticed."""
    bench = make_bench(starting_job("rear hub, shouldered axle"))
    for line, typed in (("axle.z3", "108.03"), ("axle.z1", "21.02"), ("axle.z2 from the right", "27.51")):
        bench.read(line, typed)
    collar = bench.sheet.pointed_line
    before = bench.sheet.head.closure.text()
    QTest.keyClicks(QApplication.focusWidget(), "59.79")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)

    assert collar == "axle.z2 from z1"
    assert "No reading checks another" in before
    assert "The readings disagree by 0.29 mm" in bench.sheet.head.closure.text()  # 108.03 - 21.02 - 27.51 = 59.50


def test_lines_have_the_numbers_of_the_printed_sheet(bench):
    printed = {row.line.id: row.number for row in reading_rows(bench.open_job.job)}
    shown = {one.line.id: _row(bench, one.line.id).number.text() for one in bench.sheet.lines}

    assert shown == {line: str(number) for line, number in printed.items()}


def test_reading_again_is_one_more_reading_with_the_instrument_asked_for(bench):
    bench.read("shell.bore1", "27.98")
    bench.sheet.read_again("shell.bore1", "bore gauge")
    QTest.keyClicks(QApplication.focusWidget(), "27.991")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    bench.sheet.read_again("shell.bore1", "bore gauge")
    QTest.keyClicks(QApplication.focusWidget(), "27.993")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)

    found = [(one.typed, one.instrument) for one in bench.open_job.job.readings.readings]
    assert found == [("27.98", None), ("27.991 27.993", "bore gauge")]


def test_what_comes_after_something_refused_takes_its_place(bench):
    bench.read("shell.z3", "15..2")
    QTest.keyClicks(QApplication.focusWidget(), "60.02")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)

    assert bench.typed == {"shell.z3": "60.02"}


def test_a_click_into_a_field_selects_what_it_holds(bench):
    """Only the first click: a caliper that types must not write into the middle of a figure."""
    bench.read("shell.z3", "60.02")
    field = _row(bench, "shell.z3").entry.field
    QTest.mouseClick(field, Qt.MouseButton.LeftButton)
    first = field.selectedText()
    QTest.mouseClick(field, Qt.MouseButton.LeftButton)

    assert (first, field.selectedText()) == ("60.02", "")


def test_offers_about_a_reading_go_while_something_else_stands_in_its_field(bench):
    bench.read("shell.bore1", "1.1024")
    offered = not _row(bench, "shell.bore1").entry.meaning.isHidden()
    bench.read("shell.bore1", "abc")
    entry = _row(bench, "shell.bore1").entry

    assert offered
    assert entry.meaning.isHidden() and entry.meant.isHidden()
    assert "found 'abc'" in entry.sentence.text()


@pytest.mark.parametrize("typed", ("1.1024", "280", "2.8", "14"))
def test_what_was_probably_meant_is_readable_in_full(bench, typed):
    bench.read("shell.bore1", typed)
    button = _row(bench, "shell.bore1").entry.meaning

    assert button.isVisible()
    assert button.fontMetrics().horizontalAdvance(button.text()) < button.width() - 12


def _terms(bench, line):
    return {term.quantity: term.factor for term in bench.open_job.job.readings.line(line).terms}


@pytest.mark.parametrize("typed", ("15 .02", "abc", "15.02 Mm"))
def test_what_cannot_be_read_is_refused_under_the_field(bench, typed):
    bench.read("shell.z3", typed)
    entry = _row(bench, "shell.z3").entry

    assert "expected" in entry.sentence.text()
    assert entry.field.text() == typed
    assert bench.typed == {}
    assert QApplication.focusWidget() is entry.field


def test_escape_gives_what_was_there(bench):
    bench.read("shell.z3", "60.02")
    bench.read("shell.z3", "99", key=Qt.Key.Key_Escape)

    assert _row(bench, "shell.z3").entry.field.text() == "60.02"
    assert bench.previews[-1] is None


def test_inches_are_suspected_and_taken_by_a_button_only(bench):
    bench.read("shell.bore1", "1.1024")
    entry = _row(bench, "shell.bore1").entry
    question, before = entry.meaning.text(), dict(bench.typed)
    QTest.mouseClick(entry.meaning, Qt.MouseButton.LeftButton)

    assert "inches" in question
    assert before == {"shell.bore1": "1.1024"}
    assert bench.typed == {"shell.bore1": "1.1024 in"}
    assert _row(bench, "shell.bore1").words.text().startswith("28.0")  # 1.1024 * 25.4 = 28.001


def test_a_suspicious_value_can_be_meant(bench):
    bench.read("shell.bore1", "1.1024")
    QTest.mouseClick(_row(bench, "shell.bore1").entry.meant, Qt.MouseButton.LeftButton)

    assert bench.open_job.job.readings.readings[0].meant
    assert _row(bench, "shell.bore1").words.text().startswith("1.2")  # and what jaw flats take off so small a bore


def test_a_standard_size_is_offered_for_a_ring_and_taken_by_a_button_only(bench):
    bench.read("BL.bore", "14.93")
    entry = _row(bench, "BL.bore").entry
    offer, before = entry.offer.text(), dict(bench.typed)
    QTest.mouseClick(entry.offer, Qt.MouseButton.LeftButton)
    row = _row(bench, "BL.bore")

    assert "is near 15: take 15?" in offer
    assert before == {"BL.bore": "14.93"}
    assert "Not used: standard size 15 taken" in row.entries[0].understood.text()
    assert "by the standard size" in row.words.text()


def test_no_standard_size_is_offered_for_a_housing_bore(bench):
    bench.read("shell.bore1", "27.98")

    assert _row(bench, "shell.bore1").entry.offer.isHidden()


def test_another_instrument_changes_the_doubt(bench):
    bench.read("shell.z3", "60.020")
    with_jaws = _row(bench, "shell.z3").words.text()
    box = _row(bench, "shell.z3").entry.instrument
    box.setCurrentText("micrometer")
    box.activated.emit(box.currentIndex())

    assert with_jaws.startswith("60.02 ± 0.03 mm")
    assert _row(bench, "shell.z3").words.text() == "60.02 ± 0.007 mm, measured with the micrometer"


def test_a_line_is_repeated_with_another_instrument(bench):
    bench.read("shell.z3", "60.02")
    _menu(bench, "shell.z3", "Read with another instrument")
    field = _row(bench, "shell.z3").entries[1].field
    QTest.keyClicks(field, "60.018")
    QTest.keyClick(field, Qt.Key.Key_Return)

    readings = bench.open_job.job.readings.readings
    assert [one.typed for one in readings] == ["60.02", "60.018"]
    assert readings[1].instrument == "micrometer"
    assert "all readings together" in _row(bench, "shell.z3").words.text()


def _menu(bench, line, title):
    menu = _row(bench, line).make_menu()
    next(action for action in menu.actions() if action.text() == title).trigger()


def test_a_line_is_skipped_and_measured_after_all(bench):
    first = [one.line.id for one in bench.sheet.lines if one.is_wanted][0]
    _menu(bench, first, "Skip: leave it assumed")
    skipped, words = bench.sheet.pointed_line, _row(bench, first).words.text()
    in_focus = QApplication.focusWidget()
    _menu(bench, first, "Measure after all")

    assert skipped != first
    assert in_focus is _row(bench, skipped).entry.field  # a caliper that types goes on there
    assert "assumed as drawn (skipped)" in words
    assert bench.sheet.pointed_line == first


def test_a_line_of_ones_own_is_added_and_removed(bench, monkeypatch):
    from app.window import readings_add_line

    def answered(dialog):
        dialog.what.setCurrentText("Hub shell: left end to shoulder of the right seat")
        dialog.less.setCurrentText("Hub shell: left end to shoulder of the left seat")
        dialog.name.setText("Between the shoulders")
        return dialog.DialogCode.Accepted

    monkeypatch.setattr(readings_add_line.AddLineDialog, "exec", answered)
    bench.panel._ask_line()
    added = bench.open_job.job.readings.lines[-1]
    bench.read(added.id, "46.0")
    words = _row(bench, added.id).words.text()
    _menu(bench, added.id, "Remove this line")

    assert added.title == "Between the shoulders"
    assert [(term.quantity, term.factor) for term in added.terms] == [("shell.z2", 1.0), ("shell.z1", -1.0)]
    assert words.startswith("46 ± 0.0")
    assert added.id not in {line.id for line in bench.open_job.job.readings.lines}
    assert bench.typed == {}


def test_a_pasted_column_fills_the_following_lines_with_one_undo(bench):
    ids = [one.line.id for one in bench.sheet.lines]
    QGuiApplication.clipboard().setText("60.0\n7,5\n\n27.98\t27.99\n")
    field = _row(bench, ids[0]).entry.field
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    filled = dict(bench.typed)
    bench.open_job.undo_stack.undo()

    assert filled == {ids[0]: "60.0", ids[1]: "7,5", ids[3]: "27.98 27.99"}
    assert bench.typed == {}


def test_a_bad_column_is_refused_whole_with_its_row(bench):
    ids = [one.line.id for one in bench.sheet.lines]
    QGuiApplication.clipboard().setText("60.0\nabc\n")
    field = _row(bench, ids[0]).entry.field
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)

    assert bench.typed == {}
    assert "row 2" in bench.refused[0]


def test_csv_out_and_in(bench, make_bench, tmp_path):
    bench.read("shell.z3", "60,02±0,05")
    bench.read("shell.bore1", "27.98 27.99")
    write_csv(bench.open_job.job, tmp_path / "sheet.csv")
    other = make_bench(start_readings(plain_hub()))
    other.panel.read_csv_from(tmp_path / "sheet.csv")

    assert other.typed == bench.typed
    assert other.open_job.undo_stack.count() == 1


@pytest.mark.parametrize(
    ("data", "sentence"),
    (
        (b"line,typed\nshell.z3,abc\n", "row 2, typed"),
        (b"\xff\xfeline", "UTF-8"),
        (b"\x00\x01\x02", "expected"),
    ),
)
def test_a_bad_csv_is_told_and_nothing_is_lost(bench, tmp_path, data, sentence):
    bench.read("shell.z3", "60.02")
    (tmp_path / "bad.csv").write_bytes(data)
    bench.panel.read_csv_from(tmp_path / "bad.csv")

    assert sentence in bench.refused[0]
    assert bench.typed == {"shell.z3": "60.02"}


def test_a_csv_that_is_not_there_is_told(bench, tmp_path):
    bench.panel.read_csv_from(tmp_path / "none.csv")

    assert "none.csv" in bench.refused[0]


def test_the_head_says_how_complete_the_sheet_is(bench):
    count = sum(1 for one in bench.sheet.lines if one.is_needed)
    before = bench.sheet.head.completeness.text()
    bench.read("shell.z3", "60.02")

    assert before == f"<b>0 of {count} that this step needs.</b>"
    assert bench.sheet.head.completeness.text() == f"<b>1 of {count} that this step needs.</b>"


def test_readings_that_disagree_are_said_in_words(make_bench):
    """One loop (a length read twice by two tools) cannot tell which is wrong."""
    job = type_reading(start_readings(plain_hub()), line="shell.z3", typed="60.30")
    bench = make_bench(job)
    nothing = bench.sheet.head.closure.text()
    _menu(bench, "shell.z3", "Read with another instrument")
    field = _row(bench, "shell.z3").entries[1].field
    QTest.keyClicks(field, "60.000")
    QTest.keyClick(field, Qt.Key.Key_Return)

    assert nothing == "No reading checks another yet: a slip would not be noticed."
    assert "disagree by 0.3 mm" in bench.sheet.head.closure.text()
    assert "cannot tell which" in bench.sheet.head.closure.text()
    assert bench.sheet.head.worth.text().startswith("Read them again, Hub shell: overall length first")


def test_one_reading_worth_repeating_is_named(make_bench):
    """A seat read with jaws only leaves its fit open; a bore gauge would settle most of it."""
    seats = ("shell.bore1", "shell.bore3")
    job = start_readings(plain_hub())
    for seat in seats:
        job = type_reading(job, line=seat, typed="27.98")
    bench = make_bench(job)
    words = bench.sheet.head.worth.text()
    QTest.mouseClick(bench.sheet.head.go, Qt.MouseButton.LeftButton)

    assert words.startswith("Worth repeating: ")
    assert "bore gauge" in words
    assert bench.sheet.pointed_line in seats
    assert bench.open_job.job.readings.line(bench.sheet.pointed_line).title in words


def test_nothing_is_worth_repeating_once_the_step_has_its_verdict(make_bench):
    job = type_reading(start_readings(plain_hub()), line="shell.bore1", typed="27.98")
    bench = make_bench(job)
    before = bench.sheet.head.worth.text()
    bench.panel.show_again(StepReadings(closes=True, missing=(), again=None, trials=8), "good")
    good = bench.sheet.head.worth.text()
    bench.panel.show_again(StepReadings(closes=True, missing=(), again=None, trials=8), "not good")

    assert before.startswith("Worth repeating: ")
    assert good == "Nothing is worth repeating for this step: the readings are sure enough."
    assert bench.sheet.head.go.isHidden() is False
    assert bench.sheet.head.worth.text() == before


def test_inches_are_shown_with_the_millimetres_in_brackets(make_bench):
    job = type_reading(start_readings(plain_hub()), line="shell.z3", typed="60.325±0.0508")
    bench = make_bench(job, unit="in")

    assert _row(bench, "shell.z3").words.text().startswith("2.375 ± 0.002 in (60.325 ± 0.05 mm)")  # 60.325 / 25.4
    assert _row(bench, "shell.z3").entry.field.text() == "60.325±0.0508"


@pytest.mark.parametrize(("unit", "width"), (("mm", "8.00 mm"), ("in", "0.315 in (8.00)")))
def test_what_does_not_fit_a_designation_is_said_in_the_unit_chosen(make_bench, unit, width):
    job = type_reading(start_readings(plain_hub()), line="BL.width", typed="8.00 mm")
    bench = make_bench(job, unit=unit)

    assert f"width was read as {width};" in bench.sheet.head.problems.text()


def test_the_unit_of_bare_figures_can_be_changed_and_what_was_typed_keeps_its_meaning(bench):
    bench.read("shell.z3", "60.02")
    bench.sheet.head.unit.setCurrentText("in")
    bench.sheet.head.unit.activated.emit(1)

    assert bench.typed == {"shell.z3": "60.02 mm"}
    assert _row(bench, "shell.z3").words.text().startswith("60.02 ± 0.03 mm")


def test_the_next_wanted_line_is_pointed_at_when_nothing_is_in_focus(bench):
    wanted = [one.line.id for one in bench.sheet.lines if one.is_wanted]
    bench.sheet.go_to(wanted[2])
    in_focus = bench.panel.pointed_line
    bench.panel.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    bench.panel.setFocus()

    assert in_focus == wanted[2]
    assert bench.panel.pointed_line == wanted[0]


def test_fields_can_be_reached_and_are_named(bench):
    row = _row(bench, "shell.z3")

    assert row.entry.field.accessibleName() == "Hub shell: overall length, read with the outside jaws"
    assert row.menu_button.accessibleName() == "More about Hub shell: overall length"

"""The page of coverage, used as people use it; stacks are found by rule, so that no geometry is searched."""

import csv

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QTextDocument
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QFileDialog, QMessageBox, QPushButton

from app.window.choice_box import ChoiceBox
from app.window.coverage_map import SIGN_ROLE, MapPlace
from app.window.coverage_page import CoveragePage
from app.window.look import look_of
from app.window.main_window import MainWindow
from app.window.preferences import Preferences
from geometry.job.file import read_set, write_job, write_set
from geometry.planning.coverage import Coverage
from geometry.planning.price_list import price_of
from geometry.planning.step_stacks import StepStacks
from tests.geometry.planning.rule_finder import (
    by_rule,
    calls,
    ruled_job,
    ruled_part,
    ruled_set,
    write_ruled_folder,
)


@pytest.fixture
def folder(tmp_path):
    return write_ruled_folder(tmp_path)


@pytest.fixture
def page(qtbot, folder):
    page = CoveragePage(look_of(Preferences()), finder=by_rule, whether=by_rule, closely=by_rule, workers=1)
    qtbot.addWidget(page)
    page.resize(1280, 700)
    page.show()
    page.choose(library=folder / "library", sets=(folder / "small.json", folder / "more.json"))
    yield page
    page.finish()


def _click(button):
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def _started(page, qtbot):
    _click(page.head.start)
    qtbot.waitUntil(lambda: not page.work.is_running and page.answer is not None, timeout=10_000)
    QApplication.processEvents()


def _ended(page, qtbot):
    qtbot.waitUntil(lambda: not page.work.is_running, timeout=20_000)
    QApplication.processEvents()


def _signs(page):
    found = {}
    for row in range(page.map.rowCount()):
        for column in range(page.map.columnCount()):
            place = page.map.place_at(row, column)
            if place is not None:
                found[place] = page.map.item(row, column).data(SIGN_ROLE)
    return found


def test_map_shows_every_step_with_every_set(page, qtbot):
    before = set(_signs(page).values())
    _started(page, qtbot)
    signs = _signs(page)

    assert before == {"not searched"}
    assert len(signs) == 2 * (2 + 2 + 1)
    assert {place for place, sign in signs.items() if sign == "covered"} == {
        MapPlace("one.json", "Small", 1), MapPlace("one.json", "Small", 2), MapPlace("one.json", "More", 1),
        MapPlace("two.json", "Small", 1), MapPlace("two.json", "More", 2),
    }  # fmt: skip
    assert page.head.words == "done by a set: 1 of 3 jobs"


def test_a_cell_tells_why_a_step_is_missed_and_opens_its_job(page, qtbot):
    _started(page, qtbot)
    page.map.go_to(MapPlace("two.json", "Small", 2))
    with qtbot.waitSignal(page.job_asked) as asked:
        page.map.setFocus()
        _click(page.cell._with_stacks)
    job, step = asked.args

    assert "would work with e" in page.cell.text
    assert (job.title, step) == ("Two", 1)
    assert [part.part for part in job.steps[0].stack.parts] == ["a"]
    with qtbot.waitSignal(page.file_asked) as asked:
        _click(page.cell._bare)
    assert asked.args[0].name == "two.json"


def test_the_nearest_parts_are_looked_at_when_asked(page, qtbot):
    page._closely = lambda job, step, tool_set: StepStacks((), (f"{job.title} {step}: a with a bore of 15.1 would do",))
    _started(page, qtbot)
    page.map.go_to(MapPlace("two.json", "Small", 2))
    _click(page.cell._closer)
    _ended(page, qtbot)

    assert "Two 1: a with a bore of 15.1 would do" in page.cell.text
    assert not page.cell._closer.isVisibleTo(page.cell)


def test_lengths_of_a_cell_are_told_in_the_unit_of_the_window(page, qtbot):
    said = "bored 25.4 to 50.8 mm; it has 12"
    page._closely = lambda job, step, tool_set: StepStacks((), (said,))
    _started(page, qtbot)
    page.map.go_to(MapPlace("two.json", "Small", 2))
    _click(page.cell._closer)
    _ended(page, qtbot)
    before = page.cell.text
    page.set_look(look_of(Preferences(unit="in")))

    assert said in before
    assert "bored 1 in (25.4) to 2 in (50.8); it has 12" in page.cell.text
    assert "Figures without a unit are millimetres." in page.cell.text and "without a unit" not in before


def test_the_part_that_a_missed_cell_lacks_is_asked_for_with_one_click(page, qtbot):
    _started(page, qtbot)
    page.map.go_to(MapPlace("two.json", "Small", 2))
    offered = page.cell._part.isVisibleTo(page.cell)
    with qtbot.waitSignal(page.part_asked) as asked:
        _click(page.cell._part)
    job, step = asked.args
    page.map.go_to(MapPlace("one.json", "Small", 1))

    assert offered and not page.cell._part.isVisibleTo(page.cell)  # a covered step lacks none
    assert (job.title, step) == ("Two", 1)
    assert [part.part for part in job.steps[0].stack.parts] == ["a"]


def test_every_button_above_the_map_says_what_it_is_for(page):
    buttons = [button for button in page.head.findChildren(QPushButton) if button.isVisibleTo(page.head)]

    assert len(buttons) == 8 and all(button.toolTip() for button in buttons)


def test_tables_fit_beside_the_map_whatever_the_sets_are_called(page, qtbot, folder):
    long = replace(ruled_set("Sets with a rather long title for hubs of many kinds", "abcd"), note="")
    write_set(long, folder / "long.json")
    page.choose(sets=(folder / "small.json", folder / "long.json"))
    _started(page, qtbot)
    widths = {}
    for side, tables in (
        ("Sets", (page.sets.table, page.sets.prices, page.sets.bill)),
        ("Worth", (page.worth.worth,)),
        ("Choose a set", (page.choice.sets,)),
    ):
        page.side.turn_to(side)
        for table in tables:
            if table is page.sets.bill:
                page.sets.sheets.turn_to("Materials")
            QApplication.processEvents()
            widths[table.accessibleName()] = (table.isVisible(), table.horizontalScrollBar().maximum())

    assert page.sets.table.rowCount() == 2 and page.sets.bill.rowCount() > 0
    assert len(widths) == 5 and set(widths.values()) == {(True, 0)}


def test_arrow_keys_walk_through_the_map(page, qtbot):
    _started(page, qtbot)
    page.map.go_to(MapPlace("four.json", "Small", 1))
    QTest.keyClick(page.map, Qt.Key.Key_Down)

    assert "One" in page.cell.text and "step 1" in page.cell.text.lower()


def test_only_what_is_missed_by_every_set_is_shown(page, qtbot):
    _started(page, qtbot)
    page.shown.setCurrentIndex(1)
    shown = [row for row in range(page.map.rowCount()) if not page.map.isRowHidden(row)]
    names = [page.map.verticalHeaderItem(row).text() for row in shown]
    page.named.setText("four")

    assert names == ["four", "two"]
    assert sum(not page.map.isRowHidden(row) for row in range(3)) == 1


def test_results_are_kept_for_the_next_time(page, qtbot, folder):
    _started(page, qtbot)
    count = len(calls)
    page.choose(sets=(folder / "small.json",))
    _started(page, qtbot)

    assert len(calls) == count
    assert _signs(page)[MapPlace("one.json", "Small", 2)] == "covered"


def test_stopping_keeps_what_was_found(qtbot, folder):
    page = CoveragePage(look_of(Preferences()), finder=by_rule, whether=by_rule, closely=by_rule, workers=1)
    qtbot.addWidget(page)

    def stops(job, step, tool_set):
        page.work.stop()
        return by_rule(job, step, tool_set)

    page._whether = stops
    page.choose(library=folder / "library", sets=(folder / "small.json",))
    page.start()
    _ended(page, qtbot)

    assert sorted(_signs(page).values()).count("not searched") == 4
    assert "stopped" in page.head.words
    assert page.head.start.isEnabled()


def test_worth_of_parts_and_what_can_be_spared(page, qtbot):
    _started(page, qtbot)
    _click(page.worth.ask_worth)
    _ended(page, qtbot)
    rows = [page.worth.worth.item(row, 0).text() for row in range(page.worth.worth.rowCount())]
    lost = [page.worth.worth.item(row, 1).text() for row in range(page.worth.worth.rowCount())]

    assert dict(zip(rows, lost, strict=True)) == {"a": "1", "b": "1", "d": "1"}
    assert page.worth.words == "To spare all at once without losing a job: none."


def test_a_part_not_made_yet_and_a_size_that_is_tried(page, qtbot, folder):
    _started(page, qtbot)
    write_set(ruled_set("New", "z"), folder / "new.json")
    page.worth.ask_about([folder / "new.json"])
    _ended(page, qtbot)
    gained = page.worth.new.item(0, 1).text()
    for field, text in ((page.worth.start, "8"), (page.worth.end, "12"), (page.worth.step, "2")):
        field.setText(text)
    _click(page.worth.ask_sizes)
    _ended(page, qtbot)

    assert gained == "1"
    assert page.worth.plot.isVisibleTo(page.worth)
    assert "most jobs (1) from 10 to 12 mm" in page.worth.plot.accessibleName()


def test_a_new_part_is_taken_into_the_sets(page, qtbot, folder):
    _started(page, qtbot)
    write_set(ruled_set("New", "z"), folder / "new.json")
    page.worth.ask_about([folder / "new.json"])
    _ended(page, qtbot)
    _click(page.worth.take)
    _ended(page, qtbot)

    assert page.map_sets == ("Small with z", "More with z")
    assert page.worth.words.startswith("What would be lost")
    assert _signs(page)[MapPlace("four.json", "Small with z", 1)] == "covered"


def test_a_part_that_was_taken_in_stays_until_it_is_taken_out_or_other_sets_are_chosen(page, qtbot, folder):
    [part] = ruled_set("New", "z").parts
    page.take_in(part)
    _ended(page, qtbot)
    write_set(ruled_set("Mine", "e"), folder / "mine.json")
    page.choose(own=(folder / "mine.json",))
    with_own = page.map_sets
    page.head.sets.menu().actions()[1].trigger()
    out = page.map_sets
    page.take_in(part)
    _ended(page, qtbot)
    page.choose(sets=(folder / "small.json",))

    assert with_own == ("Small with z", "More with z")
    assert out == ("Small", "More") and page.map_sets == ("Small",)
    assert page.head.sets.menu() is None


def test_sizes_that_are_no_lengths_are_refused_in_words(page, qtbot):
    page.worth.start.setText("x")
    with qtbot.waitSignal(page.refused) as refused:
        _click(page.worth.ask_sizes)

    assert "Size, from" in refused.args[0]


def test_split_is_chosen_and_saved_as_sets(page, qtbot, folder):
    _started(page, qtbot)
    page.choice.wish.setCurrentIndex(3)
    page.choice.fields[0].setText("2")
    page.choice.fields[1].setText("13,5")
    _click(page.choice.ask)
    _ended(page, qtbot)
    page.choice.save_to(folder / "made")
    made = [read_set(path) for path in sorted((folder / "made").glob("*.json"))]

    assert page.choice.sets.rowCount() == len(made) == 2
    assert all(sum(part.price * part.stock for part in one.parts) <= 13.5 for one in made)
    assert "Impossible with these parts: four.json." in page.choice.words
    assert "Small and More need each other for 1 job: two.json" in page.sets.words


@pytest.mark.parametrize(("field", "text", "sentence"), [(0, "2.5", "a whole number"), (1, "-3", "zero or more")])
def test_choices_that_make_no_sense_are_refused(page, qtbot, field, text, sentence):
    page.choice.wish.setCurrentIndex(3)
    page.choice.fields[field].setText(text)
    with qtbot.waitSignal(page.refused) as refused:
        _click(page.choice.ask)

    assert sentence in refused.args[0]


def test_tables_and_map_are_written(page, qtbot, folder):
    _started(page, qtbot)
    page.writing.write_tables(folder / "tables")
    page.writing.write_map(folder / "map.svg")
    with (folder / "tables" / "steps.csv").open(encoding="utf-8-sig") as file:
        rows = list(csv.DictReader(file))

    with (folder / "tables" / "prices.csv").open(encoding="utf-8-sig") as file:
        prices = list(csv.DictReader(file))

    assert len(rows) == 10
    assert [(row["set"], row["sum"]) for row in prices if row["part"] == "a"] == [("Small", "5.00")]
    assert (folder / "tables" / "bill.csv").exists()
    assert (folder / "map.svg").read_text(encoding="utf-8").lstrip().startswith("<?xml")


def test_tables_and_map_are_offered_once_something_is_known_and_replace_nothing_unasked(
    page, qtbot, folder, monkeypatch
):
    before = [words for words, _ in page.writing.offers()]
    _started(page, qtbot)
    (folder / "tables").mkdir()
    (folder / "tables" / "steps.csv").write_text("mine")
    asked, answers = [], [QMessageBox.StandardButton.No, QMessageBox.StandardButton.Yes]
    monkeypatch.setattr(QMessageBox, "question", lambda *args: (asked.append(args[2]), answers.pop(0))[1])
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(folder / "tables"))
    offers = dict(page.writing.offers())
    write = next(write for words, write in offers.items() if words.startswith("Tables"))
    write()
    kept = (folder / "tables" / "steps.csv").read_text()
    write()

    assert all(words.startswith("Booklet") for words in before) and len(offers) == len(before) + 2
    assert asked == ["“steps.csv” is there already. Replace it?"] * 2
    assert kept == "mine" and "one.json" in (folder / "tables" / "steps.csv").read_text(encoding="utf-8-sig")


def test_a_stopped_search_for_the_worth_says_how_many_parts_were_not_tried(page, qtbot):
    _started(page, qtbot)
    _click(page.worth.ask_worth)
    _ended(page, qtbot)
    whole, worth = page.worth.words, page.answer.worth["Small"]
    page.work.stop()
    page.answer = replace(page.answer, worth={"Small": worth[:1]})
    page._show_answer()

    assert "Stopped" not in whole
    assert page.worth.words.startswith("Stopped: 2 parts were not tried; asking again goes on from there. To spare")
    assert page.head.words == "stopped; what was found is kept, asking again goes on from there"


def test_chosen_sets_replace_no_file_unasked(page, qtbot, folder, monkeypatch):
    _started(page, qtbot)
    page.choice.wish.setCurrentIndex(2)
    _click(page.choice.ask)
    _ended(page, qtbot)
    (folder / "chosen-set.json").write_text("mine")
    monkeypatch.setattr(QMessageBox, "question", lambda *_: QMessageBox.StandardButton.No)
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(folder))
    _click(page.choice.keep)

    assert (folder / "chosen-set.json").read_text() == "mine"


def test_booklet_is_written_beside_the_window(page, qtbot, folder):
    page.writing.write_booklet(0, folder / "booklet.pdf")
    _ended(page, qtbot)

    assert (folder / "booklet.pdf").read_bytes().startswith(b"%PDF")
    assert "booklet.pdf" in page.head.words


def test_other_weights_leave_the_map_and_take_back_what_was_chosen_by_the_old_ones(page, qtbot, folder):
    (folder / "weights.csv").write_text("job,weight\none.json,8\n", encoding="utf-8")
    _started(page, qtbot)
    page.choice.wish.setCurrentIndex(2)
    _click(page.choice.ask)
    _ended(page, qtbot)
    chosen, before = page.choice.sets.rowCount(), _signs(page)
    page.choose(weights=folder / "weights.csv")
    weighed, legend = page.inputs.weights, page._legend.text()
    page.head._weights_menu.actions()[1].trigger()

    assert (chosen, page.choice.sets.rowCount()) == (1, 0)
    assert _signs(page) == before
    assert weighed == {"one.json": 8.0} and "80% by weight" in legend
    assert page.inputs.weights == {} and page.head.weights.menu() is None
    assert "by weight" not in page._legend.text()


def test_what_the_customer_has_is_counted_not_priced_and_can_be_taken_back(page, qtbot, folder):
    write_set(ruled_set("Mine", "e"), folder / "mine.json")
    page.choose(own=(folder / "mine.json",))
    _started(page, qtbot)
    with_own = _signs(page)[MapPlace("two.json", "Small", 2)]
    table = page.sets.table
    prices = [table.item(row, 5).text() for row in range(2)]
    page.head.own.menu().actions()[1].trigger()

    assert with_own == "covered"
    assert prices == ["7.00", f"{price_of(read_set(folder / 'more.json')):.2f}"]
    assert page.inputs.own == () and page.head.own.menu() is None


def test_what_is_searched_with_cannot_be_changed_under_a_search(page, qtbot):
    buttons = page.head._inputs
    _click(page.head.start)
    while_running = [button.isEnabled() for button in buttons]
    _ended(page, qtbot)

    assert while_running == [False] * len(buttons)
    assert all(button.isEnabled() for button in buttons)


def test_a_question_that_is_stopped_takes_nothing_from_the_map(page, qtbot):
    _started(page, qtbot)
    whole, told = page.answer, page._legend.text()
    few = {key: cell for key, cell in whole.coverage.cells.items() if key[0] == "one.json"}
    page.work.stop()
    page._on_done(replace(whole, coverage=replace(whole.coverage, cells=few), impossible=()))

    assert page._legend.text() == told and page.answer.impossible == whole.impossible
    assert page.head.words == "stopped; what was found is kept, asking again goes on from there"


def test_what_a_stopped_search_did_not_reach_is_counted(page, qtbot):
    _started(page, qtbot)
    cells = {key: cell for key, cell in page.answer.coverage.cells.items() if key != ("four.json", "Small")}
    page.answer = replace(page.answer, coverage=Coverage(page.answer.coverage.jobs, page.map_sets, cells))
    page._show_answer()

    assert "0 cannot be told yet, 1 missed, 1 not searched yet" in page._legend.text()


def test_what_cannot_be_read_is_refused_and_nothing_is_lost(page, qtbot, folder):
    with qtbot.waitSignal(page.refused) as refused:
        page.choose(library=folder / "nowhere")

    assert "expected a folder" in refused.args[0]
    assert len(page.inputs.jobs) == 3


def test_sample_library_is_ready_in_the_window_and_escape_goes_back(qtbot):
    window = MainWindow()
    qtbot.addWidget(window)
    window.show()
    window.begin(None)
    _click(next(one for one in window.desk.start.findChildren(QPushButton) if one.text() == "Coverage"))
    page = window.desk.planning.coverage
    shown = window._pages.currentWidget()
    window.desk.escape()

    assert shown is page
    assert len(page.inputs.jobs) == 40 and page.head.start.isEnabled()
    assert window._pages.currentWidget() is window.desk.start
    window.close()


@pytest.fixture
def open_page(page, folder):
    """With a job more, of which the readings do not tell whether its second step is good."""
    write_job(ruled_job("Open", "a", "u+b"), folder / "library" / "open.json")
    page.choose(library=folder / "library", sets=(folder / "small.json",))
    return page


def test_a_cell_that_cannot_be_told_yet_says_what_would_tell_and_opens_that_stack(open_page, qtbot):
    _started(open_page, qtbot)
    open_page.map.go_to(MapPlace("open.json", "Small", 2))
    with qtbot.waitSignal(open_page.job_asked) as asked:
        _click(open_page.cell._with_stacks)
    job, step = asked.args

    assert "It hangs on:" in open_page.cell.text and "measure the bore again" in open_page.cell.text
    assert "The stack that may be good:<br>left: b" in open_page.cell.text
    assert not open_page.cell._closer.isVisibleTo(open_page.cell)
    assert step == 1 and [part.part for part in job.steps[1].stack.parts] == ["b"]


def test_a_cell_with_caution_says_which(page, qtbot, folder):
    write_job(ruled_job("Careful", "a+w"), folder / "library" / "careful.json")
    page.choose(library=folder / "library", sets=(folder / "small.json",))
    _started(page, qtbot)
    page.map.go_to(MapPlace("careful.json", "Small", 1))

    assert "it hangs to one side" in page.cell.text and "Missed by" not in page.cell.text


def test_legend_keeps_the_signs_apart_and_takes_titles_as_they_are(open_page, qtbot, folder):
    write_set(ruled_set("<b>Ours", "abd"), folder / "ours.json")
    open_page.choose(sets=(folder / "ours.json",))
    _started(open_page, qtbot)
    legend = QTextDocument()
    legend.setHtml(open_page._legend.text())
    told = legend.toPlainText().replace("\N{NO-BREAK SPACE}", " ")

    assert "✔ covered   ▲ covered with caution   ? cannot tell yet   ✖ missed" in told
    assert "<b>Ours: 1 of 4 jobs, 0 of them with caution, 1 cannot be told yet, 2 missed" in told


@pytest.mark.parametrize("asked", ["Start", "Try sizes"])
def test_focus_goes_to_stop_and_comes_back(page, qtbot, asked):
    page.activateWindow()
    page.side.turn_to("Worth")
    for field in (page.worth.start, page.worth.end, page.worth.step):
        field.setText("12")
    button = {"Start": page.head.start, "Try sizes": page.worth.ask_sizes}[asked]
    button.setFocus()
    _click(button)
    while_running = QApplication.focusWidget()
    _ended(page, qtbot)

    assert while_running is page.head.stop
    assert QApplication.focusWidget() is button


def test_a_split_that_nothing_fits_into_says_so(page, qtbot):
    _started(page, qtbot)
    page.choice.wish.setCurrentIndex(3)
    page.choice.fields[1].setText("0.5")
    _click(page.choice.ask)
    _ended(page, qtbot)

    assert page.choice.sets.rowCount() == 0
    assert "Possible, but in no set: one.json, two.json." in page.choice.words
    assert "Impossible with these parts: four.json." in page.choice.words


def test_while_a_choice_is_worked_out_that_is_told_and_not_that_all_is_done(page, qtbot):
    told = []
    page.work.told.connect(lambda words, share: told.append((words, page.head.progress.maximum())))
    _started(page, qtbot)
    searched = len(told)
    page.choice.wish.setCurrentIndex(0)
    _click(page.choice.ask)
    _ended(page, qtbot)

    assert not any(words.startswith("all is listed") for words, _ in told[:searched])
    assert told[-1] == ("all is listed; the best choice is worked out, up to a minute", 0)  # no end is shown
    assert page.head.words == "done by a set: 1 of 3 jobs" and page.choice.sets.rowCount() > 0


def test_the_part_of_a_row_is_the_one_whose_sizes_are_tried(page, qtbot):
    _started(page, qtbot)
    _click(page.worth.ask_worth)
    _ended(page, qtbot)
    row = next(at for at in range(page.worth.worth.rowCount()) if page.worth.worth.item(at, 0).text() == "b")
    page.worth.worth.setCurrentCell(row, 0)

    assert page.worth.part.currentText() == "b"
    assert page.worth.words.startswith("b: ") and page.worth.words.endswith("without losing a job: none.")


def test_every_choice_shows_its_arrow(page):
    assert {type(box) for box in page.findChildren(QComboBox)} == {ChoiceBox}


def test_prices_of_sets_and_parts_stand_on_screen(open_page, qtbot):
    _started(open_page, qtbot)
    open_page.side.turn_to("Sets")
    QApplication.processEvents()
    tables = (open_page.sets.table, open_page.sets.prices)
    row = [open_page.sets.table.item(0, column).text() for column in range(open_page.sets.table.columnCount())]

    assert [table.horizontalScrollBar().maximum() for table in tables] == [0, 0]
    assert row == ["Small", "1", "0", "1", "2", "7.00", "3", "1", row[-1]]
    assert open_page.sets.table.horizontalHeaderItem(3).toolTip() == "Number of jobs: cannot tell yet"


def test_there_is_room_for_the_sets_side_by_side_in_the_large_size(qtbot, folder):
    window = MainWindow()
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    window.begin(None)
    window._prefer(is_for_touch=True)
    window.actions_["coverage"].trigger()
    page = window.desk.planning.coverage
    page._finder = by_rule
    write_set(ruled_set("Starter set", "abd", a=ruled_part("a", price=1540.7)), folder / "small.json")
    page.choose(library=folder / "library", sets=(folder / "small.json", folder / "more.json"))
    _started(page, qtbot)
    page.side.turn_to("Sets")
    QApplication.processEvents()

    assert page.sets.table.rowCount() == 2 and page.sets.table.horizontalScrollBar().maximum() == 0
    assert page.map.width() > 500
    window.close()


def test_cells_grow_with_the_large_size(page):
    before = page.map.columnWidth(0), page.map.columnWidth(2)
    page.set_look(look_of(Preferences(is_for_touch=True)))

    assert page.map.columnWidth(0) == page.map.rowHeight(0) > before[0]
    assert page.map.columnWidth(2) == before[1] < before[0]

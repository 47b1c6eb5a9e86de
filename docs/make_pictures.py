"""Screenshots of every sample in docs/pictures, made with the real window under a virtual display.

    python docs/make_pictures.py            starts Xvfb when there is no display
    python docs/make_pictures.py planning   those of docs/planning.md; a search of many minutes

Settings and recent files go to a folder that is thrown away, so that the pictures show a first start.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from time import monotonic, sleep

ROOT = Path(__file__).parents[1]
PICTURES = ROOT / "docs" / "pictures"
WIDTH, HEIGHT = 1280, 800
PATIENCE_S = 90.0
STARTED_S = 25.0
"""By then the samples on the start page are checked."""


def main() -> int:
    if not os.environ.get("DISPLAY"):
        return under_virtual_display()
    with tempfile.TemporaryDirectory() as home:
        for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
            os.environ[name] = home
        take_pictures()
    return 0


def under_virtual_display() -> int:
    """This script again, with an X server that draws to memory."""
    display = ":93"
    server = subprocess.Popen(["Xvfb", display, "-screen", "0", f"{WIDTH}x{HEIGHT}x24"], stderr=subprocess.DEVNULL)
    try:
        sleep(1.0)
        environment = {**os.environ, "DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
        return subprocess.call([sys.executable, __file__, *sys.argv[1:]], env=environment)
    finally:
        server.terminate()


def take_pictures() -> None:
    from PySide6.QtGui import QCursor
    from PySide6.QtWidgets import QApplication

    from app.look.fonts import font
    from app.window.main_window import MainWindow

    application = QApplication(sys.argv[:1])
    application.setApplicationName("Ringpath")
    application.setStyle("Fusion")
    application.setFont(font(13))

    save_part_drawing("D28-15")
    save_reading_sheet()
    QCursor.setPos(WIDTH - 1, HEIGHT - 1)  # else what lies in the middle looks as if it were pointed at
    window = MainWindow()
    window.resize(WIDTH, HEIGHT)
    window.show()
    window.begin(None)
    settle(application, 1.5)
    if sys.argv[1:] == ["planning"]:
        take_pictures_of_planning(application, window)
    settle(application, STARTED_S)
    save(window, PICTURES / "start.png")
    for path in (*sorted((ROOT / "samples").glob("*.json")), *sorted((ROOT / "samples" / "mistakes").glob("*.json"))):
        if path.name == "starter-set.json":
            continue
        window.desk.open_path(path)
        wait_for_verdict(application, window)
        save(window, PICTURES / "samples" / f"{path.stem}.png")
    window.desk.open_path(ROOT / "samples" / "rear-hub-shouldered-axle.json")
    wait_for_verdict(application, window)
    window.desk.work.show_step(3)
    wait_for_verdict(application, window)
    save(window, PICTURES / "window.png")
    window.actions_["dark"].trigger()
    settle(application, 0.5)
    save(window, PICTURES / "window-dark.png")
    window.actions_["dark"].trigger()
    save_new_job(application, window)
    save_bodies(application, window)
    save_new_part(application, window)
    os._exit(0)


def take_pictures_of_planning(application: object, window: object) -> None:
    """The walk of docs/planning.md in the window."""
    from planning_pictures import sized_part, take_planning_pictures

    with tempfile.TemporaryDirectory() as folder:
        take_planning_pictures(
            window,
            settle=lambda seconds: settle(application, seconds),
            save=lambda name: save(window, PICTURES / f"{name}.png"),
            new_part=sized_part(Path(folder)),
        )
    os._exit(0)


def save_part_drawing(part_id: str) -> None:
    """The lathe drawing of a part of the starter set."""
    from app.sheet.lathe_drawing import lathe_drawing
    from app.sheet.png import write_png
    from geometry.job.file import read_set

    part = next(part for part in read_set(ROOT / "samples" / "starter-set.json").parts if part.id == part_id)
    path = PICTURES / "part-drawing.png"
    write_png(lathe_drawing(part, revision="A").page, path, pixels_per_mm=4.0)
    print(path.relative_to(ROOT))


def save_new_part(application: object, window: object) -> None:
    """A step that the starter set misses, with the part that is sized for it, and after it went into the set."""
    from geometry.job.file import read_set

    tool_set = read_set(ROOT / "samples" / "starter-set.json")
    window.desk.open_path(ROOT / "samples" / "library" / "rear-hub-shouldered-axle-01.json")  # type: ignore[attr-defined]
    work = window.desk.work  # type: ignore[attr-defined]
    work.set_tool_set(tool_set.parts, tool_set.title)
    work.show_step(3)
    work.left.turn_to("New part")
    settle(application, 0.5)
    panel = work.new_part.panel
    panel.start()
    end = monotonic() + 2 * PATIENCE_S
    while panel.work.is_running and monotonic() < end:
        settle(application, 0.2)
    settle(application, 0.5)
    save(window, PICTURES / "new-part.png")
    panel.add_button.click()
    wait_for_verdict(application, window)
    save(window, PICTURES / "new-part-added.png")


def wait_for_verdict(application: object, window: object) -> None:
    """Until the whole check has come back from its worker, the doubt of the readings tried."""
    from geometry.check.as_measured import TRIALS_CHECKED

    end = monotonic() + PATIENCE_S
    while monotonic() < end:
        settle(application, 0.2)
        work = window.desk.work  # type: ignore[attr-defined]
        is_tried = work.job.readings is None or (work.check is not None and TRIALS_CHECKED in work.check.checked)
        if work.banner.property("verdict") and is_tried:
            break
    settle(application, 0.6)


def save_reading_sheet() -> None:
    """The page of a blank reading sheet on which a shell is measured."""
    from app.sheet.png import write_png
    from app.sheet.reading_sheet import lay_out_blank
    from geometry.job.file import read_job

    job = read_job(ROOT / "samples" / "rear-hub-shouldered-axle.json")
    path = PICTURES / "reading-sheet.png"
    write_png(lay_out_blank(job).pages[1], path, pixels_per_mm=4.0)
    print(path.relative_to(ROOT))


def save_new_job(application: object, window: object) -> None:
    """A new job in the readings place, a few lines typed."""
    from app.document.open_job import OpenJob
    from geometry.job.reading_changes import type_reading
    from geometry.planning.starting_jobs import starting_job

    job = starting_job("rear hub, shouldered axle", {"BL": "6903", "BR": "6903"})
    for line, typed in (("shell.z7", "79,52"), ("shell.z1", "8.02"), ("shell.bore1", "29.98")):
        job = type_reading(job, line=line, typed=typed)
    window.desk._show_job(OpenJob(job))  # type: ignore[attr-defined]
    window.desk.work.left.turn_to("Readings")  # type: ignore[attr-defined]
    settle(application, 4.0)
    save(window, PICTURES / "readings.png")


def save_bodies(application: object, window: object) -> None:
    """A cover that is drawn onto a hub which was begun from a kind."""
    from PySide6.QtWidgets import QPushButton

    from app.look.palette import LIGHT
    from app.window.bodies_dialog import BodiesDialog
    from geometry.planning.starting_jobs import starting_job

    dialog = BodiesDialog(starting_job("front hub"), LIGHT, "mm", window)
    dialog.show()
    next(button for button in dialog.findChildren(QPushButton) if button.text() == "Add a body").click()
    dialog.name.setText("Dust cover")
    dialog.name.textEdited.emit("Dust cover")
    dialog.table.item(0, 3).setText("17")
    settle(application, 0.5)
    save(dialog, PICTURES / "bodies.png")
    dialog.close()


def settle(application: object, seconds: float) -> None:
    end = monotonic() + seconds
    while monotonic() < end:
        application.processEvents()  # type: ignore[attr-defined]
        sleep(0.01)


def save(window: object, path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    window.grab().save(str(path))  # type: ignore[attr-defined]
    print(path.relative_to(ROOT))


if __name__ == "__main__":
    sys.exit(main())

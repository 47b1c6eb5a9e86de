"""Pictures of the page of coverage and of the library, for docs/planning.md: the walk of that page, in the window.

Called by make_pictures.py; the searches of 40 jobs take some minutes.
"""

from collections.abc import Callable
from pathlib import Path
from time import monotonic

ROOT = Path(__file__).parents[1]
LIBRARY = ROOT / "samples" / "library"
PATIENCE_S = 1800.0
MISSED = ("rear-hub-shouldered-axle-05.json", 4)
SAME_PART = (("rear-hub-shouldered-axle-01.json", 4), ("rear-hub-stepped-axle-02.json", 4))
SETS, PRICE = "3", "300"


def take_planning_pictures(
    window: object, *, settle: Callable[[float], None], save: Callable[[str], None], new_part: Path
) -> None:
    """The map and why, the new part and what it adds, the split, the map in the dark, the library."""
    from app.window.coverage_map import MapPlace

    window.actions_["coverage"].trigger()  # type: ignore[attr-defined]
    page = window.desk.planning.coverage  # type: ignore[attr-defined]

    def wait() -> None:
        end = monotonic() + PATIENCE_S
        settle(0.5)
        while page.work.is_running and monotonic() < end:
            settle(0.2)
        settle(0.5)

    page.start()
    wait()
    page.map.go_to(MapPlace(MISSED[0], page.map_sets[0], MISSED[1]))
    settle(0.3)
    save("coverage")
    page.side.turn_to("Worth")
    page.worth.ask_about([new_part])
    wait()
    save("coverage-new-part")
    page.worth.take.click()
    wait()
    page.side.turn_to("Choose a set")
    page.choice.wish.setCurrentIndex(3)
    for field, text in zip(page.choice.fields, (SETS, PRICE), strict=True):
        field.setText(text)
    page.choice.ask.click()
    wait()
    save("coverage-split")
    window.actions_["dark"].trigger()  # type: ignore[attr-defined]
    page.map.go_to(MapPlace(MISSED[0], page.map_sets[0], MISSED[1]))
    settle(0.5)
    save("coverage-dark")
    window.actions_["dark"].trigger()  # type: ignore[attr-defined]
    window.actions_["library"].trigger()  # type: ignore[attr-defined]
    library = window.desk.bench.page  # type: ignore[attr-defined]
    library.show_folder(LIBRARY)
    library.jobs.sizes["bore_mm"].setText("17")
    library.jobs.sizes["outside_mm"].setText("26")
    settle(0.5)
    save("library")


def sized_part(folder: Path) -> Path:
    """The part that is missing for three jobs at once, as `ringpath size` writes it."""
    from app.command_line.arguments import read_arguments

    path = folder / "long-drift.json"
    starter = str(ROOT / "samples" / "starter-set.json")
    words = ["size", str(LIBRARY / MISSED[0]), "--step", str(MISSED[1]), "--set", starter]
    for job, step in SAME_PART:
        words += ["--also", str(LIBRARY / job), str(step)]
    read_arguments([*words, "-o", str(path)]).run()
    return path

"""Time to the first frame and to a checked section, and work of a drag step (floor.md, sections 1 and 2).

python -m tests.bench.bench_window

Start-up is given as a ratio to a bare Qt window started right before it. Goals: first frame 1.5, checked 2.5: the
section is drawn with its quick check, the verdict follows from the worker. A drag step is processor time of the
window's thread, up to the painted frame, beside one shapely intersection timed right before it (bench_check.py).
Goal: 8 ms where that takes 27 µs, a ratio of some 300. `at rest there` is what is shown once the part stays.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median, quantiles
from time import thread_time

from tests.bench.bench_check import intersection_seconds

ROUNDS = 9
SAMPLE = Path(__file__).parents[2] / "samples" / "rear-hub-shouldered-axle.json"
BARE = """
from time import perf_counter; start = perf_counter()
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget
application = QApplication([])
class Bare(QWidget):
    def paintEvent(self, event):
        QTimer.singleShot(0, self.told)
    def told(self):
        print(perf_counter() - start); application.quit()
window = Bare(); window.resize(1280, 800); window.show(); application.exec()
"""
WHOLE = """
from time import perf_counter; start = perf_counter()
import sys
from app.__main__ import make_ready
make_ready()
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from app.window import main_window
times = []
class Timed(main_window.MainWindow):
    def begin(self, path):
        times.append(perf_counter() - start)
        super().begin(path)
        self.wait()
    def wait(self):
        if len(times) == 1 and self.desk.work.check is not None:
            times.append(perf_counter() - start)
        if not self.desk.work.banner.property("verdict"):
            QTimer.singleShot(2, self.wait)
            return
        print(*times, perf_counter() - start); self.close(); QApplication.quit()
main_window.MainWindow = Timed
main_window.open_window(sys.argv[1])
"""


def _started(program: str, environment: dict[str, str]) -> list[float]:
    found = subprocess.run(
        [sys.executable, "-c", program, str(SAMPLE)], env=environment, capture_output=True, text=True, check=True
    )
    return [float(one) for one in found.stdout.split()]


def start_up(environment: dict[str, str]) -> None:
    """First frame, section with its quick check, and verdict, beside a bare window."""
    ratios: dict[str, list[float]] = {"first frame": [], "checked": [], "verdict": []}
    _started(WHOLE, environment)  # compiled once, as it is for whoever starts it every day
    for _ in range(ROUNDS):
        (bare,) = _started(BARE, environment)
        for found, seconds in zip(ratios.values(), _started(WHOLE, environment), strict=True):
            found.append(seconds / bare)
    for name, found in ratios.items():
        print(f"{name:14} x{median(found):.2f} ({min(found):.2f}..{max(found):.2f})")


def drag_steps() -> None:
    """Carry parts over the drawing of every step; where a part comes to a new target, it is checked anew."""
    from PySide6.QtCore import QEventLoop, QPoint, QTimer
    from PySide6.QtWidgets import QApplication

    from app.window.main_window import MainWindow
    from app.window.one_a_frame import FRAME_MS

    application = QApplication.instance() or QApplication([])
    window = MainWindow()
    window.resize(1280, 800)
    window.show()
    window.begin(SAMPLE)

    def wait(seconds: float) -> float:
        """Let the window work for so long; the processor time that it took."""
        start, loop = thread_time(), QEventLoop()
        QTimer.singleShot(round(seconds * 1000), loop.quit)
        loop.exec()
        return thread_time() - start

    wait(5.0)
    work = window.desk.work
    viewport = work.view.viewport()
    found: dict[str, list[tuple[float, float]]] = {"same target": [], "new target": [], "at rest there": []}
    for step in range(len(work.job.steps)):
        work.show_step(step)
        wait(0.5)
        for part in [one for one in work.tray_parts if one.kind in ("cup", "drift", "guide")][::2]:
            work.view.begin_drag(part, step)
            for x in range(20, viewport.width() - 20, 20):
                base = intersection_seconds(thread_time)
                before, start = work._previewed, thread_time()
                work.view.drag_to(viewport.mapToGlobal(QPoint(x, 300)))
                application.processEvents()
                taken = thread_time() - start
                is_new = work._previewed is not before
                found["new target" if is_new else "same target"].append((taken, taken / base))
                rest = wait(3 * FRAME_MS / 1000) if is_new else wait(FRAME_MS / 1000)
                if is_new:
                    found["at rest there"].append((rest, rest / base))
            work.view.cancel_drag()
    window.close()
    for name, rows in found.items():
        times, ratios = [1e3 * row[0] for row in rows], [row[1] for row in rows]
        print(
            f"drag, {name:13} {median(times):5.1f} ms of work ({min(times):.1f}..{max(times):.1f}),"
            f" x{median(ratios):.0f} ({quantiles(ratios, n=10)[-1]:.0f} for one in ten), {len(rows)} steps"
        )


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        os.environ |= {"QT_QPA_PLATFORM": "offscreen", "RINGPATH_STATE": folder, "PYTHONPYCACHEPREFIX": folder}
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        start_up(dict(os.environ))
        drag_steps()


if __name__ == "__main__":
    main()

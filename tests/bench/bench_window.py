"""Time to the first frame and to a checked section, and time of a drag step (floor.md, sections 1 and 2).

python -m tests.bench.bench_window

Start-up is given as a ratio to a bare Qt window started right before it. Goals: first frame 1.5, checked 2.5;
a drag step 8 ms.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

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
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from app.look.fonts import font
from app.window.main_window import MainWindow
application = QApplication([]); application.setStyle("Fusion"); application.setFont(font(13))
times = []
class Timed(MainWindow):
    def begin(self, path):
        times.append(perf_counter() - start)
        super().begin(path)
        self.wait()
    def wait(self):
        if not self.desk.work.banner.property("verdict"):
            QTimer.singleShot(2, self.wait)
            return
        print(*times, perf_counter() - start); self.close(); application.quit()
window = Timed(); window.begin_after_first_frame(Path(sys.argv[1])); window.show(); application.exec()
"""


def _started(program: str, environment: dict[str, str]) -> list[float]:
    found = subprocess.run(
        [sys.executable, "-c", program, str(SAMPLE)], env=environment, capture_output=True, text=True, check=True
    )
    return [float(one) for one in found.stdout.split()]


def start_up(environment: dict[str, str]) -> None:
    """First frame and checked section, beside a bare window."""
    first, checked = [], []
    _started(WHOLE, environment)  # compiled once, as it is for whoever starts it every day
    for _ in range(ROUNDS):
        (bare,) = _started(BARE, environment)
        shown, complete = _started(WHOLE, environment)
        first.append(shown / bare)
        checked.append(complete / bare)
    print(f"first frame    x{median(first):.2f} ({min(first):.2f}..{max(first):.2f})")
    print(f"checked        x{median(checked):.2f} ({min(checked):.2f}..{max(checked):.2f})")


def drag_steps() -> None:
    """Carry a cup to and fro over the drawing; steps that meet a new target are checked anew."""
    from PySide6.QtCore import QPoint
    from PySide6.QtWidgets import QApplication

    from app.window.main_window import MainWindow

    application = QApplication.instance() or QApplication([])
    window = MainWindow()
    window.resize(1280, 800)
    window.show()
    window.begin(SAMPLE)
    start = perf_counter()
    while perf_counter() - start < 3.0:
        application.processEvents()
    work = window.desk.work
    viewport = work.view.viewport()
    work.view.begin_drag(next(part for part in work.tray_parts if part.kind == "cup"), 0)
    same, other = [], []
    for number in range(240):
        x = 20 + int((viewport.width() - 40) * abs(((number * 7) % 200) / 100 - 1))
        before, start = work._previewed, perf_counter()
        work.view.drag_to(viewport.mapToGlobal(QPoint(x, 300)))
        application.processEvents()
        (same if work._previewed is before else other).append((perf_counter() - start) * 1e3)
    work.view.cancel_drag()
    window.close()
    for name, times in (("same target", same), ("other target", other)):
        print(f"drag, {name:12} {median(times):5.1f} ms ({min(times):.1f}..{max(times):.1f}), {len(times)} steps")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        os.environ |= {"QT_QPA_PLATFORM": "offscreen", "RINGPATH_STATE": folder, "PYTHONPYCACHEPREFIX": folder}
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        start_up(dict(os.environ))
        drag_steps()


if __name__ == "__main__":
    main()

"""What the first frame does without: loaded in a fresh interpreter, up to the moment when the window is painted."""

import os
import subprocess
import sys

PROGRAM = """
import sys
from PySide6.QtWidgets import QApplication
from app.look.fonts import font
from app.window.main_window import MainWindow
application = QApplication([]); application.setFont(font(13))
class Watched(MainWindow):
    def begin(self, path):
        print(*sorted(name for name in sys.modules if "." not in name))
        print("Qt names" if "Qt" in vars(sys.modules["PySide6.QtCore"]) else "")
        application.quit()
window = Watched(); window.begin_after_first_frame(None); window.show(); application.exec()
"""


def test_first_frame_loads_nothing_heavy(tmp_path):
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen", "XDG_STATE_HOME": str(tmp_path)}
    environment.pop("RINGPATH_STATE")
    told = subprocess.run(
        [sys.executable, "-c", PROGRAM], env=environment, capture_output=True, text=True, check=True
    ).stdout.split("\n")
    heavy = {"numpy", "shapely", "msgspec", "ezdxf", "pint", "matplotlib", "scipy", "highspy", "platformdirs"}

    assert not heavy & set(told[0].split())
    assert told[1] == ""  # the enumerations of Qt take 30 ms to make

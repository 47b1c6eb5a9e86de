"""What the first frame does without: loaded in a fresh interpreter, up to the moment when the window is painted."""

import os
import subprocess
import sys

PROGRAM = """
import sys
from app import __main__
from app.window import main_window
class Watched(main_window.MainWindow):
    def begin(self, path):
        print(*sorted(name for name in sys.modules if "." not in name))
        print("Qt names" if "Qt" in vars(sys.modules["PySide6.QtCore"]) else "")
        self.close()
main_window.MainWindow = Watched
sys.argv = ["ringpath"]
sys.exit(__main__.main())
"""


def test_first_frame_loads_nothing_heavy(tmp_path):
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen", "XDG_STATE_HOME": str(tmp_path)}
    environment.pop("RINGPATH_STATE")
    told = subprocess.run(
        [sys.executable, "-c", PROGRAM], env=environment, capture_output=True, text=True, check=True
    ).stdout.split("\n")
    heavy = {"numpy", "shapely", "msgspec", "ezdxf", "pint", "matplotlib", "scipy", "highspy", "platformdirs", "email"}

    assert not heavy & set(told[0].split())
    assert told[1] == ""  # the enumerations of Qt take 30 ms to make

"""A part of every form, plain and odd, and the starter set: what the lathe drawing must cope with."""

from geometry.job.file import read_set
from geometry.parts.forms import Drawn, Flanged, Handle, Hollow, Nut, Relieved, Ring, Rod, StopDrift, Toe
from geometry.parts.part import ToolPart
from geometry.section.body import EdgeBreak, Shape, Slice
from tests.app.sample_steps import ROOT

STARTER_SET = read_set(ROOT / "samples" / "starter-set.json")

_STEPPED = Shape(
    slices=(Slice(0.0, 6.0, 40.0, 14.0), Slice(6.0, 20.0, 27.8, 14.0), Slice(20.0, 32.0, 16.95, 10.1)),
    edges=(EdgeBreak(32.0, 16.95, 0.5), EdgeBreak(0.0, 40.0, 1.0, "fillet")),
)
_TAPER = Shape(slices=(Slice(0.0, 10.0, 30.0, 10.0), Slice(10.0, 25.0, 30.0, 10.0, outside_to_mm=20.0)))
_GROOVE = Shape(slices=(Slice(0.0, 5.0, 30.0, 10.0), Slice(5.0, 8.0, 20.0, 10.0), Slice(8.0, 20.0, 30.0, 10.0)))
_OUTLINE = Shape(outlines=(((-2.0, 8.0), (12.0, 8.0), (12.0, 20.0), (-2.0, 26.0)),))

FORMS = (
    ToolPart("rod", "rod", Rod("M10", 200.0, 9.9)),
    ToolPart("rod-ends", "rod", Rod("M10", 220.0, 9.9, 40.0)),
    ToolPart("rod-long", "rod", Rod("M12", 700.0, 11.9)),
    ToolPart("nut", "nut", Nut("M8", 12.0, 13.0, 7.9)),
    ToolPart("nut-unknown", "nut", Nut("W 3/8", 12.0, 17.0, 9.4)),
    ToolPart("slip", "slip nut", Nut("M10", 18.0, 22.0, 9.9, True)),
    ToolPart("handle", "handle", Handle("M10", 34.0, 120.0, 30.0, 9.9, 20.0)),
    ToolPart("knob", "handle", Handle("M8", 20.0, 40.0, 20.0, 7.9, 12.0)),
    ToolPart("washer", "washer", Ring(24.0, 8.4, 3.0)),
    ToolPart("guide", "guide", Ring(14.95, 10.1, 70.0), material="acetal"),
    ToolPart("disc", "plate", Ring(40.0, 0.0, 6.0)),
    ToolPart("keeper", "keeper", Ring(16.9, 13.1, 18.0), partial=True),
    ToolPart("flanged", "guide", Flanged(21.0, 4.0, 14.95, 12.0, 10.1)),
    ToolPart("flanged-solid", "guide", Flanged(21.0, 4.0, 14.95, 12.0, 0.0)),
    ToolPart("flanged-small", "drift", Flanged(6.0, 2.0, 3.0, 1.0, 1.0)),
    ToolPart("relieved", "drift", Relieved(27.8, 25.4, 2.0, 12.0, 10.1, 14.95, 6.0)),
    ToolPart("relieved-bare", "drift", Relieved(27.8, 25.4, 2.0, 12.0, 10.1)),
    ToolPart("relieved-deep", "drift", Relieved(27.8, 22.0, 12.0, 12.0, 10.1, 14.95, 6.0)),
    ToolPart("relieved-flush", "drift", Relieved(27.8, 22.0, 6.0, 12.0, 10.1, 14.95, 6.0)),
    ToolPart("relieved-none", "drift", Relieved(27.8, 0.0, 0.0, 12.0, 10.1, 14.95, 6.0)),
    ToolPart("cup", "cup", Hollow(39.0, 31.0, 72.0, 8.0, 10.1)),
    ToolPart("cup-shallow", "cup", Hollow(60.0, 50.0, 0.5, 6.0, 12.1)),
    ToolPart("stop", "depth stop", StopDrift(40.0, 8.0, 27.8, 25.5, 1.0, 10.1)),
    ToolPart("stop-plain", "depth stop", StopDrift(40.0, 8.0, 27.8, 10.1, 0.5, 10.1)),
    ToolPart("toe", "toe drift", Toe(17.2, 8.0, 11.0, 70.0, 8.1, 120.0)),
    ToolPart("toe-far", "toe drift", Toe(17.2, 8.0, 11.0, 70.0, 8.1, 240.0)),
    ToolPart("toe-round", "toe drift", Toe(17.2, 8.0, 11.0, 70.0, 8.1, 360.0)),
    ToolPart("drawn", "drift", Drawn(_STEPPED)),
    ToolPart("drawn-taper", "drift", Drawn(_TAPER)),
    ToolPart("drawn-groove", "drift", Drawn(_GROOVE)),
    ToolPart("drawn-thread", "driving nut", Drawn(_TAPER, "M10")),
    ToolPart("drawn-outline", "drift", Drawn(_OUTLINE)),
)

"""An invented hub that tests begin with: two bearings, a spacer, a circlip, and a few tool parts."""

from geometry.job.job import FORMAT, VERSION, Job, Step
from geometry.parts.forms import Flanged, Hollow, Nut, Ring, Rod
from geometry.parts.part import ToolPart
from geometry.section.bearing import Bearing
from geometry.section.body import Body, EdgeBreak, Shape, Slice
from geometry.section.section import Section
from geometry.stack.stack import Stack, StackPart

TOOL_PARTS = (
    ToolPart(
        id="R10", kind="rod", form=Rod(thread="M10", length_mm=220.0, diameter_mm=10.0), material="steel"
    ),
    ToolPart(
        id="N10",
        kind="nut",
        form=Nut(thread="M10", length_mm=8.0, across_flats_mm=16.0, bore_mm=10.0),
        material="steel",
        stock=4,
    ),
    ToolPart(
        id="W21",
        kind="washer",
        form=Ring(outside_mm=21.0, bore_mm=10.5, length_mm=2.0),
        material="steel",
        stock=6,
    ),
    ToolPart(
        id="D28",
        kind="drift",
        form=Flanged(flange_mm=27.7, flange_length_mm=10.0, pilot_mm=14.9, pilot_length_mm=5.0, bore_mm=10.2),
        stock=2,
    ),
    ToolPart(
        id="D26",
        kind="drift",
        form=Flanged(flange_mm=25.7, flange_length_mm=10.0, pilot_mm=14.9, pilot_length_mm=5.0, bore_mm=10.2),
    ),
    ToolPart(
        id="D30",
        kind="drift",
        form=Flanged(flange_mm=29.7, flange_length_mm=10.0, pilot_mm=14.9, pilot_length_mm=5.0, bore_mm=10.2),
    ),
    ToolPart(
        id="C32",
        kind="cup",
        form=Hollow(outside_mm=38.0, inside_mm=31.0, depth_mm=14.0, floor_mm=8.0, bore_mm=10.2),
    ),
    ToolPart(id="P36", kind="plate", form=Ring(outside_mm=36.0, bore_mm=10.2, length_mm=8.0)),
    ToolPart(
        id="G15", kind="guide", form=Ring(outside_mm=14.95, bore_mm=10.1, length_mm=12.0), material="acetal"
    ),
)


def plain_section() -> Section:
    """A straight shell with a seat at each end, and a spacer between the bearings."""
    shell = Shape(
        slices=(
            Slice(from_z_mm=0.0, to_z_mm=9.0, outside_mm=40.0, bore_mm=28.0),
            Slice(from_z_mm=9.0, to_z_mm=51.0, outside_mm=36.0, bore_mm=25.0),
            Slice(from_z_mm=51.0, to_z_mm=60.0, outside_mm=40.0, bore_mm=28.0),
        ),
        edges=(
            EdgeBreak(z_mm=0.0, diameter_mm=28.0, size_mm=0.5),
            EdgeBreak(z_mm=60.0, diameter_mm=28.0, size_mm=0.5),
        ),
    )
    spacer = Shape(slices=(Slice(from_z_mm=9.0, to_z_mm=51.0, outside_mm=18.0, bore_mm=15.2),))
    return Section(
        bodies=(
            Body(id="shell", role="housing", shape=shell, name="Hub shell"),
            Body(id="spacer", role="spacer", shape=spacer, name="Inner spacer", side_play_mm=1.5),
        ),
        bearings=(
            Bearing(
                id="BL", designation="6902", outer_from_z_mm=2.0, housing="shell", leaves="left",
                mouth_z_mm=0.5, outer_interference_mm=0.02,
            ),
            Bearing(
                id="BR", designation="6902", outer_from_z_mm=51.0, housing="shell", leaves="right",
                mouth_z_mm=59.5, outer_interference_mm=0.02,
            ),
        ),
    )  # fmt: skip


def press_in_stack() -> Stack:
    """A drift at the left bearing and a plate at the right end of the shell, between two nuts."""
    left = (StackPart("N10", "left"), StackPart("W21", "left"), StackPart("D28", "left"))
    right = (StackPart("P36", "right"), StackPart("W21", "right"), StackPart("N10", "right"))
    return Stack(parts=left + right, rod="R10", driving_side="left")


def plain_hub() -> Job:
    """Two steps: press the left bearing in, and press the right one out to the right (no stack yet)."""
    return Job(
        format=FORMAT,
        version=VERSION,
        title="Plain hub",
        section=plain_section(),
        summary="Two 6902 in a straight shell",
        landmark="flange on the left",
        parts=TOOL_PARTS,
        steps=(
            Step(
                title="Left bearing in", operation="press in", bearings=("BL",), towards="right",
                stack=press_in_stack(), fates={"BL": "keep", "BR": "keep"},
            ),
            Step(title="Right bearing out", operation="press out", bearings=("BR",), towards="right"),
        ),
    )  # fmt: skip

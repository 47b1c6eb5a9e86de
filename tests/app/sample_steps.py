"""A small invented hub with one step each way, its check written by hand, to try drawings and sheets on.

The figures were chosen, not computed: the tests of drawings and sheets ask how they are shown, not whether
they are right.
"""

from pathlib import Path

from msgspec.structs import replace

from geometry.check.finding import Finding, Place
from geometry.check.result import (
    Band,
    BearingForces,
    Centring,
    ContactForce,
    ForceTravel,
    Link,
    Moment,
    RodUse,
    StepCheck,
    Travel,
)
from geometry.job.job import Job, MakerInstructions, Step
from geometry.parts.forms import Flanged, Hollow, Nut, Relieved, Ring, Rod
from geometry.parts.part import ToolPart, part_profile
from geometry.profile.profile import mirrored
from geometry.section.bearing import Bearing, bearing_profiles
from geometry.section.body import Body, KeepOff, Shape, Slice, profile_of
from geometry.section.section import Section
from geometry.section.thing import Thing
from geometry.stack.stack import Stack, StackPart

ROOT = Path(__file__).parents[2]


def sample_section() -> Section:
    """A rear hub with two equal bearings and a shouldered axle."""
    shell = Shape(
        slices=(
            Slice(0.0, 3.0, 36.0, 28.0), Slice(3.0, 7.5, 56.0, 28.0), Slice(7.5, 10.0, 56.0, 24.0),
            Slice(10.0, 16.0, 42.0, 24.0), Slice(16.0, 19.0, 58.0, 24.0), Slice(19.0, 52.0, 34.0, 24.0),
            Slice(52.0, 55.5, 58.0, 24.0), Slice(55.5, 60.5, 44.0, 24.0), Slice(60.5, 68.0, 44.0, 28.0),
            Slice(68.0, 76.0, 44.0, 36.0),
        )
    )  # fmt: skip
    axle = Shape(slices=(Slice(-10, 7.5, 15, 12.1), Slice(7.5, 60.5, 18, 12.1), Slice(60.5, 88, 15, 12.1)))
    return Section(
        bodies=(
            Body(id="shell", role="housing", shape=shell, name="Hub shell"),
            Body(
                id="drive", role="insert", shape=Shape(slices=(Slice(68.0, 72.0, 36.0, 29.0),)),
                name="Toothed drive ring", material="steel", joined_to="shell",
            ),
            Body(id="axle", role="axle", shape=axle, name="Hub axle"),
        ),
        bearings=(
            Bearing(id="BL", designation="6902", outer_from_z_mm=0.5, housing="shell", leaves="left",
                    mouth_z_mm=0.0, axle="axle"),
            Bearing(id="BR", designation="6902", outer_from_z_mm=60.5, housing="shell", leaves="right",
                    mouth_z_mm=68.0, axle="axle"),
        ),
        keep_off=(KeepOff("shell", 3.0, "left", 39.0, 49.0, "six M5 disc screw holes on a 44 mm circle"),),
    )  # fmt: skip


PARTS = (
    ToolPart(id="R12-250", kind="rod", form=Rod("M12x1.75", 250.0, 11.9), name="Rod M12", material="steel", price=12),
    ToolPart(id="N12", kind="nut", form=Nut("M12x1.75", 18.0, 19.0, 11.9), name="Long hexagon nut",
             material="steel", price=7, stock=2),
    ToolPart(id="W12", kind="washer", form=Ring(36.0, 12.5, 3.0), name="Hard washer", material="steel", price=2.5,
             stock=4),
    ToolPart(id="D32", kind="drift", form=Ring(31.8, 12.1, 15.0), name="Flat drift", price=17),
    ToolPart(id="C37", kind="cup", form=Hollow(48.0, 37.0, 32.0, 8.0, 12.1), name="Deep cup", price=29),
    ToolPart(id="D28", kind="drift", form=Relieved(27.8, 25.4, 2.0, 18.0, 12.1), name="Relieved drift", price=21),
    ToolPart(id="G15", kind="guide", form=Flanged(19.0, 4.0, 14.95, 10.0, 12.1), name="Flanged guide",
             material="acetal", price=9),
)  # fmt: skip


def sample_job() -> Job:
    """One bearing out to the right, a new one in from the left."""
    fates = {"BL": "scrap", "BR": "scrap"}
    out = Step(
        title="Right bearing out", operation="press out", bearings=("BR",), towards="right", fates=fates,
        goes_along=("axle",),
        stack=Stack(
            rod="R12-250", driving_side="left",
            parts=(
                StackPart("N12", "left"), StackPart("W12", "left"), StackPart("D32", "left"),
                StackPart("C37", "right"), StackPart("W12", "right"), StackPart("N12", "right"),
            ),
        ),
    )  # fmt: skip
    back = Step(
        title="Left bearing in", operation="press in", bearings=("BL",), towards="right", fates={"BL": "keep"},
        stack=Stack(
            rod="R12-250", driving_side="left",
            parts=(
                StackPart("N12", "left"), StackPart("W12", "left"), StackPart("D28", "left"),
                StackPart("D32", "right", flipped=True), StackPart("W12", "right"), StackPart("N12", "right"),
            ),
        ),
    )  # fmt: skip
    return Job(
        format="ringpath-job", version=1, title="Sample rear hub 12 x 142", section=sample_section(),
        kind="rear hub", landmark="disc on the left", parts=PARTS, steps=(out, back), doubt_mm=0.02,
        summary="Two equal bearings; the axle has a shoulder against each inner ring.",
        instructions=MakerInstructions(first_bearing="BR", torque_nm=12.0, note="Right bearing first."),
    )  # fmt: skip


def things_of(job: Job, step: int, left_ends: dict[str, float], absent: tuple[str, ...] = ()) -> tuple[Thing, ...]:
    """The assembly at home and the stack's parts with their left ends where they are put."""
    things = [
        Thing(body.id, profile_of(body.shape), 0.0, body.joined_to or body.id, body.role)
        for body in job.section.bodies
        if body.id not in absent
    ]
    for bearing in job.section.bearings:
        if bearing.id in absent:
            continue
        rings = bearing_profiles(bearing, bearing.seals)
        start = left_ends.get(bearing.id, bearing.outer_from_z_mm) - bearing.outer_from_z_mm
        for name, outline in (("inner", rings.inner), ("outer", rings.outer), ("seals", rings.seals)):
            if outline is not None:
                kind = "seals" if name == "seals" else f"{name} ring"
                things.append(Thing(f"{bearing.id}.{name}", outline, start, bearing.id, kind))
    stack = job.steps[step].stack
    for place, (name, stacked) in enumerate(zip(stack.names(), stack.parts, strict=True)):
        part = job.part(stacked.part)
        outline = part_profile(part)
        if (stacked.side == "left") == stacked.flipped:
            outline = mirrored(outline)
        at = left_ends[name] - outline.z_min_mm
        things.append(Thing(name, outline, at, name, part.kind, stacked.side, place))
    rod = part_profile(job.part(stack.rod))
    things.append(Thing("rod", rod, left_ends["rod"], "rod", "rod"))
    return tuple(things)


def check_out(job: Job) -> StepCheck:
    """The right bearing leaves through its balls and is scrap: right, with a caution."""
    things = things_of(
        job, 0,
        {"N12@left": -46.0, "W12@left": -28.0, "D32@left": -25.0, "C37@right": 76.0, "W12@right": 116.0,
         "N12@right": 119.0, "rod": -110.0},
    )  # fmt: skip
    force = 4200.0
    contacts = (
        ContactForce(("N12@left", "W12@left"), -28.0, 12.5, 21.9, force),
        ContactForce(("W12@left", "D32@left"), -25.0, 12.5, 31.8, force),
        ContactForce(("D32@left", "axle"), -10.0, 12.1, 15.0, force),
        ContactForce(("axle", "BR.inner"), 60.5, 15.6, 18.0, force),
        ContactForce(("BR.inner", "BR.outer"), 64.0, 21.7, 21.7, force, by="balls"),
        ContactForce(("BR.outer", "shell"), 64.0, 28.0, 28.0, force, by="friction"),
        ContactForce(("shell", "C37@right"), 76.0, 37.0, 44.0, force),
        ContactForce(("C37@right", "W12@right"), 116.0, 12.5, 36.0, force),
        ContactForce(("W12@right", "N12@right"), 119.0, 12.5, 21.9, force),
    )
    still = {"N12@left": 0.0, "W12@left": 0.0, "D32@left": 0.0, "axle": 0.0, "BR": 0.0}
    gone = dict.fromkeys(still, 7.5)
    return StepCheck(
        step=1, title=job.steps[0].title, verdict="caution",
        checked=("seating", "collision", "contact path", "centring", "travel", "force", "strength"),
        findings=(
            Finding(
                code="balls-loaded", severity="caution", bodies=("BR.inner", "BR.outer"), place=Place(64.0, 21.7),
                message="The force crosses the balls of BR. It is scrap, so this is allowed: never refit it.",
                sum="4.2 kN through the balls; static rating 2.2 kN", source="ISO 76",
                way_out="Mark the bearing as scrap as soon as it is out.",
            ),
            Finding(
                code="galling", severity="note", bodies=("rod",),
                message="A dry thread under this load can seize.", sum="", source="common practice",
                way_out="Grease the thread and the washer under the turned nut.",
            ),
        ),
        things=things,
        moments=(Moment(0.0, 0.0, still, force, contacts, {"BR": force}),
                 Moment(7.5, 7.5, gone, 0.0, (), {"BR": 0.0})),
        force_path=("N12@left", "W12@left", "D32@left", "axle", "BR.inner", "BR.balls", "BR.outer", "shell",
                    "C37@right", "W12@right", "N12@right"),
        contacts=contacts,
        bearings={"BL": BearingForces(0.0, 0.0, 0.0, "scrap"), "BR": BearingForces(force, force, force, "scrap")},
        centring=(
            Centring("D32@left", 0.2, 0.2, 0.05, (Link("rod", "axle", 0.1), Link("rod", "D32@left", 0.1))),
            Centring("C37@right", 0.2, 0.2, None, ()),
        ),
        travel=Travel(7.5, None, None, 4.5), rod=RodUse(147.0, 139.5, 183.0, 250.0, 67.0, None),
        force_n=Band(2600.0, 4200.0, 6100.0), torque_nm=Band(5.2, 9.8, 17.0),
        force_travel=ForceTravel((0.0, 1.5, 5.0, 7.5), (4200.0, 3600.0, 1500.0, 0.0),
                                 {"BR": (4200.0, 3600.0, 1500.0, 0.0)}),
        home="", pusher="D32@left", support="C37@right",
    )  # fmt: skip


def check_back(job: Job) -> StepCheck:
    """The left bearing goes in by its outer ring; nothing is said against it, some figures are missing."""
    things = things_of(
        job, 1,
        {"BL": -7.0, "N12@left": -48.0, "W12@left": -30.0, "D28@left": -27.0, "D32@right": 76.0, "W12@right": 91.0,
         "N12@right": 94.0, "rod": -120.0}, absent=("axle",),
    )  # fmt: skip
    force = 2100.0
    contacts = (
        ContactForce(("N12@left", "W12@left"), -30.0, 12.5, 21.9, force),
        ContactForce(("W12@left", "D28@left"), -27.0, 12.5, 27.8, force),
        ContactForce(("D28@left", "BL.outer"), -7.0, 25.4, 27.4, force),
        ContactForce(("BL.outer", "shell"), 0.0, 28.0, 28.0, force, by="friction"),
        ContactForce(("shell", "D32@right"), 76.0, 36.0, 36.0, force),
        ContactForce(("D32@right", "W12@right"), 91.0, 12.5, 31.8, force),
        ContactForce(("W12@right", "N12@right"), 94.0, 12.5, 21.9, force),
    )
    start = {"N12@left": 0.0, "W12@left": 0.0, "D28@left": 0.0, "BL": 0.0}
    return StepCheck(
        step=2, title=job.steps[1].title, verdict="good", checked=("seating", "collision", "contact path"),
        findings=(), things=things,
        moments=(Moment(0.0, 0.0, start, force, contacts, {"BL": 0.0}),
                 Moment(7.5, 7.5, dict.fromkeys(start, 7.5), force, contacts, {"BL": 0.0})),
        force_path=("N12@left", "W12@left", "D28@left", "BL.outer", "shell", "D32@right", "W12@right", "N12@right"),
        contacts=contacts, bearings={"BL": BearingForces(force, 0.0, 0.0, "keep")}, centring=(), travel=None,
        rod=None, force_n=None, torque_nm=None, force_travel=None,
        home="outer ring of BL 0.50 below the left face of the shell", pusher="D28@left", support="D32@right",
    )  # fmt: skip


def wide_job() -> Job:
    """The same hub with names as long as people make them."""
    job = sample_job()
    parts = tuple(replace(part, name=f"{part.name} from the upper left drawer, second shelf") for part in job.parts)
    return replace(job, parts=parts, title="A hub with a title that is much longer than the title block is wide")

"""Invented assemblies with a good step each, from which every case differs in one thing.

plain hub       shell, two 6902, spacer between; the left bearing goes in against a shoulder
shouldered hub  the same shell with an axle whose shoulders hold the bearings apart
freehub body    one 6902 before a shoulder, a circlip in front of it, drive teeth on the far face

Left to right: z grows from the left face of the shell (0) to the right one (60); the freehub body is 40 long.
"""

from geometry.job.job import FORMAT, VERSION, Job, Step
from geometry.parts.forms import AnyForm, Flanged, Hollow, Kind, Nut, Ring, Rod, Toe
from geometry.parts.part import ToolPart
from geometry.section.bearing import Bearing
from geometry.section.body import Body, EdgeBreak, Shape, Slice
from geometry.section.section import Section
from geometry.stack.stack import Stack, StackPart

ROD_BORE_MM = 10.2
CORNER_MM = 0.4


def part(
    id: str, kind: Kind, form: AnyForm, *, material: str = "aluminium", stock: int = 2, partial: bool = False
) -> ToolPart:
    return ToolPart(id=id, kind=kind, form=form, material=material, stock=stock, partial=partial)


def ring(outside: float, length: float, bore: float = ROD_BORE_MM) -> Ring:
    return Ring(outside_mm=outside, bore_mm=bore, length_mm=length)


def piloted(flange: float, flange_length: float, pilot: float = 14.9, bore: float = ROD_BORE_MM) -> Flanged:
    """A drift with a pilot 5 long for the bore of the bearing."""
    return Flanged(
        flange_mm=flange, flange_length_mm=flange_length, pilot_mm=pilot, pilot_length_mm=5.0, bore_mm=bore
    )


def pot(outside: float, inside: float, depth: float, bore: float = ROD_BORE_MM) -> Hollow:
    """A hollow part with a floor 8 thick."""
    return Hollow(outside_mm=outside, inside_mm=inside, depth_mm=depth, floor_mm=8.0, bore_mm=bore)


PARTS = (
    part("R10", "rod", Rod(thread="M10", length_mm=140.0, diameter_mm=10.0), material="steel"),
    part("N10", "nut", Nut(thread="M10", length_mm=8.0, across_flats_mm=16.0, bore_mm=10.0), material="steel"),
    part("W21", "washer", ring(21.0, 2.0, 10.5), material="steel"),
    part("W44", "washer", ring(44.0, 2.0, 10.5), material="steel"),
    part("D28", "drift", piloted(27.7, 10.0)),
    part("D18", "drift", piloted(18.4, 60.0)),
    part("H28", "drift", pot(27.7, 15.1, 10.0, 10.1)),
    part("G15", "guide", ring(14.95, 42.0, 10.1), material="acetal"),
    part("P36", "plate", ring(36.0, 8.0)),
    part("P28", "plate", ring(28.0, 8.0)),
    part("C38", "cup", pot(38.0, 31.0, 14.0)),
    part("T17", "toe drift", Toe(toe_outside_mm=17.0, toe_length_mm=5.0, shank_mm=11.9, length_mm=70.0,
                                 bore_mm=ROD_BORE_MM, arc_deg=90.0), material="steel"),
    part("K15", "keeper", ring(14.9, 18.0, 11.95), material="steel", partial=True),
)  # fmt: skip


def body(id: str, role: str, *slices: tuple[float, ...], edges: tuple[tuple[float, float], ...] = (),
         **more: object) -> Body:  # fmt: skip
    """A body from slices (from z, to z, outside, bore) and chamfers of 0.5 at (z, diameter)."""
    broken = tuple(EdgeBreak(z_mm=z, diameter_mm=d, size_mm=0.5) for z, d in edges)
    return Body(id=id, role=role, shape=Shape(slices=tuple(Slice(*s) for s in slices), edges=broken), **more)  # type: ignore[arg-type]


SHELL = body("shell", "housing", (0, 9, 40, 28), (9, 51, 36, 25), (51, 60, 40, 28), edges=((0, 28), (60, 28)))
SPACER = body("spacer", "spacer", (9, 51, 18, 15.2))
AXLE = body("axle", "axle", (1, 9, 15, 10.2), (9, 51, 18, 10.2), (51, 59, 15, 10.2))
FREEHUB = body("freehub", "housing", (0, 1.2, 34, 28), (1.2, 2.4, 34, 29.4), (2.4, 9.4, 34, 28),
               (9.4, 40, 34, 20), edges=((0, 28),))  # fmt: skip
CIRCLIP = body("circlip", "circlip", (1.2, 2.3, 29.4, 25), material="spring steel", joined_to="freehub")


def bearing(id: str, from_z: float, leaves: str, mouth: float, **more: object) -> Bearing:
    """A 6902: 15 x 28 x 7, inner face to 18.8, outer face from 25.3, tight by 0.02 in its bore."""
    usual: dict[str, object] = {"housing": "shell", "designation": "6902", "corner_mm": CORNER_MM,
                                "outer_interference_mm": 0.02}  # fmt: skip
    return Bearing(id=id, outer_from_z_mm=from_z, leaves=leaves, mouth_z_mm=mouth, **(usual | more))  # type: ignore[arg-type]


BL, BR = bearing("BL", 2.0, "left", 0.5), bearing("BR", 51.0, "right", 59.5)


def stack(left: str, right: str, *, rod: str | None = "R10", drives: str = "left", **places: float) -> Stack:
    """Parts by id from left to right; those with a place given in `places` are loose and stand there."""
    parts = tuple(
        StackPart(part=id, side=side, loose=id in places, z_mm=places.get(id))  # type: ignore[arg-type]
        for side, ids in (("left", left), ("right", right))
        for id in ids.split()
    )
    return Stack(parts=parts, rod=rod, driving_side=drives)  # type: ignore[arg-type]


def job(section: Section, *steps: Step, title: str, absent: tuple[str, ...], **more: object) -> Job:
    return Job(format=FORMAT, version=VERSION, title=title, section=section, parts=PARTS, steps=steps,
               absent=absent, **more)  # type: ignore[arg-type]  # fmt: skip


def step(operation: str, id: str, towards: str, on_rod: Stack, **more: object) -> Step:
    """One bearing in or out; what stays is kept, what is pressed out is scrap."""
    fates = {one: "keep" for one in ("BL", "BR") if id != "BO"} | {
        id: "keep" if operation == "press in" else "scrap"
    }
    return Step(title=f"{id} {operation.split()[1]}", operation=operation, bearings=(id,), towards=towards,
                stack=on_rod, **({"fates": fates} | more))  # type: ignore[arg-type]  # fmt: skip


PLAIN = Section(bodies=(SHELL, SPACER), bearings=(BL, BR))


def left_in() -> Job:
    """Plain hub: the last bearing goes in, pushed on its face; a long guide holds the spacer in line."""
    on_rod = stack("N10 W21 D28", "G15 P36 W21 N10", G15=15.0)
    return job(PLAIN, step("press in", "BL", "right", on_rod), title="Left bearing in", absent=("BL",))


def first_in() -> Job:
    """Plain hub: the first bearing goes into the empty shell."""
    on_rod = stack("N10 W21 D28", "P36 W21 N10")
    return job(PLAIN, step("press in", "BL", "right", on_rod), title="First bearing in",
               absent=("BL", "BR", "spacer"))  # fmt: skip


def right_out() -> Job:
    """Plain hub: the last bearing, scrap, is pushed out through the empty shell into a cup."""
    on_rod = stack("N10 W44 D18", "C38 W21 N10")
    return job(PLAIN, step("press out", "BR", "right", on_rod), title="Right bearing out",
               absent=("BL", "spacer"))  # fmt: skip


def hooked_out() -> Job:
    """Plain hub: the right bearing, scrap, is hooked through the left one, beside a spacer pushed 1.5 aside."""
    on_rod = stack("N10 W21 T17 K15", "C38 W21 N10", K15=-10.0)
    aside = {"spacer": 1.5}
    light = bearing("BR", 51.0, "right", 59.5, outer_interference_mm=0.012)
    lightly = Section(bodies=PLAIN.bodies, bearings=(BL, light))
    return job(lightly, step("press out", "BR", "right", on_rod, pushed_aside_mm=aside), title="Hooked out",
               absent=())  # fmt: skip


def over_axle_in() -> Job:
    """Shouldered hub: the left bearing goes in over the end of the axle, under a hollow drift."""
    section = Section(bodies=(SHELL, AXLE), bearings=tuple(_on_axle(one) for one in (BL, BR)))
    on_rod = stack("N10 W21 H28", "P36 W21 N10")
    return job(section, step("press in", "BL", "right", on_rod), title="Bearing over axle in", absent=("BL",))


def axle_out() -> Job:
    """Shouldered hub: the axle is pushed on its long end, its shoulder takes the right bearing, scrap, with it."""
    axle = body("axle", "axle", (-15, 9, 15, 10.2), (9, 51, 18, 10.2), (51, 59, 15, 10.2))
    section = Section(bodies=(SHELL, axle), bearings=tuple(_on_axle(one) for one in (BL, BR)))
    on_rod = stack("N10 W21 P28", "C38 W21 N10")
    return job(section, step("press out", "BR", "right", on_rod, goes_along=("axle",)), title="Axle and bearing out",
               absent=("BL",))  # fmt: skip


def _on_axle(one: Bearing) -> Bearing:
    return bearing(one.id, one.outer_from_z_mm, one.leaves, one.mouth_z_mm, axle="axle",
                   inner_interference_mm=0.0)  # fmt: skip


FREEHUB_BEARING = bearing("BO", 2.4, "left", 0.5, housing="freehub", seals="left", open_side="right")


def freehub_in() -> Job:
    """Freehub body: its outer bearing goes in, open side inwards, before the circlip."""
    section = Section(bodies=(FREEHUB, CIRCLIP), bearings=(FREEHUB_BEARING,))
    on_rod = stack("N10 W21 D28", "P28 W21 N10")
    return job(section, step("press in", "BO", "right", on_rod), title="Freehub bearing in",
               absent=("BO", "circlip"), kind="freehub body")  # fmt: skip


def freehub_out() -> Job:
    """Freehub body: its bearing, scrap, is pushed out from behind, the circlip taken out before."""
    section = Section(bodies=(FREEHUB, CIRCLIP), bearings=(FREEHUB_BEARING,))
    on_rod = stack("N10 W21 C38", "D18 W44 N10", drives="right")
    return job(section, step("press out", "BO", "left", on_rod, take_off=("circlip",)),
               title="Freehub bearing out", absent=(), kind="freehub body")  # fmt: skip


BASES = {one.__name__: one for one in (left_in, first_in, right_out, hooked_out, over_axle_in, axle_out,
                                       freehub_in, freehub_out)}  # fmt: skip

"""Ledge: judged is what a spacer pushed aside leaves bare of a ring's face for a part that is hooked in."""

from msgspec.structs import replace

from geometry.check.face_pressure import FACE_SOURCE
from geometry.check.finding import Finding, Place
from geometry.check.result import LedgeView
from geometry.check.wording import mm, name_of
from geometry.job.job import Job

SOURCE = "crescent between the bore of the ring and the spacer pushed aside"


def ledge_findings(job: Job, views: tuple[LedgeView, ...], places: dict[str, Place]) -> list[Finding]:
    """Judge the ledges that hooked parts stand on; `places` by ring."""
    found = []
    for view in views:
        found += _judged(job, view, places.get(view.ring)) + _pressed(job, view, places.get(view.ring))
    return found + _nothing_to_push_on(found)


def narrowest(views: tuple[LedgeView, ...]) -> LedgeView | None:
    """The ledge that decides."""
    return min(views, key=lambda view: view.width_mm, default=None)


def _nothing_to_push_on(found: list[Finding]) -> list[Finding]:
    """A hooked part without a ledge pushes nothing."""
    return [
        replace(finding, code="no-contact", message=f"{name_of(finding.bodies[-1])} finds nothing to push on.")
        for finding in found
        if finding.code == "ledge-none"
    ]


def _judged(job: Job, view: LedgeView, place: Place | None) -> list[Finding]:
    bodies, least = (view.spacer, view.ring, view.tool), job.limits.contact_ring_mm
    corner = (view.edge_mm - view.ring_bore_mm) / 2
    free = view.aside_mm + (view.spacer_bore_mm - view.edge_mm) / 2
    held = f"; it goes no farther than {mm(view.aside_mm)} mm" if view.aside_mm < view.asked_mm else ""
    sum_ = (
        f"{mm(view.aside_mm)} aside + bore {mm(view.spacer_bore_mm)} / 2 - ring {mm(view.ring_bore_mm)} / 2"
        f" - corner {mm(corner)} = {mm(free)} wide, {view.area_mm2:.1f} mm²{held}"
    )
    values = {"width_mm": view.width_mm, "area_mm2": view.area_mm2}
    enough = (view.edge_mm - view.spacer_bore_mm) / 2 + least + view.width_mm - view.least_width_mm
    if view.width_mm <= 0.0:
        return [
            Finding(
                "ledge-none",
                "fault",
                bodies,
                f"Pushed aside by {mm(view.aside_mm)} mm, {name_of(view.spacer)} leaves no ledge"
                f" on the {name_of(view.ring)}.",
                sum_,
                SOURCE,
                f"{_push_farther(view, enough)}, or pull the bearing another way.",
                place,
                values=values,
            )
        ]
    if view.width_mm >= least and view.least_width_mm >= least:
        return []
    message = f"The ledge on the {name_of(view.ring)} is only {mm(view.width_mm)} mm wide."
    if view.width_mm >= least:
        message = (
            f"The ledge on the {name_of(view.ring)} is {mm(view.width_mm)} mm wide,"
            f" and may be only {mm(view.least_width_mm)} mm."
        )
        sum_ += f"; at least {mm(view.least_width_mm)} mm with the largest corner and a doubt of {mm(job.doubt_mm)}"
    return [
        Finding(
            "ledge-small",
            "caution",
            bodies,
            message,
            sum_,
            SOURCE,
            f"{_push_farther(view, enough)}, hold it there with a keeper, and watch the toe. {_toes(view)}".strip(),
            place,
            values=values | {"least_width_mm": view.least_width_mm},
        )
    ]


def _push_farther(view: LedgeView, enough_mm: float) -> str:
    """What more play would give, or that there is none."""
    if view.room_mm is not None and view.room_mm < enough_mm:
        return f"{name_of(view.spacer)} can go {mm(view.room_mm)} mm aside, {mm(enough_mm)} mm would be wanted"
    return f"Push {name_of(view.spacer)} at least {mm(enough_mm)} mm aside"


def _toes(view: LedgeView) -> str:
    """Which toe parts at hand can stand there, with figures."""
    fitting = [f"{one.part} ({one.words})" for one in view.toes if one.fits]
    if fitting:
        return f"Of the toe parts here, {' and '.join(fitting)} can stand there."
    others = [f"{one.part}: {one.words}" for one in view.toes]
    return f"No toe part here can stand there ({'; '.join(others)})." if others else ""


def _pressed(job: Job, view: LedgeView, place: Place | None) -> list[Finding]:
    """Pressure under a toe against what the toe bears, and the ring."""
    if view.pressure_mpa is None:
        return []
    found = []
    for body, what, bears in (
        (view.tool, job.part(view.tool.split("@")[0]).material, view.toe_bears_mpa),
        (view.ring, "bearing steel", view.ring_bears_mpa),
    ):
        share = view.pressure_mpa / bears if bears else 0.0
        if bears is None or share < job.limits.utilisation_caution:
            continue
        found.append(
            Finding(
                "part-overstressed",
                "fault" if share >= 1.0 else "caution",
                (body,),
                f"{name_of(body)} carries {view.pressure_mpa:.0f} MPa on the ledge; {what} bears {bears:.0f}.",
                f"{view.force_n:.0f} N / {view.toe_area_mm2:.2f} mm² = {view.pressure_mpa:.0f} MPa;"
                f" {100 * share:.0f} % of {bears:.0f} MPa",
                f"{FACE_SOURCE}; toe on a ledge of {mm(view.width_mm)} mm",
                f"Push {name_of(view.spacer)} farther aside, or use a toe that covers more of the ledge."
                f" {_toes(view)}".strip(),
                place,
                values={"pressure_mpa": view.pressure_mpa, "allowable_mpa": bears},
            )
        )
    return found

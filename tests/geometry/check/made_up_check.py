"""An invented check of one step, for tests of what is made from it."""

from math import inf

from geometry.check.finding import Finding, Place
from geometry.check.result import (
    Band,
    BearingForces,
    Centring,
    ContactForce,
    ForceTravel,
    Link,
    RodUse,
    StepCheck,
    Travel,
)

FINDING = Finding(
    code="off-centre",
    severity="fault",
    bodies=("D28@left",),
    message="The drift can sit 1.20 mm off.",
    sum="rod 1.10 + drift 0.10 = 1.20",
    source="mechanics, section 4",
    way_out="Use a guide.",
    place=Place(z_mm=0.5, diameter_mm=28.0),
    values={"offset_mm": 1.1 + 0.1},
)


def step_check(**changed):
    given = {
        "step": 1,
        "title": "Left bearing in",
        "verdict": "not good",
        "checked": ("collision", "centring"),
        "findings": (FINDING,),
        "things": (),
        "moments": (),
        "force_path": ("N10@left", "D28@left", "BL.outer", "shell"),
        "contacts": (ContactForce(("D28@left", "BL.outer"), 0.5, 25.4, 27.4, 480.0),),
        "bearings": {"BL": BearingForces(outer_n=480.0, inner_n=0.0, balls_n=0.0, fate="keep")},
        "centring": (Centring("D28@left", 1.2, None, 0.1, (Link("rod", "shell", 1.1),)),),
        "travel": Travel(needed_mm=7.5, stops_at_mm=7.5, stopped_by=("BL.outer", "shell"), room_left_mm=None),
        "rod": RodUse(100.0, 92.5, 130.0, 200.0, 70.0, nut_stops_at_mm=None),
        "force_n": Band(100.0, 480.0, 900.0),
        "torque_nm": Band(0.2, 1.0, inf),
        "pusher": "D28@left",
        "support": "C32@right",
        "force_travel": ForceTravel((0.0, 7.5), (0.0, 480.0), {"BL": (0.0, 0.0)}),
    }
    return StepCheck(**(given | changed))

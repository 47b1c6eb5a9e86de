"""Judged set-ups (tests/setups/README.md) turned into jobs: other hubs, other tools, other mistakes alike."""

import json
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args

from geometry.job.job import FORMAT, VERSION, Job, Step
from geometry.parts.forms import AnyForm, Drawn, Kind, Rod
from geometry.parts.part import ToolPart
from geometry.section.bearing import Bearing
from geometry.section.body import Body, KeepOff, Role, Shape, Slice
from geometry.section.section import Section
from geometry.stack.stack import Stack, StackPart

SETUPS = Path(os.environ.get("RINGPATH_SETUPS", Path(__file__).parent / "setups"))

Data = dict[str, Any]

KIND_WORDS: tuple[tuple[str, Kind], ...] = (
    ("o-ring", "O-ring"), ("toe", "toe drift"), ("keeper", "keeper"), ("drift", "drift"), ("cup", "cup"),
    ("plate", "plate"), ("guide", "guide"), ("tube", "tube"), ("stop", "depth stop"),
    ("thrust", "thrust bearing"), ("slip", "slip nut"), ("nut", "nut"), ("washer", "washer"),
    ("handle", "handle"), ("ring", "plate"),
)  # fmt: skip
"""First word that a kind of the file holds; it sorts the tray and judges nothing."""

OPERATIONS = {"remove": "press out", "install": "press in"}
OTHER_SIDE = {"left": "right", "right": "left"}
ON_AXLE_MM = 0.2  # a ring sits on an axle step whose diameter is this near to its bore


@dataclass(frozen=True, slots=True)
class Setup:
    """One set-up: the job with its only step, and what a careful engineer expects of it."""

    id: str
    job: Job
    expected: Data


def setup_ids(folder: Path = SETUPS) -> list[str]:
    """Names of the set-ups of a folder, in order."""
    return sorted(path.stem for path in (folder / "setups").glob("*.json"))


def read_setup(id: str, folder: Path = SETUPS) -> Setup:
    """One set-up of a folder."""
    data = _read(folder / "setups" / f"{id}.json")
    tools = {tool["id"]: tool for tool in _read(folder / "tools.json")["parts"]}
    hub = _read(folder / "hubs" / f"{data['hub']}.json")
    return Setup(id=id, job=_job(data, hub, tools), expected=data["expected"])


def allowed(id: str) -> str:
    """An id without the characters that separate the pieces of a name in results."""
    return id.replace(".", "_").replace("@", "_").replace("#", "_")


def _job(data: Data, hub: Data, tools: dict[str, Data]) -> Job:
    hub = _overridden(hub, data.get("overrides") or {})
    section = Section(
        bodies=tuple(_body(one) for one in hub["bodies"]),
        bearings=tuple(_bearing(one, hub) for one in hub["bearings"]),
        keep_off=tuple(_keep_off(one) for one in hub.get("do_not_push", [])),
    )
    step = _step(data, tools)
    used = {allowed(data["rod"])} | {part.part for part in step.stack.parts}
    going_in = step.bearings if step.operation == "press in" else ()
    present = {allowed(id) for id in data["present"]} - set(going_in)
    ids = [body.id for body in section.bodies] + [bearing.id for bearing in section.bearings]
    return Job(
        format=FORMAT, version=VERSION, title=data["title"], section=section, kind=hub.get("kind", ""),
        parts=tuple(_part(tool) for id, tool in tools.items() if allowed(id) in used), steps=(step,),
        absent=tuple(id for id in ids if id not in present),
    )  # fmt: skip


def _overridden(hub: Data, overrides: Data | list[Data]) -> Data:
    """The hub with bodies replaced: by id, or as a list of bodies."""
    listed = overrides.get("bodies", overrides) if isinstance(overrides, dict) else overrides
    by_id = listed if isinstance(listed, dict) else {body["id"]: body for body in listed}
    return hub | {"bodies": [body | by_id.get(body["id"], {}) for body in hub["bodies"]]}


def _body(data: Data) -> Body:
    return Body(
        id=allowed(data["id"]),
        role=data["role"] if data["role"] in get_args(Role) else "insert",
        shape=_shape(data["steps"]),
        name=data.get("name", ""),
        material=data.get("material", "aluminium"),
        joined_to=allowed(data["joined_to"]) if data.get("joined_to") else None,
        side_play_mm=float(data.get("side_play") or 0.0),
    )


def _shape(steps: list[Data]) -> Shape:
    return Shape(slices=tuple(_slice(one) for one in steps))


def _slice(data: Data) -> Slice:
    bore = data.get("bore") or 0.0
    return Slice(from_z_mm=data["from_z"], to_z_mm=data["to_z"], outside_mm=data["outer"], bore_mm=bore)


def _bearing(data: Data, hub: Data) -> Bearing:
    fit = data.get("fit") or {}
    return Bearing(
        id=allowed(data["id"]), designation=data.get("code") or "", bore_mm=data["d"], outside_mm=data["D"],
        width_mm=data["B"], outer_from_z_mm=data["from_z"], inner_from_z_mm=data.get("inner_from_z"),
        inner_to_z_mm=data.get("inner_to_z"), inner_face_outside_mm=data.get("inner_ring_outer"),
        outer_face_inside_mm=data.get("outer_ring_inner"), corner_mm=data.get("corner"),
        seal_recess_mm=data.get("seal_recess", 0.3), housing=allowed(data["housing"]),
        leaves=data["comes_out"], mouth_z_mm=data["seat_mouth_z"], axle=_axle_of(data, hub),
        seals=_seals(data),
        open_side=data.get("open_side_must_face"), outer_interference_mm=fit.get("outer_in_housing"),
        inner_interference_mm=fit.get("inner_on_axle"),
    )  # fmt: skip


def _axle_of(bearing: Data, hub: Data) -> str | None:
    """The axle with a step as thick as the bearing's bore, under its inner ring."""
    for body in hub["bodies"]:
        for step in body["steps"] if body["role"] == "axle" else ():
            under = step["from_z"] < bearing["inner_to_z"] and step["to_z"] > bearing["inner_from_z"]
            if under and abs(step["outer"] - bearing["d"]) <= ON_AXLE_MM:
                return allowed(body["id"])
    return None


def _seals(bearing: Data) -> str:
    """One seal: opposite to the side that must be open; outside where the file does not say."""
    if bearing.get("sealed") != "one":
        return bearing.get("sealed") or "none"
    open_side = bearing.get("open_side_must_face")
    return OTHER_SIDE[open_side] if open_side else bearing["comes_out"]


def _keep_off(data: Data) -> KeepOff:
    return KeepOff(
        body=allowed(data["body"]), face_z_mm=data["face_z"], facing=data["facing"],
        from_mm=data["from_d"], to_mm=data["to_d"], reason=data["why"],
    )  # fmt: skip


def _step(data: Data, tools: dict[str, Data]) -> Step:
    operation = data["operation"]
    return Step(
        title=data["title"],
        operation=OPERATIONS[operation["kind"]],
        bearings=tuple(allowed(id) for id in operation["bearings"]),
        towards=operation["push_towards"],
        fates=_by_id(data.get("fate")),
        start_z_mm=_by_id(data.get("bearing_start")),
        open_side=_by_id(data.get("bearing_open_side")),
        pushed_aside_mm=_by_id(data.get("shift")),
        press_force_n=data.get("press_force_n"),
        stack=Stack(
            parts=tuple(_placed(part, tools) for part in data["stack"]),
            rod=allowed(data["rod"]),
            driving_side=data["turned_nut"],
        ),
    )


def _by_id(data: Data | None) -> Data:
    return {allowed(id): value for id, value in (data or {}).items()}


def _placed(data: Data, tools: dict[str, Data]) -> StackPart:
    return StackPart(
        part=allowed(data["part"]),
        side=data["side"],
        flipped=_stands_flipped(data, tools[data["part"]]),
        z_mm=data["from_z"],
        loose=bool(data.get("float")),
    )


def _stands_flipped(data: Data, tool: Data) -> bool:
    """The file flips against the z axis, we against the side: on the right a part is mirrored as a rule."""
    return bool(data.get("flip")) == (data["side"] == "left") and not _is_symmetrical(tool)


def _is_symmetrical(tool: Data) -> bool:
    """Whether flipping leaves the part as it is."""
    length, steps = tool["length"], tool.get("steps", [])
    as_is = {(one["from_z"], one["to_z"], one["outer"], one.get("bore", 0)) for one in steps}
    return as_is == {(length - to_z, length - from_z, outer, bore) for from_z, to_z, outer, bore in as_is}


def _part(data: Data) -> ToolPart:
    return ToolPart(
        id=allowed(data["id"]), kind=_kind(data["kind"]), form=_form(data), name=data.get("name", ""),
        material=data.get("material", "steel"), price=float(data.get("price") or 0.0),
        stock=int(data.get("qty", 1)), for_thread=data.get("rod"),
        partial=bool(data.get("toe") or data.get("half")),
    )  # fmt: skip


def _kind(kind: str) -> Kind:
    if kind == "rod":
        return "rod"
    return next((ours for word, ours in KIND_WORDS if word in kind.lower()), "drift")


def _form(data: Data) -> AnyForm:
    if data["kind"] != "rod":
        return Drawn(drawn=_shape(data["steps"]), thread=data.get("thread"))
    threaded = data.get("threaded", "full")
    return Rod(
        thread=data["thread"], length_mm=data["length"], diameter_mm=data["diameter"],
        threaded_mm=None if threaded == "full" else float(threaded),
    )  # fmt: skip


def _read(path: Path) -> Any:
    return json.loads(path.read_text(encoding="utf-8"))

"""Set-ups on invented assemblies, judged by hand by a careful engineer (tests/setups/README.md, 'How we judge').

The folder is that of the environment variable RINGPATH_SETUPS, or tests/setups. Verdicts, fault words, force paths
and figures are those of the files; nothing here comes from our own output.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from geometry.check.check import check_step
from geometry.check.result import StepCheck
from tests.setups_to_jobs import Data, allowed, read_setup, setup_ids

CODES_OF_FAULT = {
    "balls_loaded": {"balls-loaded", "balls-overloaded", "wrong-ring"},
    "spacer_too_long": {"spacer-long"},
    "spacer_too_short": {"spacer-short"},
    "spacer_not_aligned": {"spacer-loose"},
    "rod_too_short": {"rod-short", "thread-engagement"},
    "nut_bottoms": {"thread-bottoms"},
    "thread_mismatch": {"thread-mismatch"},
    "cup_too_shallow": {"cup-shallow", "travel-short"},
    "cup_too_narrow": {"cup-narrow"},
    "lands_on_no_push_zone": {"keep-off-face", "screw-head-contact"},
    "lands_on_thin_lip": {"thin-lip"},
    "cannot_pass": {"cannot-pass", "cannot-reach"},
    "nothing_to_push_on": {"no-contact"},
    "pushed_against_shoulder": {"against-shoulder"},
    "circlip_left_in": {"retaining-ring-in-the-way"},
    "bearing_reversed": {"back-to-front"},
    "no_depth_stop": {"no-depth-stop"},
    "drift_too_big": {"scrapes-bore", "stopped-early", "collides"},
    "drift_blocked": {"stopped-early", "collides"},
    "pushes_seal": {"seal-touched"},
    "off_centre": {"off-centre", "floating"},
    "crushes_drift": {"part-overstressed"},
}

OFFSET_WITHIN_MM, TRAVEL_WITHIN_MM, ROD_WITHIN_MM = 0.05, 0.1, 0.5

ROD_FIGURES = {
    "between_nuts_at_start": "between_nuts_start_mm",
    "between_nuts_at_end": "between_nuts_end_mm",
    "needed": "needed_mm",
    "length": "length_mm",
    "spare": "spare_mm",
    "nut_stops_at_mm": "nut_stops_at_mm",
}


MORE = Path(__file__).parents[1] / "setups_more"


@pytest.mark.parametrize("id", setup_ids(MORE))
def test_setup_of_our_own_is_judged_as_by_hand(id):
    setup = read_setup(id, MORE)
    found = [*disagreements(setup.expected, check_step(setup.job, 0))]

    assert found == []


@pytest.mark.parametrize("id", setup_ids())
def test_setup_is_judged_as_by_hand(id):
    setup = read_setup(id)
    check = check_step(setup.job, 0)
    found = [*disagreements(setup.expected, check)]

    assert found == []


def test_there_are_setups_to_judge():
    assert len(setup_ids()) >= 12


def disagreements(expected: Data, check: StepCheck) -> Iterator[str]:
    """One line for each thing that comes out otherwise than by hand."""
    codes = {finding.code: finding.severity for finding in check.findings}
    good = check.verdict in ("good", "caution")
    if good != (expected["verdict"] == "right") or (not good and check.verdict != "not good"):
        yield f"verdict: {expected['verdict']} by hand, {check.verdict} found with {codes}"
    for word in expected.get("faults", []):
        if not CODES_OF_FAULT[word] & codes.keys():
            yield f"fault {word}: not among {codes}"
    yield from _other_paths(expected, check)
    yield from _other_offsets(expected, check)
    yield from _other_travel(expected, check)
    yield from _other_rod(expected.get("rod") or {}, check)


def _other_paths(expected: Data, check: StepCheck) -> Iterator[str]:
    paths = [expected.get("force_path"), *_as_paths(expected.get("force_path_or"))]
    wanted = [[_name(one) for one in path] for path in paths if path]
    found = [one.split("#")[0] for one in check.force_path]
    if wanted and found not in wanted:
        yield f"force path: {' > '.join(wanted[0])} by hand, {' > '.join(found)} found"
    if "balls_loaded" in expected:
        loaded = {id for id, forces in check.bearings.items() if forces.balls_n > 1.0}
        if loaded != {allowed(id) for id in expected["balls_loaded"]}:
            yield f"balls loaded: {expected['balls_loaded']} by hand, {sorted(loaded)} found"


def _as_paths(paths: list | None) -> list[list[str]]:
    """`force_path_or` holds one path, or several."""
    return [paths] if paths and isinstance(paths[0], str) else paths or []


def _name(name: str) -> str:
    """A name of the file in our characters: the piece after the last dot or @ is ours already."""
    for mark in ("@", "."):
        id, found, piece = name.rpartition(mark)
        if found and (mark == "@" or piece in ("inner", "outer", "balls", "seals")):
            return f"{allowed(id)}{mark}{piece}"
    return allowed(name)


def _other_offsets(expected: Data, check: StepCheck) -> Iterator[str]:
    offsets = {centring.part.split("@")[0]: centring.offset_mm for centring in check.centring}
    for role in ("pusher", "support"):
        part, wanted = expected.get(role), expected.get(f"{role}_offset_mm")
        if part and wanted is not None and _differs(wanted, offsets.get(allowed(part)), OFFSET_WITHIN_MM):
            yield f"offset of the {role} {part}: {wanted} by hand, {offsets.get(allowed(part))} found"


def _other_travel(expected: Data, check: StepCheck) -> Iterator[str]:
    if check.travel is None:
        if expected.get("travel_needed_mm") is not None:
            yield "travel: none found"
        return
    for name in ("needed_mm", "stops_at_mm", "room_left_mm"):
        wanted = expected.get(name.replace("needed", "travel_needed"))
        found = getattr(check.travel, name)
        if wanted is not None and _differs(wanted, found, TRAVEL_WITHIN_MM):
            yield f"travel, {name}: {wanted} by hand, {found} found"
    stopped_by = {_without_ring(_name(one)) for one in expected.get("stopped_by") or ()}
    if stopped_by and stopped_by != {_without_ring(one.split("#")[0]) for one in check.travel.stopped_by or ()}:
        yield f"stopped by: {sorted(stopped_by)} by hand, {check.travel.stopped_by} found"


def _without_ring(id: str) -> str:
    """Level faces of both rings meet a floor at once: either ring may be named."""
    return id.removesuffix(".inner").removesuffix(".outer")


def _other_rod(expected: Data, check: StepCheck) -> Iterator[str]:
    for theirs, ours in ROD_FIGURES.items():
        wanted = expected.get(theirs)
        found = getattr(check.rod, ours) if check.rod is not None else None
        if wanted is not None and _differs(wanted, found, ROD_WITHIN_MM):
            yield f"rod, {ours}: {wanted} by hand, {found} found"


def _differs(wanted: float, found: float | None, within: float) -> bool:
    return found is None or abs(found - wanted) > within + 1e-9

"""Suggest: what is offered works, uses no more than there is, comes in order; what is missing is true when made."""

from collections import Counter
from itertools import product
from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.check.as_measured import TRIALS_CHECKED
from geometry.check.centring import guides, least_chains
from geometry.check.check import check_step, check_step_at_the_edge
from geometry.job.file import read_job, read_set
from geometry.job.from_readings import job_from_readings
from geometry.job.job import Job
from geometry.parts.forms import Rod
from geometry.planning.candidates import Candidates
from geometry.planning.faces_at_hand import faces_of
from geometry.planning.generate import generated_job
from geometry.planning.guiding import Guides, centred, guided, promising, rod_offset_mm
from geometry.planning.job_cover import cover_job
from geometry.planning.least_sums import clearances, least_sums, nested
from geometry.planning.locating import Locating
from geometry.planning.score import VERDICTS, score_of
from geometry.planning.search import bare_job, search, with_stack
from geometry.planning.sequence import job_with, suggest_job, taken_over
from geometry.planning.situation import situation_of
from geometry.planning.suggest import suggest, suggest_quickly
from geometry.planning.suggested_stacks import some_stacks, suggested_stacks
from geometry.stack.stack import Stack, StackPart

SAMPLES = Path(__file__).parents[3] / "samples"
SET = read_set(SAMPLES / "starter-set.json")
JOBS = (
    "freehub-captive-spacer", "freehub-three-bearings", "front-hub-through-axle", "link-back-to-back",
    "rear-hub-shouldered-axle", "rear-hub-stepped-axle", "library/front-hub-plain-06",
    "library/rear-hub-shouldered-axle-07", "library/suspension-link-03", "library/wide-shell-01",
)  # fmt: skip
MISSED = (("front-hub-plain-01", 3), ("rear-hub-shouldered-axle-01", 3), ("wide-shell-01", 3))


def _job(name: str) -> Job:
    """A sample; as measured, since with the doubt of readings each check takes a second."""
    return replace(read_job(SAMPLES / f"{name}.json"), readings=None)


def _without_stacks(job: Job) -> Job:
    return replace(job, steps=tuple(replace(step, stack=Stack()) for step in job.steps), parts=())


@pytest.mark.parametrize("name", JOBS)
def test_what_is_offered_is_accepted_by_the_check_and_uses_no_more_than_there_is(name):
    job = _without_stacks(_job(name))
    stock = {part.id: part.stock for part in SET.parts}
    for step in range(len(job.steps)):
        found = search(job, step, SET.parts, limit=2).stacks

        keys = [one.score.key for one in found]
        assert keys == sorted(keys)
        for one in found:
            trial = taken_over(job, step, one)
            assert check_step(trial, step).verdict in ("good", "caution")
            used = Counter([part.part for part in one.stack.parts] + [one.stack.rod])
            assert all(stock[id] >= count for id, count in used.items())


@pytest.mark.parametrize(("name", "step"), [("freehub-captive-spacer", 3), ("link-back-to-back", 0)])
def test_with_readings_the_best_are_those_of_the_check_with_their_doubt(name, step):
    """One set-up is the first of many: those set aside as measured would not have come before it."""
    job = _without_stacks(read_job(SAMPLES / f"{name}.json"))

    (best,) = search(job, step, SET.parts, limit=1).stacks
    many = search(job, step, SET.parts, limit=8).stacks

    assert best.score == many[0].score
    for one in (best, *many):
        whole = check_step(taken_over(job, step, one), step)
        assert (one.check.verdict, one.check.findings) == (whole.verdict, whole.findings)
        assert TRIALS_CHECKED in one.check.checked


def test_a_step_of_which_the_readings_cannot_tell_counts_as_neither_done_nor_missed():
    """The seat of this hub was read once, with a caliper."""
    job = read_job(SAMPLES / "mistakes" / "doubtful-fit.json")

    cover = cover_job(job, SET, some_stacks)

    assert (cover.state, cover.is_covered) == ("cannot tell", False)
    assert "bore gauge" in cover.missed_by[0]


@pytest.mark.parametrize(
    ("name", "step"),
    [("front-hub-through-axle", 3), ("library/front-hub-plain-03", 3), ("library/wide-shell-01", 3)],
)
def test_no_guide_holds_a_spacer_better_than_its_bound(name, step):
    """What a search leaves out for its bounds, against the least sums of the check with the guide at its places."""
    bare = bare_job(_job(name), step, SET.parts)
    situation = situation_of(bare, step)
    faces, locating = faces_of(situation, SET.parts), Locating(situation)
    pushers, holders = list(faces.pushers)[:6], list(faces.holders)[:6]
    seen = set()
    for family in faces.families:
        at_hand = Guides(locating, family, SET.parts, SET.parts)
        rod_mm = rod_offset_mm(locating, family)
        for pusher, holder in product(pushers, holders):
            if min(pusher.bore_mm, holder.bore_mm) < family.diameter_mm:
                continue
            spacers = locating.loose_spacers(pusher, (), None)
            air = centred(pusher, holder, family, rod_mm=rod_mm, spacers=spacers)
            options = at_hand.options(air, pusher, (holder,))
            for part, most in promising(at_hand, pusher, holder, air):
                lies = guided(at_hand, part, pusher, holder, air)
                seen.add((lies.loose_spacers, lies.slack_spacers))
                assert any(_is_no_worse(option, lies) for option in options)
                assert _is_no_worse(most, lies)

    assert seen


def _is_no_worse(bound, lies):
    worse = lies.loose_spacers + lies.slack_spacers
    return bound.loose_spacers <= lies.loose_spacers and bound.loose_spacers + bound.slack_spacers <= worse


@pytest.mark.parametrize(("name", "step"), [("library/wide-shell-01", 3), ("rear-hub-stepped-axle", 3)])
def test_a_face_is_as_far_off_the_axis_as_the_chains_of_its_whole_scene_say(name, step):
    situation = situation_of(bare_job(_job(name), step, SET.parts), step)
    faces = faces_of(situation, SET.parts)

    for face in (*faces.pushers, *faces.holders):
        every = guides(situation.scene(face.thing), situation.section)
        chains = least_chains(every, situation.root)
        assert face.offset_mm == (chains[face.thing.group][0] if face.thing.group in chains else None)
        sums = least_sums(situation.root, clearances(nested(every)))
        assert sums == {group: offset for group, (offset, _) in chains.items()}


def test_a_washer_as_wide_as_the_seat_is_drawn_is_not_tried_where_the_seat_was_read_narrower():
    """Drawn, the washer W10 of 30 goes into the left seat of 30; read 0.01 narrower, it would stop the travel."""
    job = job_from_readings(generated_job("rear hub, stepped axle", 9), seed=9, noise_mm=0.01)
    found = search(job, 1, SET.parts, limit=1)

    assert found.stacks and found.refused == ()


def test_a_nut_that_would_meet_the_hub_is_not_taken():
    """Under the push of I15 the slip nut, 28 wide, would not go into the bore; the nut, 18.5 wide, does."""
    job = job_from_readings(generated_job("suspension link", 5), seed=5, noise_mm=0.01)
    found = search(job, 0, SET.parts, limit=3)

    assert found.stacks and found.refused == ()


def test_what_is_in_doubt_at_the_edge_is_never_told_better_than_by_the_whole_check():
    job = read_job(SAMPLES / "mistakes" / "doubtful-fit.json")
    for step in range(len(job.steps)):
        quick, whole = check_step_at_the_edge(job, step), check_step(job, step)
        sure = {(f.code, f.bodies) for f in quick.findings if f.certainty == "certain" and f.severity != "note"}
        assert VERDICTS.index(quick.verdict) >= min(VERDICTS.index(whole.verdict), VERDICTS.index("cannot tell"))
        assert sure <= {(f.code, f.bodies) for f in whole.findings if f.certainty == "certain"}


@pytest.mark.parametrize(
    ("name", "step"),
    [("front-hub-plain-03", 0), ("front-hub-plain-04", 0), ("rear-hub-stepped-axle-05", 1), ("suspension-link-02", 1)],
)
def test_whether_a_set_does_a_step_is_told_alike_by_its_first_and_by_its_best_stack(name, step):
    """In the second and third the first stacks that come are in doubt."""
    job = _without_stacks(read_job(SAMPLES / "library" / f"{name}.json"))

    quick, best = some_stacks(job, step, SET), suggested_stacks(job, step, SET)

    assert [one.verdict for one in quick.stacks[:1]] == [one.verdict for one in best.stacks[:1]] != []
    assert all(bool(one.caution) == (one.verdict == "caution") for one in (*quick.stacks, *best.stacks))


def test_what_is_foreseen_of_a_stack_is_what_the_check_finds():
    for name, step in (("library/front-hub-plain-06", 0), ("library/suspension-link-03", 0)):
        bare = bare_job(_job(name), step, SET.parts)
        situation = situation_of(bare, step)
        first = next(iter(Candidates(situation, SET.parts, faces_of(situation, SET.parts))))
        trial = with_stack(bare, step, first.stack)

        assert first.key == score_of(trial, first.stack, check_step(trial, step)).key


def test_a_part_that_is_owned_once_is_not_used_twice_and_is_told():
    job, ids = _job("library/suspension-link-01"), ("R10-150", "N10", "D28-15", "C29-16")
    parts = tuple(replace(part, stock=1) for part in SET.parts if part.id in ids)
    found = suggest(job, 1, replace(SET, parts=parts))
    plenty = tuple(replace(part, stock=2) if part.id == "N10" else part for part in parts)

    assert found.stacks == ()
    assert suggest(job, 1, replace(SET, parts=plenty)).stacks
    assert "two nuts" in found.near_misses[0].words


def test_fewer_idle_turns_come_first_where_all_else_is_equal():
    job, ids = _job("library/suspension-link-01"), ("R10-150", "D28-15", "C29-16", "N10", "N10-slip")
    parts = tuple(replace(part, stock=2) for part in SET.parts if part.id in ids)
    without_slip = tuple(part for part in parts if part.id != "N10-slip")
    quick, slow = (search(job, 1, some, limit=1).stacks[0] for some in (parts, without_slip))

    assert "N10-slip" in [part.part for part in quick.stack.parts]
    assert quick.score.key[:-1] == slow.score.key[:-1]
    assert quick.score.idle_turns < slow.score.idle_turns


def test_a_rod_that_reaches_over_the_parts_alone_will_do_though_washers_are_at_hand():
    job, ids = _job("library/suspension-link-01"), ("R10-150", "D28-15", "C29-16", "N10", "N10-slip")
    bare = tuple(replace(part, stock=1) for part in SET.parts if part.id in ids)
    needed = search(job, 1, bare, limit=1).stacks[0].check.rod.needed_mm
    rod = next(part for part in bare if part.kind == "rod")
    short = replace(rod, form=replace(rod.form, length_mm=needed + 0.5))
    parts = (*(part for part in bare if part is not rod), short)
    washers = tuple(part for part in SET.parts if part.id in ("W10", "TB10"))
    alone, beside = (search(job, 1, some, limit=1).stacks[0] for some in (parts, parts + washers))

    assert alone.score == beside.score and alone.stack == beside.stack


def test_a_nut_in_a_pot_that_is_turned_round_needs_no_longer_rod():
    """Its open end looks outwards, and the nut lies on its floor."""
    job, ids = generated_job("rear hub, shouldered axle", 4134), ("R12-150", "N12", "C39-32", "HD28-12")
    parts = tuple(part for part in SET.parts if part.id in ids)
    needed = search(job, 1, parts, limit=1).stacks[0].check.rod.needed_mm
    short = tuple(replace(p, form=replace(p.form, length_mm=needed + 1.0)) if p.kind == "rod" else p for p in parts)
    (found,) = search(job, 1, short, limit=1).stacks

    assert [(one.part, one.flipped) for one in found.stack.parts][2] == ("HD28-12", True)


def test_a_washer_goes_where_it_spares_a_tube():
    """One washer: under the turned nut it would want a tube beside it, under the standing nut none."""
    job = generated_job("suspension link", 1019)
    ids = ("R10-200", "N10", "W10", "C31-72", "I15", "T12-20", "N10-slip")
    parts = tuple(replace(part, stock=1) for part in SET.parts if part.id in ids)
    (best,) = search(job, 0, parts, limit=1).stacks

    assert [part.part for part in best.stack.parts] == ["N10-slip", "W10", "C31-72", "I15", "N10"]


def test_a_thrust_bearing_beyond_the_work_is_none_under_the_turned_nut():
    job = generated_job("rear hub, shouldered axle", 1014)
    ids = ("R12-250", "N12", "C29-30", "I17-long", "TB12")
    bare = bare_job(job, 1, tuple(part for part in SET.parts if part.id in ids))
    left = ("N12", "C29-30")
    right = tuple(StackPart(part=id, side="right") for id in ("I17-long", "N12"))
    with_it, without = (
        Stack(parts=(*(StackPart(part=id, side="left") for id in some), *right), rod="R12-250", driving_side="right")
        for some in ((*left, "TB12"), left)
    )
    scores = [
        score_of(trial, stack, check_step(trial, 1))
        for stack in (with_it, without)
        for trial in [with_stack(bare, 1, stack)]
    ]

    assert [score.makeshift for score in scores] == [3, 3]


@pytest.mark.parametrize(("name", "step"), MISSED)
def test_a_near_miss_is_true_a_part_changed_as_it_says_does_the_step(name, step):
    job = _job(f"library/{name}")
    found = suggest(job, step, SET)

    assert found.stacks == () and found.near_misses[0].verified
    for miss in found.near_misses:
        form = replace(miss.part.form, **{miss.dimension: miss.needs_mm})
        made = tuple(replace(part, form=form) if part.id == miss.part.id else part for part in SET.parts)
        stacks = search(job, step, made, limit=1).stacks
        assert stacks and miss.part.id in [part.part for part in stacks[0].stack.parts]
        assert miss.part.id in miss.words and f"{miss.has_mm:g}" in miss.words


def test_reasons_are_told_without_trying_anything():
    quick = suggest_quickly(_job("library/front-hub-plain-01"), 3, SET)

    assert quick.stacks == ()
    assert "a guide of 17.4 to 18.58 that holds spacer (bore 18.6)" in quick.near_misses[0].words
    assert not quick.near_misses[0].verified


def test_without_a_rod_that_is_what_is_told():
    no_rod = replace(SET, parts=tuple(part for part in SET.parts if not isinstance(part.form, Rod)))
    found = suggest(_job("library/suspension-link-03"), 1, no_rod)

    assert [miss.words for miss in found.near_misses] == ["There is no rod in the set."]


def test_a_rod_that_is_too_short_is_told_with_the_length_that_is_needed():
    job = _job("library/suspension-link-03")
    short = tuple(
        replace(part, form=replace(part.form, length_mm=30.0)) if isinstance(part.form, Rod) else part
        for part in SET.parts
        if part.kind != "rod" or part.thread == "M10"
    )
    miss = suggest(job, 1, replace(SET, parts=short)).near_misses[0]
    long_enough = tuple(
        replace(part, form=replace(part.form, length_mm=miss.needs_mm)) if part.id == miss.part.id else part
        for part in short
    )

    assert miss.dimension == "length_mm" and miss.has_mm == 30.0 and miss.needs_mm > 30.0
    assert suggest(job, 1, replace(SET, parts=long_enough)).stacks


def test_a_rod_whose_plain_middle_stops_the_nut_is_told():
    job = _job("library/suspension-link-03")
    plain = tuple(
        replace(part, form=replace(part.form, threaded_mm=12.0)) if isinstance(part.form, Rod) else part
        for part in SET.parts
        if part.kind != "rod" or part.id == "R10-150"
    )
    (miss,) = suggest(job, 1, replace(SET, parts=plain)).near_misses
    form = replace(miss.part.form, length_mm=miss.needs_mm, threaded_mm=miss.needs_mm)
    all_thread = tuple(replace(part, form=form) if part.id == miss.part.id else part for part in plain)

    assert "rod M10 that is threaded all along; R10-150 has 150 with 12 of thread at each end" in miss.words
    assert miss.dimension == "threaded_mm" and miss.verified
    assert suggest(job, 1, replace(SET, parts=all_thread)).stacks


def test_the_dimension_of_a_missing_guide_is_one_that_its_form_has():
    job = generated_job("wide shell", 2000)
    guides = ("G17-flange", "G20-flange", "G15-flange")
    parts = tuple(part for part in SET.parts if part.kind != "guide" or part.id in guides)
    (miss,) = suggest_quickly(job, 3, replace(SET, parts=parts)).near_misses

    assert "a guide of 21.3 to 22.48" in miss.words
    assert miss.has_mm == getattr(miss.part.form, miss.dimension)
    assert f"{miss.part.id} has {miss.has_mm:g}" in miss.words


def test_a_search_that_is_cancelled_ends_at_once_with_what_it_has():
    found = suggest(_job("library/suspension-link-03"), 0, SET, cancelled=lambda: True)

    assert found.stacks == () and found.near_misses == () and found.checked == 0


def test_a_job_without_steps_gets_steps_and_stacks_that_the_check_accepts():
    job = replace(_job("library/suspension-link-03"), steps=(), parts=())
    found = suggest_job(job, SET, limit=1, fates={"B1": "scrap", "B2": "scrap"})

    assert found.job.steps and found.missing == ()
    for step in range(len(found.job.steps)):
        assert check_step(found.job, step).verdict != "not good"


def test_a_job_is_as_good_as_its_worst_step():
    job = _job("library/wide-shell-01")
    some = tuple(suggest_quickly(job, step, SET) for step in (2, 3))

    assert job_with(job, some[:1], steps=(3,)).verdict == "good"
    assert job_with(job, some).verdict == "not good"
    assert job_with(job, some).missing == (4,)


def test_a_certain_caution_does_not_hide_what_the_whole_check_calls_good():
    """Whether a set does a step is asked at the edge of the doubt; what may be better there is followed up."""
    job = read_job(SAMPLES / "library" / "rear-hub-shouldered-axle-08.json")
    ids = {"R12-350", "N12", "C29-30", "C31-50", "C33-24", "C39-18"}
    parts = tuple(part for part in read_set(SAMPLES / "starter-set.json").parts if part.id in ids)
    whether = search(job, 3, parts, limit=1, any_good=True, enough_certain=1).stacks
    listed = search(job, 3, parts, limit=8).stacks

    assert {one.check.verdict for one in listed} == {"good", "caution"}
    assert whether[0].check.verdict == listed[0].check.verdict == "good"

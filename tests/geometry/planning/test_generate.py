"""Generated assemblies: sound bodies at home that do not overlap, complete jobs, the same for a seed."""

import importlib.util
from itertools import combinations
from pathlib import Path

import pytest
from shapely import Polygon
from shapely.ops import unary_union

from geometry.job.file import job_from_bytes, job_to_bytes
from geometry.job.job import Job
from geometry.job.sequence import starts
from geometry.job.shapes import impossible_shapes
from geometry.planning.generate import KINDS, generated_job, generated_library
from geometry.section.bearing import bearing_profiles, measures
from geometry.section.body import profile_of

ROOT = Path(__file__).parents[3]
SEEDS = range(12)
TOUCHING_MM2 = 1e-6


def _areas(job: Job) -> dict[str, Polygon]:
    """Each body and ring at home as an area of the half-plane; holes lie inside their outline."""
    profiles = {body.id: profile_of(body.shape) for body in job.section.bodies}
    for bearing in job.section.bearings:
        rings = bearing_profiles(bearing, bearing.seals)
        profiles |= {f"{bearing.id}.inner": rings.inner, f"{bearing.id}.outer": rings.outer}
    return {id: unary_union([Polygon(ring) for ring in profile.rings]) for id, profile in profiles.items()}


@pytest.mark.parametrize("kind", KINDS)
def test_bodies_are_sound_and_do_not_overlap(kind):
    for seed in SEEDS:
        job = generated_job(kind, seed)
        areas = _areas(job)
        overlaps = [
            (one, other, areas[one].intersection(areas[other]).area) for one, other in combinations(areas, 2)
        ]

        assert impossible_shapes(job, place=kind) == ()
        assert [lap for lap in overlaps if lap[2] > TOUCHING_MM2] == []


@pytest.mark.parametrize("kind", KINDS)
def test_bearings_touch_their_seat_and_shoulder(kind):
    for seed in SEEDS:
        job = generated_job(kind, seed)
        shell = job.section.bodies[0]
        bores = {(one.from_z_mm, one.to_z_mm): one.bore_mm for one in shell.shape.slices}
        for bearing in job.section.bearings:
            m = measures(bearing)
            middle = (m.outer_from_z_mm + m.outer_to_z_mm) / 2
            bore = next(bore for (start, end), bore in bores.items() if start < middle < end)

            assert bore == m.outside_mm
            assert m.bore_mm < min(bores.values()) < m.outside_mm
            assert (bearing.mouth_z_mm > middle) == (bearing.leaves == "right")


@pytest.mark.parametrize("kind", KINDS)
def test_steps_take_every_bearing_out_and_in_again_in_order(kind):
    for seed in SEEDS:
        job = generated_job(kind, seed)
        bearings = {bearing.id for bearing in job.section.bearings}
        moved = {
            operation: sorted(id for step in job.steps if step.operation == operation for id in step.bearings)
            for operation in ("press out", "press in")
        }

        assert moved["press out"] == moved["press in"] == sorted(bearings)
        assert all(set(step.fates) == bearings and not step.stack.parts for step in job.steps)
        assert [start.out_of_order for start in starts(job)] == [()] * len(job.steps)


def test_same_seed_same_job_other_seed_another():
    for kind in KINDS:
        jobs = {job_to_bytes(generated_job(kind, seed)) for seed in SEEDS}

        assert generated_job(kind, 5) == generated_job(kind, 5)
        assert len(jobs) > len(SEEDS) / 2


def test_library_holds_as_many_of_each_kind_as_asked_and_none_twice():
    library = generated_library({"suspension link": 9, "wide shell": 2}, seed=3)
    titles = [job.title for job in library.values()]

    assert len(library) == len(set(titles)) == 11
    assert sum(name.startswith("suspension-link-") for name in library) == 9


def test_generated_job_survives_its_file():
    for kind in KINDS:
        job = generated_job(kind, 0)

        assert job_from_bytes(job_to_bytes(job), "memory") == job


def test_sample_library_is_what_the_script_writes():
    spec = importlib.util.spec_from_file_location("make_library", ROOT / "docs" / "make_library.py")
    script = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(script)
    written = {path.name: path.read_bytes() for path in (ROOT / "samples" / "library").glob("*.json")}

    assert len(written) == 40
    assert written == script.library_files()
    assert max(map(len, written.values())) < 16_000

"""Force and torque before the press: the band of the friction that belongs to rod and nut, by sums done by hand."""

import pytest

from geometry.check.force import force_band, torque_band
from geometry.check.friction import outer_hold
from geometry.check.result import Band
from geometry.facts.friction import friction
from geometry.job.sequence import starts
from geometry.parts.forms import Handle, Nut, Rod
from geometry.parts.part import ToolPart
from geometry.stack.seating import seat
from tests.findings.case import with_part
from tests.findings.hubs import first_in

ACROSS_FACE_MM = (14.6 + 10.8) / 2
"""M10 nut: face of 14.6 outside, countersunk to 10.8 (ISO 4032)."""


def torque(job, force):
    scene = seat(job.section, starts(job)[0].state, job.steps[0].stack, {one.id: one for one in job.parts})
    return torque_band(job, job.steps[0], scene, force)


def by_vdi_2230(force_n, in_thread, under_nut):
    """VDI 2230 for M10 (P 1.5, d2 9.026): F (0.159 P + 0.578 d2 mu + Dm/2 mu') in Nm."""
    return force_n * (0.159 * 1.5 + 0.578 * 9.026 * in_thread + ACROSS_FACE_MM / 2 * under_nut) / 1000


def rod(property_class, material):
    form = Rod(thread="M10", length_mm=140.0, diameter_mm=10.0, property_class=property_class)
    return ToolPart(id="R10", kind="rod", form=form, material=material)


def nut(material):
    form = Nut(thread="M10", length_mm=8.0, across_flats_mm=16.0, bore_mm=10.0)
    return ToolPart(id="N10", kind="nut", form=form, stock=2, material=material)


@pytest.mark.parametrize(
    ("material", "property_class", "nut_of", "in_thread", "under_nut"),
    [
        ("steel", "8.8", "steel", (0.08, 0.12, 0.16), (0.08, 0.12, 0.16)),  # class B of VDI 2230, greased
        ("stainless steel", "A2-70", "steel", (0.20, 0.25, 0.35), (0.08, 0.12, 0.16)),  # class D in the thread
        ("stainless steel", "A2-70", "stainless steel", (0.20, 0.25, 0.35), (0.20, 0.25, 0.35)),
        ("steel", "A4-80", "steel", (0.20, 0.25, 0.35), (0.08, 0.12, 0.16)),  # its mark says so
    ],
)
def test_torque_by_the_friction_class_of_rod_and_nut(material, property_class, nut_of, in_thread, under_nut):
    job = with_part(with_part(first_in(), rod(property_class, material)), nut(nut_of))
    found = torque(job, Band(500.0, 1000.0, 2000.0))

    expected = [by_vdi_2230(f, g, k) for f, g, k in zip((500, 1000, 2000), in_thread, under_nut, strict=True)]
    assert [found.low, found.expected, found.high] == pytest.approx(expected, rel=0.01)


def test_stainless_friction_cites_where_it_is_from():
    found = friction("thread stainless oiled")

    assert "vdi-2230" in found.source
    assert found.certainty in ("unnamed page", "published")


def test_a_handle_rubs_on_its_hub_not_on_its_swing():
    form = Handle(thread="M10", length_mm=30.0, swing_mm=120.0, hub_mm=22.0, bore_mm=10.0, hub_length_mm=12.0)
    job = with_part(first_in(), ToolPart(id="N10", kind="handle", form=form, stock=2, material="steel"))
    found = torque(job, Band(1000.0, 1000.0, 1000.0))

    # VDI 2230 with a face of 22 to 10: 1000 x (0.2385 + 0.6260 + 8 x 0.12) mm
    assert found.expected == pytest.approx(1000 * (0.2385 + 0.6260 + 0.96) / 1000, rel=0.005)


def test_only_what_the_fits_hold_has_their_band():
    """As much force again that is no friction, such as squeezed balls, shifts the band and widens it by nothing."""
    job = first_in()
    mu = friction("press in").expected
    held_n = mu * outer_hold(job.section, job.section.bearing("BL")).at(0.0)
    plain, squeezed = force_band(job, job.steps[0], held_n), force_band(job, job.steps[0], 2 * held_n)

    assert squeezed.expected - plain.expected == pytest.approx(held_n)
    assert squeezed.low - plain.low == pytest.approx(held_n)
    assert squeezed.high - plain.high == pytest.approx(held_n)
    assert plain.low < held_n < plain.high

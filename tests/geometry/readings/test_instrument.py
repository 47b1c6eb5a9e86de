"""Instruments: what is corrected, what readings have in common, what repeats are worth."""

from math import hypot, sqrt

import pytest

from geometry.readings.entry import read_entry
from geometry.readings.instrument import Instrument, flats_correction_mm, shared_errors, traits
from geometry.readings.observation import observation
from geometry.readings.readings import Line, Reading, Readings, Term

INSIDE = Instrument(id="inside jaws", kind="inside jaws", tool="caliper")
BORE = Line("seat", "Left seat, bore", (Term("shell.bore1"),), "inside jaws", form="bore")


def test_all_jaws_of_one_caliper_share_its_zero():
    outside = Instrument(id="outside jaws", kind="outside jaws", tool="caliper")
    other = Instrument(id="old caliper", kind="outside jaws")

    def causes(one):
        return {shared.cause for shared in shared_errors(one, read_mm=30.0, form="length")}

    assert causes(INSIDE) & causes(outside) == {"zero of the caliper", "scale of the caliper"}
    assert not causes(outside) & causes(other)


def test_jaws_that_read_low_are_corrected_in_bores_only():
    assert flats_correction_mm(INSIDE, read_mm=9.9875, form="bore") == pytest.approx(0.0125, abs=1e-4)
    assert flats_correction_mm(INSIDE, read_mm=9.9875, form="length") == 0.0


def test_correction_is_added_and_doubted_by_its_own_size():
    corrected = observation(BORE, read_entry("9.99", place=BORE.title), INSIDE)

    doubts = [one for one in corrected.shared if "flats" in one.cause]
    assert corrected.correction_mm == pytest.approx(0.0125, abs=1e-4)
    assert corrected.value_mm == pytest.approx(9.99 + corrected.correction_mm)
    assert doubts[0].sensitivity * doubts[0].uncertainty == pytest.approx(0.0125 / sqrt(3), rel=0.01)


def test_repeats_lower_the_spread_but_not_the_resolution():
    has = traits(INSIDE)

    once = observation(BORE, read_entry("30", place="x"), INSIDE)
    thrice = observation(BORE, read_entry("30.01 30 29.99", place="x"), INSIDE)

    assert once.uncertainty_mm == pytest.approx(hypot(0.01 / sqrt(12), has.repeat_sd_mm))
    pooled = (10 * has.repeat_sd_mm**2 + 2 * 0.01**2) / 12
    assert thrice.uncertainty_mm == pytest.approx(hypot(0.01 / sqrt(12), sqrt(pooled / 3)))


def test_doubt_that_was_typed_stands_for_everything():
    stated = observation(BORE, read_entry("30±0,05", place="x"), INSIDE)

    assert stated.uncertainty_mm == pytest.approx(0.025)  # 95 %: two standard uncertainties
    assert stated.shared == ()


def test_own_instrument_replaces_the_usual_one_of_the_same_id():
    finer = Instrument(id="inside jaws", kind="inside jaws", tool="caliper", permissible_mm=0.01)

    sheet = Readings(lines=(BORE,), readings=(Reading("seat", "30"),), instruments=(finer,))

    assert sheet.instrument_of(sheet.readings[0]) is finer
    assert [one.id for one in sheet.all_instruments()].count("inside jaws") == 1


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ({"readings": (Reading("rim", "30"),)}, "'rim' is not known"),
        ({"readings": (Reading("seat", "30", instrument="ruler"),)}, "'ruler' is not known"),
        ({"lines": (BORE, BORE)}, "used twice"),
    ],
)
def test_readings_refuse_what_does_not_belong_together(given, sentence):
    with pytest.raises(ValueError, match=sentence):
        Readings(**({"lines": (BORE,)} | given))

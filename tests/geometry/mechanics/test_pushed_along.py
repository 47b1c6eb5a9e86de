"""Where rigid bodies get to while one is driven: worked out by hand, as for bodies that neither give nor slide back."""

import pytest

from geometry.mechanics.contacts import Contacts
from geometry.mechanics.network_elements import Balls, Bar, Contact, Fit
from geometry.mechanics.pushed_along import pushed_along

GROUND, DRIVER = 0, 1
HELD = ((0.0, 400.0),)


def places_after(elements, way_mm, count, slips=None):
    contacts = Contacts(elements)
    others = [
        (element, slips[number] if slips else 0.0)
        for number, element in enumerate(elements)
        if not isinstance(element, Contact)
    ]
    rows = contacts.rows(range(len(elements) - len(others)))
    return pushed_along(rows, others, [0.0] * count, {GROUND: 0.0, DRIVER: way_mm})


def test_bodies_in_a_row_are_pushed_by_what_is_left_of_the_way_after_each_gap():
    places, pressing = places_after([Contact(1, 2, 1.0), Contact(2, 3, 2.0), Contact(3, 0, 9.0)], 5.0, 4)

    assert places == pytest.approx([0.0, 5.0, 4.0, 2.0])
    assert [row[:2] for row in pressing] == [(1, 2), (2, 3)]


def test_a_body_behind_the_driver_stays_where_it_is():
    places, pressing = places_after([Contact(2, 1, 0.0)], 5.0, 3)

    assert places == [0.0, 5.0, 0.0]
    assert pressing == []


def test_of_two_ways_to_a_body_the_one_that_pushes_it_further_counts():
    places, _ = places_after([Contact(1, 2, 3.0), Contact(1, 3, 0.0), Contact(3, 2, 1.0)], 5.0, 4)

    assert places == pytest.approx([0.0, 5.0, 4.0, 5.0])


def test_a_fit_takes_its_seat_along_while_nothing_holds_it():
    places, _ = places_after([Contact(1, 2, 0.0), Fit(2, 3, HELD)], 5.0, 4)

    assert places == pytest.approx([0.0, 5.0, 5.0, 5.0])


def test_a_fit_slides_where_its_seat_is_held_and_hands_on_force_alone():
    places, pressing = places_after([Contact(1, 2, 0.0), Fit(2, 3, HELD), Contact(3, 0, 0.0)], 5.0, 4)

    assert places == pytest.approx([0.0, 5.0, 5.0, 0.0])
    assert [row[:2] for row in pressing] == [(1, 2), (3, 0)]


def test_a_fit_that_carries_its_limit_goes_on_sliding():
    limit_n, stiffness = 400.0, 1e6
    slips = [0.0, -limit_n / stiffness]

    places, _ = places_after([Contact(1, 2, 0.0), Fit(2, 3, HELD, stiffness)], 5.0, 4, slips)

    assert places == pytest.approx([0.0, 5.0, 5.0, 0.0])


def test_balls_close_by_their_play_and_by_what_the_fit_behind_them_takes():
    balls = Balls(2, 3, 0.05, 1e6, 2.0)

    places, _ = places_after([Contact(1, 2, 0.0), balls, Fit(3, 0, HELD)], 1.0, 4)

    closing_mm = (400.0 / 1e6) ** 0.5  # F = K x²
    assert places == pytest.approx([0.0, 1.0, 1.0, 1.0 - 0.05 - closing_mm])


def test_to_the_left_it_is_the_mirror_image():
    places, _ = places_after([Contact(2, 1, 1.0), Bar(3, 2, 1e5), Contact(0, 3, 9.0)], -5.0, 4)

    assert places == pytest.approx([0.0, -5.0, -4.0, -4.0])

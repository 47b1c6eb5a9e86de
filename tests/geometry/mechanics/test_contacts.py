"""The contacts of a network asked all at once, against each asked by itself."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.mechanics.contacts import Contacts
from geometry.mechanics.network_elements import Balls, Bar, Contact, Fit

NODES = 4
places = st.lists(st.sampled_from([0.0, 0.01, 0.5, -0.3, 2.0]), min_size=NODES, max_size=NODES)


@st.composite
def mixed_elements(draw):
    """Contacts with other elements between them."""
    kinds = draw(st.lists(st.sampled_from(["contact", "soft", "fit", "balls", "bar"]), max_size=9))
    found = []
    for kind in kinds:
        i, j = draw(st.permutations(range(NODES)))[:2]
        gap = draw(st.sampled_from([0.0, 0.01, 0.3, 1.7]))
        found.append(
            {
                "contact": Contact(i, j, gap),
                "soft": Contact(i, j, gap, 1e3),
                "fit": Fit(i, j, ((0.0, 100.0),)),
                "balls": Balls(i, j, 0.04, 6e5, 2.0),
                "bar": Bar(i, j, 2e5),
            }[kind]
        )
    return found


@given(elements=mixed_elements(), u=places)
def test_forces_are_those_of_each_contact(elements, u):
    alone = {
        number: one.respond(u[one.i] - u[one.j], 0.0)[0]
        for number, one in enumerate(elements)
        if isinstance(one, Contact)
    }

    contacts = Contacts(elements)
    found = contacts.forces_n(contacts.closed(u), u)

    assert dict(found) == {number: force for number, force in alone.items() if force > 0.0}


@given(elements=mixed_elements(), u=places, closed_mm=st.sampled_from([-0.35, 0.0, 0.15]))
def test_above_are_those_closed_by_more(elements, u, closed_mm):
    contacts = [one for one in elements if isinstance(one, Contact)]

    found = Contacts(elements).above(closed_mm, u)

    expected = [k for k, one in enumerate(contacts) if u[one.i] - u[one.j] - one.gap_mm > closed_mm]
    assert found == expected


def test_what_closes_next():
    elements = [
        Contact(0, 1, 0.0),  # touches already
        Bar(0, 1, 1e5),
        Contact(0, 2, 0.6),
        Contact(0, 3, 0.1),  # goes along with the driver
        Contact(2, 0, 0.1),  # opens
    ]

    assert Contacts(elements).next_closing([0.2, 0.2, 0.0, 0.2], [1.0, 0.5, 0.2, 1.0]) == pytest.approx(0.5)
    assert Contacts(elements).next_closing([0.2, 0.2, 0.0, 0.2], [0.0, 0.0, 0.0, 0.0]) == inf
    assert Contacts([Bar(0, 1, 1e5)]).next_closing([0.0, 0.0], [1.0, 0.0]) == inf

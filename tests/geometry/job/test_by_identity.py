"""Results kept by identity: the same objects are worked out once, equal ones are not taken for the same."""

from geometry.job.by_identity import KEPT, kept_by_identity


def test_the_same_object_is_asked_once():
    asked = []
    kept = kept_by_identity(lambda one: asked.append(one) or len(asked))
    given = ["a"]

    found = [kept(given), kept(given)]

    assert found == [1, 1]
    assert asked == [given]


def test_an_equal_object_is_another_one():
    asked = []
    kept = kept_by_identity(lambda one: asked.append(one) or len(asked))

    found = [kept(["a"]), kept(["a"])]

    assert found == [1, 2]


def test_an_id_that_comes_again_after_many_is_not_mixed_up():
    kept = kept_by_identity(lambda one: one[0])

    found = [kept([number]) for number in range(3 * KEPT)]

    assert found == list(range(3 * KEPT))

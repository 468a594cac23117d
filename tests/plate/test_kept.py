"""What is made once while a plate is worked out."""

import numpy as np

from calcbook.plate.kept import making_once, once


def test_a_thing_is_made_once_for_each_object_and_key_and_forgotten_at_the_end():
    made = []

    def make():
        made.append(1)
        return object()

    one, other = np.zeros(2), np.zeros(2)  # alike, but not the same
    with making_once():
        first = once(one, "a", make)
        with making_once():  # one inside another keeps on
            assert once(one, "a", make) is first
        assert once(one, "a", make) is first
        assert once(one, "b", make) is not first and once(other, "a", make) is not first
    assert len(made) == 3
    assert once(one, "a", make) is not once(one, "a", make)
    assert len(made) == 5


def test_an_object_that_goes_while_things_are_kept_leaves_its_place_to_no_other():
    with making_once():
        found = [once(np.zeros(2), "a", lambda n=n: n) for n in range(100)]
    assert found == list(range(100))

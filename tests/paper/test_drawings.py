"""Whether a drawing must come out as the one before it: the same code over the same values."""

import functools

import numpy as np

from calcbook.basis.units import Q
from calcbook.paper.drawings import alike


def made(width, points):
    return lambda: (width, points)


def made_otherwise(width, points):
    return lambda: (points, width)


def drawn(width, height):
    return width, height


def test_the_same_code_over_the_same_values_draws_the_same():
    assert alike(made(Q(5, "in"), np.ones(3)), made(Q(5, "in"), np.ones(3)))
    assert alike(
        functools.partial(drawn, Q(5, "in"), height=2), functools.partial(drawn, Q(5, "in"), height=2)
    )
    assert alike(drawn, drawn)


def test_other_values_or_other_code_may_draw_something_else():
    one = made(Q(5, "in"), np.ones(3))
    for other in (made(Q(6, "in"), np.ones(3)), made(Q(5, "in"), np.zeros(3)), made(Q(5, "ft"), np.ones(3)),
                  made_otherwise(Q(5, "in"), np.ones(3)), functools.partial(drawn, 1), made(object(), 1)):  # fmt: skip
        assert not alike(one, other) and not alike(other, one)
    assert not alike(made(object(), 1), made(object(), 1)), "what cannot be compared is drawn again"
    assert not alike(*((lambda wide=n: wide) for n in (1, 2)))
    assert not alike(functools.partial(drawn, height=2), functools.partial(drawn, height=3))

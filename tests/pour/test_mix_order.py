"""The order of the mix: whether the concrete can come as warm as it was ordered."""

import pytest

from calcbook.basis.calculation import Calculation
from calcbook.basis.units import Q
from calcbook.pour.mix_order import _as_ordered


@pytest.mark.parametrize(
    ("mixed", "warms", "status"),
    [
        (93, True, "NOT OK"),
        (88, True, "OK"),
        (85, True, "OK"),
        (93, False, "OK"),
        (88, False, "OK"),
        (85, False, "NOT OK"),
    ],
)
def test_concrete_cools_on_the_way_in_the_cold_and_not_in_the_heat(mixed, warms, status):
    """Ordered at 88 °F: in the heat it may be mixed no warmer, in the cold no colder; common practice, no source."""
    made = Calculation("mix", "Mix", "How warm?")
    _as_ordered(made, Q(mixed, "degF"), Q(88, "degF"), warms)
    assert made.checks[0].status == status

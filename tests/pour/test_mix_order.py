"""The order of the mix: whether the concrete can come as warm as it was ordered."""

from types import SimpleNamespace

import pytest

from calcbook.basis.calculation import Calculation
from calcbook.basis.units import Q
from calcbook.pour.mix_order import _as_ordered
from calcbook.pour.plan import sooner_empty


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


@pytest.mark.parametrize(
    ("pump", "waits", "words"),
    [
        (False, 0.0, "More hands, a pump, or smaller loads"),
        (True, 0.0, "More hands or smaller loads"),
        (True, 0.6, "Trucks farther apart, more hands, or smaller loads"),
    ],
)
def test_what_empties_a_truck_sooner_names_nothing_that_is_there(pump, waits, words):
    job, truck = SimpleNamespace(pour=SimpleNamespace(pump=pump)), SimpleNamespace(waits=waits)
    assert sooner_empty(job, truck) == words

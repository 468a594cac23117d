"""Places measured from a side: where they lie, and that they follow the side."""

import pytest

from calcbook.job.file import Job, JobError

SLAB = {"length": "30 ft", "width": "20 ft"}
PAD = {
    "name": "P",
    "length": "24 in",
    "width": "24 in",
    "depth": "10 in",
    "from_side": 2,
    "along": "8 ft",
    "off": "5 ft",
}


def at(entry):
    return entry.x.m_as("foot"), entry.y.m_as("foot")


@pytest.mark.parametrize(
    ("side", "along", "place"),
    [
        (1, "8 ft", (8, 5)),
        (2, "8 ft", (25, 8)),
        (3, "8 ft", (22, 15)),
        (4, "8 ft", (5, 12)),
        (1, "-8 ft", (22, 5)),
    ],
)
def test_a_place_is_measured_along_a_side_and_off_it(side, along, place):
    """A slab of 30 ft by 20 ft, sides counterclockwise from the lower one."""
    job = Job({"slab": SLAB, "pads": [PAD | {"from_side": side, "along": along}]})
    assert at(job.pads[0]) == pytest.approx(place)
    assert job.plan.thickenings[0].bottom.centroid.coords[0] == pytest.approx(place)


def test_off_is_into_the_slab_for_an_outline_drawn_clockwise_too():
    points = [["0 ft", "0 ft"], ["0 ft", "20 ft"], ["30 ft", "20 ft"], ["30 ft", "0 ft"]]
    job = Job({"slab": {"points": points}, "pads": [PAD | {"from_side": 1}]})
    assert at(job.pads[0]) == pytest.approx((5, 8))


def test_of_an_opening_the_middle_is_measured():
    box = {
        "name": "pit",
        "length": "3 ft",
        "width": "2 ft",
        "from_side": 1,
        "along": "8 ft",
        "off": "5 ft",
    }
    drain = {"name": "drain", "diameter": "12 in", "from_side": 1, "along": "20 ft", "off": "5 ft"}
    job = Job({"slab": SLAB, "openings": [box, drain]})
    assert at(job.openings[0]) == pytest.approx((6.5, 4))
    assert [o.shape.centroid.coords[0] for o in job.plan.openings] == [
        pytest.approx((8, 5)),
        pytest.approx((20, 5)),
    ]


def test_a_place_follows_its_side():
    job = Job({"slab": SLAB, "pads": [PAD]}).changed({"slab.length": "36 ft"})
    assert at(job.pads[0]) == pytest.approx((31, 8))
    assert at(job.changed({"pads.0.along": "9 ft"}).pads[0]) == pytest.approx((31, 9))


def test_on_a_further_slab_it_is_measured_from_that_slabs_side():
    slab = {
        "name": "porch",
        "length": "8 ft",
        "width": "6 ft",
        "x": "30 ft",
        "pads": [PAD | {"along": "3 ft", "off": "2 ft"}],
    }
    job = Job({"slab": SLAB, "slabs": [slab]})
    assert at(job.others[0].pads[0]) == pytest.approx((36, 3))


def test_what_is_measured_is_not_told_as_a_default():
    job = Job({"slab": SLAB, "pads": [PAD]})
    assert job.field("pads.0.x").assumed == ""
    assert job.field("pads.0.x").text == "25 ft"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"x": "3 ft"}, "number 1 x: from_side says where it is"),
        ({"off": None}, "from_side, along and off go together"),
        ({"from_side": 6}, "side 6 is not there; the outline has 4 sides"),
        ({"from_side": None}, "x is missing"),
    ],
)
def test_what_does_not_fit_is_refused_in_one_sentence(change, words):
    pad = {key: value for key, value in (PAD | change).items() if value is not None}
    with pytest.raises(JobError, match=words):
        Job({"slab": SLAB, "pads": [pad]})

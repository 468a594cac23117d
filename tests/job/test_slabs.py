"""Several slabs in one job: each is seen as a job of its own, none overlaps, those that touch have a joint."""

import pytest
from several import APRON, GARAGE, PORCH, job_of

from calcbook.job.file import Job, JobError
from calcbook.job.seen import same


def test_a_further_slab_is_a_job_of_its_own_sections_and_of_the_jobs_for_the_rest():
    apron, porch = job_of(
        APRON, PORCH | {"base": {"thickness": "6 in"}}, base={"material": "gravel"}
    ).others
    assert (apron.edge.depth.m, porch.edge.depth.m) == (0, 8)
    assert (apron.base.thickness.m, porch.base.thickness.m) == (4, 6)
    assert porch.base.material == "gravel"
    assert apron.plan.bounds == (4, -4, 20, 0)
    assert apron.slope.side == 1
    assert not porch.pads


def test_a_field_of_a_further_slab_is_named_where_it_stands():
    (porch,) = job_of(PORCH | {"base": {"thickness": "6 in"}}).others
    places = {
        p: porch.field(p).place
        for p in ("slab.thickness", "edge.depth", "base.thickness", "base.swell")
    }
    assert places == {
        "slab.thickness": "slabs.0.thickness", "edge.depth": "slabs.0.edge.depth",
        "base.thickness": "slabs.0.base.thickness", "base.swell": "base.swell",
    }  # fmt: skip


def test_every_default_of_a_further_slab_is_an_assumption():
    places = {entry.place for entry in job_of(PORCH).assumptions()}
    assert {"slabs.0.thickness", "slabs.0.edge.depth", "base.thickness"} <= places


def test_a_slab_without_its_vehicle_has_none():
    job = job_of(APRON, PORCH, vehicle={"axle": "3600 lbf"})
    assert [one.vehicle.axle is None for one in (job, *job.others)] == [False, False, True]


def test_lines_of_joints_stay_on_the_slab_they_are_given_for():
    job = job_of(PORCH, joints={"spacing": "10 ft", "lines": [{"x": "12 ft"}]})
    assert (len(job.joints.lines), len(job.others[0].joints.lines)) == (1, 0)
    assert job.others[0].joints.spacing.m_as("foot") == 10


@pytest.mark.parametrize(
    ("change", "together"),
    [
        ({}, True),
        ({"concrete": {"waste": "10 %"}}, True),
        ({"concrete": {"air": "6 %"}}, False),
        ({"pour": {"date": "2026-11-02"}}, False),
        ({"reinforcement": {"kind": "mesh"}}, True),
        ({"reinforcement": {"kind": "macro fiber"}}, False),
    ],
)
def test_slabs_of_the_same_day_and_concrete_come_from_one_order(change, together):
    job = job_of(APRON | change, pour={"date": "2026-11-01"})
    assert bool(job.others[0].follows) == together
    assert job.poured_area.m == pytest.approx(720 + 64 * together)


def test_weather_of_another_day_is_not_taken_for_the_day_of_a_slab():
    rows = [
        {
            "time": f"2026-11-01 {h:02d}:00",
            "air": "50 F",
            "humidity": "60 %",
            "wind": "5 mph",
            "sky": "50 %",
        }
        for h in range(24)
    ]
    job = job_of(
        APRON | {"pour": {"date": "2026-11-20"}}, pour={"date": "2026-11-01", "forecast": rows}
    )
    assert job.pour.weather() is not None
    assert job.others[0].pour.weather() is None


# --- how they lie -------------------------------------------------------------------------------


def test_slabs_that_overlap_are_refused_with_names_and_points():
    with pytest.raises(JobError, match="'apron' overlaps 'garage'") as caught:
        job_of(APRON | {"y": "-3 ft"})
    assert all(point in str(caught.value) for point in ('(4\'-0", 0")', "(20'-0\", 1'-0\")"))


def test_two_further_slabs_that_overlap_are_refused():
    with pytest.raises(JobError, match="'b' overlaps 'a'"):
        job_of(APRON | {"name": "a"}, APRON | {"name": "b", "x": "10 ft"})


@pytest.mark.parametrize("name", ["garage", "Apron"])
def test_two_slabs_of_one_name_are_refused(name):
    with pytest.raises(JobError, match="name it otherwise"):
        job_of(APRON, PORCH | {"name": name})


def test_a_joint_is_where_two_slabs_touch_and_its_length_is_exact():
    job = job_of(APRON, PORCH)
    assert {c.other: round(c.length, 4) for c in job.contacts} == {"apron": 16, "porch": 6}
    assert [c.first for c in job.contacts] == [True, True]
    assert [(c.other, c.first) for c in job.others[0].contacts] == [("garage", False)]


def test_the_slab_that_is_poured_first_has_the_form():
    job = job_of(APRON | {"pour": {"date": "2026-10-30"}}, pour={"date": "2026-11-01"})
    assert not job.contacts[0].first
    assert job.others[0].contacts[0].first


def test_slabs_that_meet_at_a_corner_do_not_touch():
    assert job_of(APRON | {"x": "-16 ft"}).contacts == ()


@pytest.mark.parametrize(
    ("joint", "words"),
    [
        ({"slab": "garage", "beside": "porch"}, "no slab is named 'porch'"),
        ({"slab": "garage", "beside": "garage"}, "named twice"),
        ({"slab": "apron", "beside": "walk"}, "'apron' and 'walk' do not touch"),
    ],
)
def test_a_joint_that_cannot_be_is_refused_in_one_sentence(joint, words):
    with pytest.raises(JobError, match=words) as caught:
        walk = APRON | {"name": "walk", "x": "4 ft", "y": "30 ft"}
        job_of(APRON, walk, between=[joint])
    assert len(caught.value.problems) == 1
    assert len(str(caught.value)) < 300


def test_what_is_wrong_in_a_further_slab_is_told_with_its_place(tmp_path):
    path = tmp_path / "two.toml"
    path.write_text(
        '[slab]\nlength = "30 ft"\nwidth = "24 ft"\n\n[[slabs]]\nname = "porch"\nlength = "8 ft"\nwidth = "6 ft"\n'
        'x = "30 ft"\n\n[[slabs.edges]]\nside = 9\n', encoding="utf-8"
    )  # fmt: skip
    with pytest.raises(
        JobError, match=r"two.toml, line 12: \[\[slabs\]\] number 1 edges number 1 side.*4 sides"
    ):
        Job.read(path)


def test_a_job_of_one_slab_knows_nothing_of_others():
    job = Job(GARAGE)
    assert (job.others, job.contacts, job.poured_with, job.follows) == ((), (), (), "")
    assert job.poured_area == job.plan.area


@pytest.mark.parametrize(
    "change",
    [
        {"prices.wage": "$55 / h"},
        {"slabs.1.base.thickness": "7 in"},
        {"slabs.0.thickness": "6 in"},
        {"base.material": "sand"},
        {"pour.date": "2026-11-02"},
        {"job.units": "si"},
        {"slabs": [PORCH | {"name": "another"}, APRON]},
    ],
)
def test_slabs_of_a_changed_job_are_as_those_of_one_read_anew(change):
    """What is written as before is not checked a second time; the outcome is the same."""
    before = job_of(APRON, PORCH | {"base": {"thickness": "6 in"}}, base={"material": "gravel"})
    changed = before.changed(change)
    anew = Job(changed.raw)
    for found, expected in zip(changed.others, anew.others, strict=True):
        assert same(found.file, expected.file)
        given = [getattr(expected.file, n) for n in ("slab", "base", "edge", "pour")]
        for one, section in zip((found.slab, found.base, found.edge, found.pour), given, strict=True):
            assert one.model_fields_set == section.model_fields_set
    assert before.changed({"prices.wage": "$55 / h"}).others[1].base is before.others[1].base


def test_a_changed_field_of_a_further_slab_is_checked():
    job = job_of(PORCH)
    for wrong in ("1 in", True, 4):
        with pytest.raises(JobError, match="number 1 thickness"):
            job.changed({"slabs.0.thickness": wrong})

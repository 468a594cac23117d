"""The page of all fields, its lists, and the walk round the slab."""

import tomllib

import pytest

from calcbook.job.catalog import catalog
from calcbook.job.file import Job
from calcbook.paper import all_fields
from calcbook.paper.all_fields import AllFields, lists_in, rows_of, sections
from calcbook.paper.typed import entered, typed_as
from calcbook.paper.walked import Walk, walk_of

BARE = '[slab]\nlength = "20 ft"\nwidth = "20 ft"\n'
ROUND = "corners"  # walls stand at nearly all corners of the demo, which cannot be cut
LISTS = [name for name in sections() if name in list(lists_in(name)) and name != ROUND]


@pytest.fixture(autouse=True)
def no_pictures(monkeypatch):
    """Drawings of the plan have tests of their own."""
    monkeypatch.setattr(all_fields, "plan_drawing", lambda plan, system: None)
    monkeypatch.setattr(all_fields, "image", lambda drawing, words: f"<p>{words}</p>")


@pytest.fixture
def fields(demo_copy):
    return AllFields(Job.read(demo_copy))


@pytest.fixture
def bare(tmp_path):
    path = tmp_path / "bare.toml"
    path.write_text(BARE, encoding="utf-8")
    return AllFields(Job.read(path))


def test_a_corner_is_added_where_no_wall_stands_and_refused_with_a_reason_where_one_does(
    bare, tmp_path
):
    path = tmp_path / "walled.toml"
    walls = "".join(f'[[walls]]\nname = "{n}"\nside = {n}\n' for n in range(1, 5))
    path.write_text(BARE + walls, encoding="utf-8")
    walled = AllFields(Job.read(path))
    for page in (walled, bare):
        page.pick(ROUND)
        page.add()
    assert "Nothing was added" in walled.message.value and "reaches beyond" in walled.message.value
    assert bare.live.job.corners[0].corner == "A"


def test_no_field_of_the_job_file_is_missing_from_the_page(fields, bare):
    shown, demo = set(), fields
    for section in sections():
        fields = demo if "." in section else bare  # parts of an entry need one
        fields.pick(section)
        if fields.panel is None:
            fields.add()
        shown |= {f"{section}.{place.rpartition('.')[2]}" for place in fields.panel.fields}
        html = fields.panel.result.parts()["rest"]()
        for row in rows_of(section):
            assert f"<td>{row.key}</td>" in html
    assert shown == {row.place for row in catalog()}


@pytest.mark.parametrize("section", LISTS)
def test_an_entry_is_added_saved_and_removed_and_the_rest_of_the_file_stays(fields, demo_copy, section):
    before = demo_copy.read_text(encoding="utf-8")
    fields.pick(section)
    fields.add()
    assert fields.message.value.startswith("Added"), fields.message.value
    fields.panel.save()
    added = demo_copy.read_text(encoding="utf-8")
    kept = set(before.splitlines()) - set(added.splitlines())
    assert not kept, "lines of the file were lost"
    assert Job.read(demo_copy).raw != tomllib.loads(before)
    fields.remove()
    assert fields.message.value.startswith("Removed"), fields.message.value
    fields.live.save()
    after = Job.read(demo_copy).raw
    assert not set(before.splitlines()) - set(demo_copy.read_text(encoding="utf-8").splitlines())
    assert {k: v for k, v in after.items() if v} == {
        k: v for k, v in tomllib.loads(before).items() if v
    }


def places(job):
    slabs = (job, *job.others)
    return [
        (one.name, round(one.x.m_as("ft"), 6), round(one.y.m_as("ft"), 6))
        for slab in slabs
        for one in (*slab.pads, *slab.openings)
    ]


@pytest.mark.parametrize("section", ["pads", "openings"])
def test_a_place_told_from_a_side_and_back_is_the_same_place(fields, section):
    fields.pick(section)
    before, raw = places(fields.live.job), fields.live.job.raw[section]
    for n in range(len(raw)):
        fields.entries[section].value = n
        fields.tell_place_otherwise()
        assert {"from_side", "along", "off"} <= set(fields.live.job.raw[section][n])
        assert not {"x", "y"} & set(fields.live.job.raw[section][n])
        assert places(fields.live.job) == before
        fields.tell_place_otherwise()
    assert places(fields.live.job) == before
    assert [set(entry) for entry in fields.live.job.raw[section]] == [set(entry) for entry in raw]


def test_what_is_measured_from_a_side_is_moved_along_it(fields):
    fields.pick("pads")
    fields.tell_place_otherwise()
    assert fields.place_button.description == "Tell its place by x and y"
    fields.panel.set("pads.0.along", "7 ft")  # side 1 of the demo runs along x from its first corner
    assert places(fields.live.job)[0][1:] == (7.0, 14.0)


def test_a_job_of_one_slab_lists_no_sections_of_a_further_one_until_it_has_one(bare):
    assert not [value for _, value in bare.section.options if value.startswith("slabs.")]
    bare.pick("slabs")
    bare.add()
    assert "slabs.edge" in dict(bare.section.options).values()


def test_every_section_of_a_further_slab_is_reached(fields):
    fields.live.keep(
        "slabs.0.walls", [{"name": "porch wall", "side": 1, "dead": "100 plf"}]
    )  # trusses ask for it
    for section in sections(fields.live.job):
        if not section.startswith("slabs."):
            continue
        fields.pick(section)
        if fields.panel is None:
            fields.add()
        assert fields.panel is not None, fields.message.value
        shown = {place.rpartition(".")[2] for place in fields.panel.fields}
        assert shown == {row.key for row in rows_of(section)}
        assert all(place.startswith("slabs.0.") for place in fields.panel.fields)


def test_the_plan_beside_the_fields_is_that_of_the_slab_they_are_about(fields):
    for section, slab in (("slabs.soil", fields.live.job.others[0]), ("soil", fields.live.job)):
        fields.pick(section)
        assert fields.panel.result.job.plan is slab.plan


def test_the_first_hours_of_a_forecast_are_added_where_the_job_has_a_day_and_where_it_has_none(bare):
    bare.pick("pour.forecast")
    bare.add()
    assert len(bare.live.job.pour.forecast) == 2, bare.message.value
    bare.live.drop()
    bare.live.keep("pour", {"date": "2026-09-03", "start": "6:30"})
    bare.pick("slab")
    bare.pick("pour.forecast")
    bare.add()
    hours = [row["time"] for row in bare.live.job.raw["pour"]["forecast"]]
    assert hours == ["2026-09-03 06:30", "2026-09-03 07:30"]


def test_a_further_slab_shows_what_it_takes_from_the_job_and_keeps_what_is_its_own(fields, demo_copy):
    fields.pick("slabs.soil")
    place = "slabs.0.soil.frost_depth"
    assert fields.panel.fields[place].value == fields.live.job.raw["soil"]["frost_depth"]
    assert fields.live.job.field(place).assumed == "as in the whole job"
    fields.panel.set(place, "20 in")
    fields.panel.save()
    job = Job.read(demo_copy)
    assert job.raw["slabs"][0]["soil"] == {"frost_depth": "20 in"}
    assert job.field(place).assumed == "" and job.others[0].soil.frost_depth.m_as("in") == 20
    assert job.soil.frost_depth.m_as("in") != 20


def test_a_removed_pad_takes_its_changes_along_and_undo_brings_both_back(fields):
    fields.pick("pads")
    fields.entries["pads"].value = 1
    fields.panel.set("pads.1.dead", "5000 lbf")
    names = [pad.name for pad in fields.live.job.pads]
    fields.remove()
    assert [pad.name for pad in fields.live.job.pads] == [names[0], *names[2:]]
    fields.panel.undo()
    assert [pad.name for pad in fields.live.job.pads] == names
    assert fields.live.job.field("pads.1.dead").written == "5000 lbf"
    assert len(fields.entries["pads"].options) == len(names)


def test_what_cannot_be_removed_says_why(fields):
    fields.pick("openings")
    drain = [opening.name for opening in fields.live.job.openings].index("floor drain")
    fields.live.keep("slope", {"fall": "1/8 in/ft", "drain": "floor drain", "radius": "4 ft"})
    fields.entries["openings"].value = drain
    fields.remove()
    assert "Not removed" in fields.message.value and len(fields.live.job.openings) == 2


def test_corner_points_are_typed_without_brackets_or_as_in_the_file_and_a_slip_is_a_sentence(fields):
    fields.pick("slab")
    field = fields.panel.fields["slab.points"]
    assert field.value.startswith("0 ft, 0 ft; 40 ft, 0 ft; 40 ft, 18 ft;")
    for slip in ("[[", "0 ft, 0 ft; 40 ft", "0 ft, 0 ft; 1,200 mm, 0 ft; 3 ft, 3 ft"):
        fields.panel.set("slab.points", slip)
        said = fields.panel.messages["slab.points"].value
        assert "write it like 0 ft, 0 ft; 24 ft, 0 ft; 24 ft, 30 ft; 0 ft, 30 ft" in said
    fields.panel.undo()
    fields.panel.set(
        "slab.points",
        field.value.replace("28 ft, 28 ft", "28 ft, 29 ft").replace("0 ft, 28 ft", "0 ft, 29 ft"),
    )
    assert fields.live.job.plan.bounds[3] == 29
    corners = [["0 ft", "0 ft"], ["1,200 in", "0 ft"], ["40 ft", "28 ft"]]
    job = Job({"slab": {"points": corners, "thickness": "5 in"}})
    written = typed_as(job.field("slab.points"), job)
    assert written == "0 ft, 0 ft; 1200 in, 0 ft; 40 ft, 28 ft"
    assert job.changed({"slab.points": entered(written, job, "slab.points")}).plan.area == job.plan.area


def test_the_walk_of_a_slab_walked_again_gives_the_same_outline(demo_copy):
    job = Job.read(demo_copy)
    walk = Walk(job)
    walk.typed.value = walk_of(job) + " "
    walk.use()
    assert walk.live.job.plan.outline.equals(job.plan.outline)
    assert walk.live.job.raw["slab"]["thickness"] == "5 in"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("right 24 ft, up 30 ft, left 20 ft", "go on with left"),
        ("24", "names no way"),
        ("right 40 ft, up 30 ft, left 40 ft", "side 5 is not there"),
    ],
)
def test_a_walk_that_does_not_close_or_fit_says_what_is_missing(demo_copy, typed, said):
    walk = Walk(Job.read(demo_copy))
    walk.typed.value = typed
    assert said in walk.told.value and walk.use_button.disabled


def test_a_walked_outline_is_saved_with_the_comments_of_the_file(demo_copy):
    path = demo_copy.with_name("bare.toml")
    path.write_text(
        '[slab]\n# by the drawing\nlength = "20 ft"\nwidth = "20 ft"\nthickness = "5 in" # thick\n'
    )
    walk = Walk(Job.read(path))
    walk.typed.value = "right 24 ft, up 30 ft, left 24 ft"
    walk.use()
    walk.live.save()
    text = path.read_text(encoding="utf-8")
    assert "# by the drawing" in text and "# thick" in text and "length" not in text
    assert Job.read(path).plan.bounds == (0, 0, 24, 30)

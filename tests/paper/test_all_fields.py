"""The page of all fields, its lists, and the walk round the slab."""

import tomllib

import pytest

from calcbook.job.catalog import catalog
from calcbook.job.file import Job
from calcbook.paper.all_fields import AllFields, lists_in, rows_of, sections
from calcbook.paper.walked import Walk, walk_of

BARE = '[slab]\nlength = "20 ft"\nwidth = "20 ft"\n'
ROUND = "corners"  # walls stand at nearly all corners of the demo, which cannot be cut
LISTS = [name for name in sections() if name in list(lists_in(name)) and name != ROUND]


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


def test_corner_points_are_typed_as_in_the_file_and_a_slip_is_a_sentence(fields):
    fields.pick("slab")
    fields.panel.set("slab.points", "[[")
    assert "write it like" in fields.panel.messages["slab.points"].value
    fields.panel.undo()
    typed = fields.panel.fields["slab.points"].value.replace("'28 ft', '28 ft'", "'28 ft', '29 ft'")
    typed = typed.replace("'0 ft', '28 ft'", "'0 ft', '29 ft'")
    fields.panel.set("slab.points", typed)
    assert fields.live.job.plan.bounds[3] == 29


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

"""Departures that an engineer named: bolts by the load path, and bolts where they truly stand."""

from bolt_jobs import check, frames, one_wall
from matplotlib.text import Text

WALL = {
    "side": 1,
    "end": "30 ft",
    "height": "9 ft",
    "dead": "100 plf",
    "uplift": "150 plf",
    "shear": "60 plf",
    "shear_out": "40 plf",
}


def _door(width):
    return {"openings": [{"start": "6 ft", "width": width}]}


def test_a_wider_door_raises_the_bolts_at_its_jambs(demo):
    nine, sixteen = (
        check(one_wall(demo, WALL | _door(w)), "Uplift on the governing bolt")
        for w in ("9 ft", "16 ft")
    )
    assert sixteen.ratio > nine.ratio and "comes by a jamb or post" in sixteen.remark


def test_what_a_bolt_holds_is_its_own_plate_and_what_comes_by_the_jamb(demo):
    """Both parts come from the combination that lifts more: together they are no less than the uplift of its row."""
    calc = one_wall(demo, WALL | _door("16 ft"))
    rows, own = frames(calc)["Bolt by bolt, service level"], calc.results
    assert own["bolts"] == len(rows)
    for _, row in rows.iterrows():
        up, by = (
            float(row[name].removesuffix(" lbf").replace(",", ""))
            for name in ("Uplift", "By jamb or post")
        )
        assert by <= up
    figure = next(f for f in calc.figures if f.title.startswith("Where the load goes"))
    words = [text.get_text() for text in figure.draw().findobj(Text)]
    most = max(rows["Uplift"], key=lambda cell: float(cell.removesuffix(" lbf").replace(",", "")))
    assert any(word.endswith(f": {most}") for word in words)  # the bolt that the drawing names


def test_3000_plf_on_one_wall_fail_its_bolts(demo):
    found = check(
        one_wall(demo, WALL | {"uplift": "3000 plf"} | _door("9 ft")), "Uplift on the governing bolt"
    )
    assert found.status == "NEEDS ENGINEER"


def test_an_inset_plate_has_only_the_slab_below_it(demo):
    """26 in. in from the face, beyond the edge and its slope: 5 in. of slab for 7.10 in. of bolt and its cover."""
    inset = WALL | {"inset": "23.25 in", "edge_distance": "26 in"}
    found = check(one_wall(demo, inset), "Depth of the concrete")
    assert found.status == "NOT OK" and found.capacity == "5 in." and "the slab alone" in found.remark


def test_every_bolt_has_a_row_and_the_sums_close(demo):
    calc = one_wall(demo, WALL | _door("9 ft"))
    rows = frames(calc)["Bolt by bolt, service level"]
    assert len(rows) == calc.results["bolts"]
    sums = frames(calc)["What comes to each plate and what takes it, the combinations that lift most"]
    assert set(sums["Remainder"]) == {"0 lbf"}
    assert check(calc, "reaches no bolt").status == "OK"


def test_a_jamb_without_plate_is_asked_about(demo):
    calc = one_wall(demo, WALL | {"openings": [{"start": "0 ft", "width": "9 ft"}]})
    assert check(calc, "where no bolted plate is").status == "NEEDS ENGINEER"

"""Bolts that stand close share their concrete: rows found, and what they hold, by own arithmetic."""

import re
from math import pi, sqrt

import pytest
from bolt_jobs import bolted, check, notes, one_wall, read, steps

from calcbook.basis.calculation import Calculation
from calcbook.basis.units import Q
from calcbook.bolts.bolted import place_of_row, place_of_rows
from calcbook.bolts.groups import _held, _uses
from calcbook.bolts.layout import lay_out
from calcbook.book.chapters import run
from calcbook.plan.tape import Rules


@pytest.mark.parametrize(
    ("uplift", "method", "status"),
    [
        ("1200 plf", "cast", "OK"),
        ("2600 plf", "cast", "NEEDS ENGINEER"),
        ("1800 plf", "drilled", "NEEDS ENGINEER"),
    ],
)
def test_close_bolts_share_their_concrete(demo, uplift, method, status):
    """Bolts nearer than 3 h_ef are checked as a row, as each alone would count the same concrete twice."""
    wall = {
        "name": "lone",
        "side": 2,
        "uplift": uplift,
        "shear": "0 plf",
        "stud_spacing": "24 in",
        "method": method,
    }
    raw = {
        **demo.raw, "walls": [wall], "concrete": {**demo.raw["concrete"], "strength": "2500 psi"},
        "bolts": {**demo.raw["bolts"], "kind": "headed", "size": "3/4", "hole": "7/8 in"},
    }  # fmt: skip
    calc = run("bolts", type(demo)(raw))
    found = [c.status for c in calc.checks if "Close bolts as a group" in c.title]
    assert found == [status]


def test_rows_are_neighbours_nearer_than_the_reach():
    """At 20, 36, 100, 110 and 200 in., with a reach of 21 in.: the first two, and the third and fourth."""
    w = bolted(320, 576, 1600, 1760, 3200)
    assert [(r.start, r.end, r.count) for r in w.rows(Q(21, "in"))] == [(0, 2, 2), (2, 4, 2)]
    assert w.rows(Q(10, "in")) == []
    assert [(r.start, r.end) for r in w.rows(Q(10.1, "in"))] == [(2, 4)]
    assert [r.count for r in w.rows(Q(500, "in"))] == [5]
    assert bolted().rows(Q(21, "in")) == []


def test_rows_reach_across_joints_of_the_plate():
    w = bolted(1800, 2000, pieces=((0, 1900), (1900, 3840)))
    assert [(r.start, r.end) for r in w.rows(Q(21, "in"))] == [(0, 2)]


def test_shares_are_lengths_of_wall():
    """Own arithmetic: bolts 20, 36 and 100 in. along a 240 in. wall hold 28, 40 and 172 in.; in two pieces each its own."""
    w = bolted(320, 576, 1600)
    assert [s / 16 for s in w.shares] == [28, 40, 172]
    assert w.share.m_as("inch") == 172
    assert sum(w.shares) == 3840
    two = bolted(320, 576, 2000, pieces=((0, 1600), (1600, 3840)))
    assert [s / 16 for s in two.shares] == [28, 72, 140]
    assert bolted().share.m_as("inch") == 0


def test_a_row_s_place_and_load():
    """The wall starts 12 in. from its corner on a side of 360 in.: 32 in. to the first bolt, 232 in. beyond the last."""
    w = bolted(320, 576, 1856, uplift="100 plf")
    row = w.rows(Q(21, "in"))[0]
    assert row.span == pytest.approx((32, 16, 360 - 48))
    assert row.share.m_as("inch") == pytest.approx(28 + 48)


def test_one_row_and_arrays_of_rows_stand_in_the_same_place(demo):
    """A law, no number of its own: what is worked out for many at once is that of each alone."""
    w = bolted(320, 576, 1600, 1760)
    rows = w.rows(Q(21, "in"))
    many = place_of_rows(demo, rows)
    for k, row in enumerate(rows):
        one = place_of_row(demo, row)
        for name in ("c_1", "c_2", "c_3", "c_4", "s_2"):
            value = getattr(many, name)
            value = value[k] if getattr(value.magnitude, "shape", ()) else value
            assert value.m_as("inch") == pytest.approx(getattr(one, name).m_as("inch")), name
        assert many.n[k] == one.n == 2
        assert many.h_a == one.h_a


CLOSE = {"side": 1, "end": "30 ft", "stud_spacing": "24 in"}


def row(calc):
    """(count, demand, capacity, words) of the check of close bolts, in lbf."""
    found = check(calc, "Close bolts as a group")
    demand, held = (
        float(t.removesuffix(" lbf").replace(",", "")) for t in (found.demand, found.capacity)
    )
    return int(found.remark.split()[0]), demand, held, found.remark


def place(calc, name):
    return steps(calc, name)[-1].bound


def test_a_row_in_breakout_by_own_arithmetic(demo):
    """ACI 318-19 17.6.2: area of the row over that of one, edge factor, basic strength, phi 0.70, 0.6 for wind."""
    calc = one_wall(demo, {**CLOSE, "uplift": "1900 plf"})
    n, demand, held, remark = row(calc)
    assert "by breakout" in remark and n > 2
    shared = next(s.bound for s in steps(calc, "breakout_tension") if s.bound["n"] == n)
    b = {k: v.m_as("inch") for k, v in shared.items() if hasattr(v, "units") and k != "N_b"}
    h, c = b["h_ef"], 1.5 * b["h_ef"]
    area = (2.75 + c) * (min(b["c_3"], c) + b["s_2"] + min(b["c_4"], c))
    edge = 0.7 + 0.3 * 2.75 / c
    N = min(area, n * 9 * h * h) / (9 * h * h) * edge * 24 * sqrt(4000) * h**1.5
    assert held == pytest.approx(0.42 * N, rel=2e-3)
    assert place(calc, "breakout_tension")["n"] == n
    assert demand == pytest.approx(1900 * calc_share(calc), rel=2e-3)


def calc_share(calc):
    """Feet of wall that the row of the note holds, from the tape list by plain arithmetic."""
    start, end = map(int, re.search(r"bolts (\d+) to (\d+) of the wall", notes(calc)).groups())
    frame = next(b.frame for b in calc.blocks if getattr(b, "title", "").startswith("Tape list"))
    places = [read(t) for t in frame["On the tape"]]
    pieces = [(0, 192), (192, 360)]  # 16 ft pieces of a 30 ft wall
    total = 0.0
    for a, b in pieces:
        inside = [p for p in places if a <= p <= b]
        cuts = [a, *((x + y) / 2 for x, y in zip(inside, inside[1:], strict=False)), b]
        for k, p in enumerate(inside):
            if start <= places.index(p) + 1 <= end:
                total += cuts[k + 1] - cuts[k]
    return total / 12


def test_a_drilled_row_in_bond_by_own_arithmetic(demo):
    """ACI 318-19 17.6.5 with 600 psi at the bolt and 2,000 psi in uncracked concrete; phi 0.65."""
    calc = one_wall(
        demo, {**CLOSE, "method": "drilled", "uplift": "900 plf"}, bolts={"bond_cracked": "600 psi"}
    )
    n, _, held, remark = row(calc)
    assert "by bond" in remark
    b = {
        k: v.m_as("inch")
        for k, v in place(calc, "bond_tension").items()
        if hasattr(v, "units") and k != "N_ba"
    }
    reach = 10 * 0.625 * sqrt(2000 / 1100)
    area = (2.75 + reach) * (min(b["c_3"], reach) + b["s_2"] + min(b["c_4"], reach))
    N = min(area / (2 * reach) ** 2, n) * (0.7 + 0.3 * 2.75 / reach) * 600 * pi * 0.625 * 7
    assert held == pytest.approx(0.39 * N, rel=2e-3)


def test_a_headed_row_by_its_side_face(demo):
    """ACI 318-19 17.6.4.2: (1 + s / 6 c_a1) of one head without a corner; bolts nearer than 6 c_a1, 10.5 in.
    Breakout takes such a row first, so the mode is asked for by itself."""
    headed = demo.changed({"bolts.kind": "headed"})
    w = bolted(320, 448, 1600, uplift="100 plf", edge_distance="1.75 in", plate_width="3.5 in")
    found = {mode: (use, row) for use, _, mode, row in _uses(headed, [w], "uplift")}
    assert set(found) == {"breakout", "side face"}
    use, row = found["side face"]
    one = 160 * 1.75 * sqrt(0.454) * sqrt(4000)
    held = 0.42 * (1 + 8 / 10.5) * one
    assert use == pytest.approx(100 * row.share.m_as("foot") / held)
    calc = Calculation("x", "x", "x")
    assert _held(calc.step, headed, w, "side face", "uplift", place_of_row(headed, row)).m_as(
        "lbf"
    ) == pytest.approx(held)
    assert {m for _, _, m, _ in _uses(demo, [w], "uplift")} == {"breakout"}
    apart = bolted(320, 320 + 168, uplift="100 plf", edge_distance="1.75 in", plate_width="3.5 in")
    assert {m for _, _, m, _ in _uses(headed, [apart], "uplift")} == {"breakout"}
    inside = bolted(320, 448, uplift="100 plf", edge_distance="2.8 in")
    assert {m for _, _, m, _ in _uses(headed, [inside], "uplift")} == {"breakout"}


def test_a_row_sheared_across_the_wall(demo):
    """ACI 318-19 17.7.2: one front of 3 c_a1 and the row's extent; bolts nearer than 3 c_a1, 15 in."""
    wall = {
        **CLOSE, "edge_distance": "5 in", "inset": "2.25 in", "shear_out": "800 plf",
    }  # fmt: skip
    calc = one_wall(demo, wall)
    n, _, held, remark = row(calc)
    assert "shear across the wall" in check(calc, "Close bolts as a group").title
    assert "by breakout in shear" in remark and "nearer than 1'-3\"" in notes(calc)
    b = place(calc, "breakout_shear_towards")
    s, c_2, c_3 = (b[k].m_as("inch") for k in ("s_2", "c_2", "c_3"))
    basic = min(7 * 8**0.2 * sqrt(0.625), 9) * sqrt(4000) * 5**1.5
    area = min((min(c_2, 7.5) + s + min(c_3, 7.5)) * 7.5, n * 112.5) / 112.5
    side = min(1, 0.7 + 0.3 * min(c_2, c_3) / 7.5)
    assert held == pytest.approx(0.42 * area * side * basic, rel=2e-3)


def test_shear_along_counts_only_where_the_concrete_does(demo):
    """A doubled plate is not exempt (IBC 1905.1.8), so its close bolts are checked along the wall too; nor is a bolt that
    stands nearer than 15 diameters to a joint, as so close ones must."""
    wall = {**CLOSE, "shear": "1500 plf", "edge_distance": "5 in", "inset": "2.25 in"}
    exempt = one_wall(demo, wall, joints={"by_hand": True})
    assert not any("Close bolts as a group" in c.title for c in exempt.checks)
    for other in (one_wall(demo, {**wall, "plies": 2}, joints={"by_hand": True}), one_wall(demo, wall)):
        assert "shear along the wall" in check(other, "Close bolts as a group").title


def test_pryout_of_a_drilled_row_takes_the_lesser_of_cone_and_bond(demo):
    """ACI 318-19 17.7.3.1 with a weak bond: 80 psi, so that bond governs the row's pryout."""
    wall = {**CLOSE, "method": "drilled", "shear_out": "300 plf"}
    calc = one_wall(demo, wall, bolts={"bond_cracked": "80 psi"})
    found = check(calc, "Close bolts as a group")
    assert "by pryout" in found.remark
    b = place(calc, "pryout")
    assert b["N_cp"].m_as("lbf") == pytest.approx(steps(calc, "bond_tension")[-1].value.m_as("lbf"))


def test_far_bolts_are_not_a_row(demo):
    calc = one_wall(demo, {"side": 4, "uplift": "50 plf"})
    assert not any("Close bolts as a group" in c.title for c in calc.checks)


def test_no_bolts_no_rows():
    assert lay_out([(0, 100)], [], Rules(1152, 40, 192, 70)).bolts == []

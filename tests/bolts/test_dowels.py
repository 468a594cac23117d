"""The wood side of a sill bolt against the rows of NDS Table 12E, mode by mode, and its laws."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calcbook.basis import by_hand
from calcbook.basis.formula import FormulaError
from calcbook.basis.table import table
from calcbook.basis.units import Q
from calcbook.bolts.dowels import (
    adjusted_lateral_value,
    bolt_lateral_value,
    dowel_bearing_at_angle,
    dowel_bearing_parallel,
    dowel_bearing_perpendicular,
    load_duration,
    single_shear_value,
    square_washer_uplift,
    yield_modes,
)

SPECIFIC_GRAVITY = {"SP": 0.55, "DF-L": 0.50, "HF": 0.43, "SPF": 0.42}
# NDS-2018 Table 12E (quoted from memory; the equations reproduce each row), 6 in. embedment, side
# member 1-1/2 in.: Z parallel, Z perpendicular, lbf, printed to 10 lbf with halves rounded up
TABLE_12E = {
    ("1/2", "SP"): (680, 410), ("1/2", "DF-L"): (650, 380), ("1/2", "HF"): (590, 340), ("1/2", "SPF"): (590, 340),
    ("3/4", "SP"): (1330, 660), ("3/4", "DF-L"): (1270, 590), ("3/4", "HF"): (1200, 460), ("3/4", "SPF"): (1190, 450),
    ("5/8", "SP"): (970, 580), ("5/8", "DF-L"): (930, 530), ("5/8", "HF"): (860, 420), ("5/8", "SPF"): (850, 410),
}  # fmt: skip


@pytest.mark.parametrize(("size", "wood"), TABLE_12E)
def test_rows_of_nds_table_12e(size, wood):
    """NDS-2018 Table 12E from memory, as said at the table above; printed to 10 lbf."""
    for theta, printed in zip((0, 90), TABLE_12E[size, wood], strict=True):
        found = bolt_lateral_value(f"{size} in", G=SPECIFIC_GRAVITY[wood], theta=Q(theta, "deg"))
        assert found.m_as("lbf") == pytest.approx(printed, abs=6)


@pytest.mark.remembered("NDS-2018 from memory", "Table 12E prints 530 for 525.0", "bolt_lateral_value")
def test_the_table_rounds_half_up():
    """NDS-2018 Table 12E prints 530 for 525.0 (DF-L, 5/8 in., perpendicular)."""
    assert bolt_lateral_value("5/8 in", G=0.5, theta=Q(90, "deg")).m_as("lbf") == pytest.approx(
        525.0, abs=0.01
    )


@pytest.mark.form("NDS-2018", "Table 12.3.1A", "yield_modes", "bolt_lateral_value")
def test_all_modes_of_a_five_eighths_bolt_in_douglas_fir():
    """Own arithmetic with NDS-2018 Table 12.3.1A: DF-L, 1-1/2 in. plate, 6 in. embedment, along the grain."""
    modes = yield_modes("5/8 in")
    expected = {"Im": 7031, "Is": 1312.5, "II": 2514, "IIIm": 2866, "IIIs": 928.4, "IV": 1197}
    assert {k: v.m_as("lbf") for k, v in modes.items()} == pytest.approx(expected, rel=3e-4)
    assert modes.governing == "IIIs"
    assert str(modes).startswith("mode IIIs governs: Im 7,031 lbf, Is")


def test_all_modes_at_another_angle_and_shape():
    """Own arithmetic, in plain floats: 3/4 in. bolt, 3 in. plate of G 0.42, 4 in. of concrete, 40 degrees."""
    from math import cos, radians, sin, sqrt

    D, l_s, l_m, F_em, F_yb = 0.75, 3.0, 4.0, 5000.0, 36000.0
    par, perp = 4700.0, 2000.0
    F_es = par * perp / (par * sin(radians(40)) ** 2 + perp * cos(radians(40)) ** 2)
    R_e, R_t, K = F_em / F_es, l_m / l_s, 1 + 40 / 360
    k1 = (sqrt(R_e + 2 * R_e**2 * (1 + R_t + R_t**2) + R_t**2 * R_e**3) - R_e * (1 + R_t)) / (1 + R_e)
    k2 = -1 + sqrt(2 * (1 + R_e) + 2 * F_yb * (1 + 2 * R_e) * D**2 / (3 * F_em * l_m**2))
    k3 = -1 + sqrt(2 * (1 + R_e) / R_e + 2 * F_yb * (2 + R_e) * D**2 / (3 * F_em * l_s**2))
    expected = {
        "Im": D * l_m * F_em / 4 / K, "Is": D * l_s * F_es / 4 / K, "II": k1 * D * l_s * F_es / 3.6 / K,
        "IIIm": k2 * D * l_m * F_em / (1 + 2 * R_e) / 3.2 / K, "IIIs": k3 * D * l_s * F_em / (2 + R_e) / 3.2 / K,
        "IV": D**2 / 3.2 / K * sqrt(2 * F_em * F_yb / 3 / (1 + R_e)),
    }  # fmt: skip
    args = (Q(D, "in"), Q(l_s, "in"), Q(l_m, "in"), 0.42, Q(40, "deg"), Q(F_yb, "psi"), Q(F_em, "psi"))
    modes = yield_modes(*args)
    assert {k: v.m_as("lbf") for k, v in modes.items()} == pytest.approx(expected)
    assert bolt_lateral_value(*args).m_as("lbf") == pytest.approx(min(expected.values()))
    assert modes.governing == min(expected, key=expected.get)


# Own arithmetic with NDS-2018 Table 12.3.1A in plain floats, to 0.1 lbf: along, across; 3 in. is no column of the table
RECOMPUTED = {
    (1.5, "1/2"): {"SP": (683.5, 411.1), "DF-L": (648.0, 381.3), "HF": (594.7, 343.8), "SPF": (587.9, 337.4)},
    (1.5, "5/8"): {"SP": (971.9, 579.6), "DF-L": (928.4, 525.0), "HF": (862.7, 421.9), "SPF": (854.3, 412.5)},
    (1.5, "3/4"): {"SP": (1326.0, 663.8), "DF-L": (1274.4, 585.0), "HF": (1195.9, 461.2), "SPF": (1185.8, 450.0)},
    (3.0, "1/2"): {"SP": (786.6, 536.4), "DF-L": (766.2, 509.9), "HF": (732.1, 453.6), "SPF": (727.4, 440.8)},
    (3.0, "5/8"): {"SP": (1229.1, 735.5), "DF-L": (1197.2, 666.2), "HF": (1143.9, 578.6), "SPF": (1136.5, 570.5)},
    (3.0, "3/4"): {"SP": (1769.8, 910.6), "DF-L": (1706.2, 845.1), "HF": (1542.8, 738.3), "SPF": (1521.9, 728.3)},
}  # fmt: skip


@pytest.mark.parametrize(("plate", "size"), RECOMPUTED)
def test_single_and_double_plates(plate, size):
    """Own arithmetic, as said at the table above."""
    for wood, both in RECOMPUTED[plate, size].items():
        for theta, expected in zip((0, 90), both, strict=True):
            found = bolt_lateral_value(
                f"{size} in", Q(plate, "in"), G=SPECIFIC_GRAVITY[wood], theta=Q(theta, "deg")
            )
            assert found.m_as("lbf") == pytest.approx(expected, abs=0.06), wood


@pytest.mark.published("NDS-1997", "", "bolt_lateral_value", "adjusted_lateral_value")
def test_the_older_edition_gave_400_lbf():
    """Read in a reprint: '400 x 0.9 = 360 pounds' for 1/2 in., southern pine, perpendicular (NDS-1997, F_em 6,000 psi)."""
    Z = bolt_lateral_value("1/2 in", G=0.55, theta=Q(90, "deg"), F_em=Q(6000, "psi"))
    assert Z.m_as("lbf") == pytest.approx(400, abs=5)
    assert adjusted_lateral_value(Q(400, "lbf"), load_duration("permanent")).m_as(
        "lbf"
    ) == pytest.approx(360)


@pytest.mark.form("NDS-2018", "Table 12.3.3", "dowel_bearing_parallel", "dowel_bearing_perpendicular")
def test_dowel_bearing_strengths_of_the_table():
    """NDS-2018 Table 12.3.3: the forms were read, the columns rounded to 50 psi are from memory."""
    par = {"SP": 6150, "DF-L": 5600, "HF": 4800, "SPF": 4700}
    perp = {
        "SP": (3650, 3250, 2950), "DF-L": (3150, 2800, 2600), "HF": (2550, 2250, 2050), "SPF": (2450, 2200, 2000)
    }  # fmt: skip
    for wood, G in SPECIFIC_GRAVITY.items():
        assert dowel_bearing_parallel(G).m_as("psi") == par[wood]
        found = [dowel_bearing_perpendicular(G, d).m_as("psi") for d in ("1/2 in", "5/8 in", "3/4 in")]
        assert found == list(perp[wood])


@pytest.mark.form("NDS-2018", "Eq. 12.3-11", "dowel_bearing_at_angle")
def test_hankinson_between_the_two():
    par, perp = Q(5600, "psi"), Q(2800, "psi")
    assert dowel_bearing_at_angle(par, perp, Q(0, "deg")).m_as("psi") == pytest.approx(5600)
    assert dowel_bearing_at_angle(par, perp, Q(90, "deg")).m_as("psi") == pytest.approx(2800)
    assert dowel_bearing_at_angle(par, perp, Q(45, "deg")).m_as("psi") == pytest.approx(
        2 * 5600 * 2800 / 8400
    )
    assert dowel_bearing_at_angle(par, perp, Q(30, "deg")).m_as("psi") == pytest.approx(
        5600 * 2800 / (1400 + 2100)
    )


@pytest.mark.remembered("NDS-2018 from memory", "2.3.2", "adjusted_lateral_value", "load_duration")
@pytest.mark.parametrize(
    ("Z", "expected"),
    [pytest.param(650, 1040, id="DF-L 1/2 in."), pytest.param(930, 1488, id="5/8 in."), pytest.param(860, 1376, id="HF 5/8 in.")],
)  # fmt: skip
def test_wind_raises_the_value(Z, expected):
    """NDS-2018 2.3.2 (from memory): 1.6 for wind and earthquake."""
    assert adjusted_lateral_value(Q(Z, "lbf"), load_duration("wind")).m_as("lbf") == pytest.approx(
        expected
    )
    assert load_duration("earthquake") == 1.6
    assert adjusted_lateral_value(Q(Z, "lbf"), 1.6, 0.7).m_as("lbf") == pytest.approx(0.7 * expected)


@pytest.mark.remembered("NDS-2018 from memory", "Table 2.3.2", "load_duration")
def test_load_durations():
    """NDS-2018 Table 2.3.2 (from memory)."""
    expected = {
        "permanent": 0.9,
        "ten years": 1.0,
        "snow": 1.15,
        "construction": 1.25,
        "wind": 1.6,
        "earthquake": 1.6,
    }
    assert {row["load"]: row["C_D"] for row in table("load_duration")} == expected
    with pytest.raises(FormulaError, match=r"1\.6"):
        adjusted_lateral_value(Q(1, "lbf"), 2.0)


@pytest.mark.form("xc awc_nds", "getFc_perpAdj: 0.67 where wet", "square_washer_uplift")
def test_washer_on_the_plate():
    """Own arithmetic: 565 psi on a 3 in. square less a 9/16 in. hole; 0.67 in wet service as in xc."""
    T = square_washer_uplift(Q(565, "psi"), Q(3, "in"), Q(0.5625, "in"))
    assert T.m_as("lbf") == pytest.approx(565 * (9 - 0.2485049), rel=1e-6)
    assert square_washer_uplift(Q(565, "psi"), Q(3, "in"), Q(0.5625, "in"), 0.67) / T == pytest.approx(
        0.67
    )


def test_species_of_the_table():
    """Specific gravities of NDS-2018 Table 12.3.3A, F_c-perp of the Supplement (both from memory)."""
    assert {r["species"]: (r["G"], r["F_cperp_psi"]) for r in table("lumber")} == {
        "Southern Pine": (0.55, 565), "Douglas Fir-Larch": (0.5, 625), "Hem-Fir": (0.43, 405), "Spruce-Pine-Fir": (0.42, 425),
    }  # fmt: skip


# D, F_em, F_es, F_yb, l_m, l_s of nails, in. and psi; then k_1, k_2, k_3 and the value of each mode, as printed
BREYER = [
    ((0.162, 4650, 4650, 90e3, 2.0, 1.5), (0.49165, 1.0625, 1.1099), (684.82, 513.61, 252.52, 242.54, 190.01, 140.89)),
    ((0.113, 5550, 61850, 100e3, 2.395, 0.105), (0.82699, 0.48694, 6.3049), (682.74, 333.57, 275.86, 281.87, 90.307, 106.95)),
    ((0.148, 3500, 4650, 90e3, 2.5, 0.5), (1.3156, 0.91204, 1.9651), (588.64, 156.41, 205.77, 214.28, 84.042, 108.98)),
]  # fmt: skip
OF_A_NAIL = (
    2.2  # what the NDS divides each mode of a thin nail by; a bolt's by 4, 4, 3.6, 3.2, 3.2, 3.2
)


@pytest.mark.published("Breyer", "Examples 12.3 to 12.5", "single_shear_value")
@pytest.mark.parametrize(("nail", "factors", "modes"), BREYER)
def test_yield_modes_of_the_nails_of_breyer(nail, factors, modes):
    """Breyer's Examples 12.3 to 12.5 as an open library works them, to five digits, but for the divisor."""
    D, F_em, F_es, F_yb, l_m, l_s = nail
    bound = {
        "D": Q(D, "in"), "l_s": Q(l_s, "in"), "l_m": Q(l_m, "in"), "F_es": Q(F_es, "psi"), "F_em": Q(F_em, "psi"),
        "F_yb": Q(F_yb, "psi"), "theta": 0.0,
    }  # fmt: skip
    found = {line.name: line.value for line in single_shear_value.lines(bound)}
    assert [float(found[k]) for k in ("k_1", "k_2", "k_3")] == pytest.approx(factors, rel=1e-4)
    for mode, divisor, value in zip(
        ("Im", "Is", "II", "IIIm", "IIIs", "IV"), (4, 4, 3.6, 3.2, 3.2, 3.2), modes, strict=True
    ):
        of_nail = found[f"Z_{mode}"].m_as("lbf") * divisor / OF_A_NAIL
        assert of_nail == pytest.approx(value, rel=1e-4), mode


@settings(max_examples=40, deadline=None)
@given(st.floats(0.25, 0.95), st.floats(0.35, 0.7), st.floats(0, 80), st.floats(1, 3), st.floats(2, 8))
def test_laws_of_the_lateral_value(d, G, theta, l_s, l_m):
    """Thicker bolts hold more; an angle to the grain never helps; no mode is below the governing one."""
    args = dict(l_s=Q(l_s, "in"), l_m=Q(l_m, "in"), G=G, theta=Q(theta, "deg"))
    Z = bolt_lateral_value(Q(d, "in"), **args)
    assert Z.m_as("lbf") == pytest.approx(
        min(v.m_as("lbf") for v in yield_modes(Q(d, "in"), **args).values())
    )
    assert bolt_lateral_value(Q(d * 1.05, "in"), **args) > 0.99 * Z
    assert bolt_lateral_value(Q(d, "in"), **{**args, "theta": Q(theta + 10, "deg")}) <= Z * (1 + 1e-12)


@pytest.mark.worked("single_shear_value")
def test_the_same_body_runs_on_arrays_and_in_metric():
    bulk = single_shear_value.bulk(
        D=Q([0.5, 0.625], "in"), l_s=Q(1.5, "in"), l_m=Q(6, "in"), F_es=Q(5600, "psi")
    )
    assert bulk == pytest.approx([648.0147, 928.3574])
    metric = single_shear_value("15.875 mm", "38.1 mm", "152.4 mm", Q(5600, "psi").to("MPa"))
    assert metric.m_as("lbf") == pytest.approx(928.3574)


def test_what_cannot_be_is_refused():
    with pytest.raises(FormulaError, match="bolt diameter"):
        bolt_lateral_value("1-1/4 in")
    with pytest.raises(FormulaError, match="specific gravity"):
        bolt_lateral_value("1/2 in", G=0.9)


def test_every_line_is_shown():
    bound = single_shear_value.bind("5/8 in", "1.5 in", "6 in", "5600 psi")
    lines = by_hand.shown_lines(single_shear_value, bound, single_shear_value.lines(bound))
    assert [line.symbol for line in lines][:3] == ["R_e", "R_t", "k_1"]
    assert lines[-1].results == ("928 lbf",)

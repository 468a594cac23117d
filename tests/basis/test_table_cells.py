"""The numbers of the tables: held to the law behind a column where there is one, else to a second copy.

The copy was made from the tables, not a second time from their sources: it proves nothing of a number and only notices
one that moves, so that nothing is changed by mistake. What was read and what is remembered stands in the tables' own
column of sources and in references.md; that the numbers do what their source says, in the tests of their subjects.
"""

import itertools
from fractions import Fraction
from math import pi

import pytest

from calcbook.basis.sources import TABLES
from calcbook.basis.table import table

# table: (columns of numbers, rows: a word of the row and its numbers)
CELLS = {
    "added_water": (["loss_low_psi", "loss_high_psi"], [
        ("for each gal/yd³; wastes", 150, 200), ("for each gal/yd³; counts", 200, 400),
    ]),
    "air": (["aggregate_in", "air_percent"], [
        ("entrapped", 0.375, 3), ("entrapped", 0.5, 2.5), ("entrapped", 0.75, 2),
        ("entrapped", 1, 1.5), ("entrapped", 1.5, 1), ("mild", 0.375, 4.5), ("mild", 0.5, 4),
        ("mild", 0.75, 3.5), ("mild", 1, 3), ("mild", 1.5, 2.5), ("moderate", 0.375, 6),
        ("moderate", 0.5, 5.5), ("moderate", 0.75, 5), ("moderate", 1, 4.5), ("moderate", 1.5, 4.5),
        ("severe", 0.375, 7.5), ("severe", 0.5, 7), ("severe", 0.75, 6), ("severe", 1, 6),
        ("severe", 1.5, 5.5),
    ]),
    "air_tolerance": (["tolerance_percent"], [
        (1.5,),
    ]),
    "anchor_phi": (["category", "phi"], [
        ("steel tension", 1, 0.75), ("steel shear", 1, 0.65), ("concrete tension", 1, 0.7),
        ("concrete shear", 1, 0.7), ("pullout", 1, 0.7), ("bond", 1, 0.65), ("bond", 2, 0.55),
        ("bond", 3, 0.45), ("drilled breakout", 1, 0.65), ("drilled breakout", 2, 0.55),
        ("drilled breakout", 3, 0.45),
    ]),
    "base": (["value_in"], [
        ("least base", 4), ("most clean fill", 24),
    ]),
    "blankets": (["R_per_inch", "thickness_in", "absorptivity"], [
        ("none", 0, 0, 0.65), ("plastic sheet", 0, 0, 0.65), ("1/2 in. foam blanket", 4, 0.5, 0.8),
        ("1 in. foam blanket", 4, 1, 0.8), ("1 in. fiber blanket", 3.1, 1, 0.8),
        ("2 in. fiber blanket", 3.1, 2, 0.8), ("2 in. foam board", 5, 2, 0.8),
    ]),
    "bolt_steel": (["f_ya_psi", "f_uta_psi"], [
        ("F1554 Grade 36", 36000, 58000), ("F1554 Grade 55", 55000, 75000),
    ]),
    "bolts": (["threads", "nut_in"], [
        ("1/2", 13, 0.4375), ("5/8", 11, 0.546875), ("3/4", 10, 0.640625),
    ]),
    "bond": (["cracked_psi", "uncracked_psi"], [
        ("outdoor", 200, 650), ("indoor", 300, 1000),
    ]),
    "bond_metric": (["cracked_MPa", "uncracked_MPa"], [
        ("outdoor", 1.4, 4.5), ("indoor", 2.1, 7),
    ]),
    "cements": (["C3S", "C2S", "C3A", "C4AF", "SO3", "MgO", "free_CaO", "blaine"], [
        ("I", 0.54, 0.18, 0.1, 0.08, 0.03, 0.022, 0.01, 369),
        ("II", 0.55, 0.19, 0.06, 0.11, 0.027, 0.022, 0.01, 377),
        ("III", 0.55, 0.17, 0.09, 0.08, 0.035, 0.022, 0.01, 548),
        ("V", 0.54, 0.22, 0.04, 0.13, 0.023, 0.022, 0.01, 373),
    ]),
    "cold_temperatures": (["thickness_up_to_in", "placed_F", "mixed_above_30_F", "mixed_0_to_30_F", "mixed_below_0_F", "drop_24h_F"], [
        ("under 12 in.", 12, 55, 60, 65, 70, 50), ("12 to 36 in.", 36, 50, 55, 60, 65, 40),
    ]),
    "combinations": (["D", "L", "S", "W"], [
        ("1.4 D", 1.4, 0, 0, 0), ("1.2 D + 1.6 L + 0.5 S", 1.2, 1.6, 0.5, 0),
        ("1.2 D + 1.6 S + L", 1.2, 1, 1.6, 0), ("1.2 D + 1.0 W + L + 0.5 ", 1.2, 1, 0.5, 1),
        ("0.9 D + 1.0 W", 0.9, 0, 0, 1), ("D", 1, 0, 0, 0), ("D + L", 1, 1, 0, 0),
        ("D + S", 1, 0, 1, 0), ("D + 0.75 L + 0.75 S", 1, 0.75, 0.75, 0),
        ("D + 0.6 W", 1, 0, 0, 0.6), ("D + 0.75 L + 0.75 (0.6 W", 1, 0.75, 0.75, 0.45),
        ("0.6 D + 0.6 W", 0.6, 0, 0, 0.6),
    ]),
    "evaporation": (["limit"], [
        ("Cracks can begin in mixe", 0.1), ("Precautions at once: win", 0.2),
    ]),
    "evening": (["number"], [
        ("For each person", 1), ("For each person", 1), ("Placing", 0.5), ("Placing", 2),
        ("Placing", 1), ("Placing", 1), ("Placing", 1), ("Finishing", 1), ("Finishing", 1),
        ("Finishing", 0.5), ("Finishing", 1), ("Finishing", 1), ("Finishing", 1), ("Marking", 1),
        ("Marking", 1), ("Bolts", 1), ("Bolts", 1), ("Bolts", 1), ("Joints", 1), ("Machines", 1), ("Machines", 1),
        ("Cover", 1), ("Cover", 1), ("Cover", 2), ("First aid", 1), ("First aid", 1),
    ]),
    "exposure": (["w_cm", "f_c_psi"], [
        ("F0", 1, 2500), ("F1", 0.55, 3500), ("F2", 0.45, 4500), ("F3", 0.45, 4500),
        ("F3, reinforced", 0.4, 5000),
    ]),
    "fiber": (["least_lb_per_yd3"], [
        ("micro fiber", 0.5), ("macro fiber", 3), ("steel fiber", 25),
    ]),
    "forecast_error": (["first_day", "more_each_day"], [
        ("air", 2, 0.8), ("wind", 0.2, 0.05), ("sky", 0.15, 0.05), ("concrete", 3, 0),
    ]),
    "freezing": (["strength_psi", "at_F", "hours"], [
        ("single freezing", 500, 50, 48), ("freezing and thawing whi", 3500, 50, 0),
    ]),
    "joint_spacing": (["times_thickness", "slump_from_in", "slump_to_in", "aggregate_from_in", "aggregate_to_in"], [
        ("slump 4 to 6 in., aggreg", 24, 3.937, 99, 0, 0.7499),
        ("slump 4 to 6 in., aggreg", 30, 3.937, 99, 0.75, 9), ("slump under 4 in.", 36, 0, 3.9369, 0, 9),
    ]),
    "lerch": (["T_c", "T_a", "RH", "wind", "published"], [
        ("E2", 70, 70, 70, 0, 0.015), ("E3", 70, 70, 70, 5, 0.038), ("E4", 70, 70, 70, 10, 0.062),
        ("E5", 70, 70, 70, 15, 0.085), ("E6", 70, 70, 70, 20, 0.11), ("E7", 70, 70, 70, 25, 0.135),
        ("E8", 70, 70, 90, 10, 0.02), ("E9", 70, 70, 50, 10, 0.1), ("E10", 70, 70, 30, 10, 0.135),
        ("E12", 50, 50, 70, 10, 0.026), ("E13", 60, 60, 70, 10, 0.043),
        ("E15", 90, 90, 70, 10, 0.11), ("E16", 100, 100, 70, 10, 0.18),
        ("E20", 80, 40, 100, 10, 0.205), ("E21", 70, 40, 100, 10, 0.13),
        ("E23", 70, 40, 50, 0, 0.035), ("E26", 90, 90, 10, 0, 0.07), ("E27", 90, 90, 10, 10, 0.336),
    ]),
    "load_duration": (["C_D"], [
        ("permanent", 0.9), ("ten years", 1), ("snow", 1.15), ("construction", 1.25), ("wind", 1.6),
        ("earthquake", 1.6),
    ]),
    "loading": (["days"], [
        ("foot traffic", 1), ("walls framed", 1), ("walls framed", 2),
        ("walls framed, trusses se", 7), ("anchors glued in", 21), ("other drilled anchors", 7),
    ]),
    "lumber": (["G", "F_cperp_psi"], [
        ("Southern Pine", 0.55, 565), ("Douglas Fir-Larch", 0.5, 625), ("Hem-Fir", 0.43, 405),
        ("Spruce-Pine-Fir", 0.42, 425),
    ]),
    "materials": (["k", "density", "specific_heat", "absorptivity", "emissivity"], [
        ("concrete", 2, 2400, 1000, 0.65, 0.9), ("stone base", 1, 1900, 900, 0, 0),
        ("dry sand", 0.24, 1600, 800, 0, 0), ("moist sand", 2.1, 1800, 1180, 0, 0),
        ("wet sand", 2.5, 2000, 1480, 0, 0), ("dry clay", 0.15, 1590, 900, 0, 0),
        ("moist clay", 0.9, 1790, 1270, 0, 0), ("wet clay", 1.4, 1990, 1560, 0, 0),
        ("peat", 0.27, 580, 3670, 0, 0),
    ]),
    "mixing_water": (["slump_in", "aggregate_in", "water"], [
        ("no", 1.5, 0.375, 350), ("no", 1.5, 0.5, 335), ("no", 1.5, 0.75, 315), ("no", 1.5, 1, 300),
        ("no", 1.5, 1.5, 275), ("no", 3.5, 0.375, 385), ("no", 3.5, 0.5, 365),
        ("no", 3.5, 0.75, 340), ("no", 3.5, 1, 325), ("no", 3.5, 1.5, 300), ("no", 6.5, 0.375, 410),
        ("no", 6.5, 0.5, 385), ("no", 6.5, 0.75, 360), ("no", 6.5, 1, 340), ("no", 6.5, 1.5, 315),
        ("yes", 1.5, 0.375, 305), ("yes", 1.5, 0.5, 295), ("yes", 1.5, 0.75, 280),
        ("yes", 1.5, 1, 270), ("yes", 1.5, 1.5, 250), ("yes", 3.5, 0.375, 340),
        ("yes", 3.5, 0.5, 325), ("yes", 3.5, 0.75, 305), ("yes", 3.5, 1, 295),
        ("yes", 3.5, 1.5, 275), ("yes", 6.5, 0.375, 365), ("yes", 6.5, 0.5, 345),
        ("yes", 6.5, 0.75, 325), ("yes", 6.5, 1, 310), ("yes", 6.5, 1.5, 290),
    ]),
    "protection": (["days"], [
        ("usual", 3), ("faster", 2),
    ]),
    "rates": (["low", "high"], [
        ("trowel", 700, 1500), ("trowel", 3000, 3000), ("trowel", 600, 600), ("trowel", 100, 100),
        ("float", 1507, 1507), ("float", 323, 646), ("place", 12, 65), ("place", 100, 100),
    ]),
    "retarder": (["value_in"], [
        ("least lap", 6),
    ]),
    "safety": (["limit"], [
        ("wet concrete", ""), ("silica", 50), ("trowels", ""), ("exhaust", 50),
        ("electric tools", ""), ("night work", 5), ("heat and cold", ""), ("hearing", 90),
        ("adhesive", ""), ("lifting", 50), ("trenches", 2), ("digging", ""), ("hidden lines", ""),
        ("caps", ""), ("chute", ""), ("washout", ""), ("power lines", 10), ("loads", ""),
        ("trucks", ""), ("frozen ground", ""), ("blankets", ""),
    ]),
    "sawing": (["low_h", "high_h"], [
        ("conventional", 4, 12), ("early entry", 1, 4), ("conventional", 6, 18),
        ("conventional", 4, 72), ("conventional", 2, 6),
    ]),
    "set_degree": (["k"], [
        ("initial", 0.15), ("final", 0.26),
    ]),
    "set_time": (["temperature_F", "hours"], [
        ("survey", 50, 4.25), ("survey", 70, 2.75), ("survey", 90, 1.75), ("bulletin", 100, 1.67),
        ("bulletin", 90, 2.67), ("bulletin", 80, 4), ("bulletin", 70, 6), ("bulletin", 60, 8),
        ("bulletin", 50, 11), ("bulletin", 40, 14), ("bulletin", 30, 19),
    ]),
    "sill_rules": (["value", "unit"], [
        ("least diameter", 0.5, "in"), ("least embedment", 7, "in"), ("most spacing", 72, "in"),
        ("most spacing tall", 48, "in"), ("bolts in a piece", 2, 1), ("most end distance", 12, "in"),
        ("least end distance", 7, 1), ("least spacing", 4, 1), ("least loaded edge", 4, 1),
        ("exempt diameter", 0.625, "in"), ("exempt embedment", 7, "in"), ("exempt edge", 1.75, "in"),
        ("exempt end", 15, 1), ("least drilled edge", 6, 1), ("least drilled spacing", 6, 1),
        ("least adhesive depth", 4, 1), ("most adhesive depth", 20, 1),
        ("least concrete age", 21, "day"), ("least cover", 3, "in"),
        ("most drilled strength", 8000, "psi"), ("least default temperatur", 50, "degF"),
        ("least torqued edge", 6, 1), ("least torqued spacing", 6, 1),
        ("washer to sheathed edge", 0.5, "in"), ("washer shear", 200, "plf"), ("least joint", 3, "in"),
    ]),
    "sky_words": (["eighths"], [
        ("mostly cloudy", 6.5), ("mostly clear", 1.5), ("mostly sunny", 1.5), ("partly cloudy", 4),
        ("partly sunny", 4), ("considerable cloudiness", 6.5), ("overcast", 8), ("cloudy", 8),
        ("sunny", 0), ("clear", 0), ("fair", 1.6), ("a few clouds", 1.5), ("few clouds", 1.5),
        ("scattered", 3.5), ("broken", 6), ("skc", 0), ("clr", 0), ("nsc", 0), ("few", 1.5),
        ("sct", 3.5), ("bkn", 6), ("ovc", 8), ("chance", 6.5), ("rain", 8), ("shower", 8),
        ("snow", 8), ("thunder", 8), ("drizzle", 8), ("sleet", 8), ("fog", 8), ("mist", 8),
    ]),
    "slump_tolerance": (["slump_up_to_in", "tolerance_in"], [
        (2, 0.5), (4, 1), (12, 1.5),
    ]),
    "soil": (["bearing_psf"], [
        ("bedrock", 12000), ("foliated rock", 4000), ("gravel", 3000), ("sand", 2000), ("clay", 1500),
    ]),
    "strength_gain": (["a_days", "b", "s"], [
        ("I", 4, 0.85, 0.25), ("III", 2.3, 0.92, 0.2),
    ]),
    "subgrade": (["moisture_from", "moisture_to", "k_pci"], [
        ("OH", 5, 8, 175), ("OH", 9, 12, 150), ("OH", 13, 16, 125), ("OH", 17, 20, 100),
        ("OH", 21, 24, 75), ("OH", 25, 28, 50), ("OH", 29, 99, 25), ("CH", 5, 8, 175),
        ("CH", 9, 12, 150), ("CH", 13, 16, 125), ("CH", 17, 20, 100), ("CH", 21, 24, 75),
        ("CH", 25, 28, 50), ("CH", 29, 99, 25), ("MH", 5, 8, 175), ("MH", 9, 12, 150),
        ("MH", 13, 16, 125), ("MH", 17, 20, 100), ("MH", 21, 24, 75), ("MH", 25, 28, 50),
        ("MH", 29, 99, 25), ("OL", 5, 8, 200), ("OL", 9, 12, 175), ("OL", 13, 16, 150),
        ("OL", 17, 20, 125), ("OL", 21, 24, 100), ("OL", 25, 28, 75), ("OL", 29, 99, 50),
        ("CL", 5, 8, 200), ("CL", 9, 12, 175), ("CL", 13, 16, 150), ("CL", 17, 20, 125),
        ("CL", 21, 24, 100), ("CL", 25, 28, 75), ("CL", 29, 99, 50), ("ML", 5, 8, 200),
        ("ML", 9, 12, 175), ("ML", 13, 16, 150), ("ML", 17, 20, 125), ("ML", 21, 24, 100),
        ("ML", 25, 28, 75), ("ML", 29, 99, 50), ("SM", 1, 4, 300), ("SM", 5, 8, 250),
        ("SM", 9, 12, 225), ("SM", 13, 16, 200), ("SM", 17, 20, 150), ("SC", 1, 4, 300),
        ("SC", 5, 8, 250), ("SC", 9, 12, 225), ("SC", 13, 16, 200), ("SC", 17, 20, 150),
        ("SW", 1, 4, 350), ("SW", 5, 8, 300), ("SW", 9, 12, 250), ("SP", 1, 4, 350),
        ("SP", 5, 8, 300), ("SP", 9, 12, 250), ("GM", 1, 4, 400), ("GM", 5, 8, 350),
        ("GM", 9, 12, 300), ("GM", 13, 16, 250), ("GC", 1, 4, 400), ("GC", 5, 8, 350),
        ("GC", 9, 12, 300), ("GC", 13, 16, 250), ("GW", 1, 4, 500), ("GW", 5, 8, 450),
        ("GP", 1, 4, 500), ("GP", 5, 8, 450),
    ]),
    "w_cm": (["f_c_psi", "w_cm"], [
        ("no", 6000, 0.41), ("no", 5000, 0.48), ("no", 4000, 0.57), ("no", 3000, 0.68),
        ("no", 2000, 0.82), ("yes", 5000, 0.4), ("yes", 4000, 0.48), ("yes", 3000, 0.59),
        ("yes", 2000, 0.74),
    ]),
    "wire": (["printed_weight"], [
        ("6x6-W1.4xW1.4", 21), ("6x6-W2.0xW2.0", 29), ("6x6-W2.1xW2.1", 30), ("6x6-W2.9xW2.9", 42),
        ("6x6-W4.0xW4.0", 58), ("6x6-W5.5xW5.5", 80), ("4x4-W1.4xW1.4", 31), ("4x4-W2.0xW2.0", 43),
        ("4x4-W2.9xW2.9", 62), ("4x4-W4.0xW4.0", 85),
    ]),
    "toppings": (["gap_in"], [
        ("bare", 0.5), ("sealed", 0.5), ("floating floor", 0.1875), ("tile", 0.25), ("large tile", 0.125),
        ("resilient", 0.1875), ("epoxy", 0.25),
    ]),
    "floor_classes": (["FF", "FL"], [
        ("conventional", 20, 15), ("moderately flat", 25, 20), ("flat", 35, 25), ("very flat", 45, 35),
    ]),
    "drying": (["w_cm", "days"], [
        (0.40, 46), (0.50, 82), (0.60, 117), (0.70, 130),
    ]),
}  # fmt: skip


# (table, column): the law behind it, from what the row is called, and the digits that are printed
LAWS = {
    ("bars", "diameter_in"): (lambda r: int(r["size"].strip("#")) / 8, 3),  # eighths of an inch: ASTM A615
    ("bars", "area_in2"): (lambda r: pi * r["diameter_in"] ** 2 / 4, 2),  # a round bar
    ("bars", "weight_lb_per_ft"): (lambda r: 3.4 * pi * r["diameter_in"] ** 2 / 4, 3),  # 3.4 lb/ft for each in2 of steel
    ("bolts", "d_in"): (lambda r: float(Fraction(r["size"])), 4),
    # unified threads: pi/4 (d - 0.9743/n)^2
    ("bolts", "A_se_in2"): (lambda r: pi / 4 * (r["d_in"] - 0.9743 / r["threads"]) ** 2, 3),
    # under a hexagon of 1 1/2 d across its flats, less the bolt
    ("bolts", "A_hex_in2"): (lambda r: 0.866 * (1.5 * r["d_in"]) ** 2 - pi * r["d_in"] ** 2 / 4, 3),
    ("wire", "spacing_in"): (lambda r: int(r["style"][0]), 0),
    ("wire", "wire"): (lambda r: float(r["style"].rpartition("W")[2]), 1),
    ("wire", "printed_area"): (lambda r: r["wire"] / 100 * 12 / r["spacing_in"], 3),  # W: hundredths of in2
}  # fmt: skip


@pytest.mark.parametrize(("name", "column"), LAWS)
def test_a_column_with_a_law_follows_it_to_the_last_printed_digit(name, column):
    """Own arithmetic of geometry and of what a size is called; rounded as it is printed, one cell to a digit more."""
    law, digits = LAWS[name, column]
    for row in table(name):
        assert row[column] == pytest.approx(round(law(row), digits), abs=0.15 * 10**-digits)


# (table, rows of one kind, column that rises, column that follows it, 1: rises too, -1: falls): sense, not numbers
ORDERED = [
    ("mixing_water", ("air", "aggregate_in"), "slump_in", "water", 1),
    ("mixing_water", ("air", "slump_in"), "aggregate_in", "water", -1),
    ("w_cm", ("air",), "f_c_psi", "w_cm", -1),
    ("air", ("exposure",), "aggregate_in", "air_percent", -1),
    ("drying", (), "w_cm", "days", 1),
    ("slump_tolerance", (), "slump_up_to_in", "tolerance_in", 1),
    ("set_time", ("series",), "temperature_F", "hours", -1),
    ("subgrade", ("group",), "moisture_from", "k_pci", -1),
    ("cold_temperatures", (), "thickness_up_to_in", "placed_F", -1),
    ("exposure", (), "f_c_psi", "w_cm", -1),
]


@pytest.mark.parametrize(("name", "kind", "rises", "follows", "sign"), ORDERED)
def test_a_table_rises_or_falls_as_its_matter_does(name, kind, rises, follows, sign):
    """Common practice, no source: wetter mixes, larger stone, colder air, more moisture, each with its direction."""
    groups: dict = {}
    for row in table(name):
        groups.setdefault(tuple(row[key] for key in kind), []).append((row[rises], row[follows]))
    for rows in groups.values():
        for (_, before), (_, after) in itertools.pairwise(sorted(rows)):
            assert sign * (after - before) >= 0


@pytest.mark.parametrize("name", CELLS)
def test_every_number_is_the_one_that_is_kept(name):
    columns, rows = CELLS[name]
    found = [tuple(row[c] for c in columns) for row in table(name)]
    assert found == [row[-len(columns) :] for row in rows]


@pytest.mark.parametrize("name", CELLS)
def test_the_rows_are_those_meant(name):
    columns, rows = CELLS[name]
    for row, kept in zip(table(name), rows, strict=True):
        assert len(kept) == len(columns) or kept[0] in [str(cell)[:24] for cell in row.values()]


def test_no_column_of_numbers_is_left_out():
    """Of tables that a law holds in part, the rest stands in the copy."""
    for name in {name for name, _ in LAWS}:
        numbers = {c for row in table(name) for c, cell in row.items() if isinstance(cell, float)}
        kept = set(CELLS[name][0]) if name in CELLS else set()
        assert numbers == kept | {column for table_, column in LAWS if table_ == name}


def test_no_table_with_numbers_is_left_out():
    """evidence.csv is written from the marks on the tests and compared there."""
    held = {
        path.stem
        for path in TABLES.glob("*.csv")
        if any(isinstance(cell, float) for row in table(path.stem) for cell in row.values())
    }
    assert held == set(CELLS) | {name for name, _ in LAWS}

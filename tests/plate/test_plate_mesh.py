"""The element, the mesh, and sides that run slanted or round.

Outside check: the same element of scikit-fem. Everything else is geometry and mechanics worked out here.
"""

import math

import numpy as np
import pytest
from shapely import Point, Polygon, box
from shapely.affinity import rotate
from skfem import Basis, BilinearForm, ElementQuadBFS, MeshQuad
from skfem.helpers import dd, ddot

from calcbook.job.file import Job
from calcbook.plate.as_drawn import thick_and_open
from calcbook.plate.forces import case_forces
from calcbook.plate.front import plate_of, prepared
from calcbook.plate.hermite import energies
from calcbook.plate.joints import joint_matrix
from calcbook.plate.lines import mesh_lines
from calcbook.plate.model import AGREE, STRESSES, Area, Case, Line, Patch, Plate, Region
from calcbook.plate.space import Space
from calcbook.plate.stiffness import stiffness
from calcbook.plate.worked import element
from calcbook.plate.worst import looked_closer

NU = 0.15


def test_the_element_s_matrix_is_that_of_scikit_fem():
    """The eigenvalues do not depend on how the unknowns are numbered."""
    a, b = 7.0, 4.0
    mesh = MeshQuad.init_tensor(np.array([0.0, a]), np.array([0.0, b]))

    @BilinearForm
    def energy(u, v, _):
        m, n = dd(u), dd(v)
        return (1 - NU) * ddot(m, n) + NU * (m[0][0] + m[1][1]) * (n[0][0] + n[1][1])

    theirs = energy.assemble(Basis(mesh, ElementQuadBFS(), intorder=8)).toarray()
    ours = energies(np.array([a]), np.array([b]), NU, np.ones(1), np.zeros(1))[0]
    assert np.linalg.eigvalsh(ours) == pytest.approx(np.linalg.eigvalsh(theirs), abs=1e-9)


SLANTED = Polygon([(0, 0), (11, 1), (12, 8), (5, 10), (1, 7)])


@pytest.mark.parametrize("outline", [box(0, 0, 12, 9), SLANTED, Point(6, 6).buffer(5)])
def test_patch_test_a_surface_bent_alike_everywhere_has_the_energy_that_it_should(outline):
    """w = a x^2 + b y^2 + c x y lies in the element's functions, so its energy is exact on any mesh."""
    E, h = 3e6, 5.0
    plate = Plate((outline,), h, 1e-9, E, NU)
    space = Space(plate, *mesh_lines(plate, (Patch(box(5, 4, 5.5, 4.4), 1.0),), 1))
    u = np.zeros((space.nodes, 4))
    a, b, c = 2e-6, -1e-6, 3e-6
    x, y = space.node_x, space.node_y
    u[:, 0] = a * x**2 + b * y**2 + c * x * y
    u[:, 1], u[:, 2], u[:, 3] = 2 * a * x + c * y, 2 * b * y + c * x, c
    u = u.ravel()
    density = (
        E
        * h**3
        / (12 * (1 - NU**2))
        * ((2 * a) ** 2 + (2 * b) ** 2 + 2 * NU * 4 * a * b + 2 * (1 - NU) * c**2)
    )
    energy = u @ (stiffness(space, joint_matrix(space)[0]) @ u)
    assert energy == pytest.approx(density * outline.area * 144, rel=2e-6)


@pytest.mark.parametrize(
    "outline", [SLANTED, Point(6, 6).buffer(5), box(0, 0, 12, 9).difference(Point(3, 3).buffer(1))]
)
def test_slanted_and_round_sides_have_their_own_area_and_weight(outline):
    result = plate_of(Plate((outline,), 6.0, 150.0, 3.6e6), Case(""))
    assert result.space.weight.sum() == pytest.approx(outline.area * 144, rel=2e-6)
    assert result.load == pytest.approx(outline.area * 75, rel=2e-6)
    assert result.unbalanced < 1e-8


def test_a_slab_turned_by_30_degrees_bears_as_it_did_before():
    """Its sides then cut the mesh all along; the load and the places that are read turn with it."""
    outline, center = box(0, 0, 14, 10), (7, 5)
    load = Patch(box(2, 0, 2.6, 0.6), 2000.0)
    places = np.array([[2.3, 0.3], [2.3, 0.01], [4, 2], [10, 5], [13, 9]])
    pad = box(8, 3, 11, 6)

    def found(angle):
        plate = Plate(
            (rotate(outline, angle, center),), 5.0, 150.0, 3.6e6,
            regions=(Region(rotate(pad, angle, center), 9.0),),
        )  # fmt: skip
        turned = Patch(rotate(load.shape, angle, center), load.force)
        at = np.array([rotate(Point(p), angle, center).coords[0] for p in places])
        result = prepared(plate, (turned,), step=10.0).solve(Case("", (turned,)))
        return result.at(*at.T)

    straight, slanted = found(0.0), found(30.0)
    assert slanted.deflection == pytest.approx(straight.deflection, rel=0.002)
    assert slanted.bottom[:3] == pytest.approx(straight.bottom[:3], rel=0.03)


def test_halving_the_elements_brings_the_stress_nearer_by_more_than_three():
    """As the elements give it, curvature gains by four; it is read better than that."""
    plate = Plate((box(0, 0, 16, 16),), 6.0, 100.0, 4e6, NU)
    case = Case("", (Patch(box(7, 7, 9, 9), 4000.0), Area(2000.0)))
    best = plate_of(plate, case, finer=6, step=24.0).at([8.0], [8.0]).bottom[0]
    off = [abs(plate_of(plate, case, n, 24.0).at([8.0], [8.0]).bottom[0] - best) for n in (1, 2)]
    assert off[1] < off[0] / 3 and off[1] < 0.01 * best


def test_a_finer_mesh_is_never_stiffer():
    """The energy of a conforming element is bound from one side (theorem of minimum energy)."""
    plate = Plate((box(0, 0, 16, 12),), 6.0, 100.0, 4e6, NU, 0.0)
    load = Patch(box(1, 1, 2, 2), 4000.0)
    even = Area(2000.0)
    down = [float(work(prepared(plate, (load,), n, 40.0), (load, even))) for n in (1, 2, 4)]
    assert down[0] < down[1] < down[2] < 1.01 * down[0]


def work(ready, loads):
    """The work of the loads on the plate."""
    case = Case("", loads, 0.0)
    return case_forces(ready.space, case) @ ready.solve(case).solution


DEMO = Polygon([(0, 0), (40, 0), (40, 18), (28, 18), (28, 28), (0, 28)])


def test_stresses_of_a_whole_plan_come_within_2_percent_of_finer_meshes():
    """Edge, pads, a round and a straight opening, posts, a wall and wheels on one slab."""
    plate = Plate(
        (DEMO,), 5.0, 150.0, 3.6e6,
        openings=(Point(20, 9).buffer(0.5), box(2, 21, 8, 22.5)),
        regions=(
            Region(DEMO.difference(DEMO.buffer(-1.5, join_style="mitre")), 18.0, "edge"),
            Region(box(12.5, 12.5, 15.5, 15.5), 14.0, "P1"),
        ),
    )  # fmt: skip
    loads = (
        Patch(box(13.7, 13.7, 14.3, 14.3), 11500.0),
        Patch(box(9.7, 3.7, 10.3, 4.3), 1800.0),
        Line(((0.3, 0.3), (39.7, 0.3)), 860.0),
    )
    ready = prepared(plate, loads, step=element(plate), rough=True)
    full, warm = (
        looked_closer(ready.solve(case)) for case in (Case("full", loads), Case("warm", (), 1.0, 20.0))
    )
    for result in (full, warm):
        errors = {name: r.error for name, r in result.worst.items() if not result.faint(name)}
        assert all(errors[name] < AGREE for name in STRESSES if name in errors), errors
    fine = prepared(plate, loads, step=element(plate)).solve(
        full.case
    )  # small elements where it takes them
    for name, field in zip(STRESSES, ("bottom", "top"), strict=True):
        reading = full.worst[name]
        there = float(getattr(fine.at([reading.x], [reading.y]), field)[0])
        assert reading.value == pytest.approx(there, rel=AGREE)


def test_what_is_read_keeps_away_from_corners_at_which_stress_has_no_limit():
    plate = Plate((DEMO,), 5.0, 150.0, 3.6e6, openings=(box(2, 21, 8, 22.5),))
    at = prepared(plate).read_at
    for x, y in ((28, 18), (2, 21), (8, 22.5)):
        assert np.hypot(at.x / 12 - x, at.y / 12 - y).min() >= 5.0 / 12
    assert np.hypot(at.x / 12 - 40, at.y / 12).min() < 0.1  # a plain corner is read


def test_soil_under_parts_of_the_plan_adds_up_to_all_of_it():
    plate = Plate((DEMO,), 5.0, 150.0, 3.6e6, regions=(Region(box(12, 12, 16, 16), 14.0),))
    result = plate_of(plate, Case("", (Patch(box(13.7, 13.7, 14.3, 14.3), 9000.0),)))
    pad, rest = box(12, 12, 16, 16), DEMO.difference(box(12, 12, 16, 16))
    parts = result.soil_under(pad) + result.soil_under(rest)
    assert parts == pytest.approx(result.load, rel=1e-6)
    assert math.isclose(result.soil, result.load, rel_tol=1e-8)
    assert 0.2 * 9000 < result.soil_under(pad) < 9000 + 16 * 14 / 12 * 150


def test_an_edge_that_two_plain_sides_part_is_two_regions_of_the_plate():
    """Own arithmetic: two strips 1 ft wide along the sides of 16 ft, nothing along the other two."""
    job = Job({
        "slab": {"length": "20 ft", "width": "16 ft"}, "edge": {"depth": "12 in", "width": "12 in", "slope": 0},
        "edges": [{"side": 1, "depth": "0 in"}, {"side": 3, "depth": "0 in"}],
    })  # fmt: skip
    _, regions = thick_and_open(job)
    assert {r.shape.geom_type for r in regions} == {"Polygon"}
    assert [
        r.shape.area for r in regions if r.thickness == max(s.thickness for s in regions)
    ] == pytest.approx([16, 16])

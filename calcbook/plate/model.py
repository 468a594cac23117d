"""What a plate on ground is made of, and what stands on it: plain records, no mathematics of the solver.

Plan lengths are plain feet, thicknesses inches, forces pounds, as the fields say. Loads count
downwards; an uplift is negative.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

import shapely
from shapely import LineString, Polygon, box
from shapely.affinity import scale, translate

if TYPE_CHECKING:
    from collections.abc import Hashable

    from numpy.typing import NDArray

Amount = TypeVar("Amount", "float", "NDArray")

AGREE = 0.02  # how near a mesh twice as fine should come
# what is read of a plate
BOTTOM, TOP, SOIL = "stress at the bottom", "stress at the top", "soil pressure"
STRESSES = (BOTTOM, TOP)
FAINT = 0.05  # of the stress of the other face: no one asks how near one so small is

Points: TypeAlias = tuple[tuple[float, float], ...]


class PlateError(ValueError):
    """A plate that cannot be worked out, in one sentence that says why and what mends it."""


class LiftError(PlateError):
    """An uplift that is more than what holds the slab down."""


@dataclass(frozen=True)
class Region:
    """Where the concrete is thicker than the slab: a thickened edge, a strip, a pad.

    shape: polygon in feet; thickness: of slab and thickening together, in.; name: as it is shown.

    The thickening is taken as centered on the slab's own middle plane. Concrete that hangs below it
    is stiffer than that, as the slab beside it works with it: so the deflection and the stress of the
    slab beside come out too high, and the share that the thickening takes on itself too low.
    A sloping side is several regions, each a step of it.
    """

    shape: Polygon
    thickness: float
    name: str = ""


@dataclass(frozen=True)
class Joint:
    """A joint along a line: a hinge that passes shear by a spring, and no bending.

    line: its points, in feet; spring: shear passed by each inch of joint for each inch that one side
    is lower than the other, psi (``joint_spring`` gives it for a percentage); 0 is an isolation joint;
    name: as it is shown; sawn: True where the concrete is one piece below a cut, False between two pours.
    """

    line: Points
    spring: float
    name: str = "joint"
    sawn: bool = True


@dataclass(frozen=True)
class Plate:
    """A slab, or several, on soil that pushes back in proportion to how far it is pressed.

    outlines: polygons in feet, one a slab, that may touch and not overlap; thickness: of the slab,
    in.; k: modulus of subgrade reaction, pci; E: modulus of elasticity of the concrete, psi; nu: its
    Poisson's ratio; weight: of the concrete, pcf; openings: polygons in feet; regions, joints: see there;
    beside: parts of other slabs that joints tie to these, each with its thickness, in.: they bear and bend, but
    no wheel is tried and nothing is read there.
    """

    outlines: tuple[Polygon, ...]
    thickness: float
    k: float
    E: float
    nu: float = 0.15
    weight: float = 150.0
    openings: tuple[Polygon, ...] = ()
    regions: tuple[Region, ...] = ()
    joints: tuple[Joint, ...] = ()
    beside: tuple[tuple[Polygon, float], ...] = ()

    def __post_init__(self) -> None:
        given = {"thickness": self.thickness, "k": self.k, "E": self.E}
        given |= {f"thickness of slab {n} beside": h for n, (_, h) in enumerate(self.beside, 1)}
        given |= {f"thickness of {r.name or 'a region'}": r.thickness for r in self.regions}
        for name, value in given.items():
            if not (math.isfinite(value) and value > 0):
                raise PlateError(f"plate: {name} is {value:g}; it must be above 0.")
        if not 0 <= self.nu < 0.5:
            raise PlateError(f"plate: nu is {self.nu:g}; it must be from 0 to below 0.5.")
        if not (math.isfinite(self.weight) and self.weight >= 0):
            raise PlateError(f"plate: weight is {self.weight:g}; it must be 0 or more.")
        if not self.outlines or any(not o.is_valid or o.area <= 0 for o in self.outlines):
            raise PlateError("plate: every outline must be a polygon that does not cross itself.")
        for joint in self.joints:
            if not (math.isfinite(joint.spring) and joint.spring >= 0):
                raise PlateError(
                    f"{joint.name}: its spring is {joint.spring:g} psi; it must be 0 or more."
                )

    @property
    def rigidity(self) -> float:
        """Bending stiffness of the plain slab for each inch of width, lbf in."""
        return rigidity(self.thickness, self.E, self.nu)

    @property
    def reach(self) -> float:
        """Radius of relative stiffness of the plain slab, in.: how far a load spreads in it."""
        return (self.rigidity / self.k) ** 0.25

    @cached_property
    def thickenings(self) -> tuple[Polygon, ...]:
        """What is at least as thick as each thickness of the plan, in feet, parts that meet as one."""
        found: list[Polygon] = []
        for h in sorted({r.thickness for r in self.regions}):
            whole = shapely.union_all([r.shape for r in self.regions if r.thickness >= h])
            found += [p for p in shapely.get_parts(whole) if isinstance(p, Polygon)]
        return tuple(found)

    @property
    def every(self) -> tuple[Polygon, ...]:
        """The outlines, and the parts of slabs beside, in feet."""
        return (*self.outlines, *(shape for shape, _ in self.beside))

    @cached_property
    def slab(self) -> Polygon:
        """All concrete, in feet."""
        found = shapely.union_all(self.every).difference(shapely.union_all(self.openings))
        shapely.prepare(found)
        return found

    @cached_property
    def joint_lines(self) -> tuple[LineString, ...]:
        """The lines of the joints, in."""
        return tuple(inches(LineString(joint.line)) for joint in self.joints)

    @cached_property
    def parts_beside(self) -> tuple[tuple[Polygon, float], ...]:
        """The parts of slabs beside in inches, and their thickness, in."""
        return tuple((inches(shape), float(h)) for shape, h in self.beside)

    @cached_property
    def thick_parts(self) -> tuple[tuple[Polygon, float], ...]:
        """The shapes of the regions in inches, made ready for many questions, and their thickness, in."""
        found = tuple((inches(r.shape), float(r.thickness)) for r in self.regions)
        for shape, _ in found:
            shapely.prepare(shape)
        return found


def inches(shape: Any) -> Any:
    """A shape in feet, in inches."""
    return scale(shape, 12, 12, origin=(0, 0))


def rigidity(h: Amount, E: float, nu: float) -> Amount:
    """Bending stiffness of a plate for each inch of width, lbf in. h: thickness, in.; E: psi; nu: plain."""
    return E * h**3 / (12 * (1 - nu**2))


# --- loads -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Patch:
    """A force spread evenly over a print: a wheel, a post, the foot of a rack.

    shape: the print, a polygon in feet; force: lbf, down; name: as it is shown. What of the print lies
    off the slab bears nothing: the whole force stands on the rest.
    """

    shape: Polygon
    force: float
    name: str = "load"


@dataclass(frozen=True)
class Line:
    """A load along a line: a wall at its true line, the uplift along its plate.

    line: its points, in feet; load: plf, down; name: as it is shown.
    """

    line: Points
    load: float
    name: str = "wall"


@dataclass(frozen=True)
class Area:
    """A load spread over a part of the plan, or over all of it.

    load: psf, down; shape: polygon in feet, None for the whole slab; name: as it is shown.
    """

    load: float
    shape: Polygon | None = None
    name: str = "stored goods"


Load: TypeAlias = Patch | Line | Area


def amount(load: Load) -> float:
    """How much of a load there is, in the unit of its kind; below 0 where it lifts."""
    return load.force if isinstance(load, Patch) else load.load


def place(load: Load) -> Hashable:
    """Kind and place of a load: all of it but its amount."""
    return type(load), load.line if isinstance(load, Line) else load.shape


@dataclass(frozen=True)
class Case:
    """What acts together.

    loads: all but the concrete's own weight; own_weight: how much of it counts (0.6 in a combination
    that lifts); warmer_top: how much warmer the top is than the bottom, degrees Fahrenheit; expansion:
    of the concrete, for each degree Fahrenheit; name: as it is shown.
    """

    name: str
    loads: tuple[Load, ...] = ()
    own_weight: float = 1.0
    warmer_top: float = 0.0
    expansion: float = 5.5e-6


def print_at(x: float, y: float, force: float, area: float, h: float, name: str = "wheel") -> Patch:
    """A square print about a point, of the size that thin-plate theory may use.

    x, y: center, ft; force: lbf; area: of the print, in.2; h: thickness under it, in.; name: as it is
    shown. Right under a small print the thin plate overstates the stress. Westergaard's remedy is a
    circle of radius b = sqrt(1.6 a^2 + h^2) - 0.675 h in place of a, where a < 1.724 h; the square
    here has the area of that circle.
    """
    a = math.sqrt(area / math.pi)
    b = math.sqrt(1.6 * a**2 + h**2) - 0.675 * h if a < 1.724 * h else a
    half = math.sqrt(math.pi) * b / 24
    return Patch(box(x - half, y - half, x + half, y + half), force, name)


def force_on(load: Load, shape: Polygon, slab: Polygon) -> float:
    """What of a load stands on a part of the plan, lbf. shape: that part; slab: all concrete, ft."""
    if isinstance(load, Patch):
        return float(
            load.force * load.shape.intersection(shape).area / load.shape.intersection(slab).area
        )
    if isinstance(load, Line):
        return float(load.load * LineString(load.line).intersection(shape).length)
    part = shape if load.shape is None else load.shape.intersection(shape)
    return float(load.load * part.area)


def moved(load: Patch, x: float, y: float, size: float = 1.0) -> Patch:
    """The same print elsewhere. load: a Patch; x, y: its new center, ft; size: a factor on its sides."""
    at = load.shape.centroid
    shape = scale(translate(load.shape, x - at.x, y - at.y), size, size, origin=(x, y))
    return Patch(shape, load.force, load.name)


def joint_spring(efficiency: float, k: float, reach: float) -> float:
    """The shear spring of a joint that passes on a share of the deflection, psi.

    efficiency: deflection of the unloaded side over that of the loaded side, above 0 and below 1;
    k: pci; reach: radius of relative stiffness, in. By Crovetti's fit LTE = 1 / (1 + 1.2 (q / (k l))^-0.849),
    from memory; the tests set it beside the plate.

    Percentages of joints mean two things. This one is by deflection. The 25 percent of the design
    manuals is the share of the free edge's stress that the joint takes off: a joint without that
    reserve is a free edge, and one that equals out both sides takes off up to 50 percent.
    """
    if not 0 < efficiency < 1:
        raise PlateError(f"joint: efficiency is {efficiency:g}; it must be above 0 and below 1.")
    return k * reach * ((1 / efficiency - 1) / 1.2) ** (-1 / 0.849)

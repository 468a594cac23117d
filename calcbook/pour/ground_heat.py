"""Heat in one dimension through soil, stone and slab: the solver alone.

Finite volumes, implicit in time (backward Euler). Only the top cell's link to the weather changes from step to
step, so the system is inverted once and each sweep corrects the inverse for that one entry (Sherman and Morrison),
for many draws side by side. Plain SI numbers inside: metres, seconds, kelvins, watts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np

from calcbook.basis.units import number_in, unit
from calcbook.concrete.hydration import T_HYDRATION, degree_of_hydration, hydration_heat
from calcbook.concrete.maturity import GAS_CONSTANT, maturity_rate
from calcbook.pour.surface import radiation_coefficient

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from calcbook.concrete.hydration import Mix

HOUR = 3600.0
NEW = 4  # steps after the start in which temperatures bend too much to be foreseen
_Known: TypeAlias = "tuple[NDArray, NDArray]"  # temperatures of the cells, and of the outer surface


@dataclass(frozen=True)
class Layer:
    """A layer: thickness m, conductivity W/(m K), density kg/m3, specific heat J/(kg K).

    cells: how many; growth: each cell's thickness over the one above it.
    """

    name: str
    thickness: float
    conductivity: float
    density: float
    specific_heat: float
    cells: int
    growth: float = 1.0

    def edges(self) -> NDArray:
        """Depths of the cells' faces below the layer's top, m."""
        sizes = self.growth ** np.arange(self.cells)
        return self.thickness * np.concatenate([[0.0], np.cumsum(sizes)]) / sizes.sum()


@dataclass(frozen=True)
class Grid:
    """Cells of all layers, from the top down."""

    layers: tuple[Layer, ...]
    edges: np.ndarray
    capacity: np.ndarray  # J/(m2 K) of each cell
    half: np.ndarray  # m2 K/W from a cell's middle to either face
    first: int  # cells of the first layer, the slab

    @property
    def centers(self) -> NDArray:
        """Depth of each cell's middle, m."""
        return (self.edges[1:] + self.edges[:-1]) / 2

    @property
    def sizes(self) -> NDArray:
        """Thickness of each cell of the first layer, m."""
        return np.diff(self.edges[: self.first + 1])

    @property
    def between(self) -> NDArray:
        """Conductances between neighbouring cells, W/(m2 K)."""
        return 1 / (self.half[1:] + self.half[:-1])


def grid_of(*layers: Layer) -> Grid:
    """A Grid from layers, the top one first."""
    places, top = [np.zeros(1)], 0.0
    for layer in layers:
        places.append(top + layer.edges()[1:])
        top += layer.thickness
    edges = np.concatenate(places)
    of = [layer for layer in layers for _ in range(layer.cells)]
    size = np.diff(edges)
    capacity = size * np.array([layer.density * layer.specific_heat for layer in of])
    half = size / 2 / np.array([layer.conductivity for layer in of])
    return Grid(tuple(layers), edges, capacity, half, layers[0].cells)


@dataclass(frozen=True)
class Outside:
    """What the surface meets, at every step (arrays over steps, or draws x steps).

    air, sky: K; film: convection, W/(m2 K); gain: absorbed sun less other losses, W/m2; cover:
    resistance of the blanket, m2 K/W; emissivity: of the outer surface (0 leaves radiation out).
    drying: a function (surface K, step) -> W/m2 that evaporation takes, up to the step wet; the surface may be rows of draws.
    """

    air: np.ndarray
    sky: np.ndarray
    film: np.ndarray
    gain: np.ndarray
    cover: np.ndarray
    emissivity: float = 0.9
    drying: Callable[[NDArray, int], NDArray | float] | None = None
    wet: float = np.inf


class Cure:
    """The hydration of the slab's cells: equivalent age (h), and the heat of each step."""

    def __init__(self, mix: Mix, shape: tuple[int, int], age: float) -> None:
        self.curve = dict(alpha_u=mix.alpha_u, tau=number_in(mix.tau, "h"), beta=mix.beta)
        self.energy = dict(
            E_a=number_in(mix.E_a, "J/mol"),
            T_ref=number_in(T_HYDRATION, "K"),
            R=number_in(GAS_CONSTANT, "J/mol/K"),
        )
        self.full = hydration_heat(1.0, mix.H_u, mix.C_c).m_as("joule/meter**3")
        self.age = np.full(shape, max(age, 1e-3))
        self.degree = self._degree(self.age)

    def _degree(self, age: NDArray) -> NDArray:
        return degree_of_hydration.body(t_e=age, **self.curve)

    def after(self, temperature: NDArray, hours: float) -> tuple[NDArray, NDArray]:
        """Equivalent age and degree of hydration after some hours at a temperature, K (not yet kept)."""
        age = self.age + maturity_rate.body(T=temperature, **self.energy) * hours
        return age, self._degree(age)

    def keep(self, age: NDArray, degree: NDArray) -> None:
        """Keep the age (h) and the degree of hydration that a step ended with."""
        self.age, self.degree = age, degree


@dataclass(frozen=True)
class March:
    """Temperatures by step, K (draws x steps, or draws x steps x cells), and the energy account.

    hours; top: the slab's surface, under any blanket; middle, bottom: of the first layer; cells:
    all of them; outer: of the blanket or bare slab; energy: J/m2 over the whole run: in through
    the top and the base, from hydration, and stored.
    """

    hours: np.ndarray
    top: np.ndarray
    middle: np.ndarray
    bottom: np.ndarray
    outer: np.ndarray
    cells: np.ndarray
    degree: np.ndarray | None
    energy: dict[str, NDArray]

    @property
    def imbalance(self) -> float:
        """What the energy account is off by, as a share of all that moved."""
        e = self.energy
        moved = (
            np.abs(e["top"]) + np.abs(e["base"]) + np.abs(e["hydration"]) + np.abs(e["stored"]) + 1.0
        )
        return np.max(np.abs(e["top"] + e["base"] + e["hydration"] - e["stored"]) / moved)


def march(
    grid: Grid,
    start: NDArray,
    outside: Outside,
    step: float,
    cure: Cure | None = None,
    base: float | None = None,
) -> March:
    """Run the temperatures through the steps of ``outside``.

    grid: Grid; start: K by cell (cells, or draws x cells); outside: Outside, whose first step is
    the start; step: hours; cure: Cure of the first layer's cells; base: temperature held at the
    underside, K, or None for no heat through it. Returns a March.
    """
    state = np.array(np.atleast_2d(start), float)
    draws = len(state)
    air, sky, film, gain, cover = np.broadcast_arrays(
        *(_columns(getattr(outside, n), draws) for n in ("air", "sky", "film", "gain", "cover"))
    )
    system = _System(grid, step, base, cure)
    inward = 1 / (grid.half[0] + cover)
    met = zip(
        range(len(air)), sky, film, film * air + gain, inward, 1 + inward * system.top[0], strict=True
    )
    next(met)  # the start
    record = _Record(system, state, cure)
    known = last = state, state[:, 0]
    for now, bends in zip(met, _bends(cover)[1:], strict=True):
        likely = _foreseen(known, last, bends)
        state, outer, flux = _advance(system, state, likely, now, outside, cure, step)
        known, last = (state, outer), known
        record.add(state, outer, flux)
    return record.finish(step, cure)


def _bends(cover: NDArray) -> NDArray:
    """Steps in which temperatures are not foreseen, by draw: at first, and as a blanket comes or goes and just after."""
    bends: NDArray = np.diff(cover, axis=0, prepend=cover[:1]) != 0
    bends[1:] |= bends[:-1]
    bends[:NEW] = True
    return bends


def _foreseen(known: _Known, last: _Known, bends: NDArray) -> _Known:
    """What a step may end with: what the last two lead to; where temperatures bend, what stood before it."""
    if not bends.any():
        return 2 * known[0] - last[0], 2 * known[1] - last[1]
    if bends.all():
        return known
    on = ~bends
    return known[0] + on[:, None] * (known[0] - last[0]), known[1] + on * (known[1] - last[1])


def _columns(values: NDArray, draws: int) -> NDArray:
    """Values as steps x draws."""
    values = np.atleast_2d(np.asarray(values, float))
    return np.broadcast_to(values, (draws, values.shape[1])).T


class _System:
    """The equations of one step, inverted for a top cell that no heat leaves upward."""

    def __init__(self, grid: Grid, step: float, base: float | None, cure: Cure | None) -> None:
        self.grid, self.base = grid, base
        self.per_hour = grid.sizes / (step * HOUR)  # heat by area and time of a heat by volume
        self.per_step = grid.capacity / (step * HOUR)
        self.base_link = 0.0 if base is None else 1 / grid.half[-1]
        diagonal = self.per_step.copy()
        diagonal[:-1] += grid.between
        diagonal[1:] += grid.between
        diagonal[-1] += self.base_link
        between = np.diag(grid.between, 1)
        self.inverse = np.linalg.inv(np.diag(diagonal) - between - between.T)
        self.top = self.inverse[0]
        self._kept = (
            self.per_step[:, None] * self.inverse
        )  # what is left in each cell of what was in each
        self._held = 0.0 if base is None else self.base_link * base * self.inverse[-1]
        made = 0.0 if cure is None else cure.full * self.per_hour[:, None]
        self.warmth = made * self.inverse[: grid.first]  # by the hydration of each cell of the slab

    def closed(self, state: NDArray) -> NDArray:
        """Temperatures after a step in which no heat passes the top and none is made."""
        closed: NDArray = state @ self._kept + self._held
        return closed


def _advance(
    system: _System,
    state: NDArray,
    likely: _Known,
    now: tuple[Any, ...],
    outside: Outside,
    cure: Cure | None,
    step: float,
) -> tuple[NDArray, NDArray, NDArray]:
    """One step: sweeps over the parts that depend on the new temperatures.

    likely: the temperatures that it may end with, and the outer surface's; now: number of the step, sky, film, flux that
    is given whatever the surface does, conductance from the top cell to the outer surface, and 1 + that times what the
    top cell warms by a flux. Returns temperatures, outer surface, flux into the top.
    """
    n, sky, film, given, inward, spread = now
    drying = outside.drying if n <= outside.wet else None
    first, top = system.grid.first, system.top
    (new, outer), closed = likely, system.closed(state)
    for _ in range(2 if n < NEW else 1):
        radiant = _radiant(outer, sky, outside.emissivity)
        drive, free = given + radiant * sky, film + radiant
        if drying:  # it follows the surface, as radiation does: by so much more for a degree
            taken, warmer = np.broadcast_to(drying(np.stack([outer, outer + 1.0]), n), (2, len(outer)))
            more = warmer - taken
            drive, free = drive - taken + more * outer, free + more
        warmed = closed
        if cure is not None:
            age, degree = cure.after(new[:, :first], step)
            warmed = closed + (degree - cure.degree) @ system.warmth
        flux = inward * (drive - free * warmed[:, 0]) / (inward + free * spread)
        new = warmed + flux[:, None] * top
        outer = new[:, 0] + flux / inward
    if cure is not None:
        cure.keep(age, degree)  # of the last sweep
    return new, outer, flux


def _radiant(outer: NDArray, sky: NDArray, emissivity: float) -> NDArray:
    if emissivity == 0:
        return np.zeros_like(outer)
    return radiation_coefficient.body(T_s=outer, T_sky=sky, eps=emissivity, sigma=_SIGMA)


_SIGMA = radiation_coefficient.defaults["sigma"].m_as(unit("W/m2/K4"))


class _Record:
    """Keeps what the run shows."""

    def __init__(self, system: _System, state: NDArray, cure: Cure | None) -> None:
        self.system, self.grid = system, system.grid
        self.steps = [(state, state[:, 0], np.zeros(len(state)))]
        self.begun = 0.0 if cure is None else cure.degree

    def add(self, state: NDArray, outer: NDArray, flux: NDArray) -> None:
        self.steps.append((state, outer, flux))

    def finish(self, step: float, cure: Cure | None) -> March:
        grid, first = self.grid, self.grid.first
        self.cells, self.outer, self.flux = (
            np.stack(kept).swapaxes(0, 1) for kept in zip(*self.steps, strict=True)
        )
        slab = self.cells[:, :, :first]
        top = slab[:, :, 0] + self.flux * grid.half[0]
        bottom = slab[:, :, -1]
        if first < self.cells.shape[2]:
            near, far = grid.half[first - 1], grid.half[first]
            bottom = (far * bottom + near * self.cells[:, :, first]) / (near + far)
        hours = np.arange(self.cells.shape[1]) * step
        degree = None if cure is None else cure.degree
        return March(hours, top, _at_middle(grid, slab), bottom, self.outer, self.cells, degree,
                     self._energy(step, cure))  # fmt: skip

    def _energy(self, step: float, cure: Cure | None) -> dict[str, NDArray]:
        """Heat by area over the run, J/m2: the account that must close."""
        grid, system, seconds = self.grid, self.system, step * HOUR
        base = np.zeros(len(self.cells))
        if system.base is not None:
            base = np.sum(system.base_link * (system.base - self.cells[:, 1:, -1]), axis=1) * seconds
        hydration = np.zeros(len(self.cells))
        if cure is not None:
            hydration = cure.full * np.sum(grid.sizes * (cure.degree - self.begun), axis=1)
        stored = np.sum(grid.capacity * (self.cells[:, -1] - self.cells[:, 0]), axis=1)
        top = np.sum(self.flux[:, 1:], axis=1) * seconds
        return {"top": top, "base": base, "hydration": hydration, "stored": stored}


def _at_middle(grid: Grid, slab: NDArray) -> NDArray:
    """Temperature at half the first layer's depth, by a line between the cells around it."""
    depth, centers = grid.edges[grid.first] / 2, grid.centers[: grid.first]
    after = int(np.searchsorted(centers, depth))
    if after == 0 or after == grid.first:
        return slab[:, :, min(after, grid.first - 1)]
    part = (depth - centers[after - 1]) / (centers[after] - centers[after - 1])
    return slab[:, :, after - 1] + part * (slab[:, :, after] - slab[:, :, after - 1])

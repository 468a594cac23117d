"""The slab under the weather of a job: temperatures hour by hour, for the sunny and the shaded side."""

import functools
from dataclasses import dataclass

import numpy as np

from calcbook.formula import cite, procedure, to_coherent
from calcbook.ground_heat import Cure, Layer, March, Outside, grid_of, march
from calcbook.hydration import Mix, mix_of
from calcbook.mix import cement_content, mixing_water, w_cm_for
from calcbook.schema_pour import clock_hours
from calcbook.sun import clock_offset, in_shade, sky_and_sun
from calcbook.surface import (
    convection_coefficient,
    evaporation_heat,
    sky_emissivity,
    sky_temperature,
)
from calcbook.table import lookup
from calcbook.units import Q, unit, ureg
from calcbook.weather import dew_point, evaporation_menzel, surface_wind

STEP = 1 / 4  # hours
DEEP = 2.0  # metres of soil in the model
LONGEST = 7 * 24.0  # hours
_RSI = ureg.Unit("meter**2*kelvin/watt")


class NoWeather(ValueError):
    """The job has no date or forecast; the message says what to add."""


@functools.lru_cache(maxsize=8)
def mix_for(job):
    """The hydration parameters of a job's concrete: given figures first, else ACI 211.1."""
    concrete = job.concrete
    air = "yes" if concrete.air.m_as("") > 0 else "no"
    strength = min(max(concrete.strength.m_as("psi"), 2000), 5000 if air == "yes" else 6000)
    ratio = w_cm_for(Q(strength, "psi"), air) if concrete.w_cm is None else concrete.w_cm.m_as("")
    content = concrete.cement_content
    if content is None:
        slump = min(max(concrete.slump.m_as("inch"), 1.5), 6.5)
        content = cement_content(mixing_water(Q(slump, "in"), concrete.aggregate, air), ratio)
    return mix_of(concrete.cement, ratio, content, p_FA=concrete.fly_ash.m_as(""))


@dataclass(frozen=True)
class Site:
    """The weather at a slab on the steps of the model, from the first truck on.

    hours; air, sky: K; humidity; wind: mph near the slab; sun, diffuse: W/m2; cloud; begin: clock
    time of hour 0; ground: K; place_known: False where no latitude was given, and sun is left out.
    """

    begin: object
    hours: np.ndarray
    air: np.ndarray
    sky: np.ndarray
    humidity: np.ndarray
    wind: np.ndarray
    sun: np.ndarray
    diffuse: np.ndarray
    cloud: np.ndarray
    ground: float
    place_known: bool

    def sun_on(self, side, pour):
        """Sun on one side: "sun" all of it; "shade" only the diffuse part while it lies in shade."""
        if side == "sun":
            return self.sun
        dark = in_shade(
            self.begin, self.hours, clock_hours(pour.shade_from), clock_hours(pour.shade_to)
        )
        return np.where(dark, self.diffuse, self.sun)


@functools.lru_cache(maxsize=8)
def site_of(job):
    """The Site of a job. Raises NoWeather, or ForecastError where the rows are too short."""
    pour = job.pour
    forecast, begin = pour.weather(), pour.moment()
    if forecast is None or begin is None:
        missing = (
            "pour.date" if begin is None else "[[pour.forecast]] rows (time, air, humidity, wind, sky)"
        )
        raise NoWeather(f"give {missing} in the job file to see set, drying and the nights")
    lead = forecast.since(begin)
    last = min(forecast.hours[-1] - lead, LONGEST)
    hours = np.arange(0, last + 1e-9, STEP)
    at = lead + hours
    air = _kelvin(forecast.at("air_F", at))
    humidity = forecast.at("humidity", at)
    wind = surface_wind.bulk(V=forecast.at("wind_mph", at), z_m=pour.wind_height)
    sun, diffuse, cloud, known = _sky(pour, forecast, at)
    dew = _from_celsius(dew_point.bulk(T=air - 273.15, RH=humidity))
    emissivity = sky_emissivity.bulk(T_d=dew, N=np.clip(cloud, 0, 1))
    first_day = forecast.hours <= 24
    ground = _kelvin(np.mean(forecast.air_F[first_day]))
    if pour.soil_temperature is not None:
        ground = pour.soil_temperature.m_as("kelvin")
    return Site(begin, hours, air, sky_temperature.bulk(T_a=air, eps_sky=emissivity), humidity, wind,
                sun, diffuse, cloud, float(ground), known)  # fmt: skip


def _kelvin(fahrenheit):
    return (np.asarray(fahrenheit) + 459.67) / 1.8


def _from_celsius(celsius):
    return celsius + 273.15


def _sky(pour, forecast, at):
    """(sun, diffuse, cloud, place known) at hours since the forecast's first row."""
    if pour.latitude is None or pour.longitude is None:
        cloud = forecast.at("sky", at) if not np.isnan(forecast.sky).any() else np.zeros_like(at)
        return np.zeros_like(at), np.zeros_like(at), cloud, False
    longitude = pour.longitude.m_as("degree")
    given = forecast.offset if pour.clock_offset is None else pour.clock_offset.m_as("hour")
    grid = sky_and_sun(
        forecast, pour.latitude.m_as("degree"), longitude, clock_offset(longitude, given), STEP
    )
    return (*(np.interp(at, grid[0], column) for column in grid[1:]), True)


@dataclass(frozen=True)
class Cover:
    """What lies on the slab: blanket by its name in the table, and its hours on and off."""

    blanket: str = "none"
    on: float = np.inf
    off: float = np.inf

    @property
    def row(self):
        return lookup("blankets", name=self.blanket)

    @property
    def resistance(self):
        """R of the cover, as a quantity."""
        return Q(self.row["R_per_inch"] * self.row["thickness_in"], "R")

    def at(self, hours):
        return (hours >= self.on) & (hours < self.off)


BARE = Cover()


def grid_for(job, fine=1):
    """The layers of a job: slab, stone, two metres of soil. fine: cells for each usual cell."""
    layers = [_layer("concrete", job.slab.thickness, 10 * fine)]
    if job.base.thickness.m > 0:
        layers.append(_layer("stone base", job.base.thickness, 4 * fine))
    layers.append(_layer(job.pour.soil, Q(DEEP / 0.3048, "ft"), 14 * fine, 1.3 ** (1 / fine)))
    return grid_of(*layers)


def _layer(name, thickness, cells, growth=1.0):
    row = lookup("materials", name=name)
    return Layer(
        name, thickness.m_as("meter"), row["k"], row["density"], row["specific_heat"], cells, growth
    )


@dataclass(frozen=True)
class Case:
    """One surface and what lies on it: side "sun" or "shade", and a Cover."""

    side: str = "sun"
    cover: Cover = BARE


@dataclass(frozen=True)
class Week:
    """The slab's temperatures in each case (or each draw of one case), with what made them."""

    march: March
    site: Site
    cases: tuple
    mix: Mix
    wet_until: float

    @property
    def hours(self):
        return self.march.hours

    def lowest_top(self, case=0):
        """(K, hour) of the coldest moment of the surface."""
        n = int(np.argmin(self.march.top[case]))
        return self.march.top[case, n], self.hours[n]

    def __str__(self):
        coldest, hour = self.lowest_top()
        return (
            f"surface coldest {coldest * 1.8 - 459.67:.1f} °F at {hour:.1f} h, warmest "
            f"{self.march.top[0].max() * 1.8 - 459.67:.1f} °F; energy account off by {self.march.imbalance:.1e}"
        )


def run(job, cases=(Case(),), wet_until=0.0, until=LONGEST, site=None, placed=None, fine=1):
    """The slab's temperatures, hour by hour: a Week with one row for each case.

    cases: Case by Case; wet_until: hour until which the surface dries freely; until: hours to
    run; site: another Site than the job's, whose arrays may be draws x hours (then one case);
    placed: concrete as delivered, K, for each draw; fine: grid and step refined by this factor.
    """
    site = site or site_of(job)
    hours = np.arange(0, min(until, site.hours[-1]) + 1e-9, STEP / fine)
    at = {
        n: _interpolated(hours, site.hours, getattr(site, n))
        for n in ("air", "sky", "humidity", "wind")
    }
    concrete = lookup("materials", name="concrete")
    gain = np.array([_gain(c, site, job.pour, hours, concrete["absorptivity"]) for c in cases])
    cover = np.array([c.cover.at(hours) * c.cover.resistance.m_as(_RSI) for c in cases])
    film = convection_coefficient.bulk(V=at["wind"] * Q(1, "mph").m_as("meter/second"))
    drying = _drying(at, hours, min(wet_until, *(c.cover.on for c in cases)))
    outside = Outside(at["air"], at["sky"], film, gain, cover, concrete["emissivity"], drying)
    mix, grid = mix_for(job), grid_for(job, fine)
    draws = len(at["air"]) if at["air"].ndim > 1 else len(cases)
    cure = Cure(mix, (draws, grid.first), job.pour.haul.m_as("hour") / job.pour.slowing.m_as(""))
    start = np.full((draws, len(grid.capacity)), site.ground)
    fresh = job.pour.concrete_temperature.m_as("kelvin") if placed is None else np.c_[placed]
    start[:, : grid.first] = fresh
    result = march(grid, start, outside, STEP / fine, cure, site.ground)
    return Week(result, site, tuple(cases), mix, wet_until)


def _gain(case, site, pour, hours, bare):
    """Sun that the outer surface takes in, W/m2."""
    share = np.where(case.cover.at(hours), case.cover.row["absorptivity"], bare)
    return share * _interpolated(hours, site.hours, site.sun_on(case.side, pour))


def _interpolated(hours, known, values):
    if np.ndim(values) > 1:
        return np.array([np.interp(hours, known, row) for row in values])
    return np.interp(hours, known, values)


def _drying(at, hours, wet_until):
    """The heat that drying takes, as a function of surface temperature and step."""
    if wet_until <= 0:
        return None
    latent = evaporation_heat.signature.parameters["L"].default
    heat = to_coherent(latent.m_as(unit("kJ/kg")), "kJ/kg")
    watt = 1 / to_coherent(1.0, "W/m2")
    wind = to_coherent(np.minimum(at["wind"], 100), "mph")

    def drying(surface, n):
        if hours[n] > wet_until:
            return 0.0
        rate = evaporation_menzel.body(
            T_c=surface, T_a=at["air"][..., n], RH=at["humidity"][..., n], wind=wind[..., n]
        )
        return evaporation_heat.body(W=rate, L=heat) * watt

    return drying


@procedure(
    "Temperatures of the slab",
    cite(
        "Carslaw and Jaeger", "equation of conduction, in finite volumes; checked against its solutions"
    ),
    "One dimension through air, blanket, slab, stone and soil, with wind, sun, night sky, drying and "
    "the heat of hydration, a quarter of an hour a step; the energy account must close.",
)
def slab_temperature(job, side="sun"):
    """The slab's temperatures from the first truck on, with the job's cover: a Week.

    job: a Job with a date and forecast rows; side: "sun" or "shade". The cover goes on when
    finishing ends. Edges and corners lose more than this model of the middle. Raises NoWeather.
    """
    from calcbook.pour_plan import cover_of, plan_of

    plan = plan_of(job)
    return run(job, [Case(side, cover_of(job, plan))], plan.finished[1])

"""The chapters by their names, the formulas of the book, and how one formula is found by its name."""

from __future__ import annotations

import importlib
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from calcbook.basis.formula import Entry

# name of a chapter, in the order of the printout -> the module that holds it
SUBJECTS = {
    "loads": "calcbook.loads.chapter",
    "slab": "calcbook.slab.check",
    "pads": "calcbook.footings.pad_check",
    "edges": "calcbook.footings.edges",
    "plate": "calcbook.plate.chapter",
    "joints": "calcbook.joints.layout",
    "reinforcement": "calcbook.reinforcement.choice",
    "volume": "calcbook.concrete.volume",
    "base": "calcbook.ground.base",
    "retarder": "calcbook.ground.retarder",
    "bolts": "calcbook.bolts.design",
    "mix": "calcbook.pour.mix_order",
    "pour_day": "calcbook.pour.day",
    "first_week": "calcbook.pour.first_week",
    "go": "calcbook.pour.go_no_go",
    "laws": "calcbook.pour.laws",
}

# chapters that take long and buy nothing
LATE = ("plate",)

# what a quote, an order and a comparison of many jobs do without: those, and one that neither buys nor checks
UNPRICED = (*LATE, "laws")

# chapters about an order of concrete and its day: slabs that share the order share them
OF_ORDER = ("mix", "pour_day", "go", "laws")

# every module that holds formulas, for the registry behind `calcbook value`
FORMULA_MODULES = (
    *SUBJECTS.values(),
    "calcbook.plan.dug",
    "calcbook.loads.statics",
    "calcbook.slab.westergaard",
    "calcbook.slab.together",
    "calcbook.slab.with_sun",
    "calcbook.slab.properties",
    "calcbook.slab.wall_load",
    "calcbook.slab.steel",
    "calcbook.slab.where",
    "calcbook.footings.plain",
    "calcbook.footings.footing",
    "calcbook.footings.eccentric",
    "calcbook.footings.pads",
    "calcbook.footings.uplift",
    "calcbook.footings.reinforced",
    "calcbook.footings.slab_steel",
    "calcbook.joints.spacing",
    "calcbook.joints.dividing",
    "calcbook.joints.between",
    "calcbook.concrete.beside",
    "calcbook.concrete.raised",
    "calcbook.ground.stone",
    "calcbook.reinforcement.edge_bars",
    "calcbook.reinforcement.mesh",
    "calcbook.reinforcement.fiber",
    "calcbook.concrete.mix",
    "calcbook.pour.alone",
    "calcbook.pour.covering",
    "calcbook.pour.weather",
    "calcbook.pour.surface",
    "calcbook.pour.sky",
    "calcbook.pour.sun_position",
    "calcbook.pour.sun",
    "calcbook.concrete.maturity",
    "calcbook.concrete.hydration",
    "calcbook.concrete.setting",
    "calcbook.concrete.curing",
    "calcbook.concrete.crew",
    "calcbook.pour.slab_heat",
    "calcbook.pour.weather_risk",
    "calcbook.weigh.risk",
    "calcbook.weigh.odds",
    "calcbook.basis.next_job",
    "calcbook.records.learned",
    "calcbook.records.calibrate",
    "calcbook.records.strength",
    "calcbook.records.scatter",
    "calcbook.records.noted",
)


def load_formulas() -> dict[str, Entry]:
    """Import every formula module and return the registry of formulas."""
    from calcbook.basis.formula import FORMULAS

    for module in FORMULA_MODULES:
        importlib.import_module(module)
    return FORMULAS


def find_formula(name: str) -> Entry | None:
    """One formula by its name, importing no more than the module it stands in; None without it."""
    from calcbook.basis.formula import FORMULAS

    package = Path(__file__).parents[1]
    for path in sorted(package.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        named = f"def {name}(" in text or f'"{name}"' in text
        if named and "from calcbook.basis.formula import" in text:
            importlib.import_module(
                ".".join(("calcbook", *path.relative_to(package).with_suffix("").parts))
            )
            if name in FORMULAS:
                return FORMULAS[name]
    return load_formulas().get(name)

"""calcbook: engineering calculations for the builder who pours slabs on grade.

The parts are loaded when they are first asked for, so that importing the package is cheap.
"""

from __future__ import annotations

import importlib

TYPE_CHECKING = False  # a type checker takes it for true; loading the module typing would cost time
if TYPE_CHECKING:
    from calcbook.book import Book as Book
    from calcbook.book import load_formulas as load_formulas
    from calcbook.calculation import Calculation as Calculation
    from calcbook.job import Job as Job
    from calcbook.job import JobError as JobError
    from calcbook.units import Q as Q
    from calcbook.units import feet_inches as feet_inches
    from calcbook.units import read as read
    from calcbook.units import show as show

__version__ = "0.1.0"

_PUBLIC = {
    "Book": "calcbook.book",
    "Job": "calcbook.job",
    "JobError": "calcbook.job",
    "Calculation": "calcbook.calculation",
    "Q": "calcbook.units",
    "read": "calcbook.units",
    "show": "calcbook.units",
    "feet_inches": "calcbook.units",
    "load_formulas": "calcbook.book",
}
__all__ = ["__version__", *_PUBLIC]


def __getattr__(name: str) -> object:
    if name in _PUBLIC:
        return getattr(importlib.import_module(_PUBLIC[name]), name)
    raise AttributeError(f"module 'calcbook' has no attribute {name!r}")

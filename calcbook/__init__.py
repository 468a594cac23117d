"""calcbook: engineering calculations for the builder who pours slabs on grade.

>>> from calcbook import Book, Job, Q, formulas
>>> print(formulas.slab_volume("1120 ft2", "5 in"))
17.28 cubic_yard
>>> job = Job({"slab": {"length": "24 ft", "width": "30 ft", "thickness": "5 in"}})
>>> job.plan.area == Q(720, "ft2")
True
>>> Book(job).quote.complete  # no price is given yet
False

The parts are loaded when they are first asked for, so that importing the package is cheap.
"""

from __future__ import annotations

import importlib

TYPE_CHECKING = False  # a type checker takes it for true; loading the module typing would cost time
if TYPE_CHECKING:
    from calcbook.basis.calculation import Calculation as Calculation
    from calcbook.basis.reading import read as read
    from calcbook.basis.showing import feet_inches as feet_inches
    from calcbook.basis.showing import show as show
    from calcbook.basis.units import Q as Q
    from calcbook.book.chapters import Book as Book
    from calcbook.book.formulas import formulas as formulas
    from calcbook.book.registry import load_formulas as load_formulas
    from calcbook.job.file import Job as Job
    from calcbook.job.file import JobError as JobError

__version__ = "0.1.0"

_PUBLIC = {
    "Book": "calcbook.book.chapters",
    "Job": "calcbook.job.file",
    "JobError": "calcbook.job.file",
    "Calculation": "calcbook.basis.calculation",
    "Q": "calcbook.basis.units",
    "read": "calcbook.basis.reading",
    "show": "calcbook.basis.showing",
    "feet_inches": "calcbook.basis.showing",
    "formulas": "calcbook.book.formulas",
    "load_formulas": "calcbook.book.registry",
}
__all__ = ["__version__", *_PUBLIC]


def __getattr__(name: str) -> object:
    if name in _PUBLIC:
        return getattr(importlib.import_module(_PUBLIC[name]), name)
    raise AttributeError(f"module 'calcbook' has no attribute {name!r}")

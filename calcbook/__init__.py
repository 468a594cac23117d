"""calcbook: engineering calculations for the builder who pours slabs on grade.

The parts are loaded when they are first asked for, so that importing the package is cheap.
"""

import importlib

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


def __getattr__(name):
    if name in _PUBLIC:
        return getattr(importlib.import_module(_PUBLIC[name]), name)
    raise AttributeError(f"module 'calcbook' has no attribute {name!r}")

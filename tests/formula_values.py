"""Sample values for every formula of the book, inside its limits."""

import inspect

from calcbook.basis.formula import Formula
from calcbook.basis.units import Q
from calcbook.book.registry import load_formulas

FORMULAS = {name: f for name, f in load_formulas().items() if isinstance(f, Formula)}


def inside(spec, share):
    """A value inside an argument's limits: ``share`` of the way from its lowest to its highest."""
    if spec.choices is not None:
        return spec.choices[0]
    low = spec.low if spec.low is not None else spec.above
    high = spec.high if spec.high is not None else spec.below
    if spec.valid is not None:
        low, high = spec.valid
    if low is None and high is None:
        low, high = 1.0, 5.0
    elif high is None:
        high = 2 * abs(low) + 5
    elif low is None:
        low = high - 5
    value = low + share * (high - low)
    return value if spec.unit == "1" else Q(value, spec.unit)


def bound(f, share=0.37):
    """Checked arguments for a formula: its own example where it needs one, else from its limits."""
    defaults = {
        n: p.default
        for n, p in f.signature.parameters.items()
        if p.default is not inspect.Parameter.empty
    }
    values = {
        name: defaults.get(name, inside(spec, share + 0.11 * i % 0.5))
        for i, (name, spec) in enumerate(f.arguments.items())
    }
    return f.bind(**values)

"""Reading the arguments of a procedure as a formula reads its own: text or quantities, checked."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from calcbook.basis.formula import FormulaError
from calcbook.basis.reading import read
from calcbook.basis.showing import show
from calcbook.basis.units import UnitError, unit

if TYPE_CHECKING:
    from calcbook.basis.formula import Argument
    from calcbook.basis.units import Quantity


def quantity(procedure: str, name: str, value: Any, spec: Argument) -> Quantity:
    """An argument as a quantity in its declared unit (a plain number where that is "1").

    procedure, name: for the message; value: a quantity, a text, or a number without dimension;
    spec: the Argument. Raises FormulaError where it cannot be read or breaks a limit.
    """
    try:
        found = read(value, spec.unit).to(unit(spec.unit))
    except UnitError as error:
        raise FormulaError(f"{procedure}: {name} ({spec.meaning}): {error}") from None
    if spec.breaks(found.magnitude):
        raise FormulaError(
            f"{procedure}: {name} ({spec.meaning}) is {show(found, spec.unit)}; "
            f"it must be {spec.allowed() or 'a finite number'}"
        )
    return found.m_as("") if spec.unit == "1" else found


def quantities(procedure: str, specs: dict[str, Argument], **values: Any) -> Any:
    """Several arguments at once, by name. Returns a dictionary."""
    return {name: quantity(procedure, name, value, specs[name]) for name, value in values.items()}


def reason(error: Exception) -> str:
    """The words of a FormulaError without the name of the formula, as a sentence for a report."""
    words = str(error).rpartition(": ")[2]
    return f"{words[0].upper()}{words[1:]}."

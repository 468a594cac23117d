"""formulas.md: what every formula takes and gives, with units, limits and source.

Written from the formulas themselves by ``python -m calcbook.book.references``; a test keeps it true, so that no
limit, unit or source changes without being seen.
"""

from __future__ import annotations

import inspect
from typing import TYPE_CHECKING, Any

from calcbook.basis.formula import Choice, Formula
from calcbook.basis.units import Quantity
from calcbook.book.registry import load_formulas

if TYPE_CHECKING:
    from calcbook.basis.arguments import Argument

HEAD = """# Formulas

What every formula takes and gives. A value outside the limits is refused; one outside the range that the source
covers is worked out and flagged. `calcbook value NAME` runs one. This file is written by
`python -m calcbook.book.references`.
"""


def markdown() -> str:
    """The text of formulas.md."""
    entries = sorted(load_formulas().items())
    return HEAD + "".join(
        _entry(name, entry) for name, entry in entries if not isinstance(entry, Choice)
    )


def _entry(name: str, entry: Any) -> str:
    lines = [f"\n## {name}\n", f"{entry.title}. Source: {entry.source}.\n"]
    if isinstance(entry, Formula):
        takes = inspect.signature(entry.body).parameters
    else:
        takes = entry.signature.parameters
    for key, spec in entry.arguments.items():
        default = takes[key].default
        left_out = "" if default is inspect.Parameter.empty else f"; {_text(default)} where left out"
        lines.append(f"- `{key}`: {told(spec)}{left_out}")
    if entry.returns:
        lines.append(f"- gives {told(entry.returns)}")
    return "\n".join(lines) + "\n"


def told(spec: Argument) -> str:
    """What an argument means, with its unit, its limits and the range of its source."""
    words = f"{spec.meaning} ({spec.unit})" if spec.unit != "1" else spec.meaning
    if spec.choices:
        words += f"; {', '.join(spec.choices)}"
    if spec.allowed():
        words += f"; {spec.allowed()}"
    if spec.valid:
        words += f"; the source covers {' to '.join(map(spec.text, spec.valid))}"
    return words


def _text(value: Any) -> str:
    return f"{value:g~P}" if isinstance(value, Quantity) else str(value)

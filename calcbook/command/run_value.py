"""``calcbook value``: one formula evaluated, what it asks for, or the list of all."""

from __future__ import annotations

import difflib
import json
import warnings
from typing import TYPE_CHECKING, Any

from calcbook.job.files import JobError

if TYPE_CHECKING:
    from argparse import Namespace

    from calcbook.basis.formula import Entry


def run_value(arguments: Namespace) -> int:
    """Print a formula's value; without inputs, what it takes; without a name, every formula."""
    if arguments.list is not None or not arguments.name:
        words = " ".join(filter(None, (arguments.list, arguments.name, *arguments.inputs)))
        _print_list(words, arguments.json)
        return 0
    entry = _entry(arguments.name)
    inputs = dict(_pair(text) for text in arguments.inputs)
    answer: Any = _evaluated(entry, inputs) if inputs else _asked(arguments.name, entry)
    print(_json(answer.data()) if arguments.json else answer.text())
    return 0


def _print_list(words: str, as_json: bool) -> None:
    from calcbook.book.formulas import formulas, title
    from calcbook.book.registry import load_formulas

    known = load_formulas()
    titles = {name: title(known[name]) for name in formulas.search(words)}
    if not titles:
        raise JobError(f"no formula has {words!r} in its name or title; `calcbook value` lists all")
    print(
        _json(titles) if as_json else "\n".join(f"{name:<32} {told}" for name, told in titles.items())
    )


def _entry(name: str) -> Entry:
    from calcbook.book.registry import find_formula, load_formulas

    entry = find_formula(name)
    if entry is None:
        close = difflib.get_close_matches(name, load_formulas(), 3)
        hint = f"; did you mean {' or '.join(close)}?" if close else "; `calcbook value` lists all"
        raise JobError(f"there is no formula {name!r}{hint}")
    return entry


def _evaluated(entry: Entry, inputs: dict[str, str]) -> Any:
    from calcbook.command.value import evaluate

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # flags are part of the answer
        return evaluate(entry, inputs)


def _asked(name: str, entry: Entry) -> Any:
    from calcbook.command.asked import asked

    return asked(name, entry)


def _json(data: Any) -> str:
    return json.dumps(data, ensure_ascii=False, indent=2)


def _pair(text: str) -> tuple[str, str]:
    key, equals, value = text.partition("=")
    if not equals or not key.strip():
        raise JobError(f'{text!r} is not key=value; write it like t="5 in"')
    return key.strip(), value.strip()

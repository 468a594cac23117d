"""Hand calculations in the printout's own markup: LaTeX of the book turned into Typst.

Pandoc does the turning. It takes about as long to start as a chapter takes to work out, so
``tables/typst.json`` keeps what it made of every piece that the book's formulas are put together
from: a symbol, a right side with its symbols, the same with places for values. Values are set into
these here. A piece that is not kept is turned on the spot; a test turns all of them anew.
``python -m calcbook.basis.templates`` rewrites the file.
"""

from __future__ import annotations

import functools
import itertools
import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from calcbook.basis.sources import TABLES

KEPT = TABLES / "typst.json"
PLACE = r"\text{@}"  # of a value, in a piece of LaTeX
_PLACE = 'upright("@")'  # the same in Typst
_MARK = "calcbookformulabreak"
_TEXT = r"\\text\{((?:[^{}\\]|\\.)*)\}"
_POWER = r"(\\times 10)?\^\{(-?\d+)\}"
_PART = re.compile(f"{_TEXT}|{_POWER}")
_VALUE = re.compile(rf"{_TEXT}(?:{_POWER}(?:{_TEXT})?)*")
_ROW_END = re.compile(r"\s*\\\\(?:\[4pt\])?\s*")
_EQUALS = re.compile(r"\s*(&=| = )\s*")


@dataclass(frozen=True)
class _Block:
    """LaTeX taken apart: rows of pieces between signs, and the values in their order."""

    rows: tuple[tuple[str, ...], ...]
    values: tuple[str, ...]

    def pieces(self) -> Iterator[str]:
        for row in self.rows:
            yield from row[::2]

    def typst(self, known: dict[str, str]) -> str:
        values = iter(self.values)
        rows = []
        for row in self.rows:
            parts = [known[p] if n % 2 == 0 else p.replace("&=", "& =") for n, p in enumerate(row)]
            rows.append(" ".join(part.strip() for part in parts).strip())
        first, *rest = "\\\n".join(rows).split(_PLACE)
        return first + "".join(next(values) + part for part in rest)


def _taken_apart(latex: str) -> _Block:
    values = tuple(_value_typst(match[0]) for match in _VALUE.finditer(latex))
    inside = _VALUE.sub(lambda match: PLACE, latex)
    inside = inside.replace(r"\begin{aligned}", "").replace(r"\end{aligned}", "").strip()
    return _Block(tuple(tuple(_EQUALS.split(row)) for row in _ROW_END.split(inside)), values)


def _value_typst(latex: str) -> str:
    """A value with its unit, such as ``\\text{34.0 in.}^{2}``."""
    found = ""
    for text, times, power in _PART.findall(latex):
        if power:
            found += (" times 10" if times else "") + f"^{power if power.isdigit() else f'({power})'}"
        else:
            plain = re.sub(r"\\(.)", r"\1", text)
            found += f" upright({json.dumps(plain, ensure_ascii=False)})"
    return found.strip()


@functools.cache
def kept() -> dict[str, str]:
    """The kept mathematics as Typst, by its LaTeX."""
    return json.loads(KEPT.read_text(encoding="utf-8")) if KEPT.exists() else {}


def typst_math(pieces: Iterable[tuple[str, bool]]) -> list[str]:
    """Typst of pairs of (LaTeX, whether it stands in a line of text)."""
    blocks = [(_taken_apart(latex), inline) for latex, inline in pieces]
    wanted = dict.fromkeys(piece for block, _ in blocks for piece in block.pieces())
    known = kept() | by_pandoc([piece for piece in wanted if piece not in kept()])
    return [
        f"${block.typst(known)}$" if inline else f"$ {block.typst(known)} $" for block, inline in blocks
    ]


def by_pandoc(pieces: list[str]) -> dict[str, str]:
    """Pieces of LaTeX as Typst, all by one run of pandoc."""
    pieces = [piece for piece in pieces if piece]
    if not pieces:
        return {"": ""}
    from pypandoc import convert_text

    text = f"\n\n{_MARK}\n\n".join(f"${piece}$" for piece in pieces)
    converted = convert_text(text, "typst", format="markdown-smart").split(_MARK)
    if len(converted) != len(pieces):
        raise RuntimeError("a formula could not be set: pandoc gave another number of pieces")
    return {"": ""} | {
        piece: typst.strip().removeprefix("$").removesuffix("$").strip()
        for piece, typst in zip(pieces, converted, strict=True)
    }


def all_pieces() -> Iterator[str]:
    """Every piece that the formulas of the book, and the printouts of the demo, are put together from."""
    from calcbook.basis.formula import Formula
    from calcbook.basis.handcalc import symbol_latex, templates
    from calcbook.book.chapters import Book
    from calcbook.book.registry import load_formulas
    from calcbook.command.copies import notebooks_folder
    from calcbook.job.file import Job
    from calcbook.paper.printout import latex_of

    for entry in load_formulas().values():
        if isinstance(entry, Formula):
            for line in templates(entry):
                filled = re.sub(r"@\w+@", lambda match: PLACE, line.numeric)
                for latex in (symbol_latex(line.name), line.symbolic, *_bracketings(filled)):
                    yield from _taken_apart(latex).pieces()
    for name in ("demo.toml", "demo-si.toml"):
        for latex, _ in latex_of(Book(Job.read(notebooks_folder() / name))):
            yield from _taken_apart(latex).pieces()


def _bracketings(latex: str) -> Iterator[str]:
    """A right side with and without the brackets that a bare number does not need."""
    parts = latex.split(rf"\left( {PLACE} \right)")
    for choice in itertools.product((rf"\left( {PLACE} \right)", PLACE), repeat=len(parts) - 1):
        yield parts[0] + "".join(mark + part for mark, part in zip(choice, parts[1:], strict=True))


def keep_pieces() -> None:
    """Turn every piece of the book and rewrite ``tables/typst.json``."""
    found = by_pandoc(sorted(set(all_pieces())))
    KEPT.write_text(
        json.dumps(found, indent=0, ensure_ascii=False, sort_keys=True) + "\n", encoding="utf-8"
    )

"""references.md, written from the sources and the registry of formulas.

``python -m calcbook.book.references`` rewrites it, calcbook/symbols.md and calcbook/formulas.md; tests keep them true.
"""

import re
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from calcbook.basis.formula import Choice
from calcbook.basis.sources import STATUSES, sources
from calcbook.book.evidence import KINDS, MEANING, WRITTEN, Proof, collect, strongest, written
from calcbook.book.registry import load_formulas

HEAD = """# References

What the book rests on, what is used from each document, and how far it was checked. This file is
written by `python -m calcbook.book.references` from `calcbook/tables/sources.toml` and the formulas
themselves; a test keeps it true.

Status of a source:

"""


def markdown(tests: Path = Path(__file__).parents[2] / "tests") -> str:
    """The text of references.md. tests: the folder in which uses by tests are looked for."""
    files = sorted(tests.rglob("test_*.py"))
    words = {path.relative_to(tests).as_posix(): path.read_text(encoding="utf-8") for path in files}
    parts = [HEAD, *(f"- **{word}**: {meaning}\n" for word, meaning in STATUSES.items())]
    for key, source in sources().items():
        parts += [f"\n## {key}\n\n{source.title}\n\n", f"- Status: {source.status}\n"]
        places = {
            name: entry.source.place
            for name, entry in sorted(load_formulas().items())
            if not isinstance(entry, Choice) and entry.source.key == key
        }
        parts += [_uses(places), _tests(key, places, words)]
    return "".join(parts) + _proofs(collect(tests))


def _proofs(proofs: list[Proof]) -> str:
    """The strongest proof of each formula, and how many there are of each kind."""
    best = strongest(proofs)
    counts = Counter(proof.kind for proof in best.values())
    rows = ["\n## Proof of each formula\n\nThe strongest of each, by the marks on the tests.\n\n"]
    rows += [f"- **{kind}** ({counts[kind]}): {MEANING[kind]}\n" for kind in KINDS]
    rows.append("\n| formula | proof | by | status | test |\n|---|---|---|---|---|\n")
    for name, proof in best.items():
        by = f"{proof.source}, {proof.place}" if proof.place else proof.source
        rows.append(
            f"| `{name}` | {proof.kind} | {by} | {sources()[proof.source].status} | `{proof.test}` |\n"
        )
    return "".join(rows)


def _uses(places: dict[str, str]) -> str:
    used = [f"`{name}`" + (f" ({place})" if place else "") for name, place in places.items()]
    return f"- Formulas: {', '.join(used) or 'none; used in tables, checks or text'}\n"


def _tests(key: str, formulas: Iterable[str], words: dict[str, str]) -> str:
    """The test files that name a source; without one, those that name a formula taken from it."""
    named = _naming([key], words)
    if named:
        return f"- Tests: {named}\n"
    of_formulas = _naming(formulas, words)
    return (
        f"- Tests: of its formulas, in {of_formulas}\n" if of_formulas else "- Tests: none names it\n"
    )


def _naming(keys: Iterable[str], words: dict[str, str]) -> str:
    keys = list(keys)
    whole = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, keys))})(?!\w)")
    # most files hold none of the keys, which is seen at once
    held = {file: text for file, text in words.items() if any(key in text for key in keys)}
    return ", ".join(f"`{file}`" for file, text in held.items() if whole.search(text))


if __name__ == "__main__":
    from calcbook.book import listing, symbols

    WRITTEN.write_text(written(collect()), encoding="utf-8")
    Path("references.md").write_text(markdown(), encoding="utf-8")
    Path("calcbook/symbols.md").write_text(symbols.markdown(), encoding="utf-8")
    Path("calcbook/formulas.md").write_text(listing.markdown(), encoding="utf-8")

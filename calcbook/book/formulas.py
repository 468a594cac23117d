"""All formulas of the book by name, for use from Python."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from calcbook.basis.formula import Choice, Entry
from calcbook.book.registry import find_formula, load_formulas


class Formulas(Mapping[str, Entry]):
    """Every checked formula under its name, as an attribute or a key.

    A formula takes quantities, or text with a unit as a builder writes it, and refuses what it cannot use:

    >>> from calcbook import Q, formulas
    >>> print(formulas.slab_volume("1120 ft2", "5 in"))
    17.28 cubic_yard
    >>> print(formulas["slab_volume"](A=Q(1120, "ft2"), t=Q(5, "in")).to("m**3"))
    13.21 meter ** 3
    >>> formulas.search("modulus of rupture")
    ['modulus_of_rupture']
    """

    def __getitem__(self, name: str) -> Entry:
        found = find_formula(name)
        if found is None:
            raise KeyError(name)
        return found

    def __getattr__(self, name: str) -> Entry:
        found = None if name.startswith("_") else find_formula(name)
        if found is None:
            raise AttributeError(f"there is no formula {name!r}; see formulas.search")
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(sorted(load_formulas()))

    def __len__(self) -> int:
        return len(load_formulas())

    def __dir__(self) -> list[str]:
        return [*super().__dir__(), *self]

    def search(self, words: str) -> list[str]:
        """Names of the formulas that have all the words in their name, their title or what they give."""
        wanted, known = words.lower().replace("_", " ").split(), load_formulas()
        return [name for name in self if all(word in _told(name, known[name]) for word in wanted)]


def title(entry: Entry) -> str:
    """What an entry of the registry is; for one name of several formulas, the words that pick them."""
    if isinstance(entry, Choice):
        first = next(iter(entry.formulas.values()))
        return f"{first.title}, by {entry.keyword}={' or '.join(entry.formulas)}"
    return entry.title


def _told(name: str, entry: Entry) -> str:
    """The text in which a formula is looked for."""
    returns = getattr(entry, "returns", None)
    return f"{name.replace('_', ' ')} {title(entry)} {returns.meaning if returns else ''}".lower()


formulas = Formulas()

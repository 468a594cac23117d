"""The plan of a slab in letters, for the terminal: its sides drawn to scale and numbered."""

from __future__ import annotations

from collections.abc import Sequence

_COLUMNS, _LINES = 56, 20  # the room for it
_TALL = 2.0  # a letter is about twice as tall as wide


def text_plan(points: Sequence[tuple[float, float]]) -> str:
    """An outline drawn with letters. points: corners in feet, in order.

    A corner is ``+``; the number of a side stands at its middle, as the job file counts sides.
    """
    xs, ys = zip(*points, strict=True)
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = min(_COLUMNS / wide, _TALL * _LINES / high)  # letters in a foot
    grid = _Grid()
    placed = [(round((x - min(xs)) * scale), round((max(ys) - y) * scale / _TALL)) for x, y in points]
    turns = list(zip(placed, [*placed[1:], placed[0]], strict=True))
    for begin, end in turns:
        grid.line(begin, end)
    for corner in placed:
        grid.put(corner, "+")
    for number, ((x, y), (x2, y2)) in enumerate(turns, 1):
        grid.write(((x + x2) // 2, (y + y2) // 2), str(number))
    return grid.text()


class _Grid:
    """Letters by column and line."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], str] = {}

    def put(self, place: tuple[int, int], letter: str) -> None:
        self._cells[place] = letter

    def write(self, place: tuple[int, int], word: str) -> None:
        """A word about a place, where it covers no corner."""
        left = place[0] - (len(word) - 1) // 2
        cells = [(left + n, place[1]) for n in range(len(word))]
        if all(self._cells.get(cell) != "+" for cell in cells):
            self._cells.update(zip(cells, word, strict=True))

    def line(self, begin: tuple[int, int], end: tuple[int, int]) -> None:
        (x, y), (x2, y2) = begin, end
        steps = max(abs(x2 - x), abs(y2 - y), 1)
        letter = "-" if y == y2 else "|" if x == x2 else "/" if (x2 - x) * (y2 - y) < 0 else "\\"
        for n in range(steps + 1):
            self.put((x + round((x2 - x) * n / steps), y + round((y2 - y) * n / steps)), letter)

    def text(self) -> str:
        last = max(y for _, y in self._cells)
        rows = []
        for y in range(last + 1):
            row = {x: letter for (x, line), letter in self._cells.items() if line == y}
            rows.append("".join(row.get(x, " ") for x in range(max(row, default=-1) + 1)))
        return "\n".join(rows)

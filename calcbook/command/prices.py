"""``calcbook prices``: which prices a job needs, by which key, and where each comes from."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calcbook.basis.showing import show
from calcbook.basis.text_table import aligned, terminal_width
from calcbook.command.asking import ask, need_terminal, say
from calcbook.job.catalog import catalog
from calcbook.job.file import Job
from calcbook.job.own import keep_price, own_path, read_own

if TYPE_CHECKING:
    from argparse import Namespace

NOT_YET = "STILL NEEDED"
_WIDE = 100  # characters in a line where no terminal says how many


@dataclass(frozen=True)
class Needed:
    """A price that is needed: key of [prices], what it is for, the price and where it comes from."""

    key: str
    words: str
    price: str
    origin: str

    @property
    def missing(self) -> bool:
        """True where it is still to be given."""
        return self.origin == NOT_YET


def run_prices(arguments: Namespace) -> int:
    """List the prices of a job, or of the own file; with --ask, ask for those that are missing."""
    own = Path(arguments.own).expanduser() if arguments.own else own_path()
    if arguments.ask:
        need_terminal(
            f"write the prices into {own}, under [prices]; calcbook fields prices tells the keys"
        )
        _ask(_rows(arguments, own), own)
        if arguments.file and own.is_file():
            _name_own(arguments)
    rows = _rows(arguments, own)
    cells = [(row.key, row.words, row.price, row.origin) for row in rows]
    room = terminal_width() or _WIDE
    print("\n".join(aligned(["key", "what it is for", "price", "from"], cells, room=room)))
    missing = sum(row.missing for row in rows)
    there = "" if own.is_file() else " (not there yet)"
    print(f"\n{len(rows)} prices, {missing} still needed. Your own file: {own}{there}")
    if missing:
        asked = f"calcbook prices {arguments.file or ''}".strip()
        print(f"Give them under [prices] there or in the job file, or answer to: {asked} --ask")
    return 1 if missing else 0


def _rows(arguments: Namespace, own: Path) -> list[Needed]:
    if not arguments.file:
        return of_own(own)
    follows = own.is_file() and (arguments.own or arguments.ask)
    return of_job(Job.read(arguments.file, str(own) if follows else None))


def _name_own(arguments: Namespace) -> None:
    """Let the job take from the own file, where it says nothing of one yet."""
    job = Job.read(arguments.file)
    if not job.job.own:
        job.save(
            {"job.own": str(Path(arguments.own).expanduser().resolve()) if arguments.own else "yes"}
        )
        say(f'{arguments.file} now says own = "yes": it takes from your own file what it leaves out.')


def of_job(job: Job) -> list[Needed]:
    """The prices that a job's quote uses, those that are missing first."""
    from calcbook.book.chapters import Book
    from calcbook.price.kept import origin

    uses: dict[str, list[str]] = {}
    for line in Book(job).quote.lines:
        if line.taken.price:
            uses.setdefault(line.taken.price, []).append(line.words)
    rows = [
        _row(
            key, "; ".join(dict.fromkeys(words)), getattr(job.prices, key), job.system, origin(job, key)
        )
        for key, words in uses.items()
    ]
    return sorted(rows, key=lambda row: not row.missing)


def of_own(path: Path) -> list[Needed]:
    """Every price that can be kept, with what the own file says of it."""
    own = read_own(path) if path.is_file() else None
    today, rows = datetime.date.today(), []
    for field in catalog():
        if field.section == "prices" and field.unit.startswith("$"):
            value = own.values.get("prices", {}).get(field.key) if own else None
            told = own.prices[field.key].text(today) if own and value is not None else ""
            rows.append(_row(field.key, field.meaning, value, "us", told))
    return rows


def _row(key: str, words: str, value: Any, system: str, origin: str) -> Needed:
    field = _field(key)
    example = field.example.partition(" = ")[2].strip('"')
    if value is None:
        return Needed(key, words, f"such as {example}", NOT_YET)
    text = value if isinstance(value, str) else show(value, _unit(key), system)
    return Needed(key, words, text, origin)


def _field(key: str) -> Any:
    return next(row for row in catalog() if row.place == f"prices.{key}")


def _unit(key: str) -> str:
    from calcbook.job.schema.sections import Prices

    meta: Any = Prices.model_fields[key].json_schema_extra
    return meta["unit"]


def _ask(rows: list[Needed], path: Path) -> None:
    """Ask for the prices that are missing and keep each in the own file with supplier and date."""
    today = datetime.date.today()
    say(f'Kept in {path} with the date of today. Enter leaves one out; "?" tells what it is for.')
    supplier = ""
    for row in (row for row in rows if row.missing):
        price = ask(
            f"{row.key}, {_field(row.key).meaning} ({row.price})",
            "",
            f"It prices: {row.words}.",
            _reader(row.key),
        )
        if price and row.key != "wage":
            supplier = ask(
                "   by whom", supplier, "The supplier who gave the price; empty for none.", str
            )
        if price:
            keep_price(path, row.key, price, "" if row.key == "wage" else supplier, today)


def _reader(key: str) -> Any:
    """A reader of a price of [prices]: the text as it was typed, checked."""
    from calcbook.job.schema.sections import Prices

    meta: Any = Prices.model_fields[key].json_schema_extra

    def read(answer: str) -> str:
        if answer:
            meta["reader"](answer)
            if told := meta["told"](answer):
                say(told)
        return answer

    return read

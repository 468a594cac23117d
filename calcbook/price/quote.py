"""The quote: takeoff lines of the calculations, priced from the job file."""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from calcbook.basis.calculation import PRACTICE, Calculation, TakeoffLine
from calcbook.basis.pricing import (
    cents,
    direct_cost,
    dollars,
    line_cost,
    offered_price,
    overhead,
    sales_tax,
    selling_price,
)
from calcbook.basis.safety import DEFERRAL
from calcbook.basis.showing import magnitude, money_mark, money_text, to_cents
from calcbook.basis.table import records
from calcbook.basis.text_table import aligned, csv_text, plain_number
from calcbook.basis.units import TRADE_UNITS, Q, unit, ureg
from calcbook.job.bars import price_key
from calcbook.price.kept import kept_rows

if TYPE_CHECKING:
    from collections.abc import Sequence

    import pandas as pd

    from calcbook.basis.formula import Formula
    from calcbook.basis.units import Quantity
    from calcbook.concrete.volume import VolumeFound
    from calcbook.ground.base import BaseFound
    from calcbook.job.file import Job
    from calcbook.price.order import OrderSheet

KINDS = {"material": "Materials", "labor": "Labor", "equipment": "Equipment and other"}
MISSING, UNKNOWN, LEFT_OUT = "PRICE MISSING", "NOT KNOWN", "NOT PRICED"


@dataclass(frozen=True)
class QuoteLine:
    """One priced line; ``cost`` is None where the job file gives no price, or the amount is not known."""

    words: str
    amount: str
    unit: str
    price: str
    cost: Decimal | None
    kind: str
    note: str
    taken: TakeoffLine  # the line it prices
    number: float = 0.0  # the amount, as shown
    for_one: float = 0.0  # money for one unit, as shown
    system: str = "us"

    @property
    def known(self) -> bool:
        """False where nothing tells the amount yet."""
        return self.taken.amount is not None

    @property
    def cost_text(self) -> str:
        """The cost as it is shown, or what it lacks."""
        if self.cost is not None:
            return money_text(self.cost, self.system)
        return MISSING if self.known else UNKNOWN


class Quote:
    """The priced takeoff of a job.

    job: a Job; calculations: name -> Calculation, whose takeoff lines are priced; volume, base: what
    the order and the odds rest on, None where a quote has neither; further_orders: of slabs with an order of their own. ``lines``, ``frame``, ``text()``,
    ``csv()``, ``order`` and ``calculation`` show it; ``complete`` is False while a price is missing
    or an amount is not known.
    """

    def __init__(
        self,
        job: Job,
        calculations: dict[str, Calculation],
        volume: VolumeFound | None = None,
        base: BaseFound | None = None,
        further_orders: Sequence[OrderSheet] = (),
    ) -> None:
        self.job, self.calculations, self.volume, self.base = job, calculations, volume, base
        self.further_orders = further_orders

    @functools.cached_property
    def lines(self) -> list[QuoteLine]:
        """Every line of the takeoff with its price and cost; lines of nothing are left out."""
        prices = self.job.prices
        taken = [line for c in self.calculations.values() for line in c.takeoff]
        found = [self._priced(line) for line in taken if wanted(line)]
        for rental in prices.rental:
            line = TakeoffLine(rental.name, Q(rental.days.m, "day"), "day", "", "equipment", "rented")
            found.append(self._line(line, rental.rate))
        for extra in prices.extra:
            line = TakeoffLine(extra.name, extra.amount, "1", "", "equipment")
            found.append(self._line(line, extra.price))
        return found

    def _priced(self, line: TakeoffLine) -> QuoteLine:
        key = price_key(self.job, line.price)
        return self._line(
            line if key == line.price else replace(line, price=key), getattr(self.job.prices, key)
        )

    def _line(self, line: TakeoffLine, price: Quantity | None) -> QuoteLine:
        """A line with its cost: the amount and the price as they are shown, multiplied."""
        system, row = self.job.system, TRADE_UNITS[line.unit]
        if line.amount is None:
            label = row.label_for(system)
            return QuoteLine(line.words, "", label, UNKNOWN, None, line.kind, line.note, line)
        amount = round(magnitude(line.amount, line.unit, system), 2)
        words = line.words, _amount_text(amount), row.label_for(system)
        if price is None:
            return QuoteLine(*words, MISSING, None, line.kind, line.note, line, amount)
        dollars_for_one = round(price.m * _dollars_for_one(price.units, line.unit, system), 4)
        cost = to_cents(line_cost.bulk(n=amount, p=dollars_for_one))
        return QuoteLine(
            *words,
            money_mark(system) + _price_text(dollars_for_one),
            cost,
            line.kind,
            line.note,
            line,
            amount,
            dollars_for_one,
            system,
        )

    @property
    def complete(self) -> bool:
        """True where no price is missing and every amount is known."""
        return all(line.cost is not None for line in self.lines)

    @property
    def lacking(self) -> str:
        """What the total lacks and where to give it; "" for a complete quote."""
        missing = [line for line in self.lines if line.known and line.cost is None]
        first: dict[str, str] = {}  # the same of a further slab is told once
        for line in missing:
            first.setdefault(line.taken.price, line.words)
        words, keys = ", ".join(first.values()), ", ".join(first)
        said = [f"missing: {words}. Add them to [prices]: {keys}"] if missing else []
        said += [f"not known: {line.words}, {line.note}" for line in self.lines if not line.known]
        return "; ".join(said)

    @functools.cached_property
    def left_out(self) -> list[str]:
        """Work that the job needs and no line prices, in sentences."""
        extras = [extra.name.lower() for extra in self.job.prices.extra]
        found: dict[str, list[str]] = {}
        for chapter in self.calculations.values():
            for words, called in chapter.not_priced:
                if not any(one in name for one in called for name in extras):
                    found.setdefault(words, []).append(chapter.slab or self.job.slab.called)
        return [
            f"{words[:-1]} ({', '.join(slabs)})." if self.job.others else words
            for words, slabs in found.items()
        ]

    def subtotal(self, kind: str) -> Decimal:
        """Sum of the lines of a kind, to the cent; lines without a price count nothing."""
        return sum(
            (line.cost for line in self.lines if line.kind == kind and line.cost), Decimal("0.00")
        )

    @functools.cached_property
    def calculation(self) -> Calculation:
        """The quote as a Calculation: lines, tax, overhead, margin, price."""
        job = self.job
        made = Calculation(
            "quote", "Quote", "What does the job cost, and what price holds?", job.system
        )
        made.table("Takeoff, priced", self.rows, PRACTICE)
        for words in self.left_out:
            made.note(words)
        made.table("Prices from the builder's own file", self.kept_prices)
        m, labor, other = (self._sum(made, kind) for kind in KINDS)
        rates = {
            name: made.given(job, f"prices.{name}", symbol).m_as("")
            for name, symbol in (
                ("tax", "r_t"),
                ("overhead", "r_o"),
                ("margin", "m"),
            )
        }
        tax = self._money(
            made, sales_tax, "Tax on what is bought.", name="tax", C_m=m, r_t=rates["tax"],
        )  # fmt: skip
        direct = self._money(
            made, direct_cost, "What the job itself costs.", name="direct", C_m=m, T=tax, C_l=labor, C_e=other,
        )  # fmt: skip
        general = self._money(
            made, overhead, "The job's share of running the business.", name="overhead",
            C_d=direct, r_o=rates["overhead"],
        )  # fmt: skip
        cost = made.finding(
            "Direct cost and overhead together.", "C", direct + general, "$", PRACTICE,
            name="cost", label="cost with overhead",
        )  # fmt: skip
        price = self._price(made, cost, rates["margin"])
        made.finding(
            "What is left of the price.", "P - C", price - cost, "$", PRACTICE,
            name="profit", label="margin in money",
        )  # fmt: skip
        missing = sum(line.cost is None for line in self.lines)
        made.verdict(
            "Prices of the lines", not missing, PRACTICE,
            found=f"{missing} missing" if missing else "all given",
            remark="The total is not complete." if missing else "", to_do=f"{self.lacking[:1].upper()}{self.lacking[1:]}.",
        )  # fmt: skip
        for order in self.orders:
            made.table(order.title, order.rows)
        made.caution("Sales tax on building work differs from state to state. Ask an accountant.")
        return made

    def _price(self, made: Calculation, cost: Quantity, margin: float) -> Quantity:
        """The price offered: with its margin, rounded up to the builder's step where that is more than a cent."""
        words = "The margin is a share of the price, not of the cost: the cost is divided by what is left for it."
        step = self.job.terms.round_to
        if cents(step) <= Decimal("0.01"):
            return self._money(
                made, selling_price, words, name="total", label=self._total_label, C=cost, m=margin
            )
        exact = self._money(
            made, selling_price, words, name="exact", label="price before rounding", C=cost, m=margin
        )
        made.given(self.job, "terms.round_to", "Delta P")
        return self._money(
            made, offered_price, "The price offered is rounded up.", name="total", label=self._total_label, P=exact,
            step=step,
        )  # fmt: skip

    @property
    def _total_label(self) -> str:
        return "price" if self.complete else "price, NOT COMPLETE"

    def _sum(self, made: Calculation, kind: str) -> Quantity:
        title = KINDS[kind].lower()
        return made.finding(
            f"{KINDS[kind]}: sum of the lines above.", f"C_{kind[0]}",
            dollars(self.subtotal(kind)), "$", PRACTICE, name=kind, label=title,
        )  # fmt: skip

    def _money(
        self,
        made: Calculation,
        formula: Formula,
        words: str,
        name: str,
        label: str | None = None,
        **inputs: Any,
    ) -> Quantity:
        """Run a formula of money as a step and go on with its result to the cent."""
        made.results[name] = dollars(cents(made.step(formula, words, name=name, label=label, **inputs)))
        return made.results[name]

    # --- showing ---
    @property
    def rows(self) -> list[dict[str, str]]:
        """The priced takeoff as rows of finished text, grouped by kind."""
        cells = [
            (
                line.words,
                line.amount,
                line.unit,
                line.price,
                line.cost_text,
                title,
            )
            for kind, title in KINDS.items()
            for line in self.lines
            if line.kind == kind
        ]
        return records(("line", "amount", "unit", "price", "cost", "kind"), cells)

    @property
    def kept_prices(self) -> list[dict[str, str]]:
        """Rows of the prices in use that come from the builder's own file: amount, supplier, age."""
        return kept_rows(self.job, (line.taken.price for line in self.lines if line.taken.price))

    @property
    def frame(self) -> pd.DataFrame:
        """The priced takeoff as a pandas table."""
        import pandas as pd

        return pd.DataFrame(self.rows)

    def text(self) -> str:
        """The priced takeoff for the terminal."""
        cells = self.rows
        columns = list(cells[0])[:5]
        said = [  # that a price is missing is told once, in the last column
            [
                "" if name == "price" and row[name] in (MISSING, UNKNOWN) else row[name]
                for name in columns
            ]
            for row in cells
        ]
        head, *rows = aligned(columns, said, right={1, 3, 4})
        parts = [f"Quote for {self.job.job.name}", "", head]
        for title in KINDS.values():
            group = [row for row, cell in zip(rows, cells, strict=True) if cell["kind"] == title]
            if group:
                parts += ["", title, *group]
        parts.append("")
        for result in self.calculation.shown_results:
            parts.append(f"{result.label:<28}{result.step.result_text:>14}")
        if not self.complete:
            parts += ["", f"This price does not hold: the total is not complete; {self.lacking}."]
        if self.left_out:
            parts += ["", *self.left_out]
        kept = self.kept_prices
        if kept:
            head, *rows = aligned(list(kept[0]), [list(row.values()) for row in kept])
            parts += ["", "Prices from the builder's own file", head, *rows]
        return "\n".join([*parts, "", DEFERRAL]) + "\n"

    def csv(self) -> str:
        """The priced takeoff as CSV; cells that a spreadsheet might run are made plain text."""
        rows = []
        for line in self.lines:
            cost = line.cost_text if line.cost is None else str(line.cost)
            amount = plain_number(line.amount)
            price = line.price if line.cost is None else plain_number(_price_text(line.for_one))
            rows.append((line.words, amount, line.unit, price, cost, KINDS[line.kind], line.note))
        rows += [(words, "", "", LEFT_OUT, "0.00", "", "") for words in self.left_out]
        return csv_text(["line", "amount", "unit", "price", "cost", "kind", "note"], rows)

    @property
    def orders(self) -> list[OrderSheet]:
        """Every order of concrete; none for a quote without concrete."""
        return [self.order, *self.further_orders] if self.volume else []

    @functools.cached_property
    def order(self) -> OrderSheet:
        """The order sheet for the dispatcher (order.OrderSheet)."""
        from calcbook.price.order import OrderSheet

        assert self.volume is not None  # nothing is ordered without it
        own = {name: c for name, c in self.calculations.items() if not c.slab}
        return OrderSheet(self.job, own, self.volume.trucks, self.volume)


def wanted(line: TakeoffLine) -> bool:
    """False for a line of nothing, which no paper shows."""
    return line.amount is None or magnitude(line.amount, line.unit) > 0


@functools.cache
def _dollars_for_one(per: Any, unit_name: str, system: str) -> float:
    """Dollars for one of a line's unit at a price of 1 in its own unit, or for the whole thing, such as a pump.

    per: the unit of the price; unit_name: of the line.
    """
    price = ureg.Quantity(1.0, per)
    lump = price.dimensionality == dollars(1).dimensionality
    return float((price if lump else price * unit(unit_name, system)).m_as("dollar"))


def _price_text(number: float) -> str:
    """A price of one unit: to the cent, or to a hundredth of a cent where it has such parts."""
    decimals = max(2, len(f"{number:.4f}".rstrip("0").split(".")[1]))
    return f"{number:,.{decimals}f}"


def _amount_text(amount: float) -> str:
    """An amount as it is priced: to two decimals, so that the line can be checked by hand."""
    return f"{amount:,.2f}".rstrip("0").rstrip(".")

"""The sections of a job file about money: prices, what the client's page says, who supplies what."""

from __future__ import annotations

import re
from typing import Any

from pydantic import model_validator

from calcbook.basis.units import Quantity
from calcbook.job.fields import OWN, PRACTICE, Clash, Section, entries, quantity, text, whole


class Rental(Section):
    """[[prices.rental]]: something rented by the day."""

    name: str = text("what is rented")
    days: Quantity = quantity("1", "days", low=0, high=365)
    rate: Quantity = quantity("$/day", "price for a day", low=0, high=1e6)
    source: str = text("who rents it out", "", "not named")
    pick_up: str = text("when and where it is picked up", "", "not said")


class Extra(Section):
    """[[prices.extra]]: a line of the quote that no calculation gives."""

    name: str = text("what it is")
    amount: Quantity = quantity("1", "how many", 1.0, "one", low=0, high=1e6)
    price: Quantity = quantity("$", "price for one", low=0, high=1e7)


def _price(unit_name: str, meaning: str) -> Any:
    return quantity(unit_name, meaning, None, "no price given", low=0, high=1e7)


class Prices(Section):
    """[prices]: what things and hours cost, tax, overhead and margin."""

    concrete: Quantity | None = _price("$/yd3", "ready-mixed concrete")
    short_load_fee: Quantity | None = _price("$", "fee for a load under the minimum")
    pump: Quantity | None = _price("$", "pump, for the day")
    stone: Quantity | None = _price("$/ton", "base stone, delivered")
    spoil: Quantity | None = _price("$/yd3", "hauling soil away, loose volume")
    excavator: Quantity | None = _price("$/h", "excavator with its operator, an hour")
    retarder: Quantity | None = _price("$/roll", "vapor retarder")
    tape: Quantity | None = _price("$/roll", "seam tape")
    forms: Quantity | None = _price("$/ft", "edge form material")
    blanket: Quantity | None = _price("$/ft2", "curing blanket, rent by area")
    mesh: Quantity | None = _price("$", "sheet of welded wire")
    bar: Quantity | None = _price("$/ft", "reinforcing bar of a size without a price of its own")
    bar_3: Quantity | None = _price("$/ft", "reinforcing bar #3")
    bar_4: Quantity | None = _price("$/ft", "reinforcing bar #4")
    bar_5: Quantity | None = _price("$/ft", "reinforcing bar #5")
    bar_6: Quantity | None = _price("$/ft", "reinforcing bar #6")
    micro_fiber: Quantity | None = _price("$/bag", "micro fiber")
    macro_fiber: Quantity | None = _price("$/bag", "macro fiber")
    steel_fiber: Quantity | None = _price("$/bag", "steel fiber")
    isolation: Quantity | None = _price("$/ft", "isolation strip at posts and walls")
    dowel: Quantity | None = _price("$", "a smooth dowel of a joint")
    key_strip: Quantity | None = _price("$/ft", "key strip of a joint between slabs")
    bolt: Quantity | None = _price("$", "a cast sill bolt with washer and nut")
    rod: Quantity | None = _price("$", "a threaded rod with washer and nut")
    epoxy: Quantity | None = _price("$", "a cartridge of adhesive")
    hold_down: Quantity | None = _price("$", "a hold-down with its screws or bolts")
    hold_down_anchor: Quantity | None = _price("$", "a cast anchor bolt of a hold-down with its nut")
    wage: Quantity | None = _price("$/h", "a person-hour, with all labor burden")
    overhead: Quantity = quantity("1", "overhead on cost", "12 %", OWN, low=0, high=1)
    margin: Quantity = quantity("1", "margin on the selling price", "15 %", OWN, low=0, below=0.95)
    tax: Quantity = quantity(
        "1", "sales tax on materials", "0 %", "ask your accountant", low=0, high=0.5
    )
    valid_days: int = whole("days that the client's price holds", 30, PRACTICE, low=1, high=365)
    rental: list[Rental] = entries("rented machines", 200)
    extra: list[Extra] = entries("other lines of the quote", 200)


class Stage(Section):
    """[[terms.stages]]: a payment of the client, as a share of the price."""

    name: str = text("when the payment is due")
    share: Quantity = quantity("1", "share of the price", above=0, high=1)


class Terms(Section):
    """[terms]: what the client's page says beside the price."""

    round_to: Quantity = quantity(
        "$", "step to which the price offered is rounded up", "$0.01", "to the cent", low=0.01, high=1e4
    )
    deposit: Quantity = quantity(
        "1", "deposit at signing, share of the price", "10 %",
        "some states limit it by law: ask (common practice, no source)", low=0, high=1,
    )  # fmt: skip
    stages: list[Stage] = entries("payments after the deposit", 12)
    client_supplies: str = text(
        "what the client supplies", "access for trucks, water and power at the site, and the permit",
        PRACTICE, longest=400,
    )  # fmt: skip
    excluded: str = text("what else is not in the price", "", "nothing more", longest=400)

    @model_validator(mode="after")
    def _all_of_it(self) -> Terms:
        asked = self.deposit.m_as("") + sum(stage.share.m_as("") for stage in self.stages)
        if self.stages and abs(asked - 1) > 1e-6:
            raise Clash(
                "stages", f"deposit and stages ask for {100 * asked:.6g} % of the price, not 100 %"
            )
        return self


class Supplier(Section):
    """[[suppliers]]: who delivers what, by the keys of [prices]."""

    name: str = text("name of the supplier")
    phone: str = text("telephone of the supplier", "", "not given")
    brings: str = text("keys of [prices] that come from there, such as stone, forms")
    when: str = text("when it is delivered or picked up", "", "by the day of the pour")

    @model_validator(mode="after")
    def _known(self) -> Supplier:
        unknown = [key for key in self.keys if key not in _DELIVERED]
        if unknown:
            raise Clash(
                "brings", f"{unknown[0]} is no key of [prices]; known are {', '.join(_DELIVERED)}"[:280]
            )
        return self

    @property
    def keys(self) -> list[str]:
        """The keys of [prices] that come from there."""
        return [key for key in re.split(r"[,;\s]+", self.brings.strip()) if key]


_DELIVERED = [
    key for key in Prices.model_fields
    if key not in ("wage", "overhead", "margin", "tax", "valid_days", "rental", "extra")
]  # fmt: skip

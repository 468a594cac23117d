"""The section of a job file for the odds on the price: how far things spread about the plan."""

from calcbook.basis.units import Quantity
from calcbook.job.fields import OWN, PRACTICE, Section, quantity


class Risk(Section):
    """Spreads are standard deviations. Where a factor is drawn, its middle is the planned value."""

    waste_used: Quantity = quantity(
        "1", "waste, share of the allowance used in the middle", "60 %",
        f"{OWN}: the allowance is meant to be more than most jobs need", low=0, high=1,
    )  # fmt: skip
    waste_spread: Quantity = quantity("1", "waste, spread of that share", "25 %", OWN, low=0, high=1)
    further_wait: Quantity = quantity(
        "h", "wait of the whole crew for a further load", "1 h", OWN, low=0, high=8
    )
    crew_pace: Quantity = quantity(
        "1", "pace of the crew, spread common to all its tasks", "10 %", OWN, low=0, high=0.5
    )
    task_pace: Quantity = quantity(
        "1", "pace of a task, spread of each by itself", "15 %", OWN, low=0, high=0.5
    )
    market: Quantity = quantity(
        "1", "prices, spread common to all that is bought or rented", "3 %",
        f"{OWN}: what prices move between quote and pour", low=0, high=0.5,
    )  # fmt: skip
    item_price: Quantity = quantity(
        "1", "prices, spread of each by itself", "5 %", OWN, low=0, high=0.5
    )
    lost_day: Quantity = quantity(
        "1", "odds that a planned pour day is lost to the weather", "15 %",
        f"{OWN}, by season and place", low=0, high=0.9,
    )  # fmt: skip
    lost_hours: Quantity = quantity(
        "h", "hours paid to each of the crew for a lost day", "2 h", PRACTICE, low=0, high=12
    )
    set_wait: Quantity = quantity(
        "1",
        "waiting for set, spread",
        "25 %",
        f"{OWN}; see the published bands of set",
        low=0,
        high=0.5,
    )
    confidence: Quantity = quantity(
        "1", "confidence wanted of the price to quote", "80 %",
        "eight such jobs in ten keep their margin whole", low=0.05, high=0.99,
    )  # fmt: skip

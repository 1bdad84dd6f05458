"""Options that several commands share, so that each is spelt and explained once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from math import isnan
from typing import TYPE_CHECKING, Any, ParamSpec, TypeVar

import click

from diagtree.records import dataclass

if TYPE_CHECKING:
    from diagtree.knowledge.house import House, Workshop

Given = ParamSpec("Given")
Result = TypeVar("Result")

json_option = click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
vehicle_option = click.option("--vehicle", metavar="ID", help="The car's profile (default: the workshop's, or none).")


class Amount(click.FloatRange):
    """A number from 0 on that can be reckoned with: neither `nan` nor larger than any price, wage or patience."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Return the number, or fail naming the option."""
        number = float(super().convert(value, param, ctx))
        if isnan(number):
            self.fail(f"{value} is not a number.", param, ctx)
        return number


AMOUNT = Amount(min=0, max=1e9)


@dataclass(frozen=True, slots=True)
class Costs:
    """What was said on the command line about money; None where nothing was."""

    rate: float | None = None
    referral: float | None = None
    comeback: float | None = None

    def house(self, workshop: Workshop | None) -> House:
        """Return the costs to reckon with: what was said, else the workshop's, else no rate and no such way out."""
        from diagtree.knowledge.house import House

        rate = self.rate if self.rate is not None else (workshop.rate if workshop else 0.0)
        referral = self.referral if self.referral is not None else (workshop.referral if workshop else None)
        comeback = self.comeback if self.comeback is not None else (workshop.comeback if workshop else None)
        return House(rate=rate, referral=referral, comeback=comeback)


def costs_options(command: Callable[..., Result]) -> Callable[..., Result]:
    """Add --rate, --referral and --comeback to a command; it gets them as one keyword, `costs: Costs`."""

    @click.option("--rate", type=AMOUNT, help="Labour rate, money per hour (default: the workshop's).")
    @click.option("--referral", type=AMOUNT, help="What it costs to give a car to somebody else.")
    @click.option("--comeback", type=AMOUNT, help="What it costs when a car comes back after wrong advice.")
    @wraps(command)
    def packed(
        *args: object, rate: float | None, referral: float | None, comeback: float | None, **rest: object
    ) -> Result:
        return command(*args, costs=Costs(rate, referral, comeback), **rest)

    return packed

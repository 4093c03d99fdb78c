"""Refusals of the sale room."""

from __future__ import annotations

from labelkit.errors import Refused


class LotNotNamed(Refused):
    """Jars leave, and nobody said which lot they are of."""

    def __init__(self, in_stock: str) -> None:
        super().__init__(
            what=f"Which lot are the jars of? In stock are: {in_stock}.",
            why="A recall can only reach the jars whose lot was written down when they left.",
            do="Read the lot code from a jar and give it with --lot.",
        )


class NothingPriced(Refused):
    """A price list without a jar size."""

    def __init__(self) -> None:
        super().__init__(
            what="There is no jar size with a price yet.",
            why="A price list needs at least one size, what it declares and what it costs.",
            do='Set one, for example: labelkit price --set "one pound" --declares "1 lb" --price 12.00 --cost 1.35.',
        )

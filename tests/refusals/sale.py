"""Cases of the sale room."""

from labelkit.errors.sale import LotNotNamed, NothingPriced
from tests.refusals.cli import say

CASES = [
    (LotNotNamed, say(LotNotNamed("L26201AXN")), "In stock are: L26201AXN"),
    (NothingPriced, say(NothingPriced()), "labelkit price --set"),
]

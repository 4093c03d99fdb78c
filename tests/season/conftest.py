"""A small invented season through the Python API alone."""

from __future__ import annotations

from datetime import date, datetime, timedelta, timezone
from decimal import Decimal

import pytest

from labelkit import open_season
from labelkit.lots.bucket import Source
from labelkit.lots.intake import Intake
from labelkit.measures import Declared, Mass, Money
from labelkit.record.settings import Setting
from labelkit.sale.events import PriceSet
from labelkit.season.weigh import weigh

ZONE = timezone(timedelta(hours=-4))
HARVEST, FILLING, MARKET = date(2026, 7, 12), date(2026, 7, 20), date(2026, 7, 25)


def lb(text: str) -> Mass:
    return Mass.read(f"{text} lb", "en_US")


@pytest.fixture
def season(tmp_path):
    """One bucket of 30 lb, weighed in, and a jar of one pound with its price."""
    clock = datetime(2026, 7, 25, 18, tzinfo=ZONE)
    with open_season(tmp_path / "season.labelkit", create=True, who="Robin", clock=clock) as season:
        with season.work() as work:
            work.add(Setting(HARVEST, "market", ["us"]))
            sources = (Source("Mill meadow", ("H1", "H2")),)
            weigh(work, Intake("B1", net=lb("30"), moisture=Decimal("17.4"), sources=sources), HARVEST, "en_US")
            price, cost = Money.of("12.00", "USD"), Money.of("1.35", "USD")
            work.add(PriceSet(HARVEST, "one pound", Declared.read("1 lb", "en_US"), price, cost))
        yield season

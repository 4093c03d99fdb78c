"""Usual jars are whole, and a label of each goes onto the sheet that is taken for it; sizes wait for their price in peace."""

from __future__ import annotations

from datetime import date

import pytest

from labelkit.errors.sale import NothingPriced, PriceMissing
from labelkit.labels.sheets import sheet
from labelkit.lots.intake import Intake
from labelkit.measures import Mass
from labelkit.rules import shelf
from labelkit.season import open_season
from labelkit.season.first_evening import fill_as_planned
from labelkit.season.label_paper import FRONT_SHARE, usual_sheet
from labelkit.season.price import price_list
from labelkit.season.sell import JarsGone, sell
from labelkit.season.start import SeasonStart, start
from labelkit.season.usual_jars import keep_jars, usual_jars
from labelkit.season.weigh import weigh

DAY = date(2026, 7, 14)
EVERY_PLACE = [head.id for head in shelf.markets()]


@pytest.mark.parametrize("place", EVERY_PLACE)
def test_every_place_has_jars_to_begin_with_and_a_sheet_that_goes_onto_each(place):
    jars = usual_jars(place)
    assert any(jar.ticked for jar in jars) and len({jar.name for jar in jars}) == len(jars)
    for jar in jars:
        taken = sheet(usual_sheet("front", (place,), {"diameter": jar.diameter, "height": jar.height}))
        # 355/113 is pi to six digits (Zu Chongzhi).
        assert taken.high <= jar.height.um and taken.wide <= jar.diameter.um * 355 // 113 * FRONT_SHARE // 100


def test_jars_without_a_price_are_filled_and_neither_listed_nor_sold(tmp_path):
    with open_season(tmp_path / "season.labelkit", create=True, who="Robin") as season:
        with season.work() as work:
            start(work, SeasonStart(("eu-de",)), DAY)
            weigh(work, Intake("B1", net=Mass.of_grams(12_000)), DAY, "en_US")
            keep_jars(work, [jar for jar in usual_jars("eu-de") if jar.ticked], DAY)
            (run,) = fill_as_planned(work, DAY, "en_US")
        # 16 jars of 500 g and 16 of 250 g are the 12 kg, as many of each.
        assert {jar.size: jar.count for jar in run.run.jars} == {"500 g": 16, "250 g": 16}
        with season.reading() as state, pytest.raises(NothingPriced):
            price_list(state, DAY)
        with pytest.raises(PriceMissing), season.work() as work:
            sell(work, JarsGone(run.lot, {"500 g": 1}), DAY)

"""One whole season by the Python API alone, as a notebook would have it: no command line, no page, no text to read."""

from __future__ import annotations

from datetime import date, datetime, timedelta, timezone
from decimal import Decimal

from labelkit import open_season
from labelkit.lots.bucket import Source
from labelkit.lots.intake import Intake
from labelkit.measures import Declared, Mass, Money
from labelkit.record.settings import Setting
from labelkit.record.verify import verify
from labelkit.sale.events import PriceSet
from labelkit.sale.settlement import Till
from labelkit.season import recall
from labelkit.season.account import Paying, balances, pay
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.changes import Changes
from labelkit.season.deliver import CustomerFacts, JarsForCustomer, deliver, note_customer
from labelkit.season.drain import drain
from labelkit.season.put_right import put_right
from labelkit.season.result import result
from labelkit.season.sell import JarsGone, sell
from labelkit.season.stall import Loading, load, loaded_day, settle_counted
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.weigh import weigh

HARVEST, CAPPINGS, FILLING = date(2026, 7, 12), date(2026, 7, 15), date(2026, 7, 20)
MARKET, SHOP, NEXT_YEAR = date(2026, 7, 25), date(2026, 7, 27), date(2027, 7, 1)
POUND = Mass.of_grams("453.59237")


def test_from_the_bucket_to_whoever_has_a_jar(tmp_path):
    clock = datetime(2026, 7, 27, 18, tzinfo=timezone(timedelta(hours=-4)))
    with open_season(tmp_path / "season.labelkit", create=True, who="Robin", clock=clock) as season:
        # What is sold, where, and what a jar brings.
        with season.work() as work:
            work.add(Setting(HARVEST, "market", ["us"]))
            work.add(Setting(HARVEST, "maker", {"name": "Pretend Hollow Honey", "city": "Pretend Hollow"}))
            price, cost = Money.of("12.00", "USD"), Money.of("1.35", "USD")
            work.add(PriceSet(HARVEST, "one pound", Declared.read("1 lb", "en_US"), price, cost))

        # A bucket of 40 lb gross, 2 lb of it the bucket; three days later 2 lb more from the cappings.
        meadow = (Source("Mill meadow", ("H1", "H2")),)
        with season.work() as work:
            weigh(
                work,
                Intake("B1", gross=40 * POUND, tare=2 * POUND, moisture=Decimal("17.4"), sources=meadow),
                HARVEST,
                "en_US",
            )
        with season.work() as work:
            drained = drain(work, Intake("B1", net=2 * POUND, sources=meadow), CAPPINGS, "en_US")
        assert drained.bucket.holds == 40 * POUND

        # A rehearsal is the same step and keeps nothing.
        with season.rehearsal() as work:
            assert bottle(work, Bottling("B1", {"one pound": 38}), FILLING, "en_US").run.unexplained == Mass(0)
        with season.reading() as state:
            assert state.bucket("B1").holds == 40 * POUND

        with season.work("run of the evening") as work:
            lot = bottle(work, Bottling("B1", {"one pound": 38}, broken={"one pound": 1}), FILLING, "en_US").lot
        with season.work("run of the evening") as work:  # the same key books nothing twice
            assert bottle(work, Bottling("B1", {"one pound": 38}, broken={"one pound": 1}), FILLING, "en_US").lot == lot

        # A market day: 12 taken, 10 sold, 2 back.
        with season.work() as work:
            load(work, Loading("Saturday market", {"one pound": 12}, change=Money.of("80", "USD")), MARKET)
        with season.work() as work:
            day = loaded_day(work, MARKET)
            counts = {"sold": {"one pound": 10}, "back": {"one pound": 2}}
            settle_counted(work, day, counts, Till(Money.of("200", "USD"), None, None, None, None))

        # A shop gets 6 on a note and pays half of what it owes.
        with season.work() as work:
            asked = JarsForCustomer(
                "Corner shop",
                {"one pound": 6},
                prices={"one pound": Money.of("8.40", "USD")},
                address=("1 Made-up Row", "Sampleton"),
            )
            deliver(work, asked, SHOP, "en_US")
            note_customer(work, CustomerFacts("Corner shop", phone="555-0142"), SHOP)
        with season.work() as work:
            pay(work, Paying("Corner shop", Money.of("25.20", "USD")), SHOP)
        with season.reading() as state:
            assert balances(state)[0].open == Money.of("25.20", "USD")

        # Two went over the garden fence; one sale was booked in error and is voided.
        with season.work() as work:
            sell(work, JarsGone(lot, {"one pound": 2}, to="door"), SHOP)
        with season.work() as work:
            wrong = sell(work, JarsGone(lot, {"one pound": 1}, to="door"), SHOP)
        with season.work() as work:
            put_right(work, wrong.seq, "the neighbour brought it back at once", Changes(), SHOP)

        # The scale was misread: 39 lb gross, not 40. The run keeps its code.
        with season.work() as work:
            corrected = put_right(work, 4, "misread", Changes(gross=39 * POUND), SHOP)
            assert [run[2] for run in corrected.runs] == [lot]

        # A year later: who has a jar of it?
        with season.reading() as state:
            found = trace(state, TraceFrom(lot))
            assert found.trace.buckets == ("B1",) and found.lots == (lot,)
            reach = recall.look(state, [lot], "foreign-body")
            assert [(c.customer, c.count, c.phone) for c in reach.customers()] == [("Corner shop", 6, "555-0142")]
            year = result(state, NEXT_YEAR)
        # 10 at the market and 2 at the door for 12.00, 6 to the shop for 8.40.
        assert year.money_in == Money.of("194.40", "USD")
        assert year.whole.sold == 18
        with season.work() as work:
            drill = recall.drill(work, SHOP, lot)
        # 38 jars; 6 can be fetched from the shop and 20 from the shelf, 12 went to people without a name.
        assert (drill.count.jars_made, drill.count.in_stock, drill.count.with_customers) == (39, 20, 6)
        assert drill.count.sold_direct == 12 and drill.count.broken_or_sampled == 1
        assert verify(season.record).clean

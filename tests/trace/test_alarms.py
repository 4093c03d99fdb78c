"""What a mass balance makes one look into. The limits are common practice, no source; the arithmetic is reckoned by hand."""

from decimal import Decimal

import pytest

from labelkit.lots.movement import Account
from labelkit.measures import Declared, Mass
from labelkit.record import open_record
from labelkit.record.lookup import find_lot
from labelkit.run.bottling import Filled, bottle
from labelkit.sale.stall_events import StallDay, StallLoad
from labelkit.trace.alarms import Limits, alarms, limits_of, look_into
from labelkit.trace.document import document
from labelkit.trace.follow import follow
from labelkit.trace.trace_text import words
from tests.record.season import AT, LATER, LOT, POUND, kg, line, weigh

FORTY = kg("40")


def figures(lost="0", unexplained="0", missing=0, came=FORTY):
    found = look_into(
        LOT, came, Mass.of_grams(Decimal(lost) * 1000), Mass.of_grams(Decimal(unexplained) * 1000), missing
    )
    return [(a.figure, a.percent) for a in found]


def test_what_is_at_the_limit_is_silent_and_what_is_over_it_is_said():
    # 2 % of 40 kg are 0.8 kg, 5 % are 2 kg
    assert figures(unexplained="0.8", lost="2") == []
    assert figures(unexplained="0.801", lost="2.004") == [
        ("unexplained", Decimal("2.0025")),
        ("lost", Decimal("5.01")),
    ]


def test_more_honey_out_than_in_is_said_too():
    # 102 % of 40 kg are 40.8 kg
    assert figures(unexplained="-0.8") == []
    assert [f for f, _ in figures(unexplained="-0.9")] == ["too-much"]


def test_the_worked_balance_of_a_forty_kilogram_bucket_is_inside_the_usual_limits():
    # 0.850 kg noted as lost is 2.125 %, 0.150 kg not accounted for is 0.375 %
    assert figures(lost="0.85", unexplained="0.15") == []


def test_the_producer_s_own_limits_count():
    own = limits_of({"limits": {"unexplained": "0.3"}})
    assert [a.figure for a in look_into(LOT, FORTY, kg("0.85"), kg("0.15"), 0, own)] == ["unexplained"]
    assert own.lost == 5


def test_what_clings_to_a_small_bucket_is_no_alarm():
    # 40 g of 1 kg is 4 %, and less than two steps of a bucket scale
    assert figures(unexplained="0.04", came=kg("1")) == []
    assert figures(unexplained="0.06", came=kg("1")) == [("unexplained", Decimal(6))]


def test_a_step_nothing_came_into_raises_no_alarm():
    assert figures(lost="1", came=Mass(0)) == []


@pytest.fixture
def market(tmp_path):
    """Twenty jars, five loaded, three sold, one back, one missing."""
    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("B1", "10"))
            filled = [Filled("one pound", Declared.read("1 lb", "en_US"), 20, POUND)]
            work.add(
                bottle(work.bucket("B1"), LOT, LATER, filled, left=kg("10") - 20 * POUND - kg("0.3"), locale="en_US")
            )
            work.add(StallLoad(LATER, "Saturday market", (line(5, price=None),)))
            work.add(StallDay(LATER, "Saturday market", (line(3),), back=(line(1),), missing=(line(1),)))
            work.commit()
        with book.reading() as state:
            yield follow(find_lot(state, LOT), state.story([LOT]))


def test_a_missing_jar_is_said_as_a_jar_and_not_again_as_honey(market):
    balance = market.balance(LOT)
    assert balance.unexplained == kg("0.3") + POUND and balance.jars_unaccounted == 1
    found = {a.figure: a for a in alarms(market.balances)}
    # 0.3 kg of 9.37184 kg that went into the run
    assert found["unexplained"].percent.quantize(Decimal("0.001")) == Decimal("3.201")
    assert found["jars"].says("en_US") == "1 jar cannot be found"


def test_the_words_say_the_share_the_limit_and_what_to_look_for(market):
    text = words(market, "en_US")
    for needed in ("To look into", "3.2 % is unexplained; your limit is 2 %", "wrong tare", "Count again"):
        assert needed in text, needed
    assert "3,2 %" in words(market, "de_DE")
    assert "is unexplained" not in words(market, limits=Limits(unexplained=Decimal(10)), locale="en_US")


def test_the_document_gives_every_share_of_what_came_in(market):
    lot = document(market)["balance"][-1]
    assert lot["lot"] == LOT
    # 9.37184 kg in; 19 jars known where; 0.3 kg and one jar are not
    assert (lot["out_percent"], lot["unexplained_percent"], lot["lost_percent"]) == (
        Decimal("91.959"),
        Decimal("8.041"),
        Decimal(0),
    )
    assert {j.account for j in market.balance(LOT).jars} == {Account.JARS, Account.SOLD, Account.UNEXPLAINED}

"""Honey that was bought in: who supplied it stands in every trace, balance, export and account, and never as hives."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest

from labelkit.errors.lots import BucketTwice, ReceiptUnclear
from labelkit.errors.rules import CountryUnknown
from labelkit.lots.intake import Intake, Receipt
from labelkit.lots.movement import Account
from labelkit.lots.received import OriginShare
from labelkit.measures import NOTHING, Money
from labelkit.measures.period import Period
from labelkit.record.verify import verify
from labelkit.run.batch_sheet import REFRACTOMETER, BatchLine
from labelkit.season.blend import Blending, blend
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.changes import Changes
from labelkit.season.find_prices import basis_of_record
from labelkit.season.put_right import put_right
from labelkit.season.receive import receive
from labelkit.season.result import result
from labelkit.season.trace import TraceFrom, trace
from labelkit.shipped.catalogues import wording
from labelkit.trace.document import document
from labelkit.trace.epcis import Names, epcis_document
from labelkit.trace.flow import flow
from labelkit.trace.sheet import sheet
from labelkit.trace.trace_text import words
from tests.season.conftest import FILLING, HARVEST, MARKET, lb
from tests.trace.test_epcis import PUBLISHED, check, faults, published

LOT = "L26201879"
US = (OriginShare("US", Decimal(100)),)


def receipt(bucket: str = "R1", net: str = "20", **more) -> Receipt:
    said = {"supplier": "Brook apiary", "their_lot": "K7", "origin": US, "number": "214"} | more
    return Receipt(Intake(bucket, net=lb(net), moisture=Decimal("18.0")), **said)


@pytest.fixture
def bought(season):
    """20 lb bought in, 10 of it blended with 20 of the season's own 30 lb; 24 jars of a pound of the blend."""
    with season.work() as work:
        receive(work, receipt(harvest="August 2025", paid=Money.of("60.00", "USD")), HARVEST, "en_US")
        blend(work, Blending("M1", (("B1", lb("20")), ("R1", lb("10")))), FILLING, "en_US")
        bottle(work, Bottling("M1", {"one pound": 24}), FILLING, "en_US")
    return season


def test_bought_in_honey_comes_from_the_supplier_and_not_from_hives(bought):
    with bought.reading() as state:
        found = trace(state, TraceFrom(LOT)).trace
        assert state.bucket("M1").suppliers == ("Brook apiary",)
    came = found.balance("R1")
    assert (came.from_hives, came.from_suppliers, came.rest) == (NOTHING, lb("20"), NOTHING)
    assert found.balance("B1").from_suppliers == NOTHING
    receipts = [each.receipt for each in found.intakes]
    assert [came and (came.supplier, came.their_lot) for came in receipts] == [None, ("Brook apiary", "K7")]


def test_every_paper_of_a_trace_names_the_supplier_their_lot_and_the_origin(bought):
    with bought.reading() as state:
        found = trace(state, TraceFrom(LOT)).trace
    for text in (words(found, "en_US"), sheet(found), json.dumps(document(found), default=str)):
        assert all(said in text for said in ("Brook apiary", "K7", "214", "US", "August 2025"))
    assert [node.name for node in flow(found, wording("labelkit", "en")).nodes if node.sort == "supplier"] == [
        "Brook apiary"
    ]
    own = words(found, "en_US").split("From the hives")[1].split("Bought in")[0]
    assert "R1" not in own


@pytest.mark.parametrize(
    "begin", [TraceFrom(supplier="Brook apiary"), TraceFrom(their_lot="K7")], ids=["supplier", "their lot"]
)
def test_a_suppliers_warning_reaches_every_jar_of_their_lot(bought, begin):
    with bought.reading() as state:
        assert trace(state, begin).lots == (LOT,)


def test_receiving_is_told_in_epcis_as_the_standards_own_example_tells_it(bought):
    made = epcis_document(tuple(bought.record.events()), Names("https://hazelbank.example"), bought.clock)
    check(made)
    assert faults(made) == []
    ours = [each for each in made["epcisBody"]["eventList"] if each["bizStep"] == "receiving"]
    became = [
        each for each in made["epcisBody"]["eventList"] if each.get("inputQuantityList") == ours[0]["quantityList"]
    ]
    assert [each["outputQuantityList"][0]["epcClass"] for each in became] == ["https://hazelbank.example/lot/R1"]
    assert faults(made, published()) == []
    # Example 9.6.2 of EPCIS 2.0: honey by the kilogram in place of other goods by the kilogram.
    example = json.loads((PUBLISHED.parents[1] / "examples" / "Example_9.6.2-ObjectEvent.jsonld").read_text())
    theirs = example["epcisBody"]["eventList"][0]
    for name in ("type", "action", "bizStep", "disposition"):
        assert ours[0][name] == theirs[name]
    assert ours[0]["sourceList"][0]["type"] == theirs["sourceList"][0]["type"] == "possessing_party"
    assert ours[0]["quantityList"][0].keys() == theirs["quantityList"][0].keys()


def test_the_year_says_what_was_bought_in_and_what_it_cost(bought):
    with bought.reading() as state:
        year = result(state, MARKET)
        elsewhere = result(state, MARKET, Period.of_year(2025))
    assert (year.came_in, year.paid_for_honey) == (lb("50"), Money.of("60.00", "USD"))
    assert Account.SUPPLIERS not in year.ends and sum(mass.mg for mass in year.ends.values()) == year.came_in.mg
    assert elsewhere.bought == ()


def test_a_jar_costs_own_and_bought_in_honey_by_mass(bought):
    from labelkit.sale.season_costs import SeasonCosts

    with bought.reading() as state:
        costs = basis_of_record(state, MARKET, SeasonCosts("USD", per_kg=Decimal("4"))).costs
    # By hand: 30 lb at 4.00 a kilogram and 20 lb for 60.00 in all; 1 lb = 0.45359237 kg.
    own, all_of_it = 30 * Decimal("0.45359237"), 50 * Decimal("0.45359237")
    assert abs(costs.honey_per_kg - (4 * own + 60) / all_of_it) < Decimal("0.0001")
    assert costs.honey_asked == ()


def test_a_receipt_without_a_price_is_asked_about_by_its_bucket(season):
    with season.work() as work:
        receive(work, receipt(), HARVEST, "en_US")
    with season.reading() as state:
        assert "bucket R1" in basis_of_record(state, MARKET).costs.honey_asked[0]


def test_a_receipt_is_put_right_under_its_blend_and_undone_where_nothing_stands_on_it(season):
    with season.work() as work:
        receive(work, receipt(), HARVEST, "en_US")
        wrong = work.head().seq
    with season.work() as work:
        done = put_right(work, wrong, "22 on the note", Changes(net=lb("22")), MARKET)
    with season.work() as work:
        assert work.bucket("R1").holds == lb("22") and work.bucket("R1").suppliers == ("Brook apiary",)
        put_right(work, done.booked, "never came", Changes(), MARKET)
    assert verify(season.record).clean


def test_what_could_not_be_traced_one_step_back_is_refused_and_books_nothing(season):
    for wrong in ({"supplier": ""}, {"their_lot": " "}, {"origin": (OriginShare("US", Decimal(90)),)}):
        with pytest.raises(ReceiptUnclear), season.work() as work:
            receive(work, receipt(**wrong), HARVEST, "en_US")
    with pytest.raises(CountryUnknown), season.work() as work:
        receive(work, receipt(origin=(OriginShare("UK", Decimal(100)),)), HARVEST, "en_US")
    with pytest.raises(BucketTwice), season.work() as work:
        receive(work, receipt("B1"), HARVEST, "en_US")
    with season.reading() as state:
        assert state.counted("receive") == 0


def test_a_supplier_is_kept_outside_the_chain_as_every_person_is(bought):
    with bought.reading() as state:
        assert not any("Brook apiary" in str(each) for each in state.masked_events())
        assert state.names("supplier") == {"Brook apiary"}


@pytest.mark.parametrize(("stated", "kept"), [(False, ("17.8", "18.0")), (True, ("18.0", None))])
def test_a_refractometer_that_is_off_puts_a_reading_right_and_not_what_papers_state(season, stated, kept):
    """It showed 27.2 where 27.0 was due, so it shows 0.2 too much."""
    with season.work() as work:
        work.add(BatchLine(HARVEST, REFRACTOMETER, read=Decimal("27.2"), against=Decimal("27.0"), unit="%"))
        receive(work, receipt(moisture_stated=stated), HARVEST, "en_US")
        came = next(work.events(("receive",))).event
    assert (came.moisture, came.moisture_read) == tuple(text and Decimal(text) for text in kept)

"""Comb that is sold by weight: each piece weighed, priced and labelled by itself, and in the balance like a jar."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.errors.run import CombFillsTheJars, PieceFarFromOthers, SoldByWeight
from labelkit.labels.design import design
from labelkit.labels.sheets import sheet
from labelkit.lots.intake import Intake
from labelkit.measures import Declared, Mass, Money
from labelkit.reading.weight_list import of_file
from labelkit.reading.weights import read_pieces
from labelkit.record.settings import Setting
from labelkit.sale.events import PriceSet
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.label import LabelLook, LabelPaper, LabelPrint, book_labels, draw_labels
from labelkit.season.label_words import LabelWords, keep_words
from labelkit.season.lot_words import label_of_lots
from labelkit.season.price import SizePrice, price_list, set_price
from labelkit.season.result import result
from labelkit.season.sell import JarsGone, sell
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.weigh import weigh
from tests.season.conftest import FILLING, HARVEST, MARKET, lb

SCALES = {"grams": ("412.6 g", "398 g", "412 g"), "ounces": ("14.55 oz", "14.05 oz", "14.55 oz")}


def pieces(*texts: str) -> tuple[Declared, ...]:
    return read_pieces(of_file("\n".join(texts)), "en_US")


@pytest.fixture
def comb(season):
    """A box of comb, a product cut from it, and its price: 16 dollars a pound."""
    with season.work() as work:
        weigh(work, Intake("S1", net=lb("5"), moisture=Decimal("17.0")), HARVEST, "en_US")
        box = {"comb": {"width": "4.5 in", "height": "4.5 in"}}
        named = {"name": "Comb Honey", "kind": "comb"}
        maker = {"name": "Pretend Hollow Honey", "city": "Pretend Hollow", "postcode": "00000"}
        work.add(Setting(HARVEST, "maker", maker))
        keep_words(work, LabelWords(named, product="Comb Honey", jars=box), HARVEST)
        pound = Declared.read("1 lb", "en_US")
        asked = SizePrice(
            "comb", Money.of("16.00", "USD"), pound, Money.of("0.80", "USD"), product="Comb Honey", by_weight=True
        )
        set_price(work, asked, HARVEST)
    return season


def cut(season, *texts: str, **more):
    with season.work() as work:
        return bottle(work, Bottling("S1", {}, pieces={"comb": pieces(*texts)}, **more), FILLING, "en_US")


def drawn(season, lot: str, size: str = "comb"):
    with season.reading() as state:
        found = label_of_lots(state, size, [lot], FILLING)
        paper = LabelPaper("front", sheet("letter-2x3-102x85"))
        wanted = LabelPrint(found.label, (paper,), LabelLook(design("press")), size, ((lot, 0),), words=found)
        return draw_labels(state, wanted, FILLING, "en_US")


def labelled_anyway(found):
    return replace(found, asked=replace(found.asked, because="seen and approved"))


def said(label) -> str:
    return " ".join(mark.text for mark in label.marks if getattr(mark, "text", ""))


@pytest.mark.parametrize("scale", SCALES)
def test_a_list_of_weights_gives_each_piece_its_own_label_with_weight_and_price(comb, scale):
    lot = cut(comb, *SCALES[scale]).lot
    found = drawn(comb, lot)
    # By hand, to the cent: 398 g are 0.87744 lb, 412 g are 0.90830 lb; 14.05 oz and 14.55 oz are sixteenths of a pound.
    wanted = {
        "grams": [("398 g", "$14.04", 1), ("412 g", "$14.53", 2)],
        "ounces": [("14.05 oz", "$14.05", 1), ("14.55 oz", "$14.55", 2)],
    }[scale]
    for (weight, price, count), one, placed in zip(wanted, found.sizes, found.drawn[0].printed.placed, strict=True):
        # A figure and its unit may stand as two texts beside each other.
        assert (
            weight.replace(" ", "") in "".join(said(placed).casefold().split())
            and price in said(placed)
            and "$16.00" in said(placed)
        )
        assert one.lots == ((lot, count),)
    assert found.drawn[0].printed.labels == 3


def test_each_label_is_judged_and_booked_for_its_own_pieces(comb):
    lot = cut(comb, *SCALES["grams"]).lot
    found = drawn(comb, lot)
    assert all(row.ok for row in found.drawn[0].printed.rows)
    with comb.work() as work:
        book_labels(work, labelled_anyway(found), FILLING)
        booked = [(each.event.size, each.event.count) for each in work.events(("print",))]
    assert booked == [("comb 398 g", 1), ("comb 412 g", 2)]


def test_pieces_are_in_stock_sold_traced_and_in_the_result_like_jars(comb):
    lot = cut(comb, *SCALES["grams"]).lot
    with comb.work() as work:
        sold = sell(work, JarsGone(lot, {"comb 412 g": 2}, because="no label is needed at the door"), MARKET)
        assert sold.amount == Money.of("29.06", "USD")
        assert [(s.size, s.count) for s in work.stock(lots=[lot])] == [("comb 398 g", 1)]
    with comb.reading() as state:
        assert trace(state, TraceFrom(lot)).trace.buckets == ("S1",)
        assert result(state, MARKET).money_in == Money.of("29.06", "USD")


def test_a_price_of_today_leaves_the_pieces_that_are_labelled_at_theirs(comb):
    lot = cut(comb, "412 g").lot
    with comb.work() as work:
        set_price(work, SizePrice("comb", Money.of("20.00", "USD")), MARKET)
    (label,) = drawn(comb, lot).drawn[0].printed.placed
    assert "$14.53" in said(label) and "$20.00" not in said(label)
    with comb.reading() as state:
        assert [each.row.size for each in price_list(state, MARKET).every] == ["one pound", "comb"]


def test_a_slip_of_the_decimal_mark_is_asked_about(comb):
    with pytest.raises(PieceFarFromOthers):
        cut(comb, "4.12 g", "398 g", "412 g")
    assert cut(comb, "90 g", "398 g", "412 g", because="the end of the comb").run.because == "the end of the comb"


def test_counted_jars_and_weighed_pieces_are_not_taken_for_each_other(comb):
    with comb.work() as work:
        for size in ("comb", "one pound"):
            asked = (
                Bottling("S1", {"comb": 3}) if size == "comb" else Bottling("S1", {}, pieces={size: pieces("412 g")})
            )
            with pytest.raises(SoldByWeight):
                bottle(work, asked, FILLING, "en_US")


def test_a_piece_that_fell_is_broken_under_its_own_weight_and_nothing_is_unexplained(comb):
    done = cut(comb, "398 g", "412 g", broken_pieces={"comb": pieces("405 g")}, left=lb("5") - Mass.of_grams(1215))
    assert [(each.size, each.count) for each in done.run.broken] == [("comb 405 g", 1)] and not done.run.unexplained
    with comb.reading() as state:
        (balance,) = trace(state, TraceFrom(done.lot)).trace.balances[-1:]
    assert balance.jars_made == 3


def test_chunk_honey_is_comb_with_honey_over_it_in_one_step_and_the_trace_names_both(comb):
    with comb.work() as work:
        done = bottle(work, Bottling("B1", {"one pound": 4}, comb={"S1": lb("1")}), FILLING, "en_US")
        # By hand: four pounds in the jars, one of them comb.
        assert work.bucket("S1").holds == lb("4") and done.run.taken == 4 * lb("1") and not done.run.left
    with comb.reading() as state:
        found = trace(state, TraceFrom(done.lot)).trace
    assert set(found.buckets) == {"B1", "S1", "B1 + S1"}
    assert [(bucket, mass) for blend in found.blends for bucket, mass in blend.parts] == [
        ("B1", 3 * lb("1")),
        ("S1", lb("1")),
    ]


def test_chunk_honey_again_from_the_same_buckets_is_a_blend_of_its_own(comb):
    lots = []
    for count in (3, 2):
        with comb.work() as work:
            lots.append(bottle(work, Bottling("B1", {"one pound": count}, comb={"S1": lb("1")}), FILLING, "en_US").lot)
    assert len(set(lots)) == 2


def test_what_is_weighed_back_of_the_honey_over_the_comb_shows_a_loss(comb):
    with comb.work() as work:
        left = work.bucket("B1").holds - 3 * lb("1") - Mass.of_grams(20)
        done = bottle(work, Bottling("B1", {"one pound": 4}, comb={"S1": lb("1")}, left=left), FILLING, "en_US")
    assert done.run.unexplained == Mass.of_grams(20)


def test_comb_that_fills_the_jars_alone_is_refused_and_nothing_is_poured(comb):
    with comb.work() as work:
        with pytest.raises(CombFillsTheJars):
            bottle(work, Bottling("B1", {"one pound": 4}, comb={"S1": lb("4")}), FILLING, "en_US")
        assert work.bucket("S1").holds == lb("5")


@given(st.lists(st.integers(200, 500), min_size=1, max_size=5))
@settings(max_examples=25, deadline=None)
def test_pieces_cost_and_sell_for_their_share_of_the_weight_to_the_nearest_cent(weights):
    whole = PriceSet(
        date(2026, 7, 1),
        "comb",
        Declared.read("1 kg", "en_US"),
        Money.of("36.00", "EUR"),
        Money.of("0.80", "EUR"),
        by_weight=True,
    )
    for declares in pieces(*(f"{grams} g" for grams in weights)):
        expected = (Decimal(36) * declares.grams / 1000).quantize(Decimal("0.01"), ROUND_HALF_UP)
        piece = whole.piece(declares, FILLING)
        cost = (Decimal("0.80") * declares.grams / 1000).quantize(Decimal("0.01"), ROUND_HALF_UP)
        assert (piece.price.amount, piece.cost.amount) == (expected, cost)


def test_a_weight_is_never_declared_above_what_the_scale_showed():
    for text in ("412.9 g", "0.398 kg", "14.556 oz", "0.91 lb"):
        (declared,) = pieces(text)
        assert declared.mass <= Mass.read(text, "en_US") + Mass(1)

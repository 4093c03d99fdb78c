"""Honey and jars that should not go out are refused or asked about by the verb that would let them out."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from labelkit.errors.plan import NothingToPlan
from labelkit.errors.record import JarsTooFew, LotHeld
from labelkit.errors.sale import CustomerMissing, NotTheirJars
from labelkit.errors.trace import LabelAboveHoney, LotShort, RecallNotNamed, StandsAgainst
from labelkit.labels.printed import Printed
from labelkit.lots.intake import Intake
from labelkit.lots.movement import Account
from labelkit.measures import Declared, Mass, Money
from labelkit.plan import Wet
from labelkit.plan.wishes import Planning
from labelkit.record.settings import Setting
from labelkit.record.verify import verify
from labelkit.sale.events import PriceSet
from labelkit.season import recall
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.check_weigh import CheckWeighing, check_weigh
from labelkit.season.correct import relabel
from labelkit.season.deliver import CustomerFacts, JarsForCustomer, deliver, note_customer
from labelkit.season.due import due_today
from labelkit.season.past_fills import jars_of
from labelkit.season.plan import basis_of_record, plan
from labelkit.season.sell import JarsGone, sell
from labelkit.season.shelf import on_shelf
from labelkit.season.stall import Loading, load
from labelkit.season.stock import stock
from labelkit.season.weigh import weigh
from tests.season.conftest import FILLING, HARVEST, MARKET, lb

POUND = "one pound"


def dollars(text: str) -> Money:
    return Money.of(text, "USD")


def filled(season, bucket: str = "B1", jars: int = 12, **said) -> str:
    with season.work() as work:
        return bottle(work, Bottling(bucket, {POUND: jars}, **said), FILLING, "en_US").lot


def gone(season, lot: str, jars: int = 1, **said):
    with season.work() as work:
        return sell(work, JarsGone(lot, {POUND: jars}, **said), MARKET)


def wet_bucket(season, moisture: str = "20.4", name: str = "B2") -> None:
    with season.work() as work:
        weigh(work, Intake(name, net=lb("10"), moisture=Decimal(moisture)), HARVEST, "en_US")


def weighed(season, lot: str, grams: str, *, anew: bool = False) -> None:
    """Twelve jars of the lot, each a little other than the next, so that the list is no repetition."""
    nets = tuple(Mass.of_grams(Decimal(grams) + Decimal(n) / 100) for n in range(12))
    with season.work() as work:
        check_weigh(work, jars_of(work, lot, POUND), CheckWeighing(nets, anew=anew), MARKET, locale="en_US")


def printed(season, lot: str, count: int = 12, **said) -> None:
    with season.work() as work:
        work.add(Printed(MARKET, lot, POUND, "front", "meadow", "sheet", "aaa", ("Honey", "1 lb"), count, **said))


def due(season, day: date = MARKET):
    with season.reading() as state:
        return due_today(state, day, locale="en_US")


# --- honey ------------------------------------------------------------------------------------------------------


def test_held_honey_is_left_out_of_the_plan_and_not_bottled(season):
    with season.work() as work:
        weigh(work, Intake("B2", net=lb("10"), moisture=Decimal("17")), HARVEST, "en_US")
        recall.hold(work, ["B1"], "a splinter was seen", MARKET)
    with season.reading() as state:
        made = plan(basis_of_record(state, MARKET), Planning(wet=Wet.ALLOW)).plan
    assert [bucket.id for bucket in made.buckets] == ["B2"]
    assert [(out.bucket, out.wet) for out in made.left_out] == [("B1", False)]
    assert "a splinter was seen" in made.left_out[0].reason
    with pytest.raises(LotHeld):
        filled(season, because="it is needed")


def test_honey_that_will_ferment_is_planned_and_bottled_only_where_somebody_says_so(season):
    # The United States have no federal ceiling; above 20 % honey is in danger whatever its yeast count (Lochhead 1933).
    wet_bucket(season)
    with season.reading() as state:
        basis = basis_of_record(state, MARKET)
    assert [out.bucket for out in plan(basis, Planning()).plan.left_out] == ["B2"]
    assert not plan(basis, Planning(wet=Wet.ALLOW)).plan.left_out
    with pytest.raises(StandsAgainst, match=r"20\.4 % water; the limit is 20 %"):
        filled(season, "B2", 3)
    lot = filled(season, "B2", 3, because="for baking, kept cold")
    with season.reading() as state:
        run = next(state.events(("run",))).event
    assert run.because == "for baking, kept cold"
    gone(season, lot, 1)  # the words of the run stand for its jars


def test_the_ceiling_of_the_market_decides_where_it_has_one(season):
    # California Food and Agricultural Code 29413: 20 %; Florida Rule 5K-4.027: 23 %.
    wet_bucket(season)
    with season.work() as work:
        work.add(Setting(HARVEST, "market", ["us-ca"]))
    with pytest.raises(StandsAgainst, match="the limit is 20 %") as asked:
        filled(season, "B2", 3)
    assert "Your market does not allow it" in asked.value.why
    with season.work() as work:
        work.add(Setting(HARVEST, "market", ["us-fl"]))
    filled(season, "B2", 3)
    assert ("urgent", "bucket dry", "B2") in {(one.level, one.verb, one.about) for one in due(season)}, "it may ferment"


def test_jars_of_honey_found_wet_after_bottling_are_asked_about(season):
    lot = filled(season)
    with season.work() as work:
        weigh_again(work, "B1", "20.6")
    with pytest.raises(StandsAgainst, match=r"20\.6 % water"):
        gone(season, lot)
    assert gone(season, lot, because="the instrument was cold").event.because == "the instrument was cold"


def weigh_again(work, bucket: str, moisture: str) -> None:
    from labelkit.record.kinds import KINDS

    booked = work.bucket(bucket).history[0]
    wrong = next(each for each in work.events_about([bucket], ("weigh",)) if each.stands)
    right = KINDS["weigh"](booked.bucket, booked.day, booked.net, moisture=Decimal(moisture))
    work.correct(wrong.seq, "measured again", right, day=MARKET)


def test_no_button_says_to_bottle_honey_that_may_not_be_bottled(season):
    wet_bucket(season)
    with season.work() as work:
        recall.hold(work, ["B1"], "waiting for the laboratory", MARKET)
    verbs = {(one.about, one.verb) for one in due(season)}
    assert ("B2", "bucket dry") in verbs and not [verb for verb in verbs if verb[1] == "bottle"]
    with season.reading() as state:
        assert {b.id: b.state for b in stock(state, MARKET).buckets} == {"B1": "on hold", "B2": "wet"}
    with pytest.raises(NothingToPlan, match="on hold"), season.reading() as state:
        plan(basis_of_record(state, MARKET), Planning())


# --- short lots -------------------------------------------------------------------------------------------------


def test_a_lot_that_failed_its_last_check_weighing_goes_nowhere_by_itself(season):
    lot = filled(season)
    weighed(season, lot, "440")
    for because in ("", "they will not notice"):
        with pytest.raises(LotShort, match=r"440\.1 g on average"):
            gone(season, lot, because=because)
        with pytest.raises(LotShort):
            gone(season, lot, way="given", to="gift", because=because)
    with season.reading() as state:
        assert not on_shelf(state)
    with (
        pytest.raises(JarsTooFew, match="All lots, one pound: 2 too few in stock"),
        season.work() as work,
    ):
        load(work, Loading("Mill square", {POUND: 2}, change=dollars("50")), MARKET)
    with pytest.raises(LotShort), season.work() as work:
        load(work, Loading("Mill square", {POUND: 2}, lot, change=dollars("50")), MARKET)
    first = due(season)[0]
    assert (first.level, first.verb, first.about) == ("urgent", "weigh jars", f"{lot}={POUND}")
    with season.reading() as state:
        assert [(jars.in_stock, jars.on_hold) for jars in stock(state, MARKET).filled] == [(0, 12)]


@pytest.mark.parametrize("how", ["weighed anew", "released", "struck"])
def test_a_short_lot_is_free_once_topped_up_and_weighed_anew_released_or_its_weights_struck(season, how):
    lot = filled(season)
    weighed(season, lot, "440")
    if how == "weighed anew":
        weighed(season, lot, "456", anew=True)
    else:
        with season.work() as work:
            if how == "released":
                recall.release(work, [lot], "the scale was wrong by 20 g", MARKET)
            else:
                work.correct(next(work.latest(("check-weigh",))).seq, "another lot was weighed", day=MARKET)
    assert gone(season, lot, 12).jars == 12


def test_weights_taken_after_a_release_put_a_lot_on_hold_again(season):
    lot = filled(season)
    weighed(season, lot, "440")
    with season.work() as work:
        recall.release(work, [lot], "the scale was wrong", MARKET)
    weighed(season, lot, "441", anew=True)
    with pytest.raises(LotShort):
        gone(season, lot)


def test_short_jars_are_relabelled_to_what_they_hold_and_to_no_more(season):
    lot = filled(season)
    weighed(season, lot, "440")
    with season.work() as work:
        for size, declares in (("15 oz", "15 oz"), ("half kilo", "500 g")):
            work.add(PriceSet(MARKET, size, Declared.read(declares, "en_US"), dollars("10.00"), dollars("1.35")))
    with pytest.raises(LabelAboveHoney), season.work() as work:
        relabel(work, lot, {POUND: 12}, "filled short", MARKET, size="half kilo")
    # 15 oz are 425.2 g; the lightest jar held 440 g.
    with season.work() as work:
        into = relabel(work, lot, {POUND: 12}, "filled short", MARKET, size="15 oz").relabel.into
    with season.work() as work:
        assert sell(work, JarsGone(into, {"15 oz": 12}), MARKET).jars == 12
    assert verify(season.record).clean


def test_another_code_alone_does_not_free_short_jars(season):
    lot = filled(season)
    weighed(season, lot, "440")
    with season.work() as work:
        into = relabel(work, lot, {POUND: 12}, "smudged", MARKET).relabel.into
    with pytest.raises(LotShort):
        gone(season, into)


# --- labels -----------------------------------------------------------------------------------------------------


def test_unlabelled_jars_are_asked_about_where_labels_of_the_size_are_printed_at_all(season):
    lot = filled(season)
    gone(season, lot, 1)  # whoever prints no labels with labelkit is not asked about them
    printed(season, lot, 8)
    gone(season, lot, 7)
    with pytest.raises(StandsAgainst, match=r"4 jars of lot .* have no label yet"):
        gone(season, lot, 4)
    assert gone(season, lot, 4, because="labelled by hand").event.because == "labelled by hand"


def test_own_honey_is_eaten_without_a_label(season):
    lot = filled(season)
    printed(season, lot, 1)
    assert gone(season, lot, 5, way="given", to="own use").jars == 5


def test_labels_let_through_with_findings_are_asked_about_when_their_jars_go_out(season):
    lot = filled(season)
    printed(season, lot, findings=("The net weight is missing.",), because="stickers follow")
    with pytest.raises(StandsAgainst, match="The net weight is missing"):
        gone(season, lot)
    printed(season, lot)  # corrected and printed again
    gone(season, lot)


def test_jars_past_their_date_are_asked_about_from_the_day_after(season):
    lot = filled(season)
    printed(season, lot, best_before=MARKET)
    gone(season, lot)
    printed(season, lot, best_before=FILLING)
    with pytest.raises(StandsAgainst, match="passed on 2026-07-20"):
        gone(season, lot)
    assert ("due", "labels") in {(one.level, one.verb) for one in due(season)}


# --- customers --------------------------------------------------------------------------------------------------


def test_a_business_has_a_name_and_its_phone_is_asked_for_on_the_day_of_the_sale(season):
    lot = filled(season)
    for business in ("shop", "wholesale", "restaurant"):
        with pytest.raises(CustomerMissing):
            gone(season, lot, to=business)
    assert gone(season, lot, to="shop", customer="Corner shop").phone_missing
    assert "Corner shop" in next(one.what for one in due(season) if one.verb == "customer")
    assert not gone(season, lot, to="shop", customer="Corner shop", phone="555-0100").phone_missing
    assert not [one for one in due(season) if one.verb == "customer"]
    # A stall or farm gate, and whatever else somebody calls a channel, need no name.
    assert not gone(season, lot).phone_missing and not gone(season, lot, to="honey box").phone_missing


def test_a_delivery_asks_for_the_phone_and_is_asked_about_like_any_sale(season):
    lot = filled(season)
    with season.work() as work:
        work.add(Setting(HARVEST, "maker", {"name": "Pretend Hollow", "street": "1 Row", "city": "Nowhere"}))
    asked = {"prices": {POUND: dollars("8.40")}, "address": ("1 Made-up Row", "Sampleton")}
    with season.work() as work:
        assert deliver(work, JarsForCustomer("Corner shop", {POUND: 2}, **asked), MARKET, "en_US").phone_missing
    printed(season, lot, 1)
    with pytest.raises(StandsAgainst), season.work() as work:
        deliver(work, JarsForCustomer("Corner shop", {POUND: 4}, phone="555-0100"), MARKET, "en_US")
    with pytest.raises(CustomerMissing), season.work() as work:
        deliver(work, JarsForCustomer(" ", {POUND: 4}, **asked), MARKET, "en_US")


# --- what comes back --------------------------------------------------------------------------------------------


def at(season, lot: str) -> dict[str, int]:
    with season.reading() as state:
        everywhere = (Account.JARS, Account.HELD, Account.SOLD, Account.GIVEN)
        return {str(s.account): s.count for s in state.stock(*everywhere, lots=[lot])}


def test_a_jar_that_came_back_stands_apart_until_it_is_released(season):
    lot = filled(season)
    gone(season, lot, 4)
    gone(season, lot, 3, way="returned", reason="lid not tight")
    assert at(season, lot) == {"jars": 8, "held": 3, "sold": 1}
    assert "3 jars" in next(one.what for one in due(season) if one.verb == "release")
    with pytest.raises(JarsTooFew):
        gone(season, lot, 9)
    with season.work() as work:
        assert recall.release(work, [lot], "the lids are tight", MARKET).jars == 3
    assert at(season, lot) == {"jars": 11, "sold": 1}
    assert verify(season.record).clean


def test_a_jar_is_paid_back_at_the_price_it_was_sold_at(season):
    lot = filled(season)
    gone(season, lot, 2, prices={POUND: dollars("5.00")})
    with season.work() as work:
        work.add(PriceSet(MARKET, POUND, Declared.read("1 lb", "en_US"), dollars("10.00"), dollars("1.35")))
    assert gone(season, lot, 2, way="returned", reason="wax in it").amount == dollars("10.00")  # twice 5.00


def test_the_last_sold_comes_back_first_each_at_its_own_price(season):
    lot = filled(season)
    for price, who in (("5.00", None), ("6.00", None), ("8.00", "Corner shop")):
        gone(season, lot, 2, prices={POUND: dollars(price)}, customer=who)
    back = gone(season, lot, 3, way="returned", reason="crystals").event
    assert [(line.count, line.price.amount) for line in back.lines] == [(2, Decimal(6)), (1, Decimal(5))]
    shop = gone(season, lot, 1, way="returned", reason="crystals", customer="Corner shop")
    assert shop.amount == dollars("8.00")
    last = gone(season, lot, 1, way="returned", reason="crystals")
    assert last.amount == dollars("5.00")


def test_a_gift_brought_back_is_never_paid_out(season):
    lot = filled(season)
    gone(season, lot, 1, way="given", to="gift", customer="Aunt Invented")
    gone(season, lot, 3)
    back = gone(season, lot, 1, way="returned", reason="wax in it", customer="Aunt Invented")
    assert back.amount is None and back.jars == 1
    assert at(season, lot) == {"jars": 8, "held": 1, "sold": 3}
    from labelkit.season.result import result

    with season.reading() as state:
        found = result(state, MARKET)
    assert found.money_in == dollars("36.00")
    assert sum(entry.count for entry in found.entries if entry.what == "given") == 0


def test_nobody_brings_back_jars_that_other_people_have(season):
    lot = filled(season)
    gone(season, lot, 4, to="shop", customer="Corner shop", phone="555-0100")
    gone(season, lot, 3, way="given", to="gift", customer="Aunt Invented")
    gone(season, lot, 2)
    refusals = [
        (5, "Corner shop", "Corner shop has 4"),
        (4, "Aunt Invented", "Aunt Invented has 3"),
        (1, "Cornr shop", "Cornr shop has 0"),  # a name misspelled is no new one
        (3, None, "Unnamed buyers have 2"),
    ]
    for jars, customer, says in refusals:
        with pytest.raises(NotTheirJars, match=says):
            gone(season, lot, jars, way="returned", reason="x", customer=customer)
    gone(season, lot, 1, way="returned", reason="x", customer="Somebody New")  # bought without a name
    with pytest.raises(NotTheirJars, match="have 1 of"):
        gone(season, lot, 2, way="returned", reason="x")
    with season.work() as work:
        count = recall.drill(work, MARKET, lot).count
    assert (count.with_customers, count.unnamed, count.missing) == (7, 1, 0)


def test_jars_only_one_customer_has_came_from_there(season):
    lot = filled(season)
    gone(season, lot, 4, to="shop", customer="Corner shop", phone="555-0100")
    assert gone(season, lot, 2, way="returned", reason="x").event.customer == "Corner shop"
    gone(season, lot, 4, to="shop", customer="Hill shop", phone="555-0101")
    with pytest.raises(NotTheirJars, match="have 0 of"):
        gone(season, lot, 2, way="returned", reason="x")


def test_a_jar_given_away_alone_can_be_brought_back(season):
    lot = filled(season)
    gone(season, lot, 1, way="given", to="gift")
    assert gone(season, lot, 1, way="returned", reason="wax in it").amount is None
    assert at(season, lot) == {"jars": 11, "held": 1}


# --- recalls ----------------------------------------------------------------------------------------------------


@pytest.fixture
def running(season):
    """A recall of a lot of which a shop had six, an aunt one as a gift, and nobody knows who two."""
    lot = filled(season)
    gone(season, lot, 6, to="shop", customer="Corner shop", phone="555-0100")
    gone(season, lot, 1, way="given", to="gift", customer="Aunt Invented")
    gone(season, lot, 2)
    with season.work() as work:
        recall.begin(work, recall.CallingBack((lot,), "foreign-body", "a splinter of glass", "R1"), MARKET)
    return season


def test_today_says_first_whom_to_call_next_and_whose_answer_is_missing(running):
    first = due(running)[0]
    assert (first.level, first.verb, first.about) == ("urgent", "call", "R1")
    assert "call Corner shop next" in first.what and "555-0100" in first.why
    with running.work() as work:
        recall.tell(work, "R1", "Corner shop", MARKET, has=2)
    assert "call Aunt Invented next" in due(running)[0].what and "not noted" in due(running)[0].why
    with running.work() as work:
        recall.tell(work, "R1", "Aunt Invented", MARKET)
    assert "ask Aunt Invented again" in due(running)[0].what
    with running.work() as work:
        recall.tell(work, "R1", "Aunt Invented", MARKET, has=1)
    assert not [one for one in due(running) if one.verb == "call"]


def test_a_recall_needs_no_name_while_it_is_the_only_one_that_runs(running):
    with running.work() as work:
        recall.tell(work, "", "Corner shop", MARKET, has=2)
        recall.tell(work, "", "Aunt Invented", MARKET, has=1)
        lots = recall.running(work).recall.lots
        recall.begin(work, recall.CallingBack(lots, "authority", "asked again", "R2", only=True), MARKET)
        assert recall.running(work).recall.name == "R2", "everybody has answered the first"
        recall.begin(work, recall.CallingBack(lots, "authority", "a third time", "R3", only=True), MARKET)
        with pytest.raises(RecallNotNamed, match="R2, R3"):
            recall.running(work)


def test_who_got_a_gift_gets_a_letter_for_people_and_a_shop_one_for_shops(running):
    with running.reading() as state:
        (_, notices), *_ = recall.notices_in(recall.running(state), ("en",), "en_US")
    shop, aunt = notices[0].text, notices[1].text
    assert "Stop selling" in shop and "delivered to you" in shop
    assert "gave you as a gift" in aunt and "Do not eat this honey" in aunt
    assert "Stop selling" not in aunt and "Hang up" not in aunt


def test_a_drill_counts_what_came_back_as_with_us_and_says_who_has_no_phone(running):
    with running.reading() as state:
        lot = recall.running(state).recall.lots[0]
    with running.work() as work:
        sell(work, JarsGone(lot, {POUND: 2}, "returned", customer="Corner shop", reason="recall R1"), MARKET)
        done = recall.drill(work, MARKET, lot)
    count = done.count
    # 12 made: 3 never left, 2 came back, 4 are at the shop, 1 with the aunt, 2 with people nobody wrote down.
    assert (count.jars_made, count.on_hold, count.with_customers, count.sold_direct, count.given) == (12, 5, 5, 2, 0)
    assert [(each.customer, each.phone) for each in done.customers] == [
        ("Corner shop", "555-0100"),
        ("Aunt Invented", ""),
    ]


def test_a_phone_noted_later_is_known_to_the_next_call(running):
    with running.work() as work:
        note_customer(work, CustomerFacts("Aunt Invented", "555-0111"), MARKET)
        recall.tell(work, "R1", "Corner shop", MARKET, has=0)
    assert "555-0111" in due(running)[0].why


def test_a_kept_plan_is_not_followed_into_a_bucket_put_on_hold_since(season):
    from labelkit.season.kept_plan import follow, keep_plan

    wet_bucket(season, "17")
    with season.work() as work:
        keep_plan(work, Planning(), MARKET)
        recall.hold(work, ["B1"], "a splinter was seen", MARKET)
    with season.reading() as state:
        followed = follow(state, MARKET)
    assert [change.words("en_US") for change in followed.changes] == ["B1 is on hold now."]
    assert [bucket.id for bucket in followed.plan.buckets] == ["B2"]

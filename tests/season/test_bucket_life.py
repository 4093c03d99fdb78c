"""What happens to a bucket between weigh-in and jar, through the Python API alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labelkit.errors.honey import DryingAddsWater
from labelkit.errors.lots import (
    BucketTooEmpty,
    BuyerNotNamed,
    DryingDoesNotBalance,
    DryingUnclear,
    NothingMeasured,
    SeedFromItself,
    SeedUnclear,
    SkimUnclear,
    WeighedFarFromRecord,
    WeighsMoreAfter,
    WhyNotSaid,
)
from labelkit.errors.record import (
    CorrectionValueNotFor,
    DayBeforeItsHoney,
    DayLaterThanClock,
    JarsTooFew,
    LotHeld,
    LotUnknown,
    NothingNoted,
)
from labelkit.errors.trace import NothingToRecall
from labelkit.honey.blend import Mixed, dry
from labelkit.lots.bucket import Part
from labelkit.lots.bucket_life import DISCARDED, FED, GIVEN, SOLD
from labelkit.lots.intake import Intake
from labelkit.lots.movement import Account
from labelkit.measures import Mass, Money
from labelkit.record.verify import verify
from labelkit.season import recall
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.changes import Changes
from labelkit.season.measure import Measuring, Weighed, measure
from labelkit.season.note import note
from labelkit.season.put_right import put_right
from labelkit.season.recall import CallingBack, begin, drill, notices_in, running, tell
from labelkit.season.take_out import TakingOut, take_out
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.treat import Drying, Skimming, Stirring, Warming, dry_out, skim, stir, warm
from labelkit.season.weigh import weigh
from tests.season.conftest import FILLING, HARVEST, MARKET, lb
from tests.walks import examples


def done(season, verb, asked, day=FILLING):
    with season.work() as work:
        return verb(work, asked, day, "en_US")


def balance(season, name="B1"):
    with season.reading() as state:
        found = trace(state, TraceFrom(name)).trace.balance(name)
    assert found.rest.mg == 0
    assert verify(season.record).clean
    return found


def bucket(season, name="B1"):
    with season.reading() as state:
        return state.bucket(name)


def test_a_bucket_weighed_again_holds_what_the_scale_says_and_the_difference_has_its_own_account(season):
    again = done(season, measure, Measuring("B1", Weighed(gross=lb("32"), tare=lb("2.5"))))
    now = lb("32") - lb("2.5")
    assert again.bucket.holds == now and again.step.weighing.gross == lb("32")
    assert balance(season).bulk == ((Account.REWEIGHED, lb("30") - now),)
    # 29.5 of 30 lb are accounted for
    assert round(balance(season).accounted_percent, 2) == Decimal("98.33")


def test_the_latest_measure_of_moisture_rules_from_its_day_on(season):
    done(season, measure, Measuring("B1", moisture=Decimal("18.2"), instrument="refractometer 2"), MARKET)
    done(season, measure, Measuring("B1", moisture=Decimal("17.9")), FILLING)  # measured before, booked after
    now = bucket(season)
    assert (now.moisture, now.moisture_is_whole) == (Decimal("18.2"), True)
    assert [each.moisture for each in now.history] == [Decimal("17.4"), Decimal("17.9"), Decimal("18.2")]


def test_honey_added_after_a_measure_is_mixed_with_what_was_measured(season):
    from labelkit.season.drain import drain

    done(season, measure, Measuring("B1", moisture=Decimal("18.0")))
    done(season, drain, Intake("B1", net=lb("30"), moisture=Decimal("20.0")))
    assert bucket(season).moisture == Decimal(19)


def test_foam_skimmed_is_a_loss_with_a_name(season):
    done(season, skim, Skimming("B1", removed=lb("0.4"), because="foam and wax"))
    assert bucket(season).holds == lb("30") - lb("0.4") and balance(season).lost == lb("0.4")
    done(season, skim, Skimming("B1", after=Weighed(net=lb("29.5"))))
    assert balance(season).lost == lb("30") - lb("29.5")


def test_drying_takes_water_and_leaves_the_solids(season):
    # Solids stay: 30 lb at 17.4 % hold 24.78 lb of them, which are 83.5 % of 29.677 lb.
    dried = done(
        season, dry_out, Drying("B1", moisture_after=Decimal("16.5"), hottest_c=Decimal(35), hours=Decimal(20))
    )
    assert round(dried.bucket.holds.lb, 3) == Decimal("29.677") and dried.bucket.moisture == Decimal("16.5")
    assert dried.bucket.hottest_c == 35
    (gone,) = balance(season).bulk
    assert gone == (Account.WATER, dried.step.gone)


def test_a_drying_by_weight_says_how_moist_the_honey_is_now(season):
    # 24.78 lb of solids in 29 lb: 14.55 % water
    assert done(season, dry_out, Drying("B1", after=lb("29"))).step.moisture == Decimal("14.55")


def test_a_drying_whose_weights_and_moistures_contradict_each_other_is_asked_about(season):
    wrong = Drying("B1", after=lb("27"), moisture_after=Decimal("16.5"))
    with pytest.raises(DryingDoesNotBalance):
        done(season, dry_out, wrong)
    because = Drying("B1", after=lb("27"), moisture_after=Decimal("16.5"), because="two pounds were spilled")
    assert done(season, dry_out, because).step.because == "two pounds were spilled"
    assert bucket(season).holds == lb("27")


def test_what_was_weighed_and_measured_before_drying_is_booked_first(season):
    asked = Drying("B1", before=lb("29.8"), moisture_before=Decimal("18"), moisture_after=Decimal("17"))
    dried = done(season, dry_out, asked)
    assert dried.step.held == lb("29.8")
    assert dried.bucket.holds == dry(Mixed(lb("29.8"), Decimal(18)), Decimal(17)).mass
    assert balance(season).reweighed == lb("30") - lb("29.8")


def test_warming_is_remembered_by_the_bucket_and_by_what_is_blended_from_it(season):
    from labelkit.season.blend import Blending, blend

    done(season, warm, Warming("B1", Decimal(42), Decimal(12)))
    with season.work() as work:
        weigh(work, Intake("B2", net=lb("10")), HARVEST, "en_US")
    mixed = done(season, blend, Blending("M1", (("B1", lb("5")), ("B2", lb("5")))), MARKET)
    assert (mixed.hottest_c, mixed.warm_hours) == (42, 12)
    assert bucket(season, "B2").hottest_c is None


def test_seed_is_a_parent_and_its_mass_moves(season):
    with season.work() as work:
        weigh(work, Intake("S", net=lb("4"), moisture=Decimal("17.0")), HARVEST, "en_US")
    seeded = done(season, stir, Stirring("B1", "S", lb("3")))
    assert seeded.bucket.holds == lb("33") and bucket(season, "S").holds == lb("1")
    assert seeded.bucket.parents == (Part("S", lb("3")),)
    lot = done(season, bottle, Bottling("B1", {"one pound": 10}), MARKET).lot
    with season.reading() as state:
        assert set(trace(state, TraceFrom(lot)).trace.buckets) == {"B1", "S"}
        assert lot in state.descent("S")
    with pytest.raises(SeedFromItself):
        done(season, stir, Stirring("S", "B1", lb("1")))
    with pytest.raises(BucketTooEmpty):
        done(season, stir, Stirring("B1", "S", lb("2")))
    balance(season)


def test_a_bucket_sold_whole_is_weighed_and_empty_and_its_price_is_mass_times_rate(season):
    asked = TakingOut(
        "B1", SOLD, weighed=Weighed(net=lb("29.9")), customer="Hill café", rate=Money.of("4.15", "USD"), per="lb"
    )
    sold = done(season, take_out, asked)
    assert sold.bucket.holds.mg == 0
    assert sold.step.price == Money.of("124.09", "USD")  # 29.9 x 4.15 = 124.085
    assert dict(balance(season).bulk) == {Account.SOLD: lb("29.9"), Account.REWEIGHED: lb("30") - lb("29.9")}
    with season.reading() as state:
        (went,) = trace(state, TraceFrom("B1")).trace.went
        assert (went.customer, went.mass, went.count) == ("Hill café", lb("29.9"), 0)
        assert trace(state, TraceFrom(customer="Hill café")).trace.buckets == ("B1",)


def test_a_recall_of_a_lot_reaches_the_buyer_of_the_rest_of_its_bucket(season):
    lot = done(season, bottle, Bottling("B1", {"one pound": 12})).lot
    done(season, take_out, TakingOut("B1", SOLD, customer="Sample packers"))
    with season.work() as work:
        begun = recall.begin(work, recall.CallingBack((lot,), "foreign-body", "a splinter"), MARKET)
    one = begun.running
    (buyer,) = one.customers
    assert (buyer.customer, buyer.count) == ("Sample packers", 0)
    ((name, mass),) = buyer.bulk
    assert name == "B1" and abs((mass - lb("18")).mg) <= 12
    assert one.now.count.jars_made == 12 and one.next_to_call == buyer
    letter = next(
        text for each in recall.notices_in(one, ("en",), "en_US")[0][1] for _, text in each.parts if "in bulk" in text
    )
    assert "lot B1" in letter
    words = [text for _, text in recall.notices_in(one, ("en",), "en_US")[0][1][0].parts]
    assert not any("label of every jar" in text or "these jars" in text for text in words)
    assert any("this honey" in text for text in words)


def test_what_a_bucket_sold_in_bulk_brought_stands_in_the_result(season):
    from labelkit.season.result import result

    rate = Money.of("4.00", "USD")
    done(season, take_out, TakingOut("B1", SOLD, part=lb("10"), customer="Hill café", rate=rate, per="lb"))
    with season.reading() as state:
        year = result(state, MARKET)
    assert year.money_in == Money.of("40.00", "USD") and year.whole.sold == 0
    (by_size,) = year.by("size")
    # 10 lb are 4.5359237 kg: 8.82 for a kilogram
    assert (by_size.name, by_size.sold_mass, by_size.per_kg) == ("in bulk", lb("10"), Money.of("8.82", "USD"))


def test_the_declaration_names_the_country_by_what_is_in_the_bucket(season):
    from labelkit.lots.intake import Receipt
    from labelkit.lots.received import OriginShare
    from labelkit.season.receive import receive
    from labelkit.season.take_out import countries_of

    shares = (OriginShare("ES", Decimal(60)), OriginShare("AR", Decimal(40)))
    with season.work() as work:
        receive(work, Receipt(Intake("R1", net=lb("10")), "Brook apiary", "K7", shares), FILLING, "en_US")
    sold = done(season, take_out, TakingOut("R1", SOLD, customer="Hill café"))
    own = done(season, take_out, TakingOut("B1", SOLD, customer="Hill café"))
    with season.reading() as state:
        assert countries_of(state, sold, "en") == "Spain 60.0 %, Argentina 40.0 %"
        assert countries_of(state, own, "en") == ""


@pytest.mark.parametrize(
    ("how", "account"), [(FED, Account.FED), (GIVEN, Account.GIVEN), (DISCARDED, Account.DISCARDED)]
)
def test_honey_fed_back_given_or_discarded_has_an_account_and_can_be_undone(season, how, account):
    out = done(season, take_out, TakingOut("B1", how, part=lb("3"), because="fermented"))
    assert balance(season).bulk == ((account, lb("3")),)
    with season.work() as work:
        put_right(work, out.event, "it was another bucket", Changes(), MARKET)
    assert bucket(season).holds == lb("30")
    balance(season)


def test_what_cannot_be_is_refused_and_nothing_is_booked(season):
    with season.reading() as state:
        before = state.head().seq
    for verb, asked, refusal in (
        (measure, Measuring("B1"), NothingMeasured),
        (measure, Measuring("B1", Weighed(net=lb("32"))), WeighedFarFromRecord),
        (measure, Measuring("B1", Weighed(net=lb("20"))), WeighedFarFromRecord),
        (skim, Skimming("B1"), SkimUnclear),
        (skim, Skimming("B1", removed=lb("31")), BucketTooEmpty),
        (skim, Skimming("B1", after=Weighed(net=lb("31"))), WeighsMoreAfter),
        (dry_out, Drying("B1"), DryingUnclear),
        (dry_out, Drying("B1", after=lb("31")), WeighsMoreAfter),
        (dry_out, Drying("B1", moisture_after=Decimal("18")), DryingAddsWater),
        (take_out, TakingOut("B1", SOLD), BuyerNotNamed),
        (take_out, TakingOut("B1", DISCARDED), WhyNotSaid),
        (take_out, TakingOut("B1", FED, part=lb("31")), BucketTooEmpty),
    ):
        with pytest.raises(refusal):
            done(season, verb, asked)
    with pytest.raises(DayBeforeItsHoney):
        done(season, warm, Warming("B1", Decimal(40), Decimal(2)), date(2026, 7, 1))
    with pytest.raises(DayLaterThanClock):
        done(season, measure, Measuring("B1", moisture=Decimal(18)), date(2026, 8, 1))
    with season.reading() as state:
        assert state.head().seq == before


def test_honey_on_hold_may_be_measured_and_dried_and_discarded_but_goes_to_nobody(season):
    with season.work() as work:
        recall.hold(work, ["B1"], "too wet", FILLING)
    done(season, measure, Measuring("B1", Weighed(net=lb("29.8")), moisture=Decimal(19)))
    done(season, dry_out, Drying("B1", moisture_after=Decimal(18)))
    for how in (SOLD, FED, GIVEN):
        with pytest.raises(LotHeld):
            done(season, take_out, TakingOut("B1", how, customer="Hill café"))
    done(season, take_out, TakingOut("B1", DISCARDED, because="fermented all the same"))
    balance(season)


def test_a_note_is_kept_with_its_lots_and_its_words_go_with_the_customer(season):
    with season.work() as work:
        noted = note(work, ["B1"], "Hill café wants it dark", FILLING, "Hill café")
    with season.reading() as state:
        found = trace(state, TraceFrom("B1")).trace
    assert [each.event.note for each in found.notes] == ["Hill café wants it dark"]
    with season.work() as work:
        work.forget("Hill café", "asked by letter")
    with season.reading() as state:
        assert "dark" not in state.event(noted.event).event.describe("en_US")
    for lots, words, refusal in ((["B1"], " ", NothingNoted), ([], "x", NothingNoted), (["B9"], "x", LotUnknown)):
        with pytest.raises(refusal), season.work() as work:
            note(work, lots, words, FILLING)


def test_a_step_repeated_under_its_key_is_booked_once(season):
    for _ in range(2):
        with season.work("a key") as work:
            once = take_out(work, TakingOut("B1", FED, weighed=Weighed(net=lb("29.9"))), FILLING, "en_US")
    assert once.bucket.holds.mg == 0
    assert balance(season).reweighed == lb("30") - lb("29.9")


def test_a_weigh_in_put_right_is_followed_by_what_happened_in_the_bucket_since(season):
    weigh_in = 2  # the event of the bucket of 30 lb
    done(season, skim, Skimming("B1", removed=lb("0.5")))
    done(season, dry_out, Drying("B1", moisture_after=Decimal("16.5")))
    done(season, take_out, TakingOut("B1", FED, part=lb("2")))
    with season.work() as work:
        put = put_right(work, weigh_in, "30 typed for 20", Changes(net=lb("20")), MARKET)
    assert len(put.steps) == 3
    # 19.5 lb at 17.4 % dried to 16.5 %, less 2 lb; each step rounds down to its milligram
    left = dry(Mixed(lb("20") - lb("0.5"), Decimal("17.4")), Decimal("16.5")).mass - lb("2")
    assert abs((bucket(season).holds - left).mg) <= 2
    assert bucket(season).moisture == Decimal("16.5")
    balance(season)


def test_after_a_bucket_was_weighed_again_an_old_mistake_changes_nothing_any_more(season):
    done(season, measure, Measuring("B1", Weighed(net=lb("29.5"))))
    with season.work() as work:
        put = put_right(work, 2, "30 typed for 31", Changes(net=lb("31")), MARKET)
    assert len(put.steps) == 1 and bucket(season).holds == lb("29.5")
    assert balance(season).reweighed == lb("31") - lb("29.5")


def test_steps_in_a_bucket_are_put_right_in_place(season):
    again = done(season, measure, Measuring("B1", Weighed(net=lb("29.5")), moisture=Decimal("18.8")))
    fed = done(season, take_out, TakingOut("B1", FED, part=lb("2")))
    with season.work() as work:
        put_right(work, again.event, "misread", Changes(net=lb("29"), moisture=Decimal("17.8")), MARKET)
    now = bucket(season)
    assert now.holds == lb("29") - lb("2") and now.moisture == Decimal("17.8")
    with season.reading() as state:
        (fed_again,) = (each.seq for each in state.events(("take-out",)) if each.stands)
    assert fed_again != fed.event
    with season.work() as work:
        last = put_right(work, fed_again, "it was 3 lb", Changes(net=lb("3")), MARKET).booked
    assert bucket(season).holds == lb("29") - lb("3")
    with pytest.raises(CorrectionValueNotFor), season.work() as work:
        put_right(work, last, "x", Changes(moisture=Decimal(18)), MARKET)
    balance(season)


steps = st.lists(
    st.one_of(
        st.tuples(st.just("weigh"), st.integers(9_000_000, 10_190_000)),
        st.tuples(st.just("skim"), st.integers(1, 300_000)),
        st.tuples(st.just("dry"), st.decimals(Decimal("0.1"), 2, places=1)),
        st.tuples(st.just("seed"), st.integers(1, 100_000)),
        st.tuples(st.just("feed"), st.integers(1, 400_000)),
    ),
    max_size=6,
)


@settings(max_examples=examples(20), deadline=None)
@given(asked=steps)
def test_whatever_happens_to_a_bucket_its_mass_is_accounted_for_to_the_milligram(tmp_path_factory, asked):
    from datetime import UTC, datetime

    from labelkit import open_season

    clock = datetime(2026, 7, 25, 18, tzinfo=UTC)
    where = tmp_path_factory.mktemp("life") / "season.labelkit"
    with open_season(where, create=True, who="Robin", clock=clock) as season:
        with season.work() as work:
            weigh(work, Intake("B1", net=Mass(10_000_000), moisture=Decimal("19.5")), HARVEST, "en_US")
            weigh(work, Intake("S", net=Mass(1_000_000), moisture=Decimal(17)), HARVEST, "en_US")
        for how, figure in asked:
            now = bucket(season)
            if how == "weigh":
                seen = Mass(now.holds.mg * figure // 10_000_000)
                done(season, measure, Measuring("B1", Weighed(net=seen)))
                assert bucket(season).holds == seen
            elif how == "skim":
                done(season, skim, Skimming("B1", removed=Mass(figure)))
                assert bucket(season).holds == now.holds - Mass(figure)
            elif how == "dry":
                dried = done(season, dry_out, Drying("B1", moisture_after=now.moisture - figure))
                solids = now.holds.mg * (100 - now.moisture)
                # down to the milligram: less than one milligram of honey of the solids is lost
                assert 0 <= solids - dried.bucket.holds.mg * (100 - dried.bucket.moisture) < 100
            elif how == "seed":
                done(season, stir, Stirring("B1", "S", Mass(figure)))
                assert bucket(season).holds == now.holds + Mass(figure)
            else:
                done(season, take_out, TakingOut("B1", FED, part=Mass(figure)))
                assert bucket(season).holds == now.holds - Mass(figure)
        balance(season), balance(season, "S")


@pytest.mark.parametrize("cause", ["ferment", "authority", "foreign-body"])
def test_a_bucket_that_was_sold_whole_is_recalled_and_its_buyer_named(season, cause):
    done(season, take_out, TakingOut("B1", SOLD, customer="Hill café", address=("2 Invented lane",)))
    with season.work() as work:
        begun = begin(work, CallingBack(("B1",), cause, "it foams"), MARKET)
    assert begun.running.recall.lots == ("B1",)
    assert [(each.customer, each.bulk) for each in begun.running.customers] == [("Hill café", (("B1", lb("30")),))]
    for gift in (False, True):
        running_to = replace(begun.running, customers=(replace(begun.running.customers[0], gift=gift),))
        ((_, (letter,)),) = notices_in(running_to, ("en",), "en_US")
        assert "of honey in bulk, lot B1" in letter.text
        assert not any(jars in letter.text for jars in ("these jars", "the jars", "every jar"))
    with season.work() as work:
        tell(work, "", "Hill café", MARKET, has=0)
        assert [each.customer for each in drill(work, MARKET, "B1").customers] == ["Hill café"]
        assert not running(work).now.not_told


def test_honey_still_in_its_bucket_is_not_recalled_but_held(season):
    with pytest.raises(NothingToRecall), season.work() as work:
        begin(work, CallingBack(("B1",), "ferment", "it foams"), MARKET)
    with pytest.raises(NothingToRecall), season.work() as work:
        drill(work, MARKET, "B1")


def test_seed_out_of_jars_has_their_lot_and_its_bucket_for_parents(season):
    done(season, weigh, Intake("B2", net=lb("10"), moisture=Decimal("18.4")), HARVEST)
    lot = done(season, bottle, Bottling("B1", {"one pound": 6})).lot
    seeded = done(season, stir, Stirring("B2", lot, jars={"one pound": 2}), MARKET)
    fill = (lb("30") - bucket(season).holds).mg // 6
    assert seeded.step.seed == Part(lot, Mass(2 * fill)) and seeded.bucket.holds == lb("10") + Mass(2 * fill)
    assert [source.yard for source in seeded.bucket.sources] == ["Mill meadow"]
    # 10 lb of 18.4 % and 2 lb of 17.4 %
    assert round(seeded.bucket.moisture, 2) == Decimal("18.23") and seeded.bucket.moisture_is_whole
    with season.reading() as state:
        assert [(jar.lot, jar.count) for jar in state.stock()] == [(lot, 4)]
        assert state.buckets()[1].moisture == seeded.bucket.moisture and len(state.buckets()) == 2
        assert state.ancestry("B2") == {lot, "B1"}
    closed = balance(season, lot)
    assert (closed.jars_made, closed.jars_under_code, closed.jars_opened, closed.jars_unaccounted) == (6, 6, 2, 0)
    with season.rehearsal() as work:
        count = drill(work, MARKET, lot).count
    assert (count.jars_made, count.in_stock, count.opened, count.missing, count.reachable) == (6, 4, 2, 0, 100)
    made = done(season, bottle, Bottling("B2", {"one pound": 3}), MARKET)
    with season.reading() as state:
        found = trace(state, TraceFrom(lot)).trace
    assert made.lot in found.lots and "B2" in found.buckets
    with pytest.raises(SeedFromItself):
        done(season, stir, Stirring("B1", made.lot, jars={"one pound": 1}), MARKET)


def test_seed_out_of_jars_names_jars_that_are_there(season):
    lot = done(season, bottle, Bottling("B1", {"one pound": 6})).lot
    done(season, weigh, Intake("B2", net=lb("10")), HARVEST)
    for asked, refused in (
        (Stirring("B2", lot), SeedUnclear),
        (Stirring("B2", "B1", jars={"one pound": 1}), SeedUnclear),
        (Stirring("B2", lot, jars={"one pound": 7}), JarsTooFew),
    ):
        with pytest.raises(refused):
            done(season, stir, asked, MARKET)

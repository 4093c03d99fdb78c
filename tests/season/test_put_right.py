"""A mistake found late is put right in place: what was booked on it stays, with its codes, wherever the balance closes."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from labelkit.errors.lots import BlendUnclear, MoistureUnlikely
from labelkit.errors.record import CorrectionDoesNotClose, CorrectionRefused, CorrectionValueNotFor
from labelkit.errors.sale import SoldMoreThanLoaded
from labelkit.lots.intake import Intake
from labelkit.lots.movement import Account
from labelkit.measures import Money, total
from labelkit.record.settings import Setting
from labelkit.record.verify import verify
from labelkit.sale.settlement import Till, balance_of
from labelkit.season.account import Paying, account_of, pay
from labelkit.season.blend import Blending, blend
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.changes import Changes, booked_values
from labelkit.season.deliver import JarsForCustomer, deliver
from labelkit.season.put_right import put_right
from labelkit.season.sell import JarsGone, sell
from labelkit.season.stall import Loading, load, loaded_day, settle_counted
from labelkit.season.take_out import TakingOut, take_out
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.treat import Drying, Skimming, Stirring, Warming, dry_out, skim, stir, warm
from labelkit.season.weigh import weigh
from tests.season.conftest import FILLING, HARVEST, MARKET, lb

WEIGHED, PRICED = 2, 3


def filled(season, jars: int = 12, **more):
    with season.work() as work:
        return bottle(work, Bottling("B1", {"one pound": jars}, **more), FILLING, "en_US")


def sold(season, lot: str, jars: int = 6):
    with season.work() as work:
        return sell(work, JarsGone(lot, {"one pound": jars}, to="shop", customer="Corner shop"), MARKET)


def test_a_weigh_in_typed_30_for_20_is_put_right_under_a_run_and_a_sale(season):
    run = filled(season)
    sale = sold(season, run.lot)
    with season.work() as work:
        done = put_right(work, WEIGHED, "30 typed for 20", Changes(net=lb("20")), MARKET)
    with season.reading() as state:
        # 20 lb came in and 12 jars of a pound left it: 8 lb are in the bucket, to the milligram of each jar.
        left = state.bucket("B1").holds
        assert abs((left - lb("8")).mg) <= 12
        assert [(s.lot, s.count) for s in state.stock()] == [(run.lot, 6)]
        assert state.event(sale.seq).stands and not state.event(run.event).stands
        assert trace(state, TraceFrom(run.lot)).lots == (run.lot,)
    assert done.struck == WEIGHED and [lot for _, _, lot in done.runs] == [run.lot]
    assert verify(season.record).clean


def test_a_bucket_that_was_empty_after_all_is_put_right_to_nothing(season):
    run = filled(season, 29)
    with season.work() as work:
        done = put_right(work, run.event, "it was scraped out", Changes(left=lb("1").times(Decimal(0))), MARKET)
    with season.reading() as state:
        again = state.event(done.booked).event
        # 29 jars of a pound out of 30 lb, and nothing left: one pound nobody can name.
        assert again.left_was_weighed and state.bucket("B1").holds.mg == 0
        assert abs((again.unexplained - lb("1")).mg) <= 29


def test_where_the_rest_was_weighed_back_the_difference_is_unexplained_honey_of_the_run(season):
    run = filled(season, left=lb("17.5"))
    with season.work() as work:
        done = put_right(work, WEIGHED, "30 typed for 32", Changes(net=lb("32")), MARKET)
    with season.reading() as state:
        again = state.event(done.runs[0][1]).event
        assert state.bucket("B1").holds == lb("17.5")
    assert again.lot == run.lot and again.unexplained - run.run.unexplained == lb("2")


def test_gross_alone_is_put_right_with_the_tare_that_was_booked(season):
    with season.work() as work:
        weigh(work, Intake("B2", gross=lb("41"), tare=lb("2")), HARVEST, "en_US")
    with season.work() as work:
        put_right(work, 4, "misread", Changes(gross=lb("31")), MARKET)
    with season.reading() as state:
        assert state.bucket("B2").holds == lb("31") - lb("2")


def test_jars_counted_wrong_are_put_right_and_the_run_keeps_its_code(season):
    run = filled(season)
    with season.work() as work:
        done = put_right(work, run.event, "one more stood on the shelf", Changes(jars={"one pound": 13}), MARKET)
    with season.reading() as state:
        assert [(s.lot, s.count) for s in state.stock()] == [(run.lot, 13)]
        assert state.event(done.booked).event.lot == run.lot


def test_what_does_not_close_is_refused_with_the_later_events_and_nothing_is_booked(season):
    run = filled(season)
    sale = sold(season, run.lot, 12)
    before = _head(season)
    with pytest.raises(CorrectionDoesNotClose) as refused, season.work() as work:
        put_right(work, run.event, "miscounted", Changes(jars={"one pound": 10}), MARKET)
    assert f"record correct {sale.seq}" in refused.value.do and "2" in refused.value.what
    with pytest.raises(CorrectionDoesNotClose), season.work() as work:
        put_right(work, WEIGHED, "typed 30 for 3", Changes(net=lb("3")), MARKET)
    assert _head(season) == before


def _head(season) -> int:
    with season.reading() as state:
        return state.head().seq


def test_a_value_the_event_never_had_is_refused(season):
    with pytest.raises(CorrectionValueNotFor), season.work() as work:
        put_right(work, PRICED, "wrong", Changes(net=lb("3")), MARKET)
    with pytest.raises(CorrectionRefused), season.work() as work:
        put_right(work, 99, "wrong", Changes(net=lb("3")), MARKET)


def test_bottling_again_after_a_strike_gives_the_code_that_is_on_the_jars(season):
    run = filled(season)
    with season.work() as work:
        put_right(work, run.event, "wrong bucket", Changes(), MARKET)
    with season.reading() as state:
        found = trace(state, TraceFrom(run.lot))
        assert found.lots == (run.lot,) and found.struck.reason == "wrong bucket" and found.struck.event == run.event
    assert filled(season, 11).lot == run.lot


def test_a_struck_code_leads_on_to_what_stands_instead(season):
    from datetime import timedelta

    run = filled(season)
    with season.work() as work:
        put_right(work, run.event, "wrong day", Changes(), MARKET)
    with season.work() as work:
        other = bottle(work, Bottling("B1", {"one pound": 12}), FILLING + timedelta(days=1), "en_US")
    with season.reading() as state:
        found = trace(state, TraceFrom(run.lot))
    assert other.lot != run.lot and found.struck.instead == (other.lot,)


def test_a_code_given_in_a_relabelling_that_was_struck_leads_back_to_the_lot_its_jars_are(season):
    from labelkit.season.correct import relabel

    run = filled(season)
    with season.work() as work:
        again = relabel(work, run.lot, {"one pound": 1}, "smudged", MARKET)
    with season.work() as work:
        put_right(work, again.event, "never happened", Changes(), MARKET)
    with season.reading() as state:
        found = trace(state, TraceFrom(again.relabel.into))
    assert found.lots == (again.relabel.into,)
    assert found.struck.instead == (run.lot,) and found.struck.event == again.event


def test_a_record_with_what_was_put_right_comes_back_whole_from_its_own_export(season, tmp_path):
    from labelkit import open_season
    from labelkit.record.export import export, import_whole

    run = filled(season)
    sold(season, run.lot)
    with season.work() as work:
        put_right(work, WEIGHED, "30 typed for 20", Changes(net=lb("20")), MARKET)
    folder = tmp_path / "export"
    folder.mkdir()
    for name, text in export(season.record).items():
        (folder / name).write_text(text, encoding="utf-8", newline="")
    import_whole(folder, str(tmp_path / "again.labelkit"))
    with open_season(tmp_path / "again.labelkit") as again:
        assert [each.hash for each in again.record.events()] == [each.hash for each in season.record.events()]
        assert verify(again.record).clean


def booked(season, verb, asked, day=FILLING):
    with season.work() as work:
        return verb(work, asked, day, "en_US")


def right(season, event: int, **changes):
    """Put an event right; what stands instead."""
    with season.work() as work:
        done = put_right(work, event, "misread", Changes(**changes), MARKET)
    assert verify(season.record).clean
    return done


def holds(season, bucket: str):
    with season.reading() as state:
        return state.bucket(bucket)


def test_the_warmth_and_the_hours_of_a_warming_are_put_right(season):
    warmed = booked(season, warm, Warming("B1", Decimal(48), Decimal(20)))
    right(season, warmed.event, hottest_c=Decimal(38), hours=Decimal(6))
    assert (holds(season, "B1").hottest_c, holds(season, "B1").warm_hours) == (Decimal(38), Decimal(6))


def test_what_was_skimmed_or_dried_is_put_right_and_so_is_what_followed(season):
    skimmed = booked(season, skim, Skimming("B1", lb("2")))
    dried = booked(season, dry_out, Drying("B1", after=lb("27.5"), moisture_after=Decimal("16.0")))
    right(season, skimmed.event, removed=lb("1"))
    assert holds(season, "B1").holds == lb("27.5")  # it was weighed after drying, so more water went
    done = right(season, dried.event + 4, left=lb("27"))
    assert done.event.gone == lb("30") - lb("1") - lb("27") and holds(season, "B1").holds == lb("27")


def test_another_seed_is_put_right_in_both_buckets(season):
    for name in ("B2", "B3"):
        booked(season, weigh, Intake(name, net=lb("5"), moisture=Decimal("17.0")), HARVEST)
    seeded = booked(season, stir, Stirring("B1", "B2", lb("3")))
    right(season, seeded.event, seed="B3", seed_mass=lb("4"))
    assert [holds(season, name).holds for name in ("B1", "B2", "B3")] == [lb("34"), lb("5"), lb("1")]
    assert [part.bucket for part in holds(season, "B1").parents] == ["B3"]


def test_the_price_and_the_customer_of_a_sale_are_put_right(season):
    run = filled(season)
    sale = sold(season, run.lot)
    done = right(season, sale.seq, prices={"one pound": Money.of("9.50", "USD")}, customer="Hill café")
    assert done.event.customer == "Hill café" and [line.price.show("en_US") for line in done.event.lines] == ["$9.50"]
    bulk = booked(season, take_out, TakingOut("B1", "sold", lb("5"), customer="Hill café", rate=Money.of("9", "USD")))
    again = right(season, bulk.event, rate=Money.of("8", "USD"), customer="Mill bakery").event
    # 5 lb are 2.267961... kg, at 8.00 a kg: 18.14.
    assert (again.customer, again.price) == ("Mill bakery", Money.of("18.14", "USD"))


def test_a_weigh_in_put_right_carries_into_the_blend_that_took_all_of_it(season):
    booked(season, weigh, Intake("B2", net=lb("10"), moisture=Decimal("18.4")), HARVEST)
    booked(season, blend, Blending("M1", (("B1", None), ("B2", lb("4")))))
    run = booked(season, bottle, Bottling("M1", {"one pound": 10}))
    done = right(season, WEIGHED, net=lb("20"))
    blended, ran = holds(season, "M1"), done.runs[0]
    assert [part.mass for part in blended.parents] == [lb("20"), lb("4")] and not holds(season, "B1").holds
    assert abs((blended.holds - lb("14")).mg) <= 10 and ran[2] == run.lot
    right(season, done.booked, moisture=Decimal("17.0"))
    # (20 lb of 17.0 % and 4 lb of 18.4 %) / 24 lb
    assert round(holds(season, "M1").moisture, 3) == Decimal("17.233")


def test_a_blend_that_took_a_part_keeps_its_part(season):
    booked(season, weigh, Intake("B2", net=lb("10")), HARVEST)
    booked(season, blend, Blending("M1", (("B1", lb("6")), ("B2", lb("4")))))
    right(season, WEIGHED, net=lb("20"))
    assert holds(season, "M1").holds == lb("10") and holds(season, "B1").holds == lb("14")


def test_the_words_of_a_correction_let_an_unlikely_weight_through(season):
    with season.work() as work:
        done = put_right(work, WEIGHED, "a drum of 58 gallons", Changes(net=lb("760")), MARKET)
    assert done.event.because == "a drum of 58 gallons"


def test_a_moisture_honey_cannot_have_is_refused_in_a_correction_too(season):
    with pytest.raises(MoistureUnlikely), season.work() as work:
        put_right(work, WEIGHED, "misread", Changes(moisture=Decimal(82)), MARKET)


def blended(season):
    with season.work() as work:
        weigh(work, Intake("B2", net=lb("10"), moisture=Decimal("18.4")), HARVEST, "en_US")
        blend(work, Blending("M1", (("B1", lb("12")), ("B2", None))), HARVEST, "en_US")
        return work.head().seq


def test_the_parts_of_a_blend_are_put_right_in_place_and_its_run_follows(season):
    seq = blended(season)
    with season.work() as work:
        run = bottle(work, Bottling("M1", {"one pound": 20}), FILLING, "en_US")
        done = put_right(work, seq, "12 typed for 10", Changes(parts={"B1": lb("10")}), MARKET)
    with season.reading() as state:
        assert [(part.bucket, part.mass) for part in state.event(done.booked).event.parts] == [
            ("B1", lb("10")),
            ("B2", lb("10")),
        ]
        assert state.bucket("B1").holds == lb("30") - lb("10")
        assert state.bucket("M1").holds + total(jar.mass for jar in state.stock()) == lb("10") + lb("10")
        assert [lot for _, _, lot in done.runs] == [run.lot]
        # half of each: (17.4 % + 18.4 %) / 2
        assert state.bucket("M1").moisture == Decimal("17.9")
    assert verify(season.record).clean


def test_a_bucket_that_was_no_part_of_a_blend_goes_and_another_comes_in_whole(season):
    seq = blended(season)
    with season.work() as work:
        weigh(work, Intake("B3", net=lb("4")), HARVEST, "en_US")
        nothing = lb("1").times(Decimal(0))
        put_right(work, seq, "it was B3", Changes(parts={"B2": nothing, "B1": None, "B3": None}), MARKET)
    with season.reading() as state:
        assert {b.id: b.holds for b in state.buckets() if b.holds} == {"M1": lb("34"), "B2": lb("10")}
    with pytest.raises(BlendUnclear), season.work() as work:
        put_right(work, work.head().seq, "one alone", Changes(parts={"B1": nothing}), MARKET)


def settled(season, jars: int = 10):
    run = filled(season)
    with season.work() as work:
        load(work, Loading("Mill square", {"one pound": jars}, change=Money.of("20.00", "USD")), MARKET)
        counts = {"sold": {"one pound": 6}, "tasted": {"one pound": 1}}
        settle_counted(work, loaded_day(work, MARKET), counts, Till(cash_counted=Money.of("92.00", "USD")))
        return run.lot, work.head().seq


def test_a_settled_market_day_is_put_right_in_place_with_its_money(season):
    lot, seq = settled(season)
    with season.work() as work:
        right = Changes(sold={"one pound": 7}, tasted={f"one pound@{lot}": 0}, fee=Money.of("15.00", "USD"))
        day = put_right(work, seq, "a seven read as a six", right, MARKET).event
        assert [jar.count for jar in work.stock(Account.JARS)] == [12 - 10 + 3]
    assert (day.lines[0].count, day.tasted, day.back[0].count, day.missing) == (7, (), 3, ())
    assert (day.fee, day.cash_counted) == (Money.of("15.00", "USD"), Money.of("92.00", "USD"))
    # 7 jars at 12.00 and 20.00 of change are 104.00; 92.00 was counted.
    assert balance_of(day).difference == Money.of("-12.00", "USD")
    assert verify(season.record).clean


def test_a_market_day_is_not_put_right_to_more_than_was_loaded_or_to_jars_that_are_gone(season):
    lot, seq = settled(season)
    with pytest.raises(SoldMoreThanLoaded), season.work() as work:
        put_right(work, seq, "misread", Changes(sold={"one pound": 11}), MARKET)
    sold(season, lot, 5)
    with pytest.raises(CorrectionDoesNotClose), season.work() as work:
        put_right(work, seq, "misread", Changes(sold={"one pound": 9}), MARKET)


def test_a_load_miscounted_is_put_right_under_the_settled_day_and_the_rest_came_back(season):
    settled(season, jars=10)
    with season.reading() as state:
        (loaded,) = state.events(("load",))
    with season.work() as work:
        right = Changes(jars={"one pound": 8}, change=Money.of("30.00", "USD"))
        done = put_right(work, loaded.seq, "two crates, not two and a half", right, MARKET)
        day = work.event(done.steps[0][1]).event
    # 8 were taken, 6 sold and 1 tasted: 1 came back; 92.00 in the box less 30.00 of change are 62.00 of 72.00.
    assert (day.lines[0].count, day.back[0].count, day.missing) == (6, 1, ())
    assert day.describe("en_US").endswith("one pound: 6 sold, 1 tasted, 1 back at Mill square")
    assert balance_of(day).difference == Money.of("-10.00", "USD")
    with pytest.raises(SoldMoreThanLoaded), season.work() as work:
        put_right(work, done.booked, "miscounted", Changes(jars={"one pound": 6}), MARKET)
    assert verify(season.record).clean


def test_what_a_customer_paid_is_put_right_with_its_amount(season):
    deliver_two_lots(season)
    with season.work() as work:
        pay(work, Paying("Hill café", Money.of("84.00", "USD")), MARKET)
        wrong = work.head().seq
    with season.work() as work:
        put_right(work, wrong, "48 read as 84", Changes(amount=Money.of("48.00", "USD")), MARKET)
        assert account_of(work, "Hill café").open == Money.of("0.00", "USD")


def test_a_correction_is_not_corrected_but_leads_to_what_stands_now(season):
    with season.work() as work:
        first = put_right(work, WEIGHED, "30 typed for 20", Changes(net=lb("20")), MARKET)
    with season.work() as work:
        last = put_right(work, first.booked, "it was 21", Changes(net=lb("21")), MARKET)
    for seq in (WEIGHED, first.correction, first.booked, last.correction):
        with pytest.raises(CorrectionRefused, match=f"event {last.booked} stands") as refused, season.work() as work:
            put_right(work, seq, "22 after all", Changes(net=lb("22")), MARKET)
        assert [way.about for way in refused.value.ways] == [str(last.booked)]
    with season.work() as work:
        gone = put_right(work, last.booked, "another's bucket", Changes(), MARKET)
    with pytest.raises(CorrectionRefused, match="nothing stands in its place"), season.work() as work:
        put_right(work, gone.correction, "ours after all", Changes(net=lb("22")), MARKET)


def test_a_rest_that_was_worked_out_and_never_weighed_is_not_offered_as_weighed(season):
    worked_out, weighed = filled(season).event, filled(season, 2, left=lb("16")).event
    with season.reading() as state:
        left = [booked_values(state.event(seq).event).left for seq in (worked_out, weighed)]
    assert left == [None, lb("16")]


def deliver_two_lots(season):
    """Six jars at 8.00, of two lots of four: the lots, and the event."""
    with season.work() as work:
        first = bottle(work, Bottling("B1", {"one pound": 4}), FILLING, "en_US").lot
        second = bottle(work, Bottling("B1", {"one pound": 4}), MARKET, "en_US").lot
        wanted = JarsForCustomer("Hill café", {"one pound": 6}, prices={"one pound": Money.of("8.00", "USD")})
        work.add(Setting(MARKET, "maker", {"name": "Robin's Honey", "street": "1 Invented lane", "city": "Nowhere"}))
        deliver(work, replace(wanted, address=("2 Invented lane",), because="no label yet"), MARKET, "en_US")
        return first, second, work.head().seq


def test_jars_of_two_lots_in_one_delivery_are_put_right_by_their_lots(season):
    first, second, seq = deliver_two_lots(season)
    with pytest.raises(CorrectionRefused, match=second), season.work() as work:
        put_right(work, seq, "misread", Changes(jars={"one pound": 3}), MARKET)
    with season.work() as work:
        right = put_right(work, seq, "misread", Changes(jars={f"one pound@{second}": 1}), MARKET).event
        assert [(line.lot, line.count) for line in right.lines] == [(first, 4), (second, 1)]


def test_a_sale_whose_jars_came_back_is_not_struck_under_the_return(season):
    """Others had jars of the lot too, so that the sum alone would close; the wrong people would be called."""
    lot = filled(season).lot
    with season.work() as work:
        bought = sell(work, JarsGone(lot, {"one pound": 2}, to="shop", customer="Hill café"), MARKET)
        sell(work, JarsGone(lot, {"one pound": 3}, to="shop", customer="Corner shop"), MARKET)
        sell(work, JarsGone(lot, {"one pound": 2}, "returned", customer="Hill café", reason="dented"), MARKET)
    for changes in (Changes(), Changes(jars={"one pound": 1}), Changes(customer="Mill")):
        with pytest.raises(CorrectionDoesNotClose, match="cannot return"), season.work() as work:
            put_right(work, bought.seq, "never happened", changes, MARKET)

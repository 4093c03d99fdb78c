"""A mistake found late is put right in place: what was booked on it stays, with its codes, wherever the balance closes."""

from __future__ import annotations

import pytest

from labelkit.errors.record import CorrectionDoesNotClose, CorrectionRefused, CorrectionValueNotFor
from labelkit.record.verify import verify
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.correct import void
from labelkit.season.put_right import Changes, put_right
from labelkit.season.sell import JarsGone, sell
from labelkit.season.trace import TraceFrom, trace
from tests.season.conftest import FILLING, HARVEST, MARKET, lb

WEIGHED, PRICED = 2, 3


def filled(season, jars: int = 12, **more):
    with season.work() as work:
        return bottle(work, Bottling("B1", {"one pound": jars}, **more), FILLING)


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


def test_where_the_rest_was_weighed_back_the_difference_is_unexplained_honey_of_the_run(season):
    run = filled(season, left=lb("17.5"))
    with season.work() as work:
        done = put_right(work, WEIGHED, "30 typed for 32", Changes(net=lb("32")), MARKET)
    with season.reading() as state:
        again = state.event(done.runs[0][1]).event
        assert state.bucket("B1").holds == lb("17.5")
    assert again.lot == run.lot and again.unexplained - run.run.unexplained == lb("2")


def test_gross_alone_is_put_right_with_the_tare_that_was_booked(season):
    from labelkit.lots.intake import Intake
    from labelkit.season.weigh import weigh

    with season.work() as work:
        weigh(work, Intake("B2", gross=lb("41"), tare=lb("2")), HARVEST)
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
        void(work, run.event, "wrong bucket", MARKET)
    with season.reading() as state:
        found = trace(state, TraceFrom(run.lot))
        assert found.lots == (run.lot,) and found.struck.reason == "wrong bucket" and found.struck.event == run.event
    assert filled(season, 11).lot == run.lot


def test_a_struck_code_leads_on_to_what_stands_instead(season):
    from datetime import timedelta

    run = filled(season)
    with season.work() as work:
        void(work, run.event, "wrong day", MARKET)
    with season.work() as work:
        other = bottle(work, Bottling("B1", {"one pound": 12}), FILLING + timedelta(days=1))
    with season.reading() as state:
        found = trace(state, TraceFrom(run.lot))
    assert other.lot != run.lot and found.struck.instead == (other.lot,)


def test_a_code_given_in_a_relabelling_that_was_struck_leads_back_to_the_lot_its_jars_are(season):
    from labelkit.season.correct import relabel

    run = filled(season)
    with season.work() as work:
        again = relabel(work, run.lot, {"one pound": 1}, "smudged", MARKET)
    with season.work() as work:
        void(work, again.event, "never happened", MARKET)
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

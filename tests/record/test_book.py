"""The record: what is put in comes out the same, whole or not at all, and nothing can be changed."""

from datetime import date, datetime, timedelta
from decimal import Decimal

import pytest

from labelkit.errors.lots import BucketTooEmpty, BucketTwice, BucketUnknown
from labelkit.errors.record import (
    ClockBackwards,
    CorrectionRefused,
    EventUnkeepable,
    JarsTooFew,
    KeyReused,
    LotHeld,
    LotTwice,
    LotUnknown,
    MassNotConserved,
    TimeWithoutZone,
)
from labelkit.lots.bucket import Blend, Part, Source, WeighIn
from labelkit.lots.movement import Account
from labelkit.measures import Declared, Mass
from labelkit.record import open_record
from labelkit.record.verify import verify
from labelkit.run.bottling import Filled, bottle
from labelkit.sale.events import Return, Sale
from labelkit.trace.hold import Hold, Release
from tests.record.season import (
    AT,
    B1,
    B2,
    DAY,
    LATE,
    LATER,
    LOT,
    MIX,
    POUND,
    SISTER,
    ZONE,
    book_season,
    kg,
    line,
    run_of,
    weigh,
)


def test_events_come_back_as_they_were_put_in(where):
    with book_season(where) as record:
        booked = list(record.events())
    assert [each.seq for each in booked] == list(range(1, 14))
    assert booked[2].event == B1 and booked[4].event == LATE and booked[5].event == MIX
    assert [each.who for each in booked[:5]] == ["Ada"] * 4 + ["Bela"]
    assert booked[0].at == AT and booked[0].at.utcoffset() == timedelta(hours=2)


def test_the_same_season_gives_the_same_head_hash_on_both_engines(where, tmp_path):
    with (
        book_season(where) as one,
        book_season(tmp_path / "beside.labelkit") as other,
        one.reading() as here,
        other.reading() as there,
    ):
        assert here.head() == there.head()


def test_the_same_season_gives_a_file_of_the_same_bytes(tmp_path):
    for name in ("a", "b"):
        book_season(tmp_path / name).close()
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()


def test_a_step_that_is_not_committed_leaves_nothing(where):
    with open_record(where, create=True) as record:
        with record.work(who="Ada", at=AT) as work:
            work.add(B1)
        with pytest.raises(RuntimeError), record.work(who="Ada", at=AT) as work:
            work.add(B1)
            raise RuntimeError("the power went")
        assert not list(record.events())
        assert not record.buckets()


def test_a_step_sees_what_it_has_added(where):
    with open_record(where, create=True) as record, record.work(who="Ada", at=AT) as work:
        work.add(B1)
        assert work.bucket("B1").holds == kg("27.3")
        work.add(LATE)
        assert work.bucket("B1").holds == kg("27.8")
        assert not work.stock()


def test_a_bucket_stands_as_its_events_and_parents_made_it(where):
    with book_season(where) as record:
        mixed = record.bucket("M1")
        first = record.bucket("B1")
        assert [each.id for each in record.buckets()] == ["B1", "B2", "M1"]
    assert mixed.came_in == kg("15") and mixed.holds == kg("1.2")
    # 10 kg at 17.6 % and 5 kg at 18.0 %: (10 x 17.6 + 5 x 18.0) / 15
    assert mixed.moisture.quantize(Decimal("0.0001")) == Decimal("17.7333")
    assert mixed.sources == (Source("Mill meadow", ("H1", "H2")), Source("Old orchard", ("H7",)))
    assert first.holds == kg("27.8") - kg("10") - 20 * POUND


def test_a_blend_takes_its_parents_as_they_were_then(where):
    with open_record(where, create=True) as record:
        with record.work(who="Ada", at=AT) as work:
            work.add_all((B1, B2, MIX, weigh("B3", "1"), LATE))
            work.commit()
        assert record.bucket("M1").sources[0] == Source("Mill meadow", ("H1", "H2"))
        assert record.bucket("M1").moisture == record.bucket("M1").moisture
        assert date(2026, 7, 17) not in record.bucket("M1").harvested


def test_stock_is_what_was_filled_less_what_left(where):
    with book_season(where) as record:
        stock = {(s.lot, s.account): s.count for s in record.stock()}
        sold = {s.lot: s.count for s in record.stock(Account.SOLD)}
    assert stock == {(LOT, Account.JARS): 30 - 12 - 2 - 1 + 2 - 1, (SISTER, Account.JARS): 17}
    assert sold == {LOT: 12, SISTER: 3}


def test_lots_know_where_they_came_from_and_what_came_of_them(where):
    with book_season(where) as record:
        assert record.ancestry(LOT) == {"M1", "B1", "B2"}
        assert record.ancestry(SISTER) == {"B1"}
        assert record.descent("B1") == {"M1", LOT, SISTER}
        assert record.descent("B2") == {"M1", LOT}
        assert record.lot_codes_taken() == {LOT, SISTER}


def test_settings_are_as_they_were_last_set(where):
    with book_season(where) as record:
        assert record.settings() == {"market": ["us"]}


# --- guards ---------------------------------------------------------------------------------------------------------


def refused(record, error, *events, words=""):
    before = len(list(record.events()))
    with pytest.raises(error) as caught, record.work(who="Ada", at=AT + timedelta(days=1)) as work:
        work.add_all(events)
        work.commit()
    assert words in str(caught.value)
    assert len(list(record.events())) == before


def test_what_the_guards_refuse_leaves_the_book_as_it_was(where):
    with book_season(where) as record:
        refused(record, BucketTwice, weigh("B1", "5"), words="2026-07-14")
        refused(record, BucketTwice, weigh("B3", "5"), weigh("B3", "6"))
        refused(record, BucketTwice, Blend("B2", LATER, (Part("B1", Mass(1)), Part("M1", Mass(1)))))
        refused(record, LotTwice, run_of("B1", LOT, 1), words="2026-07-20")
        refused(record, BucketTooEmpty, run_of("B2", "L26201ADM", 40, held="20"), words="It holds 15 kg")
        refused(record, BucketTooEmpty, Blend("M2", LATER, (Part("B1", kg("9")), Part("B2", kg("1")))))
        refused(record, BucketUnknown, run_of("B9", "L26201ADM", 1))
        refused(record, BucketUnknown, type(LATE)("B9", DAY, kg("1")))
        refused(record, JarsTooFew, Sale(LATER, (line(17),)), words="1 too few in stock")
        refused(record, JarsTooFew, Return(LATER, (line(4, SISTER),), reason="x"), words="sold")
        refused(record, LotUnknown, Sale(LATER, (line(1, "L26201ADM"),)))
        assert verify(record).clean


def test_a_lot_on_hold_is_not_sold_until_it_is_released(where):
    with book_season(where) as record:
        with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.add(Hold(LATER, (LOT, "B2"), "a splinter was found", jars=(line(16, price=None),)))
            work.commit()
        refused(record, LotHeld, Sale(LATER, (line(1),)), words="a splinter was found")
        refused(record, LotHeld, run_of("B2", "L26201ADM", 1))
        assert {s.account for s in record.stock() if s.lot == LOT} == {Account.HELD}
        with record.work(who="Ada", at=AT + timedelta(hours=2)) as work:
            work.add(Release(LATER, (LOT,), "it was wax", jars=(line(16, price=None),)))
            work.add(Sale(LATER, (line(16),)))
            work.commit()
        refused(record, LotHeld, run_of("B2", "L26201ADM", 1))


def test_an_event_that_does_not_close_is_not_kept(where):
    with book_season(where) as record:
        refused(
            record,
            MassNotConserved,
            Sale(LATER, (*[line(1)] * 15, type(line(1))(LOT, "one pound", 1, POUND + Mass(9)))),
        )


def test_a_float_is_not_kept(where):
    with open_record(where, create=True) as record:
        refused(record, EventUnkeepable, WeighIn("B1", DAY, kg("1"), moisture=17.6), words="float")
        refused(record, EventUnkeepable, WeighIn("B1", DAY, kg("1"), moisture=Decimal("NaN")))
        refused(record, EventUnkeepable, WeighIn("B1", DAY, kg("1"), sources=[Source("x")]), words="read back")
        refused(record, EventUnkeepable, WeighIn("B\x00", DAY, kg("1")))
        refused(record, EventUnkeepable, WeighIn("B\ud800", DAY, kg("1")))
        refused(record, EventUnkeepable, WeighIn("B1", DAY, Mass(2**63)))


# --- time -----------------------------------------------------------------------------------------------------------


def test_a_clock_that_runs_backwards_is_told(where):
    with book_season(where) as record:
        with pytest.raises(ClockBackwards) as caught, record.work(who="Ada", at=AT - timedelta(days=1)):
            pass
        assert "event 13" in caught.value.what
        with pytest.raises(TimeWithoutZone), record.work(who="Ada", at=datetime(2026, 8, 1)):
            pass
        # stations never agree to the second
        with record.work(who="Ada", at=AT + timedelta(minutes=25)) as work:
            work.add(weigh("B7", "1"))
            work.commit()
        assert verify(record).clean


def test_the_same_instant_in_another_zone_is_no_step_back(where):
    with book_season(where) as record, record.work(who="Ada", at=(AT + timedelta(hours=1)).astimezone(ZONE)) as work:
        assert work.at > AT


# --- repeating ------------------------------------------------------------------------------------------------------


def test_a_step_repeated_under_its_key_is_booked_once(where):
    sale = Sale(LATER, (line(1),))
    with book_season(where) as record:
        booked = []
        for _ in range(3):
            with record.work(who="Ada", at=AT + timedelta(hours=1), key="till 7") as work:
                work.add(sale)
                booked.append(work.commit())
        assert len({each[0].seq for each in booked}) == 1
        assert sum(each.event == sale for each in record.events()) == 1


def test_a_key_is_not_taken_for_another_step(where):
    with (
        book_season(where) as record,
        pytest.raises(KeyReused),
        record.work(who="Ada", at=AT + timedelta(hours=1), key="market day") as work,
    ):
        work.add(Sale(LATER, (line(1),)))
        work.commit()


# --- corrections ----------------------------------------------------------------------------------------------------


def test_a_correction_takes_back_what_the_event_did_and_leaves_both_to_be_seen(where):
    with book_season(where) as record:
        with record.work(who="Bela", at=AT + timedelta(hours=1)) as work:
            work.correct(
                9, "that was 13 jars", Sale(LATER, (line(13), line(3, SISTER)), to="shop", customer="Corner shop")
            )
            work.commit()
        assert {s.lot: s.count for s in record.stock(Account.SOLD)} == {LOT: 13, SISTER: 3}
        struck = [each for each in record.events() if not each.stands]
        assert [(each.seq, each.struck_by) for each in struck] == [(9, 14)]
        assert verify(record).clean


def test_a_wrong_weighing_is_set_right_although_jars_were_filled_since(where):
    with book_season(where) as record:
        with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.correct(3, "read as 27.3 instead of 28.3", weigh("B1", "28.3", *B1.sources, moisture="17.6"))
            work.commit()
        assert record.bucket("B1").holds == kg("28.8") - kg("10") - 20 * POUND
        assert record.bucket("M1").sources == (Source("Mill meadow", ("H1", "H2")), Source("Old orchard", ("H7",)))
        assert record.ancestry(LOT) == {"M1", "B1", "B2"}


def test_a_struck_run_no_longer_links_its_lot_to_its_bucket(where):
    with book_season(where) as record:
        with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.correct(9, "not yet sold")
            work.correct(8, "it was bucket B2", run_of("B2", SISTER, 20, held="15"))
            work.commit()
        assert record.ancestry(SISTER) == {"B2"}
        assert SISTER not in record.descent("B1")


def test_striking_without_replacing_is_refused_where_it_would_leave_less_than_nothing(where):
    with book_season(where) as record:
        for seq, error in ((3, BucketTooEmpty), (7, JarsTooFew)):
            with pytest.raises(error), record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
                work.correct(seq, "a slip")
                work.commit()


def test_what_cannot_be_corrected_is_told(where):
    with book_season(where) as record:
        with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.correct(11, "no gift")
            work.commit()
        for seq, because in ((99, "x"), (14, "x"), (11, "x"), (10, "  ")):
            with pytest.raises(CorrectionRefused), record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
                work.correct(seq, because)


def test_a_refused_event_does_not_spoil_what_else_the_step_books(where):
    with book_season(where) as record:
        with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            for refused in (B1, Sale(LATER, (line(1, "L26201ADM"),))):
                with pytest.raises((BucketTwice, LotUnknown)):
                    work.add(refused)
            with pytest.raises(CorrectionRefused):
                work.correct(99, "a slip")
            work.add(weigh("B5", "1"))
            assert [each.seq for each in work.commit()] == [14]
        assert verify(record).clean


def test_a_run_books_what_is_unexplained(where):
    with open_record(where, create=True) as record, record.work(who="Ada", at=AT) as work:
        # 40 kg in, 100 jars of 340 g and 10 of 500 g, 0.850 kg noted as wax and tank loss: 0.150 kg is missing
        work.add(weigh("B1", "40"))
        jars = [
            Filled("small", Declared.read("340 g", "en_US"), 100, Mass.of_grams(340)),
            Filled("large", Declared.read("500 g", "en_US"), 10, Mass.of_grams(500)),
        ]
        work.add(bottle(work.bucket("B1"), LOT, LATER, jars, left=Mass(0), lost=kg("0.85"), locale="en_US"))
        booked = work.commit()[-1]
    moved = {m.account: m.mass for m in booked.movements() if not m.size}
    assert moved[Account.UNEXPLAINED] == kg("0.15")
    assert booked.event.accounted == kg("39.85")

"""Traces of a small season, reckoned by hand: back to the hives, forward to the buyers, through blends and corrections."""

from datetime import timedelta
from decimal import Decimal

import pytest

from labelkit.errors.lots import LotCodeWrong
from labelkit.errors.record import EventUnkeepable, LotUnknown
from labelkit.lots.bucket import Drain, Source
from labelkit.lots.code import lot_code
from labelkit.lots.movement import Account
from labelkit.measures import Declared, Mass
from labelkit.measures.period import Period
from labelkit.measures.wording import ENGLISH
from labelkit.record import open_record
from labelkit.record.lookup import find_buyer, find_lot, find_source
from labelkit.run.bottling import Filled, bottle
from labelkit.sale.events import Sale
from labelkit.trace.document import document, percent
from labelkit.trace.flow import flow
from labelkit.trace.follow import follow
from labelkit.trace.relabel import Relabel
from labelkit.trace.sheet import sheet
from labelkit.trace.trace_text import words
from tests.record.season import AT, DAY, LATER, LOT, POUND, SISTER, book_season, kg, line, weigh


@pytest.fixture(scope="module")
def season(tmp_path_factory):
    with book_season(tmp_path_factory.mktemp("season") / "season.labelkit") as book:
        yield book


@pytest.fixture
def file(tmp_path):
    return tmp_path / "new.labelkit"


def traced(book, find, *what, **named):
    with book.reading() as state:
        start = find(state, *what, **named)
        return follow(start, state.story(start.lots))


def test_a_jar_goes_back_through_the_blend_to_both_yards(season):
    trace = traced(season, find_lot, LOT)
    assert trace.lots == (LOT,)
    assert trace.buckets == ("B1", "B2", "M1")
    assert [(i.bucket, i.how, i.mass, [str(s) for s in i.sources]) for i in trace.intakes] == [
        ("B1", "weigh", kg("27.3"), ["Mill meadow (H1, H2)"]),
        ("B2", "weigh", kg("20"), ["Old orchard (H7)"]),
        ("B1", "drain", kg("0.5"), ["Mill meadow (H2)"]),
    ]
    assert trace.blends[0].parts == (("B1", kg("10")), ("B2", kg("5")))


def test_a_jar_knows_its_sisters_from_the_same_buckets(season):
    assert traced(season, find_lot, LOT).sisters == (SISTER,)
    assert traced(season, find_lot, SISTER).sisters == (LOT,)


def test_a_bucket_goes_forward_to_every_lot_and_buyer(season):
    trace = traced(season, find_lot, "B1")
    assert trace.lots == (LOT, SISTER) and trace.sisters == ()
    assert [(w.how, w.lot, w.count, w.customer, w.place) for w in trace.went] == [
        ("sell", LOT, 12, "Corner shop", None),
        ("sell", SISTER, 3, "Corner shop", None),
        ("sell", LOT, 2, None, "Saturday market"),
        ("give", LOT, 1, None, None),
        ("return", LOT, 2, "Corner shop", None),
        ("discard", LOT, 1, None, None),
    ]
    assert traced(season, find_lot, "B2").lots == (LOT,)


def test_the_balance_of_a_bucket_and_a_lot_is_the_one_reckoned_by_hand(season):
    trace = traced(season, find_lot, LOT)
    bucket, lot = trace.balance("B1"), trace.balance(LOT)
    assert bucket.came_in == kg("27.8")
    assert bucket.to_lots == ((SISTER, 20 * POUND), ("M1", kg("10")))
    assert bucket.in_bucket == kg("17.8") - 20 * POUND
    # 15 kg less 1.2 kg left; 30 x 453.592 g = 13.60776 kg; 0.1 kg lost by name: 92.24 g are missing
    assert lot.came_in == kg("13.8")
    assert lot.in_jars == 30 * POUND and lot.lost == kg("0.1") and lot.unexplained == Mass.of_grams("92.24")
    assert percent(lot.accounted_percent) == Decimal("99.332")
    assert {(j.account, j.count) for j in lot.jars} == {
        (Account.JARS, 16),
        (Account.SOLD, 12),
        (Account.GIVEN, 1),
        (Account.DISCARDED, 1),
    }
    assert lot.jars_made == 30 and lot.jars_unaccounted == 0


def test_the_worked_balance_of_a_forty_kilogram_bucket(tmp_path):
    # 40.000 kg in; 100 x 340 g + 10 x 500 g filled; 0.850 kg wax and tank loss noted:
    # 39.850 kg accounted for, 99.625 %, 0.150 kg not
    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("B7", "40"))
            jars = [
                Filled("small", Declared.read("340 g", "en_US"), 100, Mass.of_grams(340)),
                Filled("large", Declared.read("500 g", "en_US"), 10, Mass.of_grams(500)),
            ]
            work.add(bottle(work.bucket("B7"), LOT, LATER, jars, left=Mass(0), lost=kg("0.85"), locale="en_US"))
            work.commit()
        lot = traced(book, find_lot, LOT).balance(LOT)
    assert lot.in_jars == kg("39") and lot.came_in - lot.unexplained == kg("39.85")
    assert percent(lot.accounted_percent) == Decimal("99.625")
    assert lot.unexplained == kg("0.15")


def test_a_lot_of_a_hundred_jars_is_found_to_the_last_jar(tmp_path):
    # 100 made; 24 to a shop, 3 sold direct, 73 in stock: sum 100, nothing unaccounted for
    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("B1", "50"))
            work.add(
                bottle(
                    work.bucket("B1"),
                    LOT,
                    LATER,
                    [Filled("one pound", Declared.read("1 lb", "en_US"), 100, POUND)],
                    locale="en_US",
                )
            )
            work.add(Sale(LATER, (line(24),), to="shop", customer="Corner shop"))
            work.add(Sale(LATER, (line(3),)))
            work.commit()
        trace = traced(book, find_lot, LOT)
    assert {j.account: j.count for j in trace.balance(LOT).jars} == {Account.JARS: 73, Account.SOLD: 27}
    assert {w.customer: w.count for w in trace.went if w.where == Account.SOLD} == {"Corner shop": 24, None: 3}
    assert trace.balance(LOT).jars_unaccounted == 0


def test_a_relabelled_jar_leads_through_its_old_code_to_the_buckets(tmp_path):
    new = "L26213AAC"
    with book_season(tmp_path / "season.labelkit") as book:
        with book.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.add(Relabel(LATER, new, (line(6, price=None),), "smudged"))
            work.add(Sale(LATER, (line(2, new),), customer="Hill café"))
            work.commit()
        trace = traced(book, find_lot, new)
        assert trace.lots == (LOT, new) and trace.buckets == ("B1", "B2", "M1") and trace.sisters == (SISTER,)
        old, now = trace.balance(LOT), trace.balance(new)
        assert (old.jars_made, old.jars_relabelled, old.jars_unaccounted) == (30, 6, 0)
        assert (now.jars_made, now.jars_unaccounted, now.came_in) == (6, 0, 6 * POUND)
        assert old.rest == now.rest == Mass(0)
        assert new in traced(book, find_lot, "B2").lots and new in traced(book, find_source, hive="H1").lots
        shop = traced(book, find_buyer, customer="Hill café")
        assert shop.lots == (LOT, new) and [w.count for w in shop.went] == [2]
        for into in (LOT, "M1", "B2"):
            with pytest.raises(EventUnkeepable), book.work(who="Ada", at=AT + timedelta(hours=1)) as work:
                work.add(Relabel(LATER, into, (line(1, new, price=None),), "back again"))


# --- whose honey drained later ---


def intakes_of(path, *events):
    with open_record(path, create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add_all(events)
            work.commit()
        return traced(book, find_lot, "B1")


MEADOW, ORCHARD = Source("Mill meadow", ("H1", "H2")), Source("Old orchard", ("H7",))


def test_honey_drained_without_a_yard_has_the_yards_of_its_bucket_and_says_so(file):
    # 20 kg and then 5 kg of the bucket are from two yards, so 5 kg of its cappings are 4 kg and 1 kg
    late = Drain("B1", LATER, kg("5"))
    trace = intakes_of(file, weigh("B1", "20", MEADOW), Drain("B1", LATER, kg("5"), sources=(ORCHARD,)), late)
    assert [(i.says(), i.shares, i.as_bucket, i.weighed) for i in trace.intakes] == [
        ("Mill meadow (H1, H2)", (kg("20"),), False, True),
        ("Old orchard (H7)", (kg("5"),), False, True),
        ("as the bucket: Mill meadow (H1, H2); Old orchard (H7)", (kg("4"), kg("1")), True, False),
    ]
    assert "as the bucket: Mill meadow" in words(trace, "en_US")
    assert document(trace)["intakes"][2]["as_the_bucket"] is True
    assert {(b.source, b.mass, b.weighed) for b in flow(trace, ENGLISH).bands if b.source.startswith("y:")} == {
        ("y:Mill meadow", kg("24"), False),
        ("y:Old orchard", kg("6"), False),
    }


def test_where_some_of_the_bucket_is_from_nobody_knows_where_its_drain_is_too(file):
    trace = intakes_of(
        file, weigh("B1", "20"), Drain("B1", LATER, kg("5"), sources=(ORCHARD,)), Drain("B1", LATER, kg("1"))
    )
    assert [i.says() for i in trace.intakes] == ["not noted", "Old orchard (H7)", "not noted"]


def test_a_drain_follows_the_yard_its_bucket_was_corrected_to(file):
    with open_record(file, create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add_all((weigh("B1", "20", MEADOW), Drain("B1", LATER, kg("1"))))
            work.correct(1, "it was the orchard", weigh("B1", "20", ORCHARD))
            work.commit()
        trace = traced(book, find_lot, "B1")
    assert {i.says() for i in trace.intakes} == {"Old orchard (H7)", "as the bucket: Old orchard (H7)"}


def test_the_grams_of_a_spreadsheet_add_up_where_yards_share_a_bucket(file):
    import csv
    from io import StringIO

    trace = intakes_of(file, weigh("B1", "20", MEADOW, ORCHARD), Drain("B1", LATER, kg("1")))
    rows = [r for r in csv.DictReader(StringIO(sheet(trace))) if r["step"] in ("weigh", "drain")]
    assert [(r["grams"], r["yard_share_grams"], r["yard_known"]) for r in rows] == [
        # Mill meadow has two of the three hives named
        ("20000", "13333.334", "noted"),
        ("", "6666.666", "noted"),
        ("1000", "666.667", "as the bucket"),
        ("", "333.333", "as the bucket"),
    ]


# --- where a trace may begin ------------------------------------------------------------------------------------------


def test_a_hive_a_yard_and_a_harvest_day_lead_to_their_buckets(season):
    assert traced(season, find_source, hive="H7").start.lots == ("B2",)
    assert traced(season, find_source, yard="Mill meadow").lots == (LOT, SISTER)
    assert traced(season, find_source, yard="Mill meadow", hive="H2").start.lots == ("B1",)
    assert traced(season, find_source, harvested=Period.of_day(DAY)).start.lots == ("B1", "B2")


def test_a_customer_and_a_market_lead_to_what_they_had(season):
    trace = traced(season, find_buyer, customer="Corner shop")
    assert trace.lots == (LOT, SISTER)
    assert [(w.how, w.lot, w.count) for w in trace.went] == [("sell", LOT, 12), ("sell", SISTER, 3), ("return", LOT, 2)]
    market = traced(season, find_buyer, place="Saturday market", within=Period.of_day(LATER))
    assert market.lots == (LOT,) and [w.count for w in market.went] == [2]
    with pytest.raises(LotUnknown):
        traced(season, find_buyer, place="Saturday market", within=Period.of_day(DAY))


def test_a_mistyped_code_is_told_with_the_nearest_ones(tmp_path):
    code = lot_code(LATER, "B1").code
    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("B1", "50"))
            work.add(
                bottle(
                    work.bucket("B1"),
                    code,
                    LATER,
                    [Filled("one pound", Declared.read("1 lb", "en_US"), 10, POUND)],
                    locale="en_US",
                )
            )
            work.commit()
        assert traced(book, find_lot, f" {code[:6].lower()}-{code[6:].lower()}").lots == (code,)
        swapped = code[:4] + code[5] + code[4] + code[6:]
        with pytest.raises(LotCodeWrong) as caught:
            traced(book, find_lot, swapped)
        assert code in caught.value.do
        sound = lot_code(LATER, "B77").code
        with pytest.raises(LotUnknown, match="the code itself is sound"):
            traced(book, find_lot, sound)


@pytest.mark.parametrize(
    ("find", "named", "near"),
    [
        (find_lot, {"text": "b1"}, "B1"),
        (find_source, {"hive": "H77"}, "H7"),
        (find_source, {"yard": "Mil meadow"}, "Mill"),
        (find_buyer, {"customer": "corner Shop"}, "Corner shop"),
    ],
)
def test_an_unknown_name_is_told_with_the_nearest_known(season, find, named, near):
    with pytest.raises(LotUnknown) as caught:
        traced(season, find, **named)
    assert near in caught.value.do


# --- corrections ------------------------------------------------------------------------------------------------------


def test_a_corrected_sale_counts_once_and_both_stay_visible(tmp_path):
    with book_season(tmp_path / "season.labelkit") as book:
        with book.work(who="Bela", at=AT + timedelta(hours=1)) as work:
            work.correct(
                9, "it was 11 jars", Sale(LATER, (line(11), line(3, SISTER)), to="shop", customer="Corner shop")
            )
            work.commit()
        trace = traced(book, find_lot, LOT)
        assert [(w.seq, w.count) for w in trace.went if w.customer == "Corner shop"] == [(12, 2), (15, 11)]
        assert [(s.seq, s.by, s.who, s.because) for s in trace.struck] == [(9, 14, "Bela", "it was 11 jars")]
        assert {j.account: j.count for j in trace.balance(LOT).jars}[Account.SOLD] == 2 + 11 - 2
        assert "it was 11 jars" in words(trace, "en_US")


# --- what is put out --------------------------------------------------------------------------------------------------


def test_the_words_name_everything_a_trace_must_put_out(season):
    text = words(traced(season, find_lot, LOT), "en_US")
    for needed in (
        LOT,
        SISTER,
        "Jul 20, 2026",
        "Jul 14, 2026",
        "27.3 kg",
        "Mill meadow (H1, H2)",
        "Old orchard (H7)",
        "17.6 %",
        "30 × one pound",
        "Corner shop",
        "Saturday market",
        "came back",
        "discarded",
        "given",
        "in stock",
        "92.2 g",
        "99.332 %",
    ):
        assert needed in text, needed


def test_the_words_follow_the_reader_s_way_of_writing(season):
    text = words(traced(season, find_lot, LOT), "de_DE")
    assert "27,3 kg" in text and "99,332 %" in text


def test_the_document_holds_exact_figures(season):
    facts = document(traced(season, find_lot, LOT))
    assert [each["g"] for each in facts["intakes"]] == [Decimal(27300), Decimal(20000), Decimal(500)]
    run = facts["runs"][0]
    assert (run["taken_g"], run["unexplained_g"], run["jars"][0]["count"]) == (Decimal(13800), Decimal("92.24"), 30)
    assert facts["balance"][-1]["accounted_percent"] == Decimal("99.332")
    assert facts["sister_lots"] == [{"lot": SISTER, "jars_made": 20, "where": {"jars": 17, "sold": 3}}]


def test_the_spreadsheet_says_the_same_line_by_line(season):
    import csv
    from io import StringIO

    rows = list(csv.DictReader(StringIO(sheet(traced(season, find_lot, LOT)))))
    assert [r["grams"] for r in rows if r["step"] == "weigh"] == ["27300", "20000"]
    assert sum(int(r["count"]) for r in rows if r["step"] == "now" and r["count"]) == 30
    assert {r["customer"] for r in rows if r["step"] == "sell"} == {"Corner shop", ""}


def test_a_name_a_spreadsheet_would_run_is_marked_as_text(tmp_path):
    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("=B1", "3", Source('=cmd|" /C calc"!A0')))
            work.commit()
        text = sheet(traced(book, find_lot, "=B1"))
    assert ",'=B1," in text and "'=cmd" in text and ",3000," in text


def test_a_lot_that_was_only_weighed_in_has_a_trace_too(tmp_path):
    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("B1", "3"))
            work.commit()
        trace = traced(book, find_lot, "B1")
    assert trace.lots == () and "not noted" in words(trace, "en_US")


@pytest.mark.parametrize(
    ("mg", "metric", "customary"),
    [(0, "–", "–"), (7, "< 0.1 g", "< 0.1 oz"), (-7, "> -0.1 g", "> -0.1 oz"), (1000, "1 g", "< 0.1 oz")],
)
def test_what_is_less_than_the_least_figure_is_never_shown_as_nothing(mg, metric, customary):
    from labelkit.trace.sections import _mass

    assert (_mass(Mass(mg), "en_US"), _mass(Mass(mg), "en_US-u-ms-ussystem")) == (metric, customary)

"""A recall reaches what it must and no more, holds what is left, names everybody, and is counted to the last jar."""

from datetime import timedelta
from decimal import Decimal

import pytest

from labelkit.errors.record import JarsTooFew, LotHeld
from labelkit.labels.printed import Printed
from labelkit.lots.movement import Account
from labelkit.measures import Declared, Mass
from labelkit.measures.wording import ENGLISH
from labelkit.record import open_record
from labelkit.record.lookup import find_lot
from labelkit.record.verify import verify
from labelkit.run.bottling import Filled, bottle
from labelkit.sale.account_events import Delivery
from labelkit.sale.events import Discard, Return, Sale, SaleLine
from labelkit.sale.stall_events import StallLoad
from labelkit.trace.follow import Start, follow
from labelkit.trace.notices import notices
from labelkit.trace.papers import notice_paper, trace_paper
from labelkit.trace.recall import CAUSES, closing, hold_for, release_for, scope, sold_direct, to_tell
from labelkit.trace.recall_events import Recall, Told
from labelkit.trace.relabel import Relabel
from labelkit.trace.sections import headline
from tests.record.season import AT, LATER, LOT, POUND, SISTER, book_season, line, weigh

THIRD = "L26201ADM"
MAKER = {"name": "Hazel Bank Honey", "street": "1 Invented lane", "city": "Nowhere", "phone": "555 0100"}


@pytest.fixture
def season(tmp_path):
    with book_season(tmp_path / "season.labelkit") as book:
        with book.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.add(weigh("B8", "9"))
            work.add(
                bottle(
                    work.bucket("B8"),
                    THIRD,
                    LATER,
                    [Filled("one pound", Declared.read("1 lb", "en_US"), 10, POUND)],
                    locale="en_US",
                )
            )
            for lot, wording in ((LOT, "aaa"), (SISTER, "bbb"), (THIRD, "aaa")):
                work.add(Printed(LATER, lot, "one pound", "front", "meadow", "sheet", wording, ("Honey",), 30))
            work.add(Delivery(LATER, "17", "Hill café", (line(4),), address=("2 Invented lane", "Nowhere")))
            work.add(StallLoad(LATER, "Saturday market", (line(3, price=None),)))
            work.commit()
        yield book


def traced(book, *lots):
    with book.reading() as state:
        return follow(Start("lot", " ".join(lots), lots), state.story(lots))


def reach(book, cause, lot=LOT):
    return scope(traced(book, lot), CAUSES[cause], book.events(("print",)))


def test_a_fault_in_the_honey_reaches_all_lots_from_the_same_buckets_and_no_others(season):
    for cause in ("foreign-body", "ferment", "allergen"):
        assert set(reach(season, cause).lots) == {LOT, SISTER}
        assert reach(season, cause).buckets == ("B1", "B2", "M1"), "what is not in jars yet"
    assert set(reach(season, "ferment", THIRD).lots) == {THIRD}


def test_a_wrong_label_reaches_the_lots_that_wore_the_same_words(season):
    found = reach(season, "wording")
    assert set(found.lots) == {LOT, THIRD}
    assert found.taken_in == {LOT: "named", THIRD: "with the same label wording"}


def test_where_no_printing_was_booked_the_wording_is_a_question(tmp_path):
    with book_season(tmp_path / "unprinted.labelkit") as book:
        found = reach(book, "wording")
    assert found.lots == (LOT,) and f"No printing of labels was booked for {LOT}" in found.to_ask


def test_an_order_reaches_what_it_names(season):
    assert reach(season, "authority").lots == (LOT,)


def test_what_is_left_is_put_on_hold_wherever_it_is(season):
    with season.work(who="Ada", at=AT + timedelta(hours=2)) as work:
        trace = follow(find_lot(work, LOT), work.story([LOT]))
        hold = hold_for(LATER, "a splinter", trace, (LOT,))
        work.add(hold)
        work.commit()
    assert sum(each.count for each in hold.jars) == 9 and sum(each.count for each in hold.at_stall) == 3
    assert {(s.account, s.count) for s in season.stock() if s.lot == LOT} == {(Account.HELD, 12)}
    with pytest.raises(LotHeld), season.work(who="Ada", at=AT + timedelta(hours=2)) as work:
        work.add(Sale(LATER, (line(1),)))
    with season.work(who="Ada", at=AT + timedelta(hours=3)) as work:
        trace = follow(find_lot(work, LOT), work.story([LOT]))
        work.add(release_for(LATER, "it was wax", trace, (LOT,), {}))
        work.add(Sale(LATER, (line(12),)))
        work.commit()
    assert verify(season).clean


def test_jars_of_different_filling_are_held_to_the_milligram(tmp_path):
    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("B1", "9"))
            jars = [
                Filled("jar", Declared.read("1 lb", "en_US"), 2, Mass(500_001)),
                Filled("jar", Declared.read("1 lb", "en_US"), 5, Mass(499_998)),
            ]
            work.add(bottle(work.bucket("B1"), LOT, LATER, jars, locale="en_US"))
            work.add(hold_for(LATER, "x", follow(find_lot(work, LOT), work.story([LOT])), (LOT,)))
            work.commit()
        assert [(s.count, s.mass.mg) for s in book.stock()] == [(7, 2 * 500_001 + 5 * 499_998)]


def test_everybody_with_a_name_is_listed_with_what_they_still_had(season):
    people = to_tell(traced(season, LOT, SISTER), (LOT, SISTER))
    assert [(each.customer, each.count, each.address, each.numbers) for each in people] == [
        ("Corner shop", 12 + 3 - 2, (), ()),
        ("Hill café", 4, ("2 Invented lane", "Nowhere"), ("17",)),
    ]
    assert {(each.place, each.count) for each in sold_direct(traced(season, LOT), (LOT,))} == {
        ("Saturday market", 2),
        ("gift", 1),
    }


def test_what_came_back_from_nobody_in_particular_is_no_longer_sought_with_a_sign(season):
    for count, left in ((1, {("Saturday market", 1), ("gift", 1)}), (1, {("gift", 1)})):
        with season.work(who="Ada", at=AT + timedelta(hours=2)) as work:
            work.add(Return(LATER, (line(count),), "brought back"))
            work.commit()
        direct = sold_direct(traced(season, LOT), (LOT,))
        assert {(each.place, each.count) for each in direct} == left
    sign = notices(Recall(LATER, "R1", "ferment", "it foams", (LOT,)), traced(season, LOT), (), MAKER, locale="en_US")[
        -1
    ]
    assert sign.id == "stall-sign" and "Saturday market" not in sign.text


def test_whom_to_call_comes_with_the_number_to_dial_however_it_was_noted(season):
    trace = traced(season, LOT, SISTER)
    settings = {"customer Corner shop": {"phone": "555 0142", "email": "shop@example.com"}}
    people = to_tell(trace, (LOT, SISTER), settings)
    assert [(each.customer, each.phone, each.email, each.count) for each in people] == [
        ("Corner shop", "555 0142", "shop@example.com", 13),
        ("Hill café", "", "", 4),
    ]
    # a telephone number written as a line of the address is one too
    settings = {"customer Hill café": {"address": ["2 Invented lane", "+1 555 0143"]}}
    assert [each.phone for each in to_tell(trace, (LOT, SISTER), settings)] == ["", "+1 555 0143"]


def begin(book, lots=(LOT,)):
    with book.work(who="Ada", at=AT + timedelta(hours=2)) as work:
        trace = follow(Start("lot", "", lots), work.story(lots))
        recall = work.add(Recall(LATER, "R1", "foreign-body", "a splinter", lots)).event
        work.add(hold_for(LATER, "a splinter", trace, lots))
        work.commit()
    return recall


def test_a_recall_is_counted_to_the_last_jar(season):
    recall = begin(season)
    with season.work(who="Ada", at=AT + timedelta(hours=3)) as work:
        work.add(Told(LATER, "R1", "Corner shop", "phone"))
        work.add(Told(LATER, "R1", "Corner shop", "letter", answered=True, has=7))
        work.add(Return(LATER, (line(7),), "recall", customer="Corner shop"))
        work.add(Discard(LATER, (line(7),), "recall"))
        work.commit()
    now = closing(traced(season, LOT), recall, season.events(("tell",)))
    assert now.count.jars_made == 30 and now.count.missing == 0
    assert (now.count.on_hold, now.count.in_stock, now.count.destroyed) == (12, 0, 1 + 7)
    assert (now.count.with_customers, now.count.sold_direct, now.count.given) == (12 - 2 - 7 + 4, 2, 1)
    assert (
        now.count.on_hold + now.count.destroyed + now.count.with_customers + now.count.sold_direct + now.count.given
        == 30
    )
    assert (now.told, now.answered, now.not_told, now.still_hold) == (
        ("Corner shop",),
        ("Corner shop",),
        ("Hill café",),
        7,
    )
    # 30 less 3 at people nobody wrote down; of 30 less 8 destroyed, 12 on hold and 7 at customers can be fetched
    assert now.count.found == 27 and round(now.count.reachable, 3) == Decimal("86.364")


def test_jars_that_were_given_another_code_are_counted_once(season):
    # 30 were filled, 4 of them bear another code now; 26 and 4 are to be found
    new = "L26213AAC"
    with season.work(who="Ada", at=AT + timedelta(hours=2)) as work:
        work.add(Relabel(LATER, new, (line(4, price=None),), "smudged"))
        work.commit()
    recall = begin(season, (LOT, new))
    now = closing(traced(season, LOT, new), recall, ())
    assert now.count.jars_made == 30
    places = now.count.on_hold + now.count.in_stock + now.count.destroyed + now.count.broken_or_sampled
    assert places + now.count.with_customers + now.count.sold_direct + now.count.given + now.count.missing == 30
    assert headline(traced(season, LOT), ENGLISH).endswith("30 jars made")


# --- notices: 21 CFR 7.49 asks for the product, size and lot; the reason and hazard; what to do; how to report back


def made_notices(season, **more):
    recall = Recall(LATER, "R1", "foreign-body", "a glass splinter was found", (LOT,), **more)
    trace = traced(season, LOT)
    return {each.id: each for each in notices(recall, trace, to_tell(trace, (LOT,)), MAKER, locale="en_US")}


def test_the_letter_says_all_a_customer_must_know(season):
    made = made_notices(season)
    text = made["letter-2"].text
    for needed in (
        "URGENT: FOOD RECALL",
        "Hill café",
        "2 Invented lane",
        "4 jars",
        "one pound",
        LOT,
        "note: 17",
        "a glass splinter was found",
        "can injure",
        "Stop selling",
        "tell them now",
        "how many you still have",
        "555 0100",
        "Hazel Bank Honey",
    ):
        assert needed in text, needed
    assert made["letter-1"].missing == ()


def test_a_notice_for_everybody_names_no_customer(season):
    made = made_notices(season)
    for id in ("shop-notice", "stall-sign"):
        assert "Hill café" not in made[id].text and "Corner shop" not in made[id].text
        assert LOT in made[id].text and "1 lb" in made[id].text and "555 0100" in made[id].text


def test_what_is_not_urgent_is_not_called_so_and_a_drill_says_it_is_one(season):
    recall = Recall(LATER, "R1", "wording", "the weight is wrong", (LOT,), drill=True)
    trace = traced(season, LOT)
    made = notices(recall, trace, to_tell(trace, (LOT,)), MAKER, locale="en_US")
    assert all("URGENT" not in each.text and each.text.startswith("EXERCISE ONLY") for each in made)


def test_what_must_be_written_in_by_hand_is_named(season):
    recall = Recall(LATER, "R1", "wording", "the weight is wrong", (LOT,))
    trace = traced(season, LOT)
    made = notices(recall, trace, to_tell(trace, (LOT,)), {"name": "Hazel Bank Honey"}, locale="en_US")
    assert made[0].missing == ("your address", "your phone") and "____" in made[0].text


def test_notices_and_traces_come_as_equal_papers(season):
    sign = made_notices(season)["stall-sign"]
    assert notice_paper(sign)[:5] == b"%PDF-" and notice_paper(sign) == notice_paper(sign)
    trace = traced(season, LOT)
    assert trace_paper(trace, "a4", locale="en_US") == trace_paper(trace, "a4", locale="en_US")


def test_the_paper_of_a_trace_holds_every_lot_and_buyer(season):
    from io import BytesIO

    from pypdf import PdfReader

    text = " ".join(
        page.extract_text()
        for page in PdfReader(BytesIO(trace_paper(traced(season, LOT), "letter", locale="en_US"))).pages
    )
    for needed in (LOT, SISTER, "Mill meadow", "Corner shop", "Hill café", "99.332"):
        assert needed in text.replace("\n", ""), needed


def test_sale_lines_keep_their_price_out_of_a_hold(season):
    trace = traced(season, LOT)
    assert all(isinstance(each, SaleLine) and each.price is None for each in hold_for(LATER, "x", trace, (LOT,)).jars)


def test_what_is_on_hold_can_be_destroyed_without_releasing_it(season):
    begin(season)
    with season.work(who="Ada", at=AT + timedelta(hours=3)) as work:
        work.add(Discard(LATER, (line(12),), "destroyed for the recall", held=True))
        work.commit()
    assert not [s for s in season.stock() if s.lot == LOT]
    with season.reading() as state:
        assert LOT in state.holds()
    assert verify(season).clean


def test_no_more_is_destroyed_than_is_on_hold(season):
    begin(season)
    with pytest.raises(JarsTooFew), season.work(who="Ada", at=AT + timedelta(hours=3)) as work:
        work.add(Discard(LATER, (line(13),), "destroyed for the recall", held=True))
        work.commit()

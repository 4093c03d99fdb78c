"""A season in which everything happens once: at least one event of every kind there is, some of them struck."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

from labelkit.labels.printed import Printed
from labelkit.lots.bucket import Drain, Part
from labelkit.lots.bucket_life import DRIED, SOLD, STIRRED, Measured, Note, TakenOut, Treated
from labelkit.lots.received import OriginShare, Receive
from labelkit.measures import Declared, Money
from labelkit.plan import JarSize, Keep, PlanBucket, PlanRequest, jar_plan
from labelkit.plan.kept_plan import kept_plan
from labelkit.plan.wishes import Planning
from labelkit.record.kinds import KINDS
from labelkit.record.people import Protect
from labelkit.run.batch_sheet import BREAKAGE, REFRACTOMETER, BatchLine, Breakage
from labelkit.run.empties import Empties
from labelkit.run.weighed import CheckWeighed
from labelkit.sale.account_events import Delivery, Payment, Refund, Reminder
from labelkit.sale.closed_year import BookedLate, CarriedEmpties, CarriedJars, YearClosed
from labelkit.sale.events import Discard, Sale
from labelkit.sale.goods import Made
from labelkit.sale.stall_events import StallDay, StallLoad
from labelkit.sale.stock_take import StockTake
from labelkit.trace.hold import Hold, Release
from labelkit.trace.recall_events import Drill, Recall, Told
from labelkit.trace.relabel import Relabel
from tests.record.season import AT, LATER, LOT, POUND, SISTER, book_season, kg, line
from tests.record.server import owned

NEW = "L26213AAC"
WHOLLY_US = (OriginShare("US", Decimal(100)),)
JAR = JarSize("one pound", Declared.read("1 lb", "en_US"), POUND, Money.of("12", "USD"), Money.of("1.35", "USD"))
WISHED = PlanRequest(
    (PlanBucket("B1", kg("3")), PlanBucket("B2", kg("2.1"))), (JAR,), "USD", keep=(Keep("winter feed", kg("0.5")),)
)
ADDRESS = ("2 Invented lane", "Nowhere")


def book_life(work):
    """Bucket B2 (15.2 kg in it) measured, dried, seeded, and some of it sold in bulk and given to nobody by name."""
    work.add(Measured("B2", LATER, kg("15.2"), net=kg("15.1"), moisture=Decimal("18.9"), instrument="refractometer 2"))
    work.add(Treated("B2", LATER, kg("15.1"), DRIED, kg("15"), Decimal("18.4"), Decimal(38), Decimal(20)))
    work.add(Treated("B2", LATER, kg("15"), STIRRED, kg("15.5"), seed=Part("B1", kg("0.5"))))
    sold = TakenOut(
        "B2", LATER, kg("15.5"), SOLD, kg("5"), customer="Hill café", rate=Money.of("9.90", "USD"), per="kg"
    )
    work.add(sold)
    work.add(Note(LATER, ("B2", LOT), "asked for a darker honey", customer="Hill café"))


def book_everything(where):
    """Book it; the open record. Ada forgets Hill café at the end."""
    record = book_season(where)
    with record.work(who="Ada", at=AT + timedelta(hours=1)) as work:
        work.add(Drain("B2", LATER, kg("0.2")))
        book_life(work)
        work.add(Printed(LATER, LOT, "one pound", "front", "meadow", "sheet", "aaa", ("Honey", "1 lb"), 31, 1))
        work.add(BatchLine(LATER, REFRACTOMETER, read=Decimal("27.2"), against=Decimal("27.0"), unit="%"))
        work.add(BatchLine(LATER, BREAKAGE, ("B2",), broken=(Breakage("one pound", 1, 4),)))
        work.add(CheckWeighed(LATER, LOT, "one pound", Declared.read("1 lb", "en_US"), (POUND, POUND)))
        work.add(Relabel(LATER, NEW, (line(4, price=None),), "smudged"))
        work.add(Delivery(LATER, "17", "Hill café", (line(2, NEW),), address=ADDRESS, carrier="Invented carrier"))
        work.add(Payment(LATER, "Hill café", Money.of("24.00", "USD"), "bank", "17"))
        work.add(Reminder(LATER, "Hill café", ("17",), Money.of("24.00", "USD"), LATER + timedelta(days=14)))
        work.add(Refund(LATER, "Hill café", Money.of("12.00", "USD"), "cash", "one lid was dented"))
        work.add(StallLoad(LATER, "Saturday market", (line(6, SISTER),)))
        work.add(
            StallDay(
                LATER,
                "Saturday market",
                (line(2, SISTER),),
                tasted=(line(1, SISTER),),
                broken=(line(1, SISTER),),
                back=(line(1, SISTER),),
                missing=(line(1, SISTER),),
            )
        )
        work.commit()
    with record.work(who="Bela", at=AT + timedelta(hours=2)) as work:
        work.add(Hold(LATER, (LOT, "B2"), "a splinter", jars=(line(4, price=None),)))
        work.add(Recall(LATER, "R1", "foreign-body", "a splinter", (LOT, NEW), "the county", drill=False))
        work.add(Told(LATER, "R1", "Hill café", "phone", answered=True, has=2))
        work.add(Discard(LATER, (line(1, price=None),), "recall", held=True))
        work.add(StockTake(LATER, (line(1, SISTER),), (), "counted on the shelf", (line(1, price=None),)))
        work.add(Release(LATER, (LOT, "B2"), "it was wax", jars=(line(2, price=None),)))
        work.add(Empties(LATER, "one pound", 200, 198, "bought"))
        work.add(Made(LATER, "L26213WAX", "taper", 24))
        work.add(Receive("R1", LATER, kg("20"), "Brook apiary", "K7", WHOLLY_US, number="214"))
        kept = Planning(use_first=("B2",), at_most={"one pound": 40}, keep={"winter feed": kg("0.5")})
        work.add(kept_plan(LATER, kept, WISHED, jar_plan(WISHED)))
        work.add(
            YearClosed(
                LATER,
                date(2025, 1, 1),
                date(2025, 12, 31),
                (Part("B2", kg("2")),),
                (CarriedJars(LOT, "one pound", 3),),
                empties=(CarriedEmpties("one pound", 37, 40),),
            )
        )
        work.add(BookedLate(LATER, date(2025, 1, 1), date(2025, 12, 31), "a note was found"))
        work.add(Drill(LATER, SISTER, 3, 20, 19, "one jar missing"))
        work.correct(11, "no gift")
        work.correct(9, "it was 11 jars", Sale(LATER, (line(11), line(3, SISTER)), to="shop", customer="Corner shop"))
        work.commit()
    with owned(record) as owner, owner.work(who="Ada", at=AT + timedelta(hours=3)) as work:
        work.forget("Hill café", "asked by letter")
        work.add(Protect(LATER, (work.people.kept(1).mention,)))
        work.commit()
    with record.work(who="Ada", at=AT + timedelta(days=400), clock_is_right=True) as work:
        work.add(Empties(LATER, "one pound", 1, 1, "found"))
        work.commit()
    assert {each.kind for each in record.events()} == set(KINDS), "a kind of event nobody tries here"
    return record

"""Every kind of event the record can hold. A new kind is one more class in this list, and nothing else changes."""

from __future__ import annotations

from labelkit.labels.printed import Printed
from labelkit.lots.bucket import Blend, Drain, WeighIn
from labelkit.lots.bucket_life import Measured, Note, TakenOut, Treated
from labelkit.lots.received import Receive
from labelkit.plan.kept_plan import PlanKept
from labelkit.record.clock import ClockSaid
from labelkit.record.people import Forget, Protect
from labelkit.record.settings import Setting
from labelkit.run.batch_sheet import BatchLine
from labelkit.run.bottling import Run
from labelkit.run.empties import Empties
from labelkit.run.weighed import CheckWeighed
from labelkit.sale.account_events import Delivery, Payment, Refund, Reminder
from labelkit.sale.closed_year import BookedLate, YearClosed
from labelkit.sale.events import Discard, Give, PriceSet, Return, Sale
from labelkit.sale.goods import Made
from labelkit.sale.stall_events import StallDay, StallLoad
from labelkit.sale.stock_take import StockTake
from labelkit.trace.booked import Correct
from labelkit.trace.hold import Hold, Release
from labelkit.trace.recall_events import Drill, Recall, Told
from labelkit.trace.relabel import Relabel

KINDS = {
    cls.kind: cls
    for cls in (
        WeighIn,
        Receive,
        Drain,
        Blend,
        Measured,
        Treated,
        TakenOut,
        Note,
        Run,
        BatchLine,
        CheckWeighed,
        Printed,
        Relabel,
        PriceSet,
        Sale,
        Give,
        Return,
        Discard,
        StallLoad,
        StallDay,
        Delivery,
        Payment,
        Refund,
        Reminder,
        Hold,
        Release,
        Recall,
        Told,
        Drill,
        Correct,
        Forget,
        Protect,
        Setting,
        Empties,
        StockTake,
        Made,
        PlanKept,
        ClockSaid,
        YearClosed,
        BookedLate,
    )
}

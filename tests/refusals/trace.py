"""Cases of the trace room."""

from datetime import date

from labelkit.errors.trace import (
    CustomerHadNone,
    LabelAboveHoney,
    LotShort,
    MoreThanTheyHad,
    NothingToRecall,
    OpenedStayApart,
    RecallCauseUnknown,
    RecallNotNamed,
    RecallTwice,
    RecallUnknown,
    ShareOutOfRange,
    StandsAgainst,
    TraceOfNoYear,
    TraceStartUnclear,
)
from labelkit.trace.recall import cause_of
from tests.refusals.record import raising

CASES = [
    (OpenedStayApart, raising(OpenedStayApart("L26201AXN", "one pound", 2)), "the 2 held jars came back opened"),
    (RecallCauseUnknown, lambda: cause_of("gremlins"), "foreign-body, ferment, allergen, wording, authority"),
    (RecallUnknown, raising(RecallUnknown("R1", "R2026-08-01")), "Use one of: R2026-08-01"),
    (RecallUnknown, raising(RecallUnknown("R1", "")), "recall begin"),
    (
        RecallTwice,
        raising(RecallTwice("R1", date(2026, 8, 1).isoformat())),
        "There is already a recall “R1”, started on 2026-08-01.",
    ),
    (
        NothingToRecall,
        raising(NothingToRecall("B1")),
        "No jar was filled from B1, and none of it was sold or given away in bulk.",
    ),
    (TraceStartUnclear, raising(TraceStartUnclear()), "A trace starts at one thing:"),
    (TraceOfNoYear, raising(TraceOfNoYear("L26195AXR", "2026")), "L26195AXR and the year 2026"),
    (RecallNotNamed, raising(RecallNotNamed("R1, R2")), "more than one recall: R1, R2"),
    (
        CustomerHadNone,
        raising(CustomerHadNone("Cornershop", "R1", "Corner shop", "Corner shop")),
        "Did you mean Corner shop?",
    ),
    (CustomerHadNone, raising(CustomerHadNone("Nobody", "R1", "", "Corner shop")), "Choose one of those who had jars:"),
    (MoreThanTheyHad, raising(MoreThanTheyHad("Corner shop", 9, 6)), "had 6 jars of these lots, so 9"),
    (ShareOutOfRange, raising(ShareOutOfRange("lost", "140")), "The range is 0 to 100%."),
    (LotShort, raising(LotShort("Lot L1 is short.", "It may not go out.")), "relabel them to what they hold"),
    (LabelAboveHoney, raising(LabelAboveHoney("L1", "pound", "448 g", "1 lb", "453.6 g")), "lightest jar holds 448 g"),
    (
        StandsAgainst,
        raising(StandsAgainst([("12 jars have no label.", "A recall cannot find them.")])),
        "If it may stay as it is, say why.",
    ),
]

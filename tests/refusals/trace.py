"""Cases of the trace room."""

from datetime import date

from labelkit.errors.trace import NothingToRecall, RecallCauseUnknown, RecallTwice, RecallUnknown
from labelkit.trace.recall import cause_of
from tests.refusals.record import raising

CASES = [
    (RecallCauseUnknown, lambda: cause_of("gremlins"), "foreign-body, ferment, allergen, wording, authority"),
    (RecallUnknown, raising(RecallUnknown("R1", "R2026-08-01")), "Use one of: R2026-08-01"),
    (RecallUnknown, raising(RecallUnknown("R1", "")), "recall begin"),
    (RecallTwice, raising(RecallTwice("R1", date(2026, 8, 1).isoformat())), "begun on 2026-08-01"),
    (NothingToRecall, raising(NothingToRecall("B1")), "ever filled from B1"),
]

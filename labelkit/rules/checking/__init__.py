"""A label described in a file, held against the law of each market it is sold in.

Nothing here knows a jurisdiction: what must stand on a label, which words are exact, which figures are lawful and who is
freed from what is read from the packs; this room only holds the label against them and asks for what it was not told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from labelkit.rules.blocks import Duty
from labelkit.rules.checking.case import Case, read_cases
from labelkit.rules.checking.figures import dates, letters, moisture, sizes, volume
from labelkit.rules.checking.naming import name, origin
from labelkit.rules.checking.net_quantity import net_quantity
from labelkit.rules.checking.required import duties, exemptions, questions, required, statements
from labelkit.rules.checking.since import changed_since
from labelkit.rules.checking.uncovered import NotCovered, not_covered, questions_not_read
from labelkit.rules.findings import Finding
from labelkit.rules.label import Label
from labelkit.rules.market import Market, market
from labelkit.rules.wording import findings_of, gravest_first

CasesOf = Callable[[Label, Iterable[Market]], Sequence[Case]]


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check found, the gravest first, and what it did not look at."""

    findings: tuple[Finding, ...]
    not_covered: tuple[NotCovered, ...]

    @property
    def stopped(self) -> bool:
        """Whether anything must be fixed before the jar is sold."""
        return any(finding.level == "stop" for finding in self.findings)


def check(label: Label, markets: Iterable[Market]) -> Checked:
    """Hold a label against every market; a market whose law is part of another's is checked with that one.

    Refuses a day before any law on labels that a market holds.

    >>> from datetime import date
    >>> from labelkit.measures import Declared
    >>> from labelkit.rules import market
    >>> label = Label(("us",), "Clover Honey", Declared.read("1 lb", "en_US"), net_statement="16 oz (1 lb)")
    >>> [f.rule for f in check(label, [market("us", date(2026, 11, 25))]).findings if f.field == "net_statement"]
    ['us.net_quantity.words_required', 'us.net_quantity.systems']
    """
    return judge(read_cases(label, markets))


def judge(cases: Iterable[Case]) -> Checked:
    """What every rule finds on a label, market by market; the same for a label file and for a print."""
    cases = tuple(cases)
    findings = dict.fromkeys(finding for case in cases for finding in _findings(case))
    uncovered = dict.fromkeys(entry for case in cases for entry in not_covered(case))
    return Checked(gravest_first(findings), tuple(uncovered))


def check_on(label: Label, day: date, cases_of: CasesOf = read_cases) -> Checked:
    """Hold a label against its markets as they are on a day, or as they were on the day the jar was labelled.

    For a jar labelled earlier, what changed since is told with what becomes of such jars. ``cases_of`` makes the cases
    of a label: its own words, unless a print adds some.
    """
    today = cases_of(label, [market(name, day) for name in label.markets])
    if label.labelled is None or label.labelled == day:
        return judge(today)
    then = judge(cases_of(label, [market(name, label.labelled) for name in label.markets]))
    if label.labelled > day:
        return then
    changed = changed_since(label.labelled, then.findings, judge(today).findings, [case.market for case in today])
    return Checked(gravest_first(dict.fromkeys((*then.findings, *changed))), then.not_covered)


def _findings(case: Case) -> Iterable[Finding]:
    words = findings_of(case.said.text, case.said.reading.hits, case.market, case.facts, case.said.field_at, questions)
    yield from words
    yield from required(case)
    yield from statements(case)
    yield from net_quantity(case)
    yield from sizes(case)
    yield from volume(case)
    yield from moisture(case)
    yield from name(case)
    yield from origin(case)
    yield from dates(case)
    yield from exemptions(case)
    yield from duties(case, without=_said_already(case))
    yield from letters(case)
    yield from questions_not_read(case)


def _said_already(case: Case) -> frozenset[Duty]:
    """Duties that hang only on words the law has just been heard on: the wording's finding says the same, and where."""
    heard = {(hit.law.pack, hit.law.means) for hit in case.said.reading.hits if hit.law.means}
    return frozenset(
        law
        for law in case.market.duties()
        if law.unless is None and len(law.when.facts) == 1 and (law.pack, *law.when.facts) in heard
    )

"""The parts of a trace as tables of text, in the order they are read; set as plain text or on paper elsewhere."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from labelkit.lots.movement import Account
from labelkit.measures import Mass, show_first
from labelkit.measures.locales import customary_first, show_day, show_number
from labelkit.measures.wording import Wording
from labelkit.run.batch_sheet import LINES
from labelkit.trace.alarms import Limits, alarms
from labelkit.trace.balance import Balance
from labelkit.trace.document import percent
from labelkit.trace.follow import Trace, Went
from labelkit.trace.heritage import percent as shown_percent
from labelkit.trace.intake import Intake
from labelkit.trace.terms import BULK, CAME, WHERE, asked

_NOTHING = "–"
_LEAST_SHOWN = {False: Mass(100), True: Mass(2835)}  # 0.1 g, 0.1 oz


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a trace: a title over a table.

    ``right`` names the columns of figures, ``codes`` those that hold the code of a lot or the name of a bucket.
    """

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()
    codes: frozenset[int] = frozenset()

    def in_words(self, words: Wording) -> Section:
        """The same table under a title and heads of another language."""
        return replace(self, title=words(self.title), heads=tuple(head and words(head) for head in self.heads))


def counted(trace: Trace, words: Wording) -> str:
    """How much was found."""
    made = sum(balance.jars_under_code for balance in trace.balances)
    return ", ".join(
        (
            words.count("{n} jar lot", "{n} jar lots", len(trace.lots)),
            words.count("{n} bucket", "{n} buckets", len(trace.buckets)),
            words.count("{n} jar made", "{n} jars made", made),
        )
    )


def headline(trace: Trace, words: Wording) -> str:
    """What was asked, and how much was found."""
    return f"{asked(trace, words)}: {counted(trace, words)}"


def sections(trace: Trace, locale: str, words: Wording, limits: Limits | None = None) -> tuple[Section, ...]:
    """The parts of a trace that hold anything, in the order they are read."""
    parts = (
        _intakes(trace, locale, words),
        _received(trace, locale),
        _blends(trace, locale),
        _steps(trace, locale, words),
        _runs(trace, locale),
        _batch(trace, locale, words),
        _heritage(trace, locale, words),
        _jars(trace),
        _went(trace, locale, words),
        _balance(trace, locale),
        _bulk(trace, locale, words),
        _alarms(trace, locale, limits, words),
        _said_why(trace, locale, words),
        _labels(trace, locale),
        _notes(trace, locale),
        _holds(trace, locale, words),
        _sisters(trace, words),
        _struck(trace, locale, words),
    )
    return tuple(part.in_words(words) for part in parts if part.rows)


def _section(title: str, heads: Sequence[str], rows: Iterable[Sequence[str]], right: Iterable[int] = ()) -> Section:
    codes = frozenset(n for n, head in enumerate(heads) if head in ("lot", "bucket"))
    return Section(title, tuple(heads), tuple(map(tuple, rows)), frozenset(right), codes)


def _intakes(trace: Trace, locale: str, words: Wording) -> Section:
    return _section(
        "From the hives",
        ("bucket", "", "day", "harvested", "weight", "moisture", "yard and hives", "event"),
        (
            (
                each.bucket,
                words(each.title),
                show_day(each.day, locale, form="medium"),
                show_day(each.harvested, locale, form="medium"),
                show_first(each.mass, locale),
                _water(each, locale),
                each.says(words),
                str(each.seq),
            )
            for each in trace.intakes
            if each.harvested is not None
        ),
        right=(4, 5, 7),
    )


def _received(trace: Trace, locale: str) -> Section:
    """One step back: from whom, under which lot of theirs, and what their papers say."""
    return _section(
        "Bought in",
        ("bucket", "day", "supplier", "their lot", "delivery note", "origin", "harvest", "weight", "moisture", "event"),
        (
            (
                each.bucket,
                show_day(each.day, locale, form="medium"),
                each.receipt.supplier,
                each.receipt.their_lot,
                each.receipt.number or _NOTHING,
                ", ".join(f"{share.country} {show_number(share.percent, locale)} %" for share in each.receipt.origin),
                each.receipt.harvest or _NOTHING,
                show_first(each.mass, locale),
                _water(each, locale),
                str(each.seq),
            )
            for each in trace.intakes
            if each.receipt is not None
        ),
        right=(7, 8, 9),
    )


def _water(each: Intake, locale: str) -> str:
    return f"{show_number(each.moisture, locale)} %" if each.moisture is not None else _NOTHING


def _blends(trace: Trace, locale: str) -> Section:
    return _section(
        "Blended",
        ("blend", "day", "from", "weight", "event"),
        (
            (each.into, show_day(each.day, locale, form="medium"), bucket, show_first(mass, locale), str(each.seq))
            for each in trace.blends
            for bucket, mass in each.parts
        ),
        right=(3, 4),
    )


def _steps(trace: Trace, locale: str, words: Wording) -> Section:
    return _section(
        "What happened to the honey in its bucket",
        ("day", "", "what", "who", "event"),
        (
            (
                show_day(each.day, locale, form="medium"),
                words(each.event.title),
                each.event.describe(locale, words),
                each.who,
                str(each.seq),
            )
            for each in trace.steps
        ),
        right=(4,),
    )


def _notes(trace: Trace, locale: str) -> Section:
    return _section(
        "Notes",
        ("day", "on", "note", "who", "event"),
        (
            (show_day(n.day, locale, form="medium"), " ".join(n.event.lots), n.event.note, n.who, str(n.seq))
            for n in trace.notes
        ),
        right=(4,),
    )


def _batch(trace: Trace, locale: str, words: Wording) -> Section:
    return _section(
        "Batch sheet",
        ("day", "of", "", "line", "entry", "who", "event"),
        (
            (
                show_day(each.day, locale, form="medium"),
                ", ".join(each.event.lots) or words("every run of the day"),
                words(each.event.when),
                words(LINES[each.event.line][1]),
                each.event.says(locale, words),
                each.who,
                str(each.seq),
            )
            for each in trace.batch_lines
        ),
        right=(6,),
    )


def _runs(trace: Trace, locale: str) -> Section:
    return _section(
        "Bottled",
        ("lot", "day", "from", "taken out", "filled", "broken", "samples", "lost", "unexplained", "event"),
        (
            (
                each.lot,
                show_day(each.day, locale, form="medium"),
                each.bucket,
                show_first(each.taken, locale),
                _filled(each.jars),
                _filled(each.broken),
                _filled(each.samples),
                _mass(each.lost, locale),
                _mass(each.unexplained, locale),
                str(each.seq),
            )
            for each in trace.runs
        ),
        right=(3, 7, 8, 9),
    )


def _heritage(trace: Trace, locale: str, words: Wording) -> Section:
    """The share of each bucket in a lot; only where there is more than one, or something was bought in."""
    told = [each for each in trace.heritages if len(each.strands) > 1 or each.bought]
    return _section(
        "What the jars hold",
        ("lot", "bucket", "share", "from", "a label may say"),
        (
            (
                each.lot,
                strand.bucket,
                f"{show_number(shown_percent(strand.share), locale)} %",
                getattr(strand.came, "supplier", "")
                or "; ".join(map(str, getattr(strand.came, "sources", ())))
                or _NOTHING,
                "" if n else ", ".join(map(words.own, each.bears)) or _NOTHING,
            )
            for each in told
            for n, strand in enumerate(each.strands)
        ),
        right=(2,),
    )


def _filled(jars) -> str:
    return ", ".join(f"{f.count} × {f.size}" for f in jars) or _NOTHING


def _mass(mass: Mass, locale: str) -> str:
    if not mass:
        return _NOTHING
    if show_first(Mass(abs(mass.mg)), locale) != show_first(Mass(0), locale):
        return show_first(mass, locale)
    least = _LEAST_SHOWN[customary_first(locale)]
    return f"< {show_first(least, locale)}" if mass.mg > 0 else f"> {show_first(-least, locale)}"


def _jars(trace: Trace) -> Section:
    places = [account for account in WHERE if any(j.account == account for b in trace.balances for j in b.jars)]
    rows = []
    for balance in trace.balances:
        for size in sorted({j.size for j in balance.jars}):
            counts = Counter({j.account: j.count for j in balance.jars if j.size == size})
            rows.append(
                (balance.lot, size, str(counts.total()), *(str(counts[a]) if counts[a] else _NOTHING for a in places))
            )
    return _section(
        "Where the jars are now",
        ("lot", "size", "made", *(WHERE[a] for a in places)),
        rows,
        right=range(2, 3 + len(places)),
    )


def _went(trace: Trace, locale: str, words: Wording) -> Section:
    return _section(
        "To whom",
        ("day", "", "jars", "size", "lot", "to", "event"),
        (
            (
                show_day(each.day, locale, form="medium"),
                words(CAME.get((each.how, each.where)) or WHERE.get(each.where, each.how)),
                str(each.count) if each.size else show_first(each.mass, locale),
                each.size or words("in bulk"),
                each.lot,
                _whom(each, words),
                str(each.seq),
            )
            for each in trace.went
        ),
        right=(2, 6),
    )


def _whom(went: Went, words: Wording) -> str:
    number = words("no. {number}", number=went.number) if went.number else ""
    named = (went.customer, *went.address, number, went.place, went.to and words(went.to), went.because)
    return ", ".join(dict.fromkeys(word for word in named if word)) or _NOTHING


def _labels(trace: Trace, locale: str) -> Section:
    return _section(
        "Labels printed",
        ("day", "lot", "size", "label", "design", "wording", "printed", "spoiled", "event"),
        (
            (
                show_day(each.day, locale, form="medium"),
                each.lot,
                each.size if each.size.startswith(each.product) else f"{each.product}, {each.size}",
                each.label,
                each.design,
                each.wording,
                str(each.count),
                str(each.spoiled),
                str(each.seq),
            )
            for each in trace.labels
        ),
        right=(6, 7, 8),
    )


def _holds(trace: Trace, locale: str, words: Wording) -> Section:
    return _section(
        "Holds",
        ("day", "", "lots", "because", "event"),
        (
            (show_day(h.day, locale, form="medium"), words(h.title), " ".join(h.lots), h.because, str(h.seq))
            for h in trace.holds
        ),
        right=(4,),
    )


def _balance(trace: Trace, locale: str) -> Section:
    return _section(
        "Mass balance",
        (
            "lot",
            "in",
            "to other lots",
            "still there",
            "in jars",
            "without a jar",
            "lost",
            "",
            "unexplained",
            "",
            "accounted",
        ),
        (
            (
                each.lot,
                show_first(each.came_in, locale),
                _mass(each.passed_on, locale),
                _mass(each.in_bucket, locale),
                _mass(each.in_jars, locale),
                _mass(each.left_in_bulk, locale),
                _mass(each.lost, locale),
                _share(each, each.lost, locale),
                _mass(each.unexplained, locale),
                _share(each, each.unexplained, locale),
                _per_cent(each.accounted_percent, locale),
            )
            for each in trace.balances
        ),
        right=range(1, 11),
    )


def _bulk(trace: Trace, locale: str, words: Wording) -> Section:
    """What left a bucket without a jar, each way by its name."""
    return _section(
        "Left the bucket without a jar",
        ("lot", "", "weight", ""),
        (
            (each.lot, words(BULK[where]), show_first(mass, locale), _share(each, mass, locale))
            for each in trace.balances
            for where, mass in each.bulk
        ),
        right=(2, 3),
    )


def _share(balance: Balance, mass: Mass, locale: str) -> str:
    return _per_cent(balance.percent_of(mass), locale) if mass else ""


def _alarms(trace: Trace, locale: str, limits: Limits | None, words: Wording) -> Section:
    return _section(
        "To look into",
        ("lot", "what", "look for"),
        ((each.lot, each.says(locale, words), words(each.look_for)) for each in alarms(trace.balances, limits)),
    )


def _said_why(trace: Trace, locale: str, words: Wording) -> Section:
    """What was asked about and booked all the same: marked for good."""
    intakes = (
        (each.bucket, words(each.title), _mass(each.mass, locale), each.because, each.seq) for each in trace.intakes
    )
    runs = (
        (each.lot, words("unexplained"), _mass(each.unexplained, locale), each.because, each.seq) for each in trace.runs
    )
    labels = (
        (each.lot, words("{label} labels", label=each.label), _NOTHING, each.because, each.seq) for each in trace.labels
    )
    return _section(
        "Asked about and booked all the same",
        ("lot", "", "weight", "because", "event"),
        (
            (lot, what, mass, because, str(seq))
            for lot, what, mass, because, seq in (*intakes, *runs, *labels)
            if because
        ),
        right=(2, 4),
    )


def _per_cent(value: Decimal | None, locale: str) -> str:
    shown = percent(value)
    return _NOTHING if shown is None else f"{show_number(shown, locale)} %"


def _sisters(trace: Trace, words: Wording) -> Section:
    rows = []
    for balance in trace.sister_balances:
        where: Counter[Account] = Counter()
        for jars in balance.jars:
            where[jars.account] += jars.count
        rows.append(
            (balance.lot, str(balance.jars_made), ", ".join(f"{where[a]} {words(WHERE[a])}" for a in WHERE if where[a]))
        )
    return _section("Sister lots: from the same buckets, not asked for", ("lot", "made", "now"), rows, right=(1,))


def _struck(trace: Trace, locale: str, words: Wording) -> Section:
    return _section(
        "Corrections",
        ("event", "was", "struck by", "day", "who", "because"),
        (
            (str(s.seq), words(s.title), str(s.by), show_day(s.day, locale, form="medium"), s.who, s.because)
            for s in trace.struck
        ),
        right=(0, 2),
    )

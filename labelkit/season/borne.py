"""What the honey of a lot bears: its origin by mass, and which words on a label its buckets do not bear out.

One computation over the trace, for labels, their check, the label words and the page. Only lots with bought-in honey are
held against it here; for a season's own honey the rules ask the producer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from labelkit.errors.labels import LotsUnclear
from labelkit.lots.received import Receive
from labelkit.measures.locales import DEFAULT_LOCALE, show_number
from labelkit.measures.rounding import plain
from labelkit.rules import market
from labelkit.rules.checking.case import Case
from labelkit.rules.checking.values import about, held
from labelkit.rules.figures.origin import country_names, rounded
from labelkit.rules.findings import Finding, finding_of, with_caution
from labelkit.rules.label import EACH, Label, Share
from labelkit.rules.wording.folding import folded
from labelkit.run.batch_sheet import HONEY
from labelkit.season.batch import batch_sheet
from labelkit.trace.heritage import Heritage, Strand, heritage, percent

if TYPE_CHECKING:
    from labelkit.record.reading import Reading

#: What a wording rule (the last part of its name) claims that a supplier's papers must state.
_STATED = {
    "raw": "raw",
    "raw_unprocessed": "raw",
    "organic": "organic",
    "certified_organic": "organic",
    "local": "local",
    "native": "local",
}
#: Countries whose English name is also a state, a family name or a first name.
_OTHERWISE_NAMED = frozenset({"GE", "JO", "TD", "CU"})
#: How a country is also called on labels.
_ALSO = {"US": ("u.s.a.", "usa", "america", "american"), "GB": ("british", "england", "scotland", "wales")}


def heritages(state: Reading, lots: Iterable[str]) -> tuple[Heritage, ...]:
    """What each of these jar lots or buckets is made of."""
    wanted = tuple(dict.fromkeys(lots))
    return heritage(state.events_about({*wanted, *state.ancestry(*wanted)}), wanted)


def of_its_honey(label: Label, found: Sequence[Heritage], day: date) -> Label:
    """The label with the origin of the honey in these lots by mass, where any of it was bought in.

    One country on the label is where the own honey is from. Raises :class:`~labelkit.errors.labels.LotsUnclear` where
    the lots are not of one origin.
    """
    label = _of_its_years(label, found)
    if not any(each.bought for each in found):
        return label
    origins = {_origin(label, each, day): each.lot for each in found}
    if len(origins) > 1:
        said = "; ".join(f"{lot}: {_words(shares) or 'not known'}" for shares, lot in origins.items())
        raise LotsUnclear("These lots", f"they differ in origin ({said}); print them apart")
    situation = {**label.situation, "own_hives": False}
    return replace(label, origin=next(iter(origins)), situation=situation)


def _of_its_years(label: Label, found: Sequence[Heritage]) -> Label:
    """The label with the years its honey was harvested in, where it tells that of each lot and every part has one."""
    if label.story.get("harvest") != EACH:
        return label
    years = {year for each in found for year in each.years}
    told = {key: text for key, text in label.story.items() if key != "harvest"}
    return replace(
        label, story=told if not years or None in years else {**told, "harvest": "/".join(sorted(map(str, years)))}
    )


# Honey is as warm in the hive: about 35 °C, common practice. What the batch sheet says below that is no heating.
HIVE_C = Decimal(35)


def as_warmed(state: Reading, label: Label, lots: Iterable[str]) -> Label:
    """The label with the highest temperature its lots are known to have seen; then “raw” is no longer taken as answered.

    What was said of the whole season cannot know of one lot, so the rules ask again. Where nobody booked a warming, or the
    label says itself how warm the honey got, it stays as it is: not booked is not known, and never “not heated”.
    """
    wanted = set(lots)
    runs = [each.event for each in state.events_about(wanted, ("run",)) if each.stands and each.event.lot in wanted]
    seen = [state.bucket(name).hottest_c for name in {run.bucket for run in runs}]
    filled = [
        each.event.read
        for run in runs
        for each in batch_sheet(state, run.day, (run.bucket, run.lot))
        if each.event.line == HONEY
    ]
    seen += [warmth for warmth in filled if warmth is not None and warmth > HIVE_C]
    hottest = max((warmth for warmth in seen if warmth is not None), default=None)
    if hottest is None or "heated_to" in label.situation:
        return label
    said = {name: fact for name, fact in label.situation.items() if name != "raw"}
    return replace(label, situation={**said, "heated_to": hottest})


def unborne(cases: Sequence[Case], found: Sequence[Heritage], home: str | None) -> tuple[Finding, ...]:
    """What a label says that the honey of these lots does not bear, naming the buckets."""
    bought = [each for each in found if each.bought]
    denied = [finding for each in bought for case in cases for finding in _held(case, each, home)]
    told = [finding for each in found for case in cases for finding in _story(case, each)]
    return tuple(dict.fromkeys((*denied, *told)))


def words_unborne(state: Reading, day: date, locale: str) -> tuple[Finding, ...]:
    """What the label words in the record say that the jars in stock do not bear."""
    from labelkit.labels.case import cases_printed
    from labelkit.lots.movement import Account
    from labelkit.season.lot_words import label_of_lots, product_of
    from labelkit.season.settings import settings_of

    season = settings_of(state)
    found: dict[Finding, None] = {}
    for jars in state.stock(Account.JARS):
        made = [each for each in heritages(state, [jars.lot]) if each.bought]
        if made and product_of(state, season, jars.lot, jars.size).words.get("name"):
            written = label_of_lots(state, jars.size, [jars.lot], day, new_words=True).label
            label = of_its_honey(written, made, day)
            cases = cases_printed(label, [market(name, day) for name in label.markets], locale)
            found |= dict.fromkeys(unborne(cases, made, home_of(written)))
    return tuple(found)


def home_of(label: Label) -> str | None:
    """The country of the own honey, where the label names one country."""
    return label.origin[0].country if len(label.origin) == 1 else None


def _origin(label: Label, found: Heritage, day: date) -> tuple[Share, ...]:
    shares = found.countries(home_of(label))
    if None in shares:
        return ()
    named = {str(country): share for country, share in shares.items()}
    return tuple(Share(*each) for each in rounded(named, market(label.markets[0], day)))


def _words(shares: Sequence[Share]) -> str:
    return ", ".join(f"{share.country} {plain(share.percent)} %" for share in shares)


def _held(case: Case, found: Heritage, home: str | None) -> Iterator[Finding]:
    for hit in case.said.reading.hits:
        denied = _denied(hit.law.rule.rpartition(".")[2], hit.law.language, case.label, found)
        if denied:
            words = case.said.text.written(hit.begin, hit.end)
            finding = finding_of(
                hit.law, case.market.code, field=case.said.field_at(hit.begin), found=words, level="stop"
            )
            yield replace(finding, says=_not_true(words, found.lot, denied), do=with_caution(_LEAVE_OUT))
    if "unfiltered" in case.said.reading.elements and (denied := found.not_stating("unfiltered")):
        yield _of_name(case, "stop", "lines", "unfiltered", _not_true("unfiltered", found.lot, denied))
    yield from _places(case, found, home)


_LEAVE_OUT = "Leave the words out, or fill such jars from buckets that bear them."


def _denied(claim: str, language: str, label: Label, found: Heritage) -> tuple[Strand, ...]:
    """The strands that do not bear a claim. Word lists in other languages than English mix “own” and “local”."""
    if claim == "own_hives" or (claim in ("local", "native") and language != "en"):
        return found.bought
    if claim == "made_in_usa":
        return tuple(
            s
            for s in found.bought
            if isinstance(s.came, Receive) and any(part.country != "US" for part in s.came.origin)
        )
    if claim == "floral" and label.floral_source:
        return found.not_of(label.floral_source)
    return found.not_stating(_STATED[claim]) if claim in _STATED else ()


def _not_true(words: str, lot: str, strands: Sequence[Strand]) -> str:
    parts = [f"{show_number(percent(s.share), DEFAULT_LOCALE)} % is from {s.said()}" for s in strands]
    return f"The record does not bear out “{words}” for {lot}: {'; '.join(parts)}."


def _places(case: Case, found: Heritage, home: str | None) -> Iterator[Finding]:
    """Countries the maker's own words name, against those the honey is from."""
    shares = found.countries(home)
    if None in shares:
        says = f"Where the own honey of {found.lot} is from is not set, so its origin with the bought-in honey is not known."
        do = "Set the country of your own honey: labelkit label-words --origin US (or the origin in the label file)."
        yield _of_name(case, "ask", "origin", "", says, do)
    for field, line in [
        ("name", case.label.name),
        *(("lines", line) for line in case.label.lines),
        *_told_places(case.label),
    ]:
        named = _named(line, case)
        if not named or named == set(shares):
            continue
        strange = named - set(shares)
        level = "ask" if strange and strange <= _OTHERWISE_NAMED else "stop"
        parts = ", ".join(
            f"{country or 'not set'} {show_number(percent(Fraction(share)), DEFAULT_LOCALE)} %"
            for country, share in shares.items()
        )
        from_ = "; ".join(dict.fromkeys(strand.said() for strand in found.bought))
        yield _of_name(
            case, level, field, line, f"“{line}” is not the origin of {found.lot}, which is {parts} ({from_})."
        )


def _story(case: Case, found: Heritage) -> Iterator[Finding]:
    """What the label tells of year, yard and flower, against what was noted of each part of the honey; what was not noted is
    asked about."""
    for name, words in _STORY_WORDS.items():
        text, field = case.label.story.get(name, EACH), f"story.{name}"
        if text == EACH:
            continue
        seen = [(strand, _noted(name, strand, text)) for strand in found.strands]
        other = tuple(strand for strand, what in seen if what and what != text and what not in text.split("/"))
        if other:
            yield _of_name(case, "stop", field, text, _not_true(text, found.lot, other))
        elif unknown := tuple(strand for strand, what in seen if not what):
            parts = ", ".join(strand.said() for strand in unknown)
            says = f"“{text}” is told of {found.lot}, and nobody noted the {words} of {parts}."
            yield _of_name(case, "ask", field, text, says, "Look it up, or leave the words out.")


#: What the story tells, as a person says it.
_STORY_WORDS = {"harvest": "day of the harvest", "yard": "yard", "flower": "plant"}


def _noted(name: str, strand: Strand, text: str) -> str:
    """What was noted of a part of the honey: the told text where they agree, nothing where nothing was noted."""
    if name == "harvest":
        return str(strand.year or "")
    names = strand.yards if name == "yard" else tuple(filter(None, [strand.plant]))
    # Of bought-in honey the supplier answers: what its papers do not state is not borne.
    return _one_of(names, text) if names else "bought in" if strand.bought else ""


def _one_of(names: Sequence[str], text: str) -> str:
    """The text where it tells of every one of these names, else the first that it does not tell of."""
    return next((name for name in names if name.casefold() not in text.casefold()), text)


def _told_places(label: Label) -> list[tuple[str, str]]:
    return [(f"story.{name}", label.story[name]) for name in ("yard", "place") if label.story.get(name)]


def _named(line: str, case: Case) -> set[str]:
    """The countries a line names, in the languages of its market and in English."""
    text = f" {folded(line)} "
    for mark in ",;:()/–-·.":
        text = text.replace(mark, " ")
    words = f" {' '.join(text.split())} "
    found = set()
    for language in dict.fromkeys((*case.market.head.languages, "en")):
        for code, name in country_names(language).items():
            if len(name) > 3 and f" {folded(name)} " in words:
                found.add(code)
    for code, names in _ALSO.items():
        if any(f" {name.replace('.', ' ').strip()} " in words for name in names):
            found.add(code)
    return found


def _of_name(case: Case, level: str, field: str, found: str, says: str, do: str = _LEAVE_OUT) -> Finding:
    law = held(case, "origin is due") or held(case, "legal name")
    if law is not None:
        return replace(
            about(case, law, level, field, found, says=says, do=do), rule=f"{case.market.code}.origin.lineage"
        )
    return Finding(
        rule=f"{case.market.code}.origin.lineage",
        market=case.market.code,
        level=level,
        field=field,
        found=found,
        says=says,
        do=with_caution(do),
        cite=f"{case.market.name}: not read",
        read_on=None,
        sure="memory",
    )

"""What was not checked, and whom to ask about it: nobody should take silence for a yes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from labelkit.errors.rules import FactMissing, NoRuleInForce
from labelkit.rules import shelf
from labelkit.rules.checking.case import Case
from labelkit.rules.checking.facts import panel_of
from labelkit.rules.figures import letter_height
from labelkit.rules.findings import Finding, with_caution
from labelkit.rules.glossary import glossary

# The areas a reader may expect to be checked; a market without a file for one of them says so.
_AREAS = (
    "net_quantity",
    "letter_height",
    "name",
    "maker",
    "ingredients",
    "origin",
    "date_and_lot",
    "nutrition",
    "claims",
    "language",
)


@dataclass(frozen=True, slots=True)
class NotCovered:
    """Something that was not checked: where, what, why, and what to do about it."""

    market: str
    area: str
    says: str
    do: str

    def as_dict(self) -> dict[str, str]:
        """As a JSON document spells it."""
        return {"market": self.market, "area": self.area, "says": self.says, "do": self.do}


def not_covered(case: Case) -> Iterator[NotCovered]:
    """Areas nobody has read for this market, areas it holds nothing on, and what a file cannot show."""
    market, head, topics = case.market, case.market.head, glossary().topics
    told = set()
    for entry in market.not_read():
        told.add(entry.area)
        yield NotCovered(
            market.code,
            entry.area,
            f"{topics[entry.area]}: {entry.why}",
            with_caution(entry.do or f"Ask {head.office}."),
        )
    held = {topic for pack in market.packs for topic in shelf.topics(pack, market.shelf)}
    for area in _AREAS:
        if area not in held and area not in told:
            yield NotCovered(
                market.code,
                area,
                f"{topics[area]}: nothing is held for {market.name}.",
                with_caution(f"Ask {head.office}."),
            )
    if _size_missing(case):
        do = with_caution("Give diameter and height, or width and height, in [panel].")
        yield NotCovered(
            market.code,
            "letter_height",
            "How large the letters must be: the file does not say how large the jar is.",
            do,
        )
    languages = sorted({law.language for law in market.wordings()})
    yield NotCovered(
        market.code,
        "print",
        "How the label looks: pictures, colours, contrast, the place and the size of words as printed. Words were read in "
        f"{', '.join(languages) or 'no language'}; web pages, signs and advertisements count as well and were not seen.",
        with_caution(f"Hold a printed label against the findings; in doubt show it to {head.office}."),
    )


def _size_missing(case: Case) -> bool:
    """Whether the law's letter heights hang on a size of the jar that the file does not give."""
    try:
        letter_height.required(case.market, declared_g=case.facts.get("declared"), panel=panel_of(case.label))
    except FactMissing:
        return True
    except NoRuleInForce:
        return False
    return False


def questions_not_read(case: Case) -> Iterator[Finding]:
    """One question for each pack's unread law, with the areas it leaves open."""
    by_reason: dict[tuple[str, str, str], list[str]] = {}
    for entry in case.market.not_read():
        by_reason.setdefault((entry.pack, entry.why, entry.do), []).append(entry.area)
    for (pack, why, do), areas in by_reason.items():
        named = ", ".join(area.replace("_", " ") for area in areas)
        office = shelf.head(pack, case.market.shelf).office
        yield Finding(
            rule=f"{pack}.not_read.{areas[0]}",
            market=case.market.code,
            level="ask",
            field="market",
            found="",
            says=f"Nobody has read this part of the law here ({named}): {why}",
            do=with_caution(do or f"Ask {office}."),
            cite=f"{shelf.head(pack, case.market.shelf).name}: not read",
            read_on=None,
            sure="memory",
        )

"""Whether a jar needs a nutrition panel at all, and what printing one does to the freedom from it."""

from __future__ import annotations

from collections.abc import Iterator

from labelkit.rules.blocks import Exempt, Require
from labelkit.rules.checking.case import Case
from labelkit.rules.checking.required import questions, state_of

ELEMENT = "nutrition panel"


def need(case: Case) -> tuple[str, ...]:
    """Sentences for the user: whether the panel is needed, by which law, and what follows from printing it.

    >>> from datetime import date
    >>> from labelkit.measures import Declared
    >>> from labelkit.rules import market
    >>> from labelkit.rules.checking.case import read_case
    >>> from labelkit.rules.label import Label
    >>> label = Label(("us",), "Clover Honey", Declared.read("1 lb", "en_US"), situation={"employees": 3, "units_per_year": 6000, "importer": False})
    >>> need(read_case(label, market("us", date(2026, 11, 25))))[0][:79]
    'This jar needs no nutrition panel (21 USC 343 (q)(5)(E)(iii); 21 CFR 101.9(j)(1'
    """
    facts, market = case.facts, case.market
    laws = [law for law in market.requires() if law.element == ELEMENT and law.answer(facts).holds is not False]
    if not laws:
        return ("The law read by labelkit asks for no nutrition panel on this jar. Check your local rules.",)
    freeing = [(law, state_of(law, facts)) for law in market.exemptions() if _frees(law, laws)]
    free = [law for law, state in freeing if state.holds]
    if free:
        # Of several freedoms the one that asks for no notice.
        return tuple(_free(min(free, key=lambda law: bool(law.notice))))
    open_ = [fact for _, state in freeing if state.holds is None for fact in state.missing]
    if open_:
        return (
            f"Whether this jar needs a panel depends on: {questions(open_)} Who is freed from it and prints one all the same gives up the freedom.",
        )
    return (f"This jar needs a nutrition panel: {laws[0].cite}, and no exemption read by labelkit holds.",)


def _free(law: Exempt) -> Iterator[str]:
    notice = f" A notice is due {law.notice.rstrip('.')}." if law.notice else ""
    yield f"This jar needs no nutrition panel ({law.cite}): {law.says}{notice}"
    # 21 CFR 101.9(j)(1), (13) and (18): each freedom is for food that bears no nutrition information.
    yield "Printing one gives that freedom up for this product: from then on it must stand on every jar and be right. Leave it off if you do not want that."


def _frees(exempt: Exempt, laws: list[Require]) -> bool:
    return any(law.rule in exempt.frees_from or law.element in exempt.frees_from for law in laws)

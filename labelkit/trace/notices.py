"""What is said in a recall: to customers who sell on, in their shops, and at the stall.

The words stand in ``templates/trace``; what a notice must hold follows 21 CFR 7.49 (product, size, lot; reason and
hazard; what to do; how to report back; nothing that advertises). What a template needs and the record does not hold is
left as a line to write on, and named. They come in six languages; what the producer typed (the reason, sizes) is kept
as it was typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from labelkit.lots.movement import Account
from labelkit.measures import Declared, show_metric
from labelkit.measures.locales import locale_of, show_day
from labelkit.rules.address import address_lines
from labelkit.shipped import render
from labelkit.shipped.catalogues import wording
from labelkit.trace.follow import Trace
from labelkit.trace.recall import ToTell, cause_of, sold_direct
from labelkit.trace.recall_events import Recall

BLANK = "______________________"
CHECK = "check your local rules"


@dataclass(frozen=True, slots=True)
class Product:
    """One line of what is called back."""

    lot: str
    size: str
    declares: Declared
    bottled: str


@dataclass(frozen=True, slots=True)
class Notice:
    """A text to send or hang up, and what must still be written in.

    ``parts`` are its lines, each with what it is: ``#`` a heading, ``!`` a caution, ``=`` to be set large, or nothing.
    """

    id: str
    title: str
    parts: tuple[tuple[str, str], ...]
    missing: tuple[str, ...]
    language: str = "en"
    checked: bool = True  # whether somebody who speaks the language has read its words

    @property
    def heading(self) -> str:
        """Its first heading, after the word that it is an exercise, where it is one."""
        first = next((line for mark, line in self.parts if mark == "#"), self.title)
        exercise, dot, _ = self.title.rpartition(" · ")
        return f"{exercise}{dot}{first}"

    @property
    def text(self) -> str:
        """The notice as plain text."""
        return "\n".join(line for _, line in self.parts) + "\n"


def products(trace: Trace, recall: Recall, locale: str) -> tuple[Product, ...]:
    """What is called back, by lot and size."""
    found = {}
    for run in trace.runs:
        for filled in run.jars if run.lot in recall.lots else ():
            made = Product(run.lot, filled.size, filled.declares, show_day(run.day, locale))
            found[run.lot, filled.size] = made
    return tuple(found.values())


def notices(
    recall: Recall,
    trace: Trace,
    customers: tuple[ToTell, ...],
    maker: Mapping[str, Any],
    locale: str,
    *,
    market: str = "",
) -> tuple[Notice, ...]:
    """A letter for each customer, another for who got it as a gift; where jars are called back a notice and a sign.

    The maker's address is in the order of its country, or of the ``market``'s.
    """
    cause = cause_of(recall.cause)
    say = wording("recall", locale)
    jars = products(trace, recall, locale)
    says = {
        "_": say,
        "ngettext": say.count,
        "weight": lambda mass: show_metric(mass, locale),
        "sentence": sentence,
        "maker": str(maker.get("name") or BLANK),
        "address": ", ".join(address_lines(maker, market=market)) or BLANK,
        "phone": str(maker.get("phone") or BLANK),
        "email": str(maker.get("email") or ""),
        "day": show_day(recall.day, locale),
        "recall": recall,
        "cause": cause,
        "products": jars,
        "places": _places(trace, recall, locale),
    }
    missing = tuple(
        word
        for word, key in (("your name", "maker"), ("your address", "address"), ("your phone", "phone"))
        if says[key] == BLANK
    )
    drill = say("EXERCISE ONLY") + " · " if recall.drill else ""

    def made(id: str, title: str, which: str, **more: Any) -> Notice:
        return Notice(id, drill + title, _filled(which, says, **more), missing, say.lang, say.checked)

    return (
        *(
            made(
                f"letter-{n}",
                say("Letter to {customer}", customer=each.customer),
                "gift_letter" if each.gift else "letter",
                customer=each,
            )
            for n, each in enumerate(customers, start=1)
        ),
        *(
            (
                made("shop-notice", say("Notice for shops"), "shop"),
                made("stall-sign", say("Sign for the stall"), "sign"),
            )
            if jars
            else ()
        ),
    )


def _places(trace: Trace, recall: Recall, locale: str) -> list[str]:
    """Stall days whose jars can still be out, for the sign."""
    out = {(each.day, each.place) for each in sold_direct(trace, recall.lots)}
    sold = (each for each in trace.went if each.where == Account.SOLD and (each.day, each.place) in out)
    return list(dict.fromkeys(f"{each.place}, {show_day(each.day, locale)}" for each in sold))


def to_be_read(notices: Iterable[Notice]) -> str:
    """What to do before sending notices whose words nobody has checked; nothing where somebody has."""
    unread = sorted({each.language for each in notices if not each.checked})
    if not unread:
        return ""
    names = ", ".join(locale_of(each).get_display_name("en") or each for each in unread)
    return f"The {names} words were not checked by a native speaker: have one read the notices before you send them."


_MARKS = ("#", "!", "=")


def _filled(which: str, says: Mapping[str, Any], **more: Any) -> tuple[tuple[str, str], ...]:
    text = render(f"trace/recall_{which}.txt", **says, **more)
    lines = [line.rstrip() for line in text.strip().splitlines()]
    kept = [line for n, line in enumerate(lines) if line or (n and lines[n - 1])]
    return tuple(
        (line[0], line[2:]) if line.startswith(tuple(f"{m} " for m in _MARKS)) else ("", line) for line in kept
    )


def whom_to_ask(market: str) -> str:
    """Which authority to call, kind by kind; from memory and so said."""
    country = market.partition("-")[0]
    named = {
        "us": "your state's department of agriculture or health, and the FDA recall coordinator for your state",
        "uk": "the food team of your local council, and the FSA (in Scotland FSS)",
        "eu": "the food authority of your district, which tells the national one",
        "ca": "the CFIA recall office for your area",
        "au": "your state food authority and FSANZ's recall coordinator",
        "nz": "New Zealand Food Safety (MPI)",
    }
    whom = named.get(country, "your food authority")
    return f"Call {whom} before you publish anything; their word goes before labelkit's (from memory: {CHECK})."


def sentence(text: str) -> str:
    """Return a text as a sentence: a capital at its beginning, a stop at its end.

    >>> sentence("it can injure whoever eats it")
    'It can injure whoever eats it.'
    """
    text = text.strip()
    return f"{text[:1].upper()}{text[1:]}" + ("" if text.endswith((".", "!", "?")) else ".")

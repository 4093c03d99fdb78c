"""The sign at the stall: the words the place wants where honey is sold, verbatim and large."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from labelkit.measures.wording import Wording
from labelkit.paper.document_style import ACCENT, INK, PAGES, QUIET
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Mark, Shape, rectangle
from labelkit.rules.blocks import Statement
from labelkit.rules.findings import law_line, with_caution
from labelkit.rules.market import Market
from labelkit.sale.large_type import MM, SIDE, block, foot, text_at
from labelkit.sale.paper_note import quality_note
from labelkit.shipped import template_text

ON_SIGN = ("sign", "label and sign", "label or sign")


@dataclass(frozen=True, slots=True)
class SignWords:
    """What belongs on the sign, and what nobody could say because a fact is missing."""

    statements: tuple[Statement, ...]
    asks: tuple[str, ...]
    not_read: tuple[str, ...] = ()
    wants: tuple[str, ...] = ()  # what the sign must bear besides, in words

    def texts(self, lang: str) -> tuple[str, ...]:
        """The words verbatim, in the language where the law has it, else as the law has them."""
        return tuple(one.text.get(lang) or next(iter(one.text.values())) for one in self.statements)


def sign_words(markets: Iterable[Market], facts_in: Callable[[Market], Mapping[str, Any]]) -> SignWords:
    """The statements of these markets that stand on a sign, for the facts in each. A fact not given becomes a question."""
    held: dict[str, Statement] = {}
    asks: dict[str, None] = {}
    unread: dict[str, None] = {}
    wants: dict[str, None] = {}
    for market in markets:
        facts = facts_in(market)
        for required in market.requires():
            answer = required.answer(facts) if required.place in ON_SIGN else None
            if answer and answer.holds:
                wants[f"{required.element}: {required.says} {with_caution(required.do)}"] = None
            elif answer and answer.holds is None:
                asks.update((fact.asks, None) for fact in answer.missing)
        for statement in market.statements():
            if statement.place not in ON_SIGN:
                continue
            answer = statement.answer(facts)
            if answer.holds:
                held[statement.rule] = statement
                for font in (statement.fonts,) if statement.fonts else ():
                    asks[
                        with_caution(
                            f"{statement.rule}: the law names the typeface {' or '.join(font)}; this sign has another."
                        )
                    ] = None
            elif answer.holds is None:
                asks.update((fact.asks, None) for fact in answer.missing)
        unread.update((f"{market.name}: {one.area}. {one.why}", None) for one in market.not_read())
    return SignWords(tuple(held.values()), tuple(asks), tuple(unread), tuple(wants))


def sign_pdf(
    told: SignWords,
    words: Wording,
    *,
    page: str = "letter",
    maker: Sequence[str] = (),
    heading: str = "",
    caution: bool = True,
) -> bytes:
    """The sign on one page: who sells, and the words the place wants, as large as they go.

    Unless its own words speak of infants, the sign bears the caution every honey seller owes a young parent.
    """
    from labelkit.paper.pdf import PdfWriter

    wide, high = PAGES[page]
    title = heading or words("Honey")
    writer = PdfWriter(title, lang=words.lang, author=maker[0] if maker else "")
    writer.page(wide, high)
    room, top = wide - 2 * SIDE, high - SIDE
    marks: list[Mark] = [
        Shape(rectangle(Box(SIDE, top - 1_200, SIDE + 22 * MM, top)), fill=ACCENT),
        text_at("serif-Black", title, 72, SIDE, top - 32 * MM, room=room),
    ]
    y = top - 40 * MM
    for text in maker:
        more, y = block("serif-Regular", text, 20, SIDE, y, room, QUIET)
        marks += more
    texts = told.texts(words.lang)
    if caution and bears_caution(told):
        texts = (*texts, caution_in(words.lang))
    marks += _statements(texts, y - 12 * MM, SIDE + 30 * MM, room)
    laws = [law_line(one.cite, one.sure) for one in told.statements]
    marks += foot([*laws, quality_note(words)], wide, 7)
    writer.draw(marks)
    return writer.finish()


def bears_caution(told: SignWords) -> bool:
    """Whether the sign needs the usual caution: its prescribed words do not speak of infants themselves."""
    return not any("infant" in text.lower() for one in told.statements for text in one.text.values())


def caution_in(lang: str) -> str:
    """The usual caution about infants in a language, as labels bear it; in English where there is none.

    >>> caution_in("de")
    'Nicht für Säuglinge unter 12 Monaten geeignet.'
    """
    cautions = tomllib.loads(template_text("labels/cautions.toml"))["infants"]
    return cautions.get(lang, cautions["en"])


def _statements(texts: Sequence[str], top: int, low: int, room: int) -> list[Mark]:
    """The prescribed words, each in a frame, at the largest of some sizes at which all of them fit."""
    inside = room - 12 * MM
    for points in (30, 26, 22, 19, 16, 14, 12, 10):
        marks: list[Mark] = []
        y = top
        for text in texts:
            more, end = block("sans-Bold", text, points, SIDE + 6 * MM, y - 5 * MM, inside)
            frame = Box(SIDE, end - 6 * MM, SIDE + room, y)
            marks += [Shape(rectangle(frame, 2_000), stroke=INK, width=700), *more]
            y = frame.bottom - 7 * MM
        if y >= low:
            return marks
    return marks

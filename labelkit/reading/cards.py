"""Address cards (vCard, .vcf) in: the only module that imports vobject, which reads versions 2.1 and 3.0 and much of 4.0.

What is taken is what a recall and a letter need: name, telephone, e-mail, address, language (RFC 6350, 6.2.1, 6.4.1, 6.4.2,
6.3.1 and 6.4.4, from memory). A card may hold anything else; it is passed over.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from labelkit.errors.reading import CardsUnreadable
from labelkit.measures.columns import MOST_IN_A_CELL
from labelkit.rules.address import address_lines

MOST_BYTES, MOST_CARDS = 2_000_000, 2_000
_ADDRESS = {"street": "street", "city": "city", "region": "region", "code": "postcode", "country": "country"}


@dataclass(frozen=True, slots=True)
class Card:
    """One contact; what the card does not say is empty. ``language`` is that of the card where it is one of a list."""

    name: str
    phone: str = ""
    email: str = ""
    address: tuple[str, ...] = ()
    language: str = ""


def read_cards(content: bytes, file: str, languages: Sequence[str], market: str = "") -> tuple[Card, ...]:
    """The contacts of a file, in its order; addresses in the order of their country, else of the ``market``.

    Raises :class:`~labelkit.errors.reading.CardsUnreadable`.

    >>> card = "BEGIN:VCARD\\r\\nVERSION:3.0\\r\\nFN:Corner shop\\r\\nTEL:555-0142\\r\\nEND:VCARD\\r\\n"
    >>> read_cards(card.encode(), "shop.vcf", ["en"])
    (Card(name='Corner shop', phone='555-0142', email='', address=(), language=''),)
    """
    if len(content) > MOST_BYTES:
        raise CardsUnreadable(file, f"it has {len(content):,} bytes; the most is {MOST_BYTES:,}")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        raise CardsUnreadable(file, f"byte {trouble.start} is not UTF-8 text") from None
    cards = []
    for number, each in enumerate(_parsed(text, file), 1):
        if number > MOST_CARDS:
            raise CardsUnreadable(file, f"it has more than {MOST_CARDS:,} cards")
        cards.append(_card(each, number, file, languages, market))
    if not cards:
        raise CardsUnreadable(file, "it holds no address card (BEGIN:VCARD)")
    names = [card.name for card in cards]
    if twice := next((name for name in names if names.count(name) > 1), ""):
        raise CardsUnreadable(file, f"it holds two cards of {twice}")
    return tuple(cards)


def _parsed(text: str, file: str) -> Iterator[Any]:
    """The cards one after another; vobject names no one error for damage, so whatever it raises means: damaged."""
    import vobject

    try:
        for each in vobject.readComponents(text):
            if each.name == "VCARD":
                yield each
    except Exception as trouble:
        raise CardsUnreadable(file, f"it is damaged ({type(trouble).__name__})") from trouble


def _card(card: Any, number: int, file: str, languages: Sequence[str], market: str) -> Card:
    name = _text(_best(card, "fn"))
    if not name:
        raise CardsUnreadable(file, f"card {number} has no name (FN)")
    language = _text(_best(card, "lang")).casefold().partition("-")[0]
    made = Card(
        name,
        _text(_best(card, "tel")).removeprefix("tel:"),
        _text(_best(card, "email")).removeprefix("mailto:"),
        _address(_best(card, "adr"), market),
        language if language in languages else "",
    )
    if max(map(len, (made.name, made.phone, made.email, *made.address))) > MOST_IN_A_CELL:
        raise CardsUnreadable(file, f"card {number} is longer than any address")
    return made


def _best(card: Any, name: str) -> Any:
    """The preferred one of several (``TYPE=PREF``, ``PREF=1``), else the first."""
    every = card.contents.get(name, [])
    return min(every, key=_rank, default=None)


def _rank(line: Any) -> int:
    types = {str(each).casefold() for each in line.params.get("TYPE", [])}
    said = str((line.params.get("PREF") or [""])[0])
    return 0 if "pref" in types else int(said) if said.isdigit() else 101


def _text(line: Any) -> str:
    return " ".join(str(line.value).split()) if line is not None else ""


def _address(line: Any, market: str) -> tuple[str, ...]:
    """The lines of an address, in the order of its country."""
    if line is None:
        return ()
    said = {key: getattr(line.value, field, "") for field, key in _ADDRESS.items()}
    whole = {key: ", ".join(filter(None, said)) if isinstance(said, list) else str(said) for key, said in said.items()}
    return address_lines({key: " ".join(text.split()) for key, text in whole.items()}, market=market)

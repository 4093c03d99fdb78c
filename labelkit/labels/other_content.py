"""What bucket tags, case labels and price cards say, from plain data."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from labelkit.barcodes.elements import case_number
from labelkit.barcodes.gs1 import checked
from labelkit.errors.labels import ElementRefused
from labelkit.labels.content import Height, LabelContent, Words, clean

#: A case number whose content may differ from case to case; it needs a weight beside it (GS1 General Specifications 2.1.10).
VARIABLE = "9"


def bucket_tag_content(
    bucket: str,
    maker: str,
    facts: Iterable[tuple[str, str]],
    *,
    lot: str | None = None,
    caution: str = "",
    lang: str = "en",
) -> LabelContent:
    """A tag for a bucket in store: its name, and facts such as ("Net", "27.3 kg (60 lb 3 oz)") as they are to print.

    >>> bucket_tag_content("B1", "Hazel Bank", [("Net", "27.3 kg")]).of("name").text
    'B1'
    """
    said = tuple((clean(label, "the tag"), clean(value, label)) for label, value in facts if value)
    words = [Words("maker", clean(maker, "the maker")), Words("name", clean(bucket, "the bucket"), must=True)]
    words += [Words("caution", clean(caution, "the caution"))] if caution else []
    code = clean(lot or bucket, "the code")
    # Bars are for names a scanner can spell; any other stands in letters alone, and not twice.
    words += [Words("lot", code)] if code.isascii() or code != clean(bucket) else []
    return LabelContent("tag", tuple(words), lang, (lang,), lot=code if code.isascii() else None, facts=said)


def case_label_content(
    name: str | Sequence[str],
    maker: str,
    declared: str,
    count: int,
    lots: Sequence[str],
    *,
    address: str = "",
    best_before: str = "",
    number: str | None = None,
    indicator: int = 1,
    lang: str = "en",
    words_for: tuple[str, str, str] = ("Contents", "Best before", "Lot"),
) -> LabelContent:
    """A case of one kind of jar. With the jar's GTIN (``number``) and one lot it carries GS1-128: (01) the case's number
    and (10) the lot; without a GS1 number its lot is plain Code 128, for use in one's own house. A ``number`` of
    fourteen digits is the case's own.

    >>> case_label_content("Clover Honey", "Hazel Bank", "453 g", 12, ["L26195AXR"], number="9521234543213").elements
    (('01', '19521234543210'), ('10', 'L26195AXR'))
    """
    names = (name,) if isinstance(name, str) else tuple(name)
    contents, before, lot_word = words_for
    facts = [(contents, f"{count} × {declared}"), (lot_word, ", ".join(lots))]
    facts += [(before, best_before)] if best_before else []
    words = [
        Words("maker", clean(maker, "the maker")),
        Words("name", clean(names[0], "the name"), must=True, also=names[1:]),
    ]
    words += [Words("address", clean(address, "the address"))] if address else []
    one = lots[0] if len(lots) == 1 else None
    elements = (("01", _case(number, indicator)), *((("10", one),) if one else ())) if number else ()
    if one:
        words.append(Words("lot", one))
    return LabelContent("case", tuple(words), lang, (lang,), lot=one, elements=elements, facts=tuple(facts))


def _case(number: str, indicator: int) -> str:
    """The case's number: its own of fourteen digits, or made from the jar's."""
    bare = checked(number)
    if len(bare) < 14:
        return case_number(bare, indicator)
    if bare.startswith(VARIABLE):
        raise ElementRefused(
            "01", bare, "a number that begins with 9 is for cases whose content differs, and needs its weight"
        )
    return bare


def price_card_content(
    name: str | Sequence[str],
    price: str,
    *,
    unit_price: str = "",
    net: str = "",
    maker: str = "",
    lang: str = "en",
    note: str = "",
    unit_height: Height | None = None,
) -> LabelContent:
    """A shelf card: name, net quantity, price and unit price, all worded already.

    >>> price_card_content("Clover Honey", "$12.00", unit_price="$0.75 / oz", net="1 lb (453 g)").of("price").text
    '$12.00'
    """
    names = (name,) if isinstance(name, str) else tuple(name)
    words = [
        Words("name", clean(names[0], "the name"), must=True, also=names[1:]),
        Words("price", clean(price, "the price"), must=True),
    ]
    words += [Words("net", clean(net, "the net quantity"))] if net else []
    words += [Words("unit_price", clean(unit_price, "the unit price"), unit_height)] if unit_price else []
    words += [Words("maker", clean(maker, "the maker"))] if maker else []
    words += [Words("storage", clean(note, "the note"))] if note else []
    return LabelContent("card", tuple(words), lang, (lang,))

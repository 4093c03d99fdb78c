"""What stands on the papers, read back out of the PDFs by pypdf: prices, unit prices, prescribed words, lots."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from labelkit.measures import Declared, Mass, Money
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Shape, Text
from labelkit.rules import market
from labelkit.rules.blocks import Cite, Statement
from labelkit.sale.account_events import Delivery
from labelkit.sale.bars import Bar, bars_svg, picture
from labelkit.sale.cards import CARD, Card, card_marks, cards_pdf
from labelkit.sale.delivery import FIELDS, next_number, note_acts, note_fields
from labelkit.sale.delivery_note import delivery_note_pdf
from labelkit.sale.events import SaleLine
from labelkit.sale.load_list import load_list_pdf
from labelkit.sale.price import PriceRow
from labelkit.sale.price_list import Line, price_list_pdf
from labelkit.sale.price_words import priced
from labelkit.sale.settlement import Loaded
from labelkit.sale.sign import SignWords, caution_in, sign_pdf, sign_words
from labelkit.sale.stall_events import StallLoad
from labelkit.sale.tally import tally_pdf
from labelkit.shipped.catalogues import wording

DAY = date(2026, 7, 25)
MAKER = {
    "name": "Pretend Hollow Honey",
    "street": "12 Sample Lane",
    "city": "Pretend Hollow",
    "region": "VA",
    "postcode": "00000",
}
ENGLISH = wording("labelkit", "en_US")
POUND = Decimal("453.59237")


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def line(count: int, size="one pound", price="12.00", lot="L26195AXR") -> SaleLine:
    return SaleLine(lot, size, count, Mass.read("1 lb", "en_US"), Money.of(price, "USD"))


def row(price: str, grams, currency="USD") -> PriceRow:
    return PriceRow("jar", Declared.of_grams(Decimal(grams)), Money.of(price, currency), Money(0, currency))


@pytest.mark.parametrize(
    ("place", "day", "price", "grams", "currency", "text"),
    [
        # United States, per pound: rows reckoned from the exact pound.
        ("us", DAY, "12.00", POUND, "USD", "$12.00 / lb"),
        ("us", DAY, "8.50", POUND * 12 / 16, "USD", "$11.33 / lb"),
        ("us", DAY, "20.00", POUND * 2, "USD", "$10.00 / lb"),
        ("us", DAY, "10.00", POUND * 3 / 2, "USD", "$6.67 / lb"),
        # Great Britain: per 100 g before 6 April 2026 (SI 2004/102, Schedule 1, from memory), per kilogram since (SI 2024/1055).
        ("uk", date(2026, 4, 5), "5.50", 340, "GBP", "£1.62 / 100 g"),
        ("uk", date(2026, 4, 6), "3.75", 227, "GBP", "£16.52 / kg"),
        ("uk", DAY, "12.00", 1000, "GBP", "£12.00 / kg"),
        # European Union, per kilogram (Directive 98/6/EC).
        ("eu", DAY, "4.20", 250, "EUR", "€16.80 / kg"),
    ],
)
def test_the_unit_price_beside_a_price_is_the_markets(place, day, price, grams, currency, text):
    (shown,) = priced([row(price, grams, currency)], [market(place, day)])
    assert shown.unit_text("en_US") == text


def test_two_markets_with_two_units_are_both_said():
    (shown,) = priced([row("12.00", POUND)], [market("us", DAY), market("ca", DAY)])
    assert shown.unit_text("en_US") == "$12.00 / lb · $2.65 / 100 g"


def test_the_price_list_says_every_price_and_goes_over_to_a_second_page():
    lines = [Line(f"Jar {n}", "Net Wt 16 oz (1 lb) 453 g", f"${n}.00", "$12.00 / lb") for n in range(1, 12)]
    pdf = price_list_pdf(lines, ENGLISH, "en_US", DAY, maker=MAKER)
    assert len(PdfReader(BytesIO(pdf)).pages) == 2
    text = text_of(pdf)
    assert all(f"${n}.00" in text for n in range(1, 12))
    assert "Pretend Hollow Honey" in text


@pytest.mark.parametrize(
    "card",
    [
        Card("Wildflower Honey", "Net Wt 16 oz (1 lb) 453 g", "$12.00", "$12.00 / lb", "Pretend Hollow Honey"),
        Card(
            "Heather honey from the hill behind the old mill by the brook",
            "1 kg",
            "12.345,67 Kč",
            "12.345,67 Kč / kg",
            "A " * 40,
        ),
        Card("Мед", "500 г", "1 234,50 ₴", "2 469,00 ₴ / kg", "Пасіка"),
    ],
)
def test_nothing_runs_over_the_edge_of_a_price_card(card):
    for mark in card_marks(card):
        if isinstance(mark, Text | Shape):
            box = mark.box
            assert box.left >= 0 and box.bottom >= 0 and box.right <= CARD[0] and box.top <= CARD[1], mark
    words = [mark.box for mark in card_marks(card) if isinstance(mark, Text)]
    assert not any(one.meets(other) for place, one in enumerate(words) for other in words[place + 1 :])


def test_nine_cards_take_two_pages():
    cards = [Card("Honey", "1 lb", f"${n}.00") for n in range(9)]
    assert len(PdfReader(BytesIO(cards_pdf(cards, "Price cards"))).pages) == 2


def statement(place: str, text: str, **more) -> Statement:
    return Statement(
        pack="us",
        topic="statements",
        file="x.toml",
        since=date(2020, 1, 1),
        cite=Cite("An invented honey act", "s. 1", DAY),
        sure="seen",
        rule=f"us.invented.{place.replace(' ', '_')}",
        level="stop",
        says="",
        do="",
        text={"en": text},
        place=place,
        **more,
    )


PACK = """
[pack]
name = "Invented"
parents = []
languages = ["en"]
currency = "USD"
office = "the invented office"
"""
STATEMENTS = """
[[statement]]
rule = "inv.statements.{place}"
text = {{ en = "{text}" }}
place = "{place}"
level = "stop"
says = "An invented law wants these words."
do = "Print them."
since = 2020-01-01
cite = {{ source = "act", clause = "s. 1", read_on = 2026-11-25 }}
sure = "seen"
{when}
"""


@pytest.fixture
def invented(tmp_path):
    """A market with three statements: one for signs, one for labels, and one for both that hangs on a fact."""
    (tmp_path / "inv").mkdir()
    (tmp_path / "inv" / "pack.toml").write_text(PACK)
    (tmp_path / "sources.toml").write_text('[act]\ntitle = "An invented honey act"\n')
    blocks = (
        ("sign", "SOLD FROM AN INVENTED HONEY HOUSE.", ""),
        ("label", "Only for the label.", ""),
        ("label and sign", "FILLED IN A HOME KITCHEN.", "when = { home_kitchen = true }"),
    )
    made = [STATEMENTS.format(place=place, text=text, when=when) for place, text, when in blocks]
    text = "".join(made).replace("statements.label and sign", "statements.label_and_sign")
    (tmp_path / "inv" / "statements.toml").write_text(text)
    return market("inv", DAY, tmp_path)


def test_the_sign_bears_the_words_for_signs_verbatim_and_no_others(invented):
    told = sign_words([invented], lambda market: {"home_kitchen": True})
    text = text_of(sign_pdf(told, ENGLISH, maker=("Pretend Hollow Honey",))).replace("\n", " ")
    assert "SOLD FROM AN INVENTED HONEY HOUSE." in text
    assert "FILLED IN A HOME KITCHEN." in text
    assert "Only for the label." not in text


def test_a_word_that_hangs_on_an_unknown_fact_is_asked_about_and_not_printed(invented):
    told = sign_words([invented], lambda market: {})
    assert told.asks == ("Is the honey bottled in a home kitchen?",)
    assert told.texts("en") == ("SOLD FROM AN INVENTED HONEY HOUSE.",)


def test_a_sign_cautions_about_infants_unless_its_law_already_does_or_the_seller_declines():
    def shown(**more) -> str:
        return text_of(sign_pdf(SignWords((statement("sign", "SOLD HERE."),), ()), ENGLISH, **more)).replace("\n", " ")

    caution = caution_in("en")
    assert caution in shown()
    assert caution not in shown(caution=False)
    own = SignWords((statement("sign", "WARNING: Do Not Feed Honey to Infants Under One Year Old."),), ())
    assert caution not in text_of(sign_pdf(own, ENGLISH)).replace("\n", " ")


def test_a_sign_with_very_many_words_still_shows_them_all():
    told = SignWords(tuple(statement("sign", f"NUMBER {n} " + "WORDS OF AN INVENTED LAW " * 6) for n in range(6)), ())
    text = text_of(sign_pdf(told, ENGLISH))
    assert all(f"NUMBER {n}" in text for n in range(6))


def test_the_tally_sheet_has_a_box_for_every_jar_and_the_lots():
    load = Loaded(DAY, "Mill square", (line(57), line(36, "half pound", "6.25")), Money.of("80.00", "USD"))
    pdf = tally_pdf(load, ENGLISH, "en_US")
    page = PdfReader(BytesIO(pdf)).pages[0]
    # A box with round corners is one closed path of four curves that is stroked.
    drawn = page.get_contents().get_data().count(b" h S")
    assert drawn == 57 + 36
    assert (
        "L26195AXR" in page.extract_text()
        and "57 jars taken" in page.extract_text()
        and "$80.00" in page.extract_text()
    )


def test_many_jars_take_several_tally_sheets_and_every_jar_has_its_box():
    load = Loaded(DAY, "Mill square", tuple(line(150, f"jar {n}") for n in range(8)), None)
    pages = PdfReader(BytesIO(tally_pdf(load, ENGLISH, "en_US"))).pages
    assert len(pages) > 1
    assert sum(page.get_contents().get_data().count(b" h S") for page in pages) == 8 * 150


def test_the_load_list_counts_crates():
    load = StallLoad(DAY, "Mill square", (line(30), line(24, "half pound", "6.25")), Money.of("80.00", "USD"))
    text = text_of(load_list_pdf(load, {"half pound": 24}, ENGLISH, "en_US"))
    assert "2 + 6" in text and "$80.00" in text


DELIVERY = Delivery(
    date(2026, 8, 5),
    "D2026-001",
    "Corner shop",
    (line(24), line(12, "half pound", "5.00", "L26196BYP")),
    ("1 Made-up Row", "Sampleton"),
    carrier="Make-believe Haulage",
    consignor="Sample Co-op",
    consignee="Sample Chain",
)
# What the two laws ask for, read from their texts: Commission Implementing Regulation (EU) No 931/2011 Art. 3(1) (a)
# description, (b) volume or quantity, (c) dispatching operator, (d) consignor if different, (e) receiving operator,
# (f) consignee if different, (g) lot, (h) dispatch date; 21 CFR 1.345(a) (1) recipient, (2) description, (3) date released,
# (4) lot, (5) quantity and how packaged, (6) transporter.
ON_THE_NOTE = {
    "(a)": "Honey in jars",
    "(b)": "24 × one pound",
    "(c)": "12 Sample Lane",
    "(d)": "Sample Co-op",
    "(e)": "1 Made-up Row",
    "(f)": "Sample Chain",
    "(g)": "L26196BYP",
    "(h)": "August 5, 2026",
    "(1)": "Corner shop",
    "(2)": "half pound",
    "(3)": "August 5, 2026",
    "(4)": "L26195AXR",
    "(5)": "12 × half pound",
    "(6)": "Make-believe Haulage",
}


@pytest.mark.parametrize("clause", ON_THE_NOTE)
def test_a_delivery_note_holds_what_each_clause_asks_for(clause):
    text = text_of(delivery_note_pdf(DELIVERY, MAKER, ENGLISH, "en_US")).replace("\n", " ")
    assert ON_THE_NOTE[clause] in text


@pytest.mark.parametrize(
    ("place", "locale", "act"),
    [
        ("eu-de", "de_DE", "Verordnung (EU) Nr. 931/2011"),
        ("eu-fr", "fr_FR", "règlement (UE) n° 931/2011"),
        ("eu-es", "es_ES", "Reglamento (UE) n.º 931/2011"),
        ("eu-pl", "pl_PL", "rozporządzenie (UE) nr 931/2011"),
        ("us-va", "en_US", "21 CFR 1.345(a)"),
        ("nz", "en_US", ""),
    ],
)
def test_a_delivery_note_cites_the_act_of_its_own_market_in_its_own_language(place, locale, act):
    words = wording("labelkit", locale)
    acts = note_acts([market(place, DAY)], words.lang)
    assert acts.startswith(act) and bool(acts) == bool(act)
    text = text_of(delivery_note_pdf(DELIVERY, MAKER, words, locale, acts=acts))
    assert acts.split(", ")[0] in text.replace("\n", " ") and ("CFR" in text) == place.startswith("us")


def test_every_clause_is_some_field_of_the_note():
    assert {field.eu for field in FIELDS} - {""} == {f"({letter})" for letter in "abcdefgh"}
    assert {field.us for field in FIELDS} - {""} == {f"({number})" for number in range(1, 7)}


def test_owner_and_consignee_are_left_out_where_they_are_nobody_else():
    plain = Delivery(DAY, "D2026-002", "Corner shop", (line(2),), ("1 Made-up Row",))
    names = [field.name for field, _ in note_fields(plain, MAKER, "en_US")]
    assert "Owner while on the way" not in names and "For" not in names


def test_delivery_numbers_count_on_within_a_year():
    assert next_number([DELIVERY], 2026) == "D2026-002"
    assert next_number([DELIVERY], 2027) == "D2027-001"


def test_a_picture_escapes_what_looks_like_markup_and_fits_its_frame():
    drawn = picture("Sold <here>", [Bar("a & b", 3, "3", 5), Bar("nothing", 0, "0"), Bar("short", -4, "-4")])
    text = bars_svg(drawn)
    assert "Sold &lt;here&gt;" in text and "a &amp; b" in text
    assert [mark.role for mark in drawn.marks].count("bar") == 2
    assert all(Box(0, 0, drawn.wide, drawn.high).holds(mark.box) for mark in drawn.marks)


@pytest.mark.parametrize("locale", ["de_DE", "es_ES", "fr_FR", "pl_PL", "uk_UA"])
def test_every_paper_can_be_set_in_every_language(locale):
    words = wording("labelkit", locale)
    load = Loaded(DAY, "Mill square", (line(5),), Money.of("80.00", "USD"))
    for pdf, title in (
        (price_list_pdf([Line("x", "y", "z")], words, locale, DAY), "Price list"),
        (tally_pdf(load, words, locale), "Tally sheet"),
        (delivery_note_pdf(DELIVERY, MAKER, words, locale), "Delivery note"),
        (load_list_pdf(StallLoad(DAY, "Mill square", load.lines, None), {}, words, locale), "Load list"),
    ):
        text = text_of(pdf)
        assert words(title) in text
        assert words("The words of this paper were not checked by a native speaker yet.")[:20] in text


def test_the_longest_year_still_fits_two_pages():
    from labelkit.lots.movement import Account as Place
    from labelkit.sale.result import Entry
    from labelkit.sale.stall_events import StallDay
    from labelkit.sale.year_paper import year_pdf
    from labelkit.sale.year_report import InStock, Year

    def entry(n: int) -> Entry:
        return Entry(
            date(2026, n % 12 + 1, 1),
            "sold",
            f"A market with a remarkably long name, number {n % 14}",
            f"L26{n % 40:03}AXR",
            f"a jar with a rather long name {n % 12}",
            n,
            Mass(n * 10**6),
            Money(1_234_56 + n, "USD"),
            Money(543_21, "USD"),
        )

    from labelkit.sale.balances import CustomerAccount

    accounts = tuple(
        CustomerAccount(f"A customer with a long name {n}", *(Money(99_999_99, "USD") for _ in range(5)))
        for n in range(9)
    )
    days = (StallDay(DAY, "Mill square", tuple(line(50, f"a jar with a rather long name {n}") for n in range(12))),)
    stock = (InStock("jar", 3, Money(100, "USD")),)
    ends = {place: Mass(10**9) for place in Place if place is not Place.HIVES}
    year = Year("2026", "USD", tuple(entry(n) for n in range(400)), Mass(10**10), ends, stock, accounts, days)
    for page, locale in (("letter", "en_US"), ("letter", "uk_UA"), ("a4", "pl_PL"), ("letter", "fr_FR")):
        pdf = year_pdf(year, wording("labelkit", locale), locale, page=page, maker=MAKER)
        assert len(PdfReader(BytesIO(pdf)).pages) == 2, locale

"""Customers out of an address book (vCard), and their labels for envelopes."""

from __future__ import annotations

import random
from datetime import UTC, datetime
from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from labelkit.cli._runner import answer_to
from labelkit.errors.reading import CardsUnreadable
from labelkit.errors.sale import CustomerUnknown
from labelkit.labels.sheets import Printer, sheet
from labelkit.reading.cards import Card, read_cards
from labelkit.season.envelopes import envelopes

LANGUAGES = ("en", "de")
# Versions 2.1, 3.0 and 4.0 of the format, as address books export them; nobody in them is real.
OLD = b"BEGIN:VCARD\r\nVERSION:2.1\r\nN:M;;;;\r\nFN;CHARSET=UTF-8;ENCODING=QUOTED-PRINTABLE:M=C3=BChle\r\nTEL;WORK:555-0103\r\nEND:VCARD\r\n"
USUAL = (
    b"BEGIN:VCARD\r\nVERSION:3.0\r\nFN:Hill shop\\, upstairs\r\nN:;;;;\r\nTEL;TYPE=HOME:555-0001\r\nTEL;TYPE=WORK,PREF:555-0100\r\n"
    b"EMAIL:hill@exam\r\n ple.org\r\nADR;TYPE=WORK:;;1 Made-up Row;Sampleton;VA;00000;\r\nLANG:de-AT\r\nPHOTO:http://example.org/a\r\nEND:VCARD\r\n"
)
NEW = b"BEGIN:VCARD\r\nVERSION:4.0\r\nFN:Inn\r\nTEL;VALUE=uri;PREF=2:tel:+1-555-0141\r\nTEL;VALUE=uri;PREF=1:tel:+1-555-0142\r\nEND:VCARD\r\n"


def test_three_versions_of_the_format_are_read_with_the_preferred_number_and_folded_lines():
    assert read_cards(OLD + USUAL + NEW, "all.vcf", LANGUAGES, "us-va") == (
        Card("Mühle", "555-0103"),
        Card("Hill shop, upstairs", "555-0100", "hill@example.org", ("1 Made-up Row", "Sampleton, VA 00000"), "de"),
        Card("Inn", "+1-555-0142"),
    )


LINE = st.text(st.characters(categories=("L", "N")), min_size=1, max_size=30)


@given(name=LINE, street=LINE, city=LINE, phone=st.from_regex(r"\A[0-9]{3,12}\Z"))
def test_what_another_program_wrote_is_read_as_it_was_said(name, street, city, phone):
    """The other program is vobject's own writer, as address books of the desktop use it."""
    import vobject

    card = vobject.vCard()
    card.add("fn").value, card.add("tel").value = name, phone
    card.add("n").value = vobject.vcard.Name(family=name)
    card.add("adr").value = vobject.vcard.Address(street=street, city=city)
    (found,) = read_cards(card.serialize().encode(), "one.vcf", LANGUAGES)
    assert found == Card(name, phone, "", (street, city))


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "no address card"),
        (b"junk", "damaged"),
        (b"\xff\xfe", "not UTF-8"),
        (USUAL[:90], "damaged"),
        (USUAL + USUAL, "two cards of Hill shop, upstairs"),
        (b"BEGIN:VCARD\r\nVERSION:3.0\r\nTEL:1\r\nEND:VCARD\r\n", "card 1 has no name"),
        (bytes(2_000_001), "2,000,001 bytes"),
        (USUAL.replace(b"555-0100", b"5" * 40_000), "longer than any address"),
    ],
)
def test_what_is_no_file_of_cards_is_refused_in_words(content, words):
    with pytest.raises(CardsUnreadable, match=words):
        read_cards(content, "cards.vcf", LANGUAGES)


def test_damaged_cards_make_no_fault():
    chance = random.Random(19)
    for _ in range(150):
        content = bytearray(OLD + USUAL + NEW)
        for _ in range(chance.randint(1, 12)):
            content[chance.randrange(len(content))] = chance.choice(b"\r\n:;=,\\BEGINVD\x00\x80 ")
        try:
            read_cards(bytes(content), "cards.vcf", LANGUAGES)
        except CardsUnreadable as refused:
            assert "cards.vcf" in refused.what


def test_a_card_changes_what_it_says_and_tells_what_was_there_before(tmp_path):
    cards = tmp_path / "cards.vcf"
    cards.write_bytes(USUAL)

    def say(*arguments: str):
        line = ["--record", str(tmp_path / "season.labelkit"), "--day", "2026-07-14", *arguments]
        return answer_to(line, clock=datetime(2026, 7, 14, 9, tzinfo=UTC), who="Robin")

    say("start", "--market", "us-va", "--name", "Pretend Hollow Honey")
    say("record", "customer", "Hill shop, upstairs", "--phone", "555-9999", "--email", "hill@example.org")
    (noted,) = say("record", "customer", "--from", str(cards)).document["customers"]
    assert (noted["phone"], noted["replaced"]) == ("555-0100", {"phone": "555-9999"})
    (again,) = say("record", "customer", "--from", str(cards)).document["customers"]
    assert again["replaced"] == {}
    labels = say("record", "envelopes", "--out", str(tmp_path / "e.pdf")).document
    assert (labels["customers"], labels["left_out"]) == (("Hill shop, upstairs",), ())
    with pytest.raises(CustomerUnknown):
        say("record", "envelopes", "--customer", "Hill", "--out", str(tmp_path / "f.pdf"))


def test_every_address_stands_whole_on_a_label_of_its_own_and_the_used_ones_are_left_free():
    long = ("c/o a very long name of a house that goes on and on", "1 Made-up Row", "Sampleton, VA 00000", "US")
    settings = {f"customer Shop {n}": {"address": list(long)} for n in range(9)} | {"customer Inn": {"phone": "1"}}
    names = [name.removeprefix("customer ") for name in settings]
    found = envelopes(settings, names, sheet("a4-3x7-64x38"), Printer(), start_at=15)
    pages = [page.extract_text() for page in PdfReader(BytesIO(found.pdf)).pages]
    assert found.left_out == ("Inn",)
    assert [text.count("Made-up Row") for text in pages] == [7, 2]
    which = sheet("a4-3x7-64x38")
    from labelkit.season.envelopes import PAD, _address

    box = which.place(1)
    for mark in _address(("Shop", *long), box):
        assert mark.x + mark.face.width(mark.text, mark.size) <= box.width - PAD
        assert PAD <= mark.y <= box.height - PAD

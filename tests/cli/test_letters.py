"""Delivery notes, reminders and price lists as messages: Python's own e-mail parser reads what lies beside the paper."""

from __future__ import annotations

from datetime import UTC, datetime
from email import message_from_bytes, policy
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from labelkit.cli._runner import answer_to
from labelkit.errors.sale import CustomerUnknown

CLOCK = datetime(2026, 9, 30, 9, tzinfo=UTC)
ADDRESS = ("--street", "12 Sample Lane", "--city", "Pretend Hollow", "--region", "VA", "--postcode", "00000")
SHOP = ("--customer", "Hill shop")


@pytest.fixture
def say(tmp_path):
    """One command after the other against one record, each on its day."""
    record = str(tmp_path / "season.labelkit")

    def typed(day: str, *arguments: str):
        return answer_to(["--record", record, "--day", day, *arguments], clock=CLOCK, who="Robin")

    maker = ("--name", "Pretend Hollow Honey", "--email", "hello@example.org", *ADDRESS)
    typed("2026-07-12", "start", "--market", "us", *maker)
    typed("2026-07-12", "weigh", "--bucket", "B1", "--net", "20 kg", "--moisture", "17")
    typed("2026-07-12", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12.00", "--cost", "1.35")
    typed("2026-07-12", "price", "--set", "pint", "--declares", "1 lb 8 oz", "--price", "17.00", "--cost", "1.50")
    typed("2026-07-20", "bottle", "--bucket", "B1", "--jar", "one pound=20")
    return typed


def deliver(say, tmp_path, *more: str):
    jars = ("--jar", "one pound=4", "--price", "one pound=8.40", "--address", "1 Made-up Row; Sampleton")
    out = ("--out", str(tmp_path / "note.pdf"), "--days-to-pay", "10", "--because", "labelled at the shop")
    return say("2026-07-25", "deliver", *SHOP, *jars, *out, *more).document


def known(say, *more: str) -> None:
    say("2026-07-25", "record", "customer", "Hill shop", "--phone", "555-0100", "--email", "shop@example.org", *more)


def message(file: str):
    return message_from_bytes(Path(file).read_bytes(), policy=policy.default)


def text_of(mail) -> str:
    return mail.get_body(("plain",)).get_content()


def attached(mail) -> str:
    (paper,) = mail.iter_attachments()
    return PdfReader(BytesIO(paper.get_content())).pages[0].extract_text()


def test_a_delivery_note_goes_to_the_address_of_record_with_the_paper_attached(say, tmp_path):
    known(say)
    mail = message(deliver(say, tmp_path)["message"])
    assert (mail["From"], mail["To"]) == ("Pretend Hollow Honey <hello@example.org>", "Hill shop <shop@example.org>")
    assert mail["Subject"] == "Delivery note D2026-001"
    assert "4 × one pound, Lot L26201AXN" in text_of(mail)
    assert "L26201AXN" in attached(mail)


def test_paper_and_message_speak_the_customers_language_unless_another_is_asked_for(say, tmp_path):
    known(say, "--language", "de")
    document = deliver(say, tmp_path)
    assert message(document["message"])["Subject"] == "Lieferschein D2026-001"
    assert "Lieferschein" in PdfReader(document["file"]).pages[0].extract_text()
    other = say(
        "2026-07-26",
        "deliver",
        *SHOP,
        "--jar",
        "one pound=1",
        "--out",
        str(tmp_path / "b.pdf"),
        "--language",
        "fr",
        "--because",
        "as before",
    )
    assert "D2026-002" in message(other.document["message"])["Subject"]
    assert "Lieferschein" not in message(other.document["message"])["Subject"]


def test_without_an_address_no_message_is_written_and_it_is_said_how_to_note_one(say, tmp_path):
    document = deliver(say, tmp_path)
    assert document["message"] is None and not list(tmp_path.glob("*.eml"))
    answer = say("2026-09-01", "remind", *SHOP, "--out", str(tmp_path / "reminder.pdf"))
    assert 'labelkit record customer "Hill shop" --email ADDRESS' in answer.text


def test_a_reminder_names_each_late_delivery_and_the_day_to_pay_by(say, tmp_path):
    known(say)
    deliver(say, tmp_path)
    document = say("2026-09-01", "remind", *SHOP, "--out", str(tmp_path / "reminder.pdf")).document
    said = text_of(message(document["message"]))
    assert "D2026-001, July 25, 2026: $33.60" in said and "September 15, 2026" in said


def test_a_price_list_for_a_customer_holds_what_was_agreed_with_them_and_nothing_else(say, tmp_path):
    known(say)
    say("2026-07-25", "price", "--pdf", str(tmp_path / "all.pdf"), "--for", "Hill shop")
    whole = attached(message(str(tmp_path / "all.eml")))
    assert "$12.00" in whole and "$17.00" in whole, "nothing was agreed yet"
    deliver(say, tmp_path)
    say("2026-07-25", "price", "--pdf", str(tmp_path / "theirs.pdf"), "--for", "Hill shop")
    theirs = attached(message(str(tmp_path / "theirs.eml")))
    assert "$8.40" in theirs and "$12.00" not in theirs and "$17.00" not in theirs


def test_a_misspelt_customer_gets_no_price_list(say, tmp_path):
    known(say)
    with pytest.raises(CustomerUnknown, match="Hill shp"):
        say("2026-07-25", "price", "--pdf", str(tmp_path / "l.pdf"), "--for", "Hill shp")
    assert not (tmp_path / "l.pdf").exists()

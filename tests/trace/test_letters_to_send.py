"""Letters that are ready to send: Python's own e-mail parser reads every message back, whatever was typed."""

from __future__ import annotations

import email
from datetime import UTC, datetime
from email import policy
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.cli._runner import answer_to
from labelkit.paper.mail import Mail, Party, can_be_reached, mail_file

MADE = datetime(2026, 8, 31, 9, tzinfo=UTC)
TYPED = st.text(st.characters(blacklist_categories=("Cs",)), max_size=80)


def parsed(content: bytes):
    message = email.message_from_bytes(content, policy=policy.default)
    assert not message.defects and all(not part.defects for part in message.walk())
    return message


@given(name=TYPED, subject=TYPED, text=TYPED, address=st.one_of(TYPED, st.just("shop@example.org")))
def test_whatever_is_typed_the_message_is_whole_and_no_text_becomes_a_header(name, subject, text, address):
    content = mail_file(Mail(Party("Honey", "hello@example.org"), Party(name, address), subject, text), MADE)
    message = parsed(content)
    assert sorted(message.keys()) == sorted(
        {"From", "To", "Subject", "Date", "X-Unsent", "MIME-Version", "Content-Type", "Content-Transfer-Encoding"}
    )
    # RFC 5322, 2.1.1: no line is longer than 998 octets, and each ends in CR LF.
    assert all(len(line) <= 998 for line in content.split(b"\r\n")) and b"\n" not in content.replace(b"\r\n", b"")
    body = message.get_content()
    assert body.rstrip("\n").split() == text.split()


def test_papers_come_out_of_a_message_byte_for_byte():
    paper = bytes(range(256)) * 20
    mail = Mail(
        Party("Honey"), Party("Läden & Söhne", "shop@exämple.org"), "Rückruf", "Grüße", [("letter-1.pdf", paper)]
    )
    message = parsed(mail_file(mail, MADE))
    (attached,) = message.iter_attachments()
    assert (attached.get_filename(), attached.get_content()) == ("letter-1.pdf", paper)
    assert message["To"].addresses[0].domain == "xn--exmple-cua.org", "in letters every server reads (RFC 5891)"
    assert message["From"].addresses == () and str(message["From"].groups[0].display_name) == "Honey"
    assert message["Subject"] == "Rückruf" and message.get_body().get_content().strip() == "Grüße"
    assert mail_file(mail, MADE) == mail_file(mail, MADE)


@pytest.mark.parametrize(
    "address", ["", "shop", "@example.org", "shop@", "a b@example.org", "shop@example.org\nBcc: x@y.z"]
)
def test_what_is_no_address_is_not_used_as_one(address):
    assert not can_be_reached(address)
    assert parsed(mail_file(Mail(Party("Honey"), Party("Shop", address), "s", "t"), MADE))["To"].addresses == ()


@pytest.fixture
def recall(tmp_path, monkeypatch):
    """A recall of jars that two customers have, one of them read in German."""
    monkeypatch.chdir(tmp_path)

    def say(day: str, *arguments: str):
        return answer_to(["--record", "season.labelkit", "--day", day, *arguments], clock=MADE, who="Robin")

    maker = ("--name", "Pretend Hollow Honey", "--street", "12 Sample Lane", "--city", "Pretend Hollow")
    say("2026-07-12", "start", "--market", "us", *maker, "--email", "hello@example.org", "--phone", "555 0100")
    say("2026-07-12", "weigh", "--bucket", "B1", "--net", "27 kg", "--moisture", "17.2")
    say("2026-07-12", "price", "--set", "one pound", "--declares", "1 lb", "--price", "12")
    lot = say("2026-07-14", "bottle", "--bucket", "B1", "--jar", "one pound=40").document["lot"]
    shared = ("--price", "one pound=8.40", "--address", "1 Made-up Row; Sampleton", "--because", "labels follow")
    for customer, jars in (("Corner shop", 12), ("Eckladen", 6)):
        say("2026-07-15", "deliver", "--customer", customer, "--jar", f"one pound={jars}", *shared)
    say("2026-07-15", "record", "customer", "Eckladen", "--email", "laden@example.org", "--language", "de")
    return say, lot


def test_a_recall_writes_a_message_to_each_customer_in_their_language_with_its_papers(recall):
    say, lot = recall
    answer = say("2026-07-20", "recall", "begin", lot, "--cause", "foreign-body", "--why", "a splinter", "--to", "out")
    first, second = (parsed(Path(f"out/letter-{n}.eml").read_bytes()) for n in (1, 2))
    assert first["From"].addresses[0].addr_spec == "hello@example.org"
    assert first["Subject"] == f"URGENT: FOOD RECALL: {lot}" and first["To"].addresses == ()
    assert "No e-mail address is known of Corner shop" in answer.text
    assert second["To"].addresses[0].addr_spec == "laden@example.org"
    assert (
        lot in second["Subject"]
        and second["Subject"].startswith("DRINGEND")
        and "20. Juli 2026" in second.get_body().get_content()
    )
    names = [part.get_filename() for part in second.iter_attachments()]
    assert names == ["letter-2.pdf", "shop-notice.pdf"]
    assert all(part.get_content().startswith(b"%PDF") for part in second.iter_attachments())
    assert {"out/letter-1.eml", "out/letter-2.eml"} <= {name.replace("\\", "/") for name in answer.document["files"]}


def test_an_exercise_is_called_one_in_the_subject(recall):
    from labelkit.trace.notices import Notice

    exercise = Notice("letter-1", "EXERCISE ONLY · Letter to Corner shop", (("#", "FOOD RECALL"),), ())
    assert exercise.heading == "EXERCISE ONLY · FOOD RECALL"

"""Letters as messages that are ready to send (.eml): RFC 5322, written with Python's own e-mail package.

labelkit sends nothing. Whoever opens the file in their mail program reads it once more and sends it from there. An
address that is missing leaves an empty group, which RFC 6854 allows in From as RFC 5322 does in To (from memory).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from email import policy
from email.headerregistry import Address, Group
from email.message import EmailMessage
from email.utils import format_datetime
from hashlib import sha256

_NOT_IN_A_LINE = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]+")


@dataclass(frozen=True, slots=True)
class Party:
    """Who a message is from or to; without an address the mail program asks for it."""

    name: str
    email: str = ""


@dataclass(frozen=True, slots=True)
class Mail:
    """A message: its text, and the papers that go with it by the name of their file (PDF)."""

    sender: Party
    to: Party
    subject: str
    text: str
    papers: Sequence[tuple[str, bytes]] = ()


def mail_file(mail: Mail, made: datetime) -> bytes:
    """The message as a file; the same mail of the same time gives the same bytes.

    >>> from datetime import UTC
    >>> sent = Mail(Party("Pretend Hollow Honey", "hello@example.org"), Party("Corner shop", "shop@example.org"), "Hello", "One jar.")
    >>> print(mail_file(sent, datetime(2026, 7, 14, 9, tzinfo=UTC)).decode().split("Content")[0].replace("\\r", ""))
    From: Pretend Hollow Honey <hello@example.org>
    To: Corner shop <shop@example.org>
    Subject: Hello
    Date: Tue, 14 Jul 2026 09:00:00 +0000
    X-Unsent: 1
    MIME-Version: 1.0
    <BLANKLINE>
    """
    message = EmailMessage(policy.SMTP)
    message["From"] = _party(mail.sender)
    message["To"] = _party(mail.to)
    message["Subject"] = _line(mail.subject)
    message["Date"] = format_datetime(made)
    message["X-Unsent"] = "1"  # some mail programs open such a file as a draft: common practice, no source
    message["MIME-Version"] = "1.0"
    message.set_content(mail.text, cte="quoted-printable")
    for name, content in mail.papers:
        message.add_attachment(content, maintype="application", subtype="pdf", filename=_line(name))
    if mail.papers:
        # Neither quoted-printable nor base64 ever holds "=_".
        message.set_boundary(f"=_{sha256(mail.text.encode()).hexdigest()[:32]}")
    return message.as_bytes()


def can_be_reached(email: str) -> bool:
    """Whether an address can stand in a message.

    >>> can_be_reached("shop@example.org"), can_be_reached("shop at example"), can_be_reached("")
    (True, False, False)
    """
    return _address("", email) is not None


def _party(party: Party) -> Address | Group:
    return _address(party.name, party.email) or Group(_line(party.name), ())


def _address(name: str, email: str) -> Address | None:
    user, at, domain = email.strip().rpartition("@")
    try:
        # A name of a domain in another script is written in letters that every server reads (IDNA).
        return Address(_line(name), addr_spec=f"{user}@{domain.encode('idna').decode()}") if at and user else None
    except (ValueError, IndexError):
        return None


def _line(text: str) -> str:
    """A text as one line of a header: nothing typed can begin another."""
    return _NOT_IN_A_LINE.sub(" ", text).strip()

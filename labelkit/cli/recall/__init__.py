"""``labelkit recall``: hold jars, call them back, and count until the last is found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._group import LazyGroup

if TYPE_CHECKING:
    from datetime import datetime

    from labelkit.cli._runner import CommandContext
    from labelkit.season.recall import Running
    from labelkit.trace.recall import JarCount

LANGUAGES = ("en", "de", "es", "fr", "pl", "uk")


ORDER = {
    "Before": ("look", "drill"),
    "Recall": ("begin", "status", "tell", "notices"),
    "Hold": ("hold", "release"),
}


@click.command(cls=LazyGroup, package="labelkit.cli.recall", order=ORDER)
def command() -> None:
    """Hold, recall and account for jars.

    Your food authority's word goes before labelkit's; check your local rules.

    Example:  labelkit recall look L26195AXR --cause foreign-body
    """


@dataclass(frozen=True, slots=True)
class Written:
    """The notices that were written: their languages and files, what must still be filled in, who must read them."""

    languages: list[str]
    files: list[str]
    missing: list[str]
    to_read: str
    no_address: list[str]

    @property
    def words(self) -> list[str]:
        """What is still to be done, a line each."""
        lines = [f"Still to be written in by hand: {', '.join(self.missing)}."] if self.missing else []
        lines += [self.to_read] if self.to_read else []
        if self.no_address:
            names = ", ".join(self.no_address)
            lines.append(
                f"No e-mail address is known of {names}: their messages (.eml) lack it; to note one: labelkit record customer NAME --email ADDRESS"
            )
        return lines


def list_to_call(customers, direct, locale: str) -> str:
    """Whom to call, with what they had; and where jars went without a name."""
    from labelkit.cli._show import table
    from labelkit.measures import show_first
    from labelkit.measures.locales import show_day

    rows = [
        (
            each.customer,
            each.phone or "–",
            ", ".join(part for part in (*each.address, each.email) if part != each.phone),
            str(each.count),
            ", ".join(
                [f"{count} × {size} {lot}" for lot, size, count in each.jars]
                + [f"{show_first(mass, locale)} in bulk {lot}" for lot, mass in each.bulk]
            ),
            ", ".join(show_day(day, locale, form="medium") for day in each.days),
            ", ".join(each.numbers),
        )
        for each in customers
    ]
    parts = (
        [table(("customer", "phone", "address", "jars", "which", "delivered", "note no."), rows, right=(3,))]
        if rows
        else []
    )
    signs = [
        (each.place, show_day(each.day, locale, form="medium"), str(each.count), each.size, each.lot) for each in direct
    ]
    if signs:
        parts.append(
            "Sold without a name (sign and notice):\n"
            + table(("where", "day", "jars", "size", "lot"), signs, right=(2,))
        )
    if unknown := [each.customer for each in customers if not each.phone]:
        parts.append(
            f"No telephone number is known of {', '.join(unknown)}; note one: labelkit record customer NAME --phone …"
        )
    return "\n\n".join(parts) or "Nobody was sold any of these jars."


def people(customers) -> list[dict[str, Any]]:
    """The customers of a call list as a document."""
    return [
        {
            "customer": c.customer,
            "phone": c.phone or None,
            "email": c.email or None,
            "address": list(c.address),
            "jars": c.count,
            "bulk": [{"bucket": bucket, "g": mass.g} for bucket, mass in c.bulk],
            "numbers": list(c.numbers),
        }
        for c in customers
    ]


def written_notices(one: Running, languages: tuple[str, ...], context: CommandContext, folder: str | None) -> Written:
    """The notices of a recall, written into a new folder where one is named; and what is still to be done to them."""
    from labelkit.paper.mail import can_be_reached
    from labelkit.season.recall import letters_to_send, notices_in
    from labelkit.trace.notices import to_be_read

    found = notices_in(one, languages, context.locale)
    letters = letters_to_send(one, found, context.locale) if folder else ()
    files = _write(folder, found, one.customers, letters, context.now) if folder else []
    every = [notice for _, notices in found for notice in notices]
    return Written(
        [lang for lang, _ in found],
        files,
        sorted({word for notice in every for word in notice.missing}),
        to_be_read(every) if files else "",
        [mail.to.name for _, mail in letters if not can_be_reached(mail.to.email)],
    )


def _write(folder: str, found: Any, customers: Any, letters: Any, now: datetime) -> list[str]:
    from labelkit.cli._files import new_folder, write_whole
    from labelkit.paper.mail import mail_file
    from labelkit.trace.papers import notice_paper
    from labelkit.trace.sheet import call_sheet

    into = new_folder(folder)
    files = [str(write_whole(into / "to-call.csv", call_sheet(customers), private=True))]
    for lang, notices in found:
        for notice in notices:
            name = notice.id if len(found) == 1 else f"{notice.id}.{lang}"
            files.append(str(write_whole(into / f"{name}.txt", notice.text, private=True)))
            files.append(str(write_whole(into / f"{name}.pdf", notice_paper(notice), private=True)))
    files += [str(write_whole(into / name, mail_file(mail, now), private=True)) for name, mail in letters]
    return files


def could_be_fetched(count: JarCount, locale: str) -> str:
    """How much of what was made and not destroyed somebody can lay hands on or call about."""
    from decimal import Decimal

    from labelkit.measures.locales import show_number
    from labelkit.measures.rounding import HALF_EVEN, plain, to_step

    share = Decimal(plain(to_step(count.reachable, Decimal("0.001"), HALF_EVEN)))
    return f"{show_number(share, locale)} % of those not destroyed could still be fetched"


def more_than_filled(count: JarCount) -> str:
    """What to do about jars that a count found and no run filled; nothing where there are none."""
    if not count.surplus:
        return ""
    return (
        f"\n{count.surplus} of them a count found beyond what was filled, so a run or a sale was booked wrong. Put it right: "
        "labelkit record correct N --jar SIZE=N --because WORDS"
    )

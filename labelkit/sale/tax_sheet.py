"""The season as one spreadsheet file for whoever does the taxes.

A name a spreadsheet would run as a formula gets an apostrophe in front; our own amounts stay numbers.
"""

from __future__ import annotations

import csv
from io import StringIO

from labelkit.measures.columns import harmless
from labelkit.measures.rounding import plain
from labelkit.sale.year_report import Year

HEADINGS = (
    "day",
    "what",
    "market",
    "customer",
    "lot",
    "size",
    "jars",
    "grams",
    "currency",
    "money",
    "of_it_tax",
    "cost_of_jars",
    "paid_on_account",
    "tax_in_payment",
    "remark",
)
NO_ADVICE = "This is a list of what was booked. It is no tax advice; what is income, when, and at which rate is for your adviser to say."


def tax_sheet(year: Year) -> str:
    """All entries of a result as CSV (RFC 4180). Tax is split out of what buyers paid as the season states it, else left empty."""
    out = StringIO()
    writer = csv.DictWriter(out, HEADINGS, restval="", lineterminator="\r\n")
    writer.writeheader()
    for e in year.entries:
        part = plain(tax.amount) if (tax := year.tax_of(e)) else ""
        writer.writerow(
            {
                "day": e.day.isoformat(),
                "what": e.what,
                "market": harmless(e.market),
                "customer": harmless(e.customer),
                "lot": harmless(e.lot),
                "size": harmless(e.size),
                "jars": e.count or "",
                "grams": plain(e.mass.g) if e.mass else "",
                "currency": e.money.currency,
                "money": f"{e.money.amount:f}",
                "of_it_tax": part,
                "cost_of_jars": f"{e.cost.amount:f}",
            }
        )
    for taxed in year.on_account:
        amount = taxed.part.amount
        writer.writerow(
            {
                "day": taxed.part.day.isoformat(),
                "what": "payment" if amount.minor > 0 else "refund",
                "customer": harmless(taxed.part.customer),
                "currency": amount.currency,
                "paid_on_account": f"{amount.amount:f}",
                "tax_in_payment": plain(taxed.tax.amount) if year.taxes.rates else "",
            }
        )
    writer.writerow({"what": "note", "remark": NO_ADVICE})
    return out.getvalue()

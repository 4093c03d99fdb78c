"""``labelkit lot-code``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.lots import LotCodeWrong
from labelkit.lots.code import lot_code, read_lot_code
from labelkit.measures import read_day


@click.command()
@click.option("--verify", metavar="CODE", help="Check a code as read from a jar.")
@click.option("--bottled", metavar="DATE", help="The day of bottling.")
@click.option(
    "--bucket",
    "buckets",
    metavar="ID",
    multiple=True,
    help="The bucket the jars were filled from; of a blend, each of them.",
)
@click.option("--taken", metavar="CODE", multiple=True, help="A code already in use (may be repeated).")
@answering
def command(
    context: CommandContext, verify: str | None, bottled: str | None, buckets: tuple[str, ...], taken: tuple[str, ...]
) -> Answer:
    """Make a lot code, or check one.

    \b
    Example:  labelkit lot-code --bottled 2026-07-20 --bucket B1
              labelkit lot-code --verify L26201AXN
    """
    if verify is not None:
        return _verified(verify, context)
    # The order in which the buckets of a blend are named makes no other lot of it.
    bucket = " + ".join(sorted({name.strip() for name in buckets}))
    if not bottled or not bucket:
        raise UsageUnclear(
            "lot-code needs either --verify CODE, or both --bottled DATE and --bucket ID.", "labelkit lot-code --help"
        )
    code = lot_code(read_day(bottled, context.locale), bucket, taken)
    return Answer(
        {"valid": True, "code": code.code, "bottled": code.bottled},
        f"{code.code}   (bottled {code.bottled:%Y-%m-%d}, bucket {bucket})",
    )


def _verified(typed: str, context: CommandContext) -> Answer:
    try:
        code = read_lot_code(typed, near=_codes_in_record(context))
    except LotCodeWrong as wrong:
        document = {"valid": False, "code": typed.strip(), "bottled": None, "what": wrong.what, "do": wrong.do}
        return Answer(document, str(wrong), exit_code=1)
    return Answer(
        {"valid": True, "code": code.code, "bottled": code.bottled},
        f"{code.code} is a valid lot code: bottled {code.bottled:%Y-%m-%d}.",
    )


def _codes_in_record(context: CommandContext) -> tuple[str, ...]:
    if not context.record:
        return ()
    from labelkit.record import open_record

    with open_record(context.record) as book:
        return tuple(book.lot_codes())

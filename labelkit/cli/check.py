"""``labelkit check``."""

from __future__ import annotations

import click

from labelkit.cli._rim import Answer, Desk, answering


@click.command()
@click.argument("file", metavar="LABEL.toml")
@click.option(
    "--market",
    "-m",
    "markets",
    multiple=True,
    metavar="M",
    help="Check for this market instead of those the file names; as often as needed.",
)
@answering
def command(desk: Desk, file: str, markets: tuple[str, ...]) -> Answer:
    """Hold a whole label against the law of each market it is sold in.

    The file says what the label says (name, weight, lines, maker …), on which jar, and in which situation it is sold.
    What must be fixed comes first, then what to ask, then what is good to know, and last what was not checked and whom
    to call about it. Exit code 1 when something must be fixed.

    \b
    Example:  labelkit check my-label.toml
              labelkit check my-label.toml --market us-ca --json
    """
    from labelkit.cli._files import read_text
    from labelkit.rules import market
    from labelkit.rules.checking import check
    from labelkit.rules.label_file import read_label
    from labelkit.rules.report import report

    label = read_label(read_text(file), file, markets)
    checked = check(label, [market(name, desk.day) for name in label.markets])
    document = {"findings": list(checked.findings), "not_covered": list(checked.not_covered)}
    return Answer(document, report(checked.findings, checked.not_covered), 1 if checked.stopped else 0)

"""``labelkit words``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.argument("text", required=False)
@click.option(
    "--market",
    "-m",
    "markets",
    multiple=True,
    required=True,
    metavar="M",
    help="Where it is sold, such as us-va; as often as needed.",
)
@click.option("--file", "file", metavar="FILE", help="Read the words from a text file instead.")
@answering
def command(context: CommandContext, text: str | None, markets: tuple[str, ...], file: str | None) -> Answer:
    """Check wording against the rules.

    The words may be those of a label, a sign or a web page.

    Looks for claims sentence by sentence: illnesses, nutrients, organic, raw, pure, local, grades, official marks,
    flowers and places, sugar, gluten, and words that puff up the weight. Exit code 1 when something must be fixed.

    \b
    Example:  labelkit words "Raw clover honey, a sweet treat" --market us
              labelkit words --file website.txt --market eu-de --json
    """
    from labelkit.cli._files import read_text
    from labelkit.errors.cli import UsageUnclear
    from labelkit.rules import market
    from labelkit.rules.report import report
    from labelkit.rules.wording import gravest_first, words

    if (text is None) == (file is None):
        raise UsageUnclear("Give either the words or a file with them.", "labelkit words --help")
    wording = read_text(file) if file else text or ""
    found = dict.fromkeys(f for name in markets for f in words(wording, market(name, context.day)))
    findings = gravest_first(found)
    stopped = any(finding.level == "stop" for finding in findings)
    return Answer({"findings": list(findings)}, report(findings), 1 if stopped else 0)

"""``labelkit record epcis``."""

from __future__ import annotations

import json

import click

from labelkit.cli._options import JAR_NUMBER
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--to", "file", metavar="FILE", required=True, help="The file to write.")
@click.option(
    "--web", metavar="ADDRESS", help="Your own web address, which names lots and places (else the setting “web”)."
)
@click.option("--gtin", "gtins", type=JAR_NUMBER, multiple=True, help="The GTIN of a jar size, where it has one.")
@answering
def command(context: CommandContext, file: str, web: str | None, gtins: tuple[tuple[str, str], ...]) -> Answer:
    """Export EPCIS 2.0 events.

    ISO/IEC 19987, for partners whose systems read that.

    Example:  labelkit record epcis --to season.jsonld --web https://hazelbank.example
    """
    from labelkit.barcodes.gs1 import checked
    from labelkit.cli._files import write_whole
    from labelkit.errors.cli import UsageUnclear
    from labelkit.trace.epcis import Names, epcis_document

    with context.reading() as state:
        web = web or state.settings().get("web")
        if not web or "://" not in web:
            raise UsageUnclear(
                "EPCIS names every lot by a web address; give your own with --web https://….",
                "labelkit record epcis --help",
            )
        numbers = {size: checked(number) for size, number in gtins}
        document = epcis_document(state.events(), Names(web, numbers), context.now)
    written = write_whole(file, json.dumps(document, ensure_ascii=False, indent=2) + "\n", private=True)
    count = len(document["epcisBody"]["eventList"])
    return Answer({"file": str(written), "events": count}, f"{written}: {count} EPCIS events.")

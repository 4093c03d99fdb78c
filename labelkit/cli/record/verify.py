"""``labelkit record verify``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.season.progress import progress


@click.command()
@click.option("--seal", metavar="LINE", help="Also check against a seal printed earlier (number and letters).")
@answering
def command(context: CommandContext, seal: str | None) -> Answer:
    """Check the record for changes or gaps.

    Every event against its hash and the one before, and everything derived from it.

    Finds and locates any change, gap or change of order. Only a seal printed earlier shows that the end was cut off
    or that all of it was written anew.

    Example:  labelkit record verify --seal "1204 OO4L-GMJK-XRQQ-5AB7-SC2U-DJI3-Y2ZP-BEPR-7"
    """
    from labelkit.record.chain import read_seal
    from labelkit.record.verify import verify

    sealed = read_seal(seal) if seal else None
    with context.season(to_read=True) as season:
        verdict = verify(season.record, sealed, progress)
    document = {
        "record": season.record.where,
        "clean": verdict.clean,
        "events": verdict.events,
        "head": verdict.head,
        "seal": str(verdict.seal),
        "checked_against_seal": str(sealed) if sealed else None,
        "withheld": [{"number": number, "why": why} for number, why in verdict.withheld.items()],
        "faults": [{"event": f.seq or None, "sort": f.sort, "found": f.found} for f in verdict.faults],
    }
    if verdict.clean:
        against = f"\nIt holds what was sealed at event {sealed.seq}." if sealed else ""
        text = f"{season.record.where}: {verdict.events} events, each as it was booked.{against}\nSeal: {verdict.seal}"
        if verdict.withheld:
            said = "; ".join(f"{number} ({why})" for number, why in verdict.withheld.items())
            text += f"\nNames that are not here: number {said}."
        return Answer(document, text)
    lines = [f"{season.record.where}: {len(verdict.faults)} fault{'' if len(verdict.faults) == 1 else 's'} found.", ""]
    lines += [f"  {fault.found}" for fault in verdict.faults[:40]]
    lines += [f"  … and {len(verdict.faults) - 40} more"] if len(verdict.faults) > 40 else []
    lines += [
        "",
        "  Why: A trace through a changed record could miss jars.",
        "  Do:  Keep this file as it is, and bring back the last copy: labelkit record restore …",
    ]
    return Answer(document, "\n".join(lines), exit_code=3)

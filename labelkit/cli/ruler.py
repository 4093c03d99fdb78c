"""``labelkit ruler``."""

from __future__ import annotations

import click

from labelkit.cli._rim import Answer, Desk, answering


@click.command()
@click.option("--page", type=click.Choice(["letter", "a4"]), default="letter", show_default=True, help="The paper.")
@click.option("--out", metavar="FILE", default="ruler.pdf", show_default=True, help="The page to print.")
@click.option(
    "--measured", metavar="LENGTHS", help="The four lengths read off the printed page, like “150.2, 199.8, 33.4, 39.9”."
)
@answering
def command(desk: Desk, page: str, out: str, measured: str | None) -> Answer:
    """Print a page that shows how far a printer is off; then turn what you measured into options for labels.

    \b
    Example:  labelkit ruler --page a4 --out ruler.pdf
              labelkit ruler --page a4 --measured "150.2, 199.8, 30.4, 48.3"
    """
    if measured is None:
        from labelkit.cli._files import write_whole
        from labelkit.labels.ruler import ruler_page

        write_whole(out, ruler_page(page))
        return Answer(
            {"file": out}, f"{out}: print it at 100 %, measure, and type:  labelkit ruler --page {page} --measured “…”"
        )
    return _correction(desk, page, measured)


def _correction(desk: Desk, page: str, measured: str) -> Answer:
    from labelkit.errors.cli import UsageUnclear
    from labelkit.labels.ruler import corrected
    from labelkit.measures import Length
    from labelkit.measures.locales import read_number

    parts = [
        part.replace("mm", "").strip() for part in measured.replace(";", ", ").split(", " if ", " in measured else ",")
    ]
    if len(parts) != 4:
        raise UsageUnclear(
            "Four lengths are needed: A to B, A to C, left edge to A, lower edge to A.", "labelkit ruler --help"
        )
    printer = corrected(page, *(Length.of_mm(read_number(part, desk.locale, text=part)) for part in parts))
    options = (
        f'--nudge-right "{printer.nudge_x / 1000:.2f} mm" --nudge-up "{printer.nudge_y / 1000:.2f} mm" '
        f"--scale-across {printer.scale_x} --scale-up {printer.scale_y}"
    )
    document = {
        "nudge_right_um": printer.nudge_x, "nudge_up_um": printer.nudge_y, "scale_across": printer.scale_x,
        "scale_up": printer.scale_y, "options": options,
    }  # fmt: skip
    return Answer(document, f"Add to your labels command:  {options}")

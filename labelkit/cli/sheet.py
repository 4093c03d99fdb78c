"""``labelkit sheet``."""

from __future__ import annotations

import click

from labelkit.cli._runner import Answer, CommandContext, answering
from labelkit.cli._said import late_option


@click.command()
@click.option("--page", type=click.Choice(["letter", "a4"]), required=True, help="The paper.")
@click.option("--across", type=click.IntRange(1, 20), required=True, help="Labels side by side.")
@click.option("--down", type=click.IntRange(1, 40), required=True, help="Labels one below the other.")
@click.option("--wide", metavar="LENGTH", required=True, help="Width of one label.")
@click.option("--high", metavar="LENGTH", required=True, help="Height of one label.")
@click.option("--left", metavar="LENGTH", required=True, help="From the paper's left edge to the first label.")
@click.option("--top", metavar="LENGTH", required=True, help="From the paper's upper edge to the first label.")
@click.option("--step-right", metavar="LENGTH", help="From one label's left edge to the next one's.")
@click.option("--step-down", metavar="LENGTH", help="From one label's upper edge to that of the one below.")
@click.option("--shape", type=click.Choice(["rectangle", "round", "oval"]), default="rectangle", show_default=True)
@click.option("--corner", metavar="LENGTH", help="Radius of round corners.")
@click.option("--name", metavar="NAME", help="What to call it; otherwise after its geometry.")
@click.option("--out", metavar="FILE", help="Write it there, for labels --sheet-file.")
@click.option("--keep", metavar="NAME", help="Keep it in the record, for labels --sheet NAME.")
@late_option
@answering
def command(
    context: CommandContext, page: str, across: int, down: int, out: str | None, keep: str | None, **lengths
) -> Answer:
    """Describe a label sheet by its measurements.

    Measure it with a ruler; then labels can be printed on it.

    \b
    Example:  labelkit sheet --page a4 --across 2 --down 4 --wide "95 mm" --high "62 mm" --left "8 mm" --top "20 mm"
                  --step-right "99 mm" --step-down "66 mm" --keep "my ovals"
    """
    from labelkit.labels.sheets import as_toml, named_by_geometry, own_sheet
    from labelkit.measures import Length

    def read(key: str, otherwise: str | None = None) -> Length:
        return Length.read(lengths[key] or lengths[otherwise or key], context.locale)

    made = own_sheet(
        lengths["name"] or "mine",
        page,
        across,
        down,
        (read("wide"), read("high")),
        (read("left"), read("top")),
        (read("step_right", "wide"), read("step_down", "high")),
        lengths["shape"],
        read("corner") if lengths["corner"] else None,
    )
    if not lengths["name"]:
        made = named_by_geometry(made)
    text = as_toml(made)
    if out:
        from labelkit.cli._files import write_whole

        write_whole(out, text)
    if keep:
        from labelkit.season import label_paper

        _must_be_free(keep)
        with context.work() as work:
            label_paper.keep(work, label_paper.SHEETS, keep, text, context.day)
    document = {
        "name": made.name,
        "labels": made.count,
        "right_margin_um": made.right,
        "lower_margin_um": made.bottom,
        "toml": text,
        "kept": keep,
    }
    told = (
        f"{made.name}: {made.count} labels. To the right of the last one {Length(made.right).show(context.locale)} of paper "
        f"are left, below it {Length(made.bottom).show(context.locale)}; measure whether that is so."
    )
    told += f"\n\nKept. From now on:  labelkit labels … --sheet “{keep}”" if keep else ""
    return Answer(document, f"{told}\n\n{text}")


def _must_be_free(name: str) -> None:
    """Refuse a name of the catalogue for a sheet of one's own: nobody would know which is meant."""
    from labelkit.errors.cli import UsageUnclear
    from labelkit.errors.labels import SheetUnknown
    from labelkit.labels.sheets import sheet

    try:
        sheet(name.strip())
    except SheetUnknown:
        return
    raise UsageUnclear(f"{name} is a sheet of the catalogue; keep yours under another name.", "labelkit sheet --help")

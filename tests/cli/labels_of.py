"""What the label tests share: a label file, a season with two lots, and a reader of what was printed."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from tests.cli.conftest import played
from tests.contract.labels import CONTRACT, changed, text_of

#: The contract's own label without its free lines, so that a front of the usual size holds all of it.
LABEL = changed(CONTRACT, {"net_statement": None, "lines": []})
LOTS = ("L26201AXN", "L26202VKV")


def label_file(folder: Path, change: dict | None = None, name: str = "label.toml") -> str:
    (folder / name).write_text(text_of(changed(LABEL, change or {})), encoding="utf-8")
    return name


def season(labelkit, boxes: str = "one pound=14") -> None:
    """Two buckets, two lots: 31 jars of one pound, then 14 of them and 20 half pounds."""
    played(f"two lots, {boxes}", lambda: _season(labelkit, boxes))


def _season(labelkit, boxes: str) -> None:
    day = lambda number, *line: labelkit("--day", f"2026-07-{number}", *line)  # noqa: E731
    done = [
        day(
            12,
            "start",
            "--market",
            "us",
            "--market",
            "us-va",
            "--name",
            "Pretend Hollow Honey",
            "--street",
            "12 Sample Lane",
            "--city",
            "Pretend Hollow",
            "--region",
            "VA",
            "--postcode",
            "00000",
        ),
        day(
            12,
            "weigh",
            "--bucket",
            "B1",
            "--gross",
            "41 lb 3 oz",
            "--tare",
            "2 lb 7 oz",
            "--moisture",
            "17.4",
            "--yard",
            "Mill meadow: H1, H2",
            "--yard",
            "Hill orchard: H7",
            "--plant",
            "clover",
        ),
        day(13, "weigh", "--bucket", "B2", "--net", "30 lb"),
        day(13, "price", "--set", "one pound", "--declares", "1 lb", "--price", "12.00", "--cost", "1.35"),
        day(13, "price", "--set", "half pound", "--declares", "8 oz", "--price", "7.00", "--cost", "1.05"),
        day(20, "bottle", "--bucket", "B1", "--jar", "one pound=31"),
        day(21, "bottle", "--bucket", "B2", "--jar", boxes, "--jar", "half pound=20"),
        day(
            21,
            "label-words",
            "--name",
            "Clover Honey",
            "--origin",
            "US",
            "--best-before",
            "2028-07",
            "--jar",
            "one pound=3 in x 3.2 in",
            "--fact",
            "home_kitchen=yes",
            "--fact",
            "own_hives=yes",
            "--fact",
            "gallons_per_year=90",
        ),
    ]
    assert [one.code for one in done] == [0] * len(done), [one.err for one in done if one.code]


def pages(file: str | Path) -> list[str]:
    """The text of each page, by a reader that is not ours."""
    import pypdfium2

    document = pypdfium2.PdfDocument(Path(file).read_bytes())
    return [page.get_textpage().get_text_bounded() for page in document]


def text_in(file: str | Path) -> str:
    return "\n".join(pages(file))


def codes_in(file: str | Path, page: int = 0, dpi: int = 400) -> Counter:
    """Every code a scanner finds on a page, as (format, text)."""
    import pypdfium2
    import zxingcpp

    document = pypdfium2.PdfDocument(Path(file).read_bytes())
    picture = document[page].render(scale=dpi / 72, grayscale=True).to_pil()
    return Counter((found.format.name, found.text) for found in zxingcpp.read_barcodes(picture))


def prints(record: str | Path = "season.labelkit") -> list:
    """The prints in the record, as events."""
    from labelkit.record import open_record

    with open_record(str(record), to_read=True) as book:
        return [booked.event for booked in book.events(("print",)) if booked.stands]

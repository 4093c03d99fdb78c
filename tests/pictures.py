"""The README's pictures, made anew from the demonstration and from the page itself:  python -m tests.pictures"""

from __future__ import annotations

import shutil
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path

from labelkit.cli._runner import answer_to, run
from labelkit.page.samples import SAMPLE_DAY, Sample, book_sample
from labelkit.page.serve import Server
from labelkit.paper.preview import preview_png
from labelkit.record import open_record
from labelkit.season.context import SeasonContext

PICTURES = Path(__file__).parent.parent / "sample_lots" / "pictures"
DPI = 84
MOST_BYTES = 200_000
DESK = {"viewport": {"width": 1280, "height": 800}}
PHONE = {"viewport": {"width": 360, "height": 740}, "is_mobile": True, "has_touch": True, "device_scale_factor": 2}
MARKET = "Imaginary Square market"
WEIGHTS = "&".join(f"w={grams}+g" for grams in (455, 456, "454.5", 453, "455.5", 456, 457, 451, 455, "454.5", 456))
# Each picture of the page: where it is taken, on what, and what is done before.
PAGES = {
    "page-season.png": ("", DESK),
    "page-plan.png": ("plan", DESK),
    "page-label.png": ("labels?lot={lot}&size=one+pound", DESK),
    "page-filling.png": (f"filling/weigh?size=one+pound&count=56&{WEIGHTS}", DESK),
    "page-trace.png": ("trace?code={lot}", DESK),
    "page-recall.png": ("recall/scope?code={lot}&cause=foreign-body", DESK),
    "phone-season.png": ("", PHONE),
    "phone-weigh.png": ("weigh?bucket=B4&gross=43+lb+2+oz&tare=2+lb+7+oz&moisture=17.6", PHONE),
    "phone-market.png": ("stall", PHONE),
}

# Where what matters lies further down the page: what stands at the top of the picture.
SCROLLED = {"page-trace.png": "main h2"}


def pictures() -> dict[str, bytes]:
    """Each picture by its name."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "demo"
        if run(["demo", str(out)]):
            raise SystemExit("the demonstration did not run")
        sheet = next(out.glob("labels-*-one-pound.pdf"))
        return {
            "plan.svg": (out / "plan.svg").read_bytes(),
            "sheet.png": small(preview_png(sheet.read_bytes(), 1, DPI)),
        }


@contextmanager
def sample_page() -> Iterator[tuple[str, str]]:
    """The page over the invented season with a market loaded: its address, and the lot bottled."""
    with tempfile.TemporaryDirectory() as folder:
        record = str(Path(folder) / "sample.labelkit")
        book_sample(record)
        at = Sample(None).clock
        load = [
            "stall",
            "load",
            "--place",
            MARKET,
            "--jar",
            "one pound=8",
            "--jar",
            "twelve ounce=4",
            "--change",
            "60",
            "--book",
        ]
        answer_to(["--record", record, "--day", SAMPLE_DAY.isoformat(), *load], clock=at, who="Robin at Pretend Hollow")
        with open_record(record, to_read=True) as book:
            lot = next(each.event.lot for each in book.events(("run",)))
        server = Server(SeasonContext(record=record, day=SAMPLE_DAY, who="Robin at Pretend Hollow", clock=at), 0)
        serving = threading.Thread(target=server.run, daemon=True)
        serving.start()
        yield server.address, lot
        server.close()
        serving.join(10)


def page_pictures() -> dict[str, bytes]:
    """The page as a browser shows it; nothing where there is no browser on this machine."""
    chromium = shutil.which("chromium") or shutil.which("google-chrome")
    if not chromium:
        return {}
    from playwright.sync_api import sync_playwright

    found = {}
    with sample_page() as (address, lot), sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        for name, (path, kind) in PAGES.items():
            context = browser.new_context(color_scheme="light", **kind)
            tab = context.new_page()
            tab.goto(address + path.format(lot=lot), wait_until="networkidle")
            tab.evaluate("document.activeElement.blur()")
            if name in SCROLLED:
                tab.evaluate(f"document.querySelector('{SCROLLED[name]}').scrollIntoView()")
            found[name] = small(tab.screenshot())
            context.close()
        browser.close()
    return found


def small(png: bytes) -> bytes:
    """The same picture in as many colours as it needs, none more than 256."""
    from PIL import Image

    out = BytesIO()
    Image.open(BytesIO(png)).convert("RGB").quantize(256, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    if len(out.getvalue()) > MOST_BYTES:
        raise SystemExit(f"a picture of {len(out.getvalue())} bytes is too large for the project")
    return out.getvalue()


if __name__ == "__main__":
    PICTURES.mkdir(exist_ok=True)
    for name, content in {**pictures(), **page_pictures()}.items():
        (PICTURES / name).write_bytes(content)
        print(f"{name:<20}{len(content):>8} bytes")

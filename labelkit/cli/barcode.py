"""``labelkit barcode``."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from labelkit.barcodes.linear import Barcode
    from labelkit.barcodes.matrix import MatrixCode

HELP = "labelkit barcode --help"
SHAPES = ("till", "code128", "gs1-128", "qr", "datamatrix")


@click.command()
@click.option("--number", metavar="DIGITS", help="A whole GS1 number: 8, 12 or 13 digits of a jar, 14 of a case.")
@click.option("--own-till", metavar="ARTICLE", help="Your own article number, for your own till only.")
@click.option("--lot", metavar="CODE", help="The lot code, by itself or beside --number.")
@click.option("--link", metavar="URL", help="A link; with --number your own site for a GS1 Digital Link.")
@click.option("--text", metavar="WORDS", help="Any other text.")
@click.option(
    "--as",
    "shape",
    type=click.Choice(SHAPES),
    help="Which symbol; unless given: a number is for the till, number and lot gs1-128, a lot code128, the rest qr.",
)
@click.option(
    "--level",
    type=click.Choice(list("LMQH")),
    default="M",
    show_default=True,
    help="How much damage a QR Code bears: about 7, 15, 25 or 30 per cent.",
)
@click.option("--module", metavar="LENGTH", help="Width of the narrowest bar or square; as usual unless given.")
@click.option("--high", metavar="LENGTH", help="Height of the bars; as usual unless given.")
@click.option("--jar-diameter", metavar="LENGTH", help="A round jar: the bars become as narrow as its curve asks.")
@click.option(
    "--dpi", type=click.IntRange(150, 2400), default=600, show_default=True, help="Dots per inch of the printer."
)
@click.option("--out", metavar="FILE.pdf", default="barcode.pdf", show_default=True, help="Where it goes.")
@click.option("--picture", metavar="FILE.png", help="Also a picture of it.")
@answering
def command(
    context: CommandContext, level: str, dpi: int, out: str, picture: str | None, **asked: str | None
) -> Answer:
    """Make one barcode or QR Code.

    For a print shop, or for artwork of your own.

    \b
    Example:  labelkit barcode --number 9521234543213 --jar-diameter "66 mm" --out jar.pdf
              labelkit barcode --number 9521234543213 --lot L26201AXN --as qr --link https://honey.example
              labelkit barcode --lot L26201AXN --as datamatrix
    """
    from labelkit.barcodes.linear import Barcode
    from labelkit.cli._files import write_whole
    from labelkit.labels.single_symbol import draw_symbol, module_for, pdf_of
    from labelkit.measures import Length
    from labelkit.paper.preview import preview_png

    module_wish, high, diameter = (
        Length.read(wished, context.locale) if (wished := asked[name]) else None
        for name in ("module", "high", "jar_diameter")
    )
    symbol = _symbol(asked, level)
    module = module_for(symbol, dpi, module_wish, diameter)
    alone = draw_symbol(symbol, module, high)
    pdf = pdf_of(alone, f"{_name(symbol)} {symbol.text}", dpi)
    write_whole(out, pdf)
    if picture:
        write_whole(picture, preview_png(pdf, 1, dpi))
    notes = list(_notes(symbol, module, module_wish, high, diameter, asked))
    document = {
        "file": out,
        "symbol": _name(symbol),
        "says": symbol.text,
        "module_mm": module.mm,
        "dots": module.dots,
        "dpi": dpi,
        "width_mm": Length(alone.wide).mm,
        "height_mm": Length(alone.high).mm,
        "quiet_modules": list(symbol.kind.quiet) if isinstance(symbol, Barcode) else [symbol.quiet] * 2,
        "notes": notes,
    }
    head = (
        f"{_name(symbol)} of {symbol.text}, in {out}: {alone.wide / 1000:.1f} × {alone.high / 1000:.1f} mm with its quiet zones; "
        f"the narrowest is {module.mm} mm, {module.dots} whole dots at {dpi} dpi."
    )
    return Answer(document, "\n".join([head, *notes]))


def _symbol(asked: dict[str, str | None], level: str) -> Barcode | MatrixCode:
    """The symbol for what was typed."""
    from labelkit.barcodes.gs1 import checked
    from labelkit.barcodes.linear import code128, for_number, gs1_128
    from labelkit.barcodes.matrix import data_matrix, digital_link, gs1_data_matrix, qr
    from labelkit.cli._codes import till_number
    from labelkit.errors.cli import UsageUnclear
    from labelkit.season.lot_link import must_be_gs1

    number, lot, shape = asked["number"], asked["lot"], asked["shape"]
    if asked["own_till"]:
        if lot or asked["link"] or asked["text"] or shape not in (None, "till"):
            raise UsageUnclear("A number of your own till stands by itself, as bars for that till.", HELP)
        return for_number(till_number(number, asked["own_till"]) or "")
    if number:
        if asked["text"]:
            raise UsageUnclear("--text and --number are two symbols; print one after the other.", HELP)
        bare = checked(number)
        shape = shape or ("qr" if asked["link"] else "gs1-128" if lot or len(bare) == 14 else "till")
        if shape == "till":
            if lot:
                raise UsageUnclear(
                    "A till symbol holds the number alone; --as gs1-128, qr or datamatrix holds the lot too.", HELP
                )
            return for_number(bare)
        must_be_gs1(bare, f"a symbol others read ({shape})")
        if shape == "qr":
            return qr(digital_link(bare, lot, asked["link"] or "https://id.gs1.org"), level)
        if shape == "code128":
            raise UsageUnclear("A GS1 number in bars is --as till (a jar) or --as gs1-128 (a case).", HELP)
        elements = (("01", bare.zfill(14)), *((("10", lot),) if lot else ()))
        return gs1_128(elements) if shape == "gs1-128" else gs1_data_matrix(elements)
    said = [text for text in (lot, asked["link"], asked["text"]) if text]
    if len(said) != 1:
        raise UsageUnclear(
            "Say what the symbol is to hold: --number, --own-till, --lot, --link or --text, one of them.", HELP
        )
    shape = shape or ("code128" if lot else "qr")
    if shape not in ("code128", "qr", "datamatrix"):
        raise UsageUnclear(f"--as {shape} is made of a GS1 number: give --number.", HELP)
    if shape == "code128":
        return code128(said[0])
    return qr(said[0], level) if shape == "qr" else data_matrix(said[0])


def _name(symbol: Barcode | MatrixCode) -> str:
    return symbol.kind if isinstance(symbol.kind, str) else symbol.kind.name


def _notes(symbol, module, wished, high, diameter, asked):
    from labelkit.barcodes.instore import CAUTION
    from labelkit.barcodes.linear import Barcode

    if asked["own_till"]:
        yield CAUTION
    if asked["module"] and abs(module.um(1000) - wished.um * 1000) > wished.um * 20:
        yield f"A module of {wished.mm} mm was asked for; the nearest one allowed, in whole dots, is {module.mm} mm."
    if isinstance(symbol, Barcode):
        usual, least = symbol.kind.usual_x, symbol.kind.least_height
        if diameter and not asked["module"] and module.um(1000) < usual.um * 990:
            yield f"On a jar of {diameter.mm} mm across the bars had to be narrower than the usual {usual.mm} mm."
        if high and high < least:
            yield f"The standard asks bars {least.mm} mm high; lower ones must be held just so to the scanner."
        yield f"Sizes after {symbol.kind.source}."
    yield "Place it at 100 %; a symbol made smaller or larger afterwards loses its whole dots."

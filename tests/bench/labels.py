"""How fast and how small labels are drawn, as ratios within one run. ``python -m tests.bench.labels [LABELS]``

Plain reportlab draws the same label the obvious way: the same embedded fonts, texts, rules and ornament, its own Code
128 and QR widgets, label by label. Two general PDF engines draw it too where they are installed (fpdf2, typst), with
the symbols' modules handed to them. Each is drawn three times: the middle one counts, and what lies between the slowest
and the fastest is told. Ratios are what counts; absolute figures are this machine's, this minute.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import time
from dataclasses import replace
from datetime import date, timedelta
from io import BytesIO

from labelkit.barcodes.linear import code128
from labelkit.barcodes.matrix import qr
from labelkit.labels.content import front_label_content
from labelkit.labels.design import NAMES, design
from labelkit.labels.layout.kinds import place
from labelkit.labels.outline import Outline
from labelkit.labels.printing import print_lots, print_sheet
from labelkit.labels.sheets import sheet
from labelkit.lots.code import lot_code
from labelkit.paper.marks import BarcodeMark, MatrixMark, Shape, Text
from labelkit.paper.pdf_operators import POINTS_PER_UM

#: Design, sheet, kind, till number: the front of every design, and a wrap that also carries an EAN-13.
CASES = (
    *((name, "letter-2x5-102x51", "front", None) for name in NAMES),
    ("meadow", "letter-1x5-203x51", "wrap", "9521234543213"),
)
LOOK, SHEET, KIND, NUMBER = next(case for case in CASES if case[0] == "ledger")


def link_of(lot: str) -> str:
    return f"HTTPS://EXAMPLE.COM/L/{lot}"


def lots(count: int) -> list[str]:
    """So many lot codes, all valid."""
    first = date(2026, 1, 1)
    return [lot_code(first + timedelta(days=n % 300), f"B{n // 300}").code for n in range(count)]


def content(lot: str):
    made = front_label_content(
        name="Wildflower Honey",
        statement="Net Wt 1 lb (453 g)",
        maker="Pretend Hollow",
        lot=lot,
        link=link_of(lot),
        address=["4 Pretend Lane", "Pretendton, VA 00000"],
        best_before="Best before 30 June 2028",
        lines=["Raw"],
        kind=KIND,
        number=NUMBER,
        caution="Do not feed honey to infants under one year of age.",
    )
    return replace(made, lot_bars="code128")


def placed_for(lot: str):
    which = sheet(SHEET)
    return place(content(lot), Outline(which.wide, which.high, which.shape, which.corner), design(LOOK))


def symbol_of(mark: BarcodeMark, lot: str):
    return mark.bars if mark.bars.kind.name == "EAN-13" else code128(lot)


def by_plain_reportlab(codes: list[str]) -> bytes:
    """Every label drawn whole, with reportlab's own widgets for the symbols."""
    from reportlab.graphics import renderPDF
    from reportlab.graphics.barcode import code128 as rl128
    from reportlab.graphics.barcode.eanbc import Ean13BarcodeWidget
    from reportlab.graphics.barcode.qr import QrCodeWidget
    from reportlab.graphics.shapes import Drawing
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    which, model = sheet(SHEET), placed_for(codes[0])
    for mark in model.marks:
        if isinstance(mark, Text) and mark.face.key not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(mark.face.key, BytesIO(mark.face.data)))
    out = BytesIO()
    canvas = Canvas(out, pagesize=(which.page_wide * POINTS_PER_UM, which.page_high * POINTS_PER_UM), pageCompression=1)
    for number, lot in enumerate(codes):
        if number and number % which.count == 0:
            canvas.showPage()
        box = which.place(number % which.count + 1)
        canvas.saveState()
        canvas.translate(box.left * POINTS_PER_UM, box.bottom * POINTS_PER_UM)
        for mark in model.marks:
            if isinstance(mark, Text):
                canvas.setFillColorRGB(*(part / 255 for part in mark.colour))
                canvas.setFont(mark.face.key, mark.size * POINTS_PER_UM)
                text = mark.text.replace(codes[0], lot)
                canvas.drawString(
                    mark.x * POINTS_PER_UM, mark.y * POINTS_PER_UM, text, charSpace=mark.tracking * POINTS_PER_UM
                )
            elif isinstance(mark, BarcodeMark):
                if mark.bars.kind.name == "EAN-13":
                    drawing = Drawing(mark.box.width * POINTS_PER_UM, mark.high * POINTS_PER_UM)
                    drawing.add(
                        Ean13BarcodeWidget(
                            mark.bars.text, barHeight=mark.high * POINTS_PER_UM, barWidth=mark.module.points(1)
                        )
                    )
                    renderPDF.draw(drawing, canvas, mark.box.left * POINTS_PER_UM, mark.y * POINTS_PER_UM)
                    continue
                bars = rl128.Code128(lot, barHeight=mark.high * POINTS_PER_UM, barWidth=mark.module.points(1))
                bars.drawOn(canvas, mark.box.left * POINTS_PER_UM, mark.y * POINTS_PER_UM)
            elif isinstance(mark, MatrixMark):
                side = mark.box.width * POINTS_PER_UM
                widget = QrCodeWidget(link_of(lot), barLevel="M", barWidth=side, barHeight=side)
                drawing = Drawing(side, side)
                drawing.add(widget)
                renderPDF.draw(drawing, canvas, mark.box.left * POINTS_PER_UM, mark.box.bottom * POINTS_PER_UM)
            elif isinstance(mark, Shape):
                path = canvas.beginPath()
                for step in mark.path:
                    values = [value * POINTS_PER_UM for value in step[1:]]
                    {"M": path.moveTo, "L": path.lineTo, "C": path.curveTo, "Z": path.close}[step[0]](*values)
                if mark.fill:
                    canvas.setFillColorRGB(*(part / 255 for part in mark.fill))
                if mark.stroke:
                    canvas.setStrokeColorRGB(*(part / 255 for part in mark.stroke))
                    canvas.setLineWidth(mark.width * POINTS_PER_UM)
                canvas.drawPath(path, stroke=int(mark.stroke is not None), fill=int(mark.fill is not None))
        canvas.restoreState()
    canvas.save()
    return out.getvalue()


def by_fpdf2(codes: list[str]) -> bytes:
    """fpdf2, the symbols as rectangles."""
    import tempfile

    from fpdf import FPDF

    which, model = sheet(SHEET), placed_for(codes[0])
    pdf = FPDF(unit="pt", format=(which.page_wide * POINTS_PER_UM, which.page_high * POINTS_PER_UM))
    known: dict[str, str] = {}
    for mark in model.marks:
        if isinstance(mark, Text) and mark.face.key not in known:
            with tempfile.NamedTemporaryFile(suffix=".ttf", delete=False) as file:
                file.write(mark.face.data)
            known[mark.face.key] = f"f{len(known)}"
            pdf.add_font(known[mark.face.key], fname=file.name)
    high = which.page_high
    for number, lot in enumerate(codes):
        if number % which.count == 0:
            pdf.add_page()
        box = which.place(number % which.count + 1)
        for mark in model.marks:
            if isinstance(mark, Text):
                pdf.set_font(known[mark.face.key], size=mark.size * POINTS_PER_UM)
                pdf.text(
                    (box.left + mark.x) * POINTS_PER_UM,
                    (high - box.bottom - mark.y) * POINTS_PER_UM,
                    mark.text.replace(codes[0], lot),
                )
            elif isinstance(mark, BarcodeMark):
                side = mark.module.points(1)
                left = (box.left + mark.x) * POINTS_PER_UM + 10 * side
                top = (high - box.bottom - mark.y - mark.high) * POINTS_PER_UM
                for first, wide in symbol_of(mark, lot).runs():
                    pdf.rect(left + first * side, top, wide * side, mark.high * POINTS_PER_UM, style="F")
            elif isinstance(mark, MatrixMark):
                side = mark.module.points(1)
                left = (box.left + mark.box.left) * POINTS_PER_UM + 4 * side
                top = (high - box.bottom - mark.box.top) * POINTS_PER_UM + 4 * side
                for row, modules in enumerate(qr(link_of(lot)).rows):
                    for position, dark in enumerate(modules):
                        if dark:
                            pdf.rect(left + position * side, top + row * side, side, side, style="F")
    return bytes(pdf.output())


def by_typst(codes: list[str]) -> bytes:
    """typst, the symbols as one SVG each."""
    import tempfile

    import typst

    which, model = sheet(SHEET), placed_for(codes[0])
    lines = [f"#set page(width: {which.page_wide / 1000}mm, height: {which.page_high / 1000}mm, margin: 0mm)"]
    for number, lot in enumerate(codes):
        if number and number % which.count == 0:
            lines.append("#pagebreak()")
        box = which.place(number % which.count + 1)
        for mark in model.marks:
            if isinstance(mark, Text):
                x, y = (box.left + mark.x) / 1000, (which.page_high - box.bottom - mark.y - mark.size) / 1000
                lines.append(
                    f'#place(dx: {x}mm, dy: {y}mm, text(size: {mark.size / 1000}mm, "{mark.text.replace(codes[0], lot)}"))'
                )
            elif isinstance(mark, BarcodeMark | MatrixMark):
                svg = _svg(symbol_of(mark, lot)) if isinstance(mark, BarcodeMark) else _svg(qr(link_of(lot)))
                x, y = (box.left + mark.box.left) / 1000, (which.page_high - box.bottom - mark.box.top) / 1000
                lines.append(
                    f'#place(dx: {x}mm, dy: {y}mm, image(bytes({svg!r}.replace("\'", "\\"")), width: {mark.box.width / 1000}mm))'.replace(
                        "'", '"', 0
                    )
                )
    with tempfile.NamedTemporaryFile("w", suffix=".typ", delete=False) as file:
        file.write("\n".join(lines).replace("bytes('", 'bytes("').replace("'.replace", '".replace'))
    return typst.compile(file.name)


def _svg(symbol) -> str:
    rows = (
        [symbol.modules] * 20
        if hasattr(symbol, "modules")
        else ["".join("1" if m else "0" for m in row) for row in symbol.rows]
    )
    path = "".join(f"M{x} {y}h1v1h-1z" for y, row in enumerate(rows) for x, m in enumerate(row) if m == "1")
    return f"<svg xmlns=`http://www.w3.org/2000/svg` viewBox=`0 0 {len(rows[0])} {len(rows)}`><path d=`{path}`/></svg>".replace(
        "`", "'"
    )


def timed(name: str, draw, count: int) -> tuple[float, float, float]:
    """Labels a second, slowest, middle and fastest of three; printed with bytes a label."""
    speeds = []
    for _ in range(3):
        qr.cache_clear()
        code128.cache_clear()
        start = time.process_time()
        pdf = draw()
        speeds.append(count / (time.process_time() - start))
    low, middle, high = sorted(speeds)
    print(
        f"  {name:<40}{middle:>10,.0f} labels/s ({low:,.0f} to {high:,.0f}) {len(pdf) / count:>8,.0f} bytes a label"
        f"   ({count:,} labels)"
    )
    return low, middle, high


def main(count: int) -> None:
    # First, while this process is small: a child's peak begins with what its parent held.
    print(f"{count:,} ledger labels in a process of their own, nothing loaded but labelkit: {alone(count)}\n")
    for case in CASES:
        compare(*case, count)
    encoder(count)
    print(f"Peak of this process {peak():.0f} MB, all engines loaded.")


def peak() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def alone(count: int) -> str:
    """The peak of a process that prints one run and nothing else."""
    command = [sys.executable, "-m", "tests.bench.labels", "alone", str(count)]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip()


def print_alone(count: int) -> None:
    codes = lots(count)
    pdf = print_lots(content(codes[0]), codes, SHEET, LOOK, link_of=link_of).pdf
    print(f"peak {peak():.0f} MB, {len(pdf) / count:.0f} bytes a label")


def encoder(count: int) -> None:
    """What the QR encoder alone could do: no run with codes of its own can be faster."""
    links = [link_of(lot) for lot in lots(count)]
    start = time.process_time()
    for link in links:
        qr.__wrapped__(link, "M")
    print(f"QR Codes alone: {count / (time.process_time() - start):,.0f} a second.")


def compare(look: str, sheet_name: str, kind: str, number: str | None, count: int) -> None:
    global LOOK, SHEET, KIND, NUMBER
    LOOK, SHEET, KIND, NUMBER = look, sheet_name, kind, number
    codes = lots(count)
    print_lots(content(codes[0]), codes[:20], SHEET, LOOK, link_of=link_of)  # fonts read, libraries loaded
    model = placed_for(codes[0])
    symbols = [type(mark).__name__ for mark in model.marks if isinstance(mark, BarcodeMark | MatrixMark)]
    shapes = len([mark for mark in model.marks if isinstance(mark, Shape)])
    print(
        f"{look}, {kind} on {SHEET}: {len([m for m in model.marks if isinstance(m, Text)])} lines, {shapes} shapes, {', '.join(symbols)}"
    )
    few = codes[: max(20, count // 100)]
    by_plain_reportlab(few[:2])
    low, plain, high = timed("plain reportlab", lambda: by_plain_reportlab(few), len(few))
    for name, draw in (("fpdf2", by_fpdf2), ("typst", by_typst)):
        try:
            timed(f"{name} (without the shapes)", lambda draw=draw: draw(few), len(few))
        except ImportError:
            print(f"  {name:<44}  not installed")
    each = [content(lot) for lot in few]
    _, single, _ = timed("labelkit, each label placed by itself", lambda: print_sheet(each, SHEET, LOOK).pdf, len(few))
    slowest, run, fastest = timed(
        "labelkit, a run with its own codes",
        lambda: print_lots(content(codes[0]), codes, SHEET, LOOK, link_of=link_of).pdf,
        count,
    )
    _, one, _ = timed("labelkit, one lot", lambda: print_sheet([(content(codes[0]), count)], SHEET, LOOK).pdf, count)
    print(
        f"  Against plain reportlab: single {single / plain:.1f}x, a run {run / plain:.0f}x "
        f"({slowest / high:.0f} to {fastest / low:.0f}), one lot {one / plain:.0f}x.\n"
    )


if __name__ == "__main__":
    if sys.argv[1:2] == ["alone"]:
        print_alone(int(sys.argv[2]))
    else:
        main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)

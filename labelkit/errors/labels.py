"""Refusals of the labels room: a number, a symbol, a sheet or a label that cannot be printed as asked."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from labelkit.errors import AskedAbout, Refused
from labelkit.errors.sentence import Figure, Sentence


class DigitsUnclear(Refused):
    """Something other than the data digits of a GS1 number."""

    def __init__(self, text: str, reason: str) -> None:
        super().__init__(
            what=Sentence("“{text}” is not the data part of a GS1 number: {reason}.", text=text, reason=reason),
            why="The check digit is calculated from the other digits. One digit too many or too few gives another number.",
            do=(
                "Leave out the check digit. Give 7 digits for EAN-8, 11 for UPC-A, 12 for EAN-13, 13 for GTIN-14, 16 for GSIN, 17 for SSCC."
            ),
        )


class CheckDigitWrong(Refused):
    """A whole GS1 number whose last digit does not fit the others."""

    def __init__(self, number: str, found: str, right: str) -> None:
        super().__init__(
            what=Sentence(
                "{number} ends in {found}, but the check digit of the other digits is {right}.",
                number=number,
                found=found,
                right=right,
            ),
            why="One digit is wrong, or two are swapped. A till would refuse the jar or sell it as something else.",
            do="Compare the number with the paper it was issued on. Do not just change the last digit.",
        )


class ModuleOutOfRange(Refused):
    """No whole number of printer dots gives a bar of a lawful width."""

    def __init__(self, what: str, wanted: str, least: str, most: str, dpi: int) -> None:
        super().__init__(
            what=Sentence(
                "{what}: no whole number of dots at {dpi} dpi makes a bar of {least} to {most} mm. You asked for {wanted} mm.",
                what=what,
                dpi=dpi,
                least=least,
                most=most,
                wanted=wanted,
            ),
            why="Bars that are not a whole number of printer dots print unevenly and may not scan.",
            do="Give the printer's true resolution with --dpi (300 and 600 always work), or allow a wider bar.",
        )


class CharactersNotEncodable(Refused):
    """A text that this kind of symbol cannot hold."""

    def __init__(self, text: str, kind: str, odd: list[str]) -> None:
        super().__init__(
            what=Sentence(
                "“{text}” cannot be encoded as {kind}: not allowed are {shown}.",
                text=text,
                kind=kind,
                shown=", ".join(f"“{sign}”" for sign in odd),
            )
            if odd
            else Sentence("“{text}” cannot be encoded as {kind}: it has the wrong length.", text=text, kind=kind),
            why="A scanner would read nothing, or something other than the text under the bars.",
            do="For a lot use letters A to Z, digits and simple characters. For a retail barcode give all its digits.",
        )


class BarsTooLong(Refused):
    """More than the symbol may hold."""

    def __init__(self, text: str, found: str, most: str) -> None:
        super().__init__(
            what=Sentence("{text} needs {found}. The symbol holds at most {most}.", text=text, found=found, most=most),
            why="Longer symbols break the standard (GS1 General Specifications 5.4.4). Handheld scanners cannot read them.",
            do="Leave out what the carrier does not need, or print two symbols one above the other.",
        )


class TooWideForJar(Refused):
    """Upright bars that bend too far round the jar."""

    def __init__(self, kind: str, field: str, diameter: str, widest: str, module: str) -> None:
        super().__init__(
            what=Sentence(
                "The {kind} barcode is {field} mm wide. Upright on a jar of {diameter} mm the maximum is {widest} mm.",
                kind=kind,
                field=field,
                diameter=diameter,
                widest=widest,
            ),
            why="Bars that run round more than a sixth of the jar turn away from the scanner at both ends.",
            do=Sentence(
                "Turn the bars by a quarter (like a ladder), use modules of at most {module} mm, or a shorter symbol.",
                module=module,
            ),
        )


class ElementRefused(Refused):
    """An application identifier or its value that GS1 data may not hold."""

    def __init__(self, ai: str, value: str, reason: str) -> None:
        super().__init__(
            what=Sentence("({ai}){value}: {reason}.", ai=ai, value=value, reason=reason),
            why="The receiver files the case under these identifiers. A wrong one goes into their records unnoticed.",
            do="Put the GTIN first, dates as YYMMDD and the lot last. A lot has at most 20 letters, digits and simple characters.",
        )


class MatrixCodeRefused(Refused):
    """A text too long or unfit for a QR Code or Data Matrix on a jar."""

    def __init__(self, kind: str, text: str, reason: str) -> None:
        shown = text if len(text) <= 60 else text[:57] + "…"
        super().__init__(
            what=Sentence(
                "“{shown}” cannot be printed as a {kind} on a label: {reason}.", shown=shown, kind=kind, reason=reason
            ),
            why="The more a 2D code holds, the smaller its squares, until a phone cannot read them.",
            do="Use a short link that ends in the lot code. Put the rest on the page behind it.",
        )


class FontRefused(Refused):
    """A font file that cannot be printed from."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=Sentence("The font {name} cannot be used: {reason}.", name=name, reason=reason),
            why="The label would print in another weight than it was measured in, or not at all.",
            do="Use a static TrueType font (.ttf) that may be embedded, one file for each weight.",
        )


class GlyphsMissing(Refused):
    """Signs that no typeface at hand can print."""

    def __init__(self, text: str, missing: list[str]) -> None:
        shown = ", ".join(f"“{sign}” (U+{ord(sign):04X})" for sign in missing[:8])
        super().__init__(
            what=Sentence("“{text}” cannot be printed: no font has the character {shown}.", text=text, shown=shown),
            why="A missing character prints as an empty box. A required text with a box in it does not count.",
            do="Write it with letters, or give your own TrueType font that has these characters.",
        )


class SheetUnknown(Refused):
    """A sheet that is not in the catalogue."""

    def __init__(self, name: str, known: list[str]) -> None:
        super().__init__(
            what=Sentence("There is no label sheet “{name}”.", name=name),
            why="Labels printed for another sheet run across the cuts.",
            do=Sentence(
                "Choose one of {known}. For a roll write roll-102x76 or roll-62. To describe your own sheet: labelkit sheet",
                known=", ".join(known),
            ),
        )


class PrinterUnknown(Refused):
    """A printer whose correction nobody kept."""

    def __init__(self, name: str, known: list[str]) -> None:
        super().__init__(
            what=Sentence("The record has no printer “{name}”. It has: {known}.", name=name, known=", ".join(known))
            if known
            else Sentence("The record has no printer “{name}”.", name=name),
            why="Without its offset the labels may print a millimetre off their cuts.",
            do=Sentence(
                'Print the calibration page (labelkit ruler), measure it, and save the result: labelkit ruler --measured "1=100.2" --keep "{name}"',
                name=name,
            ),
        )


class LookUnknown(Refused):
    """A look nobody kept."""

    field = "look"

    def __init__(self, name: str, known: list[str]) -> None:
        super().__init__(
            what=Sentence("The record has no design “{name}”. It has: {known}.", name=name, known=", ".join(known))
            if known
            else Sentence("The record has no design “{name}”.", name=name),
            why="Labels in the wrong design would have to be printed again. Nothing was saved.",
            do=Sentence(
                'To list the designs: labelkit labels --list. To save one: labelkit labels --design meadow --keep-look "{name}"',
                name=name,
            ),
        )


class LookUnnamed(Refused):
    """A look without a name."""

    field = "name"

    def __init__(self) -> None:
        super().__init__(
            what="This design has no name.",
            why="You find a design again by its name. Nothing was saved.",
            do="Give it a short name, for example the stall or the shop it is for.",
        )


class KeptFileTooLarge(Refused):
    """A logo, a font or a scanned paper too large to be kept in the record."""

    field = "file"

    def __init__(self, name: str, size: Figure, most: Figure) -> None:
        super().__init__(
            what=Sentence("{name} has {size} bytes. The record keeps at most {most}.", name=name, size=size, most=most),
            why="Every copy of the record would be large and slow. Nothing was saved.",
            do="Make the file smaller: scan it in black and white or with fewer dots, or save the picture smaller.",
        )


class NothingInTheBucket(Refused):
    """A tag for a bucket that holds nothing."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=Sentence("Bucket {bucket} is empty, so its tag would be wrong.", bucket=bucket),
            why="An old tag on an empty bucket can mislabel the next honey in it.",
            do="Weigh in the next honey as a new bucket, then print its tag.",
        )


class LotsUnclear(Refused):
    """A list of lots that cannot be read."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{where}: {reason}.", where=where, reason=reason),
            why="Every label shows its lot. A wrong lot leads a recall to the wrong jars.",
            do="Give lots as L26195AXR,L26201AXN, or a CSV file with a column “lot” and an optional column “count”.",
        )


class LabelsForNoJar(AskedAbout):
    """Far more labels than a lot has jars."""

    field = "count"

    def __init__(self, lot: str, count: Figure, jars: Figure) -> None:
        super().__init__(
            what=Sentence("{count} labels for lot {lot}, which has {jars} jars.", count=count, lot=lot, jars=jars),
            why="A spare label may end up on a jar of other honey, with a false lot code. Nothing was saved.",
            do="Give a smaller number. If this number is right, say why. The record keeps the reason.",
        )


class LabelStopped(AskedAbout):
    """Labels on which something must be fixed before they are printed, unless a person says why they may be."""

    def __init__(self, reasons: Iterable[str]) -> None:
        super().__init__(
            what=Sentence("These labels were not printed: {reasons}", reasons=" ".join(reasons)),
            why="A label that breaks the rules labelkit covers must not reach a jar. Nothing was saved.",
            do="Correct the label text or choose a larger label. If you must print as it is, say why. The record keeps the reason. Check your local rules.",
        )
        self.field = "because"


class LotKeepsWords(AskedAbout):
    """Labels that say of a lot something else than the labels it bears, unless a person says why."""

    def __init__(self, lots: Iterable[str], changed: Iterable[str]) -> None:
        super().__init__(
            what=Sentence(
                "These labels of {lots} differ from the labels already on the jars in: {changed}.",
                lots=", ".join(lots),
                changed=", ".join(changed),
            ),
            why="Jars of one lot with different labels mislead buyers and confuse a recall. Nothing was saved.",
            do="Print the lot's own text again, or say why it changes. The record keeps the reason.",
        )
        self.field = "because"


class WordsUntrue(Refused):
    """Labels that say of the honey what its own record denies."""

    def __init__(self, reasons: Iterable[str]) -> None:
        super().__init__(
            what=Sentence("These labels were not printed: {reasons}", reasons=" ".join(reasons)),
            why="A label that is not true of its honey misleads the buyer. Nothing was saved.",
            do='Change the label text. If the record is wrong, correct the delivery: labelkit record correct EVENT --because "REASON". Check your local rules.',
        )


class ProofNotBooked(Refused):
    """A proof somebody wants to book."""

    def __init__(self) -> None:
        super().__init__(
            what="A proof is not recorded.",
            why="A proof is marked as a proof so that it never goes on a jar. Nothing was saved.",
            do="Print the labels without the proof option.",
        )


class OwnTillOnly(Refused):
    """A number that holds at one's own till, asked for where others read it."""

    def __init__(self, number: str, what: str) -> None:
        super().__init__(
            what=Sentence("{number} is an in-store number and cannot be used in {what}.", number=number, what=what),
            why="GS1 keeps these numbers for use inside one company (General Specifications 2.1.13.2), not on the open market.",
            do="Use a number licensed to you by GS1, or leave the code out. The lot alone leads back to the record.",
        )


class NumberUnsaid(Refused):
    """A GS1 Digital Link of jars that have no number."""

    field = "number"

    def __init__(self) -> None:
        super().__init__(
            what="You gave no retail barcode number for the GS1 Digital Link.",
            why="The link contains the number and the lot. Without the number it leads nowhere.",
            do="Read the number from your GS1 papers and give --number DIGITS, or print without the link.",
        )


class SheetUnclear(Refused):
    """A description of a sheet that cannot be understood."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{where}: {reason}.", where=where, reason=reason),
            why="One wrong length moves every label of the sheet across its cuts.",
            do="Give name, page, across, down, label and first. Optional: gap, shape, corner, use. Write lengths like “63.5 mm”.",
        )


class SheetImpossible(Refused):
    """Labels that do not fit the paper."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=Sentence("Sheet {name} is not possible: {reason}.", name=name, reason=reason),
            why="The printer would cut off what lies beyond the paper.",
            do="Measure again: paper edge to first label, label size, and from one label's edge to the same edge of the next.",
        )


class SheetUsedUp(Refused):
    """A start or skipped places that leave nothing of the first sheet."""

    def __init__(self, name: str, count: int, asked: str) -> None:
        super().__init__(
            what=Sentence(
                "Sheet {name} has labels 1 to {count}. “{asked}” leaves none of them, or names others.",
                name=name,
                count=count,
                asked=asked,
            ),
            why="Printing where a label is gone leaves ink and glue on the printer's rollers.",
            do="Count the labels along the rows from the top left, starting at 1. Give the ones already used.",
        )


class TextRefused(Refused):
    """A text that cannot be set as it was given."""

    def __init__(self, what: str, text: str, reason: str) -> None:
        super().__init__(
            what=Sentence("“{text}” (for {what}) cannot be printed: {reason}.", text=text, what=what, reason=reason),
            why="Text that is cut, reversed or full of boxes says something you did not mean.",
            do="Shorten it, or write it in letters that run from left to right.",
        )


class LabelLanguageUnsaid(Refused):
    """Words in a script that the label, sold in a union and no country of it, would not speak."""

    field = "market"

    def __init__(self, text: str, script: str, market: str) -> None:
        super().__init__(
            what=Sentence(
                "“{text}” is in {script} letters, but {market} names no country, so the rest would be in another language.",
                text=text,
                script=script,
                market=market,
            ),
            why="Required text must be in a language the buyers understand. labelkit does not guess which.",
            do=Sentence(
                "Name the country where you sell it, for example --market {example}.",
                example=f"{market}-{'gr' if script == 'Greek' else 'bg'}",
            ),
        )


class LabelTooSmall(Refused):
    """Words that do not fit the label at the height the law asks."""

    def __init__(self, what: str, label: str, short: str, do: str) -> None:
        super().__init__(
            what=Sentence("{what} does not fit the {label} label: {short}.", what=what, label=label, short=short),
            why="Text below the legal minimum size does not count. Text past the edge is cut off.",
            do=do,
        )


class DesignUnclear(Refused):
    """A design file that cannot be understood, or a design there is none of."""

    def __init__(self, name: str, reason: str, known: list[str]) -> None:
        super().__init__(
            what=Sentence("Design “{name}”: {reason}.", name=name, reason=reason),
            why="The design sets typefaces and colours. Without them labelkit cannot measure the label.",
            do=Sentence("Choose one of {known}, or correct the design file.", known=", ".join(known)),
        )


class ContrastTooLow(Refused):
    """Ink too close to what it is printed on."""

    def __init__(self, design: str, role: str, found: str, least: str) -> None:
        super().__init__(
            what=Sentence(
                "Design {design}: the contrast of the {role} is {found}:1. The minimum is {least}:1.",
                design=design,
                role=role,
                found=found,
                least=least,
            ),
            why="Required text must be easy to read (21 CFR 101.7(h), Regulation (EU) 1169/2011 Art. 13: contrast).",
            do="Choose a darker ink or a lighter background.",
        )


class PanelTooLarge(Refused):
    """A nutrition panel that does not fit its label in any display the package may bear.

    ``short`` holds, for each lawful display, its name and how much width and height it lacks (micrometres, negative:
    to spare); ``maybe`` those that need a fact: name, width, height, the law, whether it would fit; ``least`` is the room
    the smallest lawful one takes.
    """

    def __init__(
        self,
        room: tuple[int, int],
        short: list[tuple[str, int, int]],
        maybe: list[tuple[str, int, int, str, bool]],
        least: tuple[int, int],
    ) -> None:
        asked = _displays(maybe)
        super().__init__(
            what=Sentence(
                "The nutrition panel does not fit in {room}: {wants}.",
                room=_size(*room),
                wants=_lacking(short),
            ),
            why="Type below the minimum size of 21 CFR 101.9(d), or a format the package may not use, counts as no panel.",
            do=Sentence(
                "Choose a label with at least {least} inside its edges. Smaller formats depend on the package: {asked}. Give label_surface in [situation].",
                least=_size(*least),
                asked=asked,
            )
            if maybe
            else Sentence("Choose a label with at least {least} inside its edges.", least=_size(*least)),
        )


class DisplayNotLawful(Refused):
    """A display of the nutrition panel that was asked for and may not, or perhaps not, be used."""

    def __init__(self, display: str, law: str, unknown: bool) -> None:
        know = "labelkit cannot tell from your answers whether it is" if unknown else "this one is not"
        super().__init__(
            what=Sentence("The {display} format is {law}: {know}.", display=display, law=law, know=know),
            why="A panel in a format the package may not use misbrands the jar, like a missing panel.",
            do="Leave out display in [nutrition] to use the first legal format that fits. For a small package give label_surface in [situation].",
        )


class AmountsClash(Refused):
    """A nutrient of which there is more than of what it is part of, own and ready values taken together."""

    def __init__(self, part: str, amount: str, whole: str, most: str, own: bool) -> None:
        where = "your own value" if own else "the usual value of honey, since you gave none"
        super().__init__(
            what=Sentence(
                "100 g would have {amount} g {part} but only {most} g {whole} ({where}). The first is part of the second.",
                amount=amount,
                part=part,
                most=most,
                whole=whole,
                where=where,
            ),
            why="Lines that contradict each other mean that one is wrong, on every jar.",
            do=Sentence(
                "Give {whole} from the same laboratory report in [nutrition], or correct {part}.",
                whole=whole,
                part=part,
            ),
        )


class PanelNotReckoned(Refused):
    """A nutrition label without the figures of a panel."""

    def __init__(self, kind: str) -> None:
        super().__init__(
            what=Sentence("The {kind} label has no figures to print.", kind=kind),
            why="Its amounts come from the declared weight and the market, not from the front label.",
            do="To print it: labelkit labels --label LABEL.toml --kind nutrition",
        )


def _size(wide: int, high: int) -> str:
    return f"{_millimetres(wide)} × {_millimetres(high)} mm"


def _millimetres(um: int) -> str:
    return f"{Decimal(um) / 1000:.1f}"


def _lacking(short: list[tuple[str, int, int]]) -> str:
    return "; ".join(
        f"{name}, "
        + " and ".join(
            f"{_millimetres(um)} mm more {side}" for um, side in ((wide, "width"), (high, "height")) if um > 0
        )
        for name, wide, high in short
    )


def _displays(maybe: list[tuple[str, int, int, str, bool]]) -> str:
    return "; ".join(
        f"the {name} one {'fits' if fits else f'needs {_size(wide, high)}'} ({law})"
        for name, wide, high, law, fits in maybe
    )


class RulerUnlikely(Refused):
    """Lengths read off the ruler page that no true print can have."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=Sentence("These readings do not come from a page printed at 100%: {reason}.", reason=reason),
            why="A printer is off by a few tenths of a millimetre. A page shrunk to its margins would misplace every label.",
            do="Print the calibration page again at 100% (“actual size”). Give the lengths in millimetres in the order 1, 2, 3, 4.",
        )


class LogoRefused(Refused):
    """A picture file that is not taken onto a label."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=Sentence("labelkit cannot use {name} as a logo: {reason}.", name=name, reason=reason),
            why="labelkit prints only complete, plain pictures. Other files may carry more than a picture.",
            do="Save it as a plain PNG of at most 2000 pixels, or as SVG with all lines and letters as filled paths.",
        )


class ArtworkRefused(Refused):
    """A file that is not taken as the ground of a label."""

    field = "artwork"

    def __init__(self, name: str, reason: str, do: str = "") -> None:
        super().__init__(
            what=Sentence("labelkit cannot use {name} as artwork: {reason}.", name=name, reason=reason),
            why="labelkit prints only complete files, and places text only on a background it has measured.",
            do=do or "Save it as PNG, JPEG or a PDF whose first page is the label, and try again.",
        )


class ArtworkUnreadable(Refused):
    """Words that cannot be read, or not apart, on the artwork they would stand on."""

    field = "artwork"

    def __init__(self, name: str, reasons: Iterable[str], calm: str, boxed: bool) -> None:
        super().__init__(
            what=Sentence(
                "The text cannot be read on {name}: {reasons}{calm}", name=name, reasons=" ".join(reasons), calm=calm
            ),
            why="Required text must stand out (21 CFR 101.7(h), Regulation (EU) 1169/2011 Art. 13). Check your local rules.",
            do="Move the box to a calmer part, or give it a background of its own."
            if boxed
            else "Put a plain background under the text (--artwork-ground #FFF8E7), place text boxes (--artwork-boxes FILE.toml), or choose calmer artwork.",
        )


class WordBoxUnfit(Refused):
    """A box for words on artwork that cannot be used as it was placed."""

    field = "artwork_boxes"

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{where}: {reason}.", where=where, reason=reason),
            why="Text outside the label is cut off. Overlapping text cannot be read.",
            do='Give each [[box]] words = ["name", "net"], left, top (from the label\'s edges), width and height like "60 mm". Optional: ground, ink, align.',
        )


class NoPlannedJars(Refused):
    """Labels asked for before the jars are filled, of which no kept plan says how many there will be."""

    field = "count"

    def __init__(self, bucket: str, size: str) -> None:
        super().__init__(
            what=Sentence("No kept plan fills {size} from bucket {bucket}.", size=size, bucket=bucket),
            why="Without a plan labelkit does not know how many labels you need.",
            do=Sentence(
                'Keep a plan: labelkit plan --book. Or give the number: labelkit labels --size "{size}" --bucket {bucket} --count 24',
                size=size,
                bucket=bucket,
            ),
        )


class LabelNameUnsaid(Refused):
    """Labels of honey whose name nobody has said."""

    field = "name"

    def __init__(self, product: str = "") -> None:
        super().__init__(
            what=Sentence("You have not set the name of the honey for the labels of “{product}”.", product=product)
            if product
            else "You have not set the name of the honey for the labels.",
            why="Every rule for a label depends on the name of the food. No label may go without it.",
            do=Sentence(
                'Set it first: labelkit label-words --product "{product}" --name "Clover Honey"', product=product
            )
            if product
            else 'Set it first: labelkit label-words --name "Clover Honey"',
        )

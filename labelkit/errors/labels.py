"""Refusals of the labels room: a number, a symbol, a sheet or a label that cannot be printed as asked."""

from __future__ import annotations

from collections.abc import Iterable

from labelkit.errors import AskedAbout, Refused


class DigitsUnclear(Refused):
    """Something other than the data digits of a GS1 number."""

    def __init__(self, text: str, reason: str) -> None:
        super().__init__(
            what=f"“{text}” is not the data part of a GS1 number: {reason}.",
            why="The check digit is reckoned from the other digits; with one too many or too few it belongs to another number.",
            do=(
                "Give 7 digits for EAN-8, 11 for UPC-A, 12 for EAN-13, 13 for a case number (GTIN-14), 16 for GSIN or "
                "17 for a shipping number (SSCC); leave the check digit out."
            ),
        )


class CheckDigitWrong(Refused):
    """A whole GS1 number whose last digit does not fit the others."""

    def __init__(self, number: str, found: str, right: str) -> None:
        super().__init__(
            what=f"{number} ends in {found}, but the check digit of its other digits is {right}.",
            why="One digit was mistyped or two were swapped; a till would refuse the jar or sell it as something else.",
            do="Compare the number with the paper it was issued on. Do not just change the last digit.",
        )


class ModuleOutOfRange(Refused):
    """No whole number of printer dots gives a bar of a lawful width."""

    def __init__(self, what: str, wanted: str, least: str, most: str, dpi: int) -> None:
        super().__init__(
            what=f"{what}: no whole number of dots at {dpi} dpi makes a bar between {least} and {most} mm ({wanted} mm was asked for).",
            why="A bar of a broken number of dots prints sometimes thinner and sometimes thicker, and stops scanning.",
            do="Name the printer's true resolution with --dpi (300 and 600 always work), or allow a wider bar.",
        )


class CharactersNotEncodable(Refused):
    """A text that this kind of symbol cannot hold."""

    def __init__(self, text: str, kind: str, odd: list[str]) -> None:
        shown = ", ".join(f"“{sign}”" for sign in odd) or "it does not have the right length"
        super().__init__(
            what=f"“{text}” cannot be written as {kind}: {shown}.",
            why="A scanner would read something else than what stands under the bars, or nothing.",
            do="Use letters A to Z, digits and simple signs for a lot; for a till number give all its digits.",
        )


class BarsTooLong(Refused):
    """More than the symbol may hold."""

    def __init__(self, text: str, found: str, most: str) -> None:
        super().__init__(
            what=f"{text} takes {found}; the symbol holds {most}.",
            why="Longer symbols are outside the standard (GS1 General Specifications 5.4.4) and handheld scanners cannot span them.",
            do="Leave out what the carrier does not need, or print two symbols one above the other.",
        )


class TooWideForJar(Refused):
    """Upright bars that bend too far round the jar."""

    def __init__(self, kind: str, field: str, diameter: str, widest: str, module: str) -> None:
        super().__init__(
            what=f"The {kind} bars are {field} mm wide; upright on a jar of {diameter} mm across, {widest} mm is the most.",
            why="Bars that run further round the curve than a sixth of the way turn away from the scanner at both ends.",
            do=f"Turn the bars a quarter round (like the rungs of a ladder), use modules of at most {module} mm, or a shorter symbol.",
        )


class ElementRefused(Refused):
    """An application identifier or its value that GS1 data may not hold."""

    def __init__(self, ai: str, value: str, reason: str) -> None:
        super().__init__(
            what=f"({ai}){value}: {reason}.",
            why="Whoever scans the case files it under what the identifiers say; a wrong one goes into their books unseen.",
            do="Put the GTIN first, dates as YYMMDD and the lot last; lots have at most 20 letters, digits and simple signs.",
        )


class MatrixCodeRefused(Refused):
    """A text too long or unfit for a QR Code or Data Matrix on a jar."""

    def __init__(self, kind: str, text: str, reason: str) -> None:
        shown = text if len(text) <= 60 else text[:57] + "…"
        super().__init__(
            what=f"“{shown}” cannot be printed as a {kind} on a label: {reason}.",
            why="The more it holds, the smaller its squares, until a phone no longer reads them.",
            do="Use a short link that ends in the lot code and let the page behind it say the rest.",
        )


class FontRefused(Refused):
    """A font file that cannot be printed from."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=f"The font {name} cannot be used: {reason}.",
            why="The label would come out in another weight than the one it was measured in, or not at all.",
            do="Use a static TrueType font (.ttf with outlines of its own for each weight) that may be embedded.",
        )


class GlyphsMissing(Refused):
    """Signs that no typeface at hand can print."""

    def __init__(self, text: str, missing: list[str]) -> None:
        shown = ", ".join(f"“{sign}” (U+{ord(sign):04X})" for sign in missing[:8])
        super().__init__(
            what=f"“{text}” cannot be printed: there is no glyph for {shown}.",
            why="A missing sign prints as an empty box, and a required word with a box in it does not count as said.",
            do="Write it with letters, or give a TrueType font of yours that has these signs.",
        )


class SheetUnknown(Refused):
    """A sheet that is not in the catalogue."""

    def __init__(self, name: str, known: list[str]) -> None:
        super().__init__(
            what=f"There is no label sheet “{name}”.",
            why="Labels printed for another sheet land across the cuts.",
            do=f"Choose one of {', '.join(known)}; a roll like roll-102x76, or roll-62 for a continuous one; or describe your own with a ruler.",
        )


class PrinterUnknown(Refused):
    """A printer whose correction nobody kept."""

    def __init__(self, name: str, known: list[str]) -> None:
        others = f"; it has {', '.join(known)}" if known else ""
        super().__init__(
            what=f"No printer “{name}” is kept in the record{others}.",
            why="Without its correction the labels may print a millimetre beside their cuts.",
            do=f"Print “labelkit ruler”, measure, and keep the answer:  labelkit ruler --measured “…” --keep “{name}”",
        )


class LookUnknown(Refused):
    """A look nobody kept."""

    field = "look"

    def __init__(self, name: str, known: list[str]) -> None:
        others = f"; it has {', '.join(known)}" if known else ""
        super().__init__(
            what=f"No look “{name}” is kept in the record{others}.",
            why="Labels in another look than the one you meant would have to be printed again. Nothing was saved.",
            do=f"Keep one first:  labelkit labels --design meadow --keep-look “{name}”. “labelkit labels --list” shows them.",
        )


class LookUnnamed(Refused):
    """A look without a name."""

    field = "name"

    def __init__(self) -> None:
        super().__init__(
            what="This look has no name.",
            why="A look is found again by its name. Nothing was saved.",
            do="Give it a short name, for example the stall or the shop it is for.",
        )


class KeptFileTooLarge(Refused):
    """A logo, a font or a scanned paper too large to be kept in the record."""

    field = "file"

    def __init__(self, name: str, size: int, most: int) -> None:
        super().__init__(
            what=f"{name} has {size:,} bytes; the most that is kept in the record is {most:,}.",
            why="The record is copied and sealed whole, and a large file in it makes each copy slow. Nothing was saved.",
            do="Make the file smaller: scan it in black and white or with fewer dots, or save the picture smaller.",
        )


class NothingInTheBucket(Refused):
    """A tag for a bucket that holds nothing."""

    def __init__(self, bucket: str) -> None:
        super().__init__(
            what=f"Bucket {bucket} is empty, so its tag would say nothing true.",
            why="A tag left on an empty bucket is read as what the next honey in it is.",
            do="Weigh the next honey in under a name of its own, then print its tag.",
        )


class LotsUnclear(Refused):
    """A list of lots that cannot be read."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=f"{where}: {reason}.",
            why="Every label carries its lot, and a wrong one leads a recall to the wrong jars.",
            do="Give lots as L26195AXR,L26201AXN, or a CSV file with a heading “lot” and, if wished, “count”.",
        )


class LabelsForNoJar(AskedAbout):
    """Far more labels than a lot has jars."""

    field = "count"

    def __init__(self, lot: str, count: int, jars: int) -> None:
        super().__init__(
            what=f"{count:,} labels for lot {lot}, which has {jars:,} jars.",
            why="A label left over may end up on a jar of other honey, with a lot code that is not true. Nothing was saved.",
            do="Give a smaller number. If so many are right, say why; the record keeps your words.",
        )


class LabelStopped(AskedAbout):
    """Labels on which something must be fixed before they are printed, unless a person says why they may be."""

    def __init__(self, reasons: Iterable[str]) -> None:
        super().__init__(
            what=f"These labels are not printed yet: {' '.join(reasons)}",
            why="A label that breaks the rules labelkit holds must not reach a jar. Nothing was saved.",
            do="Correct what the labels say, or choose a larger label, and print again. If they must be printed as they are, "
            "say why; the record keeps your words. Check your local rules.",
        )
        self.field = "because"


class LotKeepsWords(AskedAbout):
    """Labels that say of a lot something else than the labels it bears, unless a person says why."""

    def __init__(self, lots: Iterable[str], changed: Iterable[str]) -> None:
        super().__init__(
            what=f"These labels of {', '.join(lots)} differ from those the jars bear in: {', '.join(changed)}.",
            why="Jars of one lot that say different things mislead buyers, and a recall. Nothing was saved.",
            do="Print the lot's own words again, or say why they change; the record keeps your words.",
        )
        self.field = "because"


class WordsUntrue(Refused):
    """Labels that say of the honey what its own record denies."""

    def __init__(self, reasons: Iterable[str]) -> None:
        super().__init__(
            what=f"These labels are not printed: {' '.join(reasons)}",
            why="A label that is not true of its honey misleads the buyer, whatever the reason. Nothing was saved.",
            do="Change what the labels say. If the record is wrong, correct the delivery first: "
            'labelkit record correct EVENT --because "REASON". Check your local rules.',
        )


class ProofNotBooked(Refused):
    """A proof somebody wants to book."""

    def __init__(self) -> None:
        super().__init__(
            what="A proof is not booked.",
            why="It is marked as a proof on the paper, so that it never ends on a jar. Nothing was saved.",
            do="Print the labels without the proof.",
        )


class OwnTillOnly(Refused):
    """A number that holds at one's own till, asked for where others read it."""

    def __init__(self, number: str, what: str) -> None:
        super().__init__(
            what=f"{number} is a number for one's own till and cannot stand in {what}.",
            why="GS1 keeps these numbers for use within one company (General Specifications 2.1.13.2); a carrier, a shop or a "
            "telephone elsewhere would take the jar for somebody else's.",
            do="Use a number licensed to you by GS1, or leave that code out: the lot alone leads back to the record.",
        )


class NumberUnsaid(Refused):
    """A GS1 Digital Link of jars that have no number."""

    field = "number"

    def __init__(self) -> None:
        super().__init__(
            what="A GS1 Digital Link is made of the jar's GS1 number and its lot, and no number is given.",
            why="Without the number the link leads nowhere.",
            do="Read it off your GS1 papers and give --number DIGITS, or print without the link.",
        )


class SheetUnclear(Refused):
    """A description of a sheet that cannot be understood."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=f"{where}: {reason}.",
            why="One wrong length puts every label of the sheet across its cuts.",
            do="Give name, page, across, down, label, first, and as wished gap, shape, corner, use; lengths like “63.5 mm”.",
        )


class SheetImpossible(Refused):
    """Labels that do not fit the paper."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=f"Sheet {name} cannot be: {reason}.",
            why="The printer would cut off what lies beyond the paper.",
            do="Measure again: paper edge to first label, label size, and from one label's edge to the same edge of the next.",
        )


class SheetUsedUp(Refused):
    """A start or skipped places that leave nothing of the first sheet."""

    def __init__(self, name: str, count: int, asked: str) -> None:
        super().__init__(
            what=f"Sheet {name} has places 1 to {count}; “{asked}” leaves none of them or names others.",
            why="Printing on a place whose label is gone leaves ink and glue on the printer's rollers.",
            do="Count the places from the top left along the rows, the first is 1, and give those already used.",
        )


class TextRefused(Refused):
    """A text that cannot be set as it was given."""

    def __init__(self, what: str, text: str, reason: str) -> None:
        super().__init__(
            what=f"“{text}” (for {what}) cannot be printed: {reason}.",
            why="A text that comes out cut, turned round or with boxes in it says something else than was meant.",
            do="Shorten it, or write it in letters that run from left to right.",
        )


class LabelLanguageUnsaid(Refused):
    """Words in a script that the label, sold in a union and no country of it, would not speak."""

    field = "market"

    def __init__(self, text: str, script: str, market: str) -> None:
        super().__init__(
            what=f"“{text}” is in {script} letters, and no country of {market} is named, so the rest would be in another language.",
            why="What must be said has to stand in a language its buyers understand, and labelkit does not guess which.",
            do=f"Name the country where it is sold, for example --market {market}-{'gr' if script == 'Greek' else 'bg'}.",
        )


class LabelTooSmall(Refused):
    """Words that do not fit the label at the height the law asks."""

    def __init__(self, what: str, label: str, short: str, do: str) -> None:
        super().__init__(
            what=f"{what} does not fit the {label} label: {short}.",
            why="Words set smaller than the law asks count as not said, and words over the edge are cut off.",
            do=do,
        )


class DesignUnclear(Refused):
    """A design file that cannot be understood, or a design there is none of."""

    def __init__(self, name: str, reason: str, known: list[str]) -> None:
        super().__init__(
            what=f"Design “{name}”: {reason}.",
            why="The design decides typefaces and colours; with a part of it unknown the label could not be measured.",
            do=f"Choose one of {', '.join(known)}, or correct the design file.",
        )


class ContrastTooLow(Refused):
    """Ink too close to what it is printed on."""

    def __init__(self, design: str, role: str, found: str, least: str) -> None:
        super().__init__(
            what=f"Design {design}: the {role} stands out from its ground by {found} to 1; {least} to 1 is the least.",
            why="Required words must be easy to read (21 CFR 101.7(h) and Regulation (EU) 1169/2011 Art. 13 ask for contrast).",
            do="Choose a darker ink or a lighter ground.",
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
        wants = "; ".join(f"{name}, it wants {_wanting(wide, high)}" for name, wide, high in short)
        would = [
            f"the {name} one {'fits' if fits else f'takes {_size(wide, high)}'} ({law})"
            for name, wide, high, law, fits in maybe
        ]
        asked = (
            f" Smaller displays need a fact: {'; '.join(would)}; give label_surface in [situation]." if would else ""
        )
        super().__init__(
            what=f"The nutrition panel does not fit a room of {_size(*room)}: {wants}.",
            why="Type under the least size of 21 CFR 101.9(d) counts as no panel, and a display the package may not bear does too.",
            do=f"Take a label with a room of at least {_size(*least)} inside its edges.{asked}",
        )


class DisplayNotLawful(Refused):
    """A display of the nutrition panel that was asked for and may not, or perhaps not, be used."""

    def __init__(self, display: str, law: str, unknown: bool) -> None:
        know = "whether it is cannot be told from what was given" if unknown else "this one is not"
        super().__init__(
            what=f"The {display} display is {law}; {know}.",
            why="A panel in a display the package may not bear misbrands the jar like a missing one.",
            do="Leave display out of [nutrition] and the first lawful one that fits is taken; give label_surface in [situation] if the package is small.",
        )


class AmountsClash(Refused):
    """A nutrient of which there is more than of what it is part of, own and ready values taken together."""

    def __init__(self, part: str, amount: str, whole: str, most: str, own: bool) -> None:
        where = "your own value" if own else "the usual value of honey, since you gave none"
        super().__init__(
            what=f"100 g would hold {amount} g {part} and only {most} g {whole} ({where}), and the first is part of the second.",
            why="A panel whose lines contradict each other is wrong in one of them, and it would be printed on every jar.",
            do=f"Give {whole} from the same laboratory report in [nutrition], or correct {part}.",
        )


class PanelNotReckoned(Refused):
    """A nutrition label without the figures of a panel."""

    def __init__(self, kind: str) -> None:
        super().__init__(
            what=f"The {kind} label has no figures to print.",
            why="Its amounts come from the declared weight and the law of a market, not from the words on the front.",
            do="Print it with “labelkit labels --label LABEL.toml --kind nutrition”.",
        )


def _size(wide: int, high: int) -> str:
    return f"{wide / 1000:.1f} × {high / 1000:.1f} mm"


def _wanting(wide: int, high: int) -> str:
    parts = [f"{um / 1000:.1f} mm more {what}" for um, what in ((wide, "width"), (high, "height")) if um > 0]
    return " and ".join(parts)


class RulerUnlikely(Refused):
    """Lengths read off the ruler page that no true print can have."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            what=f"These readings cannot be of a page printed at 100 %: {reason}.",
            why="A printer is off by a few tenths of a millimetre; a page shrunk to its margins would put every label wrong.",
            do="Print the ruler page again with scaling set to 100 % or “actual size”, and give lengths in millimetres in the order 1, 2, 3, 4.",
        )


class LogoRefused(Refused):
    """A picture file that is not taken onto a label."""

    def __init__(self, name: str, reason: str) -> None:
        super().__init__(
            what=f"{name} is not used as a logo: {reason}.",
            why="A label prints only what was found whole and plain, and a file from elsewhere may carry more than a picture.",
            do="Save it as a plain PNG of 2000 pixels or less, or as SVG with every line and letter turned into filled paths.",
        )


class ArtworkRefused(Refused):
    """A file that is not taken as the ground of a label."""

    field = "artwork"

    def __init__(self, name: str, reason: str, do: str = "") -> None:
        super().__init__(
            what=f"{name} is not used as artwork: {reason}.",
            why="A label prints only what was found whole, and words may stand only on a ground that was measured.",
            do=do or "Save it as PNG, JPEG or a PDF whose first page is the label, and try again.",
        )


class ArtworkUnreadable(Refused):
    """Words that cannot be read, or not apart, on the artwork they would stand on."""

    field = "artwork"

    def __init__(self, name: str, reasons: Iterable[str], calm: str, boxed: bool) -> None:
        super().__init__(
            what=f"The words cannot stand on {name}: {' '.join(reasons)}{calm}",
            why="Words that must be read have to stand out from all that is behind them (21 CFR 101.7(h) and Regulation (EU) "
            "1169/2011 Art. 13 ask for contrast). Check your local rules.",
            do="Move the box to a calmer part, or give it a ground of its own."
            if boxed
            else "Lay a plain ground under the words (--artwork-ground #FFF8E7), place boxes for them on calmer parts "
            "(--artwork-boxes FILE.toml), or choose artwork with an even field.",
        )


class WordBoxUnfit(Refused):
    """A box for words on artwork that cannot be used as it was placed."""

    field = "artwork_boxes"

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(
            what=f"{where}: {reason}.",
            why="Words outside the label are cut off, and words over one another cannot be read.",
            do='Give each [[box]] words = ["name", "net"], left, top (from the edges of the label), width and height like '
            '"60 mm", and if wished ground and ink like "#FFFFFF" and align = "left" or "centre".',
        )


class NoPlannedJars(Refused):
    """Labels asked for before the jars are filled, of which no kept plan says how many there will be."""

    field = "count"

    def __init__(self, bucket: str, size: str) -> None:
        super().__init__(
            what=f"No kept plan still fills {size} from bucket {bucket}.",
            why="Without a plan labelkit does not know how many labels the jars will need.",
            do=f"Keep a plan: labelkit plan --book. Or say how many: labelkit labels --size “{size}” --bucket {bucket} --count 24.",
        )


class LabelNameUnsaid(Refused):
    """Labels of honey whose name nobody has said."""

    field = "name"

    def __init__(self, product: str = "") -> None:
        of, option = (f" of “{product}”", f'--product "{product}" ') if product else ("", "")
        super().__init__(
            what=f"Nobody has said what the labels{of} call the honey.",
            why="Every rule of a label hangs on the name of the food, and no label may go without it.",
            do=f'Say it first: labelkit label-words {option}--name "Clover Honey".',
        )

"""Cases of the labels room."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from labelkit.barcodes.dots import Module, snapped
from labelkit.barcodes.elements import encoded
from labelkit.barcodes.gs1 import checked, with_check_digit
from labelkit.barcodes.linear import code128, ean13, gs1_128, must_fit_jar
from labelkit.barcodes.matrix import qr
from labelkit.cli._labels import lots_of
from labelkit.cli._other_labels import must_hold_honey
from labelkit.errors.labels import (
    AmountsClash,
    ArtworkRefused,
    ArtworkUnreadable,
    BarsTooLong,
    CharactersNotEncodable,
    CheckDigitWrong,
    ContrastTooLow,
    DesignUnclear,
    DigitsUnclear,
    DisplayNotLawful,
    ElementRefused,
    FontRefused,
    GlyphsMissing,
    KeptFileTooLarge,
    LabelLanguageUnsaid,
    LabelNameUnsaid,
    LabelsForNoJar,
    LabelStopped,
    LabelTooSmall,
    LogoRefused,
    LookUnknown,
    LookUnnamed,
    LotKeepsWords,
    LotsUnclear,
    MatrixCodeRefused,
    ModuleOutOfRange,
    NoPlannedJars,
    NothingInTheBucket,
    NumberUnsaid,
    OwnTillOnly,
    PanelNotReckoned,
    PanelTooLarge,
    PrinterUnknown,
    ProofNotBooked,
    RulerUnlikely,
    SheetImpossible,
    SheetUnclear,
    SheetUnknown,
    SheetUsedUp,
    TextRefused,
    TooWideForJar,
    WordBoxUnfit,
    WordsUntrue,
)
from labelkit.labels.backdrop.picture import read_backdrop
from labelkit.labels.calibration import corrected
from labelkit.labels.case import label_case
from labelkit.labels.composed import compose
from labelkit.labels.content import front_label_content
from labelkit.labels.design import design, read_design
from labelkit.labels.layout.front import place_front
from labelkit.labels.logo import read_logo
from labelkit.labels.nutrition.layout import place_nutrition
from labelkit.labels.outline import Outline
from labelkit.labels.sheets import free_places, own_sheet, read_sheets, sheet
from labelkit.lots.bucket import WeighIn, bucket_of
from labelkit.lots.received import OriginShare, Receive
from labelkit.measures import Declared, Length, Mass, Money
from labelkit.paper.fonts import face_for, own_face
from labelkit.reading.label_file import read_label
from labelkit.reading.word_boxes import read_word_boxes
from labelkit.rules import market
from labelkit.rules.label import Label
from labelkit.sale.events import PriceSet
from labelkit.season.kept_look import keep_look, look_named
from labelkit.season.label import LabelLook, LabelPaper, LabelPrint, book_labels, draw_labels, refuse_for_no_jar
from labelkit.season.label_paper import printer_named
from labelkit.season.label_words import label_by
from labelkit.season.lot_link import link_maker, must_be_gs1
from labelkit.season.settings import SeasonSettings
from labelkit.shipped import template_text
from labelkit.trace.heritage import Heritage, Strand
from tests.refusals.cli import say

mm = Length.of_mm


DAY = date(2026, 11, 25)


def content(**changed):
    facts = {"name": "Clover Honey", "statement": "NET WT 16 OZ (1 LB) 453 g", "maker": "Pretend Hollow"}
    return front_label_content(**{**facts, **changed})


def placed(wide, high, **changed):
    return lambda: place_front(content(**changed), Outline(wide, high), design("press"))


def pale_design():
    text = template_text("labels/designs/press.toml").replace('colour = "#000000"', 'colour = "#AA8855"', 1)
    return read_design(text, "pale")


def greek_in_the_union():
    words = Label(("eu",), "Μέλι ανθέων", Declared.read("500 g", "en_US"), maker={"name": "Pretend Hollow"})
    return compose(label_case(words, [market("eu", DAY)], "en_US"))


def nutrition(wide, high, display=""):
    text = f'market = "us"\nname = "Clover Honey"\ndeclares = "12 oz"\nmaker = {{ name = "Pretend Hollow" }}\n{display}'
    made = compose(label_case(read_label(text), [market("us", DAY)], "en_US"), kind="nutrition").content
    return lambda: place_nutrition(made, Outline(wide, high), design("press"))


def drawn_gold(*lines):
    """Labels of a jar whose name does not say what is in it."""
    jar = {"diameter": Length.of_mm(75), "height": Length.of_mm(80)}
    weight = Declared.read("1 lb", "en_US")
    label = Label(("us",), "Summer Gold", weight, lines=lines, maker={"name": "Pretend Hollow Honey"}, panel=jar)
    paper = LabelPaper("front", sheet("letter-2x5-102x51"))
    return draw_labels(None, LabelPrint(label, (paper,), LabelLook(design("press"))), DAY, "en_US")


def drawn_bought():
    """Labels that say “our own hives” of bought-in honey, and somebody's reason why they may."""
    came = Receive("R1", DAY, Mass.of_grams(100), "Brook apiary", "K7", (OriginShare("US", Decimal(100)),))
    drawn = drawn_gold("From our own hives")
    bought = (Heritage("L1", (Strand(1, came, Fraction(1)),)),)
    return replace(
        drawn, sizes=(replace(drawn.sizes[0], heritages=bought),), asked=replace(drawn.asked, because="as always")
    )


def refused(refusal):
    """What needs a record; tests/season/test_labels_before_filling.py brings it about."""

    def cause():
        raise refusal

    return cause


def empty_bucket():
    return replace(bucket_of("B1", [WeighIn("B1", date(2026, 7, 12), Mass.of_grams(100))]), holds=Mass(0))


def label_without_a_name():
    """The label of a size whose honey nobody has named."""
    size = PriceSet(
        date(2026, 7, 1), "pound", Declared.read("1 lb", "en_US"), Money.of("10", "USD"), Money.of("1", "USD")
    )
    label_by(SeasonSettings(("us",), "USD", {}, {"pound": size}), {}, "pound")


CASES = [
    (DigitsUnclear, lambda: with_check_digit("12345"), "it has 5 digits"),
    (CheckDigitWrong, lambda: checked("6291041500214"), "6291041500214 ends in 4"),
    (
        ModuleOutOfRange,
        lambda: snapped(mm("0.33"), 100, mm("0.26"), mm("0.5")),
        "no whole number of dots at 100 dpi makes a bar of 0.26 to 0.5 mm.",
    ),
    (CharactersNotEncodable, lambda: code128("Grüße"), "not allowed are “ß”, “ü”."),
    (BarsTooLong, lambda: gs1_128((("01", "09521234543213"), ("21", "A" * 20), ("10", "B" * 20))), "61 characters"),
    (
        TooWideForJar,
        lambda: must_fit_jar(ean13("9521234543213"), Module(8, 600), mm(45)),
        "Upright on a jar of 45 mm the maximum is 23.6 mm.",
    ),
    (ElementRefused, lambda: encoded((("10", "12345"),)), "a lot stands only beside (01) or (02)"),
    (MatrixCodeRefused, lambda: qr("x" * 300), "it holds 300 bytes"),
    (FontRefused, lambda: own_face("mine", b"no font"), "The font own:mine cannot be used: it is not a font file"),
    (GlyphsMissing, lambda: face_for("serif-Black", "Honey 🐝"), "no font has the character “🐝” (U+1F41D)."),
    (SheetUnknown, lambda: sheet("letter-9x9"), "no label sheet “letter-9x9”"),
    (LookUnknown, lambda: look_named(None, "stall"), "The record has no design “stall”."),
    (
        KeptFileTooLarge,
        lambda: keep_look(None, "stall", {"logo": ("bee.png", bytes(2_000_000))}, DAY),
        "bee.png has 2,000,000 bytes",
    ),
    (
        PrinterUnknown,
        lambda: printer_named(None, "office"),
        "The record has no printer “office”.",
    ),
    (LotsUnclear, lambda: lots_of("L26195AXR, L26195AXR", 1), "lot L26195AXR stands in it 2 times"),
    (
        ProofNotBooked,
        lambda: book_labels(None, replace(gold := drawn_gold(), asked=replace(gold.asked, proof=True)), DAY),
        "A proof is not recorded.",
    ),
    (
        LabelsForNoJar,
        lambda: refuse_for_no_jar(
            replace(
                gold := drawn_gold(),
                sizes=(replace(gold.sizes[0], lots=(("L26195AXR", 30_000),), filled=(("L26195AXR", 25),)),),
            )
        ),
        "30,000 labels for lot L26195AXR, which has 25 jars",
    ),
    (NoPlannedJars, refused(NoPlannedJars("B1", "one pound")), "No kept plan fills one pound from bucket B1."),
    (
        LabelStopped,
        lambda: book_labels(None, drawn_gold(), DAY),
        "The name does not say that this is honey.",
    ),
    (
        LotKeepsWords,
        say(LotKeepsWords(["L26201AXN"], ["name", "best-before date"])),
        "name, best-before date.",
    ),
    (WordsUntrue, lambda: book_labels(None, drawn_bought(), DAY), "100 % is from bucket R1"),
    (LookUnnamed, lambda: keep_look(None, " ", {}, DAY), "This design has no name."),
    (NumberUnsaid, lambda: link_maker(None, True, None), "You gave no retail barcode number for the GS1 Digital Link."),
    (
        OwnTillOnly,
        lambda: must_be_gs1("0400000000176", "a GS1 Digital Link"),
        "0400000000176 is an in-store number and cannot be used in a GS1 Digital Link.",
    ),
    (NothingInTheBucket, lambda: must_hold_honey(empty_bucket()), "Bucket B1 is empty"),
    (SheetUnclear, lambda: read_sheets('[[sheet]]\nname = "mine"\ncolour = "red"', "mine.toml"), "unknown: colour"),
    (
        SheetImpossible,
        lambda: own_sheet("mine", "a4", 2, 4, (mm(95), mm(60)), (mm(12), mm(20)), (mm(110), mm(64))),
        "2 labels overrun the paper's width by 7.00 mm",
    ),
    (
        SheetUsedUp,
        lambda: next(free_places(sheet("a4-2x2-99x139"), start_at=5)),
        "Sheet a4-2x2-99x139 has labels 1 to 4.",
    ),
    (
        LogoRefused,
        lambda: read_logo(b"<svg viewBox='0 0 9 9'><script/></svg>", "mine.svg"),
        "it holds the element <script>",
    ),
    (ArtworkRefused, lambda: read_backdrop(b"GIF89a", "mine.gif"), "it is neither PNG nor JPEG nor PDF"),
    (
        ArtworkUnreadable,
        say(ArtworkUnreadable("mine.png", ["“Honey” (product name) stands out by 1.3 to 1."], "", boxed=False)),
        "--artwork-ground",
    ),
    (WordBoxUnfit, lambda: read_word_boxes("", "boxes.toml", "en_US"), "it holds nothing, and 1 to 20"),
    (RulerUnlikely, lambda: corrected("a4", mm(145), mm(193), mm(30), mm("48.5")), "A to B was read as 145 mm"),
    (TextRefused, lambda: content(name="דבש"), "runs from right to left"),
    (LabelNameUnsaid, label_without_a_name, "label-words --name"),
    (
        LabelLanguageUnsaid,
        greek_in_the_union,
        "“Μέλι ανθέων” is in Greek letters, but eu names no country, so the rest would be in another language.",
    ),
    (LabelTooSmall, placed(20_000, 9_000), "does not fit the 20.0 × 9.0 mm label"),
    (DesignUnclear, lambda: design("baroque"), "Design “baroque”: there is none of that name"),
    (ContrastTooLow, pale_design, "The minimum is 4.5:1."),
    (PanelTooLarge, nutrition(67_000, 25_400), "The nutrition panel does not fit in 64.0 × 22.4 mm:"),
    (
        DisplayNotLawful,
        nutrition(67_000, 25_400, 'nutrition = { display = "linear" }'),
        "give label_surface in [situation]",
    ),
    (
        AmountsClash,
        lambda: nutrition(60_000, 120_000, "nutrition = { sugars = 90 }"),
        "only 82.4 g carbohydrate (the usual value",
    ),
    (
        PanelNotReckoned,
        lambda: place_nutrition(replace(content(), kind="nutrition"), Outline(60_000, 120_000), design("press")),
        "--kind nutrition",
    ),
]

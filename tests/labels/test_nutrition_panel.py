"""The nutrition panel on a label: what it says, how large, in which display, and that it keeps to its room.

Sizes and displays asserted here are those of 21 CFR 101.9(d), (e), (f) and (j)(13); amounts are reckoned by hand from the
values of honey in the USDA food composition database (per 100 g: 304 kcal, carbohydrate 82.4 g, sugars 82.12 g, sodium
4 mg, protein 0.3 g, fiber 0.2 g) and the rounding of 101.9(c).
"""

from __future__ import annotations

import ctypes
import io
import json
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from PIL import Image, ImageChops, ImageStat

from labelkit.cli._runner import run
from labelkit.errors.label_file import LabelKeyUnknown, LabelValueWrong
from labelkit.errors.labels import DisplayNotLawful, PanelTooLarge
from labelkit.labels.case import label_case
from labelkit.labels.composed import compose
from labelkit.labels.design import NAMES, design
from labelkit.labels.nutrition.layout import place_nutrition
from labelkit.labels.nutrition.need import need
from labelkit.labels.outline import Outline
from labelkit.labels.sheets import sheets
from labelkit.paper.marks import BLACK, WHITE, Shape, Text
from labelkit.paper.pdf import PdfWriter
from labelkit.paper.preview import preview_png
from labelkit.reading.label_file import read_label
from labelkit.rules import market
from labelkit.rules.checking.case import read_case
from tests.labels.looking import over_the_edge, overlaps
from tests.labels.samples import DAY, outline
from tests.walks import examples

GOLDEN = Path(__file__).parent.parent / "golden" / "labels"
POINT = 25_400 / 72
TALL, WIDE = Outline(70_000, 125_000), Outline(105_000, 51_000)
FOOTNOTE = (
    "*The % Daily Value tells you how much a nutrient in a serving of food contributes to a daily diet. "
    "2,000 calories a day is used for general nutrition advice."
)


def jar(declares: str = "12 oz", more: str = ""):
    """The content of a nutrition label."""
    text = (
        f'market = "us"\nname = "Clover Honey"\ndeclares = "{declares}"\nmaker = {{ name = "Pretend Hollow" }}\n{more}'
    )
    return compose(label_case(read_label(text), [market("us", DAY)], "en_US"), kind="nutrition").content


def surface(square_inches: str) -> str:
    return f'situation = {{ label_surface = "{square_inches} in2" }}'


def display(name: str, more: str = "") -> str:
    return f'nutrition = {{ display = "{name}" }}\n{more}'


def set_on(content, room: Outline = TALL, look: str = "press"):
    return place_nutrition(content, room, design(look))


def texts(placed, role: str = "") -> list[Text]:
    return [mark for mark in placed.marks if isinstance(mark, Text) and mark.role.startswith(role)]


def lines_of(placed) -> list[str]:
    """What stands on each height, from left to right, as a reader takes it in."""
    rows: dict[int, list[Text]] = {}
    for mark in texts(placed):
        rows.setdefault(mark.y, []).append(mark)
    return [
        " ".join(mark.text for mark in sorted(rows[y], key=lambda mark: mark.x)) for y in sorted(rows, reverse=True)
    ]


def pdf_of(placed) -> bytes:
    writer = PdfWriter("A nutrition panel")
    writer.page(placed.outline.wide, placed.outline.high)
    writer.draw(placed.marks)
    return writer.finish()


def printed(placed) -> list[tuple[str, float, float]]:
    """Every character of the finished PDF: the sign, its type size in points, and the height of its ink."""
    document = pypdfium2.PdfDocument(pdf_of(placed))
    page = document[0].get_textpage()
    found = []
    for place in range(page.count_chars()):
        sides = [ctypes.c_double() for _ in range(4)]
        pdfium.FPDFText_GetCharBox(page, place, *sides)
        _, _, bottom, top = (side.value for side in sides)
        sign = chr(pdfium.FPDFText_GetUnicode(page, place))
        found.append((sign, pdfium.FPDFText_GetFontSize(page, place), top - bottom))
    return found


def size_of(words: str, signs) -> float:
    """The type size of some words in the finished PDF, in points."""
    text = "".join(sign for sign, *_ in signs)
    start = text.index(words)
    sizes = {round(size, 2) for sign, size, _ in signs[start : start + len(words)] if sign.strip()}
    assert len(sizes) == 1, f"{words} is set in {sizes}"
    return sizes.pop()


# ------------------------------------------------------------------------------------------------------ what it says


def test_a_jar_of_pure_honey_says_the_amounts_of_the_worked_examples():
    """304 kcal x 0.21 = 63.84, so 60; 82.4 g x 0.21 = 17.304 g and 17.304/275 = 6 %; 82.12 g x 0.21 = 17.245 g and /50 = 34 %;
    4 mg x 0.21 = 0.84 mg, so 0 mg; 340.194 g / 21 g = 16.2 servings."""
    said = lines_of(set_on(jar()))
    assert said[:3] == ["Nutrition Facts", "about 16 servings per container", "Serving size 1 tbsp (21g)"]
    assert "Calories 60" in said
    for line in (
        "Total Fat 0g 0%",
        "Saturated Fat 0g 0%",
        "Trans Fat 0g",
        "Cholesterol 0mg 0%",
        "Sodium 0mg 0%",
        "Total Carbohydrate 17g 6%",
        "Dietary Fiber 0g 0%",
        "Total Sugars 17g",
        "34%†",
        "Protein 0g",
        "Vitamin D 0mcg 0%",
    ):
        assert line in said, line


@pytest.mark.parametrize(
    ("declares", "servings"),
    [
        ("12 oz", "about 16"),
        ("2 oz", "about 2.5"),
        ("3 oz", "about 4"),
        ("105 g", "5"),
        ("32 oz", "about 43"),
        ("42 g", "2"),
    ],
)  # 21 CFR 101.9(b)(6) and (8): net grams over 21, by half servings from two to five
def test_the_servings_stand_as_the_worked_examples_have_them(declares, servings):
    assert f"{servings} servings per container" in lines_of(set_on(jar(declares), Outline(90_000, 140_000)))


def test_honey_with_something_in_it_names_its_added_sugars_and_has_no_dagger():
    """21 CFR 101.9(c)(6)(iii); the freedom of Pub. L. 115-334 is for a single ingredient."""
    said = lines_of(set_on(jar(more='kind = "infused"\ningredients = ["honey", "cinnamon"]')))
    assert "Includes 17g Added Sugars 34%" in said
    assert not any("†" in line for line in said)


def test_the_dagger_follows_the_percentage_and_leads_to_the_foot_of_the_panel():
    """84 FR 28726: the sign right after the percentage, the sentence inside the panel at its bottom."""
    placed = set_on(jar())
    assert [mark.text for mark in texts(placed) if mark.text.endswith("†")] == ["34%†"]
    notes = texts(placed, "facts_note")
    assert " ".join(mark.text for mark in notes).startswith(f"{FOOTNOTE} †One serving adds 17g of sugar to your diet")
    assert all(mark.y < other.y for mark in notes for other in texts(placed) if other not in notes)


def test_a_simplified_panel_shows_the_five_and_what_is_there_and_names_the_rest():
    """21 CFR 101.9(f): calories, total fat, sodium, total carbohydrate, protein; eleven of honey's fifteen count as none."""
    said = lines_of(set_on(jar(), Outline(60_000, 86_000)))
    assert [line for line in said if line.endswith(("%", "0g", "7g"))] == [
        "Total Fat 0g 0%",
        "Sodium 0mg 0%",
        "Total Carbohydrate 17g 6%",
        "Total Sugars 17g",
        "Protein 0g",
    ]
    foot = " ".join(said[said.index("Protein 0g") + 1 :])
    assert foot.startswith(
        "Not a significant source of saturated fat, trans fat, cholesterol, dietary fiber, vitamin D, calcium, iron and potassium."
    )


def test_a_food_with_eight_nutrients_or_more_in_it_is_not_simplified():
    nutty = "nutrition = { fat = 20, saturated_fat = 4, sodium = 200, fiber = 8, protein = 10, iron = 4, potassium = 500, calcium = 300 }"
    with pytest.raises(PanelTooLarge):
        set_on(jar(more=nutty + '\nkind = "infused"\ningredients = ["honey", "nuts"]'), Outline(60_000, 86_000))


def test_a_jar_of_two_to_three_servings_has_a_second_column_for_the_whole_jar():
    """56.699 g: 304 x 0.56699 = 172, so 170; 82.4 x 0.56699 = 46.7 g and 17 %; 82.12 x 0.56699 = 46.56 g and 93 %;
    21 CFR 101.9(b)(12)(i), 270 per cent of the reference amount."""
    said = lines_of(set_on(jar("2 oz"), Outline(75_000, 125_000)))
    assert "Per serving Per container" in said
    assert "Calories 60 170" in said
    assert "Total Carbohydrate 17g 6% 47g 17%" in said
    assert "34%† 93%" in said


def test_own_laboratory_values_go_before_the_ready_ones_and_pure_honeys_sugars_all_count_as_added():
    """310 x 0.21 = 65.1, so 70; 80 g x 0.21 = 16.8 g, so 17 g, and 16.8/50 = 33.6, so 34 %."""
    content = jar(more="nutrition = { calories = 310, sugars = 80, sodium = 40.0 }")
    said = lines_of(set_on(content))
    assert "Calories 70" in said
    assert "Sodium 10mg 0%" in said  # 8.4 mg, to the nearest 5
    assert "34%†" in said
    assert any("From your own values" in note for note in content.nutrition.notes)


# ------------------------------------------------------------------------------------------------------- how large

UPRIGHT = {
    "Nutrition Facts": 16,
    "Calories": 16,
    "servings per container": 10,
    "Serving size": 10,
    "Cholesterol": 8,
    "0mg": 8,
    "Potassium": 8,
    "% Daily Value*": 6,
    "general nutrition": 6,
}
TABLE = {"servings": 10, "Serving size": 9, "Calories": 10, "Cholesterol": 8, "Potassium": 8, "Amount/serving": 6}
SMALL = {"servings": 9, "Serv. size": 9, "Calories": 10, "Cholest.": 8, "Potas.": 8}


@pytest.mark.parametrize(
    ("content", "room", "sizes", "number"),
    [
        (jar(), TALL, UPRIGHT, 22),
        (jar(), WIDE, TABLE, 22),
        (jar(more=display("small tabular", surface("40"))), WIDE, SMALL, 14),
        (jar(more=display("linear", surface("40"))), WIDE, SMALL, 14),
    ],
    ids=["upright", "tabular", "small tabular", "linear"],
)  # 21 CFR 101.9(d)(1)(iii), (d)(3)
def test_the_type_in_the_finished_file_is_as_large_as_the_law_asks(content, room, sizes, number):
    signs = printed(set_on(content, room))
    for words, least in sizes.items():
        assert size_of(words, signs) >= least, words
    assert max(size for sign, size, _ in signs if sign in "60") >= number


def test_letters_in_the_finished_file_are_as_high_as_their_type_size_makes_them():
    """Capitals of Source Sans are 660 thousandths of the type size (its OS/2 table)."""
    from fontTools.ttLib import TTFont

    from labelkit.paper.fonts import face

    high = TTFont(io.BytesIO(face("sans-Regular").data))["OS/2"].sCapHeight / 1000
    straight = [(size, writer) for sign, size, writer in printed(set_on(jar())) if sign in "TDFIV"]
    assert len(straight) > 10
    for size, writer in straight:
        assert writer == pytest.approx(size * high, rel=0.02)
        assert size >= 6


def test_under_twelve_square_inches_nutrients_may_be_six_point():
    """21 CFR 101.9(j)(13)(i)(B)."""
    room = Outline(66_000, 30_000)
    small, larger = (jar("2 oz", display("linear", surface(inches))) for inches in ("11.9", "12"))
    assert size_of("Sodium", printed(set_on(small, room))) >= 6
    assert size_of("Sodium", printed(set_on(larger, Outline(90_000, 50_000)))) >= 8
    with pytest.raises(PanelTooLarge):
        set_on(larger, room)


@pytest.mark.parametrize("look", NAMES)
def test_the_panel_is_black_on_white_in_every_design(look):
    """21 CFR 101.9(d)(1)(i)."""
    placed = set_on(jar(), TALL, look)
    assert {mark.colour for mark in texts(placed)} == {BLACK}
    box = next(mark for mark in placed.marks if isinstance(mark, Shape) and mark.role == "panel").box
    under = [mark for mark in placed.marks if isinstance(mark, Shape) and mark.role == "ground" and mark.box.holds(box)]
    assert under[-1].fill == WHITE


def test_four_points_stand_between_nutrients_and_a_hair_line_in_the_middle_of_them():
    """21 CFR 101.9(d)(1)(ii)(C) and (v)."""
    placed = set_on(jar())
    names = ["Total Fat", "Saturated Fat", "Trans Fat", "Cholesterol", "Sodium", "Total Carbohydrate", "Dietary Fiber"]
    held = [next(mark for mark in texts(placed) if mark.text == name) for name in names]
    rules = [mark.box for mark in placed.marks if isinstance(mark, Shape) and mark.role == "rule"]
    for upper, lower in pairwise(held):
        assert upper.y - lower.y >= upper.size + 4 * POINT - 1
        between = [box for box in rules if lower.y < box.bottom and box.top < upper.y]
        assert len(between) == 1
        assert between[0].height == pytest.approx(POINT / 4, abs=2)


def test_only_what_the_law_sets_in_bold_is_bold():
    """21 CFR 101.9(d)(1)(iv): headings, nutrients that are not set in, percentages; calories by (iii)."""
    lawful = {
        "Nutrition Facts",
        "Serving size",
        "1 tbsp (21g)",
        "Amount per serving",
        "Calories",
        "60",
        "% Daily Value*",
        "Total Fat",
        "Cholesterol",
        "Sodium",
        "Total Carbohydrate",
        "Protein",
    }
    bold = {mark.text for mark in texts(set_on(jar())) if not mark.face.key.endswith("Regular")}
    assert {text for text in bold if "%" not in text} == {text for text in lawful if "%" not in text}
    assert {text for text in bold if text.endswith("%")} == {"0%", "6%"}


def test_the_heading_is_the_largest_but_for_the_calories():
    """21 CFR 101.9(d)(2)."""
    placed = set_on(jar())
    heading = texts(placed, "facts_heading")[0].size
    assert all(mark.size <= heading for mark in texts(placed) if mark.role != "facts_number")


# ------------------------------------------------------------------------------------------------ which display, where


def said_display(placed) -> str:
    return next(note for note in placed.notes if note.startswith("The panel is"))


def test_a_low_label_takes_a_table_and_a_tall_one_never_does():
    """21 CFR 101.9(d)(11)(iii): about three inches of upright room."""
    assert "whole and upright" in said_display(set_on(jar(), Outline(105_000, 125_000)))
    assert "whole and tabular" in said_display(set_on(jar(), WIDE))
    with pytest.raises(DisplayNotLawful):
        set_on(jar(more=display("tabular")), TALL)


@pytest.mark.parametrize(("inches", "lawful"), [("11.9", True), ("12", True), ("40", True), ("40.1", False)])
def test_small_tables_end_at_forty_square_inches(inches, lawful):
    """21 CFR 101.9(j)(13)(ii)(A): 40 itself is in."""
    content = jar(more=display("small tabular", surface(inches)))
    if lawful:
        assert "small tabular" in said_display(set_on(content, WIDE))
    else:
        with pytest.raises(DisplayNotLawful):
            set_on(content, WIDE)


def test_a_small_display_on_a_package_nobody_measured_is_asked_about():
    with pytest.raises(DisplayNotLawful, match="label_surface"):
        set_on(jar(more=display("linear")), WIDE)


def test_a_package_said_to_be_smaller_than_its_label_counts_as_large_as_the_label():
    """300 x 100 mm are 46.5 square inches."""
    with pytest.raises(DisplayNotLawful):
        set_on(jar(more=display("linear", surface("10"))), Outline(300_000, 100_000))


def test_a_jar_whose_side_alone_is_beyond_forty_square_inches_is_not_small():
    """100 mm across and 100 mm high: 31,416 square millimetres or 48.7 square inches of side."""
    with pytest.raises(PanelTooLarge) as told:
        set_on(jar(more='panel = { diameter = "100 mm", height = "100 mm" }'), Outline(67_000, 25_400))
    assert "label_surface" not in str(told.value)


def test_a_running_text_comes_last_and_names_the_added_sugars():
    placed = set_on(jar(more=surface("30")), Outline(66_000, 46_000))
    assert "linear" in said_display(placed)
    assert "Incl. 17g Added Sugars (34%† DV)," in " ".join(lines_of(placed))


def test_a_second_column_is_not_due_where_a_small_display_is_lawful():
    """21 CFR 101.9(b)(12)(i)(A)."""
    placed = set_on(jar("2 oz", surface("20")), WIDE)
    assert "small tabular" in said_display(placed)
    assert not any("Per container" in line for line in lines_of(placed))
    assert any("second column" in note for note in placed.notes)


def test_what_does_not_fit_is_told_in_millimetres_and_the_room_it_names_is_enough():
    with pytest.raises(PanelTooLarge) as told:
        set_on(jar(), Outline(67_000, 25_400))
    assert "mm more height" in str(told.value)
    assert "label_surface" in str(told.value)
    wide, high = (
        Decimal(part) for part in str(told.value).split("a label with at least ")[1].split(" mm")[0].split(" × ")
    )
    edges = Decimal("3.1")
    enough = Outline(int((wide + edges) * 1000), int((high + edges) * 1000))
    assert set_on(jar(), enough).ok


JARS = {
    (weight, inches): jar(weight, surface(inches) if inches else "")
    for weight, inches in (("1 oz", "9"), ("2 oz", None), ("2 oz", "20"), ("12 oz", "40"), ("5 lb", "60"))
}


@pytest.mark.exhaustive(one_in=3)
@pytest.mark.parametrize("name", sheets())
def test_on_every_sheet_the_panel_keeps_within_its_label_or_is_refused(name):
    for which, content in JARS.items():
        try:
            placed = set_on(content, outline(name))
        except PanelTooLarge as told:
            assert "mm more" in str(told), which
            continue
        assert placed.ok, which
        assert not list(overlaps(placed)), which
        assert not list(over_the_edge(placed)), which


@settings(max_examples=examples(25), deadline=None)
@given(some.integers(20_000, 150_000), some.integers(15_000, 150_000), some.sampled_from(sorted(JARS, key=str)))
def test_whatever_the_room_nothing_stands_outside_the_box_of_the_panel(wide, high, which):
    try:
        placed = set_on(JARS[which], Outline(wide, high))
    except PanelTooLarge:
        return
    box = next(mark for mark in placed.marks if isinstance(mark, Shape) and mark.role == "panel").box
    assert all(box.holds(mark.box) for mark in placed.marks if mark.role not in ("ground", "panel"))
    assert placed.outline.holds(box, 1_500)
    assert all(row.ok for row in placed.rows)


# ------------------------------------------------------------------------------------------------ from the command line

FILE = """
market = ["us"]
name = "Clover Honey"
declares = "12 oz"
lot = "L26195AXR"
maker = { name = "Pretend Hollow Apiary", street = "4 Pretend Lane", city = "Pretendton", region = "VA", postcode = "00000" }
panel = { diameter = "70 mm", height = "85 mm" }
"""


def told(tmp_path, capsys, more: str = "") -> dict:
    file = tmp_path / "jar.toml"
    file.write_text(FILE + more, encoding="utf-8")
    out = tmp_path / "panel.pdf"
    arguments = [
        "labels",
        "--label",
        str(file),
        "--kind",
        "front,nutrition",
        "--count",
        "1",
        "--out",
        str(out),
        "--json",
    ]
    assert run(["--day", "2026-11-25", *arguments]) == 0
    assert (tmp_path / "panel-nutrition.pdf").read_bytes().startswith(b"%PDF")
    return json.loads(capsys.readouterr().out)


def test_a_stall_seller_hears_that_no_panel_is_needed_and_that_printing_one_ends_it(tmp_path, capsys):
    answer = told(tmp_path, capsys, '[situation]\nsells_to = ["stall"]\nfood_sales_per_year = "18000 USD"')
    said = " ".join(answer["notes"])
    assert "needs no nutrition panel (21 USC 343 (q)(5)(D); 21 CFR 101.9(j)(1))" in said
    assert "Printing one gives that freedom up" in said
    assert all(row["ok"] for row in answer["heights"])


def test_who_said_nothing_is_asked_whether_the_panel_is_needed(tmp_path, capsys):
    assert "depends on" in " ".join(told(tmp_path, capsys)["notes"])


def test_a_large_seller_hears_that_the_panel_is_needed(tmp_path, capsys):
    large = 'sells_to = ["shop"]\nemployees = 120\nunits_per_year = 200000\nall_sales_per_year = "900000 USD"\nfood_sales_per_year = "900000 USD"\nlabel_surface = "60 in2"'
    assert "This jar needs a nutrition panel" in " ".join(told(tmp_path, capsys, f"[situation]\n{large}")["notes"])


@pytest.mark.parametrize(
    ("situation", "begins", "holds"),
    [
        ('sells_to = ["stall"]\nfood_sales_per_year = "18000 USD"', "This jar needs no", "101.9(j)(1)"),
        (
            'sells_to = ["shop"]\nemployees = 3\nunits_per_year = 6000\nimporter = false',
            "This jar needs no",
            "101.9(j)(18)",
        ),
        (
            'sells_to = ["wholesale"]\nemployees = 4\nunits_per_year = 12000\nimporter = false',
            "This jar needs no",
            "A notice is due once a year",
        ),
        ('label_surface = "11.9 in2"\ncontact_printed = true', "This jar needs no", "(j)(13)(i)"),
        (
            'sells_to = ["stall"]\nfood_sales_per_year = "18000 USD"\nnutrition_claim = true',
            "This jar needs a",
            "no exemption",
        ),
        ('sells_to = ["stall"]', "Whether this jar needs", "food_sales_per_year"),
    ],
)  # FDA, Small Business Nutrition Labeling Exemption Guide; 21 CFR 101.9(j)(1), (13)(i) and (18)
def test_whether_a_panel_is_needed_is_said_with_its_law(situation, begins, holds):
    first = need(read_case(read_label(f"{FILE}[situation]\n{situation}"), market("us", DAY)))[0]
    assert first.startswith(begins)
    assert holds in first


def test_a_nutrient_that_is_not_known_is_named_with_the_nearest():
    with pytest.raises(LabelKeyUnknown, match="sugar"):
        read_label(f"{FILE}\n[nutrition]\nsugar = 80")


@pytest.mark.parametrize(
    "line",
    [
        'calories = "many"',
        "sugars = -1",
        "fat = 120",
        "carbohydrate = 70\nsugars = 80",
        'display = "round"',
        "iron = true",
    ],
)
def test_an_amount_that_cannot_be_is_refused(line):
    with pytest.raises(LabelValueWrong):
        read_label(f"{FILE}\n[nutrition]\n{line}")


# ------------------------------------------------------------------------------------------------------------ looking

#: Average difference that is left to the renderer, of 255 shades.
SHADES = 1

PICTURES = {
    "nutrition-upright": (jar(), TALL),
    "nutrition-upright-simplified": (jar(), Outline(60_000, 86_000)),
    "nutrition-upright-two-columns": (jar("2 oz"), Outline(75_000, 125_000)),
    "nutrition-tabular": (jar(), WIDE),
    "nutrition-tabular-footnote-beside": (jar(), Outline(130_000, 48_000)),
    "nutrition-tabular-two-columns": (jar("2 oz"), Outline(155_000, 60_000)),
    "nutrition-small-tabular": (jar("2 oz", surface("20")), Outline(90_000, 48_000)),
    "nutrition-linear": (jar("3 oz", surface("30")), Outline(66_000, 46_000)),
    "nutrition-linear-under-twelve-inches": (jar("1 oz", surface("9")), Outline(66_000, 30_000)),
    "nutrition-two-ingredients": (jar(more='kind = "infused"\ningredients = ["honey", "cinnamon"]'), TALL),
}


def picture(name: str) -> Image.Image:
    content, room = PICTURES[name]
    return Image.open(io.BytesIO(preview_png(pdf_of(set_on(content, room)), 1, 110))).convert("L")


@pytest.mark.parametrize("name", PICTURES)
def test_it_looks_as_it_did_when_somebody_last_looked(name):
    """A person has looked at these; a few shades are left to the renderer. Anew: python -m tests.labels.test_nutrition_panel"""
    held, made = Image.open(GOLDEN / f"{name}.png").convert("L"), picture(name)
    assert held.size == made.size
    apart = ImageStat.Stat(ImageChops.difference(held, made))
    assert apart.mean[0] < SHADES, f"{name} differs by {apart.mean[0]:.1f} shades of 255 on average; look at it"


def test_a_panel_moved_by_half_a_millimetre_would_be_noticed():
    held = Image.open(GOLDEN / "nutrition-upright.png").convert("L")
    moved = ImageChops.offset(held, 2, 0)
    assert ImageStat.Stat(ImageChops.difference(held, moved)).mean[0] > SHADES


if __name__ == "__main__":
    GOLDEN.mkdir(parents=True, exist_ok=True)
    for one in PICTURES:
        picture(one).quantize(64).save(GOLDEN / f"{one}.png", optimize=True)

"""The maker's own artwork as ground: words over it where they can be read, measured on what is really behind them."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import numpy as np
import pypdfium2
import pytest
from PIL import Image, ImageDraw

from labelkit.errors.labels import ArtworkRefused, ArtworkUnreadable, LabelTooSmall, WordBoxUnfit
from labelkit.labels.backdrop.measure import calm_fields, ground_of, measured
from labelkit.labels.backdrop.picture import Backdrop, WordBox, laid, read_backdrop
from labelkit.labels.design import design
from labelkit.labels.layout.kinds import place
from labelkit.labels.outline import Outline
from labelkit.labels.printing import print_sheet
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BLACK, WHITE, Text
from labelkit.reading.word_boxes import read_word_boxes
from tests.labels.samples import label

FRONT = Outline(101_600, 50_800)
CREAM, FOREST = (250, 240, 215), (30, 60, 40)


def picture(draw=None, colour=CREAM, size=(408, 204)) -> bytes:
    made = Image.new("RGB", size, colour)
    if draw:
        draw(ImageDraw.Draw(made))
    out = BytesIO()
    made.save(out, "PNG")
    return out.getvalue()


def stripes(pen) -> None:
    for x in range(0, 408, 8):
        pen.rectangle((x, 0, x + 3, 204), fill=(20, 20, 20))


def on(data: bytes, **more) -> Backdrop:
    return replace(read_backdrop(data, "mine.png"), **more)


def placed(artwork: Backdrop, outline: Outline = FRONT, kind: str = "front"):
    return place(replace(label("us"), artwork=artwork, kind=kind), outline, design("press"))


def test_on_an_even_light_ground_every_word_stands_and_nothing_is_moved():
    found = placed(on(picture()))
    assert found.ok and not found.moved and found.on.contrast > 4.5


def test_on_a_dark_ground_the_letters_are_white():
    texts = [mark for mark in placed(on(picture(colour=FOREST))).marks if isinstance(mark, Text)]
    assert {text.colour for text in texts} == {WHITE}


def test_stripes_are_refused_with_the_figures():
    with pytest.raises(ArtworkUnreadable, match=r"by 1\.\d to 1 at the least, and 4.5 to 1 is asked") as told:
        placed(on(picture(stripes)))
    assert "0.00 mm of " in told.value.what and "--artwork-ground" in told.value.do


def test_a_ground_under_the_words_makes_any_artwork_readable():
    found = placed(on(picture(stripes), ground=CREAM))
    assert found.ok and found.on.contrast > 4.5
    (box,) = found.on.boxes
    assert all(box.holds(mark.box) for mark in found.marks if isinstance(mark, Text))


def test_words_go_to_the_calm_part_of_the_artwork():
    busy = on(picture(lambda pen: [pen.rectangle((x, 0, x + 3, 204), fill=BLACK) for x in range(268, 408, 8)]))
    found = placed(busy)
    assert max(mark.box.right for mark in found.marks if isinstance(mark, Text)) < 68_000


def test_contrast_is_that_of_the_page_as_an_independent_reader_draws_it():
    """PDFium draws the printed sheet; the darkest spot beside the name is set against the letters by the formula of WCAG 2.2."""
    shade = on(picture(lambda pen: pen.rectangle((0, 0, 204, 204), fill=(160, 160, 160))))
    sheet = print_sheet([replace(label("us"), artwork=shade)], "letter-2x5-102x51", design("press"))
    drawn = pypdfium2.PdfDocument(sheet.pdf)[0].render(scale=2).to_pil().convert("RGB")
    grey = sum(1 for _, colour in drawn.getcolors(10**6) if colour == (160, 160, 160))
    assert grey
    # Grey 160 has a luminance of 0.3515, black nought: (0.3515 + 0.05) / 0.05 = 8.03; reckoned by hand from the formula.
    assert float(sheet.placed[0].on.contrast) == pytest.approx(8.03, abs=0.05)


def test_a_figure_beside_the_net_quantity_is_measured_to_a_fifth_of_a_millimetre():
    def draw(pen):
        pen.rectangle((300, 0, 303, 508), fill=BLACK)

    ground = measured(Image.open(BytesIO(picture(draw, size=(1016, 508)))), Outline(101_600, 50_800))
    net = Box(10_000, 5_000, 20_000, 8_000)
    assert ground.clear(net, beside=True, within=FRONT.box) == pytest.approx(10_000, abs=200)
    assert ground.clear(net, beside=False, within=FRONT.box) == FRONT.high


def test_the_largest_calm_field_is_the_largest_rectangle():
    def draw(pen):
        pen.rectangle((0, 0, 1016, 200), fill=(128, 128, 128))

    made = Image.open(BytesIO(picture(draw, size=(1016, 508))))
    area, field = calm_fields(measured(made, FRONT), [BLACK, WHITE], 0)[0]
    # Black on grey 128 holds 5.3 to 1, so the whole label is calm for black.
    assert (area, field.width) == (101 * 50, 101_000)


@pytest.mark.parametrize("bleed", [0, 2_000, 3_000])
def test_artwork_covers_label_and_bleed_and_keeps_its_proportions(bleed):
    def rings(pen):
        pen.ellipse((154, 52, 254, 152), fill=BLACK)

    under = laid(on(picture(rings)), FRONT, (bleed, bleed), 300)
    (inner,) = under.mark.marks
    assert inner.box == FRONT.box.grown(bleed)
    drawn = np.asarray(Image.open(BytesIO(inner.data)).convert("L")) < 128
    per_mm = drawn.shape[1] / (inner.wide / 1000)
    across, up = drawn.any(axis=0).sum() / per_mm, drawn.any(axis=1).sum() / (drawn.shape[0] / (inner.high / 1000))
    assert across == pytest.approx(up, rel=0.02)


def test_the_trim_of_a_page_lies_on_the_edge_of_the_label():
    from reportlab.pdfgen.canvas import Canvas

    out = BytesIO()
    page = Canvas(out, pagesize=(306, 162))
    page.setFillColorRGB(1, 1, 0.8)
    page.rect(0, 0, 306, 162, stroke=0, fill=1)
    page.setTrimBox((9, 9, 297, 153))
    page.showPage()
    page.save()
    found = read_backdrop(out.getvalue(), "mine.pdf")
    # 288 × 144 points are 101.6 × 50.8 mm.
    assert (found.wide, found.high, found.over) == (101_600, 50_800, (3_175,) * 4)
    assert laid(found, FRONT, (3_000, 3_000), 300).over == (0, 0)


def test_round_labels_clip_the_picture():
    found = placed(on(picture()), Outline(64_000, 64_000, "round"), "lid")
    assert found.marks[0].path[1][0] == "C"


def test_boxes_of_the_maker_hold_their_words_and_keep_their_colours():
    boxes = (
        WordBox(("maker", "name", "line"), 4_000, 4_000, 55_000, 28_000, ink=(90, 20, 10), align="left"),
        WordBox(("net",), 4_000, 36_000, 50_000, 11_000),
        WordBox(("rest",), 62_000, 2_000, 37_000, 46_000, ground=WHITE),
    )
    found = placed(on(picture(), boxes=boxes))
    for box in boxes:
        inside = [mark for mark in found.marks if isinstance(mark, Text) and box.on(FRONT).holds(mark.box)]
        assert inside and (box.ink is None or {text.colour for text in inside} == {box.ink})
    assert found.ok and not found.moved


@pytest.mark.parametrize(
    ("box", "says"),
    [
        (WordBox(("rest",), 90_000, 4_000, 30_000, 30_000), "does not lie on the label of 101.6 × 50.8 mm"),
        (WordBox(("name",), 4_000, 4_000, 30_000, 30_000), "it lies over box 1"),
    ],
)
def test_boxes_off_the_label_or_over_one_another_are_refused(box, says):
    first = WordBox(("net",), 10_000, 5_000, 40_000, 20_000)
    with pytest.raises(WordBoxUnfit, match=says):
        placed(on(picture(), boxes=(first, box)))


def test_a_box_too_low_says_how_much_is_wanting():
    small = WordBox(("caution", "address"), 4_000, 4_000, 30_000, 5_000)
    with pytest.raises(LabelTooSmall, match=r"wants \d+ mm more height"):
        placed(on(picture(), boxes=(small, WordBox(("rest",), 40_000, 2_000, 58_000, 46_000))))


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"<svg/>", "neither PNG nor JPEG nor PDF"),
        (picture()[:200], "damaged or cut off"),
        (b"%PDF-1.7 nothing", "cannot be drawn"),
    ],
)
def test_what_is_no_artwork_is_refused(data, says):
    with pytest.raises(ArtworkRefused, match=says):
        read_backdrop(data, "mine")


def test_a_nutrition_panel_stands_on_no_artwork():
    with pytest.raises(ArtworkRefused, match="plain ground of its own"):
        placed(on(picture()), kind="nutrition")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (("words = ", "colour = "), "unknown or missing: colour, words"),
        (('["name"]', '["price"]'), "words are a list out of"),
        (('"60 mm"', '"sixty"'), "width"),
        (('align = "left"', 'align = "right"'), "neither left nor centre"),
        (('ink = "#102030"', 'ink = "blue"'), "not a colour"),
        (("[[box]]", "[[boxes]]"), "it holds boxes"),
        (("[[box]]", "[[box"), "cannot be read"),
    ],
)
def test_a_wrong_file_of_boxes_is_refused(change, says):
    text = (
        '[[box]]\nwords = ["name"]\nleft = "4 mm"\ntop = "4 mm"\nwidth = "60 mm"\nheight = "9 mm"\nalign = "left"\n'
        'ink = "#102030"'
    )
    assert read_word_boxes(text, "boxes.toml", "en_US")["front"][0].ink == (16, 32, 48)
    with pytest.raises(WordBoxUnfit, match=says):
        read_word_boxes(text.replace(*change), "boxes.toml", "en_US")


def test_what_is_measured_is_drawn_without_the_letters():
    found = placed(on(picture()))
    assert float(ground_of(found.marks, FRONT).light.min()) > 0.8

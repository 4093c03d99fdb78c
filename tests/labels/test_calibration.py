"""The ruler page: what a crooked printer does to it, and that the correction undoes it."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labelkit.errors.labels import RulerUnlikely
from labelkit.labels.calibration import corrected, crosses, ruler_page
from labelkit.labels.sheets import scale
from labelkit.measures import Length


@given(
    st.integers(990, 1010),
    st.integers(990, 1010),
    st.integers(-5000, 5000),
    st.integers(-5000, 5000),
    st.integers(0, 215_000),
    st.integers(0, 279_000),
)
def test_what_a_printer_stretches_and_shifts_is_undone(sx, sy, dx, dy, x, y):
    """A printer puts (x, y) at (x·s + d). Read off its ruler page to the micrometre, the correction brings it back."""

    def printed(point):
        return Decimal(point[0]) * sx / 1000 + dx, Decimal(point[1]) * sy / 1000 + dy

    held = crosses("letter")
    (ax, ay), (bx, _), (_, cy) = map(printed, (held.a, held.b, held.c))
    lengths = [Length(round(value)) for value in (bx - ax, cy - ay, ax, ay)]
    printer = corrected("letter", *lengths)
    back = printed(printer.corner(x, y))
    assert abs(back[0] - x) < 6 and abs(back[1] - y) < 6


def test_a_true_printer_needs_nothing():
    mm = Length.of_mm
    printer = corrected("letter", mm(150), mm(200), mm("32.95"), mm("39.7"))
    assert (printer.nudge_x, printer.nudge_y, printer.scale_x, printer.scale_y) == (0, 0, 1, 1)


def test_the_crosses_stand_where_the_page_says(tmp_path):
    """Found in a picture of the page at 254 dpi, where ten dots are a millimetre."""
    import pypdfium2

    image = pypdfium2.PdfDocument(ruler_page("a4"))[0].render(scale=254 / 72, grayscale=True).to_pil()
    wide, high = image.size
    for x, y in (crosses("a4").a, crosses("a4").b, crosses("a4").c):
        px, py = x / 100, high - y / 100
        for away in (-35, 35):
            assert min(image.crop((int(px + away), int(py) - 2, int(px + away) + 2, int(py) + 3)).tobytes()) < 140
            assert min(image.crop((int(px) - 2, int(py + away), int(px) + 3, int(py + away) + 2)).tobytes()) < 140
    assert wide == 2100


def test_a_page_fitted_to_its_margins_is_refused():
    mm = Length.of_mm
    with pytest.raises(RulerUnlikely, match="145"):
        corrected("a4", mm(145), mm(193), mm(30), mm("48.5"))
    with pytest.raises(RulerUnlikely, match="to the side"):
        corrected("a4", mm(150), mm(200), mm(45), mm("48.5"))
    with pytest.raises(RulerUnlikely):
        scale("0.9")


def test_the_command_prints_the_page_and_turns_readings_into_options(tmp_path):
    import json

    from click.testing import CliRunner

    from labelkit.cli._runner import program

    out = tmp_path / "ruler.pdf"
    assert CliRunner().invoke(program, ["ruler", "--page", "a4", "--out", str(out)]).exit_code == 0
    assert out.read_bytes().startswith(b"%PDF")
    told = CliRunner().invoke(program, ["ruler", "--page", "a4", "--measured", "150, 200, 30.5, 48.2", "--json"])
    answer = json.loads(told.output)
    assert (answer["nudge_right_um"], answer["nudge_up_um"], answer["scale_across"]) == (-500, 300, "1")

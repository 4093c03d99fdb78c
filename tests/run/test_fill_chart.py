"""The control chart: limits by the published example, every jar drawn, and nothing of a name that could be markup."""

import itertools
import re
from datetime import date
from decimal import Decimal
from xml.etree import ElementTree

import pytest

from labelkit.measures import Declared, Mass
from labelkit.reading.weight_list import of_options
from labelkit.rules import market
from labelkit.run.check_weighing.chart import control_chart, control_limits, drift
from tests.run.judging import fill_test

D = Decimal
SVG = "{http://www.w3.org/2000/svg}"


def chart(weights: list[str], title: str = "lot", locale: str = "en_US"):
    found = fill_test(Declared.read("340 g", "en_US"), market("uk", date(2026, 11, 25)), 300, of_options(weights))
    return found.verdict, ElementTree.fromstring(control_chart(found.verdict, title, locale))


def test_the_limits_of_the_handbook_example():
    # NIST/SEMATECH e-Handbook 6.3.2.2, flow rates of ten batches: 50.81, 55.8041, 45.8159 (from memory).
    flow = [D(v) for v in ("49.6", "47.6", "49.9", "51.3", "47.8", "51.2", "52.6", "52.4", "53.6", "52.1")]
    limits = control_limits(flow)
    assert limits.centre == D("50.81")
    assert round(limits.moving_range, 4) == D("1.8778")
    assert (round(limits.upper, 4), round(limits.lower, 4)) == (D("55.8041"), D("45.8159"))


def test_one_jar_has_no_moving_range():
    assert control_limits([D(340)]).upper == D(340)


@pytest.mark.parametrize(
    ("weights", "run"),
    [
        ([1] * 8, None),
        ([1] * 8 + [5], (1, 8)),
        ([5] + [1] * 7 + [5], None),
        ([5, 1, 1, 1, 1, 1, 1, 1, 1, 1], (2, 10)),
    ],
)
def test_eight_on_one_side_are_a_drift(weights, run):
    centre = D(1) if len(set(weights)) == 1 else D(3)
    assert drift([D(w) for w in weights], centre) == run


def dots(picture):
    """The kind of each dot, and how far it reaches."""
    for path in picture.iter(f"{SVG}path"):
        name, _, kind = (path.get("class") or "").partition(" ")
        if name == "dot":
            numbers = [float(number) for number in re.findall(r"-?[\d.]+", path.get("d"))]
            yield kind, numbers[::2], numbers[1::2]


def test_every_jar_is_a_dot_and_short_ones_are_marked():
    verdict, picture = chart(["341 g", "340 g", "328 g", "319 g", "342 g"])
    kinds = [kind for kind, _, _ in dots(picture)]
    assert len(kinds) == 5
    assert kinds[2:4] == ["short", "deep"]
    assert verdict.short == (3, 4)


def test_dots_and_lines_stay_on_the_picture():
    _, picture = chart([f"{336 + (i * 7) % 11}.5 g" for i in range(120)])
    wide, high = (float(n) for n in picture.get("viewBox").split()[2:])
    for _, across, down in dots(picture):
        assert 0 <= min(across) < max(across) <= wide and 0 <= min(down) < max(down) <= high
    for text in picture.iter(f"{SVG}text"):
        assert 0 <= float(text.get("y")) <= high


def test_words_beside_the_lines_never_touch():
    _, picture = chart(["340 g", "340.1 g", "339.9 g", "340.2 g"])
    words = [text for text in picture.iter(f"{SVG}text") if text.get("class") == "word"]
    heights = sorted(float(text.get("y")) for text in words)
    assert all(b - a >= float(words[0].get("font-size")) * 1.2 for a, b in itertools.pairwise(heights))


def test_a_name_with_markup_stays_a_name():
    _, picture = chart(["340 g", "341 g"], title="<Meadow> & “Hill”")
    assert picture.find(f"{SVG}title").text.startswith("<Meadow> & “Hill”")


def test_the_chart_writes_numbers_as_its_reader_does():
    _, picture = chart(["340 g", "341.6 g", "339 g"], locale="de_DE")
    assert any("340,2 g" in (t.text or "") for t in picture.iter(f"{SVG}text"))


def test_jars_all_alike_can_be_drawn():
    verdict, picture = chart(["341 g"] * 3)
    assert verdict.sample.weights[0] == Mass.read("341 g", "en_US")
    assert len([*dots(picture)]) == 3

"""The picture: every band as wide as its honey, nothing outside the page, the same bytes for the same trace."""

import itertools
import re
import xml.etree.ElementTree as ElementTree
from collections import defaultdict

import pytest
from hypothesis import given, settings

from labelkit.measures import Declared
from labelkit.measures.wording import ENGLISH
from labelkit.record import open_record
from labelkit.record.lookup import find_lot, find_source
from labelkit.run.bottling import Filled, bottle
from labelkit.sale.events import Sale, SaleLine
from labelkit.trace.flow import flow
from labelkit.trace.follow import Start, follow
from labelkit.trace.picture import picture
from tests.record.season import AT, LATER, LOT, POUND, book_season, kg, line, weigh
from tests.record.seasons_at_random import live, verbs
from tests.walks import examples

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def season(tmp_path_factory):
    with book_season(tmp_path_factory.mktemp("season") / "season.labelkit") as book:
        yield book


def traced(book, find, *what, **named):
    with book.reading() as state:
        start = find(state, *what, **named)
        return follow(start, state.story(start.lots))


def boxes(page, role):
    """Left, top, right and bottom of the outlines of a role."""
    for path in page.iter(f"{SVG}path"):
        if path.get("class") == role:
            numbers = [float(number) for number in re.findall(r"-?[\d.]+", path.get("d"))]
            yield min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2])


def check_page(trace):
    page = ElementTree.fromstring(picture(trace, "en_US", ENGLISH))
    width, height = map(float, page.get("viewBox").split()[2:])
    pixel = width / float(page.get("width"))
    for left, top, right, bottom in boxes(page, "bar"):
        assert left >= 0 and top >= 100 * pixel and right <= width and top < bottom <= height - 30 * pixel
    return page


def test_the_picture_is_one_svg_document_inside_its_page(season):
    page = check_page(traced(season, find_lot, LOT))
    said = {text.text for text in page.iter(f"{SVG}text")}
    assert {"Mill meadow", "Old orchard", "B1", "B2", "M1", LOT, "In stock", "Corner shop", "Unexplained"} <= said
    assert len([*boxes(page, "asked")]) == 1


def test_the_picture_of_one_trace_has_the_same_bytes_every_time(season):
    assert picture(traced(season, find_lot, LOT), "en_US", ENGLISH) == picture(
        traced(season, find_lot, LOT), "en_US", ENGLISH
    )


def test_bars_of_one_column_do_not_touch(season):
    page = check_page(traced(season, find_source, yard="Mill meadow"))
    columns = defaultdict(list)
    for left, top, _, bottom in boxes(page, "bar"):
        columns[left].append((top, bottom))
    for bars in columns.values():
        assert all(bottom < top for (_, bottom), (top, _) in itertools.pairwise(sorted(bars)))


def test_names_that_could_be_markup_are_only_names(tmp_path):
    from labelkit.lots.bucket import Source

    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("B1<b>", "3", Source("<script>1</script> & sons")))
            work.commit()
        page = ElementTree.fromstring(picture(traced(book, find_lot, "B1<b>"), "en_US", ENGLISH))
    assert not list(page.iter(f"{SVG}script"))
    assert any("& sons" in (text.text or "") for text in page.iter(f"{SVG}text"))


@settings(max_examples=examples(25))
@given(season=verbs)
def test_for_any_season_what_comes_into_a_node_goes_out_of_it(tmp_path_factory, season):
    with open_record(tmp_path_factory.mktemp("any") / "season.labelkit", create=True) as book:
        live(book, season)
        story = tuple(book.events())
    buckets = sorted({m.lot for each in story for m in each.movements()})
    trace = follow(Start("yard", "all", tuple(buckets)), story)
    shape = flow(trace, ENGLISH)
    came, went = defaultdict(int), defaultdict(int)
    for band in shape.bands:
        assert band.mass.mg > 0
        came[band.target] += band.mass.mg
        went[band.source] += band.mass.mg
    # A bucket that weighs more when it is weighed again holds honey nobody saw come.
    found = {b.lot: -min(b.unexplained.mg, 0) - min(b.reweighed.mg, 0) for b in trace.balances}
    for node in shape.nodes:
        if node.sort in ("bucket", "blend", "lot"):
            assert went[node.id] == came[node.id] + found[node.name], node
    if shape.nodes:
        check_page(trace)
        assert not re.search(r"\b(nan|inf|None)\b", picture(trace, "en_US", ENGLISH))


def test_what_a_buyer_had_is_weighed_and_not_shared_out_by_count(tmp_path):
    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("B1", "50"))
            jars = [
                Filled("large", Declared.read("1 kg", "en_US"), 10, kg("1")),
                Filled("small", Declared.read("100 g", "en_US"), 10, kg("0.1")),
            ]
            work.add(bottle(work.bucket("B1"), LOT, LATER, jars, locale="en_US"))
            work.add(Sale(LATER, (SaleLine(LOT, "large", 4, kg("1")),), customer="Hill café"))
            work.add(Sale(LATER, (SaleLine(LOT, "small", 6, kg("0.1")),), customer="Corner shop"))
            work.commit()
        shape = flow(traced(book, find_lot, LOT), ENGLISH)
    assert {(b.target, b.mass) for b in shape.bands if b.target in ("Hill café", "Corner shop")} == {
        ("Hill café", kg("4")),
        ("Corner shop", kg("0.6")),
    }


def test_more_buyers_than_fit_are_drawn_as_one(tmp_path):
    with open_record(tmp_path / "season.labelkit", create=True) as book:
        with book.work(who="Ada", at=AT) as work:
            work.add(weigh("B1", "50"))
            work.add(
                bottle(
                    work.bucket("B1"),
                    LOT,
                    LATER,
                    [Filled("one pound", Declared.read("1 lb", "en_US"), 60, POUND)],
                    locale="en_US",
                )
            )
            work.add_all(Sale(LATER, (line(n),), customer=f"Shop {n}") for n in range(1, 10))
            work.commit()
        shape = flow(traced(book, find_lot, LOT), ENGLISH)
    buyers = {node.name: node.note for node in shape.nodes if "hop" in node.name or "buyers" in node.name}
    assert buyers == {
        "Shop 9": "9 jars",
        "Shop 8": "8 jars",
        "Shop 7": "7 jars",
        "Shop 6": "6 jars",
        "Shop 5": "5 jars",
        "4 other buyers": "10 jars",
    }

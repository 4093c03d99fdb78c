"""The plan's picture says what the plan says, and is well-formed whatever the buckets are called."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

from labelkit.measures import Declared, Mass, Money
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Text
from labelkit.plan import JarSize, Joining, Keep, PlanBucket, PlanRequest, jar_plan
from labelkit.plan.picture import plan_marks, plan_svg

SVG = "{http://www.w3.org/2000/svg}"


def usd(amount):
    return Money.of(amount, "USD")


def asked(*buckets):
    sizes = (
        JarSize("one pound", Declared.read("1 lb", "en_US"), Mass.read("1 lb", "en_US"), usd("12.00"), usd("1.35")),
        JarSize(
            "half <pound>",
            Declared.read("8 oz", "en_US"),
            Mass.read("8 oz", "en_US"),
            usd("7.00"),
            usd("1.05"),
            at_most=5,
        ),
    )
    return PlanRequest(tuple(PlanBucket(name, Mass.read(holds, "en_US")) for name, holds in buckets), sizes, "USD")


def drawn(request):
    plan = jar_plan(request)
    return plan, ET.fromstring(plan_svg(request, plan, "en_US"))


def stretches(svg, sort=""):
    """Top, and length in pixels, of every stretch of a bar; of those of one sort if one is named."""
    pixel = float(svg.get("viewBox").split()[2]) / float(svg.get("width"))
    for parent in svg.iter():
        for child in parent:
            if (child.get("class") or "").split() != ["stretch", *sort.split()]:
                continue
            outline = child.get("d") or child[0].get("d")
            numbers = [float(number) for number in re.findall(r"-?[\d.]+", outline)]
            yield min(numbers[1::2]), (max(numbers[0:8:2]) - min(numbers[0:8:2])) / pixel


def test_every_stretch_of_a_bar_is_as_long_as_the_honey_in_it():
    plan, svg = drawn(asked(("B1", "20 lb"), ("B2", "10 lb")))
    per_bucket = {}
    for top, length in stretches(svg):
        per_bucket.setdefault(top, []).append(length)
    filled = [sum(widths) for widths in per_bucket.values()]
    expected = [760 * bucket.filled.mg / plan.buckets[0].usable.mg for bucket in plan.buckets]
    assert [round(width) for width in filled] == [round(width) for width in expected]


def test_names_with_markup_in_them_stay_text():
    _, svg = drawn(asked(("B1 & <script>", "3 lb")))
    words = [text.text for text in svg.iter(f"{SVG}text")]
    assert "B1 & <script>" in words
    assert not list(svg.iter(f"{SVG}script"))


def test_many_buckets_are_drawn_up_to_sixty_and_the_rest_counted():
    _, svg = drawn(asked(*((f"B{n}", "2 lb") for n in range(75))))
    assert "and 15 more buckets" in [text.text for text in svg.iter(f"{SVG}text")]


def every_wish():
    """Two clover buckets whose tails make a jar together, honey kept in one of them, two jars not for sale."""
    pound = JarSize(
        "one pound", Declared.read("1 lb", "en_US"), Mass.of_grams(500), usd("12.00"), usd("1.35"), reserve=2
    )
    buckets = (PlanBucket("B1", Mass.of_grams(5_300)), PlanBucket("B2", Mass.of_grams(6_300)))
    return PlanRequest(buckets, (pound,), "USD", keep=(Keep("winter feed", Mass.of_grams(2_000)),), joining=Joining())


def test_kept_honey_and_poured_honey_stand_in_the_bars_and_the_legend():
    plan, svg = drawn(every_wish())
    (blend,) = plan.blends
    (kept,) = plan.kept
    scale = 760 / 6_300
    assert [round(length) for _, length in stretches(svg, "kept")] == [round(2_000 * scale)]
    poured = sorted(round(length) for _, length in stretches(svg, "poured"))
    assert poured == sorted(round(int(m.g) * scale) for _, m in blend.parts)
    words = ["".join(text.itertext()) for text in svg.iter(f"{SVG}text")]
    assert "2 kg winter feed" in words
    assert "blend 1" in words
    assert "from B1, B2" in words or "from B2, B1" in words
    assert any(word.startswith("one pound ") and word.endswith("2 of them not for sale") for word in words)
    assert "kept unbottled 2 kg" in words
    assert any(word.startswith("poured into a blend ") for word in words)
    left = [bucket.left - sum((m for n, m in blend.parts if n == bucket.id), Mass(0)) for bucket in plan.buckets]
    left = [
        mass - kept.mass if bucket.id == kept.bucket else mass for mass, bucket in zip(left, plan.buckets, strict=True)
    ]
    assert all(mass.mg >= 0 for mass in left)


def test_every_pattern_is_cut_off_at_its_field_and_dark_is_told_apart():
    text = plan_svg(every_wish(), jar_plan(every_wish()), "en_US")
    svg = ET.fromstring(text)
    defined = {clip.get("id") for clip in svg.iter(f"{SVG}clipPath")}
    used = {e.get("clip-path")[5:-1] for e in svg.iter() if e.get("clip-path")}
    assert used and used == defined
    assert "prefers-color-scheme: dark" in text


def test_the_run_sheet_has_the_same_bars_and_all_of_them_lie_on_the_paper():
    request = every_wish()
    plan = jar_plan(request)
    marks, wide, high = plan_marks(plan, request.sizes, 172_000, "en_US")
    assert all(Box(0, 0, wide, high).holds(mark.box) for mark in marks)
    lengths = {
        sort: sorted(mark.box.width for mark in marks if mark.role == f"stretch {sort}".strip())
        for sort in ("", "kept", "poured")
    }
    per_gram = lengths["kept"][0] / 2_000
    (blend,) = plan.blends
    poured = sorted(int(mass.g) for _, mass in blend.parts)
    assert [abs(a - b * per_gram) < 150 for a, b in zip(lengths["poured"], poured, strict=True)] == [True, True]
    assert {mark.text for mark in marks if isinstance(mark, Text)} >= {"B1", "B2", "blend 1", "kept unbottled"}


def test_a_long_legend_goes_on_in_another_line_within_the_picture():
    sizes = tuple(
        JarSize(
            f"a jar with a long name {n}",
            Declared.read("1 lb", "en_US"),
            Mass.of_grams(200 + n),
            usd("12.00"),
            usd("1.35"),
            at_least=1,
        )
        for n in range(8)
    )
    _, svg = drawn(PlanRequest((PlanBucket("B1", Mass.of_grams(9_000)),), sizes, "USD"))
    keys = [
        text
        for text in svg.iter(f"{SVG}text")
        if "a jar with" in "".join(text.itertext()) and text.get("text-anchor") is None
    ]
    assert len({key.get("y") for key in keys}) > 1
    wide = float(svg.get("viewBox").split()[2])
    assert all(float(key.get("x")) < 0.9 * wide for key in keys)

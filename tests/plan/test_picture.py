"""The plan's picture says what the plan says, and is well-formed whatever the buckets are called."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from labelkit.measures import Mass, Money
from labelkit.plan import JarSize, PlanBucket, PlanRequest, jar_plan
from labelkit.plan.picture import plan_svg

SVG = "{http://www.w3.org/2000/svg}"


def usd(amount):
    return Money.of(amount, "USD")


def asked(*buckets):
    sizes = (
        JarSize("one pound", "1 lb", Mass.read("1 lb"), usd("12.00"), usd("1.35")),
        JarSize("half <pound>", "8 oz", Mass.read("8 oz"), usd("7.00"), usd("1.05"), at_most=5),
    )
    return PlanRequest(tuple(PlanBucket(name, Mass.read(holds)) for name, holds in buckets), sizes, "USD")


def drawn(request):
    plan = jar_plan(request)
    return plan, ET.fromstring(plan_svg(request, plan))


def test_every_stretch_of_a_bar_is_as_long_as_the_honey_in_it():
    plan, svg = drawn(asked(("B1", "20 lb"), ("B2", "10 lb")))
    bars = [rect for rect in svg.iter(f"{SVG}rect") if rect.get("height") == "40"]
    per_bucket = {}
    for rect in bars:
        per_bucket.setdefault(rect.get("y"), []).append(float(rect.get("width")))
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

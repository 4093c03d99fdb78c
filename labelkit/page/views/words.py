"""What the labels of each product say, and how its maker works: kept in the record by ``labelkit label-words``."""

from __future__ import annotations

from flask import Blueprint, request

from labelkit.errors import LabelkitError
from labelkit.errors.sale import ProductUnknown
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.units import LENGTH, rewritten
from labelkit.page import request_context
from labelkit.page.forms import booked, lines, step_key, typed
from labelkit.page.label_choice import shown_sides
from labelkit.page.language import later, say
from labelkit.page.view import href, page
from labelkit.reading.situation import fact_value
from labelkit.rules.label import STORY
from labelkit.sale.product import KINDS, Product
from labelkit.season.label_words import LabelWords, keep_words, whom_to_ask

view = Blueprint("words", __name__)

#: What each kind of product is called.
KIND_WORDS = {
    "honey": later("honey"),
    "set": later("set honey"),
    "comb": later("comb honey"),
    "chunk": later("honey with comb in it"),
    "infused": later("honey with something in it"),
    "blend": later("a blend with other food"),
    "wax": later("wax"),
    "candle": later("candles"),
    "goods": later("other goods"),
}

FACTS = (
    "home_kitchen",
    "own_hives",
    "sells_to",
    "gallons_per_year",
    "food_sales_per_year",
    "employees",
    "units_per_year",
    "pasteurized",
    "infused",
)


@view.get("/words")
def words() -> str:
    """What every label says."""
    return _words()


@view.post("/words")
def keep():
    """Keep what the labels say."""
    product = typed("product")
    where = href("/words", product=product) if product else "/labels"
    return booked(_kept, _words, lambda _: where, lambda _: say("Your label says so from now on."))


def _kept():
    context = request_context.context()
    with context.work(step_key()) as work:
        return keep_words(work, _asked(), context.day)


def _asked() -> LabelWords:
    """What the form says; an answer that was taken out of it is open again."""
    texts = {name: typed(name) for name in ("name", "floral_source", "grade", "best_before", "design", *STORY)}
    product = typed("product")
    if typed("new") and not product:
        raise ProductUnknown(product, [each.called for each in request_context.season().products.values()])
    retired = bool(typed("retired")) if product else None
    jars, locale = {}, request_context.context().locale
    for size in request_context.season().prices:
        wide, high = typed(f"wide:{size}"), typed(f"high:{size}")
        if wide:
            jars[size] = {
                side: rewritten(text, LENGTH, locale, DEFAULT_LOCALE)
                for side, text in (("diameter", wide), ("height", high))
                if text
            }
    given = {name: _given(name) for name in FACTS}
    return LabelWords(
        {**texts, "origin": typed("origin").upper(), "kind": typed("kind") or "honey"},
        tuple(lines("lines")),
        jars,
        facts={name: fact_value(name, text, locale) for name, text in given.items() if text},
        unsay=[name for name, text in given.items() if not text],
        ingredients=tuple(lines("ingredients")),
        product=product,
        retired=retired,
    )


def _given(name: str) -> str:
    return ", ".join(request.form.getlist(f"fact:{name}")) if name == "sells_to" else typed(f"fact:{name}")


def _chosen() -> Product:
    """The product the page is about: the season's own honey, one that is named, or a new one."""
    name = typed("product")
    try:
        return request_context.season().product(name)
    except ProductUnknown:
        return Product(name)


def _words(refused: LabelkitError | None = None) -> str:
    from labelkit.labels.design import designs
    from labelkit.rules.glossary import glossary

    settings, season, product = request_context.settings(), request_context.season(), _chosen()
    facts = glossary().facts
    situation = settings.get("situation", {}) if not product.name else product.words.get("facts", {})
    day = request_context.context().day
    return page(
        "words.html",
        refused=refused,
        product=product,
        new=bool(typed("new")),
        products=list(season.products.values()),
        kinds=[(kind, KIND_WORDS[kind]) for kind in KINDS if product.name or typed("new") or KINDS[kind]],
        designs=[(each.name, each.title) for each in designs().values()],
        ask=whom_to_ask(season, product.name, day) if product.name in season.products else (),
        label=product.words,
        jars={size: shown_sides(jar) for size, jar in product.words.get("jars", {}).items()},
        situation=situation,
        facts=[facts[name] for name in FACTS if name in facts],
        sizes=[size for size, price in season.prices.items() if price.declares and price.product in ("", product.name)],
        sent=request.form if request.method == "POST" else None,
        maker_settings=settings.get("maker", {}),
    )

"""Bucket tags, case labels and price cards: what they say, out of the record or a label file.

None of them is booked as a print: the record keeps which wording went out on jars, for a recall to find, and these say
nothing a buyer of a jar reads on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from labelkit.cli._runner import Answer, CommandContext
from labelkit.errors.cli import UsageUnclear
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from datetime import date

    from labelkit.labels.content import LabelContent
    from labelkit.lots.bucket import Bucket
    from labelkit.measures import Mass
    from labelkit.measures.wording import Wording
    from labelkit.rules.label import Label
    from labelkit.season.label import LabelLook

HELP = "labelkit labels --help"


def print_other(context: CommandContext, kind: str, asked: dict[str, Any]) -> Answer:
    """Print bucket tags, case labels or cards."""
    from labelkit.cli._label_answer import answer_of_other
    from labelkit.cli._labels import label_of, look_of, papers_of, record_of, write_print
    from labelkit.labels.printing import print_sheet
    from labelkit.labels.roll import cut_to_length

    _fits_kind(asked, kind)
    with record_of(context) as state:
        look = look_of(context, state, asked, kind)
    if kind == "tag":
        wanted = tags(context, asked["buckets"], asked["count"], asked["lot_bars"])
    elif kind == "case":
        lots = [lot.strip() for lot in asked["lot"].split(",") if lot.strip()]
        label = label_of(context, {**asked, "lot": ""}, [(lot, 0) for lot in lots]).label
        wanted = cases(context, label, asked["size"], lots, asked["per_case"], asked["count"], look)
    else:
        file = asked["label_file"]
        card = label_of(context, {**asked, "lot": ""}).label if file else None
        wanted = cards(context, card, asked["size"], asked["price"], asked["currency"], asked["count"])
    with record_of(context) as state:
        (paper,) = papers_of(state, (kind,), asked["sheets"], wanted.markets, asked)
    contents = [
        (replace(content, lot_bars=look.lot_bars, artwork=look.artwork.get(kind)), count or paper.free)
        for content, count in wanted.contents
    ]
    longest = max(
        (cut_to_length(one, paper.sheet, look.design, look.printer.dpi) for one, _ in contents),
        key=lambda one: one.high,
    )
    paper = replace(paper, sheet=longest)
    printed = print_sheet(
        contents,
        paper.sheet,
        look.design,
        start_at=paper.start_at,
        skip=paper.skip,
        printer=look.printer,
        cut_lines=look.cut_lines,
        proof=asked["proof"],
    )
    write_print(asked["out"], asked["picture"], printed.pdf, look)
    about = [{**one, "labels": count} for one, (_, count) in zip(wanted.about, contents, strict=True)]
    return answer_of_other(kind, asked["out"], printed, paper.sheet, about, wanted.notes, context.locale)


def _fits_kind(asked: dict[str, Any], kind: str) -> None:
    """Refuse options that mean nothing for a tag, a case label or a card, rather than pass them over."""
    only = {"tag": ("buckets",), "case": ("per_case", "number", "lot"), "card": ("price", "currency")}
    named = (
        *("buckets", "per_case", "price", "currency", "lot", "number", "link", "lots", "digital_link", "own_till"),
        *("every_lot", "jar_diameter", "spoiled", "once", "logo"),
    )
    for name in named:
        if asked[name] and name not in only[kind]:
            option = "--bucket" if name == "buckets" else f"--{name.replace('_', '-')}"
            why = "; nothing of it is booked" if option in ("--once", "--spoiled") else ""
            raise UsageUnclear(f"{option} does not go with a {kind}{why}.", HELP)


@dataclass(frozen=True)
class Wanted:
    """Labels of one of these kinds with how many of each, what a program is told of them, and notes for people."""

    contents: tuple[tuple[LabelContent, int], ...]
    about: tuple[dict[str, Any], ...]
    markets: tuple[str, ...]
    notes: tuple[str, ...] = ()


def tags(context: CommandContext, buckets: Sequence[str], count: int | None, lot_bars: str) -> Wanted:
    """A tag for each bucket: what it weighs with and without honey now, its moisture, harvest and yard."""
    from labelkit.cli.weigh import as_document
    from labelkit.labels.other_content import bucket_tag_content
    from labelkit.measures.wording import language_of
    from labelkit.shipped.catalogues import wording

    words = wording("labelkit", context.locale)
    if not buckets:
        raise UsageUnclear("A tag is of a bucket in the record: name it with --bucket B1; repeat for more.", HELP)
    with context.reading() as state:
        season, held, holds = (
            settings_of(state),
            [state.bucket(state.fill(name)) for name in dict.fromkeys(buckets)],
            state.holds(),
        )
    contents, about = [], []
    for bucket in held:
        must_hold_honey(bucket)
        facts = bucket_facts(bucket, context.day, context.locale)
        since, why = holds.get(bucket.id, ("", ""))
        contents.append(
            (
                bucket_tag_content(
                    bucket.id,
                    season.maker.get("name") or words("Honey in store"),
                    facts,
                    lang=language_of(context.locale),
                    caution=words("On hold since {since}: {why}", since=since, why=why) if since else "",
                ),
                count or 1,
            )
        )
        gross, tare = full_and_empty(bucket)
        about.append({**as_document(bucket), "gross_g": gross and gross.g, "tare_g": tare and tare.g, "says": facts})
    unspelt = [name.id for name in held if not name.id.isascii()] if lot_bars != "none" else []
    notes = [f"{name} has no bars: a scanner cannot spell its name." for name in unspelt]
    return Wanted(tuple(contents), tuple(about), season.markets, tuple(notes))


def must_hold_honey(bucket: Bucket) -> None:
    """Refuse a tag for an empty bucket."""
    from labelkit.errors.labels import NothingInTheBucket

    if bucket.holds.mg <= 0:
        raise NothingInTheBucket(bucket.id)


def bucket_facts(bucket: Bucket, day: date, locale: str) -> list[tuple[str, str]]:
    """What a tag says of a bucket as it stands on the day; the weights are of that day only, so the tag says which."""
    from labelkit.measures.locales import show_day
    from labelkit.shipped.catalogues import wording

    words = wording("labelkit", locale)
    gross, tare = full_and_empty(bucket)
    weights = ((words("Gross"), gross), (words("Tare"), tare), (words("Net"), bucket.holds))
    facts = [(name, _weight(mass, locale)) for name, mass in weights if mass is not None]
    days = [show_day(day, locale, form="medium") for day in bucket.harvested]
    facts += [
        (words("Moisture"), _water(bucket, words, locale)),
        (words("Harvested"), ", ".join(days) if len(days) < 3 else f"{days[0]} – {days[-1]}"),
        *((words("Yard"), str(source)) for source in bucket.sources),
        (words("Plant"), ", ".join(bucket.plants)),
        (words("Blend of"), ", ".join(part.bucket for part in bucket.parents)),
        (words("As of"), show_day(day, locale, form="medium")),
    ]
    return [(name, value) for name, value in facts if value]


def _water(bucket: Bucket, words: Wording, locale: str) -> str:
    from labelkit.measures.locales import show_number
    from labelkit.measures.rounding import HALF_UP, to_step

    if bucket.moisture is None:
        return words("not measured")
    percent = show_number(to_step(bucket.moisture, Decimal("0.1"), HALF_UP), locale, digits=1) + " %"
    return percent if bucket.moisture_is_whole else words("{percent} (of a part)", percent=percent)


def full_and_empty(bucket: Bucket) -> tuple[Mass | None, Mass | None]:
    """What the scale must show today, the empty bucket and the honey still in it, and the empty bucket alone.

    Unknown where only the honey was weighed, or more than one vessel came together.
    """
    from labelkit.lots.bucket import WeighIn
    from labelkit.lots.received import Receive

    weighed = [event.weighing for event in bucket.history if isinstance(event, WeighIn | Receive) and event.weighing]
    return (weighed[0].tare + bucket.holds, weighed[0].tare) if len(weighed) == 1 else (None, None)


def _weight(mass: Mass, locale: str) -> str:
    from labelkit.measures import show_customary, show_metric

    return f"{show_metric(mass, locale)} ({show_customary(mass, locale)})"


def cases(
    context: CommandContext,
    label: Label,
    size: str | None,
    lots: Sequence[str],
    per_case: int | None,
    asked: int | None,
    look: LabelLook,
) -> Wanted:
    """Labels for the cases of a lot: whole cases with the case's number where there is one, and the part case left over.

    A part case carries no case number, since that number promises a full one.
    """
    from labelkit.labels.case import label_case
    from labelkit.rules import market
    from labelkit.season.label import OfSize, jars_of, words_of
    from labelkit.season.lot_link import must_be_gs1

    if not per_case:
        raise UsageUnclear("Say how many jars a case holds: --per-case 12.", HELP)
    if look.number:
        must_be_gs1(look.number, "the number of a case")
    lots, jars, bottled = list(lots) or [label.lot], 0, None
    if not all(lots):
        raise UsageUnclear("A case says its lot: name it with --lot L26195AXR (a mixed case: --lot L1,L2).", HELP)
    if size:
        with context.reading() as state:
            found = [jars_of(state, label, size, ((lot, 0),)) for lot in lots]
        label, bottled = found[0][0], found[0][2]
        lots, jars = [held[0][0] for _, held, _ in found], sum(held[0][1] for _, held, _ in found)
    case = label_case(
        replace(label, lot=lots[0]), [market(name, context.day) for name in label.markets], context.locale
    )
    one = OfSize(size or "", label, ((lots[0], 0),), case, bottled=bottled)
    made = words_of(one, replace(look, number=None, link_of=None), "front")
    whole, rest = divmod(jars, per_case) if jars and not asked and len(lots) == 1 else (asked or 0, 0)
    plan = [(per_case, whole, look.number)] if whole or not rest else []
    plan += [(rest, 1, None)] if rest else []
    contents, about = [], []
    for held, count, number in plan:
        content = _case(context, label, made.content, held, lots, number)
        contents.append((content, count))
        about.append(
            {
                "lots": lots,
                "jars": held,
                "labels": count,
                "number": dict(content.elements).get("01"),
                "says": dict(content.facts),
            }
        )
    notes = ["The part case has no case number: that number promises a full one."] if rest and look.number else []
    return Wanted(tuple(contents), tuple(about), label.markets, tuple(notes))


def _case(
    context: CommandContext, label: Label, jar: LabelContent, held: int, lots: list[str], number: str | None
) -> LabelContent:
    from labelkit.labels.other_content import case_label_content
    from labelkit.rules import market
    from labelkit.rules.figures import net_weight
    from labelkit.shipped.catalogues import wording

    main = market(label.markets[0], context.day)
    words = wording("labelkit", jar.lang)
    net = net_weight.net_quantity(label.weight, main)
    before, day = _date_of(jar, main)
    name, maker, address = jar.of("name"), jar.of("maker"), jar.of("address")
    return case_label_content(
        name.all if name else (),
        maker.text if maker else label.name,
        " ".join(filter(None, net.pair)),
        held,
        lots,
        address=address.text if address else "",
        best_before=day,
        number=number,
        lang=jar.lang,
        words_for=(words("Contents"), before, words("Lot") if len(lots) == 1 else words("Lots")),
    )


def _date_of(jar: LabelContent, main) -> tuple[str, str]:
    """The date mark of the jars in two parts: the words of the law, and the date."""
    said = jar.of("best_before")
    if said is None:
        return "Best before", ""
    for name in ("best before with the day", "best before without the day"):
        words = str(main.value(name).value).partition("{date}")[0].strip()
        if words and said.text.startswith(words) and not said.text[len(words) :].strip().startswith("end "):
            return words, said.text[len(words) :].strip()
    return "", said.text


def cards(
    context: CommandContext,
    label: Label | None,
    size: str | None,
    price: str | None,
    currency: str | None,
    count: int | None,
) -> Wanted:
    """LazyGroup cards with price and unit price by the rule of each market: of one size, or of every size in the record."""
    from labelkit.labels.other_content import price_card_content
    from labelkit.measures import Money
    from labelkit.rules import market
    from labelkit.sale import PriceRow, PriceSet
    from labelkit.sale.price_words import laws, priced
    from labelkit.season.papers import paper_words
    from labelkit.season.price_papers import added_tax_text, net_statement

    season = None
    if label is not None:
        if not price:
            raise UsageUnclear("A card from a label file needs its price: --price 12.00.", HELP)
        own = Money.read(price, currency or market(label.markets[0], context.day).head.currency, context.locale)
        sizes, codes = [PriceSet(context.day, label.name, label.weight, own, Money(0, own.currency))], label.markets
        names, maker = {"": label.name}, label.maker.get("name", "")
    else:
        if price:
            raise UsageUnclear(
                "Prices of the record are set with labelkit price --set; --price goes with --label.", HELP
            )
        with context.reading() as book:
            season = settings_of(book)
        sizes, codes = [season.size(size)] if size else list(season.offered(context.day).values()), season.markets
        names, maker = {each.name: each.called for each in season.products.values()}, season.maker.get("name", "")
        if not sizes:
            from labelkit.errors.sale import NothingPriced

            raise NothingPriced()
    markets = [market(code, context.day) for code in codes]
    words, locale = paper_words(None, context.locale)
    contents, about = [], []
    every = priced([PriceRow(p.size, p.declares, p.price, p.cost, p.product) for p in sizes], markets)
    for one in every:
        unit = one.unit_text(locale)
        net = net_statement(one.row.declares, markets, locale) or one.row.size
        shown = one.row.price.show(locale)
        contents.append(
            (
                price_card_content(
                    names.get(one.row.product) or one.row.size,
                    shown,
                    unit_price=unit,
                    net=net,
                    maker=maker,
                    lang=words.lang,
                    note=added_tax_text(season, one.row.size, words, locale, context.day) if season else "",
                ),
                count or 1,
            )
        )
        about.append(
            {
                "size": one.row.size,
                "labels": count or 1,
                "price": str(one.row.price.amount),
                "currency": one.row.price.currency,
                "net": net,
                "unit_price": unit,
            }
        )
    notes = [laws(every)] if laws(every) else []
    if not all(one.units for one in every if one.row.declares):
        notes.append(
            "For a market of yours no unit price was read; ask the office that enforces weights and prices there."
        )
    return Wanted(tuple(contents), tuple(about), codes, tuple(notes))

"""Refusals of the sale room."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from labelkit.errors import AskedAbout, Refused
from labelkit.errors.sentence import Sentence


class LotNotNamed(Refused):
    """Jars leave, and nobody said which lot they are of."""

    def __init__(self, in_stock: str) -> None:
        super().__init__(
            what=Sentence("Which lot are the jars of? In stock: {in_stock}.", in_stock=in_stock),
            why="A recall reaches only the jars whose lot was recorded when they left.",
            do="Read the lot code from a jar and give it with --lot.",
        )


class NothingPriced(Refused):
    """A price list without a jar size."""

    def __init__(self) -> None:
        super().__init__(
            what="No jar size has a price yet.",
            why="A price list needs at least one size with its declared weight and its price.",
            do='Set one, for example: labelkit price --set "one pound" --declares "1 lb" --price 12.00 --cost 1.35',
        )


class PriceMissing(Refused):
    """A jar size that is to be priced, without its price or, the first time, without the weight it declares."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=Sentence("The jar size “{size}” has no price or no declared weight.", size=size),
            why="Plans, labels and price lists need both.",
            do="Give the price of one jar. The first time, also give the declared weight.",
        )


class CostsUnclear(Refused):
    """A file of season costs that cannot be understood."""

    def __init__(self, file: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{file}: {reason}.", file=file, reason=reason),
            why="A misread cost would make every price wrong. Nothing was calculated.",
            do="Correct that line. Write “?” for what you do not know yet. For a new template: labelkit price --template",
        )


class PeriodUnclear(Refused):
    """A year or a stretch of days that cannot be understood."""

    def __init__(self, text: str) -> None:
        super().__init__(
            what=Sentence("“{text}” is not a year or a period.", text=text),
            why="labelkit needs to know which days the result covers.",
            do="Give a year (2026), a year that starts with a month (2026-04), or two days (2026-03-01..2026-10-31).",
        )


class NoYears(Refused):
    """Years to compare, and nothing booked in any."""

    def __init__(self) -> None:
        super().__init__(
            what="No honey came in, was filled or sold yet.",
            why="You can compare years when at least one has events.",
            do="Start with the first bucket: labelkit weigh --bucket B1 --net WEIGHT",
        )


class TaxUnclear(Refused):
    """Tax that is not stated, or not clearly."""

    def __init__(self, text: str) -> None:
        given = (
            Sentence("“{text}” does not say whether the price includes tax.", text=text)
            if text
            else "You have not set whether the price includes tax."
        )
        super().__init__(
            what=given,
            why="Whether you owe tax, and whether your prices include it, depends on you and your place. labelkit does not assume it.",
            do="Choose none, included 7%, added 5.3%, exempt (small seller) or reverse-charge. Ask your tax office which.",
        )


class MarginImpossible(Refused):
    """A margin no price can give."""

    def __init__(self, percent: Decimal, card_percent: Decimal) -> None:
        super().__init__(
            what=Sentence(
                "No price leaves {percent}%: tax, cards ({cards}%) and the margin take all of it.",
                percent=percent.normalize(),
                cards=card_percent.normalize(),
            ),
            why="The margin is a share of the price. At 100% nothing is left to pay for the jar.",
            do="Choose a smaller margin, for example --margin 40.",
        )


class NothingToCompare(Refused):
    """Prices of others asked for, none given."""

    def __init__(self) -> None:
        super().__init__(
            what="You gave no price of another seller to compare with.",
            why="labelkit needs at least one price to find the middle.",
            do="Enter what others ask at this market, for example --others 'one pound=11.00'.",
        )


class NothingLoaded(Refused):
    """A market day nothing was loaded for."""

    def __init__(self, key: str) -> None:
        super().__init__(
            what=Sentence("No load is recorded for “{key}”.", key=key),
            why="You can settle only the jars you loaded.",
            do="Check the day and the venue (labelkit stall days), or record the load first: labelkit stall load --change 80 --book",
        )


class NothingToAddTo(Refused):
    """More jars for a market day that nothing was loaded for."""

    def __init__(self, key: str) -> None:
        super().__init__(
            what=Sentence("No load is recorded for “{key}” yet, so you cannot add to it with --more.", key=key),
            why="The first load of a day sets the cash float. Without it you cannot check the evening's cash.",
            do="Record the first load without --more: labelkit stall load --change AMOUNT --book. Or check --day and --place.",
        )


class NotLoaded(Refused):
    """Jars counted at the stall that were not loaded."""

    def __init__(self, lot: str, size: str, loaded: str) -> None:
        super().__init__(
            what=Sentence(
                "You loaded no {size} of lot {lot} for this day. Loaded: {loaded}.",
                size=size,
                lot=lot,
                loaded=loaded,
            ),
            why="You cannot have sold a jar you did not load. One of the two notes is wrong.",
            do="Read the lot code on the jar again, or first record the jars as a second load.",
        )


class SoldMoreThanLoaded(Refused):
    """More jars gone from the stall than were on it."""

    def __init__(self, lot: str, size: str, gone: int, loaded: int, held: int = 0) -> None:
        super().__init__(
            what=Sentence(
                "Lot {lot}, {size}: you say {gone} are gone, but only {loaded} were there. {held} more were put on hold since.",
                lot=lot,
                size=size,
                gone=gone,
                loaded=loaded,
                held=held,
            )
            if held
            else Sentence(
                "Lot {lot}, {size}: you say {gone} are gone, but only {loaded} were there.",
                lot=lot,
                size=size,
                gone=gone,
                loaded=loaded,
            ),
            why="No more jars can leave the stall than were on it. Nothing was saved.",
            do='If you sold them before the hold, void the hold (labelkit record correct EVENT --because "REASON"), settle, and hold the remaining jars again. A recall must reach their buyers.'
            if held
            else "Count again, or record the jars fetched later as a second load of the same day.",
        )


class BroughtBackTooMuch(Refused):
    """More jars brought back than can be left."""

    def __init__(self, lot: str, size: str, back: int, left: int) -> None:
        super().__init__(
            what=Sentence(
                "Lot {lot}, {size}: you brought {back} back, but at most {left} can be left.",
                lot=lot,
                size=size,
                back=back,
                left=left,
            ),
            why="The jars sold and the jars brought back do not match. Nothing was saved.",
            do="Count the crate and the tally again. You probably noted a sale twice.",
        )


class NotTheirJars(Refused):
    """More jars brought back by somebody than they have."""

    def __init__(
        self, customer: str, lot: str, size: str, back: int, have: int, near: Sequence[str], could: Sequence[str]
    ) -> None:
        ask: str = "Count again. Record the jars of other people under their own names, or under none."
        if near:
            ask = Sentence("Did you mean {near}?", near=near[0])
        elif could:
            ask = Sentence("Name the customer. These have that many: {could}.", could=", ".join(could))
        super().__init__(
            what=Sentence(
                "{customer} has {have} of lot {lot}, {size}, and cannot return {back}.",
                customer=customer,
                have=have,
                lot=lot,
                size=size,
                back=back,
            )
            if customer
            else Sentence(
                "Unnamed buyers have {have} of lot {lot}, {size}, and cannot return {back}.",
                have=have,
                lot=lot,
                size=size,
                back=back,
            ),
            why="The others would count for somebody else, and a recall would notify the wrong people. Nothing was saved.",
            do=ask,
        )
        self.field = "customer"


class DayAlreadySettled(Refused):
    """A market day that was settled otherwise before."""

    def __init__(self, key: str, seq: int) -> None:
        super().__init__(
            what=Sentence("“{key}” is already settled (event {seq}) with different figures.", key=key, seq=seq),
            why="A stall day is saved once. Other figures need a correction.",
            do=Sentence(
                'If the new figures are right: labelkit record correct {seq} --because "REASON", with --sold, --back and --cash',
                seq=seq,
            ),
        )


class DayFileUnclear(Refused):
    """A day given back by the market page that cannot be understood."""

    def __init__(self, file: str, reason: str) -> None:
        super().__init__(
            what=Sentence("{file} is not a complete stall day: {reason}.", file=file, reason=reason),
            why="An incomplete day would leave jars and money unaccounted for. Nothing was saved.",
            do="Save or copy the day from the page again, from the first brace to the last.",
        )


class PlaceMissing(Refused):
    """A market day without a place."""

    def __init__(self, known: str) -> None:
        super().__init__(
            what=Sentence("Which venue? Known so far: {known}.", known=known),
            why="A stall day is known by its date and venue. A recall asks where jars were sold.",
            do="Give it with --place, for example --place 'Mill square market'.",
        )


class NothingToTake(Refused):
    """A load list without a jar."""

    def __init__(self) -> None:
        super().__init__(
            what="There is nothing to load: no jar with a price is in stock, or you asked for none.",
            why="A stall needs at least one jar.",
            do="Bottle first, set a price (labelkit price --set SIZE --price AMOUNT), or name what to load: --jar 'one pound=24'.",
        )


class CustomerUnknown(Refused):
    """A customer of whom nothing is known."""

    field = "customer"

    def __init__(self, customer: str, known: str) -> None:
        super().__init__(
            what=Sentence("The record has no customer {customer}.", customer=customer),
            why="A wrong name would give wrong prices, or a letter without an address.",
            do=Sentence("Use one of: {known}. Or record the new customer first.", known=known)
            if known
            else "Record the customer first.",
        )


class CustomerHasNoDeliveries(Refused):
    """A payment that fits no delivery."""

    def __init__(self, customer: str, known: str) -> None:
        super().__init__(
            what=Sentence(
                "You delivered nothing to “{customer}”. Deliveries went to: {known}.", customer=customer, known=known
            ),
            why="A payment under a misspelt name would leave the real customer in debt.",
            do="Check the spelling of the customer.",
        )


class RefundAboveCredit(AskedAbout):
    """More money given back than a customer has to their credit, unless a person says why."""

    def __init__(self, customer: str, amount: str, credit: str) -> None:
        super().__init__(
            what=Sentence(
                "{customer} has a credit of {credit}, less than {amount}.",
                customer=customer,
                credit=credit,
                amount=amount,
            ),
            why="The record would show the difference as owed to you. Nothing was saved.",
            do="Record the returned jars first (labelkit sell --as returned), or give back no more than the credit.",
        )
        self.field = "amount"


class NothingToRemind(Refused):
    """A reminder to somebody who is not late."""

    def __init__(self, customer: str, due: str) -> None:
        super().__init__(
            what=Sentence("{customer} is not late. The open amount is due on {due}.", customer=customer, due=due)
            if due
            else Sentence("{customer} is not late and owes nothing.", customer=customer),
            why="A reminder of a debt that is not due or was paid would be untrue. Nothing was saved.",
            do="Look at the account: labelkit pay",
        )
        self.field = "customer"


class ReceiverUnclear(Refused):
    """A delivery whose note would not name what the law asks for."""

    def __init__(self, missing: str) -> None:
        super().__init__(
            what=Sentence("The delivery note would have no {missing}.", missing=missing),
            why="A business that receives food must know who sent it and which lots it is. Check your local rules.",
            do="Give it once: the customer's with --address, your own in [maker] of the season file. labelkit remembers it.",
        )


class AlreadyLoaded(Refused):
    """A second load of a market day nobody said was one."""

    def __init__(self, key: str, seq: int, jars: int) -> None:
        super().__init__(
            what=Sentence(
                "A load of {jars} jars is already recorded for “{key}” (event {seq}).", jars=jars, key=key, seq=seq
            ),
            why="The same load saved twice would put jars on the stall that are still on the shelf. Nothing was saved.",
            do='If these jars are extra, add --more. If the first entry is wrong, correct it: labelkit record correct EVENT --because "REASON"',
        )


class CashFloatMissing(Refused):
    """A load booked without the change in the cash box."""

    def __init__(self, suggested: str) -> None:
        super().__init__(
            what="You have not set the cash float for the stall day.",
            why="In the evening the float is subtracted from the takings. A guess would show as a difference.",
            do=Sentence(
                "Give it with --change, for example --change {suggested}. Give --change 0 if there is none.",
                suggested=suggested,
            ),
        )


class CostsMissing(Refused):
    """A margin asked for where no cost is known."""

    def __init__(self, size: str, asks: str) -> None:
        super().__init__(
            what=Sentence(
                "labelkit does not know the cost of a jar “{size}”, so it cannot calculate a margin.", size=size
            ),
            why="A price from a margin depends on the cost. Without a cost it would be zero.",
            do=Sentence(
                "Fill in a file of costs (labelkit find-prices --template > costs.toml) and give it with --costs. First: {asks}",
                asks=asks,
            ),
        )


class ReasonMissing(Refused):
    """Jars that came back or were destroyed, and nobody says why."""

    def __init__(self, way: str) -> None:
        super().__init__(
            what=Sentence("Give a reason for the jars that were {way}.", way=way),
            why="A year later the reason shows whether other jars of the lot are unsafe too.",
            do="Give the reason in a few words, for example “lid not tight”.",
        )


class CustomerPriceMissing(Refused):
    """A delivery of jars this customer has no price for yet."""

    def __init__(self, customer: str, sizes: list[str]) -> None:
        super().__init__(
            what=Sentence(
                "You have not set what {customer} pays for {sizes}.", customer=customer, sizes=", ".join(sizes)
            ),
            why="A delivery note without prices leads to disputes. labelkit remembers the price.",
            do=Sentence("Give the price of a jar, for example --price '{size}=8.40'.", size=sizes[0]),
        )


class NothingToCount(Refused):
    """A count of jars of a lot that never had any of that size."""

    def __init__(self, lot: str, size: str) -> None:
        super().__init__(
            what=Sentence("Lot {lot} never had jars of {size}.", lot=lot, size=size),
            why="labelkit compares a count with the record of the lot, and this one has no such jars.",
            do="Read the code on the jar again, or name the size you filled it as.",
        )


class CustomerMissing(Refused):
    """A sale to a business nobody named."""

    def __init__(self, channel: str) -> None:
        super().__init__(
            what=Sentence("Jars sold to a {channel} need the name of the business.", channel=channel),
            why="In a recall you notify every business that sells or uses your jars. Nothing was saved.",
            do="Give its name, for example --customer 'Corner shop', and its phone number: --phone 555-0100.",
        )
        self.field = "customer"


class ProductUnknown(Refused):
    """A product nobody has described."""

    def __init__(self, name: str, known: Iterable[str]) -> None:
        super().__init__(
            what=Sentence(
                "There is no product “{name}”. Known: {known}.", name=name, known=", ".join(known) or "none yet"
            ),
            why="The kind and name of a product decide what its labels must say and which rules apply.",
            do=Sentence('Describe it first: labelkit label-words --product "{name}" --kind comb', name=name),
        )
        self.field = "product"


class SeasonsHoneyStays(Refused):
    """The season's own honey, retired."""

    def __init__(self) -> None:
        super().__init__(
            what="You can retire only a product with a name of its own.",
            why="Jars without a product of their own are your season's honey.",
            do='Name the product with --product, or retire a size: labelkit price --set "SIZE" --retire',
        )


class BestBeforeRuleUnclear(Refused):
    """A best-before rule that gives no date."""

    def __init__(self, rule: str) -> None:
        super().__init__(
            what=Sentence("“{rule}” is not a best-before date or rule.", rule=rule),
            why="labelkit calculates the date on every label from it.",
            do="Give a date (2028-06-30, 2028-06, 2028), or the months from bottling: 24 months.",
        )
        self.field = "best_before"


class SizeOfAnother(Refused):
    """A size of another product that already has the name a new one would get."""

    def __init__(self, size: str, product: str, wanted: str) -> None:
        super().__init__(
            what=Sentence(
                "The size “{size}” belongs to {product}, not to {wanted}.",
                size=size,
                product=product or Sentence("your honey"),
                wanted=wanted or Sentence("your honey"),
            ),
            why="Stock, prices and recalls tell products apart by the size. Nothing was saved.",
            do="Give the new size a name of its own.",
        )
        self.field = "size"


class NoPriceInThisJar(Refused):
    """A run of a product that has no price in a jar, where jars of it would be sold at another honey's."""

    def __init__(self, size: str, product: str, other: str) -> None:
        super().__init__(
            what=Sentence(
                "The “{size}” belongs to {other}. It has no price for {product}.",
                size=size,
                other=other or Sentence("your honey"),
                product=product or Sentence("your honey"),
            ),
            why="The jars would be sold at the price of the other honey. Nothing was saved.",
            do=Sentence(
                'Set its price first: labelkit price --set "{size}" --product "{product}" --price 12.00',
                size=size,
                product=product or "YOUR HONEY",
            ),
        )
        self.field = "product"


class SizeNamedTwice(Refused):
    """Two names that mean one size."""

    def __init__(self, size: str, jar: str) -> None:
        super().__init__(
            what=Sentence("“{jar}” and “{size}” are the same jars.", jar=jar, size=size),
            why="labelkit cannot use two counts of one size. Nothing was saved.",
            do="Give this size once.",
        )
        self.field = "jar"


class NoDeclaredWeight(Refused):
    """Goods sold by the piece, where a weight is needed."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=Sentence("“{size}” is sold by the piece and has no declared weight.", size=size),
            why="Filling, labels and unit prices of honey are calculated from the declared weight.",
            do="Choose a size that you fill with honey.",
        )
        self.field = "size"


class NotFilled(Refused):
    """A run that fills honey into something that is no jar of honey."""

    def __init__(self, size: str, product: str) -> None:
        super().__init__(
            what=Sentence("“{size}” is of {product}, which is not honey.", size=size, product=product),
            why="Every trace would miss the honey recorded in it. Nothing was saved.",
            do=Sentence('Choose a jar size. To record goods you made: labelkit stock --made "{size}=12"', size=size),
        )
        self.field = "size"


class SizeRetired(AskedAbout):
    """A run into a size that is no longer offered, unless a person says why."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=Sentence("The size “{size}” is retired.", size=size),
            why="It is on no price list and in no plan. Nothing was saved.",
            do="Choose another size, or say why you fill it. The record keeps the reason.",
        )
        self.field = "because"


class NoLabelRules(Refused):
    """Labels of goods that are no food."""

    def __init__(self, product: str, kind: str) -> None:
        super().__init__(
            what=Sentence(
                "{product} ({kind}) is not honey, so labelkit makes no labels for it.",
                product=product or "This product",
                kind=kind,
            ),
            why="labelkit covers the rules for honey only. A food label on other goods would mislead.",
            do="Ask your consumer office what its label must say. For beeswax in food or cosmetics, ask the food or cosmetics authority first. Check your local rules.",
        )
        self.field = "product"


class NotGoods(Refused):
    """Honey booked as if it were made from nothing."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=Sentence("“{size}” is filled with honey, and honey comes from a bucket.", size=size),
            why="Jars without a bucket cannot be traced back. Nothing was saved.",
            do=Sentence('To record a run: labelkit bottle --bucket B1 --jar "{size}=12"', size=size),
        )
        self.field = "size"


class NothingMade(Refused):
    """Goods booked into stock without a count."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=Sentence("How many pieces of “{size}” came into stock?", size=size),
            why="labelkit calculates stock and cost from the count. Nothing was saved.",
            do="Give a whole number of pieces.",
        )
        self.field = "pieces"

"""Refusals of the sale room."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from labelkit.errors import AskedAbout, Refused


class LotNotNamed(Refused):
    """Jars leave, and nobody said which lot they are of."""

    def __init__(self, in_stock: str) -> None:
        super().__init__(
            what=f"Which lot are the jars of? In stock are: {in_stock}.",
            why="A recall can only reach the jars whose lot was written down when they left.",
            do="Read the lot code from a jar and give it with --lot.",
        )


class NothingPriced(Refused):
    """A price list without a jar size."""

    def __init__(self) -> None:
        super().__init__(
            what="There is no jar size with a price yet.",
            why="A price list needs at least one size, what it declares and what it costs.",
            do='Set one, for example: labelkit price --set "one pound" --declares "1 lb" --price 12.00 --cost 1.35.',
        )


class PriceMissing(Refused):
    """A jar size that is to be priced, without its price or, the first time, without the weight it declares."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=f"The jar size “{size}” lacks its price, or the weight its label states.",
            why="Plans, labels and price lists reckon with both.",
            do="Give the price of one jar; the first time also the weight the label declares.",
        )


class CostsUnclear(Refused):
    """A file of season costs that cannot be understood."""

    def __init__(self, file: str, reason: str) -> None:
        super().__init__(
            what=f"{file}: {reason}.",
            why="A cost that was misread would make every price wrong; nothing was reckoned.",
            do="Mend that line; write “?” for what you do not know yet. A fresh template: labelkit price --template.",
        )


class PeriodUnclear(Refused):
    """A year or a stretch of days that cannot be understood."""

    def __init__(self, text: str) -> None:
        super().__init__(
            what=f"“{text}” is not a year or a period.",
            why="A result of other days than you mean would be false.",
            do="Give a year (2026), a year that begins with a month (2026-04), or two days (2026-03-01..2026-10-31).",
        )


class NoYears(Refused):
    """Years to compare, and nothing booked in any."""

    def __init__(self) -> None:
        super().__init__(
            what="No honey came in, was filled or sold yet.",
            why="Years can be compared once something was booked in one.",
            do="Begin with the first bucket: labelkit weigh …",
        )


class TaxUnclear(Refused):
    """Tax that is not stated, or not clearly."""

    def __init__(self, text: str) -> None:
        given = (
            f"“{text}” does not say how tax stands to the price."
            if text
            else "Nobody has said how tax stands to the price."
        )
        super().__init__(
            what=given,
            why="Whether tax is owed, and whether it is in the price, depends on you and your place; it is never assumed.",
            do="Say none, included 7 %, added 5.3 %, exempt (small seller) or reverse-charge; ask your tax office which.",
        )


class MarginImpossible(Refused):
    """A margin no price can give."""

    def __init__(self, percent: Decimal, card_percent: Decimal) -> None:
        super().__init__(
            what=f"No price leaves {percent} per cent: tax, cards ({card_percent.normalize():f} per cent) and the margin take all of it.",
            why="The margin is a share of the price, so at 100 per cent nothing is left to pay for the jar.",
            do="Wish for a smaller margin, for example --margin 40.",
        )


class NothingToCompare(Refused):
    """Prices of others asked for, none given."""

    def __init__(self) -> None:
        super().__init__(
            what="There is no price of anybody else to compare with.",
            why="Without at least one there is no middle to find.",
            do="Enter what others ask at this market, for example --others 'one pound=11.00'.",
        )


class NothingLoaded(Refused):
    """A market day nothing was loaded for."""

    def __init__(self, key: str) -> None:
        super().__init__(
            what=f"Nothing is booked as loaded for “{key}”.",
            why="Only what was loaded can be settled; otherwise jars would be sold that never left the shelf.",
            do="Check the day and the place (labelkit stall days), or book the load first: labelkit stall load --change 80 --book …",
        )


class NothingToAddTo(Refused):
    """More jars for a market day that nothing was loaded for."""

    def __init__(self, key: str) -> None:
        super().__init__(
            what=f"Nothing is booked as loaded for “{key}” yet, so --more has nothing to add to.",
            why="The first load of a day says with how much change it begins, or the evening's cash cannot be checked.",
            do="Book the first load without --more: labelkit stall load --change AMOUNT --book … Or check --day and --place.",
        )


class NotLoaded(Refused):
    """Jars counted at the stall that were not loaded."""

    def __init__(self, lot: str, size: str, loaded: str) -> None:
        super().__init__(
            what=f"No {size} of lot {lot} was loaded for this day; loaded were: {loaded}.",
            why="A jar that was never loaded cannot have been sold there; one of the two notes is wrong.",
            do="Read the lot code on the jar again, or book the jars as a second load first.",
        )


class SoldMoreThanLoaded(Refused):
    """More jars gone from the stall than were on it."""

    def __init__(self, lot: str, size: str, gone: int, loaded: int, held: int = 0) -> None:
        on_hold = f"; {held} more were put on hold since" if held else ""
        super().__init__(
            what=f"Lot {lot}, {size}: {gone} are said to be sold, given, tasted or broken, but {loaded} were there{on_hold}.",
            why="More cannot leave the stall than was on it; nothing was booked.",
            do="If they were sold before the hold, strike the hold (labelkit record correct …), settle, and put the rest on hold "
            "again: a recall must reach their buyers."
            if held
            else "Count again, or book the jars fetched later as a second load of the same day.",
        )


class BroughtBackTooMuch(Refused):
    """More jars brought back than can be left."""

    def __init__(self, lot: str, size: str, back: int, left: int) -> None:
        super().__init__(
            what=f"Lot {lot}, {size}: {back} are said to be brought back, but only {left} can be left.",
            why="The counts of what was sold and what came back do not fit together; nothing was booked.",
            do="Count the crate and the tally again; one of the sales was probably noted twice.",
        )


class NotTheirJars(Refused):
    """More jars brought back by somebody than they have."""

    def __init__(
        self, customer: str, lot: str, size: str, back: int, have: int, near: Sequence[str], could: Sequence[str]
    ) -> None:
        who = f"{customer} has" if customer else "People nobody wrote down have"
        ask = "Count again, and book the jars of other people under their own names, or under none."
        if near:
            ask = f"Is {near[0]} meant?"
        elif could:
            ask = f"Name the customer; these have so many: {', '.join(could)}."
        super().__init__(
            what=f"{who} {have} of lot {lot}, {size}, so {back} cannot come back from there.",
            why="The rest would be taken off other people, and a recall would call the wrong ones. Nothing was saved.",
            do=ask,
        )
        self.field = "customer"


class DayAlreadySettled(Refused):
    """A market day that was settled otherwise before."""

    def __init__(self, key: str, seq: int) -> None:
        super().__init__(
            what=f"“{key}” was settled before (event {seq}), and this says something else.",
            why="The same day is booked once; reading it again changes nothing, and a different account of it needs a correction.",
            do=f"If the new one is right: labelkit record correct {seq} --because WORDS, with --sold, --back, --cash … as they were.",
        )


class DayFileUnclear(Refused):
    """A day given back by the market page that cannot be understood."""

    def __init__(self, file: str, reason: str) -> None:
        super().__init__(
            what=f"{file} is not a whole market day: {reason}.",
            why="Half a day would leave jars and money unaccounted for; nothing was booked.",
            do="Save or copy the day from the page again, all of it from the first brace to the last.",
        )


class PlaceMissing(Refused):
    """A market day without a place."""

    def __init__(self, known: str) -> None:
        super().__init__(
            what=f"At which market? Known so far: {known}.",
            why="A day is told from others by its date and its place, and a recall asks where jars were sold.",
            do="Give it with --place, for example --place 'Mill square market'.",
        )


class NothingToTake(Refused):
    """A load list without a jar."""

    def __init__(self) -> None:
        super().__init__(
            what="There is nothing to take: no jar with a price is in stock, or none was asked for.",
            why="A stall needs at least one jar on it.",
            do="Bottle first, set a price (labelkit price --set …), or say what to take: --jar 'one pound=24'.",
        )


class CustomerUnknown(Refused):
    """A customer of whom nothing is known."""

    field = "customer"

    def __init__(self, customer: str, known: str) -> None:
        super().__init__(
            what=f"Nothing is known of a customer {customer}.",
            why="A name mistyped would give the wrong prices, or a letter without an address.",
            do=f"Known are: {known or 'none yet'}. Use one of these names, or note the new one first.",
        )


class CustomerHasNoDeliveries(Refused):
    """A payment that fits no delivery."""

    def __init__(self, customer: str, known: str) -> None:
        super().__init__(
            what=f"Nothing was delivered to “{customer}”; deliveries went to: {known}.",
            why="A payment under a misspelt name would leave the real customer owing.",
            do="Check the spelling of the customer.",
        )


class RefundAboveCredit(AskedAbout):
    """More money given back than a customer has to their credit, unless a person says why."""

    def __init__(self, customer: str, amount: str, credit: str) -> None:
        super().__init__(
            what=f"{customer} has a credit of {credit}; {amount} is more.",
            why="The rest would stand as owed to you. Nothing was saved.",
            do="Book the jars that came back first (labelkit sell --as returned), or give back no more than the credit.",
        )
        self.field = "amount"


class NothingToRemind(Refused):
    """A reminder to somebody who is not late."""

    def __init__(self, customer: str, due: str) -> None:
        super().__init__(
            what=f"{customer} is not late" + (f"; what is open is late from {due}." if due else "; nothing is open."),
            why="A reminder of what is not due yet, or was paid, offends and is untrue. Nothing was saved.",
            do="Look at the account: labelkit pay.",
        )
        self.field = "customer"


class ReceiverUnclear(Refused):
    """A delivery whose note would not name what the law asks for."""

    def __init__(self, missing: str) -> None:
        super().__init__(
            what=f"The delivery note would leave out: {missing}.",
            why="A business that receives food must be told from whom it came and which lots it is. Check your local rules.",
            do="Give it once (--address, or the maker's address in the season file); it is remembered for the next time.",
        )


class AlreadyLoaded(Refused):
    """A second load of a market day nobody said was one."""

    def __init__(self, key: str, seq: int, jars: int) -> None:
        super().__init__(
            what=f"{jars} jars are already booked as loaded for “{key}” (event {seq}).",
            why="The same load booked twice would put jars on the stall that are still on the shelf; nothing was booked.",
            do="If these jars go there besides, say --more; if the first booking was wrong, correct it: labelkit record correct …",
        )


class CashFloatMissing(Refused):
    """A load booked without the change in the cash box."""

    def __init__(self, suggested: str) -> None:
        super().__init__(
            what="How much change is in the cash box? Nobody has said.",
            why="In the evening the change is set aside before the takings are counted; a guess would show as a difference.",
            do=f"Give it with --change, for example --change {suggested}; say --change 0 if there is none.",
        )


class CostsMissing(Refused):
    """A margin asked for where no cost is known."""

    def __init__(self, size: str, asks: str) -> None:
        super().__init__(
            what=f"Nothing is known of what a jar “{size}” costs, so no margin can be reckoned.",
            why="A price from a margin stands on the cost; from nothing it would come out as nothing.",
            do=f"Fill in a file of costs (labelkit find-prices --template > costs.toml) and give it with --costs. First of all: {asks}",
        )


class ReasonMissing(Refused):
    """Jars that came back or were destroyed, and nobody says why."""

    def __init__(self, way: str) -> None:
        super().__init__(
            what=f"Jars that were {way} need a reason.",
            why="A year later the reason tells whether other jars of the lot are in danger too.",
            do="Say why in a few words, for example “lid not tight”.",
        )


class CustomerPriceMissing(Refused):
    """A delivery of jars this customer has no price for yet."""

    def __init__(self, customer: str, sizes: list[str]) -> None:
        super().__init__(
            what=f"Nobody has said what {customer} pays for {', '.join(sizes)}.",
            why="What a delivery note leaves open is argued about later; what is said once is remembered.",
            do=f"Give the price of a jar, for example --price '{sizes[0]}=8.40'.",
        )


class NothingToCount(Refused):
    """A count of jars of a lot that never had any of that size."""

    def __init__(self, lot: str, size: str) -> None:
        super().__init__(
            what=f"Lot {lot} never had jars of {size}.",
            why="A count is held against what the record says of the lot; there is nothing to hold it against.",
            do="Read the code on the jar again, or name the size it was filled as.",
        )


class CustomerMissing(Refused):
    """A sale to a business nobody named."""

    def __init__(self, channel: str) -> None:
        super().__init__(
            what=f"Jars sold to a {channel} need the name of the business.",
            why="In a recall you call every business that sells or uses your jars. Nothing was saved.",
            do="Name it, for example --customer 'Corner shop', and its phone number: --phone 555-0100.",
        )
        self.field = "customer"


class ProductUnknown(Refused):
    """A product nobody has described."""

    def __init__(self, name: str, known: Iterable[str]) -> None:
        super().__init__(
            what=f"There is no product “{name}”. There is: {', '.join(known) or 'none yet'}.",
            why="Its kind and its words decide what its labels must say and which rules apply.",
            do=f'Describe it first: labelkit label-words --product "{name}" --kind comb.',
        )
        self.field = "product"


class SeasonsHoneyStays(Refused):
    """The season's own honey, retired."""

    def __init__(self) -> None:
        super().__init__(
            what="Only a product with a name of its own can be retired.",
            why="What has no product of its own is your season's honey.",
            do='Name the product with --product, or retire a size: labelkit price --set "SIZE" --retire.',
        )


class BestBeforeRuleUnclear(Refused):
    """A best-before rule that gives no date."""

    def __init__(self, rule: str) -> None:
        super().__init__(
            what=f"“{rule}” is not a best-before date or rule.",
            why="The date on every label is worked out from it.",
            do="Give a date (2028-06-30, 2028-06, 2028), or the months from bottling: 24 months.",
        )
        self.field = "best_before"


class SizeOfAnother(Refused):
    """A size of another product that already has the name a new one would get."""

    def __init__(self, size: str, product: str, wanted: str) -> None:
        super().__init__(
            what=f"The size “{size}” is of {product or 'your honey'}, not of {wanted or 'your honey'}.",
            why="Stock, prices and recalls tell products apart by the size. Nothing was saved.",
            do="Give the new size a name of its own.",
        )
        self.field = "size"


class NoPriceInThisJar(Refused):
    """A run of a product that has no price in a jar, where jars of it would be sold at another honey's."""

    def __init__(self, size: str, product: str, other: str) -> None:
        super().__init__(
            what=f"{product or 'Your honey'} has no price in the “{size}”, which is of {other or 'your honey'}.",
            why="The jars would be sold at the price of the other. Nothing was saved.",
            do=f'Set its price first: labelkit price --set "{size}" --product "{product or "YOUR HONEY"}" --price 12.00.',
        )
        self.field = "product"


class SizeNamedTwice(Refused):
    """Two names that mean one size."""

    def __init__(self, size: str, jar: str) -> None:
        super().__init__(
            what=f"“{jar}” and “{size}” are the same jars here.",
            why="Only one of the two counts can be meant. Nothing was saved.",
            do="Say it once.",
        )
        self.field = "jar"


class NoDeclaredWeight(Refused):
    """Goods sold by the piece, where a weight is needed."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=f"“{size}” is sold by the piece and declares no weight.",
            why="Filling, labels and unit prices of honey are worked out from the declared weight.",
            do="Choose a size that is filled with honey.",
        )
        self.field = "size"


class NotFilled(Refused):
    """A run that fills honey into something that is no jar of honey."""

    def __init__(self, size: str, product: str) -> None:
        super().__init__(
            what=f"“{size}” is of {product}, which is not honey.",
            why="Honey booked into it would be missing in every trace. Nothing was saved.",
            do=f'Choose a jar size. To book goods that were made: labelkit stock --made "{size}=12".',
        )
        self.field = "size"


class SizeRetired(AskedAbout):
    """A run into a size that is no longer offered, unless a person says why."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=f"The size “{size}” is retired.",
            why="It is on no price list and in no plan any more. Nothing was saved.",
            do="Choose another size, or say why it is filled all the same; the record keeps your words.",
        )
        self.field = "because"


class NoLabelRules(Refused):
    """Labels of goods that are no food."""

    def __init__(self, product: str, kind: str) -> None:
        super().__init__(
            what=f"{product or 'This product'} ({kind}) is not honey; labelkit makes no labels for it.",
            why="labelkit holds the rules for honey only. Food labels on other goods would mislead.",
            do="Ask your trading standards or consumer office what its label must say. For beeswax that touches food or "
            "goes into cosmetics ask the food or cosmetics authority first. Check your local rules.",
        )
        self.field = "product"


class NotGoods(Refused):
    """Honey booked as if it were made from nothing."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=f"“{size}” is filled with honey; honey comes from a bucket.",
            why="Jars booked without a bucket could not be traced back. Nothing was saved.",
            do=f'To book a run: labelkit bottle --bucket B1 --jar "{size}=12".',
        )
        self.field = "size"


class NothingMade(Refused):
    """Goods booked into stock without a count."""

    def __init__(self, size: str) -> None:
        super().__init__(
            what=f"How many pieces of “{size}” came into stock?",
            why="Stock and cost are worked out from the count. Nothing was saved.",
            do="Give a whole number of pieces.",
        )
        self.field = "pieces"

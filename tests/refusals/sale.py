"""Cases of the sale room."""

from datetime import date
from decimal import Decimal

from labelkit.errors import sale as no
from labelkit.measures import Declared, Mass, Money
from labelkit.reading.costs_file import read_season_costs
from labelkit.reading.period import read_period
from labelkit.reading.tax import read_tax
from labelkit.sale.cost import Basis
from labelkit.sale.events import SaleLine
from labelkit.sale.pricing import Size, from_margin, from_others
from labelkit.sale.season_costs import SeasonCosts
from labelkit.sale.settlement import Count, Loaded, loaded, settle
from labelkit.sale.tax import Tax
from tests.refusals.cli import say

POUND = Size("pound", Declared.read("1 lb", "en_US"), Mass(453592))
LOAD = Loaded(
    date(2026, 8, 1), "Mill square", (SaleLine("L1", "pound", 5, Mass(453592), Money.of("12.00", "USD")),), None
)
ITEM = ("L1", "pound")

CASES = [
    (no.LotNotNamed, say(no.LotNotNamed("L26201AXN")), "In stock:"),
    (no.NoYears, say(no.NoYears()), "No honey came in"),
    (no.PeriodUnclear, lambda: read_period("2026..", "en_US"), "“2026..” is not a year"),
    (no.NothingPriced, say(no.NothingPriced()), "labelkit price --set"),
    (
        no.CostsUnclear,
        lambda: read_season_costs("[honey]\nper_kilo = 9", "costs.toml", "en_US"),
        "did you mean “per_kg”",
    ),
    (
        no.CostsUnclear,
        lambda: read_season_costs("[labour]\nrate = '1.234,5'", "costs.toml", "en_US"),
        "rate in [labour]",
    ),
    (no.CostsUnclear, lambda: read_season_costs("[honey]\nper_kg = -1", "costs.toml", "en_US"), "less than nothing"),
    (
        no.RefundAboveCredit,
        say(no.RefundAboveCredit("Corner shop", "10.00", "8.40")),
        "Corner shop has a credit of 8.40, less than 10.00.",
    ),
    (no.CustomerUnknown, say(no.CustomerUnknown("Hill shp", "Hill shop")), "Use one of: Hill shop."),
    (no.NothingToRemind, say(no.NothingToRemind("Corner shop", "2026-08-31")), "The open amount is due on 2026-08-31."),
    (no.PriceMissing, say(no.PriceMissing("pint")), "The first time, also give the declared weight."),
    (no.TaxUnclear, lambda: read_tax("included", "en_US"), "“included” does not say"),
    (no.TaxUnclear, say(no.TaxUnclear("")), "You have not set whether the price includes tax."),
    (
        no.MarginImpossible,
        lambda: from_margin([POUND], Basis(SeasonCosts("USD", per_kg=Decimal(9))), Decimal(100), Tax()),
        "No price leaves 1E+2%:",
    ),
    (no.CostsMissing, lambda: from_margin([POUND], Basis(SeasonCosts("USD")), Decimal(30), Tax()), "empty jar"),
    (no.NothingToCompare, lambda: from_others([POUND], {}), "You gave no price of another seller to compare with."),
    (no.NothingLoaded, lambda: loaded([], "2026-08-01 Mill square"), "2026-08-01 Mill square"),
    (
        no.NothingToAddTo,
        say(no.NothingToAddTo("2026-08-01 Mill square")),
        "No load is recorded for “2026-08-01 Mill square” yet, so you cannot add to it with --more.",
    ),
    (no.NotLoaded, lambda: settle(LOAD, {("L2", "pound"): Count(sold=1)}), "pound of lot L2"),
    (
        no.SoldMoreThanLoaded,
        lambda: settle(LOAD, {ITEM: Count(sold=4, given=2)}),
        "you say 6 are gone, but only 5 were there.",
    ),
    (
        no.SoldMoreThanLoaded,
        lambda: settle(Loaded(LOAD.day, LOAD.place, LOAD.lines, None, {ITEM: 3}), {ITEM: Count(sold=4)}),
        "A recall must reach their buyers.",
    ),
    (
        no.BroughtBackTooMuch,
        lambda: settle(LOAD, {ITEM: Count(sold=4, back=2)}),
        "you brought 2 back, but at most 1 can be left.",
    ),
    (
        no.NotTheirJars,
        say(no.NotTheirJars("Corner shop", "L1", "pound", 5, 4, (), ())),
        "Corner shop has 4 of lot L1, pound, and cannot return 5.",
    ),
    (
        no.NotTheirJars,
        say(no.NotTheirJars("Cornr shop", "L1", "pound", 1, 0, ("Corner shop",), ())),
        "Did you mean Corner shop?",
    ),
    (no.NotTheirJars, say(no.NotTheirJars("", "L1", "pound", 5, 4, (), ("A", "B"))), "These have that many:"),
    (no.DayAlreadySettled, say(no.DayAlreadySettled("2026-08-01 Mill square", 14)), "event 14"),
    (no.DayFileUnclear, say(no.DayFileUnclear("day.json", "it ends in the middle")), "it ends in the middle"),
    (no.PlaceMissing, say(no.PlaceMissing("none yet")), "Which venue?"),
    (no.NothingToTake, say(no.NothingToTake()), "There is nothing to load:"),
    (no.CustomerHasNoDeliveries, say(no.CustomerHasNoDeliveries("Corner shp", "Corner shop")), "Corner shop"),
    (no.AlreadyLoaded, say(no.AlreadyLoaded("2026-08-01 Mill square", 11, 24)), "If these jars are extra, add --more."),
    (no.CashFloatMissing, say(no.CashFloatMissing("80.00")), "--change 80.00"),
    (no.ReceiverUnclear, say(no.ReceiverUnclear("the address of Corner shop")), "the address of Corner shop"),
    (no.ReasonMissing, say(no.ReasonMissing("returned")), "Give a reason for the jars that were returned."),
    (no.CustomerPriceMissing, say(no.CustomerPriceMissing("Corner shop", ["one pound"])), "one pound=8.40"),
    (no.NothingToCount, say(no.NothingToCount("L26201AXN", "half pound")), "never had jars of half pound"),
    (no.CustomerMissing, say(no.CustomerMissing("shop")), "need the name of the business"),
    (no.ProductUnknown, say(no.ProductUnknown("Candles", ["Clover"])), "There is no product “Candles”."),
    (no.SeasonsHoneyStays, say(no.SeasonsHoneyStays()), "--retire"),
    (no.BestBeforeRuleUnclear, say(no.BestBeforeRuleUnclear("two months")), "“two months” is not"),
    (no.SizeOfAnother, say(no.SizeOfAnother("Clover one pound", "", "Clover")), "belongs to your honey, not to Clover"),
    (no.NoPriceInThisJar, say(no.NoPriceInThisJar("half pound", "Clover", "")), '--product "Clover"'),
    (no.SizeNamedTwice, say(no.SizeNamedTwice("one pound", "Clover one pound")), "are the same jars"),
    (
        no.NoDeclaredWeight,
        say(no.NoDeclaredWeight("taper")),
        "“taper” is sold by the piece and has no declared weight.",
    ),
    (no.NotFilled, say(no.NotFilled("taper", "Candles")), "of Candles, which is not honey"),
    (no.SizeRetired, say(no.SizeRetired("pint")), "“pint” is retired"),
    (no.NoLabelRules, say(no.NoLabelRules("Candles", "candle")), "makes no labels for it"),
    (no.NotGoods, say(no.NotGoods("one pound")), "honey comes from a bucket"),
    (no.NothingMade, say(no.NothingMade("taper")), "How many pieces of “taper”"),
]

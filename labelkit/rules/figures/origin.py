"""The statement of origin: one country, a list, a list with percentages, a phrase or a sentence, as market and day ask."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from labelkit.errors.rules import CountryUnknown, SharesNotWhole, ShareUnclear
from labelkit.measures.locales import locale_of, territory_alias
from labelkit.measures.rounding import plain
from labelkit.rules.blocks import Value
from labelkit.rules.figures.metric import printed
from labelkit.rules.findings import Finding, finding_of_value
from labelkit.rules.market import Market
from labelkit.rules.shelf import markets

_WHOLE = Decimal(100)
_MOST_DIGITS = 6  # a share of a few milligrams in a ton
_FOUR = 4  # the rule is called after its four largest shares


@dataclass(frozen=True, slots=True)
class Origin:
    """The statement to print and what there is to say about it."""

    statement: str
    findings: tuple[Finding, ...]
    laws: tuple[Value, ...]


def statement(shares: Sequence[tuple[str, Decimal]], market: Market, net_g: Decimal | None = None) -> Origin:
    """The statement of origin for honey of these countries; shares are per cent by weight and make up 100.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> shares = [("PL", Decimal(22)), ("UA", Decimal(42)), ("HU", Decimal(36))]
    >>> statement(shares, market("eu", date(2026, 11, 25)), Decimal(500)).statement
    'Ukraine 42 %, Hungary 36 %, Poland 22 %'
    >>> statement(shares, market("eu", date(2026, 1, 1)), Decimal(500)).statement
    'blend of EU and non-EU honeys'
    """
    ordered = _ordered(shares)
    said = _Said(market, [])
    said.about("origin is due", "ask")
    if len(ordered) == 1:
        text = _one(ordered[0][0], said)
    else:
        style = said.about("origin of several countries", "note")
        text = _STYLES[style.value](ordered, said, net_g)
    return Origin(text, tuple(said.findings), tuple(dict.fromkeys(said.laws)))


def rounded(shares: Mapping[str, Fraction], market: Market) -> tuple[tuple[str, Decimal], ...]:
    """Exact shares (they make up 1) as per cents to print: whole ones that make up 100, with decimals where needed.

    A printed share is never further from the real one than the market's tolerance, read as a part of the share itself,
    the smaller of its two readings (source: the value “tolerance of a share” of the pack); where the market names none,
    whole per cents do as long as no honey that is there is printed as 0 %.
    That the rounded shares make up 100 by the largest remainders is common practice: no text read says how to round.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> eu = market("eu", date(2026, 11, 25))
    >>> rounded({"DE": Fraction(2, 3), "AR": Fraction(1, 3)}, eu)
    (('DE', Decimal('67')), ('AR', Decimal('33')))
    >>> rounded({"DE": Fraction(995, 1000), "AR": Fraction(5, 1000)}, eu)
    (('DE', Decimal('99.5')), ('AR', Decimal('0.5')))
    """
    name = "tolerance of a share"
    tolerance = Fraction(market.value(name).value) / 100 if market.holds(name) else None
    for digits in range(_MOST_DIGITS + 1):
        parts = _by_largest_remainder([share * 100 * 10**digits for share in shares.values()])
        printed_shares = [Fraction(part, 100 * 10**digits) for part in parts]
        off = [abs(said - real) / real for said, real in zip(printed_shares, shares.values(), strict=True)]
        if min(parts) > 0 and (tolerance is None or max(off) <= tolerance):
            break
    said = zip(shares, (Decimal(part).scaleb(-digits) for part in parts), strict=True)
    return tuple(sorted(said, key=lambda each: -each[1]))


def _by_largest_remainder(exact: Sequence[Fraction]) -> list[int]:
    """Whole numbers that add up as the exact ones do, which is to a whole number.

    >>> _by_largest_remainder([Fraction(100, 3)] * 3)
    [34, 33, 33]
    """
    down = [int(part) for part in exact]
    short = int(sum(exact, Fraction(0))) - sum(down)
    order = sorted(range(len(exact)), key=lambda n: (down[n] - exact[n], n))
    return [part + (n in order[:short]) for n, part in enumerate(down)]


_Shares = Sequence[tuple[str, Decimal]]  # countries with their per cent, the largest first


@dataclass
class _Said:
    """The market asked, the values that answered, and the findings they give rise to."""

    market: Market
    laws: list[Value]

    def __post_init__(self) -> None:
        self.findings: list[Finding] = []

    def value(self, name: str, **facts: Any) -> Value:
        found = self.market.value(name, **facts)
        self.laws.append(found)
        return found

    def about(self, name: str, level: str, **facts: Any) -> Value:
        """A value whose note the producer should read; "always" raises nothing, it is simply so."""
        found = self.value(name, **facts)
        if found.note and found.value != "always":
            self.findings.append(finding_of_value(found, self.market.code, level=level, field="origin"))
        return found

    @property
    def language(self) -> str:
        return self.market.head.languages[0]


def _ordered(shares: Sequence[tuple[str, Decimal]]) -> list[tuple[str, Decimal]]:
    total = sum((share for _, share in shares), Decimal(0))
    words = ", ".join(f"{code} {plain(share)} %" for code, share in shares)
    if total != _WHOLE:
        raise SharesNotWhole(words, plain(total))
    twice = next((code for i, (code, _) in enumerate(shares) if code in [c for c, _ in shares[:i]]), None)
    if twice:
        raise ShareUnclear(words, f"{twice} is named twice")
    return sorted(shares, key=lambda item: -item[1])


def _one(code: str, said: _Said) -> str:
    home = said.market.holds("home country") and said.value("home country").value
    words = said.value("origin of one country", imported=code != home)
    names = {f"country_{language}": _name(code, language, said) for language in said.market.head.languages}
    return str(words.value).format(country=_name(code, said.language, said), **names)


def _with_percentages(ordered: _Shares, said: _Said, net_g: Decimal | None) -> str:
    if said.market.holds("tolerance of a share"):
        said.about("tolerance of a share", "note")
    codes = said.market.holds("country codes below") and _tiny(said, net_g)
    dropped = _without_percentage(ordered, said)
    parts = []
    for number, (code, share) in enumerate(ordered):
        name = code if codes else _name(code, said.language, said)
        parts.append(name if number >= dropped else f"{name} {printed(share, said.market)} %")
    return ", ".join(parts)


def _tiny(said: _Said, net_g: Decimal | None) -> bool:
    limit = said.market.value("country codes below")
    if net_g is None or net_g >= limit.value:
        return False
    said.about("country codes below", "note")
    return True


def _without_percentage(ordered: _Shares, said: _Said) -> int:
    """From which country on the percentages may be left out; beyond the last where every one is due."""
    name = "the four largest shares are enough"
    if len(ordered) <= _FOUR or not said.market.holds(name):
        return len(ordered)
    rule = said.market.value(name)
    if sum(share for _, share in ordered[:_FOUR]) <= rule.value:
        return len(ordered)
    said.about(name, "note")
    return _FOUR


def _list(ordered: _Shares, said: _Said, net_g: Decimal | None) -> str:
    words = said.value("beginning of a list of countries")
    return _fill(words.value, [code for code, _ in ordered], said)


def _phrase(ordered: _Shares, said: _Said, net_g: Decimal | None) -> str:
    phrases = said.value("phrases for a blend")
    sort = "any"
    if any(row["for"] != "any" for row in phrases.value):
        inside = [code in said.value("member countries").value for code, _ in ordered]
        sort = "all inside" if all(inside) else "inside and outside" if any(inside) else "all outside"
    return str(next(row["text"] for row in phrases.value if row["for"] in (sort, "any")))


def _sentence(ordered: _Shares, said: _Said, net_g: Decimal | None) -> str:
    home = said.value("home country").value
    abroad = [code for code, _ in ordered if code != home]
    if len(abroad) == len(ordered):
        return _list(ordered, said, net_g)
    sentences = said.about("sentences for a blend", "note")
    larger = "home" if 2 * dict(ordered)[home] >= _WHOLE else "abroad"
    texts = [row for row in sentences.value if row["larger"] == larger]
    return " / ".join(
        row["text"].format(abroad=", ".join(_name(code, row["language"], said) for code in abroad)) for row in texts
    )


def _fill(text: str, codes: Sequence[str], said: _Said) -> str:
    def names(language: str) -> str:
        return ", ".join(_name(code, language, said) for code in codes)

    by_language = {f"countries_{language}": names(language) for language in said.market.head.languages}
    return text.format(countries=names(said.language), **by_language)


_STYLES = {
    "each country with its percentage": _with_percentages,
    "each country": _list,
    "a phrase": _phrase,
    "a sentence": _sentence,
}


def _name(code: str, language: str, said: _Said) -> str:
    name = "names of countries on labels"
    if said.market.holds(name):
        held = said.market.value(name)
        for row in held.value:
            if (row["code"], row["language"]) == (code, language):
                said.laws.append(held)
                return str(row["name"])
    return country_names(language)[code]


def country_names(language: str) -> Mapping[str, str]:
    """The countries of the world by their two-letter codes, as one language calls them.

    >>> country_names("fr")["ES"]
    'Espagne'
    """
    return {code: name for code, name in locale_of(language).territories.items() if len(code) == 2 and code.isalpha()}


def known_country(code: str) -> None:
    """Refuse what is no country of ISO 3166-1, with the code that is probably meant.

    >>> known_country("GB")
    >>> known_country("UK")
    Traceback (most recent call last):
    labelkit.errors.rules.CountryUnknown: “UK” is not the two-letter code of a country. United Kingdom is GB.
      Why: The buyer must be able to find the country of origin.
      Do:  Use the two-letter code of ISO 3166-1, for example ES for Spain or AR for Argentina.
    """
    names = country_names("en")
    if code in names and code not in _NOT_COUNTRIES:
        return
    state = next((head for head in markets() if head.id.partition("-")[2] == code.casefold()), None)
    if state is not None:
        country = state.id.partition("-")[0].upper()
        raise CountryUnknown(code, f" {state.name} is a part of {names.get(country, country)}, which is {country}.")
    by_name = {name.casefold(): found for found, name in names.items()}
    close = difflib.get_close_matches(code.casefold(), by_name, n=1) if len(code) > 3 else []
    meant = _USUAL.get(code) or territory_alias(code) or (by_name[close[0]] if close else "")
    raise CountryUnknown(code, f" {names[meant]} is {meant}." if meant in names else "")


# What people write for a country that has another code, beside the aliases the language data knows.
_USUAL = {"EL": "GR", "ENG": "GB", "GER": "DE"}
# Codes the language data carries that are no countries: unions, unknown, and private use.
_NOT_COUNTRIES = frozenset({"EU", "EZ", "UN", "XA", "XB", "ZZ", "QO"})

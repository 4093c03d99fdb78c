"""Money is kept in whole minor units of its own currency (decimals by ISO 4217, as babel carries them)."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from labelkit.measures import Money
from labelkit.measures.locales import currency_digits, show_day, show_money, show_percent


def test_a_currency_has_its_own_number_of_decimals():
    # ISO 4217: yen none, dollar two, Tunisian dinar three.
    assert [currency_digits(code) for code in ("JPY", "USD", "TND")] == [0, 2, 3]
    assert Money.of("1200", "JPY").minor == 1200
    assert Money.of("1.250", "TND").minor == 1250


def test_amounts_are_read_with_or_without_the_sign():
    for text, currency, locale in [
        ("$12.00", "USD", "en_US"),
        ("12,00 €", "EUR", "de_DE"),
        ("12 USD", "USD", "en_US"),
        ("12,00 zł", "PLN", "pl_PL"),
    ]:
        assert Money.read(text, currency, locale).amount == 12


def test_amounts_print_as_the_country_prints_them():
    assert show_money(Decimal("1234.5"), "EUR", "de_DE") == "1.234,50\xa0€"
    assert show_money(Decimal("1234.5"), "USD", "en_US") == "$1,234.50"
    assert show_money(Decimal("1234"), "JPY", "en_US") == "¥1,234"
    assert " ".join(show_percent(Decimal("17.6"), "fr_FR").split()) == "17,6 %"


def test_days_print_in_the_reader_s_language():
    from datetime import date

    assert show_day(date(2026, 7, 14), "pl_PL") == "14 lipca 2026"


@given(st.lists(st.integers(min_value=-(10**9), max_value=10**9), min_size=1))
def test_adding_money_loses_no_cent(cents):
    whole = Money(0, "USD")
    for cent in cents:
        whole = whole + Money(cent, "USD")
    assert whole.minor == sum(cents)

"""Lot codes: short, clear, and safe against every slip of one finger.

ISO/IEC 7064 MOD 37-2 promises to catch every single substitution and every adjacent transposition; python-stdnum's
``mod_37_2`` is the independent reckoning of the check character. Published case: ``G123489654321`` has check ``Y``
(python-stdnum's documentation).
"""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_2

from labelkit.errors.lots import LotCodeWrong
from labelkit.lots.code import is_lot_code, lot_code, neighbours, read_lot_code

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
DAYS = st.dates(min_value=date(2000, 1, 1), max_value=date(2099, 12, 31))
BUCKETS = st.text(min_size=1, max_size=12)


def test_the_check_character_is_the_published_one():
    assert mod_37_2.calc_check_digit("G123489654321") == "Y"


@given(DAYS, BUCKETS)
def test_a_code_is_short_begins_with_l_and_reads_back_its_day(day, bucket):
    code = lot_code(day, bucket)
    assert code.code[0] == "L"
    assert 6 <= len(code.code) <= 9
    assert code.code.isalnum() and code.code == code.code.upper()
    assert not set(code.code[1:]) & set("OIQSZBGUL")
    assert read_lot_code(code.code).bottled == day
    assert mod_37_2.is_valid(code.code)


@given(DAYS, BUCKETS, st.data())
def test_every_single_wrong_character_is_caught(day, bucket, data):
    code = lot_code(day, bucket).code
    at = data.draw(st.integers(0, len(code) - 1))
    for other in ALPHABET:
        if other != code[at]:
            assert not is_lot_code(code[:at] + other + code[at + 1 :])


@given(DAYS, BUCKETS)
def test_every_swap_of_neighbours_is_caught(day, bucket):
    code = lot_code(day, bucket).code
    for at in range(len(code) - 1):
        swapped = code[:at] + code[at + 1] + code[at] + code[at + 2 :]
        assert swapped == code or not is_lot_code(swapped)


def test_two_days_one_swap_apart_are_never_confused():
    # Day 10 and day 100 of a year differ by one swap of neighbours, which weaker schemes let through.
    tenth, hundredth = date(2025, 1, 10), date(2025, 4, 10)
    assert (tenth.timetuple().tm_yday, hundredth.timetuple().tm_yday) == (10, 100)
    assert all(lot_code(tenth, f"B{n}").code[6:] != lot_code(hundredth, f"B{n}").code[6:] for n in range(50))


def test_codes_sort_by_the_day_of_bottling():
    days = [date(2025, 12, 31), date(2026, 1, 1), date(2026, 7, 14), date(2026, 10, 2)]
    codes = [lot_code(day, "B1").code for day in days]
    assert codes == sorted(codes)


def test_a_code_in_use_is_never_given_again():
    day, taken = date(2026, 7, 14), set()
    for _ in range(300):
        code = lot_code(day, "B1", taken).code
        assert code not in taken
        taken.add(code)


def test_the_day_after_28_february_of_a_leap_year_is_29_february():
    # 14 July 2000 is day 196: the year had a 29 February.
    assert lot_code(date(2000, 7, 14), "B1").code.startswith("L00196")
    assert read_lot_code(lot_code(date(2028, 2, 29), "B1").code).bottled == date(2028, 2, 29)


def test_a_mistyped_code_leads_to_the_lot_it_was_meant_to_be():
    code = lot_code(date(2026, 7, 14), "B1").code
    mistyped = code[:4] + code[5] + code[4] + code[6:]
    assert code in neighbours(mistyped)
    with pytest.raises(LotCodeWrong, match="check character") as caught:
        read_lot_code(mistyped, near=[code, lot_code(date(2026, 7, 14), "B2").code])
    assert code in caught.value.do


def test_spaces_hyphens_and_small_letters_are_forgiven():
    code = lot_code(date(2026, 7, 14), "B1").code
    assert read_lot_code(f" {code[:3].lower()} {code[3:6]}-{code[6:]} ").code == code

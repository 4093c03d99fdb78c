"""Mass, money, volume, length, days: exact integers of one unit each, read from what people type."""

from labelkit.measures.days import months_after, years_after
from labelkit.measures.declared import Declared
from labelkit.measures.mass import NOTHING, Mass, show_both, show_customary, show_first, show_metric, show_second, total
from labelkit.measures.money import Money
from labelkit.measures.numerals import read_day, read_number, read_percent
from labelkit.measures.size import Length, Volume, read_area, read_temperature, read_volume

__all__ = [
    "NOTHING",
    "Declared",
    "Length",
    "Mass",
    "Money",
    "Volume",
    "months_after",
    "read_area",
    "read_day",
    "read_number",
    "read_percent",
    "read_temperature",
    "read_volume",
    "show_both",
    "show_customary",
    "show_first",
    "show_metric",
    "show_second",
    "total",
    "years_after",
]

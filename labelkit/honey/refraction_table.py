"""Refractive index of honey at 20 °C by its water content: the published table, all 61 rows.

Source: Chataway's table as revised by Wedmore, printed in S. Bogdanov, *Book of Honey*, chapter 4 "Physical Properties
of Honey" (2009 and 2011, the same in both); the method is AOAC 969.38, and Codex CXS 12, DIN 10752 and the
International Honey Commission's methods use the same table. Read: seen.

The second table is the sucrose (Brix) scale near honey: refractive index at 20 °C of sucrose solutions, degree by
degree, ICUMSA scale of 1974. Source: the values the general-purpose chemistry library ``chemicals`` carries and names
as that scale (official to 85 °Brix). Read: second-hand; the tests hold every row against that library.
"""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

from labelkit.honey.interpolation import Row

# Water in g/100 g from 13.0 in steps of 0.2, and the index times 10,000.
_FIRST_WATER, _WATER_STEP = Decimal("13.0"), Decimal("0.2")
_HONEY = """
15044 15038 15033 15028 15023  15018 15012 15007 15002 14997  14992 14987 14982 14976 14971
14966 14961 14956 14951 14946  14940 14935 14930 14925 14920  14915 14910 14905 14900 14895
14890 14885 14880 14875 14870  14865 14860 14855 14850 14845  14840 14835 14830 14825 14820
14815 14810 14805 14800 14795  14790 14785 14780 14775 14770  14765 14760 14755 14750 14745  14740
"""
# Degrees Brix from 70, and the index times 100,000.
_FIRST_BRIX = 70
_SUCROSE = """
146546 146790 147037 147285 147535  147787 148040 148295 148552 148811
149071 149333 149597 149862 150129  150398 150670 150940
"""


@lru_cache(maxsize=1)
def honey_rows() -> tuple[Row, ...]:
    """(water %, refractive index at 20 °C), 61 rows.

    >>> honey_rows()[0], honey_rows()[-1], len(honey_rows())
    ((Decimal('13.0'), Decimal('1.5044')), (Decimal('25.0'), Decimal('1.4740')), 61)
    """
    return tuple((_FIRST_WATER + i * _WATER_STEP, Decimal(n).scaleb(-4)) for i, n in enumerate(_HONEY.split()))


@lru_cache(maxsize=1)
def sucrose_rows() -> tuple[Row, ...]:
    """(degrees Brix, refractive index at 20 °C) from 70 to 87 °Brix.

    >>> dict(sucrose_rows())[Decimal(80)]
    Decimal('1.49071')
    """
    return tuple((Decimal(_FIRST_BRIX + i), Decimal(n).scaleb(-5)) for i, n in enumerate(_SUCROSE.split()))

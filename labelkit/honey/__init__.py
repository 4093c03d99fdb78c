"""What honey does by itself: moisture, density, keeping, settling. Pure physics, each function with its source.

Reported figures are reckoned in ``Decimal``; every result says how sure it is and carries the notes a producer has to
read with it. Rules of law do not stand here (see :mod:`labelkit.rules`).
"""

"""Check-weighing: whether a filled lot holds what its label says, by the test of the market it is sold in.

The way through: typed weights (:mod:`.typed`) become masses (:mod:`.weights`); a market's packs become the terms of its test
(:mod:`.law`, :mod:`.lot_test`); :mod:`.judge` gives the verdict, :mod:`.advice` says what to do, :mod:`.chart` draws
it. :mod:`.margin` and :mod:`.chance` look the other way: how to fill the next lot so that it passes.
"""

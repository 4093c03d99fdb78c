"""The fill test as a person asks for it: weights as they are typed, read as en_US writes them."""

from labelkit.reading.weights import read_jars
from labelkit.run import fill_test as stage


def fill_test(declares, place, lot, typed, *, tare=None, **more):
    read = read_jars(typed, stage.enforced(declares, place), tare, "en_US")
    return stage.fill_test(declares, place, lot, read.masses, tare=read.tare, notes=read.notes, locale="en_US", **more)

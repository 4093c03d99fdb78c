"""Words that remember their figures keep them when they travel to another process or are copied."""

from __future__ import annotations

import copy
import pickle

import pytest

from labelkit.errors.sentence import Figure, Sentence
from labelkit.measures import Mass, show_metric

HALF = Figure(show_metric, Mass.of_grams("1500"))


@pytest.mark.parametrize("moved", [copy.deepcopy, lambda said: pickle.loads(pickle.dumps(said))])
@pytest.mark.parametrize(
    "said",
    [
        Sentence("put {mass} into {name}", mass=HALF, name="B{1}"),
        Sentence.plural("{n} jar of {m}", "{n} jars of {m}", 2, m=HALF),
    ],
)
def test_a_sentence_that_was_copied_or_sent_still_writes_its_figures_in_every_locale(said, moved):
    again = moved(said)
    assert again == said
    assert again.in_locale("de_DE") == said.in_locale("de_DE")
    assert "1,5 kg" in again.in_locale("de_DE")

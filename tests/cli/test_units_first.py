"""The season's weights come first in every answer: pounds in the US, kilograms elsewhere, the others never where it says so."""

import pytest


@pytest.mark.parametrize(
    ("start", "shown", "never"),
    [
        (["--market", "us", "--currency", "USD"], "60 lb (27.216 kg)", "not a word"),
        (["--market", "eu-de", "--currency", "EUR"], "27.216 kg (60 lb)", "not a word"),
        (["--market", "eu-de", "--currency", "EUR", "--units", "metric-only"], "27.216 kg", " lb"),
    ],
)
def test_a_weigh_in_and_its_trace_show_the_units_of_the_season_first(labelkit, start, shown, never):
    assert labelkit("--record", "own.labelkit", "start", *start).code == 0
    weighed = labelkit("--record", "own.labelkit", "weigh", "--bucket", "B1", "--net", "27.216 kg")
    assert shown in weighed.out and never not in weighed.out
    traced = labelkit("--record", "own.labelkit", "trace", "B1")
    assert shown.split(" (")[0] in traced.out and never not in traced.out


def test_a_refusal_and_a_correction_show_the_units_of_the_season_first(labelkit):
    assert labelkit("--record", "own.labelkit", "start", "--market", "us", "--currency", "USD").code == 0
    assert labelkit("--record", "own.labelkit", "weigh", "--bucket", "B1", "--net", "60 lb").code == 0
    heavier = labelkit("--record", "own.labelkit", "bucket", "skim", "B1", "--net", "70 lb", "--json")
    assert "70 lb (31.751 kg) after and 60 lb (27.216 kg) before" in heavier.error["what"]
    corrected = labelkit("--record", "own.labelkit", "record", "correct", "3", "--net", "61 lb", "--because", "misread")
    assert "B1 61 lb" in corrected.out

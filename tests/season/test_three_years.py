"""Three invented years, played by commands month by month on both engines, against figures reckoned by hand.

The sums stand in ``sample_lots/three-years/answers.toml``; they are worked out here with decimals and no line of labelkit.
"""

from __future__ import annotations

import ast
import csv
import operator
import shlex
import tomllib
from collections import Counter, defaultdict
from datetime import UTC, date, datetime, time
from decimal import ROUND_HALF_UP, Decimal

import pytest

from labelkit.cli._runner import answer_to
from labelkit.season import open_season
from labelkit.season.account import balances
from labelkit.season.stock import stock
from labelkit.shipped import folder
from tests.record.server import new_database

SAMPLE = folder("sample_lots") / "three-years"
ANSWERS = tomllib.loads((SAMPLE / "answers.toml").read_text(encoding="utf-8"))
YEARS = {int(year): wanted for year, wanted in ANSWERS["year"].items()}
WORKINGS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}


def worked_out(text: str) -> Decimal:
    """A sum as it is written by hand."""

    def of(node) -> Decimal:
        if isinstance(node, ast.BinOp):
            return WORKINGS[type(node.op)](of(node.left), of(node.right))
        return -of(node.operand) if isinstance(node, ast.UnaryOp) else Decimal(ast.get_source_segment(text, node))

    return of(ast.parse(text, mode="eval").body)


def sums(table: dict[str, str]) -> dict[str, Decimal]:
    return {name: value for name, text in table.items() if (value := worked_out(text))}


def steps() -> list[tuple[date, str]]:
    lines = (SAMPLE / "steps.txt").read_text(encoding="utf-8").splitlines()
    parts = [line.split(" ", 1) for line in lines if line and not line.startswith("#")]
    return [(date.fromisoformat(day), typed) for day, typed in parts]


class Played:
    """A record, and commands typed into it under the clock of a day."""

    def __init__(self, where: str) -> None:
        self.where = where

    def type(self, day: date, *typed: str):
        line = ["--record", self.where, *([] if "--day" in typed else ["--day", str(day)]), *typed]
        return answer_to(line, clock=datetime.combine(day, time(18), UTC), who="Robin").document

    def stock(self, day: date) -> tuple[Decimal, dict[str, int], Decimal]:
        """Grams in buckets, jars by size wherever they stand, and what is owed, on an evening."""
        with open_season(self.where, to_read=True) as season, season.reading(day) as state:
            found, accounts = stock(state, day), balances(state)
        jars: Counter[str] = Counter()
        for each in found.filled:
            jars[each.size] += each.in_stock + each.on_hold + each.at_stall
        owed = sum(each.open.amount for each in accounts)
        return (
            sum(bucket.holds.g for bucket in found.buckets),
            {size: n for size, n in jars.items() if n},
            Decimal(owed),
        )


@pytest.fixture(scope="module", params=["file", pytest.param("server", marks=pytest.mark.postgres)])
def played(request, tmp_path_factory):
    """The whole of it, with what the record said on every evening when that evening was the last, and of each closing."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path_factory.mktemp("years"))
        record = Played(new_database() if request.param == "server" else "season.labelkit")
        evenings = [evening["day"] for evening in ANSWERS["evening"]]
        record.then, record.answers = {}, []
        for day, typed in steps():
            while evenings and day > evenings[0]:
                evening = evenings.pop(0)
                record.then[evening] = record.stock(evening)
            record.answers.append((typed, record.type(day, *shlex.split(typed))))
        yield record


def answered(played, begins: str) -> list[dict]:
    return [document for typed, document in played.answers if typed.startswith(begins)]


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize("evening", ANSWERS["evening"], ids=lambda evening: str(evening["day"]))
def test_every_evening_was_as_it_was_reckoned_by_hand_and_is_so_seen_from_the_end(played, evening):
    grams, owed, jars = worked_out(evening["buckets_g"]), worked_out(evening["owed"]), sums(evening["jars"])
    assert played.then[evening["day"]] == (grams, jars, owed)
    later = worked_out(evening.get("buckets_known_later_g", evening["buckets_g"]))
    assert played.stock(evening["day"]) == (later, jars | sums(evening.get("jars_known_later", {})), owed)


@pytest.mark.parametrize("year", YEARS)
def test_a_years_result_is_the_sum_of_its_slips(played, year):
    wanted, found = YEARS[year], played.type(date(2026, 1, 4), "result", "--year", str(year))
    money = ("money_in", "received", "cost_of_jars", "left", "tax_in_money", "tax_received", "paid_in_advance")
    for name in ("came_in_g", "bought_in_g", "carried_in_g", *money):
        assert found[name] == worked_out(wanted[name]), name
    assert (found["lost"], found["given"]) == (worked_out(wanted["jars_lost"]), worked_out(wanted["jars_given"]))
    assert len(found["closed"]["booked_since"]) == wanted["booked_late"]
    in_and_carried = worked_out(wanted["came_in_g"]) + worked_out(wanted["carried_in_g"])
    assert sum(found["where_g"].values()) == in_and_carried


def test_the_tax_of_the_slips_is_reckoned_half_up_line_by_line():
    wanted = YEARS[2025]
    for gross, percent, net in wanted["taxed"]:
        exact = worked_out(gross) * 100 / (100 + Decimal(percent))
        assert exact.quantize(Decimal("0.01"), ROUND_HALF_UP) == Decimal(net)
    taxes = [worked_out(gross) - Decimal(net) for gross, _, net in wanted["taxed"]]
    assert sum(taxes) == worked_out(wanted["tax_in_money"])


def test_labels_were_printed_for_every_jar_of_a_lot(played):
    (printed,) = answered(played, "labels")
    left = played.type(date(2026, 1, 4), "stock")["filled"]
    for lot, count in ANSWERS["labels"].items():
        assert printed["labels"] == worked_out(count)
        assert [each["unlabelled"] for each in left if each["lot"] == lot] == [0]


@pytest.mark.parametrize("year", YEARS)
def test_each_account_of_the_ledger_adds_up_to_its_figure_of_the_result(played, year, tmp_path):
    ledger = tmp_path / "money.csv"
    found = played.type(date(2026, 1, 4), "result", "--year", str(year), "--ledger", str(ledger))
    with ledger.open(encoding="utf-8-sig", newline="") as file:
        lines = list(csv.DictReader(file))
    by_account: dict[str, Decimal] = defaultdict(Decimal)
    for line in lines:
        by_account[line["account"]] += Decimal(line["amount"])
    assert by_account["income from honey"] == Decimal(found["money_in"])
    assert -by_account["stall fees"] == Decimal(found["stall_fees"])
    assert by_account["cash differences"] == Decimal(found["cash_differences"])
    assert by_account["payments received"] == -by_account["owed by customers"]
    assert sum(Decimal(line["tax"]) for line in lines if line["tax"]) == Decimal(found["tax_in_money"] or 0)
    assert {line["customer"] for line in lines if not line["customer_number"]} <= {""}
    numbers = {line["customer"]: line["customer_number"] for line in lines if line["customer"]}
    assert len(set(numbers.values())) == len(numbers)


def test_the_years_side_by_side_are_the_same_figures(played):
    found = played.type(date(2026, 1, 4), "year", "compare")
    assert found["years"] == [str(year) for year in YEARS]
    figures = {(each["group"], each["name"]): each for each in found["figures"]}
    for at, wanted in enumerate(YEARS.values()):
        for group, key in (("Hives", "hives_g"), ("Jars filled", "filled"), ("Jars sold", "sold")):
            said = {name: each["values"][at] for (of, name), each in figures.items() if of == group}
            assert {name: value for name, value in said.items() if value} == sums(wanted[key]), (at, group)
        assert figures["Losses", "honey"]["values"][at] == worked_out(wanted["honey_lost_g"])
    lost = [worked_out(wanted["honey_lost_g"]) for wanted in YEARS.values()]
    assert figures["Losses", "honey"]["changes"] == [lost[1] - lost[0], lost[2] - lost[1]]


def test_each_closing_carried_forward_what_was_counted(played):
    for closing, wanted in zip(answered(played, "year close"), YEARS.values(), strict=True):
        assert sum(jars["count"] for jars in closing["jars"]) == worked_out(wanted["closed_with_jars"])
        assert sum(empty["jars"] for empty in closing["empty"]) == worked_out(wanted.get("closed_with_empties", "0"))


def test_a_hives_honey_of_one_year_stays_apart_from_the_same_buckets_honey_of_another(played):
    for year, lots in ANSWERS["trace"]["H1"].items():
        assert played.type(date(2026, 1, 4), "trace", "--hive", "H1", "--year", year)["lots"] == lots
    assert (
        played.type(date(2026, 1, 4), "trace", "--supplier", "Brook apiary")["lots"] == ANSWERS["trace"]["Brook apiary"]
    )


def test_the_drill_found_what_could_be_found(played):
    (drill,) = answered(played, "recall drill")
    assert (drill["jars_made"], drill["jars_found"]) == tuple(
        worked_out(ANSWERS["drill"][name]) for name in ("filled", "found")
    )

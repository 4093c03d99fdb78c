"""A new jurisdiction needs no Python: the one in the guide for pack writers is taken from there and used."""

from __future__ import annotations

import ast
import re
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

import labelkit.rules
from labelkit.errors.rules import NoRuleInForce
from labelkit.measures import Declared
from labelkit.rules import market, shelf
from labelkit.rules.figures import letter_height, net_weight, origin
from labelkit.rules.lint import whole
from labelkit.rules.pack import PACKS

ROOM = Path(labelkit.rules.__file__).parent
DAY = date(2026, 11, 25)
GUIDE = (PACKS / "README.md").read_text(encoding="utf-8")


@pytest.fixture
def applewood(tmp_path):
    """The pack of the guide, written out file by file."""
    folder = tmp_path / "applewood"
    folder.mkdir()
    for name, text in re.findall(r"```toml (\S+)\n(.*?)```", GUIDE, re.DOTALL):
        place = tmp_path if name == "sources.toml" else folder
        (place / name).write_text(text, encoding="utf-8")
    return lambda day=DAY: market("applewood", day, tmp_path)


def test_the_guide_for_pack_writers_is_a_whole_pack(applewood):
    assert len(whole(applewood())) >= 7


def test_the_new_place_answers_to_its_names(applewood, tmp_path):
    assert market("the Applewoods", DAY, tmp_path).code == "applewood"


def test_its_figures_are_reckoned_without_a_line_of_python(applewood):
    assert net_weight.net_quantity(Declared.read("1 lb", "en_US"), applewood()).statements == ("453 g",)
    assert letter_height.required(applewood(), Decimal(340)).net_quantity_mm == Decimal(4)
    assert letter_height.required(applewood(date(2025, 12, 31)), Decimal(340)).net_quantity_mm == Decimal(3)
    assert letter_height.required(applewood(), Decimal(501)).net_quantity_mm == Decimal("6.35")


def test_what_it_does_not_hold_is_refused_and_what_nobody_read_is_a_question(applewood):
    with pytest.raises(NoRuleInForce):
        origin.statement([("ES", Decimal(100))], applewood())
    assert [entry.rule for entry in applewood().not_read()] == ["applewood.not_read.home"]


def test_its_rules_can_be_asked(applewood):
    (street,) = applewood().requires()
    assert street.answer({"in_directory": True}).holds is False
    assert street.answer({}).missing[0].asks.startswith("Does a current city or telephone directory")


def member(tmp_path, option):
    """A member state of the Union on top of the real pack of the Union."""
    (tmp_path / "eu").symlink_to(PACKS / "eu")
    order = '\n[honey-order]\ntitle = "An invented honey order"\n'
    (tmp_path / "sources.toml").write_text(
        (PACKS / "sources.toml").read_text(encoding="utf-8") + order, encoding="utf-8"
    )
    folder = tmp_path / "eu-xx"
    folder.mkdir()
    folder.joinpath("pack.toml").write_text(
        '[pack]\nname = "Memberland"\nparents = ["eu"]\nlanguages = ["en"]\ncurrency = "EUR"\noffice = "its office"\n'
    )
    folder.joinpath("origin.toml").write_text(
        f'[[value]]\nname = "the four largest shares are enough"\nvalue = {option}\nsince = 2026-06-14\n'
        'cite = { source = "honey-order", clause = "s. 1" }\nsure = "memory"\n'
    )
    return market("eu-xx", DAY, tmp_path)


def shares(*percents):
    codes = ["ES", "AR", "UA", "CN", "MX", "VN", "TR", "IN", "CL", "UY"]
    return list(zip(codes, map(Decimal, percents), strict=False))


def test_with_the_option_of_a_member_state_only_the_four_largest_carry_their_share(tmp_path):
    """Directive (EU) 2024/1438: percentages for the four largest when together they are more than half."""
    found = origin.statement(shares(30, 25, 20, 15, 10), member(tmp_path, 50)).statement
    assert found == "Spain 30 %, Argentina 25 %, Ukraine 20 %, China 15 %, Mexico"


def test_without_half_the_honey_in_the_four_largest_every_country_carries_its_share(tmp_path):
    """Ten countries 13/12/12/12/11/10/10/8/7/5: the four largest are 49 %, not more than half."""
    found = origin.statement(shares(13, 12, 12, 12, 11, 10, 10, 8, 7, 5), member(tmp_path, 50)).statement
    assert found.count("%") == 10


def test_no_place_is_named_in_python():
    """The code knows no jurisdiction; all of them are folders of data."""
    codes = {head.id for head in shelf.markets()}
    for path in sorted(ROOM.rglob("*.py")):
        if path.parent.name == "wording":
            continue  # words of languages, some of them spelt like a market
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                assert node.value not in codes, f"{path.name}:{node.lineno} names {node.value}"


def test_every_value_of_the_glossary_is_held_somewhere():
    from labelkit.rules.blocks import Value
    from labelkit.rules.glossary import glossary
    from labelkit.rules.pack import folders

    packs = folders(PACKS)
    laws = [law for pack in packs for topic in shelf.topics(pack) for law in shelf.laws(pack, topic)]
    held = {law.name for law in laws if isinstance(law, Value)}
    assert set(glossary().names) == held

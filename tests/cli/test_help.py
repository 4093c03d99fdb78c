"""The lists of commands that help shows: in the order of the work, each line whole."""

import click
import pytest

from labelkit.cli._group import SUMMARY_LENGTH, HintingGroup, summary
from labelkit.cli._runner import program

NOTHING = click.Context(program)


def groups(group=program, name="labelkit"):
    yield pytest.param(group, id=name)
    for each in group.list_commands(NOTHING):
        command = group.get_command(NOTHING, each)
        if isinstance(command, click.Group):
            yield from groups(command, f"{name} {each}")


@pytest.mark.parametrize("group", list(groups()))
def test_every_command_has_one_place_in_the_order_of_the_work(group):
    assert isinstance(group, HintingGroup)
    placed = [name for names in group.order.values() for name in names]
    assert sorted(placed) == sorted(group.list_commands(NOTHING))


@pytest.mark.parametrize("group", list(groups()))
def test_no_line_of_the_list_is_cut(group):
    for name in group.list_commands(NOTHING):
        says = summary(group.get_command(NOTHING, name))
        assert 0 < len(says) <= SUMMARY_LENGTH, f"{name}: {says}"
        assert not says.endswith((".", "…")), name
    shown = group.get_help(click.Context(group, info_name="labelkit", terminal_width=80))
    assert "..." not in shown.partition("Options:")[2]
    assert all(len(line) <= 80 for line in shown.splitlines())


@pytest.mark.parametrize("group", list(groups()))
def test_no_command_offers_an_option_twice(group):
    for name in group.list_commands(NOTHING):
        offered = [option for parameter in group.get_command(NOTHING, name).params for option in parameter.opts]
        assert len(offered) == len(set(offered)), name


@pytest.mark.parametrize("group", list(groups()))
def test_every_command_that_books_under_a_key_takes_a_reason_for_a_closed_year(group):
    for name in group.list_commands(NOTHING):
        offered = {option for parameter in group.get_command(NOTHING, name).params for option in parameter.opts}
        assert "--once" not in offered or "--because" in offered, name

"""``labelkit completion``."""

from __future__ import annotations

import click
from click.shell_completion import get_completion_class

from labelkit.cli._runner import Answer, CommandContext, answering

SHELLS = ("bash", "zsh", "fish")


@click.command()
@click.argument("shell", type=click.Choice(SHELLS))
@answering
def command(context: CommandContext, shell: str) -> Answer:
    """Turn on Tab completion.

    Prints what your shell needs to complete commands and options.

    Example:  labelkit completion bash >> ~/.bashrc
    """
    from labelkit.cli._runner import program

    completion = get_completion_class(shell)
    assert completion is not None, "only shells that click completes are offered"
    script = completion(program, {}, "labelkit", "_LABELKIT_COMPLETE").source()
    return Answer({"shell": shell, "script": script}, script)

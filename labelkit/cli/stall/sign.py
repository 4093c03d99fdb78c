"""``labelkit stall sign``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from labelkit.cli._files import read_text, write_whole
from labelkit.cli._options import paper_options
from labelkit.cli._runner import Answer, CommandContext, answering

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from labelkit.rules.market import Market


@click.command()
@click.option("--out", default="sign.pdf", show_default=True, metavar="FILE.pdf", help="Where the sign goes.")
@click.option("--situation", metavar="LABEL.toml", help="A label file whose [situation] tells how you work.")
@click.option("--heading", metavar="WORDS", default="", help="The largest word on it; “Honey” unless given.")
@click.option("--no-caution", is_flag=True, help="Without the caution about infants.")
@paper_options
@answering
def command(
    context: CommandContext,
    out: str,
    situation: str | None,
    heading: str,
    no_caution: bool,
    page: str | None,
    language: str | None,
) -> Answer:
    """Print a stall sign.

    With your name and the words your market wants where honey is sold.

    Example:  labelkit stall sign --situation label.toml
    """
    from labelkit.rules.findings import CHECK_LOCAL, law_line
    from labelkit.sale.price_list import maker_lines
    from labelkit.sale.sign import bears_caution, caution_in, sign_pdf, sign_words
    from labelkit.season.papers import paper_size, paper_words
    from labelkit.season.settings import settings_of

    with context.reading() as state:
        season, settings = settings_of(state), state.settings()
    words, _ = paper_words(language, context.locale)
    told = sign_words(season.places(context.day), _facts_in(situation, settings))
    made = sign_pdf(
        told,
        words,
        page=paper_size(season, page),
        maker=maker_lines(season.maker, season.first_market),
        heading=heading,
        caution=not no_caution,
    )
    write_whole(out, made)
    texts = told.texts(words.lang)
    text = [f"Sign: {out}"]
    text += [f"  “{one}”" for one in texts] or ["  No prescribed words are known for this market and situation."]
    if not no_caution and bears_caution(told):
        text.append(f"  “{caution_in(words.lang)}” (the usual caution; no law that was read asks for it on this sign)")
    text += [f"Law: {law_line(one.cite, one.sure)}" for one in told.statements]
    if told.wants:
        text += ["It must also bear:", *(f"  {one}" for one in told.wants)]
    if told.asks:
        text += ["Not decided, because nobody has said:", *(f"  {ask}" for ask in told.asks)]
    if told.not_read:
        text += ["Not read for this market; ask the office:", *(f"  {one}" for one in told.not_read)]
    document = {
        "file": out,
        "texts": list(texts),
        "must_also_bear": list(told.wants),
        "ask": list(told.asks),
        "not_covered": list(told.not_read),
    }
    return Answer(document, "\n".join([*text, CHECK_LOCAL]))


def _facts_in(file: str | None, settings: Mapping[str, Any]) -> Callable[[Market], dict[str, Any]]:
    """How the producer works, as facts of a market: told by a label file, or by the season's own situation."""
    if not file:
        return lambda market: dict(settings.get("situation", {}))
    from labelkit.reading.label_file import read_label
    from labelkit.rules.checking.facts import told

    label = read_label(read_text(file), file)
    return lambda market: told(label, market)

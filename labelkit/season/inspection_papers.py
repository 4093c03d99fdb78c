"""The inspector's folder on paper: hazard plan, batch sheets, calibration, glass, cleaning and pests, and one trace."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from labelkit.measures import show_both
from labelkit.measures.locales import show_day
from labelkit.paper.document import Document
from labelkit.rules.address import address_lines
from labelkit.run.batch_sheet import BREAKAGE, INSTRUMENTS, LINES
from labelkit.sale.paper_note import quality_note
from labelkit.season.inspection import CLEANING
from labelkit.trace.papers import trace_paper

if TYPE_CHECKING:
    from labelkit.measures.wording import Wording
    from labelkit.season.inspection import Inspection
    from labelkit.trace.booked import Booked

_SHARES = {2: (0.25, 0.75), 3: (0.22, 0.22, 0.56), 6: (0.13, 0.13, 0.24, 0.32, 0.1, 0.08)}


def inspection_papers(found: Inspection, page: str, locale: str, words: Wording) -> dict[str, bytes]:
    """Every paper of the folder by the name of its file, in the order they are read."""
    to = _Folder(found, page, locale, words)
    return {
        "1-hazard-plan.pdf": _hazard_plan(to),
        "2-batch-sheets.pdf": _batch_sheets(to),
        "3-calibration-log.pdf": _calibration(to),
        "4-glass-breakage.pdf": _glass(to),
        "5-cleaning-and-pests.pdf": _cleaning(to),
        f"6-trace-{found.traced.lots[0]}.pdf": trace_paper(
            found.traced.trace, page, locale=locale, words=words, limits=found.traced.limits
        ),
    }


@dataclass(frozen=True, slots=True)
class _Folder:
    """What is told, and on which paper, in whose figures and words."""

    found: Inspection
    page: str
    locale: str
    words: Wording

    def paper(self, title: str, *, landscape: bool = False) -> Document:
        """A paper with its title, the producer and the period."""
        found, words, locale = self.found, self.words, self.locale
        period = f"{show_day(found.asked.since, locale)} – {show_day(found.asked.until, locale)}"
        paper = Document(self.page, title, lang=words.lang, foot=f"{title}, {period}", landscape=landscape)
        paper.title(title)
        who = ", ".join(filter(None, (found.maker.get("name"), *address_lines(found.maker, market=found.market))))
        paper.paragraph(" · ".join(part for part in (who, period) if part), "lead")
        if note := quality_note(words):
            paper.paragraph(note, "small")
        return paper

    def table(self, paper: Document, heads: Sequence[str], rows: Sequence[Sequence[str]], align: str) -> None:
        """A table, or the plain word that nothing was booked: an empty log is not a clean one."""
        words = self.words
        if not rows:
            paper.paragraph(words("Nothing was booked in this period."))
            return
        shares = _SHARES.get(len(heads))
        widths = [paper.width_mm * share for share in shares] if shares else None
        paper.table(rows, [head and words(head) for head in heads], align, widths)

    def log(self, paper: Document, of: str, entry: str, lines: Iterable[Booked]) -> None:
        """What was entered on lines of the batch sheets."""
        words = self.words
        rows = [
            (
                show_day(each.day, self.locale, form="medium"),
                ", ".join(each.event.lots) or words("all runs"),
                words(LINES[each.event.line][1]),
                each.event.says(self.locale, words),
                each.who,
                str(each.seq),
            )
            for each in lines
        ]
        self.table(paper, ("day", "of", of, entry, "by", "event"), rows, "lllllr")


def _hazard_plan(to: _Folder) -> bytes:
    words, plan = to.words, to.found.plan
    figures = {name: words(figure) for name, figure in to.found.figures.items()}
    paper = to.paper(words("Hazard plan"))
    paper.caution(words(plan["caution"]))
    for hazard in plan["hazard"]:
        since = paper.mark()
        says = {key: words(text, **figures) for key, text in hazard.items()}
        paper.heading(says["name"])
        paper.facts(
            [
                (words("Control point"), says["where"]),
                (words("Limit"), says["limit"]),
                (words("Monitoring"), says["watch"]),
                (words("Corrective action"), says["correct"]),
                (words("Verification"), says["verify"]),
                (words("Source"), says["source"]),
            ]
        )
        paper.together(since)
    paper.facts([(words("Read and signed by"), "_" * 28), (words("On"), "_" * 28)])
    return paper.bytes()


def _batch_sheets(to: _Folder) -> bytes:
    found, locale, words = to.found, to.locale, to.words
    paper = to.paper(words("Batch sheets and runs"), landscape=True)
    paper.heading(words("Runs"))
    rows = [
        (
            show_day(each.day, locale, form="medium"),
            each.event.lot,
            each.event.bucket,
            ", ".join(f"{jar.count} × {jar.size}" for jar in each.event.jars) or "–",
            ", ".join(f"{jar.count} × {jar.size}" for jar in each.event.broken) or "–",
            show_both(each.event.taken, locale),
            show_both(each.event.unexplained, locale),
        )
        for each in found.runs
    ]
    to.table(paper, ("day", "lot", "bucket", "filled", "broken", "taken out", "unexplained"), rows, "lllllrr")
    paper.heading(words("Lines of the batch sheets"))
    to.log(paper, "line", "entry", found.lines)
    paper.heading(words("Warmed"))
    warmed = [
        (show_day(each.day, locale, form="medium"), each.event.describe(locale, words), each.who)
        for each in found.warmings
    ]
    to.table(paper, ("day", "what", "by"), warmed, "lll")
    return paper.bytes()


def _calibration(to: _Folder) -> bytes:
    words = to.words
    paper = to.paper(words("Calibration log"))
    paper.paragraph(words(to.found.plan["calibration"]["says"]), "small")
    lines = to.found.lines_of(*INSTRUMENTS)
    to.log(paper, "instrument", "entry", lines)
    if off := sum(each.event.is_off for each in lines):
        paper.caution(words("Further off than they may be: {n}.", n=off))
    return paper.bytes()


def _glass(to: _Folder) -> bytes:
    words, glass = to.words, to.found.plan["glass"]
    paper = to.paper(words("Glass breakage: procedure and log"))
    for number, step in enumerate(glass["steps"], 1):
        paper.paragraph(f"{number}.  {words(step)}")
    paper.paragraph(words(glass["source"]), "small")
    paper.heading(words("Log"))
    to.log(paper, "", "entry", to.found.lines_of(BREAKAGE))
    return paper.bytes()


def _cleaning(to: _Folder) -> bytes:
    words, plan = to.words, to.found.plan
    paper = to.paper(words("Cleaning and pests: plan and log"))
    paper.heading(words("Cleaning plan"))
    rows = [(words(each["what"]), words(each["when"]), words(each["how"])) for each in plan["cleaning"]]
    to.table(paper, ("what", "when", "how"), rows, "lll")
    paper.heading(words("Pest plan"))
    to.table(paper, ("what", "how"), [(words(each["what"]), words(each["how"])) for each in plan["pest"]], "ll")
    paper.paragraph(words(plan["plan"]["source"]), "small")
    paper.heading(words("Cleaning log"))
    to.log(paper, "what", "with", to.found.lines_of(*CLEANING))
    return paper.bytes()

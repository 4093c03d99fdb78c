"""The inspector's folder on paper: hazard plan, batch sheets, calibration, glass, cleaning and pests, and one trace."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from labelkit.measures import show_both
from labelkit.measures.locales import show_day
from labelkit.paper.document import Document
from labelkit.rules.address import address_lines
from labelkit.run.batch_sheet import BREAKAGE, INSTRUMENTS, LINES
from labelkit.season.inspection import CLEANING
from labelkit.trace.papers import trace_paper

if TYPE_CHECKING:
    from labelkit.season.inspection import Inspection
    from labelkit.trace.booked import Booked

_SIGNED = [("Read and signed by", "_" * 28), ("On", "_" * 28)]


def inspection_papers(found: Inspection, page: str, locale: str) -> dict[str, bytes]:
    """Every paper of the folder by the name of its file, in the order they are read."""
    return {
        "1-hazard-plan.pdf": _hazard_plan(found, page, locale),
        "2-batch-sheets.pdf": _batch_sheets(found, page, locale),
        "3-calibration-log.pdf": _calibration(found, page, locale),
        "4-glass-breakage.pdf": _glass(found, page, locale),
        "5-cleaning-and-pests.pdf": _cleaning(found, page, locale),
        f"6-trace-{found.traced.lots[0]}.pdf": trace_paper(
            found.traced.trace, page, locale=locale, limits=found.traced.limits
        ),
    }


def _paper(found: Inspection, title: str, page: str, locale: str, *, landscape: bool = False) -> Document:
    """A paper with its title, the producer and the period."""
    period = f"{show_day(found.asked.since, locale)} – {show_day(found.asked.until, locale)}"
    paper = Document(page, title, lang=locale[:2], foot=f"{title}, {period}", landscape=landscape)
    paper.title(title)
    who = ", ".join(filter(None, (found.maker.get("name"), *address_lines(found.maker, market=found.market))))
    paper.paragraph(" · ".join(part for part in (who, period) if part), "lead")
    return paper


def _hazard_plan(found: Inspection, page: str, locale: str) -> bytes:
    paper = _paper(found, "Hazard plan", page, locale)
    paper.caution(found.plan["caution"])
    for hazard in found.plan["hazard"]:
        since = paper.mark()
        paper.heading(hazard["name"])
        says = {key: text.format(**found.figures) for key, text in hazard.items()}
        paper.facts(
            [
                ("Control point", says["where"]),
                ("Limit", says["limit"]),
                ("Monitoring", says["watch"]),
                ("Corrective action", says["correct"]),
                ("Verification", says["verify"]),
                ("Source", says["source"]),
            ]
        )
        paper.together(since)
    paper.facts(_SIGNED)
    return paper.bytes()


def _batch_sheets(found: Inspection, page: str, locale: str) -> bytes:
    paper = _paper(found, "Batch sheets and runs", page, locale, landscape=True)
    paper.heading("Runs")
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
    _table(paper, ("day", "lot", "bucket", "filled", "broken", "taken", "unexplained"), rows, "lllllrr")
    paper.heading("Lines of the batch sheets")
    _table(paper, ("day", "of", "line", "entry", "by", "event"), _entries(found.lines, locale), "lllllr")
    paper.heading("Warmed")
    warmed = [
        (show_day(each.day, locale, form="medium"), each.event.describe(locale), each.who) for each in found.warmings
    ]
    _table(paper, ("day", "what", "by"), warmed, "lll")
    return paper.bytes()


def _calibration(found: Inspection, page: str, locale: str) -> bytes:
    paper = _paper(found, "Calibration log", page, locale)
    paper.paragraph(
        "A scale is held to the tolerance of its market's rules at that load, as class III, for a newly verified scale. "
        "The known weight should be of class M1 or better: 25 mg for 500 g, 50 mg for 1 kg (OIML R 111-1, Table 1, read in a "
        "reprint). A thermometer may be off by 1 °C (California Health and Safety Code, section 114159 (c), read in a public "
        "copy; your market may ask for more). The offset of a refractometer is taken off later "
        "readings. Legal for trade is what the weights and measures office has sealed. Check your local rules.",
        "small",
    )
    rows = _entries(found.lines_of(*INSTRUMENTS), locale)
    _table(paper, ("day", "of", "instrument", "entry", "by", "event"), rows, "lllllr")
    off = [each for each in found.lines_of(*INSTRUMENTS) if each.event.is_off]
    if off:
        paper.caution(f"{len(off)} of these were further off than they may be.")
    return paper.bytes()


def _glass(found: Inspection, page: str, locale: str) -> bytes:
    paper = _paper(found, "Glass breakage: procedure and log", page, locale)
    for number, step in enumerate(found.plan["glass"]["steps"], 1):
        paper.paragraph(f"{number}.  {step}")
    paper.paragraph(found.plan["glass"]["source"], "small")
    paper.heading("Log")
    _table(paper, ("day", "of", "", "entry", "by", "event"), _entries(found.lines_of(BREAKAGE), locale), "lllllr")
    return paper.bytes()


def _cleaning(found: Inspection, page: str, locale: str) -> bytes:
    paper = _paper(found, "Cleaning and pests: plan and log", page, locale)
    rows = [(each["what"], each["when"], each["how"]) for each in found.plan["cleaning"]]
    paper.heading("Cleaning plan")
    _table(paper, ("what", "when", "how"), rows, "lll")
    paper.heading("Pest plan")
    _table(paper, ("what", "how"), [(each["what"], each["how"]) for each in found.plan["pest"]], "ll")
    paper.paragraph(found.plan["plan"]["source"], "small")
    paper.heading("Cleaning log")
    _table(paper, ("day", "of", "what", "with", "by", "event"), _entries(found.lines_of(*CLEANING), locale), "lllllr")
    return paper.bytes()


def _entries(lines: Iterable[Booked], locale: str) -> list[tuple[str, ...]]:
    return [
        (
            show_day(each.day, locale, form="medium"),
            ", ".join(each.event.lots) or "all runs",
            LINES[each.event.line][1],
            each.event.says(locale),
            each.who,
            str(each.seq),
        )
        for each in lines
    ]


_SHARES = {2: (0.25, 0.75), 3: (0.22, 0.22, 0.56), 6: (0.13, 0.13, 0.24, 0.32, 0.1, 0.08)}


def _table(paper: Document, heads: Sequence[str], rows: Sequence[Sequence[str]], align: str) -> None:
    """A table, or the plain word that nothing was booked: an empty log is not a clean one."""
    if not rows:
        paper.paragraph("Nothing was booked in this period.")
        return
    shares = _SHARES.get(len(heads))
    paper.table(rows, heads, align, [paper.width_mm * share for share in shares] if shares else None)

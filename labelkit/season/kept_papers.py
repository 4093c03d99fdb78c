"""Papers that run out: registration, insurance, certificate of the scale, permits of markets, each with number, day and file.

Every paper is a setting of its own, so that its older numbers and days stay in the record and a copy takes it along.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from io import BytesIO
from typing import TYPE_CHECKING, Any

from labelkit.errors import unless_said
from labelkit.errors.papers import NoPapers, PaperFileRefused, PaperNeedsKind, PaperRunOut, PaperUnknown
from labelkit.errors.sentence import Sentence
from labelkit.record.settings import Setting, file_of, file_value

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work

#: What a paper is, in the order of the folder.
KINDS = {
    "registration": Sentence("Registration"),
    "insurance": Sentence("Insurance"),
    "scale": Sentence("Scale certificate"),
    "permit": Sentence("Market permit"),
    "other": Sentence("Paper"),
}
PAPER = "paper "
#: An office takes some weeks to renew a paper: common practice, no source.
WARNED = timedelta(days=30)


@dataclass(frozen=True, slots=True)
class PaperAsked:
    """A paper as somebody notes or renews it; what is empty stays as it was. ``file`` is a name and its bytes."""

    name: str
    kind: str = ""
    number: str = ""
    until: date | None = None
    file: tuple[str, bytes] | None = None
    because: str = ""  # why a paper that has run out is noted
    retired: bool = False  # it is asked for no more


@dataclass(frozen=True, slots=True)
class KeptPaper:
    """A paper as it stands: its kind, number, last day (none where it does not run out), and its file, name and bytes."""

    name: str
    kind: str
    number: str
    until: date | None
    file: tuple[str, bytes] | None = None

    @property
    def title(self) -> str:
        """Its name, after what it is."""
        return self.name if self.name.casefold() == KINDS[self.kind].casefold() else f"{KINDS[self.kind]}: {self.name}"

    def state(self, day: date) -> str:
        """How it stands on a day: ``valid``, ``soon`` (within the days of warning), ``run out``, or ``no end``.

        >>> permit = KeptPaper("Hill market", "permit", "17", date(2026, 12, 31))
        >>> [permit.state(date(2026, *day)) for day in ((11, 30), (12, 1), (12, 31))], permit.state(date(2027, 1, 1))
        (['valid', 'soon', 'soon'], 'run out')
        """
        if self.until is None:
            return "no end"
        return "run out" if day > self.until else "soon" if day >= self.until - WARNED else "valid"


def papers_of(settings: Mapping[str, Any]) -> tuple[KeptPaper, ...]:
    """The papers that are kept, in the order of the folder."""
    held = (
        _paper(name.removeprefix(PAPER), value) for name, value in settings.items() if name.startswith(PAPER) and value
    )
    return tuple(sorted(held, key=lambda each: (list(KINDS).index(each.kind), each.name)))


def _paper(name: str, value: Mapping[str, Any]) -> KeptPaper:
    until, file = value.get("until"), value.get("file")
    return KeptPaper(
        name,
        value["kind"],
        value.get("number", ""),
        date.fromisoformat(until) if until else None,
        file_of(file) if file else None,
    )


def paper_named(state: Reading, name: str) -> KeptPaper:
    """A paper by its name. Raises :class:`~labelkit.errors.papers.PaperUnknown`."""
    held = {each.name: each for each in papers_of(state.settings())}
    if name not in held:
        raise PaperUnknown(name, ", ".join(held))
    return held[name]


def keep_paper(work: Work, asked: PaperAsked, day: date) -> tuple[KeptPaper, int]:
    """Note a paper or what has changed of it; the paper as it stands, and the number of the event.

    Raises :class:`~labelkit.errors.papers.PaperNeedsKind` of a new paper, :class:`~labelkit.errors.papers.PaperRunOut`
    unless a person says why, :class:`~labelkit.errors.papers.PaperFileRefused`, and
    :class:`~labelkit.errors.papers.PaperUnknown` where one is retired that was never noted.
    """
    name = asked.name.strip()
    if work.booked_before:
        first = work.booked_before[0]
        return _paper(name, first.event.value or work.settings(up_to=first.seq - 1)[PAPER + name]), first.seq
    if asked.retired:
        paper = paper_named(work, name)
        return paper, work.add(Setting(day, PAPER + name, {})).seq
    before = work.settings().get(PAPER + name) or {}
    kind = asked.kind or before.get("kind", "")
    if kind not in KINDS or not name:
        raise PaperNeedsKind(name, ", ".join(KINDS))
    if asked.until and asked.until < day:
        unless_said(asked.because, PaperRunOut(name, asked.until.isoformat(), day.isoformat()))
    said = {
        "kind": kind,
        "number": asked.number.strip() or before.get("number", ""),
        "until": asked.until.isoformat() if asked.until else before.get("until", ""),
        "file": _checked(*asked.file) if asked.file else before.get("file", {}),
        "because": asked.because.strip(),
    }
    value = {key: one for key, one in said.items() if one}
    return _paper(name, value), work.add(Setting(day, PAPER + name, value)).seq


def _checked(name: str, data: bytes) -> dict[str, str]:
    """A file to keep, once it is known that it can be printed."""
    value = file_value(name, data)
    pdf_of(name, data)
    return value


def pdf_of(name: str, data: bytes, page: str = "a4") -> bytes:
    """The file of a paper as pages: a PDF as it is, a picture on a page of its own.

    Raises :class:`~labelkit.errors.papers.PaperFileRefused`.
    """
    from labelkit.errors.labels import LogoRefused
    from labelkit.labels.logo import read_logo
    from labelkit.paper.document import Document
    from labelkit.paper.preview import page_count

    if data.startswith(b"%PDF"):
        if not page_count(data):
            raise PaperFileRefused(name, "the PDF is damaged, empty or locked with a password")
        return data
    if not data.startswith((b"\x89PNG", b"\xff\xd8\xff")):
        raise PaperFileRefused(name, "it is neither PDF nor PNG nor JPEG")
    try:
        read_logo(data, name)
    except LogoRefused as refused:
        raise PaperFileRefused(name, refused.what.rstrip(".")) from refused
    paper = Document(page, name)
    paper.picture(_upright(data), paper.width_mm, most_high_mm=230)
    return paper.bytes()


def _upright(data: bytes) -> bytes:
    """A picture as it is looked at: a telephone keeps the way it was held beside the dots."""
    from PIL import Image, ImageOps

    out = BytesIO()
    ImageOps.exif_transpose(Image.open(BytesIO(data))).convert("RGB").save(out, "PNG")
    return out.getvalue()


def folder_pdf(
    papers: Iterable[KeptPaper], maker: Mapping[str, str], day: date, page: str, words: Any, locale: str
) -> bytes:
    """All papers as one file for a market manager: a list of them, then each as it was kept.

    Raises :class:`~labelkit.errors.papers.NoPapers`.
    """
    from labelkit.measures.locales import show_day
    from labelkit.paper.document import Document
    from labelkit.paper.preview import joined
    from labelkit.sale.paper_note import quality_note
    from labelkit.sale.price_list import maker_lines

    every, title = tuple(papers), words("Papers of the producer")
    if not every:
        raise NoPapers()
    paper = Document(page, title, lang=words.lang, author=maker.get("name", ""))
    paper.title(title)
    paper.paragraph(", ".join(maker_lines(maker, "")), "lead")
    says = {
        "Registration": words("Registration"),
        "Insurance": words("Insurance"),
        "Scale certificate": words("Scale certificate"),
        "Market permit": words("Market permit"),
        "Paper": words("Paper"),
    }
    rows = [
        (
            f"{says[KINDS[each.kind]]}\n{each.name}",
            each.number or "–",
            show_day(each.until, locale, form="medium") if each.until else words("no end"),
            words("in this file") if each.file else words("not in this file"),
        )
        for each in every
    ]
    paper.table(rows, [words("Paper"), words("Number"), words("Valid until"), words("Copy")], "llll")
    old = [each.name for each in every if each.state(day) == "run out"]
    if old:
        paper.caution(words("Not valid any more: {names}.", names=", ".join(old)))
    paper.paragraph(
        words("As of {day}. What a market asks for differs: check your local rules.", day=show_day(day, locale)),
        "small",
    )
    if note := quality_note(words):
        paper.paragraph(note, "small")
    return joined([paper.bytes(), *(pdf_of(*each.file, page) for each in every if each.file)])

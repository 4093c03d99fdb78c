"""``labelkit demo``: one invented season, end to end, by the very commands a producer would type."""

from __future__ import annotations

import contextlib
import shlex
import shutil
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta, timezone
from hashlib import sha256
from itertools import count
from pathlib import Path

import click

from labelkit.cli._files import new_folder, write_whole
from labelkit.cli._runner import Answer, CommandContext, answer_to, answering

# The season is invented and its days are fixed, so that every run gives the same bytes.
ZONE = timezone(timedelta(hours=-4))
WHO = "Robin at Pretend Hollow"
RECORD = "season.labelkit"
CHECK_WEIGHTS = [
    "340.2",
    "340.6",
    "339.9",
    "340.4",
    "340.1",
    "340.3",
    "339.8",
    "340.5",
    "340.2",
    "340.0",
    "340.4",
    "340.3",
]
MARKET_DAY = date(2025, 7, 26)


@dataclass
class Season:
    """The demonstration as it goes: what was typed, what was answered, what lies in the folder."""

    day: date = date(2025, 7, 12)
    hour: int = 9
    typed: list[tuple[str, Answer]] = field(default_factory=list)
    files: list[tuple[str, str]] = field(default_factory=list)
    salts: count = field(default_factory=count)

    def on(self, day: date) -> None:
        """The next steps happen on this day."""
        self.day, self.hour = day, 9

    def do(self, *typed: str, keep: str = "", about: str = "") -> Answer:
        """Type one command; ``keep`` names a file for its text, ``about`` says what is in it."""
        arguments = shlex.split(typed[0]) if len(typed) == 1 else typed
        line = ["--record", RECORD, "--day", self.day.isoformat(), *arguments]
        at = datetime(self.day.year, self.day.month, self.day.day, self.hour, 0, tzinfo=ZONE)
        self.hour += 1
        answer = answer_to(line, clock=at, who=WHO, salt=self.salt)
        self.typed.append((shlex.join(["labelkit", *line]), answer))
        if keep:
            write_whole(keep, answer.text.rstrip("\n") + "\n")
        if about:
            self.made(keep, about)
        return answer

    def salt(self) -> str:
        """The next salt: known to everybody, as the invented names are, so that the record is the same every time."""
        return sha256(f"{WHO} {next(self.salts)}".encode()).hexdigest()

    def made(self, name: str, about: str) -> None:
        """A file some step wrote."""
        self.files.append((name, about))


@click.command()
@click.argument("out", metavar="OUT")
@answering
def command(context: CommandContext, out: str) -> Answer:
    """Run a sample season into a new folder.

    The invented season goes from weigh-in to trace.

    Example:  labelkit demo my-first-season
    """
    folder = new_folder(out).resolve()
    with contextlib.chdir(folder):
        season = Season()
        try:
            _season(season)
        except BaseException:
            # A demonstration that stopped half way would teach the wrong thing; the folder was empty before.
            for path in folder.iterdir():
                shutil.rmtree(path) if path.is_dir() else path.unlink()
            raise
        write_whole("COMMANDS.txt", _commands(season))
        season.made("COMMANDS.txt", "every command that made this, as you would type it")
        summary = _summary(season)
        write_whole("SUMMARY.txt", summary)
    files = [{"file": name, "what": about} for name, about in season.files]
    return Answer(
        {"folder": out, "files": files}, f"{summary}\nAll of it lies in {out}{Path('/')}, beginning with SUMMARY.txt."
    )


def _season(season: Season) -> None:
    _harvest(season)
    lots = _bottling(season)
    _labels(season, lots)
    _market(season, lots)
    _afterwards(season, lots)


def _harvest(season: Season) -> None:
    season.do(
        'start --market us --market us-va --currency USD --name "Pretend Hollow Honey" --street '
        '"12 Sample Lane" --city "Pretend Hollow" --region VA --postcode 00000 --phone 555-0100'
    )
    season.made(RECORD, "the season's record; everything below can be asked of it again")
    scale = '--division "1 oz" --container "5 gal" --harvested 2025-07-11 --tare "2 lb 7 oz"'
    season.do(
        f'weigh --bucket B1 --gross "41 lb 3 oz" {scale} --moisture 17.4 --plant "clover and lime" '
        '--yard "Mill meadow: H1, H2, H3" --yard "Hill orchard: H7"'
    )
    season.do(
        f'weigh --bucket B2 --gross "28 lb 15 oz" {scale} --moisture 17.1 --plant "clover and lime" '
        '--yard "Hill orchard: H7, H8"'
    )
    season.on(date(2025, 7, 15))
    season.do('drain --bucket B1 --net "2 lb 4 oz" --moisture 17.8 --yard "Mill meadow: H1, H2, H3"')
    season.do('drain --bucket B2 --net "1 lb 8 oz" --moisture 17.8 --yard "Hill orchard: H7, H8"')


def _bottling(season: Season) -> dict[str, dict[str, int]]:
    """Plan, bottle what was planned, and lose one jar to the floor. Gives the jars in stock by lot."""
    season.on(date(2025, 7, 18))
    season.do('price --set "one pound" --declares "1 lb" --price 12.00 --cost 1.35')
    season.do('price --set "twelve ounce" --declares "12 oz" --price 9.50 --cost 1.20')
    plan = season.do(
        'plan --at-most "twelve ounce=60" --picture plan.svg',
        keep="plan.txt",
        about="what fills what, and what it brings",
    )
    season.made("plan.svg", "the same as a picture: each bucket divided into its jars")
    season.on(date(2025, 7, 20))
    season.do(
        'run-sheet --at-most "twelve ounce=60" --tare "one pound=212.7 g" --tare '
        '"twelve ounce=168.4 g" --out run-sheet.pdf'
    )
    season.made("run-sheet.pdf", "the sheet beside the scale on filling day")
    lots: dict[str, dict[str, int]] = {}
    for bucket in plan.document["buckets"]:
        jars = dict(bucket["jars"])
        broken = ""
        if not lots:
            size = max(jars, key=lambda name: jars[name])
            jars[size] -= 1
            broken = f'--broken "{size}=1"'
        typed = " ".join(f'--jar "{size}={count}"' for size, count in jars.items() if count)
        run = season.do(
            f"bottle --bucket {bucket['id']} {typed} {broken}",
            keep=f"run-{bucket['id']}.txt",
            about=f"what was filled from bucket {bucket['id']}, and what is unexplained",
        )
        lots[run.document["lot"]] = run.document["jars"]
    weights = " ".join(f'--weight "{grams} g"' for grams in CHECK_WEIGHTS)
    season.do(
        f'check-weigh --lot {next(iter(lots))} --size "twelve ounce" {weights} --division "0.1 g" '
        "--chart control-chart.svg",
        keep="check-weights.txt",
        about="twelve jars weighed again: whether the lot passes its market's test",
    )
    season.made("control-chart.svg", "the same as a control chart")
    season.do(
        "run-result", keep="run-result.txt", about="what the runs gave away, what came from each yard, how to fill next"
    )
    return lots


def _labels(season: Season, lots: dict[str, dict[str, int]]) -> None:
    """One run of labels for each size of each lot; the first is shown on both papers."""
    for size in ("one pound", "twelve ounce"):
        name = f"{size.replace(' ', '-')}.toml"
        write_whole(name, (sample_labels() / name).read_text(encoding="utf-8"))
        season.made(name, f"what the {size} jar says, as its maker wrote it")
    papers = {"one pound": ("letter-2x5-102x51", "meadow"), "twelve ounce": ("letter-2x5-102x51", "press")}
    for lot, jars in lots.items():
        for size in jars:
            sheet, design = papers[size]
            stem = f"labels-{lot}-{size.replace(' ', '-')}"
            season.do(
                "labels",
                "--label",
                f"{size.replace(' ', '-')}.toml",
                "--lot",
                lot,
                "--size",
                size,
                "--sheet",
                sheet,
                "--design",
                design,
                "--out",
                f"{stem}.pdf",
                "--picture",
                f"{stem}.png",
                keep=f"{stem}.txt",
            )
            season.made(
                f"{stem}.pdf", f"front labels of lot {lot}, {size}: print at 100 % (.png a picture, .txt the heights)"
            )
    first = next(iter(lots))
    season.do(
        "labels",
        "--label",
        "one-pound.toml",
        "--lot",
        first,
        "--sheet",
        "a4-2x4-99x68",
        "--design",
        "ledger",
        "--start-at",
        "3",
        "--lot-bars",
        "code128",
        "--out",
        "labels-a4.pdf",
        "--picture",
        "labels-a4.png",
    )
    season.made(
        "labels-a4.pdf",
        "the same jar on A4, its lot also in bars, beginning at the third place of a part-used sheet (.png a picture)",
    )
    season.do("check", "one-pound.toml", keep="findings.txt", about="the label file held against federal and state law")


def _market(season: Season, lots: dict[str, dict[str, int]]) -> None:
    place = "Imaginary Square market"
    season.on(date(2025, 7, 25))
    season.do(
        'price --pdf price-list.pdf --cards price-cards.pdf --product "Clover & Lime Honey"',
        keep="price-list.txt",
        about="cost, margin and price per unit of every jar size",
    )
    season.made("price-list.pdf", "the price list to hang up")
    season.made("price-cards.pdf", "price cards to cut out")
    season.on(MARKET_DAY)
    season.do(
        f'stall load --place "{place}" --change 80 --book --pdf load-list.pdf --jar "one pound=12" '
        '--jar "twelve ounce=24"'
    )
    season.made("load-list.pdf", "what goes to the market")
    season.do("stall sheet --out tally-sheet.pdf")
    season.made("tally-sheet.pdf", "a box to tick for every jar")
    season.do("stall file --out market-day.html")
    season.made("market-day.html", "the market day as one page for a telephone without a network")
    season.do(
        'stall settle --sold "one pound=9" --sold "twelve ounce=17" --tasted "twelve ounce=1" --back '
        '"one pound=3" --back "twelve ounce=6" --cash 349.50',
        keep="market-day.txt",
        about="the market day settled: every jar is somewhere, and the cash fits",
    )
    season.on(date(2025, 7, 28))
    lot = next(iter(lots))
    season.do(
        f'sell --lot {lot} --jar "twelve ounce=12" --to shop --customer "Made-up Corner Shop" --place '
        '"1 Nowhere Road" --price "twelve ounce=7.25"'
    )


def _afterwards(season: Season, lots: dict[str, dict[str, int]]) -> None:
    season.on(date(2026, 7, 1))
    lot = next(iter(lots))
    season.do(
        f"trace {lot} --csv trace.csv --svg trace.svg",
        keep="trace.txt",
        about=f"a year later: lot {lot} back to its hives and on to everyone who has a jar",
    )
    season.made("trace.svg", "the same way drawn")
    season.made("trace.csv", "the same as a spreadsheet")
    season.on(date(2026, 7, 2))
    season.do(
        f'recall begin {lot} --cause foreign-body --why "a splinter of glass was found in a jar" --to recall',
        keep="recall.txt",
        about="had a splinter been found: whom to call, what is put on hold, what is open",
    )
    season.made("recall", "the letters, the notice for shops and the sign for the stall, ready to print")
    season.do("record verify")
    season.do("record seal", keep="seal.txt", about="the record's seal: print it, and a changed record shows")


def sample_labels() -> Path:
    """Where the sample label files lie."""
    from labelkit.shipped import folder

    return folder("sample_lots") / "labels"


def _summary(season: Season) -> str:
    """What happened and where it lies, in a page."""
    plan = next(answer for line, answer in season.typed if " plan " in line).document
    lots = [answer.document for line, answer in season.typed if " bottle " in line]
    jars = ", ".join(f"{count} {size}" for size, count in plan["jars"].items())
    lines = [
        "One season at Pretend Hollow, from weighed buckets to printed jars. Everyone and everything in it is invented.",
        "",
        f"Planned   {jars} jars; they bring {plan['value']} USD ({'proved best' if plan['status'] == 'proved' else plan['status']}).",
        *(
            f"Bottled   lot {run['lot']} from bucket {run['bucket']}, unexplained {run['unexplained_g']} g."
            for run in lots
        ),
        "",
        "In this folder:",
        *(f"  {name:<{max(len(n) for n, _ in season.files)}}  {about}" for name, about in season.files),
        "",
        "Honey is not for infants under twelve months. A kitchen scale is not legal for trade where weight is sold.",
        "This is no legal advice: check your local rules.",
        "",
    ]
    return "\n".join(lines)


def _commands(season: Season) -> str:
    """Every command as it was typed; the same with your own figures is your season."""
    head = "# What made this folder, one command after the other. Yours are the same with your own figures.\n\n"
    return head + "\n".join(line for line, _ in season.typed) + "\n"

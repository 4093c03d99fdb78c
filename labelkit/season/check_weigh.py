"""Check-weigh: what jars of a run weighed, kept with their lot, and whether the lot passes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.errors import Refused
from labelkit.errors.filling import NoWeights
from labelkit.measures import Declared, Mass, show_metric
from labelkit.measures.division import Division
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.run.check_weighing.plausible import likely, likely_tare
from labelkit.run.fill_test import FillTest, fill_test
from labelkit.run.weighed import CheckWeighed, as_they_stand, refuse_twice, together
from labelkit.season.once import booked_once
from labelkit.season.past_fills import FilledJars, checks_of, places_of, tests_of
from labelkit.season.settings import SeasonSettings, settings_of

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.rules.market import Market
    from labelkit.run.check_weighing.lot_test import LotTest

_WORST = ("fail", "ask", "pass")


@dataclass(frozen=True, slots=True)
class CheckWeighing:
    """What the scale showed for some jars of a lot; gross weights where ``tare`` is given.

    ``division`` is the step of the scale, ``shown_in`` the unit the weights were typed in, to say figures in it.
    ``aimed`` is the net weight the jars were filled to. ``anew`` says that the lot was topped up or sorted since.
    """

    shown: tuple[Mass, ...]
    tare: Mass | None = None
    division: Division | None = None
    aimed: Mass | None = None
    anew: bool = False
    shown_in: Division | None = None


@dataclass(frozen=True, slots=True)
class Judging:
    """By which market's test (the season's unless named), and by which of its ways."""

    market: str | None = None
    system: str | None = None


USUAL_JUDGING = Judging()


@dataclass(frozen=True, slots=True)
class LotJudged:
    """The lot by every market's test, the worst first; ``check`` is what was weighed now, ``event`` where it is kept.

    ``checks`` are all the weights that speak of these jars.
    """

    found: FilledJars
    checks: tuple[CheckWeighed, ...]
    tests: tuple[FillTest, ...]
    check: CheckWeighed | None = None
    event: int | None = None

    @property
    def above_label(self) -> Decimal:
        """Grams a jar holds above its label on average, by the bare net weights; below nothing where it is short."""
        # As the record keeps them; a handbook's test may round the tare first.
        label = max(test.test.label for test in self.tests)
        return together(self.checks)[self.found.run.lot, self.found.jars.size].above(label)

    @property
    def given_away(self) -> Mass:
        """Honey above the label in the whole lot."""
        return Mass.of_grams(max(self.above_label, Decimal(0)) * self.found.jars.count)


def check_weigh(
    work: Work,
    found: FilledJars,
    asked: CheckWeighing,
    day: date,
    by: Judging = USUAL_JUDGING,
    *,
    locale: str,
) -> LotJudged:
    """Keep the weights, and judge the lot by them and by those kept before. ``found`` is of ``jars_of``.

    Raises :class:`~labelkit.errors.filling.NoWeights`, :class:`~labelkit.errors.filling.WeightsKeptAlready` and what a
    market's test refuses.
    """
    check = _check(found, asked, day, by, locale)
    before = booked_once(work, "check-weigh", lambda kept: kept == check)
    kept = [each for each in _kept(work, found) if before is None or each != before.event]
    if before is None:
        refuse_twice(check, kept)
    checks = as_they_stand([*kept, check])
    tests = _tests(settings_of(work), found.jars.declares, found.jars.count, checks, day, by, locale, asked.shown_in)
    booked = before or work.add(check)
    return LotJudged(found, tuple(checks), tests, check, booked.seq)


def look_at_lot(
    state: Reading,
    found: FilledJars,
    asked: CheckWeighing | None,
    day: date,
    by: Judging = USUAL_JUDGING,
    *,
    locale: str,
) -> LotJudged | None:
    """What would be said of these weights and of those kept before, and nothing kept; nothing where there are none."""
    check = _check(found, asked, day, by, locale) if asked else None
    checks = as_they_stand([*_kept(state, found), *([check] if check else [])])
    if not checks:
        return None
    shown_in = asked.shown_in if asked else None
    tests = _tests(settings_of(state), found.jars.declares, found.jars.count, checks, day, by, locale, shown_in)
    return LotJudged(found, tuple(checks), tests, check)


def test_before(state: Reading, found: FilledJars, day: date, by: Judging = USUAL_JUDGING) -> LotTest:
    """What the most demanding of the tests will ask, before a jar is weighed."""
    places = places_of(settings_of(state), by.market, day)
    return hardest_test(found.jars.declares, places, found.jars.count, by.system)


def hardest_test(declares: Declared, places: Sequence[Market], count: int, system: str | None = None) -> LotTest:
    """The test of a lot that asks to weigh the most jars."""
    return max(tests_of(declares, places, count, system), key=lambda test: test.sample)


def judge_lot(
    declares: Declared,
    count: int,
    masses: tuple[Mass, ...],
    places: Sequence[Market],
    *,
    tare: Mass | None = None,
    division: Division | None = None,
    shown_in: Division | None = None,
    system: str | None = None,
    locale: str,
) -> tuple[FillTest, ...]:
    """A lot of so many jars by every market's test, the worst first; gross weights where a tare is given."""
    ways = {test.market: test.system for test in tests_of(declares, places, count, system)}
    seen = [
        fill_test(
            declares,
            place,
            count,
            masses,
            system=ways[place.code] if system else None,
            tare=tare,
            division=division,
            shown_in=shown_in,
            locale=locale,
        )
        for place in places
        if place.code in ways
    ]
    return tuple(sorted(seen, key=lambda test: _WORST.index(test.verdict.verdict)))


def judge_kept(
    season: SeasonSettings, declares: Declared, count: int, checks: Sequence[CheckWeighed]
) -> FillTest | None:
    """The worst verdict on a lot of so many jars by the weights that were kept, in their order and by the law of the last.

    Nothing where no market is set, or where the one set since has no test for these jars.
    """
    standing = as_they_stand(checks)
    last = standing[-1]
    by = Judging(last.market or None, last.system or None)
    if not (by.market or season.markets):
        return None
    try:
        return _tests(season, declares, count, standing, last.day, by, DEFAULT_LOCALE)[0]
    except Refused:
        return None


def _kept(state: Reading, found: FilledJars) -> list[CheckWeighed]:
    return [check for check in checks_of(state) if (check.lot, check.size) == (found.run.lot, found.jars.size)]


def _check(found: FilledJars, asked: CheckWeighing, day: date, by: Judging, locale: str) -> CheckWeighed:
    label = found.jars.fill
    if not asked.shown:
        raise NoWeights(found.jars.count)
    if asked.tare is not None:
        likely_tare(asked.tare, label, locale)
    if asked.aimed is not None:
        likely(asked.aimed, label, "what they were filled to", show_metric(asked.aimed, locale), locale)
    return CheckWeighed(
        day,
        found.run.lot,
        found.jars.size,
        found.jars.declares,
        asked.shown,
        asked.tare,
        aimed=asked.aimed,
        anew=asked.anew,
        market=by.market or "",
        system=by.system or "",
        scale=asked.division,
    )


def _tests(
    season: SeasonSettings,
    declares: Declared,
    count: int,
    checks: Sequence[CheckWeighed],
    day: date,
    by: Judging,
    locale: str,
    shown_in: Division | None = None,
) -> tuple[FillTest, ...]:
    tares = {check.tare for check in checks}
    # Gross weights under one tare are judged as gross ones, as the handbooks do; mixed ones by their net weights.
    one_tare = next(iter(tares)) if len(tares) == 1 else None
    steps = [check.counts_in for check in checks if check.counts_in]
    return judge_lot(
        declares,
        count,
        tuple(mass for check in checks for mass in (check.shown if one_tare else check.nets)),
        places_of(season, by.market, day),
        tare=one_tare,
        division=max(steps, key=lambda step: step.g) if len(steps) == len(checks) and steps else None,
        shown_in=shown_in or season.division,
        system=by.system,
        locale=locale,
    )

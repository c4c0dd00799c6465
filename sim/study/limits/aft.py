"""How far aft each pack still comes back, with each combination that set-ups have.

Going aft from the front: the last balance point before the first one that fails. The
limit holds over all manoeuvres asked, by one recovery, and is also given for each.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from sim import tables
from sim.describe import StudyFiles
from sim.pack.assemble import Assembled
from sim.study.combinations import Combination, combination_key, gyro_words, own_setup, searches
from sim.study.flights.running import Runner
from sim.study.limits.interval import Interval, first_lost, limit_interval
from sim.study.limits.never import fails_ahead, never_met
from sim.study.limits.search import Ends, Found, Search, or_forward
from sim.study.results.aft_limit import AftLimit, ManoeuvreLimit
from sim.study.results.set_up import SetUpResult
from sim.trim.cruise import cruise_speed
from sim.trim.trimming import level, neutral_point_pct
from sim.weigh.reach import pack_reach


def find_limits(
    runner: Runner,
    files: StudyFiles,
    cruise_mps: float | None,
    said: Callable[[str], None] = lambda _: None,
    setups: Sequence[SetUpResult] = (),
) -> tuple[AftLimit, ...]:
    """Return the aft limit of each pack and combination that the study asks for.

    Parameters
    ----------
    cruise_mps : float, optional
        Speed at which neutral points are taken; None is the usual one of the front point.
    setups : sequence of SetUpResult
        What the study has flown of its set-ups: searches go on from it.
    """
    out: list[AftLimit] = []
    asked = searches(files.aeroplane, files.study)
    for pack, combination in asked:
        who = f"aft limit {len(out) + 1} of {len(asked)}, {pack}, {combination.like}"
        said(who)
        search = Search(runner, files, pack, combination, setups)
        found = _limit(search, cruise_mps)
        while is_open(found, search) and 2 * search.wish.draws <= search.wish.most:
            search = search.by_more(2 * search.wish.draws)
            said(f"{who}, by {search.wish.draws} draws")
            found = _limit(search, cruise_mps)
        out.append(found)
    return tuple(out)


def is_open(limit: AftLimit, search: Search) -> bool:
    """Return whether more draws would tell more: of a ban that is not shown, or of a wide limit.

    Wide is what is known less closely than a balance is set, by study.toml, in shares of the mean
    chord; an end that was not found is as wide as can be, but for one aft of all that was flown.
    """
    held = limit.held
    ready = None if held.aft_mm is None else search.at(held.aft_mm)
    if held.aft_mm is None or ready is None or any(not x.shown for x in limit.never):
        return not limit.never or any(not x.shown for x in limit.never)
    high = held.aft_mm if held.high_mm is None and held.at_end else held.high_mm
    if held.low_mm is None or high is None:
        return True
    chord_mm = 1000.0 * ready.weighed.reference.mean_chord_m
    return high - held.low_mm > 0.01 * tables.study().search_wide_pct_mac * chord_mm


def _limit(search: Search, cruise_mps: float | None) -> AftLimit:
    """Return the limit of a pack and combination by its best recovery.

    Where there is none, with the manoeuvres that are met nowhere, and the limit over the others.
    """
    whole = _over(search, search.study.limit_manoeuvres, cruise_mps)
    if whole.aft_mm is not None:
        return whole
    never = never_met(search)
    gone = {x.manoeuvre for x in never}
    rest = tuple(name for name in whole.manoeuvres if name not in gone)
    if not never or not rest:
        return replace(whole, never=never)
    return replace(whole, never=never, without=_over(search, rest, cruise_mps))


def _over(search: Search, manoeuvres: Sequence[str], cruise_mps: float | None) -> AftLimit:
    """Return the limit over some manoeuvres.

    Where the foremost balance point fails, from the first step behind it that stands, with what
    fails ahead of that.
    """
    recoveries = search.study.limit_recoveries
    whole = _told(search, search.best(recoveries, manoeuvres), cruise_mps)
    if whole.aft_mm is not None:
        return whole
    start = search.first_standing(recoveries, manoeuvres)
    if start is None:
        return whole
    ahead = fails_ahead(search, manoeuvres)
    search.begin_at(start)
    behind = _told(search, search.best(recoveries, manoeuvres), cruise_mps)
    search.begin_at(None)
    return replace(behind, from_mm=start, ahead=ahead)


def _told(search: Search, found: Found, cruise_mps: float | None) -> AftLimit:
    """Return a limit over the manoeuvres of what was found, with its interval."""
    names = tuple(found.each)
    recovery, (aft, bad) = found.recovery, found.whole
    each = tuple(_of_manoeuvre(search, recovery, name, found.each[name]) for name in names)
    steps = tuple(search.steps())
    # without a limit the foremost point flown stands for it: the pack may reach none further ahead
    foremost = min((x.balance_aft_mm for x in steps), default=search.wish.from_aft_mm)
    place = foremost if aft is None else aft
    (share_low, share_high), draws = _there(search, recovery, place)
    ready = search.at(place)
    interval = narrowest(each) if aft is not None else Interval(None, None)
    neutral_mm, neutral_pct, margin = _neutral(ready, cruise_mps)
    combination: Combination = search.combination
    return AftLimit(
        pack=search.pack,
        combination=combination.words,
        key=combination_key(combination.setup),
        like=combination.like,
        setups=combination.setups,
        flying=tuple(
            x for x in combination.setups if own_setup(search.files, x).pack == search.pack
        ),
        gyro=gyro_words(combination.setup),
        manoeuvres=names,
        recovery=recovery,
        aft_mm=aft,
        pct_mac=None if aft is None or ready is None else ready.weighed.balance_pct_mac,
        low_mm=interval.low_mm,
        high_mm=interval.high_mm,
        neutral_mm=neutral_mm,
        neutral_pct_mac=neutral_pct,
        share_low=share_low,
        share_high=share_high,
        draws_used=draws,
        flights_used=sum(step.flights for step in steps),
        at_end=aft is not None and bad is None,
        first_failure_mm=bad,
        each=each,
        steps=steps,
        margin_pct=margin,
        reach_mm=_reach(search),
    )


def _reach(search: Search) -> tuple[float, float]:
    """Return where the pack at the front and at the rear of its tray balances it [mm aft]."""
    reach = pack_reach(search.files.aeroplane, search.combination.setup, search.pack)
    return reach.foremost_mm, reach.rearmost_mm


def _of_manoeuvre(search: Search, recovery: str, name: str, ends: Ends) -> ManoeuvreLimit:
    """Return the limit of one manoeuvre alone, with its interval."""
    good, bad = ends
    interval, lost = Interval(None, None), search.flown_behind(recovery, name)
    if good is not None:
        reach = tables.study().fit_reach_mm
        interval = limit_interval(lost, search.bearable, search.wish.draws, reach)
        interval = _holding(interval, good, bad)
    return ManoeuvreLimit(
        manoeuvre=name,
        aft_mm=good,
        low_mm=interval.low_mm,
        high_mm=interval.high_mm,
        at_end=good is not None and bad is None,
        first_failure_mm=bad,
        first_lost=first_lost(lost),
    )


def _holding(interval: Interval, good: float, bad: float | None) -> Interval:
    """Return an interval that holds the limit itself, and has no upper end where none failed."""
    low = None if interval.low_mm is None else min(interval.low_mm, good)
    if bad is None:
        return Interval(low, None)
    return Interval(low, None if interval.high_mm is None else max(interval.high_mm, good))


def narrowest(each: Sequence[ManoeuvreLimit]) -> Interval:
    """Return the interval of the whole limit: the foremost ends of any of them.

    The whole limit lies no further aft than each, so no further than each one's upper end; below
    it is wider than 95 %, as the foremost of several limits lies forward of each.
    """
    first = min(each, key=lambda x: or_forward(x.aft_mm))
    lows = [x.low_mm for x in each if x.aft_mm is not None]
    low = None if None in lows else min((x for x in lows if x is not None), default=None)
    if first.low_mm is None:
        low = None
    return Interval(low, min((x.high_mm for x in each if x.high_mm is not None), default=None))


def _there(search: Search, recovery: str, at: float) -> tuple[tuple[float, float], int]:
    """Return the limits of the share that came back at a point, and the draws flown there.

    None are told where it was given up early: those likeliest to be lost were flown first.
    """
    step = next(
        (
            s
            for s in search.steps()
            if (s.balance_aft_mm, s.recovery) == (at, recovery) and s.complete
        ),
        None,
    )
    return ((step.low, step.high), step.draws) if step else ((0.0, 1.0), 0)


def _neutral(
    ready: Assembled | None, cruise_mps: float | None
) -> tuple[float | None, float | None, float | None]:
    """Return the stick-fixed neutral point [mm, % MAC] and the margin [% MAC], None without one."""
    if ready is None:
        return None, None, None
    trim = level(ready, cruise_speed([ready]) if cruise_mps is None else cruise_mps)
    neutral, margin = neutral_point_pct(ready, trim)
    return 1000.0 * ready.weighed.reference.aft_m(neutral), neutral, margin

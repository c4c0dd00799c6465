"""What may be flown on the way to a set-up, and what ends the way before it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from sim.describe import SetUp, StudyFiles, resolve_setup
from sim.judge import Outcome, outcome
from sim.landing.forward import ForwardLimit
from sim.pack.assemble import Assembled
from sim.study.changes import limit_for
from sim.study.combinations import same_combination
from sim.study.forward import Fast, ForwardLimits
from sim.study.ladder.predictions import Predictor
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.bands import aft_of, same_balance
from sim.study.standing.heights import from_height
from sim.study.standing.outcomes import manoeuvres_of, setup_outcome, worst_case
from sim.study.standing.window import even_nominal


class End(StrEnum):
    """Where a ladder ends, or why a set-up or a manoeuvre on it is not flown.

    ``REACHED``: at the wanted set-up. ``LIMIT``: at the aft limit searched for a pack and
    combination. ``NOT_MET``: what the study flew does not meet the requirement;
    ``UNDECIDED``: its draws cannot tell. ``FAILS``: by the ladder's own flights it is not
    met. ``TOO_HIGH``: a flight needs more height than there is. ``NO_WAY``: a change
    cannot be had on its own. ``NO_START``: no balance point met the requirement.
    ``TOO_FORWARD``: full aft stick does not land it or lift its nose there, even nominally.
    """

    REACHED = "reached"
    LIMIT = "aft limit"
    NOT_MET = "not met"
    UNDECIDED = "undecided"
    FAILS = "fails"
    TOO_HIGH = "too high"
    NO_WAY = "no way"
    NO_START = "no start"
    TOO_FORWARD = "too far forward"


@dataclass(frozen=True)
class Refused:
    """A set-up on the way that is not to be flown: what was to change, where, and why.

    ``case`` is the manoeuvre that decides, with the shares that count; ``limit`` the aft
    limit behind which it lies. ``manoeuvre`` is one that was not flown at all. ``forward`` is the
    forward limit that it lies ahead of.
    """

    end: End
    what: str
    balance_aft_mm: float
    case: CaseResult | None = None
    limit: AftLimit | None = None
    manoeuvre: str = ""
    forward: ForwardLimit | None = None


OUTCOME_ENDS = {Outcome.NOT_MET: End.NOT_MET, Outcome.OPEN: End.UNDECIDED}


class Fitness:
    """Judges the set-ups on the way to a wanted one, by the study first, then by the ladder."""

    def __init__(
        self, files: StudyFiles, result: StudyResult, wanted: SetUpResult, recovery: str,
        predictor: Predictor,
    ) -> None:  # fmt: skip
        """Judge by one ``recovery``, as flown by ``predictor``."""
        self.files = files
        self.result = result
        self.wanted = wanted
        self.recovery = recovery
        self.predictor = predictor
        self.required = result.required_share_pct
        resolved = {x.name: resolve_setup(files.aeroplane, x) for x in files.study.setups}
        self.forward = ForwardLimits(files)
        self.forward.know(result)
        self._flown = [(resolved[x.name], x) for x in result.setups]

    def wanted_refusal(self, what: str) -> Refused | None:
        """Return why the study refuses the wanted set-up; None where it meets the requirement."""
        stands = setup_outcome(self.wanted, self.required)
        if stands is Outcome.MET:
            return None
        return self._refused(self.wanted, what, stands)

    @property
    def shows_something(self) -> bool:
        """Return True if the study shows some manoeuvre for the wanted set-up."""
        cases = self._cases(self.wanted)
        return any(outcome(c.shares, self.required) is Outcome.MET for c in cases)

    def _refused(self, x: SetUpResult, what: str, stands: Outcome) -> Refused:
        cases = self._cases(x)
        case = worst_case(cases, self.required)
        end, at = OUTCOME_ENDS[stands], x.balance_aft_mm
        if case is None or outcome(case.shares, self.required) is Outcome.MET:
            flown = {c.manoeuvre for c in cases}
            missing = next(m for m in manoeuvres_of([x]) if m not in flown)
            return Refused(end, what, at, manoeuvre=manoeuvres_of([x])[missing])
        return Refused(end, what, at, case)

    def _cases(self, x: SetUpResult) -> list[CaseResult]:
        return [c for c in x.cases if c.recovery == self.recovery]

    def _evidence(self, setup: SetUp, balance_mm: float) -> SetUpResult | None:
        """Return the study's own result of a set-up on the way, if it flew just that."""
        for known, x in self._flown:
            same = known.pack == setup.pack and same_combination(known, setup)
            if same and same_balance(x.balance_aft_mm, balance_mm):
                return x
        return None

    def refusal(
        self, setup: SetUp, balance_mm: float, what: str, cases: Sequence[CaseResult]
    ) -> Refused | None:
        """Return why a set-up on the way must not be flown at all; None where it may.

        It lies aft of the limit of its own pack and combination, or forward of even the nominal
        forward limit; or the study flew it, and
        it is not met; or else, or where it stopped there for another recovery, by the ladder's
        few draws, the upper 95 % limit of the share that came back in some manoeuvre lies below
        what the study asks; or it lies aft of the wanted one, the study tells nothing of it and
        those few draws do not show it.
        """
        limit = limit_for(self.result.aft_limits, setup)
        if aft_of(balance_mm, limit):
            return Refused(End.LIMIT, what, balance_mm, limit=limit)
        forward = self.forward.near(setup)
        if even_nominal(forward, balance_mm):
            return Refused(End.TOO_FORWARD, what, balance_mm, forward=forward)
        known = self._evidence(setup, balance_mm)
        if known is not None:
            cases_known = self._cases(known)
            worst = worst_case(cases_known, self.required)
            stands = Outcome.OPEN if worst is None else outcome(worst.shares, self.required)
            if stands is Outcome.MET:
                return None
            # one that stopped because another recovery did better leaves it to the ladder's draws
            stopped = worst is not None and worst.shares.flights < self.result.draws
            if stands is Outcome.NOT_MET or not stopped:
                return self._refused(known, what, stands)
        for case in cases:
            shares = self.predictor.shares(case)
            if shares.back_high < self.required / 100.0:
                return Refused(End.FAILS, what, balance_mm, replace(case, shares=shares))
        if limit is None and known is None and cases and self._further_aft(balance_mm):
            worst = min(cases, key=lambda x: self.predictor.shares(x).back_low)
            told = replace(worst, shares=self.predictor.shares(worst))
            if told.shares.back_low < self.required / 100.0:
                return Refused(End.UNDECIDED, what, balance_mm, told)
        return None

    def _further_aft(self, balance_mm: float) -> bool:
        """Return True for a balance point aft of the wanted one, of which the study shows nothing.

        What is flown today is no proof of itself.
        """
        wanted = self.wanted.balance_aft_mm
        return balance_mm > wanted and not same_balance(balance_mm, wanted)

    def inside(self, setup: SetUp, ready: Assembled) -> AftLimit | None:
        """Return the aft limit in whose 95 % limits a set-up on the way lies, if any."""
        limit = limit_for(self.result.aft_limits, setup)
        if limit is None or limit.aft_mm is None or limit.low_mm is None:
            return None
        return limit if ready.weighed.balance_aft_mm > limit.low_mm else None

    def fast(self, setup: SetUp, balance_mm: float) -> Fast | None:
        """Return how a set-up on the way is landed where it lands fast; None: it does not."""
        return self.forward.fast(setup, balance_mm, self.forward.near(setup))

    def why_not(self, case: CaseResult) -> End | None:
        """Return why a manoeuvre must not be flown at a step; None where it may.

        It was not shown in the study for the wanted set-up, by the ladder's recovery; or
        it does not fit the height that there is (`fits`).
        """
        own = next((c for c in self._cases(self.wanted) if c.manoeuvre == case.manoeuvre), None)
        stands = Outcome.OPEN if own is None else outcome(own.shares, self.required)
        if own is None or stands is not Outcome.MET:
            return OUTCOME_ENDS[stands]
        here = self._from_the_ceiling(own)
        shown = outcome(here.shares, self.required) is Outcome.MET
        return None if shown and fits(case, self.required) else End.TOO_HIGH

    def too_high(self, case: CaseResult) -> CaseResult:
        """Return what shows that a manoeuvre left out for its height needs more than there is.

        The wanted set-up's own flights from the ceiling, where those do not show the share
        asked for; else the step's.
        """
        own = next(c for c in self._cases(self.wanted) if c.manoeuvre == case.manoeuvre)
        here = self._from_the_ceiling(own)
        return case if outcome(here.shares, self.required) is Outcome.MET else here

    def _from_the_ceiling(self, own: CaseResult) -> CaseResult:
        return from_height(own, self.predictor.ceiling_m, self.required, self.result.draws)


def fits(case: CaseResult, required_share_pct: float) -> bool:
    """Return True if as many of a case's draws as asked come back in the height there is.

    The same share that a set-up must show; a step says how many of its draws did not.
    """
    return case.shares.back >= required_share_pct / 100.0 * case.shares.flights


def severest(
    cases: Sequence[CaseResult], turn: int, fitness: Fitness
) -> tuple[CaseResult | None, tuple[tuple[CaseResult, End], ...]]:
    """Return the severest case up to the one whose turn it is that is fit to be flown.

    With it, the ones whose turn it was but which must not be flown, and why. Where none of
    them is fit, the mildest beyond them that is; None where there is none.
    """
    whys = [fitness.why_not(case) for case in cases]
    fit = [i for i, why in enumerate(whys) if why is None]
    upto = [i for i in fit if i <= turn]
    chosen = max(upto) if upto else min(fit, default=None)
    last = len(cases) - 1 if chosen is None else max(turn, chosen)
    left_out = tuple(
        (case, why) for case, why in zip(cases[: last + 1], whys, strict=False) if why is not None
    )
    return (None if chosen is None else cases[chosen]), left_out

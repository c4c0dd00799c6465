"""The forward limit of each pack and combination of a study, beside its aft limit."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from sim import tables
from sim.describe import SetUp, StudyFiles
from sim.landing.forward import ForwardLimit
from sim.landing.landing import set_up_forward
from sim.pack.assemble import Assembled, flown_spreads
from sim.study.combinations import combination_key, named_setup
from sim.study.draws import make_draws
from sim.study.results.aft_limit import AftLimit
from sim.study.results.set_up import SetUpResult


class ForwardLimits:
    """Forward limits of a study, each pack and combination found once.

    By as many draws as landing.toml says, of the study's own seed: a study of few flights
    knows them as well as one of many.
    """

    def __init__(self, files: StudyFiles) -> None:
        """Look for them with the study's draws and the share that it asks for."""
        self.files = files
        spreads = flown_spreads(files.aeroplane)
        count = tables.landing().draws
        self.draws = make_draws(spreads, count, files.study.seed).physical
        self.found: dict[tuple[str, str], ForwardLimit] = {}

    def of(self, setup: SetUp) -> ForwardLimit:
        """Return the forward limit of a set-up's pack and combination, wherever it balances."""
        key = setup.pack, combination_key(setup)
        if key not in self.found:
            share = self.files.study.required_share_pct
            self.found[key] = set_up_forward(self.files.aeroplane, setup, self.draws, share)
        return self.found[key]


def with_forward(
    files: StudyFiles,
    setups: Sequence[SetUpResult],
    ready: Sequence[Assembled],
    limits: Sequence[AftLimit],
    said: Callable[[str], None] = lambda _: None,
) -> tuple[tuple[SetUpResult, ...], tuple[AftLimit, ...]]:
    """Return set-ups and aft limits, each with the forward limit of its pack and combination."""
    said("forward limits")
    forward = ForwardLimits(files)
    flown = tuple(
        replace(x, forward=forward.of(at.setup)) for x, at in zip(setups, ready, strict=True)
    )
    searched = []
    for limit in limits:
        like = named_setup(files.aeroplane, files.study, limit.like)
        of = forward.of(like.model_copy(update={"pack": limit.pack}))
        searched.append(replace(limit, forward=of))
    return flown, tuple(searched)

"""Sections of a report on shares: balance point and pack, the aft limits, every case."""

from sim.show import page
from sim.show.answer import spoken
from sim.show.canvas import new_figure, one_axes, rows_of_axes
from sim.show.figures import share_matrix
from sim.show.phrases import limits_text, share_text
from sim.study.standing import manoeuvres_of, outcome
from sim.show.share_figures import share_by_balance
from sim.study.result import StudyResult

PANEL_IN = 1.75


def balance_and_pack(result: StudyResult) -> str:
    """Return balance point and pack against the share that came back, with the aft limits."""
    limits = {x.pack: x for x in result.aft_limits}
    others = [x for x in result.setups if x.pack not in limits]
    packs: list[str | None] = [*limits]
    if len({x.pack for x in others}) == 1:
        packs.append(others[0].pack)
    elif others:
        packs.append(None)
    figure = new_figure(6.2, 0.5 + PANEL_IN * max(len(packs), 1.3))
    stack = rows_of_axes(figure, [1.0] * len(packs))
    for axes, pack in zip(stack, packs, strict=True):
        setups = others if pack is None else result.setups
        limit = None if pack is None else limits.get(pack)
        share_by_balance(axes, pack, setups, limit, result.required_share_pct)
    ends = [axes.get_xlim() for axes in stack]
    for axes in stack:
        axes.set_xlim(min(low for low, _ in ends), max(high for _, high in ends))
    stack[-1].set_xlabel("balance point, mm aft of the datum")
    text = "Share that came back against balance point, a panel for each pack searched. "
    if limits:
        text += (
            "Line and band: the search for the aft limit (upright line) in its manoeuvres, with "
        )
        text += (
            "95 % limits; a plus sign: a first look with fewer draws; an arrow: given up early, at "
        )
        text += "most that. "
    text += "Set-ups stand with 95 % limits at their worst manoeuvre: disc met, diamond undecided, "
    text += "cross not met."
    parts = [page.picture(figure, "limits", text)]
    if limits:
        parts.append(_limits_table(result))
    title = "Aft limit by pack" if limits else "Balance point and pack"
    return page.section(title, *parts)


def _limits_table(result: StudyResult) -> str:
    rows = []
    for x in result.aft_limits:
        aft = "none found" if x.aft_mm is None else f"{x.aft_mm:.0f}"
        rows.append((
            x.pack, ", ".join(spoken(m) for m in x.manoeuvres),
            spoken(x.recovery), f"beyond {aft}" if x.at_end else aft,
            "-" if x.pct_mac is None else f"{x.pct_mac:.1f}",
            limits_text(x.share_low, x.share_high), f"{x.draws_used}",
            "-" if x.first_failure_mm is None else f"{x.first_failure_mm:.0f}",
        ))  # fmt: skip
    heads = (
        "pack", "manoeuvres", "best recovery", "aft limit, mm", "% MAC", "back there, 95 % limits",
        "draws there", "not shown at, mm",
    )  # fmt: skip
    return page.table("Aft limits", heads, rows, words=3)


def came_back(result: StudyResult) -> str:
    """Return what came back, set-up by manoeuvre, and every case folded away."""
    names = manoeuvres_of(result.setups)
    figure, axes = one_axes(2.2 + 1.45 * max(len(names), 3), 1.5 + 0.55 * len(result.setups))
    share_matrix(axes, result.setups, result.required_share_pct)
    text = "Came back, set-up by manoeuvre, each with its own best recovery, with 95 % limits. "
    text += "The numbers are in the table below."
    rows = []
    for setup in result.setups:
        for case in setup.cases:
            rows.append((
                setup.name, spoken(case.manoeuvre), spoken(case.recovery),
                outcome(case.shares, result.required_share_pct).value,
                f"{case.shares.held}", f"{case.shares.recovered}", f"{case.shares.below_floor}",
                f"{case.shares.never}", f"{case.shares.unresolved}", share_text(case.shares),
            ))  # fmt: skip
    heads = (
        "set-up", "manoeuvre", "recovery", "requirement", "held", "recovered", "below the floor",
        "never came back", "unresolved", "in words",
    )  # fmt: skip
    every = page.table("Every case", heads, rows, words=4)
    more = page.folded("Every manoeuvre with every recovery", every)
    return page.section("What came back", page.picture(figure, "matrix", text), more)

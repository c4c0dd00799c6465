"""What is said of a gyro's gains: the loop, the margins, what is set, what to set, the bench."""

from collections.abc import Iterator, Sequence
from math import degrees, isfinite

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.gyro.advice import (
    Advice,
    Schedule,
    SetAgainst,
    by_hand,
    set_against,
    to_the_end,
    worst_over,
)
from sim.gyro.allowed import Allowed, At
from sim.gyro.loop import Loop
from sim.gyro.motion import AXES
from sim.show.words.phrases import listed
from sim.units.quantities import SPEED

FIXED = (1.0, 1.0, 1.0)  # factors by throttle of one gain
UNIT = "deg of surface per deg/s"
DIAL = "surface_deg_per_dps_at_100_pct"


def loop_text(found: Allowed) -> str:
    """Return how the loop is built, in one sentence after the other."""
    loop, servos = found.loop, found.assembled.model.servos
    lags = sorted({round(1000.0 * float(lag)) for lag in servos[:, k.V_LAG]})
    speeds = sorted({round(degrees(float(rate))) for rate in servos[:, k.V_RATE]})
    held = " and its integral (hold mode)" if loop.hold_per_s else ""
    return (
        f"The loop: turn rate{held}, smoothed over {1000 * loop.filter_s:.0f} ms, "
        f"{1000 * loop.delay_s:.0f} ms late, times the gain, held for a frame of "
        f"{1000 * loop.frame_s:.0f} ms; the servo (lag {_span(lags)} ms); the aeroplane with all "
        f"its states. {_origin(loop)} Not in the margins: the servo's speed ({_span(speeds)} "
        "deg/s), its dead band, its stops; how far it keeps up is told below."
    )


def _span(values: list[int]) -> str:
    return f"{values[0]}" if values[0] == values[-1] else f"{values[0]} to {values[-1]}"


def _origin(loop: Loop) -> str:
    if loop.assumed:
        return (
            "The file has no [gyro]: smoothing and delay are a usual unit's, not yours; a slower "
            "one stands less."
        )
    return "Smoothing and delay are the file's."


def margin_text(found: Allowed) -> str:
    """Return what a printed gain keeps."""
    t = tables.gyro_loop()
    return (
        f"A printed gain keeps {t.gain_margin_db:g} dB and {t.phase_margin_deg:g} deg "
        f"({t.limit_gain_margin_db:g} dB and {t.limit_phase_margin_deg:g} deg in the dive; "
        f"MIL-F-9490D, from memory) in {100 * t.kept_share:.0f} % of draws, with "
        f"{100 * t.confidence:.0f} % confidence from {found.draws}: the build-up, masses, control "
        f"power +-{200 * t.control_power_sd:.0f} %, delay and servo lag "
        f"+-{200 * t.delay_sd:.0f} %. In brackets: the nominal aeroplane's."
    )


def draw_lines(found: Allowed) -> Iterator[str]:
    """Yield what draws could not be flown at, or not as asked."""
    lost = [f"{p.unresolved} at {place(p)}" for p in found.points if p.unresolved]
    if lost:
        yield f"Draws that fly at no angle there, counted as standing nothing: {listed(lost)}."
    stops = [f"{p.at_stop} at {place(p)}" for p in found.points if p.at_stop]
    if stops:
        yield (
            f"Draws that full elevator does not balance, looked at with the stick at its stop: "
            f"{listed(stops)}."
        )


def divergence_text(found: Allowed) -> str | None:
    """Return where it diverges faster than a pilot follows, or None."""
    fast = [p for p in found.points if p.doubling_s < tables.gyro_loop().told_doubling_s]
    if not fast:
        return None
    worst = min(fast, key=lambda p: p.doubling_s)
    return (
        f"Without a gyro it diverges at {listed([place(p) for p in fast])}, doubling in "
        f"{worst.doubling_s:.1f} s at {place(worst)} (nominal). A rate gyro slows that and does "
        "not end it; its margins say nothing of it. Move the balance point forward first."
    )


def place(at: At) -> str:
    """Return where a point is: its speed, and if it is the dive."""
    return SPEED(at.point.speed_mps) + (" in the dive" if at.point.dive else "")


def standing_lines(found: Allowed) -> Iterator[str]:
    """Yield a line for each axis of the set-up's gyro: inside, or over and where."""
    setup = found.assembled.setup
    if setup.gyro_settings is None:
        yield "The file has no gyro, so nothing is set yet."
        return
    if setup.gyro == "off":
        yield "This set-up flies with the gyro off; so it would be with it on:"
    for one in set_against(found):
        yield _standing(found, one)


def _standing(found: Allowed, one: SetAgainst) -> str:
    name = AXES[one.axis]
    if one.backwards:
        return f"{name}: BACKWARDS, the gain is below 0 and feeds every turn; reverse it."
    if not one.over:
        return f"{name}: inside at every speed, in the dive too."
    worst, axis = worst_over(one)
    here = "there" if len(one.over) == 1 else f"at {place(worst)}"
    text = (
        f"{name}: OVER {_where(found, one.over)}; {here} {axis.set_gain:.3f} is set, "
        f"{axis.advised:.3f} is advised"
    )
    if one.swings:
        return f"{text}. It would swing on its own {_where(found, one.swings)}."
    return f"{text}, and {axis.nominal.swings:.3f} swings (nominal)."


def _where(found: Allowed, points: Sequence[At]) -> str:
    """Return at which points: one by one, or from which speed on if it is so to the end."""
    if to_the_end(found, points):
        return f"from {SPEED(points[0].point.speed_mps)} on, in the dive too"
    return f"at {listed([place(at) for at in points])}"


def gyro_toml(found: Allowed, schedule: Schedule) -> str:
    """Return the table of the aeroplane's file that has these gains."""
    gyro, loop = found.assembled.setup.gyro_settings, found.loop
    override = "true" if gyro is None or gyro.stick_override else "false"
    rows = [f"{name}_gain = {g:.3f}" for name, g in zip(AXES, schedule.gains, strict=True)]
    return "\n".join([
        "[gyro]", *rows, f"filter_s = {loop.filter_s:g}", f"delay_s = {loop.delay_s:g}",
        f"stick_override = {override}", f'mode = "{"rate" if gyro is None else gyro.mode}"',
        f"throttle_schedule = [{', '.join(f'{f:.2f}' for f in schedule.factors)}]",
    ])  # fmt: skip


def fixed_text(advice: Advice) -> str:
    """Return the gains that stand every speed."""
    gains = [f"{n} {g:.3f}" for n, g in zip(AXES, advice.fixed, strict=True) if g > 0.0]
    text = f"{listed(gains)}. For the aeroplane's file:" if gains else "none on any axis."
    return f"One gain that keeps its margins at every speed here, the dive at idle too: {text}"


def schedule_text(advice: Advice) -> str:
    """Return what a schedule by throttle is for, and whether an idle dive stands it."""
    dive = "NOT for dives at idle" if max_over(advice) > 1.0 else "in a dive at idle too"
    return f"More at low speed, by throttle (idle, half, full throttle), {dive}:"


def max_over(advice: Advice) -> float:
    """Return how far the schedule is over what an idle dive stands, of all axes [-]; 1: inside."""
    return max((x for x in advice.over if isfinite(x)), default=0.0)


def dive_text(found: Allowed, advice: Advice) -> str:
    """Return by how much a schedule by throttle fails in a dive at idle."""
    dive, idle = found.points[-1], advice.schedule.at(0.0)
    over = [
        f"{AXES[j]} {idle[j]:.3f} where {axis.advised:.3f} is stood"
        for j, axis in enumerate(dive.axes)
        if axis is not None and advice.over[j] > 1.0
    ]
    if not over:
        return "In a dive at idle it is inside too."
    swings = [
        AXES[j] for j, axis in enumerate(dive.axes)
        if axis is not None and idle[j] >= axis.nominal.swings
    ]  # fmt: skip
    text = (
        "Throttle stands in for speed, and lies in a dive: at idle a schedule gives the "
        f"approach's gains at any speed. At {SPEED(dive.point.speed_mps)} that is {listed(over)}"
    )
    if swings:
        text += f"; {listed(swings)} would swing on {'its' if len(swings) == 1 else 'their'} own"
    return f"{text}. Fly the one gain, or slow down before you close the throttle."


RECOVERY = (
    "On at idle it may hinder a recovery: it holds aileron against the roll of a spin, which feeds "
    "the spin of an aeroplane loaded along its body. Fly a study with gyro = \"on\" and \"off\" "
    "before you trust either, and keep a switch position that is off."
)  # fmt: skip


def hold_text(found: Allowed, gains: np.ndarray) -> str | None:
    """Return how far hold mode can wind up, or None in rate mode.

    Rate gain times its limit, control_model.toml; by definition, in degrees of surface.
    """
    if not found.loop.hold_per_s:
        return None
    most = found.loop.hold_per_s * tables.control_model().hold_limit_deg * gains
    parts = [f"{AXES[j]} {most[j]:.0f} deg" for j in range(len(AXES)) if gains[j] > 0.0]
    return (
        f"Hold mode winds up while the aeroplane turns and the stick is centred, as in a spin: as "
        f"far as {listed(parts)} of surface, and leans on it after the turning has stopped. Rate "
        "mode does not."
    )


def bench_lines(found: Allowed, gains: np.ndarray) -> Iterator[str]:
    """Yield what is seen on the bench: how far surfaces jerk in a turn by hand, by axis."""
    t = tables.gyro_loop()
    rate = t.hand_turn_deg / t.hand_turn_s
    turned = by_hand(found, gains, rate)
    for j, name in enumerate(AXES):
        parts = [
            f"{part} {turn.turned_deg[j]:.0f} deg"
            + (" (its stop)" if turn.turned_deg[j] >= turn.stop_deg else "")
            for part, turn in turned.items()
            if turn.turned_deg[j] > 0.0
        ]
        if parts and gains[j] > 0.0:
            yield (
                f"{name}, {gains[j]:.3f}: turned by hand {t.hand_turn_deg:.0f} deg in "
                f"{t.hand_turn_s:g} s ({rate:.0f} deg/s), {listed(parts)} against the turn"
                f"{_percent(found, j, gains)}."
            )


def _percent(found: Allowed, axis: int, gains: np.ndarray) -> str:
    gyro = found.assembled.setup.gyro_settings
    dial = None if gyro is None else gyro.surface_deg_per_dps_at_100_pct
    full = None if dial is None else getattr(dial, AXES[axis])
    return "" if full is None else f"; {100.0 * gains[axis] / full:.0f} % of its dial, as measured"


def bench_end(found: Allowed) -> str:
    """Return what else the bench needs said."""
    gyro = found.assembled.setup.gyro_settings
    text = "Motor unplugged, sticks centred, throttle at idle. The surface must oppose the turn."
    if found.loop.hold_per_s:
        text += " In hold mode some of it stays until the model is turned back or the stick moves."
    if gyro is None or gyro.surface_deg_per_dps_at_100_pct is None:
        text += (
            " Per cent of a gyro's dial is its own unit: with the dial at 100 %, divide the "
            f"surface's degrees by the turn's deg/s and give them in [gyro] as {DIAL} = "
            "{ roll = …, pitch = …, yaw = … }; then per cent are printed too."
        )
    return text


def keeps_up(found: Allowed, at: At, axis: int) -> float | None:
    """Return how far [deg] a surface can swing, at the loop's own frequency, at its full speed.

    A sine of that size just reaches the servo's speed: rate over frequency, by definition.
    """
    one = at.axes[axis]
    if one is None or not isfinite(one.nominal.crossing_rps):
        return None
    return degrees(found.servo_rps[axis] / one.nominal.crossing_rps)

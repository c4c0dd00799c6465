"""The modelled pilot: sticks at a finite rate, late eyes, limits in angle and load.

The gains and limits come from the pilot table; nothing here knows the aeroplane better
than a pilot who has flown its stall: an angle of attack not to exceed, a load factor
not to exceed, and where the trim is.
"""

from math import atan2, sqrt

from sim.core import kernel
from sim.core.layout import (
    P_AIM_PATH,
    P_ALPHA_LIMIT,
    P_K_ALPHA,
    P_K_BANK,
    P_K_P,
    P_K_PATH,
    P_K_PULL,
    P_K_Q,
    P_LOAD_FROM,
    P_LOAD_LIMIT,
    P_NO_LIFT,
    P_NO_PULL_BANK,
    P_PERCEPTION,
    P_SLOWEST,
    P_STICK_RATE,
    P_TRIM_THROTTLE,
    STICK_AILERON,
    STICK_ELEVATOR,
)
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.pilot.frames import is_against
from sim.core.script_layout import (
    FRAME_SIDE,
    FRAME_SPIN,
    PH_ELEVATOR,
    PH_FRAME,
    PH_HOLD_ALPHA,
    PH_PILOT,
    PH_RAMP,
    PH_THROTTLE,
    PILOT_EITHER_WAY,
    PILOT_HARD_PULL,
    PILOT_LEVEL,
    PILOT_PASS,
    PILOT_PULL_OUT,
    PILOT_ROCKING,
    PILOT_STICKS,
    PILOT_WINGS,
    Q_ALPHA,
    Q_BANK,
    Q_ELEVATOR,
    Q_ERECT,
    Q_LAST_ALPHA,
    Q_LOAD,
    Q_PATH,
    Q_PITCHING,
    Q_SIDE,
    Q_SINCE,
    Q_SLOW,
    Q_SPIN,
    Q_START_ALPHA,
    Q_START_E,
    Q_SUM,
    Q_THROTTLE,
    Q_TILT,
    Q_YAW,
)


@kernel(entry=False, borrowing=True)
def look(pilot, memory, alpha, gy, gz, path, load, yaw, dt):
    """Update what the pilot sees: each quantity through a first-order lag.

    ``gy, gz`` are the body components of the unit vector that points down; their angle
    is the bank, weighted by how much of it shows (none in a vertical dive); the tilt is the bank
    from wings level the way up that it is.

    Angles in rad, load in g, ``yaw`` in rad/s, ``dt`` in s. Own: pilot.toml has the lag.
    """
    blend = dt / (pilot[P_PERCEPTION] + dt)
    bank = atan2(gy, gz) * sqrt(gy * gy + gz * gz)
    memory[Q_ALPHA] += blend * (alpha - memory[Q_ALPHA])
    memory[Q_BANK] += blend * (bank - memory[Q_BANK])
    tilt = atan2(gy, gz) if gz >= 0.0 else atan2(-gy, -gz)
    memory[Q_TILT] += blend * (tilt * sqrt(gy * gy + gz * gz) - memory[Q_TILT])
    memory[Q_PATH] += blend * (path - memory[Q_PATH])
    memory[Q_LOAD] += blend * (load - memory[Q_LOAD])
    memory[Q_YAW] += blend * (yaw - memory[Q_YAW])


@kernel
def _scripted(phase, memory, k):
    """Return where stick ``k`` (a STICK index) should be by the script, -1..1.

    Own: the frames of the manoeuvres. Where it hardly turns there is nothing to be against.
    """
    frame = int(phase[PH_FRAME])
    wish = phase[PH_ELEVATOR + k]
    if frame == FRAME_SIDE and k != STICK_ELEVATOR:
        return wish * memory[Q_SIDE]
    if frame == FRAME_SPIN:
        if k == STICK_ELEVATOR:
            return wish * memory[Q_ERECT]
        if memory[Q_SLOW] > 0.0 and is_against(phase):
            return 0.0
        if k == STICK_AILERON:
            return wish * memory[Q_SPIN] * memory[Q_ERECT]
        return wish * memory[Q_SPIN]
    return wish


@kernel
def _level(pilot, memory, q, dt):
    """Return the elevator stick that holds the flight path level (trim is added later).

    ``q`` [rad/s], ``dt`` [s]; stick -1..1. Own: proportional and integral on the path, gains of
    pilot.toml.
    """
    memory[Q_SUM] = min(1.0, max(-1.0, memory[Q_SUM] - pilot[P_K_PATH] * memory[Q_PATH] * dt))
    stick = memory[Q_SUM] - pilot[P_K_PATH] * memory[Q_PATH] - pilot[P_K_Q] * q
    over = memory[Q_ALPHA] - pilot[P_ALPHA_LIMIT]
    return stick - pilot[P_K_ALPHA] * max(0.0, over)


@kernel
def _most_angle(pilot, memory):
    """Return the angle of attack [rad] that the pilot pulls to at most.

    Own: the limits in angle and load of pilot.toml.
    """
    alpha = memory[Q_ALPHA]
    most = pilot[P_ALPHA_LIMIT]
    if memory[Q_LOAD] > pilot[P_LOAD_FROM] * pilot[P_LOAD_LIMIT] and alpha > 0.0:
        most = min(most, alpha * pilot[P_LOAD_LIMIT] / memory[Q_LOAD])
    return most


@kernel
def _towards(pilot, memory, wish, q, speed):
    """Return the elevator stick towards an angle of attack ``wish`` [rad].

    ``q`` [rad/s], ``speed`` [m/s]; stick -1..1. Own: gains of pilot.toml; a path turns by
    g (n - 1) / V, from memory.
    """
    turning = STANDARD_GRAVITY * (memory[Q_LOAD] - 1.0) / max(speed, pilot[P_SLOWEST])
    return pilot[P_K_ALPHA] * (wish - memory[Q_ALPHA]) - pilot[P_K_Q] * (q - max(0.0, turning))


@kernel
def _hard_pull(pilot, memory, q, speed, dt):
    """Return the elevator stick of a pull to the pilot's limits in angle and load.

    Load goes with the angle of attack from where there is no lift, not from nought: a cambered
    wing carries several g near nought. Where load bounds the pull, the stick grows by the share
    of lift that will be short, so that it gets there however weak the aeroplane's answer;
    near the stall nothing is added. It is handed on from phase to phase as it stands. The
    pilot leads a growing angle by what the eye is late and by the time of the stick.

    ``q`` [rad/s], ``speed`` [m/s], ``dt`` [s]; stick -1..1. Lift linear in angle, by definition.
    Own: gains of pilot.toml; in less than its weight's lift only the angle bounds it.
    """
    alpha, load = memory[Q_ALPHA], memory[Q_LOAD]
    lifting = alpha - pilot[P_NO_LIFT]
    wish = pilot[P_ALPHA_LIMIT]
    if load > 1.0 and lifting > 0.0:
        wish = min(wish, pilot[P_NO_LIFT] + lifting * pilot[P_LOAD_LIMIT] / load)
    by_load = wish < pilot[P_ALPHA_LIMIT]
    stick = _towards(pilot, memory, wish, q, speed)
    if memory[Q_SINCE] <= 1.5 * dt:
        memory[Q_SUM] = max(0.0, memory[Q_START_E] - stick)
        memory[Q_LAST_ALPHA] = alpha
    lead = pilot[P_PERCEPTION] + 1.0 / pilot[P_STICK_RATE]
    short = wish - alpha - lead * (alpha - memory[Q_LAST_ALPHA]) / dt
    memory[Q_LAST_ALPHA] = alpha
    share = 1.0 if short >= lifting else max(-1.0, short / lifting)
    if share < 0.0 or (by_load and memory[Q_SUM] + stick < 1.0):
        more = pilot[P_K_PULL] * share * max(0.0, memory[Q_ELEVATOR]) * dt
        memory[Q_SUM] = max(0.0, memory[Q_SUM] + more)
    return memory[Q_SUM] + stick


@kernel
def _pull(pilot, memory, q, speed):
    """Return the elevator stick of a pull-out to level within the pilot's limits.

    ``q`` [rad/s], ``speed`` [m/s]; stick -1..1. Own: less of them the nearer it is to level, and
    nothing with the wings far from it.
    """
    share = min(1.0, max(0.0, pilot[P_K_PATH] * (pilot[P_AIM_PATH] - memory[Q_PATH])))
    upright = min(1.0, max(0.0, 2.0 - 2.0 * abs(memory[Q_BANK]) / pilot[P_NO_PULL_BANK]))
    return _towards(pilot, memory, _most_angle(pilot, memory) * share * upright, q, speed)


@kernel
def _nose_up(pilot, memory, phase, raised, q, dt):
    """Return the elevator stick that raises the angle of attack to what a pass holds.

    ``raised`` is the share of the way that it should be; ``q`` [rad/s], ``dt`` [s]; stick -1..1.
    Own: proportional and integral on the angle, gains of pilot.toml; while it climbs, on the
    attitude of the nose, so that speed is not turned into height.
    """
    start = memory[Q_START_ALPHA]
    short = start + (phase[PH_HOLD_ALPHA] - start) * raised - memory[Q_ALPHA]
    climbing = max(0.0, memory[Q_PATH])
    short -= climbing if phase[PH_HOLD_ALPHA] >= 0.0 else -climbing
    memory[Q_SUM] = min(1.0, max(-1.0, memory[Q_SUM] + pilot[P_K_PATH] * short * dt))
    return memory[Q_SUM] + pilot[P_K_ALPHA] * short - pilot[P_K_Q] * q


@kernel
def _for_height(pilot, memory, raised):
    """Return the throttle, 0..1, that holds the height while the nose is raised.

    Common practice, no source: the higher the nose, the more power; less of it while it climbs.
    Own: from trim to full with the share ``raised``, and proportional on the path with the gain
    of pilot.toml.
    """
    trim = pilot[P_TRIM_THROTTLE]
    goal = trim + raised * (1.0 - trim) - pilot[P_K_PATH] * memory[Q_PATH]
    return min(1.0, max(0.0, goal))


@kernel
def _rock(pilot, memory, wish, q, dt):
    """Return the elevator stick that rocks: aft while the nose rises, forward while it falls.

    So it does work on the swing. The swing is regular: the pilot leads it by what the eye is
    late and by half the time of the stick from stop to stop.

    ``q`` [rad/s], ``dt`` [s]; stick -1..1. Own: lead by the eye's lag and the stick's way.
    """
    late = pilot[P_PERCEPTION]
    slope = (q - memory[Q_PITCHING]) / (late + dt)
    memory[Q_PITCHING] += dt * slope
    lead = late + abs(wish) / pilot[P_STICK_RATE]
    return abs(wish) if memory[Q_PITCHING] + lead * slope >= 0.0 else -abs(wish)


@kernel(borrowing=True)
def move_sticks(pilot, memory, phase, p, q, speed, dt):
    """Move the four sticks in ``memory`` towards what the phase asks, at a finite rate.

    The elevator stick of a flown (not scripted) phase is relative to trim. Who pulls out with power
    gives no less than the level flight took that it began with.

    ``p``, ``q`` [rad/s], ``speed`` [m/s], ``dt`` [s]; sticks -1..1. Own: gains of pilot.toml.
    """
    kind = int(phase[PH_PILOT])
    either_way = kind >= PILOT_EITHER_WAY
    reach = pilot[P_STICK_RATE] * dt
    ramp = max(phase[PH_RAMP], dt)
    raised = min(1.0, memory[Q_SINCE] / ramp)
    for k in range(3):
        flown = (kind == PILOT_WINGS or either_way) and k == STICK_AILERON
        scripted = kind in (PILOT_STICKS, PILOT_ROCKING, PILOT_WINGS) or either_way
        if kind == PILOT_ROCKING and k == STICK_ELEVATOR:
            goal = _rock(pilot, memory, _scripted(phase, memory, STICK_ELEVATOR), q, dt)
        elif kind == PILOT_HARD_PULL and k == STICK_ELEVATOR:
            goal = _hard_pull(pilot, memory, q, speed, dt)
        elif kind == PILOT_PASS and k == STICK_ELEVATOR:
            goal = _nose_up(pilot, memory, phase, raised, q, dt)
        elif scripted and not flown:
            goal = _scripted(phase, memory, k)
            start = memory[Q_START_E + k]
            goal = start + (goal - start) * raised
        elif k == STICK_ELEVATOR:
            if kind == PILOT_LEVEL:
                goal = _level(pilot, memory, q, dt)
            else:
                goal = _pull(pilot, memory, q, speed)
        elif k == STICK_AILERON:
            bank = memory[Q_TILT] if either_way else memory[Q_BANK]
            goal = -pilot[P_K_BANK] * bank - pilot[P_K_P] * p
        else:
            goal = 0.0
        goal = min(1.0, max(-1.0, goal))
        move = goal - memory[Q_ELEVATOR + k]
        memory[Q_ELEVATOR + k] += min(reach, max(-reach, move))
    throttle = phase[PH_THROTTLE]
    if kind == PILOT_PASS:
        throttle = _for_height(pilot, memory, raised)
    elif kind == PILOT_PULL_OUT and throttle > 0.0:
        # with less than level flight took it would sink for ever
        throttle = max(throttle, pilot[P_TRIM_THROTTLE])
    if throttle >= 0.0:
        move = throttle - memory[Q_THROTTLE]
        memory[Q_THROTTLE] += min(reach, max(-reach, move))

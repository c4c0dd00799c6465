"""The right-hand side: all forces, all rates, for one state and one control tick."""

from sim.core import kernel
from sim.core.layout import X_SERVO
from sim.core.motion.rates import RATES, TARGETS, rates


@kernel
def offsets(model):
    """Return where servos' successors begin in the state: rotors, duties, induced, wash, x.

    Of the wash first the downwash of each surface, then the slope across its vortex sheet.
    """
    n_servo = model.servos.shape[0]
    n_unit = model.units.shape[0]
    n_surface = model.surfaces.shape[0]
    o_rotor = X_SERVO + n_servo
    o_duty = o_rotor + n_unit
    o_induced = o_duty + n_unit
    o_wash = o_induced + 2 * n_surface
    return o_rotor, o_duty, o_induced, o_wash, o_wash + 2 * n_surface


@kernel
def derivative(x, model, inputs, work, steady, out):
    """Fill ``out`` with the rates of the state vector ``x``.

    Parameters
    ----------
    x, out : float array (state_size,)
        Laid out as ``layout`` says.
    model : Model
        The aeroplane, packed; positions relative to the balance point.
    inputs : Inputs
        Servo targets [rad], duties, wind NED [m/s], held over the tick.
    work : Work
        Scratch arrays of this model; ``work.loads`` holds the air's force and moment
        afterwards.
    steady : float or bool
        RATES, or TARGETS: the lag states' entries hold target minus state (used to settle
        them).
    """
    rates(x, model, inputs, work, TARGETS if steady else RATES, out)


@kernel(entry=False)
def rates_beside(x, model, inputs, work, places, steps, out):
    """Fill ``out`` with the rates of states that differ from ``x`` in one entry each.

    Lags as target minus state, as TARGETS of `derivative`. By definition of a forward
    difference.

    Parameters
    ----------
    x : float array (state_size,)
        Laid out as ``layout`` says; as it was afterwards.
    places : int array (n,)
        Entries of ``x``.
    steps : float array (n,)
        By how much each is moved, in its own unit.
    out : float array (n, state_size)
    """
    for i in range(places.shape[0]):
        keep = x[places[i]]
        x[places[i]] = keep + steps[i]
        rates(x, model, inputs, work, TARGETS, out[i])
        x[places[i]] = keep


@kernel
def derivatives(states, model, inputs, work, out):
    """Fill ``out`` with the rates of many states, in one call from Python.

    RATES of `derivative`, by definition.

    Parameters
    ----------
    states, out : float array (n, state_size)
        Laid out as ``layout`` says.
    """
    for i in range(states.shape[0]):
        derivative(states[i], model, inputs, work, RATES, out[i])

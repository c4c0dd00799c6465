"""A wind tunnel that measures given linear derivatives, for the product's departure criteria."""

from types import SimpleNamespace
from unittest.mock import patch

import numpy as np

import sim.trim.trimming as trimming

AREA, SPAN, DENSITY, SPEED = 1.3, 1.7, 1.225, 25.0
PUSH = 0.5 * DENSITY * SPEED**2 * AREA * SPAN


def aeroplane(ratio):
    """Return what the criteria read of an aeroplane, with Izz/Ixx = ratio."""
    return SimpleNamespace(
        weighed=SimpleNamespace(
            reference=SimpleNamespace(area_m2=AREA, span_m=SPAN),
            inertia_kg_m2=np.diag([0.1, 0.2, 0.1 * ratio]),
        ),
        density=DENSITY,
        model=None,
    )


def tunnel(cn_beta, cl_beta, cn_aileron, cl_aileron):
    """Return what stands in for the kernel's `polar` (derivatives per rad, per stick)."""

    def polar(_model, _speed, alphas, betas, _rates, sticks):
        loads = np.zeros((alphas.size, 6))
        loads[:, 3] = PUSH * (cl_beta * betas + cl_aileron * sticks[:, 1])
        loads[:, 5] = PUSH * (cn_beta * betas + cn_aileron * sticks[:, 1])
        loads[:, 4] = -sticks[:, 0]
        return loads

    return polar


def criteria(ratio, cn_beta, cl_beta, cn_aileron, cl_aileron, alpha_deg):
    """Return Cn_beta,dyn and LCDP [1/deg] of derivatives per rad at an angle."""
    with patch.object(trimming, "polar", tunnel(cn_beta, cl_beta, cn_aileron, cl_aileron)):
        dynamic, lcdp = trimming.departure_criteria(aeroplane(ratio), np.array([alpha_deg]), SPEED)
    return dynamic[0], lcdp[0]

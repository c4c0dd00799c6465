"""The undercarriage: where its wheels touch the ground."""

from pydantic import model_validator

from sim.describe.faults import refuse
from sim.describe.quantity import Described, Place


class Undercarriage(Described):
    """Where the tyres touch the ground, the aeroplane at its own datum's attitude.

    The main wheels, and either a nose wheel ahead of them or a tail wheel (or skid) behind: the
    two places tell at which attitude it stands. A model that is launched by hand has none.
    """

    main_aft_mm: Place
    main_up_mm: Place
    nose_aft_mm: Place | None = None
    nose_up_mm: Place | None = None
    tail_aft_mm: Place | None = None
    tail_up_mm: Place | None = None

    @model_validator(mode="after")
    def _stands(self) -> "Undercarriage":
        faults = []
        nose, tail = (self.nose_aft_mm, self.nose_up_mm), (self.tail_aft_mm, self.tail_up_mm)
        if (nose == (None, None)) == (tail == (None, None)):
            text = "must have one third wheel: give nose_aft_mm and nose_up_mm, or tail_aft_mm "
            faults.append(("", f"{text}and tail_up_mm"))
        for name, (aft, up) in (("nose", nose), ("tail", tail)):
            if (aft is None) != (up is None):
                lacking = f"{name}_aft_mm" if aft is None else f"{name}_up_mm"
                faults.append((lacking, "is missing; a wheel needs both its places"))
        if self.nose_aft_mm is not None and self.nose_aft_mm >= self.main_aft_mm:
            text = f"must lie ahead of the main wheels, {self.main_aft_mm:g}; got "
            faults.append(("nose_aft_mm", f"{text}{self.nose_aft_mm:g}"))
        if self.tail_aft_mm is not None and self.tail_aft_mm <= self.main_aft_mm:
            text = f"must lie aft of the main wheels, {self.main_aft_mm:g}; got "
            faults.append(("tail_aft_mm", f"{text}{self.tail_aft_mm:g}"))
        refuse(faults)
        return self

    @property
    def has_nose_wheel(self) -> bool:
        """True where it stands on a nose wheel, False on a tail wheel."""
        return self.nose_aft_mm is not None

    @property
    def slope(self) -> float:
        """How much the datum's axis points up on the ground, as a slope (tangent)."""
        aft = self.nose_aft_mm if self.nose_aft_mm is not None else self.tail_aft_mm
        up = self.nose_up_mm if self.nose_up_mm is not None else self.tail_up_mm
        assert aft is not None
        assert up is not None
        return (up - self.main_up_mm) / (aft - self.main_aft_mm)

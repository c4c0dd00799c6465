"""Aeroplanes drawn on a sheet by the house's own outlines, and where on it a hand would click."""

from math import cos, radians, sin

import numpy as np
from PIL import Image, ImageDraw

from sim.aero.geometry.panels import panels_of
from sim.describe import load_aeroplane
from sim.show.shapes.outline import VIEWS, body_outline, shapes_of, to_mm


class Sheet:
    """A drawing; ``turn_deg`` is how far it lies turned, ``px_a_mm`` its scale."""

    def __init__(self, name, view, turn_deg=0.0, px_a_mm=1.2, wide=2000, high=2000):
        self.aeroplane, self.view = load_aeroplane(name), view
        self.size, self.scale = (wide, high), px_a_mm
        self.axes = np.array([[cos(radians(turn_deg)), sin(radians(turn_deg))],
                              [sin(radians(turn_deg)), -cos(radians(turn_deg))]])  # fmt: skip
        self.body = self.aeroplane.bodies[0]
        at = [s.aft_mm for s in self.body.stations]
        self.middle = 0.5 * (at[0] + at[-1])

    def __call__(self, aft, out):
        """Return the pixel of a place [mm]: aft and right, or aft and up."""
        away = np.array([aft - self.middle, out]) @ self.axes * self.scale
        return tuple(float(x) for x in np.array(self.size) / 2 + away)

    def draw(self, path):
        picture = Image.new("RGB", self.size, "#fbfaf6")
        pen = ImageDraw.Draw(picture)
        outlines = [s.outline[:, VIEWS[self.view]] for s in shapes_of(self.aeroplane)]
        outlines += [body_outline(body, self.view) for body in self.aeroplane.bodies]
        for outline in outlines:
            pen.polygon([self(*p) for p in outline], fill="#dfe6ea", outline="#222222", width=2)
        picture.save(path)
        return path

    def half(self, aft):
        at = [s.aft_mm for s in self.body.stations]
        return float(np.interp(aft, at, [0.5 * s.width_mm for s in self.body.stations]))

    def corners(self, name):
        """Return the four pixels of a surface, its root where the body's side hides the rest."""
        panel = panels_of(next(s for s in self.aeroplane.surfaces if s.name == name))[0]
        across = VIEWS[self.view][1]

        def end(t, chordwise):
            place = to_mm(panel.point(t, chordwise))
            return float(place[0]), float(place[across])

        def root(chordwise):
            t = 0.0
            for _ in range(30 if self.view == "top" else 0):
                aft, out = end(t, chordwise)
                t = max(0.0, t + (self.half(aft) - out) * 1e-3 / panel.span)
            return end(t, chordwise)

        return [self(*p) for p in (root(0.0), end(1.0, 0.0), end(1.0, 1.0), root(1.0))]

    def wing_at_body(self):
        """Return the wing's leading edge at the body's side, of either view."""
        panel = panels_of(next(s for s in self.aeroplane.surfaces if s.role == "wing"))[0]
        t = self.half(0.0) * 1e-3 / panel.span
        place = to_mm(panel.point(t, 0.0))
        return self(place[0], place[VIEWS[self.view][1]])

    def points(self):
        """Return what a hand would have clicked, as the page saves it."""
        stations = self.body.stations
        first, last, side = stations[0], stations[-1], self.view == "side"
        out = {"schema": "aftlimit.points/1", "view": self.view, "picture": "sheet.png",
               "nose": [self(first.aft_mm, side * first.up_mm)],
               "end": [self(last.aft_mm, side * last.up_mm)]}  # fmt: skip
        if self.view == "top":
            wing = panels_of(self.aeroplane.surfaces[0])[0]
            tip = to_mm(wing.point(1.0, 0.0))
            out |= {"known": [self(tip[0], tip[1]), self(tip[0], -tip[1])],
                    "known_mm": float(2.0 * tip[1]),
                    "edge": [self(s.aft_mm, 0.5 * s.width_mm) for s in stations]}  # fmt: skip
            seen = [s.name for s in self.aeroplane.surfaces if abs(s.dihedral_deg) < 60.0]
        else:
            out |= {
                "known": [self(first.aft_mm, 0.0), self(last.aft_mm, 0.0)],
                "known_mm": last.aft_mm - first.aft_mm,
                "wing_root": [self.wing_at_body()],
                "level": [self(first.aft_mm, 0.0), self(last.aft_mm, 0.0)],
            }
            for key, sign in (("upper", 0.5), ("lower", -0.5)):
                out[key] = [self(s.aft_mm, s.up_mm + sign * s.height_mm) for s in stations]
            seen = [s.name for s in self.aeroplane.surfaces if s.dihedral_deg > 30.0]
        return out | {"surfaces": {name: self.corners(name) for name in seen}}


def area(surface):
    """Return a panel's area [mm²]."""
    return 0.5 * (surface.root_chord_mm + surface.tip_chord_mm) * surface.panel_span_mm


def mid_chord(surface):
    """Return where a panel's middle lies [mm aft]: geometry."""
    slope = np.tan(np.radians(surface.sweep_deg)) * surface.panel_span_mm
    return surface.root_aft_mm + 0.5 * slope + 0.25 * (surface.root_chord_mm + surface.tip_chord_mm)

"""The aeroplane as the program understood it: three views, parts, and coefficient curves."""

from math import pi, sqrt

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Rectangle

from sim.describe import Aeroplane, Part
from sim.pack.assemble import Assembled
from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, ORANGE, SHEET, new_figure, styled
from sim.show.drawing.scales import in_units
from sim.show.drawing.spread_labels import spread_labels
from sim.show.figures.aeroplane import draw_aeroplane, draw_wheels
from sim.show.figures.coefficients import coefficient_page
from sim.show.figures.drives import draw_drives
from sim.show.figures.side_view import draw_balance_symbol, draw_neutral_symbol
from sim.show.shapes.outline import VIEWS, wheel_places
from sim.show.words.bench.standing import flap_and_wheels
from sim.units.quantities import AREA, LENGTH, LOADING, MASS
from sim.weigh import TableRow, weigh_table

MOST_LISTED = 18  # parts numbered and listed, the heaviest first
# A part is drawn as a disc of its mass at this area density, about that of a card 20 g/dm2
# heavier than life: only the proportions matter.
DISC_G_PER_MM2 = 0.16
FRAME_MM = 60.0
WIDTH_IN, GAP_IN = 13.0, 0.65


@styled
def sketch(assembled: Assembled, neutral_point_pct: float) -> tuple[Figure, Figure]:
    """Return two figures: three views with everything in its place, and coefficient curves.

    Parameters
    ----------
    neutral_point_pct : float
        Stick-fixed neutral point [% MAC].
    """
    return three_views(assembled, neutral_point_pct), coefficient_page(assembled)


@styled
def three_views(assembled: Assembled, neutral_point_pct: float) -> Figure:
    """Return the top, side and front view in mm to one scale, with the heavier parts listed."""
    aeroplane, weighed = assembled.aeroplane, assembled.weighed
    figure, (top, listed, side, front) = _sheet(*_box(aeroplane))
    rows = weigh_table(weighed)
    # the airframe is spread over what is drawn; its name and mass are in the list only
    numbered = sorted((r for r in rows if r.kind != "airframe"), key=lambda r: -r.mass_g)
    for axes, view in ((top, "top"), (side, "side"), (front, "front")):
        draw_aeroplane(axes, aeroplane, view)
        _extents_of_parts(axes, aeroplane, view)
        _pack_and_tray(axes, assembled, view)
        for row in numbered:
            _discs(axes, row, view)
        _points(axes, assembled, neutral_point_pct, view)
        if view != "front":
            _number(axes, assembled, neutral_point_pct, numbered[:MOST_LISTED], view)
    for axes, view in ((top, "top"), (side, "side"), (front, "front")):
        draw_drives(axes, aeroplane, view, 1000.0 * weighed.reference.length_m)
    draw_wheels(side, aeroplane)
    _label(top, side, front)
    _legend(listed, assembled, neutral_point_pct, numbered, rows)
    figure.suptitle(
        f"{aeroplane.title}: set-up {assembled.setup.name} ({assembled.setup.title})",
        x=0.01, ha="left", weight="bold",
    )  # fmt: skip
    return figure


def _sheet(low: np.ndarray, high: np.ndarray) -> tuple[Figure, tuple[Axes, Axes, Axes, Axes]]:
    """Return a figure with axes for top view, list, side view and front view, all to one scale.

    ``low`` and ``high`` (3,) are the ends of the aeroplane [mm aft, right, up].
    """
    low, high = low - FRAME_MM, high + FRAME_MM
    length, width, height = high - low
    inch = (WIDTH_IN - 3.0 * GAP_IN) / (length + width)
    tall = 2.5 * GAP_IN + inch * (width + height) + GAP_IN
    figure = new_figure(WIDTH_IN, tall)
    figure.set_layout_engine("none")
    right, above = 2.0 * GAP_IN + inch * length, 2.0 * GAP_IN + inch * height
    places = (
        (GAP_IN, above, length, width), (right, above, width, width),
        (GAP_IN, GAP_IN, length, height), (right, GAP_IN, width, height),
    )  # fmt: skip
    found = [
        figure.add_axes((x / WIDTH_IN, y / tall, inch * w / WIDTH_IN, inch * h / tall))
        for x, y, w, h in places
    ]
    top, listed, side, front = found
    for axes, (i, j) in zip((top, side, front), VIEWS.values(), strict=True):
        axes.set_xlim(low[i], high[i])
        axes.set_ylim(low[j], high[j])
    return figure, (top, listed, side, front)


def _box(aeroplane: Aeroplane) -> tuple[np.ndarray, np.ndarray]:
    points = [
        (s.aft_mm, s.right_mm + side * s.width_mm / 2.0, s.up_mm + side * s.height_mm / 2.0)
        for body in aeroplane.bodies
        for s in body.stations
        for side in (-1.0, 1.0)
    ]
    for x in aeroplane.surfaces:
        tip = np.radians(x.dihedral_deg)
        right = x.root_right_mm + x.panel_span_mm * np.cos(tip)
        up = x.root_up_mm + x.panel_span_mm * np.sin(tip)
        aft = x.root_aft_mm + x.panel_span_mm * np.tan(np.radians(x.sweep_deg))
        points.append((x.root_aft_mm, x.root_right_mm, x.root_up_mm))
        points.append((x.root_aft_mm + x.root_chord_mm, x.root_right_mm, x.root_up_mm))
        for side in (-1.0, 1.0) if x.mirrored else (1.0,):
            points += [(aft, side * right, up), (aft + x.tip_chord_mm, side * right, up)]
    for unit in aeroplane.propellers:
        radius = aeroplane.propeller_units[unit.propeller].diameter_mm / 2.0
        for side in (-1.0, 1.0):
            points.append((unit.aft_mm, unit.right_mm + side * radius, unit.up_mm + side * radius))
    points += [(aft, 0.0, up) for aft, up in wheel_places(aeroplane)]
    corners = np.array(points)
    return corners.min(axis=0), corners.max(axis=0)


def _label(top: Axes, side: Axes, front: Axes) -> None:
    top.set_ylabel(f"{LENGTH.spelled} right")
    top.set_title("from above")
    side.set_xlabel(f"{LENGTH.spelled} aft of the datum")
    side.set_ylabel(f"{LENGTH.spelled} up")
    side.set_title("from the left")
    front.set_xlabel(f"{LENGTH.spelled} to the pilot's right (seen from ahead)")
    front.set_title("from ahead")
    front.invert_xaxis()
    for axes in (top, side, front):
        in_units(axes.xaxis, LENGTH)
        in_units(axes.yaxis, LENGTH)
        axes.grid(True)
        axes.set_axisbelow(True)


def radius_of(mass_g: float) -> float:
    """Return the radius of the disc that stands for a mass [mm]."""
    return sqrt(mass_g / (pi * DISC_G_PER_MM2))


def _places(row: TableRow, view: str) -> list[tuple[float, float]]:
    """Return where a part lies in a view, and where its mirror image does if that differs."""
    i, j = VIEWS[view]
    places = []
    for mirror in (1.0, -1.0)[: row.count]:
        place = row.aft_mm, mirror * row.right_mm, row.up_mm
        places.append((place[i], place[j]))
    return list(dict.fromkeys(places))


def _discs(axes: Axes, row: TableRow, view: str) -> None:
    radius = radius_of(row.mass_g / row.count)
    colour = {"pack": ORANGE, "loose weight": MARK, "added weight": MARK}.get(row.kind, BLUE)
    for place in _places(row, view):
        axes.add_patch(Circle(place, radius, fc=colour, ec=INK, lw=0.5, alpha=0.55, zorder=3))


def _number(
    axes: Axes, assembled: Assembled, neutral_pct: float, numbered: list[TableRow], view: str
) -> None:
    """Write the number of each part on its disc, or beside it where they crowd."""
    placed = [(p, str(n)) for n, row in enumerate(numbered, 1) for p in _places(row, view)]
    weighed = assembled.weighed
    up = (0.0, 1000.0 * weighed.balance_m[1], -1000.0 * weighed.balance_m[2])[VIEWS[view][1]]
    marks = [(weighed.balance_aft_mm, up), (1000.0 * weighed.reference.aft_m(neutral_pct), up)]
    spread_labels(axes, [p for p, _ in placed], [text for _, text in placed], marks)


def _extents_of_parts(axes: Axes, aeroplane: Aeroplane, view: str) -> None:
    """Outline bars, boxes and shells at their size."""
    for part in aeroplane.parts:
        size = _size(part)
        if not size.any():
            continue
        for mirror in (1.0, -1.0) if part.mirrored else (1.0,):
            centre = np.array([part.aft_mm, mirror * part.right_mm, part.up_mm])
            i, j = VIEWS[view]
            corner = centre - size / 2.0
            axes.add_patch(
                Rectangle((corner[i], corner[j]), size[i], size[j], fc="none", ec=BLUE, lw=0.7)
            )


def _size(part: Part) -> np.ndarray:
    length, width = part.length_mm or 0.0, part.width_mm or part.diameter_mm or 0.0
    size = np.array([length, width, part.height_mm or part.diameter_mm or 0.0])
    along = ("aft", "right", "up").index(part.along)
    # a bar or shell is described along one axis; a box has its length fore and aft
    return size if part.shape == "box" else np.roll(size, along)


def _pack_and_tray(axes: Axes, assembled: Assembled, view: str) -> None:
    aeroplane = assembled.aeroplane
    tray, pack = aeroplane.tray_of(assembled.setup.pack), aeroplane.packs[assembled.setup.pack]
    i, j = VIEWS[view]
    ends = np.array([
        [tray.front_aft_mm, tray.right_mm, tray.up_mm],
        [tray.rear_aft_mm, tray.right_mm, tray.up_mm],
    ])  # fmt: skip
    axes.plot(*ends[:, [i, j]].T, color=FAINT, lw=2.5, solid_capstyle="butt", zorder=2)
    centre = np.array([assembled.weighed.pack_aft_mm, tray.right_mm, tray.up_mm])
    size = np.array([pack.length_mm, pack.width_mm, pack.height_mm])
    corner = centre - size / 2.0
    axes.add_patch(
        Rectangle((corner[i], corner[j]), size[i], size[j], fc="none", ec=ORANGE, lw=1.8, zorder=4)
    )
    for spot in aeroplane.weight_places:
        place = np.array([spot.aft_mm, spot.right_mm, spot.up_mm])
        axes.plot([place[i]], [place[j]], "s", ms=5, mfc="none", mec=MARK, zorder=4)


def _points(axes: Axes, assembled: Assembled, neutral_pct: float, view: str) -> None:
    weighed = assembled.weighed
    i, j = VIEWS[view]
    balance = np.array([
        weighed.balance_aft_mm, 1000.0 * weighed.balance_m[1], -1000.0 * weighed.balance_m[2]
    ])  # fmt: skip
    draw_balance_symbol(axes, balance[i], balance[j], 14.0)
    if view != "front":
        draw_neutral_symbol(axes, 1000.0 * weighed.reference.aft_m(neutral_pct), balance[j])
        edge = 1000.0 * weighed.reference.mean_chord_aft_m
        chord = 1000.0 * weighed.reference.mean_chord_m
        low = axes.get_ylim()[0] if view == "side" else 0.0
        axes.plot([edge, edge + chord], [low, low], color=MARK, lw=3.0, solid_capstyle="butt",
                  alpha=0.6, zorder=2)  # fmt: skip


def _legend(
    axes: Axes, assembled: Assembled, neutral_pct: float, numbered: list[TableRow],
    rows: list[TableRow],
) -> None:  # fmt: skip
    weighed = assembled.weighed
    ref = weighed.reference
    axes.axis("off")
    facts = [
        f"mass {MASS(1000.0 * weighed.mass_kg)}, wing {AREA(100.0 * ref.area_m2, '.1f')}, "
        f"{LOADING(10.0 * weighed.wing_loading_kg_m2)}",
        f"balance point {LENGTH(weighed.balance_aft_mm)} = {weighed.balance_pct_mac:.1f} % MAC "
        "(quartered disc)",
        f"neutral point {LENGTH(1000.0 * ref.aft_m(neutral_pct))} = {neutral_pct:.1f} % MAC, "
        "nominal (diamond)",
        f"MAC {LENGTH(1000.0 * ref.mean_chord_m)} from {LENGTH(1000.0 * ref.mean_chord_aft_m)} "
        "(thick line)",
        f"datum: {assembled.aeroplane.datum.text}",
        "blue fill: moving; dash-dotted: hinge or pivot; grey bar: tray",
        "long dashes: thrust line; short dashes: duct; open squares: places for a weight",
        *flap_and_wheels(assembled),
        "",
        f"parts by mass (discs in proportion), {LENGTH.spelled} aft / right / up:",
    ]
    for number, row in enumerate(numbered[:MOST_LISTED], 1):
        facts.append(f"{number:>2}  {_line(row)}")
    rest = numbered[MOST_LISTED:]
    if rest:
        facts.append(f"     {len(rest)} lighter ones, {MASS(sum(r.mass_g for r in rest))} together")
    facts.append("airframe:")
    facts += [f"     {_line(row)}" for row in rows if row.kind == "airframe"]
    axes.text(0.0, 1.0, "\n".join(facts), transform=axes.transAxes, va="top", fontsize=8.5,
              color=INK, linespacing=1.35)  # fmt: skip
    axes.set_facecolor(SHEET)


def _line(row: TableRow) -> str:
    side = f"±{LENGTH.figure(row.right_mm)}" if row.count == 2 else _whole(row.right_mm)
    each = f"2 × {MASS(row.mass_g / 2.0)}" if row.count == 2 else MASS(row.mass_g)
    return f"{row.name}: {each} at {_whole(row.aft_mm)} / {side} / {_whole(row.up_mm)}"


def _whole(value_mm: float) -> str:
    """Return a place in whole mm, or as fine, without a minus before nought."""
    return LENGTH.figure(value_mm if abs(value_mm) > 0.5 or not LENGTH.is_default else 0.0)

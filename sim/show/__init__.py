"""Everything that draws or prints: console tables, figures, sketch, report.

Every figure of a report is a function that draws on a matplotlib Axes handed to it, and is
public under ``sim``:

``sim.draw_share_matrix``
    What came back, set-up by manoeuvre.
``sim.draw_share_by_balance``
    Share that came back against balance point, one pack, with its aft limit.
``sim.draw_height_strips``
    Entry height every flight of a manoeuvre needed, by set-up.
``sim.draw_gain_risk``
    What going aft buys against what it costs.
``sim.draw_spin_overview``
    Angle of attack against yaw rate of every flight that spun.
``sim.draw_departure_plane``
    The departure criteria against each other, from ``sim.criteria``.
``sim.draw_rotary_curves``
    A coefficient against turn rate, from ``sim.rotary``.
``sim.draw_spin_map``
    Every steady spin along the balance point, from ``sim.spin_map``.
``sim.draw_side_view``, ``sim.draw_balance_scale``
    The aeroplane in mm with pack, balance point and neutral point; bands by pack.
``sim.draw_time_history``
    One flight over time; fills a Figure and returns its Axes.
``sim.draw_flight_path``
    The path of one flight, on Axes with ``projection="3d"``.

They draw under the house style, whatever the user's own settings are.

    >>> import matplotlib.pyplot as plt
    >>> import sim
    >>> result = sim.run_study(sim.load_study_files("first_look"))
    >>> figure, axes = plt.subplots()
    >>> sim.draw_share_matrix(axes, result.setups, result.required_share_pct)
"""

"""What measuring would change of a limit, made by hand."""

from dataclasses import replace

from sim.study.results.measuring import Measuring, OwnShare, Promise


def promise(aft_mm: float = 200.0) -> Promise:
    """Return a measurement that moves a limit by 4 mm."""
    return Promise(
        name="wing_section", text="the wing's section", measure="thickness with callipers",
        assumed=True, keys=("surfaces.wing.section",), share=0.21, share_low=0.12,
        share_high=0.29, told=True, aft_mm=aft_mm + 4.0, low_mm=aft_mm - 0.3, high_mm=aft_mm + 8.4,
        gain_mm=4.0, gain_low_mm=2.1, gain_high_mm=5.9,
    )  # fmt: skip


def measuring(*promises: Promise) -> Measuring:
    """Return what measuring would change, with these worth it."""
    nearest = promises[0] if promises else replace(promise(), gain_mm=0.6)
    return Measuring(
        manoeuvre="spin", promises=promises, nearest=nearest,
        together=replace(nearest, name="together", text="all that can be measured", measure=""),
        day_share=0.01, method_share=0.48, untraced_share=0.3,
        own=(
            OwnShare("stall_region", "force beyond the stall", "sink of a held stall", 0.2),
            OwnShare("carry_over", "force of what carries tails through the body", "", 0.1),
        ),
        lost=46,
    )  # fmt: skip

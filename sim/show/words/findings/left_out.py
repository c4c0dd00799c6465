"""What a study left out of what was wished, in words."""

from sim.study.own_study import LEFT_OUT
from sim.study.results.result import StudyResult


def left_out_texts(result: StudyResult) -> tuple[str, ...]:
    """Return what the usual study of an aeroplane could not fly, in one sentence; maybe none."""
    _, found, rest = result.story.partition(LEFT_OUT)
    return (f"{LEFT_OUT}{rest}",) if found else ()

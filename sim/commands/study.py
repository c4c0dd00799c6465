"""``aftlimit study``: fly a study and say what comes back."""

import argparse
import shlex
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from sim.commands.exit_codes import DONE, NOT_MET
from sim.commands.outputs import check_folder, check_outputs, write_asked_json
from sim.fly import warming
from sim.pack.assemble import power_fit_of
from sim.power.bench_words import unmet_lines
from sim.record.models.beyond import assembled_setups
from sim.record.study import study_record, write_study
from sim.show.console.console import doubtful, show
from sim.show.console.progress import Compiling, StudyProgress
from sim.show.console.results.study import study_tables
from sim.show.replay.kept import kept_recordings, write_kept
from sim.show.replay.page import replay_section
from sim.show.report.beyond import departures, scaled
from sim.show.report.report import Inserts, save_report
from sim.show.words.phrases import few_draws_warning, time_text
from sim.study import run_study
from sim.study.entering import Said
from sim.study.flights.running import Pool
from sim.study.own_study import find_study
from sim.study.standing.outcomes import study_met
from sim.trim.senses import sense_doubts, senses
from sim.weigh.plausible import doubts


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    with Compiling(warming.LEVEL_TRIM):
        files = find_study(args.study, Said(args.entry_m, args.floor_m, args.ceiling_m, args.draws))
    if args.out is not None:
        files = replace(files, options=(*files.options, ("--out", args.out)))
    folder = Path(args.out or f"{files.study.name}_results")
    check_outputs(args, "json", made=folder)
    check_folder(folder)
    few = few_draws_warning(files.study.required_share_pct, files.study.draws)
    if few:
        print(f"{files.paths[0].name}: {few}", file=sys.stderr, flush=True)
    with (
        StudyProgress(elsewhere=args.cluster is not None) as progress,
        flown_by(args.cluster, args.workers, progress) as pool,
    ):
        result = run_study(files, folder / "flights", args.workers, progress.watch, pool)
    ready = assembled_setups(files)
    signs = dict.fromkeys(line for x in ready for line in sense_doubts(senses(x)))
    slips = [*doubts(files.aeroplane), *unmet_lines(power_fit_of(files.aeroplane)), *signs]
    show([*study_tables(result, args.whole), *doubtful(slips)])
    record = study_record(result, ready)
    write_study(record, result, folder)
    kept = kept_recordings(result, files)
    write_kept(kept, folder / "replay")
    inserts = Inserts(
        replay=replay_section(kept),
        departure=departures(result, ready),
        scaled=scaled(result, ready),
        card_command=card_command(args.study, files.options),
    )
    report = save_report(result, files.aeroplane, folder / "report.html", inserts=inserts)
    write_asked_json(args, record)
    print(f"\n{time_text(result)} Report: {report}")
    return NOT_MET if study_met(result) is False else DONE


@contextmanager
def flown_by(
    address: str | None, workers: int | None, progress: StudyProgress
) -> Iterator[Pool | None]:
    """Yield the cluster that was asked for; None where flights are flown here."""
    if address is None:
        yield None
        return
    from sim.study.cluster.opening import open_cluster  # Dask is imported for this alone

    with open_cluster(address, workers, progress.tell) as cluster:
        progress.where = cluster.size_text
        yield cluster


def card_command(study: str, options: Sequence[tuple[str, str]]) -> str:
    """Return the command that makes a card of a study flown so, but for the set-up's name."""
    return shlex.join(["aftlimit", "card", study, *(word for pair in options for word in pair)])

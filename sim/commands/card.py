"""``aftlimit card``: one page for the field, of a set-up of a study that was flown."""

import argparse
from pathlib import Path

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_folder, check_outputs, write_asked_json
from sim.describe import StudyFiles
from sim.fly import warming
from sim.record.saved import check_setup, find_flown
from sim.show.card.blocks import laid_out
from sim.show.card.card import make_card
from sim.show.card.page import card_page
from sim.show.card.pdf import card_pdf, fitting_letters
from sim.show.card.record import card_record
from sim.show.console.console import paragraph, show
from sim.show.console.progress import Compiling, StopProgress, StudyProgress
from sim.study import run_study
from sim.study.combinations import own_setup
from sim.study.entering import Said
from sim.study.gyro_check import GyroCheck, gyro_check, gyro_on, gyro_points
from sim.study.ladder.ladder import fly_ladder
from sim.study.ladder.predictions import Predictor
from sim.study.standing.outcomes import recovery_of
from sim.written import write_atomically


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json", made=None if args.out is None else Path(args.out))
    out = None if args.out is None else Path(args.out)
    flown = find_flown(
        args.study, out, Said(args.entry_m, args.floor_m, args.ceiling_m, args.draws)
    )
    files = flown.files
    check_setup(files.study, args.setup)
    folder = flown.folder if args.out is None else Path(args.out)
    check_folder(folder)
    if flown.stale:
        print(f"Changed since the study was flown: {', '.join(flown.changed)}; it is flown again.")
        print("The report and results there are of the old files: run study again for new ones.")
    with StudyProgress() as progress:
        result = run_study(files, flown.flights, args.workers, progress.watch)
        setup = next(x for x in result.setups if x.name == args.setup)
        predictor = Predictor(files, flown.flights, args.workers, progress.watch)
        ladder = fly_ladder(
            files, result, setup, recovery_of(result, setup), predictor, progress.watch
        )
    check = _gyro(files, setup.name, result.seed)
    card = make_card(files, result, setup, ladder, check)
    layout = laid_out(card, files.aeroplane)
    letters = fitting_letters(layout.front)
    page, sheet = (folder / f"card_{setup.name}.{kind}" for kind in ("html", "pdf"))
    write_atomically(page, card_page(layout, letters).encode())
    write_atomically(sheet, card_pdf(layout, letters))
    write_asked_json(args, card_record(card, result, setup, ladder, check))
    gyro = (f"Gyro, surface ° per °/s: {card.gyro_check}",) if card.gyro_check else ()
    lines = (card.verdict, card.order, *card.answer, *gyro, card.ladder.ending)
    show([paragraph(line) for line in lines])
    print(f"Card: {page} and {sheet}")
    return DONE


def _gyro(files: StudyFiles, name: str, seed: int) -> GyroCheck | None:
    """Return how a set-up's gyro stands against its loop; None where it is not on."""
    setup = own_setup(files, name)
    if not gyro_on(setup):
        return None
    with Compiling(warming.MODES):
        at = gyro_points(files.aeroplane, setup)
    with StopProgress("closing the gyro's loops") as progress:
        return gyro_check(at, seed, progress.watch)

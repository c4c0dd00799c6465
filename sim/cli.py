"""The command line: reads the arguments, runs the command's module, tells what went wrong.

That module is imported only when its command runs, so that ``--help`` is instant. Exit
codes: 0 done, 2 bad input, 3 done but the study's requirement is not met, 130 interrupted.
"""

import sys
from collections.abc import Sequence
from textwrap import fill

from sim.arguments import WIDTH, build_parser
from sim.commands.exit_codes import BAD_INPUT, DONE, INTERRUPTED
from sim.commands.finding import command
from sim.units.quantities import using_units

MOST_LETTERS = 2000  # of a line; a list of all keys of a table has 700


def _tell(text: str) -> None:
    """Say what went wrong, at most 100 columns wide on a terminal, a line each when piped.

    What an argument or a file's name holds cannot write over the terminal.
    """
    from sim.describe.reading.bounds import plain, shortened

    text = "\n".join(
        line if len(line) <= MOST_LETTERS else shortened(line, MOST_LETTERS)
        for line in plain(text).split("\n")
    )
    if sys.stderr.isatty():
        text = "\n".join(
            fill(line, WIDTH, subsequent_indent="  ", break_long_words=False,
                 break_on_hyphens=False)
            for line in text.splitlines()
        )  # fmt: skip
    print(text, file=sys.stderr)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; return its exit code."""
    args = build_parser().parse_args(arguments)
    try:
        with using_units(args.units, args.speeds):
            return command(args.run)(args)
    except KeyboardInterrupt:
        _tell("interrupted; what has been flown is kept, run it again to go on")
        return INTERRUPTED
    except BrokenPipeError:
        return DONE
    except OSError as error:
        where = "" if error.filename is None else f"{error.filename}: "
        _tell(f"aftlimit: {where}{error.strerror or error}")
        return BAD_INPUT
    except ValueError as error:
        _tell(f"aftlimit: {error}")
        return BAD_INPUT
    except Exception as error:
        from sim.describe import FileFault

        if isinstance(error, FileFault):
            _tell(str(error))
            return BAD_INPUT
        raise


if __name__ == "__main__":
    sys.exit(main())

"""``python -m sim.record``: the kinds of JSON that are written, or the JSON schema of one."""

import json
import sys
from collections.abc import Sequence

from sim.describe.faults import hint
from sim.record.kinds import KINDS, schema_of

HELP = """Each command that takes --json writes one of these kinds, named by its "schema":

{kinds}

Print the JSON schema of one, with what each key means and its unit:

    python -m sim.record {first}"""


def main(arguments: Sequence[str]) -> int:
    """Print the kinds, or the schema of the one named; return the exit code."""
    if not arguments or arguments[0] in ("-h", "--help"):
        lines = (f"    {name:<23} {(kind.__doc__ or '').strip()}" for name, kind in KINDS.items())
        print(HELP.format(kinds="\n".join(lines), first=next(iter(KINDS))))
        return 0
    kind = KINDS.get(arguments[0])
    if kind is None or len(arguments) > 1:
        said = " ".join(arguments)
        print(f"{said}: must be one kind of record; {hint(said, KINDS, 'kinds')}", file=sys.stderr)
        return 2
    print(json.dumps(schema_of(kind), indent=2))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""``python -m tests.fuzz [COUNT [FIRST [KIND …]]]``: print what is answered badly."""

import sys
import tempfile
from pathlib import Path

from tests.fuzz.running import failures

if __name__ == "__main__":
    count, first = (int(x) for x in (*sys.argv[1:3], *("1000", "0")[len(sys.argv) - 1 :])[:2])
    found = 0
    with tempfile.TemporaryDirectory() as folder:
        for kind, seed, said in failures(count, first, Path(folder), tuple(sys.argv[3:])):
            found += 1
            print(f"{kind} {seed}: {said}", flush=True)
    print(f"{count} of each kind, {found} answered badly")
    sys.exit(found > 0)

"""Run every benchmark and print its lines: ``python -m tests.bench``."""

from itertools import chain

from tests.bench.bench_decisions import decision_lines
from tests.bench.bench_kernel import kernel_lines
from tests.bench.bench_memory import memory_lines
from tests.bench.bench_start import start_lines

if __name__ == "__main__":
    for line in chain(kernel_lines(), start_lines(), memory_lines(), decision_lines()):
        print(line, flush=True)

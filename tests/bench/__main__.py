"""Run every benchmark and print its lines: ``python -m tests.bench``."""

from itertools import chain

from tests.bench.bench_decisions import decision_lines
from tests.bench.bench_kernel import kernel_lines
from tests.bench.bench_lanes import lane_lines
from tests.bench.bench_memory import memory_lines
from tests.bench.bench_start import start_lines

if __name__ == "__main__":
    every = (kernel_lines, lane_lines, start_lines, memory_lines, decision_lines)
    for line in chain.from_iterable(lines() for lines in every):
        print(line, flush=True)

"""Speed, as ratios in one run: ``python -m tests.bench``. No test: machines are noisy."""

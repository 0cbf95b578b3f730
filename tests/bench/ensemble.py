#!/usr/bin/env python3
"""How long and how much memory an ensemble takes, as whole runs of the program.

  ensemble.py PROGRAM CASE SMALL_CASE

`trade` and `size` of CASE with 2000 samples (`size` with those of the case), `trade` of SMALL_CASE
over 1000, 10 000 and 100 000 samples, and `sweep` of one contact over as many rows. Medians of three runs, of the large ensembles one. Processor time
(user and system, all threads) stands beside the time on the clock: on a busy machine only the former says
what the program needs. A table for people; it fails nothing but a run that fails.
"""
import os
import statistics
import subprocess
import sys
import tempfile
import time


def run(arguments):
    """Seconds on the clock, seconds of processor time and largest memory in MiB of one run."""
    begin = time.monotonic()
    with open(os.devnull, "wb") as nowhere:
        process = subprocess.Popen(arguments, stdout=nowhere)
        _, status, usage = os.wait4(process.pid, 0)
    took = time.monotonic() - begin
    if os.waitstatus_to_exitcode(status) not in (0, 1):  # 1: a requirement is not met
        sys.exit(f"{' '.join(arguments)} ended with {os.waitstatus_to_exitcode(status)}")
    return took, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024.0


def row(what, arguments, runs, goal="", written=None):
    """Medians of so many runs, before each of which what the last one has written is removed."""
    found = []
    for _ in range(runs):
        if written and os.path.exists(written):
            os.remove(written)
        found.append(run(arguments))
    clock, processor, memory = zip(*found)
    print(f"{what:<46} {statistics.median(clock):9.2f} {statistics.median(processor):9.2f} "
          f"{max(memory):9.0f}   {goal}", flush=True)


def main():
    if len(sys.argv) != 4:
        sys.exit("usage: ensemble.py PROGRAM CASE SMALL_CASE")
    program, case, small = sys.argv[1:]
    quiet = ["--quiet"]
    print(f"{'':<46} {'clock s':>9} {'proc. s':>9} {'MiB':>9}   floor (goal), clock")
    row("trade, 2000 samples",
        [program, "trade", case, "--set", "study.samples=2000"] + quiet, 3, "2 s (1 s)")
    row("size of dense-ring", [program, "size", case, "--variant", "dense-ring"] + quiet, 3, "3 s")
    for samples, runs in ((1000, 3), (10_000, 1), (100_000, 1)):
        row(f"trade of the small case, {samples} samples",
            [program, "trade", small, "--set", f"study.samples={samples}"] + quiet, runs)
    with tempfile.TemporaryDirectory() as folder:
        contact = os.path.join(folder, "contact.toml")
        with open(contact, "wb") as file:
            subprocess.run([program, "new", "single-contact"], stdout=file, check=True)
        for rows, runs in ((1000, 3), (10_000, 3), (100_000, 1)):
            axis = f"shaft.rotor.diameter=20 mm to 60 mm in {rows} steps"
            table = os.path.join(folder, f"{rows}.csv.gz")
            row(f"sweep of one contact, {rows} rows",
                [program, "sweep", contact, "--axis", axis, "--out", table] + quiet, runs,
                written=table)


if __name__ == "__main__":
    main()

"""A million trend rows of a two-stage machine with one tank: rows a second, and the memory they take.

`python benches/trend_rows.py [rows]`, with the package and pandas installed. The readings are invented: those
of `notebooks/invented_second_machine.py`, repeated. All figures of each row are told, piece by piece
and in one call.
"""

import os
import resource
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "notebooks"))

import invented_second_machine as second

import interstage

ROWS = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
PIECE = 50_000

weeks = second.generate()[0]
columns = {name: np.resize(weeks[name].to_numpy(), ROWS) for name in weeks}
trend = interstage.Trend(
    second.CIRCUIT,
    readings={**second.READINGS, **second.TANK},
    barometer=second.BAROMETER,
    drive_efficiency=second.DRIVE,
    rated_capacity=second.RATED_CAPACITY,
    full_load_range=second.FULL_LOAD_RANGE,
)
trend.analyse({name: column[:1000] for name, column in columns.items()})


def peak():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def pieces(threads):
    before, after = trend.ROWS_BEFORE, trend.ROWS_AFTER
    told = 0
    for start in range(0, ROWS, PIECE):
        part = slice(max(start - before, 0), start + PIECE + after)
        result = trend.analyse({name: column[part] for name, column in columns.items()}, threads=threads)
        told += np.isfinite(result["stage_efficiency"][start - part.start :][:PIECE]).sum()
    return told


def whole(threads):
    return np.isfinite(trend.analyse(columns, threads=threads)["stage_efficiency"]).sum()


print(
    f"{ROWS:,} rows, {len(trend.figures)} figures, {os.cpu_count()} processors; "
    f"readings: {peak():,.0f} MB at most"
)
for run in (pieces, whole):
    for threads in (1, os.cpu_count()):
        wall, processor = time.perf_counter(), time.process_time()
        told = run(threads)
        wall, processor = time.perf_counter() - wall, time.process_time() - processor
        print(
            f"{run.__name__}, {threads} threads: {ROWS / wall:,.0f} rows/s, "
            f"{1e6 * processor / ROWS:.1f} us of processor a row, {peak():,.0f} MB at most, "
            f"{told:,} efficiencies"
        )

# %% [markdown]
# # A fleet, and tables larger than memory
#
# A `Trend` is declared once, pickles, and gives every row the same figures whatever part of the table it
# comes in. So an engine that already maps functions over parts can run it: here Dask and Polars, and
# Spark by a function that is handed over. **The readings are invented**: those of
# `invented_second_machine.py`, repeated.
#
# Two things decide whether parts may be cut anywhere. Rows of one machine stay in the order of time. And
# a reading that jumps is known by its neighbors: a part needs `Trend.ROWS_BEFORE` rows before it and
# `Trend.ROWS_AFTER` after it, whose own figures are dropped again.
#
# Results are estimates for analysis and teaching: never a protection, and no reason to open a refrigerant
# circuit; local codes and licensed practice rule.

# %%
import pickle
import time

import dask
import dask.dataframe as dd
import invented_second_machine as second
import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa

import interstage

BEFORE, AFTER = interstage.Trend.ROWS_BEFORE, interstage.Trend.ROWS_AFTER
FIGURES = [
    "capacity",
    "cop",
    "heat_balance",
    "stage_efficiency",
    "economizer_potential",
    "economizer_evidence",
]
ROWS = 60_000

trend = interstage.Trend(
    second.CIRCUIT,
    readings={**second.READINGS, **second.TANK},
    barometer=second.BAROMETER,
    drive_efficiency=second.DRIVE,
)
weeks = second.generate()[0]
table = pd.concat([weeks] * (ROWS // len(weeks) + 1), ignore_index=True).iloc[:ROWS]
rng = np.random.default_rng(1)
for name in table.columns:  # a jump here and there, or the cuts would be no test
    table.loc[rng.choice(ROWS, 60, replace=False), name] *= 1.4


def without_words(frame):
    """All columns but the status in words, which is long."""
    return frame[[name for name in frame.columns if name != "status_text"]]


def figures(part):
    """Figures of a part of the table, as the kind of table that came in."""
    return without_words(trend.analyse(part, threads=1).frame(figures=FIGURES))


def timed(what, run):
    start = time.perf_counter()
    result = run()
    print(f"{what}: {ROWS / (time.perf_counter() - start):,.0f} rows/s")
    return result


whole = timed("one call, one thread", lambda: figures(table))
jumps = (whole["status"] & interstage.remarks()["a single reading jumped"]).astype(bool)
print(f"{jumps.sum()} rows with a jump, {interstage.Trend.ROWS_BEFORE} rows before a part, {AFTER} after it")

# %% [markdown]
# ## Dask: one long table
#
# `map_overlap` hands every part its neighbors and drops their rows from the result. Threads will do: the
# compiled analysis lets go of the interpreter. With processes or a cluster the same `figures` travels as
# a pickle.

# %%
many = dd.from_pandas(table, npartitions=12)
with dask.config.set(scheduler="threads"):
    by_dask = timed(
        "Dask, map_overlap", many.map_overlap(figures, BEFORE, AFTER, meta=whole.iloc[:0]).compute
    )
pd.testing.assert_frame_equal(by_dask, whole, check_exact=True)
assert (
    pickle.loads(pickle.dumps(trend)).analyse(table[:500])["cop"].equals(whole["cop [-]"][:500].rename("cop"))
)

# %% [markdown]
# ## Dask: a fleet
#
# One part a machine needs no overlap: `map_partitions`. Each machine brings its own `Trend`.

# %%
machines = {
    f"chiller {number}": table.iloc[start : start + ROWS // 4].assign(machine=f"chiller {number}")
    for number, start in enumerate(range(0, ROWS, ROWS // 4), start=1)
}
trends = dict.fromkeys(machines, trend)


def figures_of_machine(part):
    """Figures of a part that holds one machine."""
    name = part["machine"].iloc[0] if len(part) else None
    if name is None:
        return fleet_meta
    own = trends[name].analyse(part, threads=1).frame(figures=FIGURES)
    return without_words(own).assign(machine=name)


fleet_meta = whole.iloc[:0].assign(machine=pd.Series(dtype=str))
fleet = dd.from_delayed(
    [dask.delayed(part) for part in machines.values()], meta=machines["chiller 1"].iloc[:0]
)
with dask.config.set(scheduler="threads"):
    by_machine = timed(
        "Dask, map_partitions", fleet.map_partitions(figures_of_machine, meta=fleet_meta).compute
    )
print(by_machine.groupby("machine")["cop [-]"].agg(["size", "median"]))

# %% [markdown]
# ## Polars, lazily
#
# A lazy table is read piece by piece: each slice is taken with its neighbors, mapped with `map_batches`,
# and cut back to its own rows. What is in memory is one piece. (`map_batches` with `streamable=True` on
# the whole table would be shorter, but Polars then chooses the cuts and gives no neighbors: the figures
# agree, a jump next to a cut may be missed.)

# %%
lazy = pl.from_pandas(table).lazy()  # pl.scan_parquet("readings/*.parquet") for files
PIECE = 10_000


def pieces(lazy, rows, piece=PIECE):
    """Figures of a lazy table, piece by piece."""
    for start in range(0, rows, piece):
        first = max(start - BEFORE, 0)
        around = lazy.slice(first, start - first + piece + AFTER)
        yield around.map_batches(figures, validate_output_schema=False).slice(start - first, piece).collect()


by_polars = timed("Polars, map_batches", lambda: pl.concat(pieces(lazy, ROWS)))
for name in whole.columns:
    np.testing.assert_array_equal(by_polars[name].to_numpy(), whole[name].to_numpy())

# %% [markdown]
# ## Spark
#
# `mapInArrow` hands a function the Arrow batches of one partition, one after another. Rows of a machine
# must lie in one partition, in the order of time, but a partition may hold several machines: so the rows
# are sorted by both, and the function begins anew where the machine changes. It keeps the rows that the
# next batch needs as neighbors, and gives the status as a signed number: Spark has no other.
#
# It is called here without Spark, on batches of uneven size.


# %%
def labelled(part, first, end):
    """Rows of a part that holds one machine, with their figures, in types that Spark has."""
    own = trends_by_number[part["machine"][0]]
    told = without_words(own.analyse(part, threads=1).frame(figures=FIGURES))
    told = told.with_columns(part["machine"], part["time"], pl.col("status").cast(pl.Int64))
    yield from told[first:end].to_arrow().to_batches()


def analysed(batches):
    """Arrow batches of readings, by machine and time -> Arrow batches of figures."""
    kept, told = None, 0  # rows around, and how many of them are told
    for batch in batches:
        arrived = pl.from_arrow(pa.Table.from_batches([batch]))
        for part in arrived.partition_by("machine", maintain_order=True):
            if kept is not None and kept["machine"][0] != part["machine"][0]:
                yield from labelled(kept, told, len(kept))
                kept, told = None, 0
            kept = part if kept is None else pl.concat([kept, part])
            ready = max(len(kept) - AFTER, told)
            yield from labelled(kept, told, ready)
            drop = max(ready - BEFORE, 0)
            kept, told = kept[drop:], ready - drop
    if kept is not None:
        yield from labelled(kept, told, len(kept))


numbered = table.assign(machine=np.arange(ROWS) // (ROWS // 4), time=np.arange(ROWS))
trends_by_number = dict.fromkeys(range(4), trend)


def uneven():
    """The table as batches of 1 to 9,000 rows."""
    arrow, start = pa.Table.from_pandas(numbered, preserve_index=False), 0
    while start < ROWS:
        size = int(rng.integers(1, 9000))
        yield from arrow.slice(start, size).combine_chunks().to_batches()
        start += size


by_arrow = timed("as mapInArrow calls it", lambda: pl.from_arrow(pa.Table.from_batches(analysed(uneven()))))
expected = pd.concat([figures(part) for part in machines.values()])
for name in expected.columns:
    np.testing.assert_array_equal(by_arrow[name].to_numpy(), expected[name].to_numpy())

# %% [markdown]
# Under Spark it is called like this:
#
# ```python
# kinds = [f"`{name}` {'bigint' if name == 'status' else 'double'}" for name in expected.columns]
# schema = ", ".join([*kinds, "machine bigint", "time bigint"])
# readings = spark.createDataFrame(numbered)  # spark.read.parquet("readings/") for files
# by_spark = (
#     readings.repartition("machine").sortWithinPartitions("machine", "time").mapInArrow(analysed, schema)
# )
# ```
#
# That was run once by hand: PySpark 4.3.0 in local mode on two cores with Java 17, the 60,000 rows of the
# four machines in random order. Spark put all of them into one partition, in batches of 10,000 rows, and
# the figures were those above to the last bit. Tests do not run it.

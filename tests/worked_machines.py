"""Worked machines that several test files solve, and the figures printed for them."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import units

AT_5_37 = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15}
#: 1000 tons, as in the cases below.
SIZE = {"capacity": units.watt_from_ton(1000.0)}
NONE, ONE, TWO = "3 stages", "2 stages: tank@2", "3 stages: tank@3, tank@2"

#: What worked machines are called in the table of their printed figures; tests/data/README.md has its source.
ARRANGEMENTS = {"no tank": NONE, "one tank": ONE, "two tanks": TWO}
PRINTED = pd.read_csv(Path(__file__).parent / "data" / "chiller_numbers.csv", sep=";")
PRINTED = PRINTED[PRINTED["arrangement"].isin(ARRANGEMENTS)]


def printed(fluid, arrangement, figure):
    """A printed figure at 5/37 degC."""
    at = {"fluid": fluid, "arrangement": arrangement, "property": figure, "subcooling_k": 0}
    at |= {"evaporating_degc": 5, "condensing_degc": 37}
    rows = PRINTED[np.logical_and.reduce([PRINTED[name] == value for name, value in at.items()])]
    (row,) = rows.to_dict("records")
    return pytest.approx(row["expected"], abs=row["tolerance"])


def arranged(name, arrangement, **options):
    stage = interstage.Stage(polytropic_efficiency=0.8)
    return interstage.Circuit.arranged(interstage.Refrigerant(name), arrangement, stage=stage, **options)

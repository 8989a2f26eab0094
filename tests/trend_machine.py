"""A modelled machine with all its readings, and instruments for them, for the tests of trends."""

import numpy as np
import pandas as pd

import interstage
from interstage import Accuracy, Trend

CIRCUIT = interstage.Circuit(
    interstage.Refrigerant("R-1233zd(E)"),
    stages=[interstage.Stage(polytropic_efficiency=0.8)] * 2,
    interstages=[interstage.FlashTank()],
)
COLUMNS = {
    "evaporator_pressure": ("pe", "Pa"),
    "condenser_pressure": ("pc", "Pa"),
    "stage_2_tank_pressure": ("pt", "Pa"),
    "liquid_line_temperature": ("liquid", "K"),
    "suction_temperature": ("suction", "K"),
    "discharge_temperature": ("discharge", "K"),
    "chilled_water_entering": ("in", "K"),
    "chilled_water_leaving": ("out", "K"),
    "chilled_water_flow": ("flow", "m3/s"),
    "condenser_water_entering": ("tower", "K"),
    "condenser_water_leaving": ("warm", "K"),
    "condenser_water_flow": ("tower_flow", "m3/s"),
    "power": ("power", "W"),
}


def machine(rows: int = 8, circuit: interstage.Circuit = CIRCUIT) -> pd.DataFrame:
    """Readings that fit a solved cycle at capacities from 1.5 to 2.2 MW."""
    table = []
    for capacity in np.linspace(1.5e6, 2.2e6, rows):
        cycle = circuit.solve(
            evaporating_temperature=279.0,
            condensing_temperature=309.0,
            capacity=capacity,
            suction_superheat=1.5,
            subcooling=2.5,
        )
        water = {}
        for names, entering, leaving, heat in (
            (("in", "out", "flow"), 286.0, 281.0, capacity),
            (("tower", "warm", "tower_flow"), 302.0, 307.0, -(capacity + cycle.power)),
        ):
            unit = interstage.WaterFlow(volume_flow=1.0, temperature=entering).heat(entering, leaving)
            water.update(zip(names, (entering, leaving, heat / unit), strict=True))
        table.append(
            {
                "pe": cycle.evaporating_pressure,
                "pc": cycle.condensing_pressure,
                "pt": cycle.interstage_pressures[0],
                "liquid": 309.0 - 2.5,
                "suction": 280.5,
                "discharge": cycle.discharge_temperature,
                "power": cycle.power / 0.93,
                **water,
            }
        )
    return pd.DataFrame(table, index=pd.date_range("2024-07-01", periods=rows, freq="10min"))


def accuracies(share: float = 1.0, random: float = 0.0) -> dict[str, Accuracy]:
    found = {}
    for name in COLUMNS:
        if name.endswith("pressure"):
            found[name] = Accuracy(0.5 * share, 0.5 * random, unit="percent")
        elif name.endswith(("flow", "power")):
            found[name] = Accuracy(2.0 * share, 2.0 * random, unit="percent")
        else:
            found[name] = Accuracy(0.1 * share, 0.1 * random, unit="K")
    return found


TREND = Trend(CIRCUIT, COLUMNS, drive_efficiency=0.93, widest_efficiency_interval=1.0)

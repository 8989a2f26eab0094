"""Readings of a second invented chiller: medium pressure, R-1234ze(E), float valves, no sensor in the tank.

Everything here is invented; no machine, building or site is behind it. Three weeks of quarter-hour readings
in SI units with random noise and no other faults of instruments. From the ninth to the eleventh day the vent
of the flash tank is blocked: no flash gas is taken off, and all of it goes through the evaporator.
"""

import numpy as np
import pandas as pd

import interstage

RATED_CAPACITY = 1.8e6  # W
FULL_LOAD_RANGE = 5.5  # K
DRIVE = 0.935  # compression power per motor input
EFFICIENCY = 0.79  # of either stage
BLOCKED = slice("2024-07-09 00:00", "2024-07-11 23:45")
SEED = 20240701

CIRCUIT = interstage.Circuit(
    interstage.Refrigerant("R-1234ze(E)"),
    stages=[interstage.Stage(polytropic_efficiency=EFFICIENCY)] * 2,
    interstages=[interstage.FlashTank()],
)

READINGS = {
    "evaporator_pressure": ("evaporator [kPa gauge]", "kPa gauge"),
    "condenser_pressure": ("condenser [kPa gauge]", "kPa gauge"),
    "liquid_line_temperature": ("liquid [degC]", "degC"),
    "discharge_temperature": ("discharge [degC]", "degC"),
    "chilled_water_entering": ("chilled water in [degC]", "degC"),
    "chilled_water_leaving": ("chilled water out [degC]", "degC"),
    "chilled_water_flow": ("chilled water [m3/h]", "m3/h"),
    "condenser_water_entering": ("tower water in [degC]", "degC"),
    "condenser_water_leaving": ("tower water out [degC]", "degC"),
    "condenser_water_flow": ("tower water [m3/h]", "m3/h"),
    "power": ("motor [kW]", "kW"),
}

#: The sensor that the machine lacks, for the question what it would tell.
TANK = {"stage_2_tank_pressure": ("tank [kPa gauge]", "kPa gauge")}

BAROMETER = 98.4e3  # Pa


def generate():
    """The readings with those of the tank that nobody reads, and what is behind them."""
    rng = np.random.default_rng(SEED)
    time = pd.date_range("2024-07-01", "2024-07-21 23:45", freq="15min")
    hour = time.hour + time.minute / 60.0
    noon = np.cos((hour - 15.0) / 24.0 * 2.0 * np.pi)
    load = (
        0.68
        + 0.22 * noon
        + 0.03 * np.convolve(rng.standard_normal(len(time) + 15), np.ones(16) / 4.0, "valid")
    )
    load = np.clip(load, 0.3, 1.0)
    capacity = load * RATED_CAPACITY
    tower = 24.0 + 273.15 + 2.5 * noon
    leaving = np.full(len(time), 6.7 + 273.15)
    cold = leaving - 0.6 - 0.9 * load
    hot = tower + 5.2 * load + 0.7 + 1.1 * load
    blocked = pd.Series(False, index=time)
    blocked.loc[BLOCKED] = True
    conditions = {"evaporating_temperature": cold, "condensing_temperature": hot, "capacity": capacity}
    open_vent = CIRCUIT.solve(**conditions)
    no_flash = CIRCUIT.without_economizers().solve(**conditions)
    shut = blocked.to_numpy()

    def of(figure):
        return np.where(shut, getattr(no_flash, figure), getattr(open_vent, figure))

    low, high = open_vent.evaporating_pressure, open_vent.condensing_pressure
    tank = low * (high / low) ** np.where(shut, 0.74, 0.5)
    power, rejected = of("power"), of("heat_rejected")
    chilled_flow = RATED_CAPACITY / FULL_LOAD_RANGE / 4.2e6
    tower_flow = 1.17 * RATED_CAPACITY / 5.2 / 4.16e6
    truth = pd.DataFrame(
        {"load": load, "blocked": shut, "compression_power": power, "benefit": open_vent.economizer_benefit},
        index=time,
    )

    def noisy(values, relative=0.0, kelvin=0.0):
        noise = rng.standard_normal(len(time))
        return values * (1.0 + relative * noise) + kelvin * noise

    def gauge(pressure):
        return noisy(pressure, relative=0.002) / 1e3 - BAROMETER / 1e3

    def celsius(T):
        return noisy(T, kelvin=0.05) - 273.15

    entering = water_after(leaving, capacity, chilled_flow)
    export = pd.DataFrame(
        {
            "evaporator [kPa gauge]": gauge(low),
            "tank [kPa gauge]": gauge(tank),
            "condenser [kPa gauge]": gauge(high),
            "liquid [degC]": celsius(hot),
            "discharge [degC]": celsius(of("discharge_temperature")),
            "chilled water in [degC]": celsius(entering),
            "chilled water out [degC]": celsius(leaving),
            "chilled water [m3/h]": noisy(np.full(len(time), 3600.0 * chilled_flow), relative=0.005),
            "tower water in [degC]": celsius(tower),
            "tower water out [degC]": celsius(water_after(tower, rejected, tower_flow)),
            "tower water [m3/h]": noisy(np.full(len(time), 3600.0 * tower_flow), relative=0.005),
            "motor [kW]": noisy(power / DRIVE / 1e3, relative=0.005),
        },
        index=time,
    )
    return export.round(3), truth


def water_after(T, heat, volume_flow):
    """Temperature of water of `T` that takes up a heat; its flow is metered at the colder of both."""
    water = interstage.Refrigerant("R-718")
    state = water.state(p=np.full(len(T), 3e5), T=T)
    return water.state(p=np.full(len(T), 3e5), h=state.h + heat / (volume_flow * state.rho)).T

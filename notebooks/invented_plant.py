"""A year of an INVENTED chiller plant: nothing was measured, no figure is that of a real machine or site.

The chiller of `invented_machine` cools an invented building 430 m above the sea, in an invented climate. All
random numbers come from one fixed seed. The year holds what exports hold: coarse resolution and noise,
missing rows and readings, spikes, a thermometer that stands still, condenser tubes that foul and are cleaned
once, and one week with the vent of the economizer blocked.

`generate()` returns the export as the plant's logger wrote it and, apart from it, the truth.
`python invented_plant.py FILE.csv.gz` writes the export.
"""

import gzip
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from invented_machine import CAPACITY, CHILLED_WATER, DRIVE_EFFICIENCY, REFRIGERANT, Machine

from interstage import units

SEED = 20230521
ALTITUDE = 430.0  # m
START = np.datetime64("2023-01-01T00:00")  # a Sunday
ROWS_A_DAY = 288  # one every 5 minutes
DAYS = 365
ROWS = DAYS * ROWS_A_DAY

CLEANED = 226  # day from which the condenser tubes are clean again, 15 August; off for two days before
FOULING = 0.45  # resistance before cleaning, relative to that of the clean condenser at design
BLOCKED = (190, 197)  # days with a blocked economizer vent: Monday 10 July to Sunday 16 July
STUCK = (127, 148)  # days on which the thermometer of the leaving condenser water stands still: 8 to 28 May
STUCK_COLUMN = "condenser water leaving"

# Logger off, no rows: day and hours. One reading missing: column, day and hours.
LOGGER_OFF = ((62.6, 19.0), (171.3, 5.0), (264.0, 31.0), (300.45, 2.0))
READING_OFF = (
    ("condenser pressure", 95.4, 26.0),
    ("chilled water flow", 183.3, 9.0),
    ("discharge temperature", 240.2, 50.0),
    ("tank pressure", 278.4, 14.0),
)
SPIKES = 80

# Columns of the export: unit, standard deviation of the noise, resolution, and what a spike reads.
SENSORS = {
    "evaporator vacuum": ("inHg vacuum", 0.04, 0.1, 28.0),
    "tank pressure": ("psig", 0.02, 0.1, 30.0),
    "condenser pressure": ("psig", 0.03, 0.1, 60.0),
    "liquid line temperature": ("degF", 0.10, 0.1, -40.0),
    "discharge temperature": ("degF", 0.15, 0.1, 250.0),
    "chilled water entering": ("degF", 0.06, 0.1, 120.0),
    "chilled water leaving": ("degF", 0.06, 0.1, 32.0),
    "chilled water flow": ("gpm", 8.0, 1.0, 0.0),
    "condenser water entering": ("degF", 0.06, 0.1, 32.0),
    "condenser water leaving": ("degF", 0.06, 0.1, 150.0),
    "condenser water flow": ("gpm", 10.0, 1.0, 0.0),
    "motor input": ("kW", 0.6, 0.1, 999.9),
    "barometer": ("inHg absolute", 0.005, 0.01, 0.0),
}


@dataclass(frozen=True)
class Year:
    """What the logger wrote, and what was so."""

    export: dict  # column -> array, I-P units; "time" first; no rows where the logger was off
    truth: dict  # column -> array, SI units, all 105,120 rows; NaN where the machine is off
    spikes: list  # (row of the truth, column)


def generate():
    """The year. The same on every call."""
    rng = np.random.default_rng(SEED)
    day = np.arange(ROWS) / ROWS_A_DAY
    machine = Machine()
    outdoor, tower = weather(rng, day)
    demand = load(rng, day, outdoor)
    tower_entering = tower + 2.0 * demand  # the busier the tower, the warmer its water
    running = switched_on(demand, day)
    blocked = within(day, BLOCKED)
    fouling = grown_fouling(day, running)
    set_point = CHILLED_WATER + 0.08 * wander(rng, 0.1)
    water = machine.chilled_water * np.clip(demand**0.6, 0.60, 1.0) * (1.0 + 0.01 * wander(rng, 5.0))
    barometer = units.standard_barometer_from_altitude(ALTITUDE) + 500.0 * wander(rng, 4.0)

    truth = {}
    for rows, run in ((running & ~blocked, machine.run), (running & blocked, machine.run_blocked)):
        columns = (demand * CAPACITY, set_point, water, tower_entering, fouling)
        for name, values in run(*(column[rows] for column in columns)).items():
            truth.setdefault(name, np.full(ROWS, np.nan))[rows] = values
    truth["tower_entering"] = np.where(running, tower_entering, np.nan)
    truth["power"] = truth["compression_power"] / DRIVE_EFFICIENCY
    truth["cop"] = truth["capacity"] / truth["power"]

    export = readings(machine, truth, running, water, barometer)
    for name, (_, noise, resolution, _) in SENSORS.items():
        noisy = export[name] + noise * rng.standard_normal(ROWS) * (running | (name == "barometer"))
        export[name] = np.round(noisy / resolution) * resolution
    spikes = spoil(rng, export, day, running)
    logged = ~np.any([within(day, (at, at + hours / 24.0)) for at, hours in LOGGER_OFF], axis=0)

    time = START + np.arange(ROWS) * np.timedelta64(5, "m")
    truth = {
        "time": time,
        "running": running,
        "logged": logged,
        "vent_blocked": blocked,
        "stuck": within(day, STUCK),
        "barometer": barometer,
        "demand": demand * CAPACITY,
        "condenser_fouling": fouling,
        **truth,
    }
    export = {"time": time[logged], **{name: values[logged] for name, values in export.items()}}
    return Year(export, truth, [(row, name) for row, name in spikes if logged[row]])


def within(day, span):
    return (day >= span[0]) & (day < span[1])


def wander(rng, days):
    """Slow noise of mean 0 and standard deviation 1 that forgets within some days."""
    step = min(days / 4.0, 1.0 / 24.0)  # days between the points that are joined
    keep = np.exp(-step / days)
    kicks = np.sqrt(1.0 - keep**2) * rng.standard_normal(int(DAYS / step) + 2)
    values = [float(rng.standard_normal())]
    for kick in kicks:
        values.append(keep * values[-1] + kick)
    return np.interp(np.arange(ROWS) / ROWS_A_DAY, np.arange(len(values)) * step, values)


def weather(rng, day):
    """Outdoor temperature (degC) and the temperature (K) of the tower's water at no load."""
    season = -np.cos(2.0 * np.pi * (day - 20.0) / DAYS)
    hour = -np.cos(2.0 * np.pi * (day - 0.125))
    outdoor = 11.5 + 11.0 * season + (4.0 + 1.5 * season) * hour + 3.2 * wander(rng, 3.0)
    depression = 2.0 + 0.20 * np.maximum(outdoor - 5.0, 0.0) * (1.0 + 0.15 * wander(rng, 2.0))
    tower = np.maximum(outdoor - depression + 3.0, 17.5 + 0.3 * wander(rng, 0.05))
    return outdoor, units.kelvin_from_celsius(0.0) + tower


def load(rng, day, outdoor):
    """Cooling demand as a fraction of design: laboratories by day and night, offices, weather, sun."""
    hour, weekday = 24.0 * (day % 1.0), np.floor(day).astype(int) % 7  # 0 is Sunday
    people = np.interp(hour, [5.5, 8.0, 11.5, 12.5, 13.5, 17.0, 20.0], [0.0, 0.9, 1.0, 0.9, 1.0, 0.9, 0.0])
    people *= np.select([weekday == 0, weekday == 6], [0.05, 0.35], 1.0)
    season = 0.6 + 0.4 * np.sin(2.0 * np.pi * (day - 80.0) / DAYS)
    sun = season * np.maximum(np.sin(np.pi * (hour - 6.0) / 12.0), 0.0)
    demand = 0.29 + 0.26 * people + 0.022 * (outdoor - 13.0) * (0.6 + 0.4 * people) + 0.08 * sun * people
    return np.clip(demand + 0.015 * wander(rng, 0.08), 0.02, 1.02)


def switched_on(demand, day):
    """On above 25 % of design, off below 20 %, at least an hour each; off for two days of cleaning."""
    running = np.zeros(ROWS, dtype=bool)
    on, since = False, 0
    for row, wanted in enumerate(demand):
        since += 1
        if since >= 12 and (wanted < 0.20 if on else wanted > 0.25):
            on, since = not on, 0
        running[row] = on
    return running & ~within(day, (CLEANED - 2, CLEANED))


def grown_fouling(day, running):
    """Relative resistance: grows with running hours, slower with time, and starts again after cleaning."""
    hours = np.cumsum(running) / 12.0
    before = np.searchsorted(day, CLEANED)
    since = np.where(day < CLEANED, hours, hours - hours[before])
    full = 1.0 - np.exp(-hours[before] / 4000.0)
    return 0.02 + (FOULING - 0.02) * (1.0 - np.exp(-since / 4000.0)) / full


def readings(machine, truth, running, water, barometer):
    """What perfect instruments would show, in the units of the export. Off: all evens out, pumps stand."""
    sat = machine.saturation
    still = REFRIGERANT.saturation(T=294.15).p  # the whole machine at the temperature of the room

    def either(values, idle):
        return np.where(running, values, idle)

    fahrenheit = units.fahrenheit_from_kelvin
    gpm = units.gpm_from_cubic_meter_per_second
    p_e = either(sat.p(truth["evaporating_temperature"]), still)
    p_c = either(sat.p(truth["condensing_temperature"]), still)
    p_t = either(truth["tank_pressure"], still)
    entering, tower = either(truth["chilled_entering"], 286.0), either(truth["tower_entering"], 293.0)
    return {
        "evaporator vacuum": units.inhg_vacuum_from_pascal(p_e, barometer),
        "tank pressure": units.psig_from_pascal(p_t, barometer),
        "condenser pressure": units.psig_from_pascal(p_c, barometer),
        "liquid line temperature": fahrenheit(either(truth["liquid_line_temperature"], 294.15)),
        "discharge temperature": fahrenheit(either(truth["discharge_temperature"], 294.15)),
        "chilled water entering": fahrenheit(entering),
        "chilled water leaving": fahrenheit(either(truth["chilled_leaving"], 286.0)),
        "chilled water flow": either(gpm(water / sat.water_rho(entering)), 0.0),
        "condenser water entering": fahrenheit(tower),
        "condenser water leaving": fahrenheit(either(truth["tower_leaving"], 293.0)),
        "condenser water flow": either(gpm(machine.tower_water / sat.water_rho(tower)), 0.0),
        "motor input": either(truth["power"] / 1e3, 0.4),
        "barometer": units.inhg_absolute_from_pascal(barometer),
    }


def spoil(rng, export, day, running):
    """Puts the faults of instruments into the export; returns where the spikes are."""
    held = within(day, STUCK)
    export[STUCK_COLUMN][held] = export[STUCK_COLUMN][np.argmax(held & running)]
    for name, at, hours in READING_OFF:
        export[name][within(day, (at, at + hours / 24.0))] = np.nan
    steady = (
        np.convolve(running, np.ones(7), mode="same") > 6.5
    )  # running for the quarter of an hour on either side
    rows = rng.choice(np.flatnonzero(steady), SPIKES, replace=False)
    names = rng.choice([name for name in SENSORS if name != "barometer"], SPIKES)
    spikes = [
        (int(row), str(name))
        for row, name in zip(rows, names, strict=True)
        if not np.isnan(export[name][row])
    ]
    for row, name in spikes:
        export[name][row] = SENSORS[name][3]
    return spikes


def write(year, file):
    """Writes the export as gzipped CSV, units in the column names."""
    export = year.export
    names = ["time", *(f"{name} [{unit}]" for name, (unit, *_) in SENSORS.items())]
    columns = [np.datetime_as_string(export["time"], unit="m").tolist()]
    for name in SENSORS:
        columns.append(
            ["" if np.isnan(value) else f"{value:.2f}".rstrip("0").rstrip(".") for value in export[name]]
        )
    Path(file).parent.mkdir(parents=True, exist_ok=True)
    with gzip.open(file, "wt", newline="", compresslevel=4) as out:
        out.write(",".join(names) + "\n")
        out.writelines(",".join(row) + "\n" for row in zip(*columns, strict=True))


if __name__ == "__main__":
    write(
        generate(),
        sys.argv[1] if len(sys.argv) > 1 else Path(__file__).parent / "output" / "invented_year.csv.gz",
    )

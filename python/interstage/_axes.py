"""What the machines of a study may differ in."""

from __future__ import annotations

EFFICIENCIES = ("isentropic_efficiency", "polytropic_efficiency")
#: Axes of words, and those that are words or numbers.
WORDS = ("refrigerant", "arrangement", "interstage_pressures", "tank_separation", "motor_cooling")
NUMBERS = (
    "suction_loss",
    "interstage_loss",
    "port_loss",
    "discharge_loss",
    "expander_efficiency",
    "suction_exchanger_effectiveness",
    "mechanical_efficiency",
    "motor_efficiency",
    "drive_efficiency",
)
MACHINE = (*WORDS[:2], *EFFICIENCIES, *WORDS[2:], *NUMBERS)

"""Motor power from current: told where voltage and power factor are read, an interval where they are not."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from interstage.errors import Inconsistent, WrongArgument

#: How far the voltage may be from that of the nameplate, relative: the range motors are built for. From
#: memory, NEMA MG 1.
_VOLTAGE_RANGE = 0.10


@dataclass(frozen=True)
class PowerEstimate:
    """How the power follows from a measured current."""

    voltage: float | None
    current: float | None
    power_factor: float | None

    @property
    def exact(self) -> bool:
        """Whether voltage and power factor are read too, so that nothing is estimated."""
        return self.voltage is None and self.power_factor is None

    def of(self, si: Mapping[str, Any]) -> tuple[Any, Any, Any]:
        """Middle, lowest and highest power, W."""
        current = si["motor_current"]
        if "motor_voltage" in si:
            low_voltage = high_voltage = si["motor_voltage"]
        else:
            low_voltage = (1.0 - _VOLTAGE_RANGE) * self.voltage  # type: ignore[operator]
            high_voltage = (1.0 + _VOLTAGE_RANGE) * self.voltage  # type: ignore[operator]
        if "power_factor" in si:
            low_factor = high_factor = si["power_factor"]
        else:
            assert self.power_factor is not None
            assert self.current is not None
            high_factor = self.power_factor
            reactive = self.current * math.sqrt(1.0 - self.power_factor**2)
            with np.errstate(divide="ignore", invalid="ignore"):
                active = np.sqrt(np.maximum(0.0, 1.0 - (reactive / current) ** 2))
            low_factor = np.where(
                current > 0.0, np.minimum(active, high_factor), np.where(current == 0.0, 0.0, np.nan)
            )
        # No motor takes a current below zero: its reading is broken.
        current = np.where(current >= 0.0, current, np.nan)
        root = math.sqrt(3.0)
        low = root * low_voltage * current * low_factor
        high = root * high_voltage * current * high_factor
        return 0.5 * (low + high), low, high


def power_estimate(
    quantities: tuple[str, ...], voltage: float | None, current: float | None, power_factor: float | None
) -> PowerEstimate | None:
    """Set the estimate up where nothing reads the power and the current can tell it."""
    plate = {
        "rated_voltage": (voltage, 50.0, 2e4, "V"),
        "rated_current": (current, 0.1, 1e4, "A"),
        "rated_power_factor": (power_factor, 0.1, 1.0, ""),
    }
    for name, (value, low, high, unit) in plate.items():
        if value is None:
            continue
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise WrongArgument(f"{name} must be a number, got {value!r}", argument=name)
        if not low <= value <= high:
            reason = f"{value!r} is not between {low:g} and {high:g} {unit}".rstrip()
            raise Inconsistent(f"{name} is out of range: {reason}", arguments=name, reason=reason)
    if "power" in quantities or "motor_current" not in quantities:
        return None
    if "motor_voltage" not in quantities and voltage is None:
        return None
    if "power_factor" not in quantities and (power_factor is None or current is None):
        return None
    read_voltage, read_factor = "motor_voltage" in quantities, "power_factor" in quantities
    return PowerEstimate(
        None if read_voltage else voltage,
        None if read_factor else current,
        None if read_factor else power_factor,
    )

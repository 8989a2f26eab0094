"""What faults do to figures, as data: the direction in which each figure departs from its baseline.

At the same load and water temperatures. The directions are engineering deductions from heat and mass
balances, not measurements; those of water flows, charge, fouling and non-condensables were studied in the
laboratory by Comstock and Braun, ASHRAE research project 1043-RP (1999; cited from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    _Sign: TypeAlias = Literal["up", "down", "same", "up or same", "down or same"]


#: Groups of figures that share their readings: together they count as one.
GROUPS: tuple[tuple[str, ...], ...] = (
    ("condenser_ua", "condenser_approach"),
    ("evaporator_ua", "evaporator_approach", "evaporating_temperature"),
    ("condensing_temperature",),
    ("subcooling", "apparent_gas_pressure"),
    ("discharge_superheat", "stage_efficiency"),
    ("suction_superheat",),
    ("condenser_water_flow",),
    ("condenser_water_range",),
    ("chilled_water_flow",),
    ("chilled_water_range",),
    ("heat_balance",),
    ("tank_pressure_exponent",),
    ("measured_saving",),
    ("condensing_temperature_swing", "tank_pressure_exponent_swing"),
    ("power_swing",),
)

_CHILLED = ("chilled-water entering", "chilled-water leaving", "chilled-water flow")
_TOWER = ("condenser-water entering", "condenser-water leaving", "condenser-water flow")
_PRESSURES = ("condenser pressure", "evaporator pressure")

#: Figure -> readings that it rests on, each of which may drift and move it without a fault.
RESTS_ON: Mapping[str, tuple[str, ...]] = {
    "condenser_ua": ("condenser pressure", *_TOWER),
    "condenser_approach": ("condenser pressure", "condenser-water leaving"),
    "condensing_temperature": ("condenser pressure",),
    "evaporator_ua": ("evaporator pressure", *_CHILLED),
    "evaporator_approach": ("evaporator pressure", "chilled-water leaving"),
    "evaporating_temperature": ("evaporator pressure",),
    "subcooling": ("condenser pressure", "liquid-line temperature"),
    "apparent_gas_pressure": ("condenser pressure", "liquid-line temperature"),
    "discharge_superheat": ("condenser pressure", "discharge temperature"),
    "stage_efficiency": (*_PRESSURES, "discharge temperature", "suction temperature"),
    "suction_superheat": ("evaporator pressure", "suction temperature"),
    "condenser_water_flow": ("condenser-water flow",),
    "condenser_water_range": ("condenser-water entering", "condenser-water leaving"),
    "chilled_water_flow": ("chilled-water flow",),
    "chilled_water_range": ("chilled-water entering", "chilled-water leaving"),
    "heat_balance": (*_CHILLED, *_TOWER, "power"),
    "tank_pressure_exponent": (*_PRESSURES, "tank pressure"),
    "measured_saving": (*_CHILLED, *_PRESSURES, "discharge temperature", "power"),
    "condensing_temperature_swing": ("condenser pressure",),
    "tank_pressure_exponent_swing": (*_PRESSURES, "tank pressure"),
    "power_swing": ("power",),
}

#: Kind of condenser -> figure that tells nothing there. One that drains freely subcools nothing; where liquid
#: is held, the pressure above that of the liquid is its subcooling and no gas.
UNUSED: Mapping[str | None, tuple[str, ...]] = {
    "holds liquid": ("apparent_gas_pressure",),
    "drains freely": ("subcooling",),
    None: ("subcooling", "apparent_gas_pressure"),
}

#: Figures that stay as they are under every fault that does not say otherwise.
_STEADY: Mapping[str, _Sign] = {
    **{name: "same" for group in GROUPS for name in group if not name.endswith("_swing")},
    # What the tank saves follows the lift, and rests on most readings of all.
    "measured_saving": "down or same",
}


@dataclass(frozen=True)
class Signature:
    """What one fault does.

    Attributes
    ----------
    fault : str
    signs : mapping
        Figure -> direction of its departure.
    needs : str or None
        What a machine must have for the fault to be possible: ``"tank"``, or None.
    check : str
        Who looks at what before anything is concluded.
    """

    fault: str
    signs: Mapping[str, _Sign]
    check: str
    needs: Literal["tank"] | None = None

    def sign(self, figure: str) -> _Sign | None:
        """Direction of a figure; None where the fault says nothing of it."""
        return self.signs.get(figure, _STEADY.get(figure))


_LOW_EVAPORATOR: Mapping[str, _Sign] = {
    "evaporator_ua": "down",
    "evaporator_approach": "up",
    "evaporating_temperature": "down",
}
_HIGH_CONDENSER: Mapping[str, _Sign] = {
    "condensing_temperature": "up",
    "condenser_approach": "up",
    "condenser_ua": "down",
}
_OSCILLATION: Mapping[str, _Sign] = {
    "condensing_temperature_swing": "up",
    "power_swing": "up",
    "tank_pressure_exponent_swing": "up",
}

SIGNATURES: tuple[Signature, ...] = (
    Signature(
        "condenser fouling",
        {**_HIGH_CONDENSER, "discharge_superheat": "up or same"},
        "have the condenser tubes inspected, and the water treatment, by a qualified contractor",
    ),
    Signature(
        "low condenser water flow",
        {
            "condensing_temperature": "up",
            "condenser_approach": "up or same",
            # The water side conducts less at a lower flow.
            "condenser_ua": "down or same",
            "subcooling": "up or same",
            "apparent_gas_pressure": "up or same",
            "condenser_water_range": "up",
            "condenser_water_flow": "down",
            "discharge_superheat": "up or same",
        },
        "have pump, strainer, valves and flow meter of the condenser water checked by a qualified technician",
    ),
    Signature(
        "low chilled-water flow",
        {
            # Where the leaving water is held, entering water warms and the evaporator stays.
            "evaporating_temperature": "down or same",
            "evaporator_ua": "down or same",
            "evaporator_approach": "up or same",
            "chilled_water_range": "up",
            "chilled_water_flow": "down",
        },
        "have pump, strainer, valves and flow meter of the chilled water checked by a qualified technician",
    ),
    Signature(
        "non-condensable gas",
        {
            **_HIGH_CONDENSER,
            "subcooling": "up",
            "apparent_gas_pressure": "up",
            "discharge_superheat": "up or same",
        },
        "have purge run time and tightness checked by certified refrigerant personnel; a rest tells more",
    ),
    Signature(
        "low charge",
        {
            **_LOW_EVAPORATOR,
            "condensing_temperature": "down or same",
            "condenser_approach": "down or same",
            "condenser_ua": "up or same",
            "subcooling": "down",
            "tank_pressure_exponent": "up",
            "discharge_superheat": "up",
            # Told from saturated suction where no thermometer shows its superheat.
            "stage_efficiency": "down or same",
            "suction_superheat": "up",
        },
        "have charge and tightness checked by certified refrigerant personnel",
    ),
    Signature(
        "overcharge",
        {
            **_HIGH_CONDENSER,
            "subcooling": "up",
            "apparent_gas_pressure": "up",
            "discharge_superheat": "up or same",
        },
        "have the charge checked by certified refrigerant personnel",
    ),
    Signature(
        "evaporator fouling",
        {**_LOW_EVAPORATOR},
        "have evaporator tubes and water treatment inspected by a qualified contractor",
    ),
    Signature(
        "excess oil in the evaporator",
        {**_LOW_EVAPORATOR},
        "have the oil charge and its return, also at low load, checked by certified refrigerant personnel",
    ),
    Signature(
        "liquid carry-over to the first stage",
        {"discharge_superheat": "down", "stage_efficiency": "up"},
        "have evaporator level, charge and load changes looked at by qualified service personnel",
    ),
    Signature(
        "liquid carry-over from the tank",
        {"discharge_superheat": "down", "stage_efficiency": "up"},
        "have the level in the tank and its separator looked at by qualified service personnel",
        needs="tank",
    ),
    Signature(
        "lower metering device stuck shut",
        {**_LOW_EVAPORATOR, "tank_pressure_exponent": "up", "discharge_superheat": "up or same"},
        "have the metering device below the tank checked by certified refrigerant personnel",
        needs="tank",
    ),
    Signature(
        "lower metering device stuck open",
        {"subcooling": "down", "tank_pressure_exponent": "down"},
        "have the metering device below the tank checked by certified refrigerant personnel",
        needs="tank",
    ),
    Signature(
        "upper metering device stuck shut",
        {
            **_LOW_EVAPORATOR,
            "condensing_temperature": "up or same",
            "condenser_approach": "up",
            "condenser_ua": "down",
            "subcooling": "up",
            "apparent_gas_pressure": "up or same",
            "tank_pressure_exponent": "down",
            "discharge_superheat": "up",
        },
        "have the metering device above the tank checked by certified refrigerant personnel",
        needs="tank",
    ),
    Signature(
        "upper metering device stuck open",
        {
            "subcooling": "down",
            "tank_pressure_exponent": "up",
            "discharge_superheat": "up or same",
        },
        "have the metering device above the tank checked by certified refrigerant personnel",
        needs="tank",
    ),
    Signature(
        "blocked tank vent",
        {
            **_HIGH_CONDENSER,
            # The evaporator runs short of liquid only where the metering devices cannot open further.
            "evaporator_ua": "down or same",
            "evaporator_approach": "up or same",
            "evaporating_temperature": "down or same",
            "subcooling": "up",
            "apparent_gas_pressure": "up or same",
            "tank_pressure_exponent": "up",
            "discharge_superheat": "up or same",
            "measured_saving": "down",
        },
        "have the vapor line from the tank to the compressor checked by certified refrigerant personnel",
        needs="tank",
    ),
    Signature(
        "near surge",
        {**_OSCILLATION, "discharge_superheat": "up or same", "stage_efficiency": "down or same"},
        "have the compressor's operating limits and control checked by the manufacturer's service",
    ),
)

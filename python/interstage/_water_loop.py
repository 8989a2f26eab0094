"""What flows in a water loop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from interstage import _core
from interstage._arrays import as_number, together
from interstage.errors import Inconsistent, OutOfRange, WrongArgument

__all__ = ["WaterLoop"]

#: Glycols that are known by their strength alone, and the highest mass fraction of their polynomials.
_GLYCOLS = ("ethylene glycol", "propylene glycol")
_STRONGEST = 0.6


@dataclass(frozen=True)
class WaterLoop:
    """What flows in a water loop: plain water, or a brine.

    Parameters
    ----------
    kind : str, optional
        ``"water"``, or what it is mixed with. ``"ethylene glycol"`` and ``"propylene glycol"`` are known by
        their strength alone; any other text is for the reports.
    strength : float, optional
        Mass fraction of what it is mixed with.
    heat_capacity, density : float, optional
        Of the brine at its mean temperature and at the flow meter, J/(kg K) and kg/m3, from the data sheet of
        the brine. Needed of all but the two glycols, and better than their polynomials where the glycol is
        inhibited.

    Raises
    ------
    WrongArgument
        If the properties of a brine are neither given nor known, or plain water has some.
    OutOfRange
        If a glycol is stronger than its polynomials go.
    Inconsistent
        If a property is in another unit or impossible.

    Notes
    -----
    The glycols are those of Å. Melinder, Properties of Secondary Working Fluids for Indirect Systems,
    International Institute of Refrigeration, 2010 (second-hand), of plain glycol in water up to 60 %. Their
    densities are within 0.15 % of measured ones, their freezing points within 0.2 K (ethylene glycol) and
    1.3 K (propylene glycol) of handbooks. Heat capacities are less certain: the inhibited glycols of ASHRAE's
    handbook have up to 2.6 % less of it and 1 % more density (ethylene glycol), 0.5 and 0.7 % (propylene
    glycol).

    Examples
    --------
    >>> import interstage
    >>> brine = interstage.WaterLoop("propylene glycol", strength=0.3)
    >>> round(brine.heat_capacity_at(278.15)), round(brine.density_at(278.15), 1)
    (3816, 1029.9)
    >>> round(brine.freezing_temperature - 273.15, 1)
    -12.8
    >>> interstage.WaterLoop("calcium chloride", heat_capacity=2900.0, density=1190.0).plain
    False
    """

    kind: str = "water"
    strength: float | None = None
    heat_capacity: float | None = None
    density: float | None = None

    def __post_init__(self) -> None:
        if not isinstance(self.kind, str) or not self.kind.strip():
            raise WrongArgument(f"kind must be a text, got {self.kind!r}", argument="kind")
        known = self.kind.strip().lower()
        if known in ("water", *_GLYCOLS):
            object.__setattr__(self, "kind", known)
        given = {
            "strength": (self.strength, 0.0, 1.0, "kg/kg"),
            "heat_capacity": (self.heat_capacity, 500.0, 5000.0, "J/(kg K)"),
            "density": (self.density, 500.0, 2000.0, "kg/m3"),
        }
        for name, (value, low, high, unit) in given.items():
            if value is None:
                continue
            if self.plain:
                raise WrongArgument(f"plain water takes no {name}", argument=name)
            number = not isinstance(value, bool) and isinstance(value, (int, float, np.integer, np.floating))
            if not number or not low < value < high:
                raise Inconsistent(
                    f"{name} must be between {low:g} and {high:g} {unit}, got {value!r}",
                    arguments=name,
                    reason=f"{value!r} is not between {low:g} and {high:g} {unit}",
                )
        if not self.plain:
            self._refuse_incomplete()

    def _refuse_incomplete(self) -> None:
        """Refuse a brine whose properties are neither given nor known."""
        missing = [name for name in ("heat_capacity", "density") if getattr(self, name) is None]
        if not missing:
            return
        if self.kind not in _GLYCOLS:
            known = " and ".join(_GLYCOLS)
            raise WrongArgument(
                f"{self.kind} needs {' and '.join(f'{name}=' for name in missing)} from its data sheet: the "
                f"package knows {known} only",
                argument=missing[0],
            )
        if len(missing) == 1:
            raise WrongArgument(
                f"{self.kind} needs {missing[0]}= too: give both from its data sheet, or the strength",
                argument=missing[0],
            )
        if self.strength is None:
            raise WrongArgument(
                f"{self.kind} needs its strength=, or heat_capacity= and density= from its data sheet",
                argument="strength",
            )
        if self.strength > _STRONGEST:
            raise OutOfRange(
                f"strength of {self.kind} must be at most {_STRONGEST:g} kg/kg, got {self.strength}; beyond "
                "it give heat_capacity= and density=",
                argument="strength",
                value=self.strength,
                minimum=0.0,
                maximum=_STRONGEST,
                unit="kg/kg",
                reason="the published polynomials end there",
            )

    @property
    def plain(self) -> bool:
        """Whether it is plain water."""
        return self.kind == "water"

    @property
    def freezing_temperature(self) -> float | None:
        """Freezing point, K; None where it is not known."""
        if self.plain:
            return 273.15
        if self.kind not in _GLYCOLS or self.strength is None or self.strength > _STRONGEST:
            return None
        return _core.Brine(kind=self.kind, strength=self.strength).freezing_temperature

    def density_at(self, temperature: Any) -> Any:
        """Density at a temperature: the one that was given, or of the published polynomial.

        Parameters
        ----------
        temperature : float or column
            K.

        Returns
        -------
        float or column
            kg/m3; rows in which the brine is frozen or hotter than 100 degC are NaN.

        Raises
        ------
        WrongArgument
            For plain water, whose properties are those of the analysis.
        OutOfRange
            If a single temperature is below the freezing point or above 100 degC.
        """
        return self._property("density", temperature)

    def heat_capacity_at(self, temperature: Any) -> Any:
        """Heat capacity at a temperature: the one that was given, or of the published polynomial.

        Parameters
        ----------
        temperature : float or column
            K.

        Returns
        -------
        float or column
            J/(kg K); rows in which the brine is frozen or hotter than 100 degC are NaN.

        Raises
        ------
        WrongArgument
            For plain water, whose properties are those of the analysis.
        OutOfRange
            If a single temperature is below the freezing point or above 100 degC.
        """
        return self._property("heat_capacity", temperature)

    def _property(self, name: str, temperature: Any) -> Any:
        brine = self._brine
        if brine is None:
            raise WrongArgument(
                "plain water has the properties of the analysis, not of a brine", argument="kind"
            )
        if as_number("temperature", temperature) is not None:
            return getattr(brine, name)(temperature)
        (rows,), container = together({"temperature": temperature})
        columns = {"density": brine.densities, "heat_capacity": brine.heat_capacities}
        return container.wrap(columns[name](np.ascontiguousarray(rows)), name)

    @property
    def _brine(self) -> _core.Brine | None:
        """What the compiled analysis takes; None for plain water."""
        if self.plain:
            return None
        if self.heat_capacity is not None:
            return _core.Brine(density=self.density, heat_capacity=self.heat_capacity)
        return _core.Brine(kind=self.kind, strength=self.strength)

    def _flow(self, volume_flow: float, temperature: float) -> _core.WaterFlow:
        """A volume flow that is metered at a temperature, with the properties there."""
        brine = self._brine
        if brine is None:
            return _core.WaterFlow(volume_flow=volume_flow, temperature=temperature)
        return _core.WaterFlow(
            volume_flow=volume_flow,
            density=brine.density(temperature),
            heat_capacity=brine.heat_capacity(temperature),
        )

"""What flows in a water loop."""

from __future__ import annotations

from dataclasses import dataclass

from interstage.errors import Inconsistent, WrongArgument

__all__ = ["WaterLoop"]


@dataclass(frozen=True)
class WaterLoop:
    """What flows in a water loop: plain water, or a brine of declared properties.

    Parameters
    ----------
    kind : str, optional
        ``"water"``, or what it is mixed with, as text for the reports.
    strength : float, optional
        Mass fraction of what it is mixed with.
    heat_capacity, density : float, optional
        Of the brine at its mean temperature and at the flow meter, J/(kg K) and kg/m3, from the data sheet of
        the brine. The package has no correlation for brines and guesses none.

    Examples
    --------
    >>> import interstage
    >>> interstage.WaterLoop("ethylene glycol", strength=0.25, heat_capacity=3740.0, density=1036.0).plain
    False
    """

    kind: str = "water"
    strength: float | None = None
    heat_capacity: float | None = None
    density: float | None = None

    def __post_init__(self) -> None:
        if not isinstance(self.kind, str) or not self.kind:
            raise WrongArgument(f"kind must be a text, got {self.kind!r}", argument="kind")
        given = {
            "strength": (self.strength, 0.0, 1.0, "kg/kg"),
            "heat_capacity": (self.heat_capacity, 1000.0, 6000.0, "J/(kg K)"),
            "density": (self.density, 500.0, 2000.0, "kg/m3"),
        }
        for name, (value, low, high, unit) in given.items():
            if value is None:
                if name != "strength" and not self.plain:
                    raise WrongArgument(
                        f"{self.kind} needs {name}= ({unit}): the package has no properties of brines",
                        argument=name,
                    )
            elif self.plain:
                raise WrongArgument(f"plain water takes no {name}", argument=name)
            elif isinstance(value, bool) or not isinstance(value, (int, float)) or not low < value < high:
                raise Inconsistent(
                    f"{name} must be between {low:g} and {high:g} {unit}, got {value!r}",
                    arguments=name,
                    reason=f"{value!r} is not between {low:g} and {high:g} {unit}",
                )

    @property
    def plain(self) -> bool:
        """Whether it is plain water."""
        return self.kind == "water"

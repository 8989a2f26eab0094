"""How the COP depends on the interstage pressures: around their optimum, beside the rules for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from interstage import _charts_cycle, _core, _needed, _tables
from interstage._arrays import numbers
from interstage._circuits import rebuilt
from interstage._shown import Tabular
from interstage._study_rows import need_circuit
from interstage.errors import Inconsistent, InterstageError, OutOfRange

FloatArray = npt.NDArray[np.float64]

#: Rules that give all interstage pressures at once.
RULES = ("equal ratio", "equal temperature step", "equal head")


@dataclass(frozen=True, eq=False)
class PressureSweep(Tabular):
    """COP over each interstage pressure while the others stay at their optimum. Made by `sweep_pressures`.

    Attributes
    ----------
    circuit : Circuit
    exponents : array
        Pressures tried, as ln(p / p_e) / ln(p_c / p_e), dimensionless.
    cop : array
        COP of compression, interstages by exponents; NaN where a pressure would not lie between its
        neighbors, or the cycle has no solution.
    best_exponents : tuple of float
        The optimum, dimensionless.
    best_cop : float
    rules : dict of str to tuple
        Rule -> (exponents, COP), all pressures as the rule has them.
    conditions : dict of str to float
        As they were given, K and dimensionless.
    """

    circuit: _core.Circuit
    exponents: FloatArray
    cop: FloatArray
    best_exponents: tuple[float, ...]
    best_cop: float
    rules: Mapping[str, tuple[tuple[float, ...], float]]
    conditions: Mapping[str, float]

    def flat(self, loss: float = 0.01) -> list[tuple[float, float]]:
        """Tell between which exponents no more than a share of the best COP is lost.

        Parameters
        ----------
        loss : float, optional
            Share of the best COP that may be lost, above 0 and below 1.

        Returns
        -------
        list of (float, float)
            Lowest and highest exponent for each interstage, by the exponents that were tried.

        Examples
        --------
        >>> import interstage
        >>> circuit = interstage.Circuit.arranged(
        ...     interstage.Refrigerant("R-134a"),
        ...     "2 stages: tank@2",
        ...     stage=interstage.Stage(polytropic_efficiency=0.8),
        ... )
        >>> sweep = interstage.sweep_pressures(
        ...     circuit, evaporating_temperature=278.15, condensing_temperature=310.15
        ... )
        >>> [(round(low, 2), round(high, 2)) for low, high in sweep.flat(0.005)]
        [(0.42, 0.66)]
        """
        if not 0.0 < loss < 1.0:
            raise OutOfRange(
                f"loss must be above 0 and below 1, got {loss}",
                argument="loss",
                value=float(loss),
                minimum=0.0,
                maximum=1.0,
                unit="-",
                reason="a share",
            )
        found = []
        for line, best in zip(self.cop, self.best_exponents, strict=True):
            good = self.exponents[line >= (1.0 - loss) * self.best_cop]
            found.append((float(min(good, default=best)), float(max(good, default=best))))
        return found

    def _columns(self) -> dict[str, Any]:
        columns: dict[str, Any] = {"exponent": self.exponents.tolist()}
        for stage, line in enumerate(self.cop, start=2):
            columns[f"cop, stage {stage} inlet"] = line.tolist()
        return columns

    def table(self) -> Any:
        """Exponents and COP as a pandas DataFrame, a column for each interstage."""
        return _needed.pandas().DataFrame(self._columns())

    def curve(self, ax: Any = None, *, units: Literal["SI", "I-P"] = "SI") -> Any:
        """Draw the COP over the exponents with the optimum and the rules; needs matplotlib.

        Parameters
        ----------
        ax : matplotlib Axes, optional
        units : {"SI", "I-P"}, optional
            Of the temperatures in the note.

        Returns
        -------
        matplotlib Axes
            A line for each interstage, the others at their optimum; a shade where 1 % of the best COP or less
            is lost. A rule that moves several pressures at once lies below the lines.
        """
        return _charts_cycle.pressure_curve(self, units, ax)

    def _as_tables(self) -> list[_tables.Table]:
        rules = {"best COP": (self.best_exponents, self.best_cop), **self.rules}
        columns: dict[str, list[Any]] = {
            "rule": list(rules),
            "exponents [-]": [
                ", ".join(f"{each:.3f}" for each in exponents) for exponents, _ in rules.values()
            ],
            "cop [-]": [cop for _, cop in rules.values()],
        }
        return [_tables.table(columns, f"{self.circuit.refrigerant.name}, {self.circuit.arrangement}")]

    def __repr__(self) -> str:
        at = ", ".join(f"{each:.3f}" for each in self.best_exponents)
        return f"PressureSweep({self.circuit.arrangement}: best COP {self.best_cop:.4g} at {at})"


def sweep_pressures(
    circuit: _core.Circuit,
    *,
    exponents: Any = None,
    evaporating_temperature: float,
    condensing_temperature: float,
    suction_superheat: float = 0.0,
    subcooling: float = 0.0,
    liquid_carryover: float = 0.0,
    hot_gas_bypass: float = 0.0,
) -> PressureSweep:
    """Solve a circuit over each of its interstage pressures, the others at their optimum.

    Parameters
    ----------
    circuit : Circuit
        Of two stages or more; what it says of interstage pressures does not matter.
    exponents : sequence of float, optional
        Pressures to try, as ln(p / p_e) / ln(p_c / p_e), above 0 and below 1; 0.02 to 0.98 unless given.
    evaporating_temperature, condensing_temperature, suction_superheat, subcooling : float
        These, liquid_carryover and hot_gas_bypass as in `Circuit.pressure_optimum`, K and dimensionless.

    Returns
    -------
    PressureSweep

    Raises
    ------
    Inconsistent
        If the circuit has one stage, or the conditions contradict each other.
    OutOfRange
        If an exponent is not between 0 and 1.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit.arranged(
    ...     interstage.Refrigerant("R-1233zd(E)"),
    ...     "2 stages: tank@2",
    ...     stage=interstage.Stage(polytropic_efficiency=0.8),
    ... )
    >>> sweep = interstage.sweep_pressures(
    ...     circuit, evaporating_temperature=278.15, condensing_temperature=310.15
    ... )
    >>> round(sweep.best_exponents[0], 2), round(sweep.best_cop, 3)
    (0.53, 6.465)
    """
    need_circuit("circuit", circuit)
    stages = len(circuit.stages)
    if stages < 2:
        reason = "a circuit of one stage has no interstage pressure"
        message = f"circuit and sweep contradict each other: {reason}"
        raise Inconsistent(message, arguments="circuit and sweep", reason=reason)
    tried = np.linspace(0.02, 0.98, 97) if exponents is None else numbers("exponents", exponents).reshape(-1)
    for each in tried:
        if not 0.0 < each < 1.0:
            raise OutOfRange(
                f"exponents must be above 0 and below 1, got {each}",
                argument="exponents",
                value=float(each),
                minimum=0.0,
                maximum=1.0,
                unit="-",
                reason="between evaporating and condensing pressure",
            )
    conditions: dict[str, Any] = {
        "evaporating_temperature": evaporating_temperature,
        "condensing_temperature": condensing_temperature,
        "suction_superheat": suction_superheat,
        "subcooling": subcooling,
        "liquid_carryover": liquid_carryover,
        "hot_gas_bypass": hot_gas_bypass,
    }
    best: dict[str, Any] = circuit.pressure_optimum(**conditions)
    whole = rebuilt(circuit, pressures="equal ratio").solve(**conditions, capacity=1.0)
    low, high = whole.evaporating_pressure, whole.condensing_pressure
    cop = np.full((stages - 1, len(tried)), np.nan)
    for place in range(stages - 1):
        for at, exponent in enumerate(tried):
            at_these = [*best["exponents"]]
            at_these[place] = float(exponent)
            if any(after <= before for before, after in pairwise(at_these)):
                continue
            pressures = [low * (high / low) ** each for each in at_these]
            cop[place, at] = _cop(rebuilt(circuit, pressures=pressures), conditions)
    rules = {}
    for rule in RULES:
        try:
            cycle = rebuilt(circuit, pressures=rule).solve(**conditions, capacity=1.0)
        except InterstageError:
            continue  # A rule may have no solution where the optimum has one.
        shares = np.log(np.array(cycle.interstage_pressures) / low) / np.log(high / low)
        rules[rule] = (tuple(shares.tolist()), float(cycle.cop))
    return PressureSweep(circuit, tried, cop, best["exponents"], best["cop"], rules, conditions)


def _cop(circuit: _core.Circuit, conditions: Mapping[str, Any]) -> float:
    try:
        return float(circuit.solve(**conditions, capacity=1.0).cop)
    except InterstageError:
        return float("nan")

"""How uncertain every figure of a trend is: from the errors of its instruments, by exact derivatives.

Guide to the expression of uncertainty in measurement (JCGM 100:2008), first order; systematic and random
parts kept apart as in ASME PTC 19.1; Monte Carlo as in JCGM 101:2008. All from memory.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage._accuracy import COVERAGE, Accuracy, CommonBias, _scale
from interstage._progress import bar, blocks
from interstage._shown import Shown
from interstage._trend import Trend
from interstage._trend_result import TrendResult
from interstage._uncertain_figures import UncertainFigures
from interstage.errors import Inconsistent, WrongArgument

__all__ = ["Uncertainty"]

FloatArray = npt.NDArray[np.float64]

#: Figures that are no smooth functions of the readings.
_STEPPED = ("stage_efficiency_interval", "economizer_evidence")

#: Rows whose derivatives are computed between two looks at signals.
_BLOCK = 2048
#: Rows with derivatives from which a bar shows the progress.
_LONG = 20_000


class Uncertainty(Shown):
    """The instruments behind a trend, and the intervals that they leave on every figure.

    Parameters
    ----------
    trend : Trend
    accuracies : mapping
        Reading -> `Accuracy`. Every declared reading needs one: none is taken for exact unasked.
    common : sequence of CommonBias, optional
        Biases that readings share: the barometer of gauge pressures, matched thermometers.

    Notes
    -----
    First order in the errors, with the exact derivatives of every figure to every reading
    (``TrendAnalysis::slopes`` of the Rust crate). What a figure takes for granted (see
    `TrendResult.assumptions`) is not in its interval. `UncertainFigures.monte_carlo` shows where first order
    is not enough.

    Examples
    --------
    Flow within 2 %, each thermometer within 0.1 K at a range of 5 K:

    >>> import interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"),
    ...     stages=[interstage.Stage(isentropic_efficiency=0.7)],
    ...     interstages=[],
    ... )
    >>> columns = {
    ...     "chilled_water_entering": ("in", "degC"),
    ...     "chilled_water_leaving": ("out", "degC"),
    ...     "chilled_water_flow": ("flow", "L/s"),
    ... }
    >>> uncertainty = interstage.Uncertainty(
    ...     interstage.Trend(circuit, columns),
    ...     {
    ...         "chilled_water_entering": interstage.Accuracy(0.1, unit="K"),
    ...         "chilled_water_leaving": interstage.Accuracy(0.1, unit="K"),
    ...         "chilled_water_flow": interstage.Accuracy(2.0, unit="percent"),
    ...     },
    ... )
    >>> told = uncertainty.analyse({"in": [12.0], "out": [7.0], "flow": [100.0]})
    >>> round(float(told.half_width("capacity")[0] / told.result["capacity"][0]), 4)
    0.0346
    >>> {source: round(float(share[0]), 2) for source, share in told.shares("capacity").items()}
    {'chilled_water_entering': 0.33, 'chilled_water_leaving': 0.33, 'chilled_water_flow': 0.33}
    """

    def __init__(
        self,
        trend: Trend,
        accuracies: Mapping[str, Accuracy],
        *,
        common: Sequence[CommonBias] = (),
    ) -> None:
        if not isinstance(trend, Trend):
            raise WrongArgument(f"trend must be a Trend, got {type(trend).__name__}", argument="trend")
        if not isinstance(accuracies, Mapping):
            raise WrongArgument(
                f"accuracies must be a mapping of reading to Accuracy, got {type(accuracies).__name__}",
                argument="accuracies",
            )
        declared = list(trend._readings)
        given: dict[str, Accuracy] = {}
        for reading, accuracy in accuracies.items():
            name, _ = _core._reading(reading)
            if not isinstance(accuracy, Accuracy):
                raise WrongArgument(
                    f"accuracies[{reading!r}] must be an Accuracy, got {accuracy!r}", argument="accuracies"
                )
            if name not in declared:
                reason = f"no column is declared for {name}"
                raise Inconsistent(
                    f"accuracies and trend contradict each other: {reason}",
                    arguments="accuracies and trend",
                    reason=reason,
                )
            _scale(name, accuracy.unit)
            given[name] = accuracy
        lacking = [name for name in declared if name not in given]
        if lacking:
            raise WrongArgument(
                f"accuracies must be given for every reading; lacking: {', '.join(lacking)}",
                argument="accuracies",
            )
        names: list[str] = []
        for source in common:
            if not isinstance(source, CommonBias):
                raise WrongArgument(f"common must hold CommonBias objects, got {source!r}", argument="common")
            for reading in source.readings:
                if _core._reading(reading)[0] not in declared:
                    raise WrongArgument(f"common: no column is declared for {reading}", argument="common")
                _scale(_core._reading(reading)[0], source.unit)
            if source.name in names or source.name in declared:
                raise WrongArgument(f"common: the name {source.name!r} is taken", argument="common")
            names.append(source.name)
        self._trend = trend
        self._accuracies = {name: given[name] for name in declared}
        self._common = tuple(common)

    @property
    def trend(self) -> Trend:
        """What is analysed."""
        return self._trend

    @property
    def accuracies(self) -> dict[str, Accuracy]:
        """Reading -> accuracy of its instrument."""
        return dict(self._accuracies)

    @property
    def common(self) -> tuple[CommonBias, ...]:
        """Biases that readings share."""
        return self._common

    def analyse(
        self,
        table: Any,
        *,
        figures: Sequence[str] | None = None,
        progress: bool | None = None,
        threads: int | None = None,
    ) -> UncertainFigures:
        """Analyse every row of a table, with the interval of every figure.

        Parameters
        ----------
        table : pandas.DataFrame, polars.DataFrame or mapping of columns
        figures : sequence of str, optional
            Which figures get intervals; all that can be told unless given. Derivatives to all readings are
            kept: 8 bytes a row, figure and reading. Name the figures you need in a long table.
        progress : bool, optional
            As in `Trend.analyse`; a second bar shows the derivatives.
        threads : int, optional
            Number of threads of this call; see `set_threads`.

        Returns
        -------
        UncertainFigures
        """
        result = self._trend.analyse(table, progress=progress, threads=threads)
        wanted = self._figures(result, figures)
        values = self._usable(table, result)
        slopes = self.slopes(values, wanted, threads, progress)
        return UncertainFigures(self, result, wanted, values, slopes)

    def _figures(self, result: TrendResult, figures: Sequence[str] | None) -> list[str]:
        if figures is None:
            return [
                figure
                for figure in result.figures
                if figure not in _STEPPED and figure not in result.unavailable
            ]
        for figure in figures:
            result._values(figure)
            if figure in _STEPPED:
                raise WrongArgument(
                    f"{figure} jumps with the readings and has no interval: leave it out", argument="figures"
                )
        return list(figures)

    def _usable(self, table: Any, result: TrendResult) -> FloatArray:
        """Readings in SI, rows by readings; NaN where one is missing or found to be bad."""
        _, columns, _ = self._trend._si(table)
        values = np.column_stack([column for _, column in columns]) if columns else np.empty((0, 0))
        for place, (name, _) in enumerate(columns):
            codes = result._table.quality(name)
            if codes is not None:
                values[codes != 0, place] = np.nan
        return values

    def slopes(
        self,
        values: FloatArray,
        figures: Sequence[str],
        threads: int | None = None,
        progress: bool | None = False,
    ) -> FloatArray:
        """Exact derivatives of figures to readings.

        Parameters
        ----------
        values : array of float64
            Readings in SI, rows by readings in the order of `accuracies`; NaN where one is missing.
        figures : sequence of str
        threads : int, optional
        progress : bool, optional
            As in `Trend.analyse`; none unless asked for.

        Returns
        -------
        array of float64
            Rows by figures by readings, in SI; NaN where a figure cannot be told.
        """
        names = list(self._accuracies)
        out = np.full((len(values), len(figures), len(names)), np.nan)
        for rows in bar(blocks(len(values), _BLOCK), progress, len(values) > _LONG, "block of derivatives"):
            columns = [(name, np.ascontiguousarray(values[rows, i])) for i, name in enumerate(names)]
            out[rows] = self._trend._analysis.slopes(columns, list(figures), threads)
        return out

    def told(self, values: FloatArray, figures: Sequence[str], threads: int | None = None) -> FloatArray:
        """Figures of readings that do not follow one another in time, rows by figures, in SI."""
        names = list(self._accuracies)
        columns = [(name, np.ascontiguousarray(values[:, i])) for i, name in enumerate(names)]
        table = self._trend._analysis.analyse(columns, threads, False)
        found = [table.column(figure) for figure in figures]
        return np.column_stack([np.full(len(values), np.nan) if one is None else one for one in found])

    def errors(self, values: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Standard uncertainties of readings.

        Returns
        -------
        (array, array, array)
            Own bias and random part, rows by readings; and the common biases, rows by sources by readings.
        """
        bias, random = np.zeros_like(values), np.zeros_like(values)
        for i, (name, accuracy) in enumerate(self._accuracies.items()):
            scale, relative = _scale(name, accuracy.unit)
            size = np.abs(values[:, i]) if relative else 1.0
            bias[:, i] = accuracy.bias * scale / COVERAGE * size
            random[:, i] = accuracy.random * scale / COVERAGE * size
        common = np.zeros((len(values), len(self._common), values.shape[1]))
        names = list(self._accuracies)
        for place, source in enumerate(self._common):
            for reading in source.readings:
                name, _ = _core._reading(reading)
                scale, relative = _scale(name, source.unit)
                i = names.index(name)
                common[:, place, i] = source.bias * scale / COVERAGE * (values[:, i] if relative else 1.0)
        return tuple(np.where(np.isnan(part), 0.0, part) for part in (bias, random, common))  # type: ignore[return-value]

    def __reduce__(self) -> tuple[Any, ...]:
        return _uncertainty, (self._trend, self._accuracies, self._common)

    def __repr__(self) -> str:
        inside = ", ".join(
            f"{name}: {accuracy.bias:g} and {accuracy.random:g} {accuracy.unit}"
            for name, accuracy in self._accuracies.items()
        )
        return f"Uncertainty({inside})"


def _uncertainty(
    trend: Trend, accuracies: dict[str, Accuracy], common: tuple[CommonBias, ...]
) -> Uncertainty:
    return Uncertainty(trend, accuracies, common=common)

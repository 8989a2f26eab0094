"""How uncertain every figure of a trend is: from the errors of its instruments, by exact derivatives.

Guide to the expression of uncertainty in measurement (JCGM 100:2008), first order; systematic and random
parts kept apart as in ASME PTC 19.1; Monte Carlo as in JCGM 101:2008. All from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _core, units
from interstage._declared import _BY_SI, SYSTEMS, shown
from interstage._progress import bar, blocks
from interstage._trend import Trend
from interstage._trend_result import TrendResult
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

__all__ = ["Accuracy", "CommonBias", "MeanFigure", "UncertainFigures", "Uncertainty"]

FloatArray = npt.NDArray[np.float64]

#: Half widths are of intervals that hold the true value with 95 %, of a normal distribution.
COVERAGE = 1.96

#: Figures that are no smooth functions of the readings.
_STEPPED = ("stage_efficiency_interval", "economizer_evidence")

#: Rows whose derivatives are computed between two looks at signals.
_BLOCK = 2048
#: Rows with derivatives, or draws, from which a bar shows the progress.
_LONG = 20_000

#: SI unit of a reading -> unit of an error -> its size in SI. An error is a difference, never a level.
_ERROR_UNITS: dict[str, dict[str, float]] = {
    "K": {"K": 1.0, "F": units.kelvin_difference_from_fahrenheit_difference(1.0)},
    "Pa": {
        "Pa": 1.0,
        "kPa": units.pascal_difference_from_kilopascal_difference(1.0),
        "bar": units.pascal_difference_from_bar_difference(1.0),
        "psi": units.pascal_difference_from_psi_difference(1.0),
        "inHg": units.pascal_from_inhg_absolute(1.0),
    },
    **{si: {unit: float(convert(1.0)) for unit, convert in _BY_SI[si].items()} for si in ("m3/s", "W")},
}
#: Units of an error relative to the reading.
_RELATIVE = {"percent": 0.01, "fraction": 1.0}


def _half_width(argument: str, value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float, np.integer, np.floating)):
        raise WrongArgument(f"{argument} must be a number, got {value!r}", argument=argument)
    if not 0.0 <= value < np.inf:
        reason = f"{value!r} is no half width"
        raise Inconsistent(f"{argument} must not be negative: {reason}", arguments=argument, reason=reason)
    return float(value)


@dataclass(frozen=True)
class Accuracy:
    """How far an instrument may err: half widths of 95 % intervals.

    Parameters
    ----------
    bias : float
        What stays the same from row to row: calibration, place, installation.
    random : float, optional
        What changes from row to row.
    unit : str
        K, F; Pa, kPa, bar, psi, inHg; m3/s, m3/h, L/s, gpm; W, kW, hp, ton, Btu/h; or relative to the
        reading: percent, fraction.

    Examples
    --------
    >>> import interstage
    >>> interstage.Accuracy(2.0, unit="percent"), interstage.Accuracy(0.1, random=0.02, unit="K")
    (Accuracy(bias=2.0, random=0.0, unit='percent'), Accuracy(bias=0.1, random=0.02, unit='K'))
    """

    bias: float
    random: float = 0.0
    unit: str = ""

    def __post_init__(self) -> None:
        _half_width("bias", self.bias)
        _half_width("random", self.random)
        if not isinstance(self.unit, str) or not self.unit:
            raise WrongArgument("an accuracy needs its unit", argument="unit")


@dataclass(frozen=True)
class CommonBias:
    """A bias that several readings share: a barometer, a bath that a pair of thermometers was matched in.

    Parameters
    ----------
    readings : sequence of str
        They all err by the same amount, or by the same share of their values.
    bias : float
        Half width of its 95 % interval, beside the own bias of each instrument.
    unit : str
        As in `Accuracy`.
    name : str, optional
        What it is called in the shares.
    """

    readings: Sequence[str]
    bias: float
    unit: str
    name: str = "common bias"

    def __post_init__(self) -> None:
        if (
            isinstance(self.readings, str)
            or not isinstance(self.readings, Sequence)
            or len(self.readings) < 2
        ):
            raise WrongArgument(
                f"readings of a common bias must be two or more names, got {self.readings!r}",
                argument="readings",
            )
        _half_width("bias", self.bias)


@dataclass(frozen=True)
class MeanFigure:
    """Mean of a figure over rows, with its interval.

    Biases stay as they are however many rows there are; random parts fall with the root of their number.
    """

    figure: str
    value: float
    #: Half width of the 95 % interval, and its parts.
    half_width: float
    bias: float
    random: float
    #: Rows that the figure can be told in.
    rows: int
    #: What the interval mostly comes from.
    dominant: str


def _scale(name: str, unit: str) -> tuple[float, bool]:
    """Size of the unit of an error of a reading, and whether it is relative."""
    _, si = _core._reading(name)
    if unit in _RELATIVE:
        if si == "K":
            raise WrongArgument(
                f"{name}: an error of a temperature is not a share of it, give it in K or F", argument=name
            )
        return _RELATIVE[unit], True
    known = [*_ERROR_UNITS[si], *(_RELATIVE if si != "K" else ())]
    if unit not in _ERROR_UNITS[si]:
        raise UnknownOption(
            f"unit of the error of {name} must be one of {', '.join(known)}, got {unit!r}",
            argument=name,
            value=unit,
            options=tuple(known),
        )
    return _ERROR_UNITS[si][unit], False


class Uncertainty:
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
    (`TrendAnalysis.slopes` of the Rust crate). What a figure takes for granted (see
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
                raise WrongArgument(f"accuracies[{reading!r}] must be an Accuracy", argument="accuracies")
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
                raise WrongArgument("common must hold CommonBias", argument="common")
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
                raise WrongArgument(f"{figure} is no smooth function of readings", argument="figures")
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


class UncertainFigures:
    """Figures of every row with their intervals. Made by `Uncertainty.analyse`.

    Half widths are in SI units, of intervals that hold the true value with 95 %, in the container that came
    in; NaN where a figure cannot be told.
    """

    def __init__(
        self,
        uncertainty: Uncertainty,
        result: TrendResult,
        figures: list[str],
        values: FloatArray,
        slopes: FloatArray,
    ) -> None:
        self._uncertainty = uncertainty
        self._figures = figures
        self._readings = values
        self._slopes = slopes
        self._bias, self._random, self._common = uncertainty.errors(values)
        #: The figures themselves.
        self.result = result

    def __len__(self) -> int:
        return len(self._slopes)

    @property
    def uncertainty(self) -> Uncertainty:
        """The instruments."""
        return self._uncertainty

    @property
    def figures(self) -> list[str]:
        """Figures that have intervals."""
        return list(self._figures)

    @property
    def sources(self) -> list[str]:
        """Where uncertainty comes from: readings, and common biases."""
        return [*self._uncertainty._accuracies, *(source.name for source in self._uncertainty._common)]

    def _at(self, figure: str) -> FloatArray:
        if figure not in self._figures:
            raise UnknownOption(
                f"figure must be one of {', '.join(self._figures)}, got {figure!r}",
                argument="figure",
                value=str(figure),
                options=tuple(self._figures),
            )
        return self._slopes[:, self._figures.index(figure)]

    def _biases(self, figure: str) -> FloatArray:
        """What each bias does to a figure, with its sign, rows by sources (standard uncertainties)."""
        slopes = self._at(figure)
        common = np.einsum("ri,rsi->rs", slopes, self._common)
        return np.concatenate([slopes * self._bias, common], axis=1)

    def _randoms(self, figure: str) -> FloatArray:
        own = self._at(figure) * self._random
        return np.concatenate([own, np.zeros((len(own), self._common.shape[1]))], axis=1)

    def _variances(self, figure: str) -> FloatArray:
        return self._biases(figure) ** 2 + self._randoms(figure) ** 2

    def _column(self, values: Any, name: str) -> Any:
        return self.result._container.column(values, name)

    def half_width(self, figure: str) -> Any:
        """Half width of the interval of a figure in every row."""
        return self._column(COVERAGE * np.sqrt(self._variances(figure).sum(axis=1)), figure)

    def bias(self, figure: str) -> Any:
        """The part of the half width that stays the same from row to row."""
        return self._column(COVERAGE * np.sqrt((self._biases(figure) ** 2).sum(axis=1)), figure)

    def random(self, figure: str) -> Any:
        """The part of the half width that changes from row to row."""
        return self._column(COVERAGE * np.sqrt((self._randoms(figure) ** 2).sum(axis=1)), figure)

    def slopes(self, figure: str) -> Any:
        """Derivatives of a figure to every reading, as a table of the kind that came in, in SI units."""
        names = self._uncertainty._accuracies
        slopes = self._at(figure)
        return self.result._container.table({name: slopes[:, i].copy() for i, name in enumerate(names)})

    def shares(self, figure: str) -> Any:
        """Share of every source in the variance of a figure, as a table of the kind that came in."""
        variances = self._variances(figure)
        with np.errstate(invalid="ignore", divide="ignore"):
            shares = variances / variances.sum(axis=1, keepdims=True)
        return self.result._container.table({name: shares[:, i] for i, name in enumerate(self.sources)})

    def dominant(self, figure: str) -> Any:
        """The source that the interval of a figure mostly comes from, in every row; empty where none is."""
        variances = self._variances(figure)
        total = variances.sum(axis=1)
        names = np.array(self.sources, dtype=object)
        first = np.argmax(np.where(np.isnan(variances), -1.0, variances), axis=1)
        words = names[first]
        words[~(total > 0.0)] = ""
        return self._column(words, figure)

    def mean(self, figure: str, rows: Any = None) -> MeanFigure:
        """Mean of a figure over rows: biases stay, random parts fall with the root of the number of rows.

        Parameters
        ----------
        figure : str
        rows : array of bool, optional
            Which rows; all unless given. Rows without the figure are left out.

        Returns
        -------
        MeanFigure

        Raises
        ------
        Inconsistent
            If no row tells the figure.
        """
        values = self.result._values(figure)
        told = ~np.isnan(values) & ~np.isnan(self._at(figure)).any(axis=1) & self._chosen(rows)
        count = int(told.sum())
        if count == 0:
            reason = f"none of the rows tells {figure}"
            raise Inconsistent(
                f"figure and rows contradict each other: {reason}",
                arguments="figure and rows",
                reason=reason,
            )
        biases = self._biases(figure)[told].mean(axis=0) ** 2
        randoms = (self._randoms(figure)[told] ** 2).mean(axis=0) / count
        parts = biases + randoms
        return MeanFigure(
            figure=figure,
            value=float(values[told].mean()),
            half_width=float(COVERAGE * np.sqrt(parts.sum())),
            bias=float(COVERAGE * np.sqrt(biases.sum())),
            random=float(COVERAGE * np.sqrt(randoms.sum())),
            rows=count,
            dominant=self.sources[int(np.argmax(parts))] if parts.sum() > 0.0 else "",
        )

    def _chosen(self, rows: Any) -> npt.NDArray[np.bool_]:
        if rows is None:
            return np.ones(len(self), dtype=bool)
        chosen = np.asarray(rows)
        if chosen.dtype != bool or chosen.shape != (len(self),):
            raise WrongArgument(
                f"rows must hold a truth value for each of the {len(self)} rows", argument="rows"
            )
        return chosen

    def monte_carlo(
        self,
        figures: Sequence[str],
        *,
        rows: Iterable[int],
        draws: int = 2000,
        seed: int = 0,
        threads: int | None = None,
        progress: bool | None = None,
    ) -> list[dict[str, Any]]:
        """Draw readings within their errors and analyse each draw.

        Parameters
        ----------
        figures : sequence of str
        rows : iterable of int
            Which rows, counted from 0.
        draws : int, optional
        seed : int, optional
            The same seed gives the same draws.
        threads : int, optional
        progress : bool, optional
            As in `Trend.analyse`.

        Returns
        -------
        list of dict
            One entry a row and figure: ``row``, ``figure``, ``mean``, ``lower``, ``upper`` (2.5 and 97.5 % of
            the draws that tell the figure) and ``told``, the share of draws that do.
        """
        if isinstance(draws, bool) or not isinstance(draws, (int, np.integer)) or draws < 2:
            raise WrongArgument(f"draws must be a whole number of 2 or more, got {draws!r}", argument="draws")
        for figure in figures:
            self._at(figure)
        places = [int(row) for row in rows]
        for place in places:
            if not 0 <= place < len(self):
                raise WrongArgument(f"rows: there is no row {place} of {len(self)}", argument="rows")
        generator = np.random.default_rng(seed)
        found: list[dict[str, Any]] = []
        for place in bar(places, progress, len(places) * draws > _LONG, "row"):
            count = self._readings.shape[1]
            own = generator.standard_normal((draws, count)) * self._bias[place]
            own += generator.standard_normal((draws, count)) * self._random[place]
            shared = generator.standard_normal((draws, self._common.shape[1])) @ self._common[place]
            drawn = self._uncertainty.told(self._readings[place] + own + shared, figures, threads)
            for at, figure in enumerate(figures):
                told = drawn[:, at][~np.isnan(drawn[:, at])]
                lower, upper = np.quantile(told, [0.025, 0.975]) if told.size else (np.nan, np.nan)
                found.append(
                    {
                        "row": place,
                        "figure": figure,
                        "mean": float(told.mean()) if told.size else np.nan,
                        "lower": float(lower),
                        "upper": float(upper),
                        "told": told.size / draws,
                    }
                )
        return found

    def frame(self, *, units: str = "SI", figures: Sequence[str] | None = None) -> Any:
        """Put figures side by side, each with its half width, units in the names of the columns.

        Parameters
        ----------
        units : str, optional
            ``"SI"`` or ``"I-P"``, as in `TrendResult.frame`.
        figures : sequence of str, optional

        Returns
        -------
        pandas.DataFrame, polars.DataFrame or dict of arrays
        """
        if units not in SYSTEMS:
            raise UnknownOption(
                f"units must be 'SI' or 'I-P', got {units!r}", argument="units", value=units, options=SYSTEMS
            )
        columns: dict[str, Any] = {}
        for figure in self._figures if figures is None else figures:
            half = COVERAGE * np.sqrt(self._variances(figure).sum(axis=1))
            values = self.result._values(figure)
            unit, low = shown(figure, values, units)
            _, high = shown(figure, values + half, units)
            columns[f"{figure} [{unit}]"] = low
            # A half width of a temperature is a difference.
            name = {"degC": "K", "degF": "F"}.get(unit, unit)
            columns[f"{figure} +/- [{name}]"] = high - low
        return self.result._container.table(columns)

    def __repr__(self) -> str:
        return f"UncertainFigures({len(self)} rows, {len(self._figures)} figures)"

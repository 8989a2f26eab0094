"""Figures of every row with their intervals: parts, shares, means over rows and Monte Carlo."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from interstage._accuracy import COVERAGE
from interstage._declared import shown
from interstage._progress import bar
from interstage._shown import Shown
from interstage._tables import checked_units
from interstage._trend_result import TrendResult
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

if TYPE_CHECKING:
    from interstage._uncertainty import Uncertainty

__all__ = ["MeanFigure", "UncertainFigures"]

FloatArray = npt.NDArray[np.float64]

#: Draws from which a bar shows the progress.
_LONG = 20_000


@dataclass(frozen=True)
class MeanFigure(Shown):
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


class UncertainFigures(Shown):
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

    def _biases(self, slopes: FloatArray) -> FloatArray:
        """What each bias does to a figure, with its sign, rows by sources (standard uncertainties)."""
        common = np.einsum("ri,rsi->rs", slopes, self._common)
        return np.concatenate([slopes * self._bias, common], axis=1)

    def _randoms(self, slopes: FloatArray) -> FloatArray:
        own = slopes * self._random
        return np.concatenate([own, np.zeros((len(own), self._common.shape[1]))], axis=1)

    def _variances(self, figure: str) -> FloatArray:
        slopes = self._at(figure)
        total: FloatArray = self._biases(slopes) ** 2 + self._randoms(slopes) ** 2
        return total

    def _column(self, values: Any, name: str) -> Any:
        return self.result._container.column(values, name)

    def half_width(self, figure: str) -> Any:
        """Half width of the interval of a figure in every row."""
        return self._column(COVERAGE * np.sqrt(self._variances(figure).sum(axis=1)), figure)

    def bias(self, figure: str) -> Any:
        """The part of the half width that stays the same from row to row."""
        return self._column(COVERAGE * np.sqrt((self._biases(self._at(figure)) ** 2).sum(axis=1)), figure)

    def random(self, figure: str) -> Any:
        """The part of the half width that changes from row to row."""
        return self._column(COVERAGE * np.sqrt((self._randoms(self._at(figure)) ** 2).sum(axis=1)), figure)

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
        return self._mean(figure, self.result._values(figure), self._at(figure), rows)

    def _mean(self, figure: str, values: FloatArray, slopes: FloatArray, rows: Any) -> MeanFigure:
        """Mean of values with their derivatives to the readings."""
        told = ~np.isnan(values) & ~np.isnan(slopes).any(axis=1) & self._chosen(rows)
        count = int(told.sum())
        if count == 0:
            reason = f"none of the rows tells {figure}"
            raise Inconsistent(
                f"figure and rows contradict each other: {reason}",
                arguments="figure and rows",
                reason=reason,
            )
        biases = self._biases(slopes)[told].mean(axis=0) ** 2
        randoms = (self._randoms(slopes)[told] ** 2).mean(axis=0) / count
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
        checked_units(units)
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

"""Baselines: what a figure is at given conditions while the machine is in good order."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from interstage import _baseline_model as model
from interstage import _charts_trend, _core, _needed
from interstage._analysed import pandas_frame, rows_chosen, values
from interstage._baseline_fit import BaselineFit, assembled, refuse_poor, regression_of, terms_of
from interstage._quantities import quantity
from interstage._shown import Shown, tables_of
from interstage.errors import InterstageError, UnknownOption, WrongArgument

__all__ = ["Baseline", "BaselineFit", "Prediction"]

FloatArray = npt.NDArray[np.float64]

FORMAT_VERSION = 1
KINDS = ("quadratic", "gordon-ng")


class Prediction(NamedTuple):
    """What a baseline expects: one entry a row, in SI units."""

    #: NaN where the baseline cannot tell.
    expected: Any
    #: Half width of the 95 % interval of a single row.
    half_width: Any

    def _repr_html_(self) -> str:
        return "".join(one.html() for one in tables_of(self))

    def __repr__(self) -> str:
        if isinstance(self.expected, float):
            return f"Prediction(expected={self.expected:.6g}, half_width={self.half_width:.3g})"
        return f"Prediction({len(self.expected)} rows, {int(self.expected.notna().sum())} told)"


@dataclass(frozen=True)
class Baseline(Shown):
    """What a figure is at the conditions of a row. Made by `Baseline.fit`; saved and loaded as readable JSON.

    Examples
    --------
    >>> import numpy, pandas, interstage
    >>> rng = numpy.random.default_rng(1)
    >>> rows = 300
    >>> frame = pandas.DataFrame(
    ...     {
    ...         "capacity [W]": rng.uniform(0.5e6, 1.5e6, rows),
    ...         "chilled_water_leaving [K]": rng.uniform(278.0, 283.0, rows),
    ...         "condenser_water_entering [K]": rng.uniform(293.0, 303.0, rows),
    ...     }
    ... )
    >>> lift = frame["condenser_water_entering [K]"] - frame["chilled_water_leaving [K]"] + 8.0
    >>> frame["power [W]"] = 5e4 + frame["capacity [W]"] * lift / 180.0 + rng.normal(0.0, 1e3, rows)
    >>> baseline = interstage.Baseline.fit(frame, "power")
    >>> baseline.quality.cv_rmse < 0.01, abs(baseline.quality.held_back_nmbe) < 0.01
    (True, True)
    >>> told = baseline.at(capacity=1e6, chilled_water_leaving=280.0, condenser_water_entering=298.0)
    >>> round(told.expected / 1e3), round(told.half_width / 1e3)
    (194, 2)
    """

    figure: str
    kind: str
    drivers: tuple[str, ...]
    quality: BaselineFit
    #: Term -> coefficient; of the quadratic for drivers less their mean per their deviation.
    coefficients: dict[str, float]
    covariance: tuple[tuple[float, ...], ...] = field(repr=False)
    #: Standard deviation of the residuals, SI.
    deviation: float = field(repr=False)
    #: Half width of an interval per standard deviation: a quantile of Student's t.
    coverage: float = field(repr=False)
    means: tuple[float, ...] = field(repr=False)
    deviations: tuple[float, ...] = field(repr=False)
    lowest: tuple[float, ...] = field(repr=False)
    highest: tuple[float, ...] = field(repr=False)
    #: Inverse correlation of the drivers, and the furthest row of the fit by it.
    shape: tuple[tuple[float, ...], ...] = field(repr=False)
    furthest: float = field(repr=False)
    #: First and last row of the fit, as text.
    period: tuple[str, str] = ("", "")

    @classmethod
    def fit(
        cls,
        frame: Any,
        figure: str = "power",
        *,
        kind: str = "quadratic",
        drivers: Sequence[str] = model.GORDON_NG,
        period: tuple[Any, Any] | None = None,
        where: Any = None,
        blocks: int = 5,
    ) -> Baseline:
        """Fit a baseline on the rows of a period.

        Parameters
        ----------
        frame : pandas.DataFrame
            Figures and readings by name and unit, as `analysed` gives them.
        figure : str, optional
            What is to be expected: any column of the frame.
        kind : str, optional
            ``"quadratic"`` in the drivers, for any figure; or ``"gordon-ng"``, for ``"power"`` over its three
            drivers: entropy made inside, heat leak, thermal resistance. It has three coefficients where the
            quadratic has ten, and bends as the two laws want where it must extrapolate a little.
        drivers : sequence of str, optional
            What the figure depends on.
        period : (start, end), optional
            Labels of the index: from `start` on to before `end`.
        where : array of bool, optional
            Rows to be used, such as steady ones of a machine in good order. Rows with gaps are left out.
        blocks : int, optional
            Blocks of time, each held back once to tell the error on rows that the fit has not seen.

        Returns
        -------
        Baseline

        Raises
        ------
        Inconsistent
            If there are too few rows, a driver does not vary, or the drivers cannot be told apart.
        """
        frame = pandas_frame("frame", frame)
        if kind not in KINDS:
            raise UnknownOption(
                f"kind must be one of {', '.join(KINDS)}, got {kind!r}",
                argument="kind",
                value=str(kind),
                options=KINDS,
            )
        names = tuple(drivers)
        if isinstance(drivers, str) or not names or len(set(names)) != len(names):
            raise WrongArgument(f"drivers must be different columns, got {drivers!r}", argument="drivers")
        if figure in names:
            raise WrongArgument(f"{figure} cannot be a driver of itself, got {drivers!r}", argument="drivers")
        if kind == "gordon-ng" and (figure != "power" or names != model.GORDON_NG):
            raise WrongArgument(
                f"kind='gordon-ng' tells power from {', '.join(model.GORDON_NG)}", argument="kind"
            )
        if isinstance(blocks, bool) or not isinstance(blocks, int) or blocks < 2:
            raise WrongArgument(f"blocks must be 2 or more, got {blocks!r}", argument="blocks")
        chosen = rows_chosen("where", frame, where) & _within(frame, period)
        x = np.column_stack([values(frame, name) for name in names])
        y = values(frame, figure)
        chosen &= np.isfinite(x).all(axis=1) & np.isfinite(y)
        if kind == "gordon-ng":
            chosen &= (x[:, 0] > 0.0) & (y > 0.0)
        rows = np.flatnonzero(chosen)
        # In the order of time, so that blocks are blocks of time; rows of one time in the order they have.
        rows = rows[_in_order(frame.index[rows])]
        x, y = x[rows], y[rows]
        refuse_poor(kind, names, x)
        fitted = regression_of(kind, x, y)
        found = assembled(figure, kind, names, x, y, fitted, blocks)
        index = frame.index[rows]
        return cls(**{**found, "period": (str(index[0]), str(index[-1]))})

    def predict(self, frame: Any, *, extrapolate: bool = False) -> Prediction:
        """Tell what the figure would be in every row, were the machine as in the period of the fit.

        Parameters
        ----------
        frame : pandas.DataFrame
        extrapolate : bool, optional
            Whether rows outside of what the fit has seen are told too; else they are NaN. See `outside`.

        Returns
        -------
        Prediction
            Two Series with the index of the frame.
        """
        frame = pandas_frame("frame", frame)
        x = self._drivers(frame)
        expected, half = self._told(x)
        if not extrapolate:
            beyond = self._beyond(x) != ""
            expected, half = np.where(beyond, np.nan, expected), np.where(beyond, np.nan, half)
        series = _needed.pandas().Series
        name = self.figure
        return Prediction(
            series(expected, index=frame.index, name=name), series(half, index=frame.index, name=name)
        )

    def at(self, *, extrapolate: bool = False, **conditions: float) -> Prediction:
        """Tell what the figure would be at one set of conditions.

        Parameters
        ----------
        extrapolate : bool, optional
            Whether conditions outside of what the fit has seen are told too.
        **conditions
            Every driver, in SI units.

        Returns
        -------
        Prediction
            Two numbers; NaN outside of what the fit has seen, unless that is asked for.
        """
        x = np.array([[self._condition(conditions, name) for name in self.drivers]])
        if len(conditions) != len(self.drivers):
            unknown = ", ".join(sorted(set(conditions) - set(self.drivers)))
            raise WrongArgument(
                f"no driver of this baseline: {unknown}; its drivers are {', '.join(self.drivers)}",
                argument="conditions",
            )
        if not extrapolate and self._beyond(x)[0]:
            return Prediction(float("nan"), float("nan"))
        expected, half = self._told(x)
        return Prediction(float(expected[0]), float(half[0]))

    def outside(self, frame: Any) -> Any:
        """Tell in words where a row lies outside of what the fit has seen; empty where it does not.

        Outside is below the lowest or above the highest value of a driver, or further from the middle of the
        fit than any of its rows, by the correlation of the drivers.
        """
        frame = pandas_frame("frame", frame)
        words = self._beyond(self._drivers(frame))
        return _needed.pandas().Series(words, index=frame.index, name="outside")

    def compare(self, frame: Any, *, at: Mapping[str, float] | None = None) -> Any:
        """Compare the figure with what is expected at the conditions of each row.

        Parameters
        ----------
        frame : pandas.DataFrame
        at : mapping of str to float, optional
            Conditions, driver -> value in SI, that all rows are brought to: ``at_equal_conditions`` is what
            is expected there times measured per expected in the row; NaN outside of what the fit has seen.

        Returns
        -------
        pandas.DataFrame
            ``measured``, ``expected``, ``half_width``, ``residual`` (measured less expected), ``outside`` and
            with `at` ``at_equal_conditions``. SI units.
        """
        frame = pandas_frame("frame", frame)
        expected, half = self.predict(frame)
        measured = values(frame, self.figure)
        found = _needed.pandas().DataFrame(
            {
                "measured": measured,
                "expected": expected.to_numpy(),
                "half_width": half.to_numpy(),
                "residual": measured - expected.to_numpy(),
                "outside": self.outside(frame).to_numpy(),
            },
            index=frame.index,
        )
        if at is not None:
            found["at_equal_conditions"] = (
                self.at(extrapolate=False, **at).expected * found["measured"] / found["expected"]
            )
        return found

    def over_time(
        self,
        frame: Any,
        ax: Any = None,
        *,
        at: Mapping[str, float] | None = None,
        where: Any = None,
        step: str | None = None,
        units: str = "SI",
    ) -> Any:
        """Draw the figure over time with what is expected and its interval; needs matplotlib.

        Parameters
        ----------
        frame : pandas.DataFrame
            With times in its index.
        ax : matplotlib Axes, optional
        at : mapping of str to float, optional
            Conditions in SI that all rows are brought to, as in `compare`.
        where : array of bool, optional
            Rows that count, such as those in operation.
        step : str, optional
            Length of time of which one median is drawn, such as ``"1D"``; unless given each of up to 1000
            rows, else at most 300 medians.
        units : {"SI", "I-P"}, optional

        Returns
        -------
        matplotlib Axes
            Points beyond the 95 % interval of a single row are filled; rows outside of what the fit has seen
            are crosses beside a dashed expectation without interval.

        Raises
        ------
        WrongArgument
            If the frame has no times, or lacks the figure or a driver.
        """
        return _charts_trend.against_baseline(self, frame, at, where, step, units, ax)

    def save(self, path: Any) -> None:
        """Write the baseline as readable JSON.

        Parameters
        ----------
        path : str or path
        """
        Path(path).write_text(self.to_json(), encoding="utf-8")

    def __repr__(self) -> str:
        return f"Baseline({self.figure} by {', '.join(self.drivers)}, {self.kind}: {self.quality!r})"

    def to_json(self) -> str:
        """Give the text that `save` writes."""
        kept = {"format_version": FORMAT_VERSION, "interstage": _core.__version__, "unit": _unit(self.figure)}
        return json.dumps({**kept, **asdict(self)}, indent=1, allow_nan=False) + "\n"

    @classmethod
    def load(cls, path: Any) -> Baseline:
        """Read a baseline that `save` wrote.

        Parameters
        ----------
        path : str or path

        Raises
        ------
        WrongArgument
            If the file is no baseline, or of a format that this version does not know.
        """
        return cls.from_json(Path(path).read_text(encoding="utf-8"))

    @classmethod
    def from_json(cls, text: str) -> Baseline:
        """Read a baseline from the text that `to_json` gives."""
        try:
            kept = json.loads(text)
            version = kept["format_version"]
        except (ValueError, TypeError, KeyError) as error:
            raise WrongArgument(f"the file holds no baseline: {error!r}", argument="path") from None
        if version != FORMAT_VERSION:
            raise WrongArgument(
                f"the baseline has format_version {version!r}, this version reads {FORMAT_VERSION}",
                argument="path",
            )
        try:
            fields = {name: kept[name] for name in cls.__dataclass_fields__}
            fields["quality"] = BaselineFit(**fields["quality"])
            for name in ("covariance", "shape"):
                fields[name] = tuple(tuple(float(value) for value in row) for row in fields[name])
            for name in ("means", "deviations", "lowest", "highest"):
                fields[name] = tuple(float(value) for value in fields[name])
            for name in ("drivers", "period"):
                fields[name] = tuple(str(value) for value in fields[name])
            found = cls(**fields)
            sizes = {len(part) for part in (found.means, found.deviations, found.lowest, found.shape)}
            terms = list(terms_of(found.kind, found.drivers))
            if sizes != {len(found.drivers)} or list(found.coefficients) != terms:
                raise ValueError("coefficients and drivers do not fit")
            found._told(np.array([found.means]))
        except (KeyError, TypeError, ValueError) as error:
            raise WrongArgument(f"the file holds no whole baseline: {error!r}", argument="path") from None
        return found

    def _drivers(self, frame: Any) -> FloatArray:
        return np.column_stack([values(frame, name) for name in self.drivers])

    def _condition(self, conditions: Mapping[str, float], name: str) -> float:
        if name not in conditions:
            raise WrongArgument(
                f"the condition {name} is missing; this baseline needs {', '.join(self.drivers)}",
                argument="conditions",
            )
        try:
            return float(conditions[name])
        except (TypeError, ValueError):
            message = f"the condition {name} must be a number, got {conditions[name]!r}"
            raise WrongArgument(message, argument="conditions") from None

    def _told(self, x: FloatArray) -> tuple[FloatArray, FloatArray]:
        coefficients = np.array(list(self.coefficients.values()))
        if self.kind == "quadratic":
            slopes = model.quadratic((x - np.array(self.means)) / np.array(self.deviations))
            expected = slopes @ coefficients
        else:
            expected, slopes = model.gordon_ng_power(x, coefficients)
        of_fit = np.einsum("ri,ij,rj->r", slopes, np.array(self.covariance), slopes)
        return expected, self.coverage * np.sqrt(self.deviation**2 + np.clip(of_fit, 0.0, None))

    def _beyond(self, x: FloatArray) -> npt.NDArray[np.object_]:
        words = np.full(len(x), "", dtype=object)
        scaled = (x - np.array(self.means)) / np.array(self.deviations)
        with np.errstate(invalid="ignore"):
            distance = np.einsum("ri,ij,rj->r", scaled, np.array(self.shape), scaled)
            far = distance > self.furthest * (1.0 + 1e-9)
            words[far] = "a combination of conditions that the fit has not seen"
            for place, name in enumerate(self.drivers):
                unit = _unit(name)
                # Rounding of a value that is itself the limit is not outside.
                slack = 1e-9 * (self.highest[place] - self.lowest[place])
                low, high = self.lowest[place] - slack, self.highest[place] + slack
                words[x[:, place] < low] = f"{name} below {self.lowest[place]:.6g} {unit}"
                words[x[:, place] > high] = f"{name} above {self.highest[place]:.6g} {unit}"
        words[~np.isfinite(x).all(axis=1)] = "a condition is missing"
        return words


def _unit(name: str) -> str:
    """SI unit of a figure or reading, empty where it is neither."""
    try:
        return _core._figure_unit(name)[0]
    except InterstageError:
        pass
    try:
        return quantity(name).si
    except InterstageError:
        return ""


def _in_order(index: Any) -> Any:
    """Positions that sort an index; as they are where its labels have no order."""
    try:
        return np.argsort(index, kind="stable")
    except TypeError:
        return np.arange(len(index))


def _within(frame: Any, period: tuple[Any, Any] | None) -> Any:
    if period is None:
        return np.ones(len(frame), dtype=bool)
    if not isinstance(period, (tuple, list)) or len(period) != 2:
        raise WrongArgument(f"period must be (start, end), got {period!r}", argument="period")
    start, end = period
    try:
        begun, over = np.asarray(frame.index >= start), ~np.asarray(frame.index < end)
    except TypeError as error:
        raise WrongArgument(
            f"period does not fit the index of the frame: {error}", argument="period"
        ) from None
    if (over & ~begun).any():
        raise WrongArgument(f"period must end after it begins, got {period!r}", argument="period")
    return begun & ~over

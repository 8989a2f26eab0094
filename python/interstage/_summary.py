"""Summaries: energy and cooling summed first, then divided."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from os import PathLike
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _analysed, _charts_trend, _needed, _tables, units
from interstage._shown import Tabular
from interstage.errors import UnknownOption, WrongArgument

FloatArray = npt.NDArray[np.float64]

#: Label of hours that belong to no group because the reading that tells it is missing.
NOT_TOLD = "not told"

#: What a summary can be made by, apart from columns of labels.
_WAYS = ("month", "load", "lift")

_OFF = 8  # the remark that the machine is off


class Summary(Tabular):
    """Energy, cooling and hours of groups of rows, and their ratios. Made by `summarize`.

    Attributes
    ----------
    by : tuple of str
        What the groups are made by.
    """

    def __init__(
        self, by: tuple[str, ...], columns: Mapping[str, Any], uncertainty: tuple[float, float]
    ) -> None:
        self.by = by
        self._columns = dict(columns)
        self._uncertainty = uncertainty

    def __len__(self) -> int:
        return len(self._columns["hours"])

    def __reduce__(self) -> tuple[Any, ...]:
        return Summary, (self.by, self._columns, self._uncertainty)

    def _shown(self, system: str, whole: bool = False) -> dict[str, Any]:
        """Columns with units in their names; one row of everything together if whole."""
        _tables.checked_units(system)
        sums = {
            name: np.array([column.sum()]) if whole else column
            for name, column in self._columns.items()
            if name not in self.by
        }
        labels = {name: ["all"] if whole else self._columns[name] for name in self.by}
        # Of a group that ran, or may have, and tells nothing the sums are missing, not zero.
        nothing = (sums["hours"] == 0.0) & (sums["hours unknown"] > 0.0)
        energy, cooling = (np.where(nothing, np.nan, sums[name]) for name in ("energy", "cooling"))
        with np.errstate(divide="ignore", invalid="ignore"):
            cop = np.where(energy > 0.0, cooling / energy, np.nan)
            cop = np.where(cooling > 0.0, cop, np.nan)
            known = sums["hours"] + sums["hours unknown"]
            coverage = np.where(known > 0.0, sums["hours"] / known, np.nan)
        of_power, of_capacity = self._uncertainty
        ratio = math.hypot(of_power, of_capacity)
        per_ton = np.asarray(units.kw_per_ton_from_cop(cop))
        unit, scale = (
            ("kWh", 1.0)
            if system == "SI"
            else ("ton h", 1.0 / units.kilowatt_from_watt(units.watt_from_ton(1.0)))
        )
        return {
            **labels,
            "hours [h]": sums["hours"],
            "hours off [h]": sums["hours off"],
            "hours unknown [h]": sums["hours unknown"],
            "coverage [-]": coverage,
            "energy [kWh]": energy,
            "energy interval [kWh]": energy * of_power,
            f"cooling [{unit}]": cooling * scale,
            f"cooling interval [{unit}]": cooling * of_capacity * scale,
            "kw_per_ton [kW/ton]": per_ton,
            "kw_per_ton interval [kW/ton]": per_ton * ratio,
            "cop [-]": cop,
            "cop interval [-]": cop * ratio,
        }

    def table(self, *, units: str = "SI") -> Any:
        """Groups as a pandas DataFrame, each column with its unit in its name.

        Parameters
        ----------
        units : {"SI", "I-P"}, optional
            Cooling in kWh or in ton hours.

        Returns
        -------
        pandas.DataFrame
            Labels of the group; hours that count, hours off, and hours of operation or gaps of which power or
            capacity is not known; coverage, the share of hours that count in both; energy, cooling, kW/ton
            and COP of their sums, each with the half width of its interval. Where no hour counts and some are
            unknown all of these are missing.
        """
        return _needed.pandas().DataFrame(self._shown(units))

    def total(self, *, units: str = "SI") -> Any:
        """Give everything together as a pandas Series."""
        table = _needed.pandas().DataFrame(self._shown(units, whole=True))
        return table.drop(columns=list(self.by)).iloc[0]

    def bars(self, figure: str = "kw_per_ton", ax: Any = None, *, units: str = "SI") -> Any:
        """Draw a figure of every group as a bar with its interval; needs matplotlib.

        Parameters
        ----------
        figure : str, optional
            A column of the table without its unit: ``"energy"``, ``"cooling"``, ``"cop"``, ``"hours"``.
        ax : matplotlib Axes, optional
        units : {"SI", "I-P"}, optional

        Returns
        -------
        matplotlib Axes
            Groups whose hours are not all known say so.

        Raises
        ------
        UnknownOption
            If there is no such figure.
        Inconsistent
            If there are more groups than can be read.
        """
        return _charts_trend.summary_bars(self, figure, units, ax)

    def to_csv(self, path: str | PathLike[str], *, units: str = "SI") -> None:
        """Write the table to a file of comma-separated values."""
        self.table(units=units).to_csv(path, index=False)

    def to_parquet(self, path: str | PathLike[str], *, units: str = "SI") -> None:
        """Write the table to a Parquet file; needs pyarrow."""
        self.table(units=units).to_parquet(path, index=False)

    def _as_tables(self) -> list[_tables.Table]:
        columns = self._shown("SI")
        whole = self._shown("SI", whole=True)
        both = {name: [*column, *whole[name]] for name, column in columns.items()}
        return [_tables.table(both, f"by {', '.join(self.by)}; sums first, then their ratios")]

    def __repr__(self) -> str:
        whole = self._shown("SI", whole=True)
        return (
            f"Summary(by {', '.join(self.by)}: {len(self)} groups, {whole['hours [h]'][0]:.0f} h, "
            f"{whole['hours unknown [h]'][0]:.0f} h unknown, "
            f"{whole['energy [kWh]'][0]:.0f} kWh, {whole['kw_per_ton [kW/ton]'][0]:.3f} kW/ton)"
        )


def summarize(
    frame: Any,
    by: str | Sequence[str],
    *,
    where: Any = None,
    hours: Any = None,
    machine: str | None = None,
    load_edges: Sequence[float] | None = None,
    lift_edges: Sequence[float] | None = None,
    minimum_power: float = 0.0,
    power_uncertainty: float = 0.01,
    capacity_uncertainty: float = 0.035,
) -> Summary:
    """Sum energy and cooling of groups of rows, then divide; a mean of row by row kW/ton is no kW/ton.

    Parameters
    ----------
    frame : pandas.DataFrame
        As `analysed` gives it, with ``power`` and ``capacity``; several machines one below the other.
    by : str or sequence of str
        ``"month"``, ``"load"`` (bins of the capacity), ``"lift"`` (bins of the refrigerant lift), or the name
        of a column of labels, such as one that names machines; several for groups within groups.
    where : array of bool, optional
        Rows that count, such as rows of good quality. Others are hours unknown, unless the machine is off.
    hours : float or sequence of float, optional
        Hours of each row; by the times of the index unless given, and then a gap is hours unknown.
    machine : str, optional
        Column that names the machine, where there are several: the times of each are its own.
    load_edges : sequence of float, optional
        Edges of the bins of ``"load"``, W.
    lift_edges : sequence of float, optional
        Edges of the bins of ``"lift"``, K.
    minimum_power : float, optional
        Power up to which a machine is off, W.
    power_uncertainty, capacity_uncertainty : float, optional
        Half widths of the 95 % intervals of power and capacity as fractions. They are taken for errors that
        all rows have in common: averaging does not lessen them.

    Returns
    -------
    Summary

    Examples
    --------
    >>> import interstage, pandas
    >>> rows = pandas.date_range("2023-01-31 22:00", periods=4, freq="h")
    >>> frame = pandas.DataFrame(
    ...     {"power [W]": [100e3, 50e3, 100e3, 0.0], "capacity [W]": [600e3, 200e3, 500e3, None]},
    ...     index=rows,
    ... )
    >>> summary = interstage.summarize(frame, "month")
    >>> summary.table()[["month", "hours [h]", "hours off [h]", "energy [kWh]", "cop [-]"]].values.tolist()
    [['2023-01', 2.0, 0.0, 150.0, 5.333333333333333], ['2023-02', 1.0, 1.0, 100.0, 5.0]]
    """
    pandas = _needed.pandas()
    frame = _analysed.pandas_frame("frame", frame)
    try:
        ways = (by,) if isinstance(by, str) else tuple(by)
    except TypeError:
        ways = ()
    if not ways or len(set(ways)) != len(ways):
        raise WrongArgument(f"by must name at least one way, each once, got {by!r}", argument="by")
    for name, value, unit in (
        ("minimum_power", minimum_power, "W"),
        ("power_uncertainty", power_uncertainty, "-"),
        ("capacity_uncertainty", capacity_uncertainty, "-"),
    ):
        _analysed.refuse_below(name, value, 0.0, unit)
    power, capacity = _analysed.values(frame, "power"), _analysed.values(frame, "capacity")
    each, gap = _hours(frame, hours, machine)
    edges = {"load": load_edges, "lift": lift_edges}
    labels = {way: _labels(frame, way, edges.get(way)) for way in ways}

    with np.errstate(invalid="ignore"):
        off = power <= minimum_power
    if _analysed.has(frame, "status"):
        remarks = np.nan_to_num(_analysed.values(frame, "status")).astype(np.int64)
        off |= (remarks & _OFF) != 0
    good = ~off & np.isfinite(power) & np.isfinite(capacity) & _analysed.rows_chosen("where", frame, where)
    rows = pandas.DataFrame(
        {
            **labels,
            "hours": np.where(good, each, 0.0),
            "hours off": np.where(off, each, 0.0),
            "hours unknown": np.where(good | off, 0.0, each) + gap,
            "energy": np.where(good, power * each, 0.0) / 1000.0,
            "cooling": np.where(good, capacity * each, 0.0) / 1000.0,
        }
    )
    sums = rows.groupby(list(ways), sort=True, observed=True).sum().reset_index()
    columns = {way: sums[way].astype(str).tolist() for way in ways}
    columns.update({name: sums[name].to_numpy(dtype=np.float64) for name in rows.columns if name not in ways})
    return Summary(ways, columns, (power_uncertainty, capacity_uncertainty))


def _hours(frame: Any, hours: Any, machine: str | None) -> tuple[FloatArray, FloatArray]:
    """Hours that each row stands for, and hours of the gap behind it."""
    if hours is not None:
        return _analysed.row_hours(frame, hours), np.zeros(len(frame))
    each, whole = np.zeros(len(frame)), np.zeros(len(frame))
    places = [np.arange(len(frame))]
    if machine is not None:
        if machine not in frame.columns:
            columns = ", ".join(map(repr, frame.columns))
            raise WrongArgument(
                f"the frame has no column {machine!r}; its columns are {columns}", argument="machine"
            )
        places = [place for _, place in sorted(frame.groupby(machine, dropna=False).indices.items(), key=str)]
    for place in places:
        if not len(place):
            continue
        part = frame.iloc[place]
        each[place] = _analysed.row_hours(part)
        whole[place] = _analysed.row_hours(part, longest=math.inf)
    return each, whole - each


def _labels(frame: Any, way: str, edges: Sequence[float] | None) -> Any:
    """Label of the group of each row, in an order that sorts."""
    pandas = _needed.pandas()
    if way == "month":
        if not isinstance(frame.index, pandas.DatetimeIndex):
            raise WrongArgument("by='month' needs times in the index of the frame", argument="by")
        return pandas.Categorical(frame.index.strftime("%Y-%m").fillna(NOT_TOLD))
    if way in ("load", "lift"):
        name, unit, scale = ("capacity", "kW", 1e-3) if way == "load" else ("refrigerant_lift", "K", 1.0)
        if edges is None:
            raise WrongArgument(
                f"by={way!r} needs {way}_edges: the limits of its groups, {unit}", argument=f"{way}_edges"
            )
        try:
            limits = np.asarray(edges, dtype=np.float64)
        except (TypeError, ValueError):
            limits = np.empty(0)
        if limits.ndim != 1 or len(limits) < 2 or not (np.diff(limits) > 0.0).all():
            raise WrongArgument(
                f"{way}_edges must be at least two increasing numbers", argument=f"{way}_edges"
            )
        names = [f"{low * scale:g} to {high * scale:g} {unit}" for low, high in pairwise(limits)]
        names = [
            f"below {limits[0] * scale:g} {unit}",
            *names,
            f"{limits[-1] * scale:g} {unit} and above",
            NOT_TOLD,
        ]
        found = _analysed.values(frame, name)
        place = np.where(np.isnan(found), len(names) - 1, np.searchsorted(limits, found, side="right"))
        return pandas.Categorical.from_codes(place, names, ordered=True)
    if way not in frame.columns:
        known = (*_WAYS, *map(str, frame.columns))
        raise UnknownOption(
            f"by must be month, load, lift or a column of labels, got {way!r}",
            argument="by",
            value=way,
            options=known,
        )
    labels = frame[way].astype(object)
    return labels.where(labels.notna(), NOT_TOLD).astype(str).to_numpy()

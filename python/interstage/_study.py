"""A study: a tidy table of solved circuits with everything that is needed to cite it."""

from __future__ import annotations

import html
import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations
from os import PathLike
from typing import Any

import numpy as np

from interstage import _charts_study, _needed, _tables
from interstage._bases import AT_SIZE, VOLUME, WATER
from interstage._shown import Tabular

#: Basis of a comparison -> the figure by which circuits are ranked on it. Size does not matter to the COP of
#: fixed efficiencies: of equal inlet volumes the capacity is what they differ in.
MERITS: Mapping[str, str] = {**dict.fromkeys(AT_SIZE.values(), "cop"), WATER: "cop", VOLUME: "capacity"}

#: Figures closer than this, relative, are not told apart: cycles are asked to agree to it.
_EQUAL = 1e-6

_CAUTION = "estimates for analysis and teaching, never a protection"


@dataclass(frozen=True, eq=False)
class Study(Tabular):
    """Results of several circuits as a tidy table, with what was held constant and whom to cite.

    Made by `compare`, `grid` and `what_if`.

    Attributes
    ----------
    table : pandas.DataFrame
        A row for each basis, circuit and condition; the unit stands in the name of the column, dimensionless
        columns have none. COP, kW/ton, EER and benefits count compression power. Rows that could not be
        solved have NaN, a ``status`` and the ``reason`` in full. Its ``attrs`` are `header`.
    basis : tuple of str
        On what the circuits are compared.
    held : dict of str to str
        What else was held constant, and what differs between the circuits.
    citations : dict of str to tuple of str
        Refrigerant -> the papers of its equations of state.
    version : str
        Version of this package.

    Examples
    --------
    >>> import interstage
    >>> stage = interstage.Stage(polytropic_efficiency=0.8)
    >>> r = interstage.Refrigerant("R-1233zd(E)")
    >>> study = interstage.compare(
    ...     [interstage.Circuit.arranged(r, text, stage=stage) for text in ("2 stages", "2 stages: tank@2")],
    ...     basis="same saturation temperatures",
    ...     evaporating_temperature=278.15,
    ...     condensing_temperature=310.15,
    ...     capacity=3.5e6,
    ... )
    >>> study.table["cop"].round(3).tolist()
    [6.086, 6.463]
    >>> study.held["stage efficiency"]
    'polytropic 0.8 in every stage (path integral)'
    """

    table: Any
    basis: tuple[str, ...]
    held: dict[str, str]
    citations: dict[str, tuple[str, ...]]
    version: str

    def __post_init__(self) -> None:
        self.table.attrs = self.header()

    def header(self) -> dict[str, str]:
        """Give everything but the table as lines: what it is and its text.

        Returns
        -------
        dict of str to str

        Examples
        --------
        >>> import interstage
        >>> study = interstage.grid(
        ...     refrigerant="R-134a",
        ...     arrangement="1 stage",
        ...     isentropic_efficiency=0.8,
        ...     evaporating_temperature=278.15,
        ...     condensing_temperature=310.15,
        ...     capacity=1e6,
        ... )
        >>> study.header()["equation of state, R-134a"].split(":")[0]
        'R. Tillner-Roth, H. D. Baehr'
        """
        lines = {"interstage": self.version, "basis": "; ".join(self.basis)}
        lines |= {f"held, {what}": text for what, text in self.held.items()}
        lines |= {f"equation of state, {name}": "; ".join(papers) for name, papers in self.citations.items()}
        return {**lines, "caution": _CAUTION}

    def conclusions(self) -> Any:
        """Say which circuit of each pair is better on each basis, and where that depends on the basis.

        Circuits (the machines of a grid, the refrigerants of a `what_if`) are ranked by the COP, on equal
        inlet volumes by the capacity, row by row at the same conditions.

        Returns
        -------
        pandas.DataFrame
            A row for each pair of circuits and basis: ``first``, ``second``, ``basis``, ``figure`` that
            decides, ``better`` (a label; ``"equal"``, ``"depends on the conditions"`` or ``"cannot tell"``),
            lowest and highest ``advantage of the first [%]`` over the conditions, ``rows`` that could be
            compared, and ``sign_changes``: whether another basis says otherwise at one condition or more.

        Examples
        --------
        >>> import interstage
        >>> stage = interstage.Stage(polytropic_efficiency=0.8)
        >>> study = interstage.compare(
        ...     {
        ...         name: interstage.Circuit(interstage.Refrigerant(name), stages=[stage])
        ...         for name in ("R-123", "R-134a")
        ...     },
        ...     basis=["same saturation temperatures", "same inlet volume"],
        ...     evaporating_temperature=278.15,
        ...     condensing_temperature=310.15,
        ...     capacity=1e6,
        ... )
        >>> conclusions = study.conclusions()
        >>> conclusions["better"].tolist(), conclusions["sign_changes"].tolist()
        (['R-123', 'R-134a'], [True, True])
        """
        labels = list(dict.fromkeys(self.table[self._labels()].tolist()))
        found = {basis: {label: self._merit(basis, label) for label in labels} for basis in self.basis}
        rows = [row for pair in combinations(labels, 2) for row in _verdicts(pair, found)]
        return _needed.pandas().DataFrame(rows)

    def bars(self, figure: str = "cop", ax: Any = None, *, condition: Any = None) -> Any:
        """Draw a figure of every circuit as bars, by basis; needs matplotlib.

        Behind a COP or kW/ton stands in brackets what is saved against the reference of `compare` and
        `what_if`, of a `grid` against the same machine without economizers.

        Parameters
        ----------
        figure : str, optional
            Any column of numbers of the table, without its unit: ``"economizer_benefit"``, ``"capacity"``.
        ax : matplotlib Axes, optional
        condition : label, optional
            One condition of the study. Of several the median is drawn, with a line from lowest to highest.

        Returns
        -------
        matplotlib Axes

        Raises
        ------
        UnknownOption
            If the table has no such figure or condition.

        Examples
        --------
        >>> import interstage
        >>> study = interstage.grid(
        ...     refrigerant="R-134a",
        ...     arrangement=["2 stages", "2 stages: tank@2"],
        ...     polytropic_efficiency=0.8,
        ...     evaporating_temperature=278.15,
        ...     condensing_temperature=310.15,
        ...     capacity=1e6,
        ... )
        >>> ax = study.bars("economizer_benefit")
        >>> [round(float(bar.get_width()), 2) for bar in ax.patches]
        [0.0, 7.48]
        """
        return _charts_study.bars(self, figure, condition, ax)

    def against_lift(self, figure: str = "economizer_benefit", ax: Any = None) -> Any:
        """Draw a figure over the refrigerant lift, a line for each circuit; needs matplotlib.

        Parameters
        ----------
        figure : str, optional
            Any column of numbers of the table, without its unit.
        ax : matplotlib Axes, optional

        Returns
        -------
        matplotlib Axes
            Where evaporating temperatures, subcooling and the like differ too, each of them has its own line.

        Raises
        ------
        UnknownOption
            If the table has no such figure.

        Examples
        --------
        >>> import interstage
        >>> study = interstage.grid(
        ...     refrigerant="R-134a",
        ...     arrangement=["2 stages: tank@2", "3 stages: tank@3, tank@2"],
        ...     polytropic_efficiency=0.8,
        ...     evaporating_temperature=278.15,
        ...     condensing_temperature=[290.15, 300.15, 310.15],
        ...     capacity=1e6,
        ... )
        >>> ax = study.against_lift()
        >>> ax.lines[0].get_xdata().round(6).tolist()
        [12.0, 22.0, 32.0]
        """
        return _charts_study.against_lift(self, figure, ax)

    def head_bars(self, ax: Any = None, *, condition: Any = None) -> Any:
        """Draw how the stages of every circuit share the head, in per cent; needs matplotlib.

        Parameters
        ----------
        ax : matplotlib Axes, optional
        condition : label, optional
            One condition of the study; of several the mean is drawn.

        Returns
        -------
        matplotlib Axes
        """
        return _charts_study.study_heads(self, condition, ax)

    def _labels(self) -> str:
        """Name of the column that tells the circuits apart."""
        return "circuit" if "circuit" in self.table.columns else "machine"

    def _merit(self, basis: str, label: str) -> Any:
        rows = self.table[(self.table["basis"] == basis) & (self.table[self._labels()] == label)]
        figure = MERITS[basis]
        (column,) = (name for name in rows.columns if name.split(" [")[0] == figure)
        return rows[column].to_numpy()

    def to_csv(self, path: str | PathLike[str]) -> None:
        """Write the table with the header as lines of comment before it.

        ``pandas.read_csv(path, comment="#")`` reads the table back.

        Parameters
        ----------
        path : str or path

        Examples
        --------
        >>> import interstage, pathlib, tempfile
        >>> study = interstage.grid(
        ...     refrigerant="R-134a",
        ...     arrangement="1 stage",
        ...     isentropic_efficiency=0.8,
        ...     evaporating_temperature=278.15,
        ...     condensing_temperature=310.15,
        ...     capacity=1e6,
        ... )
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     path = pathlib.Path(folder, "study.csv")
        ...     study.to_csv(path)
        ...     print(path.read_text().splitlines()[1])
        # basis: same saturation temperatures
        """
        with open(path, "w", encoding="utf-8", newline="\n") as file:
            for what, text in self.header().items():
                file.write(f"# {what}: {' '.join(text.split())}\n")
            self.table.to_csv(file, index=False, lineterminator="\n")

    def to_parquet(self, path: str | PathLike[str]) -> None:
        """Write the table with the header as its metadata; needs pyarrow.

        ``pandas.read_parquet(path)`` reads the table back, with the header in its ``attrs``.

        Parameters
        ----------
        path : str or path

        Examples
        --------
        >>> import interstage, pathlib, tempfile, pandas
        >>> study = interstage.grid(
        ...     refrigerant="R-134a",
        ...     arrangement="1 stage",
        ...     isentropic_efficiency=0.8,
        ...     evaporating_temperature=278.15,
        ...     condensing_temperature=310.15,
        ...     capacity=1e6,
        ... )
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     path = pathlib.Path(folder, "study.parquet")
        ...     study.to_parquet(path)
        ...     pandas.read_parquet(path).attrs["held, stage efficiency"]
        'isentropic 0.8 in every stage'
        """
        self.table.to_parquet(path, index=False)

    def __repr__(self) -> str:
        unsolved = int((self.table["status"] != "ok").sum())
        rest = f", {unsolved} without result" if unsolved else ""
        return f"Study({'; '.join(self.basis)}: {len(self.table)} rows{rest})"

    def _repr_html_(self) -> str:
        texts = {"held": self.held, "equations of state": _joined(self.citations)}
        lists = "".join(
            f"<details><summary>{what}</summary><ul>"
            + "".join(f"<li>{html.escape(f'{name}: {text}')}</li>" for name, text in lines.items())
            + "</ul></details>"
            for what, lines in texts.items()
        )
        return super()._repr_html_() + lists

    def _as_tables(self) -> list[_tables.Table]:
        shown = self.table.head(_tables.MOST_ROWS)
        columns = {name: shown[name].tolist() for name in shown.columns if not shown[name].isna().all()}
        caption = f"{'; '.join(self.basis)}: {len(self.table)} rows, interstage {self.version}"
        return [_tables.table(columns, caption)]


def _joined(papers: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    return {name: "; ".join(texts) for name, texts in papers.items()}


def _signs(advantage: Any) -> Any:
    """1 where the first is better, -1 where the second is, 0 where they are equal, NaN where nobody knows."""
    with np.errstate(invalid="ignore"):
        return np.where(np.abs(advantage) < _EQUAL, 0.0, np.sign(advantage))


def _verdicts(pair: tuple[str, str], found: Mapping[str, Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Compare two circuits on every basis."""
    first, second = pair
    advantages = {basis: merits[first] / merits[second] - 1.0 for basis, merits in found.items()}
    signs = {basis: _signs(advantage) for basis, advantage in advantages.items()}
    # Opposite signs at the same condition; equal is no opposite.
    changes = any(bool(np.any(signs[one] * signs[other] < 0.0)) for one, other in combinations(signs, 2))
    rows = []
    for basis, advantage in advantages.items():
        known = signs[basis][~np.isnan(signs[basis])]
        told = set(known.tolist())
        if not told:
            better = "cannot tell"
        elif len(told) > 1:
            better = "depends on the conditions"
        else:
            better = {1.0: first, -1.0: second, 0.0: "equal"}[told.pop()]
        rows.append(
            {
                "first": first,
                "second": second,
                "basis": basis,
                "figure": MERITS[basis],
                "better": better,
                "lowest advantage of the first [%]": 100.0 * np.nanmin(advantage) if known.size else math.nan,
                "highest advantage of the first [%]": 100.0 * np.nanmax(advantage)
                if known.size
                else math.nan,
                "rows": int(known.size),
                "sign_changes": changes,
            }
        )
    return rows

"""Evidence period by period: when a fault is seen first and last."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from interstage import _analysed, _charts_evidence, _needed, _tables
from interstage._departures import Expectation, departures
from interstage._evidence import Evidence, weigh_evidence
from interstage._progress import bar
from interstage._shown import Tabular

if TYPE_CHECKING:
    from interstage._evidence import _Condenser


@dataclass(frozen=True)
class Findings(Tabular):
    """Evidence of one period after the other. Made by `evidence_over_time`.

    Attributes
    ----------
    periods : tuple
        Label of the first row of each period.
    evidence : tuple of Evidence
        What each period says.
    without_period : int
        Rows left out because they belong to no period: their time or label is missing.
    """

    periods: tuple[Any, ...]
    evidence: tuple[Evidence, ...]
    without_period: int = 0

    def __len__(self) -> int:
        return len(self.periods)

    def _columns(self) -> dict[str, list[Any]]:
        best = [item.suspicions[0] if item.suspicions else None for item in self.evidence]
        return {
            "period": list(self.periods),
            "rows": [max((found.rows for found in item.departures), default=0) for item in self.evidence],
            "verdict": [item.verdict for item in self.evidence],
            "likeliest": [item.fault if item and item.odds > 0.0 else "" for item in best],
            "log odds against no fault [-]": [item.odds if item else np.nan for item in best],
            "reason": [item.reason for item in self.evidence],
        }

    def table(self) -> Any:
        """Periods with their verdicts as a pandas DataFrame."""
        return _needed.pandas().DataFrame(self._columns())

    def faults(self) -> Any:
        """Faults that were named, as a pandas DataFrame: one row for each stretch of periods without a break.

        The first and the last row are those of the figures that speak for the fault.
        """
        stretches: list[list[Evidence]] = []
        before = "cannot tell"
        for item in self.evidence:
            if item.verdict != "cannot tell":
                if item.verdict != before:
                    stretches.append([])
                stretches[-1].append(item)
            before = item.verdict
        return _needed.pandas().DataFrame(
            {
                "fault": [items[0].verdict for items in stretches],
                "first row": [min(d.first for d in items[0].suspicions[0].supporting) for items in stretches],
                "last row": [max(d.last for d in items[-1].suspicions[0].supporting) for items in stretches],
                "periods": [len(items) for items in stretches],
                "check": [items[0].suspicions[0].check for items in stretches],
            }
        )

    def over_time(self, ax: Any = None) -> Any:
        """Draw the verdict of each period over time; needs matplotlib.

        Parameters
        ----------
        ax : matplotlib Axes, optional

        Returns
        -------
        matplotlib Axes
            A lane for each fault that was named or fitted best, the last one for "cannot tell".
        """
        return _charts_evidence.findings_over_time(self, ax)

    def _as_tables(self) -> list[_tables.Table]:
        columns = self._columns()
        named = [place for place, verdict in enumerate(columns["verdict"]) if verdict != "cannot tell"]
        shown = {name: [column[place] for place in named] for name, column in columns.items()}
        return [_tables.table(shown, f"{len(named)} of {len(self)} periods name a fault{self._lost()}")]

    def __repr__(self) -> str:
        named = sorted({item.verdict for item in self.evidence} - {"cannot tell"})
        return f"Findings({len(self)} periods: {', '.join(named) or 'no fault named'}{self._lost()})"

    def _lost(self) -> str:
        return f"; {self.without_period} rows belong to no period" if self.without_period else ""


def evidence_over_time(
    frame: Any,
    baselines: Mapping[str, Expectation],
    *,
    period: Any,
    block: str,
    where: Any = None,
    drift: Mapping[str, float] | None = None,
    condenser: _Condenser | None = None,
    tank: bool = False,
    progress: bool | None = None,
) -> Findings:
    """Weigh the evidence of one period after the other.

    Parameters
    ----------
    frame, baselines, where, drift
        As in `departures`; the index of the frame holds times.
    period : str or sequence
        A step of time such as ``"D"``, or a label for each row, such as its week.
    block : str
        Step of time of rows that count as one, as in `departures`; shorter than the period.
    condenser, tank
        As in `weigh_evidence`.
    progress : bool, optional
        Whether a bar shows the progress, which needs tqdm; unless given, only of long runs in a terminal or a
        notebook.

    Returns
    -------
    Findings
    """
    frame = _analysed.pandas_frame("frame", frame)
    chosen = _analysed.rows_chosen("where", frame, where)
    timed = ~np.asarray(frame.index.isna())
    period = (
        period if isinstance(period, str) or np.shape(period) != timed.shape else np.asarray(period)[timed]
    )
    lost = int((chosen & ~timed).sum())
    frame, chosen = frame[timed], chosen[timed]
    labels = _analysed.block_labels(frame, period)
    # Missing labels are numbered -1.
    lost += int((chosen & (labels < 0)).sum())
    chosen = chosen & (labels >= 0)
    starts, evidence = [], []
    for label in bar(np.unique(labels[chosen]).tolist(), progress, len(frame) > 500_000, "period"):
        rows = (labels == label) & chosen
        part = frame[rows]
        found = departures(part, baselines, block=block, drift=drift)
        evidence.append(weigh_evidence(found, condenser=condenser, tank=tank))
        starts.append(part.index[0])
    return Findings(tuple(starts), tuple(evidence), lost)

"""What can be seen with the instruments there are, and which added reading would help most."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from interstage import _core, _needed
from interstage._accuracy import COVERAGE, Accuracy, _scale
from interstage._analysed import refuse_below
from interstage._beside import UNITS, Beside, beside
from interstage._departures import _OF_MEDIAN, DRIFT, Departure, _kind, refuse_drift
from interstage._evidence import _condenser_kind, weigh_evidence
from interstage._instance import must_be
from interstage._progress import bar
from interstage._reconciliation import _BALANCES, Reconciliation, _nearest
from interstage._shown import Shown
from interstage._signatures import SIGNATURES, Signature
from interstage._trend import Trend
from interstage._uncertain_figures import UncertainFigures
from interstage._uncertainty import Uncertainty
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

if TYPE_CHECKING:
    from interstage._evidence import _Condenser

__all__ = ["Visible", "added_readings", "smallest_visible"]

#: A departure of so many standard uncertainties lies beyond its 95 % interval, as `departures` tells it, in
#: 19 of 20 cases: the half width of that interval and the one-sided 95 % quantile of a normal distribution.
#: A detection limit by ISO 11843 (from memory), but of an interval with two sides.
_DETECTION = COVERAGE + 1.645

#: Rows from which a bar shows the progress.
_LONG = 5_000

#: What a fault is seen against.
AGAINST = ("baseline", "design")


@dataclass(frozen=True)
class Visible(Shown):
    """The smallest departure of one figure on which a fault shows, or why it does not. SI units."""

    fault: str
    figure: str
    direction: str
    #: Departure that `departures` sees 19 times out of 20; None where the figure cannot be told.
    smallest: float | None
    #: The same per mean of the figure, for figures that are no temperatures or differences of them.
    relative: float | None
    unit: str
    #: What it mostly comes from: an instrument, or how far a sound machine wanders.
    dominant: str
    #: Why nothing can be told.
    reason: str
    #: What `weigh_evidence` calls the fault where all figures at hand go its way, which may be more than one
    #: fault; empty where it names none.
    named: str = ""
    #: What the figure follows from where it is not read: a water flow from its range and the heat.
    by: str = ""


class _Visibles(list[Visible], Shown):
    """What is visible, which notebooks show as one table."""


def smallest_visible(
    told: UncertainFigures,
    *,
    rows: Any = None,
    independent_rows: float | None = None,
    against: str = "baseline",
    drift: Mapping[str, float] | None = None,
    condenser: _Condenser | None = None,
) -> list[Visible]:
    """Tell the smallest departures on which each fault shows with these instruments.

    That a figure departs visibly names no fault yet: `named` says what several together would. A flow of
    water that is not read is told by its range at a known heat: `by` says which, as of plain water. The heat
    is that of the refrigerant or, in the condenser, capacity and power, of which the same share is lost.

    Parameters
    ----------
    told : UncertainFigures
        Figures with their intervals.
    rows : array of bool, optional
        Rows at the conditions in question; all unless given.
    independent_rows : float, optional
        How many rows count as independent in the mean that is compared; all that tell the figure unless
        given.
    against : str, optional
        ``"baseline"``: the machine's own, with the same instruments, whose biases fall out; or ``"design"``:
        figures from elsewhere, where biases count.
    drift : mapping of str to float, optional
        Figure -> standard deviation (SI) of how far a sound machine wanders from period to period. Common
        practice unless given, the same as `departures` takes.
    condenser : {"holds liquid", "drains freely"}, optional
        As in `weigh_evidence`: decides whether subcooling or pressure above that of the liquid counts.

    Returns
    -------
    list of Visible
        Notebooks show it as a table.
        One entry for each figure that a fault moves for certain, fault by fault.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)]
    ... )
    >>> columns = {"condenser_pressure": ("p", "kPa"), "condenser_water_leaving": ("t", "degC")}
    >>> accuracies = {
    ...     "condenser_pressure": interstage.Accuracy(1.0, unit="percent"),
    ...     "condenser_water_leaving": interstage.Accuracy(0.1, random=0.1, unit="K"),
    ... }
    >>> uncertainty = interstage.Uncertainty(interstage.Trend(circuit, columns), accuracies)
    >>> told = uncertainty.analyse({"p": [937.24], "t": [35.0]})
    >>> seen = [entry for entry in interstage.smallest_visible(told) if entry.fault == "condenser fouling"]
    >>> {entry.figure: entry.smallest and round(entry.smallest, 2) for entry in seen}
    {'condensing_temperature': 0.72, 'condenser_approach': 0.59, 'condenser_ua': None}
    >>> {entry.named for entry in seen}  # a condenser pressure that drifts would do the same
    {''}
    >>> [entry.reason.split(" and ")[0] for entry in seen if entry.figure == "condenser_ua"]
    ['needs condenser_water_entering']
    """
    must_be("told", told, UncertainFigures)
    if against not in AGAINST:
        raise UnknownOption(
            f"against must be one of {', '.join(AGAINST)}, got {against!r}",
            argument="against",
            value=str(against),
            options=AGAINST,
        )
    if independent_rows is not None:
        refuse_below("independent_rows", independent_rows, 1.0, "rows")
    amounts = refuse_drift(drift)
    unused, why = _condenser_kind(condenser)
    known = told.result.figures
    found = []
    for signature in SIGNATURES:
        for figure, sign in signature.signs.items():
            if sign not in ("up", "down"):
                continue
            names = [name for name in known if _kind(name) == figure] or [figure]
            for name in names:
                if figure in unused:
                    found.append(Visible(signature.fault, name, sign, None, None, _unit(told, name), "", why))
                    continue
                found.append(
                    _visible(told, signature.fault, name, sign, rows, independent_rows, against, amounts)
                )
    blind = {one.figure for one in found if one.smallest is None}
    told_of = {name for name in told.figures if _kind(name) in DRIFT and name not in blind}
    # What follows from others departs with them and is no evidence of its own.
    told_of |= {
        one.figure for one in found if one.figure in UNITS and one.smallest is not None and not one.by
    }
    named = {signature.fault: _named(signature, told_of, condenser) for signature in SIGNATURES}
    return _Visibles(replace(one, named=named[one.fault]) for one in found)


def _named(signature: Signature, figures: set[str], condenser: _Condenser | None) -> str:
    """What the evidence is called when figures go the way of a fault; empty where it names none of it."""
    size = {"up": _DETECTION, "down": -_DETECTION}
    found = []
    for name in sorted(figures):
        score = size.get(signature.sign(_kind(name)) or "", 0.0)
        found.append(Departure(name, score, COVERAGE, 0.0, 1, 1, None, None, None))
    tank = any(name != _kind(name) for name in figures)
    evidence = weigh_evidence(found, condenser=condenser, tank=tank)
    told = evidence.verdict != "cannot tell" and signature.fault in evidence.suspicions[0].faults
    return evidence.verdict if told else ""


def _visible(
    told: UncertainFigures,
    fault: str,
    figure: str,
    direction: str,
    rows: Any,
    independent_rows: float | None,
    against: str,
    drift: Mapping[str, float],
) -> Visible:
    unit = _unit(told, figure)
    other: Beside | None = None
    try:
        if figure in UNITS:
            other = beside(told, figure)
            mean = told._mean(figure, other.values, other.slopes, rows)
        elif figure in told.figures:
            mean = told.mean(figure, rows)
        else:
            reason = "its interval is not that of a figure of a row"
            if figure in told.result.figures:
                reason = told.result.unavailable.get(figure, "no interval was asked for")
            return Visible(fault, figure, direction, None, None, unit, "", reason)
    except Inconsistent as error:
        return Visible(fault, figure, direction, None, None, unit, "", error.reason)
    kind_of, amount = DRIFT[_kind(figure)]
    wander = amount * abs(mean.value) if kind_of == "fraction" else amount
    if other is not None and other.wander is not None:
        wander = other.wander * abs(mean.value)
    wander = drift.get(figure, wander)
    # `departures` takes medians, which scatter more than means.
    random = _OF_MEDIAN * mean.random / COVERAGE * np.sqrt(mean.rows / (independent_rows or mean.rows))
    # Of the two means that are compared one is the baseline's, over many more rows.
    bias = mean.bias / COVERAGE if against == "design" else 0.0
    parts = {"how far a sound machine wanders": wander, "instruments": float(np.hypot(random, bias))}
    dominant = max(parts, key=lambda name: parts[name])
    smallest = _DETECTION * float(np.sqrt(sum(part**2 for part in parts.values())))
    level = unit != "K" and figure != "apparent_gas_pressure" and mean.value != 0.0
    relative = smallest / abs(mean.value) if level else None
    named = mean.dominant if dominant == "instruments" else dominant
    by = "" if other is None else other.by
    return Visible(fault, figure, direction, smallest, relative, unit, named, "", by=by)


def _unit(told: UncertainFigures, figure: str) -> str:
    if figure in UNITS:
        return UNITS[figure]
    return _core._figure_unit(figure)[0] if figure in told.result.figures else ""


def added_readings(
    uncertainty: Uncertainty,
    table: Any,
    figure: str,
    candidates: Mapping[str, Accuracy],
    *,
    typical: Mapping[str, float] | None = None,
    lost_share: tuple[float, float] | None = None,
    drive_share: tuple[float, float] | None = None,
    progress: bool | None = None,
) -> Any:
    """Tell which added reading would shrink the interval of a figure most.

    A candidate that is read already is a second instrument for it, of its own bias. One that is not read
    needs a typical value; where it completes a balance of `Reconciliation` the figure is told by that too.

    Parameters
    ----------
    uncertainty : Uncertainty
    table : pandas.DataFrame
    figure : str
    candidates : mapping
        Reading -> accuracy of the instrument that might be added.
    typical : mapping of str to float, optional
        Reading that is not there yet -> typical value in SI.
    lost_share, drive_share : (float, float), optional
        As in `Reconciliation`; without them balances that need them are not used.
    progress : bool, optional
        As in `Trend.analyse`: a bar over the candidates.

    Returns
    -------
    pandas.DataFrame
        ``reading``, ``before`` and ``after`` (median half widths, SI), ``shrinks_to`` (their ratio) and
        ``by``; the most helpful first.
    """
    must_be("uncertainty", uncertainty, Uncertainty)
    must_be("candidates", candidates, Mapping)
    if not candidates:
        raise WrongArgument("candidates must name at least one reading", argument="candidates")
    told = uncertainty.analyse(table, figures=[figure], progress=False)
    slopes = told._at(figure)
    before = COVERAGE * np.sqrt(told._variances(figure).sum(axis=1))
    good = np.isfinite(before)
    if not good.any():
        reason = f"none of the rows tells {figure}"
        raise Inconsistent(
            f"figure and table contradict each other: {reason}", arguments="figure and table", reason=reason
        )
    names = list(uncertainty.accuracies)
    found = []
    for candidate in bar(list(candidates), progress, len(told) > _LONG, "candidate"):
        accuracy = candidates[candidate]
        name, _ = _core._reading(candidate)
        if not isinstance(accuracy, Accuracy):
            raise WrongArgument(
                f"candidates[{candidate!r}] must be an Accuracy, got {accuracy!r}", argument="candidates"
            )
        scale, relative = _scale(name, accuracy.unit)
        if name in names:
            place = names.index(name)
            old = told._bias[:, place] ** 2 + told._random[:, place] ** 2
            size = np.abs(told._readings[:, place]) if relative else 1.0
            new = (np.hypot(accuracy.bias, accuracy.random) * scale / COVERAGE * size) ** 2
            with np.errstate(invalid="ignore", divide="ignore"):
                both = np.where(old + new > 0.0, old * new / (old + new), 0.0)
            less = slopes[:, place] ** 2 * (old - both)
            after = COVERAGE * np.sqrt(np.clip((before / COVERAGE) ** 2 - less, 0.0, None))
            by = "a second instrument"
        else:
            after, by = _by_balances(
                uncertainty, table, figure, (name, accuracy), typical or {}, (lost_share, drive_share)
            )
            after = before if after is None else after
        now, then = float(np.median(before[good])), float(np.nanmedian(after[good]))
        found.append({"reading": name, "before": now, "after": then, "shrinks_to": then / now, "by": by})
    return _needed.pandas().DataFrame(found).sort_values("after", ignore_index=True)


def _by_balances(
    uncertainty: Uncertainty,
    table: Any,
    figure: str,
    added: tuple[str, Accuracy],
    typical: Mapping[str, float],
    shares: tuple[tuple[float, float] | None, tuple[float, float] | None],
) -> tuple[Any, str]:
    """Half widths of a figure with a reading that completes balances; None where it completes none."""
    name, accuracy = added
    if name not in typical:
        unit = _core._reading(name)[1]
        raise WrongArgument(
            f"typical must hold a value for {name} ({unit}), because no column reads it", argument="typical"
        )
    trend = uncertainty.trend
    declared = {*uncertainty.accuracies, name}
    column = f"added {name}"
    readings = {**trend._readings, name: (column, _core._reading(name)[1])}
    larger = Uncertainty(
        Trend(trend.circuit, readings, **trend._options),
        {**uncertainty.accuracies, name: accuracy},
        common=uncertainty.common,
    )
    usable = []
    for balance, (figures, needed) in _BALANCES.items():
        share = {"water_heat": shares[0], "compression_power": shares[1]}.get(balance, (0.0, 0.0))
        ways = set(needed).union(*(_nearest(larger, one) for one in figures))
        if share is not None and ways <= declared and name in ways:
            usable.append(balance)
    if not usable:
        return None, "no balance that it completes tells the figure"
    reconciliation = Reconciliation(larger, usable, lost_share=shares[0], drive_share=shares[1])
    filled = table.assign(**{column: typical[name]})
    half = np.asarray(reconciliation.analyse(filled, progress=False).half_width(figure), dtype=np.float64)
    return half, f"balance: {', '.join(usable)}"

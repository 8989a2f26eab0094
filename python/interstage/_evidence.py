"""Evidence: which faults would make figures depart as they do."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, TypeAlias

from interstage import _analysed, _charts_evidence, _needed, _tables
from interstage._departures import _COVERAGE, Departure
from interstage._shown import Shown, Tabular
from interstage._signatures import GROUPS, RESTS_ON, SIGNATURES, UNUSED, Signature
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

__all__ = ["Evidence", "Suspicion", "weigh_evidence"]

#: Size of the departures that a fault worth naming causes, and its standard deviation, in standard deviations
#: of a departure without a fault. Our choice, no published source.
_FAULT, _FAULT_SPREAD = 4.0, 2.0

#: Share of departures that come from neither noise nor fault, and their size: bounds what one figure weighs.
_STRAY, _STRAY_SIZE = 0.02, 10.0

#: A departure beyond this counts as this: how large it is depends on the fault and tells no more of its kind.
_LARGEST = 6.0

if TYPE_CHECKING:
    from interstage._signatures import _Sign

    _Condenser: TypeAlias = Literal["holds liquid", "drains freely"]


@dataclass(frozen=True)
class Suspicion(Shown):
    """How well one fault explains the departures.

    Attributes
    ----------
    fault : str
        Faults that do the same to all the figures at hand are one suspicion: ``"... or ..."``.
    odds : float
        Natural logarithm of how much likelier the departures are with the fault than without any.
    supporting, contradicting : tuple of Departure
        Clear departures that the fault explains; those that it does not, or that it lets expect in vain.
    check : str
        Who looks at what before anything is concluded.
    seen, missed : int
        Groups of figures that should depart with the fault and clearly do, and that do not at all.
    faults : tuple of str
        The faults of the suspicion, more than one where nothing at hand tells them apart.
    """

    fault: str
    odds: float
    supporting: tuple[Departure, ...]
    contradicting: tuple[Departure, ...]
    check: str
    seen: int
    missed: int
    faults: tuple[str, ...]


@dataclass(frozen=True)
class Evidence(Tabular):
    """What the departures of a period say about faults. Made by `weigh_evidence`.

    Attributes
    ----------
    verdict : str
        The fault that explains the departures clearly better than all others and than none, or
        ``"cannot tell"``.
    reason : str
        Why, in words.
    departures : tuple of Departure
    suspicions : tuple of Suspicion
        Every fault that is possible, the likeliest first.
    not_used : dict
        Figures that were left out -> why.
    not_weighed : dict
        Faults of which nothing can be said -> why.
    clear : float
        How far the likeliest fault had to be above the others and above none, as a logarithm of odds.
    """

    verdict: str
    reason: str
    departures: tuple[Departure, ...]
    suspicions: tuple[Suspicion, ...]
    not_used: Mapping[str, str] = field(default_factory=dict)
    not_weighed: Mapping[str, str] = field(default_factory=dict)
    clear: float = math.log(10.0)

    def table(self) -> Any:
        """Faults, the likeliest first, as a pandas DataFrame."""
        return _needed.pandas().DataFrame(self._columns())

    def _columns(self) -> dict[str, list[Any]]:
        return {
            "fault": [item.fault for item in self.suspicions],
            "log odds against no fault [-]": [item.odds for item in self.suspicions],
            "supported by": [_words(item.supporting) for item in self.suspicions],
            "contradicted by": [_words(item.contradicting) for item in self.suspicions],
            "check": [item.check for item in self.suspicions],
        }

    def departures_table(self) -> Any:
        """Figures and their departures in SI base units as a pandas DataFrame."""
        return _needed.pandas().DataFrame(
            {
                "figure": [item.figure for item in self.departures],
                "expected [SI]": [item.expected for item in self.departures],
                "departure [SI]": [item.shift for item in self.departures],
                "interval [SI]": [item.interval for item in self.departures],
                "departure per standard deviation [-]": [item.score for item in self.departures],
                "rows": [item.rows for item in self.departures],
                "first row": [item.first for item in self.departures],
                "last row": [item.last for item in self.departures],
                "strongest row": [item.strongest for item in self.departures],
            }
        )

    def bars(self, ax: Any = None, *, most: int = 8) -> Any:
        """Draw the odds of the likeliest faults, with what speaks for and against each; needs matplotlib.

        Parameters
        ----------
        ax : matplotlib Axes, optional
        most : int, optional
            How many faults are drawn.

        Returns
        -------
        matplotlib Axes
            A fault that is named is hatched; where none is, the title says that it cannot be told.

        Raises
        ------
        OutOfRange
            If most is below 1.
        """
        return _charts_evidence.evidence_bars(self, most, ax)

    def _as_tables(self) -> list[_tables.Table]:
        columns = {name: column[:5] for name, column in self._columns().items()}
        return [_tables.table(columns, f"{self.verdict}: {self.reason}")]

    def __repr__(self) -> str:
        return f"Evidence({self.verdict!r}: {self.reason})"


def _words(departures: Sequence[Departure]) -> str:
    return ", ".join(
        f"{item.figure} {'up' if item.shift > 0.0 else 'down'} ({item.score:+.1f})" for item in departures
    )


def _log_normal(score: float, spread: float) -> float:
    return -0.5 * (score / spread) ** 2 - math.log(spread) - 0.5 * math.log(2.0 * math.pi)


def _log_likelihood(sign: _Sign | None, score: float) -> float:
    """Logarithm of how likely a departure is under a sign."""
    score = min(max(score, -_LARGEST), _LARGEST)

    def moved(toward: float) -> float:
        return math.exp(_log_normal(score - toward * _FAULT, math.hypot(1.0, _FAULT_SPREAD)))

    still = math.exp(_log_normal(score, 1.0))
    if sign is None:
        likely = 0.5 * still + 0.25 * (moved(1.0) + moved(-1.0))
    elif sign == "same":
        likely = still
    else:
        likely = moved(1.0 if sign.startswith("up") else -1.0)
        if sign.endswith("or same"):
            likely = 0.5 * (still + likely)
    stray = math.exp(_log_normal(score, _STRAY_SIZE))
    return math.log((1.0 - _STRAY) * likely + _STRAY * stray + 1e-300)


def _agrees(sign: _Sign | None, score: float) -> bool:
    """Whether a clear departure goes the way of a sign."""
    return sign is None or sign.startswith("up" if score > 0.0 else "down")


def _condenser_kind(condenser: _Condenser | None) -> tuple[tuple[str, ...], str]:
    """Figures that tell nothing with a kind of condenser, and why."""
    if condenser not in UNUSED:
        options = ("holds liquid", "drains freely")
        raise UnknownOption(
            f"condenser must be 'holds liquid' or 'drains freely', got {condenser!r}",
            argument="condenser",
            value=condenser,
            options=options,
        )
    why = "says nothing for this kind of condenser" if condenser else "the kind of condenser is not known"
    return UNUSED[condenser], why


def weigh_evidence(
    found: Sequence[Departure],
    *,
    condenser: _Condenser | None = None,
    tank: bool = False,
    clear: float = math.log(10.0),
    signatures: Sequence[Signature] = SIGNATURES,
) -> Evidence:
    """Rank the faults that would make figures depart as they do.

    Each fault says of each figure whether it goes up, down or stays. A fault scores by how much likelier the
    departures are with it than without any; figures that share their readings count together as one. A fault
    is named only if two such groups speak for it and no single instrument that drifts would do the same:
    where one reading is behind all of them, another figure that rests on it must have stayed where it was.
    So the evaporator's figures, which all share its pressure, name no fault by themselves. Faults that do the
    same to all the figures at hand are one suspicion. A fault of which more is missing than there is to see
    is not named. Oil pressures are no evidence: they follow the temperature of the oil and differ from start
    to start.

    Parameters
    ----------
    found : sequence of Departure
        From `departures`.
    condenser : {"holds liquid", "drains freely"}, optional
        Where condensers hold liquid, subcooling counts; where they drain freely, pressure above that of the
        liquid counts as gas; of an unknown kind neither does.
    tank : bool, optional
        Whether the machine has a flash tank.
    clear : float, optional
        How far the likeliest fault must be above the second and above none, as a natural logarithm of odds.
        Odds of 10 unless given: our choice, no published source.

    Returns
    -------
    Evidence
        Its verdict is a suspicion to be checked by qualified people, never a diagnosis.

    Examples
    --------
    >>> import interstage
    >>> def moved(figure, mean, interval):
    ...     return interstage.Departure(figure, mean, interval, 1.0, 90, 9, 0, 89, 0)
    >>> found = [
    ...     moved("condenser_water_flow", -0.0018, 0.0003),
    ...     moved("condenser_water_range", 0.5, 0.2),
    ...     moved("condenser_ua", -500.0, 2000.0),
    ...     moved("heat_balance", 0.001, 0.02),
    ... ]
    >>> evidence = interstage.weigh_evidence(found, condenser="holds liquid")
    >>> evidence.verdict
    'low condenser water flow'
    >>> interstage.weigh_evidence([moved("condenser_ua", -500.0, 2000.0)]).verdict
    'cannot tell'
    """
    unused, why = _condenser_kind(condenser)
    _analysed.refuse_below("clear", clear, 0.0, "-", above=True)
    given: Any = found
    found = list(given) if isinstance(given, Iterable) else []
    wrong = [item for item in found if not isinstance(item, Departure)]
    wrong += [] if isinstance(given, Iterable) else [given]
    if wrong:
        raise WrongArgument(
            f"found must hold departures, as `departures` gives them, got {type(wrong[0]).__name__}",
            argument="found",
        )
    names = [item.figure for item in found]
    if len(set(names)) != len(names):
        reason = "a figure departs twice"
        raise Inconsistent(
            f"departures contradict each other: {reason}", arguments="departures", reason=reason
        )
    not_used = {item.figure: why for item in found if item.kind in unused}
    not_used.update(
        {item.figure: "its departure is not a number" for item in found if math.isnan(item.score)}
    )
    used = [item for item in found if item.figure not in not_used]
    not_weighed = {}
    alike: dict[tuple[_Sign | None, ...], list[Signature]] = {}
    for signature in signatures:
        if signature.needs == "tank" and not tank:
            not_weighed[signature.fault] = "the machine has no flash tank"
        elif not any(signature.sign(item.kind) in ("up", "down") for item in used):
            telling = sorted(figure for figure, sign in signature.signs.items() if sign in ("up", "down"))
            not_weighed[signature.fault] = f"needs one of {', '.join(telling)}"
        else:
            alike.setdefault(tuple(signature.sign(item.kind) for item in used), []).append(signature)
    suspicions = [_suspect(members, used) for members in alike.values()]
    suspicions.sort(key=lambda item: -item.odds)
    verdict, reason = _verdict(suspicions, used, clear)
    return Evidence(verdict, reason, tuple(found), tuple(suspicions), not_used, not_weighed, clear)


def _suspect(alike: Sequence[Signature], used: Sequence[Departure]) -> Suspicion:
    """Weigh one fault, or several that do the same to all figures used."""
    signature = alike[0]
    faults = tuple(item.fault for item in alike)
    odds, seen, missed = 0.0, 0, 0
    for group in GROUPS:
        members = [item for item in used if item.kind in group]
        ratios = [
            _log_likelihood(signature.sign(item.kind), item.score) - _log_likelihood("same", item.score)
            for item in members
        ]
        odds += sum(ratios) / len(ratios) if ratios else 0.0
        # How far each figure went the way that the fault sends it.
        toward = [
            item.score if sign == "up" else -item.score
            for item in members
            if (sign := signature.sign(item.kind)) in ("up", "down")
        ]
        if toward:
            seen += max(toward) > _COVERAGE
            missed += max(toward) < 0.5 * _COVERAGE
    supporting: list[Departure] = []
    contradicting: list[Departure] = []
    for item in sorted(used, key=lambda item: -abs(item.score)):
        sign = signature.sign(item.kind)
        if abs(item.score) > _COVERAGE:
            (supporting if _agrees(sign, item.score) else contradicting).append(item)
        elif sign in ("up", "down") and abs(item.score) < 0.5 * _COVERAGE:
            contradicting.append(item)
    return Suspicion(
        fault=" or ".join(faults),
        odds=odds,
        supporting=tuple(supporting),
        contradicting=tuple(contradicting),
        check="; ".join(dict.fromkeys(item.check for item in alike)),
        seen=seen,
        missed=missed,
        faults=faults,
    )


def _own_sensor(best: Suspicion, used: Sequence[Departure]) -> str:
    """Why an instrument that drifts would do the same as the fault; empty where none would."""
    groups = {group for group in GROUPS for item in best.supporting if item.kind in group}
    if len(groups) < 2:
        return f"{_words(best.supporting)} alone cannot be told from a sensor of its own that drifts"
    shared = set.intersection(*(set(RESTS_ON[item.kind]) for item in best.supporting))
    still = [item for item in used if abs(item.score) < _COVERAGE]
    for reading in sorted(shared):
        if not any(reading in RESTS_ON[item.kind] for item in still):
            return (
                f"{_words(best.supporting)} all rest on the {reading}, which would do the same if it drifts"
            )
    return ""


def _verdict(suspicions: Sequence[Suspicion], used: Sequence[Departure], clear: float) -> tuple[str, str]:
    """The fault that stands out, or that none does."""
    if not used or not suspicions:
        return "cannot tell", "no figure could be compared with a baseline"
    best = suspicions[0]
    if best.odds < clear:
        if not any(abs(item.score) > _COVERAGE for item in used):
            reason = "no figure departs beyond its interval; a fault too small to see may be there"
        else:
            seen = _words([item for item in used if abs(item.score) > _COVERAGE])
            reason = f"figures depart ({seen}), but no fault explains that clearly better than none"
        return "cannot tell", reason
    sensor = _own_sensor(best, used)
    if sensor:
        return "cannot tell", f"{best.fault} fits best, but {sensor}"
    if best.seen <= best.missed:
        return "cannot tell", f"{best.fault} fits best, but much that it should show is not there"
    rivals = [item.fault for item in suspicions if best.odds - item.odds < clear]
    if len(rivals) > 1:
        return "cannot tell", f"{' and '.join(rivals)} explain the readings about equally well"
    against = f"; against it: {_words(best.contradicting)}" if best.contradicting else ""
    return best.fault, f"{_words(best.supporting)}{against}; {best.check}"

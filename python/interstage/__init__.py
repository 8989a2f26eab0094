"""Refrigerant properties and economized multi-stage compression cycles of water chillers.

All quantities are SI: K, Pa absolute, J/kg, J/(kg K), kg/m3, W, kg/s. `interstage.units` converts.

Estimates for analysis and teaching: never a protection, and no license to open a refrigerant circuit.

Examples
--------
>>> import interstage
>>> r = interstage.Refrigerant("R-1233zd(E)")
>>> circuit = interstage.Circuit(
...     r, stages=[interstage.Stage(polytropic_efficiency=0.8)] * 2, interstages=[interstage.FlashTank()]
... )
>>> cycle = circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, capacity=3.5e6)
>>> round(cycle.cop, 2), round(cycle.economizer_benefit, 3)
(6.46, 0.058)
"""

from interstage import _core, units
from interstage._accuracy import Accuracy, CommonBias
from interstage._alternatives import (
    EquivalentExpander,
    equivalent_expander_efficiency,
    sensitivity_table,
)
from interstage._analysed import analysed, with_swings
from interstage._baseline import Baseline, BaselineFit, Prediction
from interstage._bases import WaterSide
from interstage._catalogue import catalogue
from interstage._change import Change, why_it_changed
from interstage._checks import Direction, check_directions, check_units
from interstage._chillers import ChillerPoints
from interstage._clock import RepairedTimes, repair_times, time_steps
from interstage._core import (
    Chiller,
    ChillerPoint,
    Circuit,
    Citation,
    ClosedEconomizer,
    CondenserZones,
    Cycle,
    DesignPoint,
    Direct,
    Environment,
    Exchanger,
    FlashTank,
    HeatExchange,
    Impeller,
    IntercooledTank,
    LiquidInjection,
    Orifice,
    OrificeFlow,
    Phases,
    Point,
    Points,
    RatingConditions,
    Refrigerant,
    Saturation,
    Stage,
    StageDuty,
    State,
    VariableUa,
    WaterFlow,
    Zone,
    __version__,
    blends,
    carnot_cop,
    entropic_mean_temperature,
    fouled_ua,
    fouling_allowance,
    fouling_resistance,
    get_threads,
    iplv_from_cop,
    iplv_from_kw_per_ton,
    isentropic_efficiency,
    logarithmic_mean_difference,
    lorenz_cop,
    names,
    polytropic_efficiency,
    rating_tolerance,
    set_threads,
    status_text,
    ua_from_temperatures,
)
from interstage._cycles import Cycles
from interstage._departures import Departure, departures
from interstage._diagrams import Diagram
from interstage._economizer_saving import EconomizerSaving, economizer_saving
from interstage._evidence import Evidence, Suspicion, weigh_evidence
from interstage._findings import Findings, evidence_over_time
from interstage._gas import GasAtRest, gas_at_rest
from interstage._grid import grid
from interstage._identify import Candidate, Identification, identify_refrigerant
from interstage._impossible import impossible_states
from interstage._join import JoinedLogs, join_logs
from interstage._ledger import ExergyLedger
from interstage._operation import Operation
from interstage._pressure_sweep import PressureSweep, sweep_pressures
from interstage._pressure_table import PressureTable
from interstage._quality import Quality, assess_quality, quality_flags, quality_text
from interstage._readings import Readings
from interstage._reconcile import ReconciledVector, reconcile
from interstage._reconciliation import Reconciled, Reconciliation
from interstage._remarks import remark_text, remarks
from interstage._schematic import Schematic
from interstage._shortfall import Shortfall, shortfall
from interstage._signatures import SIGNATURES, Signature
from interstage._states import Saturations, States
from interstage._steady import Steady, SteadyLimit, steady_state
from interstage._studies import compare
from interstage._study import Study
from interstage._summary import Summary, summarize
from interstage._trend import Trend
from interstage._trend_result import TrendResult
from interstage._uncertain_figures import MeanFigure, UncertainFigures
from interstage._uncertainty import Uncertainty
from interstage._visible import Visible, added_readings, smallest_visible
from interstage._water_loop import WaterLoop
from interstage._what_if import what_if
from interstage._working import Working
from interstage.errors import (
    Inconsistent,
    InterstageError,
    NotConverged,
    NotFinite,
    NotPublished,
    OutOfRange,
    PairNotPublished,
    ReferenceUnavailable,
    Undefined,
    UnknownOption,
    UnknownPoint,
    UnknownRefrigerant,
    WrongArgument,
    WrongLength,
)

__all__ = [
    "SIGNATURES",
    "Accuracy",
    "Baseline",
    "BaselineFit",
    "Candidate",
    "Change",
    "Chiller",
    "ChillerPoint",
    "ChillerPoints",
    "Circuit",
    "Citation",
    "ClosedEconomizer",
    "CommonBias",
    "CondenserZones",
    "Cycle",
    "Cycles",
    "Departure",
    "DesignPoint",
    "Diagram",
    "Direct",
    "Direction",
    "EconomizerSaving",
    "Environment",
    "EquivalentExpander",
    "Evidence",
    "Exchanger",
    "ExergyLedger",
    "Findings",
    "FlashTank",
    "GasAtRest",
    "HeatExchange",
    "Identification",
    "Impeller",
    "Inconsistent",
    "IntercooledTank",
    "InterstageError",
    "JoinedLogs",
    "LiquidInjection",
    "MeanFigure",
    "NotConverged",
    "NotFinite",
    "NotPublished",
    "Operation",
    "Orifice",
    "OrificeFlow",
    "OutOfRange",
    "PairNotPublished",
    "Phases",
    "Point",
    "Points",
    "Prediction",
    "PressureSweep",
    "PressureTable",
    "Quality",
    "RatingConditions",
    "Readings",
    "Reconciled",
    "ReconciledVector",
    "Reconciliation",
    "ReferenceUnavailable",
    "Refrigerant",
    "RepairedTimes",
    "Saturation",
    "Saturations",
    "Schematic",
    "Shortfall",
    "Signature",
    "Stage",
    "StageDuty",
    "State",
    "States",
    "Steady",
    "SteadyLimit",
    "Study",
    "Summary",
    "Suspicion",
    "Trend",
    "TrendResult",
    "UncertainFigures",
    "Uncertainty",
    "Undefined",
    "UnknownOption",
    "UnknownPoint",
    "UnknownRefrigerant",
    "VariableUa",
    "Visible",
    "WaterFlow",
    "WaterLoop",
    "WaterSide",
    "Working",
    "WrongArgument",
    "WrongLength",
    "Zone",
    "__version__",
    "added_readings",
    "analysed",
    "assess_quality",
    "blends",
    "carnot_cop",
    "catalogue",
    "check_directions",
    "check_units",
    "compare",
    "departures",
    "economizer_saving",
    "entropic_mean_temperature",
    "equivalent_expander_efficiency",
    "evidence_over_time",
    "fouled_ua",
    "fouling_allowance",
    "fouling_resistance",
    "gas_at_rest",
    "get_threads",
    "grid",
    "identify_refrigerant",
    "impossible_states",
    "iplv_from_cop",
    "iplv_from_kw_per_ton",
    "isentropic_efficiency",
    "join_logs",
    "logarithmic_mean_difference",
    "lorenz_cop",
    "names",
    "polytropic_efficiency",
    "quality_flags",
    "quality_text",
    "rating_tolerance",
    "reconcile",
    "remark_text",
    "remarks",
    "repair_times",
    "sensitivity_table",
    "set_threads",
    "shortfall",
    "smallest_visible",
    "status_text",
    "steady_state",
    "summarize",
    "sweep_pressures",
    "time_steps",
    "ua_from_temperatures",
    "units",
    "weigh_evidence",
    "what_if",
    "why_it_changed",
    "with_swings",
]

_core._fetch()

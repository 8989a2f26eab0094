"""What is written about each component of a solved cycle, and about the whole of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from interstage import _core
from interstage._sheet import Sheet
from interstage._study_rows import economized, without_economizers
from interstage.errors import InterstageError


@dataclass(frozen=True)
class _Balance:
    """Points and flows of what enters and leaves a component."""

    component: str
    inlets: tuple[str, ...]
    outlets: tuple[str, ...]
    work: float

    @classmethod
    def of(cls, balance: Mapping[str, Any]) -> _Balance:
        return cls(balance["component"], tuple(balance["inlets"]), tuple(balance["outlets"]), balance["work"])


def _sum(*terms: str) -> str:
    return " + ".join(terms)


class Writer:
    """Writes the working of a cycle, component by component."""

    def __init__(self, cycle: _core.Cycle, units: str) -> None:
        self.cycle = cycle
        self.circuit = cycle.circuit
        self.sheet = Sheet(cycle, units)
        self._units = units
        self._conditions: dict[str, float] = cycle.to_dict()["conditions"]
        self._flow = self.sheet.unit("mass_flow")
        self._rate = self.sheet.unit("energy_flow")
        self._enthalpy = self.sheet.unit("h")

    def write(self) -> None:
        """Write everything."""
        for each in self.cycle.balances():
            balance = _Balance.of(each)
            # Where a stream divides, what enters a component is a part of the flow at its point.
            flows = {**each["inlets"], **each["outlets"]}
            own = {
                f"m_{place}": self.sheet.shown("mass_flow", flow)
                for place, flow in enumerate(flows.values(), 1)
            }
            names = {point: f"m_{place}" for place, point in enumerate(flows, 1)}
            self._component(balance, names, own)
        self._whole()

    def _flows(self, balance: _Balance, names: Mapping[str, str], own: Mapping[str, float]) -> dict[str, str]:
        """Call the flow of a stream by its point if it is all that flows there, else m with a number."""
        called = {}
        for point in (*balance.inlets, *balance.outlets):
            whole = abs(own[names[point]] - self.sheet.at("m", point)) <= 1e-12 * self.sheet.flow
            called[point] = f"m[{point}]" if whole else names[point]
        return called

    def _component(self, balance: _Balance, names: Mapping[str, str], own: dict[str, float]) -> None:
        component = balance.component
        m = self._flows(balance, names, own)
        known = {name: value for name, value in own.items() if name in m.values()}
        number = int(component.split("_")[1]) if component.startswith("stage_") else 0
        if component == "evaporator":
            self._evaporator(balance)
        elif component == "condenser":
            self._condenser(balance)
        elif component == "motor":
            self._motor()
        elif component.endswith("metering"):
            self._metering(balance, number, m, known)
        elif component == f"stage_{number}":
            self._stage(number)
        else:
            if component.endswith("_mixing"):
                self._mixing(balance, number, m)
            elif component.endswith("_tank"):
                self._tank(balance, number, m, known)
            elif component.endswith("_exchanger") and number:
                self._exchanger(balance, number)
            self._balances(balance, m, known)

    def _balances(self, balance: _Balance, m: Mapping[str, str], known: Mapping[str, float]) -> None:
        """Mass and energy of a component that neither heat nor work enters."""
        inlets, outlets = balance.inlets, balance.outlets
        if len(inlets) == len(outlets) == 1:
            self._throttled(balance)
            return
        sheet = self.sheet
        for law, term, unit, scale in (
            ("mass", "{m}", self._flow, sheet.flow),
            ("energy", "{m} * h[{point}]", self._rate, sheet.power),
        ):
            entering, leaving = (
                _sum(*(term.format(m=m[point], point=point) for point in side)) for side in (inlets, outlets)
            )
            sheet.balance(balance.component, law, (entering, leaving), unit, scale, known)

    def _throttled(self, balance: _Balance) -> None:
        (inlet,), (outlet,) = balance.inlets, balance.outlets
        scale = abs(self.sheet.power / self.sheet.flow)
        sides = f"h[{inlet}]", f"h[{outlet}]"
        law = "energy: neither heat nor work"
        self.sheet.balance(balance.component, law, sides, self._enthalpy, scale, digits=6)

    def _evaporator(self, balance: _Balance) -> None:
        sheet, component = self.sheet, balance.component
        given = self._conditions
        others = [point for point in balance.inlets if point != "evaporator_inlet"]
        if others:
            less = "".join(f" - m[{point}] * h[{point}]" for point in others)
            heat = f"m[evaporator_outlet] * h[evaporator_outlet]{less}"
            effect = f"({heat}) / m[evaporator_inlet] - h[evaporator_inlet]"
        else:
            effect = "h[evaporator_outlet] - h[evaporator_inlet]"
        q = sheet.define(component, "refrigerating effect", "q_e", effect, self._enthalpy)
        if "capacity" in given:
            capacity = sheet.shown("energy_flow", self.cycle.capacity)
            symbol = "m[evaporator_inlet]"
            sheet.define(component, "mass flow", symbol, "Q_e / q_e", self._flow, {"Q_e": capacity, "q_e": q})
        else:
            formula = "m[evaporator_inlet] * q_e"
            sheet.define(component, "capacity", "Q_e", formula, self._rate, {"q_e": q})
        share = given["hot_gas_bypass"]
        if "hot_gas_bypass" in others:
            entering = _sum(*(f"m[{point}]" for point in balance.inlets if point != "hot_gas_bypass"))
            law = "mass flow with the hot-gas bypass, b of the first stage's"
            symbol, formula = "m[stage_1_inlet]", f"({entering}) / (1 - b)"
            sheet.define(component, law, symbol, formula, self._flow, {"b": share})
            symbol, formula = "m[hot_gas_bypass]", "b * m[stage_1_inlet]"
            sheet.define(component, "hot-gas bypass", symbol, formula, self._flow, {"b": share})
        if others:
            entering = _sum(*(f"m[{point}]" for point in balance.inlets))
            sheet.balance(component, "mass", (entering, "m[evaporator_outlet]"), self._flow, sheet.flow)

    def _condenser(self, balance: _Balance) -> None:
        (inlet,), (outlet,) = balance.inlets, balance.outlets
        formula = f"m[{outlet}] * (h[{inlet}] - h[{outlet}])"
        self.sheet.define(balance.component, "heat rejected", "Q_c", formula, self._rate)

    def _motor(self) -> None:
        sheet = self.sheet
        shaft = sheet.shown("energy_flow", self.cycle.shaft_power)
        eta = float(self.circuit.options.get("motor_efficiency", 1.0))
        formula = "P_shaft * (1 - eta_motor) / eta_motor"
        law = "heat of the motor"
        heat = sheet.define(
            "motor", law, "Q_motor", formula, self._rate, {"P_shaft": shaft, "eta_motor": eta}
        )
        formula = "Q_motor / (h[motor_vapor] - h[motor_liquid])"
        sheet.define("motor", "mass flow", "m[motor_liquid]", formula, self._flow, {"Q_motor": heat})

    def _expander(self, number: int) -> float | None:
        """Efficiency of the expander in place of a metering device."""
        if number == 0:
            found = self.circuit.options.get("expander_efficiency")
        else:
            found = getattr(self.circuit.interstages[number - 2], "expander_efficiency", None)
        return None if found is None else float(found)

    def _metering(
        self, balance: _Balance, number: int, m: Mapping[str, str], known: Mapping[str, float]
    ) -> None:
        component, sheet, points = balance.component, self.sheet, self.cycle.points
        (inlet,), (outlet,) = balance.inlets, balance.outlets
        eta = self._expander(number)
        if not eta:
            self._throttled(balance)
            return
        start, end = points[inlet], points[outlet]
        ideal = start.h - (start.h - end.h) / eta
        self._isentropic(component, inlet, outlet, ideal)
        formula = f"h[{inlet}] - eta * (h[{inlet}] - h_s)"
        law = "enthalpy after the expander"
        h_s = sheet.shown("h", ideal)
        symbol = f"h[{outlet}]"
        sheet.define(component, law, symbol, formula, self._enthalpy, {"eta": eta, "h_s": h_s}, digits=6)
        formula = f"{m[outlet]} * (h[{inlet}] - h[{outlet}])"
        sheet.define(component, "power recovered", "W", formula, self._rate, known, scale=sheet.power)

    def _isentropic(self, component: str, inlet: str, outlet: str, ideal: float) -> None:
        given = {
            "p": ("p", self.cycle.points[outlet].p),
            "s": ("s", self.cycle.points[inlet].s),
        }
        law, formula = "enthalpy at the same entropy", f"h_s = h(p[{outlet}], s[{inlet}])"
        self.sheet.read(component, law, formula, given, ("h", ideal))

    def _stage(self, k: int) -> None:
        sheet, cycle = self.sheet, self.cycle
        component, inlet, outlet = f"stage_{k}", f"stage_{k}_inlet", f"stage_{k}_outlet"
        stage = self.circuit.stages[k - 1]
        start, end = cycle.points[inlet], cycle.points[outlet]
        eta, rise = stage.efficiency, f"(h[{outlet}] - h[{inlet}])"
        if stage.kind == "isentropic":
            ideal = start.h + cycle.stage_head[k - 1]
            self._isentropic(component, inlet, outlet, ideal)
            h_s = sheet.shown("h", ideal)
            law, symbol = "discharge enthalpy", f"h[{outlet}]"
            formula = f"h[{inlet}] + (h_s - h[{inlet}]) / eta"
            sheet.define(component, law, symbol, formula, self._enthalpy, {"h_s": h_s, "eta": eta}, digits=6)
            sheet.define(
                component, "isentropic head", "H_s", f"h_s - h[{inlet}]", self._enthalpy, {"h_s": h_s}
            )
        else:
            path = "integral" if stage.path == "integral" else "three-point method"
            law = f"discharge enthalpy by the polytropic path ({path})"
            given = {
                "p": ("p", start.p),
                "h": ("h", start.h),
                "to p": ("p", end.p),
                "with eta": ("quality", eta),
            }
            sheet.read(component, law, f"h[{outlet}]: dh = v dp / eta on the way", given, ("h", end.h))
            sheet.define(component, "polytropic head", "H_p", f"eta * {rise}", self._enthalpy, {"eta": eta})
            self._head_by_exponent(k)
        w = sheet.define(component, "work per mass", "w", rise[1:-1], self._enthalpy)
        sheet.define(component, "power", "W", f"m[{inlet}] * w", self._rate, {"w": w})
        formula = f"m[{inlet}] * v[{inlet}]"
        sheet.define(component, "inlet volume flow", "V", formula, sheet.unit("volume_flow"))

    def _head_by_exponent(self, k: int) -> None:
        """The head by p v^n = constant through both ends, which is close to that of the path in a gas."""
        if self.cycle.stage_wet[k - 1]:
            return
        one, two = (f"(p[{point}] * v[{point}])" for point in (f"stage_{k}_inlet", f"stage_{k}_outlet"))
        ratio = f"ln(p[stage_{k}_outlet] / p[stage_{k}_inlet])"
        formula = f"({two[1:-1]} - {one[1:-1]}) * {ratio} / ln({two} / {one})"
        named = {}
        if self._units == "I-P":
            # Btu in a psi ft3.
            sheet = self.sheet
            named["J"] = sheet.shown("h", 1.0) / (sheet.shown("p", 1.0) * sheet.shown("v", 1.0))
            formula = f"J * {formula}"
        law = "check to about a percent: polytropic head by p v^n = constant through both ends"
        self.sheet.define(f"stage_{k}", law, "H_p", formula, self._enthalpy, named, digits=4)

    def _mixing(self, balance: _Balance, k: int, m: Mapping[str, str]) -> None:
        part = self.circuit.interstages[k - 2]
        (outlet,) = balance.outlets
        component = balance.component
        if isinstance(part, _core.LiquidInjection):
            self._flow_of(component, f"stage_{k}_injection_inlet", outlet, balance)
        elif len(balance.inlets) > 1:
            heat = _sum(*(f"{m[point]} * h[{point}]" for point in balance.inlets))
            formula = f"({heat}) / ({_sum(*(m[point] for point in balance.inlets))})"
            law, symbol = "enthalpy of the mixture", f"h[{outlet}]"
            self.sheet.define(component, law, symbol, formula, self._enthalpy, digits=6)

    def _tank(self, balance: _Balance, k: int, m: Mapping[str, str], known: dict[str, float]) -> None:
        sheet, component = self.sheet, balance.component
        inlet, vapor = f"stage_{k}_tank_inlet", f"stage_{k}_tank_vapor"
        liquid = f"stage_{k}_tank_liquid"
        if isinstance(self.circuit.interstages[k - 2], _core.FlashTank):
            formula = f"(h[{inlet}] - h[{liquid}]) / (h[{vapor}] - h[{liquid}])"
            y = sheet.define(component, "flash fraction", "y", formula)
            sheet.define(component, "vapor", f"m[{vapor}]", f"y * m[{inlet}]", self._flow, {"y": y})
            return
        # The gas of the stage below passes an intercooled tank.
        self._flow_of(component, vapor, inlet, balance, m, known)
        formula = f"m[{vapor}] / m[stage_{k - 1}_outlet]"
        law = f"flow through stage {k} per flow through stage {k - 1}"
        sheet.define(component, law, f"M_{k}", formula)

    def _exchanger(self, balance: _Balance, k: int) -> None:
        sheet, component = self.sheet, balance.component
        cooled, start, end = (
            f"stage_{k}_{name}" for name in ("cooled_liquid", "injection_inlet", "injection_outlet")
        )
        (liquid,) = (point for point in balance.inlets if point != start)
        given_up, taken_up = f"(h[{liquid}] - h[{cooled}])", f"(h[{end}] - h[{start}])"
        before = self.circuit.interstages[k - 2].injection_taken == "before exchanger"  # type: ignore[union-attr]
        formula = f"{given_up} / ({given_up} + {taken_up})" if before else f"{given_up} / {taken_up}"
        law = "share that is injected, of the liquid that arrives"
        z = sheet.define(component, law, "z", formula)
        formula = f"z / (1 - z) * m[{cooled}]" if before else f"z * m[{cooled}]"
        sheet.define(component, "injected flow", f"m[{end}]", formula, self._flow, {"z": z})

    def _flow_of(
        self,
        component: str,
        wanted: str,
        set_off: str,
        balance: _Balance,
        m: Mapping[str, str] | None = None,
        known: Mapping[str, float] | None = None,
    ) -> None:
        """Write a flow that follows from energy and mass; the flow at ``set_off`` drops out of both."""
        called = m or {point: f"m[{point}]" for point in (*balance.inlets, *balance.outlets)}
        enters = wanted in balance.inlets
        terms = []
        for side, sign in ((balance.inlets, "+"), (balance.outlets, "-")):
            for point in side:
                if point not in (wanted, set_off):
                    terms.append((sign, f"{called[point]} * (h[{point}] - h[{set_off}])"))
        (first_sign, first), *rest = terms
        heat = ("" if first_sign == "+" else "-") + first + "".join(f" {sign} {term}" for sign, term in rest)
        over = f"(h[{set_off}] - h[{wanted}])" if enters else f"(h[{wanted}] - h[{set_off}])"
        law = "mass flow, from mass and energy"
        scale = self.sheet.flow
        formula = f"({heat}) / {over}"
        self.sheet.define(component, law, f"m[{wanted}]", formula, self._flow, known, scale=scale)

    def _whole(self) -> None:
        """Power, heat balance and figures of the cycle."""
        sheet, cycle = self.sheet, self.cycle
        rate, whole = self._rate, "cycle"
        works = {
            balance["component"]: sheet.shown("energy_flow", balance["work"])
            for balance in cycle.balances()
            if balance["work"] != 0.0
        }
        gained = "".join(
            f" {'+' if work > 0.0 else '-'} W_{name}" for name, work in works.items()
        ).removeprefix(" + ")
        named = {f"W_{name}": abs(work) for name, work in works.items()}
        p = sheet.define(whole, "compression power", "P", gained, rate, named)
        self._drive(p)
        q, qc = sheet.shown("energy_flow", cycle.capacity), sheet.shown("energy_flow", cycle.heat_rejected)
        motor = sheet.shown("energy_flow", cycle.motor_heat)
        left, heats = "Q_e + P", {"Q_e": q, "P": p, "Q_c": qc}
        if "motor_vapor" in cycle.points:
            left, heats = "Q_e + P + Q_motor", {**heats, "Q_motor": motor}
        sheet.balance(whole, "energy", (left, "Q_c"), rate, sheet.power, heats)
        cop = sheet.define(whole, "COP", "COP", "Q_e / P", named={"Q_e": q, "P": p})
        kilowatt, ton = _core.kilowatt_from_watt(cycle.power), _core.ton_from_watt(cycle.capacity)
        law = "power per capacity, P in kW and Q_e in tons"
        sheet.define(whole, law, "kW/ton", "P / Q_e", "kW/ton", {"P": kilowatt, "Q_e": ton})
        if self._units == "I-P":
            factor = _core.eer_from_cop(1.0)
            law = "energy efficiency ratio, a watt is so many Btu/h"
            sheet.define(whole, law, "EER", "c * COP", "Btu/(W h)", {"c": factor, "COP": cop})
        if economized(self.circuit):
            self._benefit(q, p)

    def _drive(self, compression: float) -> None:
        """Powers behind the compressor, of efficiencies that are given."""
        power, symbol = compression, "P"
        for option, law, found, eta in (
            ("mechanical_efficiency", "shaft power", "P_shaft", "eta_mechanical"),
            ("motor_efficiency", "power into the motor", "P_motor", "eta_motor"),
            ("drive_efficiency", "power into the drive", "P_drive", "eta_drive"),
        ):
            efficiency = float(self.circuit.options.get(option, 1.0))
            if efficiency < 1.0:
                named = {symbol: power, eta: efficiency}
                power = self.sheet.define("cycle", law, found, f"{symbol} / {eta}", self._rate, named)
                symbol = found

    def _benefit(self, capacity: float, power: float) -> None:
        sheet = self.sheet
        conditions: dict[str, Any] = {
            name: value
            for name, value in self._conditions.items()
            if name not in ("capacity", "mass_flow", "power")
        }
        machine = without_economizers(self.circuit, self.cycle.interstage_pressures)
        try:
            cop = machine.solve(**conditions, mass_flow=1.0).cop
        except InterstageError:
            return
        law = "power without economizers: the same machine and pressures between its stages, all of them off"
        rate = self._rate
        none = sheet.define(
            "cycle", law, "P_none", "Q_e / COP_none", rate, {"Q_e": capacity, "COP_none": cop}
        )
        sheet.define("cycle", "benefit", "benefit", "1 - P / P_none", named={"P": power, "P_none": none})

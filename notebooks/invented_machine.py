"""An INVENTED water chiller: constants are invented, of the size common in practice; nothing was measured.

Two equal stages on R-1233zd(E), one flash tank, two fixed orifices, variable speed, water-cooled.
Quasi-steady, row by row:

* Water sides: UA of evaporator and condenser from water flow and heat flux, refrigerant at one temperature.
* Compressor: polytropic efficiency falls away from the design flow; the compressor sets the tank pressure.
  Cycles are solved with `interstage.Circuit` on a grid and interpolated.
* Orifices: just sealed at design. At part load they are too large, and vapor follows the liquid.
* Blocked vent: the flash vapor has to pass the lower orifice. The tank pressure rises, the orifices pass
  little, liquid stacks in the condenser, floods tubes and subcools, the evaporator runs short of it, and at
  high load the chilled water leaves too warm. The stages work as without an economizer.

SI units. Arguments are arrays with one entry a row.
"""

import itertools

import numpy as np

import interstage

REFRIGERANT = interstage.Refrigerant("R-1233zd(E)")
STAGE_EFFICIENCY = 0.80  # polytropic, at design flow
DRIVE_EFFICIENCY = 0.93  # compression power per motor input
CAPACITY = 2.2e6  # W, design
HEAT = 1.165 * CAPACITY  # W, to the condenser water at design
CHILLED_WATER = 279.85  # K, leaving, set-point
CHILLED_RANGE, EVAPORATOR_APPROACH = 5.5, 1.6  # K, design
TOWER_WATER = 302.55  # K, entering, design
TOWER_RANGE, CONDENSER_APPROACH = 5.3, 1.7  # K, design, tubes clean
MOST_FLOODED = 0.35  # share of condenser tubes that liquid can stand over
MOST_VAPOR = 0.30  # mass fraction of vapor in the stream through an orifice
BUNDLE = 0.9  # m, height of the condenser tubes


class Saturation:
    """Saturation of the refrigerant and liquid water, in tables fine enough for linear interpolation."""

    def __init__(self):
        self._T = np.arange(270.0, 330.0, 0.05)
        lines = [REFRIGERANT.saturation(T=float(T)) for T in self._T]
        self._p = np.array([line.p for line in lines])
        self._liquid_h = np.array([line.liquid.h for line in lines])
        self._vapor_h = np.array([line.vapor.h for line in lines])
        self._liquid_v = np.array([1.0 / line.liquid.rho for line in lines])
        self._vapor_v = np.array([1.0 / line.vapor.rho for line in lines])
        water = interstage.Refrigerant("R-718")
        self._water_T = np.arange(274.0, 330.0, 0.25)
        states = [water.state(p=0.3e6, T=float(T)) for T in self._water_T]
        self._water_h = np.array([state.h for state in states])
        self._water_rho = np.array([state.rho for state in states])

    def p(self, T):
        return np.interp(T, self._T, self._p)

    def temperature(self, p):
        return np.interp(p, self._p, self._T)

    def h(self, T, quality=0.0):
        liquid = np.interp(T, self._T, self._liquid_h)
        return liquid + quality * (np.interp(T, self._T, self._vapor_h) - liquid)

    def v(self, T, quality=0.0):
        liquid = np.interp(T, self._T, self._liquid_v)
        return liquid + quality * (np.interp(T, self._T, self._vapor_v) - liquid)

    def quality(self, T, h):
        """Mass fraction of vapor at an enthalpy; negative in subcooled liquid."""
        return (h - self.h(T)) / (self.h(T, 1.0) - self.h(T))

    def water_after(self, T, heat, mass_flow):
        """Temperature of water of `T` after it took up `heat` (W)."""
        h = np.interp(T, self._water_T, self._water_h) + heat / mass_flow
        return np.interp(h, self._water_h, self._water_T)

    def water_rho(self, T):
        return np.interp(T, self._water_T, self._water_rho)


class Compressor:
    """Two stages between two saturation temperatures, solved on a grid and interpolated.

    Each grid point is solved with all flash gas taken off in the tank and with none. Between these two, work
    and discharge temperature are close to linear in the enthalpy at the second inlet.
    """

    # Evaporating temperature and lift (K), and 1/efficiency, to which work is nearly proportional.
    AXES = (np.arange(272.0, 298.0, 1.0), np.arange(6.0, 46.0, 1.0), np.linspace(1.0 / 0.82, 1.0 / 0.60, 4))
    NAMES = ("w_1", "h_none", "h_tank", "w_2_tank", "w_2_none", "T_tank", "T_none")

    def __init__(self):
        self._values = np.empty((*map(len, self.AXES), len(self.NAMES)))
        for at in np.ndindex(self._values.shape[:-1]):
            T_e, lift, inverse = (float(axis[i]) for axis, i in zip(self.AXES, at, strict=True))
            low, high = (REFRIGERANT.saturation(T=T).p for T in (T_e, T_e + lift))
            tank, none = (
                interstage.Circuit(
                    REFRIGERANT,
                    stages=[interstage.Stage(polytropic_efficiency=1.0 / inverse)] * 2,
                    interstages=[between],
                    interstage_pressures=[low * (high / low) ** float(self.exponent(lift))],
                ).solve(evaporating_temperature=T_e, condensing_temperature=T_e + lift, mass_flow=1.0)
                for between in (interstage.FlashTank(), interstage.Direct())
            )
            self._values[at] = (
                tank.stage_work[0],
                none.points["stage_2_inlet"].h,
                tank.points["stage_2_inlet"].h,
                tank.stage_work[1],
                none.stage_work[1],
                tank.discharge_temperature,
                none.discharge_temperature,
            )

    @staticmethod
    def exponent(lift):
        """Tank pressure exponent that the compressor sets: near the geometric mean. Invented."""
        return np.interp(lift, [12.0, 16.0, 24.0, 32.0, 40.0], [0.488, 0.498, 0.503, 0.500, 0.494])

    def look_up(self, T_e, T_c, efficiency):
        """Work and temperatures of both circuits."""
        places = []
        for axis, value in zip(self.AXES, (T_e, T_c - T_e, 1.0 / efficiency), strict=True):
            position = np.clip((value - axis[0]) / (axis[1] - axis[0]), 0.0, len(axis) - 1.001)
            places.append((position.astype(int), position % 1.0))
        total = 0.0
        for corner in itertools.product((0, 1), repeat=3):
            index = tuple(at + side for (at, _), side in zip(places, corner, strict=True))
            shares = [w if side else 1.0 - w for (_, w), side in zip(places, corner, strict=True)]
            total = total + np.prod(shares, axis=0)[:, None] * self._values[index]
        return dict(zip(self.NAMES, total.T, strict=True))


class Machine:
    """The invented machine."""

    def __init__(self):
        self.saturation = Saturation()
        self.compressor = Compressor()
        self.chilled_water = CAPACITY / 4.2e3 / CHILLED_RANGE  # kg/s, design
        self.tower_water = HEAT / 4.18e3 / TOWER_RANGE  # kg/s, constant
        self.ua_evaporator = CAPACITY / CHILLED_RANGE * np.log1p(CHILLED_RANGE / EVAPORATOR_APPROACH)
        self.ua_condenser = HEAT / TOWER_RANGE * np.log1p(TOWER_RANGE / CONDENSER_APPROACH)
        self.circuit = interstage.Circuit(
            REFRIGERANT,
            stages=[interstage.Stage(polytropic_efficiency=STAGE_EFFICIENCY)] * 2,
            interstages=[interstage.FlashTank()],
        )
        design = self.circuit.solve(
            evaporating_temperature=CHILLED_WATER - EVAPORATOR_APPROACH,
            condensing_temperature=TOWER_WATER + TOWER_RANGE + CONDENSER_APPROACH,
            capacity=CAPACITY,
        )
        self.design = design
        self.design_head = sum(design.stage_head)
        self.design_volume = design.stage_inlet_volume_flow[0]
        self.upper = sealed_orifice(
            design.points["condenser_outlet"].state,
            design.interstage_pressures[0],
            design.condenser_mass_flow,
        )
        self.lower = sealed_orifice(
            design.points["stage_2_tank_liquid"].state,
            design.evaporating_pressure,
            design.evaporator_mass_flow,
        )

    def evaporator(self, capacity, water, wetted=1.0):
        """UA (W/K): boiling improves with the heat flux, the water side with its flow."""
        flux = np.maximum(capacity / CAPACITY, 0.05)
        return (
            wetted
            * self.ua_evaporator
            / (0.15 + 0.45 * (water / self.chilled_water) ** -0.8 + 0.40 * flux**-0.67)
        )

    def condenser(self, heat, fouling, free=1.0):
        """UA (W/K): condensation gets worse with the heat flux; fouling is relative to the clean tubes."""
        return free * self.ua_condenser / (0.60 + 0.40 * np.maximum(heat / HEAT, 0.05) ** 0.33 + fouling)

    def efficiency(self, mass_flow, T_e, head):
        """Stage efficiency from the flow coefficient; the speed follows the head."""
        volume = mass_flow * self.saturation.v(T_e, 1.0) / self.design_volume
        flow = volume / np.sqrt(head / self.design_head)
        return np.clip(STAGE_EFFICIENCY * (1.0 - 0.35 * (flow - 1.0) ** 2), 0.61, 0.81)

    def vapor_drawn(self, area, mass_flow, T, pressure_drop):
        """Vapor fraction (frozen mixture) that fills an orifice too large for the liquid; 0 where sealed."""
        sat = self.saturation
        v = 2.0 * pressure_drop * (area / mass_flow) ** 2
        return np.clip((v - sat.v(T)) / (sat.v(T, 1.0) - sat.v(T)), 0.0, MOST_VAPOR)

    def run(self, capacity, leaving, water, tower, fouling):
        """Steady operation with a working economizer."""
        sat = self.saturation
        entering = sat.water_after(leaving, capacity, water)
        ua_e = self.evaporator(capacity, water)
        T_e = beside_water(entering, leaving, capacity, ua_e)
        p_e, h_suction = sat.p(T_e), sat.h(T_e, 1.0)
        power, flow, head = 0.15 * capacity, capacity / 165e3, self.design_head
        upper = lower = np.zeros_like(capacity)
        for _ in range(12):
            tower_out = sat.water_after(tower, capacity + power, self.tower_water)
            ua_c = self.condenser(capacity + power, fouling)
            T_c = beside_water(tower, tower_out, capacity + power, ua_c)
            efficiency = self.efficiency(flow, T_e, head)
            work = self.compressor.look_up(T_e, T_c, efficiency)
            p_c = sat.p(T_c)
            exponent = self.compressor.exponent(T_c - T_e)
            p_t = p_e * (p_c / p_e) ** exponent
            T_t = sat.temperature(p_t)
            h_vapor, h_liquid = sat.h(T_t, 1.0), sat.h(T_t, lower)
            flash = (sat.h(T_c, upper) - h_liquid) / (h_vapor - h_liquid)
            flow = capacity / (h_suction - h_liquid)
            flow_above = flow / (1.0 - flash)
            h_2 = (1.0 - flash) * work["h_none"] + flash * h_vapor
            share = (h_2 - work["h_tank"]) / (work["h_none"] - work["h_tank"])
            w_2 = work["w_2_tank"] + share * (work["w_2_none"] - work["w_2_tank"])
            power = flow * work["w_1"] + flow_above * w_2
            head = efficiency * (work["w_1"] + w_2)
            upper = 0.5 * (upper + self.vapor_drawn(self.upper.flow_area, flow_above, T_c, p_c - p_t))
            lower = 0.5 * (lower + self.vapor_drawn(self.lower.flow_area, flow, T_t, p_t - p_e))
        without = capacity / (h_suction - sat.h(T_c)) * (work["w_1"] + work["w_2_none"])
        return dict(
            capacity=capacity,
            compression_power=power,
            stage_efficiency=efficiency,
            saving=1.0 - power / without,
            evaporating_temperature=T_e,
            condensing_temperature=T_c,
            tank_pressure=p_t,
            tank_exponent=exponent,
            discharge_temperature=work["T_tank"] + share * (work["T_none"] - work["T_tank"]),
            liquid_line_temperature=T_c,
            evaporator_ua=ua_e,
            condenser_ua=ua_c,
            evaporator_flow=flow,
            condenser_flow=flow_above,
            upper_vapor=upper,
            lower_vapor=lower,
            flooded=np.zeros_like(capacity),
            chilled_entering=entering,
            chilled_leaving=leaving,
            tower_leaving=tower_out,
        )

    def run_blocked(self, demand, set_point, water, tower, fouling):
        """Steady operation with a blocked vent.

        A level tells how full the condenser stands: from -1 (vapor follows the liquid into the upper orifice)
        over 0 (just sealed) to 1 (most tubes flooded). It is found so that the orifices pass what the
        capacity asks for; where the highest level does not do, the capacity is what they pass.
        """

        def solved(level, load):
            return self._blocked(level, load, demand, set_point, water, tower, fouling)

        def surplus(result):
            return result["passes"] - result["condenser_flow"]

        one = np.ones_like(demand)
        level = crossing(lambda level: surplus(solved(level, one)), -one, one)
        load = -crossing(lambda negative: surplus(solved(level, -negative)), -one, -0.3 * one)
        result = solved(level, load)
        del result["passes"]
        return result

    def _blocked(self, level, load, demand, set_point, water, tower, fouling):
        sat = self.saturation
        capacity = load * demand
        flooded, upper = MOST_FLOODED * np.maximum(level, 0.0), MOST_VAPOR * np.maximum(-level, 0.0)
        leaving = set_point + (1.0 - load) / 0.08  # coils take 8 % less for each kelvin of warmer water
        entering = sat.water_after(leaving, capacity, water)
        # The liquid that stands in the condenser is missing in the evaporator.
        ua_e = self.evaporator(capacity, water, wetted=1.0 - 0.8 * flooded)
        T_e = beside_water(entering, leaving, capacity, ua_e)
        p_e, h_suction = sat.p(T_e), sat.h(T_e, 1.0)
        power, flow, head = 0.15 * capacity, capacity / 155e3, self.design_head
        for _ in range(6):
            tower_out = sat.water_after(tower, capacity + power, self.tower_water)
            ua_c = self.condenser(capacity + power, fouling, free=1.0 - flooded)
            T_c = beside_water(tower, tower_out, capacity + power, ua_c)
            T_liquid = tower + (T_c - tower) * np.exp(-2.0 * flooded)
            h = sat.h(T_liquid) + upper * (sat.h(T_c, 1.0) - sat.h(T_c))
            flow = capacity / (h_suction - h)
            efficiency = self.efficiency(flow, T_e, head)
            work = self.compressor.look_up(T_e, T_c, efficiency)
            power = flow * (work["w_1"] + work["w_2_none"])
            head = efficiency * (work["w_1"] + work["w_2_none"])
        p_c = sat.p(T_c)
        p_upper = p_c + 9.81 * BUNDLE * flooded / sat.v(T_liquid)
        v_upper = sat.v(T_liquid) + upper * (sat.v(T_c, 1.0) - sat.v(T_c))

        def passing(exponent):
            p_t = p_e * (p_c / p_e) ** exponent
            T_t = sat.temperature(p_t)
            v_lower = sat.v(T_t, np.maximum(sat.quality(T_t, h), 0.0))
            from_above = self.upper.flow_area * np.sqrt(2.0 * (p_upper - p_t) / v_upper)
            return from_above, self.lower.flow_area * np.sqrt(2.0 * (p_t - p_e) / v_lower)

        one = np.ones_like(capacity)
        exponent = crossing(lambda x: np.diff(passing(x), axis=0)[0], 0.0 * one, one)
        return dict(
            capacity=capacity,
            compression_power=power,
            stage_efficiency=efficiency,
            saving=np.zeros_like(power),
            evaporating_temperature=T_e,
            condensing_temperature=T_c,
            tank_pressure=p_e * (p_c / p_e) ** exponent,
            tank_exponent=exponent,
            discharge_temperature=work["T_none"],
            liquid_line_temperature=T_liquid,
            evaporator_ua=ua_e,
            condenser_ua=ua_c,
            evaporator_flow=flow,
            condenser_flow=flow,
            upper_vapor=upper,
            lower_vapor=np.zeros_like(upper),
            flooded=flooded,
            chilled_entering=entering,
            chilled_leaving=leaving,
            tower_leaving=tower_out,
            passes=passing(exponent)[0],
        )


def sealed_orifice(liquid, downstream_pressure, mass_flow):
    """The orifice that just passes a flow of saturated liquid."""
    return interstage.Orifice.calibrated(
        REFRIGERANT,
        liquid,
        downstream_pressure=downstream_pressure,
        mass_flow=mass_flow,
        model="metastable liquid",
    )


def beside_water(entering, leaving, heat, ua):
    """Refrigerant temperature (K) at which `heat` passes `ua` into water, or out of it."""
    change = leaving - entering
    return leaving + change / np.expm1(ua * np.abs(change) / heat)


def crossing(rising, lower, upper):
    """Where a rising function of arrays crosses 0, by bisection; the nearer end where it does not."""
    for _ in range(26):
        middle = 0.5 * (lower + upper)
        below = rising(middle) < 0.0
        lower, upper = np.where(below, middle, lower), np.where(below, upper, middle)
    return 0.5 * (lower + upper)

"""Hot water that goes round: the flow that keeps it warm enough, a pump's curve, and a valve that throttles."""

import numpy as np

from .heat_loss import NotConverged

SETTLED = 1e-5  # [-] of the allowed cooling, by which it may be missed
LEAST_SLOPE, MOST_STEP = 0.1, 2.0  # [-] in logarithms: the flattest line that is followed, how far
MOST_ROUNDS = 60
RANGEABILITY = 50.0  # [-] of an equal-percentage valve, the usual figure in print (common practice, no source)
KV_DENSITY, KV_PRESSURE = 1000.0, 1e5  # [kg/m3], [Pa] that define Kv
SECONDS_AN_HOUR = 3600.0


def flow_for_drop(cools, allowed: float, first: float) -> float:
    """Gives the volume flow at which the water comes back cooler by what is allowed [m3/s].

    cools : flow [m3/s] → by how much the water cools on its way round [K]; allowed [K] > 0; first : to begin with
    Flow = heat ÷ (rho c ΔT), where the heat grows a little with the flow. Each round follows the line through the last
    two flows, in logarithms of flow and cooling; the first takes the heat as fixed. Raises NotConverged.
    """
    flow, slope, last = first, -1.0, None
    for _ in range(MOST_ROUNDS):
        miss = np.log(float(cools(flow)) / allowed)
        if abs(miss) < SETTLED:
            return flow
        if last is not None and flow != last[0]:
            slope = min((miss - last[1]) / np.log(flow / last[0]), -LEAST_SLOPE)
        last, flow = (flow, miss), flow * float(np.exp(np.clip(-miss / slope, -MOST_STEP, MOST_STEP)))
    raise NotConverged(f"the water still cools by {np.exp(miss):.6g} of what is allowed")


def pump_hole(shut_off, largest, density):
    """Gives what a pump's curve takes off its pressure as it delivers, as a hole of pressure.FlowLeg [1/m4].

    shut_off : pressure at no flow [Pa]; largest : flow at which none is left [m3/s]; density [kg/m3]
    The curve is a parabola, p = shut_off (1 - (flow/largest)^2), so that the pump is a steady pressure and a hole.
    """
    return 2 * shut_off / (density * largest**2)


def valve_hole(opening, kv_open):
    """Gives an equal-percentage valve as a hole of pressure.FlowLeg [1/m4]. opening : 0 to 1; kv_open [m3/h]

    Kv is the flow of water in m3/h at 1 bar. Its share at an opening x is R^(x - 1) (equal-percentage characteristic
    of IEC 60534-2-4, from memory).
    """
    kv = kv_open / SECONDS_AN_HOUR * RANGEABILITY ** (np.asarray(opening, dtype=float) - 1.0)  # [m3/s]
    return 2 * KV_PRESSURE / (KV_DENSITY * kv**2)

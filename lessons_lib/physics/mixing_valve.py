"""A mixing valve as two ports that share one stroke: what it passes, and what unequal pressures do to it. SI units.

passes : volume flow through the valve at a pressure drop of 1 bar with both ports half open or in any other position,
for what one port gains the other loses (Kv of EN 60534-1 and of makers' sheets, in m3/s instead of m3/h)
"""

from math import sqrt

BAR = 1e5  # [Pa]


def outlet_pressure(share, flow, hot, cold, passes) -> float:
    """Pressure behind the valve [Pa] at a flow [m3/s] of which the hot `share` comes from `hot`, the rest from `cold`.

    hot, cold : pressure at the inlets [Pa]. Each port passes its area times the square root of its own drop, and both
    areas together are the valve's: h Q/sqrt(ph - p) + (1 - h) Q/sqrt(pc - p) = K/sqrt(1 bar), which has one root. With
    equal pressures p = ph - (Q/K)^2 bar. Below 0 where the valve cannot pass so much.
    """
    high = min(hot, cold)
    low = high - (flow / passes) ** 2 * BAR
    for _ in range(60):
        middle = 0.5 * (low + high)
        needed = _area(share * flow, hot - middle) + _area((1 - share) * flow, cold - middle)
        low, high = (low, middle) if needed > passes else (middle, high)
    return low


def _area(flow: float, drop: float) -> float:
    """Gives what a port must pass at 1 bar to pass a flow at this drop [m3/s]."""
    return flow * sqrt(BAR / max(drop, 1e-9))


def hot_port(share, flow, hot, outlet, passes) -> float:
    """Share of the stroke by which the hot port is open, 0 to 1; with equal pressures the hot share itself."""
    return min(_area(share * flow, hot - outlet) / passes, 1.0)


def cross_flow(port, hot, cold, passes) -> float:
    """Flow [m3/s] from the stronger inlet into the weaker one while the tap is shut and no check valve stands between.

    port : share of the stroke by which the hot port is open, 0 to 1. Two ports in a row: their resistances add.
    """
    rest = 1 - port
    through = passes * port * rest / sqrt(port**2 + rest**2)
    return through * sqrt(abs(hot - cold) / BAR)

"""Where things stand in a browser, once they stand: a kernel may still be drawing what was just asked for."""

import time

STILL = 0.1  # [s] without a move
PATIENCE = 60  # [s]


def place(locator) -> dict:
    """Gives where an element stands [px], with its right and bottom edges, once it is seen and no longer moves."""
    last, end = None, time.monotonic() + PATIENCE
    while time.monotonic() < end:
        now = locator.bounding_box()
        if now is not None and now == last:
            return {**now, "right": now["x"] + now["width"], "bottom": now["y"] + now["height"]}
        last = now
        locator.page.wait_for_timeout(STILL * 1000)
    raise AssertionError(f"{locator} is not seen, or does not come to rest: {last}")


def becomes(page, script: str, wanted, what=None) -> None:
    """Waits until a script gives the wanted value, for the element `what` where the script takes one."""
    end = time.monotonic() + PATIENCE
    while (found := page.evaluate(script, what)) != wanted:
        assert time.monotonic() < end, f"{found} instead of {wanted}"
        page.wait_for_timeout(STILL * 1000)

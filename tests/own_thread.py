"""Tests in a thread of their own: Playwright leaves its loop running in the thread of the browser's tests."""

from concurrent.futures import ThreadPoolExecutor
from functools import wraps


def in_own_thread(test):
    """Runs a test where no loop is running yet, whatever ran before it in the same process."""

    @wraps(test)
    def run(*given, **named):
        with ThreadPoolExecutor(1) as pool:
            return pool.submit(test, *given, **named).result()

    return run

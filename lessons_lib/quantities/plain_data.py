"""Results as plain data (what JSON can hold) and back, so that a learner's answers file can keep them."""

import numpy as np

from .errors import InputError
from .units import Q_, ureg

QUANTITY = {"value", "unit"}


def plain(value):
    """A quantity, array, tuple, dictionary or single value as dictionaries, lists, numbers, text and None."""
    if isinstance(value, ureg.Quantity):
        return {"value": np.asarray(value.magnitude).tolist(), "unit": str(value.units)}
    if isinstance(value, np.ndarray):
        return value.tolist()
    if isinstance(value, dict):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, (tuple, list)):
        return [plain(item) for item in value]
    return value.item() if isinstance(value, np.generic) else value


def restored(data):
    """Undoes `plain`: quantities are quantities again, lists of numbers in them arrays. Raises InputError."""
    if isinstance(data, dict) and set(data) == QUANTITY:
        try:
            value = np.asarray(data["value"], dtype=float)
            return Q_(float(value) if value.ndim == 0 else value, ureg.Unit(data["unit"]))
        except Exception as reason:  # pint raises errors of many classes for a unit that is none
            raise InputError(
                f"saved readings: {data['unit']!r} with {str(data['value'])[:40]} is no quantity. Read them in again."
            ) from reason
    if isinstance(data, dict):
        return {key: restored(item) for key, item in data.items()}
    return data


def fields_from(data, names, kind: str) -> dict:
    """The named entries of saved data, restored; an InputError where one is missing or the data are something else."""
    missing = [name for name in names if not isinstance(data, dict) or name not in data]
    if missing:
        raise InputError(f'{kind}: the saved data have no "{missing[0]}". Read them in again.')
    return {name: restored(data[name]) for name in names}

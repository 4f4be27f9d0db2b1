"""The registry of units, whatever became of what was kept of it."""

from pickle import UnpicklingError

import pint
import pytest

from lessons_lib.quantities import units


def test_units_are_read_where_what_was_kept_of_them_is_damaged_or_gone(monkeypatch):
    reads, problems = pint.UnitRegistry, [FileNotFoundError("another pint's files"), UnpicklingError("half a file")]

    def refuses(cache_folder=None, **options):
        if cache_folder is not None:
            raise problems.pop()
        return reads(**options)

    monkeypatch.setattr(pint, "UnitRegistry", refuses)
    assert units._registry().Quantity(1, "mile").to("m").m == pytest.approx(1609.344) and not problems

"""What becomes of a question to which the physics finds no steady answer."""

from functools import wraps
from inspect import signature

from ..physics.heat_loss import NotConverged
from ..quantities.errors import InputError


def named_inputs(question):
    """Gives the same question; a failure to converge is told as an InputError that names what was asked."""

    @wraps(question)
    def asked(*given, **named):
        try:
            return question(*given, **named)
        except NotConverged as reason:
            inputs = signature(question).bind(*given, **named).arguments
            told = "; ".join(f"{name}: {value}" for name, value in inputs.items())
            raise InputError(
                f"no steady answer was found ({reason}) for {told}. Change one of them a little."
            ) from reason

    return asked

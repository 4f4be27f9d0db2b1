"""The way in: the room's code, a name, and a word of the learner's own that is chosen at the first sign-in."""

import asyncio
import secrets
from collections import Counter, defaultdict

from jupyterhub.auth import Authenticator
from register import Refused, Register
from tornado.web import HTTPError
from traitlets import Instance, Unicode

LONGEST_WAIT = 20  # [s] that a wrong try costs at most


class RoomAuthenticator(Authenticator):
    """Lets in whoever has the code, each under a name that nobody else has.

    One computer's tries wait for each other, and each wrong one costs it a second more than the last: guessing leads nowhere.
    """

    code = Unicode(config=True, help="the room's code")
    register = Instance(Register, config=True, help="who is in the class")

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self._turns, self._wrong = defaultdict(asyncio.Lock), Counter()

    async def authenticate(self, handler, data):
        """The learner's account. Raises HTTPError, whose message the sign-in page shows."""
        computer = handler.request.remote_ip
        async with self._turns[computer]:
            try:
                return self._admit(data)
            except Refused as reason:
                self._wrong[computer] += 1
                await asyncio.sleep(min(self._wrong[computer], LONGEST_WAIT))
                raise HTTPError(403, str(reason)) from None
            except OSError as reason:
                raise HTTPError(
                    507,
                    f"Your name can't be kept on this computer ({reason.strerror}). Tell your instructor; nothing was lost.",
                ) from None

    def _admit(self, data: dict) -> str:
        given = data.get("code", "").strip().casefold()
        if not self.code or not secrets.compare_digest(given.encode(), self.code.encode()):
            raise Refused("That is not this room's code. Ask your instructor for it.")
        return self.register.admit(data.get("username", ""), data.get("password", ""))

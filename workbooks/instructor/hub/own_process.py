"""Each learner's server runs as an operating-system user of its own, with limits, and ends with the hub."""

import os
import sys
from pathlib import Path
from subprocess import DEVNULL

from jupyterhub.spawner import LocalProcessSpawner
from limits import end_all_of, limited
from register import Register
from traitlets import Instance, Integer, Unicode


class OwnProcessSpawner(LocalProcessSpawner):
    """A server under the learner's own number, made by setpriv and prlimit (util-linux): the hub's own Python runs nothing in between."""

    register = Instance(Register, config=True, help="who is in the class")
    homes = Unicode(config=True, help="folder of the learners' folders")
    megabytes = Integer(600, config=True, help="memory that one process of a learner may take")

    @property
    def number(self) -> int:
        """The learner's user number."""
        return self.register.learners()[self.user.name]["number"]

    def make_preexec_fn(self, name):
        """None: setpriv does what would be done here, after the hub's process was left."""

    def user_env(self, env):
        """Names and folders of the learner."""
        home = str(Path(self.homes) / str(self.number))
        return {
            **env,
            "HOME": home,
            "USER": self.user.name,
            "JUPYTER_RUNTIME_DIR": f"{home}/.run",
            "HOT_WATER_RUNS_FOLDER": home,
            "HOT_WATER_RUNS_NAME": self.register.learners()[self.user.name]["name"],
        }

    async def start(self):
        """Make the learner's folder where there is none yet, and start the server in it."""
        number, home = self.number, Path(self.homes) / str(self.number)
        home.mkdir(mode=0o700, exist_ok=True)
        os.chown(home, number, number)
        self.popen_kwargs = {
            "cwd": str(home),
            "stdout": DEVNULL,
            "stderr": DEVNULL,
        }  # else a learner could fill the hub's window, or a log
        self.cmd = [*limited(number, self.megabytes), sys.executable, "-m", "jupyterhub.singleuser"]
        return await super().start()

    async def stop(self, now=False):
        """End the server, and whatever else the learner started."""
        await super().stop(now)
        end_all_of(range(self.number, self.number + 1))

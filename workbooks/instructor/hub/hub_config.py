"""The hub of a class on one machine. `python3 workbooks --class` writes its settings and starts it; JupyterHub reads this file as root."""

import json
import os
import secrets
import socket
import sys
from pathlib import Path

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from limits import end_all_of
from own_process import OwnProcessSpawner
from register import Register
from sign_in import RoomAuthenticator

c = get_config()  # noqa: F821 (JupyterHub provides it)

state = Path(os.environ["HOT_WATER_RUNS_CLASS"])
given = json.loads((state / "hub" / "settings.json").read_text(encoding="utf-8"))
register = Register(state / "hub" / "learners.json", given["first"], given["last"])

only_one = socket.socket(
    socket.AF_UNIX
)  # held until this process ends: the learners' user numbers serve one class at a time
try:
    only_one.bind(f"\0hot-water-runs-class-{given['first']}")
except OSError:
    sys.exit("A class is being served on this computer already. Stop it first.")

# What a hub that was killed left running; learners sign in anew, so nothing else of an earlier start is needed.
end_all_of(range(given["first"], given["last"] + 1))
c.JupyterHub.db_url = "sqlite:///:memory:"
c.JupyterHub.cookie_secret = secrets.token_bytes(32)
c.JupyterHub.cookie_max_age_days = 0.5

# Only the proxy is seen from outside, at the address that the instructor named.
c.JupyterHub.bind_url = f"http://{given['address']}:{given['port']}"
c.JupyterHub.hub_bind_url = f"http://127.0.0.1:{given['hub_port']}"
c.ConfigurableHTTPProxy.api_url = f"http://127.0.0.1:{given['proxy_port']}"
c.ConfigurableHTTPProxy.command = given["proxy"]
c.ConfigurableHTTPProxy.log_level = "ERROR"
c.ConfigurableHTTPProxy.pid_file = str(state / "hub" / "proxy.pid")

c.JupyterHub.authenticator_class = RoomAuthenticator
c.RoomAuthenticator.code = given["code"]
c.RoomAuthenticator.register = register
c.RoomAuthenticator.allow_all = True  # whoever was admitted
c.JupyterHub.template_paths = [str(Path(__file__).resolve().parent / "templates")]
c.JupyterHub.shutdown_on_logout = True
c.JupyterHub.log_level = "ERROR"

c.JupyterHub.spawner_class = OwnProcessSpawner
c.OwnProcessSpawner.register = register
c.OwnProcessSpawner.homes = str(state / "learners")
c.OwnProcessSpawner.megabytes = given["megabytes"]
c.Spawner.ip = "127.0.0.1"
c.Spawner.notebook_dir = str(state / "served" / "pages")
c.Spawner.default_url = "/voila/render/start-here.ipynb"
c.Spawner.args = [f"--config={state / 'served' / 'page_server.py'}"]
c.Spawner.disable_user_config = True
c.Spawner.env_keep = ["LANG", "LC_ALL"]
c.Spawner.environment = {
    "PATH": f"{Path(sys.executable).parent}:/usr/bin:/bin",
    "PYTHONPATH": given["project"],  # the pages use the library that lies beside them
    "PYTHONDONTWRITEBYTECODE": "1",
    "JUPYTER_PATH": str(state / "served" / "data"),
    "HOT_WATER_RUNS_IDLE": str(given["idle"]),
    "OPENBLAS_NUM_THREADS": "1",  # each thread's memory would count against the limit
    "MALLOC_ARENA_MAX": "2",
}
# Thirty that begin at once on two cores have to wait for each other.
c.Spawner.start_timeout = c.Spawner.http_timeout = 300
c.LocalProcessSpawner.interrupt_timeout = 10
c.LocalProcessSpawner.term_timeout = 5

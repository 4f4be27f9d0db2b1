"""The server of a room: Voilà's pages behind the door."""

import ssl

from environment import SetupProblem
from filelock import FileLock, Timeout
from jupyter_server.base.handlers import FileFindHandler
from jupyter_server.services.kernels.handlers import KernelHandler
from tornado.httpserver import HTTPServer
from tornado.ioloop import IOLoop
from tornado.web import HTTPError
from voila.app import Voila
from voila.shutdown_kernel_handler import VoilaShutdownKernelHandler
from voila.static_file_handler import MultiStaticFileHandler, TemplateStaticFileHandler
from voila.tornado.handler import TornadoVoilaHandler
from voila.tornado.kernel_websocket_handler import VoilaKernelWebsocketHandler

from lessons_lib.exercises import handed_out, lessons

from . import door, files, instructor, kernels
from .command import lay_out
from .members import Members, Refused
from .state import kept, private

# What a learner's browser may say to a kernel: it moves widgets, and never sends code.
ALLOWED = ["comm_open", "comm_close", "comm_msg", "kernel_info_request"]
KERNEL = r"(?P<kernel_id>\w+-\w+-\w+-\w+-\w+)"
# files by their plain names: no name begins with a dot or holds a sign that could mean another folder
PLAIN = r"(?:[\w@~+-][\w.@~+-]*/)*[\w@~+-][\w.@~+-]*"
LARGEST = 8_000_000  # bytes that a browser may send at once


class Lesson(door.Guarded, TornadoVoilaHandler):
    """A lesson's page, with a Python of the member's own behind it."""

    scripts = "'self' 'unsafe-inline' 'unsafe-eval'"  # Voilà's own pages hold scripts

    async def get(self, path=None):
        """Make the page; its kernel belongs to the member who asks."""
        if door.is_closed(self.room, path):
            return self.show("sentence.html", 404, title="Not handed out", told=door.NOT_HANDED_OUT)
        if not door.is_lesson(self.room, path):
            raise HTTPError(404)
        account = door.current_member(self)
        self.room.members.seen(account, path)
        kernels.asking.set((account, self.room.members.get(account), self.room.members.folder(account)))
        await super().get(path)


class OneKernel(door.Guarded, KernelHandler):
    """What a page asks about its own kernel; it can neither end nor start one here."""

    SUPPORTED_METHODS = ("GET", "HEAD")


class RoomServer(Voila):
    """Voilà with the room's door before every page, and with kernels that belong to members."""

    room = None
    lines = None

    def init_settings(self) -> dict:
        """The settings of the server, with those of the room."""
        settings = super().init_settings()
        self.kernel_manager.allowed_message_types = ALLOWED
        self.room.kernels = self.kernel_manager
        return {
            **settings,
            "room": self.room,
            "cookie_secret": self.room.kept.secret,
            "identity_provider": door.Door(parent=self, log=self.log),
            "xsrf_cookies": True,
            "xsrf_cookie_kwargs": {"samesite": "Strict", "secure": self.room.secure},
            "login_url": "/",
            "default_handler_class": door.NoPage,
            "log_function": lambda handler: None,  # what people type is nobody's to read
        }

    def init_handlers(self) -> list:
        """The pages of the room; whatever is not listed here is not there."""
        lesson = {
            "template_paths": self.template_paths,
            "config": self.config,
            "voila_configuration": self.voila_configuration,
        }
        extensions = {"path": self.labextensions_path, "no_cache_paths": ["/"]}
        static = {"paths": self.static_paths, "default_filename": "index.html"}
        return [
            *(rule for part in (door, files, instructor, kernels) for rule in part.handlers(self.room)),
            (rf"/voila/render/({PLAIN})", Lesson, lesson),
            (rf"/api/kernels/{KERNEL}", OneKernel),
            (rf"/api/kernels/{KERNEL}/channels", door.guarded(VoilaKernelWebsocketHandler)),
            (rf"/voila/api/shutdown/{KERNEL}", door.guarded(VoilaShutdownKernelHandler)),
            (rf"/voila/templates/([\w-]+/static/{PLAIN})", door.guarded(TemplateStaticFileHandler)),
            (rf"/voila/static/({PLAIN})", door.guarded(MultiStaticFileHandler), static),
            (rf"/voila/labextensions/({PLAIN})", door.guarded(FileFindHandler), extensions),
        ]

    def listen(self):
        """Serve at the room's address until Ctrl-C."""
        server = HTTPServer(self.app, ssl_options=self.lines, max_body_size=LARGEST, xheaders=False)
        try:
            server.listen(self.port, self.ip)
        except OSError as reason:
            self.stop()
            raise SetupProblem(
                "The room cannot be opened at {}, port {} ({}). Another room may be open there: close it, or name "
                "another port, for example --port {}.".format(self.ip, self.port, reason.strerror, self.port + 1)
            ) from None
        print(told(self.room, self.ip, self.port), flush=True)
        self.ioloop = IOLoop.current()
        self.ioloop.add_callback(self.kernel_manager.fill)
        try:
            self.ioloop.start()
        except KeyboardInterrupt:
            pass  # Ctrl-C is how a room is closed
        finally:
            self.stop()


def told(room: door.Room, address: str, port: int) -> str:
    """What the instructor reads when the room is open."""
    at = "{}://{}:{}".format("https" if room.secure else "http", address, port)
    handed, slip = handed_out.handed_out(), handed_out.slip()
    those = "" if handed == lessons() else "You hand out {}.\n".format(handed_out.in_words(handed))
    return (
        "The room is open. Learners open in any web browser:\n    {0}\nThe room's code:\n    {1}\n"
        "Your own page, for you alone:\n    {0}/instructor?key={2}\n{3}To stop, press Ctrl-C here."
    ).format(at, room.code, room.kept.instructor, slip + "\n" if slip else those)


def open_room(options, extra: "list[str]") -> None:
    """Serve the room until it is stopped.

    options : state, address, port, code, seats, certificate, key of `python -m room`; extra : options for Voilà
    Raises SetupProblem: the code, the folder, the port or the certificate cannot be used, or the room is open already.
    """
    lines = _encrypted(options.certificate, options.key)
    try:
        # held until this program ends
        lock = FileLock(str(private(options.state) / "open.lock"), mode=0o600)
        lock.acquire(timeout=0)
        remembered = kept(options.state, options.port, options.code)
        lay_out(options.state / "served", handed_out=handed_out.handed_out())
        members = Members(options.state)
        members.all()
    except Timeout:
        raise SetupProblem(
            "A room is open already from the folder {}. Close it first with Ctrl-C in its window.".format(options.state)
        ) from None
    except (OSError, Refused) as reason:
        raise SetupProblem(
            "The room's folder {} cannot be used ({}). Please check that you may write there and that the disk is not "
            "full.".format(options.state, reason)
        ) from None
    server = RoomServer()
    server.lines = lines
    server.room = door.Room(
        state=options.state,
        kept=remembered,
        members=members,
        hosts=_hosts(options.address, options.port),
        seats=options.seats,
        secure=server.lines is not None,
    )
    server.initialize(
        [
            str(options.state / "served" / "pages"),
            "--no-browser",
            "--Voila.ip={}".format(options.address),
            "--port={}".format(options.port),
            "--template=room",
            "--VoilaConfiguration.strip_sources=True",
            "--VoilaConfiguration.show_tracebacks=False",
            "--VoilaConfiguration.allow_template_override=NO",
            "--VoilaConfiguration.allow_theme_override=NO",
            "--VoilaConfiguration.multi_kernel_manager_class=room.kernels.RoomKernels",
            "--Application.log_level=ERROR",
            *extra,
        ]
    )
    server.start()


def _hosts(address: str, port: int) -> frozenset:
    """What a browser that was sent here by nobody else has in its address line."""
    named = {address.lower(), *(["localhost"] if address == "127.0.0.1" else [])}
    return frozenset({*named} if port in (80, 443) else {"{}:{}".format(name, port) for name in named})


def _encrypted(certificate, key) -> "ssl.SSLContext | None":
    """The encrypted line of a certificate and its key; None where there is neither."""
    if certificate is None and key is None:
        return None
    lines = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    try:
        lines.load_cert_chain(certificate, key)
    except (OSError, ssl.SSLError, TypeError) as reason:
        raise SetupProblem(
            "The certificate {} and the key {} cannot be used ({}). Please give both files, in the format PEM: "
            "--certificate FILE --key FILE.".format(certificate, key, reason)
        ) from None
    return lines

"""The door of the room: the code, then the name, then the lessons. Nobody passes it unasked, and every page says what to do next."""

import asyncio
import dataclasses
from http import HTTPStatus
from pathlib import Path

import jinja2
from jupyter_server.auth.identity import IdentityProvider, User
from markupsafe import Markup
from tornado import web

from .code import Brake, TooMany, same
from .members import Members, Refused
from .state import Kept

START = "/voila/render/start-here.ipynb"
CODE, MEMBER, INSTRUCTOR = "room-code", "room-member", "room-instructor"
DAYS = 2  # a cookie older than this is no longer believed; the browser forgets it when it is closed
# Everything comes from this machine. Voilà's own pages have scripts in them; the pages of the door have none.
POLICY = (
    "default-src 'self'; script-src {scripts}; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; "
    "font-src 'self' data:; object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'"
)
PAGES = jinja2.Environment(
    loader=jinja2.FileSystemLoader(Path(__file__).with_name("pages")),
    autoescape=True,
    trim_blocks=True,
    lstrip_blocks=True,
    undefined=jinja2.StrictUndefined,
)
SAID = {
    403: "This page is not yours to open, or the form was too old.",
    404: "There is no such page in this room.",
    405: "There is no such page in this room.",
    429: "Too many wrong tries were made from here just now. Please wait a few seconds and try once more.",
}


@dataclasses.dataclass
class Room:
    """A running room.

    state : its folder; kept : what it remembers; hosts : the addresses, with port, under which browsers may ask for it
    seats : whether the door asks for a seat; secure : whether the line is encrypted
    kernels : the manager of the pages' Pythons, there once the server has started
    """

    state: Path
    kept: Kept
    members: Members
    hosts: frozenset
    seats: bool = False
    secure: bool = False
    kernels: object = None
    brake: Brake = dataclasses.field(default_factory=Brake)

    @property
    def code(self) -> str:
        """The code that people type at the door."""
        return self.kept.code


def current_member(handler) -> "str | None":
    """Gives the account of the member whose browser asks; None: it has not signed in, or the member was removed."""
    account, _, since = _cookie(handler, MEMBER).rpartition(" ")
    member = handler.settings["room"].members.get(account) if account else None
    return account if member is not None and since == _mark(member) else None


def is_instructor(handler) -> bool:
    """Says whether the instructor's browser asks."""
    return _cookie(handler, INSTRUCTOR) == "yes"


def has_code(handler) -> bool:
    """Says whether this browser gave the code that the room has now."""
    return same(_cookie(handler, CODE), handler.settings["room"].code)


def keep_cookie(handler, name: str, value: str) -> None:
    """Lets this browser remember something until it is closed; signed, and out of reach for scripts and other sites."""
    handler.set_signed_cookie(
        name, value, expires_days=None, httponly=True, samesite="Strict", secure=handler.settings["room"].secure
    )


def _cookie(handler, name: str) -> str:
    return (handler.get_signed_cookie(name, max_age_days=DAYS) or b"").decode("utf-8", "replace")


def _mark(member) -> str:
    """What tells a member from a later one of the same account."""
    return f"{member.since:.6f}"


class Door(IdentityProvider):
    """Tells the server behind the door who asks."""

    def get_user(self, handler) -> "User | None":
        """Gives the member as a user of the server."""
        account = current_member(handler)
        return None if account is None else User(account)


class Guarded:
    """What every page of the room has in common, put before a handler: who may see it, and plain words when it goes wrong."""

    to = "member"  # whom it is open to: "everybody", those with the "code", a "member", the "instructor"
    scripts = "'self'"

    @property
    def room(self) -> Room:
        """The running room."""
        return self.settings["room"]

    def set_default_headers(self):
        """Everything comes from this machine, and no other site may put this page into a frame."""
        super().set_default_headers()
        self.set_header("Content-Security-Policy", POLICY.format(scripts=self.scripts))
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "same-origin")

    async def prepare(self):
        """Let in whoever may see this page; anybody else gets the page that says what is missing."""
        self.current_user = self._jupyter_current_user = Door().get_user(self)
        if self.request.host not in self.room.hosts:
            self.refuse(
                403, "This room is not at this address. Please type the address that your instructor gives you."
            )
        elif self.to != "everybody" and not has_code(self):
            self.show("code.html", 403, to=self.request.uri, told="")
        elif self.to == "member" and current_member(self) is None:
            self.show("name.html", 403, to=self.request.uri, told="", name="", seat="")
        elif self.to == "instructor" and not is_instructor(self):
            self.refuse(403, "This page is for the instructor.")
        elif not self.is_owner():
            self.refuse(403, "This page belongs to somebody else.")
        elif asyncio.iscoroutine(more := super().prepare()):
            await more

    def is_owner(self) -> bool:
        """Whether the kernel that is asked for, if any, belongs to the member who asks."""
        kernel = self.path_kwargs.get("kernel_id")
        return kernel is None or self.room.kernels.owner_of(kernel) == current_member(self)

    def show(self, page: str, status: int = 200, **words) -> None:
        """Send a page of the door, with what it says filled in."""
        self.clear()
        self.set_header("Content-Security-Policy", POLICY.format(scripts="'self'"))
        self.set_status(status)
        self.set_header("Content-Type", "text/html; charset=utf-8")
        self.set_header("Cache-Control", "no-store")
        self.finish(PAGES.get_template(page).render(room=self.room, xsrf=_xsrf(self), **words))

    def refuse(self, status: int, told: str) -> None:
        """Send a page that says in a sentence why there is nothing else to see."""
        self.show("sentence.html", status, told=told)

    def write_error(self, status_code: int, **kwargs) -> None:
        """Say in plain words what a server would put in a number."""
        self.refuse(status_code, SAID.get(status_code, "Something went wrong here, and it is not your fault."))

    def get_login_url(self) -> str:
        """Where whoever is not signed in begins."""
        return "/"


def guarded(handler, **settings):
    """Gives a handler of somebody else's with the door before it."""
    return type(f"Guarded{handler.__name__}", (Guarded, handler), settings)


def _xsrf(handler) -> Markup:
    return Markup(handler.xsrf_form_html())


class Page(Guarded, web.RequestHandler):
    """A page of the room's own."""

    def goal(self) -> str:
        """The lesson that was asked for before the door, or the start page: never another site."""
        asked = self.get_body_argument("to", "")
        page = asked.partition("?")[0].removeprefix("/voila/render/")
        return f"/voila/render/{page}" if (self.room.state / "served" / "pages" / Path(page).name).is_file() else START


class CodePage(Page):
    """Asks for the code."""

    to = "everybody"

    def get(self):
        """Show what is missing next."""
        if not has_code(self):
            self.show("code.html", to="", told="")
        elif current_member(self) is None:
            self.show("name.html", to="", told="", name="", seat="")
        else:
            self.redirect(START)

    async def post(self):
        """Take the code; wrong ones wait."""
        typed, whose = self.get_body_argument("code", ""), self.request.remote_ip
        try:
            async with self.room.brake.turn(whose):
                right = same(typed, self.room.code)
        except TooMany:
            return self.show("code.html", 429, to=self.goal(), told=SAID[429])
        if not right:
            self.room.brake.was_wrong(whose)
            told = "This is not the code of this room. Please look at it once more, or ask your instructor."
            return self.show("code.html", 403, to=self.goal(), told=told)
        keep_cookie(self, CODE, self.room.code)
        self.redirect(self.goal(), status=HTTPStatus.SEE_OTHER)


class NamePage(Page):
    """Asks for the name."""

    to = "code"

    def get(self):
        """Show the boxes for name, seat and word."""
        self.show("name.html", to="", told="", name="", seat="")

    async def post(self):
        """Take the name, and the word that makes it one's own."""
        given = {part: self.get_body_argument(part, "") for part in ("name", "seat", "word")}
        try:
            account = await asyncio.to_thread(self.room.members.admit, **given)
        except Refused as refused:
            return self.show(
                "name.html", 403, to=self.goal(), told=str(refused), name=given["name"], seat=given["seat"]
            )
        keep_cookie(self, MEMBER, f"{account} {_mark(self.room.members.get(account))}")
        self.redirect(self.goal(), status=HTTPStatus.SEE_OTHER)


class LeavePage(Page):
    """Ends the sign-in on this browser."""

    def get(self):
        """Ask once more."""
        self.show("leave.html", member=self.room.members.get(current_member(self)))

    def post(self):
        """Forget who was here."""
        self.clear_cookie(MEMBER)
        self.redirect("/name", status=HTTPStatus.SEE_OTHER)


class NoPage(Page):
    """Whatever has no page."""

    def prepare(self):
        """Say so."""
        return super().prepare()

    def get(self, *_):
        """Say so."""
        raise web.HTTPError(404)

    post = put = delete = patch = options = head = get


def handlers(room: Room) -> list:
    """The pages of the door."""
    return [("/", CodePage), ("/name", NamePage), ("/leave", LeavePage)]

"""The door of the room: the code, then the name, then the lessons.

Nobody passes it unasked, and every page says what to do next.
"""

import asyncio
import dataclasses
from concurrent.futures import ThreadPoolExecutor
from http import HTTPStatus
from pathlib import Path

import jinja2
from environment import WORKBOOKS
from jupyter_server.auth.identity import IdentityProvider, User
from markupsafe import Markup
from tornado import web
from tornado.ioloop import IOLoop

from lessons_lib.exercises import names

from .code import Brake, TooMany, same
from .members import Members, Refused, WrongWord
from .state import Kept

START = "/voila/render/start-here.ipynb"
CODE, MEMBER, INSTRUCTOR = "room-code", "room-member", "room-instructor"
ADMITTING = ThreadPoolExecutor(2)  # a hash of a word takes 64 MB while it is made
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
NOT_HANDED_OUT = (
    "Your instructor has not handed out this lesson. The start page lists those that are. Answers that you gave in it "
    "before are kept."
)
SAID = {
    400: "Something in this form cannot be read. Please go back, type it once more, and send it again.",
    403: "This form was open for too long, or it came from somewhere else. Please go to the start page and try again.",
    404: "There is no such page in this room.",
    405: "There is no such page in this room.",
    500: "Something went wrong in this room, and it is not your fault. Please try again, or tell your instructor.",
    429: "Too many wrong tries were made from here just now. Please wait a few seconds and try once more.",
}


@dataclasses.dataclass
class Room:
    """A running room.

    state : its folder; kept : what it remembers; hosts : the addresses, with port, under which browsers may ask for it
    seats : whether the door asks for a seat; secure : whether the line is encrypted
    kernels : the manager of the pages' Pythons, there once the server has started
    brake, words : count wrong codes, by address, and wrong words of learners, by name
    awake : account → time at which an open page of that member last asked whether it is awake [s]
    """

    state: Path
    kept: Kept
    members: Members
    hosts: frozenset
    seats: bool = False
    secure: bool = False
    kernels: object = None
    brake: Brake = dataclasses.field(default_factory=Brake)
    words: Brake = dataclasses.field(default_factory=Brake)
    awake: dict = dataclasses.field(default_factory=dict)

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
    """What every page of the room has in common, put before a handler: who may see it, and plain words for errors."""

    to = "member"  # whom it is open to: "everybody", those with the "code", a "member", the "instructor"
    scripts = "'self'"

    @property
    def room(self) -> Room:
        """The running room."""
        return self.settings["room"]

    def get_current_user(self):
        """Give the member who asks."""
        return Door().get_user(self)

    def set_default_headers(self):
        """Everything comes from this machine, and no other site may put this page into a frame."""
        super().set_default_headers()
        self.set_header("Content-Security-Policy", POLICY.format(scripts=self.scripts))
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "same-origin")

    async def prepare(self):
        """Let in whoever may see this page; anybody else gets the page that says what is missing."""
        if self.request.host.lower() not in self.room.hosts:
            self.refuse(
                403, "This room is not at this address. Please type the address that your instructor gives you."
            )
        elif self.to in ("code", "member") and not has_code(self):
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
        reason = kwargs.get("exc_info", (None, None))[1]
        told = str(reason) if isinstance(reason, Refused) else SAID.get(status_code, SAID[500])
        self.refuse(status_code, told)

    def get_login_url(self) -> str:
        """Where whoever is not signed in begins."""
        return "/"


def guarded(handler, **settings):
    """Gives a handler of somebody else's with the door before it."""
    return type(f"Guarded{handler.__name__}", (Guarded, handler), settings)


def _xsrf(handler) -> Markup:
    return Markup(handler.xsrf_form_html())


def is_lesson(room: Room, page: str) -> bool:
    """Says whether a page of this name is served."""
    return _is_page(page, room.state / "served" / "pages")


def is_closed(room: Room, page: str) -> bool:
    """Says whether a page of this name is a lesson that the instructor has not handed out."""
    return not is_lesson(room, page) and _is_page(page, WORKBOOKS) and page.endswith(".ipynb")


def _is_page(page: str, folder: Path) -> bool:
    return Path(page).name == page and "\\" not in page and (folder / page).is_file()


class Page(Guarded, web.RequestHandler):
    """A page of the room's own."""

    def goal(self) -> str:
        """Give the lesson that was asked for before the door, or the start page: never another site."""
        page = self.get_body_argument("to", "").partition("?")[0].removeprefix("/voila/render/")
        return f"/voila/render/{page}" if is_lesson(self.room, page) else START

    def go(self, where: str) -> None:
        """Send the browser on, with what it typed left behind."""
        self.redirect(where, status=HTTPStatus.SEE_OTHER)


class CodePage(Page):
    """Asks for the code."""

    to = "everybody"

    def get(self):
        """Show what is missing next, or the start page."""
        if not has_code(self):
            self.show("code.html", to="", told="")
        elif current_member(self) is None:
            self.show("name.html", to="", told="", name="", seat="")
        else:
            self.go(START)

    async def post(self):
        """Take the code; the more wrong ones there were, the longer it takes."""
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
        self.go(self.goal())


class NamePage(Page):
    """Asks for the name."""

    to = "code"

    def get(self):
        """Show the boxes for name, seat and word."""
        self.show("name.html", to="", told="", name="", seat="")

    async def post(self):
        """Take the name, and the word that makes it one's own."""
        name, seat, word = (self.get_body_argument(part, "") for part in ("name", "seat", "word"))
        members, whose, status = self.room.members, name.strip().casefold()[:200], 403
        try:
            async with self.room.words.turn(whose):
                account = await IOLoop.current().run_in_executor(ADMITTING, members.admit, name, seat, word)
        except TooMany:
            status, told = 429, SAID[429]
        except Refused as refused:
            told = str(refused)
            if isinstance(refused, WrongWord):
                self.room.words.was_wrong(whose)
        else:
            member = members.get(account)
            keep_cookie(self, MEMBER, f"{account} {_mark(member)}")
            asks = self.room.seats and (members.at_seat(member.seat, account) or names.seat(seat) != member.seat)
            return self.ask_seat(account, names.seat(seat)) if asks else self.go(self.goal())
        self.show("name.html", status, to=self.goal(), told=told, name=name[:400], seat=seat[:400])

    def ask_seat(self, account: str, given: str) -> None:
        """Tell who is at this seat too, and that answers lie under another one."""
        member = self.room.members.get(account)
        others = self.room.members.at_seat(given, account)
        self.show("seat.html", to=self.goal(), member=member, given=given, others=others)


class SeatPage(Page):
    """Takes another seat."""

    def get(self):
        """Ask for the seat."""
        member = self.room.members.get(current_member(self))
        self.show("seat.html", to="", member=member, given=member.seat, others=[])

    async def post(self):
        """Take the seat; answers move along."""
        account, seat = current_member(self), names.seat(self.get_body_argument("seat", ""))
        if seat != self.room.members.get(account).seat:
            await self.room.kernels.end_pages_of(account)
            self.room.members.reseat(account, seat)
        self.go(self.goal())


class LeavePage(Page):
    """Ends the sign-in on this browser, and with it the pages that are still open there."""

    def get(self):
        """Ask once more."""
        self.show("leave.html", member=self.room.members.get(current_member(self)))

    async def post(self):
        """Forget who was here."""
        await self.room.kernels.end_pages_of(current_member(self))
        self.clear_cookie(MEMBER)
        self.go("/name")


class NoPage(Page):
    """Stands wherever there is no page."""

    def get(self, *_):
        """Say so."""
        raise web.HTTPError(404)

    post = put = delete = patch = options = head = get


def handlers(room: Room) -> list:
    """Gives the pages of the door."""
    return [("/", CodePage), ("/name", NamePage), ("/seat", SeatPage), ("/leave", LeavePage)]

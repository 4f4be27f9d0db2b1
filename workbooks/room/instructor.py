"""The instructor's page of the running room: who is in, what each of them did, the board, and what may be changed or deleted.

It opens with the key that only the instructor's window prints. Everything that changes something is a form with a page of its own, so
that the pages which read themselves anew every few seconds hold nothing that somebody types.
"""

import asyncio
import csv
import datetime
import hmac
import io
import time
from pathlib import Path

from tornado import web

from lessons_lib.exercises import LearnerResult, lessons, read_class
from lessons_lib.exercises.bank import name_of
from lessons_lib.exercises.class_reading import answers_told, by_need
from lessons_lib.exercises.results import total
from lessons_lib.quantities.display import SYSTEMS, show

from .code import TooMany
from .door import CODE, INSTRUCTOR, SAID, Page, Room, is_instructor, keep_cookie
from .members import Refused

PRESENT = 120  # [s] since an open page last asked for anything within which somebody counts as here
WORD = "delete"  # typed to delete everything
ALL = "all"
FORMULA = ("=", "+", "-", "@", "\t", "\r")  # a spreadsheet would work out what begins so
GONE = "All answers, guesses, layouts and sheets are deleted. Tables that you downloaded are not."
REFUSED = "This page is for the instructor. It opens with the line that the instructor's own window shows."


class InstructorPage(Page):
    """A page for the instructor's browser alone."""

    to = "instructor"

    async def reading(self, hide_names: bool = False):
        """Gives what the room has answered, read beside the work of the server."""
        return await asyncio.to_thread(read_class, self.room.state, hide_names)

    def download(self, name: str, rows: list) -> None:
        """Send a table for a spreadsheet."""
        self.set_header("Content-Type", "text/csv; charset=utf-8")
        self.set_header("Content-Disposition", f'attachment; filename="{name}-{datetime.date.today()}.csv"')
        self.set_header("Cache-Control", "no-store")
        self.finish(table(rows))


class Entrance(InstructorPage):
    """The room as it is now; whoever brings the key is known as the instructor from then on."""

    to = "everybody"

    async def get(self):
        """Take the key, or show who is in."""
        if given := self.get_query_argument("key", ""):
            return await self._enter(given)
        if not is_instructor(self):
            return self.refuse(403, REFUSED)
        learners = learners_of(self.room, await self.reading())
        totals = [
            total([one["lessons"].get(lesson) for one in learners if lesson in one["lessons"]]) for lesson in lessons()
        ]
        self.show("instructor.html", learners=learners, lessons=list(zip(lessons(), totals)), now=clock(time.time()))

    async def _enter(self, given: str) -> None:
        """Let the key's bearer in; wrong ones wait, as wrong codes do."""
        whose = self.request.remote_ip
        try:
            async with self.room.brake.turn(whose):
                right = hmac.compare_digest(given.encode(), self.room.kept.instructor.encode())
        except TooMany:
            return self.refuse(429, SAID[429])
        if not right:
            self.room.brake.was_wrong(whose)
            return self.refuse(403, "This is not the key of this room. " + REFUSED)
        keep_cookie(self, INSTRUCTOR, "yes")
        keep_cookie(self, CODE, self.room.code)
        self.redirect("/instructor")


class BoardPage(InstructorPage):
    """What the room got right and wrong: the questions that need most help first, and nobody's name unless it is asked for."""

    async def get(self):
        """Show the board of one lesson, or of all."""
        lesson, named = self.get_argument("lesson", ALL), self.get_argument("names", "") == "shown"
        reading = await self.reading(hide_names=not named)
        self.show(
            "instructor_board.html",
            questions=[one for one in by_need(reading.questions) if lesson in (ALL, one.question[:2])],
            guesses=[guessed(one) for one in reading.guesses if lesson in (ALL, one.key[:2])],
            learners=active(reading),
            skipped=reading.skipped,
            name_of=name_of,
            answers_told=lambda one, answers: answers_told(one.question, answers),
            lesson=lesson,
            lessons=[ALL, *lessons()],
            named=named,
            now=clock(time.time()),
        )


class LearnerPage(InstructorPage):
    """One learner: what may be changed."""

    async def prepare(self):
        """Let the instructor in, for a learner who is there."""
        await super().prepare()
        self.account = self.get_argument("account", "")
        if not self._finished and self.room.members.get(self.account) is None:
            self.refuse(404, "This learner is not in the room any more.")

    def get(self):
        """Show the forms."""
        self.forms("")

    async def post(self):
        """Do what one of the forms asks, and say what happened, or why nothing did."""
        act = {"free": self._free, "rename": self._rename, "remove": self._remove}.get(
            self.get_body_argument("act", "")
        )
        if act is None:
            raise web.HTTPError(404)
        try:
            await act(self.account, self.room.members.get(self.account))
        except Refused as refused:
            self.forms(str(refused), 400, self.get_body_argument("name", ""))

    def forms(self, told: str, status: int = 200, name: str = "") -> None:
        """Show the forms, with a sentence above them, and with the name that was typed."""
        member = self.room.members.get(self.account)
        if member is None:
            return self.show("instructor_done.html", status, told=told)
        words = {"account": self.account, "member": member, "told": told, "name": name or member.name}
        self.show("instructor_learner.html", status, **words)

    async def _free(self, account: str, member) -> None:
        self.room.members.free_word(account)
        self.forms(
            f"The word of {member.name} is forgotten. At the next sign-in {member.name} chooses a new one. Until then"
            " anybody with the room's code can come in under this name, so let it be done at once."
        )

    async def _rename(self, account: str, member) -> None:
        await self.room.kernels.end_pages_of(account)
        await asyncio.to_thread(self.room.members.rename, account, self.get_body_argument("name", ""))
        now = self.room.members.get(account).name
        self.forms(
            f"{member.name} is called {now} from now on. The answers are kept. Open pages have to be opened again."
        )

    async def _remove(self, account: str, member) -> None:
        if self.get_body_argument("sure", "") != "yes":
            raise Refused(f"Nothing was deleted. Tick the box first if {member.name} really is to be removed.")
        await self.room.kernels.end_pages_of(account)
        await asyncio.to_thread(self.room.members.remove, account)
        self.show("instructor_done.html", told=f"{member.name} is out of the room. {GONE}")


class DeletePage(InstructorPage):
    """Deletes everything that learners left in this room."""

    def get(self):
        """Ask for the word."""
        self.show("instructor_delete.html", count=len(self.room.members.all()), word=WORD, told="")

    async def post(self):
        """Delete, if the word was typed."""
        accounts = self.room.members.all()
        if self.get_body_argument("word", "").strip().casefold() != WORD:
            told = f'Nothing was deleted. Type the word "{WORD}" if everything really is to go.'
            return self.show("instructor_delete.html", 400, count=len(accounts), word=WORD, told=told)
        for account in accounts:
            await self.room.kernels.end_pages_of(account)
        try:
            await asyncio.to_thread(self.room.members.remove_all)
        except Refused as refused:
            return self.show("instructor_done.html", 400, told=str(refused))
        who = "Everybody is out of the room." if accounts else "Nobody was in the room."
        self.show("instructor_done.html", told=f"{who} {GONE}")


class PrivacyPage(Page):
    """What the room keeps, for everybody to read."""

    to = "everybody"

    def get(self):
        """Show it."""
        self.show("keeps.html")


class ResultsTable(InstructorPage):
    """The results of each learner as a table."""

    async def get(self):
        """Send one row for each learner and lesson, and one for all lessons."""
        rows = [("name", "seat", "in since", "last seen", "lesson", "tried", "right", "answers", "minutes")]
        for one in learners_of(self.room, await self.reading()):
            who = one["member"].name, one["member"].seat, moment(one["member"].since), moment(one["member"].seen)
            for lesson, result in [*one["lessons"].items(), (ALL, one["in_all"])]:
                rows.append((*who, lesson, result.tried, result.right, result.answers, round(result.minutes)))
        self.download("results", rows)


class BoardTable(InstructorPage):
    """The board as a table, without names."""

    async def get(self):
        """Send one row for each question and kind of mistake."""
        rows = [("question", "lesson", "tried", "right", "right at once", "stuck", "mistake", "learners who made it")]
        for one in by_need((await self.reading(hide_names=True)).questions):
            counts = name_of(one.question), one.question[:2], one.tried, one.right, one.right_at_once, len(one.stuck)
            rows += [(*counts, name, len(labels)) for name, labels, _ in one.mistakes] or [(*counts, "", 0)]
        self.download("board", rows)


class Script(Page):
    """The script that reads a page of the instructor's anew."""

    to = "everybody"

    def get(self):
        """Send it."""
        self.set_header("Content-Type", "text/javascript; charset=utf-8")
        self.finish((Path(__file__).with_name("pages") / "instructor.js").read_text(encoding="utf-8"))


def learners_of(room: Room, reading) -> list[dict]:
    """Gives everybody who is in, with what they did: "account", "member", "lessons" (lesson → Result), "in_all", and words for the page."""
    theirs: dict[str, list[LearnerResult]] = {}
    for one in reading.results:
        theirs.setdefault(one.file.partition("/")[0], []).append(one)
    found = []
    for account, member in sorted(room.members.all().items(), key=lambda pair: pair[1].name.casefold()):
        files, seen = theirs.get(account, []), max(member.seen, room.awake.get(account, 0.0))
        own = {
            lesson: total([one.lessons[lesson] for one in files if lesson in one.lessons])
            for lesson in lessons()
            if any(lesson in one.lessons for one in files)
        }
        found.append(
            {
                "account": account,
                "member": member,
                "lessons": own,
                "in_all": total(own.values()),
                "since": clock(member.since),
                "seen": ago(time.time() - seen),
                "here": time.time() - seen < PRESENT,
                "page": member.page.removesuffix(".ipynb").replace("-", " "),
            }
        )
    return found


def active(reading) -> int:
    """Gives how many of a class answered or guessed; whoever only opened a page did neither."""
    guessed_too = {label for one in reading.guesses for label, _ in one.guesses}
    return len({one.label for one in reading.results if one.in_all.answers} | guessed_too)


def guessed(one) -> str:
    """Says what the room guessed for one key, in both unit systems."""
    middle, model = (
        None if value is None else " or ".join(dict.fromkeys(show(value, one.kind, system) for system in SYSTEMS))
        for value in (one.median, one.model)
    )
    many = "1 guess" if len(one.guesses) == 1 else f"{len(one.guesses)} guesses"
    return f"Lesson {one.key}: {many}. The middle one is {middle}{f'; the model gives {model}' if model else ''}."


def table(rows: list) -> bytes:
    """Gives rows as a CSV file that spreadsheets open as UTF-8, and of which they work nothing out."""
    text = io.StringIO()
    csv.writer(text).writerows([[cell(one) for one in row] for row in rows])
    return text.getvalue().encode("utf-8-sig")


def cell(content):
    """Gives what stands in a cell: a number as it is, and text that looks like a formula behind an apostrophe."""
    if isinstance(content, str) and content.lstrip(" ").startswith(FORMULA):
        return f"'{content}"
    return content


def clock(moment_: float) -> str:
    """Gives a time of day of today, or a day with its time."""
    when = datetime.datetime.fromtimestamp(moment_)
    return f"{when:%H:%M}" if when.date() == datetime.date.today() else f"{when:%d %b %H:%M}"


def moment(moment_: float) -> str:
    """Gives a moment as spreadsheets read it."""
    return f"{datetime.datetime.fromtimestamp(moment_):%Y-%m-%d %H:%M}"


def ago(seconds: float) -> str:
    """Gives how long ago something was."""
    minutes = int(seconds / 60)
    return "just now" if minutes < 1 else f"{minutes} min ago" if minutes < 100 else f"{minutes // 60} h ago"


def handlers(room: Room) -> list:
    """Gives the pages of this part of the room."""
    return [
        ("/instructor", Entrance),
        ("/instructor/board", BoardPage),
        ("/instructor/learner", LearnerPage),
        ("/instructor/delete", DeletePage),
        ("/instructor/results.csv", ResultsTable),
        ("/instructor/board.csv", BoardTable),
        ("/instructor/live.js", Script),
        ("/privacy", PrivacyPage),
    ]

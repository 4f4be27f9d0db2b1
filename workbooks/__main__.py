"""`python3 workbooks` (Windows: `py workbooks`): set up if needed, then open the start page in JupyterLab, or serve the lessons to others."""

import argparse
import sys
from pathlib import Path

from class_answers import collect, forget_word
from class_hub import IDLE, MEGABYTES, check_rights, class_command, risks
from environment import SetupProblem, lab_command, run_in_environment
from room.command import room_command, room_risks


def main() -> int:
    """Read the options, open the workbook and return the exit code once it is closed."""
    parser = argparse.ArgumentParser(
        prog="python3 workbooks",
        allow_abbrev=False,
        description="Open Hot Water Runs in the web browser. Any other options go to JupyterLab.",
    )
    parser.add_argument("--no-browser", action="store_true", help="only print the address of the start page")
    parser.add_argument("--port", type=int, help="the port to use instead of any free one")
    of_room = parser.add_argument_group("a room of learners")
    of_room.add_argument(
        "--room",
        metavar="ADDRESS",
        help="serve the lessons without code cells to a room, at this address of this computer",
    )
    of_room.add_argument(
        "--code", metavar="WORDS", help="the code that learners type, instead of the last one or a new one"
    )
    of_room.add_argument("--seats", action="store_true", help="ask each learner for a seat as well as a name")
    of_room.add_argument("--certificate", type=Path, metavar="FILE", help="for an encrypted line, with --key (PEM)")
    of_room.add_argument("--key", type=Path, metavar="FILE", help="the key that belongs to the certificate (PEM)")
    of_class = parser.add_argument_group("a class, each learner signed in (Linux, as root)")
    of_class.add_argument(
        "--class", dest="class_at", metavar="ADDRESS", help="serve a class at this address of this computer"
    )
    of_class.add_argument(
        "--memory", type=int, default=MEGABYTES, metavar="MB", help="that one page of a learner may take (%(default)s)"
    )
    of_class.add_argument(
        "--idle",
        type=int,
        default=IDLE,
        metavar="MINUTES",
        help="without a touch, after which a page ends (%(default)s)",
    )
    of_class.add_argument(
        "--collect", metavar="FOLDER", help="copy all learners' answers into one folder, for the class board"
    )
    of_class.add_argument("--forget-word", metavar="NAME", help="let the learner of this name choose a new word")
    options, extra = parser.parse_known_args()
    if options.collect is not None or options.forget_word is not None:
        return _with_files_of_class(options)

    def open_workbook(python: Path) -> "tuple[list[str], dict[str, str]]":
        arguments, variables, address = lab_command(python, options.port, not options.no_browser, tuple(extra))
        print("Hot Water Runs is at this address, should your web browser not open it by itself:")
        print("    " + address)
        print("Keep this window open while you read. To stop, press Ctrl-C here.", flush=True)
        return arguments, variables

    def open_room(python: Path) -> "tuple[list[str], dict[str, str]]":
        arguments, variables = room_command(
            python, options.room, options.port, options.code, options.seats, options.certificate, options.key
        )
        print(room_risks(options.certificate is not None), flush=True)
        return [*arguments, *extra], variables

    if options.class_at is not None:
        return _serve_class(options, extra)
    return run_in_environment(open_room, "room") if options.room else run_in_environment(open_workbook)


def _serve_class(options: argparse.Namespace, extra: "list[str]") -> int:
    def open_class(python: Path) -> "tuple[list[str], dict[str, str]]":
        arguments, variables, address, code = class_command(
            python, options.class_at, options.port, megabytes=options.memory, idle=options.idle, code=options.code
        )
        print(risks(options.memory, options.idle))
        print(
            "Learners open, in any web browser:\n    {}\nThe room's code:\n    {}\nTo stop, press Ctrl-C here.".format(
                address, code
            ),
            flush=True,
        )
        return [*arguments, *extra], variables

    try:
        check_rights()
    except SetupProblem as problem:
        print(problem, file=sys.stderr)
        return 1
    return run_in_environment(open_class, "class")


def _with_files_of_class(options: argparse.Namespace) -> int:
    try:
        if options.forget_word is not None:
            forget_word(options.forget_word)
            print(
                "The learner chooses a new word at the next sign-in. Until then anybody with the code can sign in under this name."
            )
        else:
            copied, left = collect(options.collect)
            print("{} files of answers are in {}: give this folder to the class board.".format(copied, options.collect))
            if left:
                print("Left out, for they are no plain files: {}.".format(", ".join(left)))
    except SetupProblem as problem:
        print(problem, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())

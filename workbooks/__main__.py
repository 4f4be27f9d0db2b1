"""`python3 workbooks` (Windows: `py workbooks`): set up if needed, then open the start page in JupyterLab, or serve the lessons to others."""

import argparse
import sys
from pathlib import Path

from environment import lab_command, run_in_environment
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
    options, extra = parser.parse_known_args()

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

    return run_in_environment(open_room, "room") if options.room else run_in_environment(open_workbook)


if __name__ == "__main__":
    sys.exit(main())

"""Pages' Pythons that are forks of one process, which has read the lessons: they start at once and share its memory."""

import asyncio
import ctypes
import multiprocessing
import os
import signal

from jupyter_client.provisioning import LocalProvisioner


class ForkedProvisioner(LocalProvisioner):
    """Starts a kernel as a fork from the standard library's fork server, instead of a program of its own."""

    async def launch_kernel(self, cmd, **options):
        """Fork; of the command `cmd` only what it tells ipykernel is taken, from its first option on."""
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(["room.warm"])
        arguments = cmd[cmd.index("-f") :], options["env"], options.get("cwd") or "."
        fork = context.Process(target=become_kernel, args=arguments, daemon=True)
        # the first one waits until the lessons are read
        await asyncio.get_running_loop().run_in_executor(None, fork.start)
        self.process, self.pid, self.pgid = _Started(fork), fork.pid, fork.pid
        return self.connection_info


class _Started:
    """A fork that answers to the words of subprocess.Popen, as jupyter_client uses them."""

    stdin = stdout = stderr = None

    def __init__(self, fork):
        self.pid, self._fork = fork.pid, fork

    def poll(self) -> int | None:
        """Gives the exit code; None while it runs."""
        return self._fork.exitcode

    def wait(self) -> int | None:
        """Gives the exit code, once it has ended."""
        self._fork.join()
        return self._fork.exitcode

    def send_signal(self, number: int) -> None:
        """Sends a signal, unless it has ended."""
        if self._fork.is_alive():
            os.kill(self.pid, number)

    def terminate(self) -> None:
        """Asks it to end."""
        self._fork.terminate()

    def kill(self) -> None:
        """Ends it."""
        self._fork.kill()


ENDS_WITH_PARENT = 1  # PR_SET_PDEATHSIG of Linux's prctl


def end_with_parent() -> None:
    """Lets the system end this process as soon as the one that started it is gone, also where that was killed."""
    ctypes.CDLL(None).prctl(ENDS_WITH_PARENT, signal.SIGKILL)


def become_kernel(arguments: list[str], variables: dict[str, str], folder: str) -> None:
    """Turns this fork into a page's Python, until it is told to end or the fork server is gone.

    arguments : for ipykernel; variables : the whole environment; folder : where it works
    """
    from ipykernel.kernelapp import IPKernelApp

    end_with_parent()
    os.setsid()  # a group of its own: jupyter_client ends a kernel with its group
    os.environ.clear()
    os.environ.update(variables)
    os.chdir(folder)
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in range(3):
        os.dup2(nowhere, stream)
    IPKernelApp.launch_instance(arguments)

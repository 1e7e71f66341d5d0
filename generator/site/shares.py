"""Work shared out among processes."""

from __future__ import annotations

import multiprocessing
import signal
import sys
from collections.abc import Callable, Sequence
from multiprocessing.connection import Connection
from multiprocessing.context import ForkProcess
from typing import TypeVar

WORTH_SHARING = 24
"""Fewer things than this are done sooner than a process is started."""

T = TypeVar("T")


def in_shares(things: Sequence[T], work: Callable[[Sequence[T]], int], processes: int) -> int:
    """Let processes do some work on their share of things each; the sum of what it gives.

    Only where a process can be forked, so that it begins with everything already read; elsewhere,
    beside other threads, whose locks a forked process would wait for, and for few things, the work
    is done here.

    Raises:
        Exception: what the work raised, in whichever process.
    """
    is_alone = len(sys._current_frames()) == 1
    can_fork = is_alone and "fork" in multiprocessing.get_all_start_methods()
    if processes < 2 or len(things) < WORTH_SHARING or not can_fork:
        return work(things)
    context = multiprocessing.get_context("fork")
    ends: list[Connection] = []
    started: list[ForkProcess] = []
    try:
        for index in range(1, processes):
            here, there = context.Pipe(duplex=False)
            share = things[index::processes]
            process = context.Process(target=_do, args=(share, work, there), daemon=True)
            process.start()
            started.append(process)
            there.close()
            ends.append(here)
        return work(things[::processes]) + sum(map(_answer, ends))
    finally:
        # After an error or an interrupt, none may go on writing behind our back
        for process in started:
            process.terminate()
            process.join()


def _answer(end: Connection) -> int:
    try:
        answer = end.recv()
    except EOFError:
        raise ChildProcessError("one of the processes of the build was ended.") from None
    if isinstance(answer, BaseException):
        raise answer
    return int(answer)


def _do(things: Sequence[T], work: Callable[[Sequence[T]], int], end: Connection) -> None:
    # Asked to end, it has nothing to clear up: the process that started it does that
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    try:
        end.send(work(things))
    except BaseException as error:
        end.send(error)
    finally:
        end.close()

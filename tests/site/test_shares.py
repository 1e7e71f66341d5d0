"""Work shared out among processes: the same sum, errors passed on, nobody left behind."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Sequence

import pytest

from generator.site.shares import WORTH_SHARING, in_shares

THINGS = range(WORTH_SHARING + 5)

pytestmark = [
    pytest.mark.alone,
    pytest.mark.skipif(
        "fork" not in multiprocessing.get_all_start_methods(),
        reason="processes cannot be forked here",
    ),
]


@pytest.mark.parametrize("processes", [1, 2, 3, 50])
def test_each_thing_is_worked_on_once(processes: int) -> None:
    assert in_shares(THINGS, sum, processes) == sum(THINGS)


def test_a_few_things_are_done_here() -> None:
    here = os.getpid()
    assert in_shares([1, 2], lambda _: os.getpid(), 4) == here


def test_beside_another_thread_everything_is_done_here() -> None:
    done = threading.Event()
    thread = threading.Thread(target=done.wait)
    thread.start()
    try:
        assert in_shares(THINGS, lambda _: os.getpid(), 4) == os.getpid()
    finally:
        done.set()
        thread.join()


def test_an_error_in_another_process_is_raised_here() -> None:
    def refuse_elsewhere(share: Sequence[int]) -> int:
        if 1 in share:
            raise OSError(28, "No space left on device")
        return len(share)

    with pytest.raises(OSError, match="No space left"):
        in_shares(THINGS, refuse_elsewhere, 2)
    assert not multiprocessing.active_children()


def test_an_error_here_ends_the_other_processes() -> None:
    def wait_elsewhere(share: Sequence[int]) -> int:
        if 0 in share:
            raise KeyboardInterrupt
        signal.pause()
        return 0

    with pytest.raises(KeyboardInterrupt):
        in_shares(THINGS, wait_elsewhere, 2)
    assert not multiprocessing.active_children()


def test_a_process_that_is_killed_is_no_success() -> None:
    def die_elsewhere(share: Sequence[int]) -> int:
        if 1 in share:
            os.kill(os.getpid(), signal.SIGKILL)
        return len(share)

    with pytest.raises(ChildProcessError, match="was ended"):
        in_shares(THINGS, die_elsewhere, 2)

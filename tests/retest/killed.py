"""Run by test_kill.py: a retest is killed before everything it does to files, and what is left is looked at."""

from __future__ import annotations

import os
import signal
import tempfile
from pathlib import Path

from door.killed import killing
from retest.files import OLD_PDF, PDF, folder, job, outcome, quick
from sources_for_tests import CLIENT

from builder.work.retest import apply

ADDED = ", {date: 2027-02-13, load: 205, reps: 1, rir: 0, revision: 2}"
NEW = CLIENT.replace("reps: 1}]}\n  bench", f"reps: 1}}{ADDED}]}}\n  bench")


def _run(path: Path, at: int) -> int:
    """How a child ends that is killed when it touches files for the time `at`; 0 when it came to its end before."""
    child = os.fork()
    if child == 0:
        killing(at)()
        done = apply(outcome(), job(path))
        os._exit(0 if done.done else 9)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def _state(path: Path) -> tuple[str, str]:
    """Which profile and which booklet lie there, each whole."""
    profile = {CLIENT.encode(): "old", NEW.encode(): "new"}[(path / "client.yaml").read_bytes()]
    booklet = {OLD_PDF: "old", PDF: "new"}[(path / "out.pdf").read_bytes()]
    kept = path / "client.yaml.before-retest"
    assert not kept.exists() or kept.read_bytes() == CLIENT.encode()
    assert kept.exists() or profile == "old"
    return profile, booklet


def main() -> None:
    """Prints how often a run was killed, and every state that was found."""
    quick()
    seen, at = [], 0
    while True:
        at += 1
        with tempfile.TemporaryDirectory() as name:
            path = folder(Path(name))
            (path / "out.pdf").write_bytes(OLD_PDF)
            code = _run(path, at)
            assert code in (0, -signal.SIGKILL), code
            state = _state(path)
            seen += [state] if state not in seen else []
            if code == 0:
                break
            if state[0] == "old":
                # The lock of the killed run is held by no one; nothing half-written stays beside the profile.
                assert apply(outcome(), job(path)).done
                assert _state(path) == ("new", "new")
                left = sorted(p.name for p in path.iterdir() if "client" in p.name)
                assert left == ["client.yaml", "client.yaml.before-retest"], left
    print(at - 1, *("/".join(state) for state in seen))


if __name__ == "__main__":
    main()

"""Steps as typed held against what geometry lets move: every order that they allow, or one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from criteria.folding.order import MOST_MOVERS, Moved, Stop, stops_of
from criteria.folding.pieces import Nest

MOST_SETS = 2**MOST_MOVERS
"""Sets of steps done that are looked at; of more, those of one order alone."""


@dataclass(frozen=True)
class Task:
    """A step that moves something.

    mark    by which others name it
    moves   marks of what it moves
    after   marks of all tasks that must have ended
    """

    mark: str
    moves: tuple[str, ...]
    after: frozenset[str]


@dataclass(frozen=True)
class Clash:
    """A piece that can't move in a step, although the steps allow it then.

    stops   what stands in its way, the deepest first
    done    the tasks that have ended
    """

    task: Task
    piece: str
    stops: tuple[Stop, ...]
    done: frozenset[str]


def sets_done(tasks: Sequence[Task]) -> tuple[list[frozenset[str]], bool]:
    """Return every set of tasks that may have ended together, the smallest first, and True.

    Of more than MOST_SETS: those of the order in which the tasks stand, and False.
    """
    reached = [frozenset[str]()]
    known = set(reached)
    for done in reached:
        for task in tasks:
            if is_next(task, done) and (more := done | {task.mark}) not in known:
                known.add(more)
                reached.append(more)
        if len(reached) > MOST_SETS:
            return [frozenset(t.mark for t in tasks[:n]) for n in range(len(tasks) + 1)], False
    return reached, True


def is_next(task: Task, done: frozenset[str]) -> bool:
    """Whether a task may be done once others have ended."""
    return task.mark not in done and task.after <= done


def clashes(nest: Nest, tasks: Sequence[Task]) -> tuple[list[Clash], bool]:
    """Return for each task the first way in which it can't be done, and whether all were tried.

    What comes after a task that can't be done isn't looked at. With more than MOST_MOVERS pieces
    that move, tasks are tried in the order in which they stand.
    """
    found: dict[str, Clash] = {}
    sets, is_whole = sets_done(tasks if len(nest.movers) <= MOST_MOVERS else _in_a_row(tasks))
    reached = {sets[0]}
    for done in sets:
        moved = Moved(m for task in tasks if task.mark in done for m in task.moves)
        for task in tasks if done in reached else ():
            if not is_next(task, done):
                continue
            if _goes(nest, task.moves, moved, set()):
                reached.add(done | {task.mark})
            elif task.mark not in found:
                found[task.mark] = Clash(task, *_first_stuck(nest, task.moves, moved), done)
    is_whole = is_whole and len(nest.movers) <= MOST_MOVERS
    return [found[task.mark] for task in tasks if task.mark in found], is_whole


def _in_a_row(tasks: Sequence[Task]) -> list[Task]:
    """The same tasks, each after all that stand before it."""
    return [
        replace(task, after=frozenset(before.mark for before in tasks[:n]))
        for n, task in enumerate(tasks)
    ]


def _goes(nest: Nest, moves: Sequence[str], moved: Moved, stuck: set[Moved]) -> bool:
    """Whether all pieces of a step go in some order; MOST_SETS dead ends are looked at."""
    if not moves:
        return True
    for mark in moves:
        then, rest = moved | {mark}, [each for each in moves if each != mark]
        is_open = then not in stuck and len(stuck) < MOST_SETS
        if is_open and not stops_of(nest, mark, moved) and _goes(nest, rest, then, stuck):
            return True
    stuck.add(moved)
    return False


def _first_stuck(nest: Nest, moves: Sequence[str], moved: Moved) -> tuple[str, tuple[Stop, ...]]:
    """What doesn't go of a step once those that do have gone, and what stops it."""
    stops = {mark: stops_of(nest, mark, moved) for mark in moves}
    free = next((mark for mark in moves if not stops[mark]), None)
    if free is None:
        return moves[0], tuple(stops[moves[0]])
    return _first_stuck(nest, [each for each in moves if each != free], moved | {free})

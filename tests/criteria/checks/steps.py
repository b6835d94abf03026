"""Steps of setting up in few words, and three sequences worked by hand."""

STATES = [{"state": "packed", "kind": "road"}, {"state": "night", "kind": "night"}]


def typed(rows):
    """Steps from packed to day, each in words: mark, minutes, people, marks of those before."""
    return [_typed(*row.split()) for row in rows.split(",")]


def _typed(mark, minutes, people, *after):
    cells = {"mark": mark, "step": f"Do {mark}", "from": "packed", "to": "day"}
    return cells | {"minutes": minutes, "people": people, "after": " ".join(after)}


# By hand: with three people D takes all three, so E ends before it or waits for it.
SIX = typed("A 10 2, B 10 2, C 20 1 A, D 10 3 B C, E 15 1 B, F 5 2 D E")
# By hand: the path a b c d e f g k n is 175; c, d and f take all four.
FOURTEEN = typed(
    "a 15 2, b 30 2 a, c 20 4 b, d 15 4 c, e 15 2 d, f 15 4 e, g 15 2 f, h 10 2 g, i 10 2 e, "
    "j 25 2 c, k 30 1 g, l 40 2 b, m 30 1 h, n 20 2 i k"
)
# Seven activities of a worked example (studylib.net, document 8378728, tables 1 and 2): 16 long.
SEVEN = typed("A 6 1, B 2 1 A, C 2 1 A, D 3 1 B, F 2 1 C, E 4 1 D F, G 1 1 E")


def changed(steps, mark, **cells):
    return [row | cells if row["mark"] == mark else row for row in steps]

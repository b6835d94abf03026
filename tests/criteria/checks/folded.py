"""A house that nests: a shell, two pull-outs, a drop box and a side flap, typed as schedules."""

STATES = [{"state": "packed", "kind": "road"}, {"state": "day", "kind": "day"}]
SIZES = {
    "main": ((6, 2.4, 2.6), "100", "back"),
    "A": ((5.6, 2.2, 2.3), "60", "front back"),
    "B": ((5.3, 2.0, 2.1), "60", "front bottom"),
    "Z": ((1, 1.4, 1), "", ""),
    "side": ((6, 0.08, 2.6), "", ""),
}
PACKED = {
    "main": ((0, 0, 0), ""),
    "A": ((0.12, 0.12, 0.12), "main"),
    "B": ((0.2, 0.2, 0.2), "A"),
    "Z": ((0.4, 0.4, 0.4), "B"),
    "side": ((0, 2.4, 0), ""),
}


def place(at):
    return dict(zip(("x_m", "y_m", "z_m"), (f"{each:.4g}" for each in at), strict=True))


def piece(mark, size, at, wall="", sides="", **cells):
    sizes = dict(zip(("l_m", "w_m", "h_m"), map(str, size), strict=True))
    typed = {"mark": mark, "piece": "Box", "n": "1", "wall": wall, "open_sides": sides}
    return typed | sizes | place(at) | cells


def packed(mark, at, inside="", **cells):
    return {"mark": mark, "state": "packed", "inside": inside, **place(at), **cells}


def step(mark, pieces, after="", **cells):
    times = {"minutes": "10", "people": "2"}
    return {"mark": mark, "step": f"Do {mark}", "pieces": pieces, "after": after, **times, **cells}


def house(b=2.0, steps=("Q1 side", "Q2 A Q1", "Q3 B Q1", "Q4 Z Q3")):
    """The house whose second pull-out goes by `b`; steps in words: mark, piece, marks before."""
    set_up = {
        "main": (0, 0, 0),
        "A": (0.12, 2.32, 0.12),
        "B": (0.2, 2.4 + b, 0.2),
        "Z": (0.4, 2.6 + b, -0.5),
        "side": (0, 2.4, 2.7),
    }
    typed = (words.split() for words in steps)
    return {
        "states": list(STATES),
        "pieces": [piece(m, size, set_up[m], w, s) for m, (size, w, s) in SIZES.items()],
        "pieces_by_state": [packed(m, at, inside) for m, (at, inside) in PACKED.items()],
        "steps": [step(mark, moved, " ".join(after)) for mark, moved, *after in typed],
    }

"""Plans drawn by ezdxf, as people of different habits draw the same four rooms."""

import io

import ezdxf
from ezdxf.document import Drawing

UNITS_M = {"mm": 0.001, "m": 1.0, "in": 0.0254, "none": 0.001}
INSUNITS = {"mm": 4, "m": 6, "in": 1, "none": 0}
"""What the header says; where it says nothing the plan is drawn in millimetres."""
HABITS = ("closed", "repeated", "overshoot", "loose")
ROOMS = {
    "R1": ("Day room", (0.0, 0.0, 5.0, 4.0)),
    "R2": ("Bunk room", (5.2, 0.0, 8.2, 4.0)),
    "R3": ("WC", (0.0, 4.2, 1.6, 6.2)),
}
"""Names and rectangles [m]: three rooms, partitions of 0.2 m between them."""
WINDOWS = {
    "W1": ((1.0, -0.15, 0), 1.2, ("0.7", "1.2")),
    "W2": ((3.0, -0.15, 0), 0.9, ("0.7", "1.2")),
    "W3": ((8.35, 1.0, 90), 1.4, ("0.9", "1.0")),
    "W4": ((-0.15, 4.6, 90), 0.6, ("1.4", "0.6")),
}
"""Where each begins and how it is turned [m, °], its width, sill and height [m]."""


def plan(unit: str = "mm", habit: str = "closed", *, has_attributes: bool = True) -> Drawing:
    """The rooms in a unit by a habit, with windows as blocks of one unit's width."""
    drawing = ezdxf.new("R2010")
    drawing.header["$INSUNITS"] = INSUNITS[unit]
    per_m = 1 / UNITS_M[unit]
    for layer in ("ROOMS", "TEXT", "WINDOWS", "WALLS"):
        drawing.layers.add(layer)
    for mark, (name, box) in ROOMS.items():
        left, low, right, high = (each * per_m for each in box)
        _outline(drawing, habit, left, low, right, high, 0.003 * per_m)
        at = ((left + right) / 2, (low + high) / 2)
        for text, up, height in ((mark, 0.3, 0.2), (name, 0.0, 0.25)):
            drawing.modelspace().add_text(
                text, height=height * per_m, dxfattribs={"layer": "TEXT"}
            ).set_placement((at[0], at[1] + up * per_m))
    _windows(drawing, per_m, has_attributes=has_attributes)
    return drawing


def _outline(drawing, habit, left, low, right, high, over):
    corners = [(left, low), (right, low), (right, high), (left, high)]
    space, at = drawing.modelspace(), {"layer": "ROOMS"}
    if habit == "closed":
        space.add_lwpolyline(corners, close=True, dxfattribs=at)
    elif habit == "repeated":
        space.add_lwpolyline([*corners, corners[0]], dxfattribs=at)
    elif habit == "overshoot":
        space.add_lwpolyline([*corners, (left, low - over)], close=True, dxfattribs=at)
    else:
        for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
            space.add_line(a, b, dxfattribs=at)


def _windows(drawing, per_m, *, has_attributes):
    block = drawing.blocks.new("WINDOW_1")
    block.add_lwpolyline([(0, 0), (1, 0), (1, 0.1), (0, 0.1)], close=True)
    block.add_line((0, 0.05), (1, 0.05))
    for mark, ((x, y, turn), width, (sill, height)) in WINDOWS.items():
        insert = drawing.modelspace().add_blockref(
            "WINDOW_1",
            (x * per_m, y * per_m),
            dxfattribs={
                "xscale": width * per_m,
                "yscale": per_m,
                "rotation": turn,
                "layer": "WINDOWS",
            },
        )
        if has_attributes:
            insert.add_attrib("MARK", mark)
            insert.add_attrib("SILL", f"{float(sill) * per_m:g}")
            insert.add_attrib("HEIGHT", f"{float(height) * per_m:g}")


def text_of(drawing: Drawing) -> str:
    """A drawing as its file holds it."""
    out = io.StringIO()
    drawing.write(out)
    return out.getvalue()

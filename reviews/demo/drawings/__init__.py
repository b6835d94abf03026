"""Draw a demo package's eight sheets to scale, from its schedules alone."""

from reviews.demo.drawings.page import DrawnSheet
from reviews.demo.drawings.sheets import draw_sheets

__all__ = ["DrawnSheet", "draw_sheets"]

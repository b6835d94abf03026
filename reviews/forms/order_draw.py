"""The page of a draw: what is asked, what is drawn, what of it is kept."""

from __future__ import annotations

from typing import Any

from criteria.crit_day.drawing_lots import new_lot
from criteria.errors import InputError
from reviews.deeds.crit_drawing import draw_order
from reviews.deeds.crit_running_order import whole_of
from reviews.deeds.record_versions import version_of
from reviews.forms.fields import SeenForm
from reviews.forms.order_plan import DrawForm
from reviews.models import Crit
from reviews.pages.draw_page import DrawnDay
from reviews.versions import Newer


class DrawPage:
    """A draw, from the lot to what is kept; the same lot draws the same again when it is sent."""

    def __init__(self, crit: Crit, data: Any) -> None:
        self.crit = crit
        self.form = DrawForm(data, crit=crit, suggested=new_lot())
        self.keep = SeenForm(
            data if "seen" in data else None, initial={"seen": version_of(whole_of(crit))}
        )
        self.day = self._draw() if "lot" in data and self.form.is_valid() else None

    def _draw(self) -> DrawnDay | None:
        asked = self.form.cleaned_data
        how = {name: asked[name] for name in ("rotates", "shares", "agree")}
        try:
            drawn = draw_order(self.crit, self.form.plan, asked["lot"], **how)
        except InputError:
            said = "The day would go on past midnight. Expected an earlier hour or more rooms."
            self.form.add_error("first", said)
            return None
        return DrawnDay(drawn)

    def refuse(self, refused: Exception) -> None:
        """Say why what was drawn isn't kept; the next keep is made knowing what stands."""
        if isinstance(refused, Newer):
            self.keep.show_newer_rows(Newer([], None), version_of(refused.kept), ())
            said = "The order was changed meanwhile. Keep the draw in its place, or leave it."
            self.keep.add_error(None, said)
        else:
            self.keep.add_error(None, str(refused))

    @property
    def status(self) -> int:
        """Conflict where what was drawn isn't kept."""
        return 409 if self.keep.is_bound and self.keep.errors else 200

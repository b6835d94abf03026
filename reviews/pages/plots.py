"""Small plots, drawn as SVG with classes; each is said in words too, and has a table under it."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

WIDTH, HEIGHT = 320, 120
LEFT, RIGHT, TOP, FOOT = 14, 306, 14, 92

Values = Sequence[float]


def level_bars(name: str, groups: Sequence[tuple[str, Sequence[int]]]) -> SafeString:
    """Draw each cohort's share of levels 1 to 5, two bars a level: filled for the first, open next.

    groups   label and five counts; bars are shares of a cohort's own levels, so that a larger
             cohort isn't taller
    """
    totals = [sum(counts) for _, counts in groups]
    shares = [
        [count / total if total else 0.0 for count in counts]
        for (_, counts), total in zip(groups, totals, strict=True)
    ]
    highest = max((share for each in shares for share in each), default=0.0) or 1.0
    step = (RIGHT - LEFT) / 5
    wide = (step - 14) / max(len(groups), 1)
    bars = []
    for which, each in enumerate(shares):
        for level, share in enumerate(each):
            tall = share / highest * (FOOT - TOP)
            x = LEFT + level * step + 7 + which * wide
            bars.append((_series(which), _n(x), _n(FOOT - tall), _n(wide - 2), _n(tall)))
    drawn = format_html_join("", '<rect class="{}" x="{}" y="{}" width="{}" height="{}"/>', bars)
    ticks = format_html_join(
        "",
        '<text x="{}" y="108" text-anchor="middle">{}</text>',
        ((_n(LEFT + (level + 0.5) * step), level + 1) for level in range(5)),
    )
    said = "; ".join(
        f"{label}: " + ", ".join(f"{count} at {n}" for n, count in enumerate(counts, start=1))
        for label, counts in groups
    )
    return _plot(f"Levels on {name}", said, drawn + _base() + ticks)


def strips(name: str, groups: Sequence[tuple[str, Values, Values]], mark: float) -> SafeString:
    """Draw each cohort as a strip of points over its quartiles, with a line at a mark.

    More than two stand closer, in a taller plot.

    groups   label, rising values, and (lower quartile, median, upper quartile)
    mark     where the line stands: 1 is a year's own target
    """
    every = [value for _, values, _ in groups for value in values]
    low, high = min([*every, mark]), max([*every, mark])
    breadth = (high - low) or 1.0

    def x(value: float) -> str:
        return _n(LEFT + 4 + (value - low) / breadth * (RIGHT - LEFT - 8))

    few = len(groups) <= 2
    pitch, half = (38, 9) if few else (18, 6)
    foot = FOOT if few else TOP + 5 + pitch * len(groups)
    parts = [format_html('<path class="mark-line" d="M{0} {1}V{2}"/>', x(mark), TOP - 6, foot)]
    for which, (label, values, (lower, middle, upper)) in enumerate(groups):
        y = TOP + (14 if few else 8) + which * pitch
        box = (x(lower), y - half, x(upper), y + half)
        parts.append(format_html('<path class="quartiles" d="M{0} {1}H{2}V{3}H{0}Z"/>', *box))
        line = (x(middle), y - half - 3, y + half + 3)
        parts.append(format_html('<path class="median" d="M{} {}V{}"/>', *line))
        if few:
            dots = '<circle class="{}" cx="{}" cy="{}" r="3.2"/>'
            series = _series(which)
            points = format_html_join("", dots, ((series, x(value), y) for value in values))
        else:  # as one path: ten cohorts are hundreds of points a check
            dots = "".join(f"M{x(value)} {y}h0" for value in values)
            letter = label[:1] if label[1:2] == " " else ""
            points = format_html(
                '<text x="0" y="{}">{}</text><path class="dots" d="{}"/>', y + 5, letter, dots
            )
        parts.append(points)
    ends = format_html(
        '<text x="{0}" y="{1}">{2}</text><text x="{3}" y="{1}" text-anchor="end">{4}</text>',
        LEFT,
        foot + 16,
        f"{low:.2f}",
        RIGHT,
        f"{high:.2f}",
    )
    said = "; ".join(
        f"{label}: {len(values)} from {values[0]:.2f} to {values[-1]:.2f}, median {middle:.2f}"
        for label, values, (_, middle, _) in groups
        if values
    )
    said += f"; the line stands at {mark:g}"
    drawn = format_html_join("", "{}", ((part,) for part in parts))
    return _plot(name, said, drawn + _base(foot) + ends, foot + HEIGHT - FOOT)


def against_place(
    name: str, points: Sequence[tuple[int, float]], slope: float | None
) -> SafeString:
    """Draw one juror's gap to the others at each place of the day about a line at 0.

    points   place from 1, gap [level]; the scale reaches 2 levels to either side, and further
             where a gap does
    slope    of the line of least squares through them [level/place]; None: no line
    """
    far = max([2.0, *(abs(gap) for _, gap in points)])
    places = [place for place, _ in points] or [1]
    first, last = min(places), max(places)

    def x(place: float) -> float:
        share = (place - first) / (last - first) if last > first else 0.5
        return LEFT + 14 + share * (RIGHT - LEFT - 22)

    def y(gap: float) -> float:
        return TOP + (far - gap) / (2 * far) * (FOOT - TOP)

    parts = [format_html('<path class="mark-line" d="M{} {}H{}"/>', LEFT, _n(y(0)), RIGHT)]
    if slope is not None:
        middle = sum(places) / len(places), sum(gap for _, gap in points) / len(points)
        at = [(p, middle[1] + slope * (p - middle[0])) for p in (first, last)]
        ends = [figure for place, gap in at for figure in (_n(x(place)), _n(y(gap)))]
        parts.append(format_html('<path class="median" d="M{} {}L{} {}"/>', *ends))
    parts.append(
        format_html_join(
            "",
            '<circle class="series-this" cx="{}" cy="{}" r="3.2"/>',
            ((_n(x(place)), _n(y(gap))) for place, gap in points),
        )
    )
    parts.append(
        format_html(
            '<text x="{}" y="108">{}</text><text x="{}" y="108" text-anchor="end">{}</text>'
            '<text x="2" y="{}">+{}</text><text x="2" y="{}">−{}</text>',
            LEFT + 14,
            f"place {first}",
            RIGHT - 8,
            f"place {last}",
            TOP + 4,
            f"{far:g}"[:3],
            FOOT,
            f"{far:g}"[:3],
        )
    )
    said = ", ".join(f"{gap:+.2f} at {place}" for place, gap in points)
    return _plot(name, said, format_html_join("", "{}", ((part,) for part in parts)))


def _series(which: int) -> str:
    return "series-this" if which == 0 else "series-other"


def _base(foot: int = FOOT) -> SafeString:
    return mark_safe(f'<path class="base" d="M{LEFT} {foot}H{RIGHT}"/>')


def _n(number: float) -> str:
    return f"{number:.1f}"


def _plot(title: str, said: str, content: SafeString, height: int = HEIGHT) -> SafeString:
    return format_html(
        '<svg class="plot" viewBox="0 0 {} {}" role="img"><title>{}</title><desc>{}</desc>{}</svg>',
        WIDTH,
        height,
        title,
        said,
        content,
    )

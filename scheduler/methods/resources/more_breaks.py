"""Breaks that no shift pattern names: in overtime and in long stretches on call."""

from collections.abc import Iterator, Sequence

from models.records import Rules, Stretch


def more_breaks(
    whole: Stretch,
    closes_min: int,
    breaks: Sequence[Stretch],
    rules: Rules,
    *,
    on_call: bool,
) -> Iterator[Stretch]:
    """Yield the breaks that keep overtime, or a stretch on call, from being too long.

    Whoever has worked ``break_after`` since a break, or since the start, has one; in
    overtime no sooner than the shift ends, since its own hours are the site's to part.

    Parameters
    ----------
    whole : Stretch
        The shift or the stretch on call.
    closes_min : int
        End of its overtime.
    breaks : sequence of Stretch
        Those of the pattern.
    """
    after_min = round(60 * rules.break_after_h)
    first_min = whole.from_min if on_call else whole.until_min
    since = whole.from_min
    end = Stretch(from_min=closes_min, until_min=closes_min)
    for pause in (*sorted(breaks, key=lambda one: one.from_min), end):
        while (at := max(since + after_min, first_min)) < pause.from_min:
            since = min(at + rules.break_length_min, pause.from_min)
            if since == at:
                return  # breaks of no length: the site wants none
            yield Stretch(from_min=at, until_min=since)
        since = max(since, pause.until_min)

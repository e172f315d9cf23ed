"""What a cover has lost by the drying clock since it was last full."""

from datetime import datetime, timedelta

from models.records import DryingHistory


def lost_since_l_m2(
    drying: DryingHistory, surface_id: str, full_at: datetime, at: datetime
) -> float:
    """Sum up the loss of a surface's cover, whether or not it was dry by then.

    Parameters
    ----------
    drying : DryingHistory
        The clock before anything was learned.
    full_at, at : datetime
        When the cover was full, and when somebody looked; both within the clock.

    Returns
    -------
    float
        Net of rain, which fills no more than is missing. [L/m²]
    """
    grid = drying.grid
    loss = drying.cover_loss_l_m2_h[:, drying.surface_ids.index(surface_id)]
    lost_l_m2 = 0.0
    for step in range(max(0, grid.step(full_at)), min(grid.steps, grid.step(at) + 1)):
        begins_at, ends_at = grid.at(step), grid.at(step + 1)
        spent = max(timedelta(0), min(ends_at, at) - max(begins_at, full_at))
        hours_h = spent / timedelta(hours=1)
        lost_l_m2 = max(0.0, lost_l_m2 + float(loss[step]) * hours_h)
    return lost_l_m2

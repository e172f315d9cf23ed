"""How much work a site gets, and what the second process is worth."""

from dataclasses import dataclass


@dataclass(frozen=True)
class EffortSettings:
    """How much work a site gets.

    Attributes
    ----------
    duties_per_surface : float
        A surface with more work counts as several: strips and stints of fog are placed
        one by one.
    least_work : float
        For the smallest site.
    quick_work, quick_growth : float
        Work of a site of size ``n`` is at most ``quick_work * n**quick_growth``: a
        score of surfaces is planned while somebody waits for it.
    usual_work, work_per_surface, growth : float
        And at most ``usual_work + work_per_surface * n**growth``.
    work_per_second : float
        What a budget in seconds is worth; measured: 0.5 to 1.5 on two cores.
    afterwards_factor : float
        What follows the search takes so many times as long as the first local search;
        measured on sites of 60 to 1,000 surfaces.
    resumed_share : float
        Of the effort, where a roster is planned further: a few surfaces have changed.
    replanned_share : float
        Of the effort, where part of the week has happened: the rest stays near what
        people hold.
    helper_from_work : float
        Less is done before a second process has loaded.
    helper_patience_s : float
        At the end the helper may finish the subproblem that it is at.
    """

    duties_per_surface: float = 12
    least_work: float = 2.0
    quick_work: float = 0.025
    quick_growth: float = 1.75
    usual_work: float = 1.7
    work_per_surface: float = 0.1
    growth: float = 1.1
    work_per_second: float = 0.6
    afterwards_factor: float = 2.5
    resumed_share: float = 0.3
    replanned_share: float = 0.15
    helper_from_work: float = 0.5
    helper_patience_s: float = 5.0

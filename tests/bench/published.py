"""What the roster study reached on its instances, to compare with.

Costs of the study's own planner by seconds on two cores, and of the best of its
dispatcher's rules; its simulator and this one count the same on the same roster.
"""

#: Source: the study's table of results; how: read.
REFERENCE_COST: dict[str, dict[float, float]] = {
    "p10_s1_l0.75": {5: 2331, 10: 2331, 30: 2331},
    "p30_s1_l0.75": {5: 5175, 10: 4819, 30: 4363},
    "p30_s2_l0.75": {5: 11088, 10: 10656, 30: 10237},
    "p60_s1_l0.75": {5: 12110, 10: 10635, 30: 9185, 60: 9005},
}
REFERENCE_DISPATCH: dict[str, float] = {
    "p10_s1_l0.75": 5748,
    "p30_s1_l0.75": 12448,
    "p30_s2_l0.75": 27881,
    "p60_s1_l0.75": 30577,
}

"""What to mind: the two hazards of a task.

Reminders, no risk assessment. Steam, pressure, electrical and confined-space work is
named only to hand it to those licensed for it.
"""

from typing import Literal

Hazard = Literal[
    "slips", "electrics", "night", "cement", "compound", "enclosed", "licensed",
    "handling", "edges", "weather", "traffic", "run_off", "load", "scald", "pond",
]  # fmt: skip

HAZARDS: dict[Hazard, str] = {
    "slips": "Wet concrete and film are slippery: non-slip boots, no hose on stairs.",
    "electrics": "Electrics near water: RCD/GFCI on every lead, plugs off the deck.",
    "night": "Dark: light the way, go in pairs or check in, edge protection in place.",
    "cement": "Wet cement burns before it hurts: gloves, boots; rinse skin and eyes.",
    "compound": "Solvent and fire: read the safety data sheet, goggles, no flame.",
    "enclosed": "Indoors, in a tank: air it; confined space only by permit, watched.",
    "licensed": "Power, steam, pressure, confined space: licensed, competent people.",
    "handling": "Wet rolls weigh 30 to 60 kg: two people or a trolley.",
    "edges": "Edges and height: platform or harness, stop when the wind takes sheets.",
    "weather": "Heat or cold: water, shade or dry gloves, and watch each other.",
    "traffic": "Hoses across ways, reversing tankers: barrier and banksman.",
    "run_off": "Run-off is caustic: keep it out of gullies, soil and open water.",
    "scald": "Steam scalds: isolate, drain and wait before anything is opened.",
    "pond": "Standing water: barrier round it, nobody on the slab, children kept out.",
    "load": "New concrete: no load, stack or traffic until the engineer releases it.",
}


def cautions(first: Hazard, second: Hazard) -> tuple[str, ...]:
    """Put two hazards into words."""
    return (HAZARDS[first], HAZARDS[second])

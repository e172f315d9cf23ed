"""The sentence that stands on everything that is handed out."""

PLANNING_AID = (
    "Planning aid. The specification, the engineer, local codes and competent or "
    "licensed people come first."
)
NEVER_SAFE = "It never says that concrete is safe to load, strike or open."
PLANNING_AID_IN_FULL = f"{PLANNING_AID} {NEVER_SAFE}"

"""The roster simulated minute by minute: visits, covers, water, dry time."""

"""First rosters: greedy dispatch by several rules, or a published one taken up."""

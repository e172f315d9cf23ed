"""The ledger: what was published and what happened, written once, never changed."""

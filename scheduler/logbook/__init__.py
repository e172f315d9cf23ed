"""What people hand in, held against the site before the ledger takes it."""

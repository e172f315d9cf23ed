"""How people see a roster: phones, paper, screen, tables."""

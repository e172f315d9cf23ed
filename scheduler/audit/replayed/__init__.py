"""The roster played through by the minute: visits, covers, water, what is dry."""

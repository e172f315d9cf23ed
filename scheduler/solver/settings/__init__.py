"""Figures that steer the search and are no rule of the site, each with its reason."""

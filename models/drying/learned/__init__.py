"""How fast covers dry on this site, learned from how crews find them."""

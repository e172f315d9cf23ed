"""What is to be done and when: methods, solver, audit and what joins them."""

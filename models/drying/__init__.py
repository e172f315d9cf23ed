"""Clock 2: how fast surfaces and covers lose their water."""

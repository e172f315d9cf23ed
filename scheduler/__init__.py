"""What is to be done and when."""

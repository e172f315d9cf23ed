"""Many sites planned at once, each by itself and each as if alone."""
